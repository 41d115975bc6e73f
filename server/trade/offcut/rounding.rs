//! Plans from the linear program: patterns that it uses more than once are used as often, then the one it uses most
//! of once, and so on with what is left ("diving").

use super::board::Board;
use super::kinds::Kinds;
use super::master::{Column, Master};
use super::odd_sets::half_wanted;
use super::relax::{Relaxed, optimise, up};
use super::steps::Steps;

/// The columns of a plan of at most `aim` new tiles, as often as each is used, if diving finds one. Columns may be
/// added from the reserve.
pub(super) fn dive(
    kinds: &Kinds<'_>,
    relaxed: &mut Relaxed,
    reserve: &[Column],
    sets: &[Vec<bool>],
    aim: usize,
    steps: &mut Steps,
) -> Option<Vec<usize>> {
    let mut master = relaxed.master.clone();
    let columns = &mut relaxed.columns;
    let mut wanted = kinds.counts();
    let mut halves: Vec<usize> = sets.iter().map(|set| half_wanted(&wanted, set)).collect();
    let mut chosen: Vec<usize> = Vec::new();
    let mut tiles = 0;
    while wanted.iter().any(|count| *count > 0) {
        for nth in to_fix(&master, columns, &wanted) {
            tiles += usize::from(columns[nth].rack.is_none());
            master.fix(&columns[nth], &mut wanted, &mut halves);
            chosen.push(nth);
        }
        let solved = master.restore(columns, steps) && optimise(&mut master, columns, reserve, steps);
        if !solved || tiles + up(master.tiles(columns)) > aim {
            return None;
        }
    }
    Some(chosen)
}

/// Whole uses, or else the largest part of one.
fn to_fix(master: &Master, columns: &[Column], wanted: &[usize]) -> Vec<usize> {
    let useful = |nth: usize| {
        columns[nth].layout.is_some() && columns[nth].counts.iter().any(|(kind, _)| wanted[*kind] > 0)
    };
    let uses = || master.uses().filter(|(nth, _)| useful(*nth));
    let mut fixed = Vec::new();
    for (nth, amount) in uses() {
        let mut left = amount + 1e-3;
        while left >= 1.0 {
            fixed.push(nth);
            left -= 1.0;
        }
    }
    if fixed.is_empty() {
        let largest = uses().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(nth, _)| nth);
        fixed.extend(largest.or_else(|| wanted.iter().position(|count| *count > 0)));
    }
    fixed
}

/// Cuts the columns from boards, pieces in setting order; nothing where pieces are left over.
pub(super) fn boards<'p>(kinds: &Kinds<'p>, columns: &[Column], chosen: &[usize]) -> Option<Vec<Board<'p>>> {
    let mut wanted = kinds.counts();
    let mut pieces: Vec<Vec<usize>> = kinds.all.iter().map(|kind| kind.pieces.clone()).collect();
    let mut boards = Vec::new();
    for &nth in chosen {
        let column = &columns[nth];
        if let Some(layout) = column.layout.as_ref()?.only(&mut wanted) {
            let mut board = match column.rack {
                None => Board::whole(kinds.problem),
                Some(rack) => Board::racked(kinds.problem, rack),
            };
            layout.lay(kinds, &mut pieces, &mut board);
            boards.push(board);
        }
    }
    wanted.iter().all(|count| *count == 0).then_some(boards)
}
