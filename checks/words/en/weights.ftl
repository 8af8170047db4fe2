### Weights: the words for checks/trade/weights.py.

station-weights = How heavy is it, and where does the weight rest?

point-weigh_how = How it was weighed
point-cargo = What is on board
point-loaded = Loaded weight
point-cargo_place = Where it stands
point-tongue = Weight on the tongue
point-tilt_balance = Tilt bed
point-reserves = Axles and tires
point-sway = Sway

quantity-cargo_weight = weight of the cargo
    .says = The cargo weighs { $value }.
quantity-loaded_weight = loaded weight of the trailer
    .says = Loaded, the trailer weighs { $value }.
quantity-payload_left = weight you may still load
    .says = { $side ->
        [under] It is loaded { $amount } over what it is made for.
        [either] It may be loaded { $short } over what it is made for, or take { $left } more: that can't be told.
       *[over] You may still load { $value }.
    }
quantity-past_deck = cargo past the end of the deck
quantity-cargo_on_tongue = what the cargo puts on the tongue
quantity-tongue_load = weight on the tongue
    .says = { $side ->
        [under] The tongue lifts with { $amount }.
        [either] The tongue may lift with up to { $short } or press down with up to { $left }: that can't be told.
       *[over] The tongue presses down with { $value }.
    }
quantity-tongue_share = share of the weight on the tongue
    .says = { $side ->
        [under] The tongue lifts with { $amount } of the weight.
        [either] The tongue may lift with up to { $short } of the weight or bear up to { $left } of it.
       *[over] The tongue bears { $value } of the weight.
    }
quantity-tongue_per_inch = tongue gains when all cargo moves 1 in (25 mm) forward
    .says = All cargo moved 1 in (25 mm) forward adds { $value } to the tongue.
quantity-cargo_middle = center of gravity of the cargo, ahead of the axle line
    .says = { $side ->
        [under] The cargo's middle lies { $amount } behind the axle line.
        [either] The cargo's middle may lie up to { $short } behind or { $left } ahead of the axle line.
       *[over] The cargo's middle lies { $value } ahead of the axle line.
    }
quantity-cargo_best = where that center sits best, for 12.5 % on the tongue (boat: 7.5 %)
    .says = { $side ->
        [under] The cargo's middle sits best { $amount } behind the axle line.
        [either] The cargo's middle sits best between { $short } behind and { $left } ahead of the axle line.
       *[over] The cargo's middle sits best { $value } ahead of the axle line.
    }
quantity-tongue_advised = usual advice for the tongue: 10 to 15 % (boat: 5 to 7 %)
    .says = Usual advice for the tongue is { $value }: 10 to 15 % (boat: 5 to 7 %).
quantity-tongue_other = other advice: 5 to 10 %
    .says = Other advice is { $value }: 5 to 10 %.
quantity-tongue_europe = European advice: 4 to 7 %, coupling at most 50 to 80 kg
    .says = European advice is { $value }: 4 to 7 %, and at most what the coupling takes.
quantity-bed_balance = center of gravity of bed and cargo, ahead of the pivot
    .says = { $side ->
        [under] Bed and cargo have their middle { $amount } behind the pivot: the bed tips by itself.
        [either] Bed and cargo may have their middle up to { $short } behind or { $left } ahead of the pivot: whether the bed tips can't be told.
       *[over] Bed and cargo have their middle { $value } ahead of the pivot.
    }
quantity-axle_load = weight on all axles
    .says = All axles together carry { $value }.
quantity-load_per_axle = weight on one axle
    .says = One axle carries { $value }.
quantity-axle_reserve = reserve of the axle
    .says = { $side ->
        [under] The axle is { $amount } over its rating.
        [either] The axle may be { $short } over its rating or have { $left } in reserve: that can't be told.
       *[over] The axle has { $value } in reserve.
    }
quantity-wheel_load = weight on the heavier wheel
    .says = The heavier wheel carries { $value }.
quantity-tire_reserve = reserve of the tire
    .says = { $side ->
        [under] The tire is { $amount } over its rating.
        [either] The tire may be { $short } over its rating or have { $left } in reserve: that can't be told.
       *[over] The tire has { $value } in reserve.
    }
quantity-sway_room = margin to the speed where sway begins
    .says = { $side ->
        [under] The planned speed is { $amount } over where it sways.
        [either] The planned speed may be { $short } over where it sways or { $left } below: that can't be told.
       *[over] It is { $value } from the planned speed to where it sways.
    }

fact-tongue_by = How will you find the weight on the tongue?
    .help = Loaded, level, wheels chocked, tongue at towing height.
    .choice-cargo = Add up cargo and distances
    .choice-scale = Bathroom scale under the tongue
    .choice-lever = Bathroom scale and a beam
    .choice-weighings = Three weighings on a truck scale
fact-empty_weight = Empty weight of the trailer?
    .help = On the plate, in the papers, or weighed.
fact-cargo_count = How many items of cargo? (0 to 6)
    .help = Put small things that stand together into one item.
fact-cargo_1 = Item 1: its weight?
fact-cargo_2 = Item 2: its weight?
fact-cargo_3 = Item 3: its weight?
fact-cargo_4 = Item 4: its weight?
fact-cargo_5 = Item 5: its weight?
fact-cargo_6 = Item 6: its weight?
fact-cargo_1_ahead = Item 1: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-cargo_2_ahead = Item 2: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-cargo_3_ahead = Item 3: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-cargo_4_ahead = Item 4: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-cargo_5_ahead = Item 5: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-cargo_6_ahead = Item 6: its middle, how far ahead of the axle line?
    .help = Behind the axle line: with a minus. Two or three axles: from the middle between them.
fact-deck_front = Axle line forward to the front end of the deck?
fact-deck_rear = Axle line back to the rear end of the deck?
fact-ball_to_axle = Ball to axle line?
    .help = From the middle of the coupler. Two or three axles: to the middle between them.
fact-tongue_empty = Weight on the tongue with the trailer empty?
fact-bed_weight = Weight of the tilting bed alone?
fact-bed_middle_ahead = Middle of the bed, how far ahead of the axle line?
    .help = Behind it: with a minus.
fact-pivot_ahead = Tilt pivot, how far ahead of the axle line?
    .help = Behind it: with a minus.
fact-tongue_scale = Reading under the tongue?
    .help = Straight on the scale up to about 250 lb (110 kg). Above that use the beam.
fact-lever_reading = Reading of the scale, less the bare beam?
    .help = One end of the beam on a block, the other on the scale, the tongue on it between them, nearer the block.
fact-lever_pivot = Block to coupler, along the beam?
fact-lever_scale = Coupler to scale, along the beam?
fact-weighing_alone = 1: tow vehicle alone?
    .help = Same fuel and people for all three, no weight-distribution bars.
fact-weighing_hitched = 2: hitched, only the tow vehicle's axles on the scale?
fact-weighing_all = 3: hitched, everything on the scale?
fact-scale_step = Smallest step of that scale?
    .help = Truck scales: often 10 or 20 lb. Each reading is taken as good to one step.
fact-tongue_rating = Tongue rating of hitch, ball or coupler?
    .help = The least of what is stamped. Skip it if you do not know.
fact-equalized = Do the axles share through equalizers?
    .help = A rocker between the springs. Torsion axles have none: there only a scale under each axle tells.
    .choice-no = No
    .choice-yes = Yes
fact-axle_rating = Rating of one axle?
    .help = GAWR on the plate, or the tag on the axle.
fact-sways = Has it swayed at speed?
    .choice-no = No
    .choice-yes = Yes
fact-sway_speed = At what speed did it start?

finding-payload_over = Heavier than its rating
    .do = Do not tow. Take off load until it is under the rating on the plate.
    .why = Tires, bearings, springs and coupler are all chosen for that rating.
finding-cargo_past_deck = Cargo beyond the deck
    .do = Measure that item and the deck again: to the item's middle, minus only behind the axle line.
    .why = An item's middle cannot hang past the deck's end, so nothing is judged on this.
finding-tongue_share_low = Rear-heavy: under 5 % on the tongue
    .do = Move load forward until 10 to 15 % is on the tongue; a boat 5 to 10 %.
    .why = A rear-heavy trailer sways. Some European advice goes down to 4 %; the more careful figure is taken.
    .doubt = Could be rear-heavy. To know: weigh the tongue.
finding-tongue_share_light = Tongue on the light side
    .do = Move load forward. Look in both manuals: some allow 5 to 10 %.
    .why = Usual advice is 10 to 15 %, other advice 5 to 10. Too light is worse than too heavy, so 10 is taken.
    .doubt = Could be light on the tongue. To know: weigh the tongue.
finding-tongue_share_heavy = Over 15 % on the tongue
    .do = Move load back a little, and look at the hitch's rating.
    .why = It lifts the vehicle's front wheels and loads the hitch.
    .doubt = Could be heavy on the tongue. To know: weigh the tongue.
finding-tongue_over = Over the tongue rating
    .do = Move load back or carry less, until it is under the least rating of hitch, ball and coupler.
    .why = Hitch or coupler can break.
finding-bed_tips = The bed wants to tip
    .do = Move load forward of the pivot. Keep clear of the bed when the lock opens.
    .why = Behind the pivot, only the lock holds the bed down.
finding-axle_over = Axle over its rating
    .do = Do not tow. Take off load, or move it, until the axle is under its rating.
    .why = Axle, springs and bearings fail from it.
    .doubt = Could be over its rating. To know: weigh the axle on a scale.
finding-axle_near = Axle close to its rating
    .do = Take off load if you can, and weigh the axle on a scale.
    .why = Under 10 % is left for bumps and for what you guessed.
    .doubt = Could be close to its rating. To know: weigh the axle on a scale.
finding-nose_lifts = Rear-heavy: the nose comes up
    .do = Move load forward until the tongue presses down clearly. Then look at the figure again.
    .why = If the hand says light, believe it over the figure.
finding-wheel_over = Tire over its rating
    .do = Do not tow. Take off load, or fit tires that carry more and suit the wheels.
    .why = An overloaded tire runs hot and bursts. One side is taken to carry 52 %; car tires on a trailer count for less.
    .doubt = Could be over the tire's rating. To know: weigh each side on a scale.
finding-wheel_near = Tire close to its rating
    .do = Take off load, or fit tires with more in reserve. Keep them at full pressure.
    .why = Under 10 % is left; 10 to 20 % is advised, more on two axles.
    .doubt = Could be close to the tire's rating. To know: weigh each side on a scale.
finding-sway_close = You mean to go about as fast as it sways
    .do = Do not go that fast. If it sways: ease off, hold straight, do not brake hard; with a controller, press the trailer brakes alone by hand. Then stop and move load forward.
    .why = Wind, a hill or a passing truck brings it on 10 mph (16 km/h) sooner.
    .doubt = Could sway at the speed you mean to go. To know: weigh the tongue, and stay well below.
finding-sway_seen = It has swayed
    .do = Move load forward, look at tires and hitch, go slower. If it sways: ease off, hold straight, no hard braking; with a controller, press the trailer brakes alone by hand.
    .why = Above that speed each swing is wider than the last.
