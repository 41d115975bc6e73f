//! Works out one layout whole: courses, pieces, cutting plans, figures, advice. Nothing leaves here that the
//! independent checks find fault with.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use super::{Figures, LayoutOption, TileCutting, looks, propose};
use crate::advice::{self, Advice};
use crate::course::{self, CourseFault, Courses, WallCourses};
use crate::measure::{Job, Layout, Length, Surface, TileId};
use crate::offcut::{self, Demand, Effort, Planning, Problem, ProblemFault, ProofFault, Wanted};
use crate::place::{self, Mark, Measured, Piece};

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
    let option = Drawn::of(job, layout)?.worked_out(&mut |_| ControlFlow::Continue(()));
    check(job, &option)?;
    Ok(option)
}

/// A layout with everything but its cutting plans, and not checked yet: to be compared with others, not to be shown.
pub(super) struct Drawn<'j> {
    job: &'j Job,
    layout: Layout,
    courses: Courses,
    pieces: Vec<Piece>,
    tiles: BTreeMap<TileId, Tiles>,
    advice: Vec<Advice>,
}

/// What is wanted of one kind of tile.
struct Tiles {
    full: usize,
    problem: Problem,
}

impl<'j> Drawn<'j> {
    pub(super) fn of(job: &'j Job, layout: Layout) -> Result<Self, WorkFault> {
        Self::on(job, course::lay(job, &layout)?, layout)
    }

    /// On courses that were laid for this layout before.
    pub(super) fn on(job: &'j Job, courses: Courses, layout: Layout) -> Result<Self, WorkFault> {
        let pieces = place_all(job, &layout, &courses);
        let tiles = tiles(job, &pieces)?;
        let joint = job.joint_in(&layout);
        let advice = advice::advise(&advice::Layout { job, joint, courses: &courses, pieces: &pieces });
        Ok(Self { job, layout, courses, pieces, tiles, advice })
    }

    pub(super) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Its figures, with tiles and saw cuts estimated.
    pub(super) fn estimated(&self) -> Figures {
        let bought = self.tiles.values().map(|tiles| tiles.full + offcut::estimate(&tiles.problem).tiles);
        let sawn = self.pieces.iter().flat_map(|piece| &piece.marks).filter(|mark| is_sawn(mark));
        self.figures(bought.sum(), sawn.count())
    }

    /// With its cutting plans, made for as long as `go_on` says so.
    pub(super) fn worked_out(self, go_on: &mut dyn FnMut(Planning) -> ControlFlow<()>) -> LayoutOption {
        let mut cutting = BTreeMap::new();
        for (id, Tiles { full, problem }) in &self.tiles {
            let plan = offcut::solve_while(problem, Effort::Brief, go_on);
            let (full, problem) = (*full, problem.clone());
            cutting.insert(id.clone(), TileCutting { full, problem, plan, open: None });
        }
        self.with_plans(cutting, Measured::new())
    }

    fn with_plans(self, cutting: BTreeMap<TileId, TileCutting>, measured: Measured) -> LayoutOption {
        let straight = cutting.values().flat_map(|cutting| &cutting.plan.stock).map(|stock| stock.cuts.len());
        let shaped = self.pieces.iter().flat_map(|piece| &piece.marks).filter(|mark| is_cut_by_itself(mark));
        let cuts = straight.sum::<usize>() + shaped.count();
        let figures = self.figures(cutting.values().map(TileCutting::bought).sum(), cuts);
        let Self { layout, courses, pieces, advice, .. } = self;
        LayoutOption { layout, courses, pieces, measured, cutting, figures, advice }
    }

    fn figures(&self, bought: usize, cuts: usize) -> Figures {
        Figures {
            bought,
            narrowest_cut: self.pieces.iter().filter_map(Piece::least_cut_side).min(),
            cuts,
            slivers: self.pieces.iter().filter(|piece| piece.sliver.is_some()).count(),
            unequal: self.unequal(),
            opening_edges_on_joints: self.opening_edges_on_joints(),
            base_gap_largest: largest_gap(self.courses.walls.values()),
            warnings: self.advice.iter().filter(|advice| !advice.passes).count(),
        }
    }

    fn unequal(&self) -> Length {
        let surfaces = &self.job.surfaces;
        let rows: Vec<_> = surfaces
            .iter()
            .map(|surface| looks::rows(self.job, &self.layout, surface, self.pieces_of(surface)))
            .collect();
        let own = surfaces.iter().zip(&rows).map(|(surface, rows)| looks::unequal(surface, rows));
        let facing = looks::facing(self.job).into_iter();
        let unlike = facing.map(|(left, right)| looks::unlike(&rows[left], &rows[right]));
        own.chain(unlike).fold(looks::Unequal::default(), looks::Unequal::and).average()
    }

    fn opening_edges_on_joints(&self) -> usize {
        let surfaces = self.job.surfaces.iter();
        let walls = surfaces.filter_map(|surface| Some((surface, self.courses.walls.get(&surface.id)?)));
        walls
            .map(|(surface, wall)| looks::opening_edges_on_joints(surface, wall, self.pieces_of(surface)))
            .sum()
    }

    fn pieces_of<'s>(&'s self, surface: &'s Surface) -> impl Iterator<Item = &'s Piece> + Clone {
        self.pieces.iter().filter(|piece| piece.surface == surface.id)
    }
}

/// A layout with other pieces and cutting plans, its figures and advice worked out anew; not checked yet.
pub(super) fn with_pieces(
    job: &Job,
    option: &LayoutOption,
    (pieces, measured): (Vec<Piece>, Measured),
    cutting: BTreeMap<TileId, TileCutting>,
) -> LayoutOption {
    let (layout, courses) = (option.layout.clone(), option.courses.clone());
    let joint = job.joint_in(&layout);
    let advice = advice::advise(&advice::Layout { job, joint, courses: &courses, pieces: &pieces });
    Drawn { job, layout, courses, pieces, tiles: BTreeMap::new(), advice }.with_plans(cutting, measured)
}

/// Goes over the pieces and the cutting plans from the rules alone.
pub(super) fn check(job: &Job, option: &LayoutOption) -> Result<(), WorkFault> {
    for surface in &job.surfaces {
        let Some(wall) = option.courses.walls.get(&surface.id) else { continue };
        let pieces: Vec<Piece> =
            option.pieces.iter().filter(|piece| piece.surface == surface.id).cloned().collect();
        let (layout, measured) = (&option.layout, &option.measured);
        let faults = place::check_measured(job, surface, &wall.courses, layout, wall, &pieces, measured);
        if let Some(fault) = faults.first() {
            return Err(WorkFault::Ours(format!("{fault:?}")));
        }
    }
    for cutting in option.cutting.values() {
        let open = cutting.open.iter().map(|open| (&open.problem, &open.plan));
        for (problem, plan) in std::iter::once((&cutting.problem, &cutting.plan)).chain(open) {
            if let Some(fault) = offcut::check(problem, plan).first() {
                return Err(WorkFault::Ours(format!("{fault:?}")));
            }
        }
        let (problem, plan) = cutting.proved();
        // What the check cannot settle within its steps is no fault found.
        let is_fault = |fault: &ProofFault| !matches!(fault, ProofFault::NotConfirmed { .. });
        if let Some(fault) = offcut::check_proof(problem, plan).into_iter().find(is_fault) {
            return Err(WorkFault::Ours(fault.to_string()));
        }
    }
    Ok(())
}

fn place_all(job: &Job, layout: &Layout, courses: &Courses) -> Vec<Piece> {
    let mut all = Vec::new();
    for surface in job.in_setting_order() {
        if let Some(wall) = courses.walls.get(&surface.id) {
            all.extend(place::pieces(job, surface, &wall.courses, layout, wall).pieces);
        }
    }
    all
}

fn tiles(job: &Job, pieces: &[Piece]) -> Result<BTreeMap<TileId, Tiles>, WorkFault> {
    let mut tiles = BTreeMap::new();
    for (id, upright) in laid_ways(job)? {
        let of_tile: Vec<&Piece> = pieces.iter().filter(|piece| piece.tile == id).collect();
        if !of_tile.is_empty() {
            let full = of_tile.iter().filter(|piece| piece.full).count();
            let problem = problem(job, &id, upright, &of_tile)?;
            tiles.insert(id, Tiles { full, problem });
        }
    }
    Ok(tiles)
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

/// What a piece asks of a tile.
pub fn wanted(piece: &Piece) -> Wanted {
    Wanted {
        id: piece.id.0.clone(),
        width: piece.bounds.width(),
        height: piece.bounds.height(),
        factory: piece.factory,
        alone: false,
    }
}

fn problem(job: &Job, id: &TileId, upright: bool, of_tile: &[&Piece]) -> Result<Problem, WorkFault> {
    let unknown = || CourseFault::UnknownTile { surface: job.surfaces[0].id.clone(), tile: id.clone() };
    let tile = job.tiles.get(id).ok_or_else(unknown)?;
    let size = job.laid_size(id, upright).ok_or_else(unknown)?;
    Problem::new(Demand {
        tile_width: size.width,
        tile_height: size.height,
        kerf: job.kerf + job.spare,
        half_turn: !tile.directional,
        quarter_turn: tile.quarter_turn && !tile.directional,
        pieces: of_tile.iter().filter(|piece| !piece.full).map(|piece| wanted(piece)).collect(),
        rack: Vec::new(),
    })
    .map_err(|faults| WorkFault::Cutting { tile: id.clone(), faults })
}

/// One visit to the saw at least.
pub(super) fn is_sawn(mark: &Mark) -> bool {
    match mark {
        Mark::Crosscut { .. } | Mark::Rip { .. } | Mark::Notch { .. } => true,
        Mark::Hole { .. } => false,
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

pub(super) fn largest_gap<'w>(walls: impl Iterator<Item = &'w WallCourses>) -> Length {
    let stations = walls.flat_map(|wall| &wall.stations);
    stations.filter(|station| station.carries).map(|station| station.gap).max().unwrap_or_default()
}

#[cfg(test)]
#[path = "work_out_tests.rs"]
pub(super) mod tests;
