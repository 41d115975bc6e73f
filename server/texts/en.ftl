# Words of the frame
guard-unknown-host = This server does not go by that name.
guard-other-origin = Forms are taken from this server's own pages only.
skip-to-main = Skip to the page
places-label = Places of this job
live-heard = up to date, {"{"}time{"}"}
live-lost = no answer since {"{"}time{"}"}: do not reload, the page would be gone
live-changed = something else was saved at {"{"}time{"}"}: open this page again to see it
live-full = Too many pages listen at once. This one still works, but has to be opened again to show what is new.
place-wall = Wall
place-saw = Saw
place-board = Board
# Above a page whose reader's browser asks for other languages only
language-loses = What is typed here and not saved is lost with another language. Change it all the same?
language-others = This server speaks English and Spanish. Choose one at the top.
fault-before-title = Error:
faults-title = Something needs changing

# When there is no page
error-title = That did not work
error-back = Back to the jobs
error-not-found = There is no such page. The address may be mistyped, or the wall was renamed.
error-stale = Someone else changed this while your page was open. Go back, reload the page and make the change again.
error-bad-form = This form could not be read, or was sent before with other figures. Nothing was saved. Go back, reload the page and send it again.
error-logged = Something is logged on this wall, so it stays on the job: what was done there must stay readable.
error-too-large = That is more than one form can hold. Send less at once.
error-no-such-language = There are no words here in that language. They are in English and Spanish: go on, and choose one of the two at the top of the page.
error-disk-full = The disk of the box is full, so nothing was saved. Free some space and send it again.
error-slow = The answer took too long, so the server gave up on it. Open the page again to see whether what you sent was saved.
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

# Layout
layout-title = Layout
layout-wall-title = { $wall }, layout
layout-tile = { $tile }, { $size }
layout-tiles = { $count ->
    [one] { $count } tile
   *[other] { $count } tiles
}
layout-made-of = { $whole } set whole + { $cut } cut into pieces = { $bought } to buy
layout-proved = No plan for this layout can use fewer than { $bound }.
layout-at-least = Found, not proved: no plan for this layout can use fewer than { $bound }.
layout-saved = { $count ->
    [0] Cutting in the order of setting would take as many.
    [one] { $count } tile fewer than cutting in the order of setting.
   *[other] { $count } tiles fewer than cutting in the order of setting.
}
layout-repeat-proved = { $tiles } of this kind will do. No plan for this layout can use fewer than { $bound }. { $order }
layout-repeat-open = { $tiles } of this kind will do. Found, not proved: no plan for this layout can use fewer than { $bound }. { $order }
layout-in-order = Cut in the order of setting it would be { $count }.
layout-in-order-same = Cut in the order of setting it would be as many.
layout-others = Other layouts to choose from
layout-others-count = { $count ->
    [0] No other layout worth a look was found
    [one] { $count } other layout worth a look
   *[other] { $count } other layouts worth a look
}
length-inches = { $number } in
layout-proved-under = This holds for straight cuts right across the tile, a kerf lost at each, and factory edges kept where they show.
# Beside each count of tiles
tiles-without-breakage = Nothing is added for tiles that may break, nor for spares.
tiles-with-broken = What has broken or was cut in vain is in it; nothing is added for what may still break, nor for spares.
layout-narrowest = Narrowest cut
layout-no-cut = none
layout-slivers = Small cuts
layout-saw-cuts = Saw cuts
layout-base-gap = Largest gap at the base
layout-whole-tiles = Whole tiles
layout-cut-pieces = Cut pieces
layout-see-close = See every piece, full size
layout-back-to-layout = Back to the layout
layout-scroll-label = The drawing, to be scrolled
layout-level-line = level line
layout-course = course { $number }
layout-strip-above = strip above course { $number }
layout-millimetres = millimetres
layout-inches = inches
layout-drawing-says = { $whole } whole tiles and { $cut } cut pieces. Thick lines are factory edges, thin ones are sawn. Sizes in { $unit }. The same is in the table below it.
layout-key = What the drawing shows
layout-key-whole = whole tile
layout-key-cut = cut
layout-key-shaped = notched or drilled
layout-key-sliver = small cut, look at this
layout-key-lines = Thick line: factory edge. Thin line: sawn. Below the wall: end cuts of the two lowest courses. At its right: heights of cut courses.
layout-to-wall = What to strike, prop and mark
layout-move = Move the joints of this wall
layout-start = An upright joint of course 1 is at
layout-start-hint = To the middle of the joint, from the left end of this wall as it is tiled: the face of the neighbour's tile where that is set first, else the bare corner.
layout-start-set = Put the joint there
layout-start-choices = Or start like this
layout-start-best = Best found
layout-start-second = Second best
layout-start-third = Third best
layout-start-joint-centred = Joint centred
layout-start-tile-centred = Tile centred
layout-start-whole-left = Whole tile at the left end
layout-start-whole-right = Whole tile at the right end
layout-start-quarter-left = A quarter tile to the left
layout-start-quarter-right = A quarter tile to the right
layout-gives-ends = Course 1 ends { $first } and { $last }
layout-gives-narrowest = narrowest { $least }
layout-gives-slivers = { $count ->
    [0] no small cuts
    [one] { $count } small cut
   *[other] { $count } small cuts
}
layout-as-now = as it is now
layout-climb = The step climbs
layout-climb-right = To the right
layout-climb-left = To the left
layout-first = The first course is
layout-first-propped = Propped
layout-first-propped-is = Whole tiles, level, held up by props; the gap below varies
layout-first-scribed = Scribed
layout-first-scribed-is = Tiles cut to the base; the gap below stays
layout-back-wall = Back to the proposal for this wall
layout-back-line = Back to the proposed courses
layout-back-joint = Back to the joint of the job
layout-back-all = Back to the proposal for everything
layout-chosen = Some of this was taken from the list of layouts or moved by hand.
layout-pieces = Pieces by course
layout-pieces-course = Course
layout-pieces-whole = Whole
layout-pieces-cut = Cut, from left to right
layout-piece = { $piece } { $width } × { $height }
layout-piece-sliver = { $piece } { $width } × { $height } (small cut)
layout-none = none
layout-line-title = Courses of all walls
layout-line-now = A joint between two courses is { $height }.
layout-line-move = Move the courses
layout-line = A joint between two courses is at
layout-line-hint = To the middle of the joint, from the level line as it is today.
layout-line-way = From the level line
layout-way-below = below the line
layout-way-above = above the line
layout-line-set = Put the courses there
layout-line-choices = Or take one of these
layout-line-gives = First course { $first }, top course { $last }
layout-line-at = Joint { $height }
layout-whole = whole
layout-from-to = { $least } to { $most }
layout-joint-title = Joint of all walls
layout-joint-other = The joint is { $joint } wide on all walls: the layout was chosen so, within what the sheet allows. On the sheet it is { $sheet }. Have the spacers for { $joint }, or take the sheet's joint back here.
layout-joint-now = The joint is { $joint } wide.
layout-joint-move = Change the joint
layout-joint = Width of the joint
layout-joint-set = Take this joint
layout-advice = What the rules say
layout-advice-kept = Kept
layout-advice-look = Look at this
layout-advice-note = Work to this
layout-common-practice = common practice
layout-advice-smallest-kept = No cut is smaller than half a tile.
layout-advice-smallest = { $count ->
    [one] One cut piece is smaller than half a tile: { $least }.
   *[other] { $count } cut pieces are smaller than half a tile, the least { $least }.
}
layout-advice-thin-kept = No notch or hole leaves a part that may break.
layout-advice-thin = A notch or hole leaves a part so thin that it may break at the saw: { $pieces }. Move the joints, or the niche while it can still be moved.
layout-cut-already = { $count ->
    [one] { $count } piece is cut already. What another layout costs is said before anything is changed.
   *[other] { $count } pieces are cut already. What another layout costs is said before anything is changed.
}
layout-advice-strips-kept = No strip is too thin to cut.
layout-advice-strips = { $count ->
    [one] One strip is too thin to cut without breaking: { $least }.
   *[other] { $count } strips are too thin to cut without breaking, the thinnest { $least }.
}
layout-advice-trimmed-kept = Every cut takes off enough for a blade.
layout-advice-trimmed = { $count ->
    [one] From one piece a cut takes only { $least }, hardly more than the blade is thick. Look for a layout where that tile stays whole.
   *[other] From { $count } pieces a cut takes hardly more than the blade is thick, the least { $least }. Look for a layout where those tiles stay whole.
}
layout-advice-notch-kept = No notch is too small to cut.
layout-advice-notch = { $count ->
    [one] A notch under 5 mm (3/16 in) is too small to cut: { $notches }. Scribe it, or move the joint.
   *[other] { $count } notches under 5 mm (3/16 in) are too small to cut: { $notches }. Scribe them, or move the joint.
}
layout-advice-edge-kept = No cut edge shows where nothing hides it.
layout-advice-edge = { $count ->
    [one] A cut edge shows where nothing hides it, on { $labels }.
   *[other] Cut edges show where nothing hides them, on { $count } pieces: { $labels }.
}
layout-advice-offset = Tile { $tile } on { $wall } is stepped by more than a third of its length.
layout-advice-offset-kept = No tile with a side over 15 in is stepped by more than a third.
layout-advice-joint = The joint is { $joint }; the least for this tile is { $least }.
layout-advice-joint-variation = That is three times the { $differ } by which the tiles differ.
layout-advice-joint-rectified = That is for rectified tile with a side over 15 in that is stepped.
layout-advice-joint-calibrated = That is for tile with a side over 15 in that is stepped and not rectified.
layout-advice-joint-rectified-bowed = That is for rectified tile with a side over 15 in that is stepped, and its bow of { $bow }.
layout-advice-joint-calibrated-bowed = That is for tile with a side over 15 in that is stepped and not rectified, and its bow of { $bow }.
layout-advice-caliber = Tiles { $tile } differ by { $range }; rectified tile of this size may by { $most }.
layout-advice-caliber-calibrated = Tiles { $tile } differ by { $range }; calibrated tile may by { $most }.
layout-advice-warpage = Tile { $tile } is bowed by { $bow }; rectified tile of this size may be by { $most }.
layout-advice-movement = { $joints ->
    [one] { $wall } is { $length } one way, and no field indoors is over 25 ft (7.6 m): it wants a movement joint at least. Whoever designs the building says where.
   *[other] { $wall } is { $length } one way, and no field indoors is over 25 ft (7.6 m): it wants { $joints } movement joints at least. Whoever designs the building says where.
}
layout-advice-movement-exposed = { $joints ->
    [one] { $wall } is { $length } one way. Outdoors, in the sun or where water reaches no field is over 12 ft (3.7 m): there it wants a movement joint at least.
   *[other] { $wall } is { $length } one way. Outdoors, in the sun or where water reaches no field is over 12 ft (3.7 m): there it wants { $joints } movement joints at least.
}
layout-advice-movement-british = { $joints ->
    [one] { $wall } is { $length } one way. British practice has a movement joint in walls every 3 to 4.5 m: one at least.
   *[other] { $wall } is { $length } one way. British practice has a movement joint in walls every 3 to 4.5 m: { $joints } at least.
}
layout-advice-movement-british-floor = { $joints ->
    [one] { $wall } is { $length } one way. British practice has a movement joint in floors every 8 to 10 m: one at least.
   *[other] { $wall } is { $length } one way. British practice has a movement joint in floors every 8 to 10 m: { $joints } at least.
}
layout-advice-flat = { $walls }: before tile, out of flat by 1/4 in in 10 ft (6 mm in 3 m) at most, and by 1/16 in in 12 in (1.6 mm in 305 mm). Patch what is more; the mortar is not for that.
layout-advice-flat-tight = { $walls }: before tile this long, out of flat by 1/8 in in 10 ft (3 mm in 3 m) at most, and by 1/16 in in 24 in (1.6 mm in 610 mm). Patch what is more; the mortar is not for that.
layout-advice-lippage = An edge of tile { $tile } stands at most { $most } above the next: { $allowance } at this joint, and its own bow of { $bow }.
layout-advice-coverage = Lift a tile now and then: mortar on at least { $dry } % of its back where it stays dry, { $wet } % in showers and outdoors.
layout-advice-prop-gap = On { $wall } the gap under the first course grows to { $largest }, more than the { $allowed } that is hidden.
layout-advice-strip = The strip on { $wall } starts { $bottom }, outside { $lowest } to { $highest }.
layout-export = Save the job as a file
layout-fault-start = This wall is { $width } wide: type a place on it, counted from its left end.
layout-fault-line = Type a height between the base and the top of the walls.
layout-fault-joint = Type a joint wider than 0 and narrower than the tile, whose narrowest side is { $tile }.

# In place of a layout
layout-missing = There is no layout yet. This is in the way:
layout-missing-choice = A choice made by hand may be in the way.
layout-to-walls = To the walls
report-propped = The first course is propped.
report-scribed = The first course is scribed.
report-stands-whole = The first course is whole tiles, with nothing to cut at the base.
report-start = An upright joint of course 1 is at { $x } from the left end.
report-line = A joint between courses is { $height }.
report-start-at = An upright joint of course 1 is at x = { $x }.
report-line-at = A joint between courses is at y = { $y }.
report-whole = { $count } whole
report-options = Layouts to choose between
report-searched = There are more layouts than can be looked at; these are the best of those that were.
report-first-whole = Layout 1, whole
report-fewest-tiles = fewest tiles
report-largest-cuts = largest cuts
report-best-looks = best looks
report-joint = with a joint of { $joint }
report-gains = Gains: { $reasons }.
report-costs = Costs: { $reasons }.
report-reason = { $measure } { $here } instead of { $first }
report-measure-tiles = tiles
report-measure-narrowest = narrowest cut
report-measure-cuts = saw cuts
report-measure-slivers = small cuts
report-measure-symmetry = row ends unequal by, on average,
report-measure-opening-edges = edges of openings on joints
report-measure-base-gap = largest gap at the base
report-measure-warnings = rules to look at
layout-outrun = Nothing was moved. Look at how the layout lies now before you move it again; what you typed is still here.

# Times
time-at = { $day } { $clock }
time-at-date = { $day }, { $clock }
time-zone = { $time } { $zone }
time-date = { $weekday } { $day } { $month }
time-date-year = { $weekday } { $day } { $month } { $year }
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
board-as-of = As of { $now }.
board-reload = Reload the page for the latest.
board-empty = No walls yet. Measure a wall first: then its stages stand here.
board-measure = Measure a wall
board-products = Products and waiting times
board-log = The whole log
board-back = Back to the board
state-done = Done
state-ready = Ready
state-since = since { $when }
state-under-way = Under way
state-being-set = Being set: { $done } of { $all } courses
state-part-done = Done: { $done } of { $all } courses
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
log-product = { $stage }: { $product } from now on, { $before } before.
log-window = { $window }, { $bed }: { $span } by the bag (usual for the class: { $usual }).
log-window-why = { $window }, { $bed }: { $span } by the bag (usual for the class: { $usual }). Why: { $reason }
entry-started = { $part }: { $stage } started { $when }.
entry-finished = { $part }: { $stage } finished { $when }.
entry-finished-with = { $part }: { $stage } finished { $when } with { $product }.
entry-withdrawn = { $part }: { $stage } withdrawn. It never happened.
entry-told = Told by { $who }, { $when }.
entry-told-confirmed = Told by { $first }. Time confirmed by { $who }, { $when }.
entry-told-corrected = Told by { $first }. Corrected by { $who }, { $when }.
entry-told-withdrawn = Told by { $first }. Withdrawn by { $who }, { $when }.
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
products-check = Check the bag: these are cautious times for each class, at 21 to 25 °C. What the bag or data sheet says comes first. Colder takes longer: say on the page of the temperature how cold it is.
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
footing-published = Check the bag. Published: { $place }: { $grounds }.
footing-derived = Check the bag. Worked out: { $grounds }.
footing-common-practice = Check the bag. Common practice: { $grounds }.
footing-from-memory = Check the bag. From memory, not seen in print: { $grounds }.
grounds-clips-next-day = clips come off the next day
grounds-mortar = at least 24 h at 70 °F and 50 % humidity
grounds-mortar-over-membrane = 48 to 72 h for large tile or over a membrane
grounds-fast-mortar = long end of 2 to 4 h in the one, of 2 to 8 h in the other
grounds-fast-mortar-over-membrane = 8 h doubled, as the published 24 h of normal mortar become 48 h over a membrane
grounds-dispersion = long end of 24 to 48 h in the one; 24 h in the other
grounds-dispersion-over-membrane = long end of 48 to 72 h over a membrane
grounds-epoxy-mortar = resin hardens by reaction, so a membrane does not slow it
grounds-grout = long end of the customary 48 to 72 h; published texts range from 2 to 30 days (buzzymoment.com, groutmagnificent.com)
grounds-fast-grout = no figure for fast grout was found, so the long end of the customary 48 to 72 h holds
grounds-epoxy-grout = epoxy grout is not sealed; tile sealed after it waits as for cement grout
grounds-grout-to-water = 72 h before water, quoted from TCNA and ANSI A108.10
grounds-epoxy-grout-to-water = given as long as cement grout
grounds-sealer-to-water = long end of the 24 to 72 h that labels ask for
grounds-silicone-to-water = silicone cures about 2 mm a day, and a usual bead is 6 mm deep
product-title = Product for this stage: { $stage }
product-holds = What the bag says holds for walls already done with it too. Another product holds for what is logged from now on.
product-class = What kind is it?
product-name = What the crew calls it
product-name-hint = As it stands on the bag. Leave it empty to go by its kind.
product-save = Save the product
fault-product-name = Use at most { $most } characters for the name.
fault-span = Write hours, like 24, or like 36 h, 90 min, 3 days.
fault-window-not-of-class = What you chose has no such waiting time: leave it empty.
fault-window-twice = This waiting time is given twice.
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
cut-take-whole-of = a whole { $tile } tile
cut-take-racked = offcut { $number } of earlier work
cut-take-offcut = offcut { $label }
cut-take = Take
cut-lay = Lay it face up, standing as in the drawing: it shows the piece as it goes on the wall.
cut-to-size = It came free already, and what was spared beside the blade may still be on it. Check it with the tape, and take off what is over:
cut-exact = rounded from { $length }
cut-crosscut = Crosscut
cut-rip = Rip
cut-from-edge = from the { $edge }
cut-to-centre = to the centre, from the { $edge }
cut-taper = Taper
cut-taper-left = at the left end, from the { $edge }
cut-taper-right = at the right end, from the { $edge }
cut-taper-bottom = at the lower end, from the { $edge }
cut-taper-top = at the upper end, from the { $edge }
cut-notch-corner = Notch out the { $sides } corner
cut-notch-edge = Notch in from the { $sides } edge
cut-notch-inside = Cut out a window
cut-notch-across = Cut off the { $sides } end
cut-drill-one = Drill the inside corner first, stop the blade short of it.
cut-drill-two = Drill both inside corners first, stop the blade short of them.
cut-drill-four = Drill all four corners first, stop the blade short of them.
cut-half-round = Cut a half round of { $diameter } out to the edge
cut-hole = Drill a hole of { $diameter }
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
cut-bin = The rest goes in the bin.
cut-bin-tape = bin
cut-rack = Write { $label } on the hatched offcut and rack it for { $pieces }.
cut-rack-to-size = The hatched offcut is { $piece }, perhaps a little over size: write { $piece } on it beside { $label } and rack it.
cut-spare = Write { $label } on the hatched offcut and keep it as a spare: big enough for { $pieces }.
cut-label = Write { $piece } and an arrow up on the piece.
cut-ahead = It can be cut before the tiles beside it are set.
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
cut-wall = On the wall
cut-drawing = { $piece } on the saw. { $says }
cut-on-wall = { $piece } on the wall
cut-refused-title = { $piece } is not kept as cut
cut-refused-order = { $piece } comes out of { $take }, which is there only once { $before } is cut. Cut { $before } first.
cut-refused-again = { $piece } was cut already: { $who }, { $when }. If a second one lies there, keep it as a spare.
cut-refused-plan = The plan has changed since your page was drawn. Look at { $piece } again before you cut it.
cut-back-refused-title = { $piece } stays cut
cut-back-refused-not = { $piece } was taken back already.
cut-back-refused-since = { $since } was cut from what { $piece } left over. If that is wrong too, take { $since } back first.
# Lengths
length-example-mm = 603 or 60.3 cm
length-example-in = 23 3/4 or 5' 3 1/2"
length-empty = { $label }: type a length, such as { $example }.
length-not-one = { $label }: “{ $typed }” is not a length. Type it like { $example }.
length-comma = { $label }: “{ $typed }” can be read two ways. Leave the comma out for thousands, or type a point before decimals.
length-over-zero = { $label }: “{ $typed }” has a fraction over 0. Type the fraction as on the tape, such as 3/4.
length-fraction = { $label }: “{ $typed }” has a fraction of one or more after a whole number. Type it like 23 3/4.
length-past-a-foot = { $label }: “{ $typed }” has 12 inches or more after the feet. Type all of it in inches, or less than 12 after the feet.
length-too-long = { $label }: “{ $typed }” is longer than 1000 m. Check the number and its unit.
length-too-much = { $label }: that is too much text for a length. Type it like { $example }.
length-negative = { $label }: it cannot be below 0. Type it without the minus.
height-above = { $height } above the line
height-below = { $height } below the line
height-at = at the line

# When someone else was quicker
outrun-title = Not saved: someone else changed this job
outrun-says = What you typed is still here. Saving it now puts it in place of theirs, so look at theirs first. If the level line was moved, read the heights from today's line.
outrun-look = See the page as it is now
outrun-line = Nothing was changed. Look at how the line lies now, below, before you enter the move again.
back-to-walls = Back to the walls

# The job's sheet
sheet-title = Tile, joint and saw
sheet-first-tile = wall
sheet-tile = The tile
sheet-tile-named = Tile: { $name }
sheet-tile-more = Another tile, such as a strip
sheet-tile-name = Name
sheet-tile-name-hint = Short, as the crew says it: wall, strip. It stays once it is saved.
sheet-tile-size-hint = As measured with the tape, never as printed on the box.
sheet-tile-width = Width
sheet-tile-height = Height
sheet-tile-row-hint = Better: lay ten tiles from three boxes tight in a row and measure the row, both ways. This counts before the size above.
sheet-tile-row-width = Ten side by side
sheet-tile-row-height = Ten one above the other
sheet-tile-comes-to = One tile: { $width } wide, { $height } high
sheet-tile-thickness = Thickness
sheet-tile-thickness-hint = With the bed, it is taken off at inside corners.
sheet-tile-directional = It has a direction and is never turned
sheet-tile-quarter = Offcuts may be given a quarter turn
sheet-tile-box = Tiles in a box, if known
sheet-work = Joint and saw
sheet-joint = Joint
sheet-kerf = Kerf
sheet-kerf-hint = What the blade takes away. Cut a scrap and measure what is missing.
sheet-bed = Mortar bed behind the tile
sheet-membrane = The walls have a waterproof membrane under the tile
sheet-floor-title = Floor
sheet-floor = At the foot of these walls
sheet-floor-as-measured = stays as measured
sheet-floor-before = the floor is tiled before the walls
sheet-floor-after = the floor is tiled after the walls
sheet-floor-thickness = Floor tile with its bed
sheet-floor-thickness-hint = Only where the floor is still to be tiled. Laid later, it hides the gap under the walls.
sheet-rare = Gaps, smallest cut, spare at the saw
sheet-gaps = Gaps
sheet-gaps-hint = From the tile to what it stops at.
sheet-gap-base = At the base
sheet-gap-corner = At inside corners
sheet-gap-ceiling = Under the ceiling
sheet-gap-trim = At trims
sheet-gap-mitre = At mitres
sheet-gap-opening = Round openings
sheet-base-gap-max = Largest gap at the base
sheet-base-gap-max-hint = What the sealant still covers. A floor laid later covers its thickness less 3 mm (common practice).
sheet-cuts = Cuts
sheet-spare = Spare beside each cut
sheet-spare-hint = Because no saw is exact.
sheet-smallest-hint = Smallest cut that may show. Left empty it is half the tile; one of the two stands for both.
sheet-smallest-width = Smallest width
sheet-smallest-height = Smallest height
sheet-save = Save the sheet
sheet-fault-tile-name = Give the tile a short name, such as wall or strip.
sheet-fault-tile-name-long = Use at most { $most } characters for the tile's name.
sheet-fault-tile-laid = Tile { $name } is laid on a wall, so keep it under its name. For another tile, enter it as a further one and choose it on the walls.
sheet-fault-membrane = Work on the walls is logged, and over a membrane it waits longer. Leave the membrane ticked.
sheet-fault-tile-twice = There are two tiles named { $name }. Give one of them another name.
sheet-fault-tile-small = { $label }: a tile has sides of at least { $least }. Check the number and its unit.
sheet-fault-row = { $label }: ten come to { $each } each, but one is typed as { $typed }. Count the row again, or mend the size.
sheet-fault-box = Tiles in a box: type a whole number, or leave it empty.
sheet-fault-joint-none = Joint: tiles need a joint. Type the spacer's size.
sheet-fault-joint-wide = The joint is as wide as the { $tile } tile, whose short side is { $side }. Check both numbers.
sheet-fault-wide = { $label }: more than { $most } is no gap or bed. Check the number and its unit.
sheet-fault-floor-thin = Floor tile with its bed: type how thick it is, or say that the floor stays as measured.
sheet-fault-too-many-tiles = Tile of this size would be past counting on wall { $wall }. Check the tile's size and its unit.

# Walls
walls-title = Walls
walls-empty = No walls yet. Cast a level line round the room, then measure each wall from it: how wide it is, and how far down to the base.
walls-missing = Before this can be planned
walls-layout = The layout
walls-file = Save the job as a file
walls-base = The base
walls-base-says = What a level first course of whole tiles stands above the base, with the gap at the high point:
walls-high-point = High point: { $walls }
walls-column-wall = Wall
walls-column-gap = Gap under it
walls-column-begins = First course
walls-gap-from-to = { $least } to { $most }
level-line = Level line
plumb-line = Plumb line
line-is-higher = Today's line is { $shift } higher than the first line. Everything here is from today's line: drops are { $shift } more than first read, heights above it { $shift } less.
line-is-lower = Today's line is { $shift } lower than the first line. Everything here is from today's line: drops are { $shift } less than first read, heights above it { $shift } more.
line-moved-summary = The line has moved
line-moved-says = Set up again, the line rarely lies where it was. Enter how far today's line is from where it was until now, once: every reading, the courses and the story pole follow.
line-moved = How far
line-way = Today's line is
line-higher = higher than before
line-lower = lower than before
line-save = Move the line
line-fault-far = A line that is set up again does not move by more than { $most }. Check the number and its unit.
wall-measure = Measure a wall
wall-named = { $name } ({ $id })
wall-wide = { $width } wide
wall-readings = { $count ->
    [one] { $count } reading
   *[other] { $count } readings
}
wall-base-level = Base { $drop } below the line
wall-base-from-to = Base { $high } to { $low } below the line
wall-new-title = New wall
wall-name = Name of the wall
wall-name-hint = As the crew says it: back wall, window wall.
wall-id = Short name
wall-id-hint = It stands on every cut piece: A3-2. Letters and digits; it stays once it is saved.
wall-width = Width at the level line
wall-width-hint = From bare wall to bare wall. Tile of the neighbours is taken off by itself. Measure at the base and at the top as well: where they differ, a corner leans. That is not planned for, so each cut at that corner is measured on the wall before it is sawn.
wall-base = Down to the base
wall-base-says = From the level line down, at both ends and wherever the floor bends. Two readings at one place are a step. The first counts from the left end if you leave its place empty.
wall-column-what = What
wall-column-x = From the left
wall-column-drop = Down
wall-column-rise = Up
wall-column-height = From the line
wall-curb = Curb
wall-curb-says = Tick Curb where the first course does not stand, from this reading to the next: on a curb or a bench, or beside a tub where tile runs down past its end. The rim of a tub that tile stands on is base: leave it unticked.
wall-more-rows = More rows
wall-top = Up to the top
wall-top-says = From the level line up to the ceiling, or to where tile stops. One reading is enough where it is level.
wall-base-x-of = Base reading { $number }, from the left
wall-base-drop-of = Base reading { $number }, down to the base
wall-base-curb-of = Base reading { $number }, curb: no first course stands here
wall-top-x-of = Top reading { $number }, from the left
wall-top-rise-of = Top reading { $number }, up to the top
wall-reading = Reading
wall-left = Left end
wall-right = Right end
wall-role = What is there
wall-meets = Tiled wall it meets
wall-meets-none = none
wall-first = Set first
wall-first-this = this wall, it runs behind
wall-first-neighbour = the other wall, this one butts against it
wall-corner-none = Taken to meet no wall of this job: no other wall's tile is taken off here.
wall-corner-left-this = Taken to meet the right end of { $wall }, which butts against this wall.
wall-corner-left-neighbour = Taken to meet the right end of { $wall }, which runs behind: the thickness of its tile is taken off here.
wall-corner-right-this = Taken to meet the left end of { $wall }, which butts against this wall.
wall-corner-right-neighbour = Taken to meet the left end of { $wall }, which runs behind: the thickness of its tile is taken off here.
corners-open = Corners not joined
corner-open-left = { $wall }, left end: an inside corner that meets no wall yet. Say which wall it meets, or its tile thickness is not taken off.
corner-open-right = { $wall }, right end: an inside corner that meets no wall yet. Say which wall it meets, or its tile thickness is not taken off.
corner-open-link = Say it on the form of { $wall }
role-corner = Inside corner
role-base = Base
role-ceiling = Ceiling
role-trim = Trim
role-mitre = Mitre
role-bare = Bare edge
role-hidden = Covered
wall-pattern-title = Tile and pattern
wall-field-tile = Tile
wall-field-upright = The tile stands upright
wall-pattern = Pattern
wall-pattern-straight = straight
wall-pattern-right = running, each course further right
wall-pattern-left = running, each course further left
wall-pattern-own = as it is: { $pattern }
wall-step = Step of a running pattern
wall-step-other-choice = other
wall-step-other = Other step
wall-strip = Strip
wall-strip-says = One course of another tile. Its lower edge comes to lie between two heights, on whole courses, and the field goes on above it.
wall-strip-tile = Tile of the strip
wall-no-strip = no strip
wall-strip-least = Lower edge from
wall-strip-most = to
wall-side = Of the line
wall-above = above
wall-below = below
wall-side-above = above the line
wall-side-below = below the line
wall-no-tile-yet = No tile is measured yet. The wall takes it by itself once it is.
wall-openings = Niches, windows, valves, pipes
wall-openings-says = Heights are from the level line to the lower edge, or to the middle of a circle.
wall-opening-number = Opening { $number }
wall-opening-name = Name
wall-kind = Shape
wall-kind-rectangle = rectangle
wall-kind-circle = circle
wall-opening-x = From the left, to its left edge or middle
wall-opening-y = Height
wall-opening-width = Width or diameter
wall-opening-height = Height of a rectangle
wall-opening-clearance = Clearance
wall-opening-clearance-hint = Space between opening and tile. Empty: the gap round openings on the sheet. With a minus the tile laps over.
wall-edge = What hides the tile's edge
wall-edge-usual = usual: a plate over a circle, a trim round the rest
edge-plate = cover plate
edge-trim = trim
edge-lapped = tile of the reveal laps over
edge-mitre = mitre
edge-bare = nothing, the edge shows
wall-more-openings = More openings
wall-rare = Base and top edge
wall-base-role = At the base
wall-top-role = At the top
wall-top-may-move = The top may move by
wall-top-may-move-hint = At a bare edge or a trim, so that tile ends on a whole course.
wall-save = Save the wall
wall-remove = Take this wall off the job
wall-draw = Draw it
wall-drawn-only = Drawn, not saved.
wall-measures = Measures: { $width } wide, { $readings ->
    [one] { $readings } reading
   *[other] { $readings } readings
}
wall-drawing-heading = The wall as measured
wall-drawing = { $name }, { $width } wide
wall-drawing-says = Seen from the front. The base is { $least } to { $most } below the level line, the top up to { $rise } above it. Openings: { $openings }.
wall-drawing-nothing = Type the width and a reading or two, and the wall is drawn here.
wall-drawing-table = The drawing as a table
wall-rectangle-size = { $width } wide, { $height } high
wall-circle-size = circle of { $diameter }
wall-misread-base = Base reading at { $x } is { $off } off what its neighbours say ({ $read } against { $suggested }): measure again.
# The base falls at most 1/2 in to the foot; walls of one room lie at most 100 mm (4 in) apart.
wall-misread-base-before = Base reading at { $x } is { $off } off the one before it ({ $read } against { $suggested }), more than a floor falls: measure both again.
wall-misread-base-walls = Base reading at { $x } is { $off } off every base reading of the other walls ({ $read } against { $suggested }): measure again, here and there.
wall-misread-base-above = Base reading at { $x } is below 0, so the base would lie above the level line: measure again, and type how far down it is.
wall-misread-top-below = Top reading at { $x } is below 0, so the ceiling would lie below the level line: measure again, and type how far up it is.
wall-misread-top = Top reading at { $x } is { $off } off what its neighbours say ({ $read } against { $suggested }): measure again.
wall-fault-name = Give the wall a name, such as back wall.
wall-fault-id = Short name: use 1 to 24 letters and digits, such as A.
wall-fault-id-taken = Short name: there is a wall { $id } already. Choose another.
wall-fault-step = Step: type a part of the tile between 0 and 1, such as 2/5.
wall-fault-extent = { $label }: type how large it is; it cannot be 0.
wall-fault-no-width = Width at the level line: type how wide the wall is.
wall-fault-width-none = Width at the level line: { $typed } is no width. Type how wide the wall is.
wall-fault-no-width-left = Width at the level line: the neighbours' tile leaves no width for this wall. Check the width and the corners.
wall-fault-no-base = Down to the base: measure at least once from the level line down.
wall-fault-no-top = Up to the top: measure at least once from the level line up to the ceiling or to where tile stops.
wall-fault-out-of-order = { $label }: it lies left of the reading before it. Enter the readings from left to right.
wall-fault-beside = { $label }: that is not on the wall. Check it against the width.
wall-fault-no-height = The top is not above the base at { $x }. Check the readings there.
wall-fault-covered = Width at the level line: the neighbours' tile covers the whole wall. Check the width and the corners.
wall-fault-opening-outside = { $name } lies wholly outside the wall. Check its place from the left and its height from the line.
wall-fault-opening-clash = { $name } runs into another opening, and only one of the two hides a cut edge. Move them apart, or say the same of both edges.
wall-fault-opening-closed = { $name }: the clearance closes the opening altogether. Use a smaller lap.
wall-fault-no-corner = It meets wall { $neighbour } at an end that is no inside corner. Choose the inside corner, or no wall.
wall-fault-build-up = Tile and bed of the neighbour cannot be below 0. Check the sheet.
wall-fault-corner-taken = { $neighbour } already meets { $already } at that corner. Change it there first.
wall-fault-too-wide = Width at the level line: a wall of more than { $most } is measured in parts. Check the number and its unit.
wall-fault-too-many-tiles = This wall would take more than { $most } tiles. Check the width, the readings and the tile's size.

# Before there is a plan
no-plan-no-wall = No wall is measured yet.
no-plan-joint = The joint of { $joint } is as wide as tile { $tile }. Make it narrower, on the sheet or on the layout page.
no-plan-too-large = All walls together take more than { $most } tiles, which is more than can be planned at once. Make a job of each room.
no-plan-no-tile = No tile is measured yet.
no-plan-no-tile-on-wall = This wall has no tile chosen.
no-plan-stopped = The planner stopped before it answered. Open the page again.
no-plan-busy = Many pages are waiting for the planner just now, so this one was not begun. Nothing is lost. Open it again in a moment.
no-plan-both-ways = Tile { $tile } lies flat on one wall and upright on another. Enter it a second time under another name for the upright ones.
no-plan-cutting = Some pieces cannot be cut from tile { $tile }. Check its size, or choose another start or course line.
no-plan-too-many = There are more cuts of tile { $tile } than can be planned at once. Make a job of each room.
no-plan-ours = The plan failed our own check, so it is not shown. The fault is ours; it is in the log.
no-plan-no-carrying = No part of any base carries the first course. Untick Curb where the first course stands.
no-plan-no-line = This wall has no course line.
no-plan-lines-disagree = { $one } and { $other } share the level line but were given different course lines.
no-plan-no-course = Between base and top there is no room for a course.
no-plan-too-many-courses = There are too many courses to count. Check the tile's height and the readings.

# What to strike and set at a wall
card-title = At the wall
card-first-course = First course
card-propped = Propped
card-propped-says = whole tiles, level; the gap grows up to { $gap }
card-scribed = Scribed
card-whole = Whole tiles
card-whole-says = nothing to cut at the base; the gap under them is { $gap }
card-scribed-says = cut to the base, { $least } to { $most } high
card-level = Level line to strike
card-level-below = below the line: lower edge of course { $course }
card-level-above = above the line: lower edge of course { $course }
card-plumb = Plumb line to strike
card-plumb-says = from the left end of the wall: middle of a joint of course { $course }
card-plumb-says-tile = from the bare left corner, { $x } from the neighbour's tile: middle of a joint of course { $course }
card-high = High point of the base
card-high-here = here: start from this wall
card-high-elsewhere = this base stays { $below } below it
card-high-level = as high as here: either wall will do
card-nothing-carries = nothing here carries a first course
card-gap-too-large = Propped, the gap under the first course grows to { $largest }, but only { $allowed } is covered. Scribe this wall, or cover more.
card-strip-out-of-range = The strip's lower edge comes to lie { $bottom }. No whole course brings it between { $lowest } and { $highest }.
card-change = Change the layout
card-drawing-says = Seen from the front, with every tile of { $courses } courses. Cut tiles are shaded.
card-stations = Along the base
card-x = From the left
card-gap = Gap
card-height = Tile height
card-stands = Stands on
card-carries = base
card-curb = curb
card-props = Props under the tile corners
card-prop = Prop
card-pole = Story pole
card-course = Upper edge of course
card-above-base = Above the high point
card-from-line = From the line
card-pole-foot = foot of the first
card-pole-strip = strip
# A last course of which no tile ends whole
card-pole-ceiling = cut to the ceiling
card-pole-top = cut at the top
card-pole-from-to = { $low } to { $high }

# The joints a lead allows
sheet-joint-layout = The layout chosen goes by a joint of { $joint }. It can be taken back on the layout page.
sheet-joint-range-hint = If other spacers will do as well: layouts are looked for with any joint between these two. Left empty, only the joint itself.
sheet-joint-least = Narrowest joint
sheet-joint-most = Widest joint
sheet-fault-joint-least-none = Narrowest joint: tiles need a joint. Type the smallest spacer, or leave it empty.
sheet-fault-joint-least = Narrowest joint: it is wider than the joint of { $joint }. Type less, or change the joint.
sheet-fault-joint-most = Widest joint: it is narrower than the joint of { $joint }. Type more, or change the joint.

# Layouts to choose from
options-title = Layouts to choose from
options-number = Layout { $number }
options-aim-fewest-tiles = Fewest tiles
options-aim-largest-cuts = Largest cuts
options-aim-best-looks = Best looks
options-reach-all = Every start and course line at which something about the row ends or the courses changes was looked at.
options-reach-searched = There are more layouts than can be looked at one by one, so only the promising ones were. A better one may exist.
options-order = What counts first: { $measures }.
options-order-change = Change that
options-first-title = The ones to look at first
options-more = { $count ->
    [one] { $count } more layout
   *[other] { $count } more layouts
}
options-measure-tiles = Tiles
options-measure-narrowest-cut = Narrowest cut
options-measure-cuts = Saw cuts
options-measure-slivers = Small cuts
options-measure-symmetry = Ends of the rows
options-measure-opening-edges = Opening edges on joints
options-measure-base-gap = Largest gap at the base
options-measure-warnings = Rules to look at
options-equal = equal
options-apart = { $length } apart
options-proved = No plan for this layout can use fewer than { $bound }.
options-at-least = Found, not proved: no plan for this layout can use fewer than { $bound }.
options-kind = { $count } { $tile }
options-joint = With a joint of { $joint }, where the job says { $job }.
options-in-force = This is how it lies now
options-first-of-all = First of all by what you put first.
options-against-first = Against layout 1
options-better = Better:
options-worse = Worse:
options-better-word = better
options-tiles-fewer = { $count ->
    [one] { $count } tile fewer
   *[other] { $count } tiles fewer
}
options-tiles-more = { $count ->
    [one] { $count } tile more
   *[other] { $count } tiles more
}
options-cuts-fewer = { $count ->
    [one] { $count } saw cut fewer
   *[other] { $count } saw cuts fewer
}
options-cuts-more = { $count ->
    [one] { $count } saw cut more
   *[other] { $count } saw cuts more
}
options-narrowest-cut-instead = narrowest cut { $here } instead of { $first }
options-slivers-instead = { $here ->
    [0] no small cuts
    [one] { $here } small cut
   *[other] { $here } small cuts
} instead of { $first }
options-symmetry-instead = ends of the rows { $here } instead of { $first }
options-opening-edges-instead = opening edges on joints: { $here } instead of { $first }
options-base-gap-instead = gap at the base { $here } instead of { $first }
options-warnings = { $count ->
    [one] { $count } rule to look at
   *[other] { $count } rules to look at
}
options-choose = Choose this layout
options-see-large = See it large
options-see-large-of = Layout { $number }, large
options-compare = Compare these two
options-compare-with = Compare with layout { $number }
options-compare-with-now = Compare with how it lies now
options-compare-now = Compare with layout 1
options-compare-title = Two layouts side by side
options-compare-table = Where they differ
options-compare-same = They differ in nothing that is counted.
options-pick-one = One
options-pick-other = The other
options-lies-joint = Joint
options-lies-ends = { $wall }: ends of the lowest course
options-lies-line = A joint between two courses
options-lies-first = { $wall }: first course
options-back = Back to the layouts
options-now = As it lies now
options-now-title = As it lies now
options-now-says = It is none of the layouts below.
options-drawing-says = All walls side by side on the level line: { $whole } whole tiles and { $cut } cut pieces, which are tinted and have a stroke across.
options-ranks = What counts first
options-ranks-says = The list is in this order. What is not named here follows in the usual one.
options-rank-first = First
options-rank-second = Then
options-rank-third = Then
options-ranks-save = Put them in this order
options-fault-twice = “{ $measure }” stands above already. Choose another here.
options-outrun = Nothing was changed. Look at the layouts as they stand now, then choose again.
options-looking = Layouts are being looked for
options-looking-says = This page looks again by itself every few seconds. Leave it, and the search ends.
options-so-far = As it lies now, it takes { $tiles }. { $proved }
options-look-again = Look again now
options-pressed-too-early = Nothing was chosen: the room has changed, and its layouts are looked for again. Choose again in a moment.
# Rough-in sheet
rough-title = Rough-in: { $wall }
rough-link = Rough-in for a niche or valve
rough-link-says = Not framed yet? See where it suits the joints.
rough-says = Say how large a niche is and between which studs it may go, or where a valve may sit. The sheet says where to frame it so that its edges fall on joints.
rough-wishes = Niches and valves of this wall
rough-new-niche = A new niche
rough-new-valve = A new valve
rough-niche-name = Niche
rough-valve-name = Valve
rough-form-niche = A niche that is not framed yet
rough-form-valve = A valve that is not set yet
rough-form-change = Change what is wanted of { $name }
rough-name = Name
rough-width = Finished width inside
rough-width-hint = Between the tile or trim of its sides.
rough-height = Finished height inside
rough-height-hint = Between the tile or trim below and above.
rough-lining = What lines it, on each side
rough-lining-hint = Board, membrane, bed and tile inside the niche. Left empty it is the bed and tile of this wall.
rough-diameter = Hole in the tile
rough-diameter-hint = Its diameter; the plate hides it.
rough-range = Where it may go
rough-range-niche = The hole in the framing stays within these, as between two studs. From the left corner of the bare wall, and from the level line.
rough-range-valve = Its centre stays within these. Leave the second empty to keep to one plumb line or one height.
rough-x-from = Leftmost
rough-x-to = Rightmost
rough-y-from = Lowest
rough-y-to = Highest
rough-depth-title = How deep it sits
rough-depth-says = Leave all three empty if it is not mounted yet. Measure from where the valve's own sheet measures, usually its back.
rough-to-bare-wall = From its back to the face of the bare wall
rough-window-least = Finished wall at least
rough-window-least-hint = From its back, as the valve's sheet says.
rough-window-most = Finished wall at most
rough-edge = Its edge
rough-clearance = Space between it and the tile
rough-clearance-hint = Left empty it is the job's gap at openings.
rough-save = Find its place
rough-drop = Not wanted any more
rough-fault-many = There are { $most } on this wall already. Drop one that is not wanted first.
rough-outrun = Nothing was put on the wall: the layout or what is wanted has changed. Look at where it goes now.
rough-changed = What is wanted here was changed meanwhile. What you typed is still below: saving it now puts it in place of theirs, so look at theirs first.
rough-gone = It is gone from this wall: someone dropped it or put it on the wall. What you typed, if anything, is still below, and is kept as a new one if you save it.
rough-on-joints = { $on ->
    [4] All four edges on joints: no tile is cut at it.
    [3] Three of four edges on joints.
    [2] Two of four edges on joints.
    [1] One of four edges on a joint.
   *[0] No edge on a joint.
}
rough-seat-middle = In the middle of a tile.
rough-seat-crossing = On the crossing of two joints.
rough-seat-within = Within one tile, not in its middle.
rough-seat-joint = In the middle of a joint.
rough-seat-across = Across the edge of a tile. A wider range may have a better place.
rough-frame-hole = Hole in the framing
rough-finished-size = { $size } finished inside
rough-size = { $width } × { $height }
rough-left = Its left side
rough-bottom = Its bottom
rough-from-corner = from the left corner
rough-centre-x = Centre
rough-centre-y = Centre
rough-numbers = To mark on the studs
rough-column-framed = Framed
rough-column-finished = Finished
rough-column-centre = Centre
rough-row-left = Left side from the left corner
rough-row-right = Right side from the left corner
rough-row-bottom = Bottom from the line
rough-row-top = Top from the line
rough-row-base-left = Bottom above the base, at its left
rough-row-base-right = Bottom above the base, at its right
rough-row-x = From the left corner
rough-row-y = From the line
rough-row-base = Above the base
rough-edge-left = Left edge
rough-edge-right = Right edge
rough-edge-bottom = Bottom edge
rough-edge-top = Top edge
rough-edge-on = { $side } on a joint
rough-edge-off = { $side } { $by } off the nearest joint: { $leaves } of the tile stays
rough-edge-thin = { $side } { $by } off the nearest joint: only { $leaves } of the tile stays, and may break
rough-fit-width = { $size } wide, it could have its left and right edges on joints
rough-fit-height = { $size } high, it could have its bottom and top edges on joints
rough-web = { $web } of tile at least between the hole and an edge
rough-web-thin = Only { $web } of tile between the hole and an edge: it may break
rough-cut = { $count ->
    [0] No tile is cut at it
    [one] One tile is cut at it
   *[other] { $count } tiles are cut at it
}
rough-slivers = Small parts: { $pieces }
rough-depth = The finished wall is { $finished } from its back: { $wall } to the bare wall, and { $build } of bed and tile.
rough-depth-fits = That is within { $from } to { $to }.
rough-depth-back = That is nearer than { $from }: move the valve back into the wall by { $least }, at most { $most }.
rough-depth-forward = That is farther than { $to }: bring the valve forward by { $least }, at most { $most }.
rough-too-narrow = The hole in the framing is { $width } × { $height }, and the range is { $across } too narrow for it.
rough-too-low = The hole in the framing is { $width } × { $height }, and the range is { $up } too low for it.
rough-too-small = The hole in the framing is { $width } × { $height }, and the range is { $across } too narrow and { $up } too low for it.
rough-none-free = Everywhere in this range it would run into another opening or over the edge of the tile. Widen the range, or make it smaller.
rough-not-laid = No tile is laid on this wall yet.
rough-drawing-says = The tile of this wall with { $name } in its place.
rough-caution = Framing, plumbing and waterproofing are for those licensed to do them, and the local code comes first. Look what is in the wall before a stud is cut, and measure once more.
# Every horizontal surface of a shower, 1/4 to 1/2 in per ft: NTCA trainer in "Ask the Experts", tileletter.com.
rough-caution-sill = A niche's sill falls to the front by 1/4 to 1/2 in per ft (2 to 4 %).
rough-assumed = What was taken as given
rough-assumed-lining = The hole in the framing is larger than the finished niche by { $lining } on each side.
rough-assumed-clearance = Tile stops { $clearance } from it. What hides the tile's edge: { $edge }.
rough-assumed-places = Places are from the left corner of the bare wall and from the base, both as they were measured; heights from today's line.
rough-assumed-layout = Joints are where the layout has them now. When the layout moves, look here again.
rough-put = Put it on the wall as an opening
rough-put-says = The joints of this wall then stay where they are.
rough-others = Other places
rough-other-niche = Hole { $x } from the left corner, bottom { $height } { $side }
rough-other-valve = Centre { $x } from the left corner, { $height } { $side }
rough-put-other = Put it here instead
rough-back = Back to the wall
options-rule-smallest-cut-kept = no cut smaller than half a tile
options-rule-smallest-cut-broken = cuts smaller than half a tile
options-rule-thin-part-kept = nothing so thin that it may break at the saw
options-rule-thin-part-broken = a notch or hole leaves a part that may break at the saw
options-rule-cut-edge-shows-kept = no cut edge shows
options-rule-cut-edge-shows-broken = a cut edge shows
options-rule-offset-kept = no long tile stepped by more than a third
options-rule-offset-broken = long tiles stepped by more than a third
options-rule-joint-kept = a joint wide enough for this tile
options-rule-joint-broken = a joint narrower than this tile wants
options-rule-prop-gap-kept = the gap under the first course stays hidden
options-rule-prop-gap-broken = the gap under the first course grows past what hides it
options-rule-kept = a rule kept: { $rule }
options-rule-broken = a rule not kept: { $rule }
options-rule-thin-strip-kept = no strip too thin to cut
options-rule-thin-strip-broken = strips too thin to cut
options-rule-trimmed-kept = no tile trimmed by next to nothing
options-rule-trimmed-broken = tiles trimmed by next to nothing
options-rule-strip-kept = the strip where it is wanted
options-rule-strip-broken = the strip misses where it is wanted

# Why no plan uses fewer tiles than its bound
proof-how = How that is known
proof-begins = { $whole ->
    [0] No tile is set whole.
    [one] One tile is set whole.
   *[other] { $whole } tiles are set whole.
} { $cut ->
    [0] None has to be cut.
    [one] One piece has to be cut.
   *[other] { $cut } pieces have to be cut; what counts is which of them can come out of the same tile.
}
proof-part = { $count } pieces that share tiles only with each other take at least { $tiles ->
    [one] one tile.
   *[other] { $tiles } tiles.
}
proof-alone = { $count ->
    [one] One piece shares its tile with no other, so it takes a tile of its own.
   *[other] { $count } pieces share their tile with no other, so each takes a tile of its own.
}
proof-at-most = However a tile is cut, { $most ->
    [one] only one of them comes out of it.
   *[other] no more than { $most } of them come out of it. Divide, and round up.
}
proof-points = Give every piece points for the room it takes. However a tile is cut, it never holds more than { $best ->
    [one] one point
   *[other] { $best } points
}, and these pieces come to { $all }. Divide, and round up.
proof-points-rack = Give every piece points for the room it takes. However a tile is cut, it never holds more than { $best ->
    [one] one point
   *[other] { $best } points
}. These pieces come to { $all }, of which the offcuts on the rack can hold { $racked }. Divide what is left, and round up.
proof-counted = The points alone leave room for doubt. What decides it is counted over these pieces as a whole: which of them can share a tile at all, and in which sets. That is not gone over a second time: the check that goes over proofs can follow the points alone.
proof-odd-sets = { $count ->
    [one] Besides, some pieces go together only two by two, and an odd one out has no partner. With that counted in, one group more decides it.
   *[other] Besides, some pieces go together only two by two, and an odd one out has no partner. With that counted in, { $count } groups more decide it.
}
proof-search = The points alone leave room for doubt, so every way to cut these pieces was gone through: { $cases ->
    [one] one case
   *[other] { $cases } cases
} in all, and none takes fewer than that. The search is not gone over a second time: the check that goes over proofs can follow the points alone.
proof-points-table = The points of each piece
proof-pieces = Pieces
proof-each = Points each
proof-best = The most that one tile can hold: { $best ->
    [one] one point
   *[other] { $best } points
}.
proof-file = The proof as a file, to be gone over by anyone

# The cut list
cutlist-title = Cut list
cutlist-says = { $count ->
    [one] One piece
   *[other] { $count } pieces
} out of { $tiles ->
    [one] one tile.
   *[other] { $tiles } tiles.
}
cutlist-order = In the order of setting: an offcut is there once the piece before it is cut.
cutlist-to-saw = To the saw
cutlist-drawing = Offcuts on the rack, cut by cut
cutlist-cut = cut { $number }
cutlist-most = { $count ->
    [0] None ever lies on the rack.
    [one] At most one lies there at a time.
   *[other] At most { $count } lie there at a time.
}
cutlist-longest = { $label } waits the longest: { $count ->
    [one] it is taken for the next cut.
   *[other] { $count } cuts.
}
cutlist-piece = Piece
cutlist-from = From
cutlist-left = Keep
cutlist-rack = On the rack
cutlist-from-tile = tile { $number }
cutlist-from-rack = offcut { $number } of earlier work
cutlist-from-offcut = offcut { $label }
cutlist-from-elsewhere = cut already, from another tile
cutlist-waited = { $count ->
    [one] from the cut before
   *[other] after { $count } cuts
}
cutlist-leaves = { $label } for { $pieces }
cutlist-leaves-to-size = { $label }, which is { $pieces }

# Where a joint put by hand snaps to
layout-start-next-left = Next good place to the left, { $away } away
layout-start-next-right = Next good place to the right, { $away } away

# What a lead wants of a layout
wish-title = I want …
wish-asked = You asked for
wish-tops = Whole tiles at the top
wish-bases = A whole first course
wish-openings = A joint at an opening
wish-cuts = Cuts
wish-least-of = No cut under
wish-least-of-hint = Leave it empty if any cut will do.
wish-ask = Can I have that?
wish-nothing = Tick what you want first, or type the least cut, and ask again.
wish-found = Yes. Of the layouts looked at that have it, the best:
wish-cut-short = Not everything was looked at, so there may be a better answer.
wish-top = whole tiles at the top of { $wall }
wish-base = a whole first course on { $wall }
wish-joint-bottom = a joint at the sill of { $opening } on { $wall }
wish-joint-top = a joint at the head of { $opening } on { $wall }
wish-joint-left = a joint at the left side of { $opening } on { $wall }
wish-joint-right = a joint at the right side of { $opening } on { $wall }
wish-least = no cut under { $least }
wish-no-scribe = no scribed course
wish-why-unknown = There is nothing here for { $asked }.
wish-why-level = No layout was found that has { $asked }: the top is { $by } out of level.
wish-why-base = No layout was found that has { $asked }: the base falls by { $fall }.
wish-why-falls = { $asked } cannot be had: the base falls by { $fall }, and a gap that grows by more than { $hidden } is not hidden.
wish-why-joint = No layout was found that has { $one } and { $other } with a joint of { $least } to { $most }, which you allow. They meet with one of { $needed }.
wish-why-narrowest = No layout was found without a cut under { $wanted }. Of those looked at, the best has a narrowest cut of { $possible }.
wish-why-narrowest-rest = No layout was found that has the rest and no cut under { $wanted }. Of those looked at that have the rest, the best has a narrowest cut of { $possible }.
wish-one-by-one = That is the first thing found in the way. What of the rest can be had: ask for one at a time.
wish-why-together = No layout was found that has { $asked }.
wish-opening-of-several = { $opening } ({ $nth } of that name)
wish-and = { $one } and { $other }

# What the rules ask of a tile
sheet-facts = Edges, sizes and bow, for the rules
sheet-facts-hint = Published rules on the joint and on edges that stand out need these. Leave empty what you do not know: then they are not spoken of.
sheet-tile-edges = Edges
sheet-tile-edges-hint = Rectified tile is ground to size after firing: square, sharp edges, and the box says so.
sheet-edges-unknown = not known
sheet-edges-rectified = rectified
sheet-edges-as-fired = as fired
sheet-tile-variation = Largest less smallest of ten tiles measured
sheet-tile-variation-hint = Ten tiles from three boxes, the same side of each. Do it for both sides; the greater difference counts.
sheet-tile-bow = Bow of the longest edge
sheet-tile-bow-hint = Lay a straightedge on the tile along its longest edge and measure the widest gap under it. Of the ten, the worst.
sheet-fault-fact = { $label }: this is more than a tenth of the tile's { $side }. Type by how much, not a size, and check the unit.
# Who has what in hand at the saw
saw-others-have-the-rest = Others have the rest in hand. What is cut shows here.
cut-held = in hand: { $who }, { $when }
cut-in-your-hand = in your hand
cut-take-it = Keep this one for me
cut-let-go = Put it back
cut-take-refused-title = { $piece } is not yours to cut
cut-refused-held = { $who } has had { $piece } in hand since { $when }. { $next } is next for you.
cut-refused-held-last = { $who } has had { $piece } in hand since { $when }. Nothing else can be cut now.
saw-some-do-not-fit = Nothing else is left to cut, but some pieces no longer fit the plan. They are marked in the list: open each, and trim it or cut it anew.
# What broke at the saw
cut-broke = Broke it
cut-not-broken-after-all = Not broken after all
cut-broke-refused-title = { $piece } is not kept as broken
cut-mend-refused-title = { $piece } stays broken
cut-mend-refused-since = { $since } was cut since from the tile that took its place. Take that back first.
saw-lost = Broken: { $piece }, { $who }, { $when }. What was to come of that part comes of another tile; what lies on the rack is still good.

sheet-fault-joint-turned = The range is the wrong way round: from { $least } to { $most }. Type the narrower joint first.

# What the layout page explains, warns of and offers
layout-explains-symmetry = Ends of the rows: on average, how far the cuts at the two ends of a row, and those that face each other on facing walls, are from equal.
layout-explains-warnings = Rules to look at: how many published rules this layout does not keep. See which:
layout-to-buy = to buy: { $tile }
layout-misread = Measure again before anything is cut
layout-quick = This is a quick first suggestion. Looking at other layouts takes longer and may find better ones.
# Above the first suggestion while nothing is cut
layout-quick-looking = This is a quick first suggestion, and better layouts may be found. Look at the others before you cut.
layout-quick-first = This is a quick first suggestion. The best of those found since: { $gains }. Look at it before you cut.
layout-better = Layout 1 of those to choose from is better, and worse in nothing: { $gains }.
layout-better-in = { $measure } { $there } instead of { $here }
layout-better-see = See both side by side

# Setting up the lead
set-up-title = Set up the lead
set-up-says = Nobody leads this crew here yet. The lead measures, chooses the layout and says who joins. Whoever fills this in is the lead.
set-up-name = Your name
set-up-name-hint = As the crew calls you. It stands beside what you report.
set-up-pin = A PIN of six digits
set-up-pin-hint = With it you get in on another phone or laptop. Not one that is easily guessed.
set-up-again = The same PIN again
set-up-unit = The tape of new jobs reads
set-up-zone = Time zone of new jobs
set-up-make = I am the lead
new-pin-title = Choose a new PIN
new-pin-says = { $name }, choose a new PIN: with it you lead the crew from this device and get in on others. The old one no longer counts. Your jobs, and whoever is in, stay as they are.
new-pin-make = Take this PIN
new-pin-done = { $count ->
    [0] The new PIN holds. No other device is in as lead.
    [one] The new PIN holds. One other device is in as lead; if it is lost or not yours, sign it out:
   *[other] The new PIN holds. { $count } other devices are in as lead; sign out what is lost or not yours:
}
demo-says = This is the demo job. Nothing here is yours to lose: whoever sits at the box leads it, without a PIN.
demo-lead = I am at the box: be the lead of the demo job
fault-person-missing = Write your name.
fault-person-long = Use at most { $most } letters for the name.
fault-pin-six = Type six digits.
fault-pin-plain = Choose a PIN that is not one digit repeated or digits in a row.
fault-pin-again = The two PINs differ. Type the same one twice.
fault-pin-wrong = That is not the PIN.
fault-pin-later = Too many wrong PINs. Wait an hour, or run "coursebook lead-link" on the box for a new link.
fault-pin-needs-link = Too many wrong PINs in all. Run "coursebook lead-link" on the box for a new link.
fault-pin-no-lead = No lead is set up yet. Open the link that the box has printed.

# Joining
join-title = Join the crew
join-name = Your name
join-name-hint = As the crew calls you. It stands beside what you report.
join-board-title = Join a screen that only shows
join-board-name = What this screen is called
join-board-name-hint = Where it hangs, such as kitchen tablet.
join-send = Ask to be let in
join-wifi = This phone may leave a Wi-Fi that has no internet. If it asks, tell it to stay; otherwise turn mobile data off while you work here.
wait-title = Wait for the lead
wait-says = { $name }, the lead sees that you are waiting and lets you in. This page looks again by itself.
wait-look = Look again
closed-title = This link does not open
closed-used = Somebody has used this link already: each is for one device.
closed-expired = This link is too old: each lasts a short time.
closed-revoked = You are not in: the lead took this back, or it grew too old.
closed-unknown = There is no such link: it may be cut off or mistyped.
closed-way = Ask the lead for a new one: under People and devices it is made in a moment.
closed-way-lead = Run "coursebook lead-link" on the box for a new one.
stranger-title = You are not in yet
stranger-says = Ask the lead for a link: they open People and devices, and you scan the code with this phone.
stranger-no-lead = Nobody leads this crew here yet. Open the link that the box printed when it started.
stranger-sign-in = I am the lead and have a PIN
sign-in-title = The lead's PIN
sign-in-pin = PIN
sign-in-send = Get in
sign-in-lost = Lost the PIN? Run "coursebook lead-link" on the box: it prints a link by which you choose a new one.
error-lead-only = Only the lead can do that. Ask them, or let them do it on their own phone.
error-board-reads = This screen only shows. Cut and report on a phone that has joined as a helper.

# People and devices
people-title = People and devices
people-waiting = Waiting to be let in
people-let-in = Let { $name } in
people-turn-away = Turn { $name } away
people-add = Add somebody
people-add-says = A link is for one device, works once and lasts ten minutes. A helper cuts and reports; measures, layout, products and people stay with you.
people-add-helper = Link for a helper
people-add-board = Link for a screen that only shows
people-in = In now
people-end = Sign { $name } out
people-links = Links that nobody has used
people-links-says = Shown to the wrong person? Take them back.
people-revoke = Take all unused links back
people-revoked = { $count ->
    [0] No link is out that nobody has used.
    [one] One link taken back: it no longer opens.
   *[other] { $count } links taken back: they no longer open.
}
people-look = Look again who waits
people-reached = Where phones find coursebook
people-moved = The address of this box has changed: last time it was { $before }, now it is { $now }. Phones that joined at the old one have to join again.
people-only-here = No phone can reach this server: it listens on this machine alone. Start it with --listen 0.0.0.0:8080 for phones to join.
device-more = { $role }, { $kind }, { $came }, { $seen }
device-phone = phone
device-computer = computer
device-board = screen
device-this = this one
device-seen-now = seen just now
device-seen-minutes = seen { $count } minutes ago
device-seen-hours = seen { $count } hours ago
device-seen-days = seen { $count } days ago
role-lead = lead
role-helper = helper
role-board = only shows
link-title = Link for a helper
link-board-title = Link for a screen that only shows
link-says = Let them scan this, or send them the address. It works once, within ten minutes; then they wait under People and devices until you let them in.
link-code = The address as a code to scan
link-next = Who waits

# What the box prints
announce-at = coursebook is at { $url }
announce-also = also at { $url }
announce-moved = THE ADDRESS HAS CHANGED: last time it was { $before }. Phones that joined there look in the wrong place: they have to join again.
announce-set-up = No lead is set up. Open this once, within a day, on the lead's phone or laptop, or open the address above on this machine:
announce-lead-link = Open this once, within ten minutes, on the lead's phone or laptop, and choose a new PIN:

# The queue at the saw
saw-wall-to-do = { $count ->
    [0] nothing left to cut
   *[other] { $count } to cut
}
saw-wall-cut = { $count } cut
saw-of-tile = { $tile }: { $says }
saw-broken = { $count } broken.
saw-spare = { $count ->
    [0] No tile spare.
    [one] { $count } tile spare.
   *[other] { $count } tiles spare.
}
saw-short = { $count ->
    [one] { $count } more tile than the { $boxed } of whole boxes: count what is there.
   *[other] { $count } more tiles than the { $boxed } of whole boxes: count what is there.
}
saw-in-all = { $count ->
    [one] The job takes one tile with that.
   *[other] The job takes { $count } tiles with that.
}
saw-spare-unknown = The sheet does not say how many a box holds, so nobody knows how many are spare.

# What was pressed on a phone and is not answered yet
outbox-title = What this phone keeps
outbox-kept = saved on this phone, not sent
outbox-waiting = Saved on this phone, not sent: {"{"}count{"}"}
outbox-waiting-hint = They go by themselves, in this order, once the server answers. The log takes the time at which they arrive.
outbox-attention = Needs attention: {"{"}count{"}"}
outbox-pressed = {"{"}what{"}"}, pressed at {"{"}time{"}"}
outbox-look = Look at it
outbox-again = Send it again
outbox-away = Throw it away
outbox-silent = The server did not take it, and did not say why.
error-two-keys = This form came under two keys, so nothing was saved. Open the page again and press there.
error-not-in = This phone is not in: the lead has put it out, or it was not used for long. What was pressed stays on it. Join again by a link of the lead, then send it again.
error-anothers = Somebody else was in on this phone when this was pressed. Sent again, it is logged as yours.
log-cut = { $piece } was cut.
log-not-cut = { $piece } was not cut after all.
log-broke = { $piece } broke.
log-not-broke = { $piece } did not break after all.
log-laid = { $piece } was set.
log-not-laid = { $piece } was not set after all.

# The offcut rack
rack-title = Offcut rack
rack-empty = Nothing lies here yet. As pieces are cut, this lists each offcut to keep: what is written on it, its size, its factory edges, and which pieces still come out of it.
rack-hint = Drawn as they lay on the saw, face up. Thick lines are factory edges.
rack-edges = { $count ->
    [one] Factory edge: { $sides }
   *[other] Factory edges: { $sides }
}
rack-no-edges = No factory edge left
rack-waits = Keep for
rack-spare = spare
rack-from = Left over from { $piece }, { $who }, { $when }
rack-from-broken = Left over from { $piece }, which broke

# The walls as their setter sees them
setting-title = Setting
setting-course = Course { $course }
setting-strip = Strip over course { $course }
setting-bring-up = Bring up { $whole ->
    [one] { $whole } whole tile
   *[other] { $whole } whole tiles
}
setting-bring-cuts = { $whole ->
    [0] { $cuts ->
        [one] Bring up this cut:
       *[other] Bring up these { $cuts } cuts:
    }
    [one] { $cuts ->
        [one] Bring up { $whole } whole tile and this cut:
       *[other] Bring up { $whole } whole tile and these { $cuts } cuts:
    }
   *[other] { $cuts ->
        [one] Bring up { $whole } whole tiles and this cut:
       *[other] Bring up { $whole } whole tiles and these { $cuts } cuts:
    }
}
setting-cut = cut
setting-to-cut = still to cut
setting-misfit = cut, but no longer fits
setting-missing = { $count ->
    [one] { $count } of the cuts is missing.
   *[other] { $count } of the cuts are missing.
}
setting-set = { $run } is set
setting-ready = all cut
setting-later = { $count ->
    [one] Then { $count } more course
   *[other] Then { $count } more courses
}
setting-laid = { $count ->
    [one] { $count } course set
   *[other] { $count } courses set
}
setting-done = set, { $who }, { $when }
setting-on-board = set, says the board
setting-all = all of it is set
setting-back = Not set after all
setting-to-saw = To the saw
setting-again = Back to setting
setting-refused-title = { $run } is not kept as set
setting-stays-title = { $run } stays as it is
setting-refused-already = { $run } was reported already. Look at the page again.
setting-refused-not-cut = { $count ->
    [one] This cut of { $run } is missing or no longer fits. Cut it first.
   *[other] These cuts of { $run } are missing or no longer fit. Cut them first.
}
setting-refused-board = The board says that { $run } is set. Correct it there first.
setting-refused-plan = The plan has changed since your page was drawn. Look at { $run } again before you say that it is set.
cut-hangs = It hangs on the wall, with { $run }.
cut-refused-set = { $piece } hangs on the wall, with { $run }. If that is wrong, say under Setting that { $run } is not set.

# The keys under a length
pad-name = Keys for a length
pad-delete = Delete
pad-space = Space
pad-keyboard = Keyboard
pad-open = Number pad
pad-done = Done

# The wall card
wallcard-title = { $wall }: wall card
wallcard-link = Wall card
wallcard-now = Now
wallcard-next = Next
wallcard-nothing = Nothing is reported of this wall yet.
wallcard-finished = Every stage of this wall is done.
wallcard-strike = Lines to strike
wallcard-begins = begins with { $width }
wallcard-begins-whole = begins with a whole tile
wallcard-on-base = on the base
wallcard-with = Set with
wallcard-tile = Tile
wallcard-joint = Joint
wallcard-joint-other = spacers of this width: the layout chosen goes by it, not by the { $sheet } on the sheet
wallcard-joint-says = spacers of this width
wallcard-bed = Mortar bed
wallcard-mortar-was = Mortar it was set with
wallcard-mortar = Mortar
wallcard-mortar-untold = which bag is not told yet
wallcard-untold = Not told yet, see the bag: trowel and which way to comb, water for a bag, how long it rests, when to wipe first.
wallcard-measures = Measures of this wall

# Measured again: a piece that does not fit
fit-button = Does not fit
fit-title = Measure { $piece } again
fit-says = Measure the clear opening on the wall, from tile or wall to tile or wall. Joints and gaps are taken off here.
fit-opening-across = Width of the opening
fit-opening-up = Height of the opening
fit-from-to = From { $from } to { $to }.
fit-plan = The plan has { $opening } there: a piece of { $size }, { $low } and { $high }.
fit-longest-left = The cut tapers: measure at the left end, where the piece is longest. The taper stays as it is.
fit-longest-right = The cut tapers: measure at the right end, where the piece is longest. The taper stays as it is.
fit-stop-tile-left = the tile on the left
fit-stop-tile-right = the tile on the right
fit-stop-tile-bottom = the tile below
fit-stop-tile-top = the tile above
fit-stop-corner-left = the corner on the left
fit-stop-corner-right = the corner on the right
fit-stop-end-left = where tile ends on the left
fit-stop-end-right = where tile ends on the right
fit-stop-base = the base
fit-stop-foot = the foot of the tile
fit-stop-ceiling = the ceiling
fit-stop-end-top = where tile ends at the top
fit-free-joint = a joint of { $length }
fit-free-gap = a gap of { $length }
fit-free-none = no gap
fit-comes-to-across = Opening { $opening }, less { $low } and { $high }: { $piece } is { $size } wide.
fit-comes-to-up = Opening { $opening }, less { $low } and { $high }: { $piece } is { $size } high.
fit-for = Which pieces it counts for
fit-for-piece = This piece only
fit-for-course = The others of this course too, as far as they are not cut: { $pieces }
fit-for-above = The courses above too, as far as they are not cut: { $pieces }
fit-save = Take this size
fit-otherwise = When it is something else
fit-otherwise-says = When a whole wall is off, the lead measures the wall again; when the courses should lie elsewhere, the lead moves the layout.
fit-to-wall = To the wall's measures
fit-to-layout = To the layout
fit-back = Back to { $piece }
fit-nothing-to-measure = This piece is as wide and as high as its tile, so there is no cut side to change. When it does not fit, what lies beside it is not where the plan has it.
fit-outrun = The plan has changed since your page was drawn. What you typed is below; look at the figures of { $piece } and send it again.
fit-fault-empty = Type what the tape read.
fit-fault-empty-both = Type the width or the height that the tape read, or both.
fit-fault-nothing = { $label }: type what the tape read between the two sides, more than 0.
fit-no-not-cut = { $piece } is not cut that way.
fit-no-nothing-left = Once joint and gap are off, { $left } is left for { $piece }: too little to cut. Check the tape; if it is right, leave it as joint or ask the lead to move the layout.
fit-no-tile-as-wide = No tile is as wide as { $wanted }, which { $piece } would be: the tile is { $tile }. Check the tape; if it is right, the lead moves the layout, or the rest is filled with a second piece.
fit-no-tile-as-high = No tile is as high as { $wanted }, which { $piece } would be: the tile is { $tile }. Check the tape; if it is right, the lead moves the layout, or the rest is filled with a second piece.
fit-no-past-joint = { $piece } would reach { $by } past the next joint of the pattern. Ask the lead to move the layout.
fit-no-falls-apart = { $piece } would not stay in one piece, or would lose what it is cut round. Ask the lead to measure the wall again.
fit-no-one-by-one = Take the size for this piece only, and measure that one by itself.
fit-no-plan = A piece of this size cannot be cut from the tile with the factory edges that must show. Nothing was changed. Ask the lead to move the layout.
fit-told-sizes = { $count ->
    [one] { $piece } has a new size
   *[other] { $count } pieces have a new size
}
fit-told-same = { $piece } fits as planned
fit-told-taken-back = Taken back: the plan no longer goes by this.
fit-told-other-plan = The layout has changed since. Measure again.
fit-cost-none = No extra tile: { $all }, as before.
fit-cost-more = { $count ->
    [one] One tile more: { $all }.
   *[other] { $count } tiles more: { $all }.
}
fit-cost-fewer = { $count ->
    [one] One tile fewer: { $all }.
   *[other] { $count } tiles fewer: { $all }.
}
fit-line-across = { $now } wide, planned { $was }
fit-line-up = { $now } high, planned { $was }
fit-line-same = as planned
fit-line-whole = a whole tile now
fit-line-cut = cut, and does not fit: it is cut anew
fit-to-saw = To the saw
fit-again = Measure again
fit-take-back = Not so after all
fit-standing = { $piece } measured again: { $who }, { $when }
fit-unheld = Measured on the wall for another layout, and not in this plan: { $pieces }. Measure again where it still matters.
fit-back-refused-title = The size stays
fit-back-gone = This was taken back already.
fit-back-cut-since = { $piece } was cut to this size since. If that is wrong too, take the cut back first.
cut-free = Write { $label } on the hatched offcut, if it is not there yet, and keep it as a spare: no piece needs it now.
cutlist-leaves-free = { $label }, a spare
fit-proof-open = Some pieces were measured again while others were cut. The figures below are about what was open then; { $count ->
    [one] one tile was
   *[other] { $count } tiles were
} cut into before, and { $count ->
    [one] it stays as it is.
   *[other] they stay as they are.
}
log-measured = { $piece } measured again: { $sizes }.
log-measured-others = { $count ->
    [one] It goes for { $count } other piece too.
   *[other] It goes for { $count } other pieces too.
}
log-not-measured = What was measured of { $piece } was taken back.

# What is cut, and does not fit any more
cut-trim = Trim it
cut-trim-take = { $piece } as it is cut
cut-trimmed = trimmed, { $who }, { $when }
cut-not-trimmed-after-all = Not trimmed after all
cut-trim-refused-title = { $piece } is not kept as trimmed
cut-trim-refused-again = { $piece } was trimmed already: { $who }, { $when }.
cut-trim-back-refused-title = { $piece } stays trimmed
cut-anew = Cut it anew
cut-anew-hint = What is cut cannot be trimmed to this. Keep it as a spare; another one comes from another tile.
cut-not-anew-after-all = Keep it as it was cut
saw-anew = To be cut anew: { $piece }, { $who }, { $when }. The one that does not fit is a spare; what lies on the rack is still good.
saw-in-vain = { $count } cut in vain.
fit-line-trim = cut, and now has to be trimmed
fit-cost-anew = { $piece } has to be cut anew.
log-trimmed = { $piece } was trimmed from { $from } to { $to }.
log-not-trimmed = { $piece } was not trimmed after all.
log-anew = { $piece } did not fit and is cut anew.
log-not-anew = { $piece } is kept as it was cut after all.
fit-doubt = Far off the plan
fit-far-narrower = That is { $off } narrower than planned ({ $now } instead of { $was }). Is it right?
fit-far-wider = That is { $off } wider than planned ({ $now } instead of { $was }). Is it right?
fit-far-lower = That is { $off } lower than planned ({ $now } instead of { $was }). Is it right?
fit-far-higher = That is { $off } higher than planned ({ $now } instead of { $was }). Is it right?
fit-sure = It is right: take this size
cut-is-cut = It is cut
cut-to-say = To { $piece }, and to say that it is cut
cut-measure-again = Measure its place again
cut-refused-other-tile = The plan has changed since your page was drawn. { $piece } keeps its size, and is now planned out of { $take }.
cut-refused-other-tile-do = If it is cut already, press "It is cut". Where the saw later asks for an offcut that is gone, press "Broke it" there.
cut-refused-other-size = The plan has changed since your page was drawn. { $piece } is { $size } now.
cut-refused-other-size-do = If it is cut to the old size, lay it on the rack as a spare and cut it anew; or measure its place again, in case the old size was right.
cut-refused-no-piece = The plan has no { $piece } to cut any more. If it is cut, lay it on the rack as a spare.
cut-take-first = Take this piece
cut-take-first-why = Others are about: take it first, so that nobody else cuts it.

# Another layout when work has begun
price-title = What this change costs
price-misfits = { $count ->
    [0] All that is cut still fits.
    [one] One cut piece would no longer fit.
   *[other] { $count } cut pieces would no longer fit.
}
price-as-many = As many tiles as before: { $all }.
price-more = { $count ->
    [one] One tile more: { $all } in all.
   *[other] { $count } tiles more: { $all } in all.
}
price-fewer = { $count ->
    [one] One tile fewer: { $all } in all.
   *[other] { $count } tiles fewer: { $all } in all.
}
price-what = What moves
price-kept = { $wall } is set or being set, and stays as it is.
price-partly = So only the walls that are not set take what was chosen.
price-do = Change the layout
price-do-walls = Save what was measured
price-do-sheet = Change the sheet
price-back-wall = Back to the wall
price-back-sheet = Back to the sheet
relaid-wall = { $wall } measured or described anew.
relaid-no-wall = { $wall } is no longer part of the job.
relaid-terms = The sheet is another: tiles, joint, saw or gaps.
price-leave = Leave it as it is
price-outrun = Somebody worked on while this page was open, and the change costs something else by now. Look at it again.
price-refused-title = The layout stays
price-hangs = { $wall } is set or being set, and this would move its tiles. Nothing was changed.
price-no-layout = No layout comes of that. Nothing was changed.
relaid-start = { $wall }: upright joint at { $after } from the left end, before { $before }.
relaid-strip = { $wall }, strip: upright joint at { $after } from the left end, before { $before }.
relaid-first = { $wall }, first course: { $after }. Before: { $before }.
relaid-climb = { $wall }: courses step to the { $after }, before to the { $before }.
relaid-left = left
relaid-right = right
relaid-line = A joint between courses { $after }, before { $before }.
relaid-joint = Joint { $after }, before { $before }.
log-relaid = Another layout. { $says }

# What only the lead may change
lead-changes-this = Only the lead changes this. Here it is to read.

# Tiles that are left, counted by hand
stock-title = Tiles left
stock-says = Count every whole tile that is neither cut nor set, also those carried up to the wall.
stock-label = { $tile }: whole tiles left
stock-save = Take this count
stock-fault = Type a whole number of tiles, such as 12.
stock-needed = { $needed } needed
stock-left-needed = { $left } left, { $needed } needed
stock-short = { $count ->
    [one] One tile short
   *[other] { $count } tiles short
}
stock-enough = { $count ->
    [0] Just enough
    [one] Enough: one to spare
   *[other] Enough: { $count } to spare
}
stock-made-of = { $whole ->
    [one] One whole tile to set,
   *[other] { $whole } whole tiles to set,
} { $cut ->
    [one] one to cut into.
   *[other] { $cut } to cut into.
}
stock-proved = No way of cutting what is left to do takes fewer, with the offcuts on the rack used.
stock-at-least = At least { $count }, however what is left to do is cut.
stock-buy = { $count ->
    [one] Buy one tile.
   *[other] Buy { $count } tiles.
}
stock-buy-boxes = { $count ->
    [one] Buy one tile,
   *[other] Buy { $count } tiles,
} { $boxes ->
    [one] which is one box.
   *[other] which is { $boxes } boxes.
}
stock-finish = With what is there you can finish: { $walls }.
stock-finish-none = What is there finishes no wall.
stock-wait = Waits for tile: { $walls }.
stock-counted = { $left } counted by { $who }, { $when }; { $used } used since.
stock-saved = { $count ->
    [one] What was not cut yet is planned again: one tile fewer than the saw went by before.
   *[other] What was not cut yet is planned again: { $count } tiles fewer than the saw went by before.
}
log-counted = { $tile }: { $left } left by hand count, { $needed } needed, { $bound } at least.
log-counted-proved = { $tile }: { $left } left by hand count, { $needed } needed, and no way of cutting takes fewer.
saw-counted = { $count ->
    [one] One was left when they were counted, { $when }.
   *[other] { $count } were left when they were counted, { $when }.
}

# What changed in somebody's hand
cut-changed = Was { $was }, now { $now }: { $by }
cut-changed-shape = Its shape is another now: { $by }
cut-changed-measured = measured again by { $who }, { $when }
cut-changed-taken-back = a measurement was taken back by { $who }, { $when }
cut-changed-layout = the layout was changed by { $who }, { $when }
cut-changed-do = If it is sawn as it was before, saw off what is over before you say that it is cut. If it came out too small, press "Broke it".
cut-changed-go-on = Go on with { $now }
cut-changed-gone = { $piece }, which you had in hand, is not cut any more: { $by }. If it is sawn already, lay it on the rack as a spare.
price-held = { $who } has { $piece } in hand, and this changes it. Tell { $who }.
fit-line-held = in hand: { $who }. Say so
cut-take-over = Take it over from { $who }
cut-taken-from-you = { $who } has taken { $piece } over from you, { $when }. Leave it to { $who }.
log-taken-over = { $piece } taken over, out of the hand of { $from }.
cut-broke-again-title = Did another { $piece } break?
cut-broke-again = You said a moment ago that { $piece } broke, and that is counted. Nothing more was counted now.
cut-broke-again-no = No, only that one
cut-broke-again-yes = Yes, count one more
saw-broke-now = { $piece } broke, { $count } so far.
saw-broke-then = Now take { $take }.
fit-to-trim = Trim { $piece }
fit-to-anew = Cut { $piece } anew
device-came-minutes = here for { $count } min
device-came-hours = here for { $count } h
device-came-days = here for { $count ->
    [one] { $count } day
   *[other] { $count } days
}
people-brief = crew
people-end-sure = { $name }, { $kind }, { $came }, { $seen }. It is out at once, and a piece that it had in hand is free.
people-end-yes = Yes, sign it out
setting-not-yet = Its turn comes once the course below is set.
uncut-title = Is it still done?
uncut-says = { $count ->
    [one] One piece of this is not cut.
   *[other] { $count } pieces of this are not cut.
} Nothing was written down yet.
uncut-yes = It is set all the same: write it down
uncut-no = Not set: go back

# How cold it is
degrees-c = { $number } °C
degrees-f = { $number } °F
temperature-title = Temperature
temperature-now = How cold is it now?
temperature-surface = Measure the wall itself, not the air: lay the thermometer on the tile or the board.
temperature-cold = Cold
temperature-cool = Cool
temperature-normal = Normal
temperature-from-to = { $from } to { $to }
temperature-from = { $from } and more
temperature-number = Or the number
temperature-hint-c = In °C, like 10 or 10.5. Write F behind it for Fahrenheit.
temperature-hint-f = In °F, like 50. Write C behind it for Celsius.
temperature-where = Where
temperature-room = Whole room
temperature-earlier = It was measured earlier
temperature-earlier-hint = Told late it may be of any moment since, so until the next reading the colder one counts.
temperature-save = Save the temperature
temperature-more = Number, nights and all readings
temperature-counts = { $degrees } counts now.
temperature-counts-unknown = { $degrees } was read, but nobody has said how cold the nights get: the longer times count.
temperature-nothing = Nobody has said how cold it is: the longer times count.
temperature-rule = Waiting times are for { $reference } and more. For each 8 °C (14 °F) colder they double; warmer never makes them shorter. Between two readings the colder counts. After the last one, before the first and in a gap of more than 6 hours the lowest of the nights counts too.
temperature-night = The lowest of the nights
temperature-night-is = The nights come down to { $degrees }.
temperature-night-none = Nobody has said how cold the nights get.
temperature-night-lowest = The coldest that this room gets at night
temperature-night-hint = As cold as the wall gets, not the forecast outside. It speaks of last night too, and of every night from now on.
temperature-night-save = Save the night’s lowest
temperature-readings = What was read
temperature-none = Nothing was read yet.
temperature-read = { $place }: { $degrees }, { $when }.
temperature-never-read = { $place }: the reading was taken back, { $when }.
temperature-corrected = Corrected by { $who }, { $when }.
temperature-correct = Correct a reading
temperature-both-stay = Nothing is erased: the correction is a further entry, and both stay readable. It counts from when the first one did.
temperature-right-number = It was another temperature
temperature-right-never = It was never read
temperature-right = The right temperature
temperature-warmer-is-the-leads = You can correct it to colder. Warmer makes waits shorter, so only the lead corrects it to warmer or takes it back. If it has become warmer since, say how cold it is now.
temperature-reason-hint = Needed where it becomes warmer or is taken back. A few words; they stay with the entry.
fault-temperatures-many = This job has { $most } of these already, as many as it may have. What was told last goes on counting.
temperature-latest = The latest { $most } of { $count }. The log has them all.
fault-reading-warmer = This would make waits shorter: only the lead corrects a reading to warmer or takes it back.
fault-degrees = Write a temperature, like 10 °C or 50 °F.
fault-degrees-range = A wall is between −40 °C and 60 °C (−40 °F and 140 °F). Look at the thermometer again.
fault-lowest-colder = This is colder than the usual { $usual }: say why, for example what the bag says.
lowest-title = Coldest it works at
lowest-own = From the bag, as the crew entered it. Usual for the class: { $usual }.
lowest-usual = Check the bag. From memory, not seen in print. Below this the time stands still.
lowest-hint = The lowest working temperature on the bag. Leave it empty for the usual one: { $usual }.
lowest-why = Why it is colder than usual
gate-cold = Cold makes it { $longer } longer: { $window } at { $warm }, and { $whole } at { $degrees }.
gate-cold-before = Cold has made it { $longer } longer.
gate-cold-unknown = Nobody has said how cold it gets, so it is taken to be { $whole } instead of { $window }: { $longer } longer. Say how cold it is now, and the lowest of the nights.
gate-stopped = It stands still: at { $degrees } { $product } does not harden, it works from { $lowest }. Warm the wall; then { $left } are left at { $warm }.
wait-cold = At { $degrees } it is { $whole }
wait-cold-unknown = It is taken to be { $whole } while nobody says how cold it is
wait-cold-stopped = Below { $lowest } it stands still, as it does now
state-too-cold = Not yet: too cold
state-stopped = { $degrees }; the time stands still below { $lowest }
state-longer = { $longer } longer for the cold
state-longer-unknown = { $longer } longer: nobody said how cold it is
state-froze = May have frozen: check the bond
entry-froze = It may have frozen before it was hard: check the bond.
cell-concrete = For information only: by the curve of concrete it is { $age } h old, of { $window }. That curve asks for less patience, and no time here goes by it.
log-night = The nights come down to { $degrees }.
log-reading-corrected = { $place }: corrected to { $degrees }.

# Mixes of mortar and grout
batches-title = Batches
batches-what = Tell when you mix: then every phone counts down how long it is good for, and the log knows which lot is behind which wall.
batches-none = Nothing mixed is in use.
batches-more = All batches, and how much to mix
batches-all = All batches
batches-never = Nothing was mixed yet.
batch-number = Batch { $number }
batch-with-lot = { $batch }: { $product }, lot { $lot }
batch-without-lot = { $batch }: { $product }
batch-short = batch { $number }
batch-short-lot = batch { $number } (lot { $lot })
batch-mixed-now = Mixed now: { $product }
batch-mixed-now-lot = Mixed now: { $product }, lot { $lot }
batch-rests = Rests until { $at }, then stir again
batch-use-by = Use by { $at }
batch-past = Past its pot life: throw it away. It was good until { $at }, { $since } ago.
batch-unknown = Nobody can say how old it is: the box was restarted. Throw it away if in doubt.
batch-time-up = Time is up
batch-left = Time left:
batch-wipe = Wipe what was spread first from { $from }, by { $by }
batch-powder = Powder: { $amount }.
batch-water = Water: { $amount }.
batch-warm = Mixed at { $degrees }.
batch-too-wet = More water than the bag allows: at most { $most } for that much powder.
batch-too-wet-usual = More water than is usual for its kind: at most { $most } for that much powder. Check the bag.
batch-used-up = Used up
batch-correct = Correct a batch
batch-mix = Mix { $product }
batch-mixed = Mixed now
batch-more = Powder, water, earlier
batch-lot = Lot on the bag
batch-lot-hint = Once a bag: it stays for the next batch.
batch-powder-label = Powder
batch-powder-hint-kg = In bags or kilograms: 1/2, 1 bag, 7.5 kg.
batch-powder-hint-lb = In bags or pounds: 1/2, 1 bag, 15 lb.
batch-water-label = Water
batch-water-hint-l = In litres: 2.5 l.
batch-water-hint-qt = In quarts or gallons: 2.5 qt, 1 gal.
batch-degrees-label = How warm the mix is
batch-minutes-label = Mixed so many minutes ago
batch-minutes-hint = Leave it empty for just now.
batch-told = Mixed { $when }, told by { $who }.
batch-mixed-at = Mixed { $when }.
batch-over = Used up { $when }.
batch-never-mixed = It was never mixed.
batch-behind = Behind: { $parts }.
batch-both-stay = Nothing is erased: the correction is a further entry, and both stay readable. The time of mixing stays as it was told.
batch-right-figures = Lot, powder, water or warmth was another
batch-right-never = It was never mixed
batch-size = Mix { $bags } at once ({ $powder }) with { $least } to { $most } of water. That covers { $area } in the { $working } that it is good for after its rest.
batch-size-less = Mix less than half a bag at once: about { $powder } with { $least } to { $most } of water. That covers { $area } in the { $working } that it is good for after its rest.
batch-size-no-plan = How much to mix is told once there is a layout, or once the product says what a bag covers.
batch-spread = Spread at most { $area } at a time, less in a draught: more skins over before tile is on it.
batch-rate-measured = Pace: { $area } an hour, from this crew’s own log.
batch-rate-usual = Pace: { $area } an hour, common practice until this crew’s log shows enough.
batch-use-bag = Powder: { $powder } a square metre, from what the bag covers.
batch-use-usual = Powder: { $powder } a square metre, from published tables. Check the bag.
batch-water-usual = Water: usual for its kind, from memory. The bag comes first.
batch-heat = At { $degrees } it is good for less time.
batch-choice = { $batch }, mixed { $when }
batch-choice-running = All { $count } in use
batch-choice-all = All { $count } of today
batch-choice-none = From none of these
cell-batches = From which batch?
mend-batches = It was from other batches
mend-batches-label = The right batch
entry-batches = From { $batches }.
log-batch = { $batch } mixed: { $product }, { $when }.
log-batch-lot = { $batch } mixed: { $product }, lot { $lot }, { $when }.
log-batch-corrected = { $batch } put right: { $product }.
log-batch-corrected-lot = { $batch } put right: { $product }, lot { $lot }.
log-batch-never = { $batch } was never mixed.
log-batch-over = Used up: { $batch }.
amount-kg = { $number } kg
amount-lb = { $number } lb
amount-l = { $number } l
amount-qt = { $number } qt
amount-m2 = { $number } m²
amount-sq-ft = { $number } sq ft
amount-half-bag = half a bag
amount-one-bag = 1 bag
amount-bags = { $number } bags
figures-title = What the bag says of mixing
figure-rest = Rest before stirring again
figure-pot_life = Pot life
figure-open_time = Open time
figure-wipe_from = First wipe from, after spreading
figure-wipe_by = First wipe by, after spreading
figure-water_least = Least water a bag
figure-water_most = Most water a bag
figure-bag = What is in a bag
figure-covers = What a bag covers
figure-hint = Leave it empty for the usual: { $usual }.
figure-hint-none = Leave it empty where the bag does not say.
figure-own = From the bag, as the crew entered it. Usual for the class: { $usual }.
figure-own-alone = From the bag, as the crew entered it.
figure-published = Check the bag. Published: { $place }.
figure-common-practice = Check the bag. Common practice.
figure-from-memory = Check the bag. From memory, not seen in print.
fault-lot = Write the lot with at most { $most } characters.
fault-powder = Write the powder like 1/2 bag or with its unit, like 7.5 kg or 15 lb.
fault-powder-absurd = Nobody mixes that much or that little powder at once: look again.
fault-powder-missing = Say how much powder too: without it the water says nothing.
fault-water = Write the water with its unit, like 2.5 l or 2.5 qt.
fault-water-absurd = That much or that little water cannot belong to that much powder: look at both again.
fault-batch-minutes = Write whole minutes, at most 720.
fault-batches-many = There are as many batches as there may be on one job: { $most }.
fault-bag = Write the weight like 20 kg or 50 lb.
fault-area = Write the area like 6.5 m² or 65 sq ft.
fault-figure-not-of-class = A product of this kind has no such figure: leave it empty.
fault-figure-range = No bag says that: look at it again.
fault-figures-cross = These contradict each other: { $less } must be less than { $more }.

# The next steps in a calendar
calendar-title = Calendar
calendar-what = When each stage may be started, and when a batch runs out, for the calendar of a phone. Each has its alarm. A stage of which no time can be told is left out.
calendar-none = No step has a time now.
calendar-step = { $when }: { $step }
calendar-file = Save as a file
calendar-feed = An address for a calendar
calendar-feed-what = A calendar that has the address fetches the steps by itself and keeps them right, as long as it reaches this box. Whoever knows the address can read them without signing in.
calendar-no-feed = No address is in force.
calendar-made-by = Made by { $who }, { $when }.
calendar-make = Make an address
calendar-revoke = Take back every address
calendar-made-title = The calendar’s address
calendar-made-what = Copy it into the calendar now: it is shown only this once. Anyone who knows it can read the steps, until you take it back.
calendar-made-done = It is copied
calendar-name = { $job }: next steps
calendar-may-start = { $wall }: { $stage } may start
calendar-use-by = Use by now: { $batch }
calendar-wipe = First wipe: { $batch }

# Stages of a job
stages-title = Stages of this job
stages-says = The board shows the ticked stages of every wall. Each waits until what it comes after is finished and its time is over. A stage that is not ticked is waited through: what comes after it waits as long as it would have.
stages-work = Kind of work
stages-work-hint = Ticks what this work usually has. Nothing is saved before you say so.
stages-show = Tick its stages
stages-on = On this job
stages-after = after { $stages }
stages-after-nothing = waits for nothing
stages-why = Why a stage comes off
stages-why-hint = Waterproofing or its test: who does it, when, and what proof there is. It stays in the log.
stages-save = Use these stages
stages-fault-none = Tick at least one stage.
stages-fault-why = { $stage } comes off this job: say who does it, when, and what proof there is.
work-tile_work = tile alone: set, clips, grout, seal
work-shower_wall = shower walls, with waterproofing and its test
work-tub_surround = tub surround, with waterproofing
work-floor = floor
work-wet_floor = floor with waterproofing and its test
work-backsplash = backsplash
job-work = Kind of work
job-work-hint = Says which stages the board starts with. Any can be put on or taken off later.
log-stages-on = On this job from now on: { $stages }.
log-stages-off = No longer on this job: { $stages }.
stage-membrane = Waterproofing
stage-test_filled = Water test filled
stage-test_passed = Water test passed
stage-sealant = Sealant
stage-walk_on = Walk on
stage-heavy_use = Heavy use
stage-water_on = Water on
stage-was-membrane = { $part } had its last coat of waterproofing { $when }: { $product }.
stage-was-test_filled = { $part }: filled for the water test { $when }.
stage-was-test_passed = { $part }: the water test held, { $when }.
stage-was-sealant = { $part } had its sealant { $when }: { $product }.
stage-was-walk_on = { $part }: opened to people { $when }.
stage-was-heavy_use = { $part }: opened to heavy use { $when }.
stage-was-water_on = { $part }: water on { $when }.
product-class-liquid_membrane = liquid membrane
window-membrane_to_test = From the last coat to filling for the water test
window-membrane_to_tile = From the last coat to setting tile
window-grout_to_sealant = From the end of grouting to sealant
window-grout_to_walk = From the end of grouting to walking on it
window-grout_to_heavy_use = From the end of grouting to fixtures and heavy loads
window-sealant_to_seal = From the end of sealant work to sealing
grounds-membrane = makers ask for 12 to 24 h before a water test; thick coats and cold rooms take longer
grounds-grout-to-sealant = the grout beside it is dry the next day
grounds-grout-to-walk = light foot traffic the next day
grounds-grout-to-heavy-use = 72 h before heavy traffic, quoted from TCNA and ANSI A108.10
grounds-sealant-to-seal = a skin forms within the hour, and the bead is firm the next day
caution-membrane = Gloves and fresh air. A membrane is ready when it is dry and of one even colour all over: time alone is not enough (common practice). A hole made through it later opens it and its test again.
caution-test = Plug the drain, fill to below the threshold, mark the water line, and look at the ceiling below (common practice). An inspector’s own time and depth come before these 24 h. Name the witness in the log of the building.
caution-joints = Inside corners, the base and the top stay empty of grout: sealant goes there (TCNA EJ171).
caution-sealant = Fresh air, no flames. Fill a tub before its rim joint is sealed, and leave it full until the sealant is firm (common practice).
caution-floor = Until then nobody walks on it; boards spread the load of what must cross (common practice).
caution-valve = A valve or heater is connected by a licensed person.
