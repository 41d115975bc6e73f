//! The story pole, and the lines to strike before the first tile.

use std::collections::BTreeMap;

use super::{Courses, WallCourses};
use crate::measure::{Band, FirstCourse, Job, Layout, Length, Pattern, Surface, SurfaceId};

/// One course on the story pole.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PoleMark {
    /// The course's number, or that of the course below a strip.
    pub number: u32,
    /// A strip.
    pub strip: bool,
    /// y of the whole tiles' lower edge: the distance above the level line, below it when negative.
    pub bottom: Length,
    /// y of the whole tiles' upper edge.
    pub top: Length,
    /// Height of the lower edge above the high point of the line's carrying base.
    pub bottom_above_base: Length,
    /// Height of the upper edge above the high point.
    pub top_above_base: Length,
    /// The lowest and the highest y of the course's upper edge where every tile of it is cut to the ceiling: the whole
    /// tiles' edge is nowhere on the wall then.
    pub cut_at_top: Option<(Length, Length)>,
}

/// The two lines that a wall is started from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Strike {
    /// The course that stands on the level line struck.
    pub course: u32,
    /// y of the lower edge of the course set first; batten or props come up to it.
    pub level: Length,
    /// x, from the wall's left end, of the centre of that course's upright joint nearest to the wall's middle;
    /// `None` without a start.
    pub plumb: Option<Length>,
}

impl WallCourses {
    /// What to mark on the story pole, from the bottom up. Heights are those of whole tiles, so the mark of a
    /// course cut at the base may lie below the base, and that of one cut at the top above the ceiling.
    pub fn story_pole(&self) -> Vec<PoleMark> {
        let mark = |course: &super::Course| PoleMark {
            number: course.number,
            strip: course.strip,
            bottom: course.bottom,
            top: course.top,
            bottom_above_base: course.bottom - self.high_point,
            top_above_base: course.top - self.high_point,
            cut_at_top: self.cut_at_top(course),
        };
        self.courses.iter().map(mark).collect()
    }

    /// Between which heights the course is cut at its top, where no part of it stands as high as a whole tile.
    fn cut_at_top(&self, course: &super::Course) -> Option<(Length, Length)> {
        let stretches = self.clear_of(course).into_iter();
        let heads =
            stretches.flat_map(|(from, to)| self.outline.head.corners(from, to)).map(|corner| -corner.y);
        let heights: Vec<Length> = heads.collect();
        let (lowest, highest) = (*heights.iter().min()?, *heights.iter().max()?);
        (highest < course.top).then_some((lowest, highest))
    }
}

/// The lines to strike on every wall that has courses: level under the course set first (the job's start
/// course, or the lowest above it that this wall has) and plumb through one of its joints. On a scribed wall the
/// lowest course is not struck for, since its whole tiles would begin below the base: the one above it is.
pub fn lines_to_strike(job: &Job, layout: &Layout, courses: &Courses) -> BTreeMap<SurfaceId, Strike> {
    let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
    let strike = |surface: &Surface| {
        let wall = courses.walls.get(&surface.id)?;
        let field = || wall.courses.iter().filter(|course| !course.strip);
        let lowest = match wall.first_course {
            FirstCourse::Propped => field().next()?.number,
            FirstCourse::Scribed => field().next()?.number + 1,
        };
        let wanted = lowest.max(job.start_course);
        let set_first = field().find(|course| course.number >= wanted).or(field().next_back())?;
        let band = surface.bands.get(set_first.band)?;
        let pitch = job.laid_size(&band.tile, band.upright)?.width + joint;
        let own_start = layout.band_starts.get(&(surface.id.clone(), set_first.band));
        let pattern = pattern_on(layout, surface, band);
        let first_of_band = wall.courses.iter().find(|course| course.band == set_first.band)?;
        let counted_from = if own_start.is_some() { first_of_band.number } else { 1 };
        let shift = pattern.shift(i64::from(set_first.number) - i64::from(counted_from) + 1, pitch);
        let plumb = own_start.or(layout.starts.get(&surface.id)).map(|start| {
            let middle = surface.left() + surface.width.half();
            let from_middle = (*start + shift - middle + pitch.half()).modulo(pitch) - pitch.half();
            middle + from_middle
        });
        Some((surface.id.clone(), Strike { course: set_first.number, level: set_first.bottom, plumb }))
    };
    job.surfaces.iter().filter_map(strike).collect()
}

/// A band's pattern, its own or the surface's, with its step climbing the way the layout says.
pub fn pattern_on(layout: &Layout, surface: &Surface, band: &Band) -> Pattern {
    let pattern = band.pattern.as_ref().unwrap_or(&surface.pattern);
    match (pattern, layout.mirror.get(&surface.id)) {
        (Pattern::Running { step, .. }, Some(mirror)) => Pattern::Running { step: *step, mirror: *mirror },
        (pattern, _) => pattern.clone(),
    }
}
