//! The starts of all walls of one frame together.

use std::collections::BTreeMap;

use super::Priorities;
use super::frames::Frame;
use super::front::{Cost, front, thinned};
use super::propose::starts_for_itself;
use super::ranked_starts;
use super::seen::{Seen, figures};
use super::watch::Watch;
use crate::measure::{Job, Layout, Length, Surface};
use crate::place;

/// Starts of the field tried on one wall.
const MOST_STARTS: usize = 16;

/// Starts of a band that starts for itself, besides the best.
const MOST_OTHER_BAND_STARTS: usize = 2;

/// Ways to put the walls of one frame together.
const MOST_TOGETHER: usize = 1500;

/// Layouts kept of one frame.
const KEPT: usize = 40;

/// One wall with its starts and what they come to.
struct Choice {
    start: Length,
    band_starts: BTreeMap<usize, Length>,
    seen: Seen,
}

/// The complete layouts of a frame worth a closer look, with their costs, tiles estimated.
pub(super) fn layouts(
    job: &Job,
    frame: &Frame,
    facing: &[(usize, usize)],
    priorities: &Priorities,
    watch: &mut Watch<'_>,
) -> Vec<(Cost, Layout)> {
    let mut walls = Vec::new();
    let kept = kept_of_a_wall(job.surfaces.len());
    for surface in &job.surfaces {
        let choices = choices(job, frame, surface, watch);
        let own = |choice: Choice| (Cost::of(&figures(job, frame, &[], &[&choice.seen]), priorities), choice);
        let best = thinned(front(choices.into_iter().map(own).collect()), kept);
        walls.push(best.into_iter().map(|(_, choice)| choice).collect::<Vec<Choice>>());
    }
    if walls.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    let mut together = Vec::new();
    let mut at = vec![0; walls.len()];
    loop {
        let seen: Vec<&Seen> = at.iter().zip(&walls).map(|(one, choices)| &choices[*one].seen).collect();
        together.push((Cost::of(&figures(job, frame, facing, &seen), priorities), at.clone()));
        if !watch.go_on(1) || !step(&mut at, &walls) {
            break;
        }
    }
    let best = thinned(front(together), KEPT);
    best.into_iter().map(|(cost, at)| (cost, layout(job, frame, &walls, &at))).collect()
}

/// The next combination; false after the last.
fn step(at: &mut [usize], walls: &[Vec<Choice>]) -> bool {
    for (one, choices) in at.iter_mut().zip(walls) {
        *one += 1;
        if *one < choices.len() {
            return true;
        }
        *one = 0;
    }
    false
}

/// So many of each wall that all together are at most [`MOST_TOGETHER`].
fn kept_of_a_wall(walls: usize) -> usize {
    let together = |kept: usize| (0..walls).try_fold(1_usize, |product, _| product.checked_mul(kept));
    (1..=MOST_STARTS).rev().find(|kept| together(*kept).is_some_and(|all| all <= MOST_TOGETHER)).unwrap_or(1)
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

fn choices(job: &Job, frame: &Frame, surface: &Surface, watch: &mut Watch<'_>) -> Vec<Choice> {
    let Some(courses) = frame.courses.walls.get(&surface.id) else { return Vec::new() };
    let ranked = |band| ranked_starts(job, &frame.layout, surface, &courses.courses, band);
    let field = match frame.layout.starts.get(&surface.id) {
        Some(start) => vec![*start],
        None => first_or_zero(ranked(None), MOST_STARTS),
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

fn first_or_zero(starts: Vec<Length>, most: usize) -> Vec<Length> {
    if starts.is_empty() { vec![Length::ZERO] } else { starts.into_iter().take(most).collect() }
}
