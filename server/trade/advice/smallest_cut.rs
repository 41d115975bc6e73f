//! Usually no cut is smaller than half a tile.

use super::{Advice, Finding, Layout};
use crate::measure::Length;

/// ANSI A108.02 4.3.2, as quoted in a CTEF tile tip, fcimag.com/articles/94659.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let small: Vec<Length> =
        layout.pieces.iter().filter(|piece| !piece.full).filter_map(smaller_than_half).collect();
    vec![Advice {
        rule: "smallest-cut",
        source: "ANSI A108.02 4.3.2",
        passes: small.is_empty(),
        says: Finding::SmallestCut { pieces: small.len(), least: small.into_iter().min() },
    }]
}

/// The lesser side that is under half its tile's, in a direction in which the piece is cut.
fn smaller_than_half(piece: &crate::place::Piece) -> Option<Length> {
    let sides = [(piece.bounds.width(), piece.cell.width()), (piece.bounds.height(), piece.cell.height())];
    sides.into_iter().filter(|(kept, whole)| *kept * 2 < *whole).map(|(kept, _)| kept).min()
}
