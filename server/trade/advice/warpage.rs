//! How far the edge of a tile may be bowed.

use super::{Advice, Finding, Layout, longest_side};
use crate::measure::Length;

/// 0.05 in: the most, however long the edge.
const MOST: Length = Length::from_units(Length::UNITS_PER_SIXTY_FOURTH * 64 / 20);

/// 0.40 % of the edge, as so many in a thousand.
const PER_THOUSAND: i64 = 4;

/// ANSI A137.1 for rectified pressed floor tile, as told by the Tile Council at tcnatile.com/164/. Other tile has
/// limits by its kind, which is not known here, so nothing is said of it; nor where nobody measured the bow.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let rectified = layout.tiles().into_iter().filter(|(_, tile)| tile.rectified == Some(true));
    let bowed = rectified.filter_map(|(id, tile)| {
        let (bow, most) = (tile.warpage?, limit(longest_side(tile)));
        let says = Finding::Warpage { tile: id.clone(), bow, most };
        Some(Advice { rule: "warpage", source: "ANSI A137.1", passes: bow <= most, says })
    });
    bowed.collect()
}

fn limit(edge: Length) -> Length {
    Length::from_units(edge.units() * PER_THOUSAND / 1000).min(MOST)
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by, the_tile};
    use super::*;

    /// ANSI A137.1, read at tcnatile.com/164: 8 in, 0.032 in (printed as 0.03); 24 in, 0.05 in, where 0.4 % would be
    /// 0.096 in.
    #[test]
    fn the_limit_is_a_part_of_the_edge_up_to_a_twentieth_of_an_inch() {
        let mils = |count: i64| Length::from_units(Length::UNITS_PER_SIXTY_FOURTH * 64 * count / 1000);
        assert_eq!(limit(inches(8, 0)), mils(32));
        assert_eq!(limit(inches(24, 0)), mils(50));
        assert!(inches(24, 0).units() * PER_THOUSAND / 1000 >= mils(96).units());
    }

    #[test]
    fn a_bow_over_the_limit_is_named_and_an_unmeasured_one_is_not() {
        let kept = |bow: Option<Length>, rectified: Option<bool>| {
            let mut job = one_wall(inches(24, 0), inches(12, 0));
            job.tiles.entry(the_tile()).and_modify(|tile| (tile.warpage, tile.rectified) = (bow, rectified));
            said_by(advise, &job, inches(0, 8)).first().map(|advice| advice.passes)
        };
        assert_eq!(kept(Some(inches(0, 3)), Some(true)), Some(true));
        assert_eq!(kept(Some(inches(0, 4)), Some(true)), Some(false));
        assert_eq!(kept(Some(inches(0, 4)), Some(false)), None);
        assert_eq!(kept(None, Some(true)), None);
    }
}
