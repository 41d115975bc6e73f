//! What is still to do, and the fewest tiles that it takes: whole tiles not set yet, and cut pieces not cut yet, out of
//! offcuts at hand and new tiles.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use trade::cure::{Entry, StageKind, What, standing};
use trade::measure::{SurfaceId, TileId};
use trade::offcut::{Demand, Plan, Problem, Wanted, solve};
use trade::place::{Piece, PieceId};
use trade::search::{InField, WorkFault};

use crate::app::App;
use crate::store::{CutRecord, Event, JobId, LAID, LaidRun, NOT_LAID, Sawn};
use crate::web::cuts::{Fits, Saw, Yard};
use crate::web::error::PageError;
use crate::work::Planned;

/// A job at one moment, with all that was reported.
pub struct Site {
    planned: Arc<Planned>,
    /// The layout before anything was measured again.
    first: Arc<Planned>,
    sawn: Sawn,
    /// The entries of runs set and taken down.
    runs: Vec<Event>,
    stages: Vec<Entry>,
    needed: BTreeMap<TileId, usize>,
}

/// What one kind of tile comes to.
pub struct Answer {
    pub tile: TileId,
    /// Still to be set whole.
    pub whole: usize,
    /// Still to be cut into.
    pub cut: usize,
    /// Whole and cut into, no plan takes fewer.
    bound: usize,
    /// Used since they were counted; nothing where nobody counted.
    pub used: Option<usize>,
    /// Left by now.
    pub left: Option<usize>,
    /// Walls on which something of this kind is still to do, in the order of setting: whether what is left is enough
    /// for each with those before it.
    pub walls: Vec<(SurfaceId, bool)>,
}

impl Answer {
    /// How many are still needed.
    pub fn needed(&self) -> usize {
        self.whole + self.cut
    }

    /// No plan needs fewer.
    pub fn bound(&self) -> usize {
        self.bound
    }

    /// How many are not there; nothing where nobody counted or it is enough.
    pub fn short(&self) -> Option<usize> {
        self.left.and_then(|left| self.needed().checked_sub(left)).filter(|short| *short > 0)
    }
}

impl Site {
    /// The job by one plan.
    pub async fn of(app: &App, job: &JobId, yard: &Yard, planned: Arc<Planned>) -> Result<Self, PageError> {
        let is_run = |event: &&Event| [LAID, NOT_LAID].contains(&event.kind.as_str());
        let saw = Saw::new(Arc::clone(&planned), yard.log.sawn.clone());
        Ok(Self {
            needed: saw.tally.iter().map(|(tile, tally)| (tile.clone(), tally.needed)).collect(),
            planned,
            first: Arc::clone(&yard.first),
            sawn: usable(&saw),
            runs: yard.log.entries.iter().filter(is_run).cloned().collect(),
            stages: app.store.stages(job).await?.log,
        })
    }

    /// How many of a kind the whole job takes.
    pub fn needed_in_all(&self, tile: &TileId) -> usize {
        self.needed.get(tile).copied().unwrap_or_default()
    }

    /// What every kind of tile comes to.
    ///
    /// # Errors
    ///
    /// When what is not cut yet cannot be planned.
    pub fn answers(&self) -> Result<Vec<Answer>, WorkFault> {
        let hang = self.hang(i64::MAX);
        let saw = Saw::new(Arc::clone(&self.planned), self.sawn.clone());
        let (cut, measured) = (saw.in_field(), self.sawn.true_sizes());
        let field = InField {
            job: &self.first.job,
            planned: &self.first.option,
            now: &self.planned.option,
            measured: &measured,
            sawn: &cut,
        };
        let again = field.plan_again()?;
        let answers = again.cutting.iter().map(|(tile, cutting)| {
            let (problem, _) = cutting.proved();
            let pieces = self.planned.option.pieces.iter().filter(|piece| piece.tile == *tile);
            let to_do: Vec<&Piece> = pieces.filter(|piece| !hang.contains(&piece.id)).collect();
            self.answer(tile, problem, &to_do)
        });
        Ok(answers.collect())
    }

    fn answer(&self, tile: &TileId, open: &Problem, to_do: &[&Piece]) -> Answer {
        let all: BTreeSet<&SurfaceId> = to_do.iter().map(|piece| &piece.surface).collect();
        let (whole, plan) = fewest(open, to_do, &all);
        let count = self.sawn.count_of(tile);
        let used = count.map(|count| self.used_since(tile, count.sequence));
        let left = count.zip(used).map(|(count, used)| count.counted.left.saturating_sub(used));
        let cut = plan.tiles();
        Answer {
            tile: tile.clone(),
            whole,
            cut,
            bound: whole + plan.bound,
            used,
            left,
            walls: left.map(|left| finished(open, to_do, left)).unwrap_or_default(),
        }
    }

    /// Tiles that were cut into or set whole since an entry of the log.
    fn used_since(&self, tile: &TileId, sequence: i64) -> usize {
        let done = || self.sawn.records.iter().chain(&self.sawn.losses).filter(|of| of.was.tile == *tile);
        let prints = |of: &mut dyn Iterator<Item = &CutRecord>| -> BTreeSet<String> {
            of.map(|record| record.was.stock_print.clone()).collect()
        };
        let before = prints(&mut done().filter(|record| record.sequence < sequence));
        let since = prints(&mut done().filter(|record| record.sequence > sequence));
        let (hung, hang) = (self.hang(sequence), self.hang(i64::MAX));
        let whole = self.planned.option.pieces.iter().filter(|piece| piece.full && piece.tile == *tile);
        let whole = whole.filter(|piece| hang.contains(&piece.id) && !hung.contains(&piece.id));
        since.difference(&before).count() + whole.count()
    }

    /// What hung on the walls up to an entry of the log: run by run, or told on the board.
    fn hang(&self, through: i64) -> BTreeSet<PieceId> {
        let runs: Vec<Event> = self.runs.iter().filter(|event| event.sequence <= through).cloned().collect();
        // An entry that cannot be read was refused when the log was read for this page.
        let laid: Vec<LaidRun> = Sawn::of(&runs).map(|sawn| sawn.laid).unwrap_or_default();
        let number = u64::try_from(through).unwrap_or_default();
        let stages: Vec<Entry> = self.stages.iter().filter(|entry| entry.id.0 <= number).cloned().collect();
        let set: Vec<&Entry> = standing(&stages)
            .into_iter()
            .filter(|entry| entry.stage == StageKind::Set && entry.what == What::Finished)
            .collect();
        let told = |piece: &Piece| {
            set.iter().any(|entry| {
                let courses = entry.part.courses;
                let here = courses
                    .is_none_or(|courses| courses.first() <= piece.course && piece.course <= courses.last());
                entry.part.surface == piece.surface && here
            })
        };
        let in_run = |piece: &Piece| {
            let run = piece.id.0.rsplit_once('-').map_or(piece.id.0.as_str(), |(run, _)| run);
            laid.iter().any(|laid| laid.run == run)
        };
        let pieces = self.planned.option.pieces.iter();
        pieces.filter(|piece| in_run(piece) || told(piece)).map(|piece| piece.id.clone()).collect()
    }
}

/// What was cut, but for pieces that the plan cannot use: those are cut again.
fn usable(saw: &Saw) -> Sawn {
    let unit = saw.planned.job.unit;
    let is_off = |record: &CutRecord| {
        saw.entry(&record.piece).is_none_or(|entry| entry.fits(unit).is_some_and(Fits::is_off))
    };
    let sawn = saw.sawn();
    let records = sawn.records.iter().filter(|record| !is_off(record)).cloned().collect();
    Sawn { records, ..sawn.clone() }
}

/// The whole tiles, and the plan with the fewest new tiles for the cut pieces, of some walls.
fn fewest(open: &Problem, to_do: &[&Piece], walls: &BTreeSet<&SurfaceId>) -> (usize, Plan) {
    let here = || to_do.iter().filter(|piece| walls.contains(&piece.surface));
    let whole = here().filter(|piece| piece.full).count();
    let cut: BTreeSet<&str> = here().filter(|piece| !piece.full).map(|piece| piece.id.0.as_str()).collect();
    let pieces: Vec<Wanted> =
        open.pieces().iter().filter(|piece| cut.contains(piece.id.as_str())).cloned().collect();
    let problem = Problem::new(Demand {
        tile_width: open.tile_width(),
        tile_height: open.tile_height(),
        kerf: open.kerf(),
        half_turn: open.half_turn(),
        quarter_turn: open.quarter_turn(),
        pieces,
        rack: open.rack().to_vec(),
    });
    // Some of the pieces of a problem are one too.
    (whole, solve(problem.as_ref().unwrap_or(open)))
}

/// Which walls can be finished with so many tiles, one after the other in the order of setting.
fn finished(open: &Problem, to_do: &[&Piece], left: usize) -> Vec<(SurfaceId, bool)> {
    let mut walls: Vec<&SurfaceId> = Vec::new();
    for piece in to_do {
        if !walls.contains(&&piece.surface) {
            walls.push(&piece.surface);
        }
    }
    let mut done: BTreeSet<&SurfaceId> = BTreeSet::new();
    let mut answers = Vec::new();
    for wall in walls {
        let with: BTreeSet<&SurfaceId> = done.iter().copied().chain([wall]).collect();
        let (whole, plan) = fewest(open, to_do, &with);
        let enough = whole + plan.tiles() <= left;
        if enough {
            done = with;
        }
        answers.push((wall.clone(), enough));
    }
    answers
}
