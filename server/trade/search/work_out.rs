//! Works out one layout whole: courses, pieces, cutting plans, figures, advice. Nothing leaves here that the
//! independent checks find fault with.

use std::collections::BTreeMap;

use super::{Figures, LayoutOption, TileCutting, propose};
use crate::advice::{self, Advice};
use crate::course::{self, CourseFault, Courses};
use crate::measure::{Job, Layout, Length, TileId};
use crate::offcut::{self, Demand, Problem, ProblemFault, Wanted};
use crate::place::{self, Mark, Piece};

/// Why a layout cannot be worked out.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum WorkFault {
    /// The courses cannot be laid.
    #[error(transparent)]
    Courses(#[from] CourseFault),
    /// One tile is laid across here and upright there, which is not planned together yet.
    #[error("tile \"{}\" lies across in one band and upright in another; give the upright ones a name of their own", .0.0)]
    BothWays(TileId),
    /// The pieces cannot be cut from their tile.
    #[error("the pieces of tile \"{}\" cannot be cut from it: {}", tile.0, faults.first().map(ToString::to_string).unwrap_or_default())]
    Cutting { tile: TileId, faults: Vec<ProblemFault> },
    /// The program's own check found fault with its plan, which is ours to mend.
    #[error("the plan failed its own check: {0}")]
    Ours(String),
}

/// The job's own layout, completed by what is proposed for whatever the lead has not chosen.
///
/// # Errors
///
/// When the courses cannot be laid, or a check finds fault.
pub fn plan(job: &Job) -> Result<LayoutOption, WorkFault> {
    let partial = job.layout.clone().unwrap_or_default();
    work_out(job, propose(job, &partial))
}

/// What one complete layout comes to.
///
/// # Errors
///
/// When the courses cannot be laid, or a check finds fault.
pub fn work_out(job: &Job, layout: Layout) -> Result<LayoutOption, WorkFault> {
    let courses = course::lay(job, &layout)?;
    let pieces = place_all(job, &layout, &courses)?;
    let cutting = cut_all(job, &pieces)?;
    let joint = layout.joint.unwrap_or(job.joint);
    let advice = advice::advise(&advice::Layout { job, joint, courses: &courses, pieces: &pieces });
    let figures = figures(&courses, &pieces, &cutting, &advice);
    Ok(LayoutOption { layout, courses, pieces, cutting, figures, advice })
}

fn place_all(job: &Job, layout: &Layout, courses: &Courses) -> Result<Vec<Piece>, WorkFault> {
    let mut all = Vec::new();
    for surface in job.in_setting_order() {
        let Some(wall) = courses.walls.get(&surface.id) else { continue };
        let placed = place::pieces(job, surface, &wall.courses, layout, wall);
        if let Some(fault) = place::check(job, surface, &wall.courses, layout, wall, &placed.pieces).first() {
            return Err(WorkFault::Ours(format!("{fault:?}")));
        }
        all.extend(placed.pieces);
    }
    Ok(all)
}

fn cut_all(job: &Job, pieces: &[Piece]) -> Result<BTreeMap<TileId, TileCutting>, WorkFault> {
    let laid = laid_ways(job)?;
    let mut cutting = BTreeMap::new();
    for (id, upright) in laid {
        let of_tile: Vec<&Piece> = pieces.iter().filter(|piece| piece.tile == id).collect();
        if of_tile.is_empty() {
            continue;
        }
        let full = of_tile.iter().filter(|piece| piece.full).count();
        let problem = problem(job, &id, upright, &of_tile)?;
        let plan = offcut::solve(&problem);
        if let Some(fault) = offcut::check(&problem, &plan).first() {
            return Err(WorkFault::Ours(format!("{fault:?}")));
        }
        cutting.insert(id, TileCutting { full, problem, plan });
    }
    Ok(cutting)
}

/// Which way each tile is laid.
fn laid_ways(job: &Job) -> Result<BTreeMap<TileId, bool>, WorkFault> {
    let mut ways = BTreeMap::new();
    for band in job.surfaces.iter().flat_map(|surface| &surface.bands) {
        if *ways.entry(band.tile.clone()).or_insert(band.upright) != band.upright {
            return Err(WorkFault::BothWays(band.tile.clone()));
        }
    }
    Ok(ways)
}

fn problem(job: &Job, id: &TileId, upright: bool, of_tile: &[&Piece]) -> Result<Problem, WorkFault> {
    let unknown = || CourseFault::UnknownTile { surface: job.surfaces[0].id.clone(), tile: id.clone() };
    let tile = job.tiles.get(id).ok_or_else(unknown)?;
    let size = job.laid_size(id, upright).ok_or_else(unknown)?;
    let wanted = |piece: &&Piece| Wanted {
        id: piece.id.0.clone(),
        width: piece.bounds.width(),
        height: piece.bounds.height(),
        factory: piece.factory,
        alone: false,
    };
    Problem::new(Demand {
        tile_width: size.width,
        tile_height: size.height,
        kerf: job.kerf + job.spare,
        half_turn: !tile.directional,
        quarter_turn: tile.quarter_turn && !tile.directional,
        pieces: of_tile.iter().filter(|piece| !piece.full).map(wanted).collect(),
        rack: Vec::new(),
    })
    .map_err(|faults| WorkFault::Cutting { tile: id.clone(), faults })
}

fn figures(
    courses: &Courses,
    pieces: &[Piece],
    cutting: &BTreeMap<TileId, TileCutting>,
    advice: &[Advice],
) -> Figures {
    let straight = cutting.values().flat_map(|cutting| &cutting.plan.stock).map(|stock| stock.cuts.len());
    let shaped = pieces.iter().flat_map(|piece| &piece.marks).filter(|mark| is_cut_by_itself(mark));
    Figures {
        bought: cutting.values().map(TileCutting::bought).sum(),
        narrowest_cut: pieces.iter().filter_map(Piece::least_cut_side).min(),
        cuts: straight.sum::<usize>() + shaped.count(),
        slivers: pieces.iter().filter(|piece| piece.sliver.is_some()).count(),
        // Not worked out yet.
        unequal: Length::ZERO,
        opening_edges_on_joints: 0,
        base_gap_largest: largest_gap(courses),
        warnings: advice.iter().filter(|advice| !advice.passes).count(),
    }
}

/// Notches and tapers are sawn after the piece is off its tile: one more visit to the saw each.
fn is_cut_by_itself(mark: &Mark) -> bool {
    match mark {
        Mark::Notch { .. } => true,
        Mark::Crosscut { at, at_other_end, .. } | Mark::Rip { at, at_other_end, .. } => at != at_other_end,
        Mark::Hole { .. } => false,
    }
}

fn largest_gap(courses: &Courses) -> Length {
    let stations = courses.walls.values().flat_map(|wall| &wall.stations);
    stations.filter(|station| station.carries).map(|station| station.gap).max().unwrap_or_default()
}

#[cfg(test)]
#[path = "work_out_tests.rs"]
mod tests;
