### Words that belong to no single part of the trailer.

level-stop = Stop now
    .do = Do not drive on. Get well off the road and away from traffic.
level-mend = Mend before towing
    .do = Leave the trailer until this is put right.
level-look = Look again
    .do = Go and look closer before you go on, and check again at the next stop.
level-nothing = Nothing found
    .do = Nothing was found in what you checked. Check again at the next stop.
level-unchecked = Not checked
    .do = Too little is answered to say.

check-walkaround = Walkaround
    .front = Before you go
    .help = Once round the trailer, about five minutes.
check-run_stop = Run stop
    .front = You've stopped
    .help = Hubs, wheels, tires and load.
    .clear = Heat shows no play, no worn lining, no loose nut, and a hub that fails can run cool. Look at those on the walkaround with the wheel off the ground, once a year or before a long trip.
check-quick_stop = Run stop, hubs only
    .front = Hubs only
    .help = About a minute.
    .clear = Heat shows no play, no worn lining, no loose nut, and a hub that fails can run cool. Look at those on the walkaround with the wheel off the ground, once a year or before a long trip.
check-nuts_stop = Nuts only
    .clear = Nothing else was looked at: no hub, no tire, no load.
check-load_stop = Load only
    .clear = Nothing else was looked at: no hub, no tire, no nut.
check-tires = Tire inspection
    .front = Tires
    .help = Tread, damage, age and pressure.
check-figures = Figures
    .front = Figures
    .help = What a trailer weighs, bears and takes to stop, worked out from what you know of it.
check-bench = Bench record
    .front = Bench record
    .help = What was found and done in the shop.

standing-read = source read
standing-secondary = reported by another source
standing-computed = worked out
standing-memory = from memory, not confirmed
standing-practice = common practice, no source

caution-burn = Hot metal burns, long after the wheel has stopped. Keep your hands off what may be hot.
caution-traffic = Stop well off the road. Stay on the side away from traffic, with hazard lights on.
caution-fire = Keep clear and watch for fire. Call for help if there is smoke or flame. Never pour water on a hot hub or drum.
caution-jacking = Chock the other wheels, jack on firm level ground and put a stand under the frame. Never go under a trailer held by a jack alone.
caution-wheel_work = Beside the road work on a wheel only well away from traffic, hitched and chocked, on a stand. A bearing nut that was moved gets a new pin.
caution-gas = Shut the bottle, open the doors, no flame and no switches until the smell is gone.
caution-animals = Never stand behind or between animals. Let someone who knows them handle them.
caution-crush = Keep hands and feet from under the tongue, the ramps and the deck. They can drop.
caution-rolling = Use a level, empty place at walking pace. Nobody stands behind or beside the trailer while it moves.
caution-maker = The maker's figures and local law come first. If in doubt, ask a licensed mechanic.

app-roadside-title = At the roadside
# With fire or smoke: common practice, no source.
app-roadside-fire-1 = Everybody away from the trailer, upwind, out of the smoke and away from traffic. Leave it where it is.
app-roadside-fire-2 = Call the fire service. Tell them where you are, what burns and what is loaded.
app-roadside-fire-3 = Warn traffic from a distance. Keep everybody away.
app-roadside-fire-4 = Nobody goes back before the fire is out and the fire service says so.
app-roadside-smoke-1 = Watch it from a distance. Call the fire service if you see flames or the smoke grows.
app-roadside-step-1 = Get the trailer off the road, on firm level ground. Hazard lights on. People away from traffic.
app-roadside-step-2 = Chock a wheel on the other side before anybody jacks, unhitches or loosens anything.
app-roadside-step-3 = Let hot metal cool by itself, half an hour or more. No water. Watch for fire.
app-roadside-step-4 = Then look: thrown grease, a lost cap, loose or missing nuts or, where it has brakes, one that drags.
app-roadside-step-5 = Someone able may back off a tight bearing nut, tighten wheel nuts or, where it has brakes, slacken one that drags, by the maker's figures. A bearing nut needs the wheel on a stand and a new pin.
app-roadside-step-6 = Do not drive on with a hub that is rough, smoking or wobbling, not even slowly to the next town.
app-roadside-step-7 = Call for a lift or a mechanic. Tell them the bearing numbers or bore, the tire size and what you found.

app-not-sure = Not sure

app-run = Start a run
app-trip = Before the trip: what is due, what to bring
app-run-on = A run is under way
app-run-due = Stop at the next safe place: a look is due
app-lamps = Lamp test
app-years = Hubs over the years

station-about = Your trailer
station-road = The run so far
station-wheels = At the wheels

point-kind = Kind of trailer
point-build = Size and build
point-depth = How far the walk goes
point-run = The run so far
point-run_more = More about the run

# One wording for a place, wherever it is named.
place-left = { $axles ->
    [1] Left wheel
   *[other] Left wheel, axle { $axle }
}
place-right = { $axles ->
    [1] Right wheel
   *[other] Right wheel, axle { $axle }
}
place-axle = { $axles ->
    [1] Left and right
   *[other] Axle { $axle }, left and right
}

app-no = No, go back
app-see = I see
app-no-page = There is no such page.
app-fetching = Being fetched…
app-not-fetched = This part of the app is not on the phone yet. It comes by itself when there is signal: load the page again then.
app-missing = Not here
app-to-front = Front page
app-to-files = Settings and files
app-failed = Something went wrong
app-failed-kept = What was saved on this phone is still there.
app-refused = The server refused it ({ $status }).
app-updated-elsewhere = Twentymile was updated in another window. Load this page again.
app-no-room = This phone has no room left for Twentymile. Nothing kept so far is lost. Save everything to a file in Settings, or free some space, then try again.
app-saved = Saved on this phone.
app-notice-keeps-nothing = The storage of this browser refuses or does not answer (a private window does that), so nothing lasts once the app is closed. What was kept earlier is not shown. Finish, and send or save a file, before you close it.
app-notice-no-https = This address has no https, so the app needs the network each time it starts. Your answers are still kept on this phone.
app-notice-update = A new version is here.
app-update = Update
app-update-held = A check is open in another window. Finish it or put it down there, then try again.
app-or = { " or " }
app-before-2000 = { $code }, before 2000
app-cautions = Mind yourself first
app-found = Found
app-found-then = Once the worse is put right: { $do }
app-working-and-source = Working and source
app-source = Source: { $source } ({ $standing }).
app-cannot-tell = Can’t tell yet
app-open = Not ruled out yet: { $count }
    .help = A question is open. These could still be true.
app-vague = Too rough to say: { $count }
    .help = All is answered, but not closely enough to tell. A closer reading would settle it.
app-usual = Nothing beyond the usual seen, not settled: { $count }
app-would-settle = To know: { $questions }
# A doubt that has no words of its own; and one that hangs on a question left open, named after it.
app-doubt = Could be: { $what }. To know: look or measure once more, more closely.
app-doubt-open = Could be: { $what }.
app-trailer = Trailer
app-plan-mark = { $place }: { $level }.
app-plan-marked = Plan of the trailer. { $marks }
app-plan = { $axles ->
    [one] Plan of the trailer with { $axles } axle. You are at: { $place }.
   *[other] Plan of the trailer with { $axles } axles. You are at: { $place }.
}
app-back = Back
app-under = under { $to }
app-over = over { $from }
app-from-to = { $from } to { $to }
app-end-any = any
app-end-none = none
app-next = Next
app-pad-number = Number
app-pad-unit = Unit { $unit }, change to { $other }
app-pad-rough = Rough answers
app-pad-again = { $answer } again
app-pad-delete = Delete
app-pad-sign = Plus or minus
app-pad-point = Point
app-pad-empty = Type a number, or tap Not sure.
app-pad-no-number = “{ $text }” is not a number. Use digits only, such as 12.
app-pad-outside = { $given } cannot be right here. It must be within { $range }. Check the number and the unit.
app-sidewall-date = Date code
app-sidewall-three = Only three digits
app-sidewall-is-three = That is three digits. If there are only three, tap “Only three digits”: such a tire is from before 2000.
app-sidewall-digits = { $wanted ->
    [3] The code has three digits, not { $count }: week, then year, such as 2523.
   *[other] The code has four digits, not { $count }: week, then year, such as 2523.
}
app-sidewall-week-year = week, year
app-sidewall-unreadable = Cannot read it
app-sidewall-size = Tire size
app-sidewall-size-example = such as ST205/75R15
app-sidewall-size-empty = Type the size as it stands on the tire, or tap Cannot read it.
app-photos = Photos
app-photos-here = Photos of this
app-add-photo = Add a photo
app-name = Twentymile
app-what = Checks for a light trailer: before you go, and twenty miles out.
app-ready = Ready to work without signal.
app-trailers = Trailers
app-history = History
app-settings = Settings
app-unsent = { $count }. All of it is saved on this phone.
app-unsent-count = Not yet sent: { $count }
app-refusal = The server would not take one: { $message }
app-look-at-it = Look at it
app-send-now = Send now
app-more-unfinished = { $count } more to go on with
app-go-on = Go on: { $name }
app-to-go = { $count } to go
app-all-asked = All asked, not yet kept
app-answers = { $count ->
    [one] { $count } answer
   *[other] { $count } answers
}
app-no-trailer = No saved trailer
app-which-trailer = Which trailer?
app-history-empty = Nothing kept yet. Every check you keep stays here, with the verdict it got.
app-history-file = Save or fetch a file
app-worked-out = Worked out
app-not-yet-sent = not yet sent
app-check-gone = This check is not on this phone any more.
app-check-answers = Check your answers
app-answers-open = { $count } not answered yet. You can still go on: what is open is never counted as good.
app-answers-aside = The rules were updated since you began. Answers that no longer fit are laid aside and not counted: { $count }.
app-answers-known = Known about the trailer: { $count }
app-throw-away-check = Throw this check away
app-throw-away = Throw away
app-sure-throw-away = Throw this check away? Its answers go for good.
app-sure-keep-stop = It says Stop now, so it is not thrown away: { $what }. Keep it, then say how it ended.
app-sure-take-back = You said: { $what }. That is { $level }. Take it back only if the tap was wrong, or if it is put right.
app-save-trailer = Save trailer
app-see-verdict = See the verdict
app-skipped = Skipped
app-not-sure-of = Not sure: { $names }
app-glanced-of = Only glanced at: { $names }
app-none = None of these
app-not-answered = Not answered yet
app-change = Change
app-change-of = Change: { $name }
app-answer = Answer
app-tap-every = Tap every fault that is there.
app-tap-what = Tap all that it has.
app-see-rest = { $count } more to look at
app-no-fault = No fault ticked
app-count = { $at } of { $all }
app-skip = Skip this
app-pick = Pick one
app-pick-none = Pick one from the list, or tap Not sure.
app-rest-unsure = Not sure of the rest
app-only-these = Only these
app-none-of = None of these { $count }
app-go-on-asking = Go on asking
app-answers-link = Answers
app-keep-and-send = Keep and send
app-no-check = This check is not on this phone.
app-no-rulebook = The rulebook this check was judged by is not on this phone.
app-judged-by = Judged by rulebook
app-record = Record
app-check-again = Work it out again for this trailer
app-else-due = What else is due
app-save-this-trailer = Save this trailer
app-held = Held only until this app is closed. Not yet sent: send it or save a file first.
app-held-sent = Sent. This phone loses its copy when the app is closed.
app-unreadable = This release cannot show it: it comes from a newer release, or its shape is wrong. It stays on this phone and in the file of everything. Update the app, then look again.
app-unreadable-count = { $count ->
    [one] 1 record here cannot be shown.
   *[other] { $count } records here cannot be shown.
}
app-unreadable-draft = An unfinished check here cannot be shown by this release. It stays on this phone and in the file of everything.
app-sent = Saved on this phone and sent.
app-saved-refused = Saved on this phone. The server would not take it: { $message }
app-saved-unsent = Saved on this phone. Not yet sent: it goes by itself when there is signal.
app-call = Call { $name }
app-no-readiness = No readiness number beside what holds up driving on: one fault outweighs all that is sound.
app-readiness = Readiness { $range } of 100
    .help = For comparing this trailer with itself. Low end: all that is open is bad. High end: all of it is good.
app-readiness-before = The time before: { $range }.
app-readiness-plot = Readiness of the last { $count } checks, the newest last
app-verdict-looked = { $count } looked at
app-verdict-glanced = { $count } glanced at
app-verdict-unsure = { $count } not sure
app-verdict-open = { $count } not answered
app-verdict-glances = { $count ->
    [one] Glanced at, not looked at: 1 thing.
   *[other] Glanced at, not looked at: { $count } things.
  }
app-verdict-stop = What to do now, step by step
app-verdict-left = Not looked at this time
app-verdict-last = Last looked at { $day }
app-verdict-never = Never yet, on this phone
app-verdict-partly = Only in part this time
app-home-stop = Do not tow this trailer until it is put right.
app-home-look = Go and look closer before you tow.
app-home-nothing = Nothing was found in what you looked at. Stop after about twenty miles and feel the hubs.
app-share = Pass it on
app-share-text = As text
app-share-picture = As a picture
app-share-print = Print
app-share-copied = Copied. Paste it where you want it.
app-share-by-hand = Not copied. Press and hold the text to copy it.
app-share-filed = Saved as a picture among your downloads.
app-details = Details
app-check-same = Check this trailer again
app-could-be = could be
app-check-next = What to check next
app-more = { $count } more
app-the-answers = The answers
app-trailers-empty = No trailer is saved yet. A saved trailer keeps its numbers and the history of its wheels, so that you are asked less.
app-add-trailer = Add a trailer
app-trailer-name = What do you call it?
app-trailer-rename = Rename
app-trailer-copy = Copy
app-trailer-side = { $name }, seen from its left side
app-trailer-second = { $name }, second
app-trailer-is-away = This trailer is put away: it is not offered for checks. Its history stays.
app-trailer-bring-back = Bring it back
app-trailers-away = Put away: { $count }
app-trailer-unnamed = Give it a name you will know it by, such as “green boat trailer”.
app-trailer-go-on = Go on
app-no-such-trailer = This trailer is not on this phone.
app-last-check = Last check
app-not-checked-yet = Not checked yet.
app-bench-here = Bench record: bearings done here
app-change-numbers = Change its numbers
app-retire = Put away
app-use-next = Use for the next check
app-its-numbers = Its numbers
app-not-known = Not known
app-wheel-history = History, wheel by wheel
app-sure-retire = Put { $name } away? It is not offered for checks any more. Its history stays, and it can be brought back.
app-take-off = Put away
app-try-again = Try again
app-blocked = Close the other windows
    .help = Twentymile was updated, but another tab or window still runs the earlier one. Close it: the app then goes on by itself. What was saved on this phone is still there.

# These stand in the page itself and in what the system is told of the app.
app-description = Trailer checks that judge what you see, feel and measure. Works without signal.
app-starting = Twentymile is starting…
app-needs-script = Twentymile judges your answers on this phone, so it needs JavaScript. Please switch it on for this address.
app-not-started = Twentymile could not start
    .help = Check the connection and load the page again. What was saved on this phone is still there.

# What a phone's own list of apps shows before it is installed.
manifest-stop-now = A wheel that smokes: what to do now, step by step
manifest-walk = The walk round the trailer, on a drawing of it
manifest-verdict = What was found, with the wheel and what to do
