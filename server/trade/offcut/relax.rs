//! Prices that show how many tiles are needed at least, found by column generation.
//!
//! Let every piece have a price of at least nothing, let no tile hold pieces worth more than V, and the racked offcut r
//! none worth more than V_r. Whatever the plan, each piece lies on a tile or on a racked offcut, and an offcut is used
//! once at most; so the sum of the prices is at most V for each tile and V_r for each offcut, and the tiles are at
//! least (sum of prices - sum of V_r) / V, rounded up. That holds for any prices. The best are those of the covering
//! linear program over all patterns, copies unlimited: the program over some patterns proposes prices, the exact
//! [`Grid`] finds the pattern worth most at these, which either joins them or shows that there is none to add.
//!
//! With odd sets the same holds of what a tile is worth with its sets: in a plan that covers a set S of pieces, the
//! halves of its pieces on each tile, rounded up, add up to at least half of S, rounded up. So the price of the set,
//! times that, may be added to the sum of prices when V and V_r count it likewise.

use super::kinds::{Kinds, Swap};
use super::master::{Column, Master};
use super::odd_sets::{half, half_wanted};
use super::pricing::{Exact, Grid, Table, Worth};
use super::proof::{OddSet, Prices, Reason};
use super::steps::Steps;
use crate::geometry::{Rect, Sides};
use crate::measure::Length;

/// Prices with what they prove.
#[derive(Clone, Debug, Default)]
pub(super) struct Argument {
    pub(super) worth: Worth,
    /// The most that a new tile holds.
    pub(super) best: i64,
    /// The most that each racked offcut of the problem holds.
    pub(super) best_of_rack: Vec<i64>,
    /// So many new tiles at least.
    pub(super) tiles: usize,
}

/// What the linear program knows.
#[derive(Clone)]
pub(super) struct Relaxed {
    pub(super) columns: Vec<Column>,
    pub(super) master: Master,
}

/// What prices of about 1 a tile are multiplied by while the program is solved.
const FINE: u32 = 1_000_000;

/// How often a pattern is looked for.
const MOST_ROUNDS: usize = 3000;

impl Argument {
    /// What a table shows of the prices it was made for.
    pub(super) fn of(kinds: &Kinds<'_>, table: &Table<'_, '_, '_>) -> Self {
        let worth = table.worth().clone();
        let problem = kinds.problem;
        let best = table.best(tile(kinds), Sides::ALL).max(1);
        let racks = problem.rack().iter();
        let best_of_rack: Vec<i64> =
            racks.map(|rack| table.best(lying(rack.width, rack.height), rack.factory)).collect();
        let tiles = tiles(&kinds.counts(), &worth, best, &best_of_rack);
        Self { worth, best, best_of_rack, tiles }
    }

    /// How much less than the best all tiles of a plan of so many, and the racked offcuts, can hold together.
    pub(super) fn spare(&self, wanted: &[usize], aim: usize) -> i128 {
        let aim = i128::try_from(aim).unwrap_or(i128::MAX);
        let rack: i128 = self.best_of_rack.iter().map(|best| i128::from(*best)).sum();
        aim * i128::from(self.best) + rack - sum_of_prices(wanted, &self.worth)
    }

    /// How much less than the best a pattern holds.
    pub(super) fn waste(&self, column: &Column) -> i128 {
        let best = column.rack.map_or(self.best, |rack| self.best_of_rack[rack]);
        i128::from(best) - i128::from(self.worth.of(column))
    }

    /// In the words of the proof, for these pieces.
    pub(super) fn reason(&self, kinds: &Kinds<'_>, pieces: &[usize]) -> Reason {
        let mut priced: Vec<(usize, i64)> = Vec::with_capacity(pieces.len());
        for (kind, price) in kinds.all.iter().zip(&self.worth.each) {
            priced.extend(kind.pieces.iter().map(|piece| (*piece, *price)));
        }
        priced.sort_unstable();
        let prices = Prices {
            each: priced.into_iter().map(|(_, price)| price).collect(),
            best_pattern: self.best,
            best_of_rack: self.best_of_rack.clone(),
        };
        let sets: Vec<OddSet> =
            self.worth.sets.iter().map(|(member, price)| odd_set(kinds, member, *price)).collect();
        if sets.is_empty() { Reason::Prices(prices) } else { Reason::OddSets { prices, sets } }
    }
}

fn odd_set(kinds: &Kinds<'_>, member: &[bool], price: i64) -> OddSet {
    let of = kinds.all.iter().zip(member).filter(|(_, member)| **member);
    let mut pieces: Vec<usize> = of.flat_map(|(kind, _)| kind.pieces.iter().copied()).collect();
    pieces.sort_unstable();
    OddSet { pieces, price }
}

/// The tiles that prices prove.
pub(super) fn tiles(wanted: &[usize], worth: &Worth, best: i64, best_of_rack: &[i64]) -> usize {
    let rack: i128 = best_of_rack.iter().map(|best| i128::from(*best)).sum();
    let sum = sum_of_prices(wanted, worth) - rack;
    let best = i128::from(best.max(1));
    usize::try_from((sum.max(0) + best - 1) / best).unwrap_or(0)
}

fn sum_of_prices(wanted: &[usize], worth: &Worth) -> i128 {
    let whole = |count: usize| i128::try_from(count).unwrap_or(i128::MAX);
    let each = wanted.iter().zip(&worth.each).map(|(count, price)| whole(*count) * i128::from(*price));
    let sets = worth.sets.iter();
    let sets = sets.map(|(member, price)| whole(half_wanted(wanted, member)) * i128::from(*price));
    each.sum::<i128>() + sets.sum::<i128>()
}

/// The program over the columns and the reserve alone.
pub(super) fn begin(
    kinds: &Kinds<'_>,
    mut columns: Vec<Column>,
    reserve: &[Column],
    swaps: Vec<Swap>,
    steps: &mut Steps,
) -> Relaxed {
    let mut master = Master::new(&kinds.counts(), kinds.problem.rack().len(), swaps);
    optimise(&mut master, &mut columns, reserve, steps);
    Relaxed { columns, master }
}

/// What prices prove over these patterns alone, if there are no others than parts of them.
pub(super) fn over_pool(
    kinds: &Kinds<'_>,
    relaxed: &Relaxed,
    pool: &[Column],
    sets: &[Vec<bool>],
) -> Argument {
    let worth = priced(kinds, relaxed, sets, FINE, 0.0);
    let best_of = |rack: Option<usize>| {
        let patterns = pool.iter().filter(|column| column.rack == rack);
        patterns.map(|column| worth.of(column)).max().unwrap_or(0)
    };
    let best = best_of(None).max(1);
    let best_of_rack: Vec<i64> = (0..kinds.problem.rack().len()).map(|rack| best_of(Some(rack))).collect();
    let tiles = tiles(&kinds.counts(), &worth, best, &best_of_rack);
    Argument { worth, best, best_of_rack, tiles }
}

/// New tiles for these pieces and halves of the odd sets, by the program's prices in whole numbers over the columns, with
/// the racked offcuts that are idle yet.
pub(super) fn tiles_of_master<'c>(
    master: &Master,
    columns: impl Iterator<Item = &'c Column>,
    wanted: &[usize],
    halves: &[usize],
    idle: &[bool],
) -> usize {
    let prices = whole_prices(&master.prices, FINE, 0.0);
    let of_sets = prices[prices.len() - halves.len()..].to_vec();
    let worth = Worth { each: prices[..wanted.len()].to_vec(), sets: Vec::new() };
    let of_halves = |halves: &[u32]| -> i64 {
        halves.iter().zip(&of_sets).map(|(half, price)| i64::from(*half) * price).sum()
    };
    let mut best = 1;
    let mut best_of_rack = vec![0; idle.len()];
    for column in columns {
        let most = column.rack.map_or(&mut best, |rack| &mut best_of_rack[rack]);
        *most = (*most).max(worth.of(column) + of_halves(&column.halves));
    }
    let rack: i64 = best_of_rack.iter().zip(idle).filter(|(_, idle)| **idle).map(|(best, _)| best).sum();
    let whole = |count: &usize| i64::try_from(*count).unwrap_or(i64::MAX);
    let each: i64 = wanted.iter().zip(&worth.each).map(|(count, price)| whole(count) * price).sum();
    let sets: i64 = halves.iter().zip(&of_sets).map(|(count, price)| whole(count) * price).sum();
    usize::try_from(((each + sets - rack).max(0) + best - 1) / best).unwrap_or(0)
}

/// The prices of the program times the scale, in whole numbers.
fn priced(kinds: &Kinds<'_>, relaxed: &Relaxed, sets: &[Vec<bool>], scale: u32, nudge: f64) -> Worth {
    let prices = whole_prices(&relaxed.master.prices, scale, nudge);
    let of_sets = &prices[prices.len() - sets.len()..];
    let sets = sets.iter().cloned().zip(of_sets.iter().copied()).filter(|(_, price)| *price > 0);
    Worth { each: prices[..kinds.all.len()].to_vec(), sets: sets.collect() }
}

/// Looks for patterns, whatever the number of copies, until prices prove `enough` tiles, or all that prices can.
///
/// Patterns are looked for at prices between the program's, which jump about while it knows few patterns, and those that
/// proved the most so far (P. Wentges, "Weighted Dantzig-Wolfe decomposition for linear mixed-integer programming", 1997);
/// at the program's own where that finds none. What is known comes with its share at first.
pub(super) fn relax(
    kinds: &Kinds<'_>,
    grid: &Grid<'_, '_>,
    relaxed: &mut Relaxed,
    reserve: &[Column],
    known: (&Argument, f64),
    enough: usize,
    steps: &mut Steps,
) -> Argument {
    let Relaxed { columns, master } = relaxed;
    let mut proved = Argument::default();
    let mut centre = Centre::of(kinds, known.0);
    centre.share = known.1;
    let mut exact = Exact::Roughly;
    for _ in 0..MOST_ROUNDS {
        let own = &master.prices[..kinds.all.len()];
        let worth = Worth { each: whole_prices(&centre.near(own), FINE, 0.0), sets: Vec::new() };
        let Some(table) = grid.table(worth, exact, steps) else { break };
        let found = Argument::of(kinds, &table);
        centre.learn(kinds, &found);
        if found.tiles > proved.tiles || proved.worth.each.is_empty() {
            proved = found;
        }
        let at_most = up(master.tiles(columns));
        if proved.tiles >= enough.min(at_most) {
            break;
        }
        let before = columns.len();
        let better = |column: &Column| master.reduced_cost(column) < -1e-5;
        columns.extend(all_columns_of(kinds, &table).into_iter().filter(better));
        if columns.len() == before {
            if !centre.is_left() {
                centre.leave();
            } else if exact == Exact::Roughly {
                exact = Exact::Finely;
            } else {
                break;
            }
        } else if optimise(master, columns, reserve, steps) {
            centre.come_back();
        } else {
            break;
        }
    }
    proved
}

/// Of a new tile, and of each racked offcut.
fn all_columns_of(kinds: &Kinds<'_>, table: &Table<'_, '_, '_>) -> Vec<Column> {
    let mut columns = columns_of(kinds, table, tile(kinds), Sides::ALL, None);
    for (nth, rack) in kinds.problem.rack().iter().enumerate() {
        let at = lying(rack.width, rack.height);
        columns.extend(columns_of(kinds, table, at, rack.factory, Some(nth)));
    }
    columns
}

/// The prices that proved the most, a tile's worth being 1.
struct Centre {
    prices: Vec<f64>,
    proved: f64,
    /// The share of it that is looked at.
    share: f64,
}

/// How near to the centre patterns are looked for: found by trial on generated rooms.
pub(super) const NEAR: f64 = 0.6;

/// Part of which is left each time it proves no more.
const FARTHER: f64 = 0.9;

impl Centre {
    fn of(kinds: &Kinds<'_>, known: &Argument) -> Self {
        let mut centre = Self { prices: Vec::new(), proved: 0.0, share: NEAR };
        if known.worth.sets.is_empty() && known.worth.each.len() == kinds.all.len() {
            centre.learn(kinds, known);
        }
        centre
    }

    fn near(&self, own: &[f64]) -> Vec<f64> {
        if self.prices.is_empty() {
            return own.to_vec();
        }
        let both = self.prices.iter().zip(own);
        both.map(|(centre, own)| self.share * centre + (1.0 - self.share) * own).collect()
    }

    fn learn(&mut self, kinds: &Kinds<'_>, found: &Argument) {
        let real = |whole: i64| f64::from(u32::try_from(whole).unwrap_or(u32::MAX));
        let best = real(found.best).max(1.0);
        let rack: f64 = found.best_of_rack.iter().map(|best| real(*best)).sum();
        let wanted =
            kinds.all.iter().map(|kind| f64::from(u32::try_from(kind.pieces.len()).unwrap_or(u32::MAX)));
        let sum: f64 = wanted.zip(&found.worth.each).map(|(count, price)| count * real(*price)).sum();
        let proved = (sum - rack) / best;
        if proved > self.proved {
            self.proved = proved;
            self.prices = found.worth.each.iter().map(|price| real(*price) / best).collect();
        } else {
            self.share *= FARTHER;
        }
    }

    fn is_left(&self) -> bool {
        self.share == 0.0
    }

    fn leave(&mut self) {
        self.share = 0.0;
    }

    fn come_back(&mut self) {
        if self.share == 0.0 {
            self.share = NEAR;
        }
    }
}

/// Adds patterns until the program needs no more new tiles than so many, and some more, so that it has a choice. False
/// when no more are found, or not soon.
pub(super) fn widen(kinds: &Kinds<'_>, relaxed: &mut Relaxed, most: usize, steps: &mut Steps) -> bool {
    const SUMS: usize = 30_000_000;
    const ROUNDS: usize = 400;
    const MORE_ROUNDS: usize = 3;
    let Relaxed { columns, master } = relaxed;
    let is_enough = |master: &Master, columns: &[Column]| up(master.tiles(columns)) <= most;
    if is_enough(master, columns) && kinds.all.len() > MANY_KINDS {
        return !steps.spent();
    }
    let Some(grid) = Grid::new(kinds, SUMS, steps) else {
        return is_enough(master, columns) && !steps.spent();
    };
    let mut more = 0;
    for _ in 0..ROUNDS {
        let enough = is_enough(master, columns);
        if enough && more == MORE_ROUNDS {
            break;
        }
        more += usize::from(enough);
        let worth =
            Worth { each: whole_prices(&master.prices[..kinds.all.len()], FINE, 0.0), sets: Vec::new() };
        let Some(table) = grid.table(worth, Exact::Roughly, steps) else { break };
        if Argument::of(kinds, &table).tiles > most {
            return false;
        }
        let known = columns.len();
        let better = |column: &Column| column.layout.is_some() && master.reduced_cost(column) < -1e-5;
        columns.extend(columns_of(kinds, &table, tile(kinds), Sides::ALL, None).into_iter().filter(better));
        steps.spend(100 * (columns.len() - known));
        if columns.len() == known || !optimise(master, columns, &[], steps) {
            break;
        }
    }
    is_enough(master, columns) && !steps.spent()
}

/// Of so many kinds and more no more patterns are looked for than must be.
const MANY_KINDS: usize = 40;

/// The best use of the columns and of those in reserve, some of which then join.
pub(super) fn optimise(
    master: &mut Master,
    columns: &mut Vec<Column>,
    reserve: &[Column],
    steps: &mut Steps,
) -> bool {
    while master.optimise(columns, steps) {
        let improving = master.improving(reserve, steps);
        if improving.is_empty() {
            return true;
        }
        columns.extend(improving.into_iter().map(|nth| reserve[nth].clone()));
    }
    false
}

/// The same number of tiles proved by smaller numbers, where they are easily found: by the prices of the program and
/// these odd sets of it.
pub(super) fn simplify(
    kinds: &Kinds<'_>,
    grid: &Grid<'_, '_>,
    relaxed: &Relaxed,
    sets: &[Vec<bool>],
    aim: usize,
    steps: &mut Steps,
) -> Option<Argument> {
    const MOST_TABLES: usize = 16;
    const MOST_SETS: usize = 3;
    let wanted = kinds.counts();
    let mut tables = 0;
    let scales = (1..=60).chain([72, 84, 96, 100, 120, 144, 240, 360, 500, 1000, 10_000, FINE]);
    for (scale, nudge) in scales.flat_map(|scale| [(scale, 1e-4), (scale, 0.5)]) {
        let worth = priced(kinds, relaxed, sets, scale, nudge);
        let known = relaxed.columns.iter().filter(|column| column.rack.is_none());
        let best = known.map(|column| worth.of(column)).max().unwrap_or(1);
        if tiles(&wanted, &worth, best, &[]) < aim || worth.sets.len() > MOST_SETS {
            continue;
        }
        tables += 1;
        if tables > MOST_TABLES {
            break;
        }
        let table = grid.table(worth, Exact::Roughly, steps)?;
        let found = Argument::of(kinds, &table);
        if found.tiles >= aim {
            return Some(found);
        }
    }
    None
}

impl Worth {
    /// What the pieces of a column are worth, with the sets.
    pub(super) fn of(&self, column: &Column) -> i64 {
        let each = column.counts.iter().map(|(kind, count)| self.each[*kind] * i64::from(*count));
        let sets = self.sets.iter().map(|(member, price)| price * i64::from(half(column, member)));
        each.sum::<i64>() + sets.sum::<i64>()
    }
}

/// The pattern of a table that is worth most in one part, then others nearly as good, each with a kind that none before it
/// has: one table is then worth many rounds.
fn columns_of(
    kinds: &Kinds<'_>,
    table: &Table<'_, '_, '_>,
    at: Rect,
    own: Sides,
    rack: Option<usize>,
) -> Vec<Column> {
    let mut covered = vec![false; kinds.all.len()];
    let mut columns = Vec::new();
    for layout in table.layouts(at, own, table.scaled(i64::from(FINE))) {
        let mut counts = vec![0_usize; kinds.all.len()];
        layout.count(&mut counts);
        let counts = counts.iter().enumerate().filter(|(_, count)| **count > 0);
        let counts: Vec<(usize, u32)> =
            counts.map(|(kind, count)| (kind, u32::try_from(*count).unwrap_or(u32::MAX))).collect();
        if counts.iter().all(|(kind, _)| covered[*kind]) {
            continue;
        }
        counts.iter().for_each(|(kind, _)| covered[*kind] = true);
        let fits = layout.room(kinds.problem.kerf()).is_some_and(|room| {
            room.width <= at.width() && room.height <= at.height() && own.has_all(room.needs)
        });
        columns.push(Column { counts, rack, halves: Vec::new(), layout: fits.then_some(layout) });
    }
    columns
}

/// Prices times the scale, rounded down after something is added.
pub(super) fn whole_prices(prices: &[f64], scale: u32, nudge: f64) -> Vec<i64> {
    prices.iter().map(|price| i64::from(whole(price * f64::from(scale) + nudge))).collect()
}

/// Rounded up, but for dust.
pub(super) fn up(amount: f64) -> usize {
    let above = amount - 2e-3;
    if above <= 0.0 { 0 } else { usize::try_from(whole(above)).map_or(usize::MAX, |whole| whole + 1) }
}

/// Rounded down, at least 0: the largest whole number that is not above.
fn whole(amount: f64) -> u32 {
    (0..31).rev().fold(0, |below, bit| {
        let next = below + (1_u32 << bit);
        if f64::from(next) <= amount { next } else { below }
    })
}

pub(super) fn tile(kinds: &Kinds<'_>) -> Rect {
    lying(kinds.problem.tile_width(), kinds.problem.tile_height())
}

fn lying(width: Length, height: Length) -> Rect {
    Rect { right: width, top: height, ..Rect::default() }
}
