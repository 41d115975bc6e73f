//! Which pieces are cut from the same tile, so that few tiles are bought, and a bound below which no plan can
//! go under the same rules: straight cuts right across what lies on the table, a kerf lost at each, and every
//! piece keeping the factory sides it needs.
//!
//! [`Problem::new`] refuses nonsense, [`solve()`] makes the plan, [`bound()`] says below what number of tiles no
//! plan can go, and [`check()`] and [`check_proof()`] go over a plan and its proof from the rules alone and share nothing
//! with the other two.
//!
//! A part of a proof whose reason is [`Reason::Search`] says more than [`check_proof()`] can go over: the prices that
//! travel with it prove fewer tiles, and that the rest follows rests on the solver alone. Prices and odd sets are gone
//! over whole. Whoever shows a proof says of such a part that it was not gone over a second time.
//!
//! Deliberately absent: reusing the waste inside a notched, drilled or tapered piece (it is planned as its
//! bounding rectangle), and cuts that stop inside a part.

mod basis;
mod board;
mod bound;
mod check;
mod check_proof;
mod check_stops;
mod check_worth;
mod exact;
mod fill;
mod fronts;
mod greedy;
mod improve;
mod kinds;
mod lattice;
mod layout;
mod master;
mod matching;
mod mend;
mod odd_sets;
mod patterns;
mod pricing;
mod problem;
mod proof;
mod queue;
mod relax;
mod rest;
#[cfg(test)]
mod rooms;
mod rounding;
mod sharing;
mod solve;
mod steps;
#[cfg(test)]
mod tests;

pub use bound::bound;
pub use check::{Fault, check};
pub use check_proof::{ProofFault, check_proof};
pub use problem::{Demand, LONGEST_SIDE, MOST_PIECES, MOST_RACKED, Problem, ProblemFault};
pub use proof::{OddSet, Part as ProofPart, Prices, Proof, Reason};
pub use queue::{Label, Leftover, Lying, Part, Progress, SawCut, Step, Take, lying, queue, queue_of};
pub use solve::{Effort, Progress as Planning, estimate, solve, solve_while};

use crate::geometry::{Rect, Sides};
use crate::measure::Length;

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
    /// The tiles and racked offcuts cut into, in the order they are first needed.
    pub stock: Vec<Stock>,
    /// No plan under the same rules uses fewer tiles than this.
    pub bound: usize,
    /// Why not.
    pub proof: Proof,
    /// Tiles that cutting in setting order would take, each piece from an offcut at hand where one serves.
    pub in_setting_order: usize,
}

/// An offcut that lies on the rack from earlier work: it costs nothing and is used at most once.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Racked {
    /// Its label.
    pub id: String,
    /// As it lies face up on the table.
    pub width: Length,
    /// As it lies.
    pub height: Length,
    /// Its sides, as it lies, that are a tile's own.
    pub factory: Sides,
}

impl Plan {
    /// New tiles cut into; offcuts from the rack cost nothing.
    pub fn tiles(&self) -> usize {
        self.stock.iter().filter(|stock| stock.rack.is_none()).count()
    }

    /// Whether no plan under the same rules uses fewer tiles.
    pub fn is_proved(&self) -> bool {
        self.tiles() == self.bound
    }
}

/// One tile cut into, face up on the table.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stock {
    /// The racked offcut that is cut instead of a new tile: an index into [`Problem::rack`].
    pub rack: Option<usize>,
    /// What was done to it before this plan was made; nothing where it was still whole.
    pub begun: Option<Begun>,
    /// Where each piece lies on it.
    pub places: Vec<Place>,
    /// In the order made.
    pub cuts: Vec<Cut>,
}

/// What was done to a tile before a plan was made again.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Begun {
    /// What whoever keeps the record of what was cut calls the tile.
    pub name: String,
    /// What was written on the offcuts that it has left: where each lies on it, and which label of the tile's it bears.
    pub written: Vec<(Rect, usize)>,
    /// What came of it and is lost.
    pub gone: Vec<Gone>,
}

/// A part of a tile that was lost before a plan was made again: a piece after it was cut, or what lay on the saw.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Gone {
    /// The piece that it was or was to become.
    pub piece: String,
    /// Where it lay on the tile.
    pub at: Rect,
    /// What whoever keeps the record calls that which became of it: the cut of a piece, or the loss of what lay on the
    /// saw.
    pub entry: String,
}

impl Stock {
    /// What is lost of it.
    pub fn gone(&self) -> &[Gone] {
        self.begun.as_ref().map_or(&[], |begun| &begun.gone)
    }

    /// The same on another tile, of which nothing is lost.
    #[must_use]
    pub fn on_another_tile(&self) -> Self {
        let begun = self.begun.clone().map(|begun| Begun { gone: Vec::new(), ..begun });
        Self { begun, ..self.clone() }
    }

    /// Where the tiler marks a cut: the edge of the part that is kept, with the kerf on the waste side. Where both
    /// parts are kept, that of the first.
    pub fn mark(&self, cut: &Cut, kerf: Length) -> Length {
        let in_first = |place: &Place| match cut.across {
            Axis::X => place.at.right <= cut.at,
            Axis::Y => place.at.top <= cut.at,
        };
        let in_part = |place: &&Place| cut.part.holds(&place.at);
        if self.places.iter().filter(in_part).any(in_first) { cut.at } else { cut.at + kerf }
    }
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
    /// begins. Where less than a kerf is taken off, the blade runs partly beside the part and only the kept part
    /// remains; `at` then may lie outside `part`.
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
