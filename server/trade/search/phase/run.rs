//! What one start sets: the rows of a wall, or of a band that starts for itself, and where they end.

use std::collections::{BTreeMap, BTreeSet};

use super::segments::{Segment, segments};
use crate::course::{Course, WallCourses, past_centre, pattern_on};
use crate::measure::{Job, Layout, Length, Role, Surface, SurfaceId, TileId};
use crate::place::SMALLEST_PIECE;
use crate::search::propose::starts_for_itself;

/// A kind of tile as it lies; offcuts never cross from one to another.
pub(super) type Kind = (TileId, bool);

/// Whose start it is: a surface's, or that of one of its bands.
pub(super) type Key = (SurfaceId, Option<usize>);

/// All runs whose pieces may come from each other's tiles. They have one tile width and one pitch.
pub(super) struct Group {
    pub(super) tile: i64,
    pub(super) pitch: i64,
    /// The narrowest strip that is a piece: just over a joint's width, and at least the smallest piece.
    pub(super) least_piece: i64,
    /// What two pieces of one tile measure at most: the tile less the kerf.
    pub(super) reach: i64,
    /// For each kind of tile in the group, whether it is never turned.
    pub(super) directional: Vec<bool>,
    pub(super) runs: Vec<Run>,
    pub(super) facing: Vec<Facing>,
}

/// The rows of one start.
#[derive(Clone)]
pub(super) struct Run {
    pub(super) key: Key,
    /// The lead's own choice.
    pub(super) fixed: Option<i64>,
    /// Narrower than this where it shows is a sliver.
    pub(super) least: i64,
    pub(super) rows: Vec<Row>,
    pub(super) openings: Vec<Beside>,
    /// Which of the wall's two ends are open: bare or trimmed.
    pub(super) open: [bool; 2],
}

/// All stretches of courses that lie alike.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Row {
    /// Index into [`Group::directional`].
    pub(super) kind: usize,
    pub(super) left: End,
    pub(super) right: End,
    /// From end to end.
    pub(super) room: i64,
    /// What the two ends do not show is so many pitches, if together they are at most `rest` over two least pieces;
    /// else one less.
    pub(super) slots: i64,
    pub(super) rest: i64,
    pub(super) count: i64,
}

/// One end of a row. The tile there reaches `(±start + at) mod pitch` and one least piece into the row, plus at a
/// left end and minus at a right.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct End {
    pub(super) at: i64,
    /// How much of it a neighbour's tile hides.
    pub(super) hidden: i64,
    pub(super) edge: Edge,
    /// The end of the wall, not an opening or a step.
    pub(super) of_wall: bool,
}

impl Row {
    pub(super) const fn ends(&self) -> [End; 2] {
        [self.left, self.right]
    }
}

/// What may be seen at an end.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Edge {
    /// A cut edge is hidden.
    Covered,
    /// A cut edge must be dressed.
    Dressed,
    /// A cut edge shows.
    Shown,
}

/// An opening beside a course.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Beside {
    /// `(at - start) mod pitch` is how far its left side lies right of where a tile begins; `width` farther, its
    /// right side.
    pub(super) at: i64,
    pub(super) width: i64,
    /// From the row's left end to the left side, and from the right side to the row's right end.
    pub(super) clear: [i64; 2],
    /// Whether it has upright sides, which may lie on joints.
    pub(super) has_sides: bool,
    /// Thinner legs and webs than these are slivers.
    pub(super) thinnest_leg: i64,
    pub(super) thinnest_web: i64,
    /// What it leaves of the course's height.
    pub(super) leaves: Leaves,
    pub(super) count: i64,
}

/// What an opening leaves of a course above and below itself.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Leaves {
    /// Nothing: the row ends there.
    Nothing,
    /// A strip above or below; whether it is thinner than a leg may be.
    Leg { thin: bool },
    /// Strips above and below, as of a hole in a tile; whether one is thinner than a leg, and than a web, may be.
    Hole { thin_leg: bool, thin_web: bool },
}

/// Two walls that face each other: the one is open at its left end and the other at its right.
pub(super) struct Facing {
    pub(super) runs: [usize; 2],
    /// The rows at the left and the right end of the one and of the other, and how many courses have these.
    pub(super) rows: Vec<(AtEnds, AtEnds, i64)>,
}

/// The rows at a wall's left and right end in one course.
pub(super) type AtEnds = [Option<usize>; 2];

/// Every run of a job in groups. What the courses leave out has no rows.
pub(super) fn groups(job: &Job, layout: &Layout, walls: &BTreeMap<SurfaceId, WallCourses>) -> Vec<Group> {
    let mut drafts: Vec<Draft> = Vec::new();
    for surface in &job.surfaces {
        let own = |place: usize, band| starts_for_itself(job, layout, surface, place, band);
        let bands = surface.bands.iter().enumerate();
        let keys: BTreeSet<Option<usize>> =
            bands.map(|(place, band)| own(place, band).then_some(place)).collect();
        for band in keys {
            drafts.extend(Draft::of(job, layout, surface, walls.get(&surface.id), band));
        }
    }
    let mut parted: Vec<(BTreeSet<Kind>, Vec<Draft>)> = Vec::new();
    for draft in drafts {
        let (mut kinds, mut together) = (draft.kinds.clone(), vec![draft]);
        for (others, drafts) in std::mem::take(&mut parted) {
            if kinds.is_disjoint(&others) {
                parted.push((others, drafts));
            } else {
                kinds.extend(others);
                together.splice(0..0, drafts);
            }
        }
        parted.push((kinds, together));
    }
    parted.into_iter().map(|(kinds, drafts)| group(job, layout, &kinds, drafts)).collect()
}

fn group(job: &Job, layout: &Layout, kinds: &BTreeSet<Kind>, drafts: Vec<Draft>) -> Group {
    let joint = job.joint_in(layout).units();
    let tile = drafts.first().map_or(Length::mm(1), |draft| draft.tile).units();
    let directional = kinds.iter().map(|(id, _)| job.tiles.get(id).is_some_and(|tile| tile.directional));
    let facing = facing(job, &drafts);
    let kind_of = |kind: &Kind| kinds.iter().position(|known| known == kind).unwrap_or(0);
    Group {
        tile,
        pitch: tile + joint,
        least_piece: least_piece(joint),
        reach: tile - (job.kerf + job.spare).units(),
        directional: directional.collect(),
        runs: drafts.into_iter().map(|draft| draft.run(kind_of)).collect(),
        facing,
    }
}

/// A run before its kinds of tile have numbers.
struct Draft {
    run: Run,
    tile: Length,
    kinds: BTreeSet<Kind>,
    /// The kind of each row.
    kind_of_row: Vec<Kind>,
    /// For each course the row at the wall's left end and the one at its right.
    ends_of_course: BTreeMap<u32, AtEnds>,
}

impl Draft {
    fn of(
        job: &Job,
        layout: &Layout,
        surface: &Surface,
        wall: Option<&WallCourses>,
        band: Option<usize>,
    ) -> Option<Self> {
        let is_ours = |place: usize| match (band, surface.bands.get(place)) {
            (_, None) => false,
            (Some(ours), Some(_)) => ours == place,
            (None, Some(other)) => !starts_for_itself(job, layout, surface, place, other),
        };
        let first =
            surface.bands.iter().enumerate().find(|(place, _)| is_ours(*place)).map(|(_, band)| band)?;
        let tile = job.laid_size(&first.tile, first.upright)?.width;
        let joint = job.joint_in(layout);
        let pitch = tile + joint;
        let pattern = pattern_on(layout, surface, first);
        let half = (tile - joint).half();
        let asked = job.smallest_cut.filter(|_| !first.is_strip()).map_or(half, |least| least.width);
        let fixed = match band {
            Some(place) => layout.band_starts.get(&(surface.id.clone(), place)),
            None => layout.starts.get(&surface.id),
        };
        let is_open = |role: Role| matches!(role, Role::Bare | Role::Trim);
        let mut draft = Self {
            run: Run {
                key: (surface.id.clone(), band),
                fixed: fixed.map(|start| start.modulo(pitch).units()),
                least: asked.units(),
                rows: Vec::new(),
                openings: Vec::new(),
                open: [is_open(surface.edges.left), is_open(surface.edges.right)],
            },
            tile,
            kinds: BTreeSet::new(),
            kind_of_row: Vec::new(),
            ends_of_course: BTreeMap::new(),
        };
        for (_, ours) in surface.bands.iter().enumerate().filter(|(place, _)| is_ours(*place)) {
            draft.kinds.insert((ours.tile.clone(), ours.upright));
        }
        let Some(wall) = wall else { return Some(draft) };
        let ours: Vec<&Course> = wall.courses.iter().filter(|course| is_ours(course.band)).collect();
        let counted_from = match (band, ours.first()) {
            (Some(_), Some(course)) => i64::from(course.number),
            _ => 1,
        };
        let mut openings: BTreeMap<Beside, i64> = BTreeMap::new();
        for course in ours {
            let number = i64::from(course.number) - counted_from + 1;
            // Where the tile begins whose left joint is at 0.
            let begins = (past_centre(joint) + pattern.shift(number, pitch)).units();
            let kind = surface
                .bands
                .get(course.band)
                .map_or((course.tile.clone(), false), |b| (b.tile.clone(), b.upright));
            let met = segments(job, surface, wall, course);
            for segment in &met.segments {
                draft.take(segment, course, &kind, begins, pitch.units(), joint.units());
            }
            for beside in met.openings {
                let beside = Beside { at: (beside.at - begins).rem_euclid(pitch.units()), ..beside };
                *openings.entry(beside).or_default() += 1;
            }
        }
        draft.run.openings = openings.into_iter().map(|(beside, count)| Beside { count, ..beside }).collect();
        Some(draft)
    }

    /// Adds a stretch of one course to the row that lies like it.
    fn take(&mut self, segment: &Segment, course: &Course, kind: &Kind, begins: i64, pitch: i64, joint: i64) {
        let (room, least) = (segment.right.x - segment.left.x, least_piece(joint));
        if room < least {
            return;
        }
        let between = room - joint - 2 * least;
        let row = Row {
            kind: 0,
            left: End { at: (begins - segment.left.x - joint - least).rem_euclid(pitch), ..segment.left.end },
            right: End { at: (segment.right.x - begins - least).rem_euclid(pitch), ..segment.right.end },
            room,
            slots: between.div_euclid(pitch),
            rest: between.rem_euclid(pitch),
            count: 1,
        };
        let same = |(at, known): (usize, &Row)| {
            let known = Row { count: 1, ..*known };
            (known == row && self.kind_of_row[at] == *kind).then_some(at)
        };
        let at = self.run.rows.iter().enumerate().find_map(same).unwrap_or_else(|| {
            self.run.rows.push(Row { count: 0, ..row });
            self.kind_of_row.push(kind.clone());
            self.run.rows.len() - 1
        });
        self.run.rows[at].count += 1;
        let ends = self.ends_of_course.entry(course.number).or_default();
        if row.left.of_wall {
            ends[0] = Some(at);
        }
        if row.right.of_wall {
            ends[1] = Some(at);
        }
    }

    fn run(mut self, kind_of: impl Fn(&Kind) -> usize) -> Run {
        for (row, kind) in self.run.rows.iter_mut().zip(&self.kind_of_row) {
            row.kind = kind_of(kind);
        }
        self.run
    }
}

/// The narrowest strip that is a piece: up to a joint's width counts as joint.
fn least_piece(joint: i64) -> i64 {
    SMALLEST_PIECE.units().max(joint + 1)
}

/// A wall open at its left end alone faces the first one of the same level line and bands that is open at its right end
/// alone. Only their fields are compared, course by course.
fn facing(job: &Job, drafts: &[Draft]) -> Vec<Facing> {
    let surface = |draft: &Draft| job.surface(&draft.run.key.0);
    let open_at = |draft: &Draft, ends: [bool; 2]| draft.run.key.1.is_none() && draft.run.open == ends;
    let mut found: Vec<Facing> = Vec::new();
    for (at, one) in drafts.iter().enumerate().filter(|(_, draft)| open_at(draft, [true, false])) {
        let is_alike = |other: &Draft| match (surface(one), surface(other)) {
            (Some(one), Some(other)) => one.line == other.line && one.bands == other.bands,
            _ => false,
        };
        let is_free = |place: &usize| found.iter().all(|facing| facing.runs[1] != *place);
        let mut others = drafts.iter().enumerate();
        let Some((place, other)) =
            others.find(|(place, other)| is_free(place) && open_at(other, [false, true]) && is_alike(other))
        else {
            continue;
        };
        let mut rows: BTreeMap<(AtEnds, AtEnds), i64> = BTreeMap::new();
        for (number, ends) in &one.ends_of_course {
            if let Some(others) = other.ends_of_course.get(number) {
                *rows.entry((*ends, *others)).or_default() += 1;
            }
        }
        let rows = rows.into_iter().map(|((one, other), count)| (one, other, count)).collect();
        found.push(Facing { runs: [at, place], rows });
    }
    found
}
