//! What was cut at the saw, as the log tells it. A cut taken back is an entry that supersedes the first.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use trade::cure::Instant;
use trade::measure::{Length, TileId};
use trade::place::PieceId;

use super::{Actor, Appended, Event, EventId, EventKey, JobId, NewEvent, PersonId, Store, StoreError};

/// The kind of a cut in the log.
pub const CUT: &str = "cut";

/// The kind of an entry that takes a cut back.
pub const NOT_CUT: &str = "not-cut";

/// The cuts of a job that stand, oldest first, and who made them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct CutLog {
    pub records: Vec<CutRecord>,
    names: BTreeMap<PersonId, String>,
}

/// One cut that stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutRecord {
    pub event: EventId,
    pub piece: PieceId,
    pub at: Instant,
    pub author: PersonId,
    pub was: WasCut,
}

/// What was really cut, whatever the plan says later.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WasCut {
    pub tile: TileId,
    pub width: Length,
    pub height: Length,
    /// Stands for the piece's outline and holes: equal for equal pieces.
    pub shape: String,
    /// The number written on what was left of its tile.
    pub stock: usize,
    /// Stands for all that was planned on that tile: equal for equal plans of it.
    pub stock_print: String,
}

/// A cut, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewCut {
    pub key: EventKey,
    pub job: JobId,
    pub piece: PieceId,
    pub was: WasCut,
}

/// [`WasCut`] as it stands in the log: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
struct Detail {
    tile: String,
    width: i64,
    height: i64,
    shape: String,
    stock: usize,
    stock_print: String,
}

impl CutLog {
    /// Who made a cut.
    pub fn author(&self, record: &CutRecord) -> &str {
        self.names.get(&record.author).map_or("", String::as_str)
    }
}

impl Store {
    /// The cuts of a job that stand.
    pub async fn cut_log(&self, job: &JobId) -> Result<CutLog, StoreError> {
        let mut transaction = self.readers.begin().await?;
        let events = super::event::of_job(&mut transaction, job).await?;
        let names = super::people::names(&mut transaction).await?;
        Ok(CutLog { records: standing(&events)?, names })
    }

    /// Keeps a cut once `allowed` has looked at the cuts as they stand, both in one transaction.
    pub async fn append_cut<R: Send + 'static>(
        &self,
        new: NewCut,
        by: Actor,
        allowed: impl FnOnce(&[CutRecord]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let NewCut { key, job, piece, was } = new;
        let detail = Detail {
            tile: was.tile.0,
            width: was.width.units(),
            height: was.height.units(),
            shape: was.shape,
            stock: was.stock,
            stock_print: was.stock_print,
        };
        let detail =
            serde_json::to_string(&detail).map_err(|error| StoreError::Unreadable(error.to_string()))?;
        let kind = CUT.to_owned();
        let new = NewEvent { key, job, part: piece.0, kind, detail, happened: None, supersedes: None };
        self.append_after(new, by, allowed).await
    }

    /// Takes a cut back once `allowed` has looked at the cuts as they stand, both in one transaction.
    pub async fn take_back_cut<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        cut: (PieceId, EventId),
        by: Actor,
        allowed: impl FnOnce(&[CutRecord]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let (piece, event) = cut;
        let (kind, detail) = (NOT_CUT.to_owned(), "{}".to_owned());
        let supersedes = Some(event);
        let new = NewEvent { key, job, part: piece.0, kind, detail, happened: None, supersedes };
        self.append_after(new, by, allowed).await
    }

    async fn append_after<R: Send + 'static>(
        &self,
        new: NewEvent,
        by: Actor,
        allowed: impl FnOnce(&[CutRecord]) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let look = move |events: &[Event]| match standing(events) {
            Ok(records) => allowed(&records).map_err(Ok),
            Err(unreadable) => Err(Err(unreadable)),
        };
        match self.append_if(new, by, look).await? {
            Ok(appended) => Ok(Ok(appended)),
            Err(Ok(refusal)) => Ok(Err(refusal)),
            Err(Err(unreadable)) => Err(unreadable),
        }
    }
}

/// The cuts that no later entry takes back.
fn standing(events: &[Event]) -> Result<Vec<CutRecord>, StoreError> {
    let superseded: BTreeSet<&EventId> =
        events.iter().filter_map(|event| event.supersedes.as_ref()).collect();
    let cuts = events.iter().filter(|event| event.kind == CUT && !superseded.contains(&event.id));
    cuts.map(record).collect()
}

fn record(event: &Event) -> Result<CutRecord, StoreError> {
    let detail: Detail = serde_json::from_str(&event.detail)
        .map_err(|error| StoreError::Unreadable(format!("cut {}: {error}", event.sequence)))?;
    Ok(CutRecord {
        event: event.id.clone(),
        piece: PieceId(event.part.clone()),
        at: event.happened,
        author: event.author.clone(),
        was: WasCut {
            tile: TileId(detail.tile),
            width: Length::from_units(detail.width),
            height: Length::from_units(detail.height),
            shape: detail.shape,
            stock: detail.stock,
            stock_print: detail.stock_print,
        },
    })
}
