//! The most that pieces cut from one tile are worth, each kind with its price and as many copies as go in.
//!
//! A part of a tile is described by its width, its height and which of its sides are the tile's own. Its worth is the
//! most of: nothing; a piece that goes into it with the sides it needs; what a smaller part is worth; and what the
//! two parts of one cut are worth together. Sizes and cuts are those of the two [`Lattice`]s, smaller ones first.
//!
//! With odd sets the worth is kept apart by which of the sets a part holds an odd number of: two parts that are both
//! odd in a set have one pair more than each counted alone, so its price, counted for both, is taken off once.

use std::cmp::Reverse;

use super::Axis;
use super::kinds::{Kind, Kinds};
use super::lattice::{Lattice, Stretch};
use super::layout::Layout;
use super::problem::Shape;
use super::steps::Steps;
use crate::geometry::{Rect, Side, Sides};
use crate::measure::Length;

/// Prices in whole numbers.
#[derive(Clone, Debug, Default)]
pub(super) struct Worth {
    /// Of one piece of each kind.
    pub(super) each: Vec<i64>,
    /// For each odd set which kinds are in it, and its price.
    pub(super) sets: Vec<(Vec<bool>, i64)>,
}

/// What is looked at, whatever the prices.
pub(super) struct Grid<'k, 'p> {
    kinds: &'k Kinds<'p>,
    across: Lattice,
    up: Lattice,
    seats: Vec<Seat>,
    /// Sizes are rounded down to whole units of so much; 1 when they are not.
    unit: (i64, i64),
}

/// The smallest part that a kind can be taken from, in one of its turns.
struct Seat {
    kind: usize,
    shape: Shape,
    at: (usize, usize),
}

/// What every part is worth.
pub(super) struct Table<'g, 'k, 'p> {
    grid: &'g Grid<'k, 'p>,
    worth: Worth,
    /// How often prices were halved.
    halved: u32,
    /// By point across, by which sets are odd, by point up.
    value: Vec<i32>,
    /// Which sets a piece of the kind is in, as bits.
    member: Vec<usize>,
    /// What is taken off where both parts are odd in these sets.
    twice: Vec<i32>,
}

/// The most points in one direction.
const MOST_POINTS: usize = 8000;

/// The most that a part may be worth. The table is of small numbers, of which a processor adds and compares several at
/// once; prices are halved until they are small enough.
const MOST_WORTH: i64 = 400_000_000;

/// What cannot be.
const NEVER: i32 = -500_000_000;

impl<'k, 'p> Grid<'k, 'p> {
    /// As fine as it can be with so many sums of two values for one table; nothing where even a coarse one takes more.
    pub(super) fn new(kinds: &'k Kinds<'p>, sums: usize, steps: &mut Steps) -> Option<Self> {
        Self::with_unit(kinds, (1, 1), sums, steps).or_else(|| {
            let least = |axis: Axis| {
                let shapes = kinds.all.iter().flat_map(|kind| kind.shapes.iter());
                shapes.map(|shape| size(kinds, axis, shape)).min().unwrap_or(1)
            };
            let whole = |axis: Axis| size_of_tile(kinds, axis);
            [1500, 1000, 600, 400, 300, 200, 150, 100, 60, 40].into_iter().find_map(|parts| {
                let unit = |axis: Axis| (whole(axis) / parts).min(least(axis)).max(1);
                Self::with_unit(kinds, (unit(Axis::X), unit(Axis::Y)), sums, steps)
            })
        })
    }

    fn with_unit(kinds: &'k Kinds<'p>, unit: (i64, i64), sums: usize, steps: &mut Steps) -> Option<Self> {
        let shapes = || {
            let mixing = kinds.all.iter().enumerate().filter(|(_, kind)| !kind.alone);
            mixing.flat_map(|(index, kind)| kind.shapes.iter().map(move |shape| (index, *shape)))
        };
        let lattice = |axis: Axis, unit: i64| {
            let (low, high) = axis.sides();
            let stretches: Vec<Stretch> = shapes()
                .map(|(_, shape)| Stretch {
                    size: size(kinds, axis, &shape),
                    low: shape.needs.has(low),
                    high: shape.needs.has(high),
                })
                .collect();
            Lattice::new(&stretches, size_of_tile(kinds, axis), unit, MOST_POINTS)
        };
        let (across, up) = (lattice(Axis::X, unit.0)?, lattice(Axis::Y, unit.1)?);
        steps.spend(across.len() + up.len());
        if across.most_cuts() * up.len() + across.len() * up.most_cuts() > sums {
            return None;
        }
        steps.spend(across.most_cuts() + up.most_cuts());
        let (across, up) = (across.with_cuts(), up.with_cuts());
        let mut grid = Self { kinds, across, up, seats: Vec::new(), unit };
        for (kind, shape) in shapes() {
            let at = grid.part(shape.width, shape.height, shape.needs)?;
            grid.seats.push(Seat { kind, shape, at });
        }
        Some(grid)
    }

    /// Whether sizes are rounded down less.
    pub(super) const fn is_finer_than(&self, other: &Self) -> bool {
        self.unit.0 < other.unit.0 || self.unit.1 < other.unit.1
    }

    fn part(&self, width: Length, height: Length, own: Sides) -> Option<(usize, usize)> {
        let kerf = self.kinds.problem.kerf();
        let across = self.across.point(
            (width + kerf).units() / self.unit.0,
            own.has(Side::Left),
            own.has(Side::Right),
        )?;
        let up = self.up.point(
            (height + kerf).units() / self.unit.1,
            own.has(Side::Bottom),
            own.has(Side::Top),
        )?;
        Some((across, up))
    }

    /// What each part is worth at these prices; nothing when the steps run out.
    pub(super) fn table(&self, mut worth: Worth, steps: &mut Steps) -> Option<Table<'_, 'k, 'p>> {
        let mut halved = 0;
        while self.most_worth(&worth) > MOST_WORTH {
            worth.each.iter_mut().for_each(|price| *price /= 2);
            worth.sets.iter_mut().for_each(|(_, price)| *price /= 2);
            halved += 1;
        }
        let masks = 1_usize << worth.sets.len();
        let in_set = |kind: usize, set: usize| usize::from(worth.sets[set].0[kind]) << set;
        let member: Vec<usize> = (0..self.kinds.all.len())
            .map(|kind| (0..worth.sets.len()).map(|set| in_set(kind, set)).sum())
            .collect();
        let price_of = |mask: usize| {
            let of = worth.sets.iter().enumerate().filter(|(set, _)| mask & (1 << set) != 0);
            small(of.map(|(_, (_, price))| *price).sum::<i64>())
        };
        let twice: Vec<i32> = (0..masks).map(price_of).collect();
        let value = vec![NEVER; self.across.len() * masks * self.up.len()];
        let mut table = Table { grid: self, worth, halved, value, member, twice };
        table.sit();
        for across in 0..self.across.len() {
            let sums = self.across.cuts[across].len() * self.up.len()
                + self.up.cuts.iter().map(Vec::len).sum::<usize>();
            if !steps.spend(1 + sums * masks * masks / 8) {
                return None;
            }
            table.fill(across);
        }
        Some(table)
    }

    /// No part is worth more, however it is cut: no more of a kind go into a tile than its area goes into the tile's, and
    /// no kind is worth more for its area than the one that is worth most for it.
    fn most_worth(&self, worth: &Worth) -> i64 {
        let of_sets: i64 = worth.sets.iter().map(|(_, price)| *price).sum();
        let area = |width: i64, height: i64| i128::from(width) * i128::from(height);
        let tile = area(size_of_tile(self.kinds, Axis::X), size_of_tile(self.kinds, Axis::Y));
        let of_kind = |(kind, price): (&Kind<'_>, &i64)| {
            let areas = kind.shapes.iter();
            let areas = areas.map(|shape| {
                let rounded = |axis: Axis, unit: i64| size(self.kinds, axis, shape) / unit * unit;
                area(rounded(Axis::X, self.unit.0), rounded(Axis::Y, self.unit.1))
            });
            let copies = tile / areas.min().unwrap_or(1).max(1) + 1;
            i64::try_from(copies * i128::from(price + of_sets)).unwrap_or(i64::MAX)
        };
        self.kinds.all.iter().zip(&worth.each).map(of_kind).max().unwrap_or(0)
    }
}

impl Table<'_, '_, '_> {
    const fn masks(&self) -> usize {
        self.twice.len()
    }

    const fn index(&self, across: usize, mask: usize, up: usize) -> usize {
        (across * self.masks() + mask) * self.grid.up.len() + up
    }

    /// The prices, which may be smaller than those asked about.
    pub(super) const fn worth(&self) -> &Worth {
        &self.worth
    }

    /// A worth by the prices asked about, by those of the table.
    pub(super) const fn scaled(&self, worth: i64) -> i64 {
        worth >> self.halved
    }

    /// What one piece of the kind is worth by itself.
    fn alone(&self, kind: usize) -> i32 {
        small(self.worth.each[kind]) + self.twice[self.member[kind]]
    }

    fn sit(&mut self) {
        for across in 0..self.grid.across.len() {
            let from = self.index(across, 0, 0);
            self.value[from..from + self.grid.up.len()].fill(0);
        }
        for seat in &self.grid.seats {
            let index = self.index(seat.at.0, self.member[seat.kind], seat.at.1);
            self.value[index] = self.value[index].max(self.alone(seat.kind));
        }
    }

    /// All parts of one width, whose parts are known.
    fn fill(&mut self, across: usize) {
        let (masks, ups) = (self.masks(), self.grid.up.len());
        let (known, rest) = self.value.split_at_mut(across * masks * ups);
        let row = &mut rest[..masks * ups];
        let of = |across: usize, mask: usize| &known[(across * masks + mask) * ups..][..ups];
        for &within in &self.grid.across.within[across] {
            for mask in 0..masks {
                let smaller = of(within, mask);
                for (value, smaller) in row[mask * ups..][..ups].iter_mut().zip(smaller) {
                    *value = (*value).max(*smaller);
                }
            }
        }
        for &(first, second) in &self.grid.across.cuts[across] {
            for a in 0..masks {
                for b in 0..masks {
                    let off = self.twice[a & b];
                    let row = &mut row[(a ^ b) * ups..][..ups];
                    for ((value, one), two) in row.iter_mut().zip(of(first, a)).zip(of(second, b)) {
                        *value = (*value).max(together(*one, *two, off));
                    }
                }
            }
        }
        for up in 0..ups {
            for mask in 0..masks {
                let within = self.grid.up.within[up].iter().map(|within| row[mask * ups + within]);
                let best = within.fold(row[mask * ups + up], i32::max);
                row[mask * ups + up] = best;
            }
            for a in 0..masks {
                for b in 0..masks {
                    let off = self.twice[a & b];
                    let (one, two) = (&row[a * ups..][..ups], &row[b * ups..][..ups]);
                    let cuts = self.grid.up.cuts[up].iter();
                    let best = cuts.fold(NEVER, |best, &(first, second)| {
                        best.max(together(one[first], two[second], off))
                    });
                    let value = &mut row[(a ^ b) * ups + up];
                    *value = (*value).max(best);
                }
            }
        }
    }

    /// The most that a part is worth, by itself or with one piece that has it alone.
    pub(super) fn best(&self, at: Rect, own: Sides) -> i64 {
        let mixed = self.mixed(at, own).map_or(0, |(_, _, value)| value);
        i64::from(self.loner(at, own).map_or(mixed, |(_, _, value)| mixed.max(value)))
    }

    fn mixed(&self, at: Rect, own: Sides) -> Option<((usize, usize), usize, i32)> {
        let (across, up) = self.grid.part(at.width(), at.height(), own)?;
        let values = (0..self.masks()).map(|mask| (mask, self.value[self.index(across, mask, up)]));
        values.max_by_key(|(_, value)| *value).map(|(mask, value)| ((across, up), mask, value))
    }

    fn loner(&self, at: Rect, own: Sides) -> Option<(usize, Shape, i32)> {
        let loners = self.grid.kinds.all.iter().enumerate().filter(|(_, kind)| kind.alone);
        let shapes = loners.flat_map(|(index, kind)| kind.shapes.iter().map(move |shape| (index, *shape)));
        let serving = shapes.filter(|(_, shape)| {
            own.has_all(shape.needs) && shape.width <= at.width() && shape.height <= at.height()
        });
        let priced = serving.map(|(kind, shape)| (kind, shape, self.alone(kind)));
        priced.max_by_key(|(_, _, value)| *value)
    }

    /// One of the ways to cut that are worth the most; nothing where that is no pieces.
    pub(super) fn layout(&self, at: Rect, own: Sides) -> Option<Layout> {
        let mixed = self.mixed(at, own);
        let most = mixed.map_or(0, |(_, _, value)| value);
        match (mixed, self.loner(at, own)) {
            (_, Some((kind, shape, value))) if value > most => Some(Layout::Piece { kind, shape }),
            (Some((part, mask, _)), _) => self.trace(part, mask),
            (None, _) => None,
        }
    }

    /// Where no sets count: a way to cut that is worth the most, and for each other first cut one that is worth more
    /// than `above`, those worth more first, as far as they are few.
    pub(super) fn layouts(&self, at: Rect, own: Sides, above: i64) -> impl Iterator<Item = Layout> {
        const MOST: usize = 400;
        let mut cuts = Vec::new();
        if let Some((across, up)) = self.grid.part(at.width(), at.height(), own) {
            let beside = self.grid.across.cuts[across].iter();
            cuts.extend(beside.map(|&(a, b)| (Axis::X, (a, up), (b, up))));
            let over = self.grid.up.cuts[up].iter();
            cuts.extend(over.map(|&(a, b)| (Axis::Y, (across, a), (across, b))));
        }
        let value = |part: (usize, usize)| i64::from(self.value[self.index(part.0, 0, part.1)]);
        cuts.retain(|(_, first, second)| value(*first) + value(*second) > above);
        cuts.sort_by_key(|(_, first, second)| Reverse(value(*first) + value(*second)));
        cuts.truncate(MOST);
        let others = cuts
            .into_iter()
            .filter_map(|(axis, first, second)| both(axis, self.trace(first, 0), self.trace(second, 0)));
        self.layout(at, own).into_iter().chain(others)
    }

    fn trace(&self, part: (usize, usize), mask: usize) -> Option<Layout> {
        let value = |across: usize, mask: usize, up: usize| self.value[self.index(across, mask, up)];
        let aim = value(part.0, mask, part.1);
        if mask == 0 && aim == 0 {
            return None;
        }
        let grid = self.grid;
        let (across, up) = self.least_part(part, mask, aim);
        let sits = |seat: &&Seat| {
            seat.at == (across, up) && self.member[seat.kind] == mask && self.alone(seat.kind) == aim
        };
        if let Some(seat) = grid.seats.iter().find(sits) {
            return Some(Layout::Piece { kind: seat.kind, shape: seat.shape });
        }
        for one in 0..self.masks() {
            let two = mask ^ one;
            let off = self.twice[one & two];
            for &(a, b) in &grid.across.cuts[across] {
                if value(a, one, up) + value(b, two, up) - off == aim {
                    return both(Axis::X, self.trace((a, up), one), self.trace((b, up), two));
                }
            }
            for &(a, b) in &grid.up.cuts[up] {
                if value(across, one, a) + value(across, two, b) - off == aim {
                    return both(Axis::Y, self.trace((across, a), one), self.trace((across, b), two));
                }
            }
        }
        None
    }

    /// Of the parts that go into one without a cut, a smallest that is worth the same.
    fn least_part(&self, (mut across, mut up): (usize, usize), mask: usize, aim: i32) -> (usize, usize) {
        let worth_it = |across: usize, up: usize| self.value[self.index(across, mask, up)] == aim;
        loop {
            if let Some(&smaller) = self.grid.across.within[across].iter().find(|at| worth_it(**at, up)) {
                across = smaller;
            } else if let Some(&lower) = self.grid.up.within[up].iter().find(|at| worth_it(across, **at)) {
                up = lower;
            } else {
                return (across, up);
            }
        }
    }
}

/// What two parts are worth together. Nothing overflows, since no part is worth more than [`MOST_WORTH`]; said so, a
/// processor does several at once.
const fn together(one: i32, two: i32, off: i32) -> i32 {
    one.wrapping_add(two).wrapping_sub(off)
}

/// A worth that [`Grid::table`] has made small.
fn small(worth: i64) -> i32 {
    i32::try_from(worth).unwrap_or(i32::MAX)
}

fn both(across: Axis, first: Option<Layout>, second: Option<Layout>) -> Option<Layout> {
    match (first, second) {
        (Some(first), Some(second)) => Some(Layout::cut(across, first, second)),
        (first, second) => first.or(second),
    }
}

fn size(kinds: &Kinds<'_>, axis: Axis, shape: &Shape) -> i64 {
    let length = match axis {
        Axis::X => shape.width,
        Axis::Y => shape.height,
    };
    (length + kinds.problem.kerf()).units()
}

fn size_of_tile(kinds: &Kinds<'_>, axis: Axis) -> i64 {
    let length = match axis {
        Axis::X => kinds.problem.tile_width(),
        Axis::Y => kinds.problem.tile_height(),
    };
    (length + kinds.problem.kerf()).units()
}
