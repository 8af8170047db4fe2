point-bearing_play = Juego axial del balero
point-bench_play = Juego y piezas, medidos

quantity-pin_step = juego axial de una posición del pasador a la otra
    .says = De una posición del pasador a la otra el juego axial cambia { $value }.
quantity-turned_play = juego axial según el giro de la tuerca
    .says = Aflojada así, la tuerca deja { $value } de juego axial.
quantity-rock_lever = movimiento de la orilla por cada unidad de juego axial
quantity-end_play = juego axial
    .says = { $side ->
        [under] El balero lleva una precarga de { $amount }.
        [either] El balero puede llevar hasta { $short } de precarga o tener hasta { $left } de juego axial: no se puede saber.
       *[over] El juego axial es de { $value }.
    }
quantity-edge_play = visto en la orilla de la llanta
    .says = { $side ->
        [under] En la orilla de la llanta no se ve nada.
        [either] En la orilla de la llanta se ve hasta { $left }.
       *[over] En la orilla de la llanta se ven { $value }.
    }

fact-play_how = ¿Qué se sabe?
    .choice-turned = Cuánto se aflojó la tuerca
    .choice-rocked = Cuánto se mueve la orilla
    .choice-dial = La lectura de un indicador
fact-spindle_thread = ¿Rosca de la espiga?
    .choice-t3_4 = 3/4-16
    .choice-t7_8 = 7/8-14
    .choice-t1 = 1-14
    .choice-t1_1_4 = 1-1/4-12
    .choice-t1_1_2 = 1-1/2-12
    .choice-m20 = M20 x 1.5
fact-cross_holes = ¿Agujeros para la chaveta?
    .help = Dos coinciden cada media ranura.
    .choice-one = Uno
    .choice-two = Dos, cruzados
fact-turned_back = Desde apretada con los dedos, ¿cuánto se aflojó la tuerca?
    .help = Una ranura de seis son 60°, un cuarto de vuelta 90° o 1.5 ranuras.
fact-rock_edge = ¿Cuánto se mueve la orilla de la llanta, adentro y afuera?
    .help = En total, contra un bloque fijo.
fact-play_dial = ¿Juego axial en el indicador?
    .help = Empuje y jale la maza derecho.

finding-play_slack = Demasiado juego axial
    .do = Asiente otra vez la tuerca girando la maza y déjela apretada con los dedos. Luego aflójela hasta la ranura, nunca hacia adelante.
    .why = Más de una posición del pasador desde apretada con los dedos, o más de 10 milésimas (0.25 mm) en el indicador, pasa de todo lo publicado.
    .doubt = Podría ser demasiado juego axial. Para saberlo: use un indicador, o cuente las ranuras.
finding-play_disputed = Juego axial donde las fuentes no coinciden
    .do = Use el dato del fabricante. Sin él, una posición del pasador desde apretada con los dedos, cuando mucho.
    .why = TMC RP 618, vehículos pesados: 1 a 5 milésimas. Un manual de remolque ligero: 1 a 10. Datos de autos: 2 cuando mucho. Una ranura con un solo agujero puede ser 10 a 14.
    .doubt = Podría ser más juego del que permiten algunos fabricantes. Para saberlo: use un indicador y busque el dato del fabricante.
finding-play_short = ¿Muy apretado?
    .do = Afloje la tuerca hasta la próxima ranura, si el fabricante no pide precarga.
    .why = Menos de 1 milésima (0.025 mm) no deja espacio a los rodillos calientes.
    .doubt = Podría estar muy apretado. Para saberlo: use un indicador.
finding-bench_slack = Demasiado juego axial
    .do = Asiente otra vez la tuerca girando la maza y déjela apretada con los dedos. Luego aflójela hasta la ranura, nunca hacia adelante.
    .why = Más de una posición del pasador desde apretada con los dedos, o más de 10 milésimas (0.25 mm) en el indicador, pasa de todo lo publicado.
    .doubt = Podría ser demasiado juego axial. Para saberlo: use un indicador, o cuente las ranuras.
finding-bench_disputed = Juego axial donde las fuentes no coinciden
    .do = Use el dato del fabricante. Sin él, una posición del pasador desde apretada con los dedos, cuando mucho.
    .why = TMC RP 618, vehículos pesados: 1 a 5 milésimas. Un manual de remolque ligero: 1 a 10. Datos de autos: 2 cuando mucho. Una ranura con un solo agujero puede ser 10 a 14.
    .doubt = Podría ser más juego del que permiten algunos fabricantes. Para saberlo: use un indicador y busque el dato del fabricante.
finding-bench_short = ¿Muy apretado?
    .do = Afloje la tuerca hasta la próxima ranura, si el fabricante no pide precarga.
    .why = Menos de 1 milésima (0.025 mm) no deja espacio a los rodillos calientes.
    .doubt = Podría estar muy apretado. Para saberlo: use un indicador.
