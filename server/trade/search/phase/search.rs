//! Visiting the corners of one group of runs.

use std::ops::ControlFlow;

use super::front::{Complete, Front};
use super::run::Group;
use super::tally::{Bench, Tally};
use super::vertices::{Corners, Visit};
use crate::search::Reach;

/// Where there are more corners than this, only the promising ones are visited, so that an answer takes a second.
pub const MOST_CORNERS: u64 = 2_000_000;

/// The most choices kept: nobody looks at so many.
pub const MOST_CHOICES: usize = 512;

/// How many rows of tile are looked at, over all choices, where not every corner is visited.
const MOST_ROWS: u64 = 60_000_000;

/// With more starts than this there are corners that [`Corners`] does not come to.
const MOST_TOGETHER: usize = 3;

/// How many of one run's own choices are combined with those of the others.
const MOST_OF_ONE: usize = 16;

/// How many choices are looked at between two questions whether to go on.
const BETWEEN_QUESTIONS: u64 = 4096;

/// A search over all groups.
pub(super) struct Search<'a> {
    go_on: &'a mut dyn FnMut() -> ControlFlow<()>,
    pub(super) reach: Reach,
    pub(super) visited: u64,
}

/// A search over one group.
struct InGroup<'g, 's, 'a> {
    search: &'s mut Search<'a>,
    group: &'g Group,
    corners: &'g Corners,
    bench: Bench<'g>,
    front: Front<Vec<i64>>,
}

impl<'a> Search<'a> {
    pub(super) fn new(go_on: &'a mut dyn FnMut() -> ControlFlow<()>) -> Self {
        Self { go_on, reach: Reach::All, visited: 0 }
    }

    /// The choices of one group that no other beats: a start for each of its runs.
    pub(super) fn group(&mut self, group: &Group) -> Vec<(Tally, Vec<i64>)> {
        let corners = Corners::of(group);
        let all: Vec<usize> = (0..corners.free().len()).collect();
        let is_small = all.len() <= MOST_TOGETHER && corners.count(&all) <= MOST_CORNERS;
        let mut here =
            InGroup { search: self, group, corners: &corners, bench: Bench::of(group), front: Front::new() };
        let first: Vec<i64> = all.iter().filter_map(|run| corners.events(*run).first().copied()).collect();
        let flow = match here.look_at(&first) {
            ControlFlow::Continue(()) if is_small => here.every(&all),
            ControlFlow::Continue(()) => here.promising(),
            stopped => stopped,
        };
        let front = here.front;
        if flow.is_break() || !is_small {
            self.reach = Reach::Searched;
        }
        self.thinned(front)
    }

    /// At most [`MOST_CHOICES`] of them.
    pub(super) fn thinned<T>(&mut self, front: Front<T>) -> Vec<(Tally, T)> {
        let (choices, complete) = front.thinned(MOST_CHOICES);
        if complete == Complete::No {
            self.reach = Reach::Searched;
        }
        choices
    }
}

impl InGroup<'_, '_, '_> {
    /// Every corner among these of the free runs, as the others stand.
    fn every(&mut self, among: &[usize]) -> ControlFlow<()> {
        let corners = self.corners;
        corners.visit(among, self)
    }

    /// The best choices of each run by itself in every combination; then, from the best of them by each figure, two
    /// runs in turn as the others stand.
    fn promising(&mut self) -> ControlFlow<()> {
        let rows: usize = self.group.runs.iter().map(|run| run.rows.len() + run.openings.len()).sum();
        let most = MOST_CORNERS.min(MOST_ROWS / u64::try_from(rows).unwrap_or(u64::MAX).max(1));
        let last = self.search.visited.saturating_add(most);
        for point in self.product(most / 2) {
            self.look_at(&point)?;
        }
        for figure in 0..Tally::NOTHING.costs().len() {
            let mut best = Vec::new();
            loop {
                let point = self.best_by(figure);
                if point == best {
                    break;
                }
                best = point;
                for one in 0..best.len() {
                    for other in one + 1..best.len() {
                        let pair = [one, other];
                        if self.search.visited.saturating_add(self.corners.count(&pair)) <= last {
                            self.set_all(&best);
                            self.every(&pair)?;
                        }
                    }
                }
            }
        }
        ControlFlow::Continue(())
    }

    /// The best starts of each run by itself, in every combination as long as those are at most so many.
    fn product(&mut self, most: u64) -> Vec<Vec<i64>> {
        let mut product = vec![Vec::new()];
        for place in 0..self.corners.free().len() {
            let mut starts = self.of_one(place);
            let fits = u64::try_from(product.len() * starts.len()).is_ok_and(|n| n <= most);
            starts.truncate(if fits { starts.len() } else { 1 });
            let longer = |point: &Vec<i64>| {
                starts.iter().map(|start| [point.as_slice(), &[*start]].concat()).collect()
            };
            product = product.iter().flat_map(|point| -> Vec<Vec<i64>> { longer(point) }).collect();
        }
        product
    }

    /// The best starts of one run as if it were alone.
    fn of_one(&mut self, place: usize) -> Vec<i64> {
        let alone = Group {
            directional: self.group.directional.clone(),
            runs: vec![self.group.runs[self.corners.free()[place]].clone()],
            facing: Vec::new(),
            ..*self.group
        };
        let (mut bench, mut front) = (Bench::of(&alone), Front::new());
        for start in self.corners.events(place) {
            self.search.visited += 1;
            bench.set(0, *start);
            let at_least = bench.at_least();
            front.offer(bench.exactly(&at_least), || *start);
        }
        let mut choices: Vec<(Tally, i64)> = front.choices().map(|(tally, start)| (*tally, *start)).collect();
        choices.sort_by_key(|(tally, start)| (tally.costs(), *start));
        choices.into_iter().take(MOST_OF_ONE).map(|(_, start)| start).collect()
    }

    fn set_all(&mut self, point: &[i64]) {
        for (run, start) in self.corners.free().iter().zip(point) {
            self.bench.set(*run, *start);
        }
    }

    fn look_at(&mut self, point: &[i64]) -> ControlFlow<()> {
        self.set_all(point);
        self.look()
    }

    /// The starts of the free runs in the choice that is best by one figure, then by the usual order.
    fn best_by(&self, figure: usize) -> Vec<i64> {
        let best = self
            .front
            .choices()
            .min_by_key(|(tally, starts)| (tally.costs()[figure], tally.costs(), (*starts).clone()));
        let starts = best.map_or(self.bench.starts(), |(_, starts)| starts.as_slice());
        self.corners.free().iter().map(|run| starts[*run]).collect()
    }
}

impl Visit for InGroup<'_, '_, '_> {
    fn start(&self, run: usize) -> i64 {
        self.bench.starts()[self.corners.free()[run]]
    }

    fn set(&mut self, run: usize, start: i64) {
        self.bench.set(self.corners.free()[run], start);
    }

    fn look(&mut self) -> ControlFlow<()> {
        self.search.visited += 1;
        let at_least = self.bench.at_least();
        if !self.front.beats(&at_least) {
            let tally = self.bench.exactly(&at_least);
            self.front.offer(tally, || self.bench.starts().to_vec());
        }
        if self.search.visited.is_multiple_of(BETWEEN_QUESTIONS) {
            (self.search.go_on)()
        } else {
            ControlFlow::Continue(())
        }
    }
}
