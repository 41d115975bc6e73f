//! Every tile cut into, numbered through the job, and what comes of each: also where one broke.
//!
//! What was to come of the part that broke comes of another tile. What had come away from that part before lies on the
//! rack and is used as planned.

use std::collections::{BTreeMap, BTreeSet};

use trade::geometry::Rect;
use trade::measure::TileId;
use trade::offcut::{Axis, Plan, Problem, Progress, Stock, queue};
use trade::place::PieceId;
use trade::search::Opened;

use super::print::Print;
use crate::store::{CutRecord, Sawn};
use crate::work::Planned;

/// Everything about one tile cut into.
pub struct Tile<'p> {
    pub id: &'p TileId,
    /// Index into the plan's stock.
    pub nth: usize,
    pub stock: &'p Stock,
    pub print: String,
    pub number: usize,
    /// The loss that it makes up for; nothing for a tile of the plan.
    makes_up_for: Option<i64>,
    /// What comes of it, as indices into the problem's pieces.
    pub wanted: BTreeSet<usize>,
    /// What came of it and broke after.
    gone: BTreeSet<usize>,
    /// The parts of it that broke on the saw.
    pub lost: Vec<Rect>,
}

/// What is left of tiles of one kind is read from these.
struct Kind<'p> {
    id: &'p TileId,
    problem: &'p Problem,
    plan: &'p Plan,
    cut: &'p BTreeMap<&'p PieceId, &'p CutRecord>,
}

/// Every tile cut into. One begun keeps its number, and no other tile takes a number that is on the rack. Those of the
/// plan are numbered before those that make up for a loss, and these as they broke, so that a loss changes no number that
/// a page has said.
pub fn tiles<'p>(
    planned: &'p Planned,
    sawn: &Sawn,
    cut: &'p BTreeMap<&'p PieceId, &'p CutRecord>,
) -> Vec<Tile<'p>> {
    let done = sawn.records.iter().chain(&sawn.losses);
    let begun: BTreeMap<&str, usize> =
        done.map(|record| (record.was.stock_print.as_str(), record.was.stock)).collect();
    let taken: BTreeSet<usize> = begun.values().copied().collect();
    let mut free = (1..).filter(|number| !taken.contains(number));
    let kinds = planned.option.cutting.iter().map(|(id, cutting)| Kind {
        id,
        problem: &cutting.problem,
        plan: &cutting.plan,
        cut,
    });
    let mut tiles: Vec<Tile<'p>> = kinds
        .flat_map(|kind| {
            (0..kind.plan.stock.len()).flat_map(move |nth| kind.tiles(nth, sawn)).collect::<Vec<_>>()
        })
        .collect();
    let mut in_turn: Vec<&mut Tile<'p>> = tiles.iter_mut().collect();
    in_turn.sort_by_key(|tile| tile.makes_up_for);
    for tile in in_turn {
        tile.number = begun.get(tile.print.as_str()).copied().or_else(|| free.next()).unwrap_or_default();
    }
    tiles
}

/// Stands for the tile that takes the place of a lost one.
pub fn print_again(loss: &CutRecord) -> String {
    let mut print = Print::new("again");
    print.words(&loss.was.stock_print);
    print.words(loss.event.as_str());
    print.finish()
}

impl Tile<'_> {
    /// What is cut of it, and what comes of others: for this tile alone.
    pub fn progress(&self, problem: &Problem, cut: &BTreeMap<&PieceId, &CutRecord>) -> Progress {
        let mut progress = Progress { here: self.gone.clone(), elsewhere: BTreeSet::new() };
        for piece in self.stock.places.iter().map(|place| place.piece) {
            if !self.wanted.contains(&piece) {
                if !self.gone.contains(&piece) {
                    progress.elsewhere.insert(piece);
                }
                continue;
            }
            // A piece counts as cut from its tile only where all that is planned on that tile is as it was then.
            match cut.get(&PieceId(problem.pieces()[piece].id.clone())) {
                Some(record) if record.was.stock_print == self.print => drop(progress.here.insert(piece)),
                Some(_) => drop(progress.elsewhere.insert(piece)),
                None => {}
            }
        }
        progress
    }

    /// What was really done to it, for planning again what is open; nothing where it is whole.
    pub fn opened(&self, problem: &Problem, cut: &BTreeMap<&PieceId, &CutRecord>) -> Option<Opened> {
        let mut progress = self.progress(problem, cut);
        progress.here.retain(|piece| !self.gone.contains(piece));
        let opened = Opened {
            stock: self.nth,
            name: self.print.clone(),
            here: progress.here,
            broken: !self.gone.is_empty() || !self.lost.is_empty(),
        };
        (!opened.here.is_empty()).then_some(opened)
    }
}

impl<'p> Kind<'p> {
    /// The tile that the plan has there, and one more for each time that one of them broke.
    fn tiles(&self, nth: usize, sawn: &Sawn) -> Vec<Tile<'p>> {
        let stock = &self.plan.stock[nth];
        let tile = |print, wanted, makes_up_for| Tile {
            id: self.id,
            nth,
            stock,
            print,
            number: 0,
            makes_up_for,
            wanted,
            gone: BTreeSet::new(),
            lost: Vec::new(),
        };
        let all = stock.places.iter().map(|place| place.piece).collect();
        // A tile begun before this plan was made keeps the name that the log has for it.
        let name = stock.begun.as_ref().map(|begun| begun.name.clone());
        let print = name.unwrap_or_else(|| stock_print(self.id, self.problem, stock));
        let mut tiles = vec![tile(print, all, None)];
        for loss in &sawn.losses {
            let of = tiles.iter_mut().find(|tile| tile.print == loss.was.stock_print);
            if let Some(moved) = of.and_then(|tile| self.lose(tile, loss)) {
                tiles.push(tile(print_again(loss), moved, Some(loss.sequence)));
            }
        }
        tiles
    }

    /// Takes away from a tile what broke of it; that has to come of another.
    fn lose(&self, tile: &mut Tile<'_>, loss: &CutRecord) -> Option<BTreeSet<usize>> {
        let at = |piece: usize| self.problem.pieces()[piece].id == loss.piece.0;
        let piece = tile.wanted.iter().copied().find(|piece| at(*piece))?;
        if loss.of_cut {
            tile.wanted.remove(&piece);
            tile.gone.insert(piece);
            return Some(BTreeSet::from([piece]));
        }
        let on_saw = self.on_saw(tile, piece)?;
        let inside = |piece: &usize| {
            let mut places = tile.stock.places.iter();
            places.any(|place| place.piece == *piece && on_saw.holds(&place.at))
        };
        let (moved, stay): (BTreeSet<usize>, BTreeSet<usize>) =
            tile.wanted.iter().copied().partition(|piece| inside(piece));
        tile.wanted = stay;
        tile.lost.push(on_saw);
        Some(moved)
    }

    /// What lay on the saw when a piece was to be cut: the whole tile, or an offcut of it.
    fn on_saw(&self, tile: &Tile<'_>, piece: usize) -> Option<Rect> {
        let mut progress = tile.progress(self.problem, self.cut);
        // It may have been cut since, from the tile that took the place of this one.
        progress.elsewhere.remove(&piece);
        let mut steps = queue(self.problem, self.plan, &progress).into_iter();
        steps.find(|step| step.stock == tile.nth && step.piece == piece).map(|step| step.on_saw.at)
    }
}

/// Stands for all that is planned on a tile.
pub fn stock_print(tile: &TileId, problem: &Problem, stock: &Stock) -> String {
    let mut print = Print::new(&tile.0);
    print.numbers([problem.tile_width(), problem.tile_height(), problem.kerf()].map(|length| length.units()));
    for place in &stock.places {
        print.words(&problem.pieces()[place.piece].id);
        print.rect(&place.at);
        print.numbers([i64::from(place.turn.degrees())]);
    }
    for cut in &stock.cuts {
        print.words(match cut.across {
            Axis::X => "x",
            Axis::Y => "y",
        });
        print.rect(&cut.part);
        print.numbers([cut.at.units()]);
    }
    print.finish()
}
