//! How many tiles at least.
//!
//! Pieces of different groups never share a tile, so the bounds of the groups add up. For one group several
//! bounds are worked out, and the highest counts. Each gives every piece a price and shows that no tile, however
//! it is cut, holds pieces worth more than `room`; then the tiles are at least the sum of prices over `room`,
//! rounded up. A piece that may lie in several ways is given the least of its prices.
//!
//! - **Area.** Add the kerf to the width and height of every piece and of the tile: what a cut leaves on its two
//!   sides still goes into the part that was cut, so areas add up to at most the tile's. The same holds after
//!   both sizes are replaced by [`Scale`]s: let F(w) be the most that lengths of sum at most w are worth; then
//!   F(w1) + F(w2) <= F(w1 + w2), so going up the cuts, the pieces in a part of w by h are worth at most
//!   F(w) G(h), and in the tile at most F(W) G(H), the scales' own rooms.
//! - **Sides.** Two pieces that lie on the same side of the tile are parted by a cut that meets that side, so
//!   they take disjoint stretches of it, a kerf between: along any side the scaled lengths of those that need it
//!   add up to at most the room of that side. Hence at most two full-height row ends on a tile, one at either
//!   end, and at most two full-width rips. Summed over any choice of sides, since a turned piece may choose.
//! - **Corners.** A piece that needs two sides which meet lies in that corner, and a corner holds one piece: at
//!   most four corner pieces, at most two that need three sides. Summed over any choice of corners.
//! - **Pairs.** Of pieces of which no three share, a tile holds at most two, and two only if they can share: with
//!   the most pairs that can be made, the tiles are at least the pieces less the pairs.
//!
//! The best prices of all are those of a linear program, which takes longer: see the module `relax`.

use std::cmp::Reverse;

use super::Racked;
use super::fronts::Fronts;
use super::kinds::Kinds;
use super::matching::most_pairs;
use super::pricing::Worth;
use super::problem::{Problem, Shape};
use super::relax::{Argument, tiles as tiles_of};
use super::sharing::Sharing;
use super::steps::Steps;
use crate::geometry::{Side, Sides};
use crate::measure::Length;

/// A subset of the sides or of the corners, for each at least one.
const SUBSETS: std::ops::Range<usize> = 1..16;

/// All of them.
const FULL_SUBSET: usize = 15;

const CORNERS: [(Side, Side); 4] = [
    (Side::Left, Side::Bottom),
    (Side::Right, Side::Bottom),
    (Side::Right, Side::Top),
    (Side::Left, Side::Top),
];

/// The most thresholds tried for one direction: with all pairs of them a floor of thousands of pieces is still
/// done in a blink.
const MOST_THRESHOLDS: usize = 16;

/// Steps for looking for pieces of which no three share, and for pairing them.
pub(super) const PAIR_STEPS: usize = 20_000_000;

/// A bound that is quickly found: no plan under the same rules uses fewer tiles than this. That of a plan is at least
/// as high.
pub fn bound(problem: &Problem) -> usize {
    let sharing = Sharing::new(problem);
    let groups = sharing.groups();
    groups.iter().map(|group| quick_bound(&sharing, group, &mut Steps::of(PAIR_STEPS))).sum()
}

/// The bound for pieces that share only with one another.
///
/// Where offcuts lie on the rack, a plan with so many of them and so many tiles is also one with a tile in place of
/// each, so there are at least as many tiles as without a rack, less one for each offcut. A group that none of them serves
/// has no use for them.
pub(super) fn quick_bound(sharing: &Sharing<'_>, group: &[usize], steps: &mut Steps) -> usize {
    let served = group.iter().any(|piece| sharing.rack_serves(*piece));
    let racks = if served { sharing.problem.rack().len() } else { 0 };
    if group.len() <= 1 {
        return group.len().saturating_sub(racks);
    }
    let kinds = count_kinds(sharing, group);
    let problem = sharing.problem;
    let priced = by_area(problem, &kinds).max(by_sides(problem, &kinds)).max(by_corners(problem, &kinds));
    priced.max(by_pairs(sharing, &kinds, steps)).saturating_sub(racks)
}

/// Prices by area in millionths of a tile, rounded down, and what they prove: what goes without saying for pieces so
/// small and many that nothing better is found.
pub(super) fn area_argument(kinds: &Kinds<'_>) -> Argument {
    const MILLION: i128 = 1_000_000;
    let problem = kinds.problem;
    let whole = area(&of_tile(problem));
    let share = |sized: &Sized| i64::try_from(area(sized) * MILLION / whole).unwrap_or(0);
    let each = kinds
        .all
        .iter()
        .map(|kind| if kind.alone { 1_000_000 } else { share(&of_shape(problem, &kind.shapes[0])) });
    let worth = Worth { each: each.collect(), sets: Vec::new() };
    let best = 1_000_000;
    let has_loner = kinds.all.iter().any(|kind| kind.alone);
    let of_rack = |rack: &Racked| {
        if has_loner { best } else { share(&with_kerf(problem, rack.width, rack.height)) }
    };
    let best_of_rack: Vec<i64> = problem.rack().iter().map(of_rack).collect();
    let tiles = tiles_of(&kinds.counts(), &worth, best, &best_of_rack);
    Argument { worth, best, best_of_rack, tiles }
}

/// Equal pieces.
struct Kind {
    pieces: Vec<usize>,
    /// How many of the tile's corners each takes at least.
    corners: u8,
    /// Of each, kerf included.
    area: i128,
}

fn count_kinds(sharing: &Sharing<'_>, group: &[usize]) -> Vec<Kind> {
    let mut kinds = std::collections::BTreeMap::new();
    for &piece in group {
        kinds.entry(sharing.kind(piece)).or_insert_with(Vec::new).push(piece);
    }
    let kind = |pieces: Vec<usize>| {
        let shapes = sharing.problem.shapes(pieces[0]);
        Kind {
            corners: shapes.iter().map(|shape| corners(shape, FULL_SUBSET)).min().unwrap_or(0),
            area: area(&of_shape(sharing.problem, &shapes[0])),
            pieces,
        }
    };
    kinds.into_values().map(kind).collect()
}

/// Tiles needed when each piece has a price and no tile holds more than `room`.
fn tiles(problem: &Problem, kinds: &[Kind], room: i128, price: impl Fn(&Shape) -> i128) -> usize {
    let mut sum: i128 = 0;
    for Kind { pieces, .. } in kinds {
        let least = problem.shapes(pieces[0]).iter().map(&price).min().unwrap_or(0);
        sum += pieces.iter().map(|_| least).sum::<i128>();
    }
    let up = (sum + room - 1) / room;
    usize::try_from(up).expect("no piece is worth more than a tile")
}

/// A way to judge lengths: whenever lengths, each with its kerf, go into the tile's with its kerf, what they are
/// worth goes into what the whole is worth. Dual feasible functions after S. Fekete and J. Schepers,
/// "New classes of fast lower bounds for bin packing problems", 2001 (from memory).
#[derive(Clone, Copy, Debug)]
enum Scale {
    /// As it is.
    Plain,
    /// Multiples of 1/(k+1) of the whole as they are; anything else as many k-ths as it has whole (k+1)-ths. Let
    /// the multiples among some lengths come to A of the k+1 parts: if there are others, rounding them down loses
    /// something, so they count at most k - A, and A/(k+1) + (k-A)/k is at most 1.
    Steps(i128),
    /// Below the threshold nothing; so near the whole that only something below it could be beside, the whole.
    /// Thresholds are at most half the whole.
    Threshold(i128),
}

impl Scale {
    fn of(self, size: i128, whole: i128) -> i128 {
        match self {
            Self::Plain => size,
            Self::Steps(k) => {
                let (full, over) = ((k + 1) * size / whole, (k + 1) * size % whole);
                if over == 0 { full * k } else { full * (k + 1) }
            }
            Self::Threshold(least) if size < least => 0,
            Self::Threshold(least) if size > whole - least => whole,
            Self::Threshold(_) => size,
        }
    }

    const fn room(self, whole: i128) -> i128 {
        match self {
            Self::Plain | Self::Threshold(_) => whole,
            Self::Steps(k) => k * (k + 1),
        }
    }

    /// Those worth trying for lengths as given, kerf included.
    fn for_sizes(sizes: impl Iterator<Item = i128>, whole: i128) -> Vec<Self> {
        let mut thresholds: Vec<i128> = sizes
            .map(|size| if 2 * size <= whole { size } else { whole - size + 1 })
            .filter(|least| *least > 0 && 2 * *least <= whole)
            .collect();
        thresholds.sort_unstable();
        thresholds.dedup();
        let stride = thresholds.len().div_ceil(MOST_THRESHOLDS).max(1);
        let fixed = [Self::Plain, Self::Steps(1), Self::Steps(2), Self::Steps(3), Self::Steps(4)];
        fixed.into_iter().chain(thresholds.into_iter().step_by(stride).map(Self::Threshold)).collect()
    }
}

/// The tile and a piece, kerf included.
struct Sized {
    width: i128,
    height: i128,
}

fn with_kerf(problem: &Problem, width: Length, height: Length) -> Sized {
    let units = |length: Length| i128::from((length + problem.kerf()).units());
    Sized { width: units(width), height: units(height) }
}

fn of_shape(problem: &Problem, shape: &Shape) -> Sized {
    with_kerf(problem, shape.width, shape.height)
}

fn of_tile(problem: &Problem) -> Sized {
    with_kerf(problem, problem.tile_width(), problem.tile_height())
}

const fn area(sized: &Sized) -> i128 {
    sized.width * sized.height
}

fn by_area(problem: &Problem, kinds: &[Kind]) -> usize {
    let tile = of_tile(problem);
    let sizes = || {
        let shapes = kinds.iter().flat_map(|kind| problem.shapes(kind.pieces[0]));
        shapes.map(|shape| of_shape(problem, shape))
    };
    let across = Scale::for_sizes(sizes().map(|sized| sized.width), tile.width);
    let up = Scale::for_sizes(sizes().map(|sized| sized.height), tile.height);
    let mut most = 0;
    for &across in &across {
        for &up in &up {
            let room = across.room(tile.width) * up.room(tile.height);
            let found = tiles(problem, kinds, room, |shape| {
                let sized = of_shape(problem, shape);
                across.of(sized.width, tile.width) * up.of(sized.height, tile.height)
            });
            most = most.max(found);
        }
    }
    most
}

fn by_sides(problem: &Problem, kinds: &[Kind]) -> usize {
    const SCALES: [Scale; 4] = [Scale::Plain, Scale::Steps(1), Scale::Steps(2), Scale::Steps(3)];
    let tile = of_tile(problem);
    let mut most = 0;
    for across in SCALES {
        for up in SCALES {
            let room = (across.room(tile.width), up.room(tile.height));
            for subset in SUBSETS {
                let chosen: Sides = chosen(subset, Side::ALL).collect();
                let price = |shape: &Shape| {
                    let sized = of_shape(problem, shape);
                    let needed = shape.needs.iter().filter(|side| chosen.has(*side));
                    needed
                        .map(|side| match side {
                            Side::Left | Side::Right => up.of(sized.height, tile.height) * room.0,
                            Side::Bottom | Side::Top => across.of(sized.width, tile.width) * room.1,
                        })
                        .sum()
                };
                let sides: i128 = chosen.iter().map(|_| room.0 * room.1).sum();
                most = most.max(tiles(problem, kinds, sides, price));
            }
        }
    }
    most
}

fn by_corners(problem: &Problem, kinds: &[Kind]) -> usize {
    let in_subset = |subset: usize| {
        let room = chosen(subset, CORNERS).map(|_| 1).sum();
        tiles(problem, kinds, room, |shape| i128::from(corners(shape, subset)))
    };
    SUBSETS.map(in_subset).max().unwrap_or(0)
}

/// How many corners of a subset the shape lies in.
fn corners(shape: &Shape, subset: usize) -> u8 {
    chosen(subset, CORNERS).map(|(a, b)| u8::from(shape.needs.has(a) && shape.needs.has(b))).sum()
}

/// Those of four that a subset names.
fn chosen<T>(subset: usize, of: [T; 4]) -> impl Iterator<Item = T> {
    of.into_iter().enumerate().filter(move |(bit, _)| subset & (1 << bit) != 0).map(|(_, item)| item)
}

/// Pieces of which no three share are gathered, the largest first in several senses, then paired.
fn by_pairs(sharing: &Sharing<'_>, kinds: &[Kind], steps: &mut Steps) -> usize {
    let size = |kind: &Kind| sharing.problem.shapes(kind.pieces[0])[0];
    let mut order: Vec<&Kind> = kinds.iter().collect();
    let mut most = 0;
    order.sort_by_key(|kind| Reverse(size(kind).area()));
    most = most.max(pieces_less_pairs(sharing, &order, steps));
    order.sort_by_key(|kind| Reverse(size(kind).width));
    most = most.max(pieces_less_pairs(sharing, &order, steps));
    order.sort_by_key(|kind| Reverse(size(kind).height));
    most.max(pieces_less_pairs(sharing, &order, steps))
}

fn pieces_less_pairs(sharing: &Sharing<'_>, order: &[&Kind], steps: &mut Steps) -> usize {
    let mut gathered: Vec<&Kind> = Vec::new();
    for &kind in order {
        gathered.push(kind);
        if !no_three_with_last(sharing, &gathered, steps) {
            gathered.pop();
        }
    }
    let mut pieces: Vec<usize> = gathered.iter().flat_map(|kind| kind.pieces.iter().copied()).collect();
    pieces.sort_by_key(|piece| Reverse(sharing.problem.shapes(*piece)[0].area()));
    let pairs = most_pairs(pieces.len(), |a, b| sharing.share(pieces[a], pieces[b]), steps);
    if pairs.most { pieces.len() - pairs.mate.iter().flatten().count() / 2 } else { 0 }
}

/// Whether no three of the pieces share of which one at least is of the last kind; no, when steps run out.
fn no_three_with_last(sharing: &Sharing<'_>, gathered: &[&Kind], steps: &mut Steps) -> bool {
    let Some((last, before)) = gathered.split_last() else { return true };
    let share = |a: &Kind, b: &Kind| sharing.share(a.pieces[0], b.pieces[0]);
    let mates: Vec<&Kind> = before.iter().copied().filter(|kind| share(kind, last)).collect();
    let mut apart = |a: &Kind, b: &Kind, c: &Kind| {
        let Some(three) = three_of(a, b, c) else { return true };
        let quick = steps.spend(1) && clearly_too_much(sharing.problem, [a, b, c]);
        quick || (steps.spend(100) && !Fronts::new(sharing.problem, &three).fits(0b111))
    };
    if share(last, last) && !(apart(last, last, last) && mates.iter().all(|mate| apart(mate, last, last))) {
        return false;
    }
    mates.iter().enumerate().all(|(index, a)| {
        let others = mates[index + 1..].iter().filter(|b| share(a, b));
        (!share(a, a) || apart(a, a, last)) && others.into_iter().all(|b| apart(a, b, last))
    })
}

/// Whether they have more corners than a tile, or more area: what most threes fail by, and soon seen.
fn clearly_too_much(problem: &Problem, three: [&Kind; 3]) -> bool {
    three.iter().map(|kind| kind.corners).sum::<u8>() > 4
        || three.iter().map(|kind| kind.area).sum::<i128>() > area(&of_tile(problem))
}

/// A piece of each kind, different ones of equal kinds, if there are enough.
fn three_of(a: &Kind, b: &Kind, c: &Kind) -> Option<[usize; 3]> {
    let same = |other: &Kind, one: &Kind| usize::from(std::ptr::eq(other, one));
    let second = *b.pieces.get(same(a, b))?;
    let third = *c.pieces.get(same(a, c) + same(b, c))?;
    Some([a.pieces[0], second, third])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn lengths_that_go_into_the_tile_are_worth_no_more_than_it(
            whole in 1_i128..200,
            cuts in prop::collection::vec(0_i128..1000, 1..8),
            threshold in 1_i128..100,
            k in 1_i128..9,
        ) {
            let mut ends: Vec<i128> = cuts.iter().map(|cut| cut % (whole + 1)).collect();
            ends.sort_unstable();
            let sizes: Vec<i128> = std::iter::once(ends[0]).chain(ends.windows(2).map(|pair| pair[1] - pair[0])).collect();
            let mut scales = vec![Scale::Plain, Scale::Steps(k)];
            if 2 * threshold <= whole {
                scales.push(Scale::Threshold(threshold));
            }
            scales.extend(Scale::for_sizes(sizes.iter().copied(), whole));
            for scale in scales {
                let worth: i128 = sizes.iter().map(|size| scale.of(*size, whole)).sum();
                prop_assert!(worth <= scale.room(whole), "{scale:?}");
            }
        }
    }
}
