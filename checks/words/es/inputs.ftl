### Inputs that cannot be used: what is wrong with the one named, and how to put it right.

error-no_fact = { $near ->
    [here] no hay ningún dato { $given }.
    [none] no hay ningún dato { $given }. `python -m checks list` los muestra todos.
   *[other] no hay ningún dato { $given }. ¿Quiso decir { $near }?
}
error-scope = { $given } se pregunta por { $scope }; escríbalo como { $example }.
error-range_of_two = un rango son dos números, [menor, mayor]; llegaron { $count }.
error-range_backwards = el rango { $given } va al revés; ponga primero el número menor.
error-choice_none = una lista vacía no deja respuesta; use una o más de: { $offer }.
error-choice_unknown = { $given } no es una respuesta aquí; use una de: { $offer }.
error-number_text = { $given } no es un número; escriba uno como 12 o '12 { $unit }'.
error-number = { $given } no es un número; escriba uno de { $span }.
error-number_dimension = { $unit } mide otra cosa; escríbalo en { $label }.
error-number_outside = { $given } no puede ser aquí; debe ser de { $span }.
error-number_whole = { $given } no es un número entero.
error-unit_unknown = la unidad { $given } no se conoce; se conocen: { $known }.
error-made_code = { $given } no es un código de fecha; son las últimas cuatro cifras después de DOT, dos de la semana y dos del año, como '2523' (tres cifras antes de 2000).
error-made_week = { $given } sería la semana { $week }; las semanas van de 01 a 53.
error-made_later = { $given } dice semana { $week } de { $year }, que todavía no llega.
error-size_letter = { $given } es una medida vieja con letra; la letra dice una carga, no un ancho. Deje la medida sin responder y mida alrededor de la llanta.
error-size_unknown = { $given } no es una medida de llanta; léala en el costado, como 'ST205/75R15', '4.80-12' o '20.5x8.0-10'.
error-size_across = { $given } daría una llanta de { $across } de alto; léala otra vez.
error-date = { $given } no es una fecha; escríbala como 2026-07-14.
error-input = La entrada debe ser un objeto con check, date y facts.
error-input_key = no se conoce aquí; la entrada lleva check, date y facts.
error-check = { $given } no es un tipo de revisión; use uno de: { $offer }.
error-facts = debe ser un objeto con respuestas, como { "{" }"axles": 1{ "}" }.
error-axle = no hay eje { $axle } en un remolque con { $axles }.
error-no_quantity = no hay esa cantidad; `python -m checks list` las muestra todas.
error-quantity_place = se calcula por { $scope }; el lugar debe ser uno de { $places }.
error-file = no se puede leer ({ $reason }); dé un archivo JSON, o - .
error-json = no es JSON en la línea { $line }, columna { $column } ({ $reason }).
error-text = escríbalo con 1 a { $most } caracteres.
