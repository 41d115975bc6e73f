//! Completing a choice: what the lead has not chosen is proposed by what the trade looks at first.

use super::{ranked_course_lines, ranked_starts};
use crate::course::{WallCourses, lay_line, lines};
use crate::measure::{Band, Job, Layout, Length, Surface};
use crate::place;

/// Starts of which every piece is placed, on a wall with openings.
const MOST_PLACED: usize = 16;

/// `partial` with everything that the planner needs: a joint, a course line and a start for every surface, a
/// start for every band with one of its own, and whether each wall given by readings is propped or scribed. What the
/// lead chose stays as it is. The same job and choice always give the same proposal.
///
/// Where a wall cannot be laid whatever the course line (nothing carries, no room), the proposal still has a
/// line and a start for it, and [`crate::course::lay`] says what is wrong.
pub fn propose(job: &Job, partial: &Layout) -> Layout {
    let joint = partial.joint.unwrap_or_else(|| job.chosen_joint());
    let mut layout = Layout { joint: Some(joint), ..partial.clone() };
    for walls in lines(job) {
        propose_course_line(job, &mut layout, &walls);
        propose_starts(job, &mut layout, &walls);
    }
    layout
}

/// Whether a band does not follow the surface's start: strips, other widths, bands with their own pattern, and
/// those that the lead gave a start.
pub(super) fn starts_for_itself(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    place: usize,
    band: &Band,
) -> bool {
    let width = |band: &Band| job.laid_size(&band.tile, band.upright).map(|size| size.width);
    let main = surface.bands.iter().find(|band| !band.is_strip());
    band.is_strip()
        || band.pattern.is_some()
        || main.is_some_and(|main| width(main) != width(band))
        || layout.band_starts.contains_key(&(surface.id.clone(), place))
}

/// A wall that has no line takes the one of a wall that shares its level line, or else the best.
fn propose_course_line(job: &Job, layout: &mut Layout, walls: &[&Surface]) {
    let given = walls.iter().find_map(|wall| layout.course_line.get(&wall.id)).copied();
    let best = given.or_else(|| ranked_course_lines(job, layout, walls).first().copied());
    for wall in walls {
        layout.course_line.entry(wall.id.clone()).or_insert(best.unwrap_or_default());
    }
}

fn propose_starts(job: &Job, layout: &mut Layout, walls: &[&Surface]) {
    let laid = lay_line(job, layout, walls).unwrap_or_default();
    for surface in walls {
        let courses = laid.get(&surface.id);
        if let Some(courses) = courses.filter(|_| surface.outline.is_none()) {
            layout.first_course.entry(surface.id.clone()).or_insert(courses.first_course);
        }
        if !layout.starts.contains_key(&surface.id) {
            let start = best_start(job, layout, surface, courses, None);
            layout.starts.insert(surface.id.clone(), start.unwrap_or_default());
        }
        for (place, band) in surface.bands.iter().enumerate() {
            let key = (surface.id.clone(), place);
            if !layout.band_starts.contains_key(&key) && starts_for_itself(job, layout, surface, place, band)
            {
                let start = best_start(job, layout, surface, courses, Some(place));
                layout.band_starts.insert(key, start.unwrap_or_default());
            }
        }
    }
}

/// The best start of a wall's field or of one of its bands. Where the wall has openings the first few are tried, and
/// the first of those that leave the fewest slivers is taken: legs and webs beside an opening show only in the pieces.
fn best_start(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    wall: Option<&WallCourses>,
    band: Option<usize>,
) -> Option<Length> {
    let courses = wall.map(|wall| wall.courses.as_slice()).unwrap_or_default();
    let ranked = ranked_starts(job, layout, surface, courses, band);
    let Some(wall) = wall.filter(|_| !surface.openings.is_empty()) else { return ranked.first().copied() };
    let slivers = |start: &Length| {
        let mut layout = layout.clone();
        match band {
            None => layout.starts.insert(surface.id.clone(), *start),
            Some(place) => layout.band_starts.insert((surface.id.clone(), place), *start),
        };
        let pieces = place::pieces(job, surface, courses, &layout, wall).pieces;
        pieces.iter().filter(|piece| piece.sliver.is_some()).count()
    };
    ranked.into_iter().take(MOST_PLACED).min_by_key(slivers)
}
