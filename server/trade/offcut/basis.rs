//! The basis of a linear program in factors, so that equations with it are soon solved.
//!
//! A basis is as many columns as there are rows, each with few entries. It is parted into a lower and an upper
//! triangle by elimination, the next pivot always where the least fills in (H. Markowitz, 1957); here most columns or
//! rows have one entry left by then and nothing fills in at all. When a column takes the place of another, the change
//! is kept as one more factor (the product form of the inverse, G. Dantzig and W. Orchard-Hays, 1954) until the basis
//! is parted anew.

use std::rc::Rc;

/// A column of the basis: its entries by row.
pub(super) type Entries = Vec<(usize, f64)>;

/// A basis in factors.
#[derive(Clone, Debug)]
pub(super) struct Factors {
    triangles: Rc<Triangles>,
    /// Columns that took another's place since.
    turns: Vec<Rc<Turn>>,
    /// Entries of the turns.
    turned: usize,
}

#[derive(Debug)]
struct Triangles {
    /// In the order eliminated.
    pivots: Vec<Pivot>,
    /// What of the pivot's row is taken off which rows.
    lower: Lists,
    /// Entries of the pivot's row in columns eliminated later.
    upper_row: Lists,
    /// Entries of the pivot's column in rows eliminated before.
    upper_column: Lists,
}

#[derive(Clone, Copy, Debug)]
struct Pivot {
    row: usize,
    /// Which column of the basis.
    place: usize,
    value: f64,
}

/// Many lists in one.
#[derive(Debug, Default)]
struct Lists {
    ends: Vec<usize>,
    entries: Entries,
}

/// One column in another's place, by what it is in the columns of the basis before.
#[derive(Debug)]
struct Turn {
    place: usize,
    value: f64,
    others: Entries,
}

/// A pivot is at least this part of the largest entry of its column; from memory, as is usual in sparse elimination.
const STABLE: f64 = 0.05;

/// What rounding leaves of nothing.
const DUST: f64 = 1e-12;

/// Turns after which the basis is parted anew: found by trial.
const MOST_TURNS: usize = 64;

impl Factors {
    /// The basis of which each row has its own column with one entry of 1 or -1.
    pub(super) fn of_signs(signs: &[f64]) -> Self {
        let pivots = signs.iter().enumerate().map(|(row, value)| Pivot { row, place: row, value: *value });
        let mut triangles = Triangles {
            pivots: pivots.collect(),
            lower: Lists::default(),
            upper_row: Lists::default(),
            upper_column: Lists::default(),
        };
        for _ in signs {
            triangles.lower.end();
            triangles.upper_row.end();
            triangles.upper_column.end();
        }
        Self { triangles: Rc::new(triangles), turns: Vec::new(), turned: 0 }
    }

    /// Parts a basis; nothing where its columns are not independent but for rounding.
    pub(super) fn new(columns: Vec<Entries>) -> Option<Self> {
        let triangles = Elimination::new(columns).run()?;
        Some(Self { triangles: Rc::new(triangles), turns: Vec::new(), turned: 0 })
    }

    /// Whether it is time to part it anew.
    pub(super) fn is_worn(&self) -> bool {
        self.turns.len() >= MOST_TURNS
    }

    /// How many numbers are gone through to solve equations.
    pub(super) fn size(&self) -> usize {
        let Triangles { pivots, lower, upper_row, .. } = &*self.triangles;
        pivots.len() + lower.entries.len() + upper_row.entries.len() + self.turned
    }

    /// How much of each column of the basis makes these entries together, by place.
    pub(super) fn amounts(&self, entries: impl Iterator<Item = (usize, f64)>) -> Vec<f64> {
        let Triangles { pivots, lower, upper_column, .. } = &*self.triangles;
        let mut by_row = vec![0.0; pivots.len()];
        for (row, entry) in entries {
            by_row[row] += entry;
        }
        for (nth, pivot) in pivots.iter().enumerate() {
            let of_pivot = by_row[pivot.row];
            if of_pivot != 0.0 {
                for (row, factor) in lower.list(nth) {
                    by_row[*row] -= factor * of_pivot;
                }
            }
        }
        let mut amounts = vec![0.0; pivots.len()];
        for (nth, pivot) in pivots.iter().enumerate().rev() {
            if by_row[pivot.row].abs() > DUST {
                let amount = by_row[pivot.row] / pivot.value;
                amounts[pivot.place] = amount;
                for (row, entry) in upper_column.list(nth) {
                    by_row[*row] -= entry * amount;
                }
            }
        }
        for turn in &self.turns {
            if amounts[turn.place] != 0.0 {
                let amount = amounts[turn.place] / turn.value;
                for (place, entry) in &turn.others {
                    amounts[*place] -= entry * amount;
                }
                amounts[turn.place] = amount;
            }
        }
        amounts
    }

    /// What each row is worth when each column of the basis is worth so much, by place.
    pub(super) fn worths(&self, mut of_places: Vec<f64>) -> Vec<f64> {
        let Triangles { pivots, lower, upper_row, .. } = &*self.triangles;
        for turn in self.turns.iter().rev() {
            let others: f64 = turn.others.iter().map(|(place, entry)| entry * of_places[*place]).sum();
            of_places[turn.place] = (of_places[turn.place] - others) / turn.value;
        }
        let mut of_rows = vec![0.0; pivots.len()];
        for (nth, pivot) in pivots.iter().enumerate() {
            if of_places[pivot.place].abs() > DUST {
                let worth = of_places[pivot.place] / pivot.value;
                of_rows[pivot.row] = worth;
                for (place, entry) in upper_row.list(nth) {
                    of_places[*place] -= entry * worth;
                }
            }
        }
        for (nth, pivot) in pivots.iter().enumerate().rev() {
            let off: f64 = lower.list(nth).iter().map(|(row, factor)| factor * of_rows[*row]).sum();
            of_rows[pivot.row] -= off;
        }
        of_rows
    }

    /// Puts a column in another's place, by its [`Self::amounts`].
    pub(super) fn turn(&mut self, place: usize, amounts: &[f64]) {
        let others = amounts.iter().copied().enumerate();
        let others: Entries =
            others.filter(|(other, amount)| *other != place && amount.abs() > DUST).collect();
        self.turned += 1 + others.len();
        self.turns.push(Rc::new(Turn { place, value: amounts[place], others }));
    }
}

impl Lists {
    fn end(&mut self) {
        self.ends.push(self.entries.len());
    }

    fn list(&self, nth: usize) -> &[(usize, f64)] {
        let from = nth.checked_sub(1).map_or(0, |before| self.ends[before]);
        &self.entries[from..self.ends[nth]]
    }
}

/// A basis half way into triangles.
struct Elimination {
    /// What is left of each row, by place.
    rows: Vec<Entries>,
    /// In which rows each column has or had an entry.
    columns: Vec<Vec<usize>>,
    /// How many entries each column has left.
    left: Vec<usize>,
    row_done: Vec<bool>,
    place_done: Vec<bool>,
    /// Columns and rows with one entry, some of them done or with none by now.
    single_places: Vec<usize>,
    single_rows: Vec<usize>,
}

impl Elimination {
    fn new(columns: Vec<Entries>) -> Self {
        let count = columns.len();
        let mut rows: Vec<Entries> = vec![Vec::new(); count];
        for (place, column) in columns.iter().enumerate() {
            for (row, entry) in column {
                match rows[*row].last_mut() {
                    Some((last, known)) if *last == place => *known += entry,
                    _ => rows[*row].push((place, *entry)),
                }
            }
        }
        let mut of_places: Vec<Vec<usize>> = vec![Vec::new(); count];
        for (row, entries) in rows.iter_mut().enumerate() {
            entries.retain(|(_, entry)| entry.abs() > DUST);
            for (place, _) in entries {
                of_places[*place].push(row);
            }
        }
        let left: Vec<usize> = of_places.iter().map(Vec::len).collect();
        let single = |lengths: &mut dyn Iterator<Item = usize>| -> Vec<usize> {
            lengths.enumerate().filter(|(_, length)| *length == 1).map(|(nth, _)| nth).collect()
        };
        Self {
            single_places: single(&mut left.iter().copied()),
            single_rows: single(&mut rows.iter().map(Vec::len)),
            rows,
            columns: of_places,
            left,
            row_done: vec![false; count],
            place_done: vec![false; count],
        }
    }

    fn run(mut self) -> Option<Triangles> {
        let count = self.rows.len();
        let mut pivots = Vec::with_capacity(count);
        let (mut lower, mut upper_row) = (Lists::default(), Lists::default());
        while pivots.len() < count {
            let (row, place) = self.next()?;
            let value = self.eliminate(row, place, &mut lower);
            upper_row.entries.extend(self.rows[row].iter().filter(|(other, _)| *other != place));
            lower.end();
            upper_row.end();
            pivots.push(Pivot { row, place, value });
        }
        let upper_column = turned(&pivots, &upper_row);
        Some(Triangles { pivots, lower, upper_row, upper_column })
    }

    /// The next pivot.
    fn next(&mut self) -> Option<(usize, usize)> {
        while let Some(place) = self.single_places.pop() {
            if !self.place_done[place] && self.left[place] == 1 {
                let row = self.rows_of(place).next().map(|(row, _)| row);
                return row.map(|row| (row, place));
            }
        }
        while let Some(row) = self.single_rows.pop() {
            if !self.row_done[row]
                && let [(place, _)] = self.rows[row][..]
            {
                return Some((row, place));
            }
        }
        self.least_filling()
    }

    /// Entries of the column in rows not done.
    fn rows_of(&self, place: usize) -> impl Iterator<Item = (usize, f64)> {
        let rows = self.columns[place].iter().filter(|row| !self.row_done[**row]);
        rows.filter_map(move |row| {
            let entry = self.rows[*row].iter().find(|(other, _)| *other == place)?;
            Some((*row, entry.1))
        })
    }

    /// Of the shortest columns the entry that fills in least, large enough not to lose figures.
    fn least_filling(&self) -> Option<(usize, usize)> {
        const MOST: usize = 4;
        let places = (0..self.left.len()).filter(|place| !self.place_done[*place]);
        let mut shortest: Vec<(usize, usize)> = Vec::new();
        for place in places {
            let length = self.left[place];
            if shortest.len() < MOST || shortest.last().is_some_and(|(longest, _)| length < *longest) {
                let at = shortest.partition_point(|(other, _)| *other <= length);
                shortest.insert(at, (length, place));
                shortest.truncate(MOST);
            }
        }
        let mut best: Option<(usize, usize, usize)> = None;
        for (length, place) in shortest {
            let entries: Entries = self.rows_of(place).collect();
            let largest = entries.iter().fold(0.0_f64, |most, (_, entry)| most.max(entry.abs()));
            for (row, entry) in entries {
                let fills = (length.saturating_sub(1)) * (self.rows[row].len() - 1);
                let stable = entry.abs() >= STABLE * largest && largest > 1e-9;
                if stable && best.is_none_or(|(least, ..)| fills < least) {
                    best = Some((fills, row, place));
                }
            }
        }
        best.map(|(_, row, place)| (row, place))
    }

    /// Takes the pivot's row off the others; what the pivot is.
    fn eliminate(&mut self, row: usize, place: usize, lower: &mut Lists) -> f64 {
        let of_pivot = self.rows[row].clone();
        let value = of_pivot.iter().find(|(other, _)| *other == place).map_or(1.0, |(_, entry)| *entry);
        self.row_done[row] = true;
        self.place_done[place] = true;
        for (other, _) in &of_pivot {
            self.left[*other] -= 1;
            if self.left[*other] == 1 {
                self.single_places.push(*other);
            }
        }
        let others: Entries = self.rows_of(place).collect();
        for (other, entry) in others {
            let factor = entry / value;
            lower.entries.push((other, factor));
            self.take_off(other, factor, &of_pivot, place);
        }
        value
    }

    fn take_off(&mut self, row: usize, factor: f64, of_pivot: &Entries, place: usize) {
        let mut entries = std::mem::take(&mut self.rows[row]);
        entries.retain(|(other, _)| *other != place);
        for (other, entry) in of_pivot.iter().filter(|(other, _)| *other != place) {
            if let Some(known) = entries.iter_mut().find(|(known, _)| known == other) {
                known.1 -= factor * entry;
            } else {
                entries.push((*other, -factor * entry));
                self.left[*other] += 1;
                // It may have had one there before.
                if !self.columns[*other].contains(&row) {
                    self.columns[*other].push(row);
                }
            }
        }
        let (left, single_places) = (&mut self.left, &mut self.single_places);
        entries.retain(|(other, entry)| {
            let stays = entry.abs() > DUST;
            if !stays {
                left[*other] -= 1;
                if left[*other] == 1 {
                    single_places.push(*other);
                }
            }
            stays
        });
        if entries.len() == 1 {
            self.single_rows.push(row);
        }
        self.rows[row] = entries;
    }
}

/// The upper triangle by columns.
fn turned(pivots: &[Pivot], upper_row: &Lists) -> Lists {
    let mut step_of = vec![0; pivots.len()];
    for (nth, pivot) in pivots.iter().enumerate() {
        step_of[pivot.place] = nth;
    }
    let mut columns: Vec<Entries> = vec![Vec::new(); pivots.len()];
    for (nth, pivot) in pivots.iter().enumerate() {
        for (place, entry) in upper_row.list(nth) {
            columns[step_of[*place]].push((pivot.row, *entry));
        }
    }
    let mut lists = Lists::default();
    for column in columns {
        lists.entries.extend(column);
        lists.end();
    }
    lists
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Entries, Factors};

    const ROWS: usize = 12;

    /// Columns of a few entries, as patterns have them, and one of its own for each row.
    fn columns() -> impl Strategy<Value = Vec<Entries>> {
        let entry = (0..ROWS, prop_oneof![Just(1.0), Just(1.0), Just(2.0), Just(3.0), Just(-1.0)]);
        let column = prop::collection::vec(entry, 1..4);
        prop::collection::vec(column, 30)
    }

    fn own(row: usize) -> Entries {
        vec![(row, 1.0)]
    }

    /// The largest fault in the equations that the factors say they solve, both ways.
    fn largest_fault(factors: &Factors, basis: &[Entries]) -> f64 {
        let mut worst = 0.0_f64;
        for nth in 0..ROWS {
            let amounts = factors.amounts(std::iter::once((nth, 1.0)));
            let mut sums = [0.0; ROWS];
            for (column, amount) in basis.iter().zip(&amounts) {
                column.iter().for_each(|(row, entry)| sums[*row] += entry * amount);
            }
            sums[nth] -= 1.0;
            worst = sums.iter().fold(worst, |worst, sum| worst.max(sum.abs()));
            let mut of_places = vec![0.0; ROWS];
            of_places[nth] = 1.0;
            let worths = factors.worths(of_places);
            for (place, column) in basis.iter().enumerate() {
                let worth: f64 = column.iter().map(|(row, entry)| entry * worths[*row]).sum();
                worst = worst.max((worth - if place == nth { 1.0 } else { 0.0 }).abs());
            }
        }
        worst
    }

    proptest! {
        /// However often columns have taken another's place, and after the basis is parted anew.
        #[test]
        fn equations_with_the_basis_are_solved(columns in columns()) {
            let mut basis: Vec<Entries> = (0..ROWS).map(own).collect();
            let mut factors = Factors::of_signs(&[1.0; ROWS]);
            for column in columns {
                let amounts = factors.amounts(column.iter().copied());
                let largest = (0..ROWS).max_by(|a, b| amounts[*a].abs().total_cmp(&amounts[*b].abs()));
                let Some(place) = largest.filter(|place| amounts[*place].abs() > 0.1) else { continue };
                factors.turn(place, &amounts);
                basis[place] = column;
            }
            prop_assert!(largest_fault(&factors, &basis) < 1e-7);
            let anew = Factors::new(basis.clone()).unwrap();
            prop_assert!(largest_fault(&anew, &basis) < 1e-7);
        }
    }

    #[test]
    fn columns_that_depend_on_each_other_are_no_basis() {
        let twice = |row: usize| vec![(row, 1.0), (row + 1, 2.0)];
        assert!(Factors::new(vec![twice(0), twice(0), own(2)]).is_none());
        assert!(Factors::new(vec![twice(0), own(1), own(2)]).is_some());
    }
}
