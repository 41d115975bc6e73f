//! The points at which several starts together change something: the corners between the lines of [`super::events`].
//!
//! In a corner every start is held: by an event of its own, or by a line from a start that is held, or in a ring of
//! lines. A ring holds its starts when an odd number of its lines are sums, since going round it then gives twice a
//! start: a sum and a difference of the same two, or three lines of which one or three are sums. So a corner is a
//! forest in which every start has its own event or another start as parent, and one tree of the forest may grow from
//! a ring instead. For up to three starts these are all.

use std::ops::ControlFlow;

use super::events::{Lines, halves};
use super::run::Group;

/// With more free runs than this no lines between them are looked at.
const MOST_WITH_LINES: usize = 12;

/// The events and lines of the runs whose start is free.
pub(super) struct Corners {
    pitch: i64,
    /// The indices of the free runs.
    free: Vec<usize>,
    events: Vec<Vec<i64>>,
    /// `[a][b]` between the free runs a and b, with a as `one`.
    lines: Vec<Vec<Lines>>,
}

/// Who looks at the corners. Runs are counted among the free ones.
pub(super) trait Visit {
    /// The start that a run has now.
    fn start(&self, run: usize) -> i64;
    /// Gives a run a start.
    fn set(&mut self, run: usize, start: i64);
    /// Looks at all starts as they are set.
    fn look(&mut self) -> ControlFlow<()>;
}

/// What holds a start.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Held {
    /// An event of its own, or a line from a start that is not moved.
    Itself,
    /// A line from another.
    By(usize),
    /// A ring it is part of.
    InRing,
}

/// A start to move: which, and the events that hold it.
struct Moved {
    run: usize,
    held: Held,
    events: Vec<i64>,
}

impl Corners {
    pub(super) fn of(group: &Group) -> Self {
        let runs = group.runs.iter().enumerate();
        let free: Vec<usize> = runs.filter(|(_, run)| run.fixed.is_none()).map(|(at, _)| at).collect();
        let events = free.iter().map(|run| group.events(*run)).collect();
        let no_lines = free.len() > MOST_WITH_LINES;
        let between = |one: &usize| {
            let lines = |other: &usize| {
                if no_lines || one == other { Lines::default() } else { group.lines(*one, *other) }
            };
            free.iter().map(lines).collect()
        };
        let lines = free.iter().map(between).collect();
        Self { pitch: group.pitch, free, events, lines }
    }

    pub(super) fn free(&self) -> &[usize] {
        &self.free
    }

    pub(super) fn events(&self, of: usize) -> &[i64] {
        &self.events[of]
    }

    /// How many corners [`Self::visit`] comes to at most among these of the free runs.
    pub(super) fn count(&self, among: &[usize]) -> u64 {
        let own: Vec<usize> = among
            .iter()
            .map(|run| {
                let still = (0..self.free.len()).filter(|other| !among.contains(other));
                self.events[*run].len() + still.map(|other| self.line_count(other, *run)).sum::<usize>()
            })
            .collect();
        let mut count = 0_u64;
        for (holds, ring) in forests(among) {
            let each = among.iter().zip(&own).zip(&holds).map(|((run, own), held)| match held {
                Held::Itself => *own,
                Held::By(parent) => self.line_count(*parent, *run),
                Held::InRing => 1,
            });
            let trees = each.fold(1, times);
            count = count.saturating_add(trees.saturating_mul(self.ring_count(&ring)));
        }
        count
    }

    /// Brings `visit` to every corner among these of the free runs. The others are not moved, and lines from them hold
    /// as events do. The corners of which most starts are held by themselves come first.
    pub(super) fn visit(&self, among: &[usize], visit: &mut impl Visit) -> ControlFlow<()> {
        let events: Vec<Vec<i64>> = among.iter().map(|run| self.held_by_still(*run, among, visit)).collect();
        let mut forests = forests(among);
        forests.sort_by_key(|(holds, _)| holds.iter().filter(|held| **held != Held::Itself).count());
        for (holds, ring) in &forests {
            let moved = |(run, held): (usize, Held)| {
                let place = among.iter().position(|other| *other == run);
                let events = place.and_then(|place| events.get(place)).cloned().unwrap_or_default();
                Moved { run, held, events }
            };
            let order: Vec<Moved> = in_order(among, holds).into_iter().map(moved).collect();
            if ring.is_empty() {
                self.grow(&order, visit)?;
                continue;
            }
            for starts in self.around(ring) {
                for (run, start) in ring.iter().zip(starts) {
                    visit.set(*run, start);
                }
                self.grow(&order, visit)?;
            }
        }
        ControlFlow::Continue(())
    }

    /// A run's own events and those that the starts not moved make.
    fn held_by_still(&self, run: usize, among: &[usize], visit: &impl Visit) -> Vec<i64> {
        let still = (0..self.free.len()).filter(|other| !among.contains(other));
        let by_lines = still.flat_map(|other| self.lines[other][run].from(visit.start(other), self.pitch));
        self.events[run].iter().copied().chain(by_lines).collect()
    }

    /// Holds the starts in `order` in every way, each after what holds it.
    fn grow(&self, order: &[Moved], visit: &mut impl Visit) -> ControlFlow<()> {
        let Some((moved, rest)) = order.split_first() else { return visit.look() };
        match moved.held {
            Held::InRing => self.grow(rest, visit)?,
            Held::Itself => {
                for start in &moved.events {
                    visit.set(moved.run, *start);
                    self.grow(rest, visit)?;
                }
            }
            Held::By(parent) => {
                for start in self.lines[parent][moved.run].from(visit.start(parent), self.pitch) {
                    visit.set(moved.run, start);
                    self.grow(rest, visit)?;
                }
            }
        }
        ControlFlow::Continue(())
    }

    /// The starts of a ring, in every way that its lines hold them.
    fn around(&self, ring: &[usize]) -> Vec<Vec<i64>> {
        let (Some(first), Some(last)) = (ring.first(), ring.last()) else { return Vec::new() };
        // Each start along the ring is `sign * first + offset`.
        let mut paths = vec![Path { signs: vec![1], offsets: vec![0] }];
        for pair in ring.windows(2) {
            let [from, to] = pair else { continue };
            paths = paths.iter().flat_map(|path| path.onward(&self.lines[*from][*to])).collect();
        }
        let closing = &self.lines[*last][*first];
        let mut around = Vec::new();
        for path in &paths {
            let (Some(sign), Some(offset)) = (path.signs.last(), path.offsets.last()) else { continue };
            // last + first = sum, or last - first = difference.
            let twice: Vec<i64> = if *sign == 1 {
                closing.sums.iter().map(|sum| sum - offset).collect()
            } else {
                closing.differences.iter().map(|difference| offset - difference).collect()
            };
            for start in twice.into_iter().flat_map(|twice| halves(twice, self.pitch)) {
                let at = |(sign, offset): (&i64, &i64)| (sign * start + offset).rem_euclid(self.pitch);
                around.push(path.signs.iter().zip(&path.offsets).map(at).collect());
            }
        }
        around
    }

    fn line_count(&self, one: usize, other: usize) -> usize {
        let lines = &self.lines[one][other];
        lines.sums.len() + lines.differences.len()
    }

    /// An upper bound: a ring is closed by a sum or by a difference, and each gives up to four starts.
    fn ring_count(&self, ring: &[usize]) -> u64 {
        let (Some(first), Some(last)) = (ring.first(), ring.last()) else { return 1 };
        let along = ring.windows(2).map(|pair| match pair {
            [from, to] => self.line_count(*from, *to),
            _ => 1,
        });
        along.chain([self.line_count(*last, *first), 4]).fold(1, times)
    }
}

fn times(product: u64, n: usize) -> u64 {
    product.saturating_mul(u64::try_from(n).unwrap_or(u64::MAX))
}

/// Every way to hold these starts, with the ring that some of them form; every way once.
fn forests(among: &[usize]) -> Vec<(Vec<Held>, Vec<usize>)> {
    let mut forests = Vec::new();
    for ring in rings(among) {
        let choices = |run: &usize| -> Vec<Held> {
            if ring.contains(run) {
                return vec![Held::InRing];
            }
            let others = among.iter().filter(|other| *other != run).map(|other| Held::By(*other));
            std::iter::once(Held::Itself).chain(others).collect()
        };
        let mut ways: Vec<Vec<Held>> = vec![Vec::new()];
        for run in among {
            let choices = choices(run);
            let longer =
                |way: &Vec<Held>| choices.iter().map(|held| [way.as_slice(), &[*held]].concat()).collect();
            ways = ways.iter().flat_map(|way| -> Vec<Vec<Held>> { longer(way) }).collect();
        }
        ways.retain(|holds| in_order(among, holds).len() == among.len());
        forests.extend(ways.into_iter().map(|holds| (holds, ring.clone())));
    }
    forests
}

/// Starts along a ring in terms of its first.
struct Path {
    signs: Vec<i64>,
    offsets: Vec<i64>,
}

impl Path {
    /// One line farther, from the last start to the next.
    fn onward(&self, lines: &Lines) -> Vec<Self> {
        let (Some(sign), Some(offset)) = (self.signs.last(), self.offsets.last()) else { return Vec::new() };
        let to = |sign: i64, offset: i64| Self {
            signs: [self.signs.as_slice(), &[sign]].concat(),
            offsets: [self.offsets.as_slice(), &[offset]].concat(),
        };
        let sums = lines.sums.iter().map(|sum| to(-sign, sum - offset));
        let differences = lines.differences.iter().map(|difference| to(*sign, offset - difference));
        sums.chain(differences).collect()
    }
}

/// No ring, every two, and every three.
fn rings(among: &[usize]) -> Vec<Vec<usize>> {
    let mut rings = vec![Vec::new()];
    for (at, one) in among.iter().enumerate() {
        for (past, other) in among.iter().enumerate().skip(at + 1) {
            rings.push(vec![*one, *other]);
            rings.extend(among[past + 1..].iter().map(|third| vec![*one, *other, *third]));
        }
    }
    rings
}

/// The starts, each after the one that holds it; those that hold each other in a circle are left out.
fn in_order(among: &[usize], holds: &[Held]) -> Vec<(usize, Held)> {
    let mut order: Vec<(usize, Held)> = Vec::new();
    loop {
        let before = order.len();
        for (run, held) in among.iter().zip(holds) {
            let is_held = match held {
                Held::Itself | Held::InRing => true,
                Held::By(parent) => order.iter().any(|(placed, _)| placed == parent),
            };
            if is_held && !order.iter().any(|(placed, _)| placed == run) {
                order.push((*run, *held));
            }
        }
        if order.len() == before {
            return order;
        }
    }
}
