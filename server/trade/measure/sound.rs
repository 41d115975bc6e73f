//! Whether what was measured of a wall hangs together.
//!
//! Both ways into a [`Surface`], the job file and the readings on the bare wall, ask here, so that the planner
//! never meets a wall of no width or readings that run backwards.

use super::{BaseReading, Covered, Length, Opening, OpeningShape, Outline, Surface, TopReading};
use crate::geometry::Rect;

/// What is measured of a wall, without what is laid on it.
#[derive(Clone, Copy, Debug)]
pub struct Shape<'a> {
    /// Width at the line.
    pub width: Length,
    /// Readings down to the base.
    pub base: &'a [BaseReading],
    /// Readings up to the top.
    pub top: &'a [TopReading],
    /// What the neighbours' tile will hide.
    pub covered: Covered,
    /// Niches, windows, valves, pipes.
    pub openings: &'a [Opening],
}

/// What cannot be so on a wall.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum SurfaceFault {
    /// The width is nothing or less.
    #[error("the wall has no width")]
    NoWidth,
    /// Readings at the base or top are missing altogether.
    #[error("the wall has no reading at its {0}")]
    NoReading(Height),
    /// A reading lies left of the one before it.
    #[error("a reading at the {height} lies left of the one before it")]
    OutOfOrder {
        /// Which list.
        height: Height,
        /// Its place in the list.
        index: usize,
    },
    /// A reading lies beside the wall.
    #[error("a reading at the {height} lies beside the wall")]
    Beside {
        /// Which list.
        height: Height,
        /// Its place in the list.
        index: usize,
    },
    /// The top is not above the base.
    #[error("the top is not above the base")]
    NoHeight {
        /// Where, from the wall's left end.
        x: Length,
    },
    /// The neighbours hide the whole wall.
    #[error("the neighbours' tile covers the whole wall")]
    AllCovered,
    /// No part of the opening lies on the wall.
    #[error("the opening lies wholly outside the wall")]
    OpeningOutside {
        /// Its place in the list.
        index: usize,
    },
    /// The clearance closes the opening altogether.
    #[error("the clearance closes the opening")]
    OpeningClosed {
        /// Its place in the list.
        index: usize,
    },
    /// It runs into an opening before it, and only one of the two hides a cut edge: no tile can obey both.
    #[error("the opening runs into another whose edge shows otherwise")]
    OpeningsClash {
        /// Its place in the list.
        index: usize,
    },
}

/// Which of a wall's two lists of readings.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Height {
    /// Down to the base.
    Base,
    /// Up to the ceiling or where tile stops.
    Top,
}

/// Everything on the wall that cannot be so; an empty list when it hangs together.
pub fn faults(shape: &Shape) -> Vec<SurfaceFault> {
    if shape.width <= Length::ZERO {
        return vec![SurfaceFault::NoWidth];
    }
    let base_at: Vec<Length> = shape.base.iter().map(|reading| reading.x).collect();
    let top_at: Vec<Length> = shape.top.iter().map(|reading| reading.x).collect();
    let mut faults = reading_faults(Height::Base, &base_at, Some(shape.width));
    faults.extend(reading_faults(Height::Top, &top_at, Some(shape.width)));
    if faults.is_empty() {
        faults.extend(no_height_at(shape).map(|x| SurfaceFault::NoHeight { x }));
    }
    if shape.covered.left + shape.covered.right >= shape.width {
        faults.push(SurfaceFault::AllCovered);
    }
    // Whether an opening lies above or below cannot be judged on a wall without height.
    if !faults.iter().any(|fault| matches!(fault, SurfaceFault::NoHeight { .. })) {
        faults.extend(
            (0..).zip(shape.openings).filter_map(|(index, opening)| opening_fault(index, opening, shape)),
        );
    }
    faults.extend(clashing(shape.openings).map(|index| SurfaceFault::OpeningsClash { index }));
    faults
}

/// The first opening that runs into one before it where only one of the two hides a cut edge. Round ones are taken
/// by their squares.
pub fn clashing(openings: &[Opening]) -> Option<usize> {
    let clash = |one: &Opening, other: &Opening| {
        one.edge.allows_cut() != other.edge.allows_cut() && taken(one).overlaps(&taken(other))
    };
    (0..openings.len()).find(|&index| openings[..index].iter().any(|before| clash(before, &openings[index])))
}

/// What cannot be so of the openings in a surface given by its outline.
pub fn opening_faults(outline: &Outline, openings: &[Opening]) -> Vec<SurfaceFault> {
    let inside = outline.inside();
    let fault = |(index, opening): (usize, &Opening)| {
        if taken(opening).is_empty() {
            return Some(SurfaceFault::OpeningClosed { index });
        }
        let alone = bounds(opening.shape);
        let outside = !inside.iter().any(|part| part.overlaps(&alone));
        outside.then_some(SurfaceFault::OpeningOutside { index })
    };
    let single = (0..).zip(openings).filter_map(fault);
    single.chain(clashing(openings).map(|index| SurfaceFault::OpeningsClash { index })).collect()
}

/// What an opening takes of the wall, with its clearance.
fn taken(opening: &Opening) -> Rect {
    bounds(opening.shape).grown(opening.clearance)
}

fn bounds(shape: OpeningShape) -> Rect {
    match shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            Rect { left: x, bottom: y, right: x + width, top: y + height }
        }
        OpeningShape::Circle { x, y, diameter } => {
            Rect { left: x, bottom: y, right: x, top: y }.grown(diameter - diameter.half())
        }
    }
}

/// What is wrong with where the readings lie; where the width is not known, nothing lies beside the wall.
pub fn reading_faults(height: Height, at: &[Length], width: Option<Length>) -> Vec<SurfaceFault> {
    if at.is_empty() {
        return vec![SurfaceFault::NoReading(height)];
    }
    let is_beside = |x: Length| width.is_some_and(|width| x < Length::ZERO || x > width);
    let beside = (0..at.len()).filter(|index| is_beside(at[*index]));
    let back = (1..at.len()).filter(|index| at[*index] < at[*index - 1]);
    beside
        .map(|index| SurfaceFault::Beside { height, index })
        .chain(back.map(|index| SurfaceFault::OutOfOrder { height, index }))
        .collect()
}

fn opening_fault(index: usize, opening: &Opening, shape: &Shape) -> Option<SurfaceFault> {
    let (left, bottom, width, height) = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => (x, y, width, height),
        OpeningShape::Circle { x, y, diameter } => {
            (x - diameter.half(), y - diameter.half(), diameter, diameter)
        }
    };
    if width.min(height) + opening.clearance * 2 <= Length::ZERO {
        return Some(SurfaceFault::OpeningClosed { index });
    }
    let lowest = shape.base.iter().map(|reading| -reading.drop).min()?;
    let highest = shape.top.iter().map(|reading| reading.rise).max()?;
    let beside = left + width <= Length::ZERO || left >= shape.width;
    let above_or_below = bottom + height <= lowest || bottom >= highest;
    (beside || above_or_below).then_some(SurfaceFault::OpeningOutside { index })
}

/// Where the top is not above the base, if anywhere: both are straight between readings, so it shows at one.
fn no_height_at(shape: &Shape) -> Option<Length> {
    let base: Vec<_> = shape.base.iter().map(|reading| (reading.x, -reading.drop)).collect();
    let top: Vec<_> = shape.top.iter().map(|reading| (reading.x, reading.rise)).collect();
    let sides = [height_left_of, height_right_of];
    let closed = |x: &Length| sides.iter().any(|side| side(&top, *x) <= side(&base, *x));
    base.iter().chain(&top).map(|point| point.0).find(closed)
}

/// The height at `x` of the line through points by rising x, level outside them, to the nearest unit; at a step
/// that of its right side. `None` without points.
pub(super) fn height_right_of(points: &[(Length, Length)], x: Length) -> Option<Length> {
    height_between(points.iter().rfind(|point| point.0 <= x), points.iter().find(|point| point.0 > x), x)
}

/// The same, at a step that of its left side.
pub(super) fn height_left_of(points: &[(Length, Length)], x: Length) -> Option<Length> {
    height_between(points.iter().rfind(|point| point.0 < x), points.iter().find(|point| point.0 >= x), x)
}

fn height_between(
    before: Option<&(Length, Length)>,
    after: Option<&(Length, Length)>,
    x: Length,
) -> Option<Length> {
    match (before, after) {
        (Some(before), Some(after)) => Some(between(*before, *after, x)),
        (Some(end), None) | (None, Some(end)) => Some(end.1),
        (None, None) => None,
    }
}

/// The height at `x` of the line through two points with different x, to the nearest unit.
pub(super) fn between(a: (Length, Length), b: (Length, Length), x: Length) -> Length {
    let run = i128::from((b.0 - a.0).units());
    let rise = i128::from((b.1 - a.1).units()) * i128::from((x - a.0).units());
    let (run, rise) = if run < 0 { (-run, -rise) } else { (run, rise) };
    let rise = super::tape::divided_nearest(rise, run.max(1));
    a.1 + Length::from_units(i64::try_from(rise).unwrap_or_default())
}

impl<'a> From<&'a Surface> for Shape<'a> {
    fn from(surface: &'a Surface) -> Self {
        Self {
            width: surface.width,
            base: &surface.base,
            top: &surface.top,
            covered: surface.covered,
            openings: &surface.openings,
        }
    }
}

impl std::fmt::Display for Height {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(match self {
            Self::Base => "base",
            Self::Top => "top",
        })
    }
}
