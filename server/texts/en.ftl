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
