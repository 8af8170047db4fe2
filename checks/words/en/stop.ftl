# The stop, hands first, and the page of a Stop now.

app-stop-before = Look, listen and smell first. Is any of these there?
app-stop-nothing = Nothing of these
app-stop-nothing-else = Nothing else
app-stop-which-wheel = Which wheel?
app-stop-wheel-first = Tap the wheel, then what is there.
app-stop-more-axles = It has one more axle
app-stop-trailer = This trailer
app-stop-hubs = { $axles ->
    [1] How warm are the hubs?
   *[other] Axle { $axle }: how warm are the hubs?
  }
app-stop-hubs-help = Back of the hand near the hub barrel, one side, then its mate. Touch only what does not feel hot from there.
app-stop-do-not-touch = Leave this wheel alone. Do not touch it.
app-stop-thermometer = I have a thermometer
app-stop-elsewhere = Felt somewhere else
app-stop-barrel = Where is the barrel?
app-stop-run = The run so far
app-stop-by-time = I know the time, not the distance
app-stop-exact = Exact figure
app-stop-unsaved = Go on without saving
app-stop-more = Go on: nuts, tires, load, latch

app-stop-now-headline = { $where }: { $title }.
app-stop-now-unplaced = { $sign } at a wheel; which one is not said
app-stop-now-done = Done, next step ({ $n } of { $all })
app-stop-now-tell = Tell them this
app-stop-now-where = Road, direction, mile marker
app-stop-now-locate = Add my position
app-stop-now-share = Share or copy
app-stop-now-card = Trailer stopped: { $trailer }.
app-stop-now-a-trailer = name not given
app-stop-now-at = At: { $place }
app-card-hub_size = Bore of the inner bearing
app-card-tire_size = Tire size
app-card-brakes = Brakes
app-card-axles = Axles
app-card-bearing_numbers = Bearing numbers
app-card-seal_numbers = Grease seal
app-card-grease_kind = Grease
app-stop-now-call-own = Call my number for help
app-stop-now-no-number = No number to call is kept on this phone.
app-stop-now-ended = How did it end?
app-stop-now-mended = Mended
app-stop-now-towed = Towed away
app-stop-now-wrong = It was wrong
app-stop-now-go-on = Go on with the check

app-stop-later = Later
app-stop-so-far = So far: { $level }. Show why.
app-stop-verdict = Show the verdict
app-stop-undecided = { $trailer }, { $day }

# On a link: what is open on the trailer, and who borrows it.
app-link-open = Not decided yet, since { $day }. Do not tow it before the shop has.
app-link-you = Who borrows it?
app-link-you-why = So that the library calls you and not the owner. It stands beside the trailer until it is back, and in the checks you send for as long as the library keeps them.
app-link-back = I have brought it back
app-link-back-told = You said { $time } that it is back. With signal the library knows at once.
app-link-your-name = Your name
app-link-your-phone = Your number
app-link-walk = Walk round it before you go

# What a check found, where a run or a link tells of it.
app-run-found = Found on { $day }.
app-run-found-read = Read this check
app-run-what-now = What to do now

# What was done before something counts as mended.
app-mended-what = What was done, and by whom?
app-mended-done = What was mended or renewed
app-mended-self = I did
app-mended-mechanic = A mechanic did
app-mended-other = Somebody else did
app-mended-not = Not mended yet: go back
app-mended-undecided = { $shop } decides this for itself. There it stays undecided until the shop has, and until then do not tow it.
app-mended-said = { $found }. You said: { $answer }.
app-mended-undo = Take that back
app-beside = Still open on this trailer
    .help = Do not drive on before somebody has said how it ended.
app-stop-now-unlocated = This phone did not tell where it is. Type the road.
app-stop-now-copied = Copied.
app-stop-now-uncopied = Not copied. Press and hold the text above, or read it out.
app-settings-help = Number to call for help
app-settings-help-wrong = No digit stands in it. Type the number as you would dial it.
app-mended-each = Which of these is over?
    .help = Tick each that is mended or was told wrong. While one is left, all of this stays open.
app-towed-all = The tow ends all of these on this phone: { $what }.
app-mended-left = Still open: { $what }.
