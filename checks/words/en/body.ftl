station-body = Frame and body

point-frame = Frame and deck
point-ramps = Ramps and tailgate
point-doors = Doors and vents
point-boat = Boat on the trailer

fact-frame_cracked = Crack at the tongue, a spring hanger or a weld
    .choice-no = No
    .choice-yes = Yes
fact-frame_rusted = Rail bent, or rust you can push through
    .choice-no = No
    .choice-yes = Yes
fact-crossmember = Crossmember or body bolt loose or missing
    .choice-no = No
    .choice-yes = Yes
fact-deck = Deck board broken, rotten or loose
    .choice-no = No
    .choice-yes = Yes
fact-panel_loose = Side, rail or panel loose
    .choice-no = No
    .choice-yes = Yes
fact-ramp_open = Not latched, or lock pin not in
    .choice-no = No
    .choice-yes = Yes
fact-ramp_pin = Hinge pin missing, or without its clip
    .choice-no = No
    .choice-yes = Yes
fact-ramp_torn = Pin hole torn, hinge or latch cracked
    .choice-no = No
    .choice-yes = Yes
fact-ramp_spring = Lift spring or cable worn or broken
    .choice-no = No
    .choice-yes = Yes
fact-door_open = A door is not latched and locked
    .choice-no = No
    .choice-yes = Yes
fact-door_worn = Door hinge or latch worn or loose
    .choice-no = No
    .choice-yes = Yes
fact-vent_open = Vent, hatch or window open or loose
    .choice-no = No
    .choice-yes = Yes
fact-bow_free = Winch strap or bow chain not on
    .choice-no = No
    .choice-yes = Yes
fact-stern_free = A stern tie-down missing or slack
    .choice-no = No
    .choice-yes = Yes
fact-winch_strap = Strap frayed, or winch does not hold
    .choice-no = No
    .choice-yes = Yes
fact-bunk_loose = Bunk or roller loose or worn through
    .choice-no = No
    .choice-yes = Yes
fact-light_board = Light board loose or not plugged in
    .choice-no = No
    .choice-yes = Yes
fact-drain_plug = Drain plug not on board
    .choice-no = No
    .choice-yes = Yes

finding-frame_cracked = Crack in the frame
    .do = Do not tow. Have it welded and strengthened by someone who does this work, or renewed.
    .why = Frames break at the tongue and the spring hangers, and part on the road.
finding-frame_rusted = Frame bent or rusted through
    .do = Have the weak piece renewed before towing. Tap along the rail to find how far it goes.
    .why = Thin steel cracks next.
finding-crossmember = Crossmember or bolt loose
    .do = Refit and tighten what is loose, and look for cracks beside it.
    .why = One loose piece puts its load on the next.
finding-deck = Deck damaged
    .do = Renew the bad boards and fasten them before loading.
    .why = A wheel breaks through, and tie-downs lose their hold.
finding-panel_loose = Side, rail or panel loose
    .do = Fasten it firmly.
    .why = Wind at road speed takes off what shakes.
finding-ramp_open = Ramp or tailgate not locked
    .do = Do not tow. Shut it, latch it and put the lock pin in.
    .why = A ramp that drops on the road hits whoever is behind.
finding-ramp_pin = Ramp hinge pin missing
    .do = Do not tow. Fit the right pin and its clip.
    .why = The ramp hangs on this pin.
finding-ramp_torn = Ramp hinge or latch torn or cracked
    .do = Take the ramp off, or have the hole or hinge welded up, before towing.
    .why = A torn hole opens further at every bump until the pin falls out.
finding-ramp_spring = Ramp lift worn
    .do = Renew the spring or cable. Two people lift the ramp until then.
    .why = A heavy ramp without its spring drops on whoever stands behind it.
finding-door_open = A door is not locked
    .do = Do not tow. Shut, latch and lock it.
    .why = An open door swings into traffic and lets the load out.
finding-door_worn = Door hinge or latch worn
    .do = Mend the hinge or latch. Do not trust a rope.
    .why = It opens when the body twists on a bad road.
finding-vent_open = Vent or hatch open
    .do = Shut and fasten it.
    .why = Wind at road speed tears it off.
finding-bow_free = The bow is not held
    .do = Do not tow. Hook on the winch strap and a separate bow chain.
    .why = In a hard stop the boat comes forward over the winch post, or slides off behind.
finding-stern_free = The stern is not tied down
    .do = Do not tow. Fit and tighten a tie-down at each corner of the stern.
    .why = The winch strap alone does not hold the boat down.
finding-winch_strap = Winch or strap worn
    .do = Renew the strap, and mend the winch so that its catch holds.
    .why = A strap that breaks lets the handle spin and the boat go.
finding-bunk_loose = Bunk or roller loose
    .do = Tighten or renew it before loading the boat.
    .why = The hull shifts and is worn through by the bracket.
finding-light_board = Light board loose or dead
    .do = Fasten it, plug it in and try every lamp. Pull the plug again before backing into water.
    .why = On a boat trailer the board is all that shows behind.
finding-drain_plug = Drain plug not on board
    .do = Find it before you launch. Let warm hubs cool before they go into the water.
    .why = A boat without its plug fills. A hot hub in cold water draws it in past the seal.

unit-year = { $count ->
    [one] year
   *[other] years
}
unit-day = { $count ->
    [one] day
   *[other] days
}
unit-step = { $count ->
    [one] step
   *[other] steps
}
unit-slot = { $count ->
    [one] slot
   *[other] slots
}
unit-thou = { $count ->
    [one] thousandth in
   *[other] thousandths in
}
unit-per_K = per °C
