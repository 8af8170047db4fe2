### The walk, by place.

app-walk-how-far = How far do you go this time?
app-walk-how = You go round the trailer once, place by place. Whatever you leave out is told in the verdict.
app-walk-trip = Every trip
    .without = Leaves out: tread, pressures, wear, frame, small lamps, all that needs a jack.
app-walk-month = Once a month
    .without = Adds a gauge, tread, wear and rust. Leaves out: play on the jack, lift test, tire age, harm from standing.
app-walk-season = After standing, or once a season
    .without = Leaves out nothing this app asks. Needs a jack and stands.
app-walk-last = Last done { $day }
app-walk-never = Not done yet with this trailer
app-walk-before = Last time: { $value }
app-walk-differs = Last time: { $value }. Look once more, then tap Fine again, or change the count.
app-walk-hitch = Hitch
app-walk-wheel = Wheel
app-walk-rear = Rear
app-walk-load = Load
app-walk-fine = Fine
app-walk-something = Something
app-walk-lit = Lit
app-walk-unlit = Not lit
app-walk-answer = Answer
app-walk-change = Change
app-walk-no-more = Nothing else here
app-walk-none-ticked = Nothing is ticked. Tick what it is, or say Fine or Not sure.
app-walk-glance = A glance: too quick to count as seen
app-walk-all-the-same = Go on all the same
app-walk-zone-ball = Ball, pin and mount
app-walk-zone-latch = Latch shut, jack up
app-walk-zone-chains = Safety chains
app-walk-zone-plug = Plug and wires
app-walk-zone-breakaway = Breakaway cable
app-walk-zone-fluid = Brake fluid
app-walk-zone-outside = Tire, outside
app-walk-zone-inside = Tire, inside: kneel and look
app-walk-zone-nuts = Nuts and hub
app-walk-zone-spring = Spring and fender
app-walk-zone-lamps_1 = Lights on: tail and plate lamps
app-walk-zone-lamps_2 = Brake pedal: stop lamps
app-walk-zone-lamps_3 = Left signal
app-walk-zone-lamps_4 = Right signal
app-walk-zone-lamps_more = Small lamps, lenses and reflectors
app-walk-zone-gate = Gate, doors, ramps or boat
app-walk-zone-tied = Tied down
app-walk-zone-level = Level on the hitch

# What a check came to: how it was looked at.
app-pause = Kept for later
app-pause-begun = Begun { $time }.
app-pause-kept = { $left ->
    [0] Answered: { $answered }. Nothing is left to ask. All of it is on this phone; go on from the front page at any time.
   *[other] Answered: { $answered }, still to ask: { $left }. All of it is on this phone; go on from the front page at any time.
  }
app-pause-review = Look over the answers

# What an earlier check was told and seldom changes.
app-still = Still as before?
app-still-tires = Still these tires?
app-still-from = From the check of { $day }. One tap confirms them all.
app-still-yes = Yes, all as before
app-still-changed = Something has changed
app-still-felt = You told of this stop earlier ({ $time }). Its hubs have cooled or warmed since.
app-still-anew = Begin this stop anew
