//! Usually no cut is smaller than half a tile.

use super::{Advice, Finding, Layout};
use crate::measure::Length;
use crate::place::Piece;

/// ANSI A108.02 4.3.2, as quoted in a CTEF tile tip, fcimag.com/articles/94659.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let cut = layout.pieces.iter().filter(|piece| !piece.full);
    let small: Vec<Length> = cut.filter_map(|piece| smaller_than_half(piece, layout.joint)).collect();
    vec![Advice {
        rule: "smallest-cut",
        source: "ANSI A108.02 4.3.2",
        passes: small.is_empty(),
        says: Finding::SmallestCut { pieces: small.len(), least: small.into_iter().min() },
    }]
}

/// The lesser side that is under half its tile's, in a direction in which the piece is cut. The half tile of a half
/// bond is half a joint short of half, and passes.
fn smaller_than_half(piece: &Piece, joint: Length) -> Option<Length> {
    let sides = [(piece.bounds.width(), piece.cell.width()), (piece.bounds.height(), piece.cell.height())];
    sides.into_iter().filter(|(kept, whole)| *kept * 2 + joint < *whole).map(|(kept, _)| kept).min()
}
