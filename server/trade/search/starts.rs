//! Which starts are worth proposing for one surface or one of its bands, the best first.
//!
//! As the start moves right, every left cut grows and every right cut shrinks at the same rate until it is a
//! whole tile. So the best start is one where an end is whole, just wide enough or equal to another that changes
//! the other way (a joint or a tile centred among them), where two cuts just come from one tile, or where an
//! opening's edge is on a joint. Those starts are tried, none between them.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use super::outline_starts;
use super::propose::starts_for_itself;
use crate::course::{Course, past_centre, pattern_on};
use crate::measure::{Band, Job, Layout, Length, OpeningShape, Role, Surface};

/// With more different rows than this, pairs of cuts are matched within a row only.
const MOST_PAIRED_ROWS: usize = 12;

/// The starts worth trying on `surface`, whose courses are laid: x of the centre of an upright joint in course
/// 1, from 0 up to tile + joint, the best first. `band` is a band that starts for itself (a strip, another width,
/// its own pattern, or because the lead gave it a start), whose steps are counted from its own first course;
/// `None` is the field. Empty when there is no such tile.
///
/// Judged are, in this order: whole tiles at bare ends, where no cut may show; cuts under a fifth of the tile
/// (the least that idodiy.co.uk/23/11/2011/how-to-set-out-tiles allows); slivers, usually what is under half a
/// tile (ANSI A108.02 4.3.2 as quoted by CTEF at fcimag.com/articles/94659), where the half tile of a half bond,
/// which is half a joint less than half, is none; whole tiles at trimmed ends; the least cut as it shows beside
/// what a neighbour covers; equal ends where both may be cut; openings' edges on joints.
pub fn ranked_starts(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    courses: &[Course],
    band: Option<usize>,
) -> Vec<Length> {
    if let Some(outline) = &surface.outline {
        return outline_starts::ranked(job, layout, surface, outline, courses);
    }
    let Some(run) = Run::of(job, layout, surface, courses, band) else { return Vec::new() };
    let ranked: BTreeSet<(Score, Length)> =
        run.candidates().into_iter().map(|start| (Score::of(&run, start), start)).collect();
    ranked.into_iter().map(|(_, start)| start).collect()
}

/// The rows that one start sets, and the room they have.
struct Run {
    tile: Length,
    joint: Length,
    kerf: Length,
    least_cut: Length,
    /// x of the first and the last place of tile.
    left: Length,
    right: Length,
    ends: [Edge; 2],
    rows: Vec<Row>,
}

/// One end of the wall.
#[derive(Clone, Copy)]
struct Edge {
    role: Role,
    /// How much of the tile there a neighbour's will hide.
    hidden: Length,
}

/// All courses with the same joints.
struct Row {
    shift: Length,
    courses: usize,
    /// x where tile must end, and x where it must begin again, at the openings beside each of the courses.
    opening_edges: Vec<(Length, Length)>,
}

/// The piece at one end of a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct End {
    width: Length,
    is_cut: bool,
    /// A factory edge lies exactly where tile ends.
    is_flush: bool,
}

/// What a start comes to; the least is the best.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Score {
    not_flush_at_bare: usize,
    under_a_fifth: usize,
    slivers: usize,
    not_flush_at_trim: usize,
    least_cut: Reverse<Length>,
    unequal: Length,
    opening_edges_on_joints: Reverse<usize>,
}

impl Run {
    fn of(
        job: &Job,
        layout: &Layout,
        surface: &Surface,
        courses: &[Course],
        band: Option<usize>,
    ) -> Option<Self> {
        let is_ours = |place: usize, candidate: &Band| match band {
            Some(ours) => ours == place,
            None => !starts_for_itself(job, layout, surface, place, candidate),
        };
        let (_, first) = surface.bands.iter().enumerate().find(|(place, band)| is_ours(*place, band))?;
        let tile = job.laid_size(&first.tile, first.upright)?.width;
        let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
        let pattern = pattern_on(layout, surface, first);
        let mut rows: BTreeMap<Length, Row> = BTreeMap::new();
        let ours = |course: &&Course| surface.bands.get(course.band).is_some_and(|b| is_ours(course.band, b));
        let first_course = courses.iter().find(ours).map_or(1, |course| i64::from(course.number));
        let counted_from = if band.is_some() { first_course } else { 1 };
        for course in courses.iter().filter(ours) {
            let number = i64::from(course.number) - counted_from + 1;
            let shift = pattern.shift(number, tile + joint);
            let row =
                rows.entry(shift).or_insert_with(|| Row { shift, courses: 0, opening_edges: Vec::new() });
            row.courses += 1;
            row.opening_edges.extend(upright_edges(surface, course));
        }
        if rows.is_empty() {
            rows.insert(Length::ZERO, Row { shift: Length::ZERO, courses: 1, opening_edges: Vec::new() });
        }
        let left = job.gaps.at(surface.edges.left);
        let right = job.gaps.at(surface.edges.right);
        // A strip is smaller than any field cut, so only half of it can be asked for.
        let asked = job.smallest_cut.filter(|_| !first.is_strip());
        let hidden = |covered: Length, gap: Length| (covered - gap).max(Length::ZERO);
        Some(Self {
            tile,
            joint,
            kerf: job.kerf + job.spare,
            least_cut: asked.map_or(tile.half(), |least| least.width),
            left,
            right: surface.width - right,
            ends: [
                Edge { role: surface.edges.left, hidden: hidden(surface.covered.left, left) },
                Edge { role: surface.edges.right, hidden: hidden(surface.covered.right, right) },
            ],
            rows: rows.into_values().collect(),
        })
    }

    fn pitch(&self) -> Length {
        self.tile + self.joint
    }

    fn room(&self) -> Length {
        (self.right - self.left).max(Length::ZERO)
    }

    /// How far right of the room's left side the row's first whole tile begins.
    fn offset(&self, start: Length, row: &Row) -> Length {
        (start + past_centre(self.joint) + row.shift - self.left).modulo(self.pitch())
    }

    /// The pieces at both ends of a row.
    fn ends(&self, start: Length, row: &Row) -> [End; 2] {
        let (room, offset) = (self.room(), self.offset(start, row));
        let whole = |is_flush: bool| End { width: self.tile, is_cut: false, is_flush };
        let cut = |width: Length| End { width, is_cut: true, is_flush: false };
        // Up to a joint's width beside a whole tile is no piece.
        let left =
            if offset <= self.joint { whole(offset == Length::ZERO) } else { cut(offset - self.joint) };
        if room <= left.width {
            // One piece from end to end, whose factory edges are where the whole tile's are.
            let alone = End { width: room, is_cut: room < self.tile, ..left };
            return [alone, End { is_flush: left.width == room, ..alone }];
        }
        let rest = (room - offset).modulo(self.pitch());
        let right = match rest {
            Length::ZERO => whole(false),
            rest if rest >= self.tile => whole(rest == self.tile),
            rest => cut(rest),
        };
        [left, right]
    }

    /// The starts at which something about the cuts changes.
    fn candidates(&self) -> BTreeSet<Length> {
        let (room, pitch, joint) = (self.room(), self.pitch(), self.joint);
        let [left, right] = self.ends.map(|edge| edge.hidden);
        let mut starts = BTreeSet::new();
        for (place, row) in self.rows.iter().enumerate() {
            let mut offsets = vec![
                Length::ZERO,
                joint,
                room,
                room - self.tile,
                self.least_cut + left + joint,
                room - self.least_cut - right,
            ];
            for (ends_at, begins_at) in &row.opening_edges {
                offsets.extend([*ends_at - self.tile - self.left, *begins_at - self.left]);
            }
            let mut others = self.rows.iter().enumerate();
            let paired =
                others.by_ref().filter(|(other, _)| self.rows.len() <= MOST_PAIRED_ROWS || *other == place);
            for (_, other) in paired {
                let apart = other.shift - row.shift;
                let doubled = [
                    room + joint + left - right - apart,
                    self.tile - self.kerf + joint * 2 - apart,
                    room * 2 - apart + self.kerf - self.tile,
                ];
                offsets.extend(
                    doubled
                        .iter()
                        .map(|twice| twice.modulo(pitch))
                        .flat_map(|twice| [twice.half(), (twice + pitch).half()]),
                );
            }
            let start = |offset: Length| (offset + self.left - past_centre(joint) - row.shift).modulo(pitch);
            starts.extend(offsets.into_iter().map(start));
        }
        starts
    }
}

impl Score {
    fn of(run: &Run, start: Length) -> Self {
        let mut score = Self {
            not_flush_at_bare: 0,
            under_a_fifth: 0,
            slivers: 0,
            not_flush_at_trim: 0,
            least_cut: Reverse(run.tile),
            unequal: Length::ZERO,
            opening_edges_on_joints: Reverse(0),
        };
        let mut shown: [Vec<Length>; 2] = [Vec::new(), Vec::new()];
        for row in &run.rows {
            for ((end, edge), shown) in run.ends(start, row).iter().zip(&run.ends).zip(&mut shown) {
                let shows = score.add(run, row.courses, *end, *edge);
                shown.extend(std::iter::repeat_n(shows, row.courses));
            }
            score.opening_edges_on_joints.0 += run.edges_on_joints(start, row);
        }
        let open = |edge: &Edge| matches!(edge.role, Role::Bare | Role::Trim);
        if !run.ends.iter().any(open) {
            shown.iter_mut().for_each(|widths| widths.sort());
            let [left, right] = &shown;
            score.unequal = left.iter().zip(right).map(|(left, right)| (*left - *right).abs()).sum();
        }
        score
    }

    /// Counts one end of a row of so many courses, and says how wide it shows.
    fn add(&mut self, run: &Run, courses: usize, end: End, edge: Edge) -> Length {
        match edge.role {
            Role::Bare if !end.is_flush => self.not_flush_at_bare += courses,
            Role::Trim if !end.is_flush => self.not_flush_at_trim += courses,
            Role::Bare
            | Role::Trim
            | Role::Corner
            | Role::Base
            | Role::Ceiling
            | Role::Mitre
            | Role::Hidden => (),
        }
        if !end.is_cut {
            return run.tile;
        }
        let shows = (end.width - edge.hidden).max(Length::ZERO);
        // The half tile of a half bond is half a tile less half a joint.
        if shows + run.joint < run.least_cut {
            self.slivers += courses;
            if shows * 5 < run.tile {
                self.under_a_fifth += courses;
            }
        }
        self.least_cut = self.least_cut.max(Reverse(shows));
        shows
    }
}

impl Run {
    /// How many upright edges of openings lie on an edge of a whole tile.
    fn edges_on_joints(&self, start: Length, row: &Row) -> usize {
        let tile_begins = start + past_centre(self.joint) + row.shift;
        let on_joint = |(ends_at, begins_at): &(Length, Length)| {
            usize::from((*ends_at - tile_begins).modulo(self.pitch()) == self.tile)
                + usize::from((*begins_at - tile_begins).modulo(self.pitch()) == Length::ZERO)
        };
        row.opening_edges.iter().map(on_joint).sum()
    }
}

/// Where tile must end left of each rectangular opening that the course meets, and begin again right of it.
pub(super) fn upright_edges(surface: &Surface, course: &Course) -> Vec<(Length, Length)> {
    let meets = |opening: &crate::measure::Opening| match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            let clear = opening.clearance;
            (course.bottom < y + height + clear && y - clear < course.top)
                .then_some((x - clear, x + width + clear))
        }
        OpeningShape::Circle { .. } => None,
    };
    surface.openings.iter().filter_map(meets).collect()
}
