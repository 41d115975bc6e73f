//! A circle as the polygon round it.

use super::polygon::{narrow, wide};
use super::{Point, Shape};
use crate::measure::Length;

/// How far a corner of the polygon may lie outside its circle: 0.05 mm.
pub const ROUNDNESS: Length = Length::from_units(5 * 768);

/// The polygon round a circle, counter-clockwise: it holds the whole circle, every edge touches it but for
/// rounding, and no corner is more than [`ROUNDNESS`] off.
///
/// The edges touch at the angles whose half has the tangent k/n, so that every corner is a ratio of whole
/// numbers: with p = k (k + 1), the corner after touch k is at
/// (r (n n - p), r n (2 k + 1)) / (n n + p) from the centre. It is rounded outward, which moves both ends of an
/// edge away from the circle and so the edge too.
pub fn around_circle(centre: Point, diameter: Length) -> Vec<Point> {
    let radius = (wide(diameter) + 1).div_euclid(2);
    let n = touches(radius);
    let quarter: Vec<(Length, Length)> = (0..n)
        .map(|k| {
            let (square, p) = (n * n, k * (k + 1));
            let x = up(radius * (square - p), square + p);
            let y = up(radius * n * (2 * k + 1), square + p);
            (narrow(x), narrow(y))
        })
        .collect();
    let at = |x: Length, y: Length| Point::new(centre.x + x, centre.y + y);
    let first = quarter.iter().map(|&(x, y)| at(x, y));
    let second = quarter.iter().rev().map(|&(x, y)| at(-x, y));
    let third = quarter.iter().map(|&(x, y)| at(-x, -y));
    let fourth = quarter.iter().rev().map(|&(x, y)| at(x, -y));
    super::polygon::tidy(&first.chain(second).chain(third).chain(fourth).collect::<Vec<_>>())
}

/// The fewest touches a quarter whose corners are near enough. The first corner is the farthest: it lies at
/// r sqrt(1 + 1 / n n). Two units are kept back for rounding.
fn touches(radius: i128) -> i128 {
    let off = wide(ROUNDNESS) - 2;
    let spare = 2 * radius * off + off * off;
    let fewest = (radius * radius / spare).isqrt().max(1);
    if fewest * fewest * spare >= radius * radius { fewest } else { fewest + 1 }
}

fn up(numerator: i128, denominator: i128) -> i128 {
    (numerator + denominator - 1).div_euclid(denominator)
}

impl Shape {
    /// The polygon round a circle, as a shape.
    pub fn round(centre: Point, diameter: Length) -> Self {
        Self::solid(around_circle(centre, diameter))
    }
}
