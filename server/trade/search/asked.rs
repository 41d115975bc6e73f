//! What a lead may ask of a layout, and what each wish says of courses.

use std::fmt;

use super::course_lines::level_edges;
use super::why_not::mm;
use crate::course::{CourseFlag, EndPlace, WallCourses};
use crate::geometry::Side;
use crate::measure::{FirstCourse, Job, Length, Opening, OpeningShape, Surface, SurfaceId};

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Asked {
    /// The highest course is whole.
    WholeAtTop(SurfaceId),
    /// The first course is whole.
    WholeAtBase(SurfaceId),
    /// That edge of a rectangular opening lies on a joint; an upright one beside one course at least, since a stepped
    /// pattern does not bring a joint to every course.
    JointAt {
        /// Where the opening is.
        surface: SurfaceId,
        /// Which of its openings, counted from 0: two may have one name.
        opening: usize,
        /// Which edge: its sill is the bottom, its head the top.
        edge: Side,
    },
    /// No cut is narrower or lower.
    NoCutUnder(Length),
    /// Every wall is propped.
    NoScribe,
}

/// An edge of a course, and where a wish would have it.
pub(super) struct Edge {
    pub(super) at: Length,
    pub(super) wanted: Length,
}

impl Asked {
    pub(super) fn surface(&self) -> Option<&SurfaceId> {
        match self {
            Self::WholeAtTop(id) | Self::WholeAtBase(id) | Self::JointAt { surface: id, .. } => Some(id),
            Self::NoCutUnder(_) | Self::NoScribe => None,
        }
    }

    /// The surface, the rectangular opening and the edge that are meant.
    pub(super) fn opening<'j>(&self, job: &'j Job) -> Option<(&'j Surface, &'j Opening, Side)> {
        let Self::JointAt { surface, opening, edge } = self else { return None };
        let surface = job.surface(surface)?;
        let is_rectangle = |known: &&Opening| matches!(known.shape, OpeningShape::Rectangle { .. });
        Some((surface, surface.openings.get(*opening).filter(is_rectangle)?, *edge))
    }

    /// Whether it asks for an edge of a course at a height.
    pub(super) const fn is_of_heights(&self) -> bool {
        match self {
            Self::WholeAtTop(_)
            | Self::WholeAtBase(_)
            | Self::JointAt { edge: Side::Bottom | Side::Top, .. } => true,
            Self::JointAt { edge: Side::Left | Side::Right, .. } | Self::NoCutUnder(_) | Self::NoScribe => {
                false
            }
        }
    }

    pub(super) fn is_known(&self, job: &Job) -> bool {
        match self {
            Self::WholeAtTop(id) | Self::WholeAtBase(id) => job.surface(id).is_some(),
            Self::JointAt { .. } => self.opening(job).is_some(),
            Self::NoCutUnder(_) | Self::NoScribe => true,
        }
    }

    /// Whether the courses of one surface keep to it.
    pub(super) fn holds_in(&self, surface: &Surface, wall: &WallCourses) -> bool {
        let whole = |places: &[EndPlace]| {
            wall.ends().iter().filter(|end| places.contains(&end.place)).all(|end| end.kept == end.whole)
        };
        let hidden = !wall.flags.iter().any(|flag| matches!(flag, CourseFlag::PropGapTooLarge { .. }));
        match self {
            Self::WholeAtTop(id) => {
                *id != surface.id || (whole(&[EndPlace::Top]) && !wall.top_crosses_courses())
            }
            Self::WholeAtBase(id) => {
                *id != surface.id || (whole(&[EndPlace::Carrying]) && hidden && !wall.base_crosses_courses())
            }
            Self::NoScribe => {
                surface.outline.is_some() || (wall.first_course == FirstCourse::Propped && hidden)
            }
            Self::NoCutUnder(_) => true,
            Self::JointAt { surface: id, opening, edge } => {
                let meant = surface.openings.get(*opening);
                let Some((lower, upper)) = meant.and_then(level_edges) else { return *id != surface.id };
                let mut field = wall.courses.iter().filter(|course| !course.strip);
                *id != surface.id
                    || match edge {
                        Side::Bottom => field.any(|course| course.top == lower),
                        Side::Top => field.any(|course| course.bottom == upper),
                        Side::Left | Side::Right => true,
                    }
            }
        }
    }

    /// The edges of the courses that it is about, each with where it would have one.
    pub(super) fn edges(&self, job: &Job, wall: &WallCourses) -> Vec<Edge> {
        let field = || wall.courses.iter().filter(|course| !course.strip);
        let tops = |wanted| field().map(|course| Edge { at: course.top, wanted }).collect();
        let bottoms = |wanted| field().map(|course| Edge { at: course.bottom, wanted }).collect();
        match self {
            Self::WholeAtTop(id) => {
                let Some(surface) = job.surface(id) else { return Vec::new() };
                let lowest = surface.top.iter().map(|reading| reading.rise).min().unwrap_or_default();
                tops(lowest - job.gaps.at(surface.edges.top))
            }
            Self::WholeAtBase(_) => bottoms(wall.seat),
            Self::JointAt { edge, .. } => {
                let edges = self.opening(job).and_then(|(_, opening, _)| level_edges(opening));
                match (edges, edge) {
                    (Some((lower, _)), Side::Bottom) => tops(lower),
                    (Some((_, upper)), Side::Top) => bottoms(upper),
                    (_, Side::Left | Side::Right) | (None, _) => Vec::new(),
                }
            }
            Self::NoCutUnder(_) | Self::NoScribe => Vec::new(),
        }
    }
}

/// Plain English for files; pages have their own words.
impl fmt::Display for Asked {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::WholeAtTop(surface) => write!(out, "whole tiles at the top of {surface}"),
            Self::WholeAtBase(surface) => write!(out, "whole tiles at the base of {surface}"),
            Self::JointAt { surface, opening, edge } => {
                let edge = match edge {
                    Side::Bottom => "sill",
                    Side::Top => "head",
                    Side::Left => "left side",
                    Side::Right => "right side",
                };
                write!(out, "a joint at the {edge} of opening {} on {surface}", opening + 1)
            }
            Self::NoCutUnder(least) => write!(out, "no cut under {}", mm(*least)),
            Self::NoScribe => write!(out, "every wall propped"),
        }
    }
}
