//! How much of a tile's back the mortar must reach.

use super::{Advice, Finding, Layout};

/// ANSI A108.5 2.2.3 as told in the NTCA Reference Manual 2024-25 p. 199: not less than 80 % where it stays dry
/// indoors, 95 % in showers, wet places and outdoors. Where a surface is wet is not known here, so both are said. The
/// only way to know is to lift a tile (the same page).
pub fn advise(_: &Layout<'_>) -> Vec<Advice> {
    let says = Finding::Coverage { dry: 80, wet: 95 };
    vec![Advice { rule: "coverage", source: "ANSI A108.5 2.2.3", passes: true, says }]
}
