### The steps of the hub heat model.

station-hub_figures = ¿Esta maza está muy caliente, o floja?

point-hub_expected = Lo que muestra una maza sana
point-hub_measured = Lo que muestra esta maza

quantity-wheel_turning = qué tan rápido gira la rueda
quantity-wheel_rpm = vueltas de la rueda por minuto
quantity-film_temperature = aire junto a la maza
quantity-air_viscosity = viscosidad del aire
quantity-air_conductivity = conductividad del aire
quantity-air_prandtl = número de Prandtl del aire
quantity-radiation_coefficient = calor radiado, por área
quantity-outboard_coefficient = enfriamiento del cuerpo exterior por el aire
quantity-inboard_coefficient = enfriamiento del cuerpo interior por el aire
quantity-flange_coefficient = enfriamiento de la brida por el aire
quantity-wheel_coefficient = enfriamiento de la rueda por el aire
quantity-axle_coefficient = enfriamiento del eje por el aire
quantity-fin_length = disco de la rueda como aleta, número de longitud
quantity-fin_efficiency = disco de la rueda como aleta, eficiencia
quantity-body_conductance = calor que la maza misma pasa al aire
quantity-wheel_conductance = calor que la rueda pasa al aire
quantity-axle_conductance = calor que se lleva el eje
quantity-hub_conductance = calor que pasa al aire en total
    .says = La maza pasa al aire { $value }.
quantity-seal_torque = arrastre del retén
    .says = El retén arrastra con { $value }.
quantity-hub_guess_1 = temperatura de la maza, primer paso
quantity-hub_guess_2 = temperatura de la maza, segundo paso
quantity-hub_guess_3 = temperatura de la maza, tercer paso
quantity-bearing_torque = arrastre de los dos baleros
    .says = Los dos baleros juntos arrastran con { $value }.
quantity-friction_power = calor que se hace en la maza
    .says = Baleros y retén hacen { $value } de calor.
quantity-expected_rise = medio de las mazas sanas sobre el aire, en marcha
    .says = En marcha, el medio de las mazas sanas está { $value } sobre el aire.
quantity-model_heating_time = tiempo de calentamiento en el modelo
    .says = Tarda { $value } en calentarse.
quantity-share_reached = parte alcanzada del calor final
    .says = Hasta ahora alcanzó { $value } de su calor final.
quantity-share_left = parte del calor que queda después de parar
    .says = Después de parar le queda { $value } de su calor.
quantity-expected_at_stop = medio de las mazas sanas en esta parada
    .says = En esta parada el medio de las mazas sanas muestra { $value }.
quantity-rise_at_cruise = esta maza sobre el aire en marcha
quantity-hub_at_cruise = esta maza en marcha, y en la próxima parada
    .says = esta maza va a { $value } en marcha, y así estará en la próxima parada.
quantity-extra_drag = arrastre de más que una maza sana
    .says = { $side ->
        [under] arrastra { $amount } menos que el medio de las mazas sanas.
        [either] puede arrastrar hasta { $short } menos o { $left } más que el medio de las mazas sanas.
       *[over] arrastra { $value } más que una maza sana.
    }
quantity-grease_margin = lo que falta para el límite de la grasa
    .says = { $side ->
        [under] pasa por { $amount } el límite de la grasa.
        [either] puede pasar por { $short } el límite de la grasa o quedar { $left } abajo: no se puede saber.
       *[over] faltan { $value } para el límite de la grasa.
    }

finding-grease_gone = Demasiado caliente para la grasa
    .doubt = Podría estar más caliente de lo que aguanta la grasa. Para saberlo: use un termómetro.
    .do = No siga manejando. La grasa de este balero no aguanta a velocidad de carretera.
    .why = A velocidad de marcha el balero pasaría lo que aguanta la grasa de litio.
