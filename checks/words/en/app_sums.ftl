### The sums: fetched right after a first visit.

app-sums-fetching = Fetching the sums…
app-sums-not-here = Not on this phone yet
app-sums-no-signal = The sums are not on this phone yet, and there is no signal. They come by themselves at the next start with signal; after that they work without it.
app-sums-other = The sums did not arrive whole, or they belong to a newer version. Load the page again; if the front page then offers an update, take it first.
app-sums-done = { $count } worked out
app-sums-all = All sums
app-sums-answers = Answers
app-sums-start = Start
app-sums-go-on = Go on: { $count } to answer
app-sums-throw-away = Throw these answers away
app-sums-sure-throw-away = Throw these answers away? They go for good.
app-sums-waiting = Not worked out yet
app-sums-working = Show the working
app-sums-none-set = none set
app-sums-untold = cannot be told from these answers
app-sums-needs = { $others ->
    [0] needs: { $question }
   *[other] needs: { $question } and { $others } more
}
app-sums-find = Find a sum
app-sums-found-none = No sum is called that.
app-sums-weakest = Tightest link: { $link } { $value }.
app-sums-none = No sum came out of these answers.
