//! Faults in a surface's pieces, found from the rules alone: nothing here calls the code that places them.
//!
//! Edges and joints are compared exactly, with one unit allowed where something was rounded; coverage and marks
//! are probed at points: a lattice over every tile, and close to every corner.

mod ground;

use std::collections::BTreeMap;

use thiserror::Error;

use crate::course::Course;
use crate::geometry::polygon::{self, Where};
use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::{Job, Layout, Length, Surface};

use super::{Hole, Limits, Mark, Measured, Piece, PieceId, SMALLEST_PIECE};
use ground::{Ground, Slot};

/// What is wrong with a surface's pieces.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Fault {
    /// Labels are read off tape: they must differ.
    #[error("two pieces are called {}", .0.0)]
    SameLabel(PieceId),
    /// The outline crosses itself, runs clockwise, or is not what the bounds say.
    #[error("the outline of {} is not a sound shape", .0.0)]
    Outline(PieceId),
    /// No course, or no tile of the pattern, has room for the piece.
    #[error("{} does not lie in one tile of the pattern", .0.0)]
    OffPattern(PieceId),
    /// The whole tile it is cut from has the wrong size or does not reach round it.
    #[error("{} is not cut from one whole tile", .0.0)]
    NotOfOneTile(PieceId),
    /// Strips at most a joint wide count as joint, and nobody cuts less than 1 mm.
    #[error("{} is too small to be a piece", .0.0)]
    TooSmall(PieceId),
    /// It crosses the gap at an edge of the surface.
    #[error("{} comes too near to the {} edge", .0.0, .1.name())]
    OverEdge(PieceId, Side),
    /// It enters an opening or its clearance.
    #[error("{} reaches into the opening \"{}\"", .0.0, .1)]
    InOpening(PieceId, String),
    /// Two pieces lie over each other.
    #[error("{} and {} overlap", .0.0, .1.0)]
    Overlap(PieceId, PieceId),
    /// Two pieces are nearer to each other than the joint.
    #[error("the joint between {} and {} is too narrow", .0.0, .1.0)]
    NarrowJoint(PieceId, PieceId),
    /// Tile belongs here and there is none.
    #[error("nothing covers the place {0:?}")]
    Uncovered(Point),
    /// A side said to be a factory edge is cut.
    #[error("the {} side of {} is no factory edge", .1.name(), .0.0)]
    NoFactoryEdge(PieceId, Side),
    /// A grout joint or a bare edge shows a side that is not kept.
    #[error("the {} side of {} needs its factory edge", .1.name(), .0.0)]
    FactoryEdgeNeeded(PieceId, Side),
    /// A cut edge shows at a bare edge, and the piece does not say so, or the side opposite could be cut instead.
    #[error("a cut edge of {} shows on the {} side", .0.0, .1.name())]
    CutShows(PieceId, Side),
    /// The piece says that a cut edge shows where none does.
    #[error("no cut edge of {} shows on the {} side", .0.0, .1.name())]
    NothingShows(PieceId, Side),
    /// Whole tiles, and only they, are called full, and are not marked.
    #[error("{} is wrong about being a whole tile", .0.0)]
    Full(PieceId),
    /// Cutting a whole tile by the marks gives something else.
    #[error("the marks of {} do not give the piece at {:?}", .0.0, .1)]
    Marks(PieceId, Point),
}

/// Every fault found; none means that the pieces keep the rules.
pub fn check(
    job: &Job,
    surface: &Surface,
    courses: &[Course],
    layout: &Layout,
    limits: &dyn Limits,
    pieces: &[Piece],
) -> Vec<Fault> {
    check_measured(job, surface, courses, layout, limits, pieces, &Measured::new())
}

/// The same where the tape found some pieces' room to be another than planned: they are held against what was found.
pub fn check_measured(
    job: &Job,
    surface: &Surface,
    courses: &[Course],
    layout: &Layout,
    limits: &dyn Limits,
    pieces: &[Piece],
    measured: &Measured,
) -> Vec<Fault> {
    let everywhere = Ground::new(job, surface, courses, layout, limits);
    let mut faults = labels(pieces);
    let mut placed: Vec<(&Piece, Slot<'_>)> = Vec::with_capacity(pieces.len());
    let mut found: BTreeMap<&PieceId, Ground<'_>> = BTreeMap::new();
    for piece in pieces {
        faults.extend(sound(piece));
        match everywhere.slot_of(piece) {
            Some(slot) => placed.push((piece, slot)),
            None => faults.push(Fault::OffPattern(piece.id.clone())),
        }
        if let Some(size) = measured.get(&piece.id) {
            found.insert(&piece.id, everywhere.as_found(size));
        }
    }
    let ground_of = |piece: &Piece| found.get(&piece.id).unwrap_or(&everywhere);
    for (number, (piece, slot)) in placed.iter().enumerate() {
        let ground = ground_of(piece);
        faults.extend(of_one_tile(ground, slot, piece));
        faults.extend(within_region(ground, slot, piece));
        faults.extend(edges(ground, piece));
        faults.extend(marks(ground, slot, piece, pieces));
        for other in &placed[number + 1..] {
            faults.extend(joint(&everywhere, (piece, slot), (other.0, &other.1)));
        }
    }
    let ground_in = |slot: &Slot<'_>| {
        let measured = placed.iter().filter(|(_, of)| of.cell == slot.cell);
        measured.filter_map(|(piece, _)| found.get(&piece.id)).next().unwrap_or(&everywhere)
    };
    faults.extend(coverage(&everywhere, ground_in, pieces));
    faults
}

fn labels(pieces: &[Piece]) -> Vec<Fault> {
    let mut ids: Vec<&PieceId> = pieces.iter().map(|piece| &piece.id).collect();
    ids.sort();
    ids.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| Fault::SameLabel(pair[0].clone())).collect()
}

fn sound(piece: &Piece) -> Option<Fault> {
    let rings_inside = piece.holes.iter().all(|hole| match hole {
        Hole::Polygon(corners) => polygon::is_simple(corners) && polygon::is_inside(corners, &piece.outline),
        Hole::Round { centre, diameter } => {
            polygon::locate(&piece.outline, *centre) == Where::Inside
                && polygon::edges(&piece.outline)
                    .all(|(a, b)| !polygon::point_closer_than(a, b, *centre, diameter.half()))
        }
    });
    let sound = polygon::is_simple(&piece.outline)
        && polygon::area_doubled(&piece.outline) > 0
        && polygon::bounds(&piece.outline) == piece.bounds
        && rings_inside;
    (!sound).then(|| Fault::Outline(piece.id.clone()))
}

fn of_one_tile(ground: &Ground<'_>, slot: &Slot<'_>, piece: &Piece) -> Vec<Fault> {
    let mut faults = Vec::new();
    let same_size = piece.cell.width() == slot.cell.width() && piece.cell.height() == slot.cell.height();
    if !same_size || !piece.cell.holds(&piece.bounds) {
        faults.push(Fault::NotOfOneTile(piece.id.clone()));
    }
    let least = piece.bounds.width().min(piece.bounds.height());
    if least <= ground.joint || least < SMALLEST_PIECE {
        faults.push(Fault::TooSmall(piece.id.clone()));
    }
    let whole = piece.holes.is_empty() && polygon::tidy(&piece.outline) == slot.cell.corners();
    let says_so =
        piece.full && piece.marks.is_empty() && piece.factory == Sides::ALL && piece.cell == slot.cell;
    if whole != piece.full || (whole && !says_so) || (!whole && piece.marks.is_empty()) {
        faults.push(Fault::Full(piece.id.clone()));
    }
    faults
}

fn within_region(ground: &Ground<'_>, slot: &Slot<'_>, piece: &Piece) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut edge = |side: Side| faults.push(Fault::OverEdge(piece.id.clone(), side));
    if piece.bounds.left < ground.left {
        edge(Side::Left);
    }
    if piece.bounds.right > ground.right {
        edge(Side::Right);
    }
    for (side, limit) in ground.limits_of(slot) {
        let crosses = |(a, b)| limit.is_crossed(side, a, b);
        if polygon::edges(&piece.outline).any(crosses) {
            edge(side);
        }
    }
    if let Some(side) = ground.side_crossed(piece) {
        faults.push(Fault::OverEdge(piece.id.clone(), side));
    }
    let entered = ground.openings.iter().filter(|opening| opening.is_entered_by(piece));
    faults.extend(entered.map(|opening| Fault::InOpening(piece.id.clone(), opening.name.to_owned())));
    faults
}

/// Two pieces of different tiles keep the joint, or what their bands say of it; two of one tile only must not
/// overlap.
fn joint(
    ground: &Ground<'_>,
    (one, here): (&Piece, &Slot<'_>),
    (other, there): (&Piece, &Slot<'_>),
) -> Vec<Fault> {
    let unit = Length::from_units(1);
    if !one.bounds.grown(ground.widest_joint() + unit * 2).overlaps(&other.bounds) {
        return Vec::new();
    }
    let wanted = ground.joint_between(here.course, there.course);
    if polygon::overlap(&one.outline, &other.outline) {
        return vec![Fault::Overlap(one.id.clone(), other.id.clone())];
    }
    if here.cell == there.cell {
        return Vec::new();
    }
    let near = polygon::edges(&one.outline).any(|(a, b)| {
        polygon::edges(&other.outline).any(|(c, d)| polygon::closer_than(a, b, c, d, wanted - unit))
    });
    let narrow = near.then(|| Fault::NarrowJoint(one.id.clone(), other.id.clone()));
    narrow
        .into_iter()
        .chain(shown_in_joint(one, other, wanted))
        .chain(shown_in_joint(other, one, wanted))
        .collect()
}

/// The sides of `piece` that the joint towards `other` shows without a factory edge.
fn shown_in_joint(piece: &Piece, other: &Piece, joint: Length) -> Vec<Fault> {
    let across = joint + Length::from_units(2);
    let shown = polygon::edges(&piece.outline).filter_map(|(a, b)| {
        let side = square_side(a, b)?;
        let room = stretch_out(&polygon::bounds(&[a, b]), side, across);
        let met = polygon::edges(&other.outline).any(|(c, d)| {
            square_side(c, d) == Some(side.opposite())
                && shares_stretch(&room, &polygon::bounds(&[c, d]), side)
        });
        let kept = piece.factory.has(side) && place(a, side) == piece.cell.at(side);
        (met && !kept).then(|| Fault::FactoryEdgeNeeded(piece.id.clone(), side))
    });
    shown.take(1).collect()
}

/// The side that an upright or level edge of a counter-clockwise outline faces; a slanted one faces none.
fn square_side(a: Point, b: Point) -> Option<Side> {
    match (a.x == b.x, a.y == b.y) {
        (true, false) => Some(if b.y > a.y { Side::Right } else { Side::Left }),
        (false, true) => Some(if b.x > a.x { Side::Bottom } else { Side::Top }),
        (true, true) | (false, false) => None,
    }
}

fn place(point: Point, side: Side) -> Length {
    match side {
        Side::Left | Side::Right => point.x,
        Side::Bottom | Side::Top => point.y,
    }
}

fn stretch_out(rect: &Rect, side: Side, by: Length) -> Rect {
    match side {
        Side::Left => Rect { left: rect.left - by, ..*rect },
        Side::Right => Rect { right: rect.right + by, ..*rect },
        Side::Bottom => Rect { bottom: rect.bottom - by, ..*rect },
        Side::Top => Rect { top: rect.top + by, ..*rect },
    }
}

/// Whether an edge, as a flat rectangle, lies in `room` along more than a point.
fn shares_stretch(room: &Rect, edge: &Rect, side: Side) -> bool {
    let shared = room.shared(edge);
    match side {
        Side::Left | Side::Right => shared.bottom < shared.top && shared.left <= shared.right,
        Side::Bottom | Side::Top => shared.left < shared.right && shared.bottom <= shared.top,
    }
}

/// Factory sides are the tile's own, and what a bare edge shows is kept or said to show.
fn edges(ground: &Ground<'_>, piece: &Piece) -> Vec<Fault> {
    let mut faults = Vec::new();
    for side in piece.factory.iter().filter(|&side| piece.bounds.at(side) != piece.cell.at(side)) {
        faults.push(Fault::NoFactoryEdge(piece.id.clone(), side));
    }
    let mut cut_at_bare = Sides::NONE;
    for (a, b) in polygon::edges(&piece.outline).filter(|&(a, b)| ground.is_bare(a, b)) {
        let side = mostly_faces(a, b);
        let own = square_side(a, b).is_some() && place(a, side) == piece.cell.at(side);
        if own && !piece.factory.has(side) && !ground::is_short(a, b) {
            faults.push(Fault::FactoryEdgeNeeded(piece.id.clone(), side));
        }
        if !own {
            cut_at_bare = cut_at_bare.with(side);
            let avoidable = square_side(a, b).is_some()
                && place(a, side) == piece.bounds.at(side)
                && !piece.factory.has(side.opposite());
            if (avoidable || !piece.shows.has(side)) && !ground::is_short(a, b) {
                faults.push(Fault::CutShows(piece.id.clone(), side));
            }
        }
    }
    let bare_hole = piece.holes.iter().any(|hole| match hole {
        Hole::Round { centre, diameter } => ground.is_bare_round(*centre, *diameter),
        Hole::Polygon(corners) => polygon::edges(corners).any(|(a, b)| ground.is_bare(a, b)),
    });
    if bare_hole {
        cut_at_bare = Sides::ALL;
    }
    if !piece.shows.has_all(cut_at_bare) && bare_hole {
        faults.push(Fault::CutShows(piece.id.clone(), Side::Left));
    }
    let empty = piece.shows.iter().filter(|&side| !cut_at_bare.has(side));
    faults.extend(empty.map(|side| Fault::NothingShows(piece.id.clone(), side)));
    faults
}

fn mostly_faces(a: Point, b: Point) -> Side {
    let (right, up) = (b.x - a.x, b.y - a.y);
    let upright = if up > Length::ZERO { Side::Right } else { Side::Left };
    let level = if right > Length::ZERO { Side::Bottom } else { Side::Top };
    if up.abs() > right.abs() { upright } else { level }
}

/// Cuts a whole tile by the marks and compares with the piece, at a lattice and near every corner. What the marks
/// leave beside the piece must be another part of the same tile, or too thin to be one.
fn marks(ground: &Ground<'_>, slot: &Slot<'_>, piece: &Piece, all: &[Piece]) -> Option<Fault> {
    let near = Length::from_units(4);
    let mut probes = lattice(&piece.cell, 12);
    probes.extend(piece.outline.iter().flat_map(|&corner| around(corner, near * 3)));
    let wrong = probes.into_iter().filter(|&p| !ground::is_near_border(piece, p, near)).find(|&p| {
        match (keeps(piece, p), ground::has(piece, p)) {
            (true, false) => {
                let elsewhere = all.iter().any(|other| ground::has(other, p));
                !elsewhere && ground.wants_tile(slot, p) && !ground.is_thin(slot, p)
            }
            (false, true) => true,
            (true, true) | (false, false) => false,
        }
    });
    wrong.map(|point| Fault::Marks(piece.id.clone(), point))
}

/// Whether a place on the whole tile is still there when all marks have been cut.
fn keeps(piece: &Piece, p: Point) -> bool {
    let cell = &piece.cell;
    let from_side = |side: Side, by: Length| match side {
        Side::Left | Side::Bottom => cell.at(side) + by,
        Side::Right | Side::Top => cell.at(side) - by,
    };
    let inside_cell = Rect { left: p.x, right: p.x, bottom: p.y, top: p.y };
    cell.holds(&inside_cell)
        && piece.marks.iter().all(|mark| match *mark {
            Mark::Crosscut { from, at, at_other_end } => {
                let low = Point::new(piece.bounds.bottom, from_side(from, at));
                let high = Point::new(piece.bounds.top, from_side(from, at_other_end));
                let x = polygon::height_at(low, high, p.y);
                if from == Side::Left { p.x < x } else { p.x > x }
            }
            Mark::Rip { from, at, at_other_end } => {
                let left = Point::new(piece.bounds.left, from_side(from, at));
                let right = Point::new(piece.bounds.right, from_side(from, at_other_end));
                let y = polygon::height_at(left, right, p.x);
                if from == Side::Bottom { p.y < y } else { p.y > y }
            }
            Mark::Notch { from, x, y, width, height } => {
                let (x0, x1) = (from_side(from.0, x), from_side(from.0, x + width));
                let (y0, y1) = (from_side(from.1, y), from_side(from.1, y + height));
                let across = x0.min(x1) < p.x && p.x < x0.max(x1);
                !(across && y0.min(y1) < p.y && p.y < y0.max(y1))
            }
            Mark::Hole { from, x, y, diameter } => {
                let centre = Point::new(from_side(from.0, x), from_side(from.1, y));
                !ground::in_circle(centre, diameter, p)
            }
        })
}

/// Every place where tile belongs is in a piece, or in a part too thin to be one.
fn coverage<'g, 'a: 'g>(
    everywhere: &Ground<'_>,
    ground_in: impl Fn(&Slot<'_>) -> &'g Ground<'a>,
    pieces: &[Piece],
) -> Vec<Fault> {
    let unit = Length::from_units(1);
    let mut faults = Vec::new();
    for slot in everywhere.slots() {
        let ground = ground_in(&slot);
        let mut probes = lattice(&slot.cell, 10);
        let close = [unit * 12, Length::mm(2)];
        let corners = ground.corners();
        probes.extend(corners.flat_map(|corner| close.into_iter().flat_map(move |by| around(corner, by))));
        let of_course: Vec<&Piece> =
            pieces.iter().filter(|piece| piece.bounds.overlaps(&slot.cell)).collect();
        let bare_place = probes.into_iter().find(|&p| {
            ground.wants_tile(&slot, p)
                && !of_course.iter().any(|piece| ground::has(piece, p))
                && !of_course.iter().any(|piece| ground::is_near_border(piece, p, unit * 4))
                && !ground.is_thin(&slot, p)
        });
        faults.extend(bare_place.map(Fault::Uncovered));
    }
    faults
}

/// Points evenly over a rectangle, none on its border.
fn lattice(rect: &Rect, count: i64) -> Vec<Point> {
    let along = |low: Length, size: Length, i: i64| {
        Length::from_units(low.units() + size.units() * (2 * i + 1) / (2 * count))
    };
    (0..count)
        .flat_map(|i| (0..count).map(move |j| (i, j)))
        .map(|(i, j)| Point::new(along(rect.left, rect.width(), i), along(rect.bottom, rect.height(), j)))
        .collect()
}

/// Eight points round a point.
fn around(centre: Point, by: Length) -> impl Iterator<Item = Point> {
    let steps = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)];
    steps.into_iter().map(move |(right, up)| Point::new(centre.x + by * right, centre.y + by * up))
}
