# Español, como lo dicen los azulejeros de las Américas: frases cortas, de usted o impersonales.
#
# De dónde vienen los términos del oficio. Nada de esto se copió de un texto: se escribió de memoria, y quien tenga
# delante las ediciones en español de ISO 13006 / UNE-EN 14411 (baldosas cerámicas), ISO 13007 y 10545, o los manuales
# en español que siguen a ANSI A108, debe corregirlo donde digan otra cosa.
# - De memoria, como en la edición española de ISO 13006 / UNE-EN 14411 y de ISO 10545-2: rectificado, calibrado,
#   calibre, alabeo, junta. Esas normas dicen «baldosa cerámica»; en la obra se dice «azulejo».
# - De memoria, como en los manuales en español que siguen a ANSI A108: mortero adhesivo, membrana impermeable, junta de
#   movimiento, sellador, ceja (el resalte de un azulejo sobre el otro).
# - De memoria, del habla de la obra (sobre todo México y Centroamérica; cada país tiene las suyas): los demás.
#
# Glosario
#   tile: azulejo                      course: hilada                    joint: junta
#   layout: distribución               pattern: aparejo                  step: desfase
#   strip: cenefa                      sliver: corte chico               cut piece: pieza cortada
#   offcut: retazo                     rack: estante                     to bin: tirar
#   saw: cortadora                     blade: disco                      kerf: lo que se come el disco
#   crosscut: corte transversal        rip: corte a lo largo             taper: corte en cuña
#   notch: muesca                      factory edge: canto de fábrica    sawn edge: canto cortado
#   level line: línea de nivel         plumb line: línea a plomo         plumb bob: plomada
#   base: base                         drop: bajada                      rise: subida
#   propped: calzada                   prop: calza                       scribed: cortada a la base
#   story pole: escantillón            high point: punto alto            reading: medida
#   corner: rincón                     trim: perfil                      mitre: inglete
#   bare edge: canto a la vista        cover plate: chapetón             reveal: mocheta
#   curb: sardinel                     niche: nicho                      valve: válvula
#   rough-in: preparación              stud: montante                    framing: bastidor
#   mortar: mortero adhesivo           bed: cama de mortero              trowel: llana
#   grout: boquilla (lechada, fragua)  to grout: emboquillar             spacer: separador (separadores)
#   sealer: sellador                   sealant: silicona                 clips: clips niveladores
#   board: tablero                     stage: etapa                      crew: cuadrilla
#   job: obra                          sheet: hoja                       lead: encargado

# Palabras del marco
guard-unknown-host = Este servidor no se llama así.
guard-other-origin = Solo se aceptan formularios de las páginas de este servidor.
skip-to-main = Ir a la página
places-label = Lugares de esta obra
live-heard = al día, {"{"}time{"}"}
live-lost = sin respuesta desde: {"{"}time{"}"}; no recargue, se perdería la página
live-changed = {"{"}time{"}"}: se guardó otra cosa; abra la página otra vez para verla
live-full = Hay demasiadas páginas escuchando a la vez. Esta sigue sirviendo, pero hay que abrirla otra vez para ver lo nuevo.
place-wall = Pared
place-saw = Corte
place-board = Tablero
# Encima de la página, cuando el navegador solo pide otros idiomas
language-loses = Lo que escribió aquí sin guardar se pierde con otro idioma. ¿Cambiarlo de todos modos?
language-others = Este servidor habla inglés y español. Elija uno arriba.
fault-before-title = Error:
faults-title = Hay algo que corregir

# Cuando no hay página
error-title = Eso no funcionó
error-back = Volver a las obras
error-not-found = No existe esa página. Puede que la dirección esté mal escrita o que la pared haya cambiado de nombre.
error-stale = Alguien cambió esto mientras usted tenía la página abierta. Regrese, vuelva a cargar la página y haga el cambio otra vez.
error-bad-form = Este formulario no se pudo leer, o ya se envió antes con otras cifras. No se guardó nada. Regrese, vuelva a cargar la página y envíelo otra vez.
error-logged = Hay algo anotado en esta pared, así que se queda en la obra: lo que se hizo ahí debe seguir a la vista.
error-too-large = Es más de lo que cabe en un formulario. Envíe menos a la vez.
error-no-such-language = Aquí no hay textos en ese idioma. Los hay en inglés y en español: siga adelante y elija uno de los dos arriba en la página.
error-disk-full = El disco del equipo está lleno, así que no se guardó nada. Libere espacio y envíelo otra vez.
error-slow = La respuesta tardó demasiado y el servidor la dejó. Abra la página otra vez para ver si se guardó lo que envió.
error-ours = La falla es nuestra, no suya. No se guardó nada. Está en el registro con el número { $number }.

# Obras
jobs-title = Obras
jobs-empty = Todavía no hay obras. Empiece una: póngale nombre y luego mida la primera pared desde la línea de nivel.
job-new = Empezar una obra
job-new-title = Obra nueva
job-name = Nombre de la obra
job-name-hint = La casa y el cuarto, como los llama la cuadrilla.
job-unit = La cinta mide en
job-unit-mm = milímetros
job-unit-in = pulgadas
job-zone = Zona horaria
job-zone-hint = Por ejemplo, America/Mexico_City o Europe/Lisbon. Todas las horas del tablero van en esa zona.
job-make = Empezar la obra
job-walls = { $count ->
    [0] todavía sin paredes
    [one] { $count } pared
   *[other] { $count } paredes
}
fault-name-missing = Póngale nombre a la obra.
fault-name-long = Use { $most } letras como máximo para el nombre.
fault-choice = Elija uno de la lista.
fault-zone = Escriba la zona horaria como región y ciudad, por ejemplo America/Mexico_City.

# Distribución
layout-title = Distribución
layout-wall-title = { $wall }, distribución
layout-tile = { $tile }, { $size }
layout-tiles = { $count ->
    [one] { $count } azulejo
   *[other] { $count } azulejos
}
layout-made-of = Se colocan enteros { $whole } + se cortan { $cut } = por comprar { $bought }
layout-proved = Ningún plan para esta distribución puede usar menos de { $bound }.
layout-at-least = Encontrado, sin comprobar: ningún plan para esta distribución puede usar menos de { $bound }.
layout-saved = { $count ->
    [0] Cortando en el orden de colocación se gastan los mismos.
    [one] { $count } azulejo menos que cortando en el orden de colocación.
   *[other] { $count } azulejos menos que cortando en el orden de colocación.
}
layout-repeat-proved = De esta clase bastan { $tiles }. Ningún plan para esta distribución puede usar menos de { $bound }. { $order }
layout-repeat-open = De esta clase bastan { $tiles }. Encontrado, sin comprobar: ningún plan para esta distribución puede usar menos de { $bound }. { $order }
layout-in-order = Cortando en el orden de colocación serían { $count }.
layout-in-order-same = Cortando en el orden de colocación serían los mismos.
layout-others = Otras distribuciones para elegir
layout-others-count = { $count ->
    [0] No se encontró otra distribución que valga la pena
    [one] { $count } distribución más que vale la pena ver
   *[other] { $count } distribuciones más que vale la pena ver
}
length-inches = { $number } pulg
layout-proved-under = Esto vale para cortes rectos de lado a lado del azulejo, contando en cada uno lo que se come el disco, y con los cantos de fábrica donde quedan a la vista.
# Junto a cada cuenta de azulejos
tiles-without-breakage = No se suma nada por lo que pueda romperse, ni piezas de repuesto.
tiles-with-broken = Incluye lo que ya se rompió o se cortó en vano; no se suma nada por lo que todavía pueda romperse, ni piezas de repuesto.
layout-narrowest = Corte más angosto
layout-no-cut = ninguno
layout-slivers = Cortes chicos
layout-saw-cuts = Cortes de disco
layout-base-gap = Mayor holgura en la base
layout-whole-tiles = Azulejos enteros
layout-cut-pieces = Piezas cortadas
layout-see-close = Ver cada pieza en grande
layout-back-to-layout = Volver a la distribución
layout-scroll-label = El dibujo, para desplazar
layout-level-line = línea de nivel
layout-course = hilada { $number }
layout-strip-above = cenefa sobre la hilada { $number }
layout-millimetres = milímetros
layout-inches = pulgadas
layout-drawing-says = { $whole ->
    [one] { $whole } azulejo entero
   *[other] { $whole } azulejos enteros
} y { $cut ->
    [one] { $cut } pieza cortada
   *[other] { $cut } piezas cortadas
}. Las líneas gruesas son cantos de fábrica; las delgadas, cantos cortados. Medidas en { $unit }. Lo mismo está en la tabla de abajo.
layout-key = Qué muestra el dibujo
layout-key-whole = azulejo entero
layout-key-cut = cortado
layout-key-shaped = con muesca o perforado
layout-key-sliver = corte chico, revíselo
layout-key-lines = Línea gruesa: canto de fábrica. Línea delgada: canto cortado. Debajo de la pared: cortes de las puntas en las dos hiladas de abajo. A su derecha: alturas de las hiladas cortadas.
layout-to-wall = Qué trazar, calzar y marcar
layout-move = Mover las juntas de esta pared
layout-start = Hay una junta vertical de la hilada 1 a
layout-start-hint = Hasta el centro de la junta, desde la punta izquierda de esta pared ya revestida: la cara del azulejo vecino si ese va primero; si no, el rincón sin azulejo.
layout-start-set = Poner la junta ahí
layout-start-choices = O arranque así
layout-start-best = Lo mejor que se encontró
layout-start-second = Segunda opción
layout-start-third = Tercera opción
layout-start-joint-centred = Junta al centro
layout-start-tile-centred = Azulejo al centro
layout-start-whole-left = Azulejo entero a la izquierda
layout-start-whole-right = Azulejo entero a la derecha
layout-start-quarter-left = Un cuarto de azulejo a la izquierda
layout-start-quarter-right = Un cuarto de azulejo a la derecha
layout-gives-ends = Puntas de la hilada 1: { $first } y { $last }
layout-gives-narrowest = la más angosta { $least }
layout-gives-slivers = { $count ->
    [0] sin cortes chicos
    [one] { $count } corte chico
   *[other] { $count } cortes chicos
}
layout-as-now = como está ahora
layout-climb = El desfase sube
layout-climb-right = Hacia la derecha
layout-climb-left = Hacia la izquierda
layout-first = La primera hilada va
layout-first-propped = Calzada
layout-first-propped-is = Azulejos enteros, a nivel, sobre calzas; la holgura de abajo varía
layout-first-scribed = Cortada a la base
layout-first-scribed-is = Azulejos cortados según la base; la holgura de abajo no cambia
layout-back-wall = Volver a lo propuesto para esta pared
layout-back-line = Volver a las hiladas propuestas
layout-back-joint = Volver a la junta de la obra
layout-back-all = Volver a lo propuesto para todo
layout-chosen = Parte de esto se tomó de la lista de distribuciones o se movió a mano.
layout-pieces = Piezas por hilada
layout-pieces-course = Hilada
layout-pieces-whole = Enteros
layout-pieces-cut = Cortados, de izquierda a derecha
layout-piece = { $piece } { $width } × { $height }
layout-piece-sliver = { $piece } { $width } × { $height } (corte chico)
layout-none = ninguno
layout-line-title = Hiladas de todas las paredes
layout-line-now = Hay una junta entre dos hiladas { $height }.
layout-line-move = Mover las hiladas
layout-line = Hay una junta entre dos hiladas a
layout-line-hint = Hasta el centro de la junta, desde la línea de nivel como está hoy.
layout-line-way = Desde la línea de nivel
layout-way-below = debajo de la línea
layout-way-above = arriba de la línea
layout-line-set = Poner las hiladas ahí
layout-line-choices = O tome una de estas
layout-line-gives = Primera hilada { $first }, última hilada { $last }
layout-line-at = Junta { $height }
layout-whole = entera
layout-from-to = { $least } a { $most }
layout-joint-title = Junta de todas las paredes
layout-joint-other = La junta es de { $joint } en todas las paredes: así se eligió la distribución, dentro de lo que permite la hoja. En la hoja es de { $sheet }. Tenga los separadores de { $joint }, o vuelva aquí a la junta de la hoja.
layout-joint-now = La junta mide { $joint } de ancho.
layout-joint-move = Cambiar la junta
layout-joint = Ancho de la junta
layout-joint-set = Usar esta junta
layout-advice = Qué dicen las reglas
layout-advice-kept = Se cumple
layout-advice-look = Revise esto
layout-advice-note = Trabaje con esto
layout-common-practice = práctica común
layout-advice-smallest-kept = Ningún corte es menor que medio azulejo.
layout-advice-smallest = { $count ->
    [one] Una pieza cortada es menor que medio azulejo: { $least }.
   *[other] { $count } piezas cortadas son menores que medio azulejo, la menor { $least }.
}
layout-advice-thin-kept = Ninguna muesca ni agujero deja una parte que se pueda quebrar.
layout-advice-thin = Una muesca o un agujero deja una parte tan delgada que se puede quebrar al cortar: { $pieces }. Mueva las juntas, o el nicho mientras todavía se pueda mover.
layout-cut-already = { $count ->
    [one] Ya hay { $count } pieza cortada. Lo que cuesta otra distribución se dice antes de cambiar nada.
   *[other] Ya hay { $count } piezas cortadas. Lo que cuesta otra distribución se dice antes de cambiar nada.
}
layout-advice-strips-kept = Ninguna tira es demasiado delgada para cortarla.
layout-advice-strips = { $count ->
    [one] Una tira es demasiado delgada y se quiebra al cortarla: { $least }.
   *[other] { $count } tiras son demasiado delgadas y se quiebran al cortarlas, la más delgada { $least }.
}
layout-advice-trimmed-kept = Cada corte quita lo suficiente para un disco.
layout-advice-trimmed = { $count ->
    [one] A una pieza el corte le quita solo { $least }, apenas más que el grueso del disco. Busque una distribución donde ese azulejo quede entero.
   *[other] A { $count } piezas el corte les quita apenas más que el grueso del disco, lo menos { $least }. Busque una distribución donde esos azulejos queden enteros.
}
layout-advice-notch-kept = Ninguna muesca es demasiado chica para cortarla.
layout-advice-notch = { $count ->
    [one] Una muesca de menos de 5 mm (3/16 pulg) es demasiado chica para cortarla: { $notches }. Rebájela a mano o mueva la junta.
   *[other] { $count } muescas de menos de 5 mm (3/16 pulg) son demasiado chicas para cortarlas: { $notches }. Rebájelas a mano o mueva la junta.
}
layout-advice-edge-kept = Ningún canto cortado queda a la vista.
layout-advice-edge = { $count ->
    [one] Un canto cortado queda a la vista, en { $labels }.
   *[other] Quedan cantos cortados a la vista, en { $count } piezas: { $labels }.
}
layout-advice-offset = El azulejo { $tile } en { $wall } va desfasado más de un tercio de su largo.
layout-advice-offset-kept = Ningún azulejo con un lado de más de 15 pulg va desfasado más de un tercio.
layout-advice-joint = La junta es de { $joint }; la mínima para este azulejo es de { $least }.
layout-advice-joint-variation = Es tres veces los { $differ } en que difieren los azulejos.
layout-advice-joint-rectified = Es lo que pide el azulejo rectificado con un lado de más de 15 pulg y desfasado.
layout-advice-joint-calibrated = Es lo que pide el azulejo con un lado de más de 15 pulg, desfasado y sin rectificar.
layout-advice-joint-rectified-bowed = Es lo que pide el azulejo rectificado con un lado de más de 15 pulg y desfasado, más su alabeo de { $bow }.
layout-advice-joint-calibrated-bowed = Es lo que pide el azulejo con un lado de más de 15 pulg, desfasado y sin rectificar, más su alabeo de { $bow }.
layout-advice-caliber = Los azulejos { $tile } difieren en { $range }; los rectificados de este tamaño pueden diferir en { $most }.
layout-advice-caliber-calibrated = Los azulejos { $tile } difieren en { $range }; los calibrados pueden diferir en { $most }.
layout-advice-warpage = El azulejo { $tile } tiene un alabeo de { $bow }; el rectificado de este tamaño puede tener { $most }.
layout-advice-movement = { $joints ->
    [one] { $wall } mide { $length } en un sentido, y bajo techo ningún paño pasa de 25 pies (7.6 m): pide por lo menos una junta de movimiento. Quien proyecta el edificio dice dónde.
   *[other] { $wall } mide { $length } en un sentido, y bajo techo ningún paño pasa de 25 pies (7.6 m): pide por lo menos { $joints } juntas de movimiento. Quien proyecta el edificio dice dónde.
}
layout-advice-movement-exposed = { $joints ->
    [one] { $wall } mide { $length } en un sentido. Al aire libre, al sol o donde llega el agua ningún paño pasa de 12 pies (3.7 m): ahí pide por lo menos una junta de movimiento.
   *[other] { $wall } mide { $length } en un sentido. Al aire libre, al sol o donde llega el agua ningún paño pasa de 12 pies (3.7 m): ahí pide por lo menos { $joints } juntas de movimiento.
}
layout-advice-movement-british = { $joints ->
    [one] { $wall } mide { $length } en un sentido. La práctica británica pone en paredes una junta de movimiento cada 3 a 4.5 m: una por lo menos.
   *[other] { $wall } mide { $length } en un sentido. La práctica británica pone en paredes una junta de movimiento cada 3 a 4.5 m: { $joints } por lo menos.
}
layout-advice-movement-british-floor = { $joints ->
    [one] { $wall } mide { $length } en un sentido. La práctica británica pone en pisos una junta de movimiento cada 8 a 10 m: una por lo menos.
   *[other] { $wall } mide { $length } en un sentido. La práctica británica pone en pisos una junta de movimiento cada 8 a 10 m: { $joints } por lo menos.
}
layout-advice-flat = { $walls }: antes del azulejo, fuera de plano 1/4 pulg en 10 pies (6 mm en 3 m) como máximo, y 1/16 pulg en 12 pulg (1.6 mm en 305 mm). Resane lo que pase de ahí; el mortero adhesivo no es para eso.
layout-advice-flat-tight = { $walls }: antes de un azulejo tan largo, fuera de plano 1/8 pulg en 10 pies (3 mm en 3 m) como máximo, y 1/16 pulg en 24 pulg (1.6 mm en 610 mm). Resane lo que pase de ahí; el mortero adhesivo no es para eso.
layout-advice-lippage = El canto del azulejo { $tile } sobresale { $most } del vecino como máximo: { $allowance } por esta junta y { $bow } por su propio alabeo.
layout-advice-coverage = Levante un azulejo de vez en cuando: mortero por lo menos en el { $dry } % del reverso donde queda seco, en el { $wet } % en duchas y al aire libre.
layout-advice-prop-gap = En { $wall } la holgura bajo la primera hilada llega a { $largest }, más que los { $allowed } que se tapan.
layout-advice-strip = La cenefa en { $wall } empieza { $bottom }, fuera de { $lowest } a { $highest }.
layout-export = Guardar la obra en un archivo
layout-fault-start = Esta pared mide { $width } de ancho: escriba un lugar en ella, contado desde su punta izquierda.
layout-fault-line = Escriba una altura entre la base y el tope de las paredes.
layout-fault-joint = Escriba una junta mayor que cero y más angosta que el azulejo, cuyo lado menor mide { $tile }.

# En lugar de una distribución
layout-missing = Todavía no hay distribución. Falta esto:
layout-missing-choice = Puede que estorbe algo que se eligió a mano.
layout-to-walls = A las paredes
report-propped = La primera hilada va calzada.
report-scribed = La primera hilada va cortada a la base.
report-stands-whole = La primera hilada es de azulejos enteros: no hay nada que cortar en la base.
report-start = Hay una junta vertical de la hilada 1 a { $x } de la punta izquierda.
report-line = Hay una junta entre hiladas { $height }.
report-start-at = Hay una junta vertical de la hilada 1 en x = { $x }.
report-line-at = Hay una junta entre hiladas en y = { $y }.
report-whole = { $count ->
    [one] { $count } entero
   *[other] { $count } enteros
}
report-options = Distribuciones para elegir
report-searched = Hay más distribuciones de las que se pueden revisar; estas son las mejores de las revisadas.
report-first-whole = Distribución 1, completa
report-fewest-tiles = menos azulejos
report-largest-cuts = cortes más grandes
report-best-looks = mejor aspecto
report-joint = con junta de { $joint }
report-gains = Gana: { $reasons }.
report-costs = Cuesta: { $reasons }.
report-reason = { $measure } { $here } en vez de { $first }
report-measure-tiles = azulejos
report-measure-narrowest = corte más angosto
report-measure-cuts = cortes de disco
report-measure-slivers = cortes chicos
report-measure-symmetry = puntas de hilada desiguales, en promedio, por
report-measure-opening-edges = bordes de huecos en juntas
report-measure-base-gap = mayor holgura en la base
report-measure-warnings = reglas que revisar
layout-outrun = No se movió nada. Vea cómo está ahora la distribución antes de moverla otra vez; lo que escribió sigue aquí.

# Horas y fechas
time-at = { $day } { $clock }
time-at-date = { $day }, { $clock }
time-zone = { $time } { $zone }
time-date = { $weekday } { $day } { $month }
time-date-year = { $weekday } { $day } { $month } { $year }
time-am = { $clock } am
time-pm = { $clock } pm
time-today = hoy
time-yesterday = ayer
time-days = { $days } días
time-hours = { $hours } h
time-minutes = { $minutes } min
time-hours-minutes = { $hours } h { $minutes } min
time-monday = lun
time-tuesday = mar
time-wednesday = mié
time-thursday = jue
time-friday = vie
time-saturday = sáb
time-sunday = dom
time-month-1 = ene
time-month-2 = feb
time-month-3 = mar
time-month-4 = abr
time-month-5 = may
time-month-6 = jun
time-month-7 = jul
time-month-8 = ago
time-month-9 = sep
time-month-10 = oct
time-month-11 = nov
time-month-12 = dic

# Etapas, productos y esperas
stage-set = Colocación
stage-clip_removal = Quitar clips
stage-grout = Emboquillado
stage-seal = Sellado
stage-was-set = { $part } se colocó el { $when } con { $product }.
stage-was-clip_removal = { $part }: los clips se quitaron el { $when }.
stage-was-grout = { $part } se emboquilló el { $when } con { $product }.
stage-was-seal = { $part } se selló el { $when } con { $product }.
part-courses = { $wall }, hiladas { $first } a { $last }
product-class-cement_mortar = mortero adhesivo normal
product-class-fast_cement_mortar = mortero adhesivo rápido
product-class-dispersion = adhesivo listo para usar
product-class-epoxy_mortar = adhesivo epóxico
product-class-cement_grout = boquilla normal de cemento
product-class-fast_cement_grout = boquilla rápida de cemento
product-class-epoxy_grout = boquilla epóxica
product-class-penetrating_sealer = sellador penetrante
product-class-silicone_sealant = silicona
product-unknown = un producto que nadie nombró
bed-over_membrane = sobre membrana
bed-ordinary = sobre panel o repellado
window-set_to_clips = Del último azulejo colocado a quitar los clips
window-set_to_grout = Del último azulejo colocado a emboquillar
window-grout_to_seal = Del fin del emboquillado a sellar
window-grout_to_water = Del fin del emboquillado a echarle agua
window-seal_to_water = Del fin del sellado a echarle agua
window-sealant_to_water = Del fin de la silicona a echarle agua
wait-on = { $stage }: { $state }
wait-finished = luego enseguida
wait-fixed = luego { $span }
wait-cure = luego { $span }: { $product }, { $bed }

# Lo que hay que esperar antes de empezar
gate-not-before = { $stage }: no antes del { $at }.
gate-to-go = Faltan { $span }.
gate-missing = { $wall } no está lista para esto: { $stage }. Primero termine y anote: { $stages }.
gate-not-on-job = Está marcado como que no va en esta obra: { $stage }.
gate-late = Se avisó tarde, así que la espera cuenta desde el { $told }, cuando se avisó.
gate-uncounted = { $span } de la espera no se pudieron contar: el equipo estuvo apagado o le cambiaron el reloj, y nadie responde por ese tiempo. Por eso la espera es más larga, nunca más corta.
gate-clock-behind = El reloj del equipo marca { $now }, antes de una hora que ya pasó. Todo se puede seguir anotando, pero ninguna espera se acorta hasta que el reloj esté bien. Ponga en hora el equipo.
refused-title = Todavía no
refused-what-now = No se empezó nada. Si el trabajo ya está hecho, regrese y anótelo como hecho: se guarda, marcado como hecho antes de tiempo.
refused-back = Volver a la etapa

# El tablero
board-title = Tablero
board-as-of = Así estaba el { $now }.
board-reload = Vuelva a cargar la página para ver lo último.
board-empty = Todavía no hay paredes. Mida primero una pared: aquí van a estar sus etapas.
board-measure = Medir una pared
board-products = Productos y tiempos de espera
board-log = La bitácora completa
board-back = Volver al tablero
state-done = Hecho
state-ready = Listo
state-since = desde el { $when }
state-under-way = En marcha
state-being-set = Poniéndose: { $done } de { $all } hiladas
state-part-done = Hechas: { $done } de { $all } hiladas
state-not-before = No antes del { $at }
state-to-go = faltan { $span }
state-waits-for = Espera: { $stages }
state-not-on-job = No va en esta obra
state-when-who = { $when }, { $who }
state-early = Hecho antes de tiempo
state-unsure = La hora no es segura: vea por qué
state-finish-before-start = Se avisó un final a una hora que no es posterior a este inicio, así que la etapa sigue en marcha. Corrija uno de los dos.

# Una etapa de una pared
cell-title = { $wall }: { $stage }
cell-start = Empezar ahora
cell-start-again = Empezar otra vez
cell-done-now = Ya está, hace un momento
cell-done-earlier = Se hizo antes
cell-earlier-hint = Diga hace cuántos minutos se terminó, o a qué hora.
cell-minutes = Hace cuántos minutos
cell-day = Día
cell-time = Hora
cell-done-then = Anotar como hecho
cell-courses-hint = Las hiladas se cuentan desde abajo, de 1 a { $most }. Deje las dos en blanco si es toda la pared.
cell-first = De la hilada
cell-last = a la hilada
cell-waits = Qué espera
cell-cautions = Cuidado
cell-log = Bitácora de esta etapa
caution-cement = El mortero y la boquilla frescos queman, y el dolor puede llegar tarde: guantes y rodilleras; lávese enseguida con agua y jabón de pH neutro (OSHA 3351).
caution-power = Si hay contactos, luces o cable calefactor en esta pared, una persona con licencia corta la corriente y la vuelve a conectar. La revolvedora y la cortadora van conectadas a un GFCI o diferencial (29 CFR 1926.404).
caution-clips = Los clips saltan y dejan filos: lentes de seguridad y guantes (práctica común).
caution-sealer = El sellador suelta vapores: abra la ventana, use guantes, nada de llamas cerca (práctica común).
caution-water = El tablero no vigila el agua: la boquilla y el sellador tienen sus propios tiempos antes del agua, en la página de productos. Una válvula o un calentador lo conecta una persona con licencia.
caution-sheet = La ficha del producto y el reglamento local van antes que esta página.
fault-minutes = Escriba minutos enteros, 1440 como máximo (un día). Si fue antes, diga el día y la hora.
fault-time = Escriba una hora del día, como 3:40 pm o 15:40.
fault-time-missing = Diga a qué hora de ese día.
fault-time-twice = Diga hace cuántos minutos o una hora, no las dos cosas.
fault-time-to-come = Esa hora todavía no llega: el reloj del equipo marca { $now }.
fault-courses = Escriba hiladas de 1 a { $most }, primero la de abajo.
fault-reason = Diga por qué, en 1 a { $most } letras.

# El registro
log-title = Bitácora
log-empty = Todavía no hay nada anotado.
log-mend = Corregir
log-other = { $kind }: { $part }
log-product = { $stage }: desde ahora { $product }, antes { $before }.
log-window = { $window }, { $bed }: { $span } según el saco (lo usual en su clase: { $usual }).
log-window-why = { $window }, { $bed }: { $span } según el saco (lo usual en su clase: { $usual }). Por qué: { $reason }
entry-started = { $part }: { $stage }, empezó el { $when }.
entry-finished = { $part }: { $stage }, terminó el { $when }.
entry-finished-with = { $part }: { $stage }, terminó el { $when } con { $product }.
entry-withdrawn = { $part }: { $stage }, anulado. Nunca pasó.
entry-told = Avisó { $who }, { $when }.
entry-told-confirmed = Avisó { $first }. Hora confirmada por { $who }, { $when }.
entry-told-corrected = Avisó { $first }. Corregido por { $who }, { $when }.
entry-told-withdrawn = Avisó { $first }. Anulado por { $who }, { $when }.
entry-why = Por qué: { $reason }
entry-early = Hecho antes de tiempo: antes de su hora, o antes de terminar lo que esperaba. Lo que depende de esto cuenta su espera completa desde aquí.
entry-clock-behind = El reloj del equipo estaba atrasado cuando se avisó esto, así que las horas pueden estar mal.
entry-corrected = Corregido por { $who }, { $when }: fue { $right }.
entry-corrected-never = Anulado por { $who }, { $when }: nunca pasó.
entry-corrected-confirmed = Hora confirmada por { $who }, { $when }.
mend-title = Corregir una anotación
mend-both-stay = No se borra nada: la corrección es otra anotación y las dos quedan a la vista. Un final corregido cuenta desde que se corrige, hasta que el encargado confirme su hora.
mend-what = ¿Qué está mal?
mend-time = Fue a otra hora
mend-never = Nunca pasó
mend-confirm = Nada: como encargado respondo por esta hora
mend-no-confirming = El encargado solo puede confirmar una hora tardía mientras el reloj del equipo se compara con la red. Ahora no se compara.
mend-time-hint = La hora correcta, si fue otra:
mend-reason = ¿Por qué?
mend-reason-hint = Unas palabras; se quedan con la anotación.
mend-save = Guardar la corrección
mend-leave = Dejarlo como está

# Productos
products-title = Productos y tiempos de espera
products-check = Revise el saco: estos son tiempos prudentes para cada clase, a 21 a 25 °C. Primero vale lo que diga el saco o la ficha técnica. Con frío tarda más: diga en la página de la temperatura qué tan frío está.
products-bed-over_membrane = En esta obra se coloca sobre membrana.
products-bed-ordinary = En esta obra se coloca sobre panel o repellado que absorbe agua.
products-change = Cambiar: { $stage }
window-own = Según el saco, como lo anotó la cuadrilla. Lo usual en su clase: { $usual }.
window-unwatched = El tablero no lo vigila: cuide usted este tiempo.
window-span = Qué dice el saco
window-hint = Horas, o como 90 min o 3 días. Déjelo en blanco para el tiempo usual: { $usual }.
window-usual = { $class } { $span }
window-why = Por qué es más corto que lo usual
window-why-hint = Solo se pide si es más corto. Queda en la bitácora.
footing-published = Revise el saco. Publicado: { $place }: { $grounds }.
footing-derived = Revise el saco. Calculado: { $grounds }.
footing-common-practice = Revise el saco. Práctica común: { $grounds }.
footing-from-memory = Revise el saco. De memoria, sin haberlo visto impreso: { $grounds }.
grounds-clips-next-day = los clips se quitan al día siguiente
grounds-mortar = por lo menos 24 h a 70 °F y 50 % de humedad
grounds-mortar-over-membrane = 48 a 72 h para azulejo grande o sobre membrana
grounds-fast-mortar = lo más largo de 2 a 4 h en el uno y de 2 a 8 h en el otro
grounds-fast-mortar-over-membrane = el doble de 8 h, así como las 24 h publicadas del mortero normal pasan a 48 h sobre membrana
grounds-dispersion = lo más largo de 24 a 48 h en el uno; 24 h en el otro
grounds-dispersion-over-membrane = lo más largo de 48 a 72 h sobre membrana
grounds-epoxy-mortar = la resina endurece por reacción, así que la membrana no la atrasa
grounds-grout = lo más largo de las 48 a 72 h de costumbre; lo publicado va de 2 a 30 días (buzzymoment.com, groutmagnificent.com)
grounds-fast-grout = no se encontró cifra para la boquilla rápida, así que vale lo más largo de las 48 a 72 h de costumbre
grounds-epoxy-grout = la boquilla epóxica no se sella; el azulejo que se sella después espera como con boquilla de cemento
grounds-grout-to-water = 72 h antes del agua, citado de TCNA y ANSI A108.10
grounds-epoxy-grout-to-water = se le da lo mismo que a la boquilla de cemento
grounds-sealer-to-water = lo más largo de las 24 a 72 h que piden las etiquetas
grounds-silicone-to-water = la silicona cura unos 2 mm por día, y el cordón usual tiene 6 mm de fondo
product-title = Producto para esta etapa: { $stage }
product-holds = Lo que dice el saco vale también para las paredes ya hechas con él. Otro producto vale para lo que se anote desde ahora.
product-class = ¿De qué clase es?
product-name = Cómo le dice la cuadrilla
product-name-hint = Como está en el saco. Déjelo en blanco para llamarlo por su clase.
product-save = Guardar el producto
fault-product-name = Use { $most } letras como máximo para el nombre.
fault-span = Escriba horas, como 24, o como 36 h, 90 min, 3 días.
fault-window-not-of-class = Lo que eligió no tiene este tiempo de espera: déjelo vacío.
fault-window-twice = Este tiempo de espera está dos veces.
fault-span-range = Un tiempo de espera es de 90 días como máximo.
fault-laxer = Es más corto que lo usual, { $usual }: diga por qué, por ejemplo lo que dice el saco.

# La cortadora
saw-title = Corte
saw-nothing-yet = Todavía no hay nada que cortar. Mida las paredes y el azulejo; la página de la distribución dice qué falta.
saw-to-layout = A la distribución
saw-none = En esta distribución no hay que cortar ningún azulejo.
saw-all-cut = Ya están todas cortadas.
saw-progress = Cortadas { $done } de { $all }
saw-tiles = { $count ->
    [0] Ya no hay que llevar azulejos enteros a la cortadora
    [one] { $count } azulejo entero para llevar a la cortadora
   *[other] { $count } azulejos enteros para llevar a la cortadora
}
saw-skip = Primero otra pieza
saw-queue = Todos los cortes
saw-bring-up = Suba { $whole ->
    [0] ningún azulejo entero
    [one] { $whole } azulejo entero
   *[other] { $whole } azulejos enteros
} y { $cuts ->
    [one] este corte
   *[other] estos { $cuts } cortes
}
saw-line = { $size } · { $take }
saw-last = Último corte: { $piece }, { $who }, { $when }
saw-left-over = Sobrantes
saw-left-over-hint = Estas se cortaron y ya no están en el plan. Guárdelas de repuesto.
saw-left-over-piece = { $piece }, { $size }
saw-back = Volver al corte
# Agua y respiradores: 29 CFR 1926.1153, tabla 1 (i), (ii). Oídos: NIOSH, 85 dBA. Ojos: 29 CFR 1926.102.
saw-safety-person = Agua en el disco, ojos y oídos protegidos. Con cortadora de mano bajo techo, también respirador, por corto que sea el corte.
# GFCI: 29 CFR 1926.404(b)(1).
saw-safety-power = Conecte la cortadora a un GFCI (diferencial) y lave el lodo antes de que se seque y se haga polvo. El reglamento local va primero.
saw-safety = Seguridad
cut-title = Corte { $piece }
cut-place = { $wall }, hilada { $course }, número { $nth } desde la izquierda
cut-place-strip = { $wall }, cenefa sobre la hilada { $course }, número { $nth } desde la izquierda
cut-size = { $width } × { $height }
cut-take-whole = un azulejo entero
cut-take-whole-of = un azulejo { $tile } entero
cut-take-racked = retazo { $number } de otra obra
cut-take-offcut = retazo { $label }
cut-take = Tome
cut-lay = Póngalo boca arriba, parado como en el dibujo: así se ve la pieza en la pared.
cut-to-size = Ya salió suelta, y puede traer todavía lo que se dejó de más junto al disco. Revísela con la cinta y quite lo que sobre:
cut-exact = redondeado de { $length }
cut-crosscut = Corte transversal
cut-rip = Corte a lo largo
cut-from-edge = desde el { $edge }
cut-to-centre = al centro, desde el { $edge }
cut-taper = Corte en cuña
cut-taper-left = en la punta izquierda, desde el { $edge }
cut-taper-right = en la punta derecha, desde el { $edge }
cut-taper-bottom = en la punta de abajo, desde el { $edge }
cut-taper-top = en la punta de arriba, desde el { $edge }
cut-notch-corner = Muesca en la esquina { $sides }
cut-notch-edge = Muesca por la orilla { $sides }
cut-notch-inside = Corte una ventana
cut-notch-across = Corte la punta { $sides }
cut-drill-one = Primero perfore la esquina de adentro; pare el disco antes de llegar.
cut-drill-two = Primero perfore las dos esquinas de adentro; pare el disco antes de llegar.
cut-drill-four = Primero perfore las cuatro esquinas; pare el disco antes de llegar.
cut-half-round = Corte un medio círculo de { $diameter } abierto al borde
cut-hole = Perfore un agujero de { $diameter }
cut-edge-left-factory = canto izquierdo de fábrica
cut-edge-left-sawn = canto izquierdo cortado
cut-edge-right-factory = canto derecho de fábrica
cut-edge-right-sawn = canto derecho cortado
cut-edge-bottom-factory = canto inferior de fábrica
cut-edge-bottom-sawn = canto inferior cortado
cut-edge-top-factory = canto superior de fábrica
cut-edge-top-sawn = canto superior cortado
cut-side-left = izquierda
cut-side-right = derecha
cut-side-bottom = inferior
cut-side-top = superior
cut-bin = Lo demás se tira.
cut-bin-tape = tirar
cut-rack = Escriba { $label } en el retazo rayado y póngalo en el estante para { $pieces }.
cut-rack-to-size = El retazo rayado es { $piece }, quizá un poco más grande: escríbale { $piece } junto a { $label } y póngalo en el estante.
cut-spare = Escriba { $label } en el retazo rayado y guárdelo de repuesto: alcanza para { $pieces }.
cut-label = Escriba { $piece } y una flecha hacia arriba en la pieza.
cut-ahead = Se puede cortar antes de poner las de al lado.
cut-measure-corner = Mida primero: es la última antes del rincón
cut-measure-top = Mida primero: va debajo del tope
cut-measure-opening = Mida primero: topa con { $opening }
cut-done = cortada, { $who }, { $when }
cut-look = cortada de { $was }, ahora el plan dice { $now }
cut-look-shape = cortada a la medida, pero en el plan su azulejo, cuña, muesca o agujero ahora es otro
cut-wait = Sale de { $take }, que aparece cuando se corta { $before }.
cut-to-piece = A { $piece }
cut-now = Cortada
cut-not-after-all = No se cortó
cut-wall = En la pared
cut-drawing = { $piece } en la cortadora. { $says }
cut-on-wall = { $piece } en la pared
cut-refused-title = { $piece } no se anotó como cortada
cut-refused-order = { $piece } sale de { $take }, que no aparece hasta que se corta { $before }. Corte primero { $before }.
cut-refused-again = { $piece } ya se cortó: { $who }, { $when }. Si hay una segunda, guárdela de repuesto.
cut-refused-plan = El plan cambió desde que se dibujó su página. Vea otra vez { $piece } antes de cortarla.
cut-back-refused-title = { $piece } sigue como cortada
cut-back-refused-not = { $piece } ya se había anulado.
cut-back-refused-since = { $since } se cortó de lo que sobró de { $piece }. Si eso también está mal, anule primero { $since }.
# Medidas
length-example-mm = 603 o 60.3 cm
length-example-in = 23 3/4 o 5' 3 1/2"
length-empty = { $label }: escriba una medida, como { $example }.
length-not-one = { $label }: “{ $typed }” no es una medida. Escríbala como { $example }.
length-comma = { $label }: “{ $typed }” se puede leer de dos maneras. Quite la coma de los miles, o use punto para los decimales.
length-over-zero = { $label }: “{ $typed }” tiene una fracción entre 0. Escriba la fracción como en la cinta, por ejemplo 3/4.
length-fraction = { $label }: “{ $typed }” tiene una fracción de uno o más después de un entero. Escríbala como 23 3/4.
length-past-a-foot = { $label }: “{ $typed }” tiene 12 pulgadas o más después de los pies. Escriba todo en pulgadas, o menos de 12 después de los pies.
length-too-long = { $label }: “{ $typed }” pasa de 1000 m. Revise el número y su unidad.
length-too-much = { $label }: es demasiado texto para una medida. Escríbala como { $example }.
length-negative = { $label }: no puede ser menos que cero. Escríbala sin el signo menos.
height-above = { $height } arriba de la línea
height-below = { $height } debajo de la línea
height-at = en la línea

# Cuando otro se adelantó
outrun-title = No se guardó: alguien más cambió esta obra
outrun-says = Lo que escribió sigue aquí. Si lo guarda ahora, reemplaza lo de la otra persona; véalo primero. Si se movió la línea de nivel, lea las alturas desde la línea de hoy.
outrun-look = Ver la página como está ahora
outrun-line = No se cambió nada. Vea abajo cómo está ahora la línea antes de anotar el cambio otra vez.
back-to-walls = Volver a las paredes

# La hoja de la obra
sheet-title = Azulejo, junta y cortadora
sheet-first-tile = pared
sheet-tile = El azulejo
sheet-tile-named = Azulejo: { $name }
sheet-tile-more = Otro azulejo, como una cenefa
sheet-tile-name = Nombre
sheet-tile-name-hint = Corto, como le dice la cuadrilla: pared, cenefa. Ya guardado no cambia.
sheet-tile-size-hint = Medido con la cinta, nunca lo que dice la caja.
sheet-tile-width = Ancho
sheet-tile-height = Alto
sheet-tile-row-hint = Mejor: ponga diez azulejos de tres cajas, pegados en fila, y mida la fila en los dos sentidos. Esto vale más que la medida de arriba.
sheet-tile-row-width = Diez lado a lado
sheet-tile-row-height = Diez uno sobre otro
sheet-tile-comes-to = Un azulejo: { $width } de ancho, { $height } de alto
sheet-tile-thickness = Espesor
sheet-tile-thickness-hint = Junto con la cama, se descuenta en los rincones.
sheet-tile-directional = Tiene sentido y nunca se gira
sheet-tile-quarter = Los retazos se pueden girar un cuarto de vuelta
sheet-tile-box = Azulejos por caja, si se sabe
sheet-work = Junta y cortadora
sheet-joint = Junta
sheet-kerf = Lo que se come el disco
sheet-kerf-hint = Corte un retazo y mida lo que falta.
sheet-bed = Cama de mortero detrás del azulejo
sheet-membrane = Las paredes llevan membrana impermeable bajo el azulejo
sheet-floor-title = Piso
sheet-floor = Al pie de estas paredes
sheet-floor-as-measured = queda como se midió
sheet-floor-before = el piso se coloca antes que las paredes
sheet-floor-after = el piso se coloca después de las paredes
sheet-floor-thickness = Azulejo de piso con su cama
sheet-floor-thickness-hint = Solo si falta colocar el piso. Si va después, tapa la holgura bajo las paredes.
sheet-rare = Holguras, corte mínimo, margen al cortar
sheet-gaps = Holguras
sheet-gaps-hint = Del azulejo a lo que lo detiene.
sheet-gap-base = En la base
sheet-gap-corner = En los rincones
sheet-gap-ceiling = Bajo el techo
sheet-gap-trim = En los perfiles
sheet-gap-mitre = En los ingletes
sheet-gap-opening = Alrededor de los huecos
sheet-base-gap-max = Mayor holgura en la base
sheet-base-gap-max-hint = Lo que la silicona todavía tapa. Un piso puesto después tapa su espesor menos 3 mm (práctica común).
sheet-cuts = Cortes
sheet-spare = Margen junto a cada corte
sheet-spare-hint = Porque ninguna cortadora es exacta.
sheet-smallest-hint = El corte más chico que puede quedar a la vista. En blanco es medio azulejo; una de las dos medidas vale por ambas.
sheet-smallest-width = Ancho mínimo
sheet-smallest-height = Alto mínimo
sheet-save = Guardar la hoja
sheet-fault-tile-name = Póngale al azulejo un nombre corto, como pared o cenefa.
sheet-fault-tile-name-long = Use { $most } letras como máximo para el nombre del azulejo.
sheet-fault-tile-laid = El azulejo { $name } va en una pared, así que déjele su nombre. Si es otro azulejo, anótelo aparte y elíjalo en las paredes.
sheet-fault-membrane = Ya hay trabajo anotado en las paredes, y sobre membrana se espera más. Deje marcada la membrana.
sheet-fault-tile-twice = Hay dos azulejos de nombre { $name }. Póngale otro nombre a uno.
sheet-fault-tile-small = { $label }: un azulejo tiene lados de { $least } por lo menos. Revise el número y su unidad.
sheet-fault-row = { $label }: por diez salen { $each } cada uno, pero uno está anotado con { $typed }. Cuente otra vez la fila o corrija la medida.
sheet-fault-box = Azulejos por caja: escriba un número entero o déjelo en blanco.
sheet-fault-joint-none = Junta: los azulejos llevan junta. Escriba la medida del separador.
sheet-fault-joint-wide = La junta es tan ancha como el azulejo { $tile }, cuyo lado corto mide { $side }. Revise los dos números.
sheet-fault-wide = { $label }: más de { $most } no es holgura ni cama. Revise el número y su unidad.
sheet-fault-floor-thin = Azulejo de piso con su cama: escriba el espesor, o diga que el piso queda como se midió.
sheet-fault-too-many-tiles = De un azulejo de este tamaño no se podrían contar los de la pared { $wall }. Revise la medida del azulejo y su unidad.

# Paredes
walls-title = Paredes
walls-empty = Todavía no hay paredes. Saque una línea de nivel por todo el cuarto y mida cada pared desde ella: cuánto tiene de ancho y cuánto baja hasta la base.
walls-missing = Antes de planear esto
walls-layout = La distribución
walls-file = Guardar la obra en un archivo
walls-base = La base
walls-base-says = Cuánto queda sobre la base una primera hilada de azulejos enteros a nivel, con la holgura en el punto alto:
walls-high-point = Punto alto: { $walls }
walls-column-wall = Pared
walls-column-gap = Holgura debajo
walls-column-begins = Primera hilada
walls-gap-from-to = { $least } a { $most }
level-line = Línea de nivel
plumb-line = Línea a plomo
line-is-higher = La línea de hoy está { $shift } más arriba que la primera. Aquí todo va desde la línea de hoy: las bajadas son { $shift } mayores que las primeras medidas; las alturas sobre ella, { $shift } menores.
line-is-lower = La línea de hoy está { $shift } más abajo que la primera. Aquí todo va desde la línea de hoy: las bajadas son { $shift } menores que las primeras medidas; las alturas sobre ella, { $shift } mayores.
line-moved-summary = La línea se movió
line-moved-says = Al ponerla otra vez, la línea casi nunca queda donde estaba. Anote una sola vez cuánto se movió la línea de hoy de donde estaba: las medidas, las hiladas y el escantillón la siguen.
line-moved = Cuánto
line-way = La línea de hoy está
line-higher = más arriba que antes
line-lower = más abajo que antes
line-save = Mover la línea
line-fault-far = Una línea puesta otra vez no se mueve más de { $most }. Revise el número y su unidad.
wall-measure = Medir una pared
wall-named = { $name } ({ $id })
wall-wide = { $width } de ancho
wall-readings = { $count ->
    [one] { $count } medida
   *[other] { $count } medidas
}
wall-base-level = Base { $drop } debajo de la línea
wall-base-from-to = Base de { $high } a { $low } debajo de la línea
wall-new-title = Pared nueva
wall-name = Nombre de la pared
wall-name-hint = Como le dice la cuadrilla: pared del fondo, pared de la ventana.
wall-id = Nombre corto
wall-id-hint = Va en cada pieza cortada: A3-2. Letras y números; ya guardado no cambia.
wall-width = Ancho en la línea de nivel
wall-width-hint = De pared a pared sin azulejo. El azulejo de las vecinas se descuenta solo. Mida también en la base y arriba: si no coinciden, un rincón está fuera de plomo. Eso no se tiene en cuenta, así que cada corte de ese rincón se mide en la pared antes de cortarlo.
wall-base = Hacia abajo hasta la base
wall-base-says = De la línea de nivel hacia abajo, en las dos puntas y donde el piso quiebra. Dos medidas en un mismo lugar son un escalón. La primera cuenta desde la punta izquierda si deja su lugar en blanco.
wall-column-what = Qué
wall-column-x = Desde la izquierda
wall-column-drop = Abajo
wall-column-rise = Arriba
wall-column-height = Desde la línea
wall-curb = Sardinel
wall-curb-says = Marque Sardinel donde la primera hilada no se apoya, de esta medida a la siguiente: sobre un sardinel o una banca, o al lado de una tina donde el azulejo baja más allá de su borde. El borde de la tina donde se apoya el azulejo es base: no lo marque.
wall-more-rows = Más renglones
wall-top = Hacia arriba hasta el tope
wall-top-says = De la línea de nivel hacia arriba hasta el techo, o hasta donde termina el azulejo. Si está a nivel basta una medida.
wall-base-x-of = Medida { $number } de la base, desde la izquierda
wall-base-drop-of = Medida { $number } de la base, hacia abajo
wall-base-curb-of = Medida { $number } de la base, sardinel: aquí no se apoya la primera hilada
wall-top-x-of = Medida { $number } del tope, desde la izquierda
wall-top-rise-of = Medida { $number } del tope, hacia arriba
wall-reading = Medida
wall-left = Punta izquierda
wall-right = Punta derecha
wall-role = Qué hay ahí
wall-meets = Pared con azulejo con la que se junta
wall-meets-none = ninguna
wall-first = Se coloca primero
wall-first-this = esta pared, pasa por detrás
wall-first-neighbour = la otra pared, esta topa con ella
wall-corner-none = Se entiende que no se junta con ninguna pared de esta obra: aquí no se descuenta el azulejo de otra.
wall-corner-left-this = Se entiende que se junta con la punta derecha de { $wall }, que topa con esta pared.
wall-corner-left-neighbour = Se entiende que se junta con la punta derecha de { $wall }, que pasa por detrás: aquí se descuenta el espesor de su azulejo.
wall-corner-right-this = Se entiende que se junta con la punta izquierda de { $wall }, que topa con esta pared.
wall-corner-right-neighbour = Se entiende que se junta con la punta izquierda de { $wall }, que pasa por detrás: aquí se descuenta el espesor de su azulejo.
corners-open = Rincones sin juntar
corner-open-left = { $wall }, punta izquierda: un rincón que todavía no se junta con ninguna pared. Diga con cuál se junta, o no se descuenta el espesor de su azulejo.
corner-open-right = { $wall }, punta derecha: un rincón que todavía no se junta con ninguna pared. Diga con cuál se junta, o no se descuenta el espesor de su azulejo.
corner-open-link = Decirlo en el formulario de { $wall }
role-corner = Rincón
role-base = Base
role-ceiling = Techo
role-trim = Perfil
role-mitre = Inglete
role-bare = Canto a la vista
role-hidden = Tapado
wall-pattern-title = Azulejo y aparejo
wall-field-tile = Azulejo
wall-field-upright = El azulejo va parado
wall-pattern = Aparejo
wall-pattern-straight = recto, junta sobre junta
wall-pattern-right = trabado, cada hilada más a la derecha
wall-pattern-left = trabado, cada hilada más a la izquierda
wall-pattern-own = como está: { $pattern }
wall-step = Desfase, si va trabado
wall-step-other-choice = otro
wall-step-other = Otro desfase
wall-strip = Cenefa
wall-strip-says = Una hilada de otro azulejo. Su canto de abajo queda entre dos alturas, sobre hiladas enteras, y el campo sigue arriba de ella.
wall-strip-tile = Azulejo de la cenefa
wall-no-strip = sin cenefa
wall-strip-least = Canto de abajo desde
wall-strip-most = hasta
wall-side = De la línea
wall-above = arriba
wall-below = debajo
wall-side-above = arriba de la línea
wall-side-below = debajo de la línea
wall-no-tile-yet = Todavía no se ha medido ningún azulejo. La pared lo toma sola cuando lo haya.
wall-openings = Nichos, ventanas, válvulas, tubos
wall-openings-says = Las alturas van de la línea de nivel al borde de abajo, o al centro de un círculo.
wall-opening-number = Hueco { $number }
wall-opening-name = Nombre
wall-kind = Forma
wall-kind-rectangle = rectángulo
wall-kind-circle = círculo
wall-opening-x = Desde la izquierda, a su borde izquierdo o a su centro
wall-opening-y = Altura
wall-opening-width = Ancho o diámetro
wall-opening-height = Alto de un rectángulo
wall-opening-clearance = Holgura
wall-opening-clearance-hint = Espacio entre el hueco y el azulejo. En blanco: la holgura alrededor de los huecos de la hoja. Con signo menos, el azulejo traslapa.
wall-edge = Qué tapa el canto del azulejo
wall-edge-usual = lo usual: un chapetón sobre un círculo, un perfil en lo demás
edge-plate = chapetón
edge-trim = perfil
edge-lapped = el azulejo de la mocheta lo traslapa
edge-mitre = inglete
edge-bare = nada, el canto queda a la vista
wall-more-openings = Más huecos
wall-rare = Borde de la base y del tope
wall-base-role = En la base
wall-top-role = En el tope
wall-top-may-move = El tope se puede mover
wall-top-may-move-hint = Si termina a la vista o en perfil, para que el azulejo acabe en hilada entera.
wall-save = Guardar la pared
wall-remove = Quitar esta pared de la obra
wall-draw = Dibujarla
wall-drawn-only = Dibujada, sin guardar.
wall-measures = Medidas: { $width } de ancho, { $readings ->
    [one] { $readings } medida
   *[other] { $readings } medidas
}
wall-drawing-heading = La pared como se midió
wall-drawing = { $name }, { $width } de ancho
wall-drawing-says = Vista de frente. La base está de { $least } a { $most } debajo de la línea de nivel; el tope, hasta { $rise } arriba de ella. Huecos: { $openings }.
wall-drawing-nothing = Escriba el ancho y una o dos medidas, y aquí se dibuja la pared.
wall-drawing-table = El dibujo en una tabla
wall-rectangle-size = { $width } de ancho, { $height } de alto
wall-circle-size = círculo de { $diameter }
wall-misread-base = La medida de la base en { $x } está { $off } fuera de lo que dicen sus vecinas ({ $read } contra { $suggested }): mida otra vez.
wall-misread-base-before = La medida de la base en { $x } está { $off } fuera de la anterior ({ $read } contra { $suggested }), más de lo que cae un piso: mida las dos otra vez.
wall-misread-base-walls = La medida de la base en { $x } está { $off } fuera de todas las de las otras paredes ({ $read } contra { $suggested }): mida otra vez, aquí y allá.
wall-misread-base-above = La medida de la base en { $x } es menor que cero, y la base quedaría encima de la línea de nivel: mida otra vez y escriba cuánto baja.
wall-misread-top-below = La medida del tope en { $x } es menor que cero, y el techo quedaría debajo de la línea de nivel: mida otra vez y escriba cuánto sube.
wall-misread-top = La medida del tope en { $x } está { $off } fuera de lo que dicen sus vecinas ({ $read } contra { $suggested }): mida otra vez.
wall-fault-name = Póngale nombre a la pared, como pared del fondo.
wall-fault-id = Nombre corto: use de 1 a 24 letras y números, como A.
wall-fault-id-taken = Nombre corto: ya hay una pared { $id }. Elija otro.
wall-fault-step = Desfase: escriba una parte del azulejo entre 0 y 1, como 2/5.
wall-fault-extent = { $label }: escriba una medida mayor que cero.
wall-fault-no-width = Ancho en la línea de nivel: escriba cuánto mide la pared.
wall-fault-width-none = Ancho en la línea de nivel: { $typed } no es ningún ancho. Escriba cuánto mide la pared.
wall-fault-no-width-left = Ancho en la línea de nivel: el azulejo de las vecinas no le deja ancho a esta pared. Revise el ancho y los rincones.
wall-fault-no-base = Hacia abajo hasta la base: mida por lo menos una vez de la línea de nivel hacia abajo.
wall-fault-no-top = Hacia arriba hasta el tope: mida por lo menos una vez de la línea de nivel hacia arriba, hasta el techo o hasta donde termina el azulejo.
wall-fault-out-of-order = { $label }: queda a la izquierda de la medida anterior. Anote las medidas de izquierda a derecha.
wall-fault-beside = { $label }: eso no está en la pared. Compárelo con el ancho.
wall-fault-no-height = El tope no queda arriba de la base en { $x }. Revise ahí las medidas.
wall-fault-covered = Ancho en la línea de nivel: el azulejo de las vecinas tapa toda la pared. Revise el ancho y los rincones.
wall-fault-opening-outside = { $name } queda todo fuera de la pared. Revise su lugar desde la izquierda y su altura desde la línea.
wall-fault-opening-clash = { $name } se encima con otro hueco, y solo uno de los dos tapa un canto cortado. Sepárelos, o diga lo mismo de los dos cantos.
wall-fault-opening-closed = { $name }: la holgura cierra el hueco por completo. Use un traslape menor.
wall-fault-no-corner = Se junta con la pared { $neighbour } en una punta que no es rincón. Elija el rincón, o ninguna pared.
wall-fault-build-up = El azulejo y la cama de la vecina no pueden ser menos que cero. Revise la hoja.
wall-fault-corner-taken = { $neighbour } ya se junta con { $already } en ese rincón. Cámbielo primero ahí.
wall-fault-too-wide = Ancho en la línea de nivel: una pared de más de { $most } se mide por partes. Revise el número y su unidad.
wall-fault-too-many-tiles = Esta pared llevaría más de { $most } azulejos. Revise el ancho, las medidas y el tamaño del azulejo.

# Antes de que haya un plan
no-plan-no-wall = Todavía no se ha medido ninguna pared.
no-plan-joint = La junta de { $joint } es tan ancha como el azulejo { $tile }. Hágala más angosta, en la hoja o en la página de la distribución.
no-plan-too-large = Todas las paredes juntas llevan más de { $most } azulejos, más de lo que se puede planear de una vez. Haga una obra por cuarto.
no-plan-no-tile = Todavía no se ha medido ningún azulejo.
no-plan-no-tile-on-wall = Esta pared no tiene azulejo elegido.
no-plan-stopped = El planificador se detuvo antes de responder. Abra la página otra vez.
no-plan-busy = Muchas páginas esperan ahora al planificador, así que esta no se empezó. No se perdió nada. Ábrala otra vez en un momento.
no-plan-both-ways = El azulejo { $tile } va acostado en una pared y parado en otra. Anótelo otra vez con otro nombre para los parados.
no-plan-cutting = Algunas piezas no se pueden cortar del azulejo { $tile }. Revise su tamaño, o elija otro arranque u otra línea de hilada.
no-plan-too-many = Hay más cortes del azulejo { $tile } de los que se pueden planear de una vez. Haga una obra por cuarto.
no-plan-ours = El plan no pasó nuestra propia revisión, así que no se muestra. La falla es nuestra; está en el registro.
no-plan-no-carrying = Ninguna parte de la base sostiene la primera hilada. Desmarque Sardinel donde se apoya la primera hilada.
no-plan-no-line = Esta pared no tiene línea de hilada.
no-plan-lines-disagree = { $one } y { $other } comparten la línea de nivel, pero se les dieron líneas de hilada distintas.
no-plan-no-course = Entre la base y el tope no cabe una hilada.
no-plan-too-many-courses = Hay demasiadas hiladas para contarlas. Revise el alto del azulejo y las medidas.

# Lo que se traza y se pone en una pared
card-title = En la pared
card-first-course = Primera hilada
card-propped = Calzada
card-propped-says = azulejos enteros, a nivel; la holgura llega a { $gap }
card-whole = Azulejos enteros
card-whole-says = nada que cortar en la base; la holgura de abajo es { $gap }
card-scribed = Cortada a la base
card-scribed-says = de { $least } a { $most } de alto
card-level = Línea de nivel por trazar
card-level-below = debajo de la línea: canto inferior de la hilada { $course }
card-level-above = arriba de la línea: canto inferior de la hilada { $course }
card-plumb = Línea a plomo por trazar
card-plumb-says = desde el extremo izquierdo de la pared: centro de una junta de la hilada { $course }
card-plumb-says-tile = desde el rincón izquierdo sin azulejo, a { $x } del azulejo vecino: centro de una junta de la hilada { $course }
card-high = Punto alto de la base
card-high-here = aquí: empiece por esta pared
card-high-elsewhere = esta base queda { $below } más abajo
card-high-level = aquí igual de alto: cualquiera de las dos sirve
card-nothing-carries = aquí nada sostiene una primera hilada
card-gap-too-large = Calzada, la holgura bajo la primera hilada llega a { $largest }, pero solo se tapan { $allowed }. Corte esta pared a la base, o tape más.
card-strip-out-of-range = El canto inferior de la cenefa queda { $bottom }. Ninguna hilada entera lo deja entre { $lowest } y { $highest }.
card-change = Cambiar la distribución
card-drawing-says = Vista de frente, con todos los azulejos de { $courses ->
    [one] una hilada
   *[other] { $courses } hiladas
}. Los azulejos cortados van sombreados.
card-stations = A lo largo de la base
card-x = Desde la izquierda
card-gap = Holgura
card-height = Alto del azulejo
card-stands = Se apoya en
card-carries = base
card-curb = sardinel
card-props = Calzas bajo las esquinas de los azulejos
card-prop = Calza
card-pole = Escantillón
card-course = Canto superior de la hilada
card-above-base = Sobre el punto alto
card-from-line = Desde la línea
card-pole-foot = pie de la primera
card-pole-strip = cenefa
# Una última hilada en la que ningún azulejo acaba entero
card-pole-ceiling = cortada al techo
card-pole-top = cortada arriba
card-pole-from-to = de { $low } a { $high }

# Las juntas que permite el encargado
sheet-joint-layout = La distribución elegida va con una junta de { $joint }. En la página de la distribución se puede volver atrás.
sheet-joint-range-hint = Si también sirven otros separadores: se buscan distribuciones con cualquier junta entre estas dos. En blanco, solo la junta misma.
sheet-joint-least = Junta más angosta
sheet-joint-most = Junta más ancha
sheet-fault-joint-least-none = Junta más angosta: los azulejos llevan junta. Escriba el separador más chico, o déjela en blanco.
sheet-fault-joint-least = Junta más angosta: es más ancha que la junta de { $joint }. Escriba menos, o cambie la junta.
sheet-fault-joint-most = Junta más ancha: es más angosta que la junta de { $joint }. Escriba más, o cambie la junta.

# Distribuciones para elegir
options-title = Distribuciones para elegir
options-number = Distribución { $number }
options-aim-fewest-tiles = Menos azulejos
options-aim-largest-cuts = Cortes más grandes
options-aim-best-looks = Mejor aspecto
options-reach-all = Se revisaron todos los arranques y líneas de hilada en los que cambia algo de las puntas o de las hiladas.
options-reach-searched = Hay más distribuciones de las que se pueden revisar una por una, así que solo se revisaron las que prometían. Puede haber una mejor.
options-order = Qué cuenta primero: { $measures }.
options-order-change = Cambiarlo
options-first-title = Las que conviene ver primero
options-more = { $count ->
    [one] { $count } distribución más
   *[other] { $count } distribuciones más
}
options-measure-tiles = Azulejos
options-measure-narrowest-cut = Corte más angosto
options-measure-cuts = Cortes de disco
options-measure-slivers = Cortes chicos
options-measure-symmetry = Diferencia entre puntas
options-measure-opening-edges = Bordes de huecos en juntas
options-measure-base-gap = Mayor holgura en la base
options-measure-warnings = Reglas que revisar
options-equal = ninguna
options-apart = { $length }
options-proved = Ningún plan para esta distribución puede usar menos de { $bound }.
options-at-least = Encontrado, sin comprobar: ningún plan para esta distribución puede usar menos de { $bound }.
options-kind = { $count } { $tile }
options-joint = Con junta de { $joint }, donde la obra dice { $job }.
options-in-force = Así está ahora
options-first-of-all = La primera según lo que usted puso primero.
options-against-first = Frente a la distribución 1
options-better = Mejor:
options-worse = Peor:
options-better-word = mejor
options-tiles-fewer = { $count ->
    [one] { $count } azulejo menos
   *[other] { $count } azulejos menos
}
options-tiles-more = { $count ->
    [one] { $count } azulejo más
   *[other] { $count } azulejos más
}
options-cuts-fewer = { $count ->
    [one] { $count } corte de disco menos
   *[other] { $count } cortes de disco menos
}
options-cuts-more = { $count ->
    [one] { $count } corte de disco más
   *[other] { $count } cortes de disco más
}
options-narrowest-cut-instead = corte más angosto { $here } en vez de { $first }
options-slivers-instead = { $here ->
    [0] sin cortes chicos
    [one] { $here } corte chico
   *[other] { $here } cortes chicos
} en vez de { $first }
options-symmetry-instead = diferencia entre puntas: { $here } en vez de { $first }
options-opening-edges-instead = bordes de huecos en juntas: { $here } en vez de { $first }
options-base-gap-instead = holgura en la base { $here } en vez de { $first }
options-warnings = { $count ->
    [one] { $count } regla que revisar
   *[other] { $count } reglas que revisar
}
options-choose = Elegir esta distribución
options-see-large = Verla en grande
options-see-large-of = Distribución { $number }, en grande
options-compare = Comparar estas dos
options-compare-with = Comparar con la distribución { $number }
options-compare-with-now = Comparar con como está ahora
options-compare-now = Comparar con la distribución 1
options-compare-title = Dos distribuciones lado a lado
options-compare-table = En qué difieren
options-compare-same = No difieren en nada de lo que se cuenta.
options-pick-one = Una
options-pick-other = La otra
options-lies-joint = Junta
options-lies-ends = { $wall }: puntas de la hilada de abajo
options-lies-line = Una junta entre dos hiladas
options-lies-first = { $wall }: primera hilada
options-back = Volver a las distribuciones
options-now = Como está ahora
options-now-title = Como está ahora
options-now-says = No es ninguna de las distribuciones de abajo.
options-drawing-says = Todas las paredes lado a lado sobre la línea de nivel: { $whole ->
    [one] { $whole } azulejo entero
   *[other] { $whole } azulejos enteros
} y { $cut ->
    [one] { $cut } pieza cortada
   *[other] { $cut } piezas cortadas
}. Las cortadas van con color y una raya cruzada.
options-ranks = Qué cuenta primero
options-ranks-says = La lista va en este orden. Lo que no se nombra aquí sigue en el orden usual.
options-rank-first = Primero
options-rank-second = Luego
options-rank-third = Luego
options-ranks-save = Ponerlas en este orden
options-fault-twice = “{ $measure }” ya está arriba. Elija otra cosa aquí.
options-outrun = No se cambió nada. Vea cómo están ahora las distribuciones y elija otra vez.
options-looking = Se están buscando distribuciones
options-looking-says = Esta página vuelve a mirar sola cada pocos segundos. Si la deja, la búsqueda termina.
options-so-far = Como está ahora, lleva { $tiles }. { $proved }
options-look-again = Mirar otra vez ahora
options-pressed-too-early = No se eligió nada: el cuarto cambió y sus distribuciones se buscan otra vez. Elija de nuevo en un momento.
# Hoja de preparación
rough-title = Preparación: { $wall }
rough-link = Preparación para un nicho o una válvula
rough-link-says = ¿Todavía no está armado? Vea dónde le va bien a las juntas.
rough-says = Diga de qué tamaño es un nicho y entre qué montantes puede ir, o dónde puede quedar una válvula. La hoja dice dónde armarlo para que sus bordes caigan en juntas.
rough-wishes = Nichos y válvulas de esta pared
rough-new-niche = Un nicho nuevo
rough-new-valve = Una válvula nueva
rough-niche-name = Nicho
rough-valve-name = Válvula
rough-form-niche = Un nicho que todavía no está armado
rough-form-valve = Una válvula que todavía no está puesta
rough-form-change = Cambiar lo que se quiere de { $name }
rough-name = Nombre
rough-width = Ancho terminado por dentro
rough-width-hint = Entre el azulejo o el perfil de sus lados.
rough-height = Alto terminado por dentro
rough-height-hint = Entre el azulejo o el perfil de abajo y el de arriba.
rough-lining = Con qué se forra, por cada lado
rough-lining-hint = Panel, membrana, cama y azulejo dentro del nicho. En blanco es la cama y el azulejo de esta pared.
rough-diameter = Agujero en el azulejo
rough-diameter-hint = Su diámetro; lo tapa el chapetón.
rough-range = Dónde puede ir
rough-range-niche = El hueco en el bastidor queda dentro de esto, por ejemplo entre dos montantes. Desde el rincón izquierdo sin azulejo y desde la línea de nivel.
rough-range-valve = Su centro queda dentro de esto. Deje el segundo en blanco para mantener una sola línea a plomo o una sola altura.
rough-x-from = Más a la izquierda
rough-x-to = Más a la derecha
rough-y-from = Más abajo
rough-y-to = Más arriba
rough-depth-title = Qué tan adentro queda
rough-depth-says = Deje los tres en blanco si todavía no está montada. Mida desde donde mide la ficha de la válvula, por lo general su espalda.
rough-to-bare-wall = De su espalda a la cara de la pared sin azulejo
rough-window-least = Pared terminada, mínimo
rough-window-least-hint = Desde su espalda, como dice la ficha de la válvula.
rough-window-most = Pared terminada, máximo
rough-edge = Su borde
rough-clearance = Espacio entre esto y el azulejo
rough-clearance-hint = En blanco es la holgura de la obra en los huecos.
rough-save = Buscarle lugar
rough-drop = Ya no se quiere
rough-fault-many = Ya hay { $most } en esta pared. Quite primero uno que no se quiera.
rough-outrun = No se puso nada en la pared: cambió la distribución o lo que se quiere. Vea dónde va ahora.
rough-changed = Mientras tanto cambió lo que se quiere aquí. Lo que escribió sigue abajo: si lo guarda ahora, reemplaza lo de la otra persona; véalo primero.
rough-gone = Ya no está en esta pared: alguien lo quitó o lo puso en la pared. Lo que escribió, si algo, sigue abajo, y si lo guarda queda como uno nuevo.
rough-on-joints = { $on ->
    [4] Los cuatro bordes en juntas: no se corta ningún azulejo.
    [3] Tres de los cuatro bordes en juntas.
    [2] Dos de los cuatro bordes en juntas.
    [1] Uno de los cuatro bordes en una junta.
   *[0] Ningún borde en una junta.
}
rough-seat-middle = En el centro de un azulejo.
rough-seat-crossing = En el cruce de dos juntas.
rough-seat-within = Dentro de un azulejo, no en su centro.
rough-seat-joint = En el centro de una junta.
rough-seat-across = Sobre el borde de un azulejo. Con más margen puede haber mejor lugar.
rough-frame-hole = Hueco en el bastidor
rough-finished-size = { $size } terminado por dentro
rough-size = { $width } × { $height }
rough-left = Su lado izquierdo
rough-bottom = Su parte de abajo
rough-from-corner = desde el rincón izquierdo
rough-centre-x = Centro
rough-centre-y = Centro
rough-numbers = Para marcar en los montantes
rough-column-framed = Armado
rough-column-finished = Terminado
rough-column-centre = Centro
rough-row-left = Lado izquierdo desde el rincón izquierdo
rough-row-right = Lado derecho desde el rincón izquierdo
rough-row-bottom = Abajo desde la línea
rough-row-top = Arriba desde la línea
rough-row-base-left = Abajo sobre la base, a su izquierda
rough-row-base-right = Abajo sobre la base, a su derecha
rough-row-x = Desde el rincón izquierdo
rough-row-y = Desde la línea
rough-row-base = Sobre la base
rough-edge-left = Borde izquierdo
rough-edge-right = Borde derecho
rough-edge-bottom = Borde de abajo
rough-edge-top = Borde de arriba
rough-edge-on = { $side } en una junta
rough-edge-off = { $side } a { $by } de la junta más cercana: del azulejo quedan { $leaves }
rough-edge-thin = { $side } a { $by } de la junta más cercana: del azulejo solo quedan { $leaves }, y se puede quebrar
rough-fit-width = Con { $size } de ancho, sus bordes izquierdo y derecho podrían caer en juntas
rough-fit-height = Con { $size } de alto, sus bordes de abajo y de arriba podrían caer en juntas
rough-web = Quedan por lo menos { $web } de azulejo entre el agujero y un borde
rough-web-thin = Solo quedan { $web } de azulejo entre el agujero y un borde: se puede quebrar
rough-cut = { $count ->
    [0] No se corta ningún azulejo
    [one] Se corta un azulejo
   *[other] Se cortan { $count } azulejos
}
rough-slivers = Partes chicas: { $pieces }
rough-depth = La pared terminada queda a { $finished } de su espalda: { $wall } a la pared sin azulejo y { $build } de cama y azulejo.
rough-depth-fits = Está dentro de { $from } a { $to }.
rough-depth-back = Es menos que { $from }: meta la válvula en la pared { $least }, { $most } como máximo.
rough-depth-forward = Es más que { $to }: saque la válvula { $least }, { $most } como máximo.
rough-too-narrow = El hueco en el bastidor es de { $width } × { $height }, y al espacio le faltan { $across } de ancho.
rough-too-low = El hueco en el bastidor es de { $width } × { $height }, y al espacio le faltan { $up } de alto.
rough-too-small = El hueco en el bastidor es de { $width } × { $height }, y al espacio le faltan { $across } de ancho y { $up } de alto.
rough-none-free = En todo este espacio se encimaría con otro hueco o se saldría del azulejo. Amplíe el espacio o hágalo más chico.
rough-not-laid = Todavía no hay azulejo en esta pared.
rough-drawing-says = El azulejo de esta pared con { $name } en su lugar.
rough-caution = El bastidor, la plomería y la impermeabilización son de quienes tienen licencia, y el reglamento local va primero. Revise qué hay dentro de la pared antes de cortar un montante, y mida una vez más.
# Toda superficie horizontal de una ducha, de 1/4 a 1/2 pulg por pie: instructor de la NTCA en "Ask the Experts", tileletter.com.
rough-caution-sill = La repisa de un nicho cae hacia el frente de 1/4 a 1/2 pulg por pie (2 a 4 %).
rough-assumed = Lo que se dio por hecho
rough-assumed-lining = El hueco en el bastidor es { $lining } más grande por cada lado que el nicho terminado.
rough-assumed-clearance = El azulejo se detiene a { $clearance } de él. Qué tapa el canto del azulejo: { $edge }.
rough-assumed-places = Los lugares van desde el rincón izquierdo de la pared sin azulejo y desde la base, como se midieron; las alturas, desde la línea de hoy.
rough-assumed-layout = Las juntas están donde las tiene ahora la distribución. Si la distribución se mueve, vuelva a ver aquí.
rough-put = Ponerlo en la pared como hueco
rough-put-says = Entonces las juntas de esta pared se quedan donde están.
rough-others = Otros lugares
rough-other-niche = Hueco a { $x } del rincón izquierdo, abajo { $height } { $side }
rough-other-valve = Centro a { $x } del rincón izquierdo, { $height } { $side }
rough-put-other = Mejor ponerlo aquí
rough-back = Volver a la pared
options-rule-smallest-cut-kept = ningún corte menor que medio azulejo
options-rule-smallest-cut-broken = cortes menores que medio azulejo
options-rule-thin-part-kept = nada tan delgado que se pueda quebrar al cortar
options-rule-thin-part-broken = una muesca o un agujero deja una parte que se puede quebrar al cortar
options-rule-cut-edge-shows-kept = ningún canto cortado a la vista
options-rule-cut-edge-shows-broken = un canto cortado a la vista
options-rule-offset-kept = ningún azulejo largo desfasado más de un tercio
options-rule-offset-broken = azulejos largos desfasados más de un tercio
options-rule-joint-kept = una junta suficiente para este azulejo
options-rule-joint-broken = una junta más angosta de lo que pide este azulejo
options-rule-prop-gap-kept = la holgura bajo la primera hilada queda tapada
options-rule-prop-gap-broken = la holgura bajo la primera hilada pasa de lo que se tapa
options-rule-kept = una regla que se cumple: { $rule }
options-rule-broken = una regla que no se cumple: { $rule }
options-rule-thin-strip-kept = ninguna tira demasiado delgada para cortarla
options-rule-thin-strip-broken = tiras demasiado delgadas para cortarlas
options-rule-trimmed-kept = ningún azulejo recortado por casi nada
options-rule-trimmed-broken = azulejos recortados por casi nada
options-rule-strip-kept = la cenefa donde se quiere
options-rule-strip-broken = la cenefa no queda donde se quiere

# Por qué ningún plan gasta menos azulejos que su mínimo
proof-how = Cómo se sabe
proof-begins = { $whole ->
    [0] Ningún azulejo se coloca entero.
    [one] Un azulejo se coloca entero.
   *[other] { $whole } azulejos se colocan enteros.
} { $cut ->
    [0] No hay que cortar ninguno.
    [one] Hay que cortar una pieza.
   *[other] Hay que cortar { $cut } piezas; lo que cuenta es cuáles pueden salir del mismo azulejo.
}
proof-part = { $count } piezas que solo comparten azulejo entre ellas gastan por lo menos { $tiles ->
    [one] un azulejo.
   *[other] { $tiles } azulejos.
}
proof-alone = { $count ->
    [one] Una pieza no comparte su azulejo con ninguna otra, así que gasta uno propio.
   *[other] { $count } piezas no comparten su azulejo con ninguna otra, así que cada una gasta uno propio.
}
proof-at-most = Como quiera que se corte un azulejo, { $most ->
    [one] solo sale una de ellas.
   *[other] no salen más de { $most } de ellas. Divida y redondee hacia arriba.
}
proof-points = Déle puntos a cada pieza por el lugar que ocupa. Como quiera que se corte un azulejo, nunca le cabe más de { $best ->
    [one] un punto
   *[other] { $best } puntos
}, y estas piezas suman { $all }. Divida y redondee hacia arriba.
proof-points-rack = Déle puntos a cada pieza por el lugar que ocupa. Como quiera que se corte un azulejo, nunca le cabe más de { $best ->
    [one] un punto
   *[other] { $best } puntos
}. Estas piezas suman { $all }, de los que en los retazos del estante caben { $racked }. Divida lo que queda y redondee hacia arriba.
proof-counted = Los puntos solos dejan duda. Lo que decide se cuenta sobre todas estas piezas juntas: cuáles pueden compartir un azulejo y en qué grupos. Eso no se repasa por segunda vez: la revisión que repasa las pruebas solo sigue los puntos.
proof-odd-sets = { $count ->
    [one] Además, algunas piezas solo van de dos en dos, y a la impar le falta pareja. Contando eso, un grupo más lo decide.
   *[other] Además, algunas piezas solo van de dos en dos, y a la impar le falta pareja. Contando eso, { $count } grupos más lo deciden.
}
proof-search = Los puntos solos dejan duda, así que se recorrieron todas las maneras de cortar estas piezas: { $cases ->
    [one] un caso
   *[other] { $cases } casos
} en total, y ninguna gasta menos. La búsqueda no se repasa por segunda vez: la revisión que repasa las pruebas solo sigue los puntos.
proof-points-table = Los puntos de cada pieza
proof-pieces = Piezas
proof-each = Puntos cada una
proof-best = Lo más que cabe en un azulejo: { $best ->
    [one] un punto
   *[other] { $best } puntos
}.
proof-file = La prueba en un archivo, para que cualquiera la repase

# La lista de cortes
cutlist-title = Lista de cortes
cutlist-says = { $count ->
    [one] Una pieza
   *[other] { $count } piezas
} de { $tiles ->
    [one] un azulejo.
   *[other] { $tiles } azulejos.
}
cutlist-order = En el orden de colocación: un retazo aparece cuando se corta la pieza anterior.
cutlist-to-saw = Al corte
cutlist-drawing = Retazos en el estante, corte por corte
cutlist-cut = corte { $number }
cutlist-most = { $count ->
    [0] Nunca hay ninguno en el estante.
    [one] A lo más hay uno a la vez.
   *[other] A lo más hay { $count } a la vez.
}
cutlist-longest = { $label } espera más que los otros: { $count ->
    [one] se usa en el corte siguiente.
   *[other] { $count } cortes.
}
cutlist-piece = Pieza
cutlist-from = De
cutlist-left = Queda
cutlist-rack = En el estante
cutlist-from-tile = azulejo { $number }
cutlist-from-rack = retazo { $number } de otra obra
cutlist-from-offcut = retazo { $label }
cutlist-from-elsewhere = ya cortada, de otro azulejo
cutlist-waited = { $count ->
    [one] del corte anterior
   *[other] después de { $count } cortes
}
cutlist-leaves = { $label } para { $pieces }
cutlist-leaves-to-size = { $label }, que es { $pieces }

# A dónde se ajusta una junta puesta a mano
layout-start-next-left = Siguiente buen lugar a la izquierda, a { $away }
layout-start-next-right = Siguiente buen lugar a la derecha, a { $away }

# Lo que el encargado pide de una distribución
wish-title = Quiero…
wish-asked = Usted pidió
wish-tops = Azulejos enteros arriba
wish-bases = Una primera hilada entera
wish-openings = Una junta en un hueco
wish-cuts = Cortes
wish-least-of = Ningún corte menor que
wish-least-of-hint = Déjelo en blanco si sirve cualquier corte.
wish-ask = ¿Se puede?
wish-nothing = Marque primero lo que quiere, o escriba el corte mínimo, y pregunte otra vez.
wish-found = Sí. De las distribuciones revisadas que lo tienen, la mejor:
wish-cut-short = No se revisó todo, así que puede haber una respuesta mejor.
wish-top = azulejos enteros arriba en { $wall }
wish-base = una primera hilada entera en { $wall }
wish-joint-bottom = una junta en el borde de abajo de { $opening } en { $wall }
wish-joint-top = una junta en el borde de arriba de { $opening } en { $wall }
wish-joint-left = una junta en el lado izquierdo de { $opening } en { $wall }
wish-joint-right = una junta en el lado derecho de { $opening } en { $wall }
wish-least = ningún corte menor que { $least }
wish-no-scribe = ninguna hilada cortada a la base
wish-why-unknown = Aquí no hay nada para { $asked }.
wish-why-level = No se encontró ninguna distribución con { $asked }: el tope está { $by } fuera de nivel.
wish-why-base = No se encontró ninguna distribución con { $asked }: la base cae { $fall }.
wish-why-falls = No se puede tener { $asked }: la base cae { $fall }, y una holgura que crece más de { $hidden } no se tapa.
wish-why-joint = No se encontró ninguna distribución con { $one } y { $other } con una junta de { $least } a { $most }, que es lo que usted permite. Coinciden con una de { $needed }.
wish-why-narrowest = No se encontró ninguna distribución sin cortes menores que { $wanted }. De las revisadas, en la mejor el corte más angosto es de { $possible }.
wish-why-narrowest-rest = No se encontró ninguna distribución con lo demás y sin cortes menores que { $wanted }. De las revisadas que tienen lo demás, en la mejor el corte más angosto es de { $possible }.
wish-one-by-one = Eso es lo primero que estorba. Lo que se puede de lo demás: pídalo de uno en uno.
wish-why-together = No se encontró ninguna distribución con { $asked }.
wish-opening-of-several = { $opening } ({ $nth } de ese nombre)
wish-and = { $one } y { $other }

# Lo que piden las reglas de un azulejo
sheet-facts = Cantos, tamaños y alabeo, para las reglas
sheet-facts-hint = Las reglas publicadas sobre la junta y las cejas los necesitan. Deje en blanco lo que no sepa: entonces no se habla de ello.
sheet-tile-edges = Cantos
sheet-tile-edges-hint = El azulejo rectificado se lija a la medida después de cocerse: cantos rectos y a escuadra, y la caja lo dice.
sheet-edges-unknown = no se sabe
sheet-edges-rectified = rectificado
sheet-edges-as-fired = sin rectificar
sheet-tile-variation = El mayor menos el menor de diez azulejos medidos
sheet-tile-variation-hint = Diez azulejos de tres cajas, el mismo lado de cada uno. Hágalo con los dos lados; vale la diferencia mayor.
sheet-tile-bow = Alabeo del canto más largo
sheet-tile-bow-hint = Ponga una regla sobre el azulejo a lo largo de su canto más largo y mida la mayor luz debajo. De los diez, el peor.
sheet-fault-fact = { $label }: es más de la décima parte del lado de { $side } del azulejo. Escriba la diferencia, no un tamaño, y revise la unidad.
sheet-fault-joint-turned = Las dos juntas están al revés: de { $least } a { $most }. Escriba primero la más angosta.

# Lo que explica, advierte y ofrece la página de la distribución
layout-explains-symmetry = Diferencia entre puntas: cuánto difieren, en promedio, los cortes de las dos puntas de una hilada y los que quedan frente a frente en paredes opuestas.
layout-explains-warnings = Reglas que revisar: cuántas reglas publicadas no cumple esta distribución. Vea cuáles:
layout-to-buy = por comprar: { $tile }
layout-misread = Mida otra vez antes de cortar
layout-quick = Esta es una primera propuesta rápida. Ver otras distribuciones tarda más y puede dar con mejores.
layout-quick-looking = Esta es una primera propuesta rápida y puede haber distribuciones mejores. Vea las otras antes de cortar.
layout-quick-first = Esta es una primera propuesta rápida. La mejor de las que se hallaron después: { $gains }. Véala antes de cortar.
layout-better = La distribución 1 de la lista es mejor, y en nada peor: { $gains }.
layout-better-in = { $measure } { $there } en vez de { $here }
layout-better-see = Ver las dos lado a lado

# Puesta en marcha, entrada, personas
set-up-title = Registrar al encargado
set-up-says = Aquí todavía nadie dirige esta cuadrilla. El encargado mide, elige la distribución y dice quién entra. Quien llene esto es el encargado.
set-up-name = Su nombre
set-up-name-hint = Como le dice la cuadrilla. Queda junto a lo que usted anota.
set-up-pin = Un PIN de seis cifras
set-up-pin-hint = Con él entra usted desde otro teléfono o computadora. Que no sea fácil de adivinar.
set-up-again = El mismo PIN otra vez
set-up-unit = La cinta de las obras nuevas está en
set-up-zone = Zona horaria de las obras nuevas
set-up-make = Yo soy el encargado
new-pin-title = Elegir un PIN nuevo
new-pin-says = { $name }, elija un PIN nuevo: con él dirige la cuadrilla desde este aparato y entra en otros. El anterior ya no vale. Sus obras y quien está dentro quedan como están.
new-pin-make = Usar este PIN
new-pin-done = { $count ->
    [0] El PIN nuevo ya vale. Ningún otro aparato está dentro como encargado.
    [one] El PIN nuevo ya vale. Otro aparato está dentro como encargado; si se perdió o no es suyo, cierre su sesión:
   *[other] El PIN nuevo ya vale. Otros { $count } aparatos están dentro como encargado; cierre la sesión de los perdidos o ajenos:
}
demo-says = Esta es la obra de muestra. Aquí no hay nada suyo que se pierda: quien está en la caja la dirige, sin PIN.
demo-lead = Estoy en la caja: dirigir la obra de muestra
fault-person-missing = Escriba su nombre.
fault-person-long = Use { $most } letras como mucho para el nombre.
fault-pin-six = Escriba seis cifras.
fault-pin-plain = Elija un PIN que no sea una cifra repetida ni cifras seguidas.
fault-pin-again = Los dos PIN son distintos. Escriba el mismo las dos veces.
fault-pin-wrong = Ese no es el PIN.
fault-pin-later = Demasiados PIN equivocados. Espere una hora, o ejecute "coursebook lead-link" en la caja para tener un enlace nuevo.
fault-pin-needs-link = Demasiados PIN equivocados en total. Ejecute "coursebook lead-link" en la caja para tener un enlace nuevo.
fault-pin-no-lead = Todavía no hay encargado. Abra el enlace que escribió la caja.
join-title = Entrar a la cuadrilla
join-name = Su nombre
join-name-hint = Como le dice la cuadrilla. Queda junto a lo que usted anota.
join-board-title = Agregar una pantalla que solo muestra
join-board-name = Cómo se llama esta pantalla
join-board-name-hint = Dónde está colgada, por ejemplo: tableta de la cocina.
join-send = Pedir entrada
join-wifi = Este teléfono puede soltar una red Wi-Fi que no tiene internet. Si pregunta, dígale que se quede; si no, apague los datos móviles mientras trabaja aquí.
wait-title = Espere al encargado
wait-says = { $name }: el encargado ve que usted espera y le da entrada. Esta página vuelve a mirar sola.
wait-look = Mirar otra vez
closed-title = Este enlace no abre
closed-used = Alguien ya usó este enlace: cada uno es para un solo aparato.
closed-expired = Este enlace es viejo: cada uno dura poco tiempo.
closed-revoked = Usted no entró: el encargado lo retiró, o pasó demasiado tiempo.
closed-unknown = No existe ese enlace: puede estar cortado o mal escrito.
closed-way = Pida uno nuevo al encargado: en Gente y aparatos se hace en un momento.
closed-way-lead = Ejecute "coursebook lead-link" en la caja para tener uno nuevo.
stranger-title = Usted todavía no ha entrado
stranger-says = Pida un enlace al encargado: él abre Gente y aparatos, y usted escanea el código con este teléfono.
stranger-no-lead = Aquí todavía nadie dirige esta cuadrilla. Abra el enlace que escribió la caja al arrancar.
stranger-sign-in = Soy el encargado y tengo PIN
sign-in-title = PIN del encargado
sign-in-pin = Su PIN
sign-in-send = Entrar
sign-in-lost = ¿Perdió el PIN? Ejecute "coursebook lead-link" en la caja: escribe un enlace con el que se elige otro.
error-lead-only = Eso solo lo hace el encargado. Pídaselo, o que lo haga en su propio teléfono.
error-board-reads = Esta pantalla solo muestra. Corte y anote en un teléfono que haya entrado como ayudante.
people-title = Gente y aparatos
people-waiting = Esperan entrada
people-let-in = Dar entrada a { $name }
people-turn-away = No dar entrada a { $name }
people-add = Agregar a alguien
people-add-says = Un enlace es para un solo aparato, sirve una vez y dura diez minutos. El ayudante corta y anota; las medidas, la distribución, los productos y la gente quedan con usted.
people-add-helper = Enlace para un ayudante
people-add-board = Enlace para una pantalla que solo muestra
people-in = Dentro ahora
people-end = Cerrar la sesión de { $name }
people-links = Enlaces que nadie ha usado
people-links-says = ¿Los vio quien no debía? Retírelos.
people-revoke = Retirar todos los enlaces sin usar
people-revoked = { $count ->
    [0] No hay ningún enlace sin usar.
    [one] Se retiró un enlace: ya no abre.
   *[other] Se retiraron { $count } enlaces: ya no abren.
}
people-look = Mirar otra vez quién espera
people-reached = Dónde encuentran los teléfonos coursebook
people-moved = Cambió la dirección de esta caja: la última vez era { $before }, ahora es { $now }. Los teléfonos que entraron con la anterior tienen que entrar de nuevo.
people-only-here = Ningún teléfono llega a este servidor: escucha solo en esta máquina. Arránquelo con --listen 0.0.0.0:8080 para que entren teléfonos.
device-more = { $role }, { $kind }, { $came }, { $seen }
device-phone = teléfono
device-computer = computadora
device-board = pantalla
device-this = este mismo
device-seen-now = visto hace un momento
device-seen-minutes = visto hace { $count } min
device-seen-hours = visto hace { $count } h
device-seen-days = visto hace { $count } d
role-lead = encargado
role-helper = ayudante
role-board = solo muestra
link-title = Enlace para un ayudante
link-board-title = Enlace para una pantalla que solo muestra
link-says = Que lo escanee, o mándele la dirección. Sirve una vez, dentro de diez minutos; después espera en Gente y aparatos hasta que usted le dé entrada.
link-code = La dirección como código para escanear
link-next = Quién espera
announce-at = coursebook está en { $url }
announce-also = también en { $url }
announce-moved = LA DIRECCIÓN CAMBIÓ: la última vez era { $before }. Los teléfonos que entraron allí buscan donde ya no es: tienen que entrar de nuevo.
announce-set-up = No hay encargado. Abra esto una sola vez, dentro de un día, en el teléfono o la computadora del encargado, o abra la dirección de arriba en esta máquina:
announce-lead-link = Abra esto una sola vez, dentro de diez minutos, en el teléfono o la computadora del encargado, y elija otro PIN:

# Quién tiene qué en la cortadora, y qué se rompió
saw-others-have-the-rest = Los demás tienen el resto en la mano. Lo cortado se ve aquí.
cut-held = en la mano: { $who }, { $when }
cut-in-your-hand = en su mano
cut-take-it = Guardar esta para mí
cut-let-go = Devolverla
cut-take-refused-title = { $piece } no le toca a usted
cut-refused-held = { $who } tiene { $piece } en la mano desde { $when }. A usted le sigue { $next }.
cut-refused-held-last = { $who } tiene { $piece } en la mano desde { $when }. Ahora no queda nada más por cortar.
saw-some-do-not-fit = No queda nada más por cortar, pero algunas piezas ya no caben en el plan. Están marcadas en la lista: abra cada una y recórtela, o corte otra.
cut-broke = Se rompió
cut-not-broken-after-all = No se rompió
cut-broke-refused-title = { $piece } no queda anotada como rota
cut-mend-refused-title = { $piece } sigue rota
cut-mend-refused-since = Desde entonces se cortó { $since } del azulejo que tomó su lugar. Anule eso primero.
saw-lost = Se rompió { $piece }, { $who }, { $when }. Lo que faltaba de esa parte sale de otro azulejo; lo que está en el estante sigue sirviendo.

# La cola de la cortadora
saw-wall-to-do = { $count ->
    [0] nada por cortar
   *[other] { $count } por cortar
}
saw-wall-cut = { $count ->
    [one] { $count } cortada
   *[other] { $count } cortadas
}
saw-of-tile = { $tile }: { $says }
saw-broken = { $count ->
    [one] Se rompió { $count }.
   *[other] Se rompieron { $count }.
}
saw-spare = { $count ->
    [0] No sobra ninguno.
    [one] Sobra { $count } azulejo.
   *[other] Sobran { $count } azulejos.
}
saw-short = { $count ->
    [one] { $count } azulejo más que los { $boxed } de cajas enteras: cuente lo que hay.
   *[other] { $count } azulejos más que los { $boxed } de cajas enteras: cuente lo que hay.
}
saw-in-all = { $count ->
    [one] Con eso el trabajo lleva un azulejo.
   *[other] Con eso el trabajo lleva { $count } azulejos.
}
saw-spare-unknown = La hoja no dice cuántos trae una caja; no se sabe cuántos sobran.

# Lo que se pulsó en un teléfono y todavía no tiene respuesta
outbox-title = Lo que guarda este teléfono
outbox-kept = guardado en este teléfono, sin enviar
outbox-waiting = Guardado en este teléfono, sin enviar: {"{"}count{"}"}
outbox-waiting-hint = Se envía solo, en este orden, en cuanto el servidor conteste. En la bitácora queda la hora en que llega.
outbox-attention = Hay que verlo: {"{"}count{"}"}
outbox-pressed = {"{"}what{"}"}, pulsado a las {"{"}time{"}"}
outbox-look = Verlo
outbox-again = Enviarlo otra vez
outbox-away = Descartarlo
outbox-silent = El servidor no lo aceptó y no dijo por qué.
error-two-keys = Este formulario llegó con dos claves, así que no se guardó nada. Abra la página otra vez y pulse ahí.
error-not-in = Este teléfono está fuera: el encargado lo sacó, o pasó mucho tiempo sin usarse. Lo que se pulsó sigue en él. Entre otra vez con un enlace del encargado y luego envíelo otra vez.
error-anothers = Cuando se pulsó esto, en este teléfono estaba otra persona. Si lo envía otra vez, queda anotado como suyo.
log-cut = Se cortó { $piece }.
log-not-cut = { $piece } no se había cortado.
log-broke = Se rompió { $piece }.
log-not-broke = { $piece } no se había roto.
log-laid = Se colocó { $piece }.
log-not-laid = { $piece } no se había colocado.

# El estante de retazos
rack-title = Estante de retazos
rack-empty = Todavía no hay nada. Conforme se corta, aquí sale cada retazo que se guarda: lo que lleva escrito, su medida, sus cantos de fábrica y qué piezas faltan por salir de él.
rack-hint = Dibujados como estaban en la cortadora, boca arriba. Las líneas gruesas son cantos de fábrica.
rack-edges = { $count ->
    [one] Canto de fábrica: { $sides }
   *[other] Cantos de fábrica: { $sides }
}
rack-no-edges = Ya no tiene canto de fábrica
rack-waits = Guardar para
rack-spare = de repuesto
rack-from = Sobró de { $piece }, { $who }, { $when }
rack-from-broken = Sobró de { $piece }, que se rompió

# Las paredes como las ve quien las pone
setting-title = Colocación
setting-course = Hilada { $course }
setting-strip = Cenefa sobre la hilada { $course }
setting-bring-up = Suba { $whole ->
    [one] { $whole } azulejo entero
   *[other] { $whole } azulejos enteros
}
setting-bring-cuts = { $whole ->
    [0] { $cuts ->
        [one] Suba esta pieza cortada:
       *[other] Suba estas { $cuts } piezas cortadas:
    }
    [one] { $cuts ->
        [one] Suba { $whole } azulejo entero y esta pieza cortada:
       *[other] Suba { $whole } azulejo entero y estas { $cuts } piezas cortadas:
    }
   *[other] { $cuts ->
        [one] Suba { $whole } azulejos enteros y esta pieza cortada:
       *[other] Suba { $whole } azulejos enteros y estas { $cuts } piezas cortadas:
    }
}
setting-cut = cortada
setting-to-cut = falta cortarla
setting-misfit = cortada, pero ya no cabe
setting-missing = { $count ->
    [one] Falta { $count } de las piezas cortadas.
   *[other] Faltan { $count } de las piezas cortadas.
}
setting-set = { $run }: colocada
setting-ready = todo cortado
setting-later = { $count ->
    [one] Después, { $count } hilada más
   *[other] Después, { $count } hiladas más
}
setting-laid = { $count ->
    [one] { $count } hilada colocada
   *[other] { $count } hiladas colocadas
}
setting-done = colocada, { $who }, { $when }
setting-on-board = colocada, según el tablero
setting-all = está toda colocada
setting-back = No se colocó
setting-to-saw = Al corte
setting-again = Volver a la colocación
setting-refused-title = { $run } no queda anotada como colocada
setting-stays-title = { $run } queda como está
setting-refused-already = { $run } ya se había anotado. Vea otra vez la página.
setting-refused-not-cut = { $count ->
    [one] Falta esta pieza de { $run }, o ya no cabe. Córtela primero.
   *[other] Faltan estas piezas de { $run }, o ya no caben. Córtelas primero.
}
setting-refused-board = Según el tablero, { $run } está colocada. Corríjalo primero allí.
setting-refused-plan = El plan cambió desde que se dibujó su página. Vea otra vez { $run } antes de decir que está puesta.
cut-hangs = Está en la pared, con { $run }.
cut-refused-set = { $piece } está en la pared, con { $run }. Si no es así, diga en Colocación que { $run } no se colocó.

# Las teclas debajo de una medida
pad-name = Teclas para una medida
pad-delete = Borrar
pad-space = Espacio
pad-keyboard = Teclado
pad-open = Teclas de medida
pad-done = Listo

# La ficha de la pared
wallcard-title = { $wall }: ficha de la pared
wallcard-link = Ficha de la pared
wallcard-now = Ahora
wallcard-next = Sigue
wallcard-nothing = Todavía no hay nada anotado de esta pared.
wallcard-finished = Todas las etapas de esta pared están hechas.
wallcard-strike = Líneas que trazar
wallcard-begins = empieza con { $width }
wallcard-begins-whole = empieza con un azulejo entero
wallcard-on-base = en la base
wallcard-with = Se coloca con
wallcard-tile = Azulejo
wallcard-joint = Junta
wallcard-joint-other = separadores de este ancho: así va la distribución elegida, y no con los { $sheet } de la hoja
wallcard-joint-says = separadores de este ancho
wallcard-bed = Cama de mortero
wallcard-mortar-was = Adhesivo con que se colocó
wallcard-mortar = Mortero
wallcard-mortar-untold = falta decir cuál saco es
wallcard-untold = Falta decirlo; véalo en el saco: qué llana y hacia dónde se peina, cuánta agua lleva un saco, cuánto reposa y cuándo se limpia por primera vez.
wallcard-measures = Medidas de esta pared

# Medida otra vez: una pieza que no cabe
fit-button = No cabe
fit-title = Medir otra vez { $piece }
fit-says = Mida el hueco libre en la pared, de azulejo o pared a azulejo o pared. Las juntas y holguras se descuentan aquí.
fit-opening-across = Ancho del hueco
fit-opening-up = Alto del hueco
fit-from-to = Desde { $from } hasta { $to }.
fit-plan = El plan tiene ahí { $opening }: una pieza de { $size }, { $low } y { $high }.
fit-longest-left = El corte va en cuña: mida en el extremo izquierdo, donde la pieza es más larga. La cuña queda igual.
fit-longest-right = El corte va en cuña: mida en el extremo derecho, donde la pieza es más larga. La cuña queda igual.
fit-stop-tile-left = el azulejo de la izquierda
fit-stop-tile-right = el azulejo de la derecha
fit-stop-tile-bottom = el azulejo de abajo
fit-stop-tile-top = el azulejo de arriba
fit-stop-corner-left = el rincón de la izquierda
fit-stop-corner-right = el rincón de la derecha
fit-stop-end-left = donde termina el azulejo a la izquierda
fit-stop-end-right = donde termina el azulejo a la derecha
fit-stop-base = la base
fit-stop-foot = el pie del azulejo
fit-stop-ceiling = el techo
fit-stop-end-top = donde termina el azulejo arriba
fit-free-joint = una junta de { $length }
fit-free-gap = una holgura de { $length }
fit-free-none = sin holgura
fit-comes-to-across = Hueco de { $opening }, menos { $low } y { $high }: { $piece } queda de { $size } de ancho.
fit-comes-to-up = Hueco de { $opening }, menos { $low } y { $high }: { $piece } queda de { $size } de alto.
fit-for = Para cuáles vale
fit-for-piece = Solo esta pieza
fit-for-course = También las demás de esta hilada que no estén cortadas: { $pieces }
fit-for-above = También las hiladas de arriba que no estén cortadas: { $pieces }
fit-save = Tomar esta medida
fit-otherwise = Si es otra cosa
fit-otherwise-says = Si toda la pared está mal medida, el encargado la mide otra vez; si las hiladas deben ir en otro lugar, el encargado mueve la distribución.
fit-to-wall = A las medidas de la pared
fit-to-layout = A la distribución
fit-back = Volver a { $piece }
fit-nothing-to-measure = Esta pieza es tan ancha y tan alta como su azulejo, así que no tiene lado cortado que cambiar. Si no cabe, lo que está al lado no quedó donde dice el plan.
fit-outrun = El plan cambió desde que se dibujó su página. Abajo está lo que escribió; revise las cifras de { $piece } y envíelo otra vez.
fit-fault-empty = Escriba lo que marcó la cinta.
fit-fault-empty-both = Escriba el ancho o el alto que marcó la cinta, o los dos.
fit-fault-nothing = { $label }: escriba lo que marcó la cinta entre los dos lados, más de 0.
fit-no-not-cut = { $piece } no se corta en ese sentido.
fit-no-nothing-left = Quitando junta y holgura quedan { $left } para { $piece }: muy poco para cortar. Revise la cinta; si está bien, déjelo como junta o pida al encargado que mueva la distribución.
fit-no-tile-as-wide = Ningún azulejo es tan ancho como { $wanted }, lo que mediría { $piece }: el azulejo es de { $tile }. Revise la cinta; si está bien, el encargado mueve la distribución, o el resto se llena con otra pieza.
fit-no-tile-as-high = Ningún azulejo es tan alto como { $wanted }, lo que mediría { $piece }: el azulejo es de { $tile }. Revise la cinta; si está bien, el encargado mueve la distribución, o el resto se llena con otra pieza.
fit-no-past-joint = { $piece } se pasaría { $by } de la siguiente junta del aparejo. Pida al encargado que mueva la distribución.
fit-no-falls-apart = { $piece } no quedaría de una sola pieza, o perdería aquello que rodea. Pida al encargado que mida la pared otra vez.
fit-no-one-by-one = Tome la medida solo para esta pieza, y mida la otra por separado.
fit-no-plan = Una pieza de esta medida no sale del azulejo con los cantos de fábrica que deben quedar a la vista. No se cambió nada. Pida al encargado que mueva la distribución.
fit-told-sizes = { $count ->
    [one] { $piece } tiene otra medida
   *[other] { $count } piezas tienen otra medida
}
fit-told-same = { $piece } cabe como está en el plan
fit-told-taken-back = Se deshizo: el plan ya no se guía por esto.
fit-told-other-plan = La distribución cambió desde entonces. Mida otra vez.
fit-cost-none = Ni un azulejo más: { $all }, como antes.
fit-cost-more = { $count ->
    [one] Un azulejo más: { $all }.
   *[other] { $count } azulejos más: { $all }.
}
fit-cost-fewer = { $count ->
    [one] Un azulejo menos: { $all }.
   *[other] { $count } azulejos menos: { $all }.
}
fit-line-across = { $now } de ancho, en el plan { $was }
fit-line-up = { $now } de alto, en el plan { $was }
fit-line-same = como en el plan
fit-line-whole = ahora es un azulejo entero
fit-line-cut = cortada, y no cabe: se corta otra
fit-to-saw = A la cortadora
fit-again = Medir otra vez
fit-take-back = Al final no
fit-standing = { $piece } se midió otra vez: { $who }, { $when }
fit-unheld = Medido en la pared para otra distribución, y no está en este plan: { $pieces }. Mida otra vez donde todavía haga falta.
fit-back-refused-title = La medida se queda
fit-back-gone = Esto ya se deshizo.
fit-back-cut-since = { $piece } ya se cortó a esta medida. Si también está mal, deshaga primero ese corte.
cut-free = Escriba { $label } en el retazo rayado, si no lo tiene ya, y guárdelo de repuesto: ninguna pieza lo necesita ahora.
cutlist-leaves-free = { $label }, de repuesto
fit-proof-open = Algunas piezas se midieron otra vez cuando otras ya estaban cortadas. Las cifras de abajo son de lo que faltaba entonces; { $count ->
    [one] un azulejo ya estaba cortado y queda como está.
   *[other] { $count } azulejos ya estaban cortados y quedan como están.
}
log-measured = { $piece } se midió otra vez: { $sizes }.
log-measured-others = { $count ->
    [one] Vale también para { $count } pieza más.
   *[other] Vale también para { $count } piezas más.
}
log-not-measured = Se deshizo lo que se midió de { $piece }.

# Lo cortado que ya no cabe
cut-trim = Recortarla
cut-trim-take = { $piece } como está cortada
cut-trimmed = recortada, { $who }, { $when }
cut-not-trimmed-after-all = No se recortó
cut-trim-refused-title = { $piece } no queda anotada como recortada
cut-trim-refused-again = { $piece } ya se recortó: { $who }, { $when }.
cut-trim-back-refused-title = { $piece } sigue recortada
cut-anew = Cortar otra nueva
cut-anew-hint = La que está cortada no se puede recortar a esto. Guárdela de repuesto; la nueva sale de otro azulejo.
cut-not-anew-after-all = Se queda como se cortó
saw-anew = Hay que cortar otra { $piece }: { $who }, { $when }. La que no cabe queda de repuesto; lo que está en el estante sigue sirviendo.
saw-in-vain = { $count ->
    [one] { $count } cortada en vano.
   *[other] { $count } cortadas en vano.
}
fit-line-trim = cortada, y ahora hay que recortarla
fit-cost-anew = Hay que cortar otra { $piece }.
log-trimmed = Se recortó { $piece } de { $from } a { $to }.
log-not-trimmed = { $piece } no se había recortado.
log-anew = { $piece } no cabía y se corta otra.
log-not-anew = { $piece } se queda como se había cortado.
fit-doubt = Muy lejos del plan
fit-far-narrower = Son { $off } más angosto que en el plan ({ $now } en vez de { $was }). ¿Está bien?
fit-far-wider = Son { $off } más ancho que en el plan ({ $now } en vez de { $was }). ¿Está bien?
fit-far-lower = Son { $off } más bajo que en el plan ({ $now } en vez de { $was }). ¿Está bien?
fit-far-higher = Son { $off } más alto que en el plan ({ $now } en vez de { $was }). ¿Está bien?
fit-sure = Está bien: tomar esta medida
cut-is-cut = Ya está cortada
cut-to-say = A { $piece }, y a decir que ya está cortada
cut-measure-again = Medir su lugar otra vez
cut-refused-other-tile = El plan cambió desde que se dibujó su página. { $piece } conserva su medida, y ahora sale de { $take }.
cut-refused-other-tile-do = Si ya está cortada, marque «Ya está cortada». Si después la cortadora pide un retazo que ya no está, marque ahí «Se rompió».
cut-refused-other-size = El plan cambió desde que se dibujó su página. { $piece } ahora mide { $size }.
cut-refused-other-size-do = Si está cortada a la medida de antes, déjela en el estante de repuesto y corte otra; o mida su lugar otra vez, por si la medida de antes era la buena.
cut-refused-no-piece = En el plan ya no hay que cortar { $piece }. Si está cortada, déjela en el estante de repuesto.
cut-take-first = Tomar esta pieza
cut-take-first-why = Hay otros trabajando: tómela primero, para que nadie más la corte.

# Otra distribución con el trabajo empezado
price-title = Lo que cuesta este cambio
price-misfits = { $count ->
    [0] Todo lo cortado sigue sirviendo.
    [one] Una pieza cortada ya no serviría.
   *[other] { $count } piezas cortadas ya no servirían.
}
price-as-many = Los mismos azulejos que antes: { $all }.
price-more = { $count ->
    [one] Un azulejo más: { $all } en total.
   *[other] { $count } azulejos más: { $all } en total.
}
price-fewer = { $count ->
    [one] Un azulejo menos: { $all } en total.
   *[other] { $count } azulejos menos: { $all } en total.
}
price-what = Lo que se mueve
price-kept = { $wall } ya está puesta, o se está poniendo: se queda como está.
price-partly = Así que solo las paredes sin poner toman lo elegido.
price-do = Cambiar la distribución
price-do-walls = Guardar lo medido
price-do-sheet = Cambiar la hoja
price-back-wall = Volver a la pared
price-back-sheet = Volver a la hoja
relaid-wall = { $wall }: medida o descrita de nuevo.
relaid-no-wall = { $wall } ya no es parte de la obra.
relaid-terms = La hoja es otra: azulejos, junta, cortadora o separaciones.
price-leave = Dejarla como está
price-outrun = Alguien siguió trabajando mientras esta página estaba abierta, y el cambio ya cuesta otra cosa. Revíselo otra vez.
price-refused-title = La distribución se queda
price-hangs = { $wall } ya está puesta, o se está poniendo, y esto movería sus azulejos. No se cambió nada.
price-no-layout = Con eso no sale ninguna distribución. No se cambió nada.
relaid-start = { $wall }: junta vertical a { $after } del extremo izquierdo; antes, { $before }.
relaid-strip = { $wall }, cenefa: junta vertical a { $after } del extremo izquierdo; antes, { $before }.
relaid-first = { $wall }, primera hilada: { $after }. Antes: { $before }.
relaid-climb = { $wall }: las hiladas se desfasan hacia la { $after }; antes, hacia la { $before }.
relaid-left = izquierda
relaid-right = derecha
relaid-line = Una junta entre hiladas { $after }; antes, { $before }.
relaid-joint = Junta de { $after }; antes, { $before }.
log-relaid = Otra distribución. { $says }

# Lo que solo cambia el encargado
lead-changes-this = Esto solo lo cambia el encargado. Aquí se puede leer.

# Azulejos que quedan, contados a mano
stock-title = Azulejos que quedan
stock-says = Cuente todos los azulejos enteros, ni cortados ni puestos, también los que ya están junto a la pared.
stock-label = { $tile }: azulejos enteros que quedan
stock-save = Tomar esta cuenta
stock-fault = Escriba un número entero de azulejos, por ejemplo 12.
stock-needed = Hacen falta { $needed }
stock-left-needed = Quedan { $left }, hacen falta { $needed }
stock-short = { $count ->
    [one] Falta un azulejo
   *[other] Faltan { $count } azulejos
}
stock-enough = { $count ->
    [0] Justo alcanza
    [one] Alcanza: sobra uno
   *[other] Alcanza: sobran { $count }
}
stock-made-of = { $whole ->
    [one] Un azulejo entero por poner,
   *[other] { $whole } azulejos enteros por poner,
} { $cut ->
    [one] uno por cortar.
   *[other] { $cut } por cortar.
}
stock-proved = No hay forma de cortar lo que falta con menos, aprovechando los retazos del estante.
stock-at-least = Por lo menos { $count }, se corte como se corte lo que falta.
stock-buy = { $count ->
    [one] Compre un azulejo.
   *[other] Compre { $count } azulejos.
}
stock-buy-boxes = { $count ->
    [one] Compre un azulejo:
   *[other] Compre { $count } azulejos:
} { $boxes ->
    [one] una caja.
   *[other] { $boxes } cajas.
}
stock-finish = Con lo que hay se puede terminar: { $walls }.
stock-finish-none = Con lo que hay no se termina ninguna pared.
stock-wait = Espera azulejo: { $walls }.
stock-counted = { $who } contó { $left }, { $when }; usados desde entonces: { $used }.
stock-saved = { $count ->
    [one] Lo que faltaba cortar se planeó otra vez: un azulejo menos que antes.
   *[other] Lo que faltaba cortar se planeó otra vez: { $count } azulejos menos que antes.
}
log-counted = { $tile }: quedan { $left } contados a mano, hacen falta { $needed }, por lo menos { $bound }.
log-counted-proved = { $tile }: quedan { $left } contados a mano, hacen falta { $needed }, y no hay forma de cortar con menos.
saw-counted = { $count ->
    [one] Quedaba uno cuando se contaron, { $when }.
   *[other] Quedaban { $count } cuando se contaron, { $when }.
}

# Lo que cambió en la mano de alguien
cut-changed = Era { $was }, ahora { $now }: { $by }
cut-changed-shape = Ahora tiene otra forma: { $by }
cut-changed-measured = { $who } volvió a medir, { $when }
cut-changed-taken-back = { $who } retiró una medida, { $when }
cut-changed-layout = { $who } cambió la distribución, { $when }
cut-changed-do = Si ya está cortada como era antes, corte lo que sobra antes de decir que está cortada. Si quedó corta, marque «Se rompió».
cut-changed-go-on = Seguir con { $now }
cut-changed-gone = { $piece }, que usted tenía en la mano, ya no se corta: { $by }. Si ya está cortada, déjela en el estante de repuesto.
price-held = { $who } tiene { $piece } en la mano, y esto la cambia. Avísele.
fit-line-held = en la mano: { $who }. Avísele
cut-take-over = Quitársela a { $who }
cut-taken-from-you = { $who } se hizo cargo de { $piece }, que usted tenía en la mano, { $when }. Déjesela.
log-taken-over = { $piece } pasó a otra mano; la tenía { $from }.
cut-broke-again-title = ¿Se rompió otra { $piece }?
cut-broke-again = Usted dijo hace un momento que { $piece } se rompió, y eso ya está contado. Ahora no se contó nada más.
cut-broke-again-no = No, solo esa
cut-broke-again-yes = Sí, contar otra más
saw-broke-now = { $piece } se rompió; van { $count }.
saw-broke-then = Ahora tome { $take }.
fit-to-trim = Recortar { $piece }
fit-to-anew = Cortar { $piece } otra vez
device-came-minutes = aquí desde hace { $count } min
device-came-hours = aquí desde hace { $count } h
device-came-days = aquí desde hace { $count ->
    [one] { $count } día
   *[other] { $count } días
}
people-brief = gente
people-end-sure = { $name }, { $kind }, { $came }, { $seen }. Queda fuera enseguida, y la pieza que tenía en la mano queda libre.
people-end-yes = Sí, sacarlo
setting-not-yet = Le toca cuando esté colocada la hilada de abajo.
uncut-title = ¿Está terminado de todos modos?
uncut-says = { $count ->
    [one] Una pieza de esto no está cortada.
   *[other] { $count } piezas de esto no están cortadas.
} Todavía no se anotó nada.
uncut-yes = Está colocada de todos modos: anotarlo
uncut-no = No está colocada: volver

# Qué tan frío está
degrees-c = { $number } °C
degrees-f = { $number } °F
temperature-title = Temperatura
temperature-now = ¿Qué tan frío está ahora?
temperature-surface = Mida la pared misma, no el aire: ponga el termómetro sobre el azulejo o el tablero.
temperature-cold = Frío
temperature-cool = Fresco
temperature-normal = Normal
temperature-from-to = de { $from } a { $to }
temperature-from = { $from } o más
temperature-number = O el número
temperature-hint-c = En °C, como 10 o 10.5. Para Fahrenheit escriba F detrás.
temperature-hint-f = En °F, como 50. Para Celsius escriba C detrás.
temperature-where = Dónde
temperature-room = Todo el cuarto
temperature-earlier = Se midió antes
temperature-earlier-hint = Lo que se dice tarde puede ser de cualquier momento desde entonces, así que hasta la siguiente medida cuenta la más fría.
temperature-save = Guardar la temperatura
temperature-more = Número, noches y todas las medidas
temperature-counts = Ahora cuenta { $degrees }.
temperature-counts-unknown = Se midieron { $degrees }, pero nadie ha dicho qué tan frías son las noches: cuentan los tiempos más largos.
temperature-nothing = Nadie ha dicho qué tan frío está: cuentan los tiempos más largos.
temperature-rule = Los tiempos de espera son para { $reference } o más. Por cada 8 °C (14 °F) menos se duplican; el calor nunca los acorta. Entre dos medidas cuenta la más fría. Después de la última, antes de la primera y en un hueco de más de 6 horas cuenta también la más fría de las noches.
temperature-night = La más fría de las noches
temperature-night-is = De noche baja hasta { $degrees }.
temperature-night-none = Nadie ha dicho qué tan frías son las noches.
temperature-night-lowest = Lo más frío que llega a estar este cuarto de noche
temperature-night-hint = Lo que llega a enfriarse la pared, no el pronóstico de afuera. Vale también para anoche y para todas las noches de aquí en adelante.
temperature-night-save = Guardar la mínima de noche
temperature-readings = Lo que se midió
temperature-none = Todavía no se ha medido nada.
temperature-read = { $place }: { $degrees }, { $when }.
temperature-never-read = { $place }: se retiró la medida, { $when }.
temperature-corrected = La corrigió { $who }, { $when }.
temperature-correct = Corregir una medida
temperature-both-stay = No se borra nada: la corrección es una anotación más y las dos se siguen leyendo. Cuenta desde cuando contaba la primera.
temperature-right-number = Era otra temperatura
temperature-right-never = Nunca se midió
temperature-right = La temperatura correcta
temperature-warmer-is-the-leads = Usted puede corregirla a más frío. Más calor acorta las esperas, así que solo el encargado la corrige a más calor o la retira. Si desde entonces subió, diga qué tan frío está ahora.
temperature-reason-hint = Hace falta si sube o se retira. Pocas palabras; quedan con la anotación.
fault-temperatures-many = Esta obra ya tiene { $most } de estas, que es el máximo. Lo último que se dijo sigue contando.
temperature-latest = Las últimas { $most } de { $count }. Todas están en el registro.
fault-reading-warmer = Esto acortaría las esperas: solo el encargado corrige una medida a más calor o la retira.
fault-degrees = Escriba una temperatura, como 10 °C o 50 °F.
fault-degrees-range = Una pared está entre −40 °C y 60 °C (−40 °F y 140 °F). Mire otra vez el termómetro.
fault-lowest-colder = Es más frío que lo usual, { $usual }: diga por qué, por ejemplo lo que dice el saco.
lowest-title = Lo más frío a lo que trabaja
lowest-own = Del saco, como lo anotó la cuadrilla. Lo usual de su clase: { $usual }.
lowest-usual = Revise el saco. De memoria, no visto impreso. Por debajo de esto el tiempo se detiene.
lowest-hint = La temperatura mínima de trabajo que dice el saco. Déjelo vacío para la usual: { $usual }.
lowest-why = Por qué es más fría que la usual
gate-cold = El frío lo alarga { $longer }: { $window } a { $warm }, y { $whole } a { $degrees }.
gate-cold-before = El frío lo alargó { $longer }.
gate-cold-unknown = Nadie ha dicho qué tan frío se pone, así que se toman { $whole } en lugar de { $window }: { $longer } más. Diga qué tan frío está ahora y cuál es la más fría de las noches.
gate-stopped = Está detenido: a { $degrees } no endurece { $product }, que trabaja desde { $lowest }. Caliente la pared; entonces faltan { $left } a { $warm }.
wait-cold = A { $degrees } son { $whole }
wait-cold-unknown = Se toman { $whole } mientras nadie diga qué tan frío está
wait-cold-stopped = Por debajo de { $lowest } se detiene, como ahora
state-too-cold = Todavía no: demasiado frío
state-stopped = { $degrees }; el tiempo se detiene por debajo de { $lowest }
state-longer = { $longer } más por el frío
state-longer-unknown = { $longer } más: nadie dijo qué tan frío está
state-froze = Pudo congelarse: revise si pegó bien
entry-froze = Pudo congelarse antes de endurecer: revise si pegó bien.
cell-concrete = Solo como dato: por la curva del concreto tiene { $age } h, de { $window }. Esa curva pide menos paciencia y aquí ningún tiempo va por ella.
log-night = De noche baja hasta { $degrees }.
log-reading-corrected = { $place }: se corrigió a { $degrees }.

# Mezclas de mortero y boquilla
batches-title = Mezclas
batches-what = Avise cuando mezcle: así cada teléfono cuenta el tiempo que le queda, y el registro sabe qué lote hay detrás de cada pared.
batches-none = No hay ninguna mezcla en uso.
batches-more = Todas las mezclas y cuánto mezclar
batches-all = Todas las mezclas
batches-never = Todavía no se ha mezclado nada.
batch-number = Mezcla { $number }
batch-with-lot = { $batch }: { $product }, lote { $lot }
batch-without-lot = { $batch }: { $product }
batch-short = mezcla { $number }
batch-short-lot = mezcla { $number } (lote { $lot })
batch-mixed-now = Recién mezclado: { $product }
batch-mixed-now-lot = Recién mezclado: { $product }, lote { $lot }
batch-rests = Reposa hasta { $at }; luego se remueve otra vez
batch-use-by = Úsela antes de { $at }
batch-past = Se le pasó el tiempo: tírela. Servía hasta { $at }, hace { $since }.
batch-unknown = Nadie puede decir cuánto tiempo tiene: la caja se reinició. Si duda, tírela.
batch-time-up = Se acabó el tiempo
batch-left = Le queda:
batch-wipe = Limpie lo que se aplicó primero desde { $from }, a más tardar { $by }
batch-powder = Polvo: { $amount }.
batch-water = Agua: { $amount }.
batch-warm = Se mezcló a { $degrees }.
batch-too-wet = Más agua de la que permite el saco: como mucho { $most } para ese polvo.
batch-too-wet-usual = Más agua de la que suele llevar este tipo: como mucho { $most } para ese polvo. Mire el saco.
batch-used-up = Se terminó
batch-correct = Corregir una mezcla
batch-mix = Mezclar { $product }
batch-mixed = Recién mezclado
batch-more = Polvo, agua, hace rato
batch-lot = Lote del saco
batch-lot-hint = Una vez por saco: se queda para la mezcla siguiente.
batch-powder-label = Polvo
batch-powder-hint-kg = En sacos o kilos: 1/2, 1 saco, 7.5 kg.
batch-powder-hint-lb = En sacos o libras: 1/2, 1 saco, 15 lb.
batch-water-label = Agua
batch-water-hint-l = En litros: 2.5 l.
batch-water-hint-qt = En cuartos o galones: 2.5 qt, 1 gal.
batch-degrees-label = A qué temperatura está la mezcla
batch-minutes-label = Se mezcló hace tantos minutos
batch-minutes-hint = Déjelo vacío si fue ahora mismo.
batch-told = Se mezcló { $when }; lo dijo { $who }.
batch-mixed-at = Se mezcló { $when }.
batch-over = Se terminó { $when }.
batch-never-mixed = Nunca se mezcló.
batch-behind = Está detrás de: { $parts }.
batch-both-stay = No se borra nada: la corrección es otra anotación, y las dos se pueden leer. La hora de la mezcla queda como se dijo.
batch-right-figures = El lote, el polvo, el agua o la temperatura era otra cosa
batch-right-never = Nunca se mezcló
batch-size = Mezcle { $bags } de una vez ({ $powder }) con { $least } a { $most } de agua. Alcanza para { $area } en los { $working } que sirve después de reposar.
batch-size-less = Mezcle menos de medio saco de una vez: unos { $powder } con { $least } a { $most } de agua. Alcanza para { $area } en los { $working } que sirve después de reposar.
batch-size-no-plan = Cuánto mezclar se dirá cuando haya una distribución, o cuando el producto diga cuánto cubre un saco.
batch-spread = Extienda como mucho { $area } de una vez, menos si hay corriente de aire: lo demás hace costra antes de llevar azulejo.
batch-rate-measured = Ritmo: { $area } por hora, según el registro de esta cuadrilla.
batch-rate-usual = Ritmo: { $area } por hora, costumbre del oficio hasta que el registro de esta cuadrilla diga bastante.
batch-use-bag = Polvo: { $powder } por metro cuadrado, según lo que cubre el saco.
batch-use-usual = Polvo: { $powder } por metro cuadrado, según tablas publicadas. Mire el saco.
batch-water-usual = Agua: la que suele llevar este tipo, de memoria. Lo que diga el saco va primero.
batch-heat = A { $degrees } sirve menos tiempo.
batch-choice = { $batch }, mezclada { $when }
batch-choice-running = Las { $count } en uso
batch-choice-all = Las { $count } de hoy
batch-choice-none = De ninguna de estas
cell-batches = ¿De qué mezcla?
mend-batches = Fue de otras mezclas
mend-batches-label = La mezcla correcta
entry-batches = De: { $batches }.
log-batch = { $batch }, hecha { $when }: { $product }.
log-batch-lot = { $batch }, hecha { $when }: { $product }, lote { $lot }.
log-batch-corrected = { $batch }, corregida: { $product }.
log-batch-corrected-lot = { $batch }, corregida: { $product }, lote { $lot }.
log-batch-never = { $batch }: nunca se mezcló.
log-batch-over = Se terminó: { $batch }.
amount-kg = { $number } kg
amount-lb = { $number } lb
amount-l = { $number } l
amount-qt = { $number } cuartos
amount-m2 = { $number } m²
amount-sq-ft = { $number } pies²
amount-half-bag = medio saco
amount-one-bag = 1 saco
amount-bags = { $number } sacos
figures-title = Lo que dice el saco de la mezcla
figure-rest = Reposo antes de remover otra vez
figure-pot_life = Tiempo de uso de la mezcla
figure-open_time = Tiempo abierto
figure-wipe_from = Primera limpieza desde, después de aplicar
figure-wipe_by = Primera limpieza a más tardar, después de aplicar
figure-water_least = Lo menos de agua por saco
figure-water_most = Lo más de agua por saco
figure-bag = Lo que trae un saco
figure-covers = Lo que cubre un saco
figure-hint = Déjelo vacío para lo usual: { $usual }.
figure-hint-none = Déjelo vacío si el saco no lo dice.
figure-own = Del saco, como lo anotó la cuadrilla. Lo usual para su clase: { $usual }.
figure-own-alone = Del saco, como lo anotó la cuadrilla.
figure-published = Mire el saco. Publicado: { $place }.
figure-common-practice = Mire el saco. Costumbre del oficio.
figure-from-memory = Mire el saco. De memoria, no se ha visto impreso.
fault-lot = Escriba el lote con { $most } letras y cifras como mucho.
fault-powder = Escriba el polvo como 1/2 saco o con su unidad, como 7.5 kg o 15 lb.
fault-powder-absurd = Nadie mezcla tanto ni tan poco polvo de una vez: mire otra vez.
fault-powder-missing = Diga también cuánto polvo: sin eso el agua no dice nada.
fault-water = Escriba el agua con su unidad, como 2.5 l o 2.5 qt.
fault-water-absurd = Tanta o tan poca agua no puede ser para ese polvo: mire otra vez las dos cosas.
fault-batch-minutes = Escriba minutos enteros, 720 como mucho.
fault-batches-many = Ya hay tantas mezclas como caben en una obra: { $most }.
fault-bag = Escriba el peso como 20 kg o 50 lb.
fault-area = Escriba la superficie como 6.5 m² o 65 sq ft.
fault-figure-not-of-class = Un producto de este tipo no tiene esa cifra: déjela vacía.
fault-figure-range = Ningún saco dice eso: mire otra vez.
fault-figures-cross = Se contradicen: «{ $less }» debe ser menos que «{ $more }».

# Los pasos siguientes en un calendario
calendar-title = Calendario
calendar-what = Cuándo se puede empezar cada etapa y cuándo se acaba una mezcla, para el calendario de un teléfono. Cada paso tiene su alarma. Una etapa cuya hora no se puede decir no sale.
calendar-none = Ningún paso tiene hora por ahora.
calendar-step = { $when }: { $step }
calendar-file = Guardar como archivo
calendar-feed = Una dirección para un calendario
calendar-feed-what = Un calendario que tiene la dirección trae los pasos por sí solo y los mantiene al día mientras alcance esta caja. Quien conozca la dirección puede leerlos sin entrar.
calendar-no-feed = No hay ninguna dirección vigente.
calendar-made-by = La hizo { $who }, { $when }.
calendar-make = Hacer una dirección
calendar-revoke = Anular todas las direcciones
calendar-made-title = La dirección del calendario
calendar-made-what = Cópiela ahora en el calendario: solo se enseña esta vez. Quien la conozca puede leer los pasos hasta que usted la anule.
calendar-made-done = Ya está copiada
calendar-name = { $job }: pasos siguientes
calendar-may-start = { $wall }: ya se puede empezar: { $stage }
calendar-use-by = Se acaba el tiempo: { $batch }
calendar-wipe = Primera limpieza: { $batch }

# Etapas de una obra
stages-title = Etapas de esta obra
stages-says = El tablero muestra las etapas marcadas de cada pared. Cada una espera a que termine lo que va antes y pase su tiempo. Una etapa sin marcar no quita la espera: lo que sigue espera lo mismo que ella habría esperado.
stages-work = Clase de trabajo
stages-work-hint = Marca lo que este trabajo lleva de costumbre. No se guarda nada hasta que usted lo diga.
stages-show = Marcar sus etapas
stages-on = En esta obra
stages-after = después de { $stages }
stages-after-nothing = no espera nada
stages-why = Por qué se quita una etapa
stages-why-hint = Si es la impermeabilización o su prueba: quién la hace, cuándo y qué prueba hay. Queda en la bitácora.
stages-save = Usar estas etapas
stages-fault-none = Marque al menos una etapa.
stages-fault-why = { $stage } se quita de esta obra: diga quién la hace, cuándo y qué prueba hay.
work-tile_work = solo azulejo: colocar, clips, emboquillar, sellar
work-shower_wall = paredes de regadera, con impermeabilización y su prueba
work-tub_surround = alrededor de la tina, con impermeabilización
work-floor = piso
work-wet_floor = piso con impermeabilización y su prueba
work-backsplash = salpicadero
job-work = Clase de trabajo
job-work-hint = Dice con qué etapas empieza el tablero. Después se pone o se quita cualquiera.
log-stages-on = Desde ahora en esta obra: { $stages }.
log-stages-off = Ya no va en esta obra: { $stages }.
stage-membrane = Impermeabilización
stage-test_filled = Prueba de agua llena
stage-test_passed = Prueba de agua pasada
stage-sealant = Silicona
stage-walk_on = Se puede pisar
stage-heavy_use = Uso pesado
stage-water_on = Agua
stage-was-membrane = { $part } recibió la última capa de impermeabilizante el { $when }: { $product }.
stage-was-test_filled = { $part }: se llenó para la prueba de agua el { $when }.
stage-was-test_passed = { $part }: la prueba de agua aguantó, el { $when }.
stage-was-sealant = { $part } recibió la silicona el { $when }: { $product }.
stage-was-walk_on = { $part }: abierto a la gente el { $when }.
stage-was-heavy_use = { $part }: abierto a uso pesado el { $when }.
stage-was-water_on = { $part }: con agua el { $when }.
product-class-liquid_membrane = membrana líquida
window-membrane_to_test = De la última capa a llenar para la prueba de agua
window-membrane_to_tile = De la última capa a colocar azulejo
window-grout_to_sealant = Del fin del emboquillado a la silicona
window-grout_to_walk = Del fin del emboquillado a pisar
window-grout_to_heavy_use = Del fin del emboquillado a muebles y cargas
window-sealant_to_seal = Del fin de la silicona a sellar
grounds-membrane = los fabricantes piden de 12 a 24 h antes de la prueba de agua; capas gruesas y cuartos fríos tardan más
grounds-grout-to-sealant = la boquilla de al lado está seca al día siguiente
grounds-grout-to-walk = paso ligero al día siguiente
grounds-grout-to-heavy-use = 72 h antes de paso pesado, citado de TCNA y ANSI A108.10
grounds-sealant-to-seal = hace piel en una hora, y el cordón está firme al día siguiente
caution-membrane = Guantes y aire fresco. La membrana está lista cuando está seca y de un color parejo en todas partes: el tiempo solo no basta (práctica común). Un agujero hecho después la abre otra vez, y también su prueba.
caution-test = Tape el desagüe, llene hasta debajo del umbral, marque el nivel del agua y mire el techo de abajo (práctica común). El tiempo y la altura que pida el inspector valen antes que estas 24 h. Anote quién fue testigo.
caution-joints = Rincones, base y remate quedan sin boquilla: ahí va silicona (TCNA EJ171).
caution-sealant = Aire fresco, nada de llamas. Llene la tina antes de sellar su borde, y déjela llena hasta que la silicona esté firme (práctica común).
caution-floor = Hasta entonces nadie lo pisa; unas tablas reparten el peso de lo que deba cruzar (práctica común).
caution-valve = Una válvula o un calentador lo conecta una persona con licencia.
