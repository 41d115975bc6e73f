//! From the level line to course lines: where each course lies, how the first one meets the base, what to
//! prop, what to scribe, and the story pole.
//!
//! Every wall of one level line shares its course lines, its seat and its course numbers. Which of a tile's
//! places on the wall are cut is not decided here: a course is the room of its whole tiles, and
//! [`WallCourses::feet`] and [`WallCourses::heads`] say where a tile between two x must be cut.

mod lay;
mod pole;
mod profile;
#[cfg(test)]
pub(crate) mod sample;
mod stack;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use crate::geometry::Point;
use crate::measure::{FirstCourse, Length, LineId, Rounding, SurfaceId, TileId, Unit};

pub use lay::lay;
pub(crate) use lay::{high_and_low, lay_line, lines};
pub use pole::{PoleMark, Strike, lines_to_strike, pattern_on};
use profile::Profile;

/// The courses of every wall of a job under one choice of course lines.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Courses {
    /// By surface.
    pub walls: BTreeMap<SurfaceId, WallCourses>,
}

/// One wall's courses.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WallCourses {
    /// Propped or scribed; of a surface given by its outline always scribed.
    pub first_course: FirstCourse,
    /// From the bottom up. Every course that any part of the wall reaches is here.
    pub courses: Vec<Course>,
    /// One for each reading of the base, and one for each end of the wall; a step has two. None of a surface given
    /// by its outline.
    pub stations: Vec<Station>,
    /// y of the lowest place where the first course may lie on the carrying base: the high point plus the gap.
    pub seat: Length,
    /// y of the highest place of the carrying base, over all walls of the line.
    pub high_point: Length,
    /// y above which nothing is laid, where a bare or trimmed top was moved to a whole course.
    pub top_stop: Option<Length>,
    /// What could not be obeyed.
    pub flags: Vec<CourseFlag>,
    outline: Outline,
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

impl WallCourses {
    /// Whether a first course that is cut to the base comes out as whole tiles, as far as the tape shows.
    pub fn stands_whole(&self, unit: Unit) -> bool {
        let Some(first) = self.courses.iter().find(|course| !course.strip) else { return false };
        let shown = |height: Length| height.on_tape(unit, Rounding::FitsIn);
        let whole = shown(first.top - first.bottom);
        let mut heights = self.stations.iter().filter(|station| station.carries).peekable();
        self.first_course == FirstCourse::Scribed
            && heights.peek().is_some()
            && heights.all(|station| shown(station.cut_height) == whole)
    }
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

/// What a choice of course lines could not keep to. Nothing stops the plan: the advice names it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum CourseFlag {
    /// The lead chose to prop, and the largest gap is more than what hides it covers.
    PropGapTooLarge { largest: Length, allowed: Length },
    /// No whole course brings the strip's lower edge into its range; this is the nearest.
    StripOutOfRange { band: usize, bottom: Length, lowest: Length, highest: Length },
}

/// Why course lines cannot be laid.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum CourseFault {
    /// Nothing carries the first course on any wall of the line.
    #[error("on level line \"{}\" no part of any base carries the first course", line.0)]
    NoCarryingBase { line: LineId },
    /// The choice has no course line for a surface.
    #[error("surface {surface} has no course line")]
    MissingCourseLine { surface: SurfaceId },
    /// Two walls of one level line were given joints that do not belong to the same courses.
    #[error("surfaces {one} and {other} share a level line, so their course lines must agree")]
    LinesDisagree { one: SurfaceId, other: SurfaceId },
    /// Between the base and the top there is no room for tile.
    #[error("no course fits between the base and the top of surface {surface}")]
    NoCourseFits { surface: SurfaceId },
    /// A surface has no reading up to the ceiling or to where tile stops.
    #[error("surface {surface} has no reading up to the top")]
    NoTop { surface: SurfaceId },
    /// A band names a tile that the job does not have.
    #[error("surface {surface} wants tile \"{}\", which the job does not have", tile.0)]
    UnknownTile { surface: SurfaceId, tile: TileId },
    /// The tile is so low for its wall that the courses would be past counting.
    #[error("surface {surface} would have more than {most} courses")]
    TooManyCourses { surface: SurfaceId, most: u16 },
}

/// The lines that tile may not pass, kept for [`WallCourses::foot`] and its like.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Outline {
    width: Length,
    /// The base itself.
    base: Profile,
    /// The lowest place of tile: the base with its gap, and on the carrying base of a propped wall the bottom of
    /// the first whole course. High steps stand off by the gap.
    foot: Profile,
    /// The same before high steps stand off.
    foot_at_base: Profile,
    /// The highest place of tile, turned over.
    head: Profile,
    /// The level sides of a surface given by its outline, of which only the lowest and the highest are in the lines
    /// above.
    sides: Vec<LevelSide>,
}

/// A level side of an outline.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct LevelSide {
    /// Where tile ends beside it.
    y: Length,
    end: LevelEnd,
    allows_cut: bool,
}

/// Which end of the columns of tile beside a level side lies there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum LevelEnd {
    Foot,
    Head,
}

/// What of a joint lies above or right of its centre: of an odd number of units the larger part.
pub(crate) fn past_centre(joint: Length) -> Length {
    joint - joint.half()
}

/// What the outermost course keeps of its tiles at one place of the base or the top.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) struct End {
    /// y of the whole tiles' lower edge.
    pub(crate) bottom: Length,
    /// Height of the whole tile.
    pub(crate) whole: Length,
    /// Height kept.
    pub(crate) kept: Length,
    /// Where on the wall.
    pub(crate) place: EndPlace,
}

/// Where a column of tile ends.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) enum EndPlace {
    /// On base that carries.
    Carrying,
    /// On a curb, a bench, a tub.
    NotCarrying,
    /// Under the top.
    Top,
}

impl End {
    fn foot(courses: &[Course], y: Length, carries: bool) -> Option<Self> {
        let course = courses.iter().find(|course| course.top - y >= stack::LEAST_PART)?;
        let place = if carries { EndPlace::Carrying } else { EndPlace::NotCarrying };
        let kept = course.top - y.max(course.bottom);
        Some(Self { bottom: course.bottom, whole: course.top - course.bottom, kept, place })
    }

    fn head(courses: &[Course], y: Length) -> Option<Self> {
        let course = courses.iter().rev().find(|course| y - course.bottom >= stack::LEAST_PART)?;
        let kept = y.min(course.top) - course.bottom;
        Some(Self { bottom: course.bottom, whole: course.top - course.bottom, kept, place: EndPlace::Top })
    }
}

impl WallCourses {
    /// The one straight bottom cut of a tile from `x0` to `x1`.
    ///
    /// It is nowhere nearer to the base than the gap and as close to it as a straight line can be: its greatest
    /// distance is the least possible; among equals the line nearest to level. The base's height at `x0` and
    /// `x1`, and then the line's, are rounded up to a unit. A kink or a step inside the tile is cleared at its
    /// higher side. On the carrying base of a propped wall it is the level bottom of the first whole course. A
    /// tile partly on carrying and partly on other base clears both.
    ///
    /// `x0..x1` is first narrowed to the wall. The answer may lie above or below a given tile: a tile is cut
    /// only where the line is above its bottom, and is not there at all where the line is above its top. Across
    /// a step too high for `base_gap_max` this straight cut leaves a hole; [`Self::feet`] cuts a notch.
    pub fn foot(&self, x0: Length, x1: Length) -> CutLine {
        let (x0, x1) = self.on_the_wall(x0, x1);
        let (left, right) = self.outline.foot.tightest_above(x0, x1);
        CutLine { left, right }
    }

    /// The bottom of a tile from `x0` to `x1` cut with a notch at each step of the base that a straight cut
    /// would leave more than `base_gap_max` open at: straight cuts as [`Self::foot`] gives them, left to right,
    /// each beginning where the last one ends, so that the outline goes plumb from one to the next. The plumb
    /// side stands the base's gap off the face of the step. Without such a step it is the one straight cut.
    pub fn feet(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        let (x0, x1) = self.on_the_wall(x0, x1);
        self.outline.foot.parts(x0, x1).into_iter().map(|(from, to)| self.foot(from, to)).collect()
    }

    /// The one straight top cut of a tile from `x0` to `x1`: nowhere nearer to the ceiling than its gap and as
    /// close as a straight line can be, rounded down; level at [`Self::top_stop`] where there is one. Otherwise
    /// as [`Self::foot`]; [`Self::heads`] cuts a notch at a step higher than the gap.
    pub fn head(&self, x0: Length, x1: Length) -> CutLine {
        let (x0, x1) = self.on_the_wall(x0, x1);
        let (left, right) = self.outline.head.tightest_above(x0, x1);
        CutLine { left: Point::new(left.x, -left.y), right: Point::new(right.x, -right.y) }
    }

    /// The top of a tile from `x0` to `x1`, with a notch at each step of the ceiling that is higher than the
    /// gap; as [`Self::feet`].
    pub fn heads(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        let (x0, x1) = self.on_the_wall(x0, x1);
        self.outline.head.parts(x0, x1).into_iter().map(|(from, to)| self.head(from, to)).collect()
    }

    /// The largest gap between the base and a bottom cut, to the nearest 1/1600 mm: that keeps hundredths of a
    /// millimetre and 64ths of an inch exact and forgets the units that cutting at whole units adds.
    pub fn gap_under(&self, cut: &CutLine) -> Length {
        let rise = cut.right.y - cut.left.y;
        let run = i128::from((cut.right.x - cut.left.x).units()).max(1);
        let gap = |base: Point| {
            let along = i128::from((base.x - cut.left.x).units());
            cut.left.y + profile::to_length(i128::from(rise.units()) * along / run) - base.y
        };
        let corners = self.outline.base.corners(cut.left.x, cut.right.x);
        let largest = corners.into_iter().map(gap).max().unwrap_or_default();
        let forgotten = Length::from_units(48);
        let centred = largest + forgotten.half();
        centred - centred.modulo(forgotten)
    }

    /// The gap under tile at `x`, to the base: on the carrying base of a propped wall the height of the prop,
    /// rounded down to a unit, elsewhere the gap that is kept. At a step the greater of its two sides.
    pub fn prop_height(&self, x: Length) -> Length {
        let (x, _) = self.on_the_wall(x, x);
        let base = self.outline.base.stretches().iter();
        let gaps = base
            .zip(self.outline.foot_at_base.stretches())
            .filter(|(base, _)| base.from.x <= x && x <= base.to.x)
            .map(|(base, foot)| foot.height_at(x) - base.height_at(x));
        gaps.max().unwrap_or_default()
    }

    /// The field course of that number, if this wall has a part of it.
    pub fn course(&self, number: u32) -> Option<&Course> {
        self.courses.iter().find(|course| !course.strip && course.number == number)
    }

    /// Where more than a crumb of a course's height lies between the base and the top: from and to, left to right.
    pub(crate) fn clear_of(&self, course: &Course) -> Vec<(Length, Length)> {
        let feet = self.outline.foot.lower_than(course.top - stack::LEAST_PART);
        let heads = self.outline.head.lower_than(-(course.bottom + stack::LEAST_PART));
        let both = feet
            .iter()
            .flat_map(|foot| heads.iter().map(move |head| (foot.0.max(head.0), foot.1.min(head.1))));
        both.filter(|(from, to)| from < to).collect()
    }

    /// Every end of a straight bit of the base and of the top, with what the outermost course keeps there.
    pub(crate) fn ends(&self) -> Vec<End> {
        let base = self.outline.base.stretches().iter();
        let feet = base.zip(self.outline.foot_at_base.stretches()).flat_map(|(base, foot)| {
            [foot.from.y, foot.to.y].map(|y| End::foot(&self.courses, y, base.carries))
        });
        let heads = self.outline.head.stretches().iter();
        let heads = heads.flat_map(|head| [-head.from.y, -head.to.y].map(|y| End::head(&self.courses, y)));
        let sides = self.outline.sides.iter().map(|side| self.end_at(side));
        feet.chain(heads).chain(sides).flatten().collect()
    }

    /// Whether the top slopes from one course into another, so that tiles between its readings are cut.
    pub(crate) fn top_crosses_courses(&self) -> bool {
        let ends = |y: Length| End::head(&self.courses, -y).map(|end| end.bottom);
        self.outline.head.stretches().iter().any(|head| ends(head.from.y) != ends(head.to.y))
    }

    /// Whether the carrying base slopes from one course into another.
    pub(crate) fn base_crosses_courses(&self) -> bool {
        let ends = |y: Length| End::foot(&self.courses, y, true).map(|end| end.bottom);
        let mut carrying = self.outline.foot_at_base.carrying();
        carrying.any(|foot| ends(foot.from.y) != ends(foot.to.y))
    }

    /// How many level sides of an outline, where nothing hides a cut edge, lie within a course instead of on a
    /// joint.
    pub(crate) fn cut_at_bare(&self) -> usize {
        let bare = self.outline.sides.iter().filter(|side| !side.allows_cut);
        bare.filter(|side| self.end_at(side).is_some_and(|end| end.kept < end.whole)).count()
    }

    fn end_at(&self, side: &LevelSide) -> Option<End> {
        match side.end {
            LevelEnd::Foot => End::foot(&self.courses, side.y, true),
            LevelEnd::Head => End::head(&self.courses, side.y),
        }
    }

    fn on_the_wall(&self, x0: Length, x1: Length) -> (Length, Length) {
        let within = |x: Length| x.max(Length::ZERO).min(self.outline.width);
        (within(x0), within(x1))
    }
}
