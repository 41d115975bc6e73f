//! The fewest tiles for one group of pieces, with the proof.

use super::board::Board;
use super::bound::area_argument;
use super::improve::wait_less;
use super::kinds::Kinds;
use super::layout::Layout;
use super::master::Column;
use super::odd_sets::{broken, half, half_wanted};
use super::patterns::Pool;
use super::pricing::Grid;
use super::proof::{Part, Reason};
use super::relax::{Argument, Relaxed, begin, optimise, over_pool, relax, simplify};
use super::rounding::{boards, dive};
use super::sharing::Sharing;
use super::steps::Watch;

/// Steps for the linear program of a group.
const RELAX_STEPS: usize = 2_000_000_000;

/// Steps for finding patterns.
const POOL_STEPS: usize = 50_000_000;

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
    let mut closing = Closing::new(&kinds, group, watch);
    closing.prove_by_prices();
    closing.dive();
    closing.cut_off_halves();
    let (proved, bound) = (closing.proved, closing.bound);
    wait_less(sharing, &mut group.boards, &mut watch.steps(WAIT_STEPS));
    let pieces = group.pieces.clone();
    match proved.reason(&kinds, &pieces) {
        Reason::Prices(prices) if bound > proved.tiles => {
            Part { pieces, tiles: bound, reason: Reason::Search { prices, cases: 1 } }
        }
        reason => Part { pieces, tiles: proved.tiles, reason },
    }
}

/// A group on its way to a proof.
struct Closing<'c, 'p, 'w> {
    kinds: &'c Kinds<'p>,
    group: &'c mut Group<'p>,
    watch: &'c Watch<'w>,
    grid: Option<Grid<'c, 'p>>,
    /// All patterns there are, or as many as were found.
    pool: Vec<Column>,
    /// Every pattern is part of one in the pool, and there is no rack.
    complete: bool,
    relaxed: Relaxed,
    /// The odd sets of the program.
    sets: Vec<Vec<bool>>,
    /// The best argument that can be told.
    proved: Argument,
    /// The best bound.
    bound: usize,
}

impl<'c, 'p, 'w> Closing<'c, 'p, 'w> {
    fn new(kinds: &'c Kinds<'p>, group: &'c mut Group<'p>, watch: &'c Watch<'w>) -> Self {
        let found = Pool::new(kinds, &mut watch.steps(POOL_STEPS));
        let complete = found.complete && kinds.problem.rack().is_empty();
        let pool = found.columns();
        let first = first_columns(kinds, &group.boards);
        let relaxed = begin(kinds, first, &pool, &mut watch.steps(RELAX_STEPS));
        let proved = area_argument(kinds);
        let bound = proved.tiles.max(group.quick);
        let grid = Grid::new(kinds);
        Self { kinds, group, watch, grid, pool, complete, relaxed, sets: Vec::new(), proved, bound }
    }

    fn is_closed(&self) -> bool {
        self.bound >= self.group.tiles()
    }

    /// By prices over all patterns with as many copies as go in, which can be told; then over the pool, which may
    /// prove more.
    fn prove_by_prices(&mut self) {
        if let Some(grid) = &self.grid {
            let mut steps = self.watch.steps(RELAX_STEPS);
            let mut wider = self.relaxed.clone();
            let enough = self.group.tiles();
            let proved = relax(self.kinds, grid, &mut wider, &self.pool, enough, &mut steps);
            if proved.tiles >= self.proved.tiles && !proved.worth.each.is_empty() {
                let simple = simplify(self.kinds, grid, &wider, &[], proved.tiles, &mut steps);
                self.proved = simple.unwrap_or(proved);
            }
            if !self.complete {
                self.relaxed = wider;
            }
        }
        self.bound = self.bound.max(self.proved.tiles);
        self.prove_over_pool();
    }

    fn prove_over_pool(&mut self) {
        if self.complete {
            let found = over_pool(self.kinds, &self.relaxed, &self.pool, &self.sets);
            self.bound = self.bound.max(found.tiles);
        }
    }

    /// Plans with fewer tiles from the program.
    fn dive(&mut self) {
        for aim in self.bound..self.group.tiles() {
            let mut steps = self.watch.steps(DIVE_STEPS);
            let chosen = dive(self.kinds, &mut self.relaxed, &self.pool, &self.sets, aim, &mut steps);
            if let Some(found) = chosen.and_then(|chosen| boards(self.kinds, &self.relaxed.columns, &chosen))
            {
                self.group.boards = found;
                break;
            }
        }
    }

    /// Odd sets, one after the other, while they help.
    fn cut_off_halves(&mut self) {
        const MOST_SETS: usize = 60;
        let mut steps = self.watch.steps(RELAX_STEPS);
        while self.complete && !self.is_closed() && self.sets.len() < MOST_SETS {
            let wanted = self.kinds.counts();
            let broken = broken(&self.relaxed.master, &self.relaxed.columns, &wanted);
            if broken.is_empty() || steps.spent() {
                break;
            }
            for set in broken {
                let columns = &mut self.relaxed.columns;
                for column in columns.iter_mut().chain(&mut self.pool) {
                    column.halves.push(half(column, &set));
                }
                self.relaxed.master.add_set(half_wanted(&wanted, &set), columns);
                self.sets.push(set);
            }
            let Relaxed { master, columns } = &mut self.relaxed;
            if !(master.restore(columns, &mut steps) && optimise(master, columns, &self.pool, &mut steps)) {
                break;
            }
            let before = self.bound;
            self.prove_over_pool();
            if self.bound > before {
                self.tell_odd_sets();
            }
            self.dive();
        }
    }

    fn tell_odd_sets(&mut self) {
        if let Some(grid) = &self.grid {
            let mut steps = self.watch.steps(RELAX_STEPS);
            let told = simplify(self.kinds, grid, &self.relaxed, &self.sets, self.bound, &mut steps);
            self.proved = told.unwrap_or_else(|| self.proved.clone());
        }
    }
}

/// One piece of each kind alone, then the patterns of the plan.
fn first_columns(kinds: &Kinds<'_>, boards: &[Board<'_>]) -> Vec<Column> {
    let mut kind_of = std::collections::BTreeMap::new();
    let mut columns = Vec::new();
    for (index, kind) in kinds.all.iter().enumerate() {
        kind_of.extend(kind.pieces.iter().map(|piece| (*piece, index)));
        let layout = Layout::Piece { kind: index, shape: kind.shapes[0] };
        columns.push(Column {
            counts: vec![(index, 1)],
            rack: None,
            halves: Vec::new(),
            layout: Some(layout),
        });
    }
    for board in boards {
        if let Some(layout) = board.layout(&|piece| kind_of[&piece]) {
            let mut counts = vec![0_usize; kinds.all.len()];
            layout.count(&mut counts);
            let counts = counts.into_iter().enumerate().filter(|(_, count)| *count > 0);
            let counts =
                counts.map(|(kind, count)| (kind, u32::try_from(count).unwrap_or(u32::MAX))).collect();
            columns.push(Column { counts, rack: board.rack(), halves: Vec::new(), layout: Some(layout) });
        }
    }
    columns
}
