//! The fewest tiles for one group of pieces, with the proof.

use super::board::Board;
use super::bound::area_argument;
use super::improve::wait_less;
use super::kinds::Kinds;
use super::master::Column;
use super::pricing::Grid;
use super::proof::{Part, Reason};
use super::relax::{Argument, relax, simplify};
use super::rounding::{boards, dive};
use super::sharing::Sharing;
use super::steps::Watch;

/// Steps for the linear program of a group.
const RELAX_STEPS: usize = 2_000_000_000;

/// Steps for one dive.
const DIVE_STEPS: usize = 200_000_000;

/// Steps for making offcuts wait less.
const WAIT_STEPS: usize = 12_000_000;

/// A group of pieces, the best plan of it so far and the best proof.
pub(super) struct Group<'p> {
    pub(super) pieces: Vec<usize>,
    pub(super) boards: Vec<Board<'p>>,
    /// The quick bound.
    pub(super) quick: usize,
    pub(super) in_setting_order: usize,
}

impl<'p> Group<'p> {
    /// New tiles of the best plan.
    pub(super) fn tiles(&self) -> usize {
        new_tiles(&self.boards)
    }
}

pub(super) fn new_tiles(boards: &[Board<'_>]) -> usize {
    boards.iter().filter(|board| board.rack().is_none()).count()
}

/// Closes the gap between plan and bound as far as it can.
pub(super) fn close<'p>(sharing: &Sharing<'p>, group: &mut Group<'p>, watch: &Watch<'_>) -> Part {
    let kinds = Kinds::new(sharing.problem, &group.pieces);
    let mut steps = watch.steps(RELAX_STEPS);
    let Some(grid) = Grid::new(&kinds) else { return part(&kinds, group, area_argument(&kinds)) };
    let columns = first_columns(&kinds, &group.boards);
    let (relaxed, proved) = relax(&kinds, &grid, columns, group.tiles(), &mut steps);
    if proved.tiles.max(group.quick) < group.tiles() {
        let aim = group.tiles() - 1;
        if let Some(chosen) = dive(&kinds, &relaxed.columns, aim, &mut watch.steps(DIVE_STEPS)) {
            if let Some(found) = boards(&kinds, &relaxed.columns, &chosen) {
                group.boards = found;
            }
        }
    }
    wait_less(sharing, &mut group.boards, &mut watch.steps(WAIT_STEPS));
    let proved = simplify(&kinds, &grid, &relaxed, proved, &mut steps);
    part(&kinds, group, proved)
}

fn part(kinds: &Kinds<'_>, group: &Group<'_>, proved: Argument) -> Part {
    let proved = if proved.worth.each.is_empty() { area_argument(kinds) } else { proved };
    let reason = proved.reason(kinds, &group.pieces);
    let pieces = group.pieces.clone();
    match reason {
        Reason::Prices(prices) if group.quick > proved.tiles => {
            Part { pieces, tiles: group.quick, reason: Reason::Search { prices, cases: 1 } }
        }
        reason => Part { pieces, tiles: proved.tiles, reason },
    }
}

/// One piece of each kind alone, then the patterns of the plan.
fn first_columns(kinds: &Kinds<'_>, boards: &[Board<'_>]) -> Vec<Column> {
    let mut kind_of = std::collections::BTreeMap::new();
    let mut columns = Vec::new();
    for (index, kind) in kinds.all.iter().enumerate() {
        kind_of.extend(kind.pieces.iter().map(|piece| (*piece, index)));
        let layout = super::layout::Layout::Piece { kind: index, shape: kind.shapes[0] };
        columns.push(Column { counts: vec![(index, 1)], rack: None, layout: Some(layout) });
    }
    for board in boards {
        if let Some(layout) = board.layout(&|piece| kind_of[&piece]) {
            let mut counts = vec![0_usize; kinds.all.len()];
            layout.count(&mut counts);
            let counts = counts.into_iter().enumerate().filter(|(_, count)| *count > 0);
            let counts =
                counts.map(|(kind, count)| (kind, u32::try_from(count).unwrap_or(u32::MAX))).collect();
            columns.push(Column { counts, rack: board.rack(), layout: Some(layout) });
        }
    }
    columns
}
