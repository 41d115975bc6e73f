//! A line along a wall that tile may not pass: the base, or the ceiling turned over, and the straight cut that
//! follows it best.

use crate::geometry::Point;
use crate::measure::Length;

/// Straight stretches by rising x from the wall's left end to its right; where two neighbours do not meet, the
/// line steps.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Profile {
    stretches: Vec<Stretch>,
    /// Where a straight cut cannot follow: x of the steps too high for one.
    breaks: Vec<Length>,
}

/// A straight stretch, longer than nothing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Stretch {
    pub(crate) from: Point,
    pub(crate) to: Point,
    pub(crate) carries: bool,
}

/// One reading: where, how high, and whether what follows carries.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Reading {
    pub(crate) at: Point,
    pub(crate) carries: bool,
}

/// A slope as rise over a run above zero.
#[derive(Clone, Copy)]
struct Slope {
    rise: i128,
    run: i128,
}

impl Profile {
    /// The line through `readings` from 0 to `width`: straight between them, level outside them.
    pub(crate) fn through(readings: &[Reading], width: Length) -> Self {
        let (Some(first), Some(last)) = (readings.first(), readings.last()) else {
            return Self { stretches: Vec::new(), breaks: Vec::new() };
        };
        let before = Stretch {
            from: Point::new(Length::ZERO.min(first.at.x), first.at.y),
            to: first.at,
            carries: first.carries,
        };
        let after =
            Stretch { from: last.at, to: Point::new(width.max(last.at.x), last.at.y), carries: last.carries };
        let between = readings.windows(2).filter_map(|pair| match pair {
            [from, to] => Some(Stretch { from: from.at, to: to.at, carries: from.carries }),
            _ => None,
        });
        let stretches = std::iter::once(before)
            .chain(between)
            .chain(std::iter::once(after))
            .filter_map(|stretch| stretch.within(Length::ZERO, width))
            .collect();
        Self { stretches, breaks: Vec::new() }
    }

    /// This line raised by `gap`, measured plumb, and on stretches steeper than 1 in 20 square to them.
    pub(crate) fn raised(&self, gap: Length) -> Self {
        self.map(|stretch| {
            let up = stretch.plumb(gap);
            Stretch {
                from: Point::new(stretch.from.x, stretch.from.y + up),
                to: Point::new(stretch.to.x, stretch.to.y + up),
                ..stretch
            }
        })
    }

    /// This line with every carrying stretch level at `y`.
    pub(crate) fn levelled_where_it_carries(&self, y: Length) -> Self {
        self.map(|stretch| match stretch.carries {
            true => {
                Stretch { from: Point::new(stretch.from.x, y), to: Point::new(stretch.to.x, y), ..stretch }
            }
            false => stretch,
        })
    }

    /// This line level at `y` all along.
    pub(crate) fn level(y: Length, width: Length) -> Self {
        let at = Point::new(Length::ZERO, y);
        Self::through(&[Reading { at, carries: false }], width)
    }

    /// This line with each step higher than `bridged` moved `aside`, towards its lower side, so that tile beside
    /// it keeps clear of its face; a straight cut is not led across such a step.
    pub(crate) fn stepped(&self, bridged: Length, aside: Length) -> Self {
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut breaks = Vec::new();
        for stretch in &self.stretches {
            let Some(last) = stretches.last().copied() else {
                stretches.push(*stretch);
                continue;
            };
            let step = stretch.from.y - last.to.y;
            if step.abs() <= bridged {
                stretches.push(*stretch);
            } else if step > Length::ZERO {
                let x = (last.to.x - aside).max(last.from.x);
                stretches.pop();
                stretches.extend(last.within(last.from.x, x));
                stretches.extend(level_stretch(x, stretch.from, stretch.carries));
                stretches.push(*stretch);
                breaks.push(x);
            } else {
                let x = (stretch.from.x + aside).min(stretch.to.x);
                let high = Point::new(x, last.to.y);
                stretches.extend(level_stretch(last.to.x, high, last.carries));
                stretches.extend(stretch.within(x, stretch.to.x));
                breaks.push(x);
            }
        }
        Self { stretches, breaks }
    }

    /// Where this line runs lower than `y`: from and to, left to right. Where a slope crosses `y` between two units,
    /// at the unit on its left.
    pub(crate) fn lower_than(&self, y: Length) -> Vec<(Length, Length)> {
        let mut lower: Vec<(Length, Length)> = Vec::new();
        for stretch in self.stretches.iter().filter_map(|stretch| stretch.lower_than(y)) {
            match lower.last_mut() {
                Some(last) if last.1 == stretch.0 => last.1 = stretch.1,
                _ => lower.push(stretch),
            }
        }
        lower
    }

    /// All stretches, left to right.
    pub(crate) fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    /// The part that carries.
    pub(crate) fn carrying(&self) -> impl Iterator<Item = &Stretch> {
        self.stretches.iter().filter(|stretch| stretch.carries)
    }

    /// The lowest point.
    pub(crate) fn lowest(&self) -> Option<Length> {
        self.stretches.iter().map(Stretch::lowest).min()
    }

    /// The highest point.
    pub(crate) fn highest(&self) -> Option<Length> {
        self.stretches.iter().map(Stretch::highest).max()
    }

    /// `x0..x1` parted where a step is too high for a straight cut.
    pub(crate) fn parts(&self, x0: Length, x1: Length) -> Vec<(Length, Length)> {
        let inside = self.breaks.iter().copied().filter(|x| x0 < *x && *x < x1);
        let ends: Vec<Length> = std::iter::once(x0).chain(inside).chain(std::iter::once(x1)).collect();
        ends.windows(2)
            .filter_map(|pair| match pair {
                [from, to] => Some((*from, *to)),
                _ => None,
            })
            .collect()
    }

    /// The straight line from `x0` to `x1` that is nowhere below this one and whose greatest distance from it is
    /// least; among equals the one nearest to level. The heights of this line at `x0` and `x1`, and then of the
    /// answer there, are rounded up to a unit each.
    pub(crate) fn tightest_above(&self, x0: Length, x1: Length) -> (Point, Point) {
        let points = self.corners(x0, x1);
        let highest = points.iter().map(|point| point.y).max().unwrap_or_default();
        if x1 <= x0 {
            return (Point::new(x0, highest), Point::new(x1, highest));
        }
        let slope = hull_slopes(&points).fold(Slope { rise: 0, run: 1 }, |best, slope| {
            let (this, that) = (slope.spread(&points) * best.run, best.spread(&points) * slope.run);
            let flatter = slope.rise.abs() * best.run < best.rise.abs() * slope.run;
            if this < that || (this == that && flatter) { slope } else { best }
        });
        let most = points.iter().map(|point| slope.above(*point)).max().unwrap_or_default();
        let at = |x: Length| {
            Point::new(x, to_length(div_up(most + slope.rise * i128::from(x.units()), slope.run)))
        };
        (at(x0), at(x1))
    }

    /// Both ends of every stretch as far as it lies in `x0..x1`, by rising x.
    pub(crate) fn corners(&self, x0: Length, x1: Length) -> Vec<Point> {
        let inside = |stretch: &Stretch| stretch.within(x0, x1);
        let mut corners: Vec<Point> =
            self.stretches.iter().filter_map(inside).flat_map(|part| [part.from, part.to]).collect();
        if corners.is_empty() {
            let touching = self.stretches.iter().filter(|s| s.from.x <= x1 && x0 <= s.to.x);
            corners.extend(touching.map(|s| Point::new(x0, s.height_at(x0.max(s.from.x).min(s.to.x)))));
        }
        corners
    }

    fn map(&self, change: impl Fn(Stretch) -> Stretch) -> Self {
        Self { stretches: self.stretches.iter().copied().map(change).collect(), breaks: self.breaks.clone() }
    }
}

impl Stretch {
    /// Its height at `x`, which lies on it, rounded up to a unit.
    pub(crate) fn height_at(&self, x: Length) -> Length {
        let run = i128::from((self.to.x - self.from.x).units());
        let rise = i128::from((self.to.y - self.from.y).units());
        let along = i128::from((x - self.from.x).units());
        self.from.y + to_length(div_up(rise * along, run.max(1)))
    }

    fn lowest(&self) -> Length {
        self.from.y.min(self.to.y)
    }

    /// Where it runs lower than `y`, if it does for longer than nothing.
    fn lower_than(&self, y: Length) -> Option<(Length, Length)> {
        let (from, to) = (self.from, self.to);
        let rise = i128::from((to.y - from.y).units());
        let crossing = || {
            let along = i128::from((y - from.y).units()) * i128::from((to.x - from.x).units());
            from.x + to_length(along.div_euclid(rise.abs().max(1)) * rise.signum())
        };
        let (x0, x1) = match (from.y < y, to.y < y) {
            (true, true) => (from.x, to.x),
            (true, false) => (from.x, crossing()),
            (false, true) => (crossing(), to.x),
            (false, false) => return None,
        };
        (x0 < x1).then_some((x0, x1))
    }

    fn highest(&self) -> Length {
        self.from.y.max(self.to.y)
    }

    /// The part of it in `x0..x1`, when that is longer than nothing.
    fn within(&self, x0: Length, x1: Length) -> Option<Self> {
        let (left, right) = (self.from.x.max(x0), self.to.x.min(x1));
        (left < right).then(|| Self {
            from: if left == self.from.x { self.from } else { Point::new(left, self.height_at(left)) },
            to: if right == self.to.x { self.to } else { Point::new(right, self.height_at(right)) },
            carries: self.carries,
        })
    }

    /// How far up plumb a gap reaches: the gap itself, and on a stretch steeper than 1 in 20, where it is kept
    /// square to the edge, the gap times the slope's secant, rounded up.
    fn plumb(&self, gap: Length) -> Length {
        let run = i128::from((self.to.x - self.from.x).units());
        let rise = i128::from((self.to.y - self.from.y).units());
        if 20 * rise.abs() <= run {
            return gap;
        }
        let length = (run * run + rise * rise).isqrt() + 1;
        to_length(div_up(i128::from(gap.units()) * length, run))
    }
}

impl Slope {
    /// How far the point lies above a line of this slope through the origin, times the run.
    fn above(self, point: Point) -> i128 {
        i128::from(point.y.units()) * self.run - self.rise * i128::from(point.x.units())
    }

    /// Plumb height, times the run, of the thinnest strip of this slope that holds all points.
    fn spread(self, points: &[Point]) -> i128 {
        let above = || points.iter().map(|point| self.above(*point));
        above().max().unwrap_or_default() - above().min().unwrap_or_default()
    }
}

fn level_stretch(from_x: Length, to: Point, carries: bool) -> Option<Stretch> {
    (from_x < to.x).then(|| Stretch { from: Point::new(from_x, to.y), to, carries })
}

/// The slopes of the sides of the points' convex hull. The strip of least plumb height that holds the points has
/// one of them, because its height is a convex function of the slope that bends only there.
fn hull_slopes(points: &[Point]) -> impl Iterator<Item = Slope> {
    let upper = chain(points, 1);
    let lower = chain(points, -1);
    let slopes = |chain: Vec<Point>| {
        let sides: Vec<Slope> = chain
            .windows(2)
            .filter_map(|pair| match pair {
                [a, b] if a.x < b.x => Some(Slope {
                    rise: i128::from((b.y - a.y).units()),
                    run: i128::from((b.x - a.x).units()),
                }),
                _ => None,
            })
            .collect();
        sides
    };
    slopes(upper).into_iter().chain(slopes(lower))
}

/// The upper (`up` = 1) or lower (`up` = -1) half of the convex hull of points given by rising x.
fn chain(points: &[Point], up: i128) -> Vec<Point> {
    let mut hull: Vec<Point> = Vec::new();
    for point in points {
        while let [.., a, b] = hull.as_slice()
            && up * turn(*a, *b, *point) >= 0
        {
            hull.pop();
        }
        hull.push(*point);
    }
    hull
}

/// Above 0 when the way from `a` over `b` to `c` turns left.
fn turn(a: Point, b: Point, c: Point) -> i128 {
    let across = |from: Point, to: Point| i128::from((to.x - from.x).units());
    let up = |from: Point, to: Point| i128::from((to.y - from.y).units());
    across(a, b) * up(b, c) - up(a, b) * across(b, c)
}

/// The quotient rounded up; `by` is above 0.
pub(crate) fn div_up(what: i128, by: i128) -> i128 {
    -(-what).div_euclid(by)
}

/// Back from a product to a length. A wall is metres long and a length holds kilometres, so nothing is lost.
pub(crate) fn to_length(units: i128) -> Length {
    Length::from_units(i64::try_from(units).unwrap_or(if units < 0 { i64::MIN } else { i64::MAX }))
}
