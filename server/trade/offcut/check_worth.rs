//! What pieces cut from one tile can be worth at most, for the check of proofs.
//!
//! A dynamic program over parts: how wide, how high, and which of the sides are a tile's own. The kerf goes into
//! the sizes: pieces beside each other take `a + kerf + b <= whole`, which is
//! `(a + kerf) + (b + kerf) <= whole + kerf`, so every size grows by one kerf and cuts lose nothing. Only sizes
//! that pieces beside each other can add up to are looked at, since any other holds no more than the next such
//! size below. Where those are too many, sizes are rounded down to a coarser grid: then more fits than in truth,
//! and what is found is only an upper limit.

use std::collections::BTreeMap;

use super::check_stops::{Reach, Stops};
use crate::geometry::{Side, Sides};
use crate::measure::Length;

/// Comparisons of two parts for one tile: less than a second of them.
const MOST_STEPS: usize = 800_000_000;

/// Each doubles what is kept of a part and quadruples the comparisons.
const MOST_SETS: usize = 6;

/// One way for a piece to lie on the table, and what it brings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Offer {
    pub(super) width: Length,
    pub(super) height: Length,
    /// Sides, as it lies, that must be a tile's own.
    pub(super) needs: Sides,
    pub(super) price: i64,
    /// The odd sets that it is in, a bit each.
    pub(super) sets: usize,
    /// Shares what it is cut from with no other.
    pub(super) alone: bool,
}

/// A tile or an offcut before the first cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Whole {
    pub(super) width: Length,
    pub(super) height: Length,
    pub(super) own: Sides,
}

/// What can be said of the most that pieces are worth.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Worth {
    Exactly(i64),
    /// Sizes were rounded to a grid: not more than this, perhaps less.
    AtMost(i64),
    /// Neither, within the counted steps.
    Unknown,
}

/// The most that pieces cut from `whole` are worth, copies unlimited. A set's price is paid for every two of its
/// pieces begun.
pub(super) fn most_worth(whole: Whole, kerf: Length, offers: &[Offer], set_prices: &[i64]) -> Worth {
    if set_prices.len() > MOST_SETS {
        return Worth::Unknown;
    }
    let by_itself = |offer: &Offer| offer.price + all_of(set_prices, offer.sets);
    let fitting = || offers.iter().filter(|offer| whole.takes(offer) && by_itself(offer) > 0);
    let alone = fitting().filter(|offer| offer.alone).map(by_itself).max().unwrap_or(0);
    let shared = undominated(fitting().filter(|offer| !offer.alone));
    match worth_of_shared(whole, kerf, &shared, set_prices) {
        Worth::Exactly(worth) => Worth::Exactly(worth.max(alone)),
        Worth::AtMost(worth) if worth <= alone => Worth::Exactly(alone),
        limit @ (Worth::AtMost(_) | Worth::Unknown) => limit,
    }
}

impl Whole {
    /// Whether the piece can be cut from it. Who needs two opposite sides is as long as it is.
    fn takes(&self, offer: &Offer) -> bool {
        let both = |a, b| offer.needs.has(a) && offer.needs.has(b);
        self.own.has_all(offer.needs)
            && offer.width <= self.width
            && offer.height <= self.height
            && (!both(Side::Left, Side::Right) || offer.width == self.width)
            && (!both(Side::Bottom, Side::Top) || offer.height == self.height)
    }
}

impl Offer {
    /// Whether it can always be cut instead of the other, and is worth no less.
    fn serves_for(&self, other: &Self) -> bool {
        self.width <= other.width
            && self.height <= other.height
            && other.needs.has_all(self.needs)
            && self.sets == other.sets
            && self.price >= other.price
    }
}

/// Leaves out what another serves for.
fn undominated<'o>(offers: impl Iterator<Item = &'o Offer>) -> Vec<Offer> {
    let mut dearest: BTreeMap<_, Offer> = BTreeMap::new();
    for offer in offers {
        let known = dearest.entry((offer.width, offer.height, offer.needs, offer.sets)).or_insert(*offer);
        known.price = known.price.max(offer.price);
    }
    let needless = |offer: &Offer| {
        let others = dearest.values().filter(|other| !std::ptr::eq(*other, offer));
        others.into_iter().any(|other| other.serves_for(offer))
    };
    dearest.values().filter(|offer| !needless(offer)).copied().collect()
}

fn all_of(set_prices: &[i64], sets: usize) -> i64 {
    let asked = set_prices.iter().enumerate().filter(|(bit, _)| sets & (1 << bit) != 0);
    asked.map(|(_, price)| price).sum()
}

fn worth_of_shared(whole: Whole, kerf: Length, offers: &[Offer], set_prices: &[i64]) -> Worth {
    if offers.is_empty() {
        return Worth::Exactly(0);
    }
    let spans = |across: fn(&Offer) -> Length, low, high| -> Vec<(i64, Reach)> {
        let span = |offer: &Offer| ((across(offer) + kerf).units(), Reach::of(offer.needs, low, high));
        offers.iter().map(span).collect()
    };
    let wide = spans(|offer| offer.width, Side::Left, Side::Right);
    let high = spans(|offer| offer.height, Side::Bottom, Side::Top);
    let reach =
        (Reach::of(whole.own, Side::Left, Side::Right), Reach::of(whole.own, Side::Bottom, Side::Top));
    let mut across = Ruler::exact(&wide, (whole.width + kerf).units(), reach.0);
    let mut up = Ruler::exact(&high, (whole.height + kerf).units(), reach.1);
    let most_steps = MOST_STEPS >> (2 * set_prices.len());
    loop {
        let coarser = match (&across.stops, &up.stops) {
            (Some(columns), Some(rows)) if steps(columns, rows) <= most_steps => {
                let worth = Table::filled(columns, rows, offers, (&wide, &high), set_prices).worth(reach);
                let exact = across.grid == 1 && up.grid == 1;
                return if exact { Worth::Exactly(worth) } else { Worth::AtMost(worth) };
            }
            (Some(columns), Some(rows)) if columns.count() > rows.count() => across.coarsen(),
            (None, _) => across.coarsen(),
            (Some(_), _) => up.coarsen(),
        };
        if !coarser {
            return Worth::Unknown;
        }
    }
}

/// How large pieces are in one direction, and what they need there.
type Spans<'o> = &'o [(i64, Reach)];

/// One direction on the table: sizes, and the grid that they are rounded down to.
struct Ruler<'o> {
    spans: Spans<'o>,
    whole: i64,
    reach: Reach,
    grid: i64,
    stops: Option<Stops>,
}

impl<'o> Ruler<'o> {
    fn exact(spans: Spans<'o>, whole: i64, reach: Reach) -> Self {
        Self { spans, whole, reach, grid: 1, stops: Stops::new(spans, whole, reach, 1) }
    }

    /// From exact to a grid of 2000 lines, then by halves; false once a piece would be no wider than nothing.
    fn coarsen(&mut self) -> bool {
        self.grid = if self.grid == 1 { (self.whole / 2000).max(2) } else { self.grid + self.grid / 2 + 1 };
        self.stops = Stops::new(self.spans, self.whole, self.reach, self.grid);
        self.spans.iter().all(|(size, _)| *size >= self.grid)
    }
}

/// Comparisons that filling the table takes.
fn steps(columns: &Stops, rows: &Stops) -> usize {
    let across = columns.cuts_in_all().saturating_mul(rows.count());
    across.saturating_add(rows.cuts_in_all().saturating_mul(columns.count()))
}

/// What parts are worth, by how they reach the sides and how large they are. For each size there is a value for
/// every choice of sets of which the part holds an odd number; [`NEVER`] where that cannot be.
struct Table<'s> {
    parts: [[Vec<Vec<i64>>; 4]; 4],
    columns: &'s Stops,
    rows: &'s Stops,
    masks: usize,
    /// For each choice of sets, what is paid twice when two parts both hold an odd number of each.
    twice: Vec<i64>,
}

/// So low that two of it do not overflow and no price lifts it above nothing.
const NEVER: i64 = i64::MIN / 4;

impl<'s> Table<'s> {
    fn filled(
        columns: &'s Stops,
        rows: &'s Stops,
        offers: &[Offer],
        (wide, high): (Spans<'_>, Spans<'_>),
        set_prices: &[i64],
    ) -> Self {
        let masks = 1_usize << set_prices.len();
        let twice = (0..masks).map(|mask| all_of(set_prices, mask)).collect();
        let mut table = Self { parts: Default::default(), columns, rows, masks, twice };
        for x in Reach::ALL {
            for y in Reach::ALL {
                let mut empty = vec![NEVER; masks];
                empty[0] = 0;
                let row = empty.repeat(rows.of(y).len());
                table.parts[x.index()][y.index()] = vec![row; columns.of(x).len()];
            }
        }
        for (offer, (across, up)) in offers.iter().zip(wide.iter().zip(high)) {
            table.put(offer, *across, *up);
        }
        let cuts_up = Reach::ALL.map(|y| rows.cuts(y));
        for x in Reach::ALL {
            for y in Reach::ALL {
                table.fill(x, y, &cuts_up[y.index()]);
            }
        }
        table
    }

    /// Puts one piece into the smallest parts that it can be cut from.
    fn put(&mut self, offer: &Offer, across: (i64, Reach), up: (i64, Reach)) {
        let worth = offer.price + self.twice[offer.sets];
        for x in Reach::ALL.into_iter().filter(|x| x.has_all(across.1)) {
            for y in Reach::ALL.into_iter().filter(|y| y.has_all(up.1)) {
                let (column, row) = (self.columns.index_of(x, across.0), self.rows.index_of(y, up.0));
                if let (Some(column), Some(row)) = (column, row) {
                    let known = &mut self.parts[x.index()][y.index()][column][row * self.masks + offer.sets];
                    *known = worth.max(*known);
                }
            }
        }
    }

    /// Cuts every part that reaches the sides so, the smaller ones first.
    fn fill(&mut self, x: Reach, y: Reach, cuts_up: &[Vec<(usize, usize)>]) {
        let columns = self.columns;
        let (left, right) = x.parted();
        for column in 0..columns.of(x).len() {
            let mut line = std::mem::take(&mut self.parts[x.index()][y.index()][column]);
            if let Some(narrower) = column.checked_sub(1) {
                raise(&mut line, &self.parts[x.index()][y.index()][narrower]);
            }
            for (first, second) in columns.cuts_of(x, column) {
                let first = &self.parts[left.index()][y.index()][first];
                let second = &self.parts[right.index()][y.index()][second];
                self.join_lines(&mut line, first, second);
            }
            self.cut_up(&mut line, (x, y), column, cuts_up);
            self.parts[x.index()][y.index()][column] = line;
        }
    }

    /// Parts of one width, beside parts of another, height by height.
    fn join_lines(&self, line: &mut [i64], first: &[i64], second: &[i64]) {
        if self.masks == 1 {
            for ((known, a), b) in line.iter_mut().zip(first).zip(second) {
                *known = (*a + *b).max(*known);
            }
            return;
        }
        let parts = line.chunks_mut(self.masks).zip(first.chunks(self.masks).zip(second.chunks(self.masks)));
        parts.for_each(|(known, (a, b))| self.join(known, a, b));
    }

    /// Cuts across the height the parts of one width, the lower ones first.
    fn cut_up(&self, line: &mut [i64], (x, y): (Reach, Reach), column: usize, cuts: &[Vec<(usize, usize)>]) {
        let (below, above) = y.parted();
        let masks = self.masks;
        let mut found = vec![NEVER; masks];
        for (row, cuts) in cuts.iter().enumerate() {
            found.copy_from_slice(part_of(line, row, masks));
            if let Some(lower) = row.checked_sub(1) {
                raise(&mut found, part_of(line, lower, masks));
            }
            // Parts that reach as this one does stand in this very line.
            let of = |reach: Reach| {
                if reach == y { &*line } else { &self.parts[x.index()][reach.index()][column][..] }
            };
            let (lower, upper) = (of(below), of(above));
            for &(first, second) in cuts {
                self.join(&mut found, part_of(lower, first, masks), part_of(upper, second, masks));
            }
            line[row * masks..][..masks].copy_from_slice(&found);
        }
    }

    /// What a part is worth that is cut into these two.
    fn join(&self, known: &mut [i64], first: &[i64], second: &[i64]) {
        for (odd_a, a) in first.iter().enumerate() {
            for (odd_b, b) in second.iter().enumerate() {
                let known = &mut known[odd_a ^ odd_b];
                *known = (*a + *b - self.twice[odd_a & odd_b]).max(*known);
            }
        }
    }

    /// The most that the whole is worth.
    fn worth(&self, (x, y): (Reach, Reach)) -> i64 {
        let parts = self.parts[x.index()][y.index()].last().and_then(|line| line.chunks(self.masks).last());
        parts.and_then(|worth| worth.iter().max().copied()).unwrap_or(0)
    }
}

fn part_of(line: &[i64], row: usize, masks: usize) -> &[i64] {
    &line[row * masks..][..masks]
}

/// What fits into less fits into more.
fn raise(known: &mut [i64], less: &[i64]) {
    for (known, less) in known.iter_mut().zip(less) {
        *known = (*known).max(*less);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NO_SETS: &[i64] = &[];

    fn offer(width: i64, height: i64, needs: &[Side], price: i64) -> Offer {
        let needs = needs.iter().copied().collect();
        Offer { width: Length::mm(width), height: Length::mm(height), needs, price, sets: 0, alone: false }
    }

    fn worth(offers: &[Offer], set_prices: &[i64]) -> Worth {
        let tile = Whole { width: Length::mm(600), height: Length::mm(300), own: Sides::ALL };
        most_worth(tile, Length::mm(2), offers, set_prices)
    }

    #[test]
    fn two_row_ends_three_rips_of_which_one_is_free_and_four_corner_pieces_fill_a_tile() {
        assert_eq!(
            worth(&[offer(50, 300, &[Side::Left, Side::Bottom, Side::Top], 1)], NO_SETS),
            Worth::Exactly(1)
        );
        let ends = [Side::Left, Side::Right].map(|side| offer(50, 300, &[side, Side::Bottom, Side::Top], 1));
        assert_eq!(worth(&ends, NO_SETS), Worth::Exactly(2));
        let rips = [Side::Bottom, Side::Top].map(|side| offer(600, 90, &[Side::Left, Side::Right, side], 1));
        assert_eq!(worth(&[rips[0], rips[1], offer(580, 90, &[], 1)], NO_SETS), Worth::Exactly(3));
        let corners =
            [Side::Left, Side::Right].map(|x| [Side::Bottom, Side::Top].map(|y| offer(299, 149, &[x, y], 1)));
        assert_eq!(worth(corners.as_flattened(), NO_SETS), Worth::Exactly(4));
    }

    #[test]
    fn the_kerf_is_lost_between_pieces_only() {
        assert_eq!(worth(&[offer(299, 300, &[], 1)], NO_SETS), Worth::Exactly(2));
        assert_eq!(worth(&[offer(300, 300, &[], 1)], NO_SETS), Worth::Exactly(1));
        assert_eq!(worth(&[offer(600, 300, &[], 1)], NO_SETS), Worth::Exactly(1));
    }

    #[test]
    fn only_cuts_right_across_are_made() {
        // Five pieces round a pinwheel fill the square but cannot be sawn.
        let around = [offer(200, 100, &[], 2), offer(100, 200, &[], 2), offer(100, 100, &[], 1)];
        let square = Whole { width: Length::mm(300), height: Length::mm(300), own: Sides::ALL };
        let sides = [
            Offer { needs: [Side::Left, Side::Bottom].into_iter().collect(), ..around[0] },
            Offer { needs: [Side::Right, Side::Bottom].into_iter().collect(), ..around[1] },
            Offer { needs: [Side::Right, Side::Top].into_iter().collect(), ..around[0] },
            Offer { needs: [Side::Left, Side::Top].into_iter().collect(), ..around[1] },
        ];
        assert_eq!(most_worth(square, Length::ZERO, &sides, NO_SETS), Worth::Exactly(6));
        assert_eq!(most_worth(square, Length::ZERO, &around, NO_SETS), Worth::Exactly(9));
    }

    #[test]
    fn a_set_pays_for_every_two_begun() {
        let three = Offer { sets: 1, ..offer(198, 300, &[], 0) };
        assert_eq!(worth(&[three], &[5]), Worth::Exactly(10));
        let two = Offer { sets: 1, ..offer(299, 300, &[], 1) };
        assert_eq!(worth(&[two], &[5]), Worth::Exactly(7));
        let both =
            [Offer { sets: 1, ..offer(299, 300, &[], 1) }, Offer { sets: 2, ..offer(299, 300, &[], 2) }];
        assert_eq!(worth(&both, &[5, 7]), Worth::Exactly(15));
    }

    #[test]
    fn a_piece_that_shares_with_no_other_is_worth_itself() {
        let alone = Offer { alone: true, ..offer(100, 100, &[], 3) };
        assert_eq!(worth(&[alone], NO_SETS), Worth::Exactly(3));
        assert_eq!(worth(&[alone, offer(299, 300, &[], 2)], NO_SETS), Worth::Exactly(4));
    }

    #[test]
    fn sizes_too_fine_for_exact_sums_give_an_upper_limit() {
        let odd = |at: i64| Offer {
            width: Length::from_units(Length::mm(31).units() + at * 7919),
            height: Length::from_units(Length::mm(41).units() + at * 6089),
            ..offer(1, 1, &[], 100 + at)
        };
        let offers: Vec<Offer> = (0..40).map(odd).collect();
        let Worth::AtMost(limit) = worth(&offers, NO_SETS) else { panic!("rounded") };
        // 602 / 33 times 302 / 43 of the smallest, and no more than by area.
        assert!((18 * 7 * 100..=144 * 126).contains(&limit), "{limit}");
    }
}
