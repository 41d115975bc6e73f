//! Starts worth trying on a surface given by its outline, whose rows of tile begin and end where its sides say.
//!
//! As on a wall, something about the cuts changes only where an end is whole, just wide enough, or equal to another
//! that changes the other way, and those starts are tried.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::starts::upright_edges;
use crate::course::{Course, past_centre, pattern_on};
use crate::geometry::{Rect, Side};
use crate::measure::{Job, Layout, Length, Outline, Surface};

/// With more runs than this, cuts are matched within a run only.
const MOST_PAIRED: usize = 16;

/// x of the centre of an upright joint in course 1, from 0 up to tile + joint, the best first; empty when the
/// surface has no known tile.
///
/// Judged are, in this order: whole tiles at bare sides, cuts under a fifth of the tile, slivers, the least cut,
/// equal ends, edges of openings on joints; with the sources named at [`super::ranked_starts`].
pub(super) fn ranked(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    outline: &Outline,
    courses: &[Course],
) -> Vec<Length> {
    let Some(rows) = Rows::of(job, layout, surface, outline, courses) else { return Vec::new() };
    let ranked: BTreeSet<(Score, Length)> =
        rows.candidates().into_iter().map(|start| (rows.score(start), start)).collect();
    ranked.into_iter().map(|(_, start)| start).collect()
}

/// Every stretch of tile from one side of the outline to another, and the tile laid in it.
struct Rows {
    tile: Length,
    joint: Length,
    kerf: Length,
    least_cut: Length,
    /// Each with how many courses have it.
    runs: BTreeMap<Run, usize>,
    /// Shift of a course, and x where tile must end, and begin again, at an opening beside it.
    openings: Vec<(Length, Length, Length)>,
}

/// A stretch of tile along a course.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Run {
    shift: Length,
    left: Length,
    right: Length,
    bare: [bool; 2],
}

/// What a start comes to; the least is the best.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Score {
    not_flush_at_bare: usize,
    under_a_fifth: usize,
    slivers: usize,
    least_cut: Reverse<Length>,
    unequal: Length,
    opening_edges_on_joints: Reverse<usize>,
}

/// The piece at one end of a run: how wide, and whether a factory edge lies exactly where tile ends.
#[derive(Clone, Copy)]
struct End {
    width: Length,
    is_flush: bool,
}

impl Rows {
    fn of(
        job: &Job,
        layout: &Layout,
        surface: &Surface,
        outline: &Outline,
        courses: &[Course],
    ) -> Option<Self> {
        let band = surface.bands.first()?;
        let tile = job.laid_size(&band.tile, band.upright)?.width;
        let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
        let pattern = pattern_on(layout, surface, band);
        let room = outline.room(&job.gaps);
        let is_bare = |faces: Side, x: Length, y: Length| {
            outline.sides().iter().any(|side| {
                let spans = side.from.y.min(side.to.y) < y && y < side.from.y.max(side.to.y);
                side.faces() == faces && side.at() == x && spans && !side.role.allows_cut()
            })
        };
        let (mut runs, mut openings) = (BTreeMap::new(), Vec::new());
        for course in courses {
            let shift = pattern.shift(i64::from(course.number), tile + joint);
            let in_course: BTreeSet<Run> = stretches(&room, course)
                .into_iter()
                .map(|at| {
                    let middle = (at.bottom + at.top).half();
                    let bare = [is_bare(Side::Left, at.left, middle), is_bare(Side::Right, at.right, middle)];
                    Run { shift, left: at.left, right: at.right, bare }
                })
                .collect();
            in_course.into_iter().for_each(|run| *runs.entry(run).or_default() += 1);
            openings.extend(
                upright_edges(surface, course).into_iter().map(|(ends, begins)| (shift, ends, begins)),
            );
        }
        let least_cut = job.smallest_cut.map_or(tile.half(), |least| least.width);
        Some(Self { tile, joint, kerf: job.kerf + job.spare, least_cut, runs, openings })
    }

    fn pitch(&self) -> Length {
        self.tile + self.joint
    }

    fn ends(&self, start: Length, run: &Run) -> [End; 2] {
        let room = run.right - run.left;
        let offset = (start + past_centre(self.joint) + run.shift - run.left).modulo(self.pitch());
        let whole = |is_flush: bool| End { width: self.tile, is_flush };
        let cut = |width: Length| End { width, is_flush: false };
        // Up to a joint's width beside a whole tile is no piece.
        let left =
            if offset <= self.joint { whole(offset == Length::ZERO) } else { cut(offset - self.joint) };
        if room <= left.width {
            return [End { width: room, ..left }, End { width: room, is_flush: left.width == room }];
        }
        let right = match (room - offset).modulo(self.pitch()) {
            Length::ZERO => whole(false),
            rest if rest >= self.tile => whole(rest == self.tile),
            rest => cut(rest),
        };
        [left, right]
    }

    /// The starts at which something about the cuts changes.
    fn candidates(&self) -> BTreeSet<Length> {
        let (pitch, joint) = (self.pitch(), self.joint);
        let mut starts = BTreeSet::from([Length::ZERO]);
        for run in self.runs.keys() {
            let room = run.right - run.left;
            let mut offsets = vec![
                Length::ZERO,
                joint,
                room,
                room - self.tile,
                self.least_cut + joint,
                room - self.least_cut,
            ];
            let paired = self.runs.len() <= MOST_PAIRED;
            for other in self.runs.keys().filter(|other| paired || *other == run) {
                // How far right of its own left end the other's first tile begins, less how far this one's does.
                let apart = other.shift - other.left - run.shift + run.left;
                let other_room = other.right - other.left;
                let doubled = [
                    other_room + joint - apart,
                    self.tile - self.kerf + joint * 2 - apart,
                    room + other_room - apart + self.kerf - self.tile,
                ];
                let halved = doubled.map(|twice| twice.modulo(pitch));
                offsets.extend(halved.iter().flat_map(|twice| [twice.half(), (*twice + pitch).half()]));
            }
            let start = |offset: Length| (offset + run.left - past_centre(joint) - run.shift).modulo(pitch);
            starts.extend(offsets.into_iter().map(start));
        }
        for (shift, ends, begins) in &self.openings {
            let start = |tile_begins: Length| (tile_begins - past_centre(joint) - *shift).modulo(pitch);
            starts.extend([start(*ends - self.tile), start(*begins)]);
        }
        starts
    }

    fn score(&self, start: Length) -> Score {
        let mut score = Score {
            not_flush_at_bare: 0,
            under_a_fifth: 0,
            slivers: 0,
            least_cut: Reverse(self.tile),
            unequal: Length::ZERO,
            opening_edges_on_joints: Reverse(0),
        };
        for (run, &courses) in &self.runs {
            let ends = self.ends(start, run);
            for (end, bare) in ends.iter().zip(run.bare) {
                if bare && !end.is_flush {
                    score.not_flush_at_bare += courses;
                }
                // The half tile of a half bond is half a tile less half a joint.
                if end.width + self.joint < self.least_cut {
                    score.slivers += courses;
                    score.under_a_fifth += if end.width * 5 < self.tile { courses } else { 0 };
                }
                score.least_cut = score.least_cut.max(Reverse(end.width));
            }
            if run.bare == [false, false] {
                let [left, right] = ends;
                let courses = i64::try_from(courses).unwrap_or(1);
                score.unequal += (left.width - right.width).abs() * courses;
            }
        }
        let begins_at = |shift: &Length| start + past_centre(self.joint) + *shift;
        let on_joints = self.openings.iter().map(|(shift, ends, begins)| {
            usize::from((*ends - begins_at(shift)).modulo(self.pitch()) == self.tile)
                + usize::from((*begins - begins_at(shift)).modulo(self.pitch()) == Length::ZERO)
        });
        score.opening_edges_on_joints.0 = on_joints.sum();
        score
    }
}

/// Where a course has tile from one side to another, between each two heights at which that changes.
fn stretches(room: &[Rect], course: &Course) -> Vec<Rect> {
    let course =
        |part: &Rect| Rect { bottom: part.bottom.max(course.bottom), top: part.top.min(course.top), ..*part };
    let parts: Vec<Rect> = room.iter().map(course).filter(|part| !part.is_empty()).collect();
    let heights: BTreeSet<Length> = parts.iter().flat_map(|part| [part.bottom, part.top]).collect();
    let heights: Vec<Length> = heights.into_iter().collect();
    let mut found: Vec<Rect> = Vec::new();
    for pair in heights.windows(2) {
        let [bottom, top] = *pair else { continue };
        let mut across: Vec<Rect> = parts
            .iter()
            .filter(|part| part.bottom <= bottom && top <= part.top)
            .map(|part| Rect { bottom, top, ..*part })
            .collect();
        across.sort_by_key(|part| part.left);
        for part in across {
            match found.last_mut() {
                Some(last) if last.bottom == bottom && last.right == part.left => last.right = part.right,
                _ => found.push(part),
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::course::sample::{field, id, job, mm};
    use crate::geometry::Point;
    use crate::measure::{BandHeight, Covered, LineId, OutlineKind, Pattern, Role};
    use crate::search;

    /// A floor through these points, in tiles of 598 by 298.
    fn floor(points: &[(i64, i64)], roles: &[Role]) -> Surface {
        let points: Vec<Point> = points.iter().map(|&(x, y)| Point::new(mm(x), mm(y))).collect();
        let outline = Outline::new(OutlineKind::Floor, &points, roles).expect("an outline");
        Surface {
            id: id("floor"),
            name: "bath floor".to_owned(),
            line: LineId::of(&id("floor")),
            width: outline.bounds().width(),
            base: vec![outline.base()],
            top: vec![outline.top()],
            edges: outline.edges(),
            outline: Some(outline),
            covered: Covered::default(),
            openings: Vec::new(),
            bands: vec![field("wall", BandHeight::Fill)],
            pattern: Pattern::Straight,
            top_may_move: Length::ZERO,
        }
    }

    #[test]
    fn a_floor_is_set_out_with_equal_cuts_at_both_walls() {
        let job = job(vec![floor(&[(-700, 50), (1000, 50), (1000, 1250), (-700, 1250)], &[Role::Corner; 4])]);
        let option = search::plan(&job).expect("can be laid");
        let widths: Vec<Length> = option
            .pieces
            .iter()
            .filter(|piece| piece.course == 1)
            .map(|piece| piece.bounds.width())
            .collect();
        // 1694 mm between the gaps: 598 and 3 twice, and 247 at each end.
        let cut = mm(247);
        let halves = (mm(1694) - mm(3)).half();
        assert!(
            widths == [halves, halves] || widths.first() == widths.last() && widths[0] >= cut,
            "{widths:?}"
        );
        let slivers: Vec<_> = option.pieces.iter().filter_map(|piece| piece.sliver).collect();
        assert_eq!(slivers, []);
        assert_eq!(option.pieces.iter().map(|piece| piece.bounds.left).min(), Some(mm(-697)));
        assert_eq!(option.pieces.iter().map(|piece| piece.bounds.bottom).min(), Some(mm(53)));
        assert!(option.layout.first_course.is_empty(), "nothing is propped on a floor");
        assert_eq!(search::plan(&Job { layout: Some(option.layout.clone()), ..job }), Ok(option));
    }

    #[test]
    fn a_wall_round_a_reveal_keeps_whole_tiles_at_its_bare_side() {
        let points = [(0, 0), (900, 0), (900, 1300), (400, 1300), (400, 700), (0, 700)];
        let roles = [Role::Base, Role::Bare, Role::Corner, Role::Corner, Role::Corner, Role::Corner];
        let option = search::plan(&job(vec![floor(&points, &roles)])).expect("can be laid");
        let at_bare = option.pieces.iter().filter(|piece| piece.bounds.right == mm(900));
        assert!(at_bare.clone().count() > 3);
        assert!(at_bare.clone().all(|piece| piece.shows.is_empty() && piece.factory.has(Side::Right)));
        let notched = option.pieces.iter().filter(|piece| piece.outline.len() == 6);
        assert_eq!(notched.count(), 1, "one tile goes round the corner that juts in");
    }
}
