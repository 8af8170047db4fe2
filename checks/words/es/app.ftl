### Words that belong to no single part of the trailer.

level-stop = Deténgase ya
    .do = No siga manejando. Sálgase bien del camino, lejos del tráfico.
level-mend = Repare antes de remolcar
    .do = No mueva el remolque hasta que esto quede bien.
level-look = Revise otra vez
    .do = Vaya a mirar más de cerca antes de seguir, y revise otra vez en la próxima parada.
level-nothing = No se encontró nada
    .do = No se encontró nada en lo que revisó. Revise otra vez en la próxima parada.
level-unchecked = Sin revisar
    .do = Hay muy pocas respuestas para decirlo.

check-walkaround = Vuelta al remolque
    .front = Antes de salir
    .help = Una vuelta al remolque, unos cinco minutos.
check-run_stop = Parada en camino
    .front = Ya se detuvo
    .help = Mazas, ruedas, llantas y carga.
    .clear = El calor no muestra juego, ni balatas gastadas, ni tuercas flojas. Una maza que falla puede ir fría. Mire eso en la vuelta al remolque con la rueda en el aire, una vez al año o antes de un viaje largo.
check-quick_stop = Parada en camino, solo las mazas
    .front = Solo las mazas
    .help = Cerca de un minuto.
    .clear = El calor no muestra juego, ni balatas gastadas, ni tuercas flojas. Una maza que falla puede ir fría. Mire eso en la vuelta al remolque con la rueda en el aire, una vez al año o antes de un viaje largo.
check-nuts_stop = Solo las tuercas
    .clear = No se miró nada más: ni mazas, ni llantas, ni carga.
check-load_stop = Solo la carga
    .clear = No se miró nada más: ni mazas, ni llantas, ni tuercas.
check-tires = Revisión de llantas
    .front = Llantas
    .help = Banda, daños, edad y presión.
check-figures = Cálculos
    .front = Cálculos
    .help = Lo que un remolque pesa, aguanta y tarda en parar, según lo que usted sabe de él.
check-bench = Registro de taller
    .front = Registro de taller
    .help = Lo que se encontró y se hizo en el taller.

standing-read = fuente leída
standing-secondary = según otra fuente
standing-computed = calculado
standing-memory = de memoria, sin confirmar
standing-practice = costumbre del oficio, sin fuente

caution-burn = El metal caliente quema. Sigue quemando mucho después de parar. No toque lo que pueda estar caliente.
caution-traffic = Deténgase bien fuera del camino. Quédese del lado lejos del tráfico, con las intermitentes encendidas.
caution-fire = No se acerque. Vigile que no haya fuego. Pida ayuda si hay humo o llamas. Nunca eche agua a una maza o a un tambor calientes.
caution-jacking = Ponga cuñas en las otras ruedas. Levante con el gato en suelo firme y nivelado, y ponga un soporte debajo del chasis. Nunca se meta debajo de un remolque sostenido solo por un gato.
caution-wheel_work = Junto al camino, nunca trabaje en una rueda cerca del tráfico. Deje el remolque enganchado, con cuñas y sobre un soporte. Si movió la tuerca de un balero, ponga una chaveta nueva.
caution-gas = Cierre el tanque de gas y abra las puertas. No encienda llamas ni toque interruptores hasta que se vaya el olor.
caution-animals = Nunca se ponga detrás de los animales ni entre ellos. Que los maneje quien los conoce.
caution-crush = No meta manos ni pies debajo de la lanza, las rampas o el piso. Pueden caer de golpe.
caution-rolling = Use un lugar plano y vacío, a paso de persona. Que nadie se ponga detrás ni al lado del remolque mientras se mueve.
caution-maker = Los datos del fabricante y la ley local mandan. Si tiene dudas, pregunte en un taller autorizado.

app-roadside-title = A la orilla del camino
# Con fuego o humo: práctica común, sin fuente.
app-roadside-fire-1 = Aleje a todos del remolque, contra el viento, fuera del humo y lejos del tráfico. Déjelo donde está.
app-roadside-fire-2 = Llame a los bomberos. Dígales dónde está, qué se quema y qué lleva cargado.
app-roadside-fire-3 = Avise al tráfico desde lejos. Que nadie se acerque.
app-roadside-fire-4 = Que nadie vuelva antes de que el fuego se apague y los bomberos lo digan.
app-roadside-smoke-1 = Vigílelo desde lejos. Llame a los bomberos si ve llamas o si el humo aumenta.
app-roadside-step-1 = Saque el remolque del camino, a suelo firme y nivelado. Encienda las intermitentes. Mantenga a todos lejos del tráfico.
app-roadside-step-2 = Ponga cuñas a una rueda del lado contrario antes de levantar, desenganchar o aflojar algo.
app-roadside-step-3 = Deje que el metal caliente se enfríe solo, media hora o más. Sin agua. Vigile que no haya fuego.
app-roadside-step-4 = Luego mire: grasa salpicada, una tapa perdida, tuercas flojas o que faltan o, si lleva frenos, uno que no suelta.
app-roadside-step-5 = Alguien que sepa puede aflojar un poco una tuerca de balero demasiado apretada, apretar tuercas de rueda o, si lleva frenos, aflojar uno que no suelta, según el fabricante. Para la tuerca del balero ponga el remolque sobre un soporte, y una chaveta nueva.
app-roadside-step-6 = No siga manejando con una maza áspera, que echa humo o que se bambolea, ni siquiera despacio hasta el próximo pueblo.
app-roadside-step-7 = Pida una grúa o un mecánico. Dígales los números o el diámetro de los baleros, la medida de la llanta y lo que encontró.

app-not-sure = No sé

app-run = Empezar un viaje
app-trip = Antes del viaje: qué toca y qué llevar
app-run-on = Hay un viaje en marcha
app-run-due = Pare en el próximo lugar seguro: toca mirar
app-lamps = Prueba de luces
app-years = Las mazas con los años

station-about = Su remolque
station-road = El viaje hasta aquí
station-wheels = En las ruedas

point-kind = Tipo de remolque
point-build = Tamaño y construcción
point-depth = Hasta dónde llega la vuelta
point-run = El viaje hasta aquí
point-run_more = Más sobre el viaje

# One wording for a place, wherever it is named.
place-left = { $axles ->
    [1] Rueda izquierda
   *[other] Rueda izquierda, eje { $axle }
}
place-right = { $axles ->
    [1] Rueda derecha
   *[other] Rueda derecha, eje { $axle }
}
place-axle = { $axles ->
    [1] Izquierda y derecha
   *[other] Eje { $axle }, izquierda y derecha
}

app-no = No, regresar
app-see = Entendido
app-no-page = No existe esa página.
app-fetching = Descargando…
app-not-fetched = Esta parte de la app todavía no está en el teléfono. Llega sola cuando hay señal: entonces cargue la página otra vez.
app-missing = No está aquí
app-to-front = Portada
app-to-files = Ajustes y archivos
app-failed = Algo salió mal
app-failed-kept = Lo guardado en este teléfono sigue ahí.
app-refused = El servidor no lo aceptó ({ $status }).
app-updated-elsewhere = Twentymile se actualizó en otra ventana. Cargue esta página otra vez.
app-no-room = En este teléfono ya no hay lugar para Twentymile. No se perdió nada de lo guardado. Guarde todo en un archivo en Ajustes, o libere espacio, y pruebe otra vez.
app-saved = Guardado en este teléfono.
app-notice-keeps-nothing = Este navegador no guarda nada, como en una ventana privada. Nada dura cuando se cierra la app, y lo guardado antes no se muestra. Termine, y mande o guarde un archivo, antes de cerrarla.
app-notice-no-https = Esta dirección no tiene https, así que la app necesita la red cada vez que empieza. Sus respuestas sí se guardan en este teléfono.
app-notice-update = Hay una versión nueva.
app-update = Actualizar
app-update-held = Hay una revisión abierta en otra ventana. Termínela o déjela ahí, y luego inténtelo otra vez.
app-or = { " o " }
app-before-2000 = { $code }, antes de 2000
app-cautions = Primero cuídese usted
app-found = Se encontró
app-found-then = Cuando lo peor esté arreglado: { $do }
app-working-and-source = Cuenta y fuente
app-source = Fuente: { $source } ({ $standing }).
app-cannot-tell = Todavía no se sabe
app-open = Sin descartar todavía: { $count }
    .help = Falta una respuesta. Esto todavía puede ser cierto.
app-vague = Muy aproximado para decirlo: { $count }
    .help = Todo está respondido, pero no con bastante precisión. Una medida más exacta lo decide.
app-usual = Nada fuera de lo usual, sin aclarar: { $count }
app-would-settle = Para saberlo: { $questions }
# A doubt that has no words of its own; and one that hangs on a question left open, named after it.
app-doubt = Podría ser: { $what }. Para saberlo: mire o mida otra vez, más de cerca.
app-doubt-open = Podría ser: { $what }.
app-trailer = Remolque
app-plan-mark = { $place }: { $level }.
app-plan-marked = Plano del remolque. { $marks }
app-plan = { $axles ->
    [one] Plano del remolque con { $axles } eje. Usted está en: { $place }.
   *[other] Plano del remolque con { $axles } ejes. Usted está en: { $place }.
}
app-back = Atrás
app-under = menos de { $to }
app-over = más de { $from }
app-from-to = { $from } a { $to }
app-end-any = sin límite
app-end-none = sin límite
app-next = Siguiente
app-pad-number = Número
app-pad-unit = Unidad { $unit }, cambiar a { $other }
app-pad-rough = Respuestas aproximadas
app-pad-again = Otra vez { $answer }
app-pad-delete = Borrar
app-pad-sign = Más o menos
app-pad-point = Punto
app-pad-empty = Escriba un número, o toque No sé.
app-pad-no-number = “{ $text }” no es un número. Use solo dígitos, como 12.
app-pad-outside = { $given } no puede ser aquí. Debe ser de { $range }. Revise el número y la unidad.
app-sidewall-date = Código de fecha
app-sidewall-three = Solo tres dígitos
app-sidewall-is-three = Son tres dígitos. Si solo hay tres, toque “Solo tres dígitos”: esa llanta es de antes de 2000.
app-sidewall-digits = { $wanted ->
    [3] El código tiene tres dígitos, no { $count }: semana y luego año, como 2523.
   *[other] El código tiene cuatro dígitos, no { $count }: semana y luego año, como 2523.
}
app-sidewall-week-year = semana, año
app-sidewall-unreadable = No se puede leer
app-sidewall-size = Medida de la llanta
app-sidewall-size-example = como ST205/75R15
app-sidewall-size-empty = Escriba la medida como está en la llanta, o toque No se puede leer.
app-photos = Fotos
app-photos-here = Fotos de esto
app-add-photo = Agregar una foto
app-name = Twentymile
app-what = Revisiones para un remolque ligero: antes de salir y a las veinte millas.
app-ready = Ya funciona sin señal.
app-trailers = Remolques
app-history = Historial
app-settings = Ajustes
app-unsent = { $count }. Todo está guardado en este teléfono.
app-unsent-count = Sin mandar: { $count }
app-refusal = El servidor no aceptó una: { $message }
app-look-at-it = Mirarla
app-send-now = Mandar ahora
app-more-unfinished = { $count } más sin terminar
app-go-on = Seguir: { $name }
app-to-go = faltan { $count }
app-all-asked = Todo preguntado, sin guardar
app-answers = { $count ->
    [one] { $count } respuesta
   *[other] { $count } respuestas
}
app-no-trailer = Ninguno
app-which-trailer = ¿Qué remolque?
app-history-empty = Todavía no hay nada guardado. Cada revisión que guarde queda aquí, con su resultado.
app-history-file = Guardar o traer un archivo
app-worked-out = Calculado
app-not-yet-sent = sin mandar
app-check-gone = Esta revisión ya no está en este teléfono.
app-check-answers = Repase sus respuestas
app-answers-open = Sin responder: { $count }. Puede seguir de todos modos: lo que falta nunca cuenta como bueno.
app-answers-aside = Las reglas se actualizaron desde que empezó. Estas respuestas ya no sirven y no cuentan: { $count }.
app-answers-known = Ya se sabe del remolque: { $count }
app-throw-away-check = Tirar esta revisión
app-throw-away = Tirar
app-sure-throw-away = ¿Tirar esta revisión? Sus respuestas se van para siempre.
app-sure-keep-stop = Dice Deténgase ya y por eso no se tira: { $what }. Guárdela y después diga cómo terminó.
app-sure-take-back = Usted dijo: { $what }. Eso es { $level }. Deshágalo solo si lo tocó por error o si ya está corregido.
app-save-trailer = Guardar el remolque
app-see-verdict = Ver el resultado
app-skipped = Saltada
app-not-sure-of = No se sabe: { $names }
app-glanced-of = Solo una mirada: { $names }
app-none = Nada de esto
app-not-answered = Sin responder
app-change = Cambiar
app-change-of = Cambiar: { $name }
app-answer = Responder
app-tap-every = Toque cada falla que haya.
app-tap-what = Toque todo lo que tenga.
app-see-rest = { $count } más por mirar
app-no-fault = Ninguna falla marcada
app-count = { $at } de { $all }
app-skip = Saltar esto
app-pick = Elija una
app-pick-none = Elija una de la lista, o toque No sé.
app-rest-unsure = Del resto no sé
app-only-these = Solo esto
app-none-of = Nada de esto { $count }
app-go-on-asking = Seguir preguntando
app-answers-link = Respuestas
app-keep-and-send = Guardar y mandar
app-no-check = Esta revisión no está en este teléfono.
app-no-rulebook = Las reglas con que se juzgó esta revisión no están en este teléfono.
app-judged-by = Juzgada con las reglas
app-record = Registro
app-check-again = Calcularlo otra vez para este remolque
app-else-due = Qué más toca
app-save-this-trailer = Guardar este remolque
app-held = Solo dura hasta que se cierre la app. Sin mandar: mándela o guarde un archivo antes.
app-held-sent = Mandada. Este teléfono pierde su copia al cerrar la app.
app-unreadable = Esta versión no puede mostrarla: viene de una versión más nueva, o su forma está mal. Sigue en este teléfono y en el archivo de todo. Actualice la app y mire otra vez.
app-unreadable-count = { $count ->
    [one] 1 registro de aquí no se puede mostrar.
   *[other] { $count } registros de aquí no se pueden mostrar.
}
app-unreadable-draft = Esta versión no puede mostrar una revisión sin terminar que está aquí. Sigue en este teléfono y en el archivo de todo.
app-sent = Guardada en este teléfono y mandada.
app-saved-refused = Guardada en este teléfono. El servidor no la aceptó: { $message }
app-saved-unsent = Guardada en este teléfono. Sin mandar: se va sola cuando haya señal.
app-call = Llamar a { $name }
app-no-readiness = No hay número de preparación junto a lo que impide seguir: una falla pesa más que todo lo bueno.
app-readiness = Preparación { $range } de 100
    .help = Sirve para comparar este remolque consigo mismo. Extremo bajo: todo lo que falta está mal. Extremo alto: todo está bien.
app-readiness-before = La vez anterior: { $range }.
app-readiness-plot = Preparación de las últimas { $count } revisiones, la más nueva al final
app-verdict-looked = { $count ->
    [one] { $count } mirada
   *[other] { $count } miradas
}
app-verdict-glanced = { $count } de un vistazo
app-verdict-unsure = { $count } no se sabe
app-verdict-open = { $count } sin responder
app-verdict-glances = { $count ->
    [one] De un vistazo, sin mirar bien: 1 cosa.
   *[other] De un vistazo, sin mirar bien: { $count } cosas.
  }
app-verdict-stop = Qué hacer ahora, paso por paso
app-verdict-left = Lo que no se miró esta vez
app-verdict-last = La última vez fue el { $day }
app-verdict-never = Nunca, en este teléfono
app-verdict-partly = Solo en parte esta vez
app-home-stop = No lo remolque hasta que esto quede reparado.
app-home-look = Vaya a mirar más de cerca antes de remolcar.
app-home-nothing = No se encontró nada en lo que miró. Pare al llegar a unas veinte millas y sienta las mazas.
app-share = Pasarlo a alguien
app-share-text = Como texto
app-share-picture = Como imagen
app-share-print = Imprimir
app-share-copied = Copiado. Péguelo donde quiera.
app-share-by-hand = No se copió. Mantenga presionado el texto para copiarlo.
app-share-filed = La imagen quedó en sus descargas.
app-details = Detalles
app-check-same = Revisar este remolque otra vez
app-could-be = podría ser
app-check-next = Qué revisar ahora
app-more = { $count } más
app-the-answers = Las respuestas
app-trailers-empty = Todavía no hay remolques guardados. Uno guardado conserva sus números y el historial de sus ruedas, para preguntarle menos.
app-add-trailer = Agregar un remolque
app-trailer-name = ¿Cómo le dice usted?
app-trailer-rename = Cambiar el nombre
app-trailer-copy = Copiar
app-trailer-side = { $name }, visto desde su lado izquierdo
app-trailer-second = { $name }, segundo
app-trailer-is-away = Este remolque está retirado: no se ofrece para revisiones. Su historial queda.
app-trailer-bring-back = Traerlo de vuelta
app-trailers-away = Retirados: { $count }
app-trailer-unnamed = Póngale un nombre con que lo reconozca, como “remolque del bote verde”.
app-trailer-go-on = Seguir
app-no-such-trailer = Este remolque no está en este teléfono.
app-last-check = Última revisión
app-not-checked-yet = Todavía sin revisar.
app-bench-here = Registro de taller: baleros hechos aquí
app-change-numbers = Cambiar sus números
app-retire = Retirar
app-use-next = Usar en la próxima revisión
app-its-numbers = Sus números
app-not-known = No se sabe
app-wheel-history = Historial, rueda por rueda
app-sure-retire = ¿Retirar { $name }? Ya no se ofrece para revisiones. Su historial queda, y se puede traer de vuelta.
app-take-off = Retirar
app-try-again = Probar otra vez
app-blocked = Cierre las otras ventanas
    .help = Twentymile se actualizó, pero otra pestaña o ventana usa todavía la versión anterior. Ciérrela: la app sigue sola. Lo guardado en este teléfono sigue ahí.

# These stand in the page itself and in what the system is told of the app.
app-description = Revisiones de remolques que juzgan lo que usted ve, siente y mide. Funciona sin señal.
app-starting = Twentymile está empezando…
app-needs-script = Twentymile juzga sus respuestas en este teléfono, así que necesita JavaScript. Enciéndalo para esta dirección.
app-not-started = Twentymile no pudo empezar
    .help = Revise la conexión y cargue la página otra vez. Lo guardado en este teléfono sigue ahí.

# What a phone's own list of apps shows before it is installed.
manifest-stop-now = Una rueda que echa humo: qué hacer ya, paso a paso
manifest-walk = La vuelta al remolque, sobre un dibujo de él
manifest-verdict = Lo que se encontró, con la rueda y qué hacer
