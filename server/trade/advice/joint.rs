//! How narrow a joint may be.

use super::{Advice, Finding, Layout};
use crate::measure::Length;

/// Never below 1/16 in.
const NEVER_BELOW: Length = Length::sixty_fourths(4);

/// At least three times the actual variation in facial dimensions.
const TIMES_VARIATION: i64 = 3;

/// ANSI A108.02 4.3.8, as quoted at tileletter.com/what-is-minimum-grout-joint/.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let variation = layout.job.tiles.values().filter_map(|tile| tile.size_variation).max();
    let least = variation.map_or(NEVER_BELOW, |variation| (variation * TIMES_VARIATION).max(NEVER_BELOW));
    vec![Advice {
        rule: "joint",
        source: "ANSI A108.02 4.3.8",
        passes: layout.joint >= least,
        says: Finding::Joint { joint: layout.joint, least },
    }]
}
