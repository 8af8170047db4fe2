station-strength = Is every part strong enough?
station-speed = How fast may it go, and how far does it take to stop?

point-ratings = The weakest link
point-chain_strength = Safety chains
point-ball_class = Ball, coupler and class
point-brake_law = Brakes by law

quantity-link_vehicle = the towing vehicle
quantity-link_combined = vehicle and trailer together
quantity-link_hitch = the hitch
quantity-link_ball = the ball
quantity-link_coupler = the coupler
quantity-link_chains = one chain
quantity-link_axles = the axles together
quantity-link_wheels = the wheels together
quantity-link_tires = the tires together
quantity-link_frame = the trailer's own rating (GVWR)
quantity-weakest_link = weakest of the links that are known
    .says = The weakest link is { $links }: { $value }.
quantity-margin_vehicle = vehicle's tow rating, room left
    .says = { $side ->
        [under] The towing vehicle is { $amount } over its rating.
        [either] The towing vehicle may be { $short } over its rating, or could pull { $left } more: that can't be told.
       *[over] The towing vehicle could pull { $value } more.
    }
quantity-margin_hitch = hitch, room left
    .says = { $side ->
        [under] The hitch is { $amount } over its rating.
        [either] The hitch may be { $short } over its rating, or could bear { $left } more: that can't be told.
       *[over] The hitch could bear { $value } more.
    }
quantity-margin_ball = ball, room left
    .says = { $side ->
        [under] The ball is { $amount } over its rating.
        [either] The ball may be { $short } over its rating, or could bear { $left } more: that can't be told.
       *[over] The ball could bear { $value } more.
    }
quantity-margin_coupler = coupler, room left
    .says = { $side ->
        [under] The coupler is { $amount } over its rating.
        [either] The coupler may be { $short } over its rating, or could bear { $left } more: that can't be told.
       *[over] The coupler could bear { $value } more.
    }
quantity-margin_chains = chains together, room left before they break
    .says = { $side ->
        [under] The trailer weighs { $amount } more than its chains hold.
        [either] The trailer may weigh { $short } more than its chains hold, or { $left } less: that can't be told.
       *[over] Together its chains hold { $value } more than the trailer weighs.
    }
quantity-margin_combined = vehicle and trailer together, room left
    .says = { $side ->
        [under] Vehicle and trailer together are { $amount } over the rating.
        [either] Vehicle and trailer together may be { $short } over the rating or { $left } under it: that can't be told.
       *[over] Vehicle and trailer together may weigh { $value } more.
    }
quantity-margin_wheels = wheels together, room left
    .says = { $side ->
        [under] The wheels together are { $amount } over their rating.
        [either] The wheels together may be { $short } over their rating, or could bear { $left } more: that can't be told.
       *[over] The wheels together could bear { $value } more.
    }
quantity-margin_axles = axles together, room left
    .says = { $side ->
        [under] The axles together are { $amount } over their rating.
        [either] The axles together may be { $short } over their rating, or could bear { $left } more: that can't be told.
       *[over] The axles together could bear { $value } more.
    }
quantity-margin_tires = tires together, room left
    .says = { $side ->
        [under] The tires together are { $amount } over their rating.
        [either] The tires together may be { $short } over their rating, or could bear { $left } more: that can't be told.
       *[over] The tires together could bear { $value } more.
    }
quantity-chain_break = breaking strength of one chain
    .says = One chain breaks at { $value }.
quantity-chain_least = least breaking strength for each chain
    .says = Each chain must hold at least { $value }.
quantity-ball_least = least ball for this weight
    .says = This weight wants a ball of at least { $value }.
quantity-tongue_most = most on the tongue for this class
    .says = This class takes at most { $value } on the tongue.

fact-tow_rating = Vehicle's tow rating?
    .help = Owner's manual, for this engine and gearbox. Skip it if you do not know.
fact-hitch_rating = Rating on the hitch receiver or ball mount?
    .help = The lower of the two labels, weight-carrying. Skip it if it cannot be read.
fact-ball_rating = Rating stamped on the ball?
fact-coupler_rating = Rating stamped on the coupler?
fact-combined_rating = Vehicle's combined rating, with trailer?
    .help = GCWR in the vehicle's book: vehicle, trailer and all in them.
fact-rear_axle_rating = Vehicle's rear axle rating?
    .help = GAWR rear on the driver's door frame.
fact-rear_axle_weight = Weight on the vehicle's rear axle, hitched?
    .help = On a scale, with the loaded trailer on the ball. Skip it if it was not weighed.
fact-wheel_rating = Rating stamped on each wheel?
    .help = Most load of one wheel, on its back or in its hole circle.
fact-chain_size = Size of the chain?
    .help = Thickness of the wire of one link.
    .choice-3_16 = 3/16 in, 5.5 mm
    .choice-1_4 = 1/4 in, 7 mm
    .choice-5_16 = 5/16 in, 8 mm
    .choice-3_8 = 3/8 in, 10 mm
    .choice-7_16 = 7/16 in, 11 mm
    .choice-1_2 = 1/2 in, 13 mm
fact-chain_grade = Grade on the links?
    .help = 3, 4, 7, 8 or 10 pressed into a link every foot or so. Hooks and links at the ends must be as strong.
    .choice-g30 = 3, 30 or no mark
    .choice-g43 = 4 or 43
    .choice-g70 = 7 or 70
    .choice-g80 = 8 or 80
    .choice-g100 = 10 or 100
fact-chains_fitted = How many safety chains?

finding-rating_vehicle_over = More than the vehicle may tow
    .do = Do not tow. Take load off, or use a vehicle rated for it.
    .why = Brakes, engine and frame of the vehicle are made for its rating.
finding-rating_hitch_over = More than the hitch is made for
    .do = Do not tow. Take load off, or fit a hitch rated for it.
    .why = The loaded weight is more than the label on the hitch.
finding-rating_ball_over = More than the ball is made for
    .do = Do not tow. Take load off, or fit a ball rated for it.
    .why = The loaded weight is more than the stamp on the ball.
finding-rating_coupler_over = More than the coupler is made for
    .do = Do not tow. Take load off, or have a coupler rated for it fitted.
    .why = The loaded weight is more than the stamp on the coupler.
finding-rating_combined_over = More than the vehicle's combined rating
    .do = Do not tow. Take load off, from trailer or vehicle.
    .why = Engine, cooling and brakes are made for both together.
finding-rating_wheels_over = More than the wheels carry
    .do = Do not tow. Take load off, or have wheels rated for it fitted.
    .why = Even with 15 percent on the ball, the rest is more than the wheels' ratings together. An overloaded wheel cracks.
finding-rear_axle_over = Vehicle's rear axle over its rating
    .do = Do not tow. Move load in the trailer back a little, never below 10 percent on the tongue, or carry less. Set weight distribution by its maker's steps.
    .why = The ball's load presses on the rear axle and lifts the front.
finding-rating_chains_over = Chains would break
    .do = Do not tow. Fit stronger chains, with hooks to match.
    .why = All chains together break below the weight of the trailer. If the ball lets go, nothing holds it.
    .doubt = Could break. To know: read size and grade on the links, and weigh the trailer.
finding-rating_axles_over = More than the axles carry
    .do = Do not tow. Take load off.
    .why = Even with 15 percent on the ball, the rest is more than the axle ratings together.
finding-rating_tires_over = More than the tires carry
    .do = Do not tow. Take load off, or fit tires rated for it.
    .why = Even with 15 percent on the ball, the rest is more than the tires carry together at their marked pressure.
finding-chain_weak = Chain too weak for the class
    .do = Fit chains that each bear the class: 2,000, 3,500, 5,000 lb, above that the loaded weight.
    .why = Federal law adds the chains up; the class rule wants it of each, because two rarely share a pull. The more careful one is used.
    .doubt = Could be too weak for the class. To know: read size and grade on the links.
finding-ball_below_class = Ball too small for this weight
    .do = Use a 2 in ball or larger, with a coupler to match.
    .why = 1-7/8 in balls are for trailers up to 2,000 lb (907 kg) loaded.
finding-coupler_below_class = Coupler too small for this weight
    .do = Take load off, or have a 2 in coupler or larger fitted.
    .why = 1-7/8 in couplers are for trailers up to 2,000 lb (907 kg) loaded.
finding-tongue_over_class = Tongue heavy for its class
    .do = Look at the hitch's own tongue rating. Move load back if it is exceeded.
    .why = Guidance by class: 200 lb, 300 lb, or 15 percent of the weight if that is more. The label on the hitch comes first.
