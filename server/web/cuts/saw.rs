//! A job at the saw: every cut piece in setting order, with what it is cut from and whether it has been cut.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use trade::cure::{Instant, Span};
use trade::measure::{Rounding, TileId, Unit};
use trade::offcut::{Leftover, Lying, Part, Problem, Step};
use trade::place::{Piece, PieceId};
use trade::search::{Sawn as Done, TileCutting};

use super::hands::Hands;
use super::print::{PagePrint, Print, shape_print};
use super::tiles::{Tile, print_again, stock_print, tiles};
use crate::store::{Claim, CutRecord, EventId, Fate, LaidRun, Sawn, Trim, WasCut};
use crate::work::Planned;

/// Within so long a second "Broke it" is taken for the same one pressed twice, until somebody says otherwise: nobody
/// fetches a tile, marks it and breaks it sooner.
const TWICE_BY_MISTAKE: Span = Span::from_millis(20_000);

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
    /// The tiles that were or will be cut into.
    cut_into: BTreeMap<TileId, BTreeSet<String>>,
    /// The offcuts on the rack.
    pub rack: Vec<Racked>,
}

/// An offcut on the rack.
pub struct Racked {
    pub label: String,
    pub tile: TileId,
    /// As it lay on the saw.
    pub part: Part,
    /// What is still to come out of it; nothing where it is spare.
    pub waiting: Vec<PieceId>,
    /// The piece that left it.
    pub from: PieceId,
}

/// How many tiles of one kind the job takes, with what broke or was cut for a plan that is no longer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Tally {
    pub needed: usize,
    pub broken: usize,
    /// Pieces that were cut, did not fit and are cut anew.
    pub in_vain: usize,
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
    /// Stands for all that is planned now on a tile that was begun before; a whole one is named by that itself.
    arranged: Option<String>,
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
    /// It was trimmed before, and fits.
    AlreadyTrimmed(Box<Trim>),
    /// Another piece has to be cut from the same tile first.
    After(PieceId),
    /// Somebody else has it in hand.
    InHand(Box<Claim>),
    /// The plan is no longer the one that the page was drawn from.
    PlanChanged,
    /// It hangs on the wall, in that run.
    Hangs(String),
    /// The same hand said so a moment ago: it is asked whether another one broke.
    JustBroke,
}

/// Why a cut cannot be taken back.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoWayBack {
    /// It was taken back before.
    NotCut,
    /// That piece was cut from what it left.
    Before(PieceId),
    /// It hangs on the wall, in that run.
    Hangs(String),
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
        let tiles = tiles(&planned, &sawn, &cut);
        let (mut tally, mut cut_into, mut rack) = (BTreeMap::new(), BTreeMap::new(), Vec::new());
        let mut entries = Vec::with_capacity(places.len());
        for (id, cutting) in &planned.option.cutting {
            let of_kind: Vec<&Tile<'_>> = tiles.iter().filter(|tile| tile.id == id).collect();
            let kind = Kind { problem: &cutting.problem, tiles: of_kind, cut: &cut, unit: planned.job.unit };
            let into = kind.cut_into(id, &sawn);
            tally.insert(id.clone(), tally_of(&planned, (id, cutting), into.len(), &sawn));
            cut_into.insert(id.clone(), into);
            let (of_kind, racked) = kind.entries(pieces, &places);
            entries.extend(of_kind);
            rack.extend(racked);
        }
        entries.sort_by_key(|entry: &Entry| entry.index);
        let left_over =
            records.iter().filter(|record| !places.contains_key(&record.piece)).cloned().collect();
        drop((tiles, places));
        drop(cut);
        Self { planned, entries, left_over, sawn, tally, cut_into, rack }
    }

    /// How many tiles of each kind the job takes with these pieces too, which were cut for nothing.
    pub fn needed_with(&self, wasted: &[CutRecord]) -> BTreeMap<TileId, usize> {
        let mut into = self.cut_into.clone();
        for record in wasted {
            into.entry(record.was.tile.clone()).or_default().insert(record.was.stock_print.clone());
        }
        let full = |tile: &TileId| self.planned.option.cutting.get(tile).map_or(0, |cutting| cutting.full);
        into.into_iter().map(|(tile, into)| (tile.clone(), full(&tile) + into.len())).collect()
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
    pub fn in_field(&self) -> BTreeMap<TileId, Done> {
        let cut: BTreeMap<&PieceId, &CutRecord> =
            self.sawn.records.iter().map(|record| (&record.piece, record)).collect();
        let tiles = tiles(&self.planned, &self.sawn, &cut);
        let of_kind = |(id, cutting): (&TileId, &TileCutting)| {
            let problem = &cutting.problem;
            let of_kind = tiles.iter().filter(|tile| tile.id == id);
            let opened: Vec<_> = of_kind.filter_map(|tile| tile.opened(problem, &cut)).collect();
            let is_cut = |piece: &usize| cut.contains_key(&PieceId(problem.pieces()[*piece].id.clone()));
            let is_here = |piece: &usize| opened.iter().any(|tile| tile.here.contains(piece));
            let all = 0..problem.pieces().len();
            let elsewhere = all.filter(is_cut).filter(|piece| !is_here(piece)).collect();
            (id.clone(), Done { tiles: opened, elsewhere })
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

    /// The run that a piece hangs in.
    pub fn hangs_in(&self, piece: &PieceId) -> Option<&LaidRun> {
        self.sawn.hangs_in(piece)
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
        if let Some(laid) = self.hangs_in(id) {
            return Err(NoCut::Hangs(laid.run.clone()));
        }
        if entry.cut.as_ref().map(|record| &record.event) != cut {
            return Err(NoCut::PlanChanged);
        }
        if cut.is_some() { Ok(()) } else { self.may_cut(id, print, hands) }
    }

    /// That this piece broke, as the same device said a moment before `now`, where nothing was cut of it since.
    pub fn just_broke(&self, id: &PieceId, hands: &Hands, now: Instant) -> bool {
        let loss = self.sawn.losses.iter().rev().find(|loss| loss.piece == *id && loss.fate == Fate::Broke);
        let is_open = self.entry(id).is_some_and(|entry| entry.cut.is_none());
        let is_recent = |loss: &CutRecord| loss.at <= now && now < loss.at + TWICE_BY_MISTAKE;
        is_open && loss.is_some_and(|loss| hands.is_own(&loss.device) && is_recent(loss))
    }

    /// How often a piece broke.
    pub fn times_broken(&self, id: &PieceId) -> usize {
        self.sawn.losses.iter().filter(|loss| loss.piece == *id && loss.fate == Fate::Broke).count()
    }

    /// Whether a piece that was cut may be cut anew, by a page that showed that cut of it: it does not fit.
    pub fn may_cut_anew(&self, entry: &Entry, print: &str, cut: &EventId) -> Result<(), NoCut> {
        let record = entry.cut.as_ref().filter(|record| record.event == *cut).ok_or(NoCut::PlanChanged)?;
        if let Some(laid) = self.hangs_in(&record.piece) {
            return Err(NoCut::Hangs(laid.run.clone()));
        }
        let is_off = entry.fits(self.planned.job.unit).is_some_and(Fits::is_off);
        if is_off && entry.print().as_str() == print { Ok(()) } else { Err(NoCut::PlanChanged) }
    }

    /// Whether a trim may be taken back: the piece does not hang.
    pub fn may_untrim(&self, piece: &PieceId, event: &EventId) -> Result<(), NoWayBack> {
        let trimmed = |record: &&CutRecord| {
            record.piece == *piece && record.trim.as_ref().is_some_and(|trim| trim.event == *event)
        };
        self.sawn.records.iter().find(trimmed).ok_or(NoWayBack::NotCut)?;
        self.hangs_in(piece).map_or(Ok(()), |laid| Err(NoWayBack::Hangs(laid.run.clone())))
    }

    /// Whether a loss may be taken back: nothing was cut since of the tile that took the lost one's place.
    pub fn may_mend(&self, piece: &PieceId, event: &EventId) -> Result<(), NoWayBack> {
        let asked = |record: &&CutRecord| record.event == *event && record.piece == *piece;
        let loss = self.sawn.losses.iter().find(asked).ok_or(NoWayBack::NotCut)?;
        let instead = print_again(loss);
        let again = |record: &&CutRecord| {
            record.was.stock_print == instead || record.piece == *piece && record.sequence > loss.sequence
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
        if measured_since || entry.print().as_str() != print {
            return Err(NoCut::PlanChanged);
        }
        if let Some(claim) = hands.others(id) {
            return Err(NoCut::InHand(Box::new(claim.clone())));
        }
        entry.after.clone().map_or(Ok(()), |before| Err(NoCut::After(before)))
    }

    /// Whether a piece may be counted as cut by whoever cut it as an older page said, and pressed that on a page with
    /// `print`: it has the same shape still, whatever tile it was to come of and whatever was to be cut before.
    pub fn may_count(&self, id: &PieceId, print: &str, old: &PagePrint, hands: &Hands) -> Result<(), NoCut> {
        let shape = |entry: &&Entry| old.is_same_piece(&entry.print());
        self.entry(id).filter(shape).ok_or(NoCut::PlanChanged)?;
        match self.may_cut(id, print, hands) {
            Err(NoCut::After(_)) => Ok(()),
            other => other,
        }
    }

    /// What such a cut is kept as. Its tile is the one that the older page said, where that is known: one that was begun,
    /// or one that `first`, the saw of the plan before anything was measured, has for the piece. Another counts as a tile
    /// of its own, under what that page called it.
    pub fn was_cut(&self, entry: &Entry, old: &PagePrint, first: &Self) -> WasCut {
        let by_plan = [Some(entry), first.entry(&self.piece(entry).id)];
        let by_plan = by_plan.into_iter().flatten().map(|entry| &entry.would_be);
        let begun = self.sawn.records.iter().chain(&self.sawn.losses).map(|record| &record.was);
        let own_name = format!("by an older page {}", old.tile());
        let known =
            by_plan.chain(begun).find(|was| old.is_of(&was.stock_print) || was.stock_print == own_name);
        let (stock, stock_print) =
            known.map_or((0, own_name.clone()), |was| (was.stock, was.stock_print.clone()));
        // Of its factory edges no more is known than that it has those that it needs.
        let own = Some(self.piece(entry).factory);
        WasCut { stock, stock_print, own, ..entry.would_be.clone() }
    }

    /// Whether a cut may be taken back: nothing was cut since from what it left, nor broke, as far as the plan still
    /// counts on that.
    pub fn may_take_back(&self, piece: &PieceId, event: &EventId) -> Result<(), NoWayBack> {
        let asked = |record: &CutRecord| record.event == *event && record.piece == *piece;
        let record = self.sawn.records.iter().find(|record| asked(record)).ok_or(NoWayBack::NotCut)?;
        if let Some(laid) = self.hangs_in(piece) {
            return Err(NoWayBack::Hangs(laid.run.clone()));
        }
        let by_plan = self
            .entry(&record.piece)
            .is_some_and(|entry| entry.would_be.stock_print == record.was.stock_print);
        let all = self.sawn.records.iter().chain(&self.sawn.losses);
        let since = all.filter(|other| other.sequence > record.sequence);
        let mut of_same_tile = since.filter(|other| other.was.stock_print == record.was.stock_print);
        match of_same_tile.next() {
            Some(other) if by_plan => Err(NoWayBack::Before(other.piece.clone())),
            _ => Ok(()),
        }
    }
}

impl Entry {
    /// Its number on a page: no other entry has it.
    pub fn number(&self) -> usize {
        self.index
    }

    /// It is not cut, and can be.
    fn is_ready(&self) -> bool {
        self.cut.is_none() && self.after.is_none()
    }

    /// Stands for all that the page of this piece says: a press on a page of another plan is told by it.
    pub fn print(&self) -> PagePrint {
        let mut rest = Print::new(&written(self.would_be.stock, 0));
        self.arranged.iter().for_each(|arranged| rest.words(arranged));
        PagePrint::new(&self.would_be.shape, &self.would_be.stock_print, rest)
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
    /// In the order of the plan; where a tile broke, those that take its place after it.
    tiles: Vec<&'p Tile<'p>>,
    cut: &'p BTreeMap<&'p PieceId, &'p CutRecord>,
    unit: Unit,
}

impl Kind<'_> {
    /// The pieces, and what lies on the rack.
    fn entries(&self, pieces: &[Piece], places: &BTreeMap<&PieceId, usize>) -> (Vec<Entry>, Vec<Racked>) {
        let (mut entries, mut rack) = (Vec::new(), Vec::new());
        for tile in &self.tiles {
            let mut steps = tile.steps(self.problem, self.cut);
            rack.extend(tile.lying(self.problem, self.cut).iter().map(|offcut| self.racked(tile, offcut)));
            let wanted = tile.stock.places.iter().filter(|place| tile.wanted.contains(&place.piece));
            for piece in wanted.map(|place| place.piece) {
                let Some(&index) = places.get(&self.id(piece)) else { continue };
                let step = steps.iter().position(|step| step.piece == piece);
                let step = step.map(|at| steps.swap_remove(at));
                entries.push(self.entry(tile, piece, step, (index, &pieces[index])));
            }
        }
        (entries, rack)
    }

    fn entry(
        &self,
        tile: &Tile<'_>,
        piece: usize,
        step: Option<Step>,
        (index, on_wall): (usize, &Piece),
    ) -> Entry {
        // What was cut in another size is planned on its tile in that size, and wanted in the one it is to have.
        let wanted = &on_wall.bounds;
        let begun = tile.stock.begun.is_some();
        let leaves = step.iter().flat_map(|step| &step.leaves).map(|left| self.left(tile, left));
        Entry {
            index,
            would_be: WasCut {
                tile: tile.id.clone(),
                width: wanted.width(),
                height: wanted.height(),
                shape: shape_print(on_wall, self.unit),
                stock: tile.number,
                stock_print: tile.print.clone(),
                own: step.as_ref().map(|step| step.upright().kept.own),
            },
            arranged: begun.then(|| stock_print(tile.id, self.problem, &tile.stock)),
            leaves: leaves.collect(),
            after: step.as_ref().and_then(|step| step.after).map(|before| self.id(before)),
            step,
            cut: self.cut.get(&self.id(piece)).map(|record| (*record).clone()),
        }
    }

    /// The tiles of a kind that were or will be cut into.
    fn cut_into(&self, id: &TileId, sawn: &Sawn) -> BTreeSet<String> {
        let of_kind = sawn.records.iter().chain(&sawn.losses).filter(|record| record.was.tile == *id);
        let begun = of_kind.map(|record| record.was.stock_print.clone());
        let comes = |tile: &&&Tile<'_>| {
            let elsewhere = tile.progress(self.problem, self.cut).elsewhere;
            tile.wanted.iter().any(|piece| !elsewhere.contains(piece))
        };
        begun.chain(self.tiles.iter().filter(comes).map(|tile| tile.print.clone())).collect()
    }

    fn left(&self, tile: &Tile<'_>, left: &Leftover) -> Left {
        let Some(label) = left.label else { return Left::Bin };
        let label = written(tile.number, label.nth);
        let waiting = self.waiting(tile, &left.holds);
        let mut to_size = tile.stock.places.iter().filter(|place| place.at == left.part.at);
        match to_size.next().map(|place| self.id(place.piece)) {
            Some(piece) if waiting.contains(&piece) => Left::ToSize { label, piece },
            _ if left.holds.is_empty() => Left::Free { label },
            _ if waiting.is_empty() => {
                Left::Spare { label, pieces: left.holds.iter().map(|&piece| self.id(piece)).collect() }
            }
            _ => Left::Rack { label, pieces: waiting },
        }
    }

    /// What comes out of a leftover, unless it came or comes of another tile.
    fn waiting(&self, tile: &Tile<'_>, holds: &[usize]) -> Vec<PieceId> {
        let elsewhere = tile.progress(self.problem, self.cut).elsewhere;
        let comes = |piece: &&usize| tile.wanted.contains(piece) && !elsewhere.contains(piece);
        holds.iter().filter(comes).map(|&piece| self.id(piece)).collect()
    }

    fn racked(&self, tile: &Tile<'_>, offcut: &Lying) -> Racked {
        Racked {
            label: written(tile.number, offcut.label.nth),
            tile: tile.id.clone(),
            part: offcut.part,
            waiting: self.waiting(tile, &offcut.holds),
            from: PieceId(offcut.from.clone()),
        }
    }

    fn id(&self, piece: usize) -> PieceId {
        PieceId(self.problem.pieces()[piece].id.clone())
    }
}

fn tally_of(
    planned: &Planned,
    (id, cutting): (&TileId, &TileCutting),
    cut_into: usize,
    sawn: &Sawn,
) -> Tally {
    let of_tile = || sawn.losses.iter().filter(|record| record.was.tile == *id);
    let lost = |fate: Fate| of_tile().filter(|record| record.fate == fate).count();
    let per_box = planned.job.tiles.get(id).and_then(|tile| tile.per_box);
    let per_box = per_box.and_then(|count| usize::try_from(count).ok()).filter(|count| *count > 0);
    Tally {
        needed: cutting.full + cut_into,
        broken: lost(Fate::Broke),
        in_vain: lost(Fate::InVain),
        boxed: per_box.map(|count| cutting.bought().div_ceil(count) * count),
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
