### The command line, `python -m checks`.

cli-about = Juzga respuestas sobre un remolque, muestra cómo sale una cifra y lista las reglas.
cli-judge = resultado de un archivo de respuestas, como JSON
cli-file = JSON con check, date y facts; - para la entrada estándar
cli-explain = la cuenta de una cantidad, paso por paso
cli-quantity = su id, con @lugar para un eje o una rueda
cli-list = datos, cantidades, límites y lo que se puede encontrar, como JSON
cli-command = ORDEN
cli-at = { $label } en { $place }
cli-from-to = de { $low } a { $high }
cli-language = en qué idioma responde; si no, el de la terminal
cli-code = CÓDIGO
cli-metrics-answers = Tiempo de una petición a su respuesta, en segundos

### Everything into another server, `python -m webapp.commands.move`.

cli-move-out = escribe todo en un archivo nuevo
cli-move-in = mete un archivo así, en un servidor que todavía no tiene nada
cli-move-shop = solo lo de este taller; su gente necesita luego contraseñas nuevas
cli-move-no-shop = No hay ningún taller que se llame { $name }.
cli-move-there = { $file } ya existe: dé el nombre de un archivo nuevo.
cli-move-missing = Aquí falta el archivo de la foto { $photo }, así que no puede ir.
cli-move-written = { $rows } filas y { $photos } fotos están en { $file }.
cli-move-taken = Se metieron { $rows } filas y { $photos } fotos de { $file }.
cli-whole-no-export = Este archivo no lo escribió Twentymile. No se metió nada.
cli-whole-damaged = El archivo está dañado ({ $what }). No se metió nada: cópielo o escríbalo otra vez.
cli-whole-newer = El archivo lo escribió una versión más nueva. No se metió nada: actualice primero este servidor.
cli-whole-older = El archivo lo escribió una versión anterior. No se metió nada: actualice el servidor de donde viene y escríbalo otra vez.
cli-whole-not-empty = Este servidor ya tiene talleres o registros propios. No se metió nada: empiece con una carpeta de datos o base de datos vacía. Dos servidores no se pueden juntar.
