//! A wall set at noon on a day in March, and what was read of it.

use proptest::prelude::*;

use super::*;
use crate::cure::running::{Pace, Ran, Terms};
use crate::cure::{BootId, ColdRule};

const NOON: Instant = Instant::from_millis(1_772_539_200_000);

fn at(tenths: i32) -> Temperature {
    Temperature::from_tenths(tenths).unwrap()
}

fn wall() -> SurfaceId {
    SurfaceId::new("back").unwrap()
}

fn stamp(minutes: i64) -> Stamp {
    let passed = Span::from_minutes(minutes);
    let since_boot = Span::from_hours(100) + passed;
    Stamp { wall: NOON + passed, boot: BootId(1), since_boot, wall_clock: WallClock::Trusted }
}

fn now(minutes: i64) -> Now {
    Now { at: stamp(minutes), heartbeats: Heartbeats::default() }
}

/// A reading told so many minutes after noon, of that moment.
fn reading(id: u64, minutes: i64, tenths: i32) -> Reading {
    Reading {
        id: EntryId(id),
        surface: None,
        temperature: Some(at(tenths)),
        held_from: stamp(minutes).wall,
        received: stamp(minutes),
        supersedes: None,
    }
}

fn night(id: u64, minutes: i64, tenths: i32) -> Night {
    Night { id: EntryId(id), lowest: at(tenths), received: stamp(minutes) }
}

/// What counted, as (hours ago it began, tenths, unknown).
fn counted(climate: &Climate, hours: i64, minutes: i64) -> Vec<(i64, Option<i32>, bool)> {
    let stretches = climate.stretches(&wall(), Span::from_hours(hours), &now(minutes));
    let mut told: Vec<(i64, Option<i32>, bool)> = Vec::new();
    for Stretch { began, temperature, unknown, .. } in stretches {
        let next = (began.millis() / 3_600_000, temperature.map(Temperature::tenths), unknown);
        if told.last().is_none_or(|last| (last.1, last.2) != (next.1, next.2)) {
            told.push(next);
        }
    }
    told
}

const DAY: Terms =
    Terms { window: Span::from_hours(24), longer: Span::from_hours(48), lowest: Temperature::celsius(5) };

/// Until when a day's window runs, set at noon and looked at so many minutes later, in minutes after noon; `None`
/// while it stands still.
fn over(climate: &Climate, minutes: i64) -> Option<i64> {
    over_of(&DAY, climate, minutes)
}

fn over_of(terms: &Terms, climate: &Climate, minutes: i64) -> Option<i64> {
    let now = now(minutes);
    let places = climate.before(&wall(), &Anchor::of(&now), &now.heartbeats);
    let end = match terms.run(&places, Span::from_minutes(minutes), climate.rule()) {
        Ran::Over(ago) => Span::from_minutes(minutes) - ago,
        Ran::Still { to_go, .. } => Span::from_minutes(minutes) + to_go?,
    };
    Some((end.millis() + 59_999) / 60_000)
}

const HOUR: i64 = 60;

#[test]
fn between_two_readings_the_colder_counts() {
    let climate = Climate::new(vec![reading(1, 0, 210), reading(2, 4 * HOUR, 130)], vec![night(3, 0, 180)]);
    assert_eq!(counted(&climate, 4, 4 * HOUR), [(4, Some(130), false)]);
    let climate = Climate::new(vec![reading(1, 0, 130), reading(2, 4 * HOUR, 210)], vec![night(3, 0, 180)]);
    assert_eq!(counted(&climate, 4, 4 * HOUR), [(4, Some(130), false)]);
}

#[test]
fn after_the_last_reading_the_night_counts_where_it_is_colder() {
    let climate = |night_tenths| {
        let readings = vec![reading(1, 0, 210), reading(2, HOUR, 210)];
        Climate::new(readings, vec![night(3, 0, night_tenths)])
    };
    assert_eq!(counted(&climate(130), 5, 5 * HOUR), [(5, Some(210), false), (4, Some(130), false)]);
    assert_eq!(counted(&climate(250), 5, 5 * HOUR), [(5, Some(210), false)]);
}

#[test]
fn in_a_long_gap_a_night_counts_though_both_ends_were_warm() {
    let climate = Climate::new(vec![reading(1, 0, 210), reading(2, 20 * HOUR, 210)], vec![night(3, 0, 80)]);
    assert_eq!(counted(&climate, 20, 20 * HOUR), [(20, Some(80), false)]);
    let unknown = Climate::new(vec![reading(1, 0, 210), reading(2, 20 * HOUR, 210)], vec![]);
    assert_eq!(counted(&unknown, 20, 20 * HOUR), [(20, Some(210), true)]);
}

#[test]
fn a_night_given_in_the_morning_speaks_of_the_night_before() {
    let climate = Climate::new(vec![], vec![night(1, -24 * HOUR, 180), night(2, 20 * HOUR, 90)]);
    assert_eq!(counted(&climate, 20, 20 * HOUR), [(20, Some(90), false)]);
    let weeks_later = Climate::new(vec![], vec![night(1, -HOUR, 180), night(2, 400 * HOUR, 90)]);
    assert_eq!(counted(&weeks_later, 400, 400 * HOUR), [(400, Some(180), false), (24, Some(90), false)]);
}

#[test]
fn a_warmer_night_counts_only_from_when_it_was_given() {
    let climate = Climate::new(vec![], vec![night(1, -HOUR, 90), night(2, 10 * HOUR, 180)]);
    assert_eq!(counted(&climate, 20, 20 * HOUR), [(20, Some(90), false), (10, Some(180), false)]);
}

#[test]
fn with_nothing_told_the_longer_window_holds() {
    assert_eq!(over(&Climate::default(), 0), Some(48 * HOUR));
    assert_eq!(over(&Climate::default(), 47 * HOUR), Some(48 * HOUR));
    let told = Climate::new(vec![], vec![night(1, 10 * HOUR, 210)]);
    assert_eq!(over(&told, 12 * HOUR), Some(24 * HOUR), "the night given is the one used");
}

#[test]
fn one_warm_reading_does_not_make_a_warm_night() {
    let climate = Climate::new(vec![reading(1, 0, 210)], vec![]);
    assert_eq!(over(&climate, HOUR), Some(48 * HOUR));
}

/// T5 along a whole wait: 24 h by the bag at 10 °C are 62 h (splash.online/articles/winter-tiling-tips).
#[test]
fn a_cold_day_and_the_rest_warm_is_added_up() {
    let cold = Climate::new(vec![], vec![night(1, -HOUR, 100)]);
    assert_eq!(over(&cold, 0).map(|minutes| minutes / HOUR), Some(62));
    // Eight hours at 13 °C are four by the bag; twenty are left.
    let readings = vec![reading(2, 0, 130), reading(3, 4 * HOUR, 130), reading(4, 8 * HOUR, 130)];
    let climate = Climate::new(readings, vec![night(1, -HOUR, 210), night(5, 8 * HOUR, 210)]);
    assert_eq!(over(&climate, 8 * HOUR), Some(8 * HOUR + 2 * 20 * HOUR), "after the last reading it counts");
    let mut readings: Vec<Reading> = climate.readings().cloned().collect();
    readings.push(reading(6, 8 * HOUR, 210));
    let warmer = Climate::new(readings, climate.nights().to_vec());
    assert_eq!(over(&warmer, 8 * HOUR), Some(8 * HOUR + 2 * 20 * HOUR), "told at once, either may be last");
}

#[test]
fn below_the_lowest_working_temperature_it_stands_still() {
    let cold = Climate::new(vec![], vec![night(1, -HOUR, 49)]);
    assert_eq!(over(&cold, HOUR), None);
    let just = Climate::new(vec![], vec![night(1, -HOUR, 50)]);
    assert_eq!(over(&just, 0), Some(24 * HOUR * 4));
    let places = cold.before(&wall(), &Anchor::of(&now(HOUR)), &Heartbeats::default());
    let pace = DAY.pace(&places.present(), cold.rule());
    assert_eq!(pace, Pace::Stopped { temperature: at(49) });
}

#[test]
fn from_now_on_the_reading_just_made_counts() {
    let climate = Climate::new(vec![reading(1, 0, 60), reading(2, HOUR, 130)], vec![night(3, 0, 210)]);
    assert_eq!(climate.present(&wall(), &now(HOUR)).temperature, Some(at(130)));
    assert_eq!(counted(&climate, 1, HOUR), [(1, Some(60), false)], "the hour up to it was colder");
}

#[test]
fn a_reading_told_late_is_of_any_moment_since() {
    let mut late = reading(2, 10 * HOUR, 100);
    late.held_from = stamp(4 * HOUR).wall;
    let readings = vec![reading(1, 0, 210), late, reading(3, 12 * HOUR, 210)];
    let climate = Climate::new(readings, vec![night(4, 0, 210)]);
    assert_eq!(counted(&climate, 12, 12 * HOUR), [(12, Some(100), false)]);
}

#[test]
fn a_correction_counts_from_what_it_corrects_and_the_last_one_holds() {
    let correction = |id, of, tenths| Reading {
        temperature: tenths,
        supersedes: Some(EntryId(of)),
        ..reading(id, 9 * HOUR, 0)
    };
    let first = || vec![reading(1, 0, 100), reading(2, 5 * HOUR, 210), reading(3, 10 * HOUR, 210)];
    let told = |corrections: Vec<Reading>| {
        let readings = first().into_iter().chain(corrections).collect();
        counted(&Climate::new(readings, vec![night(9, 0, 180)]), 10, 10 * HOUR)
    };
    assert_eq!(told(vec![]), [(10, Some(100), false), (5, Some(210), false)]);
    assert_eq!(told(vec![correction(4, 1, Some(at(200)))]), [(10, Some(200), false), (5, Some(210), false)]);
    let again = vec![correction(4, 1, Some(at(200))), correction(5, 4, Some(at(190)))];
    assert_eq!(told(again), [(10, Some(190), false), (5, Some(210), false)]);
    let withdrawn = vec![correction(4, 1, None)];
    assert_eq!(told(withdrawn), [(10, Some(180), false), (5, Some(210), false)]);
}

#[test]
fn frost_before_the_window_is_over_is_marked_and_after_it_is_not() {
    let froze = |climate: &Climate, minutes: i64| {
        let now = now(minutes);
        let places = climate.before(&wall(), &Anchor::of(&now), &now.heartbeats);
        let passed = Span::from_minutes(minutes);
        DAY.froze(&places, passed, passed, climate.rule())
    };
    let warm = |id| night(id, -HOUR, 210);
    let early = Climate::new(vec![reading(1, 10 * HOUR, -1)], vec![warm(2)]);
    assert!(froze(&early, 11 * HOUR));
    assert!(froze(&early, 500 * HOUR), "it stays marked");
    let freezing = Climate::new(vec![reading(1, 10 * HOUR, 0)], vec![warm(2)]);
    assert!(!froze(&freezing, 11 * HOUR));
    let readings = (0..9).map(|id| reading(id, i64::try_from(id).unwrap() * 5 * HOUR, 210));
    let after = readings.chain([reading(10, 41 * HOUR, -50)]).collect();
    assert!(!froze(&Climate::new(after, vec![warm(20)]), 41 * HOUR));
}

#[test]
fn another_walls_readings_do_not_matter_and_the_rooms_do() {
    let mut other = reading(1, HOUR, 100);
    other.surface = SurfaceId::new("left");
    let climate = Climate::new(vec![other], vec![night(2, 0, 210)]);
    assert_eq!(over(&climate, 2 * HOUR), Some(24 * HOUR));
    let mut own = reading(1, HOUR, 130);
    own.surface = Some(wall());
    let climate = Climate::new(vec![own], vec![night(2, 0, 210)]);
    assert_eq!(over(&climate, 2 * HOUR), Some(48 * HOUR));
}

#[test]
fn what_surely_came_later_does_not_count_against_earlier_work() {
    let climate =
        Climate::new(vec![reading(5, 30 * HOUR, 60)], vec![night(1, 0, 210), night(6, 99 * HOUR, 60)]);
    let received = stamp(24 * HOUR);
    let anchor = Anchor { id: Some(EntryId(3)), stamp: &received, age: Span::ZERO };
    let places = climate.before(&wall(), &anchor, &Heartbeats::default());
    assert_eq!(DAY.run(&places, Span::from_hours(24), climate.rule()), Ran::Over(Span::ZERO));
}

#[test]
fn once_a_clock_leaves_a_moment_open_a_reading_counts_wherever_it_may_lie() {
    let mut before = reading(1, HOUR, 100);
    before.received.boot = BootId(0);
    before.received.wall_clock = WallClock::Unsure;
    let climate = Climate::new(vec![before, reading(2, 10 * HOUR, 210)], vec![night(3, 0, 210)]);
    let told = counted(&climate, 12, 12 * HOUR);
    assert_eq!(told, [(12, Some(100), false)], "it may have been read at any time since");
}

/// Readings as (minutes after noon, tenths, told so many minutes late).
fn any_readings() -> impl Strategy<Value = Vec<(i64, i32, i64)>> {
    prop::collection::vec((-600i64..3000, -50i32..260, prop_oneof![Just(0i64), 1i64..600]), 0..8)
}

fn any_nights() -> impl Strategy<Value = Vec<(i64, i32)>> {
    prop::collection::vec((-600i64..3000, 20i32..240), 0..3)
}

fn told(readings: &[(i64, i32, i64)], nights: &[(i64, i32)]) -> Climate {
    let readings = (100..).zip(readings).map(|(id, (minutes, tenths, late))| Reading {
        held_from: stamp(minutes - late).wall,
        ..reading(id, *minutes, *tenths)
    });
    let nights = (1..).zip(nights).map(|(id, (minutes, tenths))| night(id, *minutes, *tenths));
    Climate::new(readings.collect(), nights.collect())
}

/// How long it takes, where standing still is longer than anything.
fn takes(terms: &Terms, climate: &Climate, minutes: i64) -> i64 {
    over_of(terms, climate, minutes).unwrap_or(i64::MAX)
}

proptest! {
    #[test]
    fn a_colder_reading_or_night_never_makes_anything_earlier(
        readings in any_readings(), nights in any_nights(), which in 0usize..10, colder in 1i32..100,
        looked in 0i64..4000,
    ) {
        let before = told(&readings, &nights);
        let (mut readings, mut nights) = (readings, nights);
        match (readings.get_mut(which), nights.get_mut(which % 3)) {
            (Some(reading), _) => reading.1 -= colder,
            (None, Some(night)) => night.1 -= colder,
            (None, None) => {}
        }
        let after = told(&readings, &nights);
        prop_assert!(takes(&DAY, &after, looked) >= takes(&DAY, &before, looked));
    }

    #[test]
    fn never_shorter_than_the_products_own_time(
        readings in any_readings(), nights in any_nights(), looked in 0i64..4000,
    ) {
        prop_assert!(takes(&DAY, &told(&readings, &nights), looked) >= 24 * HOUR);
    }

    #[test]
    fn a_reading_of_another_wall_changes_nothing_here(
        readings in any_readings(), nights in any_nights(), other in (-600i64..3000, -50i32..260),
        looked in 0i64..4000,
    ) {
        let climate = told(&readings, &nights);
        let mut of_other = reading(999, other.0, other.1);
        of_other.surface = SurfaceId::new("left");
        let all = climate.readings().cloned().chain([of_other]).collect();
        let with = Climate::new(all, climate.nights().to_vec());
        prop_assert_eq!(takes(&DAY, &with, looked), takes(&DAY, &climate, looked));
    }

    /// Telling it late leaves more open, and so is never the quicker way.
    #[test]
    fn the_same_reading_told_late_never_shortens_a_wait(
        readings in any_readings(), nights in any_nights(), of in (0i64..2000, 50i32..260), late in 1i64..600,
        looked in 2600i64..4000,
    ) {
        let with = |minutes: i64, late: i64| {
            let mut readings = readings.clone();
            readings.push((minutes, of.1, late));
            takes(&DAY, &told(&readings, &nights), looked)
        };
        prop_assert!(with(of.0 + late, late) >= with(of.0, 0));
    }

    /// Found again by looking at every reading for each moment, without the order that finds neighbours quickly.
    #[test]
    fn neighbours_are_those_that_a_plain_search_finds(
        readings in any_readings(), nights in any_nights(), looked in 0i64..4000,
    ) {
        let climate = told(&readings, &nights);
        let now = now(looked);
        let places = climate.before(&wall(), &Anchor::of(&now), &now.heartbeats);
        let all = &places.readings.places;
        for stretch in places.stretches(Span::from_minutes(looked)) {
            let (began, ended) = (stretch.began, stretch.ended);
            let could_be_older = |place: &&Place| place.most >= began
                && !all.iter().any(|other| other.least >= began && other.most < place.least);
            let could_be_newer = |place: &&Place| place.least <= ended
                && !all.iter().any(|other| other.most <= ended && other.least > place.most);
            let beside = all.iter().filter(could_be_older).chain(all.iter().filter(could_be_newer));
            let coldest = beside.map(|place| place.temperature).min();
            let found = places.readings.coldest_beside(
                began, ended, places.readings.surely_older(began), places.readings.surely_newer(ended),
            );
            prop_assert_eq!(found, coldest);
        }
    }

    /// Many short stretches at one temperature come to what one long stretch does, to the millisecond.
    #[test]
    fn cutting_a_time_into_stretches_changes_nothing(tenths in 50i32..260, every in 5i64..300) {
        let often: Vec<_> = (0..=2000 / every).map(|count| (count * every, tenths, 0)).collect();
        let nights = [(-600, tenths)];
        prop_assert_eq!(takes(&DAY, &told(&often, &nights), 1400), takes(&DAY, &told(&[], &nights), 1400));
    }
}

#[test]
fn the_laxer_source_is_a_parameter() {
    let rule = ColdRule::new(at(211), 100).unwrap();
    let climate = Climate::new(vec![], vec![night(1, -HOUR, 111)]).with_rule(rule);
    assert_eq!(over(&climate, 0), Some(48 * HOUR));
}
