//! The gate never opens too early, and every wrong rule tried is caught doing so.

use super::*;

/// How far the test of the gate itself runs.
const STEPS: u32 = 1_000_000;
/// How far each wrong rule runs: far enough to be caught many times over.
const MUTANT_STEPS: u32 = 100_000;

/// A wrong gate: the real one, asked with a log and a present that a wrong rule would see.
fn wrong(mend: impl Fn(&mut Vec<Entry>, &mut Now)) -> impl Fn(&Work<'_>, Courses, StageKind, &Now) -> bool {
    move |work, courses, stage, now| {
        let (mut log, mut now) = (work.log.to_vec(), now.clone());
        mend(&mut log, &mut now);
        as_built(&Work { log: &log, ..*work }, courses, stage, &now)
    }
}

fn every_stamp(log: &mut [Entry], now: &mut Now, change: impl Fn(&mut Stamp)) {
    log.iter_mut().for_each(|entry| change(&mut entry.received));
    change(&mut now.at);
    now.heartbeats = Heartbeats::default();
}

fn caught(name: &str, gate: &Gate) {
    let outcome = simulate(Days::Bad, MUTANT_STEPS, 7, gate);
    assert!(outcome.violations > 5, "{name} went unnoticed: {} violations", outcome.violations);
}

#[test]
fn the_gate_never_opens_before_the_true_finish_and_its_window() {
    let outcome = simulate(Days::Bad, STEPS, 1, &as_built);
    assert_eq!(outcome.violations, 0, "{}", outcome.first.unwrap_or_default());
    assert!(outcome.openings > STEPS / 50, "a gate that never opens proves nothing: {outcome:?}");
}

#[test]
fn on_good_days_the_gate_opens_the_very_moment_it_may() {
    let outcome = simulate(Days::Good, MUTANT_STEPS, 2, &as_built);
    assert_eq!((outcome.violations, outcome.needless), (0, 0), "{}", outcome.first.unwrap_or_default());
    assert!(outcome.openings > MUTANT_STEPS / 50, "{outcome:?}");
}

#[test]
fn counting_from_the_start_is_caught() {
    let from_start = wrong(|log, _| {
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
    let wall_alone = wrong(|log, now| {
        every_stamp(log, now, |stamp| {
            stamp.since_boot = stamp.wall - Instant::from_millis(0);
            (stamp.boot, stamp.wall_clock) = (BootId(0), WallClock::Trusted);
        });
    });
    caught("the wall clock alone", &wall_alone);
}

#[test]
fn trusting_any_wall_clock_over_a_restart_is_caught() {
    let any_clock = wrong(|log, now| every_stamp(log, now, |stamp| stamp.wall_clock = WallClock::Trusted));
    caught("any wall clock over a restart", &any_clock);
}

#[test]
fn asking_only_whether_the_present_clock_is_right_is_caught() {
    let present_only = wrong(|log, _| {
        log.iter_mut().for_each(|entry| entry.received.wall_clock = WallClock::Trusted);
    });
    caught("only the present clock", &present_only);
}

#[test]
fn taking_late_reports_as_told_is_caught() {
    let as_told = wrong(|log, _| {
        for entry in log {
            (entry.confirmed, entry.received.wall_clock) = (true, WallClock::Trusted);
        }
    });
    caught("late reports as told", &as_told);
}

#[test]
fn taking_a_part_for_the_wall_is_caught() {
    let part_for_wall = wrong(|log, _| log.iter_mut().for_each(|entry| entry.part.courses = None));
    caught("a part for the whole wall", &part_for_wall);
}

#[test]
fn overlooking_corrections_is_caught() {
    let no_corrections = wrong(|log, _| log.retain(|entry| entry.supersedes.is_none()));
    caught("overlooked corrections", &no_corrections);
}

#[test]
fn overlooking_what_was_really_used_is_caught() {
    let planned_only = wrong(|log, _| log.iter_mut().for_each(|entry| entry.product = None));
    caught("the planned product for the one used", &planned_only);
}

#[test]
fn overlooking_that_work_began_again_is_caught() {
    let no_starts = wrong(|log, _| log.retain(|entry| entry.what != What::Started));
    caught("overlooked starts", &no_starts);
}
