//! Pieces too small to look right or to hold together.

use crate::geometry::polygon;
use crate::geometry::{Point, Rect};
use crate::measure::{Job, LeastSize, Length, Surface};

use super::region::{Blocker, Form, Part, Round, notches};
use super::{Sliver, Slot, marks};

/// Why the piece is a sliver, if it is: by its width, its height, its legs, its webs, in this order.
pub(super) fn sliver(
    job: &Job,
    surface: &Surface,
    slot: &Slot<'_>,
    cell: &Rect,
    part: &Part,
    blockers: &[Blocker],
) -> Option<Sliver> {
    let bounds = part.shape.bounds();
    let least = least_size(job, surface, slot);
    let narrow = || shown_width(surface, &bounds, cell).filter(|&width| width < least.width);
    let low = || height(&bounds, cell, blockers).filter(|&height| height < least.height);
    let thin = |found: Option<Length>, least: Length| found.filter(|&width| width < least);
    let leg = || thin(thinnest_leg(&bounds, blockers), job.thinnest_leg);
    let web = || thin(thinnest_web(part), job.thinnest_web);
    narrow()
        .map(Sliver::Narrow)
        .or_else(|| low().map(Sliver::Low))
        .or_else(|| leg().map(Sliver::Leg))
        .or_else(|| web().map(Sliver::Web))
}

/// The smallest cut asked for; half the tile as laid where nothing is asked, and always for a strip, whose tile
/// is lower than any field cut. The half tile of a half bond gives up half a joint, so half is counted less that.
fn least_size(job: &Job, surface: &Surface, slot: &Slot<'_>) -> LeastSize {
    let half = |whole: Length| (whole - slot.joint).half();
    let half = LeastSize { width: half(slot.size.width), height: half(slot.size.height) };
    let strip = surface.bands.get(slot.course.band).is_some_and(|band| band.is_strip());
    if strip { half } else { job.smallest_cut.unwrap_or(half) }
}

/// How much of a piece's width the neighbours' tile leaves to be seen, when it is cut in width and shows at all.
fn shown_width(surface: &Surface, bounds: &Rect, cell: &Rect) -> Option<Length> {
    let left = bounds.left.max(surface.left() + surface.covered.left);
    let right = bounds.right.min(surface.right() - surface.covered.right);
    (bounds.width() < cell.width() && left < right).then(|| right - left)
}

/// The least height of a piece that is cut in height: of a tapered one, at its lower end.
fn height(bounds: &Rect, cell: &Rect, blockers: &[Blocker]) -> Option<Length> {
    let slopes = marks::slopes(cell, bounds, blockers);
    if slopes.is_empty() {
        return (bounds.height() < cell.height()).then(|| bounds.height());
    }
    let at = |y: fn(&marks::Taper) -> Length| {
        slopes.iter().fold((bounds.bottom, bounds.top), |(bottom, top), slope| {
            if slope.cuts_bottom() { (bottom.max(y(slope)), top) } else { (bottom, top.min(y(slope))) }
        })
    };
    let (left, right) = (at(|slope| slope.left_y), at(|slope| slope.right_y));
    Some((left.1 - left.0).min(right.1 - right.0).max(Length::ZERO))
}

/// The thinnest leg beside, below or between notches and bites that reach the piece's edge.
fn thinnest_leg(bounds: &Rect, blockers: &[Blocker]) -> Option<Length> {
    let bites = blockers.iter().filter_map(|blocker| match &blocker.form {
        Form::Round(round) if round.bites(bounds) => Some(square(round)),
        Form::Rect(_) | Form::Round(_) | Form::Beyond(..) | Form::Slope(..) => None,
    });
    let takes: Vec<Rect> = notches(bounds, blockers)
        .into_iter()
        .chain(bites)
        .filter(|notch| !strictly_within(notch, bounds))
        .collect();
    let pairs = takes.iter().flat_map(|one| takes.iter().map(move |other| (one, other)));
    let between = pairs.filter_map(|(one, other)| between(one, other));
    takes.iter().flat_map(|notch| beside(notch, bounds)).chain(between).min()
}

/// What stays of the bounds on each side of a rectangle that takes a part of them.
fn beside(taken: &Rect, bounds: &Rect) -> impl Iterator<Item = Length> + use<> {
    let left = [
        taken.left - bounds.left,
        bounds.right - taken.right,
        taken.bottom - bounds.bottom,
        bounds.top - taken.top,
    ];
    left.into_iter().filter(|&width| width > Length::ZERO)
}

/// What stays between one rectangle and another right of it or above it, where they face each other.
fn between(one: &Rect, other: &Rect) -> Option<Length> {
    let facing = |low: Length, high: Length, other_low: Length, other_high: Length| {
        low < other_high && other_low < high
    };
    if one.right < other.left && facing(one.bottom, one.top, other.bottom, other.top) {
        Some(other.left - one.right)
    } else if one.top < other.bottom && facing(one.left, one.right, other.left, other.right) {
        Some(other.bottom - one.top)
    } else {
        None
    }
}

fn strictly_within(inner: &Rect, outer: &Rect) -> bool {
    outer.grown(Length::from_units(-1)).holds(inner)
}

/// The thinnest web between a hole and the piece's edge, or between two holes.
fn thinnest_web(part: &Part) -> Option<Length> {
    let rings = || std::iter::once(&part.shape.outline).chain(&part.shape.holes);
    let to_ring = |point: Point, ring: &[Point]| {
        polygon::edges(ring).map(|(a, b)| polygon::distance(a, b, point)).min()
    };
    let radius = |round: &Round| round.diameter - round.diameter.half();
    let round_webs = part.rounds.iter().flat_map(|round| {
        let to_rings = rings().filter_map(move |ring| to_ring(round.centre, ring));
        let others = part.rounds.iter().filter(move |other| *other != round);
        let to_others = others
            .map(move |other| polygon::distance(other.centre, other.centre, round.centre) - radius(other));
        to_rings.chain(to_others).map(move |distance| distance - radius(round))
    });
    let holes = &part.shape.holes;
    let hole_webs = holes.iter().enumerate().flat_map(|(number, hole)| {
        let others = std::iter::once(&part.shape.outline).chain(&holes[number + 1..]);
        others.filter_map(move |ring| {
            let there = hole.iter().filter_map(move |&corner| to_ring(corner, ring));
            let back = ring.iter().filter_map(move |&corner| to_ring(corner, hole));
            there.chain(back).min()
        })
    });
    round_webs.chain(hole_webs).min()
}

fn square(round: &Round) -> Rect {
    let Point { x, y } = round.centre;
    Rect { left: x, bottom: y, right: x, top: y }.grown(round.diameter - round.diameter.half())
}
