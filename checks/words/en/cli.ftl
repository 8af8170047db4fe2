### The command line, `python -m checks`.

cli-about = Judges answers about a trailer, shows how a figure comes about, and lists the rules.
cli-judge = verdict on a file of answers, as JSON
cli-file = JSON with check, date and facts; - for standard input
cli-explain = the working of one quantity
cli-quantity = its id, with @place for an axle or wheel
cli-list = facts, quantities, limits and findings, as JSON
cli-command = COMMAND
cli-at = { $label } at { $place }
cli-metrics-answers = Time from a request to its answer, in seconds
