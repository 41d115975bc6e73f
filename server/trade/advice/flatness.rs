//! How flat a surface must be before this tile goes on it.

use super::{Advice, Finding, Flatness, Layout, longest_side};
use crate::measure::{Length, Surface};

/// A side of 15 in "or longer", so that exactly 15 in is among them.
const LONG: Length = Length::sixty_fourths(15 * 64);

/// ANSI A108.02 4.2.2 as quoted at floortrendsmag.com/articles/113806 and fcimag.com/articles/91628; for smaller tile
/// as quoted in the Tech Talk of TileLetter. Mortar must not make up what is missing (CTEF at the latter).
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let wanted = |flatness: Flatness| {
        let of_it =
            layout.job.surfaces.iter().filter(|surface| flatness_for(layout, surface) == Some(flatness));
        let surfaces: Vec<_> = of_it.map(|surface| surface.id.clone()).collect();
        let says = Finding::Flat { surfaces: surfaces.clone(), flatness };
        let advice = Advice { rule: "flatness", source: "ANSI A108.02 4.2.2", passes: true, says };
        (!surfaces.is_empty()).then_some(advice)
    };
    [Flatness::Tight, Flatness::Ordinary].into_iter().filter_map(wanted).collect()
}

fn flatness_for(layout: &Layout<'_>, surface: &Surface) -> Option<Flatness> {
    let tiles = surface.bands.iter().filter_map(|band| layout.job.tiles.get(&band.tile));
    let longest = tiles.map(longest_side).max()?;
    Some(if longest >= LONG { Flatness::Tight } else { Flatness::Ordinary })
}

impl Flatness {
    /// The most out of flat, and over what length: the long straightedge first.
    pub fn limits(self) -> [(Length, Length); 2] {
        let inches = |whole: i64| Length::sixty_fourths(whole * 64);
        let (ten_feet, sixteenth) = (inches(120), Length::sixty_fourths(4));
        match self {
            Self::Tight => [(Length::sixty_fourths(8), ten_feet), (sixteenth, inches(24))],
            Self::Ordinary => [(Length::sixty_fourths(16), ten_feet), (sixteenth, inches(12))],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by};
    use super::*;

    fn limits(side: Length) -> [(Length, Length); 2] {
        match said_by(advise, &one_wall(side, inches(6, 0)), inches(0, 8)).as_slice() {
            [Advice { says: Finding::Flat { flatness, .. }, passes: true, .. }] => flatness.limits(),
            other => panic!("{other:?}"),
        }
    }

    /// ANSI A108.02: sides under 15 in, 1/4 in in 10 ft and 1/16 in in 12 in; 15 in or longer, 1/8 in in 10 ft and
    /// 1/16 in in 24 in. Read as quoted.
    #[test]
    fn long_tile_wants_a_flatter_wall() {
        let ordinary = [(inches(0, 16), inches(120, 0)), (inches(0, 4), inches(12, 0))];
        let tight = [(inches(0, 8), inches(120, 0)), (inches(0, 4), inches(24, 0))];
        assert_eq!(limits(inches(12, 0)), ordinary);
        assert_eq!(limits(inches(14, 63)), ordinary);
        assert_eq!(limits(inches(15, 0)), tight, "15 in or longer; the edge is derived from the wording");
        assert_eq!(limits(inches(24, 0)), tight);
    }
}
