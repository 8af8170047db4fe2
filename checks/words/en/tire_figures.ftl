station-tire_figures = Are these the right tires, with the right air?

point-tire_figure = Size and load range
point-tire_carry = Load on the tire
point-tire_speed = Speed rating of the tire
point-tire_weather = Air, weather and height
point-tire_match = Circumference
point-tandem_match = Tire diameters, axle against axle
point-tire_years = Age from the date code
point-tire_heat = Warmth of the sidewall

caution-bleed = Never let air out of a hot tire. It reads high because it is hot, and would be flat when cold.

quantity-overall_diameter = overall diameter of the tire, new
    .says = this tire measures { $value } from top to bottom when new.
quantity-tire_revs = revolutions per mile
    .says = it turns { $value } times in a mile (1.6 km).
quantity-size_gap = largest tire less smallest, by size
    .says = { $side ->
        [either] The largest and the smallest tire differ by at most { $left } in height, by their sizes.
       *[over] The largest and the smallest tire differ by { $value } in height, by their sizes.
    }
quantity-range_pressure = usual pressure of that letter on ST tires
    .says = an ST tire of that letter usually takes { $value }.
quantity-tire_rated = load the tire is made for, on a trailer
    .says = On a trailer each tire is made for { $value }.
quantity-tire_carries = load it carries at this pressure
    .says = at its pressure this tire carries { $value }.
quantity-tire_in_hand = load reserve of the tire
    .says = { $side ->
        [under] this tire is { $amount } short of its load.
        [either] this tire may be { $short } short of its load or have { $left } in hand: that can't be told.
       *[over] this tire has { $value } in hand over its load.
    }
quantity-pressure_needed = least cold pressure for this load
    .says = this load needs at least { $value }, cold.
quantity-tire_speed = fastest for the tire
    .says = The tire is made for up to { $value }.
quantity-air_then = outside air where it was filled
quantity-air_here = outside air here
    .says = The outside air here presses with { $value }.
quantity-pressure_expected = cold pressure to expect here
    .says = Cold, the gauge should read { $value } here.
quantity-tire_girth = circumference of the tire, as measured
quantity-tire_across = overall diameter of the tire, as measured
    .says = as measured this tire is { $value } from top to bottom.
quantity-round_gap = difference in circumference
    .says = { $side ->
        [under] this tire is { $amount } smaller round than its mate.
        [either] this tire may be up to { $short } smaller or { $left } larger round than its mate.
       *[over] this tire is { $value } larger round than its mate.
    }
quantity-tandem_gap = largest less smallest circumference, all wheels
    .says = { $side ->
        [either] The largest and the smallest tire differ by at most { $left } in circumference.
       *[over] The largest and the smallest tire differ by { $value } in circumference.
    }
quantity-lean_height = one side stands higher by
    .says = { $side ->
        [under] this side stands { $amount } lower.
        [either] this side may stand up to { $short } lower or { $left } higher.
       *[over] this side stands { $value } higher.
    }
quantity-lean_angle = lean
    .says = { $side ->
        [under] the trailer leans by { $amount } to this side.
        [either] the trailer may lean up to { $short } to this side or { $left } away from it.
       *[over] the trailer leans by { $value } away from this side.
    }

fact-tire_size = Size on the sidewall?
    .help = Such as ST205/75R15, 4.80-12 or 20.5x8.0-10. Copy it as printed, or skip it.
fact-load_range = Load range letter?
    .help = After the size: LOAD RANGE C, or LRC. No letter: not sure.
    .choice-b = B
    .choice-c = C
    .choice-d = D
    .choice-e = E
    .choice-f = F
    .choice-g = G
fact-tire_family = What kind of tire?
    .help = Letters before the size: ST trailer, LT light truck, P or none passenger car.
    .choice-st = ST
    .choice-lt = LT
    .choice-passenger = P or car tire
    .choice-other = Another kind
fact-rating_by = How does the tire give its load?
    .choice-load = MAX LOAD in lb or kg
    .choice-index = A load index, such as 107
fact-tire_rating = MAX LOAD SINGLE on the sidewall?
fact-load_index = Load index?
    .help = The number after the size, before the speed letter: 107 in 107M. With two, the first is for a single tire.
fact-tire_load = Load on one of these tires?
    .help = Weight on the axle, shared over its tires. Take the heavier side if it was weighed.
fact-speed_symbol = Speed letter?
    .help = After the load index: M in 107M.
    .choice-a1 = A1
    .choice-a2 = A2
    .choice-a3 = A3
    .choice-a4 = A4
    .choice-a5 = A5
    .choice-a6 = A6
    .choice-a7 = A7
    .choice-a8 = A8
    .choice-b = B
    .choice-c = C
    .choice-d = D
    .choice-e = E
    .choice-f = F
    .choice-g = G
    .choice-j = J
    .choice-k = K
    .choice-l = L
    .choice-m = M
    .choice-n = N
    .choice-p = P
    .choice-q = Q
    .choice-r = R
    .choice-s = S
    .choice-t = T
    .choice-u = U
    .choice-h = H
    .choice-v = V
    .choice-w = W
    .choice-y = Y
    .choice-none = No letter
fact-planned_speed = Fastest you will drive?
fact-fill_pressure = Cold pressure when it was filled?
fact-fill_air = Air temperature when it was filled?
fact-fill_height = Height above sea level where it was filled?
fact-height_now = Height above sea level here?
fact-round_by = How do you measure the tires?
    .help = A tape round the tread tells small differences best.
    .choice-tape = Tape round the tread
    .choice-across = Straight across
fact-tire_height = Straight across, tread to tread?
    .help = Filled, wheel off the ground or off the axle, past the middle of the hub.
fact-tire_round = Round the middle of the tread?
    .help = Tape round the tire, filled, wheel off the ground or off the axle.
fact-track = Middle of left tire to middle of right tire?
fact-side_heat = How warm is the outer sidewall?
    .help = Against the other tires. Back of the hand near it first. Sun warms one side too.
    .choice-like = Like the others
    .choice-warmer = Warmer
    .choice-much = Much hotter
fact-inner_heat = And the inner sidewall?
    .help = The side you do not see. Reach behind only if there is room, away from traffic.
    .choice-like = Like the others
    .choice-warmer = Warmer
    .choice-much = Much hotter
fact-side_pressure = Its pressure, against the others?
    .choice-low = Lower
    .choice-normal = Like them
    .choice-high = Higher

finding-range_misleads = Letter and pressure do not go together
    .do = Fill to the label or the sidewall figure, never by the letter.
    .why = The usual pressure of a letter is that of ST metric tires. Small bias tires of the same letter need far more.
finding-sizes_apart = Axles with tires of different size
    .do = Fit one size all round.
    .why = The larger tires carry more of the load, and on one axle the smaller drags. By the sizes they differ by more than any two tires of one size do: 0.6 in (15 mm).
    .doubt = Could be tires of different size. To know: measure each round the tread, or read the sizes again.
finding-tire_overloaded = More load than the tire carries
    .do = Do not tow. Take load off, or fill cold to the marked pressure if that is enough.
    .why = A tire carries its marked load only at its marked pressure; a passenger tire on a trailer carries a tenth less.
    .doubt = Could be more load than the tire carries. To know: weigh that wheel, and measure the pressure cold.
finding-tire_no_reserve = Little in hand
    .do = Take load off or move it. Check pressures cold before each trip.
    .why = Less than 10 percent in hand; advice runs from 10 to 20. A bump, a lean or a lost few psi uses it up.
    .doubt = Could have little in hand. To know: weigh that wheel, and measure the pressure cold.
finding-too_fast_for_tire = Faster than the tire is made for
    .do = Drive no faster than the tire's speed, or fit tires with a higher letter.
    .why = Heat grows with speed. ST tires without a letter are taken as 65 mph (105 km/h); other tires without one no higher.
finding-air_lost = Air has gone since it was filled
    .do = Look for a leak: valve, bead, tread. Fill cold.
    .why = Weather and height explain less than what is missing.
finding-rounds_apart = Tires of the pair differ in size
    .do = Fit two alike, or find out which one is worn, low or coming apart.
    .why = More than 3/4 in (19 mm) round the tread; some say 1/4 in of diameter, which is a little more.
    .doubt = Could be a pair that differs in size. To know: measure both again with a tape round the tread.
finding-tandem_apart = Axles carry unequally
    .do = Fit tires alike on all axles.
    .why = On a trailer with more than one axle the larger tire carries more and runs hotter.
    .doubt = Could be axles that carry unequally. To know: measure all tires with a tape round the tread.
finding-tire_coming_apart = Tire may be coming apart inside
    .do = Do not drive on. Fit the spare. Have the tire taken off and looked at inside.
    .why = Much hotter than its mates though its pressure is not low: plies or belts are rubbing loose.
finding-tire_soft_hot = Hot because it is soft
    .do = Let it cool, then fill it. If it was driven far so low, have it looked at inside first.
    .why = A soft tire bends at every turn and heats itself.
finding-tire_much_hotter = Much hotter than the other tires
    .do = Do not drive on before you know its pressure and have looked at both sidewalls.
    .why = Either it is soft, or it is coming apart inside. The pressure tells which.
finding-tire_warmer = Warmer than the other tires
    .do = Check its pressure, the load on it, and its hub. Feel again at the next stop.
    .why = More load, less air or a warm hub shows here first. Sun does it too.
