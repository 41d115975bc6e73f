//! Points, rectangles and the four sides, in whole units, with exact predicates.
//!
//! Products are taken in i128, so that nothing overflows below about 27 m. What cannot be held exactly (the
//! crossing of two slanted lines) is rounded once, in [`polygon::clip`], [`around_circle`] and [`overlay`].

pub mod overlay;
pub mod polygon;

mod circle;
mod rectilinear;

pub use circle::{ROUNDNESS, around_circle};
pub use rectilinear::{minus_rects, rest_of};

use crate::measure::Length;

/// A place on a surface or on a tile: x runs right, y up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Point {
    /// Rightward.
    pub x: Length,
    /// Upward.
    pub y: Length,
}

/// An upright rectangle by its lower left and upper right corners.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Rect {
    /// Left edge.
    pub left: Length,
    /// Lower edge.
    pub bottom: Length,
    /// Right edge.
    pub right: Length,
    /// Upper edge.
    pub top: Length,
}

/// A connected area with the holes in it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Shape {
    /// Counter-clockwise, first point not repeated.
    pub outline: Vec<Point>,
    /// Clockwise, each inside the outline.
    pub holes: Vec<Vec<Point>>,
}

/// One side of an upright rectangle.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Side {
    /// Smallest x.
    Left,
    /// Greatest x.
    Right,
    /// Smallest y.
    Bottom,
    /// Greatest y.
    Top,
}

/// Some of the four sides.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Sides(u8);

impl Point {
    /// The point at `x`, `y`.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }
}

impl Rect {
    /// Across.
    pub fn width(&self) -> Length {
        self.right - self.left
    }

    /// Up.
    pub fn height(&self) -> Length {
        self.top - self.bottom
    }

    /// Its corners counter-clockwise from the lower left.
    pub fn corners(&self) -> Vec<Point> {
        vec![
            Point::new(self.left, self.bottom),
            Point::new(self.right, self.bottom),
            Point::new(self.right, self.top),
            Point::new(self.left, self.top),
        ]
    }

    /// Where that side lies: its x, or its y.
    pub fn at(&self, side: Side) -> Length {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
            Side::Bottom => self.bottom,
            Side::Top => self.top,
        }
    }

    /// Whether it holds any area at all.
    pub fn is_empty(&self) -> bool {
        self.left >= self.right || self.bottom >= self.top
    }

    /// Moved out by `by` on every side, or in when that is negative.
    #[must_use]
    pub fn grown(&self, by: Length) -> Self {
        Self { left: self.left - by, bottom: self.bottom - by, right: self.right + by, top: self.top + by }
    }

    /// Moved along.
    #[must_use]
    pub fn moved(&self, right: Length, up: Length) -> Self {
        Self {
            left: self.left + right,
            bottom: self.bottom + up,
            right: self.right + right,
            top: self.top + up,
        }
    }

    /// What both have; empty when they are apart.
    #[must_use]
    pub fn shared(&self, other: &Self) -> Self {
        Self {
            left: self.left.max(other.left),
            bottom: self.bottom.max(other.bottom),
            right: self.right.min(other.right),
            top: self.top.min(other.top),
        }
    }

    /// Whether the two share area; touching is not enough.
    pub fn overlaps(&self, other: &Self) -> bool {
        !self.shared(other).is_empty()
    }

    /// Whether `other` lies within it; touching from inside is allowed.
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.bottom <= other.bottom
            && other.top <= self.top
    }
}

impl Shape {
    /// A shape without holes.
    pub fn solid(outline: Vec<Point>) -> Self {
        Self { outline, holes: Vec::new() }
    }

    /// The upright rectangle round it.
    pub fn bounds(&self) -> Rect {
        polygon::bounds(&self.outline)
    }
}

impl Side {
    /// All four, in the order they are named everywhere.
    pub const ALL: [Self; 4] = [Self::Left, Self::Right, Self::Bottom, Self::Top];

    /// The side across.
    pub const fn opposite(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Bottom => Self::Top,
            Self::Top => Self::Bottom,
        }
    }

    /// Its name in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Top => "top",
        }
    }

    const fn bit(self) -> u8 {
        match self {
            Self::Left => 1,
            Self::Right => 2,
            Self::Bottom => 4,
            Self::Top => 8,
        }
    }
}

impl Sides {
    /// No side.
    pub const NONE: Self = Self(0);
    /// All four.
    pub const ALL: Self = Self(15);

    /// These and `side`.
    #[must_use]
    pub const fn with(self, side: Side) -> Self {
        Self(self.0 | side.bit())
    }

    /// These but not `side`.
    #[must_use]
    pub const fn without(self, side: Side) -> Self {
        Self(self.0 & !side.bit())
    }

    /// Whether `side` is among them.
    pub const fn has(self, side: Side) -> bool {
        self.0 & side.bit() != 0
    }

    /// Whether every side of `others` is among them.
    pub const fn has_all(self, others: Self) -> bool {
        self.0 & others.0 == others.0
    }

    /// Those of either.
    #[must_use]
    pub const fn or(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    /// Whether there is none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Each of them, in the order of [`Side::ALL`].
    pub fn iter(self) -> impl Iterator<Item = Side> {
        Side::ALL.into_iter().filter(move |side| self.has(*side))
    }
}

impl FromIterator<Side> for Sides {
    fn from_iter<I: IntoIterator<Item = Side>>(sides: I) -> Self {
        sides.into_iter().fold(Self::NONE, Self::with)
    }
}

impl std::fmt::Debug for Sides {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_set().entries(self.iter().map(Side::name)).finish()
    }
}

#[cfg(test)]
mod tests;
