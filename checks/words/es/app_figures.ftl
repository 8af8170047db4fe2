### Figures: fetched right after a first visit.

app-figures-fetching = Trayendo los cálculos…
app-figures-other = Los cálculos no llegaron enteros, o son de una versión más nueva. Cargue la página otra vez. Si la portada ofrece actualizar, hágalo primero.
app-figures-all = Todos los cálculos
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
app-figures-find = Buscar un cálculo
app-figures-also = llanta: neumático, goma, cubierta, caucho; maza: cubo, buje, balero, rodamiento, cojinete, bufa, hub, masa, mozo; lanza: lengua, timón, pértiga, barra de tiro, lengüeta; enganche: tirón, jalón, coco, gancho, hitch, tiro; acoplador: coplador, cabezal, acople, bocha, cabezal de enganche, cople, coupler, enganche; freno: balata, pastilla, zapata; remolque: traila, tráiler, acoplado, arrastre, carreta, carretón, carro de arrastre; capacidad: límite, aguante, carga máxima admisible, clasificación; rin: aro, llanta de metal, llanta; amarre: correa, eslinga, sujeción, trincaje; birlo: perno, espárrago; par: torque, apriete; frenado: parar, detener; presión: aire, inflado; peso: carga, masa; balero: balinera, caja de bola, cojinete, rodamiento, rolinera, rulemán; retén: retenedor, sello; juego axial: holgura axial, juego lateral; juego: holgura; frenada fuerte: enfrenón, frenazo; bola: bocha, coco; pasador: bulón, perno, pin; peso en la lanza: carga vertical, carga vertical sobre la bola, peso de la lengüeta; holgura: comba, flojo; la pieza más débil: el eslabón más débil; capacidad de remolque: capacidad de arrastre, masa máxima remolcable; balanceo: bamboleo, coleo, serrucheo, tijera, zigzagueo; plataforma basculante: cama basculante, cama inclinable, planchón basculante; eje de giro: pivote; lateral: baranda, redila; capa: lona; rango de carga: capacidad de carga (letra); código de fecha: código DOT; torque: apriete, par de apriete; apretar: ajustar; volver a apretar: reapretar; luz: foco; direccional: intermitente, luz de cruce, luz de giro, señal de virar; reflejante: catadióptrico, ojo de gato, reflectante, reflector; foco: ampolleta, bombilla, bombillo, lamparita; débil: bajita, tenue; tierra: masa; calibre: sección; voltaje: tensión; volt: voltio; placa: chapa, matrícula, patente, tablilla; correa: banda, cincha, cincho, cinta de amarre, faja, reata; grado: clase; carga de rotura: carga de ruptura; fricción: rozamiento; báscula: balanza, pesa, romana; peso con carga: peso cargado; reserva: margen; bote: barco, embarcación, lancha; cuando mucho: como máximo; trabajo: orden de reparación, orden de trabajo; código: código QR
app-figures-found-none = Ningún cálculo se llama así.
app-figures-none = De estas respuestas no salió ningún cálculo.
