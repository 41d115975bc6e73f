//! Plans from the linear program: patterns that it uses more than once are used as often, then the one it uses most
//! of once, and so on with what is left ("diving").

use super::board::Board;
use super::kinds::Kinds;
use super::master::{Column, Master};
use super::relax::up;
use super::steps::Steps;

/// The columns of a plan of at most `aim` new tiles, as often as each is used, if diving finds one.
pub(super) fn dive(
    kinds: &Kinds<'_>,
    columns: &[Column],
    aim: usize,
    steps: &mut Steps,
) -> Option<Vec<usize>> {
    let racks = kinds.problem.rack().len();
    let mut wanted = kinds.counts();
    let mut idle = vec![true; racks];
    let mut chosen: Vec<usize> = Vec::new();
    let mut tiles = 0;
    while wanted.iter().any(|count| *count > 0) {
        let usable: Vec<Column> = columns.iter().map(|column| usable(column, &wanted, &idle)).collect();
        let mut master = Master::new(&wanted, racks);
        if !master.optimise(&usable, steps) || tiles + up(master.tiles(&usable)) > aim {
            return None;
        }
        for nth in to_fix(&master, &usable, &wanted) {
            let column = &columns[nth];
            match column.rack {
                None => tiles += 1,
                Some(rack) => idle[rack] = false,
            }
            for (kind, count) in &column.counts {
                let count = usize::try_from(*count).unwrap_or(usize::MAX);
                wanted[*kind] = wanted[*kind].saturating_sub(count);
            }
            chosen.push(nth);
        }
    }
    (tiles <= aim).then_some(chosen)
}

/// The column with no more pieces than are still wanted; none where it cannot be cut.
fn usable(column: &Column, wanted: &[usize], idle: &[bool]) -> Column {
    let cut = column.layout.is_some() && column.rack.is_none_or(|rack| idle[rack]);
    let most = |kind: usize| u32::try_from(wanted[kind]).unwrap_or(u32::MAX);
    let counts = column.counts.iter().map(|(kind, count)| (*kind, most(*kind).min(*count)));
    let counts = counts.filter(|(_, count)| cut && *count > 0).collect();
    Column { counts, rack: column.rack, layout: None }
}

/// Whole uses, or else the largest part of one.
fn to_fix(master: &Master, columns: &[Column], wanted: &[usize]) -> Vec<usize> {
    let useful = || master.uses().filter(|(nth, _)| !columns[*nth].counts.is_empty());
    let mut fixed = Vec::new();
    for (nth, amount) in useful() {
        let mut left = amount + 1e-3;
        while left >= 1.0 {
            fixed.push(nth);
            left -= 1.0;
        }
    }
    if fixed.is_empty() {
        let largest = useful().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(nth, _)| nth);
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
