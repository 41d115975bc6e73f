//! Everything about a layout but its starts, the most promising first: the joint, the course lines, propped or
//! scribed, and which way the steps climb.

use std::collections::{BTreeMap, BTreeSet};

use super::course_lines::course_choices;
use super::looks::facing;
use super::propose::starts_for_itself;
use super::{Reach, joint_candidates};
use crate::course::{self, Courses, WallCourses, lines};
use crate::measure::{Fraction, Job, Layout, Length, Pattern, SurfaceId};

/// A layout without starts, besides those that the lead chose, and its courses.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Frame {
    pub(super) layout: Layout,
    pub(super) courses: Courses,
}

/// All that were made, and whether these are all there are.
pub(super) struct Frames {
    pub(super) frames: Vec<Frame>,
    pub(super) reach: Reach,
}

/// Ways to lay the courses with the job's own joint.
const MOST_COURSES: usize = 8;

/// The best so many ways to lay the courses are also tried with steps that climb the other way.
const MOST_CLIMBED: usize = 2;

/// Joints tried besides the job's own, and ways to lay the courses with each.
const MOST_JOINTS: usize = 6;
const MOST_COURSES_OF_A_JOINT: usize = 2;

/// What is left open of `chosen`, filled in every way worth looking at. The first is what is usual. What hangs on
/// something that the lead chose is not varied: the joint where a start or a course line is chosen, and the way a
/// step climbs where a start is.
pub(super) fn frames(job: &Job, chosen: &Layout, most: usize) -> Frames {
    let mut made = Frames { frames: Vec::new(), reach: Reach::All };
    let climbs = climbs(job, chosen);
    let joints = joints(job, chosen);
    // Other climbs and joints are tried with the best courses alone.
    if climbs.len() > 1 || joints.len() > 1 {
        made.reach = Reach::Searched;
    }
    for (number, joint) in joints.into_iter().enumerate() {
        let most = if number == 0 { MOST_COURSES } else { MOST_COURSES_OF_A_JOINT };
        let base = Layout { joint: Some(joint), ..chosen.clone() };
        let ways = ways_to_lay(job, &base, most, &|_| true);
        if ways.len() >= most || lines(job).len() > 1 {
            made.reach = Reach::Searched;
        }
        for (rank, layout) in ways.into_iter().enumerate() {
            let Ok(courses) = course::lay(job, &layout) else { continue };
            let climbs = if number == 0 && rank < MOST_CLIMBED { &climbs[..] } else { &climbs[..1] };
            made.frames.extend(climbs.iter().map(|climb| {
                let mut layout = layout.clone();
                layout.mirror.extend(climb.clone());
                Frame { layout, courses: courses.clone() }
            }));
        }
    }
    if made.frames.len() > most {
        made.frames.truncate(most);
        made.reach = Reach::Searched;
    }
    made
}

/// The course lines of all level lines, as far as `keep` agrees: of one the best few, of several the best of each and
/// then one line at a time otherwise.
pub(super) fn ways_to_lay(
    job: &Job,
    layout: &Layout,
    most: usize,
    keep: &dyn Fn(&BTreeMap<SurfaceId, WallCourses>) -> bool,
) -> Vec<Layout> {
    let by_line: Vec<Vec<Layout>> =
        lines(job).iter().map(|walls| course_choices(job, layout, walls, most, keep)).collect();
    let mut best = layout.clone();
    for choices in by_line.iter() {
        choices.first().into_iter().for_each(|choice| take_courses(&mut best, layout, choice));
    }
    let mut ways = vec![best.clone()];
    for choices in &by_line {
        for choice in choices.iter().skip(1) {
            let mut way = best.clone();
            take_courses(&mut way, layout, choice);
            ways.push(way);
        }
    }
    ways
}

/// Takes over what a choice adds to the layout that it was made from.
fn take_courses(into: &mut Layout, base: &Layout, choice: &Layout) {
    let is_new = |id: &SurfaceId| !base.course_line.contains_key(id);
    let lines = choice.course_line.iter().filter(|(id, _)| is_new(id));
    into.course_line.extend(lines.map(|(id, line)| (id.clone(), *line)));
    let begun = choice.first_course.iter().filter(|(id, _)| !base.first_course.contains_key(*id));
    into.first_course.extend(begun.map(|(id, way)| (id.clone(), *way)));
}

/// Whether the lead has left nothing open.
pub(super) fn is_decided(job: &Job, chosen: &Layout) -> bool {
    job.surfaces.iter().all(|surface| {
        let mut bands = surface.bands.iter().enumerate();
        chosen.course_line.contains_key(&surface.id)
            && chosen.starts.contains_key(&surface.id)
            && bands.all(|(place, band)| {
                !starts_for_itself(job, chosen, surface, place, band)
                    || chosen.band_starts.contains_key(&(surface.id.clone(), place))
            })
    })
}

/// The joints to try, the usual one first.
pub(super) fn joints(job: &Job, chosen: &Layout) -> Vec<Length> {
    let usual = chosen.joint.unwrap_or_else(|| job.chosen_joint());
    let is_tied = chosen.joint.is_some()
        || !(chosen.starts.is_empty() && chosen.band_starts.is_empty() && chosen.course_line.is_empty());
    let (least, most) = job.joint_range;
    if is_tied || least == most {
        return vec![usual];
    }
    joint_candidates(job, usual).into_iter().take(1 + MOST_JOINTS).collect()
}

/// Which way the steps climb, the file's way first: then one of each two facing walls turned, then all turned.
fn climbs(job: &Job, chosen: &Layout) -> Vec<BTreeMap<SurfaceId, bool>> {
    let free: BTreeMap<SurfaceId, bool> = job
        .surfaces
        .iter()
        .filter(|surface| {
            !chosen.mirror.contains_key(&surface.id) && !chosen.starts.contains_key(&surface.id)
        })
        .filter_map(|surface| Some((surface.id.clone(), !climbs_left(&surface.pattern)?)))
        .collect();
    let facing: BTreeSet<&SurfaceId> =
        facing(job).into_iter().filter_map(|(_, right)| job.surfaces.get(right)).map(|s| &s.id).collect();
    let of_pairs: BTreeMap<SurfaceId, bool> =
        free.iter().filter(|(id, _)| facing.contains(id)).map(|(id, mirror)| (id.clone(), *mirror)).collect();
    let mut climbs = vec![BTreeMap::new()];
    for turned in [of_pairs, free] {
        if !climbs.contains(&turned) {
            climbs.push(turned);
        }
    }
    climbs
}

/// Whether the step climbs to the left; `None` where that makes no difference.
fn climbs_left(pattern: &Pattern) -> Option<bool> {
    let is_even = |step: &Fraction| step.numerator() * 2 % step.denominator() == 0;
    match pattern {
        Pattern::Running { step, mirror } if !is_even(step) => Some(*mirror),
        Pattern::Running { .. } | Pattern::Straight | Pattern::Cycle { .. } => None,
    }
}
