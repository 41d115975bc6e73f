//! The covering linear program: how often to use each pattern so that every kind is covered and the tiles are fewest,
//! parts of a tile allowed; and the prices that show that it cannot be done with less.
//!
//! The revised simplex method with the inverse of the basis kept whole, which is small here: a row for each kind and
//! for each racked offcut. It works in floating point and therefore decides nothing: the prices it proposes are
//! rounded to whole numbers and judged anew, and so are the tiles.

use super::layout::Layout;
use super::steps::Steps;

/// One way to cut a tile or a racked offcut.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// How many of which kinds it gives.
    pub(super) counts: Vec<(usize, u32)>,
    /// Which of the racked offcuts of the program is cut; a new tile otherwise.
    pub(super) rack: Option<usize>,
    /// How it is cut. None where sizes were rounded down and the pieces do not really fit.
    pub(super) layout: Option<Layout>,
}

/// The state of the program.
pub(super) struct Master {
    rows: usize,
    kinds: usize,
    /// Column after column.
    inverse: Vec<f64>,
    basis: Vec<Basic>,
    amount: Vec<f64>,
    /// Of the kinds, then of the racked offcuts, the latter below zero.
    pub(super) prices: Vec<f64>,
}

#[derive(Clone, Copy, Debug)]
enum Basic {
    Column(usize),
    /// Pieces of a kind above what is wanted.
    Over(usize),
    /// A racked offcut left as it is.
    Idle(usize),
}

const DUST: f64 = 1e-9;

impl Master {
    /// Begins with the columns that give one piece of one kind: `columns[kind]` is that of `kind`.
    pub(super) fn new(wanted: &[usize], racks: usize) -> Self {
        let kinds = wanted.len();
        let rows = kinds + racks;
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        // Amounts a little apart from each other, so that no two columns tie and the method cannot go round in
        // circles.
        let mut nudge = 0.0;
        let mut nudged = |amount: f64| {
            nudge = (nudge + 0.618_033_988_7) % 1.0;
            amount + 1e-6 * (1.0 + nudge)
        };
        let of_kinds = wanted.iter().map(|count| u32::try_from(*count).map_or(f64::MAX, f64::from));
        let amount = of_kinds.chain((0..racks).map(|_| 1.0)).map(&mut nudged).collect();
        let basis = (0..kinds).map(Basic::Column).chain((0..racks).map(Basic::Idle)).collect();
        let prices = (0..rows).map(|row| if row < kinds { 1.0 } else { 0.0 }).collect();
        Self { rows, kinds, inverse, basis, amount, prices }
    }

    /// The best use of these columns. False when the steps ran out before.
    pub(super) fn optimise(&mut self, columns: &[Column], steps: &mut Steps) -> bool {
        let entries: usize = columns.iter().map(|column| column.counts.len()).sum();
        while let Some((cost, entering)) = self.entering(columns) {
            if !steps.spend(1 + (self.rows * self.rows + entries) / 8) {
                return false;
            }
            if !self.enter(cost, entering, columns) {
                break;
            }
        }
        true
    }

    /// Tiles, parts of them included.
    pub(super) fn tiles(&self, columns: &[Column]) -> f64 {
        self.uses().filter(|(column, _)| columns[*column].rack.is_none()).map(|(_, amount)| amount).sum()
    }

    /// How often each column is used, those that are.
    pub(super) fn uses(&self) -> impl Iterator<Item = (usize, f64)> {
        self.basis.iter().zip(&self.amount).filter_map(|(basic, amount)| match basic {
            Basic::Column(column) if *amount > 1e-4 => Some((*column, *amount)),
            Basic::Column(_) | Basic::Over(_) | Basic::Idle(_) => None,
        })
    }

    /// What the pieces of a column cost above what they are worth.
    pub(super) fn reduced_cost(&self, column: &Column) -> f64 {
        let worth: f64 =
            column.counts.iter().map(|(kind, count)| self.prices[*kind] * f64::from(*count)).sum();
        match column.rack {
            None => 1.0 - worth,
            Some(rack) => -self.prices[self.kinds + rack] - worth,
        }
    }

    fn entering(&self, columns: &[Column]) -> Option<(f64, Basic)> {
        let of_columns =
            columns.iter().enumerate().map(|(nth, c)| (self.reduced_cost(c), Basic::Column(nth)));
        let of_rows = self.prices.iter().enumerate().map(|(row, price)| {
            if row < self.kinds {
                (*price, Basic::Over(row))
            } else {
                (-price, Basic::Idle(row - self.kinds))
            }
        });
        let least = of_columns.chain(of_rows).min_by(|a, b| a.0.total_cmp(&b.0));
        least.filter(|(cost, _)| *cost < -DUST)
    }

    /// Takes it into the basis; false when nothing limits it, which only rounding can bring about.
    fn enter(&mut self, cost: f64, entering: Basic, columns: &[Column]) -> bool {
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
        let Some((ratio, row)) = leaving else { return false };
        for (amount, rate) in self.amount.iter_mut().zip(&step) {
            *amount -= rate * ratio;
        }
        self.amount[row] = ratio;
        for (price, column) in self.prices.iter_mut().zip(self.inverse.chunks_exact_mut(self.rows)) {
            let share = column[row] / step[row];
            if share != 0.0 {
                for (entry, rate) in column.iter_mut().zip(&step) {
                    *entry -= rate * share;
                }
                column[row] = share;
                *price += cost * share;
            }
        }
        self.basis[row] = entering;
        true
    }

    /// How the amounts of the basis fall as the entering one rises.
    fn direction(&self, entering: Basic, columns: &[Column]) -> Vec<f64> {
        let mut step = vec![0.0; self.rows];
        let mut add = |row: usize, factor: f64| {
            for (rate, entry) in step.iter_mut().zip(&self.inverse[row * self.rows..][..self.rows]) {
                *rate += factor * entry;
            }
        };
        match entering {
            Basic::Column(column) => {
                for (kind, count) in &columns[column].counts {
                    add(*kind, f64::from(*count));
                }
                if let Some(rack) = columns[column].rack {
                    add(self.kinds + rack, 1.0);
                }
            }
            Basic::Over(kind) => add(kind, -1.0),
            Basic::Idle(rack) => add(self.kinds + rack, 1.0),
        }
        step
    }
}
