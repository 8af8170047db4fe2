# What is counted on a walk because nobody can guess it.

point-nuts_counted = Wheel nuts, counted

fact-chains_hooked = Safety chains hooked on: how many do you count?
    .choice-none = None
    .choice-one = One
    .choice-two = Two
fact-nut_count = Wheel nuts tight on this wheel: how many do you count?
fact-lamps_lit = Lights on: how many red lamps burn at the back?
fact-ties_counted = Straps and chains on the load: how many do you count?

finding-chains_too_few = Fewer than two safety chains hooked on
    .do = Do not tow. Fit and hook on both chains.
    .why = If the coupler lets go, the chains are all that is left. One alone lets the tongue drop and swing.
finding-nuts_fewer = Fewer wheel nuts than on the other side
    .do = Do not tow until the missing nut is found or fitted, and all are tightened to the maker’s figure.
    .why = Both wheels of an axle have the same number of studs. A missing nut loads those beside it until they follow.
finding-lamps_too_few = Fewer than two red lamps burn at the back
    .do = Mend the tail lamps before you tow. A dark lamp is seen too late.
    .why = A trailer needs a red lamp on each side at the back, so that those behind see how wide it is.
