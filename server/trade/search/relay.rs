//! Another layout in the middle of the work: what is cut stays cut, and what lies on the rack is used first.
//!
//! A plan that was made for one layout says nothing of another. So each tile that something was cut of is told by itself:
//! which cuts were made, what came of it, and what is written on its offcuts. Pieces that the other layout wants as they
//! are stay on their tile; where one is none of its pieces, or has another size there, only its place on the tile is
//! known, and it is planned anew like any that is not cut.

use std::collections::{BTreeMap, BTreeSet};

use super::again::{Bench, InField, Opened, Sawn};
use super::work_out::WorkFault;
use super::{LayoutOption, TileCutting};
use crate::measure::{Job, Length, TileId};
use crate::offcut::{Begun, Demand, Gone, Place, Plan, Problem, Proof, Stock, Wanted};
use crate::place::{Measured, PieceId};

/// A tile that something was cut of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BegunTile {
    /// Its kind.
    pub tile: TileId,
    /// As it lay on the table.
    pub width: Length,
    /// As it lay on the table.
    pub height: Length,
    /// What each of its cuts took.
    pub kerf: Length,
    /// The cuts made, and where everything lay on it.
    pub stock: Stock,
    /// What came of it and is there: its places name these.
    pub pieces: Vec<Wanted>,
}

/// A piece that was cut, and how it stands to the other layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutBefore {
    /// Whether it is of any use.
    pub use_of: UseOf,
    /// As in [`Gone::entry`].
    pub entry: String,
}

/// What another layout can do with a piece that is cut.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum UseOf {
    /// It is one of its pieces as it is.
    AsItIs,
    /// It has to be cut anew, or is not wanted.
    None,
}

/// Another layout, and what was cut for those before.
#[derive(Clone, Copy)]
pub struct Relay<'a> {
    /// The job with the other layout.
    pub job: &'a Job,
    /// That layout as it is planned from whole tiles.
    pub planned: &'a LayoutOption,
    /// What was measured on the walls.
    pub measured: &'a Measured,
    /// The tiles that were cut into.
    pub begun: &'a [BegunTile],
    /// Every piece that is cut.
    pub cut: &'a BTreeMap<PieceId, CutBefore>,
}

impl InField<'_> {
    /// The tiles that were cut into, of every kind of which an offcut lies on the rack.
    ///
    /// # Errors
    ///
    /// When a plan names a piece that it has not, which is ours to mend.
    pub fn begun(&self) -> Result<Vec<BegunTile>, WorkFault> {
        let of_kind = |(id, before): (&TileId, &TileCutting)| {
            let nothing = Sawn::default();
            let sawn = self.sawn.get(id).unwrap_or(&nothing);
            let kept = Bench { before, sawn, pieces: &[] }.kept();
            let problem = &before.problem;
            let lies = kept.iter().any(|kept| !kept.lying.is_empty());
            let tiles = kept.into_iter().filter(|_| lies);
            tiles.map(|kept| told(id, problem, kept.stock)).collect::<Vec<_>>()
        };
        self.now.cutting.iter().flat_map(of_kind).collect()
    }
}

fn told(id: &TileId, problem: &Problem, mut stock: Stock) -> Result<BegunTile, WorkFault> {
    let pieces = stock.places.iter().map(|place| piece_at(problem.pieces(), place).cloned());
    let pieces = pieces.collect::<Result<_, _>>()?;
    for (at, place) in stock.places.iter_mut().enumerate() {
        place.piece = at;
    }
    Ok(BegunTile {
        tile: id.clone(),
        width: problem.tile_width(),
        height: problem.tile_height(),
        kerf: problem.kerf(),
        stock,
        pieces,
    })
}

/// The piece that lies at a place of a tile: a place without one would be lost, and its piece cut again.
fn piece_at<'p>(pieces: &'p [Wanted], place: &Place) -> Result<&'p Wanted, WorkFault> {
    let none = || WorkFault::Ours(format!("a place of a tile that was cut into holds no piece: {place:?}"));
    pieces.get(place.piece).ok_or_else(none)
}

impl Relay<'_> {
    /// The plan for what is open, put together with what is cut; checked.
    ///
    /// # Errors
    ///
    /// When a piece cannot be cut from its tile, or a check finds fault.
    pub fn plan(&self) -> Result<LayoutOption, WorkFault> {
        let (mut now, mut sawn) = (self.planned.clone(), BTreeMap::new());
        for (id, cutting) in &mut now.cutting {
            let (begun, done) = self.begun(id, cutting)?;
            *cutting = begun;
            sawn.insert(id.clone(), done);
        }
        let (job, planned, measured) = (self.job, self.planned, self.measured);
        InField { job, planned, now: &now, measured, sawn: &sawn }.plan_again()
    }

    /// One kind of tile as a plan would have it that knows of nothing but what is cut.
    fn begun(&self, id: &TileId, of: &TileCutting) -> Result<(TileCutting, Sawn), WorkFault> {
        let problem = &of.problem;
        let size = (problem.tile_width(), problem.tile_height(), problem.kerf());
        let same = |begun: &&BegunTile| begun.tile == *id && (begun.width, begun.height, begun.kerf) == size;
        let (mut pieces, mut stock, mut done) = (Vec::new(), Vec::new(), Sawn::default());
        for begun in self.begun.iter().filter(same) {
            let (kept, here) = self.kept(begun, &mut pieces)?;
            let name = kept.begun.as_ref().map(|begun| begun.name.clone()).unwrap_or_default();
            done.tiles.push(Opened { stock: stock.len(), name, here, lost: Vec::new() });
            stock.push(kept);
        }
        let known: BTreeSet<String> = pieces.iter().map(|piece: &Wanted| piece.id.clone()).collect();
        for piece in problem.pieces().iter().filter(|piece| !known.contains(&piece.id)) {
            if self.use_of(&piece.id) == Some(UseOf::AsItIs) {
                done.elsewhere.insert(pieces.len());
                pieces.push(piece.clone());
            }
        }
        let problem = Problem::new(Demand {
            tile_width: size.0,
            tile_height: size.1,
            kerf: size.2,
            half_turn: problem.half_turn(),
            quarter_turn: problem.quarter_turn(),
            pieces,
            rack: Vec::new(),
        })
        .map_err(|faults| WorkFault::Cutting { tile: id.clone(), faults })?;
        let (bound, in_setting_order) = (stock.len(), stock.len());
        let plan = Plan { stock, bound, proof: Proof::default(), in_setting_order };
        Ok((TileCutting { full: of.full, problem, plan, open: None }, done))
    }

    /// A tile with what stays of it among `pieces`, and which those are.
    fn kept(
        &self,
        begun: &BegunTile,
        pieces: &mut Vec<Wanted>,
    ) -> Result<(Stock, BTreeSet<usize>), WorkFault> {
        let (mut places, mut here) = (Vec::new(), BTreeSet::new());
        let (name, written, mut gone) = match &begun.stock.begun {
            Some(Begun { name, written, gone }) => (name.clone(), written.clone(), gone.clone()),
            None => (String::new(), Vec::new(), Vec::new()),
        };
        for place in &begun.stock.places {
            let piece = piece_at(&begun.pieces, place)?;
            if self.use_of(&piece.id) == Some(UseOf::AsItIs) {
                here.insert(pieces.len());
                places.push(Place { piece: pieces.len(), ..place.clone() });
                pieces.push(piece.clone());
            } else {
                let cut = self.cut.get(&PieceId(piece.id.clone()));
                let entry = cut.map(|cut| cut.entry.clone()).unwrap_or_default();
                gone.push(Gone { piece: piece.id.clone(), at: place.at, entry });
            }
        }
        let begun_as = Some(Begun { name, written, gone });
        Ok((Stock { rack: None, begun: begun_as, places, cuts: begun.stock.cuts.clone() }, here))
    }

    fn use_of(&self, piece: &str) -> Option<UseOf> {
        self.cut.get(&PieceId(piece.to_owned())).map(|cut| cut.use_of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Rect, Sides};

    /// A tile with one piece on it, at a place that names the piece of this number.
    fn begun(piece: usize) -> BegunTile {
        let (zero, side) = (Length::ZERO, Length::mm(100));
        let at = Rect { left: zero, bottom: zero, right: side, top: side };
        let wanted = Wanted {
            id: "B1-1".to_owned(),
            width: side,
            height: side,
            factory: Sides::default(),
            alone: false,
        };
        let place = Place { piece, at, turn: crate::offcut::Turn::None };
        let stock = Stock { places: vec![place], ..Stock::default() };
        let tile = TileId("60 x 30".to_owned());
        BegunTile { tile, width: side, height: side, kerf: zero, stock, pieces: vec![wanted] }
    }

    #[test]
    fn a_place_without_a_piece_is_a_fault_and_no_place_left_out() {
        let (here, beyond) = (begun(0), begun(1));
        let at =
            |tile: &BegunTile| piece_at(&tile.pieces, &tile.stock.places[0]).map(|piece| piece.id.clone());
        assert_eq!(at(&here), Ok("B1-1".to_owned()));
        assert!(matches!(at(&beyond), Err(WorkFault::Ours(_))));
    }
}
