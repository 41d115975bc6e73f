//! A piece, and the room that the plan has for it.

use std::collections::BTreeSet;

use trade::place::{Clear, NoFit, Piece, PieceId, Reach, Reading, Refit, Wall, Way};

use crate::app::App;
use crate::store::{CutRecord, EventId, JobHead, JobId, MeasuredRecord};
use crate::web::cuts::Yard;
use crate::web::error::PageError;

/// All that the pages of one piece's room are drawn from.
pub struct Room {
    pub head: JobHead,
    pub yard: Yard,
    pub piece: PieceId,
}

/// Why a size stays: nothing can be measured, or taken back.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NoWayBack {
    /// It was taken back before.
    Gone,
    /// That piece was cut to it since.
    CutSince(PieceId),
    /// The piece hangs on the wall, in that run.
    Hangs(String),
}

impl Room {
    /// A piece of the job's layout.
    pub async fn of(app: &App, job: &JobId, piece: PieceId) -> Result<Self, PageError> {
        let (head, yard) = Yard::laid_out(app, job).await?;
        let is_there = yard.first.option.pieces.iter().any(|of| of.id == piece);
        if is_there { Ok(Self { head, yard, piece }) } else { Err(PageError::NotFound) }
    }

    /// The piece as it is to be cut now.
    pub fn now(&self) -> Option<&Piece> {
        self.piece_now(&self.piece)
    }

    /// Another piece as it is to be cut now.
    pub fn piece_now(&self, piece: &PieceId) -> Option<&Piece> {
        self.yard.saw.planned.option.pieces.iter().find(|of| of.id == *piece)
    }

    /// Another piece as it was planned first.
    pub fn piece_first(&self, piece: &PieceId) -> Option<&Piece> {
        self.yard.first.option.pieces.iter().find(|of| of.id == *piece)
    }

    /// Stands for the place that the plan has for the piece, whatever was measured in it.
    pub fn print(&self) -> String {
        let of = |piece: &Piece| {
            let bounds = piece.bounds;
            [bounds.left, bounds.bottom, bounds.right, bounds.top]
                .map(|side| side.units().to_string())
                .join(".")
        };
        self.piece_first(&self.piece).map(of).unwrap_or_default()
    }

    /// What a tape can read there.
    pub fn clear(&self) -> Vec<Clear> {
        self.ask(|wall| wall.clear(&self.piece)).unwrap_or_default()
    }

    /// The other pieces that what is found may go for too.
    pub fn alike(&self, way: Way, reach: Reach) -> Vec<PieceId> {
        let alike = self.ask(|wall| {
            let alike = wall.alike(&self.piece, way, reach, trade::measure::Length::ZERO);
            alike.into_iter().map(|piece| piece.id.clone()).collect()
        });
        alike.unwrap_or_default()
    }

    /// The new sizes.
    pub fn refit(&self, readings: &[Reading]) -> Result<Vec<Refit>, Vec<NoFit>> {
        self.ask(|wall| wall.refit(&self.piece, readings)).unwrap_or_else(|| Ok(Vec::new()))
    }

    /// The measurements that stand and give this piece a size, the latest first.
    pub fn standing(&self) -> impl Iterator<Item = &MeasuredRecord> {
        let sizes = |record: &&MeasuredRecord| {
            record.piece == self.piece || record.found.sizes.iter().any(|(of, _)| *of == self.piece)
        };
        self.yard.log.sawn.measured.iter().rev().filter(sizes)
    }

    /// Whether the plan has the size that was found of a piece; not where the layout has changed since.
    pub fn holds(&self, piece: &PieceId, record: &MeasuredRecord) -> bool {
        let planned = record.found.sizes.iter().find(|(of, _)| of == piece).map(|(_, size)| size.planned);
        let held = self.yard.saw.planned.option.measured.get(piece);
        held.is_some_and(|held| Some(held.planned) == planned)
    }

    /// Whether the piece may be measured again: it does not hang.
    pub fn may_measure(&self) -> Result<(), NoWayBack> {
        let hangs = self.yard.saw.hangs_in(&self.piece);
        hangs.map_or(Ok(()), |laid| Err(NoWayBack::Hangs(laid.run.clone())))
    }

    /// Whether a measurement may be taken back: nothing was cut to it since.
    pub fn may_take_back(&self, event: &EventId) -> Result<(), NoWayBack> {
        let log = &self.yard.log;
        let stands = |record: &&MeasuredRecord| record.event == *event && record.piece == self.piece;
        let record = log.sawn.measured.iter().find(stands).ok_or(NoWayBack::Gone)?;
        let after = log.entries.iter().skip_while(|entry| entry.id != *event);
        let since: Vec<&EventId> = after.map(|entry| &entry.id).collect();
        let done_since = |cut: &CutRecord| {
            since.contains(&&cut.event) || cut.trim.as_ref().is_some_and(|trim| since.contains(&&trim.event))
        };
        let cut =
            log.sawn.records.iter().find(|cut| {
                done_since(cut) && record.found.sizes.iter().any(|(piece, _)| *piece == cut.piece)
            });
        cut.map_or(Ok(()), |cut| Err(NoWayBack::CutSince(cut.piece.clone())))
    }

    /// Asks the trade about the wall that the piece goes on.
    fn ask<T>(&self, ask: impl FnOnce(&Wall<'_>) -> T) -> Option<T> {
        let first = &self.yard.first;
        let id = &self.piece_first(&self.piece)?.surface;
        let courses = first.option.courses.walls.get(id)?;
        let planned: Vec<Piece> =
            first.option.pieces.iter().filter(|piece| piece.surface == *id).cloned().collect();
        Some(ask(&Wall {
            job: &first.job,
            surface: first.job.surface(id)?,
            courses: &courses.courses,
            layout: &first.option.layout,
            limits: courses,
            planned: &planned,
            before: &self.yard.saw.planned.option.measured,
            done: &self.done(),
        }))
    }

    /// What is cut or hangs.
    fn done(&self) -> BTreeSet<PieceId> {
        let sawn = &self.yard.log.sawn;
        let cut = sawn.records.iter().map(|record| &record.piece);
        cut.chain(sawn.laid.iter().flat_map(|laid| &laid.was.cuts)).cloned().collect()
    }
}
