//! Every tile cut into, numbered through the job, and what comes of each: also where one broke.
//!
//! What was to come of the part that broke comes of another tile. What had come away from that part before lies on the
//! rack and is used as planned.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use trade::geometry::Rect;
use trade::measure::TileId;
use trade::offcut::{Axis, Lying, Plan, Problem, Progress, Step, Stock, lying, queue_of};
use trade::place::PieceId;
use trade::search::{Lost, LostPart, Opened};

use super::print::Print;
use crate::store::{CutRecord, EventId, Sawn};
use crate::work::Planned;

/// Everything about one tile cut into.
pub struct Tile<'p> {
    pub id: &'p TileId,
    /// Index into the plan's stock.
    pub nth: usize,
    pub stock: Cow<'p, Stock>,
    pub print: String,
    pub number: usize,
    /// The loss that it makes up for; nothing for a tile of the plan.
    makes_up_for: Option<i64>,
    /// What comes of it, as indices into the problem's pieces.
    pub wanted: BTreeSet<usize>,
    /// What is lost of it: pieces that came of it, and parts that broke on the saw.
    lost: Vec<Lost>,
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
        let mut progress = Progress { here: self.gone().collect(), elsewhere: BTreeSet::new() };
        for piece in self.stock.places.iter().map(|place| place.piece) {
            if !self.wanted.contains(&piece) {
                if !progress.here.contains(&piece) {
                    progress.elsewhere.insert(piece);
                }
                continue;
            }
            // A piece counts as cut from its tile only where all that is planned on that tile is as it was then; and not
            // where the plan was made as if that cut were none.
            let is_here = |record: &CutRecord| {
                record.was.stock_print == self.print && !is_gone(&self.stock, &record.event)
            };
            match cut.get(&PieceId(problem.pieces()[piece].id.clone())) {
                Some(record) if is_here(record) => drop(progress.here.insert(piece)),
                Some(_) => drop(progress.elsewhere.insert(piece)),
                None => {}
            }
        }
        progress
    }

    /// What was really done to it, for planning again what is open; nothing where it is whole.
    pub fn opened(&self, problem: &Problem, cut: &BTreeMap<&PieceId, &CutRecord>) -> Option<Opened> {
        let mut here = self.progress(problem, cut).here;
        let was_cut = !here.is_empty() || !self.stock.gone().is_empty();
        here.retain(|piece| self.gone().all(|gone| gone != *piece));
        let lost = self.lost.clone();
        was_cut.then(|| Opened { stock: self.nth, name: self.print.clone(), here, lost })
    }

    /// What to do at the saw for all that comes of it.
    pub fn steps(&self, problem: &Problem, cut: &BTreeMap<&PieceId, &CutRecord>) -> Vec<Step> {
        queue_of(problem, (self.nth, &self.stock), &self.progress(problem, cut))
    }

    /// What lies of it on the rack.
    pub fn lying(&self, problem: &Problem, cut: &BTreeMap<&PieceId, &CutRecord>) -> Vec<Lying> {
        let mut lying = lying(problem, (self.nth, &self.stock), &self.progress(problem, cut));
        lying.retain(|offcut| self.lost.iter().all(|lost| lost.part != LostPart::OnSaw(offcut.part.at)));
        lying
    }

    /// What came of it and is lost.
    fn gone(&self) -> impl Iterator<Item = usize> + '_ {
        self.lost.iter().filter(|lost| lost.part == LostPart::Piece).map(|lost| lost.piece)
    }
}

impl<'p> Kind<'p> {
    /// The tile that the plan has there, and one more for each time that one of them broke.
    fn tiles(&self, nth: usize, sawn: &Sawn) -> Vec<Tile<'p>> {
        let stock = &self.plan.stock[nth];
        let tile = |print, (stock, wanted), makes_up_for| Tile {
            id: self.id,
            nth,
            stock,
            print,
            number: 0,
            makes_up_for,
            wanted,
            lost: Vec::new(),
        };
        let all = stock.places.iter().map(|place| place.piece).collect();
        // A tile begun before this plan was made keeps the name that the log has for it.
        let name = stock.begun.as_ref().map(|begun| begun.name.clone());
        let print = name.unwrap_or_else(|| stock_print(self.id, self.problem, stock));
        let mut tiles = vec![tile(print, (Cow::Borrowed(stock), all), None)];
        // What was gone when the plan was made is no part of it.
        let is_new = |loss: &&CutRecord| !is_gone(stock, loss.takes_back.as_ref().unwrap_or(&loss.event));
        for loss in sawn.losses.iter().filter(is_new) {
            let of = tiles.iter_mut().find(|tile| tile.print == loss.was.stock_print);
            if let Some(moved) = of.and_then(|tile| self.lose(tile, loss)) {
                let another = Cow::Owned(stock.on_another_tile());
                tiles.push(tile(print_again(loss), (another, moved), Some(loss.sequence)));
            }
        }
        tiles
    }

    /// Takes away from a tile what broke of it; that has to come of another.
    fn lose(&self, tile: &mut Tile<'_>, loss: &CutRecord) -> Option<BTreeSet<usize>> {
        let at = |piece: usize| self.problem.pieces()[piece].id == loss.piece.0;
        let piece = tile.wanted.iter().copied().find(|piece| at(*piece))?;
        let lost = |part, entry: &EventId| Lost { piece, part, entry: entry.as_str().to_owned() };
        if let Some(cut) = &loss.takes_back {
            tile.wanted.remove(&piece);
            tile.lost.push(lost(LostPart::Piece, cut));
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
        tile.lost.push(lost(LostPart::OnSaw(on_saw), &loss.event));
        Some(moved)
    }

    /// What lay on the saw when a piece was to be cut: the whole tile, or an offcut of it.
    fn on_saw(&self, tile: &Tile<'_>, piece: usize) -> Option<Rect> {
        let mut progress = tile.progress(self.problem, self.cut);
        // It may have been cut since, from the tile that took the place of this one.
        progress.elsewhere.remove(&piece);
        let steps = queue_of(self.problem, (tile.nth, &tile.stock), &progress);
        steps.into_iter().find(|step| step.piece == piece).map(|step| step.on_saw.at)
    }
}

/// Whether what this entry of the log tells of was gone of a tile when it was planned.
fn is_gone(stock: &Stock, entry: &EventId) -> bool {
    stock.gone().iter().any(|gone| gone.entry == entry.as_str())
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
