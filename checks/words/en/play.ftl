point-bearing_play = Bearing end play
point-bench_play = Play and parts, measured

quantity-pin_step = end play from one pin position to the next
    .says = From one pin position to the next the end play changes by { $value }.
quantity-turned_play = end play from the nut's turn
    .says = Turned back that far, the nut leaves { $value } of end play.
quantity-rock_lever = tire edge movement for each unit of end play
quantity-end_play = end play
    .says = { $side ->
        [under] The bearing is preloaded by { $amount }.
        [either] The bearing may be preloaded by up to { $short } or have up to { $left } of end play: that can't be told.
       *[over] The end play is { $value }.
    }
quantity-edge_play = seen at the tire's edge
    .says = { $side ->
        [under] At the tire's edge nothing shows.
        [either] At the tire's edge it shows as up to { $left }.
       *[over] At the tire's edge it shows as { $value }.
    }

fact-play_how = What do you know?
    .choice-turned = How far the nut was turned back
    .choice-rocked = How far the tire edge rocks
    .choice-dial = A dial indicator reading
fact-spindle_thread = Thread of the spindle?
    .choice-t3_4 = 3/4-16
    .choice-t7_8 = 7/8-14
    .choice-t1 = 1-14
    .choice-t1_1_4 = 1-1/4-12
    .choice-t1_1_2 = 1-1/2-12
    .choice-m20 = M20 x 1.5
fact-cross_holes = Cross holes for the pin?
    .help = Two line up every half slot.
    .choice-one = One
    .choice-two = Two, crossed
fact-turned_back = From finger-tight, how far was the nut turned back?
    .help = One slot of six is 60°, a quarter turn 90° or 1.5 slots.
fact-rock_edge = How far does the tire edge move, in and out?
    .help = In all, against a fixed block.
fact-play_dial = End play on the dial?
    .help = Push and pull the hub straight.

finding-play_slack = Too much end play
    .do = Seat the nut again while turning the hub, bring it finger-tight, then back to the next slot, never forward.
    .why = More than one pin position back from finger-tight, or over 10 thousandths (0.25 mm) on a dial, is past every range found.
    .doubt = Could be too much end play. To know: put a dial on it, or count the slots.
finding-play_disputed = End play where the sources disagree
    .do = Keep to the maker's figure. Without one, one pin position back from finger-tight at most.
    .why = TMC RP 618, for heavy vehicles: 1 to 5 thousandths. A small-trailer manual: 1 to 10. Car data: 2 at most. One slot of a single cross hole can be 10 to 14.
    .doubt = Could be more play than some makers allow. To know: put a dial on it, and look up the maker's figure.
finding-play_short = Too tight?
    .do = Back the nut off to the next slot unless the maker wants preload.
    .why = Under 1 thousandth (0.025 mm) leaves hot rollers no room.
    .doubt = Could be too tight. To know: put a dial on it.
finding-bench_slack = Too much end play
    .do = Seat the nut again while turning the hub, bring it finger-tight, then back to the next slot, never forward.
    .why = More than one pin position back from finger-tight, or over 10 thousandths (0.25 mm) on a dial, is past every range found.
    .doubt = Could be too much end play. To know: put a dial on it, or count the slots.
finding-bench_disputed = End play where the sources disagree
    .do = Keep to the maker's figure. Without one, one pin position back from finger-tight at most.
    .why = TMC RP 618, for heavy vehicles: 1 to 5 thousandths. A small-trailer manual: 1 to 10. Car data: 2 at most. One slot of a single cross hole can be 10 to 14.
    .doubt = Could be more play than some makers allow. To know: put a dial on it, and look up the maker's figure.
finding-bench_short = Too tight?
    .do = Back the nut off to the next slot unless the maker wants preload.
    .why = Under 1 thousandth (0.025 mm) leaves hot rollers no room.
    .doubt = Could be too tight. To know: put a dial on it.
