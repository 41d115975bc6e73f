//! Whole tiles that somebody counted by hand, as the log tells it. The latest count of a kind of tile holds.

use serde::{Deserialize, Serialize};
use trade::cure::Instant;
use trade::measure::TileId;

use super::event::{enter, last_of_job, repeated};
use super::product::{from_json, to_json};
use super::{Actor, Appended, Event, EventKey, JobId, NewEvent, PersonId, Sawn, Store, StoreError};

/// The kind of an entry that says how many tiles are left.
pub const COUNTED: &str = "counted";

/// One count, and what the plan came to by it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Count {
    /// Its place in the log.
    pub sequence: i64,
    pub at: Instant,
    pub author: PersonId,
    pub counted: Counted,
}

/// What was counted, and what it was held against then.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Counted {
    pub tile: TileId,
    /// Whole tiles, neither cut nor set.
    pub left: usize,
    /// What was still needed, by the plan that held from then on.
    pub needed: usize,
    /// No plan for what was left to do needed fewer.
    pub bound: usize,
    /// Tiles that were saved by planning again what was not cut yet.
    pub saved: usize,
}

/// A count, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewCount {
    pub key: EventKey,
    pub job: JobId,
    pub counted: Counted,
    /// The last entry of the log that it was worked out from.
    pub seen: i64,
}

/// [`Counted`] as it stands in the log.
#[derive(Serialize, Deserialize)]
struct Detail {
    left: usize,
    needed: usize,
    bound: usize,
    saved: usize,
}

impl Count {
    /// From its entry.
    ///
    /// # Errors
    ///
    /// When the entry cannot be read.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let Detail { left, needed, bound, saved } = from_json(&event.detail)?;
        let tile = TileId(event.part.clone());
        Ok(Self {
            sequence: event.sequence,
            at: event.happened,
            author: event.author.clone(),
            counted: Counted { tile, left, needed, bound, saved },
        })
    }
}

impl Sawn {
    /// The count of a kind of tile that holds.
    pub fn count_of(&self, tile: &TileId) -> Option<&Count> {
        self.counts.iter().rev().find(|count| count.counted.tile == *tile)
    }

    /// Whether nothing was cut, broke, was measured or hangs.
    pub fn is_nothing(&self) -> bool {
        let Self { records, losses, laid, measured, counts: _ } = self;
        records.is_empty() && losses.is_empty() && laid.is_empty() && measured.is_empty()
    }
}

impl Store {
    /// Keeps a count.
    ///
    /// # Errors
    ///
    /// [`StoreError::Stale`] where something was logged since it was worked out.
    pub async fn append_counted(&self, new: NewCount, by: Actor) -> Result<Appended, StoreError> {
        let NewCount { key, job, counted, seen } = new;
        let Counted { tile, left, needed, bound, saved } = counted;
        let detail = to_json(&Detail { left, needed, bound, saved })?;
        let kind = COUNTED.to_owned();
        let new = NewEvent { key, job, part: tile.0, kind, detail, happened: None, supersedes: None };
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            if let Some(before) = repeated(&mut transaction, &new.key, new.payload_hash()).await? {
                return Ok(Appended::Again(before));
            }
            if last_of_job(&mut transaction, &new.job).await? != seen {
                return Err(StoreError::Stale);
            }
            let stamp = store.clock.stamp();
            Ok(Appended::New(enter(transaction, new, by, stamp).await?))
        })
        .await
    }
}
