### The walk, by place.

app-walk-how-far = ¿Hasta dónde llega esta vez?
app-walk-how = Dé una vuelta al remolque, lugar por lugar. Lo que se salte se dice en el resultado.
app-walk-trip = Cada viaje
    .without = No incluye: banda, presiones, desgaste, chasis, luces chicas, nada con gato.
app-walk-month = Una vez al mes
    .without = Agrega manómetro, banda, desgaste y óxido. No incluye: juego en el gato, prueba de levantar, edad de llantas, daños por estar parado.
app-walk-season = Después de estar parado, o una vez por temporada
    .without = Incluye todo lo que pregunta esta app. Pide gato y soportes.
app-walk-last = La última vez: { $day }
app-walk-never = Todavía no se hace con este remolque
app-walk-before = La última vez: { $value }
app-walk-differs = La última vez: { $value }. Mire una vez más y toque Bien otra vez, o cambie la cuenta.
app-walk-hitch = Enganche
app-walk-wheel = Rueda
app-walk-rear = Parte de atrás
app-walk-load = Carga
app-walk-fine = Bien
app-walk-something = Algo
app-walk-lit = Encendida
app-walk-unlit = Apagada
app-walk-answer = Responder
app-walk-change = Cambiar
app-walk-no-more = Nada más aquí
app-walk-none-ticked = No marcó nada. Marque qué es, o diga Bien o No sé.
app-walk-glance = Una mirada: muy rápida para contar
app-walk-all-the-same = Seguir de todos modos
app-walk-zone-ball = Bola, pasador y montaje
app-walk-zone-latch = Pestillo cerrado, gato arriba
app-walk-zone-chains = Cadenas de seguridad
app-walk-zone-plug = Conector y cables
app-walk-zone-breakaway = Cable de separación
app-walk-zone-fluid = Líquido de frenos
app-walk-zone-outside = Llanta, por fuera
app-walk-zone-inside = Llanta, por dentro: arrodíllese y mire
app-walk-zone-nuts = Tuercas y maza
app-walk-zone-spring = Muelle y salpicadera
app-walk-zone-lamps_1 = Luces encendidas: traseras y de placa
app-walk-zone-lamps_2 = Pedal del freno: luces de freno
app-walk-zone-lamps_3 = Direccional izquierda
app-walk-zone-lamps_4 = Direccional derecha
app-walk-zone-lamps_more = Luces chicas, lentes y reflejantes
app-walk-zone-gate = Compuerta, puertas, rampas o bote
app-walk-zone-tied = Amarrado
app-walk-zone-level = Nivelado en el enganche

# What a check came to: how it was looked at.
app-pause = Guardada para más tarde
app-pause-begun = Comenzó: { $time }
app-pause-kept = { $left ->
    [0] Respondidas: { $answered }. No queda nada por preguntar. Todo está en este teléfono; siga desde la portada cuando quiera.
   *[other] Respondidas: { $answered }, por preguntar: { $left }. Todo está en este teléfono; siga desde la portada cuando quiera.
}
app-pause-review = Repasar las respuestas

# What an earlier check was told and seldom changes.
app-still = ¿Sigue como antes?
app-still-tires = ¿Las mismas llantas?
app-still-from = De la revisión del { $day }. Un toque lo confirma todo.
app-still-yes = Sí, todo como antes
app-still-changed = Algo cambió
app-still-felt = Ya contestó de esta parada ({ $time }). Sus mazas ya se enfriaron o calentaron.
app-still-anew = Empezar de nuevo esta parada
