//! How much time has surely passed, when clocks jump and machines restart: an error can only lengthen a wait.

use super::{Instant, Span};

/// One start of the machine, as its kernel names it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BootId(pub u128);

/// What is known of the wall clock at a moment.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum WallClock {
    /// Synchronised with a time server, or confirmed by the lead.
    Trusted,
    /// Neither: it may be right.
    Unsure,
    /// Behind the latest time the program has recorded, so surely wrong now or then.
    Behind,
}

/// When something was recorded, by both clocks of the machine that recorded it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stamp {
    /// The wall clock.
    pub wall: Instant,
    /// Which start of the machine.
    pub boot: BootId,
    /// The clock that starts with the machine, counts sleep and is never set by hand.
    pub since_boot: Span,
    /// What was known of the wall clock.
    pub wall_clock: WallClock,
}

/// Stamps kept while the program runs, in the order recorded. The first and the last of each start of the
/// machine serve as well as all of them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Heartbeats(Vec<Stamp>);

/// The present moment, with the heartbeats that lead up to it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Now {
    /// What both clocks say.
    pub at: Stamp,
    /// What was recorded on the way.
    pub heartbeats: Heartbeats,
}

/// The time that has surely passed from `earlier` to `later`, never less than zero.
///
/// Within one start of the machine it is the smaller of what the two clocks say. Across a restart the wall
/// clock counts if it was trusted at both ends, else nothing does: it is not known how long the machine was
/// off, and a database may have been moved to a machine that had been running for days. Once the clock is
/// known to be behind, nothing counts.
pub fn surely_elapsed(earlier: &Stamp, later: &Stamp) -> Span {
    let by_wall = later.wall - earlier.wall;
    let both_trusted = earlier.wall_clock == WallClock::Trusted && later.wall_clock == WallClock::Trusted;
    let passed = if later.wall_clock == WallClock::Behind {
        Span::ZERO
    } else if earlier.boot == later.boot {
        by_wall.min(later.since_boot - earlier.since_boot)
    } else if both_trusted {
        by_wall
    } else {
        Span::ZERO
    };
    passed.max(Span::ZERO)
}

/// The most that can have passed from `earlier` to `later`, or `None` where nobody can say.
pub(super) fn at_most_elapsed(earlier: &Stamp, later: &Stamp) -> Option<Span> {
    let by_wall = later.wall - earlier.wall;
    let both_trusted = earlier.wall_clock == WallClock::Trusted && later.wall_clock == WallClock::Trusted;
    if earlier.boot == later.boot {
        Some(by_wall.max(later.since_boot - earlier.since_boot).max(Span::ZERO))
    } else {
        both_trusted.then_some(by_wall.max(Span::ZERO))
    }
}

impl Heartbeats {
    /// Heartbeats in the order recorded.
    pub fn new(in_order: Vec<Stamp>) -> Self {
        Self(in_order)
    }

    /// As [`surely_elapsed`], but a restart between the two costs only the time the machine was off: what
    /// passed from heartbeat to heartbeat on the way is counted. Each leg is a time that surely passed, so
    /// their sum is one too.
    pub fn surely_elapsed(&self, earlier: &Stamp, later: &Stamp) -> Span {
        let direct = surely_elapsed(earlier, later);
        if earlier.boot == later.boot || later.wall_clock == WallClock::Behind {
            return direct;
        }
        self.path(earlier, later).map_or(direct, |path| direct.max(legs(earlier, path, later)))
    }

    /// The heartbeats recorded after `earlier` and before `later`; `None` where their starts of the machine
    /// left none to go by.
    fn path(&self, earlier: &Stamp, later: &Stamp) -> Option<&[Stamp]> {
        let last_of_its_boot = self.0.iter().rposition(|beat| beat.boot == earlier.boot)?;
        let beat = self.0.get(last_of_its_boot)?;
        let first = last_of_its_boot + usize::from(beat.since_boot < earlier.since_boot);
        let before_later = |beat: &Stamp| beat.boot == later.boot && beat.since_boot <= later.since_boot;
        let last = self.0.iter().rposition(before_later)?;
        self.0.get(first..=last)
    }
}

impl Now {
    /// The time that has surely passed since `then`.
    pub fn surely_since(&self, then: &Stamp) -> Span {
        self.heartbeats.surely_elapsed(then, &self.at)
    }
}

fn legs(earlier: &Stamp, between: &[Stamp], later: &Stamp) -> Span {
    let ends = between.iter().chain(std::iter::once(later));
    std::iter::once(earlier).chain(between).zip(ends).map(|(from, to)| surely_elapsed(from, to)).sum()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const HOUR: i64 = 3_600_000;

    fn stamp(wall_hours: i64, boot: u128, boot_hours: i64, wall_clock: WallClock) -> Stamp {
        Stamp {
            wall: Instant::from_millis(wall_hours * HOUR),
            boot: BootId(boot),
            since_boot: Span::from_hours(boot_hours),
            wall_clock,
        }
    }

    #[test]
    fn a_wall_clock_set_forward_makes_nothing_ready() {
        let set = stamp(100, 1, 5, WallClock::Unsure);
        assert_eq!(surely_elapsed(&set, &stamp(130, 1, 7, WallClock::Unsure)), Span::from_hours(2));
    }

    #[test]
    fn a_wall_clock_set_back_lengthens_the_wait() {
        let set = stamp(100, 1, 5, WallClock::Trusted);
        assert_eq!(surely_elapsed(&set, &stamp(101, 1, 15, WallClock::Unsure)), Span::from_hours(1));
        assert_eq!(surely_elapsed(&set, &stamp(90, 1, 15, WallClock::Unsure)), Span::ZERO);
    }

    #[test]
    fn over_a_restart_only_a_clock_trusted_at_both_ends_counts() {
        let (trusted, unsure) = (WallClock::Trusted, WallClock::Unsure);
        let after = |then, now| surely_elapsed(&stamp(100, 1, 5, then), &stamp(124, 2, 1, now));
        assert_eq!(after(trusted, trusted), Span::from_hours(24));
        assert_eq!(after(trusted, unsure), Span::ZERO);
        assert_eq!(after(unsure, trusted), Span::ZERO, "the clock may have been slow when the wall was set");
    }

    #[test]
    fn once_the_clock_is_behind_nothing_counts() {
        let set = stamp(100, 1, 5, WallClock::Trusted);
        assert_eq!(surely_elapsed(&set, &stamp(130, 1, 35, WallClock::Behind)), Span::ZERO);
    }

    #[test]
    fn heartbeats_save_the_hours_on_either_side_of_a_restart() {
        let unsure = WallClock::Unsure;
        let set = stamp(100, 1, 5, unsure);
        let beats = vec![stamp(95, 1, 0, unsure), stamp(110, 1, 15, unsure), stamp(118, 2, 0, unsure)];
        let now = Now { at: stamp(125, 2, 7, unsure), heartbeats: Heartbeats::new(beats) };
        assert_eq!(now.surely_since(&set), Span::from_hours(10 + 7), "the 8 h off count as nothing");
    }

    #[test]
    fn a_database_moved_to_a_machine_long_running_gains_no_time() {
        let unsure = WallClock::Unsure;
        let set = stamp(100, 1, 5, unsure);
        let beats = vec![stamp(100, 1, 5, unsure), stamp(101, 2, 700, unsure)];
        let now = Now { at: stamp(102, 2, 701, unsure), heartbeats: Heartbeats::new(beats) };
        assert_eq!(now.surely_since(&set), Span::from_hours(1));
    }

    #[test]
    fn a_heartbeat_from_before_the_entry_is_not_counted_from() {
        let trusted = WallClock::Trusted;
        let set = stamp(100, 1, 15, WallClock::Unsure);
        let beats = vec![stamp(90, 1, 5, trusted), stamp(110, 2, 0, trusted)];
        let now = Now { at: stamp(112, 2, 2, trusted), heartbeats: Heartbeats::new(beats) };
        assert_eq!(now.surely_since(&set), Span::from_hours(2));
    }

    proptest! {
        /// However the clock was set between, one running machine never counts more than its own clock did.
        #[test]
        fn never_more_than_the_machines_own_clock(
            wall in -1000i64..1000, later_wall in -1000i64..1000, boot in 0i64..1000, ran in 0i64..1000,
        ) {
            let set = stamp(wall, 1, boot, WallClock::Unsure);
            let now = stamp(later_wall, 1, boot + ran, WallClock::Unsure);
            let passed = surely_elapsed(&set, &now);
            prop_assert!(passed >= Span::ZERO && passed <= Span::from_hours(ran));
            prop_assert!(at_most_elapsed(&set, &now).is_some_and(|most| most >= Span::from_hours(ran)));
        }
    }
}
