//! What starts come to, from the tiles themselves: every tile of every course is laid, clipped to the wall and to the
//! openings, and the pieces are counted. Shares nothing with the search.

use std::collections::BTreeMap;

use crate::course::{Courses, WallCourses};
use crate::measure::{Job, Layout, Length, OpeningShape, Role, Surface, SurfaceId};

/// The figures of a layout.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct ByHand {
    pub(super) tiles: usize,
    pub(super) row_end_tiles: usize,
    pub(super) narrowest: Length,
    pub(super) cuts: usize,
    pub(super) slivers: usize,
    pub(super) unequal: Length,
    pub(super) shown: usize,
    pub(super) dressed: usize,
    pub(super) on_joints: usize,
}

/// A part of a tile on the wall.
#[derive(Clone, Copy, Debug)]
struct Piece {
    from: Length,
    to: Length,
    tile: (Length, Length),
}

/// All pieces of one course between two ends.
struct Stretch {
    ends: (Length, Length),
    pieces: Vec<Piece>,
}

const FAR: Length = Length::mm(1_000_000);

pub(super) fn by_hand(job: &Job, layout: &Layout, courses: &Courses) -> ByHand {
    let mut all = ByHand {
        tiles: 0,
        row_end_tiles: 0,
        narrowest: FAR,
        cuts: 0,
        slivers: 0,
        unequal: Length::ZERO,
        shown: 0,
        dressed: 0,
        on_joints: 0,
    };
    let mut cut: Vec<(Length, bool)> = Vec::new();
    let mut in_corner: BTreeMap<&SurfaceId, BTreeMap<u32, [Option<Length>; 2]>> = BTreeMap::new();
    for surface in &job.surfaces {
        let wall = &courses.walls[&surface.id];
        let tile = job.tiles[&surface.bands[0].tile].width;
        let joint = job.joint_in(layout);
        let (left, right) = reach(job, surface);
        let mut shown: [Vec<Length>; 2] = [Vec::new(), Vec::new()];
        let mut off_flush = [Length::ZERO; 2];
        for course in &wall.courses {
            let shift = surface.pattern.shift(i64::from(course.number), tile + joint);
            let first = layout.starts[&surface.id] + joint - joint.half() + shift;
            let walls: Vec<_> = blocked(surface, wall, (course.bottom, course.top));
            for stretch in stretches((left, right), &walls) {
                let stretch = lay(stretch, first, tile, joint);
                if stretch.ends.1 - stretch.ends.0 <= joint || stretch.ends.1 - stretch.ends.0 < Length::mm(1)
                {
                    continue;
                }
                let alone = stretch.pieces.len() == 1;
                for piece in &stretch.pieces {
                    let width = piece.to - piece.from;
                    if width == tile {
                        all.tiles += 1;
                        continue;
                    }
                    all.cuts += 1;
                    all.narrowest = all.narrowest.min(width);
                    cut.push((width, piece.tile.0 < piece.from && !alone));
                    let side = usize::from(piece.tile.0 == piece.from);
                    let shows = seen(surface, (left, right), piece, alone, side);
                    let least = job.smallest_cut.map_or((tile - joint).half(), |least| least.width);
                    all.slivers += usize::from(Length::ZERO < shows && shows < least);
                }
                let part_alone = alone && stretch.pieces[0].to - stretch.pieces[0].from < tile;
                let ends = [stretch.pieces.first(), stretch.pieces.last()];
                let places = [stretch.ends.0, stretch.ends.1];
                let is_end = [places[0] == left, places[1] == right];
                let roles = [surface.edges.left, surface.edges.right];
                let mut open = Vec::new();
                for side in [0, 1] {
                    let Some(piece) = ends[side] else {
                        if is_end[side] {
                            all.shown += usize::from(roles[side] == Role::Bare);
                            all.dressed += usize::from(roles[side] == Role::Trim);
                        }
                        continue;
                    };
                    let (at, own) =
                        if side == 0 { (piece.from, piece.tile.0) } else { (piece.to, piece.tile.1) };
                    let touches = at == places[side];
                    let flush = touches && own == places[side];
                    if is_end[side] {
                        if matches!(roles[side], Role::Bare | Role::Trim) {
                            open.push((roles[side], flush, touches));
                        }
                        if part_alone {
                            continue;
                        }
                        let seen = seen(surface, (left, right), piece, part_alone, side).max(Length::ZERO);
                        shown[side].push(seen);
                        in_corner.entry(&surface.id).or_default().entry(course.number).or_default()[side] =
                            Some(seen);
                        let short = if side == 0 { at - places[0] } else { places[1] - at };
                        off_flush[side] += short + tile - (piece.to - piece.from);
                    }
                }
                let bare_first = |role: &Role| *role != Role::Bare;
                open.sort_by_key(|(role, ..)| bare_first(role));
                let mut factory_edges = usize::from(part_alone);
                for (role, flush, touches) in open {
                    let is_good = if part_alone {
                        let turned = touches && factory_edges > 0;
                        factory_edges -= usize::from(turned);
                        turned
                    } else {
                        flush
                    };
                    match role {
                        Role::Bare => all.shown += usize::from(!is_good),
                        _ => all.dressed += usize::from(!is_good),
                    }
                }
            }
            all.on_joints +=
                on_joints(surface, (left, right), (course.bottom, course.top), wall, first, tile, joint);
        }
        let open =
            [surface.edges.left, surface.edges.right].map(|role| matches!(role, Role::Bare | Role::Trim));
        all.unequal += match open {
            [true, true] => off_flush[0] + off_flush[1],
            [true, false] => off_flush[0],
            [false, true] => off_flush[1],
            [false, false] => {
                shown.iter_mut().for_each(|widths| widths.sort());
                shown[0].iter().zip(&shown[1]).map(|(left, right)| (*left - *right).abs()).sum()
            }
        };
    }
    all.unequal += facing(job, &in_corner);
    let directional = job.tiles.values().any(|tile| tile.directional);
    all.row_end_tiles =
        cut.len() - if directional { most_left_right(&cut, job) } else { most_pairs(&cut, job) };
    all.tiles += all.row_end_tiles;
    all
}

/// What a piece at one end shows beside what the neighbour at that end hides; at both ends, if it reaches both.
fn seen(
    surface: &Surface,
    (left, right): (Length, Length),
    piece: &Piece,
    alone: bool,
    side: usize,
) -> Length {
    let hides_left = if side == 0 || alone { surface.covered.left.max(left) } else { left };
    let hides_right =
        if side == 1 || alone { right.min(surface.width - surface.covered.right) } else { right };
    piece.to.min(hides_right) - piece.from.max(hides_left)
}

fn reach(job: &Job, surface: &Surface) -> (Length, Length) {
    (job.gaps.at(surface.edges.left), surface.width - job.gaps.at(surface.edges.right))
}

/// The stretches that rectangles take from the whole height of a course.
fn blocked(surface: &Surface, wall: &WallCourses, (bottom, top): (Length, Length)) -> Vec<(Length, Length)> {
    let bottom = bottom.max(wall.foot(Length::ZERO, surface.width).left.y);
    let top = top.min(wall.head(Length::ZERO, surface.width).left.y);
    let taken = surface.openings.iter().filter_map(|opening| {
        let OpeningShape::Rectangle { x, y, width, height } = opening.shape else { return None };
        let clear = opening.clearance;
        (y - clear <= bottom && top <= y + height + clear).then_some((x - clear, x + width + clear))
    });
    taken.collect()
}

fn stretches((left, right): (Length, Length), blocked: &[(Length, Length)]) -> Vec<(Length, Length)> {
    let mut free = vec![(left, right)];
    for (from, to) in blocked {
        free = free
            .iter()
            .flat_map(|(a, b)| [(*a, (*b).min(*from)), ((*a).max(*to), *b)])
            .filter(|(a, b)| a < b)
            .collect();
    }
    free
}

fn lay((from, to): (Length, Length), first: Length, tile: Length, joint: Length) -> Stretch {
    let mut begins = from - (from - first).modulo(tile + joint) - tile - joint;
    let mut pieces = Vec::new();
    while begins < to {
        let piece =
            Piece { from: begins.max(from), to: (begins + tile).min(to), tile: (begins, begins + tile) };
        let width = piece.to - piece.from;
        if width > joint && width >= Length::mm(1) {
            pieces.push(piece);
        }
        begins += tile + joint;
    }
    Stretch { ends: (from, to), pieces }
}

fn on_joints(
    surface: &Surface,
    (left, right): (Length, Length),
    (bottom, top): (Length, Length),
    wall: &WallCourses,
    first: Length,
    tile: Length,
    joint: Length,
) -> usize {
    let bottom = bottom.max(wall.foot(Length::ZERO, surface.width).left.y);
    let top = top.min(wall.head(Length::ZERO, surface.width).left.y);
    let sides = surface.openings.iter().filter_map(|opening| {
        let OpeningShape::Rectangle { x, y, width, height } = opening.shape else { return None };
        let clear = opening.clearance;
        let meets = y - clear < top && bottom < y + height + clear;
        meets.then_some((x - clear, x + width + clear)).filter(|(from, to)| *from < right && left < *to)
    });
    let on_wall = |x: Length| left < x && x < right;
    let ends_at = |x: Length| on_wall(x) && (x - first).modulo(tile + joint) == tile;
    let begins_at = |x: Length| on_wall(x) && (x - first).modulo(tile + joint) == Length::ZERO;
    sides.map(|(left, right)| usize::from(ends_at(left)) + usize::from(begins_at(right))).sum()
}

/// What two walls that are open at opposite ends differ by in the back corner and at the open ends.
fn facing(job: &Job, in_corner: &BTreeMap<&SurfaceId, BTreeMap<u32, [Option<Length>; 2]>>) -> Length {
    let open = |role: Role| matches!(role, Role::Bare | Role::Trim);
    let ends = |surface: &Surface| (open(surface.edges.left), open(surface.edges.right));
    let on_left = job.surfaces.iter().filter(|surface| ends(surface) == (true, false));
    let on_right = job.surfaces.iter().filter(|surface| ends(surface) == (false, true));
    let mut apart = Length::ZERO;
    for (one, other) in on_left.zip(on_right) {
        let (Some(one), Some(other)) = (in_corner.get(&one.id), in_corner.get(&other.id)) else { continue };
        for (number, ends) in one {
            for side in [0, 1] {
                if let (Some(one), Some(Some(other))) =
                    (ends[side], other.get(number).map(|ends| ends[1 - side]))
                {
                    apart += (one - other).abs();
                }
            }
        }
    }
    apart
}

/// The most pairs of which each comes from one tile: so many can be made if and only if they can among the narrowest,
/// the narrowest beside the widest of those.
fn most_pairs(cut: &[(Length, bool)], job: &Job) -> usize {
    let mut widths: Vec<Length> = cut.iter().map(|(width, _)| *width).collect();
    widths.sort();
    let fit = |pairs: &usize| {
        let least = &widths[..2 * pairs];
        (0..*pairs).all(|at| fits(least[at], least[2 * pairs - 1 - at], job))
    };
    (0..=widths.len() / 2).rev().find(fit).unwrap_or(0)
}

/// The same where only a piece that lost its left side and one that did not may pair.
fn most_left_right(cut: &[(Length, bool)], job: &Job) -> usize {
    let side = |lost_left: bool| {
        let mut widths: Vec<Length> =
            cut.iter().filter(|(_, left)| *left == lost_left).map(|(width, _)| *width).collect();
        widths.sort();
        widths
    };
    let (left, right) = (side(true), side(false));
    let fit = |pairs: &usize| (0..*pairs).all(|at| fits(left[at], right[pairs - 1 - at], job));
    (0..=left.len().min(right.len())).rev().find(fit).unwrap_or(0)
}

fn fits(one: Length, other: Length, job: &Job) -> bool {
    let tile = job.tiles[&job.surfaces[0].bands[0].tile].width;
    one + other + job.kerf + job.spare <= tile
}
