point-lamp_set = Luces que debe llevar
point-lamp_rear_count = Cuente las luces de atrás
point-lamp_side_count = Cuente las otras luces
point-lamp_heights = Color y altura

quantity-need_pair = luces traseras, de freno, direccionales y reflejantes de atrás: de cada uno
    .says = Debe llevar { $value } de cada uno: luces traseras, luces de freno, direccionales y reflejantes de atrás.
quantity-need_plate = luces de placa, blancas
    .says = { $count ->
        [0] No necesita luces de placa blancas.
        [one] Debe llevar { $value } luz de placa blanca.
       *[other] Debe llevar { $value } luces de placa blancas.
    }
quantity-need_red_side = luces laterales rojas, muy atrás
    .says = { $count ->
        [0] No necesita luces laterales rojas muy atrás.
        [one] Debe llevar { $value } luz lateral roja, muy atrás.
       *[other] Debe llevar { $value } luces laterales rojas, muy atrás.
    }
quantity-need_amber_side = luces laterales ámbar, adelante y en medio
    .says = { $count ->
        [0] No necesita luces laterales ámbar adelante ni en medio.
        [one] Debe llevar { $value } luz lateral ámbar, adelante o en medio.
       *[other] Debe llevar { $value } luces laterales ámbar, adelante y en medio.
    }
quantity-need_side = luces laterales en total, y otros tantos reflejantes
    .says = Debe llevar { $value } luces laterales en total, y otros tantos reflejantes laterales.
quantity-need_clearance = luces de gálibo
    .says = { $count ->
        [0] No necesita luces de gálibo.
        [one] Debe llevar { $value } luz de gálibo.
       *[other] Debe llevar { $value } luces de gálibo.
    }
quantity-need_identification = luces rojas en fila, centro de atrás
    .says = { $count ->
        [0] No necesita luces rojas en fila en el centro de atrás.
        [one] Debe llevar { $value } luz roja en el centro de atrás.
       *[other] Debe llevar { $value } luces rojas en fila, centro de atrás.
    }

fact-count_tail = ¿Cuántas luces traseras rojas?
    .help = Una luz con varios usos cuenta en cada uno.
fact-count_stop = ¿Cuántas luces de freno rojas?
fact-count_turn = ¿Cuántas direccionales atrás, rojas o ámbar?
fact-count_rear_reflector = ¿Cuántos reflejantes rojos atrás?
fact-count_plate_lamp = ¿Cuántas luces de placa?
fact-count_side_lamp = ¿Cuántas luces laterales, los dos lados juntos?
    .help = Rojas y ámbar juntas.
fact-count_side_reflector = ¿Cuántos reflejantes laterales, los dos lados juntos?
fact-count_clearance = ¿Cuántas luces de gálibo?
    .help = En las orillas, ámbar y rojas juntas.
fact-count_identification = ¿Cuántas luces rojas en la fila, centro de atrás?
fact-amber_rear = ¿Alguna luz trasera o de freno es ámbar?
    .choice-no = No
    .choice-yes = Sí
fact-height_tail = ¿Altura de las luces traseras y de freno?
    .help = Al centro de la luz, remolque vacío.
fact-height_turn = ¿Altura de las direccionales?
fact-height_reflector = ¿Altura de los reflejantes?
fact-height_marker = ¿Altura de la luz lateral de atrás?

finding-few_tail = Faltan luces traseras
    .do = Ponga una roja de cada lado, parejas, de 15 a 72 pulg. de alto.
    .why = Se piden dos; una basta solo con menos de 30 pulg. de ancho. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_stop = Faltan luces de freno
    .do = Ponga una roja de cada lado, parejas, de 15 a 72 pulg. de alto.
    .why = Se piden dos; una basta solo con menos de 30 pulg. de ancho. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_turn = Faltan direccionales
    .do = Ponga una roja o ámbar de cada lado, parejas, de 15 a 83 pulg. de alto.
    .why = Se piden dos. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_rear_reflector = Faltan reflejantes atrás
    .do = Ponga uno rojo de cada lado, parejos, de 15 a 60 pulg. de alto.
    .why = Se piden dos. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_plate_lamp = Faltan luces de placa
    .do = Ponga una luz blanca arriba o al lado de la placa.
    .why = Se pide una. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_side_lamp = Faltan luces laterales
    .do = Ponga roja muy atrás y ámbar muy adelante de cada lado; desde 30 pies, ámbar en medio también.
    .why = Solo con menos de 6 pies de largo pueden faltar las de adelante. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_side_reflector = Faltan reflejantes laterales
    .do = Ponga rojo muy atrás y ámbar muy adelante de cada lado; desde 30 pies, ámbar en medio también.
    .why = Solo con menos de 6 pies de largo pueden faltar los de adelante. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_clearance = Faltan luces de gálibo
    .do = Ponga ámbar en las orillas de adelante, rojas en las de atrás.
    .why = Se piden desde 80 pulg. de ancho. Un remolque para bote puede llevar una de dos caras por lado. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-few_identification = Faltan luces rojas en la fila
    .do = Ponga tres en el centro de atrás, parejas, con 6 a 12 pulg. entre ellas.
    .why = Se piden desde 80 pulg. de ancho. La regla federal de luces obliga a fabricantes y remolques comerciales; la mayoría de los estados la sigue: vea el suyo.
finding-amber_rear = Luz trasera o de freno ámbar
    .do = Ponga una luz roja.
    .why = El ámbar es solo para direccionales.
finding-height_tail_off = Luz trasera o de freno: altura incorrecta
    .do = Póngala de 15 a 72 pulg. de alto.
    .why = Al centro de la luz, remolque vacío.
finding-height_turn_off = Direccional: altura incorrecta
    .do = Póngala de 15 a 83 pulg. de alto.
    .why = Al centro de la luz, remolque vacío.
finding-height_reflector_off = Reflejante: altura incorrecta
    .do = Póngalo de 15 a 60 pulg. de alto.
    .why = Al centro de la luz, remolque vacío.
finding-height_marker_off = Luz lateral de atrás: altura incorrecta
    .do = Póngala a 15 pulg. o más del suelo. En un remolque de 80 pulg. de ancho o más, a 60 pulg. cuando mucho.
    .why = Al centro de la luz, remolque vacío.
