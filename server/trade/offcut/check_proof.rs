//! Goes over the proof of a plan from the rules alone: why no plan uses fewer tiles.
//!
//! It decides for itself which pieces can share a tile and what pieces cut from one tile can be worth, and shares
//! nothing with the solver. What it cannot decide within counted steps it says so of
//! ([`ProofFault::NotConfirmed`]) and never passes. Of [`Reason::Search`] only the prices can be gone over:
//! that they prove no more tiles than the search is said to have found needed.

use std::collections::{BTreeMap, BTreeSet};

use thiserror::Error;

use super::check::on_the_wall;
use super::check_worth::{Offer, Whole, Worth, most_worth};
use super::proof::{OddSet, Part, Prices, Reason};
use super::{Plan, Problem, Turn, Wanted};
use crate::geometry::{Side, Sides};
use crate::measure::Length;

/// The dearest a piece or a set may be, so that what a tile holds stays a whole number that can be counted.
const MOST_PRICE: i64 = 100_000_000_000;

/// What is wrong with a proof. Parts, sets and racked offcuts are counted from 0 as they stand.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum ProofFault {
    /// A part names a piece that is not wanted.
    #[error("part {part} of the proof: there is no piece {piece}")]
    UnknownPiece {
        /// The part.
        part: usize,
        /// The index it names.
        piece: usize,
    },
    /// In no part, or in more than one.
    #[error("piece {piece} is in {times} parts of the proof")]
    NotInOnePart {
        /// The piece.
        piece: usize,
        /// How often.
        times: usize,
    },
    /// Pieces of different parts can be cut from one tile, so the parts' bounds do not add up.
    #[error("pieces {first} and {second} can share a tile, yet stand in different parts of the proof")]
    PartsMix {
        /// One.
        first: usize,
        /// The other.
        second: usize,
    },
    /// Not one price a piece and one limit a racked offcut, or a price below nothing or beyond counting.
    #[error("part {part} of the proof: the prices are not one for each piece and offcut, or out of range")]
    WrongPrices {
        /// The part.
        part: usize,
    },
    /// A set names a piece twice or of another part, or its price is not above nothing.
    #[error("part {part} of the proof: set {set} is not a set of its pieces with a price")]
    WrongSet {
        /// The part.
        part: usize,
        /// The set.
        set: usize,
    },
    /// A tile can hold more than is said.
    #[error("part {part} of the proof: a tile holds pieces worth {found}, said to be {said} at most")]
    TileHoldsMore {
        /// The part.
        part: usize,
        /// As the proof has it.
        said: i64,
        /// What one tile holds.
        found: i64,
    },
    /// A racked offcut can hold more than is said.
    #[error("part {part} of the proof: offcut {rack} holds pieces worth {found}, said to be {said} at most")]
    RackHoldsMore {
        /// The part.
        part: usize,
        /// The racked offcut.
        rack: usize,
        /// As the proof has it.
        said: i64,
        /// What it holds.
        found: i64,
    },
    /// The prices do not prove this number of tiles.
    #[error("part {part} of the proof: {said} tiles, yet its prices prove {proved}")]
    WrongTiles {
        /// The part.
        part: usize,
        /// As the proof has it.
        said: usize,
        /// What follows from the prices.
        proved: usize,
    },
    /// The plan's bound is not what its parts add up to.
    #[error("the bound is {bound}, yet the parts of the proof add up to {sum}")]
    NotTheSum {
        /// The plan's bound.
        bound: usize,
        /// The sum.
        sum: usize,
    },
    /// Neither right nor wrong for all that could be found out in a bounded time.
    #[error("part {part} of the proof could not be gone over: sizes are too fine or its sets too many")]
    NotConfirmed {
        /// The part.
        part: usize,
    },
}

/// Every fault of the plan's proof; none when it holds. A best pattern that is said to be worth more than any
/// is no fault: it proves less, and no more than that is said.
pub fn check_proof(problem: &Problem, plan: &Plan) -> Vec<ProofFault> {
    let parts = &plan.proof.parts;
    let mut faults = partition_faults(problem, parts);
    if faults.is_empty() {
        faults.extend(mixing_faults(problem, parts));
    }
    for (index, part) in parts.iter().enumerate() {
        faults.extend(part_faults(problem, index, part));
    }
    let sum = parts.iter().map(|part| part.tiles).fold(0, usize::saturating_add);
    if sum != plan.bound {
        faults.push(ProofFault::NotTheSum { bound: plan.bound, sum });
    }
    faults
}

fn partition_faults(problem: &Problem, parts: &[Part]) -> Vec<ProofFault> {
    let mut faults = Vec::new();
    let mut times = vec![0_usize; problem.pieces().len()];
    for (part, piece) in
        parts.iter().enumerate().flat_map(|(at, part)| part.pieces.iter().map(move |p| (at, *p)))
    {
        match times.get_mut(piece) {
            Some(times) => *times += 1,
            None => faults.push(ProofFault::UnknownPiece { part, piece }),
        }
    }
    let wrong = times.into_iter().enumerate().filter(|(_, times)| *times != 1);
    faults.extend(wrong.map(|(piece, times)| ProofFault::NotInOnePart { piece, times }));
    faults
}

/// One fault for every two kinds of piece that stand in different parts and can share a tile. Two are enough: who
/// shares a tile with others shares it with each of them.
fn mixing_faults(problem: &Problem, parts: &[Part]) -> Vec<ProofFault> {
    // For every kind of piece, one of it from each part that has any.
    let mut kinds: BTreeMap<_, BTreeMap<usize, usize>> = BTreeMap::new();
    for (at, part) in parts.iter().enumerate() {
        for &piece in &part.pieces {
            let Wanted { id: _, width, height, factory, alone } = &problem.pieces()[piece];
            if !alone {
                kinds.entry((*width, *height, *factory)).or_default().entry(at).or_insert(piece);
            }
        }
    }
    let kinds: Vec<BTreeMap<usize, usize>> = kinds.into_values().collect();
    let mut faults = Vec::new();
    for (nth, one) in kinds.iter().enumerate() {
        for other in &kinds[nth..] {
            let mut apart = one
                .iter()
                .flat_map(|a| other.iter().map(move |b| (a, b)))
                .filter(|(a, b)| a.0 < b.0 || b.0 < a.0);
            if let Some(((_, &first), (_, &second))) = apart.next()
                && can_share(problem, first, second)
            {
                faults.push(ProofFault::PartsMix { first: first.min(second), second: first.max(second) });
            }
        }
    }
    faults
}

/// A way for a piece to lie on the table.
#[derive(Clone, Copy)]
struct Lying {
    width: Length,
    height: Length,
    needs: Sides,
}

fn ways_to_lie(problem: &Problem, piece: usize) -> Vec<Lying> {
    let Wanted { width, height, factory, .. } = problem.pieces()[piece];
    // Turned back from the wall to the table.
    let needs = |turn| on_the_wall(factory, turn);
    let mut ways = vec![Lying { width, height, needs: factory }];
    if problem.half_turn() {
        ways.push(Lying { width, height, needs: needs(Turn::Half) });
    }
    if problem.quarter_turn() {
        for back in [Turn::ThreeQuarter, Turn::Quarter] {
            ways.push(Lying { width: height, height: width, needs: needs(back) });
        }
    }
    ways
}

/// Whether one cut of a whole tile leaves room for each on its side.
fn can_share(problem: &Problem, first: usize, second: usize) -> bool {
    let (tile_width, tile_height, kerf) = (problem.tile_width(), problem.tile_height(), problem.kerf());
    let alone_fits = |way: &Lying| {
        let both = |a, b| way.needs.has(a) && way.needs.has(b);
        way.width <= tile_width
            && way.height <= tile_height
            && (!both(Side::Left, Side::Right) || way.width == tile_width)
            && (!both(Side::Bottom, Side::Top) || way.height == tile_height)
    };
    let beside = |a: &Lying, b: &Lying| {
        !a.needs.has(Side::Right) && !b.needs.has(Side::Left) && a.width + kerf + b.width <= tile_width
    };
    let above = |a: &Lying, b: &Lying| {
        !a.needs.has(Side::Top) && !b.needs.has(Side::Bottom) && a.height + kerf + b.height <= tile_height
    };
    let (firsts, seconds) = (ways_to_lie(problem, first), ways_to_lie(problem, second));
    firsts.iter().filter(|a| alone_fits(a)).any(|a| {
        let others = seconds.iter().filter(|b| alone_fits(b));
        others.into_iter().any(|b| beside(a, b) || beside(b, a) || above(a, b) || above(b, a))
    })
}

fn part_faults(problem: &Problem, index: usize, part: &Part) -> Vec<ProofFault> {
    let (prices, sets) = match &part.reason {
        Reason::Prices(prices) | Reason::Search { prices, cases: _ } => (prices, &[][..]),
        Reason::OddSets { prices, sets } => (prices, &sets[..]),
    };
    let countable = |price: &i64| (0..=MOST_PRICE).contains(price);
    if prices.each.len() != part.pieces.len()
        || prices.best_of_rack.len() != problem.rack().len()
        || !prices.each.iter().all(countable)
    {
        return vec![ProofFault::WrongPrices { part: index }];
    }
    let wrong_sets = sets.iter().enumerate().filter(|(_, set)| !is_set(set, part));
    let mut faults: Vec<ProofFault> =
        wrong_sets.map(|(set, _)| ProofFault::WrongSet { part: index, set }).collect();
    if faults.is_empty() {
        faults.extend(worth_faults(problem, index, part, prices, sets));
        faults.extend(tiles_fault(index, part, prices, sets));
    }
    faults
}

fn is_set(set: &OddSet, part: &Part) -> bool {
    let members: BTreeSet<usize> = set.pieces.iter().copied().collect();
    let of_part: BTreeSet<usize> = part.pieces.iter().copied().collect();
    members.len() == set.pieces.len() && members.is_subset(&of_part) && (1..=MOST_PRICE).contains(&set.price)
}

/// Whether a tile or a racked offcut holds more than is said.
fn worth_faults(
    problem: &Problem,
    index: usize,
    part: &Part,
    prices: &Prices,
    sets: &[OddSet],
) -> Vec<ProofFault> {
    let offers = offers(problem, part, prices, sets);
    let set_prices: Vec<i64> = sets.iter().map(|set| set.price).collect();
    let tile = Whole { width: problem.tile_width(), height: problem.tile_height(), own: Sides::ALL };
    let racked =
        problem.rack().iter().map(|rack| Whole { width: rack.width, height: rack.height, own: rack.factory });
    let mut faults = Vec::new();
    let mut hold = |whole, said: i64, too_much: &dyn Fn(i64) -> ProofFault| match most_worth(
        whole,
        problem.kerf(),
        &offers,
        &set_prices,
    ) {
        Worth::Exactly(found) if found > said => faults.push(too_much(found)),
        Worth::AtMost(limit) if limit > said => faults.push(ProofFault::NotConfirmed { part: index }),
        Worth::Unknown => faults.push(ProofFault::NotConfirmed { part: index }),
        Worth::Exactly(_) | Worth::AtMost(_) => {}
    };
    let said = prices.best_pattern;
    hold(tile, said, &|found| ProofFault::TileHoldsMore { part: index, said, found });
    for (rack, (whole, &said)) in racked.zip(&prices.best_of_rack).enumerate() {
        hold(whole, said, &|found| ProofFault::RackHoldsMore { part: index, rack, said, found });
    }
    faults
}

fn offers(problem: &Problem, part: &Part, prices: &Prices, sets: &[OddSet]) -> Vec<Offer> {
    let mut offers = Vec::new();
    for (&piece, &price) in part.pieces.iter().zip(&prices.each) {
        let Some(wanted) = problem.pieces().get(piece) else { continue };
        // Of more sets than there are bits nothing can be said, nor is it.
        let member = (0..).map_while(|bit| 1_usize.checked_shl(bit)).zip(sets);
        let sets = member.filter(|(_, set)| set.pieces.contains(&piece)).map(|(bit, _)| bit).sum();
        let lying = ways_to_lie(problem, piece).into_iter();
        offers.extend(lying.map(|Lying { width, height, needs }| Offer {
            width,
            height,
            needs,
            price,
            sets,
            alone: wanted.alone,
        }));
    }
    offers
}

/// Whether the tiles follow from the prices: the worth of all pieces, less what the rack can hold, over what a
/// tile can hold, rounded up.
fn tiles_fault(index: usize, part: &Part, prices: &Prices, sets: &[OddSet]) -> Option<ProofFault> {
    let begun_pairs =
        |set: &OddSet| -> i128 { set.pieces.iter().step_by(2).map(|_| i128::from(set.price)).sum() };
    let pieces: i128 = prices.each.iter().map(|price| i128::from(*price)).sum();
    let rack: i128 = prices.best_of_rack.iter().map(|worth| i128::from(*worth)).sum();
    let left = (pieces + sets.iter().map(begun_pairs).sum::<i128>() - rack).max(0);
    let proved = match i128::from(prices.best_pattern) {
        ..=0 => 0,
        best => usize::try_from((left + best - 1) / best).unwrap_or(usize::MAX),
    };
    let said = part.tiles;
    let follows = match part.reason {
        Reason::Prices(_) | Reason::OddSets { .. } => proved == said,
        // More than the prices prove is what the search found.
        Reason::Search { .. } => proved <= said,
    };
    (!follows).then_some(ProofFault::WrongTiles { part: index, said, proved })
}

#[cfg(test)]
mod tests;
