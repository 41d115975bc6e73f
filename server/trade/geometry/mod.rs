//! Points, rectangles and the four sides, in whole units, with exact predicates.

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

    /// Whether `other` lies inside it, edges included.
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && self.bottom <= other.bottom
            && self.right >= other.right
            && self.top >= other.top
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
