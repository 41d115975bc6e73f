//! Which stages are on a job. Every change is an entry of the log too, with its reason.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use trade::cure::{GraphFault, Grounds, StageGraph, StageKind};

use super::event::{add_event, repeated};
use super::heartbeat::beat;
use super::product::{from_json, read, to_json};
use super::{Actor, Appended, Event, EventKey, JobId, NewEvent, Store, StoreError};

/// The kind of a change of stages in the log.
pub const STAGES: &str = "stages";

/// The stages that are on a job from now on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StagesChange {
    pub key: EventKey,
    pub job: JobId,
    pub on: BTreeSet<StageKind>,
    /// Who does instead what keeps water out, when, and on what proof: asked for where that is taken off.
    pub reason: Option<Grounds>,
}

/// A change of stages, as the log has it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StagesTold {
    pub added: Vec<StageKind>,
    pub taken_off: Vec<StageKind>,
    pub reason: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct Detail {
    on: Vec<String>,
    /// What this changed; not part of what is asked.
    added: Vec<String>,
    taken_off: Vec<String>,
    reason: Option<String>,
}

impl Store {
    /// Puts stages on a job and takes others off it, once for each key.
    ///
    /// # Errors
    ///
    /// The inner one where the job cannot go without a stage.
    pub async fn save_stages(
        &self,
        change: StagesChange,
        by: Actor,
    ) -> Result<Result<Appended, GraphFault>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let asked = change.event(Vec::new(), Vec::new())?;
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Ok(Appended::Again(before)));
            }
            let before = super::stage::graph(&mut transaction, &change.job).await?;
            let after = match before.clone().with_on(&change.on, change.reason.as_ref()) {
                Ok(after) => after,
                Err(fault) => return Ok(Err(fault)),
            };
            for (stage, on_job) in after.stages() {
                let kind = stage.name();
                sqlx::query!(
                    "UPDATE stage SET on_job = ? WHERE job = ? AND kind = ?",
                    on_job,
                    change.job,
                    kind
                )
                .execute(&mut *transaction)
                .await?;
            }
            let received = beat(&mut transaction, store.clock.stamp()).await?;
            let new = change.event(only_in(&after, &before), only_in(&before, &after))?;
            let event = add_event(&mut transaction, new, by, payload_hash, received).await?;
            transaction.commit().await?;
            Ok(Ok(Appended::New(event)))
        })
        .await
    }
}

/// The names of the stages that are on the job in the one graph and not in the other.
fn only_in(one: &StageGraph, other: &StageGraph) -> Vec<String> {
    let stages = one.stages().filter(|(stage, on)| *on && !other.has(*stage));
    stages.map(|(stage, _)| stage.name().to_owned()).collect()
}

impl StagesChange {
    fn event(&self, added: Vec<String>, taken_off: Vec<String>) -> Result<NewEvent, StoreError> {
        let on = self.on.iter().map(|stage| stage.name().to_owned()).collect();
        let reason = self.reason.as_ref().map(|reason| reason.as_str().to_owned());
        Ok(NewEvent {
            key: self.key.clone(),
            job: self.job.clone(),
            part: String::new(),
            kind: STAGES.to_owned(),
            detail: to_json(&Detail { on, added, taken_off, reason })?,
            happened: None,
            supersedes: None,
        })
    }
}

impl StagesTold {
    /// The change that an entry of kind [`STAGES`] tells.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = from_json(&event.detail)?;
        let stages = |names: &[String]| -> Result<Vec<StageKind>, StoreError> {
            names.iter().map(|name| read(name, StageKind::from_name)).collect()
        };
        Ok(Self {
            added: stages(&detail.added)?,
            taken_off: stages(&detail.taken_off)?,
            reason: detail.reason,
        })
    }
}
