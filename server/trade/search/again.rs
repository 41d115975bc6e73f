//! A layout planned again in the middle of the work: some pieces have another size than planned, some are cut already.
//!
//! What is cut stays where it was cut from, cut by cut. Every offcut that it left and somebody labelled is on the rack,
//! whatever became of the piece since: of what was lost nothing but its place is kept, so that nothing else is cut there.
//! All that is open is planned anew from the rack and whole tiles, with a bound and a proof of its own; then both are
//! put together, so that each piece lies on one tile and an offcut is a part of its tile, as ever.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::ControlFlow;

use super::work_out::{WorkFault, check, wanted, with_pieces};
use super::{LayoutOption, StillOpen, TileCutting};
use crate::geometry::{Rect, Sides};
use crate::measure::{Job, TileId};
use crate::offcut::{
    self, Axis, Begun, Cut, Demand, Effort, Gone, MOST_RACKED, Place, Plan, Problem, ProblemFault, Progress,
    Proof, Racked, Stock, Wanted, queue_of,
};
use crate::place::{Measured, Piece, Wall};

/// A job in the middle of its work.
#[derive(Clone, Copy)]
pub struct InField<'a> {
    /// The job.
    pub job: &'a Job,
    /// The layout as it was planned before anything was measured again.
    pub planned: &'a LayoutOption,
    /// The plan that the saw has gone by so far.
    pub now: &'a LayoutOption,
    /// What was measured since, all of it.
    pub measured: &'a Measured,
    /// What was cut by the plan in force, by kind of tile.
    pub sawn: &'a BTreeMap<TileId, Sawn>,
}

/// What was cut of one kind of tile.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Sawn {
    /// The tiles that something came of: where one broke, several may stand at one place of the plan.
    pub tiles: Vec<Opened>,
    /// What was cut from tiles that the plan in force does not know, by places in its problem.
    pub elsewhere: BTreeSet<usize>,
}

/// A tile that something came of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Opened {
    /// Its place in the plan in force.
    pub stock: usize,
    /// What it is called in the record of what was cut.
    pub name: String,
    /// What came of it, by places in the problem in force.
    pub here: BTreeSet<usize>,
    /// What was lost of it by the plan in force.
    pub lost: Vec<Lost>,
}

/// A piece or an offcut that is lost.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lost {
    /// The place in the problem in force of the piece that it was or was to become.
    pub piece: usize,
    /// What of the tile.
    pub part: LostPart,
    /// As in [`Gone::entry`].
    pub entry: String,
}

/// How much of a tile is lost with a piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LostPart {
    /// The piece alone: it was cut.
    Piece,
    /// What lay on the saw when it was to be cut.
    OnSaw(Rect),
}

impl Opened {
    /// The tile as the plan in force has it; of one that took another's place nothing is gone that the other lost.
    fn of(&self, plan: &Plan) -> Option<Stock> {
        let stock = plan.stock.get(self.stock)?;
        let is_that_one = stock.begun.as_ref().is_some_and(|begun| begun.name == self.name);
        Some(if is_that_one { stock.clone() } else { stock.on_another_tile() })
    }

    /// What was cut of it, lost since or not.
    fn cut(&self) -> BTreeSet<usize> {
        let lost = self.lost.iter().filter(|lost| lost.part == LostPart::Piece).map(|lost| lost.piece);
        self.here.iter().copied().chain(lost).collect()
    }

    /// What was lost of it by the plan in force, where it lay.
    fn gone(&self, problem: &Problem, stock: &Stock) -> Vec<Gone> {
        let gone = |lost: &Lost| {
            let at = match lost.part {
                LostPart::OnSaw(at) => at,
                LostPart::Piece => stock.places.iter().find(|place| place.piece == lost.piece)?.at,
            };
            let piece = problem.pieces().get(lost.piece)?.id.clone();
            Some(Gone { piece, at, entry: lost.entry.clone() })
        };
        self.lost.iter().filter_map(gone).collect()
    }
}

impl Sawn {
    fn here(&self) -> BTreeSet<usize> {
        self.tiles.iter().flat_map(|tile| &tile.here).copied().collect()
    }
}

impl InField<'_> {
    /// The pieces with their true sizes, and which of the sizes hold: one that was found of a piece that is planned
    /// otherwise by now, or that cannot be cut so any more, does not.
    pub fn pieces(&self) -> (Vec<Piece>, Measured) {
        let mut hold = Measured::new();
        let none = Measured::new();
        let fitted = |piece: &Piece| {
            let size = self.measured.get(&piece.id).filter(|size| size.planned == piece.bounds)?;
            let surface = self.job.surface(&piece.surface)?;
            let courses = self.planned.courses.walls.get(&piece.surface)?;
            let on_surface = self.planned.pieces.iter().filter(|other| other.surface == piece.surface);
            let wall = Wall {
                job: self.job,
                surface,
                courses: &courses.courses,
                layout: &self.planned.layout,
                limits: courses,
                planned: &on_surface.cloned().collect::<Vec<_>>(),
                before: &none,
                done: &BTreeSet::new(),
            };
            Some((wall.fitted(piece, size).ok()?, size.clone()))
        };
        let pieces = self.planned.pieces.iter().map(|piece| match fitted(piece) {
            Some((fitted, size)) => {
                hold.insert(piece.id.clone(), size);
                fitted
            }
            None => piece.clone(),
        });
        (pieces.collect(), hold)
    }

    /// The plan that holds from now on; nothing where the one in force does. Where only pieces that are cut have other
    /// sizes by now, what is open stays planned as it is.
    ///
    /// # Errors
    ///
    /// When a piece cannot be cut from its tile, or a check finds fault.
    pub fn settled(&self) -> Result<Option<LayoutOption>, WorkFault> {
        let (pieces, measured) = self.pieces();
        let nothing = Sawn::default();
        let holds = |(id, cutting): (&TileId, &TileCutting)| {
            let of_tile: Vec<&Piece> = pieces.iter().filter(|piece| piece.tile == *id).collect();
            let sawn = self.sawn.get(id).unwrap_or(&nothing);
            Bench { before: cutting, sawn, pieces: &of_tile }.holds()
        };
        if !self.now.cutting.iter().all(holds) {
            return self.plan_again().map(Some);
        }
        if pieces == self.now.pieces && measured == self.now.measured {
            return Ok(None);
        }
        let option = with_pieces(self.job, self.planned, (pieces, measured), self.now.cutting.clone());
        check(self.job, &option)?;
        Ok(Some(option))
    }

    /// The plan for what is open, put together with what is cut; checked.
    ///
    /// # Errors
    ///
    /// When a piece cannot be cut from its tile, or a check finds fault.
    pub fn plan_again(&self) -> Result<LayoutOption, WorkFault> {
        let (pieces, measured) = self.pieces();
        let mut cutting = BTreeMap::new();
        for (id, before) in &self.now.cutting {
            let of_tile: Vec<&Piece> = pieces.iter().filter(|piece| piece.tile == *id).collect();
            let nothing = Sawn::default();
            let sawn = self.sawn.get(id).unwrap_or(&nothing);
            let again = Bench { before, sawn, pieces: &of_tile }.plan_again();
            let again = again.map_err(|faults| WorkFault::Cutting { tile: id.clone(), faults })?;
            cutting.insert(id.clone(), again);
        }
        let option = with_pieces(self.job, self.planned, (pieces, measured), cutting);
        check(self.job, &option)?;
        Ok(option)
    }
}

/// One kind of tile with what was cut of it.
pub(super) struct Bench<'a> {
    pub before: &'a TileCutting,
    pub sawn: &'a Sawn,
    /// All of this tile, in setting order.
    pub pieces: &'a [&'a Piece],
}

/// A tile that was cut into, as a part of the new plan.
pub(super) struct Kept {
    pub stock: Stock,
    /// The offcuts of it that lie on the rack.
    pub lying: Vec<OnRack>,
}

/// An offcut on the rack, where it lay on its tile.
#[derive(Clone, Copy)]
pub(super) struct OnRack {
    /// Its tile's place among those kept.
    tile: usize,
    at: Rect,
    own: Sides,
    label: usize,
}

impl Bench<'_> {
    fn plan_again(&self) -> Result<TileCutting, Vec<ProblemFault>> {
        let (here, elsewhere) = (self.ids(&self.sawn.here()), self.ids(&self.sawn.elsewhere));
        let cut: Vec<&Piece> = self.pieces.iter().filter(|piece| !piece.full).copied().collect();
        let is_open = |piece: &&&Piece| !here.contains(&*piece.id.0) && !elsewhere.contains(&*piece.id.0);
        let kept = self.kept();
        let rack = rack(&kept);
        let open = cut.iter().filter(is_open).map(|piece| wanted(piece));
        let problem = self.problem(open.collect(), rack.iter().map(OnRack::racked).collect())?;
        let plan = offcut::solve_while(&problem, Effort::Brief, &mut |_| ControlFlow::Continue(()));

        let whole = self.problem(self.all(&cut, &here), Vec::new())?;
        let index: BTreeMap<&str, usize> =
            whole.pieces().iter().enumerate().map(|(at, piece)| (piece.id.as_str(), at)).collect();
        let alone = elsewhere.iter().filter_map(|id| index.get(id)).map(|&at| self.alone(&whole, at));
        let alone: Vec<Stock> = alone.collect::<Result<_, _>>()?;
        let fixed = kept.len() + alone.len();
        let among_all = |problem: &Problem, place: &Place| {
            let piece = *index.get(problem.pieces()[place.piece].id.as_str())?;
            Some(Place { piece, ..place.clone() })
        };
        let mut stock = put_together(
            kept.iter().map(|kept| with_places(&kept.stock, |place| among_all(&self.before.problem, place))),
            plan.stock.iter().map(|stock| with_places(stock, |place| among_all(&problem, place))),
            &rack,
        );
        stock.extend(alone);
        for stock in &mut stock {
            stock.places.sort_by_key(|place| place.piece);
        }
        stock.sort_by_key(|stock| stock.places.first().map(|place| place.piece));
        let (bound, in_setting_order) = (fixed + plan.bound, fixed + plan.in_setting_order);
        let whole_plan = Plan { stock, bound, proof: Proof::default(), in_setting_order };
        let full = self.pieces.len() - cut.len();
        Ok(TileCutting { full, problem: whole, plan: whole_plan, open: Some(StillOpen { problem, plan }) })
    }

    /// Whether each open piece is planned in the size that it is to have.
    fn holds(&self) -> bool {
        let cut: BTreeSet<usize> = self.sawn.here().union(&self.sawn.elsewhere).copied().collect();
        let is_open = |at: &usize| !cut.contains(at);
        let planned = self.before.problem.pieces().iter().enumerate().filter(|(at, _)| is_open(at));
        let planned: BTreeMap<&str, &Wanted> = planned.map(|(_, piece)| (piece.id.as_str(), piece)).collect();
        let done = self.ids(&cut);
        let cut = self.pieces.iter().filter(|piece| !piece.full && !done.contains(piece.id.0.as_str()));
        let open: BTreeMap<&str, Wanted> = cut.map(|piece| (piece.id.0.as_str(), wanted(piece))).collect();
        let full = self.pieces.iter().filter(|piece| piece.full).count();
        full == self.before.full
            && planned.len() == open.len()
            && open.iter().all(|(id, piece)| planned.get(id) == Some(&piece))
    }

    /// Every piece that comes out of a tile: what is cut in the size it was cut to, what is open in the one it is to
    /// have.
    fn all(&self, cut: &[&Piece], here: &BTreeSet<&str>) -> Vec<Wanted> {
        let as_cut = |id: &str| {
            let before = self.before.problem.pieces().iter();
            before.filter(|_| here.contains(id)).find(|was| was.id == id).cloned()
        };
        let all = cut.iter().map(|piece| as_cut(&piece.id.0).unwrap_or_else(|| wanted(piece)));
        // What was cut and is a whole tile by now is still a part of the tile it was cut from.
        let known: BTreeSet<&str> = cut.iter().map(|piece| piece.id.0.as_str()).collect();
        let others = here.iter().filter(|id| !known.contains(**id)).filter_map(|id| as_cut(id));
        all.chain(others).collect()
    }

    fn ids(&self, pieces: &BTreeSet<usize>) -> BTreeSet<&str> {
        let all = self.before.problem.pieces();
        pieces.iter().filter_map(|&piece| Some(all.get(piece)?.id.as_str())).collect()
    }

    fn problem(&self, pieces: Vec<Wanted>, rack: Vec<Racked>) -> Result<Problem, Vec<ProblemFault>> {
        let of = &self.before.problem;
        Problem::new(Demand {
            tile_width: of.tile_width(),
            tile_height: of.tile_height(),
            kerf: of.kerf(),
            half_turn: of.half_turn(),
            quarter_turn: of.quarter_turn(),
            pieces,
            rack,
        })
    }

    /// The tiles cut into by the plan in force, with only what was really cut of them.
    pub fn kept(&self) -> Vec<Kept> {
        let tiles = self.sawn.tiles.iter().enumerate();
        tiles.filter_map(|(nth, tile)| self.kept_of(nth, tile)).collect()
    }

    /// One of them, the `nth`.
    fn kept_of(&self, nth: usize, tile: &Opened) -> Option<Kept> {
        let problem = &self.before.problem;
        let stock = tile.of(&self.before.plan)?;
        let progress = Progress { here: tile.cut(), elsewhere: BTreeSet::new() };
        let steps = queue_of(problem, (tile.stock, &stock), &progress);
        let mut written = stock.begun.as_ref().map_or_else(Vec::new, |begun| begun.written.clone());
        let leaves =
            steps.iter().filter(|step| progress.here.contains(&step.piece)).flat_map(|step| &step.leaves);
        for (at, label) in leaves.filter_map(|left| Some((left.part.at, left.label?.nth))) {
            if !written.contains(&(at, label)) {
                written.push((at, label));
            }
        }
        let gone: Vec<Gone> = stock.gone().iter().cloned().chain(tile.gone(problem, &stock)).collect();
        let places: Vec<Place> =
            stock.places.iter().filter(|place| tile.here.contains(&place.piece)).cloned().collect();
        let done = || places.iter().map(|place| place.at).chain(gone.iter().map(|gone| gone.at));
        let is_made = |cut: &&Cut| done().any(|at| cut.part.holds(&at) && cut.part != at);
        let lying = offcut::lying(problem, (tile.stock, &stock), &progress).into_iter();
        let lying = lying.filter(|offcut| gone.iter().all(|gone| gone.at != offcut.part.at));
        let lying = lying.map(|offcut| OnRack {
            tile: nth,
            at: offcut.part.at,
            own: offcut.part.own,
            label: offcut.label.nth,
        });
        let (lying, cuts) = (lying.collect(), stock.cuts.iter().filter(is_made).copied().collect());
        let begun = Some(Begun { name: tile.name.clone(), written, gone });
        Some(Kept { stock: Stock { rack: None, begun, places, cuts }, lying })
    }

    /// A whole tile for a piece that was cut from something which no plan knows any more, should that be taken back.
    fn alone(&self, whole: &Problem, piece: usize) -> Result<Stock, Vec<ProblemFault>> {
        let problem = self.problem(vec![whole.pieces()[piece].clone()], Vec::new())?;
        let plan = offcut::solve_while(&problem, Effort::Brief, &mut |_| ControlFlow::Continue(()));
        let mut stock = plan.stock.into_iter().next().unwrap_or_default();
        for place in &mut stock.places {
            place.piece = piece;
        }
        Ok(stock)
    }
}

/// What lies on the rack, each with the place of its tile among those kept: the largest, where there are too many.
fn rack(kept: &[Kept]) -> Vec<OnRack> {
    let mut rack: Vec<OnRack> = kept.iter().flat_map(|kept| kept.lying.iter().copied()).collect();
    if rack.len() > MOST_RACKED {
        let area =
            |lying: &OnRack| i128::from(lying.at.width().units()) * i128::from(lying.at.height().units());
        rack.sort_by_key(|lying| std::cmp::Reverse(area(lying)));
        rack.truncate(MOST_RACKED);
    }
    rack
}

impl OnRack {
    fn racked(&self) -> Racked {
        Racked {
            id: format!("{}-{}", self.tile, self.label),
            width: self.at.width(),
            height: self.at.height(),
            factory: self.own,
        }
    }
}

fn with_places(stock: &Stock, place: impl Fn(&Place) -> Option<Place>) -> Stock {
    Stock { places: stock.places.iter().filter_map(place).collect(), ..stock.clone() }
}

/// The tiles kept, with what is planned on their offcuts, and then the new ones.
fn put_together(
    kept: impl Iterator<Item = Stock>,
    planned: impl Iterator<Item = Stock>,
    rack: &[OnRack],
) -> Vec<Stock> {
    let mut tiles: Vec<Stock> = kept.collect();
    for stock in planned {
        let lying = stock.rack.and_then(|racked| rack.get(racked));
        let Some((tile, at)) = lying.and_then(|lying| Some((tiles.get_mut(lying.tile)?, lying.at))) else {
            tiles.push(stock);
            continue;
        };
        let moved = |rect: Rect| rect.moved(at.left, at.bottom);
        let along = |axis: Axis| match axis {
            Axis::X => at.left,
            Axis::Y => at.bottom,
        };
        tile.places.extend(stock.places.iter().map(|place| Place { at: moved(place.at), ..place.clone() }));
        tile.cuts.extend(stock.cuts.iter().map(|cut| Cut {
            part: moved(cut.part),
            at: cut.at + along(cut.across),
            across: cut.across,
        }));
    }
    tiles
}

#[cfg(test)]
#[path = "again_tests.rs"]
mod tests;
