### The calendar of what is due.

calendar-title = { $shop }: checks due
calendar-at = at { $miles } miles
calendar-due = { $trailer }: { $what }
