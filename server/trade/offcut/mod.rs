//! Which pieces are cut from the same tile, so that few tiles are bought, and a bound below which no plan can
//! go under the same rules: straight cuts right across what lies on the table, a kerf lost at each, and every
//! piece keeping the factory sides it needs.

use crate::geometry::{Rect, Sides};
use crate::measure::Length;

/// What is to be cut from tiles of one kind.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// Width of the whole tile as it lies face up on the table.
    pub tile_width: Length,
    /// Height of the whole tile.
    pub tile_height: Length,
    /// Lost at each cut: blade and, where given, what is spared beside it.
    pub kerf: Length,
    /// Pieces may be turned by half a turn.
    pub half_turn: bool,
    /// Pieces may be turned by a quarter.
    pub quarter_turn: bool,
    /// In the order they are set.
    pub pieces: Vec<Wanted>,
}

/// A piece to be cut: its bounding rectangle in its own frame on the wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wanted {
    /// Its label.
    pub id: String,
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
    /// Sides that must lie on the tile's own sides.
    pub factory: Sides,
    /// Shares its tile with no other.
    pub alone: bool,
}

/// A plan with the figures that judge it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Plan {
    /// The tiles cut into, in the order they are first needed.
    pub stock: Vec<Stock>,
    /// No plan under the same rules uses fewer tiles than this.
    pub bound: usize,
    /// Tiles that cutting in setting order would take, each piece from an offcut at hand where one serves.
    pub in_setting_order: usize,
}

/// One tile cut into, face up on the table.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stock {
    /// Where each piece lies on it.
    pub places: Vec<Place>,
    /// In the order made.
    pub cuts: Vec<Cut>,
}

/// A piece on its tile.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Place {
    /// Index into [`Problem::pieces`].
    pub piece: usize,
    /// The rectangle it takes, as it lies on the table.
    pub at: Rect,
    /// From the table to the wall, counter-clockwise.
    pub turn: Turn,
}

/// A turn from the table to the wall, counter-clockwise.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Turn {
    /// As it lies.
    None,
    /// 90 degrees.
    Quarter,
    /// 180 degrees.
    Half,
    /// 270 degrees.
    ThreeQuarter,
}

/// One straight cut right across a rectangle on the table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Cut {
    /// What is cut.
    pub part: Rect,
    /// Which coordinate stays constant along the blade.
    pub across: Axis,
    /// The edge of the part kept: the first of the two parts ends at `at`, the kerf follows, then the second
    /// begins.
    pub at: Length,
}

/// A direction on the table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Axis {
    /// The blade runs along constant x.
    X,
    /// The blade runs along constant y.
    Y,
}
