//! What hangs on the walls, run by run, as the log tells it: a run is one course of a wall, or the strip over it. A run
//! taken down again is an entry that supersedes the first.
//!
//! The stages of a wall are kept in `stage.rs`: once "set" is reported there, nothing of it is taken back here.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use trade::cure::Instant;
use trade::measure::SurfaceId;
use trade::place::PieceId;

use super::event::{enter, repeated};
use super::{
    Actor, Appended, Event, EventId, EventKey, JobId, NewEvent, PersonId, Sawn, Stages, Store, StoreError,
};

/// The kind of a run that was set, in the log.
pub const LAID: &str = "laid";

/// The kind of an entry that takes that back.
pub const NOT_LAID: &str = "not-laid";

/// One run that hangs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LaidRun {
    pub event: EventId,
    /// What its pieces' labels begin with: `A3`, `A4s`.
    pub run: String,
    pub at: Instant,
    pub author: PersonId,
    pub was: Run,
}

impl LaidRun {
    /// Whether it is a strip over a course, which its label tells: `A4s`.
    pub fn is_strip(&self) -> bool {
        self.run.ends_with('s')
    }
}

/// What a run was when it was set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Run {
    pub wall: SurfaceId,
    pub course: u32,
    /// Its cut pieces, whatever the plan says later.
    pub cuts: BTreeSet<PieceId>,
}

/// A run that was set, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewLaid {
    pub key: EventKey,
    pub job: JobId,
    pub run: String,
    pub was: Run,
}

/// [`Run`] as it stands in the log.
#[derive(Serialize, Deserialize)]
struct Detail {
    wall: String,
    course: u32,
    cuts: Vec<String>,
}

impl NewLaid {
    fn event(self) -> Result<NewEvent, StoreError> {
        let Self { key, job, run, was } = self;
        let detail = Detail {
            wall: was.wall.as_str().to_owned(),
            course: was.course,
            cuts: was.cuts.into_iter().map(|piece| piece.0).collect(),
        };
        let detail =
            serde_json::to_string(&detail).map_err(|error| StoreError::Unreadable(error.to_string()))?;
        Ok(NewEvent { key, job, part: run, kind: LAID.to_owned(), detail, happened: None, supersedes: None })
    }
}

impl Store {
    /// Keeps that a run is set once `allowed` has looked at saw and stages as they stand, all in one transaction.
    pub async fn append_laid<R: Send + 'static>(
        &self,
        new: NewLaid,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &Stages) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.append_to_wall(new.event()?, by, allowed).await
    }

    /// Keeps that a run was not set after all, or was taken down, once `allowed` has looked.
    pub async fn take_back_laid<R: Send + 'static>(
        &self,
        key: EventKey,
        job: JobId,
        run: (String, EventId),
        by: Actor,
        allowed: impl FnOnce(&Sawn, &Stages) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        let (part, event) = run;
        let (kind, detail, supersedes) = (NOT_LAID.to_owned(), "{}".to_owned(), Some(event));
        let new = NewEvent { key, job, part, kind, detail, happened: None, supersedes };
        self.append_to_wall(new, by, allowed).await
    }

    async fn append_to_wall<R: Send + 'static>(
        &self,
        new: NewEvent,
        by: Actor,
        allowed: impl FnOnce(&Sawn, &Stages) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let payload_hash = new.payload_hash();
            if let Some(before) = repeated(&mut transaction, &new.key, payload_hash).await? {
                return Ok(Ok(Appended::Again(before)));
            }
            let stamp = store.clock.stamp();
            let sawn = super::cut::of_job(&mut transaction, &new.job).await?;
            let stages = super::stage::load(&mut transaction, &new.job, stamp).await?;
            if let Err(refusal) = allowed(&sawn, &stages) {
                return Ok(Err(refusal));
            }
            Ok(Ok(Appended::New(enter(transaction, new, by, stamp).await?)))
        })
        .await
    }
}

/// The runs that hang, oldest first: those that no entry takes back which stands itself.
pub(super) fn standing(events: &[Event]) -> Result<Vec<LaidRun>, StoreError> {
    let mut taken_back: BTreeSet<&EventId> = BTreeSet::new();
    let mut laid = Vec::new();
    for event in events.iter().rev().filter(|event| [LAID, NOT_LAID].contains(&&*event.kind)) {
        if taken_back.contains(&event.id) {
            continue;
        }
        taken_back.extend(&event.supersedes);
        if event.kind == LAID {
            laid.push(run(event)?);
        }
    }
    laid.reverse();
    Ok(laid)
}

fn run(event: &Event) -> Result<LaidRun, StoreError> {
    let unreadable = |why: String| StoreError::Unreadable(format!("run {}: {why}", event.sequence));
    let detail: Detail =
        serde_json::from_str(&event.detail).map_err(|error| unreadable(error.to_string()))?;
    let wall = SurfaceId::new(&detail.wall).ok_or_else(|| unreadable(detail.wall.clone()))?;
    Ok(LaidRun {
        event: event.id.clone(),
        run: event.part.clone(),
        at: event.happened,
        author: event.author.clone(),
        was: Run { wall, course: detail.course, cuts: detail.cuts.into_iter().map(PieceId).collect() },
    })
}
