//! From the level line to course lines: where each course lies, how the first one meets the base, what to
//! prop, what to scribe, and the story pole.

use std::collections::BTreeMap;

use crate::geometry::Point;
use crate::measure::{FirstCourse, Length, SurfaceId, TileId};

/// The courses of every wall of a job under one choice of course lines.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Courses {
    /// By surface.
    pub walls: BTreeMap<SurfaceId, WallCourses>,
}

/// One wall's courses.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WallCourses {
    /// Propped or scribed.
    pub first_course: FirstCourse,
    /// From the bottom up. Every course that any part of the wall reaches is here.
    pub courses: Vec<Course>,
    /// One for each reading of the base, and one for each end of the wall.
    pub stations: Vec<Station>,
    /// y of the lowest place where the first course may lie on the carrying base: the high point plus the gap.
    pub seat: Length,
}

/// One course: the room that its whole tiles take.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Course {
    /// Counted from the lowest course of the level line, 1 and up, the same on all its walls; a strip has the
    /// number of the course below it.
    pub number: u32,
    /// Which band of the surface, 0 the lowest.
    pub band: usize,
    /// The tile laid.
    pub tile: TileId,
    /// A strip is drawn on the story pole but not counted.
    pub strip: bool,
    /// y of the whole tiles' lower edge.
    pub bottom: Length,
    /// y of the whole tiles' upper edge.
    pub top: Length,
}

/// What to do at one place along the base.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Station {
    /// Distance from the wall's left end.
    pub x: Length,
    /// Gap between base and tile here.
    pub gap: Length,
    /// Height of the tile in the first course here: whole when propped.
    pub cut_height: Length,
    /// Whether the base carries here.
    pub carries: bool,
}

/// The straight line that a scribed tile's bottom, or a tile's top under the ceiling, is cut to, from its left
/// to its right end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CutLine {
    /// At the tile's left edge.
    pub left: Point,
    /// At the tile's right edge.
    pub right: Point,
}
