//! Tiles laid over a surface, and every piece with the sides it needs and the marks to cut it by.

use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::{Length, SurfaceId, TileId};

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
    /// The room of the whole tile it is part of.
    pub cell: Rect,
    /// Its bounding rectangle.
    pub bounds: Rect,
    /// Counter-clockwise on the surface, first point not repeated.
    pub outline: Vec<Point>,
    /// Holes inside the outline.
    pub holes: Vec<Hole>,
    /// Sides of `bounds` that must be the tile's own edges.
    pub factory: Sides,
    /// Sides where a cut edge shows at a bare edge, because no cut tile has both factory edges needed.
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
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Mark {
    /// A saw cut across the courses (constant x): the distance kept from side `from`, at the lower end and,
    /// where the cut tapers, at the upper.
    Crosscut { from: Side, at: Length, at_other_end: Length },
    /// A saw cut along the course (constant y): the distance kept from side `from`, at the left end and, where
    /// the cut tapers, at the right.
    Rip { from: Side, at: Length, at_other_end: Length },
    /// A rectangle cut away: its near edges' distances from two factory sides, and its size. Drill the inside
    /// corners first.
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
