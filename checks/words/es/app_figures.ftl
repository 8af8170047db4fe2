### Figures: fetched right after a first visit.

app-figures-fetching = Trayendo las cuentas…
app-figures-not-here = Todavía no están en este teléfono
app-figures-no-signal = Las cuentas todavía no están en este teléfono, y no hay señal. Llegan solas la próxima vez que empiece con señal. Después funcionan sin ella.
app-figures-other = Las cuentas no llegaron enteras, o son de una versión más nueva. Cargue la página otra vez. Si la portada ofrece actualizar, hágalo primero.
app-figures-all = Todas las cuentas
app-figures-answers = Respuestas
app-figures-start = Empezar
app-figures-go-on = Seguir: { $count } por responder
app-figures-throw-away = Tirar estas respuestas
app-figures-sure-throw-away = ¿Tirar estas respuestas? Se van para siempre.
app-figures-waiting = Todavía sin calcular
app-figures-working = Mostrar la cuenta
app-figures-working-of = Mostrar la cuenta: { $what }
app-figures-none-set = { $what }: no hay ninguno fijado.
app-figures-untold = { $others ->
    [0] { $what }: no se puede decir con estas respuestas. No se sabe: { $open }
   *[other] { $what }: no se puede decir con estas respuestas. No se sabe: { $open } y { $others } más
}
app-figures-rough = { $what }: no se puede decir; estas respuestas son muy aproximadas.
app-figures-needs = { $others ->
    [0] { $what }: todavía no se puede decir. Hace falta: { $question }
   *[other] { $what }: todavía no se puede decir. Hace falta: { $question } y { $others } más
}
app-figures-find = Buscar una cuenta
app-figures-also = llanta: neumático, goma, cubierta, caucho; maza: cubo, buje, balero, rodamiento, cojinete; lanza: lengua, timón, pértiga; enganche: tirón, jalón; acoplador: coplador, cabezal; freno: balata, pastilla, zapata; remolque: traila, tráiler, acoplado; capacidad: límite, aguante; rin: aro, llanta de metal; amarre: correa, eslinga, sujeción; birlo: perno, espárrago; par: torque, apriete; frenado: parar, detener; presión: aire, inflado; peso: carga, masa
app-figures-found-none = Ninguna cuenta se llama así.
app-figures-none = De estas respuestas no salió ninguna cuenta.
