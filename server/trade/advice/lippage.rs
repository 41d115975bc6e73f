//! How far the edge of one tile may stand above the next.

use super::{Advice, Finding, Layout};
use crate::measure::Length;

/// Joints narrower than this allow 1/32 in, this and wider ones 1/16 in.
const WIDE_JOINT: Length = Length::sixty_fourths(16);
const AT_NARROW: Length = Length::sixty_fourths(2);
const AT_WIDE: Length = Length::sixty_fourths(4);

/// ANSI A108.02 4.3.7 as quoted at tileletter.com/2016/02/7950/: the allowance and the actual bow of the tile, not
/// the allowable one (tileusa.com/lippage_faq.htm). Left out where nobody measured the bow.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let allowance = if layout.joint < WIDE_JOINT { AT_NARROW } else { AT_WIDE };
    let bowed = layout.tiles().into_iter().filter_map(|(id, tile)| Some((id, tile.warpage?)));
    let says = bowed.map(|(id, bow)| Finding::Lippage { tile: id.clone(), allowance, bow });
    says.map(|says| Advice { rule: "lippage", source: "ANSI A108.02 4.3.7", passes: true, says }).collect()
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by, the_tile};
    use super::*;

    fn most(joint: Length, bow: Option<Length>) -> Option<Length> {
        let mut job = one_wall(inches(24, 0), inches(12, 0));
        job.tiles.entry(the_tile()).and_modify(|tile| tile.warpage = bow);
        match said_by(advise, &job, joint).as_slice() {
            [] => None,
            [Advice { says: Finding::Lippage { allowance, bow, .. }, .. }] => Some(*allowance + *bow),
            other => panic!("{other:?}"),
        }
    }

    /// ANSI A108.02 4.3.7: 1/8 in joint and an actual bow of 1/16 in, 3/32 in (the rule read, the sum derived); a
    /// joint of 1/4 in or wider, 1/16 in (read).
    #[test]
    fn the_allowance_is_the_joints_and_the_tiles_own_bow() {
        assert_eq!(most(inches(0, 8), Some(inches(0, 4))), Some(inches(0, 6)));
        assert_eq!(most(inches(0, 16), Some(Length::ZERO)), Some(inches(0, 4)));
        assert_eq!(most(inches(0, 15), Some(Length::ZERO)), Some(inches(0, 2)));
        assert_eq!(most(inches(0, 8), None), None);
    }
}
