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
