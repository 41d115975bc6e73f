//! Where a course of tile runs from and to: between the wall's ends, and the openings and steps that take its
//! whole height.

use super::run::{Beside, Edge, End, Leaves};
use crate::course::{Course, WallCourses};
use crate::geometry::{Rect, Side};
use crate::measure::{Job, Length, Opening, OpeningShape, OutlineSide, Role, Surface};

/// What one course meets.
pub(super) struct Met {
    /// Left to right.
    pub(super) segments: Vec<Segment>,
    /// `at` is still x of the left side.
    pub(super) openings: Vec<Beside>,
}

/// A stretch of a course.
pub(super) struct Segment {
    pub(super) left: Stop,
    pub(super) right: Stop,
}

/// Where a stretch ends. The end's `at` is not known yet.
#[derive(Clone, Copy)]
pub(super) struct Stop {
    pub(super) x: i64,
    pub(super) end: End,
}

/// An opening's bounds with its clearance.
struct Taken<'a> {
    opening: &'a Opening,
    bounds: Rect,
}

/// The stretches of `course` on a wall, and the openings beside it.
pub(super) fn segments(job: &Job, surface: &Surface, wall: &WallCourses, course: &Course) -> Met {
    let taken: Vec<Taken<'_>> = surface.openings.iter().filter_map(taken).collect();
    let (left, right) = (job.gaps.at(surface.edges.left), surface.width - job.gaps.at(surface.edges.right));
    let (left, right) = match &surface.outline {
        Some(outline) => (outline.bounds().left, outline.bounds().right),
        None => (left, right),
    };
    let height = |x0: Length, x1: Length| visible(job, surface, wall, course, (x0, x1));
    let mut segments: Vec<Segment> = Vec::new();
    for (from, to) in clear(job, surface, wall, course) {
        let (from, to) = (from.max(left), to.min(right));
        let mut begun: Option<Length> = None;
        let mut sides: Vec<Length> = vec![from, to];
        sides.extend(taken.iter().flat_map(|taken| [taken.bounds.left, taken.bounds.right]));
        sides.retain(|x| from <= *x && *x <= to);
        sides.sort();
        sides.dedup();
        let mut end_at = |from: Length, to: Length| {
            segments.push(Segment {
                left: stop(job, surface, course, &taken, from, 0),
                right: stop(job, surface, course, &taken, to, 1),
            });
        };
        for pair in sides.windows(2) {
            let [x0, x1] = pair else { continue };
            let here = taken.iter().filter(|t| t.bounds.left <= *x0 && *x1 <= t.bounds.right);
            match (is_filled(here.map(|t| t.bounds), height(*x0, *x1)), begun) {
                (true, Some(begins)) => {
                    end_at(begins, *x0);
                    begun = None;
                }
                (false, None) => begun = Some(*x0),
                (true, None) | (false, Some(_)) => {}
            }
        }
        if let Some(begins) = begun {
            end_at(begins, to);
        }
    }
    let openings = taken.iter().filter_map(|taken| beside(job, taken, height, (left, right))).collect();
    Met { segments, openings }
}

/// Where a course has tile, openings aside: from and to, left to right. Steps of an outline within the course's height
/// are left out.
fn clear(job: &Job, surface: &Surface, wall: &WallCourses, course: &Course) -> Vec<(Length, Length)> {
    let Some(outline) = &surface.outline else { return wall.clear_of(course) };
    let room = outline.room(&job.gaps);
    let mut beside: Vec<(Length, Length)> = room
        .iter()
        .filter(|part| part.bottom < course.top && course.bottom < part.top)
        .map(|part| (part.left, part.right))
        .collect();
    beside.sort();
    let mut clear: Vec<(Length, Length)> = Vec::new();
    for (from, to) in beside {
        match clear.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => clear.push((from, to)),
        }
    }
    clear
}

/// What of the course is between the surface's lower and upper limits from `x0` to `x1`.
fn visible(
    job: &Job,
    surface: &Surface,
    wall: &WallCourses,
    course: &Course,
    (x0, x1): (Length, Length),
) -> (Length, Length) {
    let (lowest, highest) = match &surface.outline {
        Some(outline) => {
            let room = outline.room(&job.gaps);
            let here = || room.iter().filter(|part| part.left < x1 && x0 < part.right);
            (here().map(|part| part.bottom).min(), here().map(|part| part.top).max())
        }
        None => {
            let (foot, head) = (wall.foot(x0, x1), wall.head(x0, x1));
            (Some(foot.left.y.min(foot.right.y)), Some(head.left.y.max(head.right.y)))
        }
    };
    let bottom = lowest.map_or(course.bottom, |lowest| course.bottom.max(lowest));
    (bottom, highest.map_or(course.top, |highest| course.top.min(highest)))
}

fn taken(opening: &Opening) -> Option<Taken<'_>> {
    let bounds = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }.grown(opening.clearance)
        }
        OpeningShape::Circle { x, y, diameter } => {
            let radius = diameter - diameter.half() + opening.clearance;
            Rect { left: x, bottom: y, right: x, top: y }.grown(radius)
        }
    };
    (!bounds.is_empty()).then_some(Taken { opening, bounds })
}

/// Whether rectangles over one stretch leave nothing from `bottom` to `top`.
fn is_filled(rects: impl Iterator<Item = Rect>, (bottom, top): (Length, Length)) -> bool {
    let mut heights: Vec<(Length, Length)> = rects.map(|rect| (rect.bottom, rect.top)).collect();
    heights.sort();
    let reached = heights
        .into_iter()
        .fold(bottom, |reached, (low, high)| if low <= reached { reached.max(high) } else { reached });
    reached >= top
}

/// What ends a row of `course` at `x`: 0 its left end, 1 its right.
fn stop(job: &Job, surface: &Surface, course: &Course, taken: &[Taken<'_>], x: Length, side: usize) -> Stop {
    let role = role_at(job, surface, course, x, side);
    let at_opening = taken.iter().find(|t| x == if side == 0 { t.bounds.right } else { t.bounds.left });
    let edge = match (role, at_opening) {
        (Some(Role::Bare), _) => Edge::Shown,
        (Some(Role::Trim), _) => Edge::Dressed,
        (None, Some(taken)) if !taken.opening.edge.allows_cut() => Edge::Shown,
        _ => Edge::Covered,
    };
    let hidden = match surface.outline {
        Some(_) => Length::ZERO,
        None if side == 0 => surface.covered.left - x,
        None => x - (surface.width - surface.covered.right),
    };
    let hidden = hidden.max(Length::ZERO).units();
    Stop { x: x.units(), end: End { at: 0, hidden, edge, of_wall: role.is_some() } }
}

/// The role of the surface's own edge where a row ends, if it does not end at an opening or a step.
fn role_at(job: &Job, surface: &Surface, course: &Course, x: Length, side: usize) -> Option<Role> {
    let Some(outline) = &surface.outline else {
        let role = if side == 0 { surface.edges.left } else { surface.edges.right };
        let gap = job.gaps.at(role);
        let at = if side == 0 { gap } else { surface.width - gap };
        return (x == at).then_some(role);
    };
    let faces = if side == 0 { Side::Left } else { Side::Right };
    let sides = outline.sides().iter().filter(|edge| edge.faces() == faces);
    let ends_here = |edge: &&OutlineSide| {
        let gap = job.gaps.at(edge.role);
        let at = if side == 0 { edge.at() + gap } else { edge.at() - gap };
        let (bottom, top) = (edge.from.y.min(edge.to.y), edge.from.y.max(edge.to.y));
        x == at && bottom < course.top && course.bottom < top
    };
    sides.into_iter().find(ends_here).map(|edge| edge.role)
}

/// An opening as the course beside it sees it, if it does.
fn beside(
    job: &Job,
    taken: &Taken<'_>,
    height: impl Fn(Length, Length) -> (Length, Length),
    (left, right): (Length, Length),
) -> Option<Beside> {
    let bounds = taken.bounds;
    let (x0, x1) = (bounds.left.max(left), bounds.right.min(right));
    if x0 >= x1 {
        return None;
    }
    let (bottom, top) = height(x0, x1);
    if bounds.top <= bottom || top <= bounds.bottom {
        return None;
    }
    let (below, above) = (bounds.bottom - bottom, top - bounds.top);
    let strips = || [below, above].into_iter().filter(|strip| *strip > Length::ZERO);
    let thinner = |than: Length| strips().any(|strip| strip < than);
    let leaves = match strips().count() {
        0 => Leaves::Nothing,
        1 => Leaves::Leg { thin: thinner(job.thinnest_leg) },
        _ => Leaves::Hole { thin_leg: thinner(job.thinnest_leg), thin_web: thinner(job.thinnest_web) },
    };
    Some(Beside {
        at: bounds.left.units(),
        width: bounds.width().units(),
        clear: [(bounds.left - left).units(), (right - bounds.right).units()],
        has_sides: matches!(taken.opening.shape, OpeningShape::Rectangle { .. }),
        thinnest_leg: job.thinnest_leg.units(),
        thinnest_web: job.thinnest_web.units(),
        leaves,
        count: 0,
    })
}
