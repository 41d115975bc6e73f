//! A surface to tile: one wall, measured from its level line.
//!
//! x runs right and y up, seen from the front; x = 0 is the wall's left end and y = 0 the level line. All
//! lengths here are to the face that the tile stops at; what the tape read on the bare wall is turned into
//! this by [`super::bare`]. A floor or a wall of another shape is given by its [`Outline`] instead, in its own axes.
//! Leaning corners are not here yet.

use super::{Length, Outline, TileId};
use crate::geometry::Rect;

/// The short name of a surface, unique in its job: `A`, `back`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct SurfaceId(String);

/// The level line that several walls share.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct LineId(pub String);

/// One wall, or floor, with all that was measured of it and what is to go on it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Surface {
    /// Its short name.
    pub id: SurfaceId,
    /// What the crew calls it: "back wall".
    pub name: String,
    /// The level line it was measured from. A surface given by its outline has a line of its own.
    pub line: LineId,
    /// The outline that gives the surface, where readings do not. `width`, `base`, `top` and `edges` then are
    /// those of the rectangle round it, whose left end need not be at x = 0.
    pub outline: Option<Outline>,
    /// Width at the line.
    pub width: Length,
    /// Readings down to the base, by rising x; two at one x are a step.
    pub base: Vec<BaseReading>,
    /// Readings up to the ceiling or to where tile stops, by rising x.
    pub top: Vec<TopReading>,
    /// What may be seen at each of the four edges.
    pub edges: Edges,
    /// What the neighbours' tile will hide at each end.
    pub covered: Covered,
    /// Niches, windows, valves, pipes.
    pub openings: Vec<Opening>,
    /// What is laid, from the bottom up.
    pub bands: Vec<Band>,
    /// How the field is laid, unless a band says otherwise.
    pub pattern: Pattern,
    /// How far the lead lets a bare or trimmed top move, up or down, to end on a whole course.
    pub top_may_move: Length,
}

/// How far the base lies below the level line at one place.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BaseReading {
    /// Distance from the wall's left end.
    pub x: Length,
    /// Distance from the line down to the base.
    pub drop: Length,
    /// Whether the base from here to the next reading carries the first course. Curbs, benches and tub ends
    /// do not.
    pub carries: bool,
}

/// How far the ceiling, or the place where tile stops, lies above the level line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct TopReading {
    /// Distance from the wall's left end.
    pub x: Length,
    /// Distance from the line up.
    pub rise: Length,
}

/// What may be seen at an edge, and so whether a cut edge may lie there.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Role {
    /// An inside corner or perimeter: sealant hides a cut edge.
    Corner,
    /// The foot of a wall.
    Base,
    /// The ceiling.
    Ceiling,
    /// An edge profile: a factory edge is preferred, a cut one must be dressed.
    Trim,
    /// A mitred outside corner.
    Mitre,
    /// Nothing hides the edge: only a factory edge may show.
    Bare,
    /// Something else covers it.
    Hidden,
}

/// The roles of a wall's four edges.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Edges {
    /// Left end.
    pub left: Role,
    /// Right end.
    pub right: Role,
    /// Bottom.
    pub base: Role,
    /// Top.
    pub top: Role,
}

/// Width at each end that a neighbour's tile will hide; slivers and balance are judged on the rest.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Covered {
    /// At the left end.
    pub left: Length,
    /// At the right end.
    pub right: Length,
}

/// A hole in the tile work: a niche, a window, a valve, a pipe.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Opening {
    /// What the crew calls it: "valve".
    pub name: String,
    /// Where and how large, before clearance.
    pub shape: OpeningShape,
    /// Space kept between opening and tile; negative where tile laps over it.
    pub clearance: Length,
    /// What hides the tile's edge there.
    pub edge: OpeningEdge,
}

/// The opening's own outline.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OpeningShape {
    /// `x`, `y` is the lower left corner.
    Rectangle { x: Length, y: Length, width: Length, height: Length },
    /// `x`, `y` is the centre.
    Circle { x: Length, y: Length, diameter: Length },
}

/// What hides the tile's edge at an opening.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OpeningEdge {
    /// A cover plate or escutcheon.
    Plate,
    /// An edge profile.
    Trim,
    /// Tile of the reveal laps over.
    Lapped,
    /// Mitred.
    Mitre,
    /// Nothing: only a factory edge may show.
    Bare,
}

/// Part of a wall's height laid in one tile.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Band {
    /// Which tile.
    pub tile: TileId,
    /// The tile stands on its short side: its width and height change places.
    pub upright: bool,
    /// How many courses.
    pub height: BandHeight,
    /// For a strip: the least and greatest y of its lower edge. A band with this is a strip: one course,
    /// not counted, sitting on whole courses, with whole courses starting again on it.
    pub bottom_between: Option<(Length, Length)>,
    /// The joint above its last course, where it differs from the job's.
    pub joint_above: Option<Length>,
    /// Its own pattern, where it differs from the surface's.
    pub pattern: Option<Pattern>,
}

/// How high a band is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BandHeight {
    /// As many courses as the height takes.
    Fill,
    /// This many whole courses (at least 1).
    Courses(u32),
}

/// A part of a pitch: numerator over a denominator that is at least 1.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fraction {
    numerator: i64,
    denominator: i64,
}

/// How tiles lie in their courses.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Pattern {
    /// Joints one above the other.
    Straight,
    /// Each course lies `step` of a pitch further right than the one below, or left when mirrored.
    Running { step: Fraction, mirror: bool },
    /// The shift of each course from the start, from course 1 up, repeating.
    Cycle { shifts: Vec<Fraction> },
}

impl SurfaceId {
    /// The longest name, so that a piece's label still fits on a strip of tape.
    pub const MOST_CHARACTERS: usize = 24;

    /// A name of 1 to 24 letters, digits, `-` or `_`; anything else is `None`.
    pub fn new(name: &str) -> Option<Self> {
        let fits = !name.is_empty()
            && name.len() <= Self::MOST_CHARACTERS
            && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
        fits.then(|| Self(name.to_owned()))
    }

    /// The name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for SurfaceId {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}

impl LineId {
    /// The line that a surface given by its outline has for itself.
    pub fn of(surface: &SurfaceId) -> Self {
        Self(surface.0.clone())
    }
}

impl Surface {
    /// x of its left end.
    pub fn left(&self) -> Length {
        self.outline.as_ref().map_or(Length::ZERO, |outline| outline.bounds().left)
    }

    /// x of its right end.
    pub fn right(&self) -> Length {
        self.left() + self.width
    }

    /// From its lowest to its highest reading or point, and from end to end.
    pub fn bounds(&self) -> Rect {
        Rect {
            left: self.left(),
            bottom: self.base.iter().map(|reading| -reading.drop).min().unwrap_or_default(),
            right: self.right(),
            top: self.top.iter().map(|reading| reading.rise).max().unwrap_or_default(),
        }
    }
}

impl Role {
    /// Whether something hides or finishes a cut edge here, so that one is legal.
    pub fn allows_cut(self) -> bool {
        self != Self::Bare
    }
}

impl OpeningEdge {
    /// Whether something hides or finishes a cut edge here, so that one is legal.
    pub fn allows_cut(self) -> bool {
        self != Self::Bare
    }
}

impl Band {
    /// A strip has a wanted height for its lower edge; other bands are field.
    pub fn is_strip(&self) -> bool {
        self.bottom_between.is_some()
    }
}

impl Fraction {
    /// No shift.
    pub const ZERO: Self = Self { numerator: 0, denominator: 1 };
    /// The largest denominator: a step finer than this is not something a person lays.
    pub const MOST: i64 = 1000;

    /// `numerator / denominator`, or `None` unless the denominator is 1 to 1000 and the size of the numerator
    /// at most 1000.
    pub fn new(numerator: i64, denominator: i64) -> Option<Self> {
        let fits = (1..=Self::MOST).contains(&denominator) && numerator.abs() <= Self::MOST;
        fits.then_some(Self { numerator, denominator })
    }

    /// The part above the line.
    pub fn numerator(self) -> i64 {
        self.numerator
    }

    /// The part below the line.
    pub fn denominator(self) -> i64 {
        self.denominator
    }

    /// `round(times x numerator x pitch / denominator)`, half away from zero: shifts are counted from the
    /// course's number, never summed, so they do not drift.
    pub fn of(self, pitch: Length, times: i64) -> Length {
        let product = i128::from(self.numerator) * i128::from(times) * i128::from(pitch.units());
        let denominator = i128::from(self.denominator);
        let doubled = 2 * product + product.signum() * denominator;
        Length::from_units(i64::try_from(doubled / (2 * denominator)).unwrap_or(0))
    }
}

impl Pattern {
    /// How far course `number` (1 is the lowest) lies right of the start, in `[0, pitch)`.
    pub fn shift(&self, number: i64, pitch: Length) -> Length {
        let shift = match self {
            Self::Straight => Length::ZERO,
            Self::Running { step, mirror: false } => step.of(pitch, number - 1),
            Self::Running { step, mirror: true } => -step.of(pitch, number - 1),
            Self::Cycle { shifts } => {
                let courses = i64::try_from(shifts.len()).unwrap_or(i64::MAX).max(1);
                let at = usize::try_from((number - 1).rem_euclid(courses)).unwrap_or(0);
                shifts.get(at).map_or(Length::ZERO, |shift| shift.of(pitch, 1))
            }
        };
        shift.modulo(pitch)
    }
}
