### Inputs that cannot be used: what is wrong with the one named, and how to put it right.

error-no_fact = { $near ->
    [here] there is no fact { $given }.
    [none] there is no fact { $given }. `python -m checks list` shows all.
   *[other] there is no fact { $given }. Did you mean { $near }?
}
error-scope = { $given } is asked per { $scope }; write it like { $example }.
error-range_of_two = a range is two numbers, [low, high]; got { $count }.
error-range_backwards = the range { $given } runs backwards; put the smaller number first.
error-choice_none = an empty list leaves no answer; use one or more of: { $offer }.
error-choice_unknown = { $given } is not an answer here; use one of: { $offer }.
error-number_text = { $given } is not a number; write one like 12 or '12 { $unit }'.
error-number = { $given } is not a number; write one from { $span }.
error-number_dimension = { $unit } measures something else; write it in { $label }.
error-number_outside = { $given } cannot be right here; it must lie within { $span }.
error-number_whole = { $given } is not a whole number.
error-unit_unknown = unit { $given } is not known; known are: { $known }.
error-made_code = { $given } is not a date code; it is the last four digits after DOT, two for the week and two for the year, such as '2523' (three digits before 2000).
error-made_week = { $given } would be week { $week }; weeks run from 01 to 53.
error-made_later = { $given } says week { $week } of { $year }, which is yet to come.
error-size_letter = { $given } is an old letter size; the letter stands for a load, not for a width. Leave the size open and measure round the tire.
error-size_unknown = { $given } is not a tire size; read it off the sidewall, such as 'ST205/75R15', '4.80-12' or '20.5x8.0-10'.
error-size_across = { $given } would make a tire { $across } across; read again.
error-date = { $given } is not a date; write it like 2026-07-14.
error-input = The input must be an object with check, date and facts.
error-input_key = not known here; the input has check, date and facts.
error-check = { $given } is not a kind of check; use one of: { $offer }.
error-facts = must be an object of answers, such as { "{" }"axles": 1{ "}" }.
error-axle = there is no axle { $axle } on a trailer with { $axles }.
error-no_quantity = there is no such quantity; `python -m checks list` shows all.
error-quantity_place = worked out per { $scope }; place must be one of { $places }.
error-file = cannot be read ({ $reason }); give a JSON file, or - .
error-json = not JSON at line { $line }, column { $column } ({ $reason }).
error-text = write it in 1 to { $most } characters.
