//! What is left of the pieces once some tiles are fixed, planned by itself.
//!
//! Level by level ("diving", R. Sadykov, F. Vanderbeck and others, "Primal heuristics for branch and price: the assets
//! of diving methods", 2019): the linear program of the pieces that are left, with patterns looked for until it needs
//! no more tiles than there are; the patterns that it uses whole are cut, or else the one that it uses most of; and the
//! few pieces left after that are a smaller problem of their own kinds. Where that leads to nothing another choice is
//! made, but on few levels at once (W. Harvey and M. Ginsberg, "Limited discrepancy search", 1995).

use std::collections::{BTreeMap, BTreeSet};

use super::board::Board;
use super::exact::first_columns;
use super::kinds::Kinds;
use super::master::Column;
use super::problem::Problem;
use super::relax::{Relaxed, begin, widen};
use super::rounding::{State, choices};
use super::steps::{Chance, Steps};

/// What is chosen at one level: tiles to cut, the pieces left in setting order, and patterns of theirs that are known.
pub(super) struct Chosen<'p> {
    pub(super) boards: Vec<Board<'p>>,
    left: Vec<usize>,
    known: Known,
}

/// Patterns as counts of kinds of the level above.
type Known = Vec<Column>;

/// How to go on.
#[derive(Clone, Copy)]
pub(super) struct Way {
    /// The most new tiles.
    pub(super) aim: usize,
    /// On how many levels at once another choice may be made.
    pub(super) astray: usize,
}

/// Plans pieces in setting order that no racked offcut serves, from tiles that are one way to cut them. Nothing where it
/// takes more tiles than aimed at, as far as was found.
pub(super) fn plan<'p>(
    problem: &'p Problem,
    pieces: &[usize],
    known: &[Board<'p>],
    way: Way,
    chance: &mut Chance,
    steps: &mut Steps,
) -> Option<Vec<Board<'p>>> {
    let kinds = Kinds::new(problem, pieces);
    let columns = first_columns(&kinds, known);
    descend(&kinds, columns, way, chance, steps)
}

/// The same once some tiles were chosen, with these in front.
pub(super) fn finish<'p>(
    problem: &'p Problem,
    chosen: Chosen<'p>,
    way: Way,
    chance: &mut Chance,
    steps: &mut Steps,
) -> Option<Vec<Board<'p>>> {
    let Chosen { mut boards, left, known } = chosen;
    let aim = way.aim.checked_sub(boards.len())?;
    if !left.is_empty() {
        let kinds = Kinds::new(problem, &left);
        let mut columns = first_columns(&kinds, &[]);
        columns.extend(known);
        boards.extend(descend(&kinds, columns, Way { aim, ..way }, chance, steps)?);
    }
    Some(boards)
}

fn descend<'p>(
    kinds: &Kinds<'p>,
    columns: Vec<Column>,
    way: Way,
    chance: &mut Chance,
    steps: &mut Steps,
) -> Option<Vec<Board<'p>>> {
    // Swaps are looked for among all pairs, and the patterns gone through at each choice.
    let count = kinds.all.len();
    if !steps.spend(count * count / 8 + 4 * columns.len()) {
        return None;
    }
    let mut relaxed = begin(kinds, columns, &[], kinds.swaps(), steps);
    if !widen(kinds, &mut relaxed, way.aim, steps) {
        return None;
    }
    let first = choose(kinds, &mut relaxed, None)?;
    let found = finish(kinds.problem, first, way, chance, steps);
    if found.is_some() || way.astray == 0 || steps.spent() {
        return found;
    }
    let second = choose(kinds, &mut relaxed, Some(chance))?;
    finish(kinds.problem, second, Way { astray: way.astray - 1, ..way }, chance, steps)
}

/// What the program uses whole, or most of; by lot some of it only.
pub(super) fn choose<'p>(
    kinds: &Kinds<'p>,
    relaxed: &mut Relaxed,
    mut chance: Option<&mut Chance>,
) -> Option<Chosen<'p>> {
    let Relaxed { columns, master } = relaxed;
    let known = columns.len();
    let mut state = State::new(kinds, master.clone());
    let share = chance.as_deref_mut().map(|chance| 10 + chance.below(30));
    let mut chosen = Vec::new();
    for choice in choices(&state, columns, false, chance.as_deref_mut()) {
        let left_out =
            share.zip(chance.as_deref_mut()).is_some_and(|(share, chance)| chance.below(100) < share);
        if left_out && !chosen.is_empty() {
            continue;
        }
        if let Some(choice) = state.fitted(kinds, choice, columns, &[], chosen.is_empty()) {
            state.take(&columns[choice]);
            chosen.push(choice);
        }
    }
    let mut wanted = kinds.counts();
    let mut pieces: Vec<Vec<usize>> = kinds.all.iter().map(|kind| kind.pieces.clone()).collect();
    let mut boards = Vec::new();
    for nth in chosen {
        // One that the others have left nothing to give is not cut.
        let layout = columns[nth].layout.as_ref().and_then(|layout| layout.only(&mut wanted));
        let Some(layout) = layout else { continue };
        let mut board = Board::whole(kinds.problem);
        layout.lay(kinds, &mut pieces, &mut board);
        boards.push(board);
    }
    columns.truncate(known);
    if boards.is_empty() {
        return None;
    }
    let known = known_of(kinds, columns, &pieces, &wanted);
    let mut left: Vec<usize> = pieces.into_iter().flatten().collect();
    left.sort_unstable();
    Some(Chosen { boards, left, known })
}

/// What is left of the patterns, by the kinds of the pieces that are left.
fn known_of(kinds: &Kinds<'_>, columns: &[Column], pieces: &[Vec<usize>], wanted: &[usize]) -> Known {
    // Kinds are numbered by their earliest piece.
    let of_kinds = pieces.iter().enumerate();
    let firsts: BTreeMap<usize, usize> =
        of_kinds.filter_map(|(kind, pieces)| Some((*pieces.iter().min()?, kind))).collect();
    let mut number = vec![None; kinds.all.len()];
    firsts.values().enumerate().for_each(|(nth, kind)| number[*kind] = Some(nth));
    let mut seen = BTreeSet::new();
    let mut known = Vec::new();
    for column in columns.iter().filter(|column| column.rack.is_none()) {
        let layout = column.layout.as_ref().and_then(|layout| layout.only(&mut wanted.to_vec()));
        let Some(layout) = layout.and_then(|layout| layout.numbered(&number)) else { continue };
        let column = Column::of_layout(firsts.len(), layout);
        if column.counts.iter().map(|(_, count)| count).sum::<u32>() > 1 && seen.insert(column.counts.clone())
        {
            known.push(column);
        }
    }
    known
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offcut::{Plan, Problem, check, rooms, solve};

    fn planned(problem: &Problem, aim: usize) -> Option<Vec<Board<'_>>> {
        let pieces: Vec<usize> = (0..problem.pieces().len()).collect();
        plan(problem, &pieces, &[], Way { aim, astray: 2 }, &mut Chance::new(), &mut Steps::of(400_000_000))
    }

    #[test]
    fn whole_rooms_are_planned_in_few_tiles_more_than_the_fewest_and_never_in_fewer() {
        for seed in 0..8 {
            let problem = Problem::new(rooms::room(seed, 60)).expect("can be cut");
            let known = solve(&problem);
            assert!(known.is_proved(), "room {seed}");
            let boards = planned(&problem, known.tiles() + 3).unwrap_or_else(|| panic!("room {seed}"));
            let mut stock: Vec<_> = boards.iter().map(Board::stock).collect();
            stock.sort_by_key(|stock| stock.places.iter().map(|place| place.piece).min());
            assert_eq!(check(&problem, &Plan { stock, ..known.clone() }), [], "room {seed}");
            assert!(planned(&problem, known.bound - 1).is_none(), "room {seed}");
        }
    }

    #[test]
    fn a_few_tiles_of_a_plan_are_planned_anew_with_one_less() {
        // Three thirds and two halves, each cut from a tile of its own.
        let problem = Problem::new(rooms::stock(300, &[100, 100, 100, 150, 150])).expect("can be cut");
        let pieces: Vec<usize> = (0..5).collect();
        let alone = |piece: usize| {
            let kinds = Kinds::new(&problem, &[piece]);
            let layout = first_columns(&kinds, &[]).remove(0).layout.expect("one piece");
            let mut board = Board::whole(&problem);
            layout.lay(&kinds, &mut [vec![piece]], &mut board);
            board
        };
        let wasteful: Vec<Board<'_>> = pieces.iter().map(|piece| alone(*piece)).collect();
        let way = Way { aim: 2, astray: 1 };
        let anew = plan(&problem, &pieces, &wasteful, way, &mut Chance::new(), &mut Steps::of(1_000_000));
        assert_eq!(anew.map(|boards| boards.len()), Some(2));
    }
}
