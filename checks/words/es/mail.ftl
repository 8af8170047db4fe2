### Mail to the shop.

text-link-open = { $shop }: { $trailer } todavía no se puede remolcar: sigue abierto algo que se encontró. Abra este enlace en su teléfono antes de tocarlo o moverlo: { $address }
text-link = { $shop }: { $trailer } está listo. Abra este enlace en su teléfono antes de salir. Le dice cuándo parar y qué mirar, y nos manda lo que usted encuentre: { $address }
mail-subject = { level-stop }: { $trailer }
mail-body = Llegó una revisión de { $trailer } con este resultado: { level-stop }.
mail-subject-held = { level-look }, no siga manejando todavía: { $trailer }
mail-body-held = Llegó una revisión de { $trailer } con este resultado: { level-look }. No siga manejando antes de aclarar esto:
mail-also = Tampoco está decidido todavía:
mail-decide = Léala y decida qué hacer: { $where }
mail-inbox = en la bandeja del taller
mail-subject-stops = { $count ->
    [one] { $count } revisión más con «{ level-stop }» de un mismo enlace
   *[other] { $count } revisiones más con «{ level-stop }» de un mismo enlace
}
mail-subject-helds = { $count ->
    [one] { $count } revisión más de un mismo enlace: no siga manejando todavía
   *[other] { $count } revisiones más de un mismo enlace: no siga manejando todavía
}
mail-subject-mend = { $count ->
    [one] { $count } revisión con «{ level-mend }»
   *[other] { $count } revisiones con «{ level-mend }»
}
mail-subject-overdue = { $count ->
    [one] { $count } revisión está atrasada
   *[other] { $count } revisiones están atrasadas
}
mail-more = Y { $count } más.
mail-read = Léalo completo: { $where }
mail-a-trailer = un remolque
text-reply = { $shop }, sobre su revisión de { $trailer }: { $reply }
text-overdue = { $shop }: todavía no nos llega una revisión de { $trailer }: { $what }. Hágala con el enlace que le mandamos, o llámenos: { $phone }
text-still-open = No lo remolque antes de hablar con nosotros: sigue abierto algo que se encontró en { $trailer }.
text-recall-repack = { $shop }: a los baleros de { $trailer } ya les toca limpieza y grasa. Llámenos para escoger el día: { $phone }
text-recall-tires = { $shop }: las llantas de { $trailer } ya tienen años. Mándelas revisar antes del próximo viaje largo. Llámenos: { $phone }
text-recall-stored = { $shop }: { $trailer } lleva un tiempo guardado. Antes del primer viaje camine a su alrededor y mire llantas, luces y mazas. Llámenos si prefiere que lo hagamos nosotros: { $phone }
