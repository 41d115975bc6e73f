//! The starts of all walls of one frame together.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use super::frames::Frame;
use super::front::{Cost, front, thinned};
use super::options::Extent;
use super::propose::starts_for_itself;
use super::ranked_starts;
use super::seen::{Seen, figures};
use super::watch::Watch;
use super::{Figures, Priorities, Reach, Starts, start_front};
use crate::measure::{Job, Layout, Length, Surface, SurfaceId};
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

/// Choices of starts of which every piece is placed, of those whose row ends pair best.
const KEPT_PAIRED: usize = 60;

/// Starts that are looked at between two questions of the search for those that pair best.
const BETWEEN_QUESTIONS: u64 = 4096;

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
            let seen = self.seen(frame, surface, start, &band_starts);
            let work = seen.pieces.len();
            choices.push(Choice { start, band_starts, seen });
            if !watch.go_on(work) {
                break;
            }
        }
        choices
    }

    /// What a wall comes to.
    fn seen(
        &self,
        frame: &Frame,
        surface: &Surface,
        start: Length,
        band_starts: &BTreeMap<usize, Length>,
    ) -> Seen {
        let mut layout = frame.layout.clone();
        layout.starts.insert(surface.id.clone(), start);
        let bands = band_starts.iter().map(|(band, start)| ((surface.id.clone(), *band), *start));
        layout.band_starts.extend(bands);
        let pieces = frame
            .courses
            .walls
            .get(&surface.id)
            .map(|courses| place::pieces(self.job, surface, &courses.courses, &layout, courses).pieces);
        Seen::of(self.job, frame, surface, pieces.unwrap_or_default())
    }

    /// The complete layouts of a frame whose row ends pair best, over all walls together, and whether every one there
    /// is was looked at. At most half of `visits` are, so that something is left for other frames.
    pub(super) fn paired(
        &self,
        frame: &Frame,
        visits: &mut u64,
        watch: &mut Watch<'_>,
    ) -> (Vec<(Cost, Layout)>, Reach) {
        let mut questions = *visits / 2 / BETWEEN_QUESTIONS;
        let found = start_front(self.job, &frame.layout, &frame.courses, &mut || {
            questions = questions.saturating_sub(1);
            if questions == 0 { ControlFlow::Break(()) } else { watch.answer() }
        });
        *visits = visits.saturating_sub(found.visited);
        let rated = |starts: Starts| (Cost::of(&of_rows(&starts), self.priorities), starts);
        let all = front(found.choices.into_iter().map(rated).collect());
        let reach = if all.len() <= KEPT_PAIRED { found.reach } else { Reach::Searched };
        let mut walls: BTreeMap<(&SurfaceId, Length, BTreeMap<usize, Length>), Seen> = BTreeMap::new();
        let mut layouts = Vec::new();
        for (_, starts) in thinned(all, KEPT_PAIRED) {
            let keys: Vec<_> = self.job.surfaces.iter().map(|surface| starts_of(&starts, surface)).collect();
            for (surface, (start, bands)) in self.job.surfaces.iter().zip(&keys) {
                walls.entry((&surface.id, *start, bands.clone())).or_insert_with(|| {
                    let seen = self.seen(frame, surface, *start, bands);
                    watch.go_on(seen.pieces.len());
                    seen
                });
            }
            let places = self.job.surfaces.iter().zip(keys);
            let seen: Vec<&Seen> = places
                .filter_map(|(surface, (start, bands))| walls.get(&(&surface.id, start, bands)))
                .collect();
            let figures = figures(self.job, frame, &self.facing, &seen);
            let layout =
                Layout { starts: starts.starts, band_starts: starts.band_starts, ..frame.layout.clone() };
            layouts.push((Cost::of(&figures, self.priorities), layout));
            if watch.is_stopped() {
                break;
            }
        }
        let layouts = front(layouts);
        let reach = if layouts.len() <= KEPT { reach } else { Reach::Searched };
        (thinned(layouts, KEPT), reach)
    }
}

/// The starts of one wall and of its bands.
fn starts_of(starts: &Starts, surface: &Surface) -> (Length, BTreeMap<usize, Length>) {
    let bands = starts.band_starts.iter().filter(|((id, _), _)| *id == surface.id);
    let start = starts.starts.get(&surface.id).copied().unwrap_or_default();
    (start, bands.map(|((_, band), start)| (*band, *start)).collect())
}

/// The figures of row ends alone.
fn of_rows(starts: &Starts) -> Figures {
    Figures {
        bought: starts.row_tiles,
        narrowest_cut: starts.narrowest,
        cuts: starts.cuts,
        slivers: starts.slivers,
        unequal: starts.unequal,
        opening_edges_on_joints: starts.opening_edges_on_joints,
        base_gap_largest: Length::ZERO,
        warnings: starts.shown,
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
