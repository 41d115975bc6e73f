//! The starts at which something about the cuts changes.
//!
//! An end shows `x = ±start + at` of its tile, modulo the pitch, so every size has slope +1 or -1 in every start. A
//! measure that counts (tiles, cuts, slivers) changes only where such an `x`, or a sum of two, passes a bound; the set of
//! starts at which it is at most so much is closed, since all bounds are met with equality; and over such a set a measure
//! that is the least, or a sum, of sizes is best in a corner. Corners are where bounds or equal sizes meet:
//!
//! - of one start `p`: an end flush (`x` the tile), whole with one joint beside it (`x` the pitch), whole with the widest
//!   strip that is no piece and cut to the narrowest that is one, just no sliver, just hidden or just clear of what
//!   hides it; a side of an opening on a joint, or just leaving a leg or a web; an end that just comes from one tile
//!   with a piece whose size no start changes, because it is alone between two ends;
//! - of `2p`: two ends of the same side that just come from one tile, and two of opposite sides that are equal. (Two of
//!   opposite sides have one sum, and two of the same side one difference, wherever the start is.)
//! - of `p + p'` or `p - p'`, for two runs: two ends that just come from one tile, or are equal.
//!
//! For a wall without openings and R different rows these are 16 R starts at most: 8 R as the ends are flush, whole or
//! no piece, 2 R for the limit, and 6 R from pairs, because the sums of two shifts of an even step take only R values.

use std::collections::BTreeSet;

use super::run::{End, Group, Leaves, Row, Run};

/// Which way an end grows with its start.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Side {
    Left,
    Right,
}

/// An end as its size depends on the start.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Size {
    side: Side,
    /// `x`, the least piece included, is this plus or minus the start.
    at: i64,
    kind: usize,
    hidden: i64,
}

/// Sums and differences, modulo the pitch, of two runs' starts at which something changes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Lines {
    /// Of `one + other`.
    pub(super) sums: Vec<i64>,
    /// Of `one - other`.
    pub(super) differences: Vec<i64>,
}

impl Lines {
    /// The starts of the other run that lines hold when the one starts at `start`.
    pub(super) fn from(&self, start: i64, pitch: i64) -> impl Iterator<Item = i64> {
        let sums = self.sums.iter().map(move |sum| sum - start);
        let differences = self.differences.iter().map(move |difference| start - difference);
        sums.chain(differences).map(move |other| other.rem_euclid(pitch))
    }
}

impl Side {
    const fn sign(self) -> i64 {
        match self {
            Self::Left => 1,
            Self::Right => -1,
        }
    }
}

impl Group {
    /// The starts of one run at which something changes on it alone, or together with runs whose start is chosen;
    /// what a setter would rather have comes first. Never empty.
    pub(super) fn events(&self, run: usize) -> Vec<i64> {
        let ours = &self.runs[run];
        let mut events = Unique::new(self.pitch);
        let sizes = self.sizes(ours);
        let reaching = |x: i64| {
            let sizes = sizes.iter();
            sizes.map(move |size| size.side.sign() * (x - size.at)).collect::<Vec<i64>>()
        };
        events.extend(reaching(self.tile));
        events.extend(self.doubled(&sizes).into_iter().flat_map(|twice| halves(twice, self.pitch)));
        for other in 0..self.runs.len() {
            let Some(fixed) = self.runs[other].fixed.filter(|_| other != run) else { continue };
            let lines = self.lines(run, other);
            events.extend(lines.sums.iter().map(|sum| sum - fixed));
            events.extend(lines.differences.iter().map(|difference| difference + fixed));
        }
        events.extend(reaching(self.pitch));
        events.extend(self.beside_openings(ours));
        let least = |size: &Size| size.side.sign() * (ours.least + size.hidden - size.at);
        events.extend(sizes.iter().map(least));
        for (kind, room) in self.rooms_for_one() {
            let of_kind = sizes.iter().filter(|size| size.kind == kind);
            events.extend(of_kind.map(|size| size.side.sign() * (self.reach - room - size.at)));
        }
        let hidden = sizes.iter().filter(|size| size.hidden > 0);
        events.extend(hidden.flat_map(|size| {
            [size.hidden, self.tile + size.hidden].map(|x| size.side.sign() * (x - size.at))
        }));
        events.extend(ours.rows.iter().flat_map(|row| self.shown_alone(ours, row)));
        events.extend(reaching(self.least_piece - 1));
        events.extend(reaching(self.least_piece));
        if events.in_order.is_empty() {
            events.extend([0]);
        }
        events.in_order
    }

    /// Where the starts of two runs together change something.
    pub(super) fn lines(&self, one: usize, other: usize) -> Lines {
        let (mut sums, mut differences) = (BTreeSet::new(), BTreeSet::new());
        let facing =
            self.facing.iter().any(|facing| facing.runs == [one, other] || facing.runs == [other, one]);
        for a in self.sizes(&self.runs[one]) {
            for b in self.sizes(&self.runs[other]) {
                // a.x = ±p + a.at and b.x = ±p' + b.at.
                let mut equal = vec![b.at - a.at];
                if facing && a.hidden != b.hidden {
                    equal.push(b.at - b.hidden - a.at + a.hidden);
                }
                let fit = (a.kind == b.kind).then_some(self.reach - a.at - b.at);
                let fit = fit.map(|fit| a.side.sign() * fit);
                let equal = equal.into_iter().map(|equal| a.side.sign() * equal);
                if a.side == b.side {
                    sums.extend(fit);
                    differences.extend(equal);
                } else {
                    differences.extend(fit);
                    sums.extend(equal);
                }
            }
        }
        let under_a_pitch = |values: BTreeSet<i64>| -> Vec<i64> {
            let values = values.into_iter().map(|value| value.rem_euclid(self.pitch));
            values.collect::<BTreeSet<i64>>().into_iter().collect()
        };
        Lines { sums: under_a_pitch(sums), differences: under_a_pitch(differences) }
    }

    /// Twice the starts at which two ends just come from one tile, or are equal.
    fn doubled(&self, sizes: &[Size]) -> BTreeSet<i64> {
        let mut doubled = BTreeSet::new();
        for (at, a) in sizes.iter().enumerate() {
            for b in &sizes[at..] {
                if a.side == b.side {
                    let fit = (a.kind == b.kind).then_some(self.reach - a.at - b.at);
                    doubled.extend(fit.map(|fit| (a.side.sign() * fit).rem_euclid(self.pitch)));
                } else {
                    let equal = [b.at - a.at, b.at - b.hidden - a.at + a.hidden];
                    doubled.extend(equal.map(|equal| (a.side.sign() * equal).rem_euclid(self.pitch)));
                }
            }
        }
        doubled
    }

    /// Where a single piece from one end of a row that stops short of the other just is no sliver, or just hidden.
    fn shown_alone(&self, run: &Run, row: &Row) -> Vec<i64> {
        if row.room >= 2 * self.tile {
            return Vec::new();
        }
        let sides = [(1, row.left, row.right), (-1, row.right, row.left)];
        let at_end = |(sign, short, other): (i64, End, End)| {
            let left = self.tile + row.room - other.hidden;
            [left - run.least, left].map(|x| sign * (x - short.at - self.least_piece))
        };
        sides.into_iter().flat_map(at_end).collect()
    }

    /// The rows that a single piece may fill, whatever the start: their kind and width.
    fn rooms_for_one(&self) -> BTreeSet<(usize, i64)> {
        let rows = self.runs.iter().flat_map(|run| &run.rows);
        rows.filter(|row| row.room < self.tile).map(|row| (row.kind, row.room)).collect()
    }

    /// The different ends of a run's rows.
    fn sizes(&self, run: &Run) -> Vec<Size> {
        let size = |side: Side, end: &End, kind: usize| Size {
            side,
            at: end.at + self.least_piece,
            kind,
            hidden: end.hidden,
        };
        let both = run
            .rows
            .iter()
            .flat_map(|row| [size(Side::Left, &row.left, row.kind), size(Side::Right, &row.right, row.kind)]);
        both.collect::<BTreeSet<Size>>().into_iter().collect()
    }

    /// Where a side of an opening lies on a joint, or just leaves a leg or a web thick enough.
    fn beside_openings(&self, run: &Run) -> Vec<i64> {
        let mut starts = Vec::new();
        for beside in &run.openings {
            let (left, right) = (beside.at, beside.at + beside.width);
            let mut thick = vec![0];
            match beside.leaves {
                Leaves::Nothing => {}
                Leaves::Leg { .. } => thick.push(beside.thinnest_leg),
                Leaves::Hole { .. } => thick.extend([beside.thinnest_leg, beside.thinnest_web]),
            }
            for thick in thick {
                starts.extend([left - thick, right + thick - self.tile]);
            }
            starts.extend([left - self.tile, right]);
        }
        starts
    }
}

/// The numbers whose double is `twice` modulo the pitch; of a half unit both neighbours.
pub(super) fn halves(twice: i64, pitch: i64) -> impl Iterator<Item = i64> {
    [twice, twice + pitch].into_iter().flat_map(|twice| {
        let half = twice.div_euclid(2);
        (0..=twice.rem_euclid(2)).map(move |up| half + up)
    })
}

/// Numbers from 0 up to the pitch, each once, in the order they came.
struct Unique {
    pitch: i64,
    seen: BTreeSet<i64>,
    in_order: Vec<i64>,
}

impl Unique {
    const fn new(pitch: i64) -> Self {
        Self { pitch, seen: BTreeSet::new(), in_order: Vec::new() }
    }

    fn extend(&mut self, numbers: impl IntoIterator<Item = i64>) {
        for number in numbers {
            let number = number.rem_euclid(self.pitch);
            if self.seen.insert(number) {
                self.in_order.push(number);
            }
        }
    }
}
