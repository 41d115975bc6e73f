//! What people reported of the work on a wall: entries are only ever added, and a correction supersedes.

use std::collections::{BTreeMap, BTreeSet};

use super::{Instant, Product, Span, StageKind, Stamp, WallClock};
use crate::measure::SurfaceId;

/// How long ago something may have happened and still be taken as told: walking out of the bathroom, washing
/// hands, finding the phone (common practice).
pub const GRACE: Span = Span::from_minutes(5);

/// One report: this stage was started or finished on this part.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry {
    /// Its number in the log.
    pub id: EntryId,
    /// Where.
    pub part: Part,
    /// Which work.
    pub stage: StageKind,
    /// Started or finished.
    pub what: What,
    /// When it happened, as told. The server's wall clock less the age that the phone gave, or a time typed
    /// in.
    pub happened: Instant,
    /// When it was received, by the server's clocks.
    pub received: Stamp,
    /// The lead has confirmed the time told.
    pub confirmed: bool,
    /// The entry that this one corrects.
    pub supersedes: Option<EntryId>,
    /// What was used, where it is not what the job plans for the stage.
    pub product: Option<Product>,
}

/// An entry's number.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct EntryId(pub u64);

/// What an entry reports.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum What {
    /// Work began.
    Started,
    /// The whole of the named part is finished, whoever worked on it, with the product that this entry goes
    /// by.
    Finished,
    /// What the superseded entry says never happened.
    Withdrawn,
}

/// A surface, or some courses of one.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Part {
    /// Which wall.
    pub surface: SurfaceId,
    /// Which courses; `None` is the whole wall.
    pub courses: Option<Courses>,
}

/// Courses from one to another, both included, counted from the bottom; course 1 is the lowest.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Courses {
    first: u32,
    last: u32,
}

/// The entries that no other supersedes, in the order of the log, each correction in the place of what it
/// corrects. `log` is in the order received; an entry can only supersede an earlier one. Where two correct
/// the same one, both stand.
pub fn standing(log: &[Entry]) -> Vec<&Entry> {
    placed(log).into_iter().map(|placed| placed.entry).collect()
}

/// The instant from which the windows after an entry run: what was told, where that is credible; else the
/// latest credible instant, which is its receipt.
///
/// Told within [`GRACE`], or confirmed by the lead while the wall clock was trusted, is credible (a confirmed
/// time cannot be set against a clock that was wrong at receipt). A time after receipt makes the wait longer
/// and counts as told.
pub fn counts_from(entry: &Entry) -> Instant {
    let age = entry.received.wall - entry.happened;
    let vouched_for = entry.confirmed && entry.received.wall_clock == WallClock::Trusted;
    if age <= GRACE || vouched_for { entry.happened } else { entry.received.wall }
}

/// A standing entry with its place in the order of receipt.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    pub entry: &'a Entry,
    pub place: usize,
}

/// As [`standing`].
pub(super) fn placed(log: &[Entry]) -> Vec<Placed<'_>> {
    let mut first_places: BTreeMap<EntryId, usize> = BTreeMap::new();
    let mut superseded: BTreeSet<EntryId> = BTreeSet::new();
    let mut all = Vec::with_capacity(log.len());
    for (place, entry) in log.iter().enumerate() {
        let corrected = entry.supersedes.and_then(|old| first_places.get(&old).map(|first| (old, *first)));
        superseded.extend(corrected.map(|(old, _)| old));
        let first = corrected.map_or(place, |(_, first)| first);
        first_places.insert(entry.id, first);
        all.push((first, Placed { entry, place }));
    }
    all.retain(|(_, placed)| !superseded.contains(&placed.entry.id));
    all.sort_by_key(|(first, _)| *first);
    all.into_iter().map(|(_, placed)| placed).collect()
}

impl Entry {
    /// How long before receipt the windows start to run: [`counts_from`] as a span.
    pub(super) fn credited_age(&self) -> Span {
        self.received.wall - counts_from(self)
    }

    /// How long before receipt it happened, as told.
    pub(super) fn told_age(&self) -> Span {
        self.received.wall - self.happened
    }
}

impl Part {
    /// The whole wall.
    pub fn whole(surface: SurfaceId) -> Self {
        Self { surface, courses: None }
    }

    /// Its courses, where a whole wall has as many as anyone asks about.
    pub(super) fn span(&self) -> Courses {
        self.courses.unwrap_or(Courses { first: 1, last: u32::MAX })
    }
}

impl Courses {
    /// From `first` to `last`, or `None` unless 1 <= first <= last.
    pub fn new(first: u32, last: u32) -> Option<Self> {
        (first >= 1 && first <= last).then_some(Self { first, last })
    }

    /// The lowest.
    pub fn first(self) -> u32 {
        self.first
    }

    /// The highest.
    pub fn last(self) -> u32 {
        self.last
    }

    /// The courses in both.
    pub(super) fn overlap(self, other: Self) -> Option<Self> {
        Self::new(self.first.max(other.first), self.last.min(other.last))
    }

    /// Whether `parts` together leave out no course of this.
    pub(super) fn covered_by(self, parts: impl IntoIterator<Item = Self>) -> bool {
        let mut parts: Vec<Self> = parts.into_iter().collect();
        parts.sort();
        let mut wanted = u64::from(self.first);
        for part in parts {
            if u64::from(part.first) <= wanted {
                wanted = wanted.max(u64::from(part.last) + 1);
            }
        }
        wanted > u64::from(self.last)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::cure::BootId;

    fn entry(id: u64, supersedes: Option<u64>) -> Entry {
        let wall = Instant::from_millis(1_000_000_000);
        Entry {
            id: EntryId(id),
            part: Part::whole(SurfaceId::new("back").unwrap()),
            stage: StageKind::Set,
            what: What::Finished,
            happened: wall,
            received: Stamp {
                wall,
                boot: BootId(1),
                since_boot: Span::from_hours(5),
                wall_clock: WallClock::Trusted,
            },
            confirmed: false,
            supersedes: supersedes.map(EntryId),
            product: None,
        }
    }

    fn ids(log: &[Entry]) -> Vec<u64> {
        standing(log).into_iter().map(|entry| entry.id.0).collect()
    }

    #[test]
    fn a_correction_stands_in_the_place_of_what_it_corrects() {
        let log = [entry(1, None), entry(2, None), entry(3, Some(1)), entry(4, Some(3))];
        assert_eq!(ids(&log), [4, 2]);
        assert_eq!(log.len(), 4, "both stay readable");
    }

    #[test]
    fn two_corrections_of_one_entry_both_stand() {
        assert_eq!(ids(&[entry(1, None), entry(2, Some(1)), entry(3, Some(1))]), [2, 3]);
    }

    #[test]
    fn an_entry_corrects_neither_itself_nor_what_is_not_there() {
        assert_eq!(ids(&[entry(1, Some(1)), entry(2, Some(9))]), [1, 2]);
    }

    #[test]
    fn a_finish_told_hours_later_counts_from_receipt_until_the_lead_confirms() {
        let told = |minutes_ago, confirmed, wall_clock| {
            let mut late = entry(1, None);
            late.happened = late.received.wall - Span::from_minutes(minutes_ago);
            late.confirmed = confirmed;
            late.received.wall_clock = wall_clock;
            (counts_from(&late) - late.received.wall).millis() / 60_000
        };
        assert_eq!(told(5, false, WallClock::Unsure), -5);
        assert_eq!(told(6, false, WallClock::Trusted), 0);
        assert_eq!(told(600, false, WallClock::Trusted), 0);
        assert_eq!(told(600, true, WallClock::Trusted), -600);
        assert_eq!(told(600, true, WallClock::Unsure), 0, "the clock at receipt may be hours ahead");
        assert_eq!(told(-60, false, WallClock::Unsure), 60);
    }

    proptest! {
        #[test]
        fn courses_are_covered_where_each_one_is(
            parts in prop::collection::vec((1u32..9, 0u32..4), 0..5), first in 1u32..9, more in 0u32..4,
        ) {
            let parts: Vec<Courses> =
                parts.into_iter().filter_map(|(first, more)| Courses::new(first, first + more)).collect();
            let whole = Courses::new(first, first + more).unwrap();
            let each = (first..=first + more)
                .all(|course| parts.iter().any(|part| part.first() <= course && course <= part.last()));
            prop_assert_eq!(whole.covered_by(parts), each);
        }
    }
}
