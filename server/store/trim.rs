//! Pieces that were trimmed after they were cut, as the log tells it: the same piece of the same tile, smaller. An entry
//! names the cut that it goes on, and falls with it; one taken back is an entry that supersedes it.

use serde::{Deserialize, Serialize};
use trade::cure::Instant;
use trade::geometry::Sides;
use trade::measure::Length;
use trade::place::PieceId;

use super::cut::{read_sides, side_names};
use super::{Actor, CutRecord, Event, EventId, EventKey, JobId, NewEvent, PersonId, Sawn, Store, StoreError};

/// The kind of an entry of a piece that was trimmed.
pub const TRIMMED: &str = "trimmed";

/// The kind of an entry that takes that back.
pub const NOT_TRIMMED: &str = "not-trimmed";

/// That a piece was trimmed, and by whom.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Trim {
    pub event: EventId,
    pub at: Instant,
    pub author: PersonId,
}

/// What a piece was before it was trimmed, and after.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Trimmed {
    /// The cut that it goes on.
    pub cut: EventId,
    /// Width and height.
    pub from: (Length, Length),
    /// Width and height.
    pub to: (Length, Length),
    /// As in [`super::WasCut`].
    pub shape: String,
    /// The factory edges that it still has.
    pub own: Sides,
}

/// A piece that was trimmed, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewTrim {
    pub key: EventKey,
    pub job: JobId,
    pub piece: PieceId,
    /// The cut that it goes on.
    pub cut: EventId,
}

/// [`Trimmed`] as it stands in the log: lengths in units of 1/76800 mm.
#[derive(Serialize, Deserialize)]
struct Detail {
    cut: String,
    from: [i64; 2],
    to: [i64; 2],
    shape: String,
    own: Vec<String>,
}

impl Trimmed {
    /// From its entry.
    ///
    /// # Errors
    ///
    /// When the entry cannot be read.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = serde_json::from_str(&event.detail)
            .map_err(|error| StoreError::Unreadable(format!("trim {}: {error}", event.sequence)))?;
        let size = |[width, height]: [i64; 2]| (Length::from_units(width), Length::from_units(height));
        Ok(Self {
            cut: EventId::from(detail.cut),
            from: size(detail.from),
            to: size(detail.to),
            shape: detail.shape,
            own: read_sides(&detail.own),
        })
    }

    fn detail(&self) -> Result<String, StoreError> {
        let size = |(width, height): (Length, Length)| [width.units(), height.units()];
        let detail = Detail {
            cut: self.cut.as_str().to_owned(),
            from: size(self.from),
            to: size(self.to),
            shape: self.shape.clone(),
            own: side_names(self.own),
        };
        serde_json::to_string(&detail).map_err(|error| StoreError::Unreadable(error.to_string()))
    }
}

impl Store {
    /// Keeps that a piece was trimmed, as `look` says it is once it has looked at all that was done at the saw, in one
    /// transaction.
    pub async fn append_trim<R: Send + 'static>(
        &self,
        new: NewTrim,
        by: Actor,
        look: impl FnOnce(&Sawn) -> Result<Trimmed, R> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        let NewTrim { key, job, piece, cut } = new;
        let (of, part) = ((key.clone(), job.clone()), piece.0.clone());
        let make = |sawn: &Sawn| {
            let trimmed = match look(sawn) {
                Ok(trimmed) => trimmed,
                Err(refusal) => return Ok(Err(refusal)),
            };
            let (kind, detail) = (TRIMMED.to_owned(), trimmed.detail()?);
            Ok(Ok(NewEvent { key, job, part: piece.0, kind, detail, happened: None, supersedes: None }))
        };
        let (asked, kind) = (of.1.clone(), TRIMMED);
        let again = move |before: Event| {
            let same = before.kind == kind && before.job == asked && before.part == part;
            let same = same && Trimmed::of(&before)?.cut == cut;
            if same { Ok(before.id) } else { Err(StoreError::KeyReused) }
        };
        self.append_once(of, by, make, again).await
    }

    /// Takes a trim back once `allowed` has looked.
    pub async fn take_back_trim<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        (piece, event): (PieceId, EventId),
        by: Actor,
        allowed: impl FnOnce(&Sawn) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<EventId, R>, StoreError> {
        let (kind, detail, supersedes) = (NOT_TRIMMED.to_owned(), "{}".to_owned(), Some(event));
        let new = NewEvent { key, job, part: piece.0, kind, detail, happened: None, supersedes };
        self.append_at_saw(new, by, allowed).await
    }
}

/// Makes a cut what it is since this entry; nothing where the cut is none any more.
pub(super) fn apply(records: &mut [CutRecord], event: &Event) -> Result<(), StoreError> {
    let trimmed = Trimmed::of(event)?;
    if let Some(record) = records.iter_mut().find(|record| record.event == trimmed.cut) {
        (record.was.width, record.was.height) = trimmed.to;
        record.was.shape = trimmed.shape;
        record.was.own = Some(trimmed.own);
        let (event, at, author) = (event.id.clone(), event.happened, event.author.clone());
        record.trim = Some(Trim { event, at, author });
    }
    Ok(())
}
