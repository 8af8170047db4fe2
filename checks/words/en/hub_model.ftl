### The steps of the hub heat model.

station-hub_figures = Is this hub too hot, or loose?

point-hub_expected = What a sound hub shows
point-hub_measured = What this hub shows

quantity-wheel_turning = how fast the wheel turns
quantity-wheel_rpm = wheel turns per minute
quantity-film_temperature = air next to the hub
quantity-air_viscosity = viscosity of the air
quantity-air_conductivity = conductivity of the air
quantity-air_prandtl = Prandtl number of the air
quantity-radiation_coefficient = heat radiated, per area
quantity-outboard_coefficient = air cooling of the outer barrel
quantity-inboard_coefficient = air cooling of the inner barrel
quantity-flange_coefficient = air cooling of the flange
quantity-wheel_coefficient = air cooling of the wheel
quantity-axle_coefficient = air cooling of the axle
quantity-fin_length = wheel disc as a fin, length number
quantity-fin_efficiency = wheel disc as a fin, efficiency
quantity-body_conductance = heat the hub itself passes to the air
quantity-wheel_conductance = heat the wheel passes to the air
quantity-axle_conductance = heat the axle carries away
quantity-hub_conductance = heat passed to the air in all
    .says = The hub passes { $value } on to the air.
quantity-seal_torque = drag of the seal
    .says = The seal drags with { $value }.
quantity-hub_guess_1 = hub temperature, first step
quantity-hub_guess_2 = hub temperature, second step
quantity-hub_guess_3 = hub temperature, third step
quantity-bearing_torque = drag of both bearings
    .says = Both bearings together drag with { $value }.
quantity-friction_power = heat made in the hub
    .says = Bearings and seal make { $value } of heat.
quantity-expected_rise = middle of sound hubs above the air, at cruise
    .says = At cruise the middle of sound hubs is { $value } warmer than the air.
quantity-model_heating_time = time to warm up in the model
    .says = It takes { $value } to warm up.
quantity-share_reached = share of the final warmth reached
    .says = By now it has reached { $value } of its final warmth.
quantity-share_left = share of the warmth left after parking
    .says = After parking { $value } of its warmth is left.
quantity-expected_at_stop = middle of sound hubs at this stop
    .says = At this stop the middle of sound hubs shows { $value }.
quantity-rise_at_cruise = this hub above the air at cruise
quantity-hub_at_cruise = this hub at cruise, and at the next stop
    .says = this hub runs at { $value } at cruise, and so it will at the next stop.
quantity-extra_drag = drag beyond a sound hub
    .says = { $side ->
        [under] it drags { $amount } less than the middle of sound hubs.
        [either] it may drag up to { $short } less or { $left } more than the middle of sound hubs.
       *[over] it drags { $value } more than a sound hub.
    }
quantity-grease_margin = room left to the grease's limit
    .says = { $side ->
        [under] it is { $amount } over the grease's limit.
        [either] it may be { $short } over the grease's limit or have { $left } left: that can't be told.
       *[over] { $value } are left to the grease's limit.
    }

finding-grease_gone = Too hot for the grease
    .doubt = Could be hotter than the grease stands. To know: use a thermometer.
    .do = Do not drive on. The grease in this bearing will not last at cruise.
    .why = At cruising speed the bearing would pass what lithium grease stands.
