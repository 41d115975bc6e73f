//! The starts of all walls of one frame together.

use std::collections::BTreeMap;

use super::Priorities;
use super::frames::Frame;
use super::front::{Cost, front, thinned};
use super::options::Extent;
use super::propose::starts_for_itself;
use super::ranked_starts;
use super::seen::{Seen, figures};
use super::watch::Watch;
use crate::measure::{Job, Layout, Length, Surface};
use crate::place;

/// Starts of a band that starts for itself, besides the best.
const MOST_OTHER_BAND_STARTS: usize = 2;

/// Ways to put the walls of one frame together.
const MOST_TOGETHER: usize = 1500;

/// Choices of one wall that are put together with those of others, at most.
const MOST_OF_A_WALL: usize = 16;

/// With fewer than this of each wall, walls are changed one at a time instead.
const FEWEST_TOGETHER: usize = 3;

/// Layouts kept of one frame.
const KEPT: usize = 40;

/// One wall with its starts and what they come to.
struct Choice {
    start: Length,
    band_starts: BTreeMap<usize, Length>,
    seen: Seen,
}

/// What a search goes by.
pub(super) struct Search<'a> {
    pub(super) job: &'a Job,
    /// Walls that face each other.
    pub(super) facing: Vec<(usize, usize)>,
    pub(super) priorities: &'a Priorities,
    pub(super) extent: Extent,
}

impl Search<'_> {
    /// The complete layouts of a frame worth a closer look, with their costs, tiles estimated.
    pub(super) fn layouts(&self, frame: &Frame, watch: &mut Watch<'_>) -> Vec<(Cost, Layout)> {
        let job = self.job;
        let kept = kept_of_a_wall(job.surfaces.len());
        let kept_of_each = if kept < FEWEST_TOGETHER { MOST_OF_A_WALL } else { kept };
        let mut walls = Vec::new();
        for surface in &job.surfaces {
            let own = |choice: Choice| {
                let figures = figures(job, frame, &[], &[&choice.seen]);
                (Cost::of(&figures, self.priorities), choice)
            };
            let choices = self.choices(frame, surface, watch).into_iter().map(own).collect();
            let best = thinned(front(choices), kept_of_each);
            walls.push(best.into_iter().map(|(_, choice)| choice).collect::<Vec<Choice>>());
        }
        if walls.iter().any(Vec::is_empty) {
            return Vec::new();
        }
        let counts: Vec<usize> = walls.iter().map(Vec::len).collect();
        let all = if kept < FEWEST_TOGETHER { one_at_a_time(&counts) } else { every_way(&counts) };
        let mut together = Vec::new();
        for at in all {
            let seen: Vec<&Seen> = at.iter().zip(&walls).map(|(one, choices)| &choices[*one].seen).collect();
            let figures = figures(job, frame, &self.facing, &seen);
            together.push((Cost::of(&figures, self.priorities), at));
            if !watch.go_on(1) {
                break;
            }
        }
        let best = thinned(front(together), KEPT);
        best.into_iter().map(|(cost, at)| (cost, layout(job, frame, &walls, &at))).collect()
    }

    /// The starts of one wall, each with what it comes to.
    fn choices(&self, frame: &Frame, surface: &Surface, watch: &mut Watch<'_>) -> Vec<Choice> {
        let job = self.job;
        let Some(courses) = frame.courses.walls.get(&surface.id) else { return Vec::new() };
        let ranked = |band| ranked_starts(job, &frame.layout, surface, &courses.courses, band);
        let field = match frame.layout.starts.get(&surface.id) {
            Some(start) => vec![*start],
            None => first_or_zero(ranked(None), self.extent.starts),
        };
        let mut usual = BTreeMap::new();
        let mut others = Vec::new();
        for (place, band) in surface.bands.iter().enumerate() {
            if !starts_for_itself(job, &frame.layout, surface, place, band) {
                continue;
            }
            let starts = match frame.layout.band_starts.get(&(surface.id.clone(), place)) {
                Some(start) => vec![*start],
                None => first_or_zero(ranked(Some(place)), 1 + MOST_OTHER_BAND_STARTS),
            };
            usual.insert(place, starts.first().copied().unwrap_or_default());
            others.extend(starts.into_iter().skip(1).map(|start| (place, start)));
        }
        let best = field.first().copied().unwrap_or_default();
        let mut starts: Vec<(Length, BTreeMap<usize, Length>)> =
            field.into_iter().map(|start| (start, usual.clone())).collect();
        starts.extend(others.into_iter().map(|(place, start)| {
            let mut bands = usual.clone();
            bands.insert(place, start);
            (best, bands)
        }));
        let mut choices = Vec::new();
        for (start, band_starts) in starts {
            let mut layout = frame.layout.clone();
            layout.starts.insert(surface.id.clone(), start);
            let bands = band_starts.iter().map(|(band, start)| ((surface.id.clone(), *band), *start));
            layout.band_starts.extend(bands);
            let pieces = place::pieces(job, surface, &courses.courses, &layout, courses).pieces;
            let work = pieces.len();
            let seen = Seen::of(job, frame, surface, pieces);
            choices.push(Choice { start, band_starts, seen });
            if !watch.go_on(work) {
                break;
            }
        }
        choices
    }
}

/// Every choice of each wall with every choice of the others.
fn every_way(counts: &[usize]) -> Vec<Vec<usize>> {
    counts.iter().fold(vec![Vec::new()], |ways, count| {
        let longer = |way: &Vec<usize>, one| way.iter().copied().chain([one]).collect();
        ways.iter().flat_map(|way| (0..*count).map(move |one| longer(way, one))).collect()
    })
}

/// The best of each wall, and then one wall at a time otherwise.
fn one_at_a_time(counts: &[usize]) -> Vec<Vec<usize>> {
    let best = vec![0; counts.len()];
    let mut ways = vec![best.clone()];
    for (wall, count) in counts.iter().enumerate() {
        ways.extend((1..*count).map(|one| {
            let mut way = best.clone();
            way[wall] = one;
            way
        }));
    }
    ways
}

/// So many of each wall that all together are at most [`MOST_TOGETHER`].
fn kept_of_a_wall(walls: usize) -> usize {
    let together = |kept: usize| (0..walls).try_fold(1_usize, |product, _| product.checked_mul(kept));
    (1..=MOST_OF_A_WALL)
        .rev()
        .find(|kept| together(*kept).is_some_and(|all| all <= MOST_TOGETHER))
        .unwrap_or(1)
}

fn layout(job: &Job, frame: &Frame, walls: &[Vec<Choice>], at: &[usize]) -> Layout {
    let mut layout = frame.layout.clone();
    for ((surface, choices), one) in job.surfaces.iter().zip(walls).zip(at) {
        let choice = &choices[*one];
        layout.starts.insert(surface.id.clone(), choice.start);
        let bands = choice.band_starts.iter();
        layout.band_starts.extend(bands.map(|(band, start)| ((surface.id.clone(), *band), *start)));
    }
    layout
}

fn first_or_zero(starts: Vec<Length>, most: usize) -> Vec<Length> {
    if starts.is_empty() { vec![Length::ZERO] } else { starts.into_iter().take(most).collect() }
}
