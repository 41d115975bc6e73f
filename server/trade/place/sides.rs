//! Which sides of a piece must be factory edges, and where a cut edge shows.
//!
//! A side needs the factory edge when it lies on the tile's own side and a grout joint with tile beyond it, or a
//! bare edge, lies across; and when the piece is as long as the tile, which leaves no choice. A cut edge at a bare
//! edge gets the factory edge instead when the side opposite does not need it: the piece is then cut from the
//! tile's other end. When it does, the joint keeps the factory edge and the cut one shows.

use crate::geometry::polygon;
use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::Length;

use super::Slot;
use super::region::{Against, Blocker, Form, Part, Region};

/// What [`kept`] finds.
pub(super) struct Kept {
    /// Where the whole tile is thought to lie.
    pub cell: Rect,
    pub factory: Sides,
    pub shows: Sides,
}

/// A stretch along a side, by its ends.
type Stretch = (Length, Length);

/// The sides of a piece that is not a whole tile.
pub(super) fn kept(region: &Region<'_>, slot: &Slot<'_>, part: &Part, blockers: &[Blocker]) -> Kept {
    let bounds = part.shape.bounds();
    let needed: Sides =
        Side::ALL.into_iter().filter(|&side| needs_factory(region, slot, part, blockers, side)).collect();
    let at_bare = exposed(&part.shape.outline, blockers, |side, at| at == bounds.at(side));
    let sloped = |side: Side| {
        let lies_at = |b: &Blocker| b.against == Against::Edge(side) && matches!(b.form, Form::Slope(..));
        blockers.iter().any(lies_at)
    };
    let mut kept = Kept { cell: slot.cell, factory: needed, shows: Sides::NONE };
    for pair in [(Side::Left, Side::Right), (Side::Bottom, Side::Top)] {
        if let Some(side) = moved_to(pair, &bounds, &slot.cell, needed, at_bare, sloped) {
            kept.cell = moved(&kept.cell, side, bounds.at(side));
            if at_bare.has(side) {
                kept.factory = kept.factory.with(side);
            }
        }
    }
    kept.shows = exposed(&part.shape.outline, blockers, |side, at| at != kept.cell.at(side));
    if part.rounds.iter().any(|round| round.bare) || holes_are_bare(part, blockers) {
        kept.shows = Sides::ALL;
    }
    kept
}

/// The side of the piece to which the tile is moved, if it is: to a bare edge first, else where both sides are
/// cut, so that one cut does.
fn moved_to(
    (low, high): (Side, Side),
    bounds: &Rect,
    cell: &Rect,
    needed: Sides,
    at_bare: Sides,
    sloped: impl Fn(Side) -> bool,
) -> Option<Side> {
    let cut = |side: Side| bounds.at(side) != cell.at(side);
    if cut(low) && at_bare.has(low) && !needed.has(high) {
        Some(low)
    } else if cut(high) && at_bare.has(high) && !needed.has(low) {
        Some(high)
    } else if cut(low) && cut(high) {
        Some(if sloped(low) && !sloped(high) { high } else { low })
    } else {
        None
    }
}

fn moved(cell: &Rect, side: Side, to: Length) -> Rect {
    let by = to - cell.at(side);
    match side {
        Side::Left | Side::Right => cell.moved(by, Length::ZERO),
        Side::Bottom | Side::Top => cell.moved(Length::ZERO, by),
    }
}

fn needs_factory(
    region: &Region<'_>,
    slot: &Slot<'_>,
    part: &Part,
    blockers: &[Blocker],
    side: Side,
) -> bool {
    let (cell, bounds) = (&slot.cell, part.shape.bounds());
    let on_side = stretches(&part.shape.outline, side, cell.at(side));
    if on_side.is_empty() {
        return false;
    }
    let as_long_as_the_tile =
        bounds.at(side.opposite()) == cell.at(side.opposite()) && bounds.at(side) == cell.at(side);
    let borders_bare =
        exposed(&part.shape.outline, blockers, |faced, at| faced == side && at == cell.at(side));
    as_long_as_the_tile || !borders_bare.is_empty() || {
        let across = Across::new(region, slot, blockers, side);
        on_side.into_iter().any(|stretch| across.needs_factory(stretch))
    }
}

/// The line just over a joint away from one side of a tile, and what blocks it.
struct Across {
    /// `None` where no course follows.
    blocked: Option<Vec<(Stretch, bool)>>,
    bare_edge: bool,
}

impl Across {
    fn new(region: &Region<'_>, slot: &Slot<'_>, own: &[Blocker], side: Side) -> Self {
        let unit = Length::from_units(1);
        let pitch = slot.size.width + slot.joint;
        let beside = |by: Length| region.blockers(&slot.cell.moved(by, Length::ZERO));
        let upright = |blockers: &[Blocker], x: Length| -> Vec<(Stretch, bool)> {
            blockers.iter().filter_map(|b| Some((b.form.blocked_at_x(x)?, b.bare))).collect()
        };
        let level = |y: Length| -> Vec<(Stretch, bool)> {
            own.iter().filter_map(|b| Some((b.form.blocked_at_y(y)?, b.bare))).collect()
        };
        let blocked = match side {
            Side::Left => Some(upright(&beside(-pitch), slot.cell.left - slot.joint - unit)),
            Side::Right => Some(upright(&beside(pitch), slot.cell.right + slot.joint + unit)),
            Side::Bottom => slot.below.map(|top| level(top - unit)),
            Side::Top => slot.above.map(|bottom| level(bottom + unit)),
        };
        let bare_edge = region.is_bare_beyond(side);
        let just_beyond = || match side {
            Side::Bottom => level(slot.cell.bottom - slot.joint - unit),
            Side::Left | Side::Right | Side::Top => level(slot.cell.top + slot.joint + unit),
        };
        let blocked = blocked.or_else(|| bare_edge.is_none().then(just_beyond));
        Self { blocked, bare_edge: bare_edge.unwrap_or(false) }
    }

    fn needs_factory(&self, (from, to): Stretch) -> bool {
        let Some(blocked) = &self.blocked else { return self.bare_edge };
        let met = |&&((low, high), _): &&(Stretch, bool)| low < to && from < high;
        let at_bare = blocked.iter().filter(met).any(|&(_, bare)| bare);
        let mut reached = from;
        let mut in_order: Vec<Stretch> = blocked.iter().filter(met).map(|&(stretch, _)| stretch).collect();
        in_order.sort();
        for (low, high) in in_order {
            if low > reached {
                break;
            }
            reached = reached.max(high);
        }
        at_bare || reached < to
    }
}

/// The stretches of an outline that lie on the line of one side and face outward there.
fn stretches(outline: &[Point], side: Side, at: Length) -> Vec<Stretch> {
    polygon::edges(outline)
        .filter(|&(a, b)| faces(a, b) == side)
        .filter_map(|(a, b)| match side {
            Side::Left | Side::Right => (a.x == at && b.x == at).then(|| (a.y.min(b.y), a.y.max(b.y))),
            Side::Bottom | Side::Top => (a.y == at && b.y == at).then(|| (a.x.min(b.x), a.x.max(b.x))),
        })
        .collect()
}

/// The side that an edge of a counter-clockwise outline looks to, the nearer one when it is slanted.
fn faces(from: Point, to: Point) -> Side {
    let (right, up) = (to.x - from.x, to.y - from.y);
    if up.abs() > right.abs() {
        if up > Length::ZERO { Side::Right } else { Side::Left }
    } else if right > Length::ZERO {
        Side::Bottom
    } else {
        Side::Top
    }
}

/// The sides that edges of an outline against something bare look to, among those that `counts` lets through by
/// their side and the place of their first end.
fn exposed(outline: &[Point], blockers: &[Blocker], counts: impl Fn(Side, Length) -> bool) -> Sides {
    let bare: Vec<&Blocker> = blockers.iter().filter(|blocker| blocker.bare).collect();
    let exposed = polygon::edges(outline).filter_map(|(a, b)| {
        let side = faces(a, b);
        let place = match side {
            Side::Left | Side::Right => a.x,
            Side::Bottom | Side::Top => a.y,
        };
        let slanted = a.x != b.x && a.y != b.y;
        let counted = if slanted { counts(side, FAR_OFF) } else { counts(side, place) };
        (counted && bare.iter().any(|blocker| lies_on(a, b, &blocker.form))).then_some(side)
    });
    exposed.collect()
}

/// A place that no side of a tile has: a slanted edge lies on none.
const FAR_OFF: Length = Length::from_units(i64::MAX);

/// Whether an edge of a piece lies on the border of a blocker; where the border is slanted, within two units.
fn lies_on(a: Point, b: Point, form: &Form) -> bool {
    let meet = |a0: Length, a1: Length, low: Length, high: Length| a0.min(a1) < high && low < a0.max(a1);
    let two = Length::from_units(2);
    match form {
        Form::Rect(rect) => {
            let upright = a.x == b.x && (a.x == rect.left || a.x == rect.right);
            let level = a.y == b.y && (a.y == rect.bottom || a.y == rect.top);
            (upright && meet(a.y, b.y, rect.bottom, rect.top))
                || (level && meet(a.x, b.x, rect.left, rect.right))
        }
        Form::Beyond(side, rect) => {
            let at = rect.at(*side);
            match side {
                Side::Left | Side::Right => a.x == at && b.x == at && meet(a.y, b.y, rect.bottom, rect.top),
                Side::Bottom | Side::Top => a.y == at && b.y == at && meet(a.x, b.x, rect.left, rect.right),
            }
        }
        Form::Slope(from, to) => {
            let near = |point: Point| {
                let y = polygon::height_at(*from, *to, point.x);
                (point.y - y).abs() <= two
            };
            a.x != b.x && near(a) && near(b)
        }
        Form::Round(round) => polygon::edges(&round.polygon).any(|(c, d)| {
            let near = |point| polygon::point_closer_than(c, d, point, two);
            near(a) && near(b)
        }),
    }
}

fn holes_are_bare(part: &Part, blockers: &[Blocker]) -> bool {
    part.shape.holes.iter().any(|hole| !exposed(hole, blockers, |_, _| true).is_empty())
}
