station-tire_figures = ¿Son las llantas correctas, con el aire correcto?

point-tire_figure = Medida y rango de carga
point-tire_carry = Peso en la llanta
point-tire_speed = Índice de velocidad de la llanta
point-tire_weather = Aire, clima y altura
point-tire_match = Circunferencia
point-tandem_match = Diámetros de llanta, eje contra eje
point-tire_years = Edad por el código de fecha
point-tire_heat = Calor del costado

caution-bleed = Nunca saque aire de una llanta caliente. La presión sale alta porque está caliente. En frío la llanta quedaría muy baja.

quantity-overall_diameter = diámetro total de la llanta, nueva
    .says = esta llanta nueva mide { $value } de arriba abajo.
quantity-tire_revs = revoluciones por milla
    .says = da { $value } vueltas en una milla (1.6 km).
quantity-size_gap = llanta mayor menos la menor, por medida
    .says = { $side ->
        [either] La llanta mayor y la menor difieren cuando mucho { $left } de altura, por sus medidas.
       *[over] La llanta mayor y la menor difieren { $value } de altura, por sus medidas.
    }
quantity-range_pressure = presión usual de esa letra en llantas ST
    .says = una llanta ST de esa letra suele llevar { $value }.
quantity-tire_rated = carga para la que está hecha la llanta, en remolque
    .says = En remolque cada llanta está hecha para { $value }.
quantity-tire_carries = carga que lleva a esta presión
    .says = a su presión esta llanta carga { $value }.
quantity-tire_in_hand = reserva de carga de la llanta
    .says = { $side ->
        [under] a esta llanta le faltan { $amount } para su carga.
        [either] a esta llanta pueden faltarle { $short } para su carga o sobrarle { $left }: no se puede saber.
       *[over] a esta llanta le sobran { $value } sobre su carga.
    }
quantity-pressure_needed = menor presión en frío para esta carga
    .says = esta carga pide al menos { $value }, en frío.
quantity-tire_speed = lo más rápido para la llanta
    .says = La llanta está hecha para { $value } cuando mucho.
quantity-air_then = aire de afuera donde se infló
quantity-air_here = aire de afuera aquí
    .says = El aire de afuera presiona aquí con { $value }.
quantity-pressure_expected = presión en frío que se espera aquí
    .says = En frío el manómetro debe marcar aquí { $value }.
quantity-tire_girth = circunferencia de la llanta, medida
quantity-tire_across = diámetro total de la llanta, medido
    .says = medida, esta llanta tiene { $value } de arriba abajo.
quantity-round_gap = diferencia de circunferencia
    .says = { $side ->
        [under] esta llanta es { $amount } menor de contorno que la otra.
        [either] esta llanta puede ser hasta { $short } menor o { $left } mayor de contorno que la otra.
       *[over] esta llanta es { $value } mayor de contorno que la otra.
    }
quantity-tandem_gap = mayor menos menor circunferencia, todas las ruedas
    .says = { $side ->
        [either] La llanta mayor y la menor difieren cuando mucho { $left } de circunferencia.
       *[over] La llanta mayor y la menor difieren { $value } de circunferencia.
    }
quantity-lean_height = un lado queda más alto por
    .says = { $side ->
        [under] este lado queda { $amount } más bajo.
        [either] este lado puede quedar hasta { $short } más bajo o { $left } más alto.
       *[over] este lado queda { $value } más alto.
    }
quantity-lean_angle = inclinación
    .says = { $side ->
        [under] el remolque se ladea { $amount } hacia este lado.
        [either] el remolque puede ladearse hasta { $short } hacia este lado o { $left } hacia el otro.
       *[over] el remolque se ladea { $value } hacia el otro lado.
    }

fact-tire_size = ¿Medida en el costado?
    .help = Como ST205/75R15, 4.80-12 o 20.5x8.0-10. Cópiela como está impresa, o sáltela.
fact-load_range = ¿Letra del rango de carga?
    .help = Después de la medida: LOAD RANGE C, o LRC. Sin letra: No sé.
    .choice-b = B
    .choice-c = C
    .choice-d = D
    .choice-e = E
    .choice-f = F
    .choice-g = G
fact-tire_family = ¿Qué tipo de llanta?
    .help = Letras antes de la medida: ST remolque, LT camión ligero, P o ninguna auto.
    .choice-st = ST
    .choice-lt = LT
    .choice-passenger = P o llanta de auto
    .choice-other = Otro tipo
fact-rating_by = ¿Cómo da su carga la llanta?
    .choice-load = MAX LOAD en lb o kg
    .choice-index = Un índice de carga, como 107
fact-tire_rating = ¿MAX LOAD SINGLE en el costado?
fact-load_index = ¿Índice de carga?
    .help = El número después de la medida, antes de la letra de velocidad: 107 en 107M. Con dos, el primero es para llanta sencilla.
fact-tire_load = ¿Peso en una de estas llantas?
    .help = Peso del eje, repartido entre sus llantas. Tome el lado más pesado si se pesó.
fact-speed_symbol = ¿Letra de velocidad?
    .help = Después del índice de carga: M en 107M.
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
    .choice-none = Sin letra
fact-planned_speed = ¿Lo más rápido que va a manejar?
fact-fill_pressure = ¿Presión en frío cuando se infló?
fact-fill_air = ¿Temperatura del aire cuando se infló?
fact-fill_height = ¿Altura sobre el mar donde se infló?
fact-height_now = ¿Altura sobre el mar aquí?
fact-round_by = ¿Cómo mide las llantas?
    .help = Una cinta alrededor de la banda distingue mejor lo pequeño.
    .choice-tape = Cinta alrededor de la banda
    .choice-across = De lado a lado
fact-tire_height = ¿De lado a lado, banda a banda?
    .help = Inflada, rueda en el aire o fuera del eje, pasando por el centro de la maza.
fact-tire_round = ¿Alrededor del medio de la banda?
    .help = Cinta alrededor de la llanta, inflada, rueda en el aire o fuera del eje.
fact-track = ¿Del medio de la llanta izquierda al de la derecha?
fact-side_heat = ¿Qué tan caliente está el costado de afuera?
    .help = Contra las otras llantas. Primero acerque el dorso de la mano. El sol también calienta un lado.
    .choice-like = Como las otras
    .choice-warmer = Más caliente
    .choice-much = Mucho más caliente
fact-inner_heat = ¿Y el costado interior?
    .help = El lado que no se ve. Meta la mano solo si hay espacio, lejos del tráfico.
    .choice-like = Como las otras
    .choice-warmer = Más caliente
    .choice-much = Mucho más caliente
fact-side_pressure = ¿Su presión, contra las otras?
    .choice-low = Más baja
    .choice-normal = Igual
    .choice-high = Más alta

finding-range_misleads = Letra y presión no van juntas
    .do = Infle a la etiqueta o al dato del costado, nunca por la letra.
    .why = La presión usual de una letra es la de llantas ST métricas. Las diagonales chicas de la misma letra piden mucho más.
finding-sizes_apart = Ejes con llantas de distinta medida
    .do = Ponga una sola medida en todas.
    .why = Las llantas grandes llevan más carga, y en un eje la chica arrastra. Por medida difieren más que dos llantas cualquiera de la misma: 0.6 pulg. (15 mm).
    .doubt = Podrían ser llantas de distinta medida. Para saberlo: mida cada una alrededor de la banda, o lea otra vez las medidas.
finding-tire_overloaded = Más peso del que carga la llanta
    .do = No lo remolque. Quite carga, o infle en frío a la presión marcada, solo si así aguanta el peso.
    .why = Una llanta carga lo marcado solo a la presión marcada; una de auto en remolque carga una décima parte menos.
    .doubt = Podría ser más peso del que carga la llanta. Para saberlo: pese esa rueda y mida la presión en frío.
finding-tire_no_reserve = Queda poca reserva
    .do = Quite o mueva carga. Revise presiones en frío antes de cada viaje.
    .why = Menos de 10 por ciento de reserva; se aconseja de 10 a 20. Un bache, una ladeada o unos psi perdidos la acaban.
    .doubt = Podría quedar poca reserva. Para saberlo: pese esa rueda y mida la presión en frío.
finding-too_fast_for_tire = Más rápido de lo que aguanta la llanta
    .do = No pase de la velocidad de la llanta, o ponga llantas con letra mayor.
    .why = El calor crece con la velocidad. Las ST sin letra se toman como 65 mph (105 km/h); otras sin letra, no más.
finding-air_lost = Se perdió aire desde que se infló
    .do = Busque una fuga: válvula, ceja, banda. Infle en frío.
    .why = Clima y altura explican menos de lo que falta.
finding-rounds_apart = Las llantas del par difieren de tamaño
    .do = Ponga dos iguales, o averigüe cuál está gastada, baja o deshaciéndose.
    .why = Más de 3/4 pulg. (19 mm) alrededor de la banda; otros dicen 1/4 pulg. de diámetro, que es un poco más.
    .doubt = Podría ser un par de distinto tamaño. Para saberlo: mida las dos otra vez con cinta alrededor de la banda.
finding-tandem_apart = Los ejes llevan peso desigual
    .do = Ponga llantas iguales en todos los ejes.
    .why = En un remolque de varios ejes la llanta grande lleva más y se calienta más.
    .doubt = Podrían llevar peso desigual. Para saberlo: mida todas las llantas con cinta alrededor de la banda.
finding-tire_coming_apart = La llanta puede estar deshaciéndose por dentro
    .do = No siga manejando. Ponga la refacción. Mande quitar la llanta y mirarla por dentro.
    .why = Mucho más caliente que las otras sin estar baja: capas o cinturones se rozan sueltos.
finding-tire_soft_hot = Caliente porque está baja
    .do = Déjela enfriar y luego ínflela. Si rodó mucho así, primero mande mirarla por dentro.
    .why = Una llanta baja se dobla en cada vuelta y se calienta sola.
finding-tire_much_hotter = Mucho más caliente que las otras llantas
    .do = No siga manejando sin saber su presión y mirar los dos costados.
    .why = O está baja, o se deshace por dentro. La presión dice cuál.
finding-tire_warmer = Más caliente que las otras llantas
    .do = Revise su presión, su carga y su maza. Toque otra vez en la próxima parada.
    .why = Más carga, menos aire o una maza caliente se notan primero aquí. El sol también lo hace.
