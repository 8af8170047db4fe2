### What the shop's pages say.

shop-nav-account = Cuenta
shop-account-login = Usted entra como { $login }.
shop-staff-title = Quién es del taller
shop-details-title = Lo que los clientes ven del taller
shop-settings = Ajustes del taller
shop-settings-own = Para ustedes
shop-settings-mail = Noticias por correo
shop-settings-mail-help = { level-stop } siempre se manda a la dirección de arriba, y también aquello con lo que todavía no se debe seguir manejando. Lo demás va junto: a lo más un correo por hora de { level-mend }, y uno al día de lo atrasado.
shop-settings-mail-none = Quien opera este servidor no puso servidor de correo: no se manda nada hasta que lo haga.
shop-backup-made = { $days ->
    [0] Última copia de respaldo de este servidor: hoy, { $time }
    [one] Última copia de respaldo de este servidor: { $day }, { $time }, ayer.
   *[other] Última copia de respaldo de este servidor: { $day }, { $time }, hace { $days } días.
}
shop-backup-never = No se conoce ninguna copia de respaldo de este servidor.
shop-backup-late = Pida una a quien lo opera: lo que se pierda aquí no lo tiene nadie más.
shop-password-title = Cambie su contraseña
shop-password-help = Diez letras o más. Los demás aparatos salen de la cuenta.
shop-password-change = Cambiar la contraseña
shop-sign-out = Salir
shop-sign-out-here = Salir aquí
shop-sign-out-everywhere = Salir en todas partes
shop-sign-out-help = En todas partes: si perdió un teléfono. Termina la sesión en cada aparato, también en este.
shop-sessions = Dónde tiene sesión abierta
shop-session-unnamed = Un navegador que no da nombre
shop-session-since = entró el { $made }, usada por última vez cerca del { $seen }
shop-session-this = aquí
shop-session-end = Terminar esta sesión
shop-session-ended = Esa sesión terminó.
shop-nav = Taller
shop-nav-inbox = Bandeja
shop-nav-jobs = Trabajos
shop-nav-trailers = Remolques
shop-nav-customers = Clientes
shop-check-no-trailer = Sin remolque
shop-check-nothing = Nada en lo que se respondió.
shop-call-number = Llamar al { $phone }
shop-check-phone-said = El teléfono dijo
shop-check-server-says = El servidor dice
shop-check-beside = Tampoco está decidido en este remolque
shop-check-now = Con las reglas de hoy:
shop-check-differ = El cliente vio el resultado del teléfono.
shop-check-other-rules = El teléfono juzgó con otra versión de las reglas.
shop-check-same-rules = Los dos usaron las mismas reglas: repórtelo como una falla.
shop-check-readiness = Preparación { $low } a { $high } de 100.
shop-check-coverage = Preguntas respondidas: { $answered } de { $asked }.
shop-check-phone-found = Lo que encontró el teléfono
shop-check-found = Lo que se encontró
shop-check-server-finds = Lo que encuentra el servidor
shop-check-doubts = No se pudo decir:
shop-check-notes = Lo que dice el taller
shop-note-decided = decidido
shop-note-to-customer = Para el cliente:
shop-note-help = Qué se decidió y para cuándo.
shop-note-reply-help = Se muestra en el teléfono del cliente la próxima vez que abra ahí el enlace.
shop-keep = Guardar
shop-check-open-again = Regresarla a la bandeja
shop-check-photos = Fotos
shop-check-answered = Lo que se respondió
shop-check-working = Cómo salieron los números
shop-check-working-help = No se muestran los números que dependen de una respuesta que falta.
shop-check-proof = Prueba
shop-check-record = Registro
shop-check-received = Recibido
shop-check-hash = SHA-256
shop-check-rules-phone = Reglas en el teléfono
shop-check-rules-server = Reglas en el servidor
shop-check-pdf = PDF para guardar o mandar
shop-check-file = El expediente del remolque
shop-none = Nada.
shop-change = Cambiar
shop-save = Guardar
shop-customer-delete = Borrar este cliente y todo lo suyo
shop-customers-none = Todavía nadie. Un cliente se agrega con el primer trabajo.
shop-decided-title = Lo que se decidió
shop-decided-none = Todavía nada. Una revisión queda decidida cuando alguien escribe en ella qué se decidió.
shop-next = Siguiente
shop-back-to-inbox = A la bandeja
shop-details-phone-help = Se muestra junto a cada resultado, para que una mala noticia quede a una llamada.
shop-details-email-help = Ahí se avisa de un { level-stop }. Los clientes no la ven.
shop-files-title = Entra y sale
shop-files-calendar = Calendario
shop-files-calendar-help = Lo que toca, como dirección que su programa de calendario lee solo.
shop-files-copy = Quien la tenga puede leer lo que toca, así que no la dé a nadie.
shop-files-hidden = Hay una dirección. No se puede mostrar otra vez, porque la clave del servidor cambió desde entonces. Una nueva la deja sin uso.
shop-files-again = Hacer una dirección nueva
shop-files-make = Hacer la dirección
shop-files-stop = Parar el calendario
shop-files-tables = Tablas
shop-files-tables-help = En CSV para una hoja de cálculo, en las unidades y con los relojes del taller.
shop-files-whole = Todo
shop-files-whole-help = Todas las filas y fotos del taller en un archivo, para otro servidor: lo recibe quien lo opera. Las contraseñas no van, así que allá cada quien recibe una nueva. Cuide el archivo como los nombres de clientes que lleva.
shop-files-whole-get = Escribir el archivo
shop-table-checks = Revisiones
shop-table-trailers = Remolques
shop-table-customers = Clientes
shop-table-jobs = Trabajos
shop-table-links = Enlaces
shop-table-notes = Notas
shop-table-photos = Fotos
shop-table-due = Revisiones que tocan
shop-forget-title = ¿Borrar { $name }?
shop-forget-goes = Esto no se puede deshacer. Se va:
shop-forget-name = nombre, teléfono y correo de { $name }
shop-forget-trailer = { $trailer }, con sus trabajos, enlaces y revisiones que tocan
shop-forget-checks = cada revisión, foto, nota y respuesta que mandaron o que se les escribió
shop-forget-undecided = Nadie ha decidido estas. Se irían con lo demás y aquí ya nada lo diría: decídalas antes y avise a quien tiene el remolque.
shop-forget-anyway = Pueden irse; quien tiene el remolque sabe lo que se encontró
shop-forget-stays = Lo que está en sus propios teléfonos es de ellos. Las tablas y hojas que usted ya sacó le toca borrarlas. Los respaldos lo conservan hasta que se sobrescriben.
shop-forget-all = Borrar todo eso
shop-forget-keep = Conservar { $name }
shop-history-title = Expediente de { $trailer }
shop-history-hubs = Mazas sobre el aire, en { $unit }
shop-history-bar = Cada barra va de lo menos a lo más que pudo tener la maza, según la respuesta.
shop-checks-none = Todavía no ha llegado ninguna.
shop-older = Anteriores
shop-inbox-decide = Decidir ahora
shop-inbox-overdue = Atrasadas
shop-inbox-overdue-all = Todos los remolques con una revisión atrasada
shop-inbox-idle = Abiertas, sin hacer
shop-inbox-idle-count = { $count ->
    [one] { $count } revisión
   *[other] { $count } revisiones
}
shop-inbox-idle-trailers = { $count ->
    [one] { $count } remolque tiene tiempo todavía
   *[other] { $count } remolques tienen tiempo todavía
}
shop-inbox-back = Volvieron
shop-call = Llamar
shop-due-at = a las { $distance }
shop-due-by = a más tardar el { $day }
shop-due-driven = Ya anduvo { $distance }
shop-due-unopened = Enlace sin abrir
shop-inbox-empty = Todavía no vuelve nada. Termine un trabajo y mande su enlace: aquí llega lo que encuentre el cliente.
shop-inbox-nothing-else = Nada más.
shop-inbox-top = Volver arriba
shop-job-of = Trabajo: { $trailer }
shop-job-finished = terminado el { $day }
shop-job-open = abierto desde el { $day }
shop-job-go-on = Seguir con este trabajo
shop-job-give = Dé al cliente este enlace
shop-link-qr = Código QR del enlace del cliente
shop-job-give-help = Que apunte al código la cámara de su teléfono, o mándeselo:
shop-job-text = Mandar como mensaje de texto
shop-job-mail = Mandar por correo
shop-job-copy = Para copiar
shop-job-sheet = Hoja para imprimir
shop-link-shown = Muéstrelo, mándelo e imprímalo otra vez cuando quiera, en cualquiera de sus aparatos. Funciona hasta el { $day }.
shop-link-made = El enlace del cliente se hizo el { $day }: { $state }, funciona hasta el { $end }. No se puede mostrar otra vez, porque la clave del servidor cambió desde entonces.
shop-link-state-sent = sin abrir
shop-link-state-opened = abierto
shop-link-state-ended = terminado
shop-link-state-revoked = retirado
shop-link-state-replaced = reemplazado por uno más nuevo
shop-undecided = Sin decidir todavía
shop-held = No siga manejando antes de aclarar esto.
shop-open-more = y { $count } más
shop-text-found = Lo que se encontró: { $found }.
shop-inbox-tray = Llegó por un enlace retirado
shop-inbox-tray-help = Mírela de todos modos y decida. No cambia cómo está el remolque.
shop-job-sheet-bare = Hoja para imprimir, sin el código
shop-link-none = No hay enlace que funcione.
shop-link-renew = Hacer un enlace nuevo
shop-link-ends-old = Un enlace nuevo anula el que se mandó o se imprimió: mándelo otra vez.
shop-link-revoke = Retirar el enlace
shop-job-due = Revisiones que deben volver
shop-job-done = Lo que se hizo
shop-job-bench = Registro de taller
shop-job-bench-whole = El registro entero
shop-job-bare = El registro de taller de este trabajo está vacío: después nadie podrá ver cómo estaban el pasador, las tuercas y el juego.
shop-job-trailer = El remolque
shop-job-new = Trabajo nuevo
shop-trailer-facts = Cómo es
shop-trailer-new = Un remolque nuevo
shop-jobs-none = Todavía ninguno. Un trabajo termina con un enlace para el cliente: le dice cuándo parar y qué mirar, y le manda a usted lo que se encontró.
shop-check-both-differ = El teléfono y el servidor no coinciden
shop-due-done = hecha
shop-due-unanswered = volvió con preguntas sin responder
shop-due-none = No toca nada.
shop-reword = Cambiar lo que se dijo
shop-back-to-check = A la revisión
shop-back-to-job = Al trabajo
shop-sign-in = Entrar
shop-sign-in-title = Entre a su taller
shop-sign-in-help = ¿Sin cuenta todavía? Quien opera este servidor hace la primera, y esa agrega las demás. Revisar su propio remolque no pide cuenta:
shop-open-app = abrir la app
shop-account-app = Portada de la app
shop-staff-you = usted
shop-staff-remove = Quitar a { $name }
shop-staff-add-title = Agregar a alguien
shop-staff-password-help = Diez letras o más. Que la escriba esa persona, o que la cambie después.
shop-staff-add = Agregar
shop-due = Toca
shop-back-to-trailer = Al remolque
shop-trailer-desk = Hoja para el mostrador de préstamo
shop-trailer-file = Expediente de los años
shop-history-drags = Cada maza contra la del otro lado
shop-history-pdf = Gráficas en PDF
shop-history-level = No se ve subida constante
shop-history-climb = Sube de parada en parada, { $low } a { $high } N·m cada vez. Mire esta maza antes del próximo viaje.
shop-run-left = Todavía toca: { $what }
shop-run-ahead = No se llegó: { $what }
shop-due-drop = Quitar
shop-job-is-finished = terminado
shop-job-is-open = abierto
shop-link-desk = Para el mostrador
shop-link-job = De un trabajo
shop-link-ends = termina el { $day }
shop-link-take-back = Retirar
shop-trailers-none = Todavía ninguno. Un remolque se agrega con su primer trabajo, o aquí.
shop-trailer-add = Agregar un remolque
shop-note-kept = Guardado.
shop-note-kept-reply = Guardado. El cliente ve la respuesta la próxima vez que mire.
shop-note-still-open = Todavía no está decidido: queda en la bandeja hasta que alguien lo marque en esta página.
shop-sign-in-wrong = El nombre de entrada y la contraseña no coinciden.
shop-code-title = Su código de un solo uso
shop-code-help = Seis dígitos de la app que hace sus códigos.
shop-code-lost = ¿Perdió el teléfono? Quien opera este servidor puede apagar sus códigos.
shop-code-back = Entrar con otro nombre
shop-code-wrong = Ese código no coincide, o ya se usó. Espere el siguiente. Si tampoco sirve, ponga a tiempo el reloj del teléfono.
shop-codes-title = Códigos de un solo uso
shop-codes-what = Con códigos, para entrar hacen falta su contraseña y seis dígitos de una app de su teléfono. Así una contraseña robada no abre nada.
shop-codes-scan = Escanee esto con una app que haga códigos de un solo uso (cualquiera con TOTP).
shop-codes-qr = Código QR del secreto para su app
shop-codes-type = O escríbale este secreto:
shop-codes-prove = Escriba los seis dígitos que muestra ahora.
shop-codes-begin = Encender los códigos
shop-codes-on = Los códigos están encendidos: la próxima vez se pide uno para entrar.
shop-codes-are-on = Los códigos están encendidos. Para apagarlos hace falta su contraseña.
shop-codes-end = Apagar los códigos
shop-codes-off = Los códigos están apagados: para entrar basta su contraseña.
shop-sign-in-wait = Demasiados intentos. Espere { $minutes } min y pruebe otra vez.
shop-password-changed = La contraseña cambió, y los demás aparatos salieron de la cuenta.
shop-password-wrong = Esta no es la contraseña que usa ahora.
shop-signed-out = Todos los aparatos salieron de la cuenta.
shop-saved = Guardado.
shop-login-taken = Ese nombre de entrada ya tiene dueño: elija otro.
shop-staff-added = { $name } puede entrar como { $login }.
shop-staff-gone = { $name } ya no puede entrar.
shop-customer-deleted = Se borró { $name }, con todo lo suyo.
shop-link-no-more = El enlace ya no funciona.
shop-due-dropped = Ya no toca.
shop-job-kept = Guardado. El trabajo sigue abierto.
shop-history-told = { $count ->
    [one] { $count } lectura, { $low } a { $high } { $unit } sobre el aire
   *[other] { $count } lecturas, la última { $low } a { $high } { $unit } sobre el aire
}
shop-table-yes = sí
shop-answer-or = o
shop-answer-to = a

shop-check-by = Hecha por { $name }, que tomó prestado el remolque

shop-find = Buscar
shop-find-label = Nombre, teléfono, placa u orden
shop-find-help = Basta el principio de las palabras; de un teléfono, sus últimos dígitos. Los trabajos se encuentran también por lo que se hizo, como balero o llanta.
shop-find-nothing = No se encuentra nada con { $text }.
shop-find-more = Hay más que coincide: agregue una palabra o un dígito.
# By which words a shop finds jobs on these, beside the name of the work itself.
shop-find-work-bearings = maza, masa, cubo, bufa, balero, rodamiento, balinera, cojinete, rulemán, grasa, engrase, taza, retén, retenedor, sello, mango
shop-find-work-wheels = rueda, tuerca, birlo, espárrago, perno, rin, aro
shop-find-work-brakes = freno, tambor, zapata, balata, disco, pastilla, imán
shop-find-work-tires = llanta, neumático, goma, caucho, cubierta, parche, refacción, repuesto
shop-find-work-lamps = cable, cableado, luz, luces, foco, bombilla, enchufe, conector, calavera
shop-find-work-coupling = acoplador, cople, enganche, tirón, lanza, lengua, timón, bola, cadena, gato, gata
shop-find-work-body = chasis, bastidor, piso, muelle, resorte, eje, salpicadera, guardabarros, soldadura
shop-find-customer = Buscar por nombre o teléfono
shop-list-show = Qué remolques
shop-list-show-all = Todos los remolques
shop-list-show-stop = Los que hay que detener
shop-list-show-mend = Los que hay que reparar
shop-list-show-look = Los que hay que revisar otra vez
shop-list-show-overdue = Atrasados
shop-list-sort = En qué orden
shop-list-sort-recent = Último trabajo
shop-list-sort-name = Por nombre
shop-list-none = Ninguno de estos.
shop-jobs-open = Abiertos
shop-jobs-finished = Terminados
shop-job-correct = Corregir este trabajo
shop-job-held = { $who } tiene un formulario de este trabajo sin guardar ({ $day }, { $time }).
shop-job-held-open = Abrirlo
shop-deeds = Quién hizo qué
shop-did-added = lo agregó
shop-did-kept = lo dejó abierto
shop-did-finished = lo terminó
shop-did-corrected = lo corrigió
shop-did-changed = lo cambió
shop-did-merged = le juntó otro
shop-did-gone = dijo que es otro
shop-did-parted = los separó otra vez
shop-did-dropped = lo quitó
shop-did-undropped = lo puso otra vez como pendiente
shop-did-revoked = retiró el enlace
shop-did-unrevoked = dio el enlace otra vez
shop-did-removed = quitó a la persona
shop-did-unremoved = dejó entrar otra vez a la persona
shop-did-noted = escribió una nota
shop-did-decided = lo decidió
shop-did-emptied = borró en el banco las respuestas de las que salió
shop-did-reopened = lo regresó a la bandeja
shop-did-reworded = cambió una respuesta
shop-undone = Deshecho.
shop-due-dropped-lately = Quitadas hace poco
shop-undrop = Ponerla otra vez
shop-link-unrevoke = Darlo otra vez
shop-staff-left = Salieron hace poco
shop-staff-unremove = Dejar entrar otra vez a { $name }
shop-merge = Está dos veces en la lista
shop-job-twin = Otro remolque de aquí tiene el nombre y el dueño de { $trailer }, su placa o su VIN. ¿Son el mismo?
shop-merge-title = { $name } está dos veces en la lista: ¿cuál es el otro?
shop-merge-help = Los trabajos, revisiones y enlaces de este pasan al que elija, y este se va. Durante 30 días se puede separar otra vez.
shop-merge-this = Es este
shop-merge-none = Ninguno de estos
shop-merged = Ya son uno.
shop-merged-meanwhile = Entretanto alguien vio que este es { $name }. Lo que escribió no se ha guardado todavía: mire si vale para { $name } y guarde.
shop-part = Separar otra vez: { $name }

### The lending desk.

shop-fleet = Mostrador de préstamo
shop-fleet-out = Fuera desde el { $day }.
shop-fleet-in = Aquí
shop-fleet-told = De vuelta el { $day }: lo dice quien lo tomó prestado.
shop-fleet-last = Última revisión: { $day }.
shop-fleet-never = Todavía sin revisar.
shop-fleet-due = Toca: { $what }
shop-fleet-back = Ya volvió
shop-fleet-goes = Sale
shop-fleet-out-now = Ahora sale
shop-fleet-stays = Algo que se encontró no está decidido. No lo preste antes de que alguien decida.
shop-fleet-meanwhile = Mientras tanto { $trailer } salió con otra persona. No se guardó nada: mire quién lo tiene y luego siga.
shop-fleet-anyway = Sale de todos modos; ya revisé lo que se encontró
shop-fleet-why = Nombre y número son para llamar a quien lo tenga. Se borran de aquí cuando vuelve.
shop-fleet-more = Más
shop-fleet-none = Ningún remolque tiene código de mostrador. Hágalo en la página de un remolque, o aquí para todos los suyos.
shop-fleet-codes = Imprimir todos los códigos
shop-fleet-make = { $count ->
    [one] Hacer un código para 1 remolque suyo
   *[other] Hacer códigos para { $count } remolques suyos
  }

### Recall and season, and texts to send.

shop-recall = Volver a llamar
shop-recall-figures = Baleros cada { $months } meses o { $distance }
shop-recall-figures-help = Sus propias cifras van primero. Vacío: { $months } meses o { $distance }, como lo dice el manual de un fabricante de remolques. Si el fabricante del eje dice menos, eso vale.
shop-recall-repack = Baleros por engrasar
shop-recall-repack-help = Según el último trabajo en mazas aquí, o lo que dijo el dueño; millas según las revisiones, así que por lo menos esas.
shop-recall-tires = Llantas por edad
shop-recall-tires-help = La llanta más vieja de cada remolque, según su revisión más nueva.
shop-recall-stored = Guardados desde
shop-recall-stored-help = Se dejaron para guardar, y no se sabe nada desde entonces.
shop-recall-csv = Como CSV
shop-recall-since = desde el { $day }
shop-recall-unknown = Nadie dijo cuándo
shop-recall-head-trailer = remolque
shop-recall-head-customer = cliente
shop-recall-head-phone = teléfono
shop-recall-head-since = desde
shop-recall-head-driven = recorrido, { $unit }
shop-recall-head-years = años
shop-recall-head-open = sin decidir
shop-send = Mensaje para el cliente
shop-send-sms = Mandar como mensaje
shop-send-share = Compartir
shop-send-copy = Copiar
shop-send-copied = Copiado.
form-repack-months = Meses entre engrasadas
form-repack-miles = Distancia entre engrasadas, en { $unit }
form-repack-odd = Meses de 1 a 60, una distancia de 100 a 100,000, o déjelo vacío.
shop-address-doubtful = Los códigos llevan una dirección que es de esta computadora, o que no tiene https. Otros teléfonos tal vez no llegan, y ahí la app no funciona sin señal. Ponga TWENTYMILE_ADDRESS en la dirección https antes de imprimir.

### What came back after a job.

shop-comebacks-title = Lo que volvió
shop-comebacks-count = { $checks ->
    [one] { $checks } revisión encontró { level-stop } o { level-mend } en los 90 días después de un trabajo.
   *[other] { $checks } revisiones encontraron { level-stop } o { level-mend } en los 90 días después de un trabajo.
} Trabajos mirados: { $jobs }.
shop-comebacks-span = Terminados del { $first } al { $last }.
shop-comebacks-earlier = Trabajos anteriores a estos
shop-comebacks-help = Cuenta lo que se encontró, no de quién es la culpa.
shop-comebacks-checks = Revisiones
shop-comebacks-by-part = Por parte
shop-comebacks-by-wheel = Por rueda
shop-comebacks-by-work = Por trabajo hecho
shop-comebacks-by-season = Por temporada
shop-comebacks-of = { $jobs ->
    [one] { $count } de { $jobs } trabajo
   *[other] { $count } de { $jobs } trabajos
}
shop-season-winter = Diciembre a febrero
shop-season-spring = Marzo a mayo
shop-season-summer = Junio a agosto
shop-season-fall = Septiembre a noviembre

### Customers and trailers from a spreadsheet.

shop-take = Meter una tabla
shop-take-help = Clientes y remolques de una hoja de cálculo. Usted ve qué sale de cada fila antes de guardar nada, y se puede deshacer durante 30 días.
shop-take-kind = ¿Qué trae?
shop-take-kind-trailers = Remolques, con sus clientes
shop-take-kind-customers = Solo clientes
shop-take-file = El archivo
shop-take-file-help = Guardado como CSV, con comas, punto y coma o tabuladores; la primera fila dice las columnas. Hasta 5,000 filas.
shop-take-look = Mirarlo
shop-take-empty-title = Tablas vacías para llenar
shop-take-before = Metidas hace poco
shop-take-is-open = todavía sin meter
shop-take-is-in = metida
shop-take-is-undone = deshecha
shop-take-empty = El archivo está vacío. Elija otro.
shop-take-no-text = Esto no es CSV. Ábralo en su hoja de cálculo, guárdelo como CSV y elija ese archivo.
shop-take-torn = No se distinguen las filas ({ $why }). Guárdelo otra vez como CSV y elija ese archivo.
shop-take-no-column = La primera fila no nombra la columna { $name }. Póngales nombre como en la tabla vacía de abajo.
shop-take-column-twice = Dos columnas se llaman { $name }. Cambie el nombre de una o bórrela.
shop-take-no-rows = No hay filas debajo de los nombres de las columnas.
shop-take-many = Trae { $rows } filas. Pártalo en archivos de { $most } o menos.
shop-take-no-kind = Diga qué trae.
shop-take-no-file = Elija un archivo.
shop-take-counted = Por meter: { $good }. Ya están aquí: { $same }. Por corregir: { $wrong }.
shop-take-nothing-yet = Todavía no se guardó nada.
shop-take-unknown = La columna { $name } no se mete.
shop-take-wrong = Por corregir
shop-take-wrong-help = Estas filas se quedan fuera. Corríjalas en su hoja de cálculo y meta el archivo otra vez: lo que ya está aquí se salta.
shop-take-at = Fila { $row }, { $column }:
shop-take-row = Fila { $row }:
shop-take-more = Y { $count } más.
shop-take-same = Ya están aquí
shop-take-same-help = Estas filas se quedan fuera, a menos que las marque.
shop-take-hinted = Mire dos veces
shop-take-good = Por meter
shop-take-take = Meterlas
shop-take-drop = Tirar este archivo
shop-take-cell-missing = Escriba un nombre.
shop-take-cell-whose = Hay un teléfono o correo sin nombre. Escriba el nombre del cliente.
shop-take-cell-email = Escríbalo como nombre@example.org, o déjelo vacío.
shop-take-cell-choice = Escriba uno de estos: { $choices }.
shop-take-cell-two = Dos clientes se llaman { $name }. Escriba el teléfono del que quiere decir.
shop-take-here = { $name } ya está aquí.
shop-take-above = Igual que la fila { $row }.
shop-take-known = { $name }, que ya está aquí
shop-take-new = { $name }, nuevo
shop-take-namesake = Ya está aquí otro { $name } con otro teléfono.
shop-take-trailer = { $name }
shop-take-trailer-of = { $name } de { $whose }
shop-take-done = Se metió: { $trailers ->
    [one] { $trailers } remolque
   *[other] { $trailers } remolques
}, { $customers ->
    [one] { $customers } cliente
   *[other] { $customers } clientes
}.
shop-take-undo = Deshacer
shop-take-undo-help = Queda lo que desde entonces tiene un trabajo, una revisión o un cambio propio.
shop-take-was-undone = Deshecho el { $day }.
shop-take-kept = { $count ->
    [one] Deshecho, menos { $count } fila que desde entonces tiene algo propio.
   *[other] Deshecho, menos { $count } filas que desde entonces tienen algo propio.
}
shop-did-took_in = lo metió
shop-did-undid = lo deshizo
# What people call the columns, one after the other.
shop-take-called-customer = nombre del cliente, dueño, propietario
shop-take-called-phone = tel, celular, móvil, número de teléfono
shop-take-called-email = correo electrónico, e-mail, mail
shop-take-called-trailer = nombre del remolque, nombre, unidad
shop-take-called-plate = placas, matrícula, número de placa
shop-take-called-vin = serie, número de serie, número vin

# Photos from the bench, at a job
shop-photos = Fotos del taller
shop-photos-help = De la cámara de este teléfono o de sus fotos, hasta { $most } a la vez. No se guarda dónde, cuándo ni con qué se tomaron.
shop-photos-choose = Tomar o elegir fotos
shop-photos-add = Agregarlas
shop-photos-one = Del taller, { $day }
shop-photos-kept = { $count ->
    [one] La foto quedó guardada.
   *[other] { $count } fotos quedaron guardadas.
}
shop-photos-known = Ya están aquí.
shop-photos-none = No eligió ninguna foto. Elija al menos una y agréguela.
shop-photos-at-once = Se toman { $most } a la vez. Las últimas { $left } no quedaron: elíjalas otra vez.
shop-photos-wrong = { $name } no quedó guardada. { $why }
shop-photos-kept-beside = Las otras fotos quedaron guardadas.
shop-photos-small = Haciéndolas más chicas…
shop-photos-offline = Sin señal: todavía no se manda nada. Deje esta página abierta y toque otra vez cuando haya señal.
shop-photos-remove = Quitar esta foto
shop-photos-removed = La foto se quitó. Se puede recuperar durante { $days } días.
shop-photos-removed-lately = Quitadas hace poco
shop-photos-back = Recuperar la foto del { $day }, { $time }
shop-did-photographed = puso una foto
shop-did-unphotographed = quitó una foto
shop-did-rephotographed = recuperó una foto
shop-photos-job = Al trabajo
