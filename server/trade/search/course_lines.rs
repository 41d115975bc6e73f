//! Which course lines are worth proposing for the walls of one level line, the best first.
//!
//! As the course line rises, each first cut grows and each last cut shrinks at the same rate until it is a whole
//! tile. So the best line is one where some cut is whole, just wide enough, or equal to another that changes the
//! other way, where a strip is at an end or the middle of its range, or where an opening's edge is on a joint.
//! Those lines are tried, none between them.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::front::{Cost, front, thinned};
use super::looks::level_edges_on_joints;
use super::work_out::largest_gap;
use crate::course::{CourseFault, EndPlace, WallCourses, high_and_low, lay_line, past_centre};
use crate::geometry::Side;
use crate::measure::{
    Band, FirstCourse, Job, Layout, Length, Opening, OpeningShape, Outline, Surface, SurfaceId,
};

/// Beyond this many lines (walls with very many readings) the remaining pairs of cuts are not tried, so that a
/// proposal takes well under a second.
const MOST_LINES: usize = 2000;

/// The course lines worth trying on `walls`, which share a level line: y of the centre of a joint, the best
/// first. `layout` says what is chosen already: the joint, propped or scribed; its own course lines for these
/// walls are not looked at. Empty when no line can be laid.
///
/// Judged are, over all walls together and in this order: strips out of their range and props too high; level bare
/// sides of an outline that lie on no joint; cuts under a fifth of the tile (the least that
/// idodiy.co.uk/23/11/2011/how-to-set-out-tiles allows); slivers (cuts lower than the smallest cut: usually none is
/// smaller than half a tile, ANSI A108.02 4.3.2 as quoted by CTEF at fcimag.com/articles/94659); thin parts above and
/// below openings; the number of cut courses; the least cut; openings' edges on joints; and, among equals, walls propped
/// rather than scribed (common practice).
pub fn ranked_course_lines(job: &Job, layout: &Layout, walls: &[&Surface]) -> Vec<Length> {
    let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
    let mut ranked = BTreeMap::new();
    for line in candidates(job, joint, walls) {
        if let Ok((score, laid)) = judged(job, &on_line(layout, walls, line), walls) {
            let line = lowest_joint(walls, &laid).unwrap_or(line);
            ranked.entry((score, line)).or_insert(line);
        }
    }
    let mut seen = BTreeSet::new();
    ranked.into_values().filter(|line| seen.insert(*line)).collect()
}

/// The ways to lay the courses of `walls`, which share a level line, that no other beats in everything that is judged
/// of courses, at most `most` of them, the best first. Each is `layout` with a course line for every wall and whether
/// it is propped or scribed. What `layout` says of these walls stays; where it says nothing of how they begin, all
/// are tried as is usual, all propped and all scribed. Only ways that `keep` agrees to count.
pub(super) fn course_choices(
    job: &Job,
    layout: &Layout,
    walls: &[&Surface],
    most: usize,
    keep: &dyn Fn(&BTreeMap<SurfaceId, WallCourses>) -> bool,
) -> Vec<Layout> {
    let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
    let given = walls.iter().find_map(|wall| layout.course_line.get(&wall.id)).copied();
    let lines = given.map_or_else(|| candidates(job, joint, walls), |line| BTreeSet::from([line]));
    // A line that was chosen was chosen for how the walls begin on it.
    let ways: &[_] = match given {
        Some(_) => &[None],
        None => &[None, Some(FirstCourse::Propped), Some(FirstCourse::Scribed)],
    };
    let mut choices = Vec::new();
    for way in ways {
        for line in &lines {
            let mut tried = layout.clone();
            for wall in walls {
                tried.course_line.entry(wall.id.clone()).or_insert(*line);
                // Nothing is propped on a surface given by its outline.
                if let (Some(way), None) = (way, &wall.outline) {
                    tried.first_course.entry(wall.id.clone()).or_insert(*way);
                }
            }
            let Ok((score, laid)) = judged(job, &tried, walls) else { continue };
            if !keep(&laid) {
                continue;
            }
            if given.is_none() {
                tried = on_line(&tried, walls, lowest_joint(walls, &laid).unwrap_or(*line));
            }
            let begun = walls.iter().filter(|wall| wall.outline.is_none());
            let begun = begun.filter_map(|wall| Some((wall.id.clone(), laid.get(&wall.id)?.first_course)));
            tried.first_course.extend(begun);
            choices.push((score.flags, (score.cost(largest_gap(laid.values())), tried)));
        }
    }
    // What asks for a gap that nothing hides, or a strip out of its range, is no choice beside what does not.
    let fewest = choices.iter().map(|(flags, _)| *flags).min();
    let choices =
        choices.into_iter().filter(|(flags, _)| Some(*flags) == fewest).map(|(_, choice)| choice).collect();
    thinned(front(choices), most).into_iter().map(|(_, layout)| layout).collect()
}

/// The layout with one course line for all of the walls.
fn on_line(layout: &Layout, walls: &[&Surface], line: Length) -> Layout {
    let mut layout = layout.clone();
    layout.course_line.extend(walls.iter().map(|wall| (wall.id.clone(), line)));
    layout
}

fn judged(
    job: &Job,
    layout: &Layout,
    walls: &[&Surface],
) -> Result<(Score, BTreeMap<SurfaceId, WallCourses>), CourseFault> {
    let laid = lay_line(job, layout, walls)?;
    Ok((Score::of(job, walls, &laid), laid))
}

/// What a course line comes to; the least is the best.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Score {
    flags: usize,
    cut_at_bare: usize,
    under_a_fifth: usize,
    slivers: usize,
    thin_at_openings: usize,
    cut_courses: usize,
    least_cut: Reverse<Length>,
    opening_edges_on_joints: Reverse<usize>,
    scribed: usize,
}

impl Score {
    fn of(job: &Job, walls: &[&Surface], laid: &BTreeMap<SurfaceId, WallCourses>) -> Self {
        let mut score = Self {
            flags: 0,
            cut_at_bare: 0,
            under_a_fifth: 0,
            slivers: 0,
            thin_at_openings: 0,
            cut_courses: 0,
            least_cut: Reverse(Length::from_units(i64::MAX)),
            opening_edges_on_joints: Reverse(0),
            scribed: 0,
        };
        for surface in walls {
            if let Some(wall) = laid.get(&surface.id) {
                score.add(job, surface, wall);
            }
        }
        score
    }

    /// With the largest gap at the base, to find what no other beats.
    fn cost(&self, gap: Length) -> Cost {
        let count = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
        Cost::new([
            count(self.flags + self.cut_at_bare),
            count(self.under_a_fifth),
            count(self.slivers + self.thin_at_openings),
            count(self.cut_courses),
            -self.least_cut.0.units(),
            -count(self.opening_edges_on_joints.0),
            count(self.scribed),
            gap.units(),
        ])
    }

    fn add(&mut self, job: &Job, surface: &Surface, wall: &WallCourses) {
        let mut cut_courses = BTreeSet::new();
        let mut slivers = BTreeSet::new();
        let mut under_a_fifth = BTreeSet::new();
        for end in wall.ends() {
            let is_cut = end.kept < end.whole;
            let in_course = (end.bottom, end.place);
            if is_cut {
                cut_courses.insert(in_course);
            }
            if is_cut && end.kept < least_height(job, end.whole) {
                slivers.insert(in_course);
                if end.kept * 5 < end.whole {
                    under_a_fifth.insert(in_course);
                }
            }
            // The top of a wall that ends on a whole course, or a strip there, is no cut.
            if is_cut || end.place != EndPlace::Top {
                self.least_cut = self.least_cut.max(Reverse(end.kept));
            }
        }
        self.flags += wall.flags.len();
        self.cut_at_bare += wall.cut_at_bare();
        self.under_a_fifth += under_a_fifth.len();
        self.slivers += slivers.len();
        self.thin_at_openings += thin_at_openings(job, surface, wall);
        self.cut_courses += cut_courses.len();
        self.scribed += usize::from(wall.first_course == FirstCourse::Scribed);
        let on_joints =
            surface.openings.iter().map(|opening| level_edges_on_joints(opening, wall)).sum::<usize>();
        self.opening_edges_on_joints.0 += on_joints;
    }
}

/// How many level edges of rectangular openings leave so little of a course that it may break.
fn thin_at_openings(job: &Job, surface: &Surface, wall: &WallCourses) -> usize {
    let is_thin = |left: Length| Length::ZERO < left && left < job.thinnest_leg;
    let thin = surface.openings.iter().filter_map(level_edges).map(|(lower, upper)| {
        let below = wall.courses.iter().any(|course| lower < course.top && is_thin(lower - course.bottom));
        let above = wall.courses.iter().any(|course| course.bottom < upper && is_thin(course.top - upper));
        usize::from(below) + usize::from(above)
    });
    thin.sum()
}

/// The least height of a cut that is no sliver.
fn least_height(job: &Job, whole: Length) -> Length {
    job.smallest_cut.map_or(whole.half(), |least| least.height)
}

/// Where tile must end below an opening and begin above it.
pub(super) fn level_edges(opening: &Opening) -> Option<(Length, Length)> {
    match opening.shape {
        OpeningShape::Rectangle { y, height, .. } => {
            Some((y - opening.clearance, y + height + opening.clearance))
        }
        OpeningShape::Circle { .. } => None,
    }
}

/// The centre of the lowest joint between two field courses of the first wall: the line to write down, so that
/// the same courses always have the same name. Where the walls have different bands, a joint of one may be none
/// of the other, and the line stays as it was found.
fn lowest_joint(walls: &[&Surface], laid: &BTreeMap<SurfaceId, WallCourses>) -> Option<Length> {
    let first = walls.first()?;
    if walls.iter().any(|wall| wall.bands != first.bands) {
        return None;
    }
    let lowest = laid.values().filter_map(|wall| {
        wall.courses.windows(2).find_map(|pair| match pair {
            [below, above] if !below.strip && !above.strip && below.band == above.band => {
                Some(above.bottom - past_centre(above.bottom - below.top))
            }
            _ => None,
        })
    });
    lowest.min()
}

/// The lines at which something about the cuts changes.
fn candidates(job: &Job, joint: Length, walls: &[&Surface]) -> BTreeSet<Length> {
    let below = |bottom: Length| bottom - past_centre(joint);
    let above = |top: Length| below(top + joint);
    let mut lines = BTreeSet::new();
    let Ok((seat, low)) = high_and_low(job, walls) else { return lines };
    let mut feet = BTreeSet::from([seat, low]);
    let mut heads = BTreeSet::new();
    for surface in walls {
        for side in surface.outline.iter().flat_map(Outline::sides) {
            match side.faces() {
                Side::Bottom => feet.insert(side.at() + job.gaps.at(side.role)),
                Side::Top => heads.insert(side.at() - job.gaps.at(side.role)),
                Side::Left | Side::Right => continue,
            };
        }
        if surface.outline.is_some() {
            continue;
        }
        let base_gap = job.gaps.at(surface.edges.base);
        let top_gap = job.gaps.at(surface.edges.top);
        feet.extend(surface.base.iter().map(|reading| base_gap - reading.drop));
        heads.extend(surface.top.iter().map(|reading| reading.rise - top_gap));
    }
    for surface in walls {
        let fields: Vec<Length> = surface.bands.iter().filter_map(|b| field_height(job, b)).collect();
        if let Some(height) = fields.first() {
            lines.extend(feet.iter().map(|foot| below(*foot)));
            lines.extend(feet.iter().map(|foot| above(*foot + least_height(job, *height))));
        }
        if let Some(height) = fields.last() {
            lines.extend(heads.iter().map(|head| above(*head)));
            lines.extend(heads.iter().map(|head| below(*head - least_height(job, *height))));
        }
        for (lower, upper) in surface.openings.iter().filter_map(level_edges) {
            lines.extend([above(lower), below(upper)]);
            lines.extend([below(lower - job.thinnest_leg), above(upper + job.thinnest_leg)]);
        }
        lines.extend(strip_lines(job, surface, joint));
    }
    for surface in walls {
        for line in equal_cuts(job, surface, joint, &feet, &heads) {
            if lines.len() >= MOST_LINES {
                return lines;
            }
            lines.insert(line);
        }
    }
    lines
}

/// Lines that put a strip at either end or in the middle of its range.
fn strip_lines(job: &Job, surface: &Surface, joint: Length) -> Vec<Length> {
    let mut lines = Vec::new();
    for pair in surface.bands.windows(2) {
        let [below, strip] = pair else { continue };
        if let (Some(height), Some((lowest, highest))) = (field_height(job, below), strip.bottom_between) {
            let under_strip = below.joint_above.unwrap_or(joint);
            let line = |bottom: Length| bottom - under_strip - height - past_centre(joint);
            lines.extend([lowest, highest, (lowest + highest).half()].map(line));
        }
    }
    lines
}

/// Lines that make a first cut and a last cut, on this wall or on two, equally high.
fn equal_cuts<'a>(
    job: &Job,
    surface: &Surface,
    joint: Length,
    feet: &'a BTreeSet<Length>,
    heads: &'a BTreeSet<Length>,
) -> impl Iterator<Item = Length> + 'a {
    let height = surface.bands.iter().find_map(|band| field_height(job, band)).unwrap_or_default();
    let pitch = height + joint;
    // What lies between the lowest courses and the highest besides whole pitches.
    let between: Length = surface
        .bands
        .iter()
        .map(|band| {
            let above = band.joint_above.unwrap_or(joint);
            match job.laid_size(&band.tile, band.upright) {
                Some(size) if band.is_strip() => size.height + above,
                _ => above - joint,
            }
        })
        .sum::<Length>()
        - surface.bands.last().and_then(|band| band.joint_above).map_or(Length::ZERO, |above| above - joint);
    feet.iter().flat_map(move |foot| {
        heads.iter().flat_map(move |head| {
            let rest = (*head - *foot - joint - between).modulo(pitch);
            [rest.half(), (rest + pitch).half()].map(|cut| *foot + cut + joint - past_centre(joint))
        })
    })
}

/// The height of a field band's tile as it lies.
fn field_height(job: &Job, band: &Band) -> Option<Length> {
    let size = job.laid_size(&band.tile, band.upright)?;
    (!band.is_strip()).then_some(size.height)
}
