//! Where to frame a niche or set a valve that is not built yet, so that it suits the joints as they are laid.
//!
//! Joints are read off the pieces that the layout lays on the wall without openings, so that this knows nothing of
//! patterns. Tried are the places where something changes: an edge at either side of a joint, a leg just thick
//! enough, the middle of a tile or of a joint, the ends and the middle of the range; between those nothing can be
//! better. What the best places do to the tile is then taken from the pieces themselves.

mod depth;
mod niche;
mod valve;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use super::LayoutOption;
use crate::course::WallCourses;
use crate::geometry::{Point, Rect, Side};
use crate::measure::{BaseReading, Job, Length, Opening, OpeningEdge, OpeningShape, Surface};
use crate::place::{self, Piece, PieceId, Sliver};

pub use depth::{Depth, DepthVerdict};

/// What is to be built, and where it may go, on the surface as the planner takes it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wish {
    /// A niche or a valve.
    pub kind: WishKind,
    /// Space kept between it and the tile.
    pub clearance: Length,
    /// What hides the tile's edge there.
    pub edge: OpeningEdge,
    /// Where a niche's framed hole may lie, or a valve's centre.
    pub within: Rect,
}

/// What is to be built.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WishKind {
    /// A niche by its finished mouth. The framed hole is larger by the lining (board, membrane, bed and tile inside
    /// it) on every side.
    Niche { width: Length, height: Length, lining: Length },
    /// A valve by the hole in the tile.
    Valve { diameter: Length },
}

/// The places found, the best first, never none.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RoughIn {
    /// The best, then the best of those that lie elsewhere.
    pub places: Vec<Framing>,
    /// How many places were tried.
    pub tried: usize,
    /// Sizes of a niche that would suit the joints better than the one wished.
    pub fitting: Fitting,
}

/// The sizes nearest to a niche's own at which two edges across from each other could both lie in joints, beside the
/// courses of the best place; nothing where its own size can, or none could. Whether the range has room for it is not
/// looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Fitting {
    /// Of its finished mouth, for left and right.
    pub width: Option<Length>,
    /// The same, for bottom and top.
    pub height: Option<Length>,
}

/// One place for it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Framing {
    /// Its finished outline, as an opening of the surface.
    pub shape: OpeningShape,
    /// A niche's hole in the framing.
    pub framed: Option<Rect>,
    /// How it suits the joints.
    pub fit: Fit,
    /// Every piece of the surface once it is built.
    pub pieces: Vec<Piece>,
    /// Pieces cut at it.
    pub cut: usize,
    /// Those of them that are slivers.
    pub slivers: Vec<(PieceId, Sliver)>,
}

/// How a place suits the joints.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Fit {
    /// A niche's four edges, in the order of [`Side::ALL`].
    Niche([EdgeFit; 4]),
    /// Where a valve sits, and the least web between its hole and an edge of the tile that it does not cross.
    Valve { seat: Seat, web: Option<Length> },
}

/// One edge of a niche.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct EdgeFit {
    /// Which.
    pub side: Side,
    /// Nothing where it lies in a joint, so that no tile is cut at it; else how it misses.
    pub off: Option<Off>,
}

/// How an edge misses the joints: in the course beside it where it leaves the least of a tile.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Off {
    /// From the nearest joint.
    pub by: Length,
    /// What stays of the tile cut there.
    pub leaves: Length,
}

/// Where a valve sits, the best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Seat {
    /// In the middle of a tile, both ways.
    MiddleOfTile,
    /// On the crossing of two joints.
    Crossing,
    /// Elsewhere within one tile.
    WithinTile,
    /// In the middle of a joint's width.
    OnJoint,
    /// Across an edge.
    AcrossEdge,
}

/// Why there is no place.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum NoPlace {
    /// No tile is laid on this surface.
    #[error("no tile is laid on this surface")]
    NotLaid,
    /// The framed hole is larger than the range.
    #[error("the range is too small")]
    RangeTooSmall {
        /// How much it lacks across; nothing or less where it is wide enough.
        across: Length,
        /// The same upward.
        up: Length,
    },
    /// Everywhere in the range it would run into another opening or over the edge of the tile.
    #[error("everywhere in the range it runs into another opening or over the edge of the tile")]
    NoneFree,
}

/// Places told of beside the best.
const OTHERS: usize = 2;

/// Where to build it under a layout. Preferred, in this order (common practice): no part of a tile so thin that it
/// breaks, edges on joints, equal legs left and right, nearest to the middle of the range; a valve in the middle of a
/// tile, then on a crossing, always away from edges. It keeps [`Job::thinnest_web`] from other openings.
///
/// # Errors
///
/// When it has no room.
pub fn rough_in(
    job: &Job,
    option: &LayoutOption,
    surface: &Surface,
    wish: &Wish,
) -> Result<RoughIn, NoPlace> {
    let laid = Laid::of(job, option, surface).ok_or(NoPlace::NotLaid)?;
    let ranked = match wish.kind {
        WishKind::Niche { width, height, lining } => niche::ranked(&laid, wish, (width, height), lining)?,
        WishKind::Valve { diameter } => valve::ranked(&laid, wish, diameter)?,
    };
    let tried = ranked.len();
    let mut places: Vec<Framing> = Vec::new();
    for framing in ranked {
        if places.len() > OTHERS {
            break;
        }
        if places.iter().all(|other| laid.is_elsewhere(&framing, other)) {
            places.push(framing);
        }
    }
    let fitting = places.first().map(|best| niche::fitting(&laid, wish, best)).unwrap_or_default();
    let places: Vec<Framing> =
        places.into_iter().map(|framing| laid.with_its_pieces(option, wish, framing)).collect();
    if places.is_empty() { Err(NoPlace::NoneFree) } else { Ok(RoughIn { places, tried, fitting }) }
}

/// How high `y` lies above the base at `x`, to the nearest unit; at a step above its right side.
pub fn above_base(base: &[BaseReading], x: Length, y: Length) -> Length {
    let before = base.iter().rfind(|reading| reading.x <= x);
    let after = base.iter().find(|reading| reading.x > x);
    let drop = match (before, after) {
        (Some(from), Some(to)) => {
            let run = i128::from((to.x - from.x).units());
            let fall = i128::from((to.drop - from.drop).units()) * i128::from((x - from.x).units());
            let nearest = (2 * fall + run).div_euclid(2 * run);
            from.drop + Length::from_units(i64::try_from(nearest).unwrap_or_default())
        }
        (Some(end), None) | (None, Some(end)) => end.drop,
        (None, None) => Length::ZERO,
    };
    y + drop
}

/// From where to where something reaches, along or up the wall.
type Span = (Length, Length);

/// The tile as it is laid without openings, and what is in the way.
struct Laid<'a> {
    job: &'a Job,
    surface: &'a Surface,
    wall: &'a WallCourses,
    /// From the bottom up.
    rows: Vec<Row>,
    /// The other openings, with their clearance.
    taken: Vec<Rect>,
}

/// One course.
struct Row {
    up: Span,
    /// Its pieces, from left to right.
    tiles: Vec<Span>,
}

impl<'a> Laid<'a> {
    fn of(job: &'a Job, option: &'a LayoutOption, surface: &'a Surface) -> Option<Self> {
        let wall = option.courses.walls.get(&surface.id)?;
        let whole = Surface { openings: Vec::new(), ..surface.clone() };
        let placed = place::pieces(job, &whole, &wall.courses, &option.layout, wall);
        let mut courses: BTreeMap<(u32, usize), Vec<Rect>> = BTreeMap::new();
        for piece in &placed.pieces {
            courses.entry((piece.course, piece.band)).or_default().push(piece.bounds);
        }
        let mut rows: Vec<Row> = courses.into_values().filter_map(|bounds| Row::of(&bounds)).collect();
        rows.sort_by_key(|row| row.up);
        let taken = surface.openings.iter().map(|opening| grown(&opening.shape, opening.clearance)).collect();
        (!rows.is_empty()).then_some(Self { job, surface, wall, rows, taken })
    }

    /// Rows from the bottom up, as spans.
    fn heights(&self) -> Vec<Span> {
        self.rows.iter().map(|row| row.up).collect()
    }

    /// From where to where along the wall other openings are to be kept clear of.
    fn beside_openings(&self) -> impl Iterator<Item = Span> {
        let web = self.job.thinnest_web;
        self.taken.iter().map(move |other| (other.left - web, other.right + web))
    }

    /// The same upward.
    fn over_openings(&self) -> impl Iterator<Item = Span> {
        let web = self.job.thinnest_web;
        self.taken.iter().map(move |other| (other.bottom - web, other.top + web))
    }

    /// Whether tile could lie all round it, and nothing else is in the way.
    fn is_free(&self, hole: &Rect) -> bool {
        let (foot, head) = (self.wall.foot(hole.left, hole.right), self.wall.head(hole.left, hole.right));
        let kept_off = hole.grown(self.job.thinnest_web);
        foot.left.y.max(foot.right.y) < hole.bottom
            && hole.top < head.left.y.min(head.right.y)
            && self.taken.iter().all(|other| !other.overlaps(&kept_off))
    }

    /// Whether a place is another one to a person, and not the same a little along.
    fn is_elsewhere(&self, one: &Framing, other: &Framing) -> bool {
        let (one, other) = (corner(&one.shape), corner(&other.shape));
        (one.x - other.x).abs().max((one.y - other.y).abs()) >= self.job.thinnest_leg
    }

    /// What the pieces say once it is an opening.
    fn with_its_pieces(&self, option: &LayoutOption, wish: &Wish, framing: Framing) -> Framing {
        let opening = wish.opening(String::new(), framing.shape);
        let hole = grown(&opening.shape, opening.clearance);
        let mut surface = self.surface.clone();
        surface.openings.push(opening);
        let placed = place::pieces(self.job, &surface, &self.wall.courses, &option.layout, self.wall);
        let cut = placed.pieces.iter().filter(|piece| !piece.full && piece.cell.overlaps(&hole));
        let slivers = cut.clone().filter_map(|piece| Some((piece.id.clone(), piece.sliver?))).collect();
        Framing { cut: cut.count(), slivers, pieces: placed.pieces, ..framing }
    }
}

impl Wish {
    /// It as an opening of the wall, at a place found for it.
    pub fn opening(&self, name: String, shape: OpeningShape) -> Opening {
        Opening { name, shape, clearance: self.clearance, edge: self.edge }
    }
}

impl Row {
    fn of(pieces: &[Rect]) -> Option<Self> {
        let bottom = pieces.iter().map(|piece| piece.bottom).min()?;
        let top = pieces.iter().map(|piece| piece.top).max()?;
        let mut tiles: Vec<Span> = pieces.iter().map(|piece| (piece.left, piece.right)).collect();
        tiles.sort();
        Some(Self { up: (bottom, top), tiles })
    }
}

/// The square or rectangle that an opening takes with its clearance.
fn grown(shape: &OpeningShape, clearance: Length) -> Rect {
    let rect = match *shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }
        }
        OpeningShape::Circle { x, y, diameter } => {
            Rect { left: x, bottom: y, right: x, top: y }.grown(diameter - diameter.half())
        }
    };
    rect.grown(clearance)
}

fn corner(shape: &OpeningShape) -> Point {
    match *shape {
        OpeningShape::Rectangle { x, y, .. } | OpeningShape::Circle { x, y, .. } => Point::new(x, y),
    }
}

/// The middle of a span.
fn middle((from, to): Span) -> Length {
    (from + to).half()
}

/// The joints between spans that follow one another.
fn joints(spans: &[Span]) -> impl Iterator<Item = Span> {
    spans.windows(2).map(|pair| (pair[0].1, pair[1].0))
}
