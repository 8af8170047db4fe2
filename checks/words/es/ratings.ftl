station-strength = ¿Aguanta cada pieza?
station-speed = ¿Qué tan rápido puede ir, y en cuánto para?

point-ratings = La pieza más débil
point-chain_strength = Cadenas de seguridad
point-ball_class = Bola, acoplador y clase
point-brake_law = Frenos por ley

quantity-link_vehicle = el vehículo remolcador
quantity-link_combined = vehículo y remolque juntos
quantity-link_hitch = el enganche
quantity-link_ball = la bola
quantity-link_coupler = el acoplador
quantity-link_chains = una cadena
quantity-link_axles = los ejes juntos
quantity-link_wheels = los rines juntos
quantity-link_tires = las llantas juntas
quantity-link_frame = la capacidad del remolque mismo (GVWR)
quantity-weakest_link = la más débil de las piezas conocidas
    .says = La pieza más débil es { $links }: { $value }.
quantity-margin_vehicle = capacidad de remolque del vehículo, lo que queda
    .says = { $side ->
        [under] El vehículo remolcador pasa por { $amount } su capacidad.
        [either] El vehículo remolcador puede pasar por { $short } su capacidad, o jalar { $left } más: no se puede saber.
       *[over] El vehículo remolcador podría jalar { $value } más.
    }
quantity-margin_hitch = enganche, lo que queda
    .says = { $side ->
        [under] El enganche pasa por { $amount } su capacidad.
        [either] El enganche puede pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] El enganche podría aguantar { $value } más.
    }
quantity-margin_ball = bola, lo que queda
    .says = { $side ->
        [under] La bola pasa por { $amount } su capacidad.
        [either] La bola puede pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] La bola podría aguantar { $value } más.
    }
quantity-margin_coupler = acoplador, lo que queda
    .says = { $side ->
        [under] El acoplador pasa por { $amount } su capacidad.
        [either] El acoplador puede pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] El acoplador podría aguantar { $value } más.
    }
quantity-margin_chains = cadenas juntas, lo que queda antes de romperse
    .says = { $side ->
        [under] El remolque pesa { $amount } más de lo que sostienen sus cadenas.
        [either] El remolque puede pesar { $short } más de lo que sostienen sus cadenas, o { $left } menos: no se puede saber.
       *[over] Juntas, las cadenas sostienen { $value } más de lo que pesa el remolque.
    }
quantity-margin_combined = vehículo y remolque juntos, lo que queda
    .says = { $side ->
        [under] Vehículo y remolque juntos pasan por { $amount } la capacidad.
        [either] Vehículo y remolque juntos pueden pasar por { $short } la capacidad o quedar { $left } abajo: no se puede saber.
       *[over] Vehículo y remolque juntos pueden pesar { $value } más.
    }
quantity-margin_wheels = rines juntos, lo que queda
    .says = { $side ->
        [under] Los rines juntos pasan por { $amount } su capacidad.
        [either] Los rines juntos pueden pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] Los rines juntos podrían aguantar { $value } más.
    }
quantity-margin_axles = ejes juntos, lo que queda
    .says = { $side ->
        [under] Los ejes juntos pasan por { $amount } su capacidad.
        [either] Los ejes juntos pueden pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] Los ejes juntos podrían aguantar { $value } más.
    }
quantity-margin_tires = llantas juntas, lo que queda
    .says = { $side ->
        [under] Las llantas juntas pasan por { $amount } su capacidad.
        [either] Las llantas juntas pueden pasar por { $short } su capacidad, o aguantar { $left } más: no se puede saber.
       *[over] Las llantas juntas podrían aguantar { $value } más.
    }
quantity-chain_break = carga de rotura de una cadena
    .says = Una cadena se rompe con { $value }.
quantity-chain_least = menor carga de rotura para cada cadena
    .says = Cada cadena debe sostener al menos { $value }.
quantity-ball_least = bola mínima para este peso
    .says = Este peso pide una bola de al menos { $value }.
quantity-tongue_most = máximo en la lanza para esta clase
    .says = Esta clase aguanta cuando mucho { $value } en la lanza.

fact-tow_rating = ¿Capacidad de remolque del vehículo?
    .help = Manual del vehículo, para este motor y caja. Sáltela si no la sabe.
fact-hitch_rating = ¿Capacidad en el receptor o el montaje de bola?
    .help = La menor de las dos etiquetas, con peso cargado. Sáltela si no se lee.
fact-ball_rating = ¿Capacidad marcada en la bola?
fact-coupler_rating = ¿Capacidad marcada en el acoplador?
fact-combined_rating = ¿Peso bruto combinado del vehículo con remolque?
    .help = GCWR en el manual: vehículo, remolque y todo lo que llevan.
fact-rear_axle_rating = ¿Capacidad del eje de atrás del vehículo?
    .help = GAWR de atrás (rear) en el marco de la puerta del conductor.
fact-rear_axle_weight = ¿Peso en el eje de atrás del vehículo, enganchado?
    .help = En una báscula, con el remolque cargado en la bola. Sáltela si no se pesó.
fact-wheel_rating = ¿Capacidad marcada en cada rin?
    .help = Carga máxima de una rueda, por atrás o entre los agujeros.
fact-chain_size = ¿Medida de la cadena?
    .help = Grueso del alambre de un eslabón.
    .choice-3_16 = 3/16 pulg., 5.5 mm
    .choice-1_4 = 1/4 pulg., 7 mm
    .choice-5_16 = 5/16 pulg., 8 mm
    .choice-3_8 = 3/8 pulg., 10 mm
    .choice-7_16 = 7/16 pulg., 11 mm
    .choice-1_2 = 1/2 pulg., 13 mm
fact-chain_grade = ¿Grado en los eslabones?
    .help = 3, 4, 7, 8 o 10 marcado en un eslabón cada pie, más o menos. Ganchos y eslabones de los extremos deben aguantar igual.
    .choice-g30 = 3, 30 o sin marca
    .choice-g43 = 4 o 43
    .choice-g70 = 7 o 70
    .choice-g80 = 8 u 80
    .choice-g100 = 10 o 100
fact-chains_fitted = ¿Cuántas cadenas de seguridad?

finding-rating_vehicle_over = Más de lo que el vehículo puede remolcar
    .do = No lo remolque. Quite carga, o use un vehículo con esa capacidad.
    .why = Frenos, motor y chasis del vehículo están hechos para su capacidad.
finding-rating_hitch_over = Más de lo que aguanta el enganche
    .do = No lo remolque. Quite carga, o ponga un enganche con esa capacidad.
    .why = El peso con carga pasa la etiqueta del enganche.
finding-rating_ball_over = Más de lo que aguanta la bola
    .do = No lo remolque. Quite carga, o ponga una bola con esa capacidad.
    .why = El peso con carga pasa la marca de la bola.
finding-rating_coupler_over = Más de lo que aguanta el acoplador
    .do = No lo remolque. Quite carga, o mande poner un acoplador con esa capacidad.
    .why = El peso con carga pasa la marca del acoplador.
finding-rating_combined_over = Más que el peso bruto combinado del vehículo
    .do = No lo remolque. Quite carga, del remolque o del vehículo.
    .why = Motor, enfriamiento y frenos están hechos para los dos juntos.
finding-rating_wheels_over = Más de lo que cargan los rines
    .do = No lo remolque. Quite carga, o mande poner rines con esa capacidad.
    .why = Aun con 15 por ciento en la bola, lo demás pasa la suma de los rines. Un rin sobrecargado se agrieta.
finding-rear_axle_over = El eje de atrás del vehículo pasa su capacidad
    .do = No lo remolque. Mueva algo de carga hacia atrás en el remolque, sin dejar nunca en la lanza menos del 10 por ciento del peso, o lleve menos. Ajuste la distribución de peso con los pasos de su fabricante.
    .why = El peso en la bola aprieta el eje de atrás y levanta el frente.
finding-rating_chains_over = Las cadenas se romperían con este peso
    .do = No lo remolque. Ponga cadenas más fuertes, con ganchos del mismo grado.
    .why = Todas las cadenas juntas se rompen con menos del peso del remolque. Si se suelta la bola, nada lo sostiene.
    .doubt = Podrían romperse. Para saberlo: lea medida y grado en los eslabones, y pese el remolque.
finding-rating_axles_over = Más de lo que cargan los ejes
    .do = No lo remolque. Quite carga.
    .why = Aun con 15 por ciento en la bola, lo demás pasa la suma de los ejes.
finding-rating_tires_over = Más de lo que cargan las llantas
    .do = No lo remolque. Quite carga, o ponga llantas con esa capacidad.
    .why = Aun con 15 por ciento en la bola, lo demás pasa lo que las llantas cargan juntas a su presión marcada.
finding-chain_weak = Cadena muy débil para la clase
    .do = Ponga cadenas que cada una aguante la clase: 2,000, 3,500, 5,000 lb; arriba de eso, el peso con carga.
    .why = La ley federal suma las cadenas; la regla de clase lo pide de cada una, porque dos casi nunca se reparten un jalón. Se usa la más prudente.
    .doubt = Podría ser muy débil para la clase. Para saberlo: lea medida y grado en los eslabones.
finding-ball_below_class = Bola muy chica para este peso
    .do = Use una bola de 2 pulg. o más, con un acoplador igual.
    .why = Las bolas de 1-7/8 pulg. son para remolques de hasta 2,000 lb (907 kg) con carga.
finding-coupler_below_class = Acoplador muy chico para este peso
    .do = Quite carga, o mande poner un acoplador de 2 pulg. o más.
    .why = Los acopladores de 1-7/8 pulg. son para remolques de hasta 2,000 lb (907 kg) con carga.
finding-tongue_over_class = La lanza pesa mucho para su clase
    .do = Vea la capacidad de lanza del enganche. Mueva carga hacia atrás si la pasa.
    .why = Guía por clase: 200 lb, 300 lb, o 15 por ciento del peso si es más. Primero vale la etiqueta del enganche.
