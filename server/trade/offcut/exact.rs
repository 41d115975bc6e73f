//! The fewest tiles for one group of pieces, with the proof.
//!
//! In turn, until plan and bound meet: prices from the linear program over the patterns (`relax`); plans from it, what it
//! uses whole cut first and the rest planned by itself (`rest`); the same with finer sizes; a few tiles of the plan
//! planned anew (`mend`); odd sets (`odd_sets`); and a search that misses nothing (`rounding`), where all patterns are
//! known. What only the pool of proper patterns or the pairing shows is told as a search.
//!
//! For pieces of which no three share, the fewest tiles are the pieces less the most pairs: a tile holds one or two of
//! them, the tiles with two are a pairing, and every pairing is a plan.

use super::board::Board;
use super::bound::area_argument;
use super::improve::wait_less;
use super::kinds::Kinds;
use super::layout::Layout;
use super::master::{Column, Master};
use super::mend::{Waste, save_one};
use super::odd_sets::{broken, half, half_wanted};
use super::patterns::Pool;
use super::pricing::Grid;
use super::proof::{Part, Reason};
use super::relax::{Argument, NEAR, Relaxed, begin, optimise, over_pool, relax, simplify, up};
use super::rest::{Way, choose, finish};
use super::rounding::{Manner, Outcome, boards, search};
use super::sharing::Sharing;
use super::steps::{Chance, Steps, Watch};

/// Steps for the linear program of a group.
const RELAX_STEPS: usize = 2_000_000_000;

/// Steps for finding small numbers.
const SIMPLIFY_STEPS: usize = 25_000_000;

/// Steps for trying everything.
const SEARCH_STEPS: usize = 300_000_000;
const QUICK_SEARCH_STEPS: usize = 100_000_000;

/// Steps for finding patterns.
const POOL_STEPS: usize = 50_000_000;

/// Sums for one table of the first grid, fewer where few steps are left, and of those after it where it leaves a gap.
const QUICK_SUMS: usize = 400_000_000;
const FINE_SUMS: usize = 1_600_000_000;
const FINEST_SUMS: usize = 12_000_000_000;

/// Where so many steps are left, kinds stand in for others: the program is soon better, but each of its turns takes longer.
const SWAPPING_STEPS: usize = 500_000_000;

/// Steps for going down from the program once or some times, and before anything else was tried.
const DIVE_STEPS: usize = 200_000_000;
const QUICK_DIVE_STEPS: usize = 50_000_000;

/// Steps for planning what is left after one choice of tiles.
const DESCENT_STEPS: usize = 40_000_000;

/// Steps for odd sets before anything else was tried.
const QUICK_SETS_STEPS: usize = 100_000_000;

/// Steps for saving tiles among few, and for going down again and again at the end.
const MEND_STEPS: usize = 6_000_000_000;

/// Steps for making offcuts wait less.
const WAIT_STEPS: usize = 3_000_000;

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
    closing.prove_by_prices(NEAR);
    closing.descend(10, QUICK_DIVE_STEPS);
    closing.prove_finely(FINE_SUMS);
    closing.descend(10, QUICK_DIVE_STEPS);
    closing.prove_finely(FINEST_SUMS);
    closing.descend(100, DIVE_STEPS);
    closing.mend(40);
    closing.narrow();
    closing.dive(1, QUICK_DIVE_STEPS);
    closing.cut_off_halves(QUICK_SETS_STEPS);
    closing.mend(60);
    closing.search_thoroughly(QUICK_SEARCH_STEPS);
    closing.descend(1000, MEND_STEPS);
    closing.dive(4, DIVE_STEPS);
    closing.cut_off_halves(RELAX_STEPS);
    closing.dive(12, DIVE_STEPS);
    closing.search_thoroughly(SEARCH_STEPS);
    closing.mend(3000);
    let part = closing.part();
    wait_less(sharing, &mut group.boards, &mut Steps::of(WAIT_STEPS));
    part
}

/// A group on its way to a proof.
struct Closing<'c, 'p, 'w> {
    kinds: &'c Kinds<'p>,
    group: &'c mut Group<'p>,
    watch: &'c Watch<'w>,
    grid: Option<Grid<'c, 'p>>,
    /// All patterns there are, or as many as were found.
    pool: Vec<Column>,
    /// Every pattern of use is part of one in the pool.
    complete: bool,
    relaxed: Relaxed,
    /// The odd sets of the program.
    sets: Vec<Vec<bool>>,
    /// The best argument by prices alone.
    proved: Argument,
    /// The best by odd sets, if it says more.
    by_sets: Option<Argument>,
    /// The best bound.
    bound: usize,
    /// Cases looked at by searches that showed something.
    cases: u64,
    /// For mending, which goes on where it stopped.
    chance: Chance,
}

impl<'c, 'p, 'w> Closing<'c, 'p, 'w> {
    fn new(kinds: &'c Kinds<'p>, group: &'c mut Group<'p>, watch: &'c Watch<'w>) -> Self {
        let found = Pool::new(kinds, &mut watch.steps(POOL_STEPS));
        let complete = found.complete;
        let pool = found.columns();
        let first = first_columns(kinds, &group.boards);
        let few = complete || watch.left() < SWAPPING_STEPS;
        let swaps = if few { Vec::new() } else { kinds.swaps() };
        let relaxed = begin(kinds, first, &pool, swaps, &mut watch.steps(RELAX_STEPS));
        let proved = area_argument(kinds);
        let bound = proved.tiles.max(group.quick);
        let sums = QUICK_SUMS.min(watch.left() / 2);
        let grid = Grid::new(kinds, sums, &mut watch.steps(RELAX_STEPS));
        Self {
            kinds,
            group,
            watch,
            grid,
            pool,
            complete,
            relaxed,
            sets: Vec::new(),
            proved,
            by_sets: None,
            bound,
            cases: 1,
            chance: Chance::new(),
        }
    }

    /// The best bound, and why it holds: what can be gone over if it reaches so far, a search otherwise.
    fn part(&self) -> Part {
        let pieces = self.group.pieces.clone();
        let tiles = self.bound;
        let told = self.argument();
        let reason = match self.proved.reason(self.kinds, &pieces) {
            Reason::Prices(prices) if told.tiles < tiles => Reason::Search { prices, cases: self.cases },
            _ => told.reason(self.kinds, &pieces),
        };
        Part { pieces, tiles, reason }
    }

    /// The best argument that can be told.
    fn argument(&self) -> &Argument {
        self.by_sets.as_ref().unwrap_or(&self.proved)
    }

    fn is_closed(&self) -> bool {
        self.bound >= self.group.tiles()
    }

    /// By prices over all patterns with as many copies as go in, which can be told; then over the pool, which may
    /// prove more.
    fn prove_by_prices(&mut self, share: f64) {
        if let Some(grid) = &self.grid {
            let mut steps = self.watch.steps(RELAX_STEPS);
            let mut wider = self.relaxed.clone();
            let enough = self.group.tiles();
            let proved =
                relax(self.kinds, grid, &mut wider, &self.pool, (&self.proved, share), enough, &mut steps);
            if proved.tiles >= self.proved.tiles && !proved.worth.each.is_empty() {
                let mut steps = self.watch.steps(SIMPLIFY_STEPS);
                let simple = simplify(self.kinds, grid, &wider, &[], proved.tiles, &mut steps);
                self.proved = simple.unwrap_or(proved);
            }
            if !self.complete {
                self.take_over(wider.columns, &mut steps);
            }
        }
        self.bound = self.bound.max(self.proved.tiles);
        self.prove_over_pool();
    }

    /// Adds the patterns that really can be cut.
    fn take_over(&mut self, columns: Vec<Column>, steps: &mut Steps) {
        let Relaxed { columns: known, master } = &mut self.relaxed;
        known.extend(columns.into_iter().skip(known.len()).filter(|column| column.layout.is_some()));
        optimise(master, known, &self.pool, steps);
    }

    /// Once more with sizes that are rounded down less, as far as one table takes no more sums than so many.
    fn prove_finely(&mut self, sums: usize) {
        if self.is_closed() {
            return;
        }
        let sums = sums.min(self.watch.left().saturating_mul(8));
        let finer = Grid::new(self.kinds, sums, &mut self.watch.steps(RELAX_STEPS));
        if let Some(finer) = finer
            && self.grid.as_ref().is_none_or(|grid| finer.is_finer_than(grid))
        {
            self.grid = Some(finer);
            self.prove_by_prices(0.0);
        }
    }

    fn prove_over_pool(&mut self) {
        if self.complete {
            let found = over_pool(self.kinds, &self.relaxed, &self.pool, &self.sets);
            self.bound = self.bound.max(found.tiles.min(self.group.tiles()));
        }
    }

    /// Plans with fewer tiles from the program: once straight on, then by lot.
    fn dive(&mut self, tries: usize, steps: usize) {
        let mut chance = Chance::new();
        let mut steps = self.watch.steps(steps);
        for nth in 0..tries {
            // One tile less is found the most easily, and often the plan has fewer yet.
            while !self.is_closed() {
                let cases = 300 + 2 * u64::try_from(self.kinds.all.len()).unwrap_or(0);
                let manner = Manner { aim: self.group.tiles() - 1, cases, thorough: false };
                let lot = (nth > 0).then_some(&mut chance);
                if self.search(manner, lot, &mut steps).is_none() {
                    break;
                }
            }
            if self.is_closed() || steps.spent() {
                break;
            }
        }
    }

    /// Plans with fewer tiles from the program, the patterns that it uses whole cut first and the rest planned by itself.
    /// With a rack, which the rest knows nothing of, one dive instead.
    fn descend(&mut self, tries: usize, steps: usize) {
        if !self.kinds.problem.rack().is_empty() {
            return self.dive(1, QUICK_DIVE_STEPS);
        }
        let mut steps = self.watch.steps(steps);
        let mut nth = 0;
        while nth < tries && !self.is_closed() && !steps.spent() {
            if !steps.spend(2 * self.relaxed.columns.len()) {
                return;
            }
            let lot = (nth > 0).then_some(&mut self.chance);
            let Some(chosen) = choose(self.kinds, &mut self.relaxed, lot) else { return };
            let way = Way { aim: self.group.tiles() - 1, astray: 1 };
            let problem = self.kinds.problem;
            let mut part = steps.part(DESCENT_STEPS);
            match finish(problem, chosen, way, &mut self.chance, &mut part) {
                Some(boards) => self.group.boards = boards,
                None => nth += 1,
            }
            steps.put_back(part);
        }
    }

    /// Tiles saved one by one among few, until so many tries in turn have saved none.
    fn mend(&mut self, tries: usize) {
        let mut steps = self.watch.steps(MEND_STEPS);
        let argument = self.argument().clone();
        let waste = Waste::new(self.kinds, &argument);
        let mut failed = 0;
        while self.bound < self.group.tiles() && failed < tries && !steps.spent() {
            let saved =
                save_one(self.kinds.problem, &waste, &mut self.group.boards, &mut self.chance, &mut steps);
            failed = if saved { 0 } else { failed + 1 };
        }
    }

    /// Tries everything.
    fn search_thoroughly(&mut self, steps: usize) {
        while self.complete && !self.is_closed() {
            let manner = Manner { aim: self.group.tiles() - 1, cases: 100_000, thorough: true };
            let mut steps = self.watch.steps(steps);
            if self.search(manner, None, &mut steps).is_none() {
                break;
            }
        }
    }

    /// Takes the plan of a search if it finds one, or its bound if it shows that there is none.
    fn search(&mut self, manner: Manner, lot: Option<&mut Chance>, steps: &mut Steps) -> Option<()> {
        match search(self.kinds, &mut self.relaxed, &self.pool, &self.sets, manner, lot, steps) {
            Outcome::Found(chosen) => {
                self.group.boards = boards(self.kinds, &self.relaxed.columns, &chosen)?;
                Some(())
            }
            Outcome::None { cases } => {
                self.bound = self.bound.max(manner.aim + 1);
                self.cases += cases;
                None
            }
            Outcome::Unknown => None,
        }
    }

    /// Leaves out of the pool what no plan with fewer tiles can use: with prices in whole numbers of which no tile holds
    /// more than V, what all tiles of such a plan hold less than V is together at most the aim times V less the sum of
    /// prices; a pattern that alone holds less than V by more cannot be in it. So from here on the pool speaks only of
    /// plans with fewer tiles than the present one, which is all that is asked. Of a pool that is not complete the prices
    /// say nothing, and would empty it.
    fn narrow(&mut self) {
        let tiles = self.group.tiles();
        if self.complete && tiles > self.bound {
            let found = over_pool(self.kinds, &self.relaxed, &self.pool, &self.sets);
            let most = found.spare(&self.kinds.counts(), tiles - 1);
            self.pool.retain(|column| found.waste(column) <= most);
        }
    }

    /// Odd sets, one after the other, while they help.
    fn cut_off_halves(&mut self, steps: usize) {
        const MOST_SETS: usize = 60;
        let mut steps = self.watch.steps(steps);
        self.stop_swapping(&mut steps);
        while !self.is_closed() && self.sets.len() < MOST_SETS {
            let wanted = self.kinds.counts();
            let broken = broken(&self.relaxed.master, &self.relaxed.columns, &wanted);
            if broken.is_empty() || steps.spent() {
                break;
            }
            let (known, master_before) = (self.sets.len(), self.relaxed.master.clone());
            let mut added = true;
            for set in broken {
                let columns = &mut self.relaxed.columns;
                for column in columns.iter_mut().chain(&mut self.pool) {
                    column.halves.push(half(column, &set));
                }
                added &= self.relaxed.master.add_set(half_wanted(&wanted, &set), columns);
                self.sets.push(set);
            }
            let Relaxed { master, columns } = &mut self.relaxed;
            let restored = added && master.restore(columns, &mut steps);
            if !(restored && optimise(master, columns, &self.pool, &mut steps)) {
                self.forget_sets(known, master_before);
                break;
            }
            let before = self.bound;
            self.prove_over_pool();
            let aim = up(self.relaxed.master.tiles(&self.relaxed.columns)).min(self.group.tiles());
            if aim > before {
                self.tell_odd_sets(aim);
            }
            self.narrow();
            self.dive(1, QUICK_DIVE_STEPS);
        }
    }

    /// Patterns in place of swaps: what a swap does to halves depends on the pattern.
    fn stop_swapping(&mut self, steps: &mut Steps) {
        if self.is_closed() || self.relaxed.master.swaps.is_empty() {
            return;
        }
        let known = std::mem::take(&mut self.relaxed.columns);
        self.relaxed = begin(self.kinds, known, &self.pool, Vec::new(), steps);
        if let Some(grid) = &self.grid {
            let mut wider = self.relaxed.clone();
            let enough = self.group.tiles();
            let proved = relax(self.kinds, grid, &mut wider, &self.pool, (&self.proved, NEAR), enough, steps);
            self.bound = self.bound.max(proved.tiles);
            if proved.tiles > self.proved.tiles {
                self.proved = proved;
            }
            self.take_over(wider.columns, steps);
        }
    }

    /// Back to the program as it was with so many sets.
    fn forget_sets(&mut self, count: usize, master: Master) {
        self.sets.truncate(count);
        for column in self.relaxed.columns.iter_mut().chain(&mut self.pool) {
            column.halves.truncate(count);
        }
        self.relaxed.master = master;
    }

    /// What the sets prove over all patterns, in numbers that can be told.
    fn tell_odd_sets(&mut self, aim: usize) {
        if let Some(grid) = &self.grid {
            let mut steps = self.watch.steps(SIMPLIFY_STEPS);
            let told = simplify(self.kinds, grid, &self.relaxed, &self.sets, aim, &mut steps);
            if let Some(told) = told {
                self.bound = self.bound.max(told.tiles);
                self.by_sets = Some(told);
            }
        }
    }
}

/// One piece of each kind alone, then the patterns of the plan.
pub(super) fn first_columns(kinds: &Kinds<'_>, boards: &[Board<'_>]) -> Vec<Column> {
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
        let layout = board.layout(&|piece| kind_of[&piece]);
        columns.extend(layout.map(|layout| Column::of(kinds, layout, board.rack())));
    }
    columns
}
