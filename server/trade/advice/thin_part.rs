//! A thin leg beside a notch, or a thin web beside a hole, breaks at the saw or in the hand.

use super::{Advice, Finding, Layout};
use crate::place::Sliver;

/// Common practice; how thin is the job's own setting.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let thin = layout.pieces.iter().filter_map(|piece| match piece.sliver? {
        Sliver::Leg(size) | Sliver::Web(size) => Some((piece.id.clone(), size)),
        Sliver::Narrow(_) | Sliver::Low(_) => None,
    });
    let pieces: Vec<_> = thin.collect();
    vec![Advice {
        rule: "thin-part",
        source: "common practice",
        passes: pieces.is_empty(),
        says: Finding::ThinParts { pieces },
    }]
}
