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

/// The events and lines of the runs whose start is free.
pub(super) struct Corners {
    pitch: i64,
    /// The indices of the free runs.
    free: Vec<usize>,
    events: Vec<Vec<i64>>,
    /// `[a][b]` between the free runs a and b, with a as `one`.
    lines: Vec<Vec<Lines>>,
}

/// What holds a start.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Held {
    /// An event of its own.
    Itself,
    /// A line from another.
    By(usize),
    /// A ring it is part of.
    InRing,
}

impl Corners {
    pub(super) fn of(group: &Group) -> Self {
        let runs = group.runs.iter().enumerate();
        let free: Vec<usize> = runs.filter(|(_, run)| run.fixed.is_none()).map(|(at, _)| at).collect();
        let events = free.iter().map(|run| group.events(*run)).collect();
        let between = |one: &usize| {
            let line =
                |other: &usize| if one == other { Lines::default() } else { group.lines(*one, *other) };
            free.iter().map(line).collect()
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

    /// How many corners [`Self::visit`] comes to among these of the free runs.
    pub(super) fn count(&self, among: &[usize]) -> u64 {
        let mut count = 0_u64;
        for (holds, ring) in self.forests(among) {
            let each = among.iter().zip(&holds).map(|(run, held)| match held {
                Held::Itself => self.events[*run].len(),
                Held::By(parent) => self.line_count(*parent, *run),
                Held::InRing => 1,
            });
            let trees =
                each.fold(1_u64, |product, n| product.saturating_mul(u64::try_from(n).unwrap_or(u64::MAX)));
            count = count.saturating_add(trees.saturating_mul(self.ring_count(&ring)));
        }
        count
    }

    /// Calls `visit` with every corner among these of the free runs: a start for each. The others in `point` stay, and
    /// hold as well.
    /// The corners of which most starts are held by their own events come first.
    pub(super) fn visit(
        &self,
        among: &[usize],
        point: &mut [i64],
        visit: &mut dyn FnMut(&[i64]) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let mut forests = self.forests(among);
        forests.sort_by_key(|(holds, _)| holds.iter().filter(|held| **held != Held::Itself).count());
        for (holds, ring) in &forests {
            let order = in_order(among, holds);
            let mut flow = ControlFlow::Continue(());
            self.around(ring, point, &mut |point| {
                flow = self.grow(&order, point, visit);
                flow
            })?;
            flow?;
        }
        ControlFlow::Continue(())
    }

    /// Holds the starts in `order` in every way, each after what holds it.
    fn grow(
        &self,
        order: &[(usize, Held)],
        point: &mut [i64],
        visit: &mut dyn FnMut(&[i64]) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let Some(((run, held), rest)) = order.split_first() else { return visit(point) };
        match held {
            Held::InRing => self.grow(rest, point, visit)?,
            Held::Itself => {
                for start in &self.events[*run] {
                    point[*run] = *start;
                    self.grow(rest, point, visit)?;
                }
            }
            Held::By(parent) => {
                let lines = &self.lines[*parent][*run];
                let by = point[*parent];
                for sum in &lines.sums {
                    point[*run] = (sum - by).rem_euclid(self.pitch);
                    self.grow(rest, point, visit)?;
                }
                for difference in &lines.differences {
                    point[*run] = (by - difference).rem_euclid(self.pitch);
                    self.grow(rest, point, visit)?;
                }
            }
        }
        ControlFlow::Continue(())
    }

    /// Sets the starts of a ring in every way that its lines hold them; once, when there is no ring.
    fn around(
        &self,
        ring: &[usize],
        point: &mut [i64],
        visit: &mut dyn FnMut(&mut [i64]) -> ControlFlow<()>,
    ) -> ControlFlow<()> {
        let (Some(first), Some(last)) = (ring.first(), ring.last()) else { return visit(point) };
        // Each start along the ring is `sign * first + offset`.
        let mut paths = vec![Path { signs: vec![1], offsets: vec![0] }];
        for pair in ring.windows(2) {
            let [from, to] = pair else { continue };
            paths = paths.iter().flat_map(|path| path.onward(&self.lines[*from][*to])).collect();
        }
        for path in &paths {
            let (Some(sign), Some(offset)) = (path.signs.last(), path.offsets.last()) else { continue };
            // The closing line: last + first = sum, or last - first = difference.
            let closing = &self.lines[*last][*first];
            let twice: Vec<i64> = if *sign == 1 {
                closing.sums.iter().map(|sum| sum - offset).collect()
            } else {
                closing.differences.iter().map(|difference| offset - difference).collect()
            };
            for start in twice.into_iter().flat_map(|twice| halves(twice, self.pitch)) {
                for (run, (sign, offset)) in ring.iter().zip(path.signs.iter().zip(&path.offsets)) {
                    point[*run] = (sign * start + offset).rem_euclid(self.pitch);
                }
                visit(point)?;
            }
        }
        ControlFlow::Continue(())
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
        let all = along.chain([self.line_count(*last, *first), 4]);
        all.fold(1_u64, |product, n| product.saturating_mul(u64::try_from(n).unwrap_or(u64::MAX)))
    }

    /// Every way to hold these starts, with the ring that some of them form; every way once.
    fn forests(&self, among: &[usize]) -> Vec<(Vec<Held>, Vec<usize>)> {
        let mut forests = Vec::new();
        for ring in rings(among) {
            let choices = |run: &usize| -> Vec<Held> {
                if ring.contains(run) {
                    return vec![Held::InRing];
                }
                let others = (0..self.free.len()).filter(|other| other != run).map(Held::By);
                std::iter::once(Held::Itself).chain(others).collect()
            };
            let mut ways: Vec<Vec<Held>> = vec![Vec::new()];
            for run in among {
                let choices = choices(run);
                ways = ways
                    .iter()
                    .flat_map(|way| choices.iter().map(move |held| [way.as_slice(), &[*held]].concat()))
                    .collect();
            }
            ways.retain(|holds| in_order(among, holds).len() == among.len());
            forests.extend(ways.into_iter().map(|holds| (holds, ring.clone())));
        }
        forests
    }
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
                Held::By(parent) => {
                    !among.contains(parent) || order.iter().any(|(placed, _)| placed == parent)
                }
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
