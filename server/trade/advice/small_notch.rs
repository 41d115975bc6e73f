//! A notch of a few millimetres cannot be cut: the blade is about as wide.

use super::{Advice, Finding, Layout};
use crate::measure::Length;
use crate::place::{Mark, Piece, PieceId};

/// Less than this is scribed, or the joint moved: common practice, as for what is taken off with a blade at all.
const LEAST: Length = Length::mm(5);

/// Common practice.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let pieces: Vec<_> = layout.pieces.iter().flat_map(too_small).collect();
    vec![Advice {
        rule: "small-notch",
        source: "common practice",
        passes: pieces.is_empty(),
        says: Finding::SmallNotches { pieces },
    }]
}

/// Its notches of which one side is under the least, each with width and height.
fn too_small(piece: &Piece) -> impl Iterator<Item = (PieceId, Length, Length)> {
    piece.marks.iter().filter_map(|mark| match *mark {
        Mark::Notch { width, height, .. } if width.min(height) < LEAST => {
            Some((piece.id.clone(), width, height))
        }
        Mark::Notch { .. } | Mark::Crosscut { .. } | Mark::Rip { .. } | Mark::Hole { .. } => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::sample::{one_wall, piece};
    use crate::course::Courses;
    use crate::geometry::{Rect, Side};

    fn mm(length: i64) -> Length {
        Length::mm(length)
    }

    fn notched(width: Length, height: Length) -> Piece {
        let bounds = Rect { left: mm(0), bottom: mm(0), right: mm(598), top: mm(298) };
        let from = (Side::Left, Side::Bottom);
        let notch = Mark::Notch { from, x: mm(100), y: mm(0), width, height };
        Piece { full: false, marks: vec![notch], ..piece(bounds) }
    }

    fn said_of(pieces: &[Piece]) -> Advice {
        let job = one_wall(mm(598), mm(298));
        let courses = Courses { walls: std::collections::BTreeMap::new() };
        let said = advise(&Layout { job: &job, joint: mm(3), courses: &courses, pieces });
        said.into_iter().next().expect("the rule always says something")
    }

    #[test]
    fn a_notch_of_a_few_millimetres_is_named_with_its_size() {
        let said = said_of(&[notched(mm(3), mm(2))]);
        assert!(!said.passes);
        let pieces = vec![(PieceId("A1-1".to_owned()), mm(3), mm(2))];
        assert_eq!(said.says, Finding::SmallNotches { pieces });
    }

    #[test]
    fn one_small_side_is_enough_and_five_millimetres_can_be_cut() {
        assert!(!said_of(&[notched(mm(200), mm(5) - Length::from_units(1))]).passes);
        assert!(said_of(&[notched(mm(5), mm(5))]).passes);
        assert!(said_of(&[]).passes);
    }
}
