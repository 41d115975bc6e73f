//! Visiting the corners of one group of runs.

use std::ops::ControlFlow;

use super::front::Front;
use super::run::Group;
use super::tally::{Bench, Tally};
use super::vertices::Corners;
use crate::search::Reach;

/// Where there are more corners than this, only the promising ones are visited, so that an answer takes a second.
pub const MOST_CORNERS: u64 = 2_000_000;

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

/// The choices of one group.
struct Visit<'g> {
    group: &'g Group,
    bench: Bench,
    starts: Vec<i64>,
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
        let mut visit = Visit::of(group);
        let mut point: Vec<i64> =
            all.iter().map(|run| corners.events(*run).first().copied().unwrap_or(0)).collect();
        self.visited += 1;
        visit.offer(&corners, &point);
        let flow = if all.len() <= MOST_TOGETHER && corners.count(&all) <= MOST_CORNERS {
            self.every_corner(&corners, &all, &mut point, &mut visit)
        } else {
            self.reach = Reach::Searched;
            self.promising(&corners, &mut visit)
        };
        if flow.is_break() {
            self.reach = Reach::Searched;
        }
        visit.front.into_choices()
    }

    fn every_corner(
        &mut self,
        corners: &Corners,
        among: &[usize],
        point: &mut [i64],
        visit: &mut Visit<'_>,
    ) -> ControlFlow<()> {
        corners.visit(among, point, &mut |point| {
            self.step()?;
            visit.offer(corners, point);
            ControlFlow::Continue(())
        })
    }

    /// The best choices of each run by itself in every combination; then, from the best of them by each figure, two
    /// runs in turn as the others stand.
    fn promising(&mut self, corners: &Corners, visit: &mut Visit<'_>) -> ControlFlow<()> {
        let last = self.visited.saturating_add(MOST_CORNERS);
        let own: Vec<Vec<i64>> = corners
            .free()
            .iter()
            .enumerate()
            .map(|(place, run)| self.of_one(visit.group, *run, corners.events(place)))
            .collect();
        let mut product = vec![Vec::new()];
        for starts in &own {
            let longer = |point: &Vec<i64>| {
                starts.iter().map(|start| [point.as_slice(), &[*start]].concat()).collect()
            };
            let wider: Vec<Vec<i64>> =
                product.iter().flat_map(|point| -> Vec<Vec<i64>> { longer(point) }).collect();
            // Half of the visits are for pairs.
            let fits = u64::try_from(wider.len()).is_ok_and(|n| n <= MOST_CORNERS / 2);
            product = if fits {
                wider
            } else {
                product.iter().map(|point| [point.as_slice(), &starts[..1]].concat()).collect()
            };
        }
        for point in &product {
            self.step()?;
            visit.offer(corners, point);
        }
        for figure in 0..Tally::NOTHING.costs().len() {
            let mut best = None;
            while let Some(point) =
                visit.best_by(figure, corners).filter(|point| best.as_ref() != Some(point))
            {
                best = Some(point.clone());
                for one in 0..point.len() {
                    for other in one + 1..point.len() {
                        let pair = [one, other];
                        if self.visited.saturating_add(corners.count(&pair)) > last {
                            continue;
                        }
                        self.every_corner(corners, &pair, &mut point.clone(), visit)?;
                    }
                }
            }
        }
        ControlFlow::Continue(())
    }

    /// The best starts of one run as if it were alone.
    fn of_one(&mut self, group: &Group, run: usize, events: &[i64]) -> Vec<i64> {
        let alone = Group {
            directional: group.directional.clone(),
            runs: vec![group.runs[run].clone()],
            facing: Vec::new(),
            ..*group
        };
        let (mut bench, mut front) = (Bench::of(&alone), Front::new());
        for start in events {
            self.visited += 1;
            front.offer(alone.tally(&[*start], &mut bench), || *start);
        }
        let mut choices = front.into_choices();
        choices.sort_by_key(|(tally, start)| (tally.costs(), *start));
        choices.into_iter().take(MOST_OF_ONE).map(|(_, start)| start).collect()
    }

    fn step(&mut self) -> ControlFlow<()> {
        self.visited += 1;
        if self.visited.is_multiple_of(BETWEEN_QUESTIONS) {
            (self.go_on)()
        } else {
            ControlFlow::Continue(())
        }
    }
}

impl<'g> Visit<'g> {
    fn of(group: &'g Group) -> Self {
        Self {
            group,
            bench: Bench::of(group),
            starts: group.runs.iter().map(|run| run.fixed.unwrap_or(0)).collect(),
            front: Front::new(),
        }
    }

    fn offer(&mut self, corners: &Corners, point: &[i64]) {
        for (run, start) in corners.free().iter().zip(point) {
            self.starts[*run] = *start;
        }
        let tally = self.group.tally(&self.starts, &mut self.bench);
        let starts = &self.starts;
        self.front.offer(tally, || starts.clone());
    }

    /// The starts of the free runs in the choice that is best by one figure, then by the usual order.
    fn best_by(&self, figure: usize, corners: &Corners) -> Option<Vec<i64>> {
        let choices = self.front.choices().iter();
        let best =
            choices.min_by_key(|(tally, starts)| (tally.costs()[figure], tally.costs(), starts.clone()));
        best.map(|(_, starts)| corners.free().iter().map(|run| starts[*run]).collect())
    }
}
