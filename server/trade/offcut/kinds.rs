//! Equal pieces put together, so that a plan need only say how many of each kind come from a tile.

use std::collections::BTreeMap;

use super::problem::{Problem, Shape};

/// The kinds of some pieces, the one with the earliest piece first.
pub(super) struct Kinds<'p> {
    pub(super) problem: &'p Problem,
    pub(super) all: Vec<Kind<'p>>,
}

/// Pieces that ask the same of the table, however they are turned on the wall.
pub(super) struct Kind<'p> {
    /// In setting order.
    pub(super) pieces: Vec<usize>,
    pub(super) shapes: &'p [Shape],
    /// Each has its tile alone.
    pub(super) alone: bool,
}

impl<'p> Kinds<'p> {
    /// Of pieces in setting order.
    pub(super) fn new(problem: &'p Problem, group: &[usize]) -> Self {
        let mut known = BTreeMap::new();
        let mut all: Vec<Kind<'p>> = Vec::new();
        for &piece in group {
            let shapes = problem.shapes(piece);
            let alone = problem.pieces()[piece].alone;
            let mut asks: Vec<_> =
                shapes.iter().map(|shape| (shape.width, shape.height, shape.needs)).collect();
            asks.sort_unstable();
            let kind = *known.entry((asks, alone)).or_insert(all.len());
            if kind == all.len() {
                all.push(Kind { pieces: Vec::new(), shapes, alone });
            }
            all[kind].pieces.push(piece);
        }
        Self { problem, all }
    }

    /// How many of each are wanted.
    pub(super) fn counts(&self) -> Vec<usize> {
        self.all.iter().map(|kind| kind.pieces.len()).collect()
    }
}
