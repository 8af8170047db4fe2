### What is said about keeping and sending.

app-clock-off = This phone's clock is { $span } { $way ->
    [fast] fast
   *[slow] slow
 }. Set it, so that the time of each check is right. Nothing was lost.
app-draft-gone = This check was kept, or thrown away, in another window. If it was kept, it is under what was kept.
app-draft-both = Another window had answered this too. The answer you gave now counts.
app-draft-changed = Another window changed this check. These are its answers now: look once more.
app-span-minutes = { $count ->
    [one] { $count } minute
   *[other] { $count } minutes
 }
app-span-hours = { $count ->
    [one] { $count } hour
   *[other] { $count } hours
 }
app-span-days = { $count ->
    [one] { $count } day
   *[other] { $count } days
 }
shop-clock-off = The phone's clock was wrong, so the time shown is by ours. The phone's own was { $made }.
