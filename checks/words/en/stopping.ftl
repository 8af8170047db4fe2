point-stopping = Stopping distance
point-chain_pull = Pull on the chains

quantity-weight_ratio = weight to stop, against the vehicle alone
quantity-reaction_way = way before the brakes bite
quantity-stop_alone = stopping distance, vehicle alone
quantity-stop_with = stopping distance with the trailer
quantity-stop_added = added by the trailer
quantity-slowing_with = hardest slowing with the trailer, dry road
quantity-ball_push = push on the ball, as weight
quantity-chain_share = each chain's share of the pull
quantity-chain_pull = pull on each chain, as weight
quantity-snatch_speed = speed when the slack is gone
quantity-chain_snatch = snatch when the slack is gone, as weight

fact-road_wet = Road dry or wet?
    .choice-dry = Dry
    .choice-wet = Wet
fact-chain_angle = How far off straight ahead does each chain run?
    .help = Seen from above, from tongue to hitch. 0 is straight ahead, 45 is half way to the side.
fact-chain_slack = Slack in the chain?
    .help = How far the coupler could drop back before the chains are tight.

finding-stops_too_slowly = Too heavy to stop well without brakes
    .do = Take load off, drive slower, keep a far longer gap, or have brakes fitted.
    .why = Even on a dry road it slows less than 14 ft/s² (4.3 m/s²), the rule for commercial combinations.
    .doubt = Could be too heavy to stop well. To know: weigh the trailer and the vehicle.
finding-chain_pull_over = Chains would break when they are needed
    .do = Fit stronger chains and hooks, and lead them straighter.
    .why = A wide angle and the weight pull harder than one chain bears.
    .doubt = Could break when they are needed. To know: read size and grade on the links.
finding-chain_snatch_over = Slack snatches the chains
    .do = Shorten the chains: slack for turning, no more.
    .why = The trailer gathers speed in the slack, and the snatch can be more than a chain bears.
