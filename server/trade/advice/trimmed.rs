//! A cut that takes off hardly more than the blade is thick: the tile had better stay whole.

use std::collections::BTreeMap;

use super::{Advice, Finding, Layout};
use crate::measure::{Length, SurfaceId, TileId};
use crate::place::{Mark, Piece};

/// Taking off less than this with a blade chips the edge and wanders (common practice).
const LEAST_OFF: Length = Length::mm(5);

/// Common practice. A cut that tapers follows the base or the ceiling, and nobody chooses what it takes off. Of each wall
/// only the tile that most of it is of is looked at: a strip goes where the field's joints let it.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let mut of_tile: BTreeMap<(&SurfaceId, &TileId), usize> = BTreeMap::new();
    for piece in layout.pieces {
        *of_tile.entry((&piece.surface, &piece.tile)).or_default() += 1;
    }
    let is_field = |piece: &&Piece| {
        let count = of_tile[&(&piece.surface, &piece.tile)];
        of_tile.iter().all(|((surface, _), other)| **surface != piece.surface || *other <= count)
    };
    let off: Vec<Length> = layout.pieces.iter().filter(is_field).filter_map(least_off).collect();
    vec![Advice {
        rule: "trimmed",
        source: "common practice",
        passes: off.is_empty(),
        says: Finding::Trimmed { pieces: off.len(), least: off.into_iter().min() },
    }]
}

/// The least that a straight cut takes off one of the tile's sides, where that is too little.
fn least_off(piece: &Piece) -> Option<Length> {
    let (cell, bounds) = (&piece.cell, &piece.bounds);
    let across = [bounds.left - cell.left, cell.right - bounds.right];
    let along = [bounds.bottom - cell.bottom, cell.top - bounds.top];
    let tapers = piece.marks.iter().any(|mark| match mark {
        Mark::Rip { at, at_other_end, .. } => at != at_other_end,
        Mark::Crosscut { .. } | Mark::Notch { .. } | Mark::Hole { .. } => false,
    });
    let level = along.into_iter().filter(|_| !tapers);
    across.into_iter().chain(level).filter(|off| Length::ZERO < *off && *off < LEAST_OFF).min()
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

    fn passes(pieces: &[Piece]) -> bool {
        let job = one_wall(mm(598), mm(298));
        let courses = Courses { walls: BTreeMap::new() };
        let said = advise(&Layout { job: &job, joint: mm(3), courses: &courses, pieces });
        said.into_iter().next().expect("the rule always says something").passes
    }

    fn cut_to(width: Length, height: Length) -> Piece {
        piece(Rect { left: mm(0), bottom: mm(0), right: width, top: height })
    }

    #[test]
    fn a_whole_tile_trimmed_by_a_sixteenth_is_named() {
        assert!(!passes(&[cut_to(mm(598) - Length::sixty_fourths(4), mm(298))]));
        assert!(!passes(&[cut_to(mm(300), mm(298) - Length::from_units(1))]));
        assert!(passes(&[cut_to(mm(598), mm(298)), cut_to(mm(593), mm(298)), cut_to(mm(300), mm(140))]));
    }

    #[test]
    fn what_is_scribed_to_the_base_is_no_choice_of_the_layout() {
        let rip = Mark::Rip { from: Side::Top, at: mm(297), at_other_end: mm(290) };
        assert!(passes(&[Piece { marks: vec![rip], ..cut_to(mm(598), mm(297)) }]));
    }
}
