//! The sizes along one side of the table that matter to the check of proofs, and the cuts between them.

use std::collections::BTreeSet;

use crate::geometry::{Side, Sides};

/// Sizes along one side after which a grid serves better than exact sums.
const MOST_STOPS: usize = 2_000;

/// Which of the two sides across one direction a part has as a tile's own, or a piece needs so.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Reach {
    Neither,
    Low,
    High,
    Both,
}

/// For every way to reach the two sides, the sizes that pieces beside each other can add up to, in grid lines.
pub(super) struct Stops {
    grid: i64,
    whole: i64,
    of: [Vec<i64>; 4],
}

impl Reach {
    /// Parts come of parts of the same reach or of one further on here, never of one before.
    pub(super) const ALL: [Self; 4] = [Self::Neither, Self::Low, Self::High, Self::Both];

    pub(super) const fn of(sides: Sides, low: Side, high: Side) -> Self {
        match (sides.has(low), sides.has(high)) {
            (false, false) => Self::Neither,
            (true, false) => Self::Low,
            (false, true) => Self::High,
            (true, true) => Self::Both,
        }
    }

    pub(super) const fn index(self) -> usize {
        match self {
            Self::Neither => 0,
            Self::Low => 1,
            Self::High => 2,
            Self::Both => 3,
        }
    }

    /// Whether it reaches every side that the other does.
    pub(super) fn has_all(self, other: Self) -> bool {
        self == Self::Both || other == Self::Neither || self == other
    }

    /// What a cut leaves on its lower and on its upper side: neither has the side where the blade ran.
    pub(super) const fn parted(self) -> (Self, Self) {
        match self {
            Self::Neither => (Self::Neither, Self::Neither),
            Self::Low => (Self::Low, Self::Neither),
            Self::High => (Self::Neither, Self::High),
            Self::Both => (Self::Low, Self::High),
        }
    }
}

impl Stops {
    /// From the sizes of pieces and what they need to reach, inside a whole that reaches so. `None` where there
    /// are too many.
    pub(super) fn new(spans: &[(i64, Reach)], whole: i64, reach: Reach, grid: i64) -> Option<Self> {
        let whole = whole / grid;
        let sizes = |wanted: Reach| -> BTreeSet<i64> {
            let of = spans.iter().filter(|(_, reach)| *reach == wanted);
            of.map(|(size, _)| size / grid).collect()
        };
        let free = sums(&sizes(Reach::Neither), whole)?;
        let with_one = |wanted: Reach| -> Option<Vec<i64>> {
            let mut found = free.clone();
            for end in sizes(wanted) {
                found.extend(free.iter().map(|sum| end + sum).filter(|sum| *sum <= whole));
                if found.len() > MOST_STOPS {
                    return None;
                }
            }
            Some(found.into_iter().collect())
        };
        let (mut low, mut high) = (with_one(Reach::Low)?, with_one(Reach::High)?);
        let neither = free.iter().copied().collect();
        // Only what reaches both sides is as large as the whole.
        let mut both = vec![whole];
        match reach {
            Reach::Neither => (low, high, both) = Default::default(),
            Reach::Low => (high, both) = Default::default(),
            Reach::High => (low, both) = Default::default(),
            Reach::Both => {}
        }
        Some(Self { grid, whole, of: [neither, low, high, both] })
    }

    /// The sizes of parts that reach so, smallest first.
    pub(super) fn of(&self, reach: Reach) -> &[i64] {
        &self.of[reach.index()]
    }

    /// How many sizes there are.
    pub(super) fn count(&self) -> usize {
        self.of.iter().map(Vec::len).sum()
    }

    /// The part that reaches so and is as large as a piece of this size, if it is one of them.
    pub(super) fn index_of(&self, reach: Reach, size: i64) -> Option<usize> {
        let size = size / self.grid;
        match reach {
            Reach::Both => (size <= self.whole && !self.of(reach).is_empty()).then_some(0),
            Reach::Neither | Reach::Low | Reach::High => self.of(reach).binary_search(&size).ok(),
        }
    }

    /// The ways to cut the part in two: the index of what is left on the lower side and on the upper.
    pub(super) fn cuts_of(&self, reach: Reach, index: usize) -> Vec<(usize, usize)> {
        let whole = self.of(reach)[index];
        let (low, high) = reach.parted();
        let (low, high) = (self.of(low), self.of(high));
        // Two parts that reach no side can change places.
        let most = if reach == Reach::Neither { whole / 2 } else { whole };
        let firsts = low.iter().enumerate().filter(|(_, size)| **size > 0 && **size <= most);
        let second = |size: i64| high.partition_point(|other| *other <= whole - size).checked_sub(1);
        firsts.filter_map(|(first, size)| second(*size).map(|second| (first, second))).collect()
    }

    /// [`Stops::cuts_of`] for every part that reaches so.
    pub(super) fn cuts(&self, reach: Reach) -> Vec<Vec<(usize, usize)>> {
        (0..self.of(reach).len()).map(|index| self.cuts_of(reach, index)).collect()
    }

    /// No fewer than there are cuts.
    pub(super) fn cuts_in_all(&self) -> usize {
        let of = |reach: Reach| self.of(reach).len().saturating_mul(self.of(reach.parted().0).len());
        Reach::ALL.into_iter().map(of).fold(0, usize::saturating_add)
    }
}

/// All sums up to `whole`, nothing among them. `None` where there are too many.
fn sums(sizes: &BTreeSet<i64>, whole: i64) -> Option<BTreeSet<i64>> {
    let mut found = BTreeSet::from([0]);
    let mut at = Some(0);
    while let Some(sum) = at {
        found.extend(sizes.iter().map(|size| sum + size).filter(|sum| *sum <= whole));
        if found.len() > MOST_STOPS {
            return None;
        }
        at = found.range(sum + 1..).next().copied();
    }
    Some(found)
}
