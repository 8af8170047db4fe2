### The command line, `python -m checks`.

cli-about = Juzga respuestas sobre un remolque, muestra cómo sale una cifra y lista las reglas.
cli-judge = resultado de un archivo de respuestas, como JSON
cli-file = JSON con check, date y facts; - para la entrada estándar
cli-explain = la cuenta de una cantidad, paso por paso
cli-quantity = su id, con @lugar para un eje o una rueda
cli-list = datos, cantidades, límites y lo que se puede encontrar, como JSON
cli-command = ORDEN
cli-at = { $label } en { $place }
cli-metrics-answers = Tiempo de una petición a su respuesta, en segundos

### Everything into another server, `python -m webapp.commands.move`.

