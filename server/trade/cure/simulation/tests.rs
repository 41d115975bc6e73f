//! The gate never opens too early, and every wrong rule tried is caught doing so.

use super::*;

/// How far the test of the gate itself runs.
const STEPS: u32 = 1_000_000;
/// How far each wrong rule runs: far enough to be caught many times over.
const MUTANT_STEPS: u32 = 100_000;

/// What a gate is asked by.
struct Told {
    log: Vec<Entry>,
    readings: Vec<Reading>,
    nights: Vec<Night>,
    now: Now,
}

/// A wrong gate: the real one, asked with what a wrong rule would make of what was told.
fn wrong(mend: impl Fn(&mut Told)) -> impl Fn(&Work<'_>, Courses, StageKind, &Now) -> bool {
    move |work, courses, stage, now| {
        let mut told = Told {
            log: work.log.to_vec(),
            readings: work.climate.readings().cloned().collect(),
            nights: work.climate.nights().to_vec(),
            now: now.clone(),
        };
        mend(&mut told);
        let Told { log, readings, nights, now } = told;
        let climate = Climate::new(readings, nights);
        as_built(&Work { log: &log, climate: &climate, ..*work }, courses, stage, &now)
    }
}

fn wrong_log(mend: impl Fn(&mut Vec<Entry>)) -> impl Fn(&Work<'_>, Courses, StageKind, &Now) -> bool {
    wrong(move |told| mend(&mut told.log))
}

fn every_stamp(told: &mut Told, change: impl Fn(&mut Stamp)) {
    told.log.iter_mut().for_each(|entry| change(&mut entry.received));
    told.readings.iter_mut().for_each(|reading| change(&mut reading.received));
    told.nights.iter_mut().for_each(|night| change(&mut night.received));
    change(&mut told.now.at);
    told.now.heartbeats = Heartbeats::default();
}

fn caught(name: &str, gate: &Gate) {
    let outcome = simulate(Days::Bad, MUTANT_STEPS, 7, gate);
    assert!(outcome.violations > 5, "{name} went unnoticed: {} violations", outcome.violations);
}

/// What another run is asked to do otherwise: `COURSEBOOK_SEED`, `COURSEBOOK_STEPS`.
#[expect(clippy::disallowed_methods, reason = "which years are played is for whoever starts the test")]
fn asked<T: std::str::FromStr>(name: &str, usual: T) -> T {
    std::env::var(name).ok().and_then(|value| value.parse().ok()).unwrap_or(usual)
}

#[test]
fn the_gate_never_opens_before_the_true_finish_and_its_window() {
    let (seed, steps) = (asked("COURSEBOOK_SEED", 1), asked("COURSEBOOK_STEPS", STEPS));
    let outcome = simulate(Days::Bad, steps, seed, &as_built);
    assert_eq!(outcome.violations, 0, "seed {seed}: {}", outcome.first.unwrap_or_default());
    assert!(outcome.openings > steps / 50, "a gate that never opens proves nothing: {outcome:?}");
}

#[test]
fn on_good_days_the_gate_opens_the_very_moment_it_may() {
    let outcome = simulate(Days::Good, MUTANT_STEPS, 2, &as_built);
    assert_eq!((outcome.violations, outcome.needless), (0, 0), "{}", outcome.first.unwrap_or_default());
    assert!(outcome.openings > MUTANT_STEPS / 50, "{outcome:?}");
}

#[test]
fn counting_from_the_start_is_caught() {
    let from_start = wrong_log(|log| {
        let starts: Vec<Entry> = log.iter().filter(|entry| entry.what == What::Started).cloned().collect();
        for entry in log.iter_mut().filter(|entry| entry.what == What::Finished) {
            let start = starts
                .iter()
                .rfind(|start| start.stage == entry.stage && start.part == entry.part && start.id < entry.id);
            if let Some(start) = start {
                (entry.happened, entry.received) = (start.happened, start.received);
            }
        }
    });
    caught("counting from the start", &from_start);
}

#[test]
fn trusting_the_wall_clock_alone_is_caught() {
    let wall_alone = wrong(|told| {
        every_stamp(told, |stamp| {
            stamp.since_boot = stamp.wall - Instant::from_millis(0);
            (stamp.boot, stamp.wall_clock) = (BootId(0), WallClock::Trusted);
        });
    });
    caught("the wall clock alone", &wall_alone);
}

#[test]
fn trusting_any_wall_clock_over_a_restart_is_caught() {
    let any_clock = wrong(|told| every_stamp(told, |stamp| stamp.wall_clock = WallClock::Trusted));
    caught("any wall clock over a restart", &any_clock);
}

#[test]
fn asking_only_whether_the_present_clock_is_right_is_caught() {
    let present_only = wrong(|told| {
        let present = told.now.clone();
        every_stamp(told, |stamp| stamp.wall_clock = WallClock::Trusted);
        told.now = present;
    });
    caught("only the present clock", &present_only);
}

#[test]
fn taking_late_reports_as_told_is_caught() {
    let as_told = wrong_log(|log| {
        for entry in log {
            (entry.confirmed, entry.received.wall_clock) = (true, WallClock::Trusted);
        }
    });
    caught("late reports as told", &as_told);
}

#[test]
fn taking_a_part_for_the_wall_is_caught() {
    let part_for_wall = wrong_log(|log| log.iter_mut().for_each(|entry| entry.part.courses = None));
    caught("a part for the whole wall", &part_for_wall);
}

#[test]
fn overlooking_corrections_is_caught() {
    let no_corrections = wrong_log(|log| log.retain(|entry| entry.supersedes.is_none()));
    caught("overlooked corrections", &no_corrections);
}

#[test]
fn overlooking_what_was_really_used_is_caught() {
    let planned_only = wrong_log(|log| log.iter_mut().for_each(|entry| entry.product = None));
    caught("the planned product for the one used", &planned_only);
}

#[test]
fn overlooking_that_work_began_again_is_caught() {
    let no_starts = wrong_log(|log| log.retain(|entry| entry.what != What::Started));
    caught("overlooked starts", &no_starts);
}

#[test]
fn overlooking_the_cold_is_caught() {
    caught("overlooked readings", &wrong(|told| told.readings.clear()));
    let warm = Temperature::celsius(21);
    let always_warm = wrong(move |Told { readings, nights, .. }| {
        readings.clear();
        nights.iter_mut().for_each(|night| night.lowest = warm);
    });
    caught("always warm", &always_warm);
}

#[test]
fn the_laxer_of_two_published_rules_is_caught() {
    let laxer = |work: &Work<'_>, courses: Courses, stage: StageKind, now: &Now| {
        let rule = ColdRule::new(Temperature::celsius(21), 100).unwrap();
        let climate = work.climate.clone().with_rule(rule);
        as_built(&Work { climate: &climate, ..*work }, courses, stage, now)
    };
    caught("twice as long for each 10 degrees", &laxer);
}

#[test]
fn going_on_below_the_lowest_working_temperature_is_caught() {
    let goes_on = wrong(|Told { readings, .. }| {
        for reading in readings {
            reading.temperature = reading.temperature.max(Some(Temperature::celsius(5)));
        }
    });
    caught("running on in the cold", &goes_on);
}

#[test]
fn the_warmer_of_two_readings_is_caught() {
    let warmer = wrong(|Told { readings, .. }| {
        let next: Vec<_> = readings.iter().skip(1).map(|reading| reading.temperature).collect();
        for (reading, next) in readings.iter_mut().zip(next) {
            reading.temperature = reading.temperature.max(next);
        }
    });
    caught("the warmer of two readings", &warmer);
}

#[test]
fn taking_late_readings_as_of_now_is_caught() {
    let as_of_now = wrong(|Told { readings, .. }| {
        readings.iter_mut().for_each(|reading| reading.held_from = reading.received.wall);
    });
    caught("late readings as of now", &as_of_now);
}

#[test]
fn trusting_a_night_more_than_what_was_read_is_caught() {
    let only_nights = wrong(|Told { readings, nights, .. }| {
        if !nights.is_empty() {
            readings.clear();
        }
    });
    caught("nights alone", &only_nights);
}

#[test]
fn a_night_given_in_the_morning_that_does_not_speak_of_the_night_before_is_caught() {
    let only_from_now_on = wrong(|Told { nights, .. }| {
        nights.truncate(1);
    });
    caught("only the first night temperature", &only_from_now_on);
}

#[test]
fn a_reading_of_another_wall_is_caught() {
    let any_wall = wrong(|told| told.readings.iter_mut().for_each(|reading| reading.surface = None));
    caught("readings of other walls", &any_wall);
}
