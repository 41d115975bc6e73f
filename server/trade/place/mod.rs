//! Tiles laid over a surface, and every piece with the sides it needs and the marks to cut it by.
//!
//! A pattern is a periodic arrangement of tile outlines ([`pattern`]); the region to tile is the surface less its
//! gaps and less its openings with their clearance ([`region`]); a piece is a connected part of an outline within
//! the region. Then each piece learns which sides it must keep ([`sides`]), how it is marked ([`marks`]) and
//! whether it is a sliver ([`sliver`]). What the tape finds in its place later gives a piece its true size
//! ([`remeasure`]). [`check`] finds faults in the answer from the rules alone.
//!
//! Absent: tile outlines that are not upright rectangles, leaning corners, patterns that run on round a corner.

mod check;
mod marks;
mod measure_first;
mod pattern;
mod region;
mod remeasure;
mod sides;
mod sliver;

pub use check::{Fault, check, check_measured};
pub use measure_first::{MeasureFirst, measure_first};
pub use pattern::Arrangement;
pub use remeasure::{
    Clear, Measured, NoFit, Reach, Reading, Refit, Shift, Stop, TrueSize, Wall, Way, cut_sides,
};

use std::collections::BTreeMap;

use crate::course::{Course, CutLine, WallCourses};
use crate::geometry::{Point, Rect, Shape, Side, Sides};
use crate::measure::{Band, Job, Layout, LeastSize, Length, Surface, SurfaceId, TileId};

use region::{Blocker, Part, Region};

/// All that comes of one surface.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Placed {
    /// By course from the bottom, a strip after the course below it, then from left to right.
    pub pieces: Vec<Piece>,
    /// Parts of tiles too small to be pieces.
    pub crumbs: Vec<Crumb>,
}

/// A part of a tile in the region that is no piece.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Crumb {
    /// Its band on the surface, 0 the lowest.
    pub band: usize,
    /// Its course.
    pub course: u32,
    /// Its bounding rectangle.
    pub bounds: Rect,
    /// Why it is no piece.
    pub why: NoPiece,
}

/// Why a part of a tile is no piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NoPiece {
    /// A strip at most one joint wide along an edge: it is filled as joint.
    Joint,
    /// Under [`SMALLEST_PIECE`] wide or high.
    TooSmall,
}

/// Nobody cuts a piece under 1 mm wide or high.
pub const SMALLEST_PIECE: Length = Length::mm(1);

/// How far down and up tile may go, as the courses say.
pub trait Limits {
    /// The lines that the bottom of a tile spanning `x0..x1` is cut to: one after the other from `x0` to `x1`,
    /// and more than one only where a step is too high for a straight cut.
    fn feet(&self, x0: Length, x1: Length) -> Vec<CutLine>;
    /// The same for its top.
    fn heads(&self, x0: Length, x1: Length) -> Vec<CutLine>;
}

impl Limits for WallCourses {
    fn feet(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        Self::feet(self, x0, x1)
    }

    fn heads(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        Self::heads(self, x0, x1)
    }
}

/// The label of a piece: surface, course and place in the course, `A3-2`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PieceId(pub String);

/// A connected part of a tile inside the region to tile, face up as seen on the wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Piece {
    /// Its label.
    pub id: PieceId,
    /// Where it goes.
    pub surface: SurfaceId,
    /// Which tile it is of.
    pub tile: TileId,
    /// Its band on the surface, 0 the lowest.
    pub band: usize,
    /// Its course.
    pub course: u32,
    /// A whole, uncut, undrilled tile.
    pub full: bool,
    /// The room of the whole tile it is cut from. That is the pattern's own, unless the piece needs no side of it
    /// there: then the tile is thought moved along, so that a factory edge comes to lie where one must show, or
    /// one cut does instead of two.
    pub cell: Rect,
    /// Its bounding rectangle.
    pub bounds: Rect,
    /// Counter-clockwise on the surface, first point not repeated.
    pub outline: Vec<Point>,
    /// Holes inside the outline.
    pub holes: Vec<Hole>,
    /// Sides of `bounds` that must be the tile's own edges.
    pub factory: Sides,
    /// Sides where a cut edge shows at a bare edge, because no cut tile has both factory edges needed; all four
    /// when a hole's bare edge shows.
    pub shows: Sides,
    /// How to lay it out on a whole tile.
    pub marks: Vec<Mark>,
    /// Why it is a sliver, if it is one.
    pub sliver: Option<Sliver>,
}

/// A hole inside a piece.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Hole {
    /// Drilled.
    Round { centre: Point, diameter: Length },
    /// Cut out, clockwise or not as the opening is given.
    Polygon(Vec<Point>),
}

/// One thing to mark on the whole tile, measured from its factory edges, face up.
///
/// Of a saw cut the part on the side of `from` is kept. A tapered cut is measured where the piece's own ends come;
/// where it leaves the tile before that, the distance is larger than the tile or negative, to where the straightedge
/// stands beyond it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Mark {
    /// A saw cut across the courses (constant x): the distance kept from side `from`, at the lower end and,
    /// where the cut tapers, at the upper.
    Crosscut { from: Side, at: Length, at_other_end: Length },
    /// A saw cut along the course (constant y): the distance kept from side `from`, at the left end and, where
    /// the cut tapers, at the right.
    Rip { from: Side, at: Length, at_other_end: Length },
    /// A rectangle cut away: its near edges' distances from two factory sides, 0 where it is cut from that side,
    /// and its size. Drill the inside corners first.
    Notch { from: (Side, Side), x: Length, y: Length, width: Length, height: Length },
    /// A round hole, or a bite where it crosses the piece's edge: its centre's distances from two factory
    /// sides.
    Hole { from: (Side, Side), x: Length, y: Length, diameter: Length },
}

/// Why a piece is a sliver.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Sliver {
    /// Narrower than the smallest cut where it shows.
    Narrow(Length),
    /// Lower than the smallest cut where it shows.
    Low(Length),
    /// A notch leaves a leg thinner than the thinnest leg.
    Leg(Length),
    /// Between hole and edge stays less than the thinnest web.
    Web(Length),
}

/// The place of one whole tile in the pattern, and what lies round it.
#[derive(Clone, Copy)]
struct Slot<'a> {
    course: &'a Course,
    cell: Rect,
    size: LeastSize,
    joint: Length,
    /// Upper edge of the course below, when there is one.
    below: Option<Length>,
    /// Lower edge of the course above, when there is one.
    above: Option<Length>,
}

impl Piece {
    /// The least side of the bounding rectangle in a direction in which the piece is cut; `None` for a tile that is
    /// whole or only notched or drilled.
    pub fn least_cut_side(&self) -> Option<Length> {
        let sides = [(self.bounds.width(), self.cell.width()), (self.bounds.height(), self.cell.height())];
        sides.into_iter().filter(|(kept, whole)| kept < whole).map(|(kept, _)| kept).min()
    }
}

/// Every piece of one surface under a layout whose courses, from the bottom up, are known. An absent start is
/// x = 0.
pub fn pieces(
    job: &Job,
    surface: &Surface,
    courses: &[Course],
    layout: &Layout,
    limits: &dyn Limits,
) -> Placed {
    let joint = layout.joint.unwrap_or(job.joint);
    let region = Region::new(job, surface, limits, joint);
    let mut found = Found { job, surface, region: &region, pieces: Vec::new(), crumbs: Vec::new() };
    for slot in slots(job, surface, courses, layout, &region) {
        found.take_from(&slot);
    }
    found.labelled()
}

/// Every whole tile of the pattern that reaches into the region's bounds, by course from the bottom.
fn slots<'a>(
    job: &Job,
    surface: &Surface,
    courses: &'a [Course],
    layout: &Layout,
    region: &Region<'_>,
) -> Vec<Slot<'a>> {
    let joint = region.joint();
    let mut slots = Vec::new();
    for (band_number, band) in surface.bands.iter().enumerate() {
        let Some(size) = job.laid_size(&band.tile, band.upright) else { continue };
        let rows: Vec<usize> = (0..courses.len()).filter(|&row| courses[row].band == band_number).collect();
        let of_band: Vec<&Course> = rows.iter().map(|&row| &courses[row]).collect();
        let Some(arrangement) =
            Arrangement::of_courses(surface, band_number, layout, &of_band, size.width, joint)
        else {
            continue;
        };
        slots.extend(arrangement.over(&region.window(&of_band)).into_iter().map(|(index, cell)| Slot {
            course: of_band[index],
            cell,
            size,
            joint,
            below: rows[index].checked_sub(1).map(|row| courses[row].top),
            above: courses.get(rows[index] + 1).map(|course| course.bottom),
        }));
    }
    slots
}

struct Found<'a> {
    job: &'a Job,
    surface: &'a Surface,
    region: &'a Region<'a>,
    /// With the lower edge of their course, to sort by.
    pieces: Vec<(Length, Piece)>,
    crumbs: Vec<Crumb>,
}

impl Found<'_> {
    fn take_from(&mut self, slot: &Slot<'_>) {
        let blockers = self.region.blockers(&slot.cell);
        for part in region::parts(&slot.cell, &blockers) {
            let bounds = part.shape.bounds();
            match no_piece(&bounds, slot.joint) {
                Some(why) => self.crumbs.push(Crumb {
                    band: slot.course.band,
                    course: slot.course.number,
                    bounds,
                    why,
                }),
                None => self.pieces.push((slot.course.bottom, self.piece(slot, part, &blockers))),
            }
        }
    }

    fn piece(&self, slot: &Slot<'_>, part: Part, blockers: &[Blocker]) -> Piece {
        let bounds = part.shape.bounds();
        let full = part.shape == Shape::solid(slot.cell.corners()) && part.rounds.is_empty();
        let kept = match full {
            true => sides::Kept { cell: slot.cell, factory: Sides::ALL, shows: Sides::NONE },
            false => sides::kept(self.region, slot, &part, blockers),
        };
        let marks = marks::marks(&kept.cell, &bounds, blockers);
        let sliver = sliver::sliver(self.job, self.surface, slot, &kept.cell, &part, blockers);
        let round = part.rounds.into_iter();
        let holes = round
            .map(|round| Hole::Round { centre: round.centre, diameter: round.diameter })
            .chain(part.shape.holes.into_iter().map(Hole::Polygon))
            .collect();
        Piece {
            id: PieceId(String::new()),
            surface: self.surface.id.clone(),
            tile: slot.course.tile.clone(),
            band: slot.course.band,
            course: slot.course.number,
            full,
            cell: kept.cell,
            bounds,
            outline: part.shape.outline,
            holes,
            factory: kept.factory,
            shows: kept.shows,
            marks,
            sliver,
        }
    }

    /// Sorted and named: surface, course, `s` for a strip, and the place from the left, as in `A3-2` and
    /// `A4s-1`. A surface whose name ends in a digit is parted from the course by a point, `A1.3-2`, so that no
    /// two pieces of a job share a label.
    fn labelled(mut self) -> Placed {
        let bands = &self.surface.bands;
        let strip = |piece: &Piece| bands.get(piece.band).is_some_and(Band::is_strip);
        self.pieces.sort_by_key(|(course_bottom, piece)| {
            (piece.course, strip(piece), *course_bottom, piece.bounds.left, piece.bounds.bottom)
        });
        let name = self.surface.id.as_str();
        let point = if name.ends_with(|c: char| c.is_ascii_digit()) { "." } else { "" };
        let mut counts: BTreeMap<(u32, bool), usize> = BTreeMap::new();
        let label = |(_, mut piece): (Length, Piece)| {
            let count = counts.entry((piece.course, strip(&piece))).or_default();
            *count += 1;
            let letter = if strip(&piece) { "s" } else { "" };
            piece.id = PieceId(format!("{name}{point}{}{letter}-{count}", piece.course));
            piece
        };
        Placed { pieces: self.pieces.into_iter().map(label).collect(), crumbs: self.crumbs }
    }
}

fn no_piece(bounds: &Rect, joint: Length) -> Option<NoPiece> {
    let least = bounds.width().min(bounds.height());
    if least <= joint {
        Some(NoPiece::Joint)
    } else if least < SMALLEST_PIECE {
        Some(NoPiece::TooSmall)
    } else {
        None
    }
}

#[cfg(test)]
mod tests;
