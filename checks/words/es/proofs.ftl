# What is counted on a walk because nobody can guess it.

point-nuts_counted = Tuercas de rueda, contadas

fact-chains_hooked = Cadenas de seguridad enganchadas: ¿cuántas cuenta?
    .choice-none = Ninguna
    .choice-one = Una
    .choice-two = Dos
fact-nut_count = Tuercas apretadas en esta rueda: ¿cuántas cuenta?
fact-lamps_lit = Luces encendidas: ¿cuántas luces rojas alumbran atrás?
fact-ties_counted = Correas y cadenas sobre la carga: ¿cuántas cuenta?

finding-chains_too_few = Hay menos de dos cadenas de seguridad enganchadas
    .do = No lo remolque. Ponga y enganche las dos cadenas.
    .why = Si el acoplador se suelta, solo quedan las cadenas. Una sola deja caer y bambolear la lanza.
finding-nuts_fewer = Menos tuercas de rueda que en el otro lado
    .do = No lo remolque hasta hallar o poner la tuerca que falta, y apretar todas al dato del fabricante.
    .why = Las dos ruedas de un eje llevan los mismos birlos. Una tuerca que falta carga a las de al lado hasta que la siguen.
finding-lamps_too_few = Menos de dos luces rojas alumbran atrás
    .do = Repare las luces traseras antes de remolcar. Una luz apagada se ve muy tarde.
    .why = Un remolque necesita una luz roja de cada lado atrás, para que se vea su ancho.
