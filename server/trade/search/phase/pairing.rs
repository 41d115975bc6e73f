//! How few tiles the row ends of one kind come from, at most two a tile.
//!
//! A row end keeps its whole height and one of the tile's upright sides, so no tile holds three; two share one when
//! their widths and a kerf are at most the tile. Pieces alone between two ends need neither side, and more than two may
//! come from a tile: here they pair like the rest.

/// So many pieces of one width.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Cut {
    pub(super) width: i64,
    pub(super) count: i64,
}

/// Where any two may share by size alone: the largest, if the smallest does not fit beside it, is alone in its tile,
/// and else they are paired. Whatever a best pairing does with those two, one with this pair is as good: what the
/// smallest was paired with fits beside whatever the largest was paired with, which is no larger.
pub(super) fn tiles_for(cuts: &mut [Cut], reach: i64) -> i64 {
    cuts.sort_unstable();
    let mut tiles = 0;
    let (mut low, mut high) = (0, cuts.len());
    while low < high {
        let (smallest, largest) = (cuts[low], cuts[high - 1]);
        let fits = smallest.width + largest.width <= reach;
        if low + 1 == high {
            return tiles
                + if fits { smallest.count.div_euclid(2) + smallest.count % 2 } else { smallest.count };
        }
        let together = if fits { smallest.count.min(largest.count) } else { 0 };
        if together == 0 {
            tiles += largest.count;
            high -= 1;
            continue;
        }
        tiles += together;
        cuts[low].count -= together;
        cuts[high - 1].count -= together;
        low += usize::from(cuts[low].count == 0);
        high -= usize::from(cuts[high - 1].count == 0);
    }
    tiles
}

/// Where the tile is never turned, a left end shares only with a right one: the largest left end takes the smallest
/// right one beside it, and if that does not fit it is alone. A smaller left end has room for every right one that a
/// larger has, so nothing is lost.
pub(super) fn tiles_for_directional(left: &mut [Cut], right: &mut [Cut], reach: i64) -> i64 {
    left.sort_unstable();
    right.sort_unstable();
    let mut tiles = 0;
    let mut next = 0;
    for cut in left.iter().rev() {
        tiles += cut.count;
        let mut alone = cut.count;
        while alone > 0
            && let Some(smallest) = right.get_mut(next)
        {
            if cut.width + smallest.width > reach {
                break;
            }
            let together = alone.min(smallest.count);
            alone -= together;
            smallest.count -= together;
            next += usize::from(smallest.count == 0);
        }
    }
    tiles + right.iter().map(|cut| cut.count).sum::<i64>()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The most pairs, by trying everything.
    fn most_pairs(free: &[(i64, bool)], reach: i64, any_two: bool) -> i64 {
        let Some(((width, side), rest)) = free.split_first() else { return 0 };
        let alone = most_pairs(rest, reach, any_two);
        let paired =
            (0..rest.len()).filter(|at| width + rest[*at].0 <= reach && (any_two || rest[*at].1 != *side));
        let paired = paired.map(|at| {
            let others: Vec<_> = [&rest[..at], &rest[at + 1..]].concat();
            1 + most_pairs(&others, reach, any_two)
        });
        paired.chain([alone]).max().unwrap_or(0)
    }

    proptest! {
        #![proptest_config(crate::cases(200))]

        #[test]
        fn as_few_tiles_as_trying_every_pairing_finds(
            cuts in prop::collection::vec((1_i64..100, 1_i64..3, any::<bool>()), 0..5), reach in 40_i64..140
        ) {
            let each: Vec<(i64, bool)> = cuts
                .iter()
                .flat_map(|(width, count, side)| (0..*count).map(move |_| (*width, *side)))
                .collect();
            let pieces = i64::try_from(each.len()).unwrap();
            let of = |wanted: Option<bool>| -> Vec<Cut> {
                let on = cuts.iter().filter(|(.., side)| wanted.is_none_or(|wanted| wanted == *side));
                on.map(|(width, count, _)| Cut { width: *width, count: *count }).collect()
            };
            prop_assert_eq!(tiles_for(&mut of(None), reach), pieces - most_pairs(&each, reach, true));
            let directional = tiles_for_directional(&mut of(Some(false)), &mut of(Some(true)), reach);
            prop_assert_eq!(directional, pieces - most_pairs(&each, reach, false));
        }
    }
}
