//! What one wall comes to under one choice, so that walls can be put together without placing a tile again.
//!
//! Tiles to buy are estimated here: only for a few layouts is a cutting plan made.

use std::collections::{BTreeMap, BTreeSet};

use super::Figures;
use super::frames::Frame;
use super::looks::{self, Row, Unequal};
use super::work_out::{is_sawn, largest_gap};
use crate::advice;
use crate::geometry::{Side, Sides};
use crate::measure::{Job, LeastSize, Length, Surface, TileId};
use crate::place::Piece;

/// One wall with its pieces as placed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Seen {
    pub(super) pieces: Vec<Piece>,
    narrowest: Option<Length>,
    cuts: usize,
    slivers: usize,
    rules: BTreeSet<&'static str>,
    rows: Vec<Row>,
    unequal: Unequal,
    opening_edges: usize,
    wanted: BTreeMap<TileId, Wanted>,
}

/// What is wanted of one kind of tile.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
struct Wanted {
    full: usize,
    /// Widths of the cuts as high as the tile, the widest first: at most two come from one tile.
    row_ends: Vec<Length>,
    /// Heights of the cuts as wide as the tile, the highest first: again two.
    rips: Vec<Length>,
    /// Of all other cuts, kerf included.
    area: i128,
}

impl Seen {
    pub(super) fn of(job: &Job, frame: &Frame, surface: &Surface, pieces: Vec<Piece>) -> Self {
        let rows = looks::rows(job, &frame.layout, surface, pieces.iter());
        let joint = job.joint_in(&frame.layout);
        let advice = advice::advise(&advice::Layout { job, joint, courses: &frame.courses, pieces: &pieces });
        let courses = frame.courses.walls.get(&surface.id);
        let edges = |courses| looks::opening_edges_on_joints(surface, courses, pieces.iter());
        Self {
            narrowest: pieces.iter().filter_map(Piece::least_cut_side).min(),
            cuts: pieces.iter().flat_map(|piece| &piece.marks).filter(|mark| is_sawn(mark)).count(),
            slivers: pieces.iter().filter(|piece| piece.sliver.is_some()).count(),
            rules: advice.iter().filter(|advice| !advice.passes).map(|advice| advice.rule).collect(),
            unequal: looks::unequal(surface, &rows),
            rows,
            opening_edges: courses.map_or(0, edges),
            wanted: wanted(job, surface, &pieces),
            pieces,
        }
    }
}

/// The figures of all walls together, in the job's order, tiles estimated.
pub(super) fn figures(job: &Job, frame: &Frame, facing: &[(usize, usize)], walls: &[&Seen]) -> Figures {
    let own: Unequal = walls.iter().map(|wall| wall.unequal).fold(Unequal::default(), Unequal::and);
    let unlike = facing
        .iter()
        .filter_map(|(left, right)| Some(looks::unlike(&walls.get(*left)?.rows, &walls.get(*right)?.rows)));
    let rules: BTreeSet<&str> = walls.iter().flat_map(|wall| &wall.rules).copied().collect();
    Figures {
        bought: estimated(job, walls),
        narrowest_cut: walls.iter().filter_map(|wall| wall.narrowest).min(),
        cuts: walls.iter().map(|wall| wall.cuts).sum(),
        slivers: walls.iter().map(|wall| wall.slivers).sum(),
        unequal: unlike.fold(own, Unequal::and).average(),
        opening_edges_on_joints: walls.iter().map(|wall| wall.opening_edges).sum(),
        base_gap_largest: largest_gap(frame.courses.walls.values()),
        warnings: rules.len(),
    }
}

fn wanted(job: &Job, surface: &Surface, pieces: &[Piece]) -> BTreeMap<TileId, Wanted> {
    let mut all: BTreeMap<TileId, Wanted> = BTreeMap::new();
    let kerf = job.kerf + job.spare;
    for piece in pieces {
        let wanted = all.entry(piece.tile.clone()).or_default();
        let Some(tile) = laid_size(job, surface, piece) else { continue };
        let (width, height) = (piece.bounds.width(), piece.bounds.height());
        if piece.full {
            wanted.full += 1;
        } else if needs_both(piece.factory, Side::Bottom, Side::Top) || height == tile.height {
            wanted.row_ends.push(width);
        } else if needs_both(piece.factory, Side::Left, Side::Right) || width == tile.width {
            wanted.rips.push(height);
        } else {
            wanted.area += i128::from((width + kerf).units()) * i128::from((height + kerf).units());
        }
    }
    all
}

fn laid_size(job: &Job, surface: &Surface, piece: &Piece) -> Option<LeastSize> {
    job.laid_size(&piece.tile, surface.bands.get(piece.band)?.upright)
}

fn needs_both(needed: Sides, one: Side, other: Side) -> bool {
    needed.has(one) && needed.has(other)
}

/// About how many tiles all walls take: row ends in pairs, rips in pairs, and the rest by area, some of it from what
/// the pairs leave.
fn estimated(job: &Job, walls: &[&Seen]) -> usize {
    let kerf = job.kerf + job.spare;
    job.tiles
        .iter()
        .map(|(id, tile)| {
            let of_tile = || walls.iter().filter_map(|wall| wall.wanted.get(id));
            let upright = walls.iter().flat_map(|wall| &wall.pieces).find(|piece| piece.tile == *id);
            let upright = upright.is_some_and(|piece| piece.cell.height() == tile.width);
            let (width, height) = if upright { (tile.height, tile.width) } else { (tile.width, tile.height) };
            let row_ends = of_tile().flat_map(|wanted| wanted.row_ends.iter().copied());
            let rips = of_tile().flat_map(|wanted| wanted.rips.iter().copied());
            let ends = pairs(row_ends.collect(), width, kerf);
            let rips = pairs(rips.collect(), height, kerf);
            let area: i128 = of_tile().map(|wanted| wanted.area).sum();
            let left = ends.left * i128::from(height.units()) + rips.left * i128::from(width.units());
            let whole = i128::from((width + kerf).units()) * i128::from((height + kerf).units());
            let more = ((area - left / 2).max(0) + whole - 1) / whole.max(1);
            of_tile().map(|wanted| wanted.full).sum::<usize>()
                + ends.tiles
                + rips.tiles
                + usize::try_from(more).unwrap_or(usize::MAX / 4)
        })
        .sum()
}

/// Tiles cut into for cuts of which at most two come from one, and the sum of what is left of the tiles.
struct Paired {
    tiles: usize,
    left: i128,
}

/// The largest with the smallest, where both come from one tile: no other way needs fewer.
fn pairs(mut cuts: Vec<Length>, whole: Length, kerf: Length) -> Paired {
    cuts.sort_unstable();
    let mut paired = Paired { tiles: 0, left: 0 };
    let mut rest = cuts.as_slice();
    while let [smaller @ .., largest] = rest {
        paired.tiles += 1;
        let mut used = *largest + kerf;
        rest = smaller;
        if let [smallest, between @ ..] = smaller
            && *largest + kerf + *smallest <= whole
        {
            used += *smallest + kerf;
            rest = between;
        }
        paired.left += i128::from((whole - used).max(Length::ZERO).units());
    }
    paired
}
