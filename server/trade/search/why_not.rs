//! The layout that has everything a lead asks for at once, or why there is none.
//!
//! What was chosen already is left aside: the question is what could be had. Wishes about courses are settled by the
//! joint and the course lines, wishes about the sides of an opening by a start, and cuts by the pieces.
//!
//! Only what promises something is looked at, and no more than [`Bounds`] counts. So that none was found does not mean
//! that there is none, and the reasons say no more than that; what cannot be had by what propping is says so.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::ControlFlow;

use super::asked::Asked;
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
use crate::course::{self, WallCourses, high_and_low, past_centre, pattern_on};
use crate::geometry::Side;
use crate::measure::{Job, Layout, Length, Opening, OpeningShape, Surface, SurfaceId};
use crate::place::Piece;

/// Why not everything asked for can be had.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum WhyNot {
    /// There is no such surface, or no such rectangular opening.
    #[error("there is nothing here for {0}")]
    Unknown(Asked),
    /// None was found, and the top is not level.
    #[error("no layout was found that has {asked}: the top is {} out of level", mm(*by))]
    OutOfLevel {
        /// What was asked.
        asked: Asked,
        /// From its lowest to its highest place.
        by: Length,
    },
    /// None was found, and the base is not level.
    #[error("no layout was found that has {asked}: the base falls by {}", mm(*fall))]
    BaseFalls {
        /// What was asked.
        asked: Asked,
        /// From its highest to its lowest place.
        fall: Length,
    },
    /// The base falls more than a propped course can hide: by what propping is, it cannot be had.
    #[error("{asked} cannot be had: the base falls by {}, and a gap that grows by more than {} is not hidden", mm(*fall), mm(*hidden))]
    Falls {
        /// What was asked.
        asked: Asked,
        /// Over all walls of the level line.
        fall: Length,
        /// How much the gap may grow.
        hidden: Length,
    },
    /// Two wishes meet with another joint.
    #[error("no layout was found that has {one} and {other} with a joint of {} to {}, your range; they meet with one of {}", mm(range.0), mm(range.1), mm(*needed))]
    Joint {
        /// What was asked.
        one: Asked,
        /// And beside it.
        other: Asked,
        /// A joint with which courses were laid that have both.
        needed: Length,
        /// What is allowed.
        range: (Length, Length),
    },
    /// All that were found have a narrower cut.
    #[error("no layout was found {}no cut under {}; of those looked at, the best has a narrowest cut of {}", if *alone { "that has " } else { "that has the rest and " }, mm(*wanted), mm(*possible))]
    Narrowest {
        /// What was asked.
        wanted: Length,
        /// The widest narrowest cut that was found.
        possible: Length,
        /// Nothing else was asked.
        alone: bool,
    },
    /// None was found that has them all.
    #[error("no layout was found that has {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and "))]
    Together(Vec<Asked>),
    /// Nothing can be worked out here at all.
    #[error(transparent)]
    Work(#[from] WorkFault),
}

/// What comes of asking.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answer {
    /// The best layout looked at that has everything, or why none was found.
    pub found: Result<LayoutOption, Box<WhyNot>>,
    /// The bounds were reached, or it was told to stop: not everything was looked at that would have been.
    pub cut_short: bool,
}

/// Ways to lay the courses that are filled with starts, for each joint.
const MOST_WAYS: usize = 6;

/// Ways to start the walls, with one way to lay the courses.
const MOST_STARTED: usize = 64;

/// How much is looked at, counted so that the same question has the same answer on any machine.
#[derive(Clone, Copy)]
struct Bounds {
    /// Courses laid on walls, in all ways tried: a few seconds.
    courses: usize,
    /// Pieces drawn, in all layouts: a few seconds.
    pieces: usize,
}

impl Bounds {
    const USUAL: Self = Self { courses: 3_000_000, pieces: 500_000 };
}

/// The best layout by the lead's priorities that has all that is asked for, of those looked at. `go_on` is asked every
/// so often; when it says stop, what was found by then counts.
pub fn why_not(
    job: &Job,
    asked: &[Asked],
    priorities: &Priorities,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> Answer {
    within(Bounds::USUAL, job, asked, priorities, go_on)
}

fn within(
    bounds: Bounds,
    job: &Job,
    asked: &[Asked],
    priorities: &Priorities,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> Answer {
    let mut looking = Looking { watch: Watch::new(go_on), left: bounds, cut_short: false };
    let found = look(job, &each_once(asked), priorities, &mut looking).map_err(Box::new);
    Answer { found, cut_short: looking.cut_short || looking.watch.is_stopped() }
}

/// Who asks for the same twice asks for it once.
fn each_once(asked: &[Asked]) -> Vec<Asked> {
    let mut once: Vec<Asked> = Vec::new();
    for wish in asked {
        if !once.contains(wish) {
            once.push(wish.clone());
        }
    }
    once
}

fn look(
    job: &Job,
    asked: &[Asked],
    priorities: &Priorities,
    looking: &mut Looking<'_>,
) -> Result<LayoutOption, WhyNot> {
    if let Some(unknown) = asked.iter().find(|wish| !wish.is_known(job)) {
        return Err(WhyNot::Unknown(unknown.clone()));
    }
    let wishes = Wishes { job, asked };
    let frames = wishes.frames(looking);
    if frames.is_empty() {
        return Err(wishes.why_no_courses(looking));
    }
    let extent = Extent { starts: 16, frames: 1, visits: 0, drawn: 0, worked_out: 1 };
    let search = Search { job, facing: facing(job), priorities, extent };
    let mut best: Option<(Cost, Drawn<'_>)> = None;
    let mut possible = None;
    for frame in &frames {
        for started in wishes.with_starts(frame, looking) {
            if !looking.may_draw() {
                break;
            }
            for (_, layout) in search.layouts(&started, &mut looking.watch) {
                if !looking.may_draw() {
                    break;
                }
                let Ok(drawn) = Drawn::of(job, layout) else { continue };
                looking.drew(drawn.pieces().len());
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
        }
    }
    match (best, possible) {
        (Some((_, drawn)), _) => {
            let option = drawn.worked_out(&mut |_| looking.watch.answer());
            check(job, &option)?;
            Ok(option)
        }
        (None, Some(possible)) => {
            let alone = asked.len() == 1;
            Err(WhyNot::Narrowest { wanted: wishes.least_cut(), possible, alone })
        }
        (None, None) => Err(WhyNot::Together(asked.to_vec())),
    }
}

/// How much may still be looked at.
struct Looking<'a> {
    watch: Watch<'a>,
    left: Bounds,
    cut_short: bool,
}

impl Looking<'_> {
    fn may_lay(&mut self) -> bool {
        let may = self.left.courses > 0 && !self.watch.is_stopped();
        self.cut_short |= !may;
        may
    }

    fn laid(&mut self, courses: usize) {
        self.left.courses = self.left.courses.saturating_sub(courses);
        self.watch.go_on(courses);
    }

    fn may_draw(&mut self) -> bool {
        let may = self.left.pieces > 0 && !self.watch.is_stopped();
        self.cut_short |= !may;
        may
    }

    fn drew(&mut self, pieces: usize) {
        self.left.pieces = self.left.pieces.saturating_sub(pieces);
        self.watch.go_on(pieces);
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
    fn frames(&self, looking: &mut Looking<'_>) -> Vec<Frame> {
        let mut tried = joints(self.job, &Layout::default());
        for (at, one) in self.asked.iter().enumerate() {
            for other in &self.asked[at + 1..] {
                let needed = self.needed_joints(one, other, looking).into_iter();
                tried.extend(needed.filter(|joint| self.allows(*joint)));
            }
        }
        let mut known = BTreeSet::new();
        tried.retain(|joint| known.insert(*joint));
        tried.into_iter().flat_map(|joint| self.frames_with(joint, MOST_WAYS, looking)).collect()
    }

    /// The same with one joint.
    fn frames_with(&self, joint: Length, most: usize, looking: &mut Looking<'_>) -> Vec<Frame> {
        if !looking.may_lay() {
            return Vec::new();
        }
        let layout = Layout { joint: Some(joint), ..Layout::default() };
        let courses = Cell::new(0);
        let ways = ways_to_lay(self.job, &layout, most, &|laid| {
            courses.set(courses.get() + laid.values().map(|wall| wall.courses.len()).sum::<usize>());
            self.courses_hold(laid)
        });
        looking.laid(courses.get());
        let frame = |layout: Layout| Some(Frame { courses: course::lay(self.job, &layout).ok()?, layout });
        ways.into_iter().filter_map(frame).collect()
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
    fn with_starts(&self, frame: &Frame, looking: &mut Looking<'_>) -> Vec<Frame> {
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
                    let starts = starts_at(self.job, &frame, surface, opening, edge);
                    if starts.is_empty() {
                        return vec![frame];
                    }
                    let with = |start| {
                        let mut with = frame.clone();
                        with.layout.starts.insert(surface.id.clone(), start);
                        with
                    };
                    starts.into_iter().map(with).collect()
                })
                .take(MOST_STARTED + 1)
                .collect();
            looking.cut_short |= frames.len() > MOST_STARTED;
            frames.truncate(MOST_STARTED);
        }
        frames
    }

    /// Whether the asked sides of openings lie on joints, each beside a piece at its own height.
    fn sides_hold(&self, pieces: &[Piece]) -> bool {
        self.asked.iter().all(|wish| {
            let Some((surface, opening, edge)) = wish.opening(self.job) else { return true };
            let edges = level_edges(opening).zip(upright_edges(opening));
            let Some(((lower, upper), (left, right))) = edges else { return false };
            let mut here = pieces.iter().filter(|piece| {
                piece.surface == surface.id && piece.bounds.bottom < upper && lower < piece.bounds.top
            });
            match edge {
                Side::Left => here.any(|piece| piece.bounds.right == left && piece.cell.right == left),
                Side::Right => here.any(|piece| piece.bounds.left == right && piece.cell.left == right),
                Side::Bottom | Side::Top => true,
            }
        })
    }

    /// Why the courses cannot be laid as asked: a wish for which none can be laid by itself, else two that ask for
    /// another joint, else all together. Where too little was looked at to tell, all together.
    fn why_no_courses(&self, looking: &mut Looking<'_>) -> WhyNot {
        let all = || WhyNot::Together(self.asked.to_vec());
        for wish in self.asked {
            let alone = Wishes { job: self.job, asked: std::slice::from_ref(wish) };
            let none = alone.frames(looking).is_empty();
            if looking.cut_short {
                return all();
            }
            if none {
                return alone.why_not_alone(wish);
            }
        }
        for (at, one) in self.asked.iter().enumerate() {
            for other in &self.asked[at + 1..] {
                let both = [one.clone(), other.clone()];
                let together = Wishes { job: self.job, asked: &both };
                let none = together.frames(looking).is_empty();
                if looking.cut_short {
                    return all();
                }
                if none {
                    return together.why_not_both(one, other, looking);
                }
            }
        }
        all()
    }

    /// The joint nearest to the range with which courses can be laid that have both, or that none was found.
    fn why_not_both(&self, one: &Asked, other: &Asked, looking: &mut Looking<'_>) -> WhyNot {
        let range = self.job.joint_range;
        let mut outside = self.needed_joints(one, other, looking);
        outside.retain(|joint| !self.allows(*joint));
        outside.sort_by_key(|joint| (range.0 - *joint).max(*joint - range.1));
        match outside.into_iter().find(|joint| !self.frames_with(*joint, 1, looking).is_empty()) {
            Some(needed) => WhyNot::Joint { one: one.clone(), other: other.clone(), needed, range },
            None => WhyNot::Together(self.asked.to_vec()),
        }
    }

    fn why_not_alone(&self, wish: &Asked) -> WhyNot {
        let together = || WhyNot::Together(vec![wish.clone()]);
        match wish {
            Asked::WholeAtTop(id) => {
                let rises = self.job.surface(id).into_iter().flat_map(|surface| &surface.top);
                let rises: BTreeSet<Length> = rises.map(|reading| reading.rise).collect();
                let by =
                    rises.last().copied().unwrap_or_default() - rises.first().copied().unwrap_or_default();
                if by > Length::ZERO { WhyNot::OutOfLevel { asked: wish.clone(), by } } else { together() }
            }
            Asked::WholeAtBase(id) => {
                let fall = self.job.surface(id).map_or(Length::ZERO, |surface| self.fall(&[surface]));
                if fall > Length::ZERO { WhyNot::BaseFalls { asked: wish.clone(), fall } } else { together() }
            }
            Asked::NoScribe => {
                let lines = course::lines(self.job).into_iter();
                let fall = lines.map(|mut walls| {
                    // Nothing is propped on a surface given by its outline.
                    walls.retain(|wall| wall.outline.is_none());
                    self.fall(&walls)
                });
                let (fall, hidden) =
                    (fall.max().unwrap_or_default(), self.job.base_gap_max - self.job.gaps.base);
                if fall > hidden { WhyNot::Falls { asked: wish.clone(), fall, hidden } } else { together() }
            }
            Asked::JointAt { .. } | Asked::NoCutUnder(_) => together(),
        }
    }

    /// From the highest to the lowest place of the carrying base of these walls.
    fn fall(&self, walls: &[&Surface]) -> Length {
        high_and_low(self.job, walls).map(|(high, low)| high - low).unwrap_or_default()
    }

    /// The joints at which both wishes about heights would hold: with the courses laid for the one, so much wider or
    /// narrower that a course comes to where the other wants it.
    fn needed_joints(&self, one: &Asked, other: &Asked, looking: &mut Looking<'_>) -> Vec<Length> {
        if !(one.is_of_heights() && other.is_of_heights()) {
            return Vec::new();
        }
        let joint = self.job.chosen_joint();
        let alone = Wishes { job: self.job, asked: std::slice::from_ref(one) };
        let Some(Frame { courses, .. }) = alone.frames_with(joint, 1, looking).into_iter().next() else {
            return Vec::new();
        };
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
    let starts: BTreeSet<Length> = courses.iter().filter_map(start).collect();
    starts.into_iter().collect()
}

/// A length as reasons write it.
pub(super) fn mm(length: Length) -> String {
    format!("{:.1} mm", length.to_mm())
}

#[cfg(test)]
#[path = "why_not_tests.rs"]
mod tests;
