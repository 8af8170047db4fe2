station-body = Chasis y carrocería

point-frame = Chasis y piso
point-ramps = Rampas y compuerta
point-doors = Puertas y ventilas
point-boat = El bote sobre el remolque

fact-frame_cracked = Grieta en la lanza, un soporte del muelle o una soldadura
    .choice-no = No
    .choice-yes = Sí
fact-frame_rusted = Larguero doblado, u óxido que se pasa con el dedo
    .choice-no = No
    .choice-yes = Sí
fact-crossmember = Travesaño o perno flojo o faltante
    .choice-no = No
    .choice-yes = Sí
fact-deck = Tabla del piso rota, podrida o floja
    .choice-no = No
    .choice-yes = Sí
fact-panel_loose = Lateral flojo
    .choice-no = No
    .choice-yes = Sí
fact-ramp_open = Sin pestillo, o sin su pasador
    .choice-no = No
    .choice-yes = Sí
fact-ramp_pin = Falta el pasador de la bisagra, o su clip
    .choice-no = No
    .choice-yes = Sí
fact-ramp_torn = Agujero rasgado, bisagra o pestillo agrietado
    .choice-no = No
    .choice-yes = Sí
fact-ramp_spring = Resorte o cable de la rampa gastado o roto
    .choice-no = No
    .choice-yes = Sí
fact-door_open = Una puerta sin pestillo o sin llave
    .choice-no = No
    .choice-yes = Sí
fact-door_worn = Bisagra o pestillo de puerta gastado o flojo
    .choice-no = No
    .choice-yes = Sí
fact-vent_open = Ventila o ventana abierta o floja
    .choice-no = No
    .choice-yes = Sí
fact-bow_free = Correa del malacate o cadena de proa sin poner
    .choice-no = No
    .choice-yes = Sí
fact-stern_free = Falta un amarre en la popa, o está flojo
    .choice-no = No
    .choice-yes = Sí
fact-winch_strap = Correa deshilachada, o el malacate no sostiene
    .choice-no = No
    .choice-yes = Sí
fact-bunk_loose = Apoyo o rodillo flojo o acabado
    .choice-no = No
    .choice-yes = Sí
fact-light_board = Barra de luces floja o sin conectar
    .choice-no = No
    .choice-yes = Sí
fact-drain_plug = El tapón de drenado no está a bordo
    .choice-no = No
    .choice-yes = Sí

finding-frame_cracked = Hay una grieta en el chasis
    .do = No lo remolque. Mande soldar y reforzar el chasis con quien haga este trabajo, o cambiarlo.
    .why = El chasis se rompe en la lanza y en los soportes del muelle, y se parte en la carretera.
finding-frame_rusted = Chasis doblado o pasado de óxido
    .do = Mande cambiar el tramo débil antes de remolcar. Golpee el larguero para ver hasta dónde llega.
    .why = El acero delgado es lo próximo que se agrieta.
finding-crossmember = Travesaño o perno flojo
    .do = Ponga y apriete lo que esté flojo, y busque grietas al lado.
    .why = Una pieza floja le pasa su peso a la otra.
finding-deck = El piso está dañado
    .do = Cambie las tablas malas y fíjelas antes de cargar.
    .why = Una rueda lo rompe, y los amarres pierden su agarre.
finding-panel_loose = Hay un lateral flojo
    .do = Fíjelo bien.
    .why = El viento de la carretera arranca lo que se sacude.
finding-ramp_open = La rampa o compuerta no está asegurada
    .do = No lo remolque. Ciérrela con su pestillo y póngale el pasador.
    .why = Una rampa que cae en la carretera le pega a quien viene atrás.
finding-ramp_pin = Falta el pasador de la bisagra de la rampa
    .do = No lo remolque. Ponga el pasador correcto y su clip.
    .why = La rampa cuelga de este pasador.
finding-ramp_torn = Bisagra o pestillo de la rampa rasgado o agrietado
    .do = Quite la rampa, o mande soldar el agujero o la bisagra, antes de remolcar.
    .why = Un agujero rasgado se abre más en cada bache hasta que cae el pasador.
finding-ramp_spring = El levante de la rampa está gastado
    .do = Cambie el resorte o el cable. Mientras, levántenla entre dos personas.
    .why = Una rampa pesada sin su resorte cae sobre quien esté detrás.
finding-door_open = Hay una puerta sin asegurar
    .do = No lo remolque. Ciérrela con pestillo y llave.
    .why = Una puerta abierta se azota hacia el tráfico y deja salir la carga.
finding-door_worn = Bisagra o pestillo de puerta gastado
    .do = Repare la bisagra o el pestillo. No confíe en una cuerda.
    .why = Se abre cuando la carrocería se tuerce en camino malo.
finding-vent_open = Ventila abierta
    .do = Ciérrela y asegúrela.
    .why = El viento de la carretera la arranca.
finding-bow_free = La proa no está sujeta
    .do = No lo remolque. Ponga la correa del malacate y, además, una cadena de proa.
    .why = En una frenada fuerte el bote pasa sobre el poste del malacate, o se resbala hacia atrás.
finding-stern_free = La popa no está amarrada
    .do = No lo remolque. Ponga y apriete un amarre en cada esquina de la popa.
    .why = La correa del malacate sola no sostiene el bote.
finding-winch_strap = Malacate o correa gastada
    .do = Cambie la correa y repare el malacate para que su trinquete sostenga.
    .why = Una correa que se rompe suelta la manivela, y se va el bote.
finding-bunk_loose = Apoyo o rodillo flojo
    .do = Apriételo o cámbielo antes de cargar el bote.
    .why = El casco se mueve y el soporte lo desgasta hasta pasarlo.
finding-light_board = Barra de luces floja o muerta
    .do = Fíjela, conéctela y pruebe cada luz. Desconéctela antes de entrar al agua.
    .why = En un remolque para bote solo la barra se ve atrás.
finding-drain_plug = El tapón de drenado no está a bordo
    .do = Encuéntrelo antes de echar el bote al agua. Deje enfriar las mazas tibias antes de meterlas al agua.
    .why = Un bote sin tapón se llena. Una maza caliente en agua fría la mete por el retén.

unit-year = { $count ->
    [one] año
    [1.0] año
   *[other] años
}
unit-day = { $count ->
    [one] día
   *[other] días
}
unit-step = { $count ->
    [one] paso
   *[other] pasos
}
unit-slot = { $count ->
    [one] ranura
    [1.0] ranura
   *[other] ranuras
}
unit-thou = { $count ->
    [one] milésima
    [1.0] milésima
   *[other] milésimas
}
unit-per_K = por °C
