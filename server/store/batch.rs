//! Mixes of mortar and grout, as the log tells them: what was mixed when, of which bag, and when it was used up. A mix
//! that was told wrong is corrected by a further entry; both stay, and what was set from it stays linked to the first.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use trade::cure::{Batch, Climate, Grounds, Instant, Powder, Product, Span, StageKind, Temperature, Water};

use super::event::{add_event, of_job, repeated};
use super::heartbeat::beat;
use super::product::{KeptProduct, from_json, read, to_json};
use super::temperature::temperature;
use super::{
    Actor, Appended, Event, EventId, EventKey, JobId, NewEvent, PersonId, Stages, Store, StoreError,
};

/// The kind of a mix in the log.
pub const BATCH: &str = "batch";
/// The kind of an entry that says that a mix is used up or thrown away.
pub const BATCH_OVER: &str = "batch-over";

/// Mixes of a job, with their corrections: a dozen a day for a year.
pub const MOST_BATCHES: usize = 4000;

/// A lot as the bag has it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lot(String);

/// A mix, or the correction of one, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewBatch {
    /// Of the form that asks; it is kept once for each.
    pub key: EventKey,
    pub job: JobId,
    /// What it is for: it is of the product that the job uses there.
    pub stage: StageKind,
    /// How long before the press it was mixed.
    pub ago: Span,
    /// How long the phone kept the press. A form sent again says another, and still says the same.
    pub kept_for: Span,
    pub lot: Option<Lot>,
    pub powder: Option<Powder>,
    pub water: Option<Water>,
    pub temperature: Option<Temperature>,
    /// What it corrects, and how.
    pub corrects: Option<Correction>,
}

/// That a mix was told wrong.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Correction {
    /// The entry that holds until now.
    pub event: EventId,
    /// It was never mixed.
    pub never: bool,
    /// Why.
    pub reason: Grounds,
}

/// A mix as it stands.
#[derive(Clone, Debug)]
pub struct KeptBatch {
    /// Its first entry, by which what was set from it knows it.
    pub first: EventId,
    /// Its last one, which a correction corrects.
    pub last: EventId,
    /// All of them.
    pub entries: Vec<EventId>,
    /// What the crew calls it by: the how many-th of the job.
    pub number: usize,
    pub stage: StageKind,
    pub batch: Batch,
    pub lot: Option<Lot>,
    pub powder: Option<Powder>,
    pub water: Option<Water>,
    /// How warm it was told to be.
    pub temperature: Option<Temperature>,
    pub author: PersonId,
    /// It was never mixed.
    pub withdrawn: bool,
    /// When it was used up.
    pub over: Option<Instant>,
}

/// A mix as one entry tells it.
#[derive(Clone, Debug)]
pub struct BatchTold {
    pub stage: StageKind,
    pub product: Product,
    pub lot: Option<Lot>,
    pub powder: Option<Powder>,
    pub water: Option<Water>,
    pub temperature: Option<Temperature>,
    pub withdrawn: bool,
    pub reason: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct Detail {
    stage: String,
    /// What it was mixed of, with what the bag said then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    product: Option<KeptProduct>,
    lot: Option<String>,
    powder_grams: Option<i64>,
    water_millilitres: Option<i64>,
    tenths: Option<i32>,
    ago_milliseconds: i64,
    withdrawn: bool,
    reason: Option<String>,
}

impl Lot {
    /// The longest: what is stamped on a bag, twice over.
    pub const MOST_CHARACTERS: usize = 40;

    /// What is stamped on a bag; `None` where that is nothing or too long.
    pub fn new(words: &str) -> Option<Self> {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        let fits = !words.is_empty() && words.chars().count() <= Self::MOST_CHARACTERS;
        fits.then_some(Self(words))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Store {
    /// Keeps a mix, or the correction of one, once for each key.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where the job mixes nothing for that stage or what it corrects is not there,
    /// [`StoreError::Stale`] where that was corrected already, [`StoreError::Full`] where there are as many as
    /// [`MOST_BATCHES`].
    pub async fn append_batch(&self, new: NewBatch, by: Actor) -> Result<Appended, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let asked = new.event(None)?;
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Appended::Again(before));
            }
            let stamp = store.clock.stamp();
            let events = of_job(&mut transaction, &new.job).await?;
            if events.iter().filter(|event| event.kind == BATCH).count() >= MOST_BATCHES {
                return Err(StoreError::Full);
            }
            let stages = super::stage::load(&mut transaction, &new.job, stamp).await?;
            let product = new.product(&stages)?;
            let received = beat(&mut transaction, stamp).await?;
            let happened = match &new.corrects {
                Some(correction) => corrected(&stages, &correction.event)?.batch.mixed(),
                None => received.wall - new.kept_for - new.ago,
            };
            let kept = NewEvent { happened: Some(happened), ..new.event(Some(&product))? };
            let event = add_event(&mut transaction, kept, by, payload_hash, received).await?;
            transaction.commit().await?;
            Ok(Appended::New(event))
        })
        .await
    }

    /// Keeps that a mix is used up or thrown away, once for each key.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where the job has no such mix. One that is used up already stays so.
    pub async fn batch_over(
        &self,
        key: EventKey,
        job: JobId,
        batch: EventId,
        by: Actor,
    ) -> Result<Appended, StoreError> {
        let new = NewEvent {
            key,
            job: job.clone(),
            part: batch.to_string(),
            kind: BATCH_OVER.to_owned(),
            detail: "{}".to_owned(),
            happened: None,
            supersedes: None,
        };
        let outcome = self
            .append_if(new, by, move |events| {
                let known = |event: &&Event| event.kind == BATCH && event.id == batch;
                events.iter().find(known).map(|_| ()).ok_or(())
            })
            .await?;
        outcome.map_err(|()| StoreError::Missing)
    }
}

impl NewBatch {
    /// A mix just made, of which nothing more is told.
    pub fn of(key: EventKey, job: &JobId, stage: StageKind) -> Self {
        Self {
            key,
            job: job.clone(),
            stage,
            ago: Span::ZERO,
            kept_for: Span::ZERO,
            lot: None,
            powder: None,
            water: None,
            temperature: None,
            corrects: None,
        }
    }

    /// What it is mixed of: what the job uses now, or of a correction what it was.
    fn product(&self, stages: &Stages) -> Result<Product, StoreError> {
        match &self.corrects {
            Some(correction) => Ok(corrected(stages, &correction.event)?.batch.product().clone()),
            None => {
                let product = stages.products.get(&self.stage).filter(|product| product.is_mixed());
                product.cloned().ok_or(StoreError::Missing)
            }
        }
    }

    /// What a repeat must say too is all but the product.
    fn event(&self, product: Option<&Product>) -> Result<NewEvent, StoreError> {
        let correction = self.corrects.as_ref();
        let detail = Detail {
            stage: self.stage.name().to_owned(),
            product: product.map(KeptProduct::from),
            lot: self.lot.as_ref().map(|lot| lot.as_str().to_owned()),
            powder_grams: self.powder.map(Powder::grams),
            water_millilitres: self.water.map(Water::millilitres),
            tenths: self.temperature.map(Temperature::tenths),
            ago_milliseconds: self.ago.millis(),
            withdrawn: correction.is_some_and(|correction| correction.never),
            reason: correction.map(|correction| correction.reason.as_str().to_owned()),
        };
        Ok(NewEvent {
            key: self.key.clone(),
            job: self.job.clone(),
            part: String::new(),
            kind: BATCH.to_owned(),
            detail: to_json(&detail)?,
            happened: None,
            supersedes: correction.map(|correction| correction.event.clone()),
        })
    }
}

/// The mix that a correction may correct: by its last entry, and still there.
fn corrected<'a>(stages: &'a Stages, event: &EventId) -> Result<&'a KeptBatch, StoreError> {
    let of_it = stages.batches.iter().find(|kept| kept.last == *event && !kept.withdrawn);
    of_it.ok_or(StoreError::Stale)
}

impl BatchTold {
    /// The mix that an entry of kind [`BATCH`] tells.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = from_json(&event.detail)?;
        let unreadable = || StoreError::Unreadable(format!("batch {}", event.sequence));
        Ok(Self {
            stage: read(&detail.stage, StageKind::from_name)?,
            product: detail.product.ok_or_else(unreadable)?.product()?,
            lot: detail.lot.as_deref().and_then(Lot::new),
            powder: detail.powder_grams.and_then(Powder::from_grams),
            water: detail.water_millilitres.and_then(Water::from_millilitres),
            temperature: detail.tenths.map(|tenths| temperature(tenths.into())).transpose()?,
            withdrawn: detail.withdrawn,
            reason: detail.reason,
        })
    }
}

/// Every mix of a job, in the order in which they were first told.
pub(super) fn kept(events: &[Event], climate: &Climate) -> Result<Vec<KeptBatch>, StoreError> {
    let mut all: Vec<KeptBatch> = Vec::new();
    let mut places: BTreeMap<&EventId, usize> = BTreeMap::new();
    let mut over: BTreeMap<&str, Instant> = BTreeMap::new();
    for event in events {
        if event.kind == BATCH_OVER {
            over.entry(event.part.as_str()).or_insert(event.happened);
        }
        if event.kind != BATCH {
            continue;
        }
        let before = event.supersedes.as_ref().and_then(|old| places.get(old).copied());
        let place = before.unwrap_or(all.len());
        places.insert(&event.id, place);
        let told = BatchTold::of(event)?;
        // It is as old as it was when it was first told, whenever the rest was put right.
        let first = before.and_then(|place| all.get(place));
        let (mixed, received) = first
            .map_or((event.happened, event.received), |first| (first.batch.mixed(), *first.batch.received()));
        let warmest = told.temperature.or_else(|| warmest_near(climate, mixed));
        let batch = Batch::new(mixed, received, told.product, warmest)
            .ok_or_else(|| StoreError::Unreadable(format!("batch {}", event.sequence)))?;
        let kept = KeptBatch {
            first: first.map_or_else(|| event.id.clone(), |first| first.first.clone()),
            last: event.id.clone(),
            entries: first
                .map_or(&[][..], |first| &first.entries)
                .iter()
                .chain([&event.id])
                .cloned()
                .collect(),
            number: place + 1,
            stage: told.stage,
            batch,
            lot: told.lot,
            powder: told.powder,
            water: told.water,
            temperature: told.temperature,
            author: event.author.clone(),
            withdrawn: told.withdrawn,
            over: None,
        };
        match all.get_mut(place) {
            Some(before) => *before = kept,
            None => all.push(kept),
        }
    }
    for kept in &mut all {
        kept.over = over.get(kept.first.as_str()).copied();
    }
    Ok(all)
}

/// Where nobody measured a mix, the warmest that was read within a morning or an afternoon of it: heat shortens what it
/// is good for.
fn warmest_near(climate: &Climate, mixed: Instant) -> Option<Temperature> {
    let near = |held: Instant| held - mixed <= Climate::APART && mixed - held <= Climate::APART;
    climate
        .readings()
        .filter(|reading| near(reading.held_from))
        .filter_map(|reading| reading.temperature)
        .max()
}

/// The mixes that an entry of a stage may be linked to: of this job, for this stage, and mixed at all.
pub(super) fn known(stages: &Stages, stage: StageKind, named: &[EventId]) -> bool {
    let of_it: BTreeSet<&EventId> = stages
        .batches
        .iter()
        .filter(|kept| kept.stage == stage && !kept.withdrawn)
        .map(|kept| &kept.first)
        .collect();
    named.iter().all(|id| of_it.contains(id))
}
