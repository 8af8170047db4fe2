# The stop, hands first, and the page of a Stop now.

app-stop-before = Primero mire, escuche y huela. ¿Hay algo de esto?
app-stop-nothing = Nada de esto
app-stop-nothing-else = Nada más
app-stop-which-wheel = ¿Qué rueda?
app-stop-wheel-first = Toque la rueda y luego lo que hay.
app-stop-more-axles = Tiene un eje más
app-stop-trailer = Este remolque
app-stop-hubs = { $axles ->
    [1] ¿Qué tan calientes están las mazas?
   *[other] Eje { $axle }: ¿qué tan calientes están las mazas?
}
app-stop-hubs-help = Acerque el dorso de la mano al cuerpo de la maza, en un lado del remolque y luego en el otro. Toque solo lo que desde ahí no se siente caliente.
app-stop-do-not-touch = Aléjese de esta rueda. No la toque.
app-stop-thermometer = Tengo termómetro
app-stop-elsewhere = Se tocó en otra parte
app-stop-barrel = ¿Dónde está el cuerpo?
app-stop-run = El viaje hasta aquí
app-stop-by-time = Sé el tiempo, no la distancia
app-stop-exact = Cifra exacta
app-stop-unsaved = Seguir sin guardar
app-stop-more = Seguir: tuercas, llantas, carga, pestillo

app-stop-now-headline = { $where }: { $title }.
app-stop-now-unplaced = { $sign } en una rueda; no se ha dicho en cuál
app-stop-now-done = Hecho, siguiente paso ({ $n } de { $all })
app-stop-now-tell = Dígales esto
app-stop-now-where = Carretera, dirección, milla
app-stop-now-locate = Agregar mi posición
app-stop-now-share = Compartir o copiar
app-stop-now-card = Remolque detenido: { $trailer }.
app-stop-now-a-trailer = sin nombre
app-stop-now-at = En: { $place }
app-card-hub_size = Diámetro interior del balero interior
app-card-tire_size = Medida de las llantas
app-card-brakes = Frenos
app-card-axles = Ejes
app-card-bearing_numbers = Números de los baleros
app-card-seal_numbers = Retén de grasa
app-card-grease_kind = Grasa
app-stop-now-call-own = Llamar a mi número de ayuda
app-stop-now-no-number = Este teléfono no guarda ningún número para llamar.
app-stop-now-ended = ¿Cómo terminó?
app-stop-now-mended = Se reparó
app-stop-now-towed = Se lo llevó la grúa
app-stop-now-wrong = Fue un error
app-stop-now-go-on = Seguir con la revisión

app-stop-later = Luego
app-stop-so-far = Hasta ahora: { $level }. Ver por qué.
app-stop-verdict = Ver el resultado
app-stop-undecided = { $trailer }, { $day }

# On a link: what is open on the trailer, and who borrows it.
app-link-open = Sin decidir desde el { $day }. No lo remolque hasta que el taller decida.
app-link-you = ¿Quién lo lleva prestado?
app-link-you-why = Para que le llamen a usted y no a quien es dueño. Va con las revisiones que mande y se borra con ellas.
app-link-back = Ya lo traje de vuelta
app-link-back-told = Usted dijo { $time } que ya está de vuelta. Con señal, quien lo presta lo sabe enseguida.
app-link-your-name = Su nombre
app-link-your-phone = Su número
app-link-walk = Dé una vuelta alrededor antes de salir

# What a check found, where a run or a link tells of it.
app-run-found = Encontrado el { $day }.
app-run-found-read = Leer esta revisión
app-run-what-now = Qué hacer ahora

# What was done before something counts as mended.
app-mended-what = ¿Qué se hizo, y quién?
app-mended-done = Qué se reparó o se cambió
app-mended-self = Yo
app-mended-mechanic = Un mecánico
app-mended-other = Otra persona
app-mended-not = Todavía no está reparado: volver
app-mended-undecided = { $shop } lo decide por su cuenta. Ahí sigue sin decidir hasta que el taller decida; hasta entonces no lo remolque.
app-mended-said = { $found }. Usted dijo: { $answer }.
app-mended-undo = Deshacer esa respuesta
app-beside = Sigue abierto en este remolque
    .help = No siga antes de que alguien diga cómo terminó.
app-stop-now-unlocated = No se sabe dónde está este teléfono. Escriba la carretera.
app-stop-now-copied = Copiado.
app-stop-now-uncopied = No se copió. Mantenga presionado el texto de arriba o léalo.
app-settings-help = Número para pedir ayuda
app-settings-help-wrong = Escriba el número como lo marcaría.
app-mended-each = ¿Qué quedó resuelto?
    .help = Marque cada cosa. Mientras falte una, todo sigue abierto.
app-towed-all = Con la grúa termina todo esto en este teléfono: { $what }.
app-mended-left = Sigue abierto: { $what }.
