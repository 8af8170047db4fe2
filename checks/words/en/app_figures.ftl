### Figures: fetched right after a first visit.

app-figures-fetching = Fetching the figures…
app-figures-other = The figures did not arrive whole, or they belong to a newer version. Load the page again; if the front page then offers an update, take it first.
app-figures-all = All figures
app-figures-answers = Answers
app-figures-start = Start
app-figures-go-on = Go on: { $count } to answer
app-figures-throw-away = Throw these answers away
app-figures-sure-throw-away = Throw these answers away? They go for good.
app-figures-waiting = Not worked out yet
app-figures-working = Show the working
app-figures-working-of = Show the working: { $what }
app-figures-none-set = { $what }: none is set.
app-figures-untold = { $others ->
    [0] { $what }: can't be told from these answers. Not known: { $open }
   *[other] { $what }: can't be told from these answers. Not known: { $open } and { $others } more
}
app-figures-rough = { $what }: can't be told: these answers are too rough.
app-figures-needs = { $others ->
    [0] { $what }: can't be told yet. It needs: { $question }
   *[other] { $what }: can't be told yet. It needs: { $question } and { $others } more
}
app-figures-find = Find a figure
app-figures-also = tire: tyre; brake: braking; tongue: drawbar, nose; hub: bearing; rating: capacity, limit; weight: load, mass; ramp: slope; stopping: braking
app-figures-found-none = No figure is called that.
app-figures-none = No figure came out of these answers.
