//! At a bare edge only a factory edge may show.

use super::{Advice, Finding, Layout};

/// Common practice.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let shown = layout.pieces.iter().filter(|piece| !piece.shows.is_empty());
    let pieces: Vec<_> = shown.map(|piece| piece.id.clone()).collect();
    vec![Advice {
        rule: "cut-edge-shows",
        source: "common practice",
        passes: pieces.is_empty(),
        says: Finding::CutEdgeShows { pieces },
    }]
}
