### Figures: fetched right after a first visit.

app-figures-fetching = Fetching the figures…
app-figures-not-here = Not on this phone yet
app-figures-no-signal = The figures are not on this phone yet, and there is no signal. They come by themselves at the next start with signal; after that they work without it.
app-figures-other = The figures did not arrive whole, or they belong to a newer version. Load the page again; if the front page then offers an update, take it first.
app-figures-done = { $count } worked out
app-figures-all = All figures
app-figures-answers = Answers
app-figures-start = Start
app-figures-go-on = Go on: { $count } to answer
app-figures-throw-away = Throw these answers away
app-figures-sure-throw-away = Throw these answers away? They go for good.
app-figures-waiting = Not worked out yet
app-figures-working = Show the working
app-figures-none-set = none set
app-figures-untold = cannot be told from these answers
app-figures-needs = { $others ->
    [0] needs: { $question }
   *[other] needs: { $question } and { $others } more
}
app-figures-find = Find a figure
app-figures-found-none = No figure is called that.
app-figures-weakest = Tightest link: { $link } { $value }.
app-figures-none = No figure came out of these answers.
