//! Polygons less polygons in the general case; the only user of the clipping library.
//!
//! The library's decisions are exact, but a crossing of two slanted edges is rounded to a unit, so nothing here
//! says whether a piece is legal: [`super::polygon`] does. Coordinates go in as i64, of which the library takes
//! 62 bits; a wall is a few thousand million units, so no size of wall has to be refused.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

use super::polygon::{tidy, tidy_hole};
use super::{Point, Shape};
use crate::measure::Length;

/// The connected parts of `whole` outside every counter-clockwise polygon of `taken`, left to right. Parts that
/// meet only at a corner are two. Crossings are rounded to the nearest unit.
pub fn minus(whole: &Shape, taken: &[Vec<Point>]) -> Vec<Shape> {
    let contours = |polygons: &mut dyn Iterator<Item = &Vec<Point>>| -> Vec<Vec<IntPoint<i64>>> {
        polygons.map(|corners| corners.iter().copied().map(to_library).collect()).collect()
    };
    let subject = contours(&mut std::iter::once(&whole.outline).chain(&whole.holes));
    let clip = contours(&mut taken.iter());
    let options = IntOverlayOptions { ogc: true, ..IntOverlayOptions::default() };
    let mut overlay = Overlay::from_subj_and_clip_custom(&subject, &clip, options, Default::default());
    let found = overlay.overlay(OverlayRule::Difference, FillRule::NonZero);
    let mut shapes: Vec<Shape> = found.into_iter().filter_map(from_library).collect();
    shapes.sort_by(|one, other| one.outline.cmp(&other.outline));
    shapes
}

fn to_library(point: Point) -> IntPoint<i64> {
    IntPoint::new(point.x.units(), point.y.units())
}

fn from_library(contours: Vec<Vec<IntPoint<i64>>>) -> Option<Shape> {
    let place = |point: &IntPoint<i64>| Point::new(Length::from_units(point.x), Length::from_units(point.y));
    let mut rings = contours.iter().map(|contour| contour.iter().map(place).collect::<Vec<_>>());
    let outline = tidy(&rings.next()?);
    let holes = rings.map(|ring| tidy_hole(&ring)).filter(|hole| !hole.is_empty()).collect();
    (!outline.is_empty()).then_some(Shape { outline, holes })
}
