### The calendar of what is due.

calendar-title = { $shop }: checks due
calendar-at = at { $distance }
calendar-due = { $trailer }: { $what }
