//! A strip about as thin as the tile is thick breaks at the saw.

use super::{Advice, Finding, Layout};
use crate::measure::Length;
use crate::place::Piece;

/// A strip under this breaks at the saw, or in the hand (common practice): most tile is about so thick.
const LEAST_LEFT: Length = Length::mm(10);

/// Common practice.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let sides = layout.pieces.iter().filter_map(Piece::least_cut_side);
    let thin: Vec<Length> = sides.filter(|side| *side < LEAST_LEFT).collect();
    vec![Advice {
        rule: "thin-strip",
        source: "common practice",
        passes: thin.is_empty(),
        says: Finding::ThinStrips { pieces: thin.len(), least: thin.into_iter().min() },
    }]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::sample::{one_wall, piece};
    use crate::course::Courses;
    use crate::geometry::Rect;

    #[test]
    fn a_course_of_three_sixteenths_is_named_and_one_of_an_inch_is_not() {
        let job = one_wall(Length::mm(598), Length::mm(298));
        let courses = Courses { walls: std::collections::BTreeMap::new() };
        let said = |height: Length| {
            let bounds =
                Rect { left: Length::ZERO, bottom: Length::ZERO, right: Length::mm(598), top: height };
            let pieces = [piece(bounds)];
            let layout = Layout { job: &job, joint: Length::mm(3), courses: &courses, pieces: &pieces };
            advise(&layout).into_iter().next().expect("the rule always says something").passes
        };
        assert!(!said(Length::sixty_fourths(12)));
        assert!(said(Length::sixty_fourths(64)));
        assert!(said(Length::mm(298)), "a whole tile is no strip");
    }
}
