//! The covering linear program: how often to use each pattern so that every kind is covered and the tiles are fewest,
//! parts of a tile allowed; and the prices that show that it cannot be done with less.
//!
//! The revised simplex method, with a row for each kind, for each racked offcut and for each odd set, over a basis kept in
//! factors ([`super::basis`]); the dual method where something was fixed or a set was added. It works in floating point
//! and therefore decides nothing: the prices it proposes are rounded to whole numbers and judged anew, and so are the
//! tiles.

use std::rc::Rc;

use super::basis::{Entries, Factors};
use super::kinds::{Kinds, Swap};
use super::layout::Layout;
use super::steps::Steps;

/// One way to cut a tile or a racked offcut.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// How many of which kinds it gives.
    pub(super) counts: Vec<(usize, u32)>,
    /// Which of the racked offcuts of the program is cut; a new tile otherwise.
    pub(super) rack: Option<usize>,
    /// For each odd set of the program half of its pieces in the set, rounded up.
    pub(super) halves: Vec<u32>,
    /// How it is cut. None where sizes were rounded down and the pieces do not really fit.
    pub(super) layout: Option<Layout>,
}

impl Column {
    /// What a layout gives, of no odd sets.
    pub(super) fn of(kinds: &Kinds<'_>, layout: Layout, rack: Option<usize>) -> Self {
        Self { rack, ..Self::of_layout(kinds.all.len(), layout) }
    }

    /// The same of a new tile, where there are so many kinds.
    pub(super) fn of_layout(kinds: usize, layout: Layout) -> Self {
        let mut counts = vec![0_usize; kinds];
        layout.count(&mut counts);
        let counts = counts.into_iter().enumerate().filter(|(_, count)| *count > 0);
        let counts = counts.map(|(kind, count)| (kind, u32::try_from(count).unwrap_or(u32::MAX)));
        Self { counts: counts.collect(), rack: None, halves: Vec::new(), layout: Some(layout) }
    }

    /// Whether both give the same from the same.
    fn is_like(&self, other: &Self) -> bool {
        self.counts == other.counts && self.rack == other.rack
    }
}

/// The state of the program.
#[derive(Clone)]
pub(super) struct Master {
    rows: usize,
    kinds: usize,
    racks: usize,
    factors: Factors,
    basis: Vec<Basic>,
    /// Of each in the basis.
    amount: Vec<f64>,
    /// In each row.
    wanted: Vec<f64>,
    /// Kinds that may stand in for others: what a column gives of the one counts for the other.
    pub(super) swaps: Rc<[Swap]>,
    /// Columns that may not be used.
    forbidden: Vec<Column>,
    /// Of the kinds, then of the racked offcuts, which are below zero, then of the odd sets.
    pub(super) prices: Vec<f64>,
}

#[derive(Clone, Copy, Debug)]
enum Basic {
    Column(usize),
    Swap(usize),
    /// What is above what is wanted in the row of a kind or an odd set.
    Over(usize),
    /// The racked offcut of the row left as it is.
    Idle(usize),
}

const DUST: f64 = 1e-9;

/// So many turns in a row that save nothing are a circle.
const IDLE_TURNS: usize = 500;

/// What a column costs that may not be used.
const FORBIDDING: f64 = 1000.0;

impl Master {
    /// Begins with the columns that give one piece of one kind: `columns[kind]` is that of `kind`.
    pub(super) fn new(wanted: &[usize], racks: usize, swaps: Vec<Swap>) -> Self {
        let kinds = wanted.len();
        let rows = kinds + racks;
        // Amounts a little apart from each other, so that no two columns tie and the method cannot go round in
        // circles.
        let mut nudge = 0.0;
        let mut nudged = |amount: f64| {
            nudge = (nudge + 0.618_033_988_7) % 1.0;
            amount + 1e-6 * (1.0 + nudge)
        };
        let of_kinds = wanted.iter().map(|count| u32::try_from(*count).map_or(f64::MAX, f64::from));
        let amount: Vec<f64> = of_kinds.chain((0..racks).map(|_| 1.0)).map(&mut nudged).collect();
        let basis = (0..kinds).map(Basic::Column).chain((kinds..rows).map(Basic::Idle)).collect();
        let prices = (0..rows).map(|row| if row < kinds { 1.0 } else { 0.0 }).collect();
        Self {
            rows,
            kinds,
            racks,
            factors: Factors::of_signs(&vec![1.0; rows]),
            basis,
            wanted: amount.clone(),
            amount,
            swaps: swaps.into(),
            forbidden: Vec::new(),
            prices,
        }
    }

    /// The best use of these columns. False when the steps ran out before, or rounding has the method go round in
    /// circles.
    ///
    /// All columns and swaps are looked at only now and then: those that would better the program most then are
    /// candidates, and enter one after the other while they still would.
    pub(super) fn optimise(&mut self, columns: &[Column], steps: &mut Steps) -> bool {
        let mut idle = 0;
        let mut candidates = Vec::new();
        loop {
            let mut best = self.entering(&candidates, columns);
            if best.is_none() {
                candidates = self.candidates(columns, steps);
                best = self.entering(&candidates, columns);
            }
            let Some((cost, entering)) = best else { return !steps.spent() };
            if idle > IDLE_TURNS || !steps.spend(1 + (self.rows + candidates.len()) / 4) {
                return false;
            }
            let Some(gain) = self.enter(cost, entering, columns, steps) else { return false };
            idle = if gain > DUST { 0 } else { idle + 1 };
        }
    }

    /// The columns and the swaps that would better the program most.
    fn candidates(&self, columns: &[Column], steps: &mut Steps) -> Vec<Basic> {
        steps.spend(columns.len() + self.swaps.len() / 2);
        let of_columns = columns.iter().enumerate();
        let of_columns = of_columns.map(|(nth, column)| (self.reduced_cost(column), Basic::Column(nth)));
        let of_swaps = (0..self.swaps.len()).map(|nth| (self.cost_of_swap(nth), Basic::Swap(nth)));
        let mut candidates: Vec<Basic> = best_of(of_columns).collect();
        candidates.extend(best_of(of_swaps));
        candidates
    }

    /// Tiles, parts of them included.
    pub(super) fn tiles(&self, columns: &[Column]) -> f64 {
        self.uses().map(|(column, amount)| self.cost(&columns[column]) * amount).sum()
    }

    /// How often each column is used, those that are.
    pub(super) fn uses(&self) -> impl Iterator<Item = (usize, f64)> {
        self.basis.iter().zip(&self.amount).filter_map(|(basic, amount)| match basic {
            Basic::Column(column) if *amount > 1e-4 => Some((*column, *amount)),
            Basic::Column(_) | Basic::Swap(_) | Basic::Over(_) | Basic::Idle(_) => None,
        })
    }

    /// What the pieces of a column cost above what they are worth.
    pub(super) fn reduced_cost(&self, column: &Column) -> f64 {
        let worth: f64 = self.entries(column).map(|(row, entry)| self.prices[row] * entry).sum();
        let allowed = if column.rack.is_none() { 1.0 } else { 0.0 } - worth;
        // Whether it is forbidden takes longer to see, and matters only for one that would better the program.
        if allowed < -DUST && self.forbids(column) { FORBIDDING - worth } else { allowed }
    }

    fn cost(&self, column: &Column) -> f64 {
        if self.forbids(column) {
            FORBIDDING
        } else if column.rack.is_none() {
            1.0
        } else {
            0.0
        }
    }

    /// Whether the column may not be used.
    pub(super) fn forbids(&self, column: &Column) -> bool {
        self.forbidden.iter().any(|forbidden| forbidden.is_like(column))
    }

    /// Lets the column be used no more. Then optimise.
    pub(super) fn forbid(&mut self, nth: usize, columns: &[Column]) {
        let column = &columns[nth];
        let more = FORBIDDING - self.cost(column);
        self.forbidden.push(Column { layout: None, ..column.clone() });
        let dearer = self.basis.iter().map(|basic| match basic {
            Basic::Column(of) if columns[*of].is_like(column) => more,
            Basic::Column(_) | Basic::Swap(_) | Basic::Over(_) | Basic::Idle(_) => 0.0,
        });
        let dearer: Vec<f64> = dearer.collect();
        if dearer.iter().any(|more| *more != 0.0) {
            for (price, more) in self.prices.iter_mut().zip(self.factors.worths(dearer)) {
                *price += more;
            }
        }
    }

    /// How many numbers it takes.
    pub(super) fn size(&self) -> usize {
        8 * self.rows + self.factors.size()
    }

    /// In which rows the column stands, and with how much.
    fn entries<'c>(&self, column: &'c Column) -> impl Iterator<Item = (usize, f64)> + use<'c> {
        let (kinds, racks) = (self.kinds, self.racks);
        let of_kinds = column.counts.iter().map(|(kind, count)| (*kind, f64::from(*count)));
        let of_rack = column.rack.map(|rack| (kinds + rack, 1.0));
        let sets = column.halves.iter().enumerate().filter(|(_, half)| **half > 0);
        let of_sets = sets.map(move |(set, half)| (kinds + racks + set, f64::from(*half)));
        of_kinds.chain(of_rack).chain(of_sets)
    }

    /// In which rows the swap stands, and with how much.
    fn entries_of_swap(&self, nth: usize) -> [(usize, f64); 2] {
        let Swap { from, to } = self.swaps[nth];
        [(from, -1.0), (to, 1.0)]
    }

    /// What is in a row beside the columns.
    const fn beside(&self, row: usize) -> (Basic, f64) {
        if self.kinds <= row && row < self.kinds + self.racks {
            (Basic::Idle(row), 1.0)
        } else {
            (Basic::Over(row), -1.0)
        }
    }

    /// One odd set more, for which the columns' [`Column::halves`] are known already: at least so many halves. Then
    /// [`Self::restore`]. There are no swaps any more: what one does to halves depends on the pattern. False where
    /// rounding leaves no basis.
    pub(super) fn add_set(&mut self, least: usize, columns: &[Column]) -> bool {
        let old = self.rows;
        let set = old - self.kinds - self.racks;
        let least = u32::try_from(least).map_or(f64::MAX, f64::from);
        let of = |basic: &Basic| match basic {
            Basic::Column(column) => f64::from(columns[*column].halves[set]),
            Basic::Swap(_) | Basic::Over(_) | Basic::Idle(_) => 0.0,
        };
        let given: f64 = self.basis.iter().zip(&self.amount).map(|(basic, amount)| of(basic) * amount).sum();
        self.wanted.push(least);
        self.basis.push(Basic::Over(old));
        self.amount.push(given - least);
        self.prices.push(0.0);
        self.rows += 1;
        self.part_anew(columns)
    }

    /// Of columns that are not in the program yet, for each kind that which betters it most, if any does.
    pub(super) fn improving(&self, reserve: &[Column], steps: &mut Steps) -> Vec<usize> {
        steps.spend(reserve.len() / 2);
        let mut best: Vec<Option<(f64, usize)>> = vec![None; self.kinds];
        for (nth, column) in reserve.iter().enumerate() {
            let cost = self.reduced_cost(column);
            if cost < -1e-6 {
                for (kind, _) in &column.counts {
                    if best[*kind].is_none_or(|(least, _)| cost < least) {
                        best[*kind] = Some((cost, nth));
                    }
                }
            }
        }
        let mut improving: Vec<usize> = best.into_iter().flatten().map(|(_, nth)| nth).collect();
        improving.sort_unstable();
        improving.dedup();
        improving
    }

    /// Takes what one use of a column gives off what is wanted, at most what is still wanted; of each odd set, of which
    /// `halves` are wanted, likewise.
    pub(super) fn fix(&mut self, column: &Column, wanted: &mut [usize], halves: &mut [usize]) {
        let mut less: Entries = Vec::new();
        for (kind, count) in &column.counts {
            let given = (*count).min(u32::try_from(wanted[*kind]).unwrap_or(u32::MAX));
            wanted[*kind] -= usize::try_from(given).unwrap_or(0);
            less.push((*kind, f64::from(given)));
        }
        if let Some(rack) = column.rack {
            less.push((self.kinds + rack, 1.0));
        }
        for (set, (half, left)) in column.halves.iter().zip(halves).enumerate() {
            let given = (*half).min(u32::try_from(*left).unwrap_or(u32::MAX));
            *left -= usize::try_from(given).unwrap_or(0);
            less.push((self.kinds + self.racks + set, f64::from(given)));
        }
        for (row, less) in &less {
            self.wanted[*row] -= less;
        }
        for (amount, less) in self.amount.iter_mut().zip(self.factors.amounts(less.into_iter())) {
            *amount -= less;
        }
    }

    /// Makes amounts that fell below nothing good again, keeping the prices fair to all columns (the dual simplex
    /// method). False when the steps ran out or it cannot be done.
    pub(super) fn restore(&mut self, columns: &[Column], steps: &mut Steps) -> bool {
        let entries: usize = columns.iter().map(|column| column.counts.len()).sum();
        loop {
            let least = self.amount.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1));
            let Some((row, amount)) = least else { return true };
            if *amount > -1e-7 {
                return true;
            }
            if !steps.spend(1 + (self.rows + entries) / 4) {
                return false;
            }
            let of_row = self.row_of_inverse(row);
            let Some((cost, entering)) = self.entering_for(&of_row, columns) else { return false };
            let step = self.direction(entering, columns);
            if step[row] > -1e-9 {
                return false;
            }
            self.pivot(cost, entering, row, &step, &of_row);
            self.mend(columns, steps);
        }
    }

    /// How much less the kind that comes in another's place is worth.
    fn cost_of_swap(&self, nth: usize) -> f64 {
        -self.entries_of_swap(nth).iter().map(|(row, entry)| self.prices[*row] * entry).sum::<f64>()
    }

    /// How much of which kind comes in another's place, by the place of the swap in [`Self::swaps`].
    pub(super) fn flows(&self) -> Vec<f64> {
        let mut flows = vec![0.0; self.swaps.len()];
        for (basic, amount) in self.basis.iter().zip(&self.amount) {
            if let Basic::Swap(nth) = basic {
                flows[*nth] = *amount;
            }
        }
        flows
    }

    /// Of the wanted kinds that may stand in for this one that in whose place the program has most of it come, which is
    /// then taken off; the dearest where it has none.
    pub(super) fn stand_in(&self, kind: usize, wanted: &[usize], flows: &mut [f64]) -> Option<usize> {
        let mut at = kind;
        let mut way = Vec::new();
        while let Some(nth) = self.swaps_from(at).max_by(|a, b| flows[*a].total_cmp(&flows[*b])) {
            if flows[nth] < 1e-3 {
                break;
            }
            way.push(nth);
            at = self.swaps[nth].to;
            if wanted[at] > 0 {
                way.into_iter().for_each(|nth| flows[nth] = (flows[nth] - 1.0).max(0.0));
                return Some(at);
            }
        }
        self.dearest_in_place_of(kind, wanted)
    }

    fn swaps_from(&self, kind: usize) -> std::ops::Range<usize> {
        self.swaps.partition_point(|swap| swap.from < kind)
            ..self.swaps.partition_point(|swap| swap.from <= kind)
    }

    /// Of the wanted kinds that may stand in for this one the dearest.
    pub(super) fn dearest_in_place_of(&self, kind: usize, wanted: &[usize]) -> Option<usize> {
        let mut seen = vec![false; self.kinds];
        let mut next = vec![kind];
        let mut best: Option<usize> = None;
        while let Some(from) = next.pop() {
            for nth in self.swaps_from(from) {
                let swap = self.swaps[nth];
                if !std::mem::replace(&mut seen[swap.to], true) {
                    next.push(swap.to);
                    let better = best.is_none_or(|best| self.prices[best] < self.prices[swap.to]);
                    if wanted[swap.to] > 0 && better {
                        best = Some(swap.to);
                    }
                }
            }
        }
        best
    }

    /// What enters for a row whose amount is below nothing: where prices change the least.
    fn entering_for(&self, of_row: &[f64], columns: &[Column]) -> Option<(f64, Basic)> {
        let of_columns = columns.iter().enumerate().map(|(nth, column)| {
            let rate: f64 = self.entries(column).map(|(row, entry)| of_row[row] * entry).sum();
            (nth, column, rate)
        });
        let of_columns = of_columns.filter(|(_, _, rate)| *rate < -1e-7).map(|(nth, column, rate)| {
            let more = if self.forbids(column) { FORBIDDING } else { 0.0 };
            (self.reduced_cost(column).max(0.0) + more, rate, Basic::Column(nth))
        });
        let of_rows = (0..self.rows).map(|row| {
            let (basic, entry) = self.beside(row);
            (-self.prices[row] * entry, of_row[row] * entry, basic)
        });
        let of_swaps = (0..self.swaps.len()).map(|nth| {
            let rate = self.entries_of_swap(nth).iter().map(|(row, entry)| of_row[*row] * entry).sum();
            (self.cost_of_swap(nth), rate, Basic::Swap(nth))
        });
        let falling = of_columns.chain(of_rows).chain(of_swaps).filter(|(_, rate, _)| *rate < -1e-7);
        let falling: Vec<(f64, f64, Basic)> =
            falling.map(|(cost, rate, basic)| (cost.max(0.0), -rate, basic)).collect();
        // Of those that hardly differ the one with the largest rate, which loses the fewest figures (P. Harris, 1973).
        let slack = |(cost, rate, _): &(f64, f64, Basic)| (cost + DUST) / rate;
        let most = falling.iter().map(slack).fold(f64::MAX, f64::min);
        let near = falling.iter().filter(|(cost, rate, _)| cost / rate <= most);
        let best = near.max_by(|a, b| a.1.total_cmp(&b.1));
        best.map(|(cost, _, entering)| (*cost, *entering))
    }

    /// What enters of the candidates and what is in a row beside the columns.
    fn entering(&self, candidates: &[Basic], columns: &[Column]) -> Option<(f64, Basic)> {
        let of_candidates = candidates.iter().map(|candidate| match *candidate {
            Basic::Column(nth) => (self.reduced_cost(&columns[nth]), *candidate),
            Basic::Swap(nth) => (self.cost_of_swap(nth), *candidate),
            Basic::Over(row) | Basic::Idle(row) => (-self.prices[row] * self.beside(row).1, *candidate),
        });
        let of_rows = self.prices.iter().enumerate().map(|(row, price)| {
            let (basic, entry) = self.beside(row);
            (-price * entry, basic)
        });
        let least = of_candidates.chain(of_rows).min_by(|a, b| a.0.total_cmp(&b.0));
        least.filter(|(cost, _)| *cost < -DUST)
    }

    /// Takes it into the basis and tells what that saves; None when nothing limits it, which only rounding can bring about.
    fn enter(&mut self, cost: f64, entering: Basic, columns: &[Column], steps: &mut Steps) -> Option<f64> {
        let step = self.direction(entering, columns);
        let mut leaving: Option<(f64, usize)> = None;
        for (row, rate) in step.iter().enumerate() {
            if *rate > 1e-7 {
                let ratio = self.amount[row].max(0.0) / rate;
                if leaving.is_none_or(|(least, _)| ratio < least) {
                    leaving = Some((ratio, row));
                }
            }
        }
        let (ratio, row) = leaving?;
        let of_row = self.row_of_inverse(row);
        self.pivot(cost, entering, row, &step, &of_row);
        self.mend(columns, steps);
        Some(-cost * ratio)
    }

    /// Puts it in the place of what the row held.
    fn pivot(&mut self, cost: f64, entering: Basic, row: usize, step: &[f64], of_row: &[f64]) {
        let ratio = self.amount[row] / step[row];
        for (amount, rate) in self.amount.iter_mut().zip(step) {
            *amount -= rate * ratio;
        }
        self.amount[row] = ratio;
        let share = cost / step[row];
        for (price, entry) in self.prices.iter_mut().zip(of_row) {
            *price += share * entry;
        }
        self.factors.turn(row, step);
        self.basis[row] = entering;
    }

    /// Parts the basis anew when it is time to.
    fn mend(&mut self, columns: &[Column], steps: &mut Steps) {
        steps.spend((self.rows + self.factors.size()) / 2);
        if self.factors.is_worn() {
            self.part_anew(columns);
            steps.spend(4 * self.factors.size());
        }
    }

    /// Parts the basis, and works out amounts and prices from it, which rounding has moved by now. False where it cannot
    /// be done.
    fn part_anew(&mut self, columns: &[Column]) -> bool {
        let of_basis = self.basis.iter().map(|basic| self.entries_of(*basic, columns)).collect();
        let Some(factors) = Factors::new(of_basis) else { return false };
        self.factors = factors;
        self.amount = self.factors.amounts(self.wanted.iter().copied().enumerate());
        let costs = self.basis.iter().map(|basic| match basic {
            Basic::Column(nth) => self.cost(&columns[*nth]),
            Basic::Swap(_) | Basic::Over(_) | Basic::Idle(_) => 0.0,
        });
        self.prices = self.factors.worths(costs.collect());
        true
    }

    /// One row of the inverse of the basis.
    fn row_of_inverse(&self, row: usize) -> Vec<f64> {
        let mut of_places = vec![0.0; self.rows];
        of_places[row] = 1.0;
        self.factors.worths(of_places)
    }

    /// How the amounts of the basis fall as the entering one rises.
    fn direction(&self, entering: Basic, columns: &[Column]) -> Vec<f64> {
        self.factors.amounts(self.entries_of(entering, columns).into_iter())
    }

    fn entries_of(&self, basic: Basic, columns: &[Column]) -> Entries {
        match basic {
            Basic::Column(column) => self.entries(&columns[column]).collect(),
            Basic::Swap(nth) => self.entries_of_swap(nth).to_vec(),
            Basic::Over(row) => vec![(row, -1.0)],
            Basic::Idle(row) => vec![(row, 1.0)],
        }
    }
}

/// Those that would better the program most.
fn best_of(all: impl Iterator<Item = (f64, Basic)>) -> impl Iterator<Item = Basic> {
    const MOST: usize = 60;
    let mut better: Vec<(f64, Basic)> = all.filter(|(cost, _)| *cost < -DUST).collect();
    better.sort_by(|a, b| a.0.total_cmp(&b.0));
    better.truncate(MOST);
    better.into_iter().map(|(_, basic)| basic)
}
