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
    .do = Too little is answered to say. See what to check next.

check-walkaround = Walkaround
    .front = Before you go
    .help = Once round the trailer, about five minutes.
check-run_stop = Run stop
    .front = You've stopped
    .help = Hubs, wheels, tires and load.
check-quick_stop = Run stop, hubs only
    .front = Hubs only
    .help = About a minute.
check-tires = Tire inspection
    .front = Tires
    .help = Tread, damage, age and pressure.
check-figures = Figures
    .front = Work it out
    .help = Load, coupling, wiring, torque, tires: the sums with their working.
check-bench = Bench record
    .front = Bench record
    .help = What was found and done in the shop.

standing-read = source read
standing-secondary = reported by another source
standing-computed = worked out
standing-memory = from memory, not confirmed
standing-practice = common practice, no source

caution-burn = Metal can burn. Hold the back of your hand near it first, then touch briefly. Do not grip.
caution-traffic = Stop well off the road. Stay on the side away from traffic, with hazard lights on.
caution-fire = Keep clear and watch for fire. Call for help if there is smoke or flame. Never pour water on a hot hub or drum.
caution-jacking = Chock the other wheels, jack on firm level ground and put a stand under the frame. Never go under a trailer held by a jack alone.
caution-crush = Keep hands and feet from under the tongue, the ramps and the deck. They can drop.
caution-rolling = Use a level, empty place at walking pace. Nobody stands behind or beside the trailer while it moves.
caution-maker = The maker's figures and local law come first. If in doubt, ask a licensed mechanic.

app-roadside-title = At the roadside
app-roadside-step-1 = Get the trailer off the road, on firm level ground. Hazard lights on. People away from traffic.
app-roadside-step-2 = Chock a wheel on the other side before anything else.
app-roadside-step-3 = Let hot metal cool by itself, half an hour or more. No water. Watch for fire.
app-roadside-step-4 = Then look: thrown grease, a lost cap, loose or missing nuts, a brake that drags.
app-roadside-step-5 = Someone able may back off a tight bearing nut, slacken a dragging brake or tighten wheel nuts, by the maker's figures. A bearing nut needs the wheel on a stand and a new pin.
app-roadside-step-6 = Do not drive on with a hub that is rough, smoking or wobbling, not even slowly to the next town.
app-roadside-step-7 = Call for a lift or a mechanic. Tell them the bearing numbers or bore, the tire size and what you found.

app-not-sure = Not sure

app-run = A run
app-lamps = Lamp test
app-years = Hubs over the years

station-about = Your trailer
station-road = The run so far
station-wheels = At the wheels

point-kind = Kind of trailer
point-build = Size and build
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
    [1] Both sides
   *[other] Axle { $axle }, both sides
}
