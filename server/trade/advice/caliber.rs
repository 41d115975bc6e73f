//! By how much the tiles measured may differ from each other.

use super::{Advice, Finding, Layout, longest_side};
use crate::measure::{Length, Tile};

/// 0.03 in, rounded down to a unit: rectified tile stays within this of the average, or within [`PER_TEN_THOUSAND`].
const RECTIFIED: Length = Length::from_units(Length::UNITS_PER_SIXTY_FOURTH * 64 * 3 / 100);

/// 0.25 %, as so many in ten thousand.
const PER_TEN_THOUSAND: i64 = 25;

/// Calibrated tile over 6 in may range over this.
const CALIBRATED: Length = Length::mm(2);
const CALIBRATED_OVER: Length = Length::sixty_fourths(6 * 64);

/// ANSI A137.1: rectified as told by the Tile Council at tcna.thenextwave.biz/2012/08/07/what-is-caliber-range/,
/// calibrated as told at tileletter.com/large-format-tile-know-your-numbers. The range that was measured cannot lie
/// within the limits where it is wider than from the lower to the upper; which side it was measured on is not known,
/// so the longer one counts, which is allowed more. Left out where nobody measured it or said how the edges are made.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let measured = layout.tiles().into_iter().filter_map(|(id, tile)| {
        let (range, rectified) = (tile.size_variation?, tile.rectified?);
        let most = if rectified { from_the_average(longest_side(tile)) * 2 } else { for_calibrated(tile)? };
        let says = Finding::Caliber { tile: id.clone(), rectified, range, most };
        Some(Advice { rule: "caliber", source: "ANSI A137.1", passes: range <= most, says })
    });
    measured.collect()
}

/// The lesser of 0.25 % of the side and 0.03 in, either way from the average.
fn from_the_average(side: Length) -> Length {
    Length::from_units(side.units() * PER_TEN_THOUSAND / 10_000).min(RECTIFIED)
}

fn for_calibrated(tile: &Tile) -> Option<Length> {
    (longest_side(tile) > CALIBRATED_OVER).then_some(CALIBRATED)
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by, the_tile};
    use super::*;

    /// Thousandths of an inch, rounded down.
    fn mils(count: i64) -> Length {
        Length::from_units(Length::UNITS_PER_SIXTY_FOURTH * 64 * count / 1000)
    }

    /// ANSI A137.1, read: an 8 in average may range from 7.98 to 8.02 in, and 24 in by 0.03 in either way.
    #[test]
    fn rectified_tile_stays_within_a_quarter_per_cent_and_three_hundredths() {
        assert_eq!(from_the_average(inches(8, 0)), mils(20));
        assert_eq!(from_the_average(inches(24, 0)), mils(30));
    }

    #[test]
    fn tile_that_differs_by_more_than_it_may_is_named() {
        let kept = |side: Length, rectified: Option<bool>, range: Length| {
            let mut job = one_wall(side, side);
            job.tiles.entry(the_tile()).and_modify(|tile| {
                (tile.rectified, tile.size_variation) = (rectified, Some(range));
            });
            said_by(advise, &job, inches(0, 8)).first().map(|advice| advice.passes)
        };
        assert_eq!(kept(inches(8, 0), Some(true), mils(40)), Some(true));
        assert_eq!(kept(inches(8, 0), Some(true), mils(41)), Some(false));
        assert_eq!(kept(inches(12, 0), Some(false), Length::mm(2)), Some(true));
        assert_eq!(kept(inches(12, 0), Some(false), Length::mm(3)), Some(false));
        assert_eq!(kept(inches(6, 0), Some(false), Length::mm(3)), None, "6 in and less are not spoken of");
        assert_eq!(kept(inches(12, 0), None, Length::mm(3)), None);
    }
}
