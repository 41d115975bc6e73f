//! A tile saved among a few of the tiles of a plan.
//!
//! By the prices of the proof each tile of a plan wastes what it holds less than the best pattern, and to save one tile
//! is to gather the waste of a whole one. So tiles that together waste that much are taken out of the plan with some
//! others drawn by lot, and their pieces, now few, are planned anew by themselves.

use super::board::Board;
use super::kinds::Kinds;
use super::master::Column;
use super::problem::Problem;
use super::relax::Argument;
use super::rest::{Way, plan};
use super::steps::{Chance, Steps};

/// Steps for one part.
const PART_STEPS: usize = 12_000_000;

/// The prices that say what a tile wastes.
pub(super) struct Waste<'a> {
    pub(super) argument: &'a Argument,
    /// Of each piece of the problem which kind it is, for the pieces that the argument speaks of.
    kind_of: std::collections::BTreeMap<usize, usize>,
}

impl<'a> Waste<'a> {
    pub(super) fn new(kinds: &Kinds<'_>, argument: &'a Argument) -> Self {
        let of = |(index, pieces): (usize, Vec<usize>)| pieces.into_iter().map(move |piece| (piece, index));
        let pieces = kinds.all.iter().map(|kind| kind.pieces.clone()).enumerate();
        Self { argument, kind_of: pieces.flat_map(of).collect() }
    }

    /// What a tile with these pieces holds less than the best.
    fn of(&self, pieces: &[usize]) -> i128 {
        let mut counts = std::collections::BTreeMap::new();
        for piece in pieces {
            *counts.entry(self.kind_of[piece]).or_insert(0) += 1;
        }
        let counts = counts.into_iter().collect();
        self.argument.waste(&Column { counts, rack: None, halves: Vec::new(), layout: None })
    }
}

/// Tries once to do with one tile less; whether it was done.
pub(super) fn save_one<'p>(
    problem: &'p Problem,
    waste: &Waste<'_>,
    whole: &mut Vec<Board<'p>>,
    chance: &mut Chance,
    steps: &mut Steps,
) -> bool {
    let taken = drawn(waste, whole, chance);
    let mut part: Vec<Board<'p>> = taken.iter().map(|nth| whole[*nth].clone()).collect();
    if !steps.spend(whole.len()) || !planned_anew(problem, &mut part, chance, steps) {
        return false;
    }
    let mut nth = 0..;
    whole.retain(|_| nth.next().is_none_or(|nth| !taken.contains(&nth)));
    whole.append(&mut part);
    true
}

/// Tiles that waste a tile together, and others.
fn drawn(waste: &Waste<'_>, plan: &[Board<'_>], chance: &mut Chance) -> std::collections::BTreeSet<usize> {
    let mut new: Vec<(usize, i128)> = plan
        .iter()
        .enumerate()
        .filter(|(_, board)| board.rack().is_none())
        .map(|(nth, board)| (nth, waste.of(board.pieces())))
        .collect();
    for at in (1..new.len()).rev() {
        new.swap(at, chance.below(at + 1));
    }
    // A few wasteful tiles are left where they are, so that it is not the same ones again and again.
    let left_out = chance.below(4) * 10;
    let (mut wasteful, others): (Vec<_>, Vec<_>) =
        new.into_iter().partition(|(_, waste)| *waste > 0 && chance.below(100) >= left_out);
    wasteful.sort_by_key(|(_, waste)| std::cmp::Reverse(*waste));
    let best = i128::from(waste.argument.best);
    let aim = best + best * i128::try_from(chance.below(5)).unwrap_or(0) / 4;
    let mut sum = 0;
    let mut taken = std::collections::BTreeSet::new();
    for (nth, waste) in wasteful {
        if sum < aim {
            sum += waste;
            taken.insert(nth);
        }
    }
    let most = taken.len() + 8 + chance.below(40);
    for (nth, _) in others {
        if taken.len() < most {
            taken.insert(nth);
        }
    }
    taken
}

/// The pieces of a few tiles planned anew with one tile less.
fn planned_anew<'p>(
    problem: &'p Problem,
    part: &mut Vec<Board<'p>>,
    chance: &mut Chance,
    steps: &mut Steps,
) -> bool {
    let Some(aim) = part.len().checked_sub(1) else { return false };
    let mut pieces: Vec<usize> = part.iter().flat_map(|board| board.pieces().iter().copied()).collect();
    pieces.sort_unstable();
    let mut of_part = steps.part(PART_STEPS);
    let anew = plan(problem, &pieces, part, Way { aim, astray: 1 }, chance, &mut of_part);
    steps.put_back(of_part);
    anew.map(|anew| *part = anew).is_some()
}
