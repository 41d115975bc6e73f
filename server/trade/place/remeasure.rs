//! Pieces measured again where they go, because the room for them is not what the plan took it for.
//!
//! The tape reads the clear opening: from the tile beside to the wall, niche or base that the piece ends at. The joint
//! and the gap are taken off it here. What was found is kept as a [`Shift`]: how far off its place in the plan the
//! thing stands that the piece is cut to. It moves that cut side alone; the sides that are the tile's own stay, and
//! with them the place of notches and holes. The piece then comes out of the same steps as every other.
//!
//! Absent: surfaces given by their outline, sides that a circle cuts, and a taper's change of slope.

use std::collections::{BTreeMap, BTreeSet};

use super::region::{Against, Blocker, Form, Region, parts};
use super::{Found, Limits, Mark, Piece, PieceId, Slot, no_piece, slots};
use crate::course::Course;
use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::{Job, Layout, Length, OpeningShape, Role, Surface};

/// How far farther out than planned the stop at one side of a piece stands; nearer where it is negative.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Shift {
    /// The cut side that ends there.
    pub side: Side,
    /// How far.
    pub by: Length,
}

/// What the tape found of one piece. It holds only for the piece that was planned there.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TrueSize {
    /// The piece's bounds as planned.
    pub planned: Rect,
    /// One for each side measured.
    pub shifts: Vec<Shift>,
}

/// What the tape found, by piece.
pub type Measured = BTreeMap<PieceId, TrueSize>;

/// Which way the tape lies.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Way {
    /// Along the course: a width.
    Across,
    /// A height.
    Up,
}

/// What an opening ends at, and what is kept free there.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Stop {
    /// The tile beside, a joint away.
    Tile(Length),
    /// An edge of the surface, with its gap.
    Edge(Role, Length),
    /// A niche, window or pipe of that name, with its clearance.
    Opening(String, Length),
}

/// The clear opening for a piece, one way.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Clear {
    /// Which way.
    pub way: Way,
    /// The side of the piece that is cut.
    pub side: Side,
    /// At its left, or at its foot.
    pub low: Stop,
    /// At its right, or at its head.
    pub high: Stop,
    /// The piece as it is to be cut now.
    pub size: Length,
    /// Where the cut tapers, the end at which the piece is longest.
    pub longest: Option<Side>,
}

/// How far what was found goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reach {
    /// This piece.
    Piece,
    /// The others of its course that end at the same thing.
    Course,
    /// Those of the courses above it that end at the same thing.
    Above,
}

/// What the tape read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Reading {
    /// Which way.
    pub way: Way,
    /// The clear opening.
    pub opening: Length,
    /// For which pieces.
    pub reach: Reach,
}

/// One piece with its new size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refit {
    /// What was found of it now, without what was found before.
    pub size: TrueSize,
    /// The piece as it is to be cut.
    pub piece: Piece,
}

/// Why a piece cannot be cut to what the tape read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoFit {
    /// The plan does not cut the piece that way.
    NotCut(Way),
    /// Once joint and gap are off, too little is left to cut.
    NothingLeft { piece: PieceId, way: Way, left: Length },
    /// No tile is as large.
    LargerThanTile { piece: PieceId, way: Way, wanted: Length, tile: Length },
    /// The tile is large enough, but the pattern has its next joint there.
    PastJoint { piece: PieceId, way: Way, by: Length },
    /// What is left is not one piece, or not of the same tile.
    FallsApart(PieceId),
}

/// The pieces of one surface as planned, and what was found of them before.
#[derive(Clone, Copy)]
pub struct Wall<'a> {
    /// The job.
    pub job: &'a Job,
    /// The surface.
    pub surface: &'a Surface,
    /// Its courses from the bottom up.
    pub courses: &'a [Course],
    /// The layout.
    pub layout: &'a Layout,
    /// How far down and up tile may go.
    pub limits: &'a dyn Limits,
    /// The surface's pieces as they were planned before anything was measured.
    pub planned: &'a [Piece],
    /// What holds already.
    pub before: &'a Measured,
    /// What is cut or hangs already: it stays as it is, whatever is found of another piece.
    pub done: &'a BTreeSet<PieceId>,
}

impl Way {
    /// The way in which that side of a piece moves.
    pub const fn of(side: Side) -> Self {
        match side {
            Side::Left | Side::Right => Self::Across,
            Side::Bottom | Side::Top => Self::Up,
        }
    }

    /// The size of a rectangle that way.
    pub fn size(self, rect: &Rect) -> Length {
        match self {
            Self::Across => rect.width(),
            Self::Up => rect.height(),
        }
    }

    const fn sides(self) -> (Side, Side) {
        match self {
            Self::Across => (Side::Left, Side::Right),
            Self::Up => (Side::Bottom, Side::Top),
        }
    }
}

impl Stop {
    /// What is taken off the opening there.
    pub const fn kept_free(&self) -> Length {
        match self {
            Self::Tile(free) | Self::Edge(_, free) | Self::Opening(_, free) => *free,
        }
    }
}

impl Clear {
    /// What the tape would read if the plan were right.
    pub fn opening(&self) -> Length {
        self.size + self.kept_free()
    }

    /// The sides of the piece that the tape lies between.
    pub const fn way_sides(&self) -> (Side, Side) {
        self.way.sides()
    }

    /// What is taken off the tape's reading.
    pub fn kept_free(&self) -> Length {
        self.low.kept_free() + self.high.kept_free()
    }
}

impl TrueSize {
    /// How far off the plan the stop at that side was found.
    pub fn by(&self, side: Side) -> Length {
        self.shifts.iter().find(|shift| shift.side == side).map_or(Length::ZERO, |shift| shift.by)
    }

    /// The same with what was found before of a piece planned like this, side by side.
    #[must_use]
    pub fn after(&self, before: Option<&Self>) -> Self {
        let before = before.filter(|before| before.planned == self.planned);
        let before = before.into_iter().flat_map(|before| &before.shifts);
        let still = before.filter(|shift| self.shifts.iter().all(|later| later.side != shift.side));
        Self { planned: self.planned, shifts: still.chain(&self.shifts).copied().collect() }
    }
}

/// The sides of a piece that a saw cuts right across.
pub fn cut_sides(piece: &Piece) -> Sides {
    let sawn = |mark: &Mark| match mark {
        Mark::Crosscut { from, .. } | Mark::Rip { from, .. } => Some(from.opposite()),
        Mark::Notch { .. } | Mark::Hole { .. } => None,
    };
    piece.marks.iter().filter_map(sawn).collect()
}

impl Wall<'_> {
    /// What a tape can read of a piece: nothing that way where the piece is as long as its tile.
    pub fn clear(&self, piece: &PieceId) -> Vec<Clear> {
        let Some(planned) = self.piece(piece) else { return Vec::new() };
        [Way::Across, Way::Up].into_iter().filter_map(|way| self.clear_of(planned, way)).collect()
    }

    /// The open pieces that end at the same thing as this one, in setting order and without it. Of whole tiles only those
    /// that are in the way of a stop `by` farther out.
    pub fn alike(&self, piece: &PieceId, way: Way, reach: Reach, by: Length) -> Vec<&Piece> {
        let found = self.piece(piece).and_then(|planned| Some((planned, self.clear_of(planned, way)?)));
        let Some((planned, clear)) = found else { return Vec::new() };
        let side = clear.side;
        let stop = self.stop(planned, side);
        let in_reach = |other: &&Piece| match (reach, way) {
            (Reach::Piece, _) | (Reach::Course, Way::Across) | (Reach::Above, Way::Up) => false,
            (Reach::Course, Way::Up) => (other.course, other.band) == (planned.course, planned.band),
            (Reach::Above, Way::Across) => other.bounds.bottom >= planned.bounds.top,
        };
        let line = planned.bounds.at(side);
        let moved = outward(line, side, by);
        let is_in_the_way = |other: &Piece| {
            way == Way::Across && by < Length::ZERO && is_beyond(other.bounds.at(side), moved, side)
        };
        let counts = |other: &&Piece| cut_sides(other).has(side) || other.full && is_in_the_way(other);
        let same_stop = |other: &&Piece| self.stop(other, side) == stop;
        let is_open = |other: &&Piece| other.id != planned.id && !self.done.contains(&other.id);
        let others = self.planned.iter().filter(is_open);
        others.filter(in_reach).filter(counts).filter(same_stop).collect()
    }

    /// The new sizes, this piece's first, or every reason against them.
    ///
    /// # Errors
    ///
    /// When one of the pieces cannot be cut to it.
    pub fn refit(&self, piece: &PieceId, readings: &[Reading]) -> Result<Vec<Refit>, Vec<NoFit>> {
        let mut shifts: Vec<(&Piece, Vec<Shift>)> = Vec::new();
        let mut faults = Vec::new();
        for reading in readings {
            let clear =
                self.piece(piece).and_then(|planned| Some((planned, self.clear_of(planned, reading.way)?)));
            let Some((planned, clear)) = clear else {
                faults.push(NoFit::NotCut(reading.way));
                continue;
            };
            let now = self.before.get(piece).map_or(Length::ZERO, |size| size.by(clear.side));
            let shift = Shift { side: clear.side, by: now + reading.opening - clear.opening() };
            let others = self.alike(piece, reading.way, reading.reach, shift.by);
            for each in std::iter::once(planned).chain(others) {
                match shifts.iter_mut().find(|(of, _)| of.id == each.id) {
                    Some((_, known)) => known.push(shift),
                    None => shifts.push((each, vec![shift])),
                }
            }
        }
        let mut refits = Vec::with_capacity(shifts.len());
        for (planned, found) in shifts {
            let size = TrueSize { planned: planned.bounds, shifts: found };
            match self.fitted(planned, &size.after(self.before.get(&planned.id))) {
                Ok(piece) => refits.push(Refit { size, piece }),
                Err(fault) => faults.push(fault),
            }
        }
        if faults.is_empty() { Ok(refits) } else { Err(faults) }
    }

    /// A planned piece as it is to be cut to what the tape found.
    ///
    /// # Errors
    ///
    /// When it cannot be cut to it.
    pub fn fitted(&self, planned: &Piece, size: &TrueSize) -> Result<Piece, NoFit> {
        let joint = self.layout.joint.unwrap_or(self.job.joint);
        let region = Region::new(self.job, self.surface, self.limits, joint);
        let apart = || NoFit::FallsApart(planned.id.clone());
        let slot = slots(self.job, self.surface, self.courses, self.layout, &region)
            .into_iter()
            .find(|slot| is_of(slot, planned))
            .ok_or_else(apart)?;
        for shift in &size.shifts {
            self.has_room(planned, &slot, *shift)?;
        }
        let mut blockers = region.blockers(&slot.cell);
        for shift in &size.shifts {
            move_stop(&mut blockers, &planned.bounds, *shift);
        }
        let whole = parts(&slot.cell, &blockers);
        let of_slot = self.planned.iter().filter(|piece| is_of(&slot, piece)).count();
        let mut left: Vec<_> =
            whole.into_iter().filter(|part| no_piece(&part.shape.bounds(), joint).is_none()).collect();
        if left.len() != of_slot {
            return Err(apart());
        }
        left.retain(|part| part.shape.bounds().overlaps(&planned.bounds));
        let [_] = &left[..] else { return Err(apart()) };
        let Some(part) = left.pop() else { return Err(apart()) };
        let as_wanted = |shift: &Shift| {
            let way = Way::of(shift.side);
            let wanted = way.size(&planned.bounds) + size.by(shift.side) + size.by(shift.side.opposite());
            longest(planned, shift.side).is_some() || way.size(&part.shape.bounds()) == wanted
        };
        if !size.shifts.iter().all(as_wanted) {
            return Err(apart());
        }
        let found = Found {
            job: self.job,
            surface: self.surface,
            region: &region,
            pieces: Vec::new(),
            crumbs: Vec::new(),
        };
        Ok(Piece { id: planned.id.clone(), ..found.piece(&slot, part, &blockers) })
    }

    fn piece(&self, id: &PieceId) -> Option<&Piece> {
        self.planned.iter().find(|piece| piece.id == *id)
    }

    fn clear_of(&self, planned: &Piece, way: Way) -> Option<Clear> {
        if self.surface.outline.is_some() {
            return None;
        }
        let (low, high) = way.sides();
        let cut = cut_sides(planned);
        let side = [high, low].into_iter().find(|side| cut.has(*side))?;
        let by = self.before.get(&planned.id).map_or(Length::ZERO, |size| size.by(side));
        Some(Clear {
            way,
            side,
            low: self.stop(planned, low),
            high: self.stop(planned, high),
            size: way.size(&planned.bounds) + by,
            longest: longest(planned, side),
        })
    }

    /// What lies across a side: an opening that the side ends at, else the nearest tile within a joint, else the
    /// edge of the surface.
    fn stop(&self, piece: &Piece, side: Side) -> Stop {
        let at = piece.bounds.at(side);
        let ends_at =
            |(rect, _): &(Rect, Stop)| rect.at(side.opposite()) == at && is_across(rect, &piece.bounds, side);
        let openings = self.surface.openings.iter().filter_map(|opening| match opening.shape {
            OpeningShape::Rectangle { x, y, width, height } => {
                let rect = Rect { left: x, bottom: y, right: x + width, top: y + height };
                let stop = Stop::Opening(opening.name.clone(), opening.clearance);
                Some((rect.grown(opening.clearance), stop))
            }
            OpeningShape::Circle { .. } => None,
        });
        if let Some((_, stop)) = openings.into_iter().find(ends_at) {
            return stop;
        }
        let away = |other: &Piece| {
            let apart = other.bounds.at(side.opposite()) - at;
            if matches!(side, Side::Left | Side::Bottom) { -apart } else { apart }
        };
        let widest = self.surface.bands.iter().filter_map(|band| band.joint_above);
        let joint = self.layout.joint.unwrap_or(self.job.joint);
        let widest = widest.fold(joint, Length::max) + Length::from_units(2);
        let beside = self.planned.iter().filter(|other| is_across(&other.bounds, &piece.bounds, side));
        let nearest = beside.map(away).filter(|away| *away >= Length::ZERO && *away <= widest).min();
        if let Some(joint) = nearest {
            return Stop::Tile(joint);
        }
        let edges = &self.surface.edges;
        let role = match side {
            Side::Left => edges.left,
            Side::Right => edges.right,
            Side::Bottom => edges.base,
            Side::Top => edges.top,
        };
        // A tile that stands whole on its prop is measured from its foot: what is under it differs along the base.
        let on_prop = side == Side::Bottom && !cut_sides(piece).has(side);
        Stop::Edge(role, if on_prop { Length::ZERO } else { self.job.gaps.at(role) })
    }

    fn has_room(&self, planned: &Piece, slot: &Slot<'_>, shift: Shift) -> Result<(), NoFit> {
        let way = Way::of(shift.side);
        let (piece, tile) = (planned.id.clone(), way.size(&slot.cell));
        let wanted = way.size(&planned.bounds) + shift.by;
        if wanted > tile {
            return Err(NoFit::LargerThanTile { piece, way, wanted, tile });
        }
        let bounds = Rect { left: Length::ZERO, bottom: Length::ZERO, right: wanted, top: wanted };
        if no_piece(&bounds, slot.joint).is_some() {
            return Err(NoFit::NothingLeft { piece, way, left: wanted });
        }
        let end = outward(planned.bounds.at(shift.side), shift.side, shift.by);
        if is_beyond(end, slot.cell.at(shift.side), shift.side) {
            let by = (end - slot.cell.at(shift.side)).abs();
            return Err(NoFit::PastJoint { piece, way, by });
        }
        Ok(())
    }
}

fn is_of(slot: &Slot<'_>, piece: &Piece) -> bool {
    slot.course.number == piece.course && slot.course.band == piece.band && slot.cell.holds(&piece.bounds)
}

/// Whether two rectangles face each other across a side.
fn is_across(one: &Rect, other: &Rect, side: Side) -> bool {
    let shared = one.shared(other);
    match Way::of(side) {
        Way::Across => shared.bottom < shared.top,
        Way::Up => shared.left < shared.right,
    }
}

/// A line moved out from a piece on that side.
fn outward(line: Length, side: Side, by: Length) -> Length {
    match side {
        Side::Left | Side::Bottom => line - by,
        Side::Right | Side::Top => line + by,
    }
}

/// Whether a place lies farther out on that side than a line.
fn is_beyond(place: Length, line: Length, side: Side) -> bool {
    match side {
        Side::Left | Side::Bottom => place < line,
        Side::Right | Side::Top => place > line,
    }
}

/// The end at which a tapered side is farthest out.
fn longest(piece: &Piece, side: Side) -> Option<Side> {
    let tapered = piece.marks.iter().find_map(|mark| match *mark {
        Mark::Rip { from, at, at_other_end } | Mark::Crosscut { from, at, at_other_end }
            if from == side.opposite() && at != at_other_end =>
        {
            Some(at > at_other_end)
        }
        Mark::Rip { .. } | Mark::Crosscut { .. } | Mark::Notch { .. } | Mark::Hole { .. } => None,
    })?;
    let (first, second) = match Way::of(side) {
        Way::Across => (Side::Bottom, Side::Top),
        Way::Up => (Side::Left, Side::Right),
    };
    Some(if tapered { first } else { second })
}

/// Moves what a piece of these bounds ends at on one side: the openings that end there, else the edge.
fn move_stop(blockers: &mut [Blocker], bounds: &Rect, shift: Shift) {
    let Shift { side, by } = shift;
    let faces = side.opposite();
    let is_met = |blocker: &Blocker| match &blocker.form {
        Form::Rect(rect) => rect.at(faces) == bounds.at(side) && is_across(rect, bounds, side),
        Form::Round(_) | Form::Beyond(..) | Form::Slope(..) => false,
    };
    let by_opening = blockers.iter().any(|blocker| blocker.against == Against::Opening && is_met(blocker));
    for blocker in blockers {
        let met = match blocker.against {
            Against::Opening => is_met(blocker),
            Against::Edge(edge) => edge == side && !by_opening,
            Against::Outline => false,
        };
        if met {
            move_form(&mut blocker.form, side, by);
        }
    }
}

fn move_form(form: &mut Form, side: Side, by: Length) {
    match form {
        Form::Rect(rect) => match side {
            Side::Left => rect.right -= by,
            Side::Right => rect.left += by,
            Side::Bottom => rect.top -= by,
            Side::Top => rect.bottom += by,
        },
        Form::Slope(from, to) => {
            let up = if side == Side::Top { by } else { -by };
            for point in [from, to] {
                *point = Point::new(point.x, point.y + up);
            }
        }
        Form::Round(_) | Form::Beyond(..) => {}
    }
}
