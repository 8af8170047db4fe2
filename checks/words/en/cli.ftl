### The command line, `python -m checks`.

cli-about = Judges answers about a trailer, shows how a figure comes about, and lists the rules.
cli-judge = verdict on a file of answers, as JSON
cli-file = JSON with check, date and facts; - for standard input
cli-explain = the working of one quantity
cli-quantity = its id, with @place for an axle or wheel
cli-list = facts, quantities, limits and findings, as JSON
cli-command = COMMAND
cli-at = { $label } at { $place }
cli-from-to = { $low } to { $high }
cli-language = what it is written in, else that of the terminal
cli-code = CODE
cli-metrics-answers = Time from a request to its answer, in seconds

### Everything into another server, `python -m webapp.commands.move`.

cli-move-out = write everything into a new file
cli-move-in = take such a file in, on a server that has nothing yet
cli-move-shop = only what is this shop's; its people then need new passwords
cli-move-no-shop = There is no shop called { $name }.
cli-move-there = { $file } is there already: name a new file.
cli-move-missing = The file of photo { $photo } is missing here, so it cannot go along.
cli-move-written = { $rows } rows and { $photos } photos are in { $file }.
cli-move-taken = { $rows } rows and { $photos } photos of { $file } are taken in.
cli-whole-no-export = This is no file that Twentymile has written. Nothing was taken in.
cli-whole-damaged = The file is damaged ({ $what }). Nothing was taken in: copy it anew, or write it anew.
cli-whole-newer = The file was written by a newer release. Nothing was taken in: update this server first.
cli-whole-older = The file was written by an older release. Nothing was taken in: update the server it comes from, and write it anew.
cli-whole-not-empty = This server has shops or records of its own. Nothing was taken in: start one on an empty data folder or database. Two servers cannot be made one.
