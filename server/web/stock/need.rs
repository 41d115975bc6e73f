//! What is still to do, and the fewest tiles that it takes: whole tiles not set yet, and cut pieces not cut yet, out of
//! offcuts at hand and new tiles.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use trade::cure::{Entry, StageKind, What, standing};
use trade::measure::{SurfaceId, TileId};
use trade::offcut::{Demand, MOST_RACKED, Plan, Problem, Racked, Wanted, solve};
use trade::place::{Piece, PieceId};
use trade::search::wanted;

use crate::app::App;
use crate::store::{CutRecord, Event, JobId, LaidRun, Sawn};
use crate::web::cuts::{Entry as AtSaw, Fits, Saw, Yard};
use crate::web::error::PageError;
use crate::work::Planned;

/// A job at one moment, with all that was reported.
pub struct Site {
    planned: Arc<Planned>,
    sawn: Sawn,
    /// The saw's log.
    entries: Vec<Event>,
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
        let saw = Saw::new(Arc::clone(&planned), yard.log.sawn.clone());
        Ok(Self {
            needed: saw.tally.iter().map(|(tile, tally)| (tile.clone(), tally.needed)).collect(),
            planned,
            sawn: usable(&saw),
            entries: yard.log.entries.clone(),
            stages: app.store.stages(job).await?.log,
        })
    }

    /// How many of a kind the whole job takes.
    pub fn needed_in_all(&self, tile: &TileId) -> usize {
        self.needed.get(tile).copied().unwrap_or_default()
    }

    /// What every kind of tile comes to.
    pub fn answers(&self) -> Vec<Answer> {
        let hang = self.hang(i64::MAX);
        let saw = Saw::new(Arc::clone(&self.planned), self.sawn.clone());
        let kinds = self.planned.option.cutting.iter();
        kinds
            .map(|(tile, cutting)| self.answer(&Kind::of(&saw, &hang, tile, &cutting.problem), tile))
            .collect()
    }

    fn answer(&self, kind: &Kind<'_>, tile: &TileId) -> Answer {
        let (whole, cut) = (kind.whole(&kind.walls()), kind.cut);
        let plan = kind.fewest(&kind.walls());
        let count = self.sawn.count_of(tile);
        let used = count.map(|count| self.used_since(tile, count.sequence));
        let left = count.zip(used).map(|(count, used)| count.counted.left.saturating_sub(used));
        Answer {
            tile: tile.clone(),
            whole,
            cut,
            bound: whole + plan.map_or(0, |plan| plan.bound).min(cut),
            used,
            left,
            walls: left.map(|left| kind.finished(left)).unwrap_or_default(),
        }
    }

    /// Tiles that were cut into or set whole since an entry of the log. What came of a piece since, that it broke or does
    /// not fit, says nothing of when its tile was cut into: so the log is read as it was then.
    fn used_since(&self, tile: &TileId, sequence: i64) -> usize {
        let cut_into = |sawn: &Sawn| -> BTreeSet<String> {
            let done = sawn.records.iter().chain(&sawn.losses).filter(|of| of.was.tile == *tile);
            done.map(|record| record.was.stock_print.clone()).collect()
        };
        let before = cut_into(&self.sawn_up_to(sequence));
        let by_now = cut_into(&self.sawn_up_to(i64::MAX));
        let (hung, hang) = (self.hang(sequence), self.hang(i64::MAX));
        let whole = self.planned.option.pieces.iter().filter(|piece| piece.full && piece.tile == *tile);
        let whole = whole.filter(|piece| hang.contains(&piece.id) && !hung.contains(&piece.id));
        by_now.difference(&before).count() + whole.count()
    }

    /// What the log said up to an entry of it.
    fn sawn_up_to(&self, through: i64) -> Sawn {
        let entries: Vec<Event> =
            self.entries.iter().filter(|event| event.sequence <= through).cloned().collect();
        // An entry that cannot be read was refused when the log was read for this page.
        Sawn::of(&entries).unwrap_or_default()
    }

    /// What hung on the walls up to an entry of the log: run by run, or told on the board.
    fn hang(&self, through: i64) -> BTreeSet<PieceId> {
        let laid: Vec<LaidRun> = self.sawn_up_to(through).laid;
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

/// What is still to do of one kind of tile.
struct Kind<'a> {
    /// In the order of setting.
    to_do: Vec<&'a Piece>,
    /// How many more tiles the saw cuts into, by the plan that it goes by.
    cut: usize,
    /// The cut pieces not cut yet, each where it goes.
    open: Vec<(&'a SurfaceId, Wanted)>,
    rack: Vec<Racked>,
    /// Whose tile and saw they are.
    of: &'a Problem,
}

impl<'a> Kind<'a> {
    fn of(saw: &'a Saw, hang: &BTreeSet<PieceId>, tile: &TileId, of: &'a Problem) -> Self {
        let pieces = saw.planned.option.pieces.iter();
        let to_do = pieces.filter(|piece| piece.tile == *tile && !hang.contains(&piece.id));
        let sawn = saw.sawn();
        let begun: BTreeSet<&str> =
            sawn.records.iter().chain(&sawn.losses).map(|record| record.was.stock_print.as_str()).collect();
        let is_open = |entry: &&AtSaw| {
            let piece = saw.piece(entry);
            entry.cut.is_none() && piece.tile == *tile && !hang.contains(&piece.id)
        };
        let open = || saw.entries.iter().filter(is_open);
        let tiles: BTreeSet<&str> = open().map(|entry| entry.would_be.stock_print.as_str()).collect();
        let lying = saw.rack.iter().filter(|racked| racked.tile == *tile);
        let racked = |lying: &crate::web::cuts::Racked| Racked {
            id: lying.label.clone(),
            width: lying.part.at.width(),
            height: lying.part.at.height(),
            factory: lying.part.own,
        };
        Self {
            to_do: to_do.collect(),
            cut: tiles.difference(&begun).count(),
            open: open().map(|entry| (&saw.piece(entry).surface, wanted(saw.piece(entry)))).collect(),
            rack: lying.map(racked).collect(),
            of,
        }
    }

    /// Where something is still to do, in the order of setting.
    fn walls(&self) -> Vec<&'a SurfaceId> {
        let mut walls = Vec::new();
        for piece in &self.to_do {
            if !walls.contains(&&piece.surface) {
                walls.push(&piece.surface);
            }
        }
        walls
    }

    fn whole(&self, walls: &[&SurfaceId]) -> usize {
        self.to_do.iter().filter(|piece| piece.full && walls.contains(&&piece.surface)).count()
    }

    /// The plan with the fewest new tiles for the cut pieces of some walls; nothing where more lies on the rack than the
    /// planner looks at.
    fn fewest(&self, walls: &[&SurfaceId]) -> Option<Plan> {
        if self.rack.len() > MOST_RACKED {
            return None;
        }
        let here = self.open.iter().filter(|(wall, _)| walls.contains(wall));
        let problem = Problem::new(Demand {
            tile_width: self.of.tile_width(),
            tile_height: self.of.tile_height(),
            kerf: self.of.kerf(),
            half_turn: self.of.half_turn(),
            quarter_turn: self.of.quarter_turn(),
            pieces: here.map(|(_, piece)| piece.clone()).collect(),
            rack: self.rack.clone(),
        });
        problem.ok().map(|problem| solve(&problem))
    }

    /// Which walls can be finished with so many tiles, one after the other in the order of setting.
    fn finished(&self, left: usize) -> Vec<(SurfaceId, bool)> {
        let (walls, mut done, mut answers) = (self.walls(), Vec::new(), Vec::new());
        for wall in &walls {
            let with: Vec<&SurfaceId> = done.iter().copied().chain([*wall]).collect();
            // All of them are cut as the saw has it.
            let fewest = || self.fewest(&with).map_or(self.cut, |plan| plan.tiles());
            let cut = if with.len() == walls.len() { self.cut } else { fewest() };
            let enough = self.whole(&with) + cut <= left;
            if enough {
                done = with;
            }
            answers.push(((*wall).clone(), enough));
        }
        answers
    }
}
