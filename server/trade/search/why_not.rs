//! The layout that has everything a lead asks for at once, or why there is none.
//!
//! What was chosen already is left aside: the question is what could be had. Wishes about courses are settled by the
//! joint and the course lines, wishes about the sides of an opening by a start, and cuts by the pieces.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::ControlFlow;

use super::combine::Search;
use super::course_lines::level_edges;
use super::frames::{Frame, joints, ways_to_lay};
use super::front::Cost;
use super::looks::facing;
use super::options::Extent;
use super::propose::starts_for_itself;
use super::watch::Watch;
use super::work_out::{Drawn, check};
use super::{LayoutOption, Priorities, WorkFault};
use crate::course::{self, CourseFlag, EndPlace, WallCourses, high_and_low, past_centre, pattern_on};
use crate::geometry::Side;
use crate::measure::{FirstCourse, Job, Layout, Length, Opening, OpeningShape, Surface, SurfaceId};
use crate::place::Piece;

/// One thing asked of a layout.
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
        /// Its name.
        opening: String,
        /// Which edge: its sill is the bottom, its head the top.
        edge: Side,
    },
    /// No cut is narrower or lower.
    NoCutUnder(Length),
    /// Every wall is propped.
    NoScribe,
}

/// Why not everything asked for can be had.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum WhyNot {
    /// No surface, or no rectangular opening, has that name.
    #[error("there is nothing here for {0}")]
    Unknown(Asked),
    /// The top is not level.
    #[error("{asked} cannot be had: the top is {} out of level", mm(*by))]
    OutOfLevel {
        /// What was asked.
        asked: Asked,
        /// From its lowest to its highest place.
        by: Length,
    },
    /// The base falls more than a propped course can hide.
    #[error("{asked} cannot be had: the base falls by {}, and a gap that grows by more than {} is not hidden", mm(*fall), mm(*hidden))]
    Falls {
        /// What was asked.
        asked: Asked,
        /// Over all walls of the level line.
        fall: Length,
        /// How much the gap may grow.
        hidden: Length,
    },
    /// Two wishes would need another joint.
    #[error("{one} and {other} need a joint of {}; your range is {} to {}", mm(*needed), mm(range.0), mm(range.1))]
    Joint {
        /// What was asked.
        one: Asked,
        /// And beside it.
        other: Asked,
        /// The joint that is nearest to the range.
        needed: Length,
        /// What is allowed.
        range: (Length, Length),
    },
    /// A cut is always narrower.
    #[error("no cut under {} cannot be had{}: the narrowest cut is {} at best", mm(*wanted), if *alone { "" } else { " with the rest" }, mm(*possible))]
    Narrowest {
        /// What was asked.
        wanted: Length,
        /// The widest narrowest cut that was found.
        possible: Length,
        /// Nothing else was asked.
        alone: bool,
    },
    /// Together they leave no layout, or none was found.
    #[error("no layout was found that has {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and "))]
    Together(Vec<Asked>),
    /// Nothing can be worked out here at all.
    #[error(transparent)]
    Work(#[from] WorkFault),
}

/// Ways to lay the courses that are filled with starts, for each joint.
const MOST_WAYS: usize = 6;

/// The best layout by the lead's priorities that has all that is asked for. `go_on` is asked every so often; when it
/// says stop, what was found by then counts.
///
/// # Errors
///
/// Why there is none.
pub fn why_not(
    job: &Job,
    asked: &[Asked],
    priorities: &Priorities,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> Result<LayoutOption, Box<WhyNot>> {
    if let Some(unknown) = asked.iter().find(|wish| !wish.is_known(job)) {
        return Err(Box::new(WhyNot::Unknown(unknown.clone())));
    }
    let wishes = Wishes { job, asked };
    let frames = wishes.frames();
    if frames.is_empty() {
        return Err(Box::new(wishes.why_no_courses()));
    }
    let mut watch = Watch::new(go_on);
    let extent = Extent { starts: 16, frames: 1, visits: 0, drawn: 0, worked_out: 1 };
    let search = Search { job, facing: facing(job), priorities, extent };
    let mut best: Option<(Cost, Drawn<'_>)> = None;
    let mut possible = None;
    for frame in frames.iter().flat_map(|frame| wishes.with_starts(frame)) {
        for (_, layout) in search.layouts(&frame, &mut watch) {
            let Ok(drawn) = Drawn::of(job, layout) else { continue };
            if !wishes.sides_hold(drawn.pieces()) {
                continue;
            }
            let figures = drawn.estimated();
            let narrowest = figures.narrowest_cut.unwrap_or(Length::from_units(i64::MAX));
            possible = possible.max(Some(narrowest));
            let cost = Cost::of(&figures, priorities);
            if narrowest >= wishes.least_cut() && best.as_ref().is_none_or(|(known, _)| cost < *known) {
                best = Some((cost, drawn));
            }
        }
        if watch.is_stopped() {
            break;
        }
    }
    match (best, possible) {
        (Some((_, drawn)), _) => {
            let option = drawn.worked_out(&mut |_| watch.answer());
            check(job, &option).map_err(WhyNot::Work)?;
            Ok(option)
        }
        (None, Some(possible)) => {
            let alone = asked.len() == 1;
            Err(Box::new(WhyNot::Narrowest { wanted: wishes.least_cut(), possible, alone }))
        }
        (None, None) => Err(Box::new(WhyNot::Together(asked.to_vec()))),
    }
}

/// All that is asked at once.
struct Wishes<'a> {
    job: &'a Job,
    asked: &'a [Asked],
}

impl Wishes<'_> {
    fn least_cut(&self) -> Length {
        let least = self.asked.iter().filter_map(|wish| match wish {
            Asked::NoCutUnder(least) => Some(*least),
            Asked::WholeAtTop(_) | Asked::WholeAtBase(_) | Asked::JointAt { .. } | Asked::NoScribe => None,
        });
        least.max().unwrap_or_default()
    }

    /// Courses in which all wishes about them hold.
    fn frames(&self) -> Vec<Frame> {
        let mut tried = joints(self.job, &Layout::default());
        for (at, one) in self.asked.iter().enumerate() {
            for other in &self.asked[at + 1..] {
                tried.extend(self.needed_joints(one, other).into_iter().filter(|joint| self.allows(*joint)));
            }
        }
        let frame = |layout: Layout| Some(Frame { courses: course::lay(self.job, &layout).ok()?, layout });
        let mut frames: Vec<Frame> = Vec::new();
        for joint in tried {
            let layout = Layout { joint: Some(joint), ..Layout::default() };
            let ways = ways_to_lay(self.job, &layout, MOST_WAYS, &|laid| self.courses_hold(laid));
            frames.extend(ways.into_iter().filter_map(frame));
        }
        frames
    }

    fn allows(&self, joint: Length) -> bool {
        let (least, most) = self.job.joint_range;
        least <= joint && joint <= most
    }

    fn courses_hold(&self, laid: &BTreeMap<SurfaceId, WallCourses>) -> bool {
        self.asked.iter().all(|wish| {
            laid.iter().all(|(id, wall)| match self.job.surface(id) {
                Some(surface) => wish.holds_in(surface, wall),
                None => true,
            })
        })
    }

    /// The frame with every start that brings the asked sides of openings onto a joint; itself where none is asked.
    fn with_starts(&self, frame: &Frame) -> Vec<Frame> {
        let mut frames = vec![frame.clone()];
        for wish in self.asked {
            let Some((surface, opening, edge @ (Side::Left | Side::Right))) = wish.opening(self.job) else {
                continue;
            };
            frames = frames
                .into_iter()
                .flat_map(|frame| {
                    if frame.layout.starts.contains_key(&surface.id) {
                        return vec![frame];
                    }
                    let starts = starts_at(self.job, &frame, surface, opening, edge).into_iter();
                    let with = |start| {
                        let mut with = frame.clone();
                        with.layout.starts.insert(surface.id.clone(), start);
                        with
                    };
                    starts.map(with).collect()
                })
                .collect();
        }
        frames
    }

    /// Whether the asked sides of openings lie on joints.
    fn sides_hold(&self, pieces: &[Piece]) -> bool {
        self.asked.iter().all(|wish| {
            let Some((surface, opening, edge)) = wish.opening(self.job) else { return true };
            let Some((left, right)) = upright_edges(opening) else { return false };
            let mut here = pieces.iter().filter(|piece| piece.surface == surface.id);
            match edge {
                Side::Left => here.any(|piece| piece.bounds.right == left && piece.cell.right == left),
                Side::Right => here.any(|piece| piece.bounds.left == right && piece.cell.left == right),
                Side::Bottom | Side::Top => true,
            }
        })
    }

    /// Why the courses cannot be laid as asked: a wish that cannot be had by itself, else two that ask for another
    /// joint, else all together.
    fn why_no_courses(&self) -> WhyNot {
        for wish in self.asked {
            let alone = Wishes { job: self.job, asked: std::slice::from_ref(wish) };
            if alone.frames().is_empty() {
                return alone.why_not_alone(wish);
            }
        }
        for (at, one) in self.asked.iter().enumerate() {
            for other in &self.asked[at + 1..] {
                let both = [one.clone(), other.clone()];
                let together = Wishes { job: self.job, asked: &both };
                if !together.frames().is_empty() {
                    continue;
                }
                let range = self.job.joint_range;
                let needed = self.needed_joints(one, other);
                let off = |joint: &Length| (range.0 - *joint).max(*joint - range.1);
                if let Some(needed) = needed.into_iter().min_by_key(off) {
                    return WhyNot::Joint { one: one.clone(), other: other.clone(), needed, range };
                }
                return WhyNot::Together(both.into());
            }
        }
        WhyNot::Together(self.asked.to_vec())
    }

    fn why_not_alone(&self, wish: &Asked) -> WhyNot {
        let surface = match wish {
            Asked::WholeAtTop(id) => {
                let rises = self.job.surface(id).into_iter().flat_map(|surface| &surface.top);
                let rises: Vec<Length> = rises.map(|reading| reading.rise).collect();
                let (low, high) = (rises.iter().min().copied(), rises.iter().max().copied());
                let by = high.unwrap_or_default() - low.unwrap_or_default();
                return WhyNot::OutOfLevel { asked: wish.clone(), by };
            }
            Asked::WholeAtBase(id) => self.job.surface(id),
            Asked::NoScribe => None,
            Asked::JointAt { .. } | Asked::NoCutUnder(_) => return WhyNot::Together(vec![wish.clone()]),
        };
        let lines = course::lines(self.job).into_iter();
        let of_line = |walls: &Vec<&Surface>| {
            surface.is_none_or(|surface| walls.iter().any(|wall| wall.id == surface.id))
        };
        let falls = lines.filter(of_line).filter_map(|walls| high_and_low(self.job, &walls).ok());
        let fall = falls.map(|(high, low)| high - low).max().unwrap_or_default();
        let hidden = self.job.base_gap_max - self.job.gaps.base;
        WhyNot::Falls { asked: wish.clone(), fall, hidden }
    }

    /// The joints at which both wishes about heights would hold: with the courses laid for the one, so much wider or
    /// narrower that a course comes to where the other wants it.
    fn needed_joints(&self, one: &Asked, other: &Asked) -> Vec<Length> {
        let joint = self.job.chosen_joint();
        let layout = Layout { joint: Some(joint), ..Layout::default() };
        let only = [one.clone()];
        let alone = Wishes { job: self.job, asked: &only };
        let Some(layout) =
            ways_to_lay(self.job, &layout, 1, &|laid| alone.courses_hold(laid)).into_iter().next()
        else {
            return Vec::new();
        };
        let Ok(courses) = course::lay(self.job, &layout) else { return Vec::new() };
        let wall_of = |wish: &Asked| courses.walls.get(wish.surface()?);
        let (Some(here), Some(there)) = (wall_of(one), wall_of(other)) else { return Vec::new() };
        let from = one.edges(self.job, here).into_iter().find(|edge| edge.at == edge.wanted);
        let Some(from) = from else { return Vec::new() };
        let needed = other.edges(self.job, there).into_iter().filter_map(|edge| {
            let (low, high) = (from.at.min(edge.at), from.at.max(edge.at));
            let between = there.courses.windows(2).filter(|pair| {
                pair[0].top >= low && pair[1].bottom <= high && pair[1].bottom - pair[0].top == joint
            });
            let joints = i64::try_from(between.count()).ok().filter(|joints| *joints > 0)?;
            let wider = (edge.wanted - from.at) * (edge.at - from.at).units().signum() - (high - low);
            let needed = joint + Length::from_units(wider.units().div_euclid(joints));
            (needed >= Length::ZERO).then_some(needed)
        });
        needed.collect()
    }
}

/// An edge of a course, and where a wish would have it.
struct Edge {
    at: Length,
    wanted: Length,
}

impl Asked {
    fn surface(&self) -> Option<&SurfaceId> {
        match self {
            Self::WholeAtTop(id) | Self::WholeAtBase(id) | Self::JointAt { surface: id, .. } => Some(id),
            Self::NoCutUnder(_) | Self::NoScribe => None,
        }
    }

    /// The surface, the rectangular opening and the edge that are meant.
    fn opening<'j>(&self, job: &'j Job) -> Option<(&'j Surface, &'j Opening, Side)> {
        let Self::JointAt { surface, opening, edge } = self else { return None };
        let surface = job.surface(surface)?;
        let is_meant = |known: &&Opening| {
            known.name == *opening && matches!(known.shape, OpeningShape::Rectangle { .. })
        };
        Some((surface, surface.openings.iter().find(is_meant)?, *edge))
    }

    fn is_known(&self, job: &Job) -> bool {
        match self {
            Self::WholeAtTop(id) | Self::WholeAtBase(id) => job.surface(id).is_some(),
            Self::JointAt { .. } => self.opening(job).is_some(),
            Self::NoCutUnder(_) | Self::NoScribe => true,
        }
    }

    /// Whether the courses of one surface keep to it.
    fn holds_in(&self, surface: &Surface, wall: &WallCourses) -> bool {
        let whole = |places: &[EndPlace]| {
            wall.ends().iter().filter(|end| places.contains(&end.place)).all(|end| end.kept == end.whole)
        };
        let hidden = !wall.flags.iter().any(|flag| matches!(flag, CourseFlag::PropGapTooLarge { .. }));
        match self {
            Self::WholeAtTop(id) => *id != surface.id || whole(&[EndPlace::Top]),
            Self::WholeAtBase(id) => *id != surface.id || (whole(&[EndPlace::Carrying]) && hidden),
            Self::NoScribe => {
                surface.outline.is_some() || (wall.first_course == FirstCourse::Propped && hidden)
            }
            Self::NoCutUnder(_) => true,
            Self::JointAt { surface: id, opening, edge } => {
                let meant = surface.openings.iter().find(|known| known.name == *opening);
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
    fn edges(&self, job: &Job, wall: &WallCourses) -> Vec<Edge> {
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

/// Where tile must end left of a rectangular opening, and begin again right of it.
fn upright_edges(opening: &Opening) -> Option<(Length, Length)> {
    match opening.shape {
        OpeningShape::Rectangle { x, width, .. } => {
            Some((x - opening.clearance, x + width + opening.clearance))
        }
        OpeningShape::Circle { .. } => None,
    }
}

/// The starts of a surface that bring a joint of some course beside the opening to its side.
fn starts_at(job: &Job, frame: &Frame, surface: &Surface, opening: &Opening, edge: Side) -> Vec<Length> {
    let (Some((lower, upper)), Some((left, right))) = (level_edges(opening), upright_edges(opening)) else {
        return Vec::new();
    };
    let joint = job.joint_in(&frame.layout);
    let courses =
        frame.courses.walls.get(&surface.id).map(|wall| wall.courses.as_slice()).unwrap_or_default();
    let start = |course: &course::Course| {
        let band = surface.bands.get(course.band)?;
        let beside = course.bottom < upper && lower < course.top;
        if !beside || starts_for_itself(job, &frame.layout, surface, course.band, band) {
            return None;
        }
        let width = job.laid_size(&band.tile, band.upright)?.width;
        let shift = pattern_on(&frame.layout, surface, band).shift(i64::from(course.number), width + joint);
        let tile_begins = if edge == Side::Left { left - width } else { right };
        Some((tile_begins - past_centre(joint) - shift).modulo(width + joint))
    };
    let starts: std::collections::BTreeSet<Length> = courses.iter().filter_map(start).collect();
    starts.into_iter().collect()
}

fn mm(length: Length) -> String {
    format!("{:.1} mm", length.to_mm())
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
                write!(out, "a joint at the {edge} of \"{opening}\" on {surface}")
            }
            Self::NoCutUnder(least) => write!(out, "no cut under {}", mm(*least)),
            Self::NoScribe => write!(out, "every wall propped"),
        }
    }
}

#[cfg(test)]
#[path = "why_not_tests.rs"]
mod tests;
