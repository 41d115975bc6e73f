//! A tile saved among a few of the tiles of a plan.
//!
//! By the prices of the proof each tile of a plan wastes what it holds less than the best pattern, and to save one tile
//! is to gather the waste of a whole one. So tiles that together waste that much are taken out of the plan with some
//! others drawn by lot, and their pieces, now few, are planned anew from the linear program over their own patterns.

use super::board::Board;
use super::exact::first_columns;
use super::kinds::Kinds;
use super::master::Column;
use super::patterns::Pool;
use super::relax::{Argument, begin};
use super::rounding::{Manner, Outcome, boards as boards_of, search};
use super::steps::{Chance, Steps};

/// Steps for the patterns of one part, and for its program with one dive.
const POOL_STEPS: usize = 1_500_000;
const DIVE_STEPS: usize = 12_000_000;

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
    kinds: &Kinds<'p>,
    waste: &Waste<'_>,
    plan: &mut Vec<Board<'p>>,
    chance: &mut Chance,
    steps: &mut Steps,
) -> bool {
    let taken = drawn(waste, plan, chance);
    let mut part: Vec<Board<'p>> = taken.iter().map(|nth| plan[*nth].clone()).collect();
    if !steps.spend(plan.len()) || !planned_anew(kinds, waste, &mut part, chance, steps) {
        return false;
    }
    let mut nth = 0..;
    plan.retain(|_| nth.next().is_none_or(|nth| !taken.contains(&nth)));
    plan.append(&mut part);
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
    whole: &Kinds<'p>,
    waste: &Waste<'_>,
    part: &mut Vec<Board<'p>>,
    chance: &mut Chance,
    steps: &mut Steps,
) -> bool {
    let Some(aim) = part.len().checked_sub(1) else { return false };
    let mut pieces: Vec<usize> = part.iter().flat_map(|board| board.pieces().iter().copied()).collect();
    pieces.sort_unstable();
    let kinds = Kinds::new(whole.problem, &pieces);
    let mut pool = Pool::new(&kinds, &mut steps.part(POOL_STEPS)).columns();
    let spare =
        part.iter().map(|board| waste.of(board.pieces())).sum::<i128>() - i128::from(waste.argument.best);
    let wasted = |column: &Column| {
        let of_kind = |(kind, count): &(usize, u32)| (waste.kind_of[&kinds.all[*kind].pieces[0]], *count);
        let counts = column.counts.iter().map(of_kind).collect();
        waste.argument.waste(&Column { counts, rack: None, halves: Vec::new(), layout: None })
    };
    pool.retain(|column| column.rack.is_none() && wasted(column) <= spare);
    let mut of_part = steps.part(DIVE_STEPS);
    let mut relaxed = begin(&kinds, first_columns(&kinds, part), &pool, Vec::new(), &mut of_part);
    for lot in [false, true] {
        let manner = Manner { aim, cases: 200, thorough: false };
        let lot = lot.then_some(&mut *chance);
        let found = search(&kinds, &mut relaxed, &pool, &[], manner, lot, &mut of_part);
        if let Outcome::Found(chosen) = found
            && let Some(anew) = boards_of(&kinds, &relaxed.columns, &chosen)
        {
            *part = anew;
            return true;
        }
    }
    false
}
