//! What the choice of course lines could not keep to.

use super::{Advice, Finding, Layout};
use crate::course::CourseFlag;

/// Common practice: what hides the gap under a propped course must cover it; a strip stands where it is wanted.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let flags =
        layout.courses.walls.iter().flat_map(|(id, wall)| wall.flags.iter().map(move |flag| (id, flag)));
    flags
        .map(|(id, flag)| {
            let surface = id.clone();
            let (rule, says) = match *flag {
                CourseFlag::PropGapTooLarge { largest, allowed } => {
                    ("prop-gap", Finding::PropGap { surface, largest, allowed })
                }
                CourseFlag::StripOutOfRange { bottom, lowest, highest, .. } => {
                    ("strip", Finding::StripMisses { surface, bottom, lowest, highest })
                }
            };
            Advice { rule, source: "common practice", passes: false, says }
        })
        .collect()
}
