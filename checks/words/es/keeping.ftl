### What is said about keeping and sending.

app-clock-off = El reloj de este teléfono va { $way ->
    [fast] adelantado { $span }
   *[slow] atrasado { $span }
 }. Póngalo a la hora, para que cada revisión lleve su hora. No se perdió nada.
app-draft-gone = Esta revisión se guardó, o se tiró, en otra ventana. Si se guardó, está entre lo guardado.
app-draft-both = Otra ventana también respondió esto. Ahora vale la respuesta que usted dio.
app-draft-changed = Otra ventana cambió esta revisión. Estas son ahora sus respuestas: mírelas otra vez.
app-span-minutes = { $count ->
    [one] { $count } minuto
   *[other] { $count } minutos
 }
app-span-hours = { $count ->
    [one] { $count } hora
   *[other] { $count } horas
 }
app-span-days = { $count ->
    [one] { $count } día
   *[other] { $count } días
 }
shop-clock-off = El reloj del teléfono iba mal, así que la hora mostrada es la nuestra. La del teléfono era { $made }
