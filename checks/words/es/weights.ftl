### Weights: the words for checks/trade/weights.py.

station-weights = ¿Cuánto pesa, y dónde descansa el peso?

point-weigh_how = Cómo se pesó
point-cargo = Lo que lleva
point-loaded = Peso con carga
point-cargo_place = Dónde está
point-tongue = Peso en la lanza
point-tilt_balance = Plataforma basculante
point-reserves = Ejes y llantas
point-sway = Balanceo

quantity-cargo_weight = peso de la carga
    .says = La carga pesa { $value }.
quantity-loaded_weight = peso del remolque con carga
    .says = Con carga el remolque pesa { $value }.
quantity-payload_left = peso que todavía puede cargar
    .says = { $side ->
        [under] Lleva { $amount } más de lo que aguanta.
        [either] Puede llevar { $short } de más, o aguantar { $left } más: no se puede saber.
       *[over] Todavía puede cargar { $value }.
    }
quantity-past_deck = carga más allá del piso
quantity-cargo_on_tongue = lo que la carga pone en la lanza
quantity-tongue_load = peso en la lanza
    .says = { $side ->
        [under] La lanza jala hacia arriba con { $amount }.
        [either] La lanza puede jalar hacia arriba con { $short } o pesar hasta { $left }: no se puede saber.
       *[over] La lanza pesa { $value }.
    }
quantity-tongue_share = parte del peso en la lanza
    .says = { $side ->
        [under] La lanza jala hacia arriba con { $amount } del peso.
        [either] La lanza puede jalar hacia arriba con { $short } del peso o llevar hasta { $left } de él.
       *[over] La lanza lleva { $value } del peso.
    }
quantity-tongue_per_inch = lo que gana la lanza si toda la carga avanza 1 pulg. (25 mm)
    .says = Toda la carga 1 pulg. (25 mm) más adelante suma { $value } a la lanza.
quantity-cargo_middle = centro de gravedad de la carga, delante de la línea del eje
    .says = { $side ->
        [under] El medio de la carga está { $amount } detrás de la línea del eje.
        [either] El medio de la carga puede estar hasta { $short } detrás o { $left } delante de la línea del eje.
       *[over] El medio de la carga está { $value } delante de la línea del eje.
    }
quantity-cargo_best = dónde va mejor ese centro, para 12.5 % en la lanza (bote: 7.5 %)
    .says = { $side ->
        [under] El medio de la carga va mejor { $amount } detrás de la línea del eje.
        [either] El medio de la carga va mejor entre { $short } detrás y { $left } delante de la línea del eje.
       *[over] El medio de la carga va mejor { $value } delante de la línea del eje.
    }
quantity-tongue_advised = consejo usual para la lanza: 10 a 15 % (bote: 5 a 7 %)
    .says = El consejo usual para la lanza es { $value }: 10 a 15 % (bote: 5 a 7 %).
quantity-tongue_other = otro consejo: 5 a 10 %
    .says = Otro consejo es { $value }: 5 a 10 %.
quantity-tongue_europe = consejo europeo: 4 a 7 %, enganche de 50 a 80 kg cuando mucho
    .says = El consejo europeo es { $value }: 4 a 7 %, y cuando mucho lo que aguanta el enganche.
quantity-bed_balance = centro de gravedad de plataforma y carga, delante del eje de giro
    .says = { $side ->
        [under] Plataforma y carga tienen su medio { $amount } detrás del eje de giro: la plataforma se va sola.
        [either] Plataforma y carga pueden tener su medio hasta { $short } detrás o { $left } delante del eje de giro: no se puede saber si se va.
       *[over] Plataforma y carga tienen su medio { $value } delante del eje de giro.
    }
quantity-axle_load = peso en todos los ejes
    .says = Todos los ejes juntos llevan { $value }.
quantity-load_per_axle = peso en un eje
    .says = Un eje lleva { $value }.
quantity-axle_reserve = reserva del eje
    .says = { $side ->
        [under] El eje pasa por { $amount } su capacidad.
        [either] El eje puede pasar por { $short } su capacidad o tener { $left } de reserva: no se puede saber.
       *[over] El eje tiene { $value } de reserva.
    }
quantity-wheel_load = peso en la rueda más pesada
    .says = La rueda más pesada lleva { $value }.
quantity-tire_reserve = reserva de la llanta
    .says = { $side ->
        [under] La llanta pasa por { $amount } su capacidad.
        [either] La llanta puede pasar por { $short } su capacidad o tener { $left } de reserva: no se puede saber.
       *[over] La llanta tiene { $value } de reserva.
    }
quantity-sway_room = margen hasta la velocidad en que empieza el balanceo
    .says = { $side ->
        [under] La velocidad planeada pasa por { $amount } la del balanceo.
        [either] La velocidad planeada puede pasar por { $short } la del balanceo o quedar { $left } abajo: no se puede saber.
       *[over] De la velocidad planeada a la del balanceo faltan { $value }.
    }

fact-tongue_by = ¿Cómo va a saber el peso en la lanza?
    .help = Con carga, nivelado, cuñas en las ruedas, lanza a la altura de remolque.
    .choice-cargo = Sumar carga y distancias
    .choice-scale = Báscula de baño bajo la lanza
    .choice-lever = Báscula de baño y una palanca
    .choice-weighings = Tres pesadas en báscula de camiones
fact-empty_weight = ¿Peso vacío del remolque?
    .help = En la placa, en los papeles, o pesado.
fact-cargo_count = ¿Cuántas piezas de carga? (0 a 6)
    .help = Cuente como una las cosas chicas que van juntas.
fact-cargo_1 = Pieza 1: ¿su peso?
fact-cargo_2 = Pieza 2: ¿su peso?
fact-cargo_3 = Pieza 3: ¿su peso?
fact-cargo_4 = Pieza 4: ¿su peso?
fact-cargo_5 = Pieza 5: ¿su peso?
fact-cargo_6 = Pieza 6: ¿su peso?
fact-cargo_1_ahead = Pieza 1: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-cargo_2_ahead = Pieza 2: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-cargo_3_ahead = Pieza 3: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-cargo_4_ahead = Pieza 4: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-cargo_5_ahead = Pieza 5: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-cargo_6_ahead = Pieza 6: su medio, ¿qué tan delante de la línea del eje?
    .help = Detrás de la línea del eje: con signo menos. Con dos o tres ejes: desde el medio entre ellos.
fact-deck_front = ¿De la línea del eje al frente del piso?
fact-deck_rear = ¿De la línea del eje al final del piso?
fact-ball_to_axle = ¿De la bola a la línea del eje?
    .help = Desde el centro del acoplador. Con dos o tres ejes: al medio entre ellos.
fact-tongue_empty = ¿Peso en la lanza con el remolque vacío?
fact-bed_weight = ¿Peso de la plataforma sola?
fact-bed_middle_ahead = Medio de la plataforma, ¿qué tan delante de la línea del eje?
    .help = Detrás: con signo menos.
fact-pivot_ahead = Eje de giro, ¿qué tan delante de la línea del eje?
    .help = Detrás: con signo menos.
fact-tongue_scale = ¿Lectura bajo la lanza?
    .help = Directo en la báscula hasta unas 250 lb (110 kg). De ahí en adelante use la palanca.
fact-lever_reading = ¿Lectura de la báscula, menos la palanca sola?
    .help = Un extremo de la palanca en un bloque, el otro en la báscula, la lanza encima entre los dos, más cerca del bloque.
fact-lever_pivot = ¿Del bloque al acoplador, por la palanca?
fact-lever_scale = ¿Del acoplador a la báscula, por la palanca?
fact-weighing_alone = 1: ¿el vehículo solo?
    .help = Mismo combustible y personas en las tres, sin barras de distribución de peso.
fact-weighing_hitched = 2: enganchado, ¿solo los ejes del vehículo en la báscula?
fact-weighing_all = 3: enganchado, ¿todo en la báscula?
fact-scale_step = ¿Paso más chico de esa báscula?
    .help = De camiones: muchas veces 10 o 20 lb. Cada lectura se toma por buena a un paso.
fact-tongue_rating = ¿Capacidad de lanza de enganche, bola o acoplador?
    .help = La menor de las marcadas. Sáltela si no la sabe.
fact-equalized = ¿Los ejes se reparten el peso con balancines?
    .help = Una pieza que bascula entre los muelles. Los ejes de torsión no la llevan: ahí solo lo dice una báscula bajo cada eje.
    .choice-no = No
    .choice-yes = Sí
fact-axle_rating = ¿Capacidad de un eje?
    .help = GAWR en la placa, o la etiqueta del eje.
fact-sways = ¿Ha coleado con velocidad?
    .choice-no = No
    .choice-yes = Sí
fact-sway_speed = ¿A qué velocidad empezó?

finding-payload_over = El remolque pesa más que su capacidad
    .do = No lo remolque. Quite carga hasta bajar de la capacidad de la placa.
    .why = Llantas, baleros, muelles y acoplador se eligen para esa capacidad.
finding-cargo_past_deck = La carga queda más allá del piso
    .do = Mida otra vez esa pieza y el piso: al medio de la pieza, con menos solo detrás de la línea del eje.
    .why = El medio de una pieza no puede colgar más allá del piso, así que con esto no se juzga nada.
finding-tongue_share_low = Con mucho peso atrás: menos de 5 % en la lanza
    .do = Mueva carga hacia adelante hasta tener 10 a 15 % en la lanza; en un bote 5 a 10 %.
    .why = Un remolque con mucho peso atrás colea. Algún consejo europeo baja a 4 %; se usa la cifra más prudente.
    .doubt = Podría tener mucho peso atrás. Para saberlo: pese la lanza.
finding-tongue_share_light = La lanza pesa algo poco
    .do = Mueva carga hacia adelante. Vea los dos manuales: algunos permiten 5 a 10 %.
    .why = El consejo usual es 10 a 15 %, otro 5 a 10. De menos es peor que de más, así que se toma 10.
    .doubt = Podría pesar poco en la lanza. Para saberlo: pese la lanza.
finding-tongue_share_heavy = Más de 15 % en la lanza
    .do = Mueva algo de carga hacia atrás, y vea la capacidad del enganche.
    .why = Levanta las ruedas de adelante del vehículo y carga el enganche.
    .doubt = Podría pesar mucho en la lanza. Para saberlo: pese la lanza.
finding-tongue_over = Pasa la capacidad de lanza
    .do = Mueva carga hacia atrás o lleve menos, hasta bajar de la menor capacidad de enganche, bola y acoplador.
    .why = El enganche o el acoplador puede romperse.
finding-bed_tips = La plataforma quiere irse hacia atrás
    .do = Mueva carga delante del eje de giro. No se acerque a la plataforma cuando abra el pestillo.
    .why = Detrás del eje de giro solo el pestillo sostiene la plataforma.
finding-axle_over = El eje pasa su capacidad
    .do = No lo remolque. Quite o mueva carga hasta que el eje baje de su capacidad.
    .why = De eso fallan eje, muelles y baleros.
    .doubt = Podría pasar su capacidad. Para saberlo: pese el eje en una báscula.
finding-axle_near = El eje está cerca de su capacidad
    .do = Quite carga si puede, y pese el eje en una báscula.
    .why = Queda menos de 10 % para baches y para lo que usted calculó.
    .doubt = Podría estar cerca de su capacidad. Para saberlo: pese el eje en una báscula.
finding-nose_lifts = Con mucho peso atrás: la lanza se levanta
    .do = Mueva carga hacia adelante hasta que la lanza pese claramente. Luego mire otra vez la cifra.
    .why = Si la mano dice que pesa poco, créale a la mano y no a la cifra.
finding-wheel_over = La llanta pasa su capacidad
    .do = No lo remolque. Quite carga, o ponga llantas que carguen más y les queden a los rines.
    .why = Una llanta sobrecargada se calienta y revienta. Se supone que un lado lleva 52 %; las llantas de auto cuentan menos en un remolque.
    .doubt = Podría pasar la capacidad de la llanta. Para saberlo: pese cada lado en una báscula.
finding-wheel_near = La llanta está cerca de su capacidad
    .do = Quite carga, o ponga llantas con más reserva. Llévelas a presión completa.
    .why = Queda menos de 10 %; se aconseja 10 a 20 %, más con dos ejes.
    .doubt = Podría estar cerca de la capacidad de la llanta. Para saberlo: pese cada lado en una báscula.
finding-sway_close = Piensa ir casi a la velocidad a la que colea
    .do = No vaya tan rápido. Si colea: suelte el acelerador, siga derecho y no frene fuerte. Si tiene controlador, aplique a mano únicamente los frenos del remolque. Luego pare y mueva carga hacia adelante.
    .why = El viento, una bajada o un camión que pasa lo traen 10 mph (16 km/h) antes.
    .doubt = Podría colear a la velocidad que piensa ir. Para saberlo: pese la lanza, y vaya muy por debajo.
finding-sway_seen = Ya coleó
    .do = Mueva carga hacia adelante, revise llantas y enganche, vaya más despacio. Si colea: suelte el acelerador, siga derecho, sin frenada fuerte; con controlador, apriete a mano solo los frenos del remolque.
    .why = Arriba de esa velocidad cada coleo es más ancho que el anterior.
