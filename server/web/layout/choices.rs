//! What the lead may choose by hand, each with what it gives.

use std::collections::BTreeMap;

use trade::course::{self, WallCourses};
use trade::measure::{Job, Layout, Length, Pattern, Surface, SurfaceId};
use trade::place::{self, Piece};
use trade::search::{ranked_course_lines, ranked_starts};

use crate::work::Planned;

/// As many proposals as a person weighs against each other.
pub const PROPOSALS: usize = 3;

/// Lines worked out, since some read the same on the tape.
const LINES_TRIED: usize = 8;

/// Every choice of a job.
#[derive(Debug, Default)]
pub struct Choices {
    /// Course lines, the best first.
    pub lines: Vec<LineChoice>,
    /// Starts, by wall.
    pub starts: BTreeMap<SurfaceId, Vec<StartChoice>>,
}

/// One course line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LineChoice {
    /// y of the centre of a joint, in the first line's frame.
    pub line: Length,
    pub gives: Heights,
    /// It is the one in force.
    pub in_force: bool,
}

/// The heights of the first and the last course, over all walls.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Heights {
    pub first: Span,
    pub last: Span,
}

/// From the least to the greatest, beside a whole tile.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Span {
    pub least: Length,
    pub most: Length,
    pub whole: Length,
}

/// One start of one wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StartChoice {
    /// At least one.
    pub kinds: Vec<StartKind>,
    /// x of the centre of an upright joint in course 1.
    pub start: Length,
    pub gives: Ends,
    pub in_force: bool,
}

/// Why a start is offered.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum StartKind {
    /// Among the best found, 1 the best.
    Proposed(usize),
    /// The nearest to the left that is no worse, so far away.
    NextLeft(Length),
    /// The nearest to the right.
    NextRight(Length),
    JointCentred,
    TileCentred,
    WholeAtLeft,
    WholeAtRight,
    QuarterLeft,
    QuarterRight,
}

/// What a start comes to on its wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ends {
    /// Widths of the first and the last piece of the lowest course.
    pub lowest: Option<(Length, Length)>,
    pub narrowest: Option<Length>,
    pub slivers: usize,
}

impl Choices {
    /// Everything that may be chosen beside what is planned. A second of arithmetic at most: not for the request
    /// threads.
    pub fn of(planned: &Planned) -> Self {
        let Planned { job, option, .. } = planned;
        let mut starts = BTreeMap::new();
        for surface in &job.surfaces {
            if let Some(courses) = option.courses.walls.get(&surface.id) {
                starts.insert(surface.id.clone(), start_choices(job, &option.layout, surface, courses));
            }
        }
        Self { lines: line_choices(planned), starts }
    }
}

/// The best lines for what is chosen already, whatever line that is; one of each outcome.
fn line_choices(planned: &Planned) -> Vec<LineChoice> {
    let Planned { job, option, .. } = planned;
    let chosen = job.layout.clone().unwrap_or_default();
    let walls: Vec<&Surface> = job.surfaces.iter().collect();
    let now = heights(job, &option.courses.walls);
    let mut lines: Vec<LineChoice> = Vec::new();
    for line in ranked_course_lines(job, &chosen, &walls) {
        let course_line = walls.iter().map(|wall| (wall.id.clone(), line)).collect();
        let tried = Layout { course_line, joint: option.layout.joint, ..chosen.clone() };
        let Ok(courses) = course::lay(job, &tried) else { continue };
        let Some(gives) = heights(job, &courses.walls) else { continue };
        if lines.iter().all(|choice| choice.gives != gives) {
            lines.push(LineChoice { line, in_force: now.as_ref() == Some(&gives), gives });
        }
        if lines.len() == LINES_TRIED {
            break;
        }
    }
    lines
}

fn heights(job: &Job, walls: &BTreeMap<SurfaceId, WallCourses>) -> Option<Heights> {
    let (mut first, mut last) = (None, None);
    for (id, wall) in walls {
        let mut field = wall.courses.iter().filter(|course| !course.strip);
        let lowest = field.next()?;
        let highest = field.next_back().unwrap_or(lowest);
        for station in wall.stations.iter().filter(|station| station.carries) {
            Span::widen(&mut first, station.cut_height, lowest.top - lowest.bottom);
        }
        let width = job.surface(id).map(|surface| surface.width).unwrap_or_default();
        let head = wall.head(Length::ZERO, width);
        for top in [head.left.y, head.right.y] {
            Span::widen(&mut last, top.min(highest.top) - highest.bottom, highest.top - highest.bottom);
        }
    }
    Some(Heights { first: first?, last: last? })
}

impl Span {
    fn widen(span: &mut Option<Self>, height: Length, whole: Length) {
        let span = span.get_or_insert(Self { least: height, most: height, whole });
        span.least = span.least.min(height);
        span.most = span.most.max(height);
    }
}

fn start_choices(job: &Job, layout: &Layout, surface: &Surface, courses: &WallCourses) -> Vec<StartChoice> {
    let Some(pitch) = pitch(job, layout, surface) else { return Vec::new() };
    let now = layout.starts.get(&surface.id).copied().unwrap_or_default();
    let choice = |kind, start: Length| {
        let start = start.modulo(pitch);
        let gives = ends(job, layout, surface, courses, start);
        StartChoice { kinds: vec![kind], start, gives, in_force: start == now.modulo(pitch) }
    };
    let mut choices: Vec<StartChoice> = Vec::new();
    let ranked = ranked_starts(job, layout, surface, &courses.courses, None);
    let next = next_starts(&ranked, now, pitch, |start| ends(job, layout, surface, courses, start));
    for start in ranked {
        let proposed = choice(StartKind::Proposed(choices.len() + 1), start);
        if choices.iter().all(|other| other.gives != proposed.gives) {
            choices.push(proposed);
        }
        if choices.len() == PROPOSALS {
            break;
        }
    }
    for (kind, start) in next.into_iter().chain(usual_starts(job, layout, surface, now, pitch)) {
        match choices.iter_mut().find(|choice| choice.start == start.modulo(pitch)) {
            Some(same) => same.kinds.push(kind),
            None => choices.push(choice(kind, start)),
        }
    }
    choices
}

/// Candidates tried on each side for one that is no worse than what is there.
const TRIED_ON_A_SIDE: usize = 6;

/// The nearest candidates to the left and to the right whose cuts are no narrower and slivers no more than now: where
/// a joint put by hand snaps to.
fn next_starts(
    ranked: &[Length],
    now: Length,
    pitch: Length,
    gives: impl Fn(Length) -> Ends,
) -> Vec<(StartKind, Length)> {
    let is = gives(now);
    let no_worse = |start: Length| {
        let other = gives(start);
        let wide = |ends: &Ends| ends.narrowest.unwrap_or(pitch);
        other != is && other.slivers <= is.slivers && wide(&other) >= wide(&is)
    };
    let nearest = |away: &dyn Fn(Length) -> Length| {
        let mut distances: Vec<(Length, Length)> =
            ranked.iter().map(|start| (away(*start).modulo(pitch), *start)).collect();
        distances.retain(|(distance, _)| *distance > Length::ZERO);
        distances.sort_unstable();
        distances.into_iter().take(TRIED_ON_A_SIDE).find(|(_, start)| no_worse(*start))
    };
    let left = nearest(&|start| now - start).map(|(away, start)| (StartKind::NextLeft(away), start));
    let right = nearest(&|start| start - now).map(|(away, start)| (StartKind::NextRight(away), start));
    left.into_iter().chain(right).collect()
}

/// Where a setter would try to start, whatever comes of it.
fn usual_starts(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    now: Length,
    pitch: Length,
) -> impl Iterator<Item = (StartKind, Length)> + use<> {
    let joint = job.joint_in(layout);
    let (left, right) = (job.gaps.at(surface.edges.left), surface.width - job.gaps.at(surface.edges.right));
    // What a neighbour's tile will cover is not seen, so the middle is that of the rest.
    let shown = (left.max(surface.covered.left), right.min(surface.width - surface.covered.right));
    let middle = (shown.0 + shown.1).half();
    let past_centre = joint - joint.half();
    let quarter = Length::from_units(pitch.units() / 4);
    [
        (StartKind::JointCentred, middle),
        (StartKind::TileCentred, middle + pitch.half()),
        (StartKind::WholeAtLeft, left - past_centre),
        (StartKind::WholeAtRight, right + joint.half()),
        (StartKind::QuarterLeft, now - quarter),
        (StartKind::QuarterRight, now + quarter),
    ]
    .into_iter()
}

/// Tile and joint of the wall's field.
pub fn pitch(job: &Job, layout: &Layout, surface: &Surface) -> Option<Length> {
    let field = surface.bands.iter().find(|band| !band.is_strip())?;
    let size = job.laid_size(&field.tile, field.upright)?;
    Some(size.width + job.joint_in(layout))
}

fn ends(job: &Job, layout: &Layout, surface: &Surface, courses: &WallCourses, start: Length) -> Ends {
    let mut layout = layout.clone();
    layout.starts.insert(surface.id.clone(), start);
    let pieces = place::pieces(job, surface, &courses.courses, &layout, courses).pieces;
    let lowest = courses.courses.iter().find(|course| !course.strip).map(|course| course.number);
    let row = || pieces.iter().filter(|piece| Some(piece.course) == lowest);
    let first = row().min_by_key(|piece| piece.bounds.left);
    let last = row().max_by_key(|piece| piece.bounds.right);
    Ends {
        lowest: first.zip(last).map(|(first, last)| (first.bounds.width(), last.bounds.width())),
        narrowest: pieces.iter().filter_map(Piece::least_cut_side).min(),
        slivers: pieces.iter().filter(|piece| piece.sliver.is_some()).count(),
    }
}

/// Whether the courses of a wall climb to the left as measured; `None` where they do not step.
pub fn steps(surface: &Surface) -> Option<bool> {
    match surface.pattern {
        Pattern::Running { mirror, .. } => Some(mirror),
        Pattern::Straight | Pattern::Cycle { .. } => None,
    }
}
