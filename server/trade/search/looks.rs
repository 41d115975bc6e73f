//! What the eye sees first: whether the ends of the rows are equal, whether facing walls mirror each other, and how
//! many edges of openings lie on joints.

use std::collections::BTreeMap;

use super::course_lines::level_edges;
use super::propose::starts_for_itself;
use crate::course::WallCourses;
use crate::measure::{Job, Layout, Length, Opening, OpeningShape, Role, Surface};
use crate::place::Piece;

/// How far ends are from equal: a sum, and over how many rows.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(super) struct Unequal {
    sum: Length,
    rows: i64,
}

/// The two ends of one row, as wide as they show; a whole tile counts as its own width.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Row {
    /// The band that its start belongs to; `None` for the field.
    start_of: Option<usize>,
    course: u32,
    whole: Length,
    left: Length,
    right: Length,
}

/// Which of a wall's ends are open: cut edges are wanted at the others.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Open {
    None,
    Left,
    Right,
    Both,
}

impl Unequal {
    pub(super) fn and(self, other: Self) -> Self {
        Self { sum: self.sum + other.sum, rows: self.rows + other.rows }
    }

    /// For one row, on average.
    pub(super) fn average(self) -> Length {
        Length::from_units(self.sum.units() / self.rows.max(1))
    }

    fn add(&mut self, difference: Length) {
        self.sum += difference;
        self.rows += 1;
    }
}

/// The rows of one wall from its pieces.
pub(super) fn rows<'p>(
    job: &Job,
    layout: &Layout,
    surface: &Surface,
    pieces: impl Iterator<Item = &'p Piece>,
) -> Vec<Row> {
    let mut ends: BTreeMap<(u32, usize), (&Piece, &Piece)> = BTreeMap::new();
    for piece in pieces {
        let (left, right) = ends.entry((piece.course, piece.band)).or_insert((piece, piece));
        if piece.bounds.left < left.bounds.left {
            *left = piece;
        }
        if piece.bounds.right > right.bounds.right {
            *right = piece;
        }
    }
    let shows = |piece: &Piece, whole: Length| {
        let left = piece.bounds.left.max(surface.covered.left);
        let right = piece.bounds.right.min(surface.width - surface.covered.right);
        if piece.bounds.width() == whole { whole } else { (right - left).max(Length::ZERO) }
    };
    let row = |((course, place), (left, right)): ((u32, usize), (&Piece, &Piece))| {
        let band = surface.bands.get(place)?;
        let whole = job.laid_size(&band.tile, band.upright)?.width;
        let own_start = starts_for_itself(job, layout, surface, place, band);
        let (left, right) = (shows(left, whole), shows(right, whole));
        Some(Row { start_of: own_start.then_some(place), course, whole, left, right })
    };
    ends.into_iter().filter_map(row).collect()
}

/// How far the rows of one wall are from what is wanted at their ends: between two corners equal cuts, left and
/// right (of rows that take turns, each with its counterpart); at an open end a whole tile, with the cuts in the
/// corner.
pub(super) fn unequal(surface: &Surface, rows: &[Row]) -> Unequal {
    let mut unequal = Unequal::default();
    match open(surface) {
        Open::Left => rows.iter().for_each(|row| unequal.add(row.whole - row.left)),
        Open::Right => rows.iter().for_each(|row| unequal.add(row.whole - row.right)),
        Open::Both => rows.iter().for_each(|row| unequal.add(row.whole * 2 - row.left - row.right)),
        Open::None => {
            let mut ends: BTreeMap<Option<usize>, [Vec<Length>; 2]> = BTreeMap::new();
            for row in rows {
                let [left, right] = ends.entry(row.start_of).or_default();
                left.push(row.left);
                right.push(row.right);
            }
            for [mut left, mut right] in ends.into_values() {
                left.sort_unstable();
                right.sort_unstable();
                left.iter().zip(&right).for_each(|(left, right)| unequal.add((*left - *right).abs()));
            }
        }
    }
    unequal
}

/// Walls that face each other across a room, as places among the job's surfaces: of one level line and laid alike,
/// one open at its left end alone and one at its right end alone.
pub(super) fn facing(job: &Job) -> Vec<(usize, usize)> {
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    for (left, one) in job.surfaces.iter().enumerate() {
        let mirrors = |other: &&(usize, &Surface)| {
            open(other.1) == Open::Right && other.1.line == one.line && other.1.bands == one.bands
        };
        let free = |(place, _): &(usize, &Surface)| pairs.iter().all(|(_, taken)| taken != place);
        let found = job.surfaces.iter().enumerate().filter(free).find(|other| mirrors(&other));
        if let (Open::Left, Some((right, _))) = (open(one), found) {
            pairs.push((left, right));
        }
    }
    pairs
}

/// How far the rows of two facing walls are from mirroring each other, at the open end and in the corner.
pub(super) fn unlike(open_at_left: &[Row], open_at_right: &[Row]) -> Unequal {
    let mut unlike = Unequal::default();
    for one in open_at_left {
        let same_row = |other: &&Row| (other.course, other.start_of) == (one.course, one.start_of);
        if let Some(other) = open_at_right.iter().find(same_row) {
            unlike.add((one.left - other.right).abs() + (one.right - other.left).abs());
        }
    }
    unlike
}

/// How many edges of a wall's rectangular openings lie on joints: each level edge once, each upright one once for
/// every course beside it.
pub(super) fn opening_edges_on_joints<'p>(
    surface: &Surface,
    courses: &WallCourses,
    pieces: impl Iterator<Item = &'p Piece> + Clone,
) -> usize {
    let on_joints = surface.openings.iter().map(|opening| {
        let OpeningShape::Rectangle { x, y, width, height } = opening.shape else { return 0 };
        let clear = opening.clearance;
        let (left, right) = (x - clear, x + width + clear);
        let beside = |piece: &Piece| piece.bounds.bottom < y + height + clear && y - clear < piece.bounds.top;
        let upright = pieces.clone().filter(|piece| beside(piece)).map(|piece| {
            usize::from(piece.bounds.right == left && piece.cell.right == left)
                + usize::from(piece.bounds.left == right && piece.cell.left == right)
        });
        level_edges_on_joints(opening, courses) + upright.sum::<usize>()
    });
    on_joints.sum()
}

/// How many of an opening's two level edges lie on an edge of a whole course.
pub(super) fn level_edges_on_joints(opening: &Opening, wall: &WallCourses) -> usize {
    let Some((lower, upper)) = level_edges(opening) else { return 0 };
    let field = || wall.courses.iter().filter(|course| !course.strip);
    usize::from(field().any(|course| course.top == lower))
        + usize::from(field().any(|course| course.bottom == upper))
}

fn open(surface: &Surface) -> Open {
    let is_open = |role| match role {
        Role::Bare | Role::Trim => true,
        Role::Corner | Role::Mitre | Role::Base | Role::Ceiling | Role::Hidden => false,
    };
    match (is_open(surface.edges.left), is_open(surface.edges.right)) {
        (false, false) => Open::None,
        (true, false) => Open::Left,
        (false, true) => Open::Right,
        (true, true) => Open::Both,
    }
}
