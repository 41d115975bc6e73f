//! A job at the saw: every cut piece in setting order, with what it is cut from and whether it has been cut.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use sha2::{Digest, Sha256};
use trade::geometry::{Point, Rect};
use trade::measure::{Length, Rounding, TileId, Unit};
use trade::offcut::{Axis, Label, Plan, Problem, Progress, Step, Stock, queue};
use trade::place::{Hole, Piece, PieceId};
use trade::search::{Sawn as InField, TileCutting};

use super::hands::Hands;
use crate::store::{Claim, CutRecord, EventId, Sawn, WasCut};
use crate::work::Planned;

/// The saw as it stands by one plan and one log.
pub struct Saw {
    pub planned: Arc<Planned>,
    /// In setting order.
    pub entries: Vec<Entry>,
    /// Cut pieces that the plan no longer has.
    pub left_over: Vec<CutRecord>,
    /// What was done and stands, oldest first.
    sawn: Sawn,
    /// What each kind of tile comes to.
    pub tally: BTreeMap<TileId, Tally>,
}

/// How many tiles of one kind the job takes, with what broke or was cut for a plan that is no longer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Tally {
    pub needed: usize,
    pub broken: usize,
    /// How many come in whole boxes for what the plan takes by itself; nothing where nobody has told how many a box
    /// holds.
    pub boxed: Option<usize>,
}

/// One piece that is cut.
pub struct Entry {
    /// Index into the plan's pieces.
    index: usize,
    /// What a cut of it would be kept as now.
    pub would_be: WasCut,
    /// Stands for all that is planned on its tile now; a tile begun before that plan keeps the name it had.
    arranged: String,
    /// What to do at the saw; nothing for a piece that was cut from another tile than the plan now says.
    pub step: Option<Step>,
    pub cut: Option<CutRecord>,
    /// Has to be cut from the same tile before.
    pub after: Option<PieceId>,
    /// What comes out of each of the step's leftovers.
    pub leaves: Vec<Left>,
}

/// What to do with one leftover.
pub enum Left {
    /// Waste.
    Bin,
    /// It is a piece already.
    ToSize { label: String, piece: PieceId },
    /// Kept for pieces still to be cut.
    Rack { label: String, pieces: Vec<PieceId> },
    /// All that would come out of it was cut elsewhere.
    Spare { label: String, pieces: Vec<PieceId> },
    /// It was kept, and nothing is planned on it any more.
    Free { label: String },
}

/// How a piece that was cut stands to the plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fits {
    /// It is what the plan wants.
    AsPlanned,
    /// It has another size.
    OtherSize,
    /// It has the size, but not its notches, tapers and holes, or is of another tile.
    OtherShape,
}

impl Fits {
    /// It is not what the plan wants.
    pub fn is_off(self) -> bool {
        self != Self::AsPlanned
    }
}

/// Why a cut cannot be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoCut {
    /// It was cut before.
    AlreadyCut(Box<CutRecord>),
    /// Another piece has to be cut from the same tile first.
    After(PieceId),
    /// Somebody else has it in hand.
    InHand(Box<Claim>),
    /// The plan is no longer the one that the page was drawn from.
    PlanChanged,
}

/// Why a cut cannot be taken back.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoWayBack {
    /// It was taken back before.
    NotCut,
    /// That piece was cut from what it left.
    Before(PieceId),
}

/// Everything about one tile cut into.
struct Tile<'p> {
    id: &'p TileId,
    stock: &'p Stock,
    print: String,
    arranged: String,
    number: usize,
}

impl Saw {
    /// The saw by this plan, after this was done.
    pub fn new(planned: Arc<Planned>, sawn: Sawn) -> Self {
        let records = &sawn.records;
        let pieces = &planned.option.pieces;
        let places: BTreeMap<&PieceId, usize> = pieces
            .iter()
            .enumerate()
            .filter(|(_, piece)| !piece.full)
            .map(|(i, piece)| (&piece.id, i))
            .collect();
        let cut: BTreeMap<&PieceId, &CutRecord> =
            records.iter().map(|record| (&record.piece, record)).collect();
        let tiles = tiles(&planned, &sawn);
        let mut tally = BTreeMap::new();
        let mut entries = Vec::with_capacity(places.len());
        for (id, cutting) in &planned.option.cutting {
            let of_kind: Vec<&Tile<'_>> = tiles.iter().filter(|tile| tile.id == id).collect();
            let kind = Kind {
                problem: &cutting.problem,
                plan: &cutting.plan,
                tiles: of_kind,
                cut: &cut,
                unit: planned.job.unit,
            };
            tally.insert(id.clone(), kind.tally(&planned, cutting, id, &sawn));
            entries.extend(kind.entries(pieces, &places));
        }
        entries.sort_by_key(|entry: &Entry| entry.index);
        let left_over =
            records.iter().filter(|record| !places.contains_key(&record.piece)).cloned().collect();
        drop((cut, tiles, places));
        Self { planned, entries, left_over, sawn, tally }
    }

    /// The piece of an entry.
    pub fn piece(&self, entry: &Entry) -> &Piece {
        &self.planned.option.pieces[entry.index]
    }

    /// The entry of a piece.
    pub fn entry(&self, id: &PieceId) -> Option<&Entry> {
        self.entries.iter().find(|entry| self.piece(entry).id == *id)
    }

    /// What was done and stands.
    pub fn sawn(&self) -> &Sawn {
        &self.sawn
    }

    /// What was cut by this plan, for planning again what is open.
    pub fn in_field(&self) -> BTreeMap<TileId, InField> {
        let tiles = tiles(&self.planned, &self.sawn);
        let cut: BTreeMap<&PieceId, &CutRecord> =
            self.sawn.records.iter().map(|record| (&record.piece, record)).collect();
        let of_kind = |(id, cutting): (&TileId, &TileCutting)| {
            let tiles: Vec<&Tile<'_>> = tiles.iter().filter(|tile| tile.id == id).collect();
            let names = tiles.iter().enumerate().map(|(at, tile)| (at, tile.print.clone())).collect();
            let (problem, plan, unit) = (&cutting.problem, &cutting.plan, self.planned.job.unit);
            let progress = Kind { problem, plan, tiles, cut: &cut, unit }.progress();
            (id.clone(), InField { progress, names })
        };
        self.planned.option.cutting.iter().map(of_kind).collect()
    }

    /// What these hands cut next: what they hold, or else the first that can be cut and nobody holds.
    pub fn next(&self, hands: &Hands) -> Option<&Entry> {
        let held = hands.own().and_then(|claim| self.entry(&claim.piece));
        held.filter(|entry| entry.is_ready()).or_else(|| self.first_ready(hands, Entry::is_ready))
    }

    /// What these hands take up once they have cut `cut`.
    pub fn next_after(&self, cut: &PieceId, hands: &Hands) -> Option<&Entry> {
        let frees = |entry: &Entry| {
            entry.cut.is_none()
                && self.piece(entry).id != *cut
                && entry.after.as_ref().is_none_or(|before| before == cut)
        };
        self.first_ready(hands, frees)
    }

    fn first_ready(&self, hands: &Hands, ready: impl Fn(&Entry) -> bool) -> Option<&Entry> {
        self.entries.iter().find(|entry| ready(entry) && hands.others(&self.piece(entry).id).is_none())
    }

    /// The cut made last.
    pub fn last_cut(&self) -> Option<&CutRecord> {
        self.sawn.records.last()
    }

    /// The tile that broke last.
    pub fn last_loss(&self) -> Option<&CutRecord> {
        self.sawn.losses.last()
    }

    /// What is lost when a piece breaks now, and the cut that is none any more.
    pub fn would_lose(entry: &Entry) -> (WasCut, Option<EventId>) {
        match &entry.cut {
            Some(record) => (record.was.clone(), Some(record.event.clone())),
            None => (entry.would_be.clone(), None),
        }
    }

    /// Whether a piece can have broken that a page showed to these hands with `print`, cut or not as `cut` says.
    pub fn may_break(
        &self,
        id: &PieceId,
        print: &str,
        cut: Option<&EventId>,
        hands: &Hands,
    ) -> Result<(), NoCut> {
        let entry = self.entry(id).ok_or(NoCut::PlanChanged)?;
        if entry.cut.as_ref().map(|record| &record.event) != cut {
            return Err(NoCut::PlanChanged);
        }
        if cut.is_some() { Ok(()) } else { self.may_cut(id, print, hands) }
    }

    /// Whether a loss may be taken back: nothing was cut since of the tile that took the lost one's place.
    pub fn may_mend(&self, piece: &PieceId, event: &EventId) -> Result<(), NoWayBack> {
        let asked = |record: &&CutRecord| record.event == *event && record.piece == *piece;
        let loss = self.sawn.losses.iter().find(asked).ok_or(NoWayBack::NotCut)?;
        let instead = print_again(&loss.was.stock_print);
        let again = |record: &&CutRecord| {
            record.was.stock_print == instead || record.piece == *piece && record.at >= loss.at
        };
        let mut cuts = self.sawn.records.iter().chain(&self.sawn.losses);
        match cuts.find(|record| record.event != *event && again(record)) {
            Some(other) => Err(NoWayBack::Before(other.piece.clone())),
            None => Ok(()),
        }
    }

    /// Whether a piece may be cut now, by a page that showed `print` to these hands.
    pub fn may_cut(&self, id: &PieceId, print: &str, hands: &Hands) -> Result<(), NoCut> {
        let entry = self.entry(id).ok_or(NoCut::PlanChanged)?;
        if let Some(record) = &entry.cut {
            return Err(NoCut::AlreadyCut(Box::new(record.clone())));
        }
        let measured_since = !self.planned.is_made_with(&self.sawn.measured);
        if measured_since || entry.print() != print {
            return Err(NoCut::PlanChanged);
        }
        if let Some(claim) = hands.others(id) {
            return Err(NoCut::InHand(Box::new(claim.clone())));
        }
        entry.after.clone().map_or(Ok(()), |before| Err(NoCut::After(before)))
    }

    /// Whether a cut may be taken back: nothing was cut since from what it left, as far as the plan still counts
    /// on that.
    pub fn may_take_back(&self, piece: &PieceId, event: &EventId) -> Result<(), NoWayBack> {
        let asked = |record: &CutRecord| record.event == *event && record.piece == *piece;
        let place = self.sawn.records.iter().position(asked).ok_or(NoWayBack::NotCut)?;
        let record = &self.sawn.records[place];
        let by_plan = self
            .entry(&record.piece)
            .is_some_and(|entry| entry.would_be.stock_print == record.was.stock_print);
        let since = self.sawn.records[place + 1..].iter();
        let mut of_same_tile = since.filter(|other| other.was.stock_print == record.was.stock_print);
        match of_same_tile.next() {
            Some(other) if by_plan => Err(NoWayBack::Before(other.piece.clone())),
            _ => Ok(()),
        }
    }
}

impl Entry {
    /// It is not cut, and can be.
    fn is_ready(&self) -> bool {
        self.cut.is_none() && self.after.is_none()
    }

    /// Stands for all that the page of this piece says: a press on a page of another plan is told by it.
    pub fn print(&self) -> String {
        format!("{}-{}", self.arranged, self.would_be.shape)
    }

    /// How it stands to the plan, where it was cut; a difference that the tape does not show is none.
    pub fn fits(&self, unit: Unit) -> Option<Fits> {
        let (was, wanted) = (&self.cut.as_ref()?.was, &self.would_be);
        let shown = |of: &WasCut| [of.width, of.height].map(|side| side.on_tape(unit, Rounding::FitsIn));
        Some(if shown(was) != shown(wanted) {
            Fits::OtherSize
        } else if was.shape != wanted.shape {
            Fits::OtherShape
        } else {
            Fits::AsPlanned
        })
    }
}

/// The pieces of one kind of tile.
struct Kind<'p> {
    problem: &'p Problem,
    plan: &'p Plan,
    /// In the order of the plan.
    tiles: Vec<&'p Tile<'p>>,
    cut: &'p BTreeMap<&'p PieceId, &'p CutRecord>,
    unit: Unit,
}

impl Kind<'_> {
    fn entries(&self, pieces: &[Piece], places: &BTreeMap<&PieceId, usize>) -> Vec<Entry> {
        let progress = self.progress();
        let mut steps: BTreeMap<usize, Step> =
            queue(self.problem, self.plan, &progress).into_iter().map(|step| (step.piece, step)).collect();
        let mut entries = Vec::new();
        for tile in &self.tiles {
            for place in &tile.stock.places {
                let id = self.id(place.piece);
                let Some(&index) = places.get(&id) else { continue };
                let wanted = &pieces[index].bounds;
                let step = steps.remove(&place.piece);
                let leaves = step.iter().flat_map(|step| &step.leaves).map(|left| self.left(left));
                entries.push(Entry {
                    index,
                    would_be: WasCut {
                        tile: tile.id.clone(),
                        width: wanted.width(),
                        height: wanted.height(),
                        shape: shape_print(&pieces[index], self.unit),
                        stock: tile.number,
                        stock_print: tile.print.clone(),
                    },
                    arranged: tile.arranged.clone(),
                    leaves: leaves.collect(),
                    after: step.as_ref().and_then(|step| step.after).map(|before| self.id(before)),
                    step,
                    cut: self.cut.get(&id).map(|record| (*record).clone()),
                });
            }
        }
        entries
    }

    /// A piece counts as cut from its tile only where all that is planned on that tile is as it was then.
    fn progress(&self) -> Progress {
        let (mut here, mut elsewhere) = (BTreeSet::new(), BTreeSet::new());
        for tile in &self.tiles {
            for place in &tile.stock.places {
                match self.cut.get(&self.id(place.piece)) {
                    Some(record) if record.was.stock_print == tile.print => drop(here.insert(place.piece)),
                    Some(_) => drop(elsewhere.insert(place.piece)),
                    None => {}
                }
            }
        }
        Progress { here, elsewhere }
    }

    fn tally(&self, planned: &Planned, cutting: &TileCutting, id: &TileId, sawn: &Sawn) -> Tally {
        let elsewhere = self.progress().elsewhere;
        let is_needed =
            |tile: &&&Tile<'_>| tile.stock.places.iter().any(|place| !elsewhere.contains(&place.piece));
        let planned_tiles = self.tiles.iter().filter(is_needed).count();
        let known: BTreeSet<&str> = self.tiles.iter().map(|tile| tile.print.as_str()).collect();
        let begun = sawn.records.iter().chain(&sawn.losses).filter(|record| record.was.tile == *id);
        let others: BTreeSet<&str> =
            begun.map(|record| &*record.was.stock_print).filter(|print| !known.contains(print)).collect();
        let per_box = planned.job.tiles.get(id).and_then(|tile| tile.per_box);
        let per_box = per_box.and_then(|count| usize::try_from(count).ok()).filter(|count| *count > 0);
        Tally {
            needed: cutting.full + planned_tiles + others.len(),
            broken: sawn.losses.iter().filter(|record| record.was.tile == *id).count(),
            boxed: per_box.map(|count| cutting.bought().div_ceil(count) * count),
        }
    }

    fn left(&self, left: &trade::offcut::Leftover) -> Left {
        let Some(label) = left.label else { return Left::Bin };
        let stock = self.plan.stock.get(label.stock);
        let label = self.label(label);
        let to_size = stock.and_then(|stock| stock.places.iter().find(|place| place.at == left.part.at));
        if let Some(place) = to_size {
            return Left::ToSize { label, piece: self.id(place.piece) };
        }
        let pieces: Vec<PieceId> = left.holds.iter().map(|&piece| self.id(piece)).collect();
        let elsewhere = |piece: &PieceId| {
            let own =
                |tile: &&&Tile<'_>| tile.stock.places.iter().any(|place| self.id(place.piece) == *piece);
            let print = self.tiles.iter().find(own).map(|tile| &tile.print);
            self.cut.get(piece).is_some_and(|record| Some(&record.was.stock_print) != print)
        };
        if pieces.is_empty() {
            Left::Free { label }
        } else if pieces.iter().all(elsewhere) {
            Left::Spare { label, pieces }
        } else {
            Left::Rack { label, pieces }
        }
    }

    fn label(&self, label: Label) -> String {
        written(self.tiles.get(label.stock).map_or(0, |tile| tile.number), label.nth)
    }

    fn id(&self, piece: usize) -> PieceId {
        PieceId(self.problem.pieces()[piece].id.clone())
    }
}

/// What is written on an offcut: `K7`, and where several of one tile lie there at once `K7b`, `K7c`.
pub fn written(number: usize, nth: usize) -> String {
    const LETTERS: &[u8] = b"abcdefghijklmnopqrstuvwxyz";
    match nth {
        0 => format!("K{number}"),
        _ => match LETTERS.get(nth) {
            Some(&letter) => format!("K{number}{}", char::from(letter)),
            None => format!("K{number}-{nth}"),
        },
    }
}

/// Every tile cut into, numbered through the job. A tile already begun keeps its number, and no other tile takes a
/// number that is on the rack.
///
/// What was planned on a tile that broke is planned on another, as often as one broke.
fn tiles<'p>(planned: &'p Planned, sawn: &Sawn) -> Vec<Tile<'p>> {
    let lost: BTreeSet<&str> = sawn.losses.iter().map(|loss| loss.was.stock_print.as_str()).collect();
    let done = sawn.records.iter().chain(&sawn.losses);
    let begun: BTreeMap<&str, usize> =
        done.map(|record| (record.was.stock_print.as_str(), record.was.stock)).collect();
    let taken: BTreeSet<usize> = begun.values().copied().collect();
    let mut free = (1..).filter(|number| !taken.contains(number));
    let cuttings = planned.option.cutting.iter();
    let stocks =
        cuttings.flat_map(|(id, cutting)| cutting.plan.stock.iter().map(move |stock| (id, cutting, stock)));
    let tile = |(id, cutting, stock): (&'p TileId, &'p TileCutting, &'p Stock)| {
        let arranged = stock_print(id, &cutting.problem, stock);
        let mut print = stock.begun.as_ref().map_or_else(|| arranged.clone(), |begun| begun.name.clone());
        let whole = print.clone();
        // One print after the other, none of them twice.
        for _ in 0..lost.len() {
            if lost.contains(print.as_str()) {
                print = print_again(&print);
            }
        }
        let number = begun.get(print.as_str()).copied().or_else(|| free.next()).unwrap_or_default();
        // On another tile than it was, the same arrangement is another one.
        let arranged = if print == whole { arranged } else { format!("{arranged}{print}") };
        Tile { id, stock, print, arranged, number }
    };
    stocks.map(tile).collect()
}

/// Stands for all that is planned on a tile.
fn stock_print(tile: &TileId, problem: &Problem, stock: &Stock) -> String {
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

/// Stands for the tile that takes the place of a lost one.
fn print_again(lost: &str) -> String {
    let mut print = Print::new("again");
    print.words(lost);
    print.finish()
}

/// Stands for a piece's outline and holes as the tape shows them, wherever it goes.
fn shape_print(piece: &Piece, unit: Unit) -> String {
    let mut print = Print::new(&piece.tile.0);
    let from_corner = |points: &[Point]| -> Vec<Length> {
        let from_corner = points.iter().flat_map(|p| [p.x - piece.bounds.left, p.y - piece.bounds.bottom]);
        from_corner.map(|length| length.on_tape(unit, Rounding::Nearest)).collect()
    };
    print.lengths(&from_corner(&piece.outline));
    for hole in &piece.holes {
        match hole {
            Hole::Round { centre, diameter } => {
                print.words("round");
                print.lengths(&from_corner(&[*centre]));
                print.numbers([diameter.units()]);
            }
            Hole::Polygon(corners) => {
                print.words("polygon");
                print.lengths(&from_corner(corners));
            }
        }
    }
    print.finish()
}

/// A short name for a list of words and numbers, equal for equal lists.
struct Print(Sha256);

impl Print {
    fn new(first: &str) -> Self {
        let mut print = Self(Sha256::new());
        print.words(first);
        print
    }

    fn words(&mut self, words: &str) {
        self.0.update(words.as_bytes());
        self.0.update([0]);
    }

    fn numbers<const N: usize>(&mut self, numbers: [i64; N]) {
        numbers.into_iter().for_each(|number| self.0.update(number.to_be_bytes()));
    }

    fn rect(&mut self, rect: &Rect) {
        self.numbers([rect.left, rect.bottom, rect.right, rect.top].map(|length| length.units()));
    }

    fn lengths(&mut self, lengths: &[Length]) {
        lengths.iter().for_each(|length| self.numbers([length.units()]));
    }

    fn finish(self) -> String {
        self.0.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
    }
}
