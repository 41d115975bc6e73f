# Words of the frame
skip-to-main = Skip to the page
places-label = Places of this job
place-wall = Wall
place-saw = Saw
place-board = Board
fault-before-title = Error:
faults-title = Something needs changing

# When there is no page
error-title = That did not work
error-back = Back to the jobs
error-not-found = There is no such page. The address may be mistyped, or the wall was renamed.
error-stale = Someone else changed this while your page was open. Go back, reload the page and make the change again.
error-bad-form = This form could not be read. Go back, reload the page and send it again.
error-too-large = That is more than one form can hold. Send less at once.
error-disk-full = The disk of the box is full, so nothing was saved. Free some space and send it again.
error-ours = The fault is ours, not yours. Nothing was saved. It is in the log under number { $number }.

# Jobs
jobs-title = Jobs
jobs-empty = No jobs yet. Start one: give it a name, then measure the first wall from the level line.
job-new = Start a job
job-new-title = New job
job-name = Name of the job
job-name-hint = The house and the room, as the crew says it.
job-unit = The tape reads
job-unit-mm = millimetres
job-unit-in = inches
job-zone = Time zone
job-zone-hint = As in Europe/Lisbon or America/Denver. Every time on the board is shown in it.
job-make = Start the job
job-walls = { $count ->
    [0] no walls yet
    [one] { $count } wall
   *[other] { $count } walls
}
fault-name-missing = Give the job a name.
fault-name-long = Use at most { $most } characters for the name.
fault-choice = Choose one of the list.
fault-zone = Write the time zone as region and city, like Europe/Lisbon.

# Times
time-at = { $day } { $clock }
time-at-zone = { $day } { $clock } { $zone }
time-date = { $weekday } { $day } { $month },
time-date-year = { $weekday } { $day } { $month } { $year },
time-am = { $clock } am
time-pm = { $clock } pm
time-today = today
time-yesterday = yesterday
time-days = { $days } days
time-hours = { $hours } h
time-minutes = { $minutes } min
time-hours-minutes = { $hours } h { $minutes } min
time-monday = Mon
time-tuesday = Tue
time-wednesday = Wed
time-thursday = Thu
time-friday = Fri
time-saturday = Sat
time-sunday = Sun
time-month-1 = Jan
time-month-2 = Feb
time-month-3 = Mar
time-month-4 = Apr
time-month-5 = May
time-month-6 = Jun
time-month-7 = Jul
time-month-8 = Aug
time-month-9 = Sep
time-month-10 = Oct
time-month-11 = Nov
time-month-12 = Dec

# Stages, products and waits
stage-set = Set
stage-clip_removal = Clips off
stage-grout = Grout
stage-seal = Seal
stage-was-set = { $part } was set { $when } with { $product }.
stage-was-clip_removal = { $part }: the clips came off { $when }.
stage-was-grout = { $part } was grouted { $when } with { $product }.
stage-was-seal = { $part } was sealed { $when } with { $product }.
part-courses = { $wall }, courses { $first } to { $last }
product-class-cement_mortar = normal cement mortar
product-class-fast_cement_mortar = fast cement mortar
product-class-dispersion = ready-mixed adhesive
product-class-epoxy_mortar = epoxy mortar
product-class-cement_grout = normal cement grout
product-class-fast_cement_grout = fast cement grout
product-class-epoxy_grout = epoxy grout
product-class-penetrating_sealer = penetrating sealer
product-class-silicone_sealant = silicone sealant
product-unknown = a product that nobody named
bed-over_membrane = over a membrane
bed-ordinary = on board or render
window-set_to_clips = From the last tile set to taking the clips off
window-set_to_grout = From the last tile set to grouting
window-grout_to_seal = From the end of grouting to sealing
window-grout_to_water = From the end of grouting to water on it
window-seal_to_water = From the end of sealing to water on it
window-sealant_to_water = From the end of sealant work to water on it
wait-on = { $stage }: { $state }
wait-finished = then at once
wait-fixed = then { $span }
wait-cure = then { $span }: { $product }, { $bed }

# The gate
gate-not-before = { $stage } not before { $at }.
gate-to-go = { $span } to go.
gate-missing = { $wall } is not ready for this: { $stage }. First finish and log: { $stages }.
gate-not-on-job = This is marked as not on this job: { $stage }.
gate-late = It was told late, so the wait counts from { $told }, when it was told.
gate-uncounted = { $span } of the wait could not be counted: the box was off or its clock was changed, and nobody vouches for the time between. The wait is longer for it, never shorter.
gate-clock-behind = The box’s clock says { $now }, which is earlier than a time it has seen already. Everything can still be logged, but no wait gets shorter until the clock is right. Set the clock of the box.
refused-title = Not yet
refused-what-now = Nothing was started. If the work is done already, go back and log it as done: it is kept, and marked as done early.
refused-back = Back to the stage

# The board
board-title = Board
board-as-of = As of { $now }. Reload the page for the latest.
board-empty = No walls yet. Measure a wall first: then its stages stand here.
board-measure = Measure a wall
board-products = Products and waiting times
board-log = The whole log
board-back = Back to the board
state-done = Done
state-ready = Ready
state-since = since { $when }
state-under-way = Under way
state-not-before = Not before { $at }
state-to-go = { $span } to go
state-waits-for = Waits for: { $stages }
state-not-on-job = Not on this job
state-when-who = { $when }, { $who }
state-early = Done early
state-unsure = The time is unsure: see why
state-finish-before-start = A finish was told for a time that is not after this start, so the stage still counts as under way. Correct the one or the other.

# One stage of one wall
cell-title = { $wall }: { $stage }
cell-start = Start now
cell-start-again = Start it again
cell-done-now = It is done, just now
cell-done-earlier = It was done earlier
cell-earlier-hint = Say how many minutes ago it was finished, or at which time.
cell-minutes = Minutes ago
cell-day = Day
cell-time = Time
cell-done-then = Log it as done
cell-courses-hint = Courses are counted from the bottom, 1 to { $most }. Leave both empty for the whole wall.
cell-first = From course
cell-last = to course
cell-waits = What it waits for
cell-cautions = Mind
cell-log = Log of this stage
caution-cement = Wet mortar and grout are caustic, and the pain may come late: gloves and knee pads, wash it off at once with water and pH-neutral soap (OSHA 3351).
caution-power = Outlets, lights or heating cable in this wall: a licensed person switches the power off and on again. Mixer and saw run on a GFCI or RCD (29 CFR 1926.404).
caution-clips = Clips snap and leave sharp edges: safety glasses and gloves (common practice).
caution-sealer = Sealer gives off vapour: open the window, wear gloves, keep flames away (common practice).
caution-water = The board does not watch the water: grout and sealer have their own times before water, on the products page. A valve or heater is connected by a licensed person.
caution-sheet = The product’s own sheet and the local code come before this page.
fault-minutes = Write whole minutes, at most 1440 (a day). For longer ago, say the day and the time.
fault-time = Write a time of day, like 3:40 pm or 15:40.
fault-time-missing = Say at what time of that day.
fault-time-twice = Say either how many minutes ago or a time, not both.
fault-time-to-come = That time is still to come: the box’s clock says { $now }.
fault-courses = Write courses from 1 to { $most }, the lower one first.
fault-reason = Say why, in 1 to { $most } characters.

# The log
log-title = Log
log-empty = Nothing is logged yet.
log-mend = Correct
log-other = { $kind }: { $part }
log-product = Product for this stage: { $stage }. { $product } from now on, { $before } before.
log-window = { $window }, { $bed }: { $span } by the bag (usual for the class: { $usual }).
log-window-why = { $window }, { $bed }: { $span } by the bag (usual for the class: { $usual }). Why: { $reason }
entry-started = { $part }: { $stage } started { $when }.
entry-finished = { $part }: { $stage } finished { $when }.
entry-finished-with = { $part }: { $stage } finished { $when } with { $product }.
entry-withdrawn = { $part }: { $stage } withdrawn. It never happened.
entry-told = Told by { $who }, { $when }.
entry-confirmed = Time confirmed by { $who }, { $when }.
entry-why = Why: { $reason }
entry-early = Done early: before its time, or before what it waits for was finished. What depends on it counts from it in full.
entry-clock-behind = The box’s clock was behind when this was told, so its times may be wrong.
entry-corrected = Corrected by { $who }, { $when }: it was { $right }.
entry-corrected-never = Withdrawn by { $who }, { $when }: it never happened.
entry-corrected-confirmed = Time confirmed by { $who }, { $when }.
mend-title = Correct an entry
mend-both-stay = Nothing is erased: the correction is a further entry, and both stay readable. A corrected finish counts from when it is corrected, until the lead confirms its time.
mend-what = What is wrong?
mend-time = It was at another time
mend-never = It never happened
mend-confirm = Nothing: as the lead I stand by this time
mend-no-confirming = The lead can confirm a late time only while the box’s clock is checked against the network. It is not now.
mend-time-hint = The right time, where it was at another:
mend-reason = Why?
mend-reason-hint = A few words; they stay with the entry.
mend-save = Save the correction
mend-leave = Leave it as it is

# Products
products-title = Products and waiting times
products-check = Check the bag: these are cautious times for each class, at 21 to 25 °C. What the bag or data sheet says comes first. Colder takes longer, and this page does not know how cold it is.
products-bed-over_membrane = This job is set over a membrane.
products-bed-ordinary = This job is set on board or render that takes up water.
products-change = Change: { $stage }
window-own = From the bag, as the crew entered it. Usual for the class: { $usual }.
window-unwatched = Not watched by the board: keep this time yourselves.
window-span = What the bag says
window-hint = Hours, or like 90 min or 3 days. Leave it empty for the usual time: { $usual }.
window-usual = { $class } { $span }
window-why = Why it is shorter than usual
window-why-hint = Asked for only where it is shorter. It stays in the log.
footing-published = Check the bag. Published: { $source }
footing-derived = Check the bag. Worked out: { $source }
footing-common-practice = Check the bag. Common practice: { $source }
footing-from-memory = Check the bag. From memory, not seen in print: { $source }
product-title = Product for this stage: { $stage }
product-holds = What the bag says holds for walls already done with it too. Another product holds for what is logged from now on.
product-class = What kind is it?
product-name = What the crew calls it
product-name-hint = As it stands on the bag. Leave it empty to go by its kind.
product-save = Save the product
fault-product-name = Use at most { $most } characters for the name.
fault-span = Write hours, like 24, or like 36 h, 90 min, 3 days.
fault-span-range = A waiting time is at most 90 days.
fault-laxer = This is shorter than the usual { $usual }: say why, for example what the bag says.

# The saw
saw-title = Saw
saw-nothing-yet = There is nothing to cut yet. Measure the walls and the tile; the layout page says what is still missing.
saw-to-layout = To the layout
saw-none = No tile of this layout has to be cut.
saw-all-cut = All of them are cut.
saw-progress = Cut { $done } of { $all }
saw-tiles = { $count ->
    [0] No more whole tiles to take to the saw
    [one] { $count } whole tile to take to the saw
   *[other] { $count } whole tiles to take to the saw
}
saw-skip = Another piece first
saw-queue = All cuts
saw-bring-up = Bring up { $whole ->
    [0] no whole tiles
    [one] { $whole } whole tile
   *[other] { $whole } whole tiles
} and { $cuts ->
    [one] this cut
   *[other] these { $cuts } cuts
}
saw-next = next
saw-to-do = to do
saw-line = { $size } · { $take }
saw-last = Last cut: { $piece }, { $who }, { $when }
saw-left-over = Left over
saw-left-over-hint = These were cut, and the plan no longer has them. Keep them as spares.
saw-left-over-piece = { $piece }, { $size }
saw-back = Back to the saw
# Water and respirators: 29 CFR 1926.1153 Table 1 (i), (ii). Hearing: NIOSH, 85 dBA. Eyes: 29 CFR 1926.102.
saw-safety-person = Water on the blade, eyes and ears protected. A hand-held saw indoors needs a respirator too, however short the cut.
# GFCI: 29 CFR 1926.404(b)(1).
saw-safety-power = Feed the saw through a GFCI (RCD), and wash the slurry down before it dries to dust. Local rules come first.
saw-safety = Safety
cut-title = Cut { $piece }
cut-place = { $wall }, course { $course }, number { $nth } from the left
cut-place-strip = { $wall }, strip over course { $course }, number { $nth } from the left
cut-size = { $width } × { $height }
cut-take-whole = a whole tile
cut-take-whole-of = a whole tile, { $tile }
cut-take-offcut = offcut { $label }
cut-take = Take
cut-lay = Lay it face up, standing as in the drawing: it shows the piece as it goes on the wall.
cut-crosscut = Crosscut, from the { $edge }
cut-rip = Rip, from the { $edge }
cut-exact = exactly { $length }
cut-to-size = No cut: it is to size. Check it with the tape.
cut-edge-left-factory = left factory edge
cut-edge-left-sawn = left sawn edge
cut-edge-right-factory = right factory edge
cut-edge-right-sawn = right sawn edge
cut-edge-bottom-factory = bottom factory edge
cut-edge-bottom-sawn = bottom sawn edge
cut-edge-top-factory = top factory edge
cut-edge-top-sawn = top sawn edge
cut-side-left = left
cut-side-right = right
cut-side-bottom = bottom
cut-side-top = top
cut-and = {" and "}
cut-from-edge = { $lengths } from the { $edge }
cut-taper = Taper: mark { $one } at the left end and { $other } at the right end, from the { $edge }.
cut-taper-upright = Taper: mark { $one } at the lower end and { $other } at the upper end, from the { $edge }.
cut-notch-corner = Notch out the { $sides } corner: mark { $marks }. Drill the inside corner first and stop the blade short of it.
cut-notch-edge = Notch in from the { $sides } edge: mark { $marks }. Drill both inside corners first and stop the blade short of them.
cut-notch-inside = Cut out a window: mark { $marks }. Drill all four corners first and stop the blade short of them.
cut-notch-across = Cut off the { $sides } end: mark { $marks }.
cut-hole = Drill a hole of { $diameter }: centre { $across } from the { $side } and { $up } from the { $foot }.
cut-bin = What is left goes in the bin.
cut-bin-tape = bin
cut-rack = Write { $label } on the hatched offcut and rack it for { $pieces }.
cut-spare = Write { $label } on the hatched offcut and keep it as a spare for { $pieces }, cut already.
cut-label = Write { $piece } and an arrow up on the piece.
cut-ahead = Cut ahead
cut-measure-corner = Measure first: it is the last one into the corner
cut-measure-top = Measure first: it is under the top
cut-measure-opening = Measure first: it meets the { $opening }
cut-done = cut, { $who }, { $when }
cut-look = cut at { $was }, the plan now says { $now }
cut-look-shape = cut to size, but its tile, taper, notch or hole is another in the plan now
cut-wait = It comes out of { $take }, which is there once { $before } is cut.
cut-to-piece = To { $piece }
cut-now = Cut
cut-not-after-all = Not cut after all
cut-again = Cut it again
cut-cuts = Cuts
cut-then = Then
cut-leaves = What is left
cut-wall = On the wall
cut-drawing = { $piece } on the saw
cut-on-wall = { $piece } on the wall
cut-refused-title = { $piece } is not kept as cut
cut-refused-order = { $piece } comes out of { $take }, which is there only once { $before } is cut. Cut { $before } first.
cut-refused-again = { $piece } was cut already: { $who }, { $when }. If a second one lies there, keep it as a spare.
cut-refused-plan = The plan has changed since your page was drawn. Look at { $piece } again before you cut it.
cut-back-refused-title = { $piece } stays cut
cut-back-refused-not = { $piece } was taken back already.
cut-back-refused-since = { $since } was cut from what { $piece } left over. If that is wrong too, take { $since } back first.
