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
use super::fill::{self, Parts, Seated, Value};
use super::kinds::{Kind, Kinds};
use super::lattice::{Lattice, Stretch};
use super::layout::Layout;
use super::problem::Shape;
use super::relax::tile;
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
    /// What prices were divided by.
    divisor: i64,
    values: Values,
    /// Which sets a piece of the kind is in, as bits.
    member: Vec<usize>,
    /// What is taken off where both parts are odd in these sets.
    twice: Vec<i64>,
}

/// In numbers of more digits or of fewer.
enum Values {
    Short(fill::Values<i16>),
    Long(fill::Values<i32>),
}

/// How exact the prices of a table are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Exact {
    /// To some ten-thousandths of a tile, which is several times as fast.
    Roughly,
    /// To some millionths.
    Finely,
}

/// The most points in one direction.
const MOST_POINTS: u16 = 12_000;

/// The most cuts in one direction: so many pairs of numbers are 80 MB.
const MOST_CUTS: usize = 20_000_000;

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
        let mut grid = Self { kinds, across, up, seats: Vec::new(), unit };
        let problem = kinds.problem;
        let racks = problem.rack().iter();
        let racks = racks.filter_map(|rack| grid.part(rack.width, rack.height, rack.factory));
        let seats = shapes().filter_map(|(_, shape)| grid.part(shape.width, shape.height, shape.needs));
        let whole = grid.part(problem.tile_width(), problem.tile_height(), Sides::ALL);
        let (across_of, up_of): (Vec<usize>, Vec<usize>) = racks.chain(seats).chain(whole).unzip();
        let most = sums.min(MOST_CUTS);
        grid.across = grid.across.with_cuts(across_of.into_iter(), most)?;
        grid.up = grid.up.with_cuts(up_of.into_iter(), most)?;
        steps.spend(grid.across.all_cuts() + grid.up.all_cuts());
        if grid.across.all_cuts() * grid.up.len() + grid.across.len() * grid.up.all_cuts() > sums {
            return None;
        }
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

    /// What each part is worth at these prices, or at smaller ones in their place as exact as asked for; nothing when the
    /// steps run out.
    pub(super) fn table(&self, worth: Worth, exact: Exact, steps: &mut Steps) -> Option<Table<'_, 'k, 'p>> {
        let most = self.most_worth(&worth);
        if exact == Exact::Finely || !worth.sets.is_empty() {
            return self.divided(worth, most, steps, Values::Long);
        }
        // Hardly a tile is worth more than a few times the dearest piece, though that is not known beforehand.
        let dearest = worth.each.iter().max().copied().unwrap_or(0);
        for most in [2 * dearest, 8 * dearest].into_iter().filter(|fewer| *fewer < most).chain([most]) {
            let table = self.divided(worth.clone(), most, steps, Values::Short)?;
            if table.best(tile(self.kinds), Sides::ALL) < i64::from(i16::MAX) {
                return Some(table);
            }
        }
        None
    }

    /// At prices divided so that what is worth `most` can be told.
    fn divided<V: Value>(
        &self,
        mut worth: Worth,
        most: i64,
        steps: &mut Steps,
        values: impl FnOnce(fill::Values<V>) -> Values,
    ) -> Option<Table<'_, 'k, 'p>> {
        let divisor = (most / V::MOST + 1).max(1);
        worth.each.iter_mut().for_each(|price| *price /= divisor);
        worth.sets.iter_mut().for_each(|(_, price)| *price /= divisor);
        let in_set = |kind: usize, set: usize| usize::from(worth.sets[set].0[kind]) << set;
        let member: Vec<usize> = (0..self.kinds.all.len())
            .map(|kind| (0..worth.sets.len()).map(|set| in_set(kind, set)).sum())
            .collect();
        let price_of = |mask: usize| {
            let of = worth.sets.iter().enumerate().filter(|(set, _)| mask & (1 << set) != 0);
            of.map(|(_, (_, price))| *price).sum::<i64>()
        };
        let twice: Vec<i64> = (0..1_usize << worth.sets.len()).map(price_of).collect();
        let off: Vec<V> = twice.iter().map(|price| V::of(*price)).collect();
        let seated = self.seats.iter().map(|seat| Seated {
            at: seat.at,
            mask: member[seat.kind],
            worth: V::of(worth.each[seat.kind] + twice[member[seat.kind]]),
        });
        let parts = Parts { across: &self.across, up: &self.up, twice: &off };
        let values = values(fill::fill(&parts, seated, steps)?);
        Some(Table { grid: self, worth, divisor, values, member, twice })
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

    fn value(&self, across: usize, mask: usize, up: usize) -> i64 {
        match &self.values {
            Values::Short(values) => values.at(across, mask, up).into(),
            Values::Long(values) => values.at(across, mask, up).into(),
        }
    }

    /// The prices, which may be smaller than those asked about.
    pub(super) const fn worth(&self) -> &Worth {
        &self.worth
    }

    /// A worth by the prices asked about, by those of the table.
    pub(super) const fn scaled(&self, worth: i64) -> i64 {
        worth / self.divisor
    }

    /// What one piece of the kind is worth by itself.
    fn alone(&self, kind: usize) -> i64 {
        self.worth.each[kind] + self.twice[self.member[kind]]
    }

    /// The most that a part is worth, by itself or with one piece that has it alone.
    pub(super) fn best(&self, at: Rect, own: Sides) -> i64 {
        let mixed = self.mixed(at, own).map_or(0, |(_, _, value)| value);
        self.loner(at, own).map_or(mixed, |(_, _, value)| mixed.max(value))
    }

    fn mixed(&self, at: Rect, own: Sides) -> Option<((usize, usize), usize, i64)> {
        let (across, up) = self.grid.part(at.width(), at.height(), own)?;
        let values = (0..self.masks()).map(|mask| (mask, self.value(across, mask, up)));
        values.max_by_key(|(_, value)| *value).map(|(mask, value)| ((across, up), mask, value))
    }

    fn loner(&self, at: Rect, own: Sides) -> Option<(usize, Shape, i64)> {
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
            let beside = self.grid.across.cuts(across);
            cuts.extend(beside.map(|(a, b)| (Axis::X, (a, up), (b, up))));
            let over = self.grid.up.cuts(up);
            cuts.extend(over.map(|(a, b)| (Axis::Y, (across, a), (across, b))));
        }
        let value = |part: (usize, usize)| self.value(part.0, 0, part.1);
        cuts.retain(|(_, first, second)| value(*first) + value(*second) > above);
        cuts.sort_by_key(|(_, first, second)| Reverse(value(*first) + value(*second)));
        cuts.truncate(MOST);
        let others = cuts
            .into_iter()
            .filter_map(|(axis, first, second)| both(axis, self.trace(first, 0), self.trace(second, 0)));
        self.layout(at, own).into_iter().chain(others)
    }

    fn trace(&self, part: (usize, usize), mask: usize) -> Option<Layout> {
        let aim = self.value(part.0, mask, part.1);
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
            for (a, b) in grid.across.cuts(across) {
                if self.value(a, one, up) + self.value(b, two, up) - off == aim {
                    return both(Axis::X, self.trace((a, up), one), self.trace((b, up), two));
                }
            }
            for (a, b) in grid.up.cuts(up) {
                if self.value(across, one, a) + self.value(across, two, b) - off == aim {
                    return both(Axis::Y, self.trace((across, a), one), self.trace((across, b), two));
                }
            }
        }
        None
    }

    /// Of the parts that go into one without a cut, a smallest that is worth the same.
    fn least_part(&self, (mut across, mut up): (usize, usize), mask: usize, aim: i64) -> (usize, usize) {
        let worth_it = |across: usize, up: usize| self.value(across, mask, up) == aim;
        loop {
            if let Some(smaller) = self.grid.across.within(across).find(|at| worth_it(*at, up)) {
                across = smaller;
            } else if let Some(lower) = self.grid.up.within(up).find(|at| worth_it(across, *at)) {
                up = lower;
            } else {
                return (across, up);
            }
        }
    }
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
