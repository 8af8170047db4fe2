### The calendar of what is due.

calendar-title = { $shop }: revisiones pendientes
calendar-at = a las { $distance }
calendar-due = { $trailer }: { $what }
