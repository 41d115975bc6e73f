//! Polygons as lists of corners, first one not repeated, with predicates that are exact.

use super::{Point, Rect};
use crate::measure::Length;

/// Where a point lies with respect to a polygon.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Where {
    /// In the open inside.
    Inside,
    /// On an edge or a corner.
    On,
    /// In the open outside.
    Outside,
}

/// Twice the area, in square units: positive when the corners run counter-clockwise.
pub fn area_doubled(corners: &[Point]) -> i128 {
    let Some(&first) = corners.first() else { return 0 };
    edges(corners).map(|(from, to)| turn(first, from, to)).sum()
}

/// Positive when `c` lies left of the way from `a` to `b`, negative when right of it, zero on its line.
pub fn turn(a: Point, b: Point, c: Point) -> i128 {
    wide(b.x - a.x) * wide(c.y - a.y) - wide(b.y - a.y) * wide(c.x - a.x)
}

/// Each edge as its two ends.
pub fn edges(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied())
}

/// The upright rectangle round the corners; empty at the origin when there are none.
pub fn bounds(corners: &[Point]) -> Rect {
    let Some(&first) = corners.first() else { return Rect::default() };
    let start = Rect { left: first.x, bottom: first.y, right: first.x, top: first.y };
    corners.iter().fold(start, |rect, corner| Rect {
        left: rect.left.min(corner.x),
        bottom: rect.bottom.min(corner.y),
        right: rect.right.max(corner.x),
        top: rect.top.max(corner.y),
    })
}

/// Where `point` lies, by counting the edges that a way to the right crosses.
pub fn locate(corners: &[Point], point: Point) -> Where {
    let mut inside = false;
    for (from, to) in edges(corners) {
        if on_segment(from, to, point) {
            return Where::On;
        }
        let (low, high) = if from.y <= to.y { (from, to) } else { (to, from) };
        if low.y <= point.y && point.y < high.y && turn(low, high, point) > 0 {
            inside = !inside;
        }
    }
    if inside { Where::Inside } else { Where::Outside }
}

/// Whether `point` lies on the segment, ends included.
pub fn on_segment(from: Point, to: Point, point: Point) -> bool {
    let within = |a: Length, b: Length, c: Length| a.min(b) <= c && c <= a.max(b);
    within(from.x, to.x, point.x) && within(from.y, to.y, point.y) && turn(from, to, point) == 0
}

/// Whether two segments cross at a point inside both; touching and overlapping along a line is no crossing.
pub fn segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    turn(a, b, c).signum() * turn(a, b, d).signum() < 0 && turn(c, d, a).signum() * turn(c, d, b).signum() < 0
}

/// Whether two segments have any point in common.
pub fn segments_meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    segments_cross(a, b, c, d)
        || on_segment(a, b, c)
        || on_segment(a, b, d)
        || on_segment(c, d, a)
        || on_segment(c, d, b)
}

/// Whether no two edges have a point in common except neighbours at their shared corner.
pub fn is_simple(corners: &[Point]) -> bool {
    let edges: Vec<_> = edges(corners).collect();
    let count = edges.len();
    let clear = |(i, &(a, b)): (usize, &(Point, Point))| {
        edges.iter().enumerate().skip(i + 1).all(|(j, &(c, d))| {
            if j == i + 1 || (i == 0 && j + 1 == count) {
                let (shared, other_here, other_there) = if b == c { (b, a, d) } else { (a, b, c) };
                let folded_back = turn(shared, other_here, other_there) == 0
                    && (on_segment(shared, other_here, other_there)
                        || on_segment(shared, other_there, other_here));
                !folded_back
            } else {
                !segments_meet(a, b, c, d)
            }
        })
    };
    count >= 3 && edges.iter().enumerate().all(clear)
}

/// Whether `inner` lies within `outer`; touching from inside is allowed. Both are simple.
pub fn is_inside(inner: &[Point], outer: &[Point]) -> bool {
    let none_leaves = inner.iter().all(|&corner| locate(outer, corner) != Where::Outside);
    let none_crosses = edges(inner).all(|(a, b)| edges(outer).all(|(c, d)| !segments_cross(a, b, c, d)));
    none_leaves && none_crosses && edges(inner).all(|(a, b)| stays_inside(a, b, outer))
}

/// Whether a segment with its ends in `outer`, that crosses no edge, stays in it where it touches corners:
/// between any two touches its middle must not be outside.
fn stays_inside(a: Point, b: Point, outer: &[Point]) -> bool {
    let mut stops: Vec<Point> = outer.iter().copied().filter(|&corner| on_segment(a, b, corner)).collect();
    stops.extend([a, b]);
    stops.sort();
    let doubled: Vec<Point> = outer.iter().map(|corner| Point::new(corner.x * 2, corner.y * 2)).collect();
    stops.windows(2).all(|pair| match pair {
        [from, to] => locate(&doubled, Point::new(from.x + to.x, from.y + to.y)) != Where::Outside,
        _ => true,
    })
}

/// Whether two simple polygons share area; touching is not enough.
pub fn overlap(one: &[Point], other: &[Point]) -> bool {
    if !bounds(one).overlaps(&bounds(other)) {
        return false;
    }
    edges(one).any(|(a, b)| edges(other).any(|(c, d)| segments_cross(a, b, c, d)))
        || enters(one, other)
        || enters(other, one)
}

/// Whether some edge of `one` runs through the open inside of `other`, or `one` fills it from within.
fn enters(one: &[Point], other: &[Point]) -> bool {
    // So large that between two parallel edges one unit apart there are points.
    let enlarged = |corners: &[Point]| -> Vec<Point> {
        corners.iter().map(|corner| Point::new(corner.x * 4, corner.y * 4)).collect()
    };
    let (one_enlarged, other_enlarged) = (enlarged(one), enlarged(other));
    let runs_through = edges(one).any(|(a, b)| {
        let mut stops: Vec<Point> = other.iter().copied().filter(|&c| on_segment(a, b, c)).collect();
        stops.extend([a, b]);
        stops.sort();
        stops.windows(2).any(|pair| {
            let [from, to] = pair else { return false };
            let middle = Point::new((from.x + to.x) * 2, (from.y + to.y) * 2);
            locate(&other_enlarged, middle) == Where::Inside
        })
    });
    runs_through
        || inner_point(&one_enlarged).is_some_and(|point| locate(&other_enlarged, point) == Where::Inside)
}

/// A point in the open inside of a polygon whose coordinates are multiples of four, or `None` when it has hardly any.
fn inner_point(corners: &[Point]) -> Option<Point> {
    let (a, b) = edges(corners).find(|(a, b)| a != b)?;
    let middle = Point::new((a.x + b.x).half(), (a.y + b.y).half());
    let unit = Length::from_units(1);
    [(unit, unit), (-unit, unit), (unit, -unit), (-unit, -unit)]
        .into_iter()
        .map(|(right, up)| Point::new(middle.x + right, middle.y + up))
        .find(|&point| locate(corners, point) == Where::Inside)
}

/// Whether the shortest way between two segments is shorter than `distance`.
pub fn closer_than(a: Point, b: Point, c: Point, d: Point, distance: Length) -> bool {
    let near = |from, to, point| point_closer_than(from, to, point, distance);
    (distance > Length::ZERO && segments_meet(a, b, c, d))
        || near(a, b, c)
        || near(a, b, d)
        || near(c, d, a)
        || near(c, d, b)
}

/// Whether a point is nearer to a segment than `distance`.
pub fn point_closer_than(from: Point, to: Point, point: Point, distance: Length) -> bool {
    if distance <= Length::ZERO {
        return false;
    }
    let limit = wide(distance) * wide(distance);
    let length = squared(from, to);
    let along = dot(from, to, point);
    if along <= 0 || length == 0 {
        squared(from, point) < limit
    } else if along >= length {
        squared(to, point) < limit
    } else {
        let across = turn(from, to, point);
        across * across < limit * length
    }
}

/// The distance from a point to a segment, rounded down to a unit.
pub fn distance(from: Point, to: Point, point: Point) -> Length {
    let length = squared(from, to);
    let along = dot(from, to, point);
    let square = if along <= 0 || length == 0 {
        squared(from, point)
    } else if along >= length {
        squared(to, point)
    } else {
        let across = turn(from, to, point);
        across * across / length
    };
    narrow(square.isqrt())
}

/// The square of the distance between two points.
pub fn squared(a: Point, b: Point) -> i128 {
    dot(a, b, b)
}

fn dot(from: Point, to: Point, point: Point) -> i128 {
    wide(to.x - from.x) * wide(point.x - from.x) + wide(to.y - from.y) * wide(point.y - from.y)
}

/// The same polygon without repeated corners and corners on a straight edge, counter-clockwise, from the
/// lowest of its leftmost corners; empty when it has no area.
pub fn tidy(corners: &[Point]) -> Vec<Point> {
    let mut corners = corners.to_vec();
    loop {
        corners.dedup();
        while corners.len() > 1 && corners.first() == corners.last() {
            corners.pop();
        }
        let count = corners.len();
        if count < 3 {
            return Vec::new();
        }
        let bends =
            |&i: &usize| turn(corners[(i + count - 1) % count], corners[i], corners[(i + 1) % count]) != 0;
        let kept: Vec<Point> = (0..count).filter(bends).map(|i| corners[i]).collect();
        if kept.len() == count {
            break;
        }
        corners = kept;
    }
    if area_doubled(&corners) < 0 {
        corners.reverse();
    }
    let first = corners.iter().enumerate().min_by_key(|(_, corner)| **corner).map_or(0, |(i, _)| i);
    corners.rotate_left(first);
    corners
}

/// As [`tidy`], but clockwise, as holes run.
pub fn tidy_hole(corners: &[Point]) -> Vec<Point> {
    let mut corners = tidy(corners);
    if !corners.is_empty() {
        corners.reverse();
        corners.rotate_right(1);
    }
    corners
}

/// The part of a convex polygon on the left of the line from `a` to `b`. Where the line crosses an edge the
/// new corner is rounded to the nearest unit; on upright and level edges it stays on the edge.
pub fn clip(corners: &[Point], a: Point, b: Point) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (from, to) in edges(corners) {
        let (side_from, side_to) = (turn(a, b, from), turn(a, b, to));
        if side_from >= 0 {
            kept.push(from);
        }
        if side_from.signum() * side_to.signum() < 0 {
            kept.push(between(from, to, side_from, side_from - side_to));
        }
    }
    tidy(&kept)
}

/// The height of a straight line from `a` to `b` at `x`, rounded to the nearest unit. The line is not upright.
pub fn height_at(a: Point, b: Point, x: Length) -> Length {
    if a.x == b.x { a.y } else { between(a, b, wide(x - a.x), wide(b.x - a.x)).y }
}

fn between(from: Point, to: Point, part: i128, whole: i128) -> Point {
    let at = |from: Length, to: Length| from + narrow(rounded(wide(to - from) * part, whole));
    Point::new(at(from.x, to.x), at(from.y, to.y))
}

/// The nearest whole number to `numerator / denominator`, halves upward.
fn rounded(numerator: i128, denominator: i128) -> i128 {
    let (numerator, denominator) =
        if denominator < 0 { (-numerator, -denominator) } else { (numerator, denominator) };
    (2 * numerator + denominator).div_euclid(2 * denominator)
}

pub(crate) fn wide(length: Length) -> i128 {
    i128::from(length.units())
}

/// Back to a length: what comes from lengths on one wall always fits.
pub(crate) fn narrow(units: i128) -> Length {
    Length::from_units(i64::try_from(units).unwrap_or(i64::MAX))
}
