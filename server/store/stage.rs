//! The stages of a job, what waits for what, and what was reported of them.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use sqlx::SqliteConnection;
use trade::cure::{
    Bed, Courses, Entry, EntryId, Grounds, Instant, Now, OwnWindow, Part, Product, Products, Span,
    StageGraph, StageKind, Stamp, Template, WaitKind, What, Window, standing,
};
use trade::measure::SurfaceId;

use super::event::{add_event, of_job, repeated};
use super::heartbeat::{beat, moment};
use super::product::{KeptProduct, from_json, read, to_json};
use super::temperature::{self, Temperatures};
use super::{
    Actor, Appended, Event, EventId, EventKey, JobId, KeptBatch, NewEvent, PersonId, Store, StoreError, batch,
};

/// The kind of a report on a stage in the log.
pub const STAGE: &str = "stage";

/// All that is known of a job's stages at one moment.
#[derive(Clone, Debug)]
pub struct Stages {
    pub graph: StageGraph,
    /// What is used from now on.
    pub products: Products,
    /// What the tile lies on.
    pub bed: Bed,
    /// What was reported, in the order received.
    pub log: Vec<Entry>,
    /// What stands beside each entry.
    pub notes: BTreeMap<EntryId, Note>,
    /// How cold it was.
    pub temperatures: Temperatures,
    /// Every mix, in the order in which they were first told.
    pub batches: Vec<KeptBatch>,
    /// What everybody is called.
    pub names: BTreeMap<PersonId, String>,
    /// When this was looked at.
    pub now: Now,
}

/// What an entry says that no wait depends on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Note {
    pub event: EventId,
    pub author: String,
    /// Why it corrects what it corrects.
    pub reason: Option<String>,
    /// The mixes that it was done from.
    pub batches: Vec<EventId>,
}

/// A report, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewEntry {
    pub key: EventKey,
    pub job: JobId,
    pub part: Part,
    pub stage: StageKind,
    pub what: What,
    pub told: Told,
    /// The lead stands by the time told.
    pub confirmed: bool,
    /// What it corrects.
    pub supersedes: Option<EventId>,
    /// Why it corrects it.
    pub reason: Option<Grounds>,
    /// The mixes that it was done from; `None` for those of the entry that it corrects.
    pub batches: Option<Vec<EventId>>,
}

/// When it happened, as a person tells it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Told {
    /// Just now.
    Now,
    /// So long before this is received, so that a form sent again still says the same.
    Ago(Span),
    /// At that time.
    At(Instant),
}

#[derive(Serialize, Deserialize)]
struct Detail {
    stage: String,
    what: String,
    /// What the job used for the stage when this was told.
    product: Option<KeptProduct>,
    confirmed: bool,
    reason: Option<String>,
    ago_milliseconds: Option<i64>,
    /// Left out where none is named, as in every entry made before there were any.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    batches: Vec<EventId>,
}

impl Store {
    /// The walls of a job in their order: short name, and what the crew calls it.
    pub async fn walls_of(&self, job: &JobId) -> Result<Vec<(SurfaceId, String)>, StoreError> {
        let rows = sqlx::query!("SELECT id, name FROM wall WHERE job = ? ORDER BY place, id", job)
            .fetch_all(&self.readers)
            .await?;
        rows.into_iter().map(|row| Ok((read(&row.id, SurfaceId::new)?, row.name))).collect()
    }

    /// The stages of a job as they stand now.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where there is no such job.
    pub async fn stages(&self, job: &JobId) -> Result<Stages, StoreError> {
        let mut transaction = self.readers.begin().await?;
        load(&mut transaction, job, self.clock.stamp()).await
    }

    /// Keeps a report once `allowed` has looked at the stages as they stand, both in one transaction, so that
    /// nothing comes between the look and the entry. A repeat of a key is answered without asking again.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where what it corrects or a mix that it names is not there, [`StoreError::Stale`] where
    /// that was corrected already, [`StoreError::KeyReused`] when the key was used for something else.
    pub async fn append_stage<R: Send + 'static>(
        &self,
        new: NewEntry,
        by: Actor,
        allowed: impl FnOnce(&Stages) -> Result<(), R> + Send + 'static,
    ) -> Result<Result<Appended, R>, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let asked = new.asked()?;
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Ok(Appended::Again(before)));
            }
            let stamp = store.clock.stamp();
            let stages = load(&mut transaction, &new.job, stamp).await?;
            let corrected = new.supersedes.as_ref().map(|id| stages.correctable(id, &new)).transpose()?;
            if !batch::known(&stages, new.stage, new.batches.as_deref().unwrap_or_default()) {
                return Err(StoreError::Missing);
            }
            if let Err(refusal) = allowed(&stages) {
                return Ok(Err(refusal));
            }
            let kept = new.kept(asked, &stages, corrected, stamp)?;
            let received = beat(&mut transaction, stamp).await?;
            let event = add_event(&mut transaction, kept, by, payload_hash, received).await?;
            transaction.commit().await?;
            Ok(Ok(Appended::New(event)))
        })
        .await
    }
}

impl Stages {
    /// The entry of that event, where this job's log has one of a stage.
    pub fn entry(&self, event: &EventId) -> Option<&Entry> {
        let (id, _) = self.notes.iter().find(|(_, note)| note.event == *event)?;
        self.log.iter().find(|entry| entry.id == *id)
    }

    /// The entry that `new` may correct: of the same stage and wall, and not corrected yet.
    fn correctable(&self, event: &EventId, new: &NewEntry) -> Result<&Entry, StoreError> {
        let of_it = |entry: &&Entry| entry.stage == new.stage && entry.part.surface == new.part.surface;
        let entry = self.entry(event).filter(of_it).ok_or(StoreError::Missing)?;
        let stands = standing(&self.log).iter().any(|standing| standing.id == entry.id);
        if stands { Ok(entry) } else { Err(StoreError::Stale) }
    }
}

impl NewEntry {
    /// That a stage is finished, just now.
    pub fn of(key: EventKey, job: &JobId, part: Part, stage: StageKind) -> Self {
        Self {
            key,
            job: job.clone(),
            part,
            stage,
            what: What::Finished,
            told: Told::Now,
            confirmed: false,
            supersedes: None,
            reason: None,
            batches: Some(Vec::new()),
        }
    }

    /// What a repeat must say too: neither the product nor a time that the server works out is part of it.
    fn asked(&self) -> Result<NewEvent, StoreError> {
        let happened = match self.told {
            Told::At(instant) => Some(instant),
            Told::Now | Told::Ago(_) => None,
        };
        Ok(NewEvent {
            key: self.key.clone(),
            job: self.job.clone(),
            part: part_name(&self.part),
            kind: STAGE.to_owned(),
            detail: to_json(&self.detail(None, self.batches.as_deref().unwrap_or_default()))?,
            happened,
            supersedes: self.supersedes.clone(),
        })
    }

    /// What is kept of it: the product too, and the time.
    fn kept(
        &self,
        asked: NewEvent,
        stages: &Stages,
        corrected: Option<&Entry>,
        stamp: Stamp,
    ) -> Result<NewEvent, StoreError> {
        let planned = stages.products.get(&self.stage);
        let product = match corrected {
            Some(corrected) => corrected.product.as_ref().or(planned),
            None => planned,
        };
        let happened = match self.told {
            Told::Now => None,
            Told::Ago(age) => Some(stamp.wall - age),
            Told::At(instant) => Some(instant),
        };
        let before = corrected.and_then(|corrected| stages.notes.get(&corrected.id));
        let batches = match (&self.batches, before) {
            (Some(batches), _) => batches.as_slice(),
            (None, Some(before)) => before.batches.as_slice(),
            (None, None) => &[],
        };
        Ok(NewEvent { detail: to_json(&self.detail(product, batches))?, happened, ..asked })
    }

    fn detail(&self, product: Option<&Product>, batches: &[EventId]) -> Detail {
        let ago_milliseconds = match self.told {
            Told::Ago(age) => Some(age.millis()),
            Told::Now | Told::At(_) => None,
        };
        Detail {
            stage: self.stage.name().to_owned(),
            what: what_name(self.what).to_owned(),
            product: product.map(KeptProduct::from),
            confirmed: self.confirmed,
            reason: self.reason.as_ref().map(|reason| reason.as_str().to_owned()),
            ago_milliseconds,
            batches: batches.to_vec(),
        }
    }
}

/// The stages that a new job of this kind starts with, and what waits for what.
pub(super) async fn start(
    connection: &mut SqliteConnection,
    job: &JobId,
    work: Template,
) -> Result<(), StoreError> {
    let graph = StageGraph::of(work);
    for (place, (kind, on_job)) in (1_i64..).zip(graph.stages()) {
        let kind = kind.name();
        sqlx::query!(
            "INSERT INTO stage (job, kind, place, on_job) VALUES (?, ?, ?, ?)",
            job,
            kind,
            place,
            on_job
        )
        .execute(&mut *connection)
        .await?;
    }
    for (from, to, wait) in graph.rows() {
        let (from, to, wait) = (from.name(), to.name(), wait.to_text());
        sqlx::query!(
            "INSERT INTO stage_wait (job, earlier, later, wait) VALUES (?, ?, ?, ?)",
            job,
            from,
            to,
            wait
        )
        .execute(&mut *connection)
        .await?;
    }
    super::product::start(connection, job).await
}

pub(super) async fn load(
    connection: &mut SqliteConnection,
    job: &JobId,
    stamp: Stamp,
) -> Result<Stages, StoreError> {
    let bed = bed(connection, job).await?;
    let graph = graph(connection, job).await?;
    let products = super::product::products(connection, job).await?;
    let names = super::people::names(connection).await?;
    let events = of_job(connection, job).await?;
    let (log, notes) = reports(&events, &products, &names)?;
    let temperatures = temperature::load(connection, job).await?;
    let batches = batch::kept(&events, &temperatures.climate)?;
    let now = moment(connection, stamp).await?;
    Ok(Stages { graph, products, bed, log, notes, temperatures, batches, names, now })
}

async fn bed(connection: &mut SqliteConnection, job: &JobId) -> Result<Bed, StoreError> {
    let membrane = sqlx::query_scalar!("SELECT membrane FROM job WHERE id = ?", job)
        .fetch_optional(connection)
        .await?
        .ok_or(StoreError::Missing)?;
    Ok(if membrane == 0 { Bed::Ordinary } else { Bed::OverMembrane })
}

pub(super) async fn graph(connection: &mut SqliteConnection, job: &JobId) -> Result<StageGraph, StoreError> {
    let stages = sqlx::query!("SELECT kind, on_job FROM stage WHERE job = ? ORDER BY place", job)
        .fetch_all(&mut *connection)
        .await?;
    let waits = sqlx::query!("SELECT earlier, later, wait FROM stage_wait WHERE job = ?", job)
        .fetch_all(connection)
        .await?;
    let mut kinds = Vec::new();
    let mut off = BTreeSet::new();
    for row in stages {
        let kind = read(&row.kind, StageKind::from_name)?;
        kinds.push(kind);
        if row.on_job == 0 {
            off.insert(kind);
        }
    }
    let mut rows = Vec::new();
    for row in waits {
        let stage = |name: &str| read(name, StageKind::from_name);
        rows.push((stage(&row.earlier)?, stage(&row.later)?, read(&row.wait, WaitKind::from_text)?));
    }
    StageGraph::new(kinds, rows)
        .and_then(|graph| off.into_iter().try_fold(graph, StageGraph::without))
        .map_err(|fault| StoreError::Unreadable(format!("stages of job {job}: {fault}")))
}

fn reports(
    events: &[Event],
    products: &Products,
    names: &BTreeMap<PersonId, String>,
) -> Result<(Vec<Entry>, BTreeMap<EntryId, Note>), StoreError> {
    let mut log = Vec::new();
    let mut notes = BTreeMap::new();
    let mut numbers: BTreeMap<&EventId, EntryId> = BTreeMap::new();
    for event in events.iter().filter(|event| event.kind == STAGE) {
        let id = number(event)?;
        let detail: Detail = from_json(&event.detail)?;
        let stage = read(&detail.stage, StageKind::from_name)?;
        let told = detail.product.map(|product| product.product()).transpose()?;
        log.push(Entry {
            id,
            part: read(&event.part, part_from_name)?,
            stage,
            what: read(&detail.what, what_from_name)?,
            happened: event.happened,
            received: event.received,
            confirmed: detail.confirmed,
            supersedes: event.supersedes.as_ref().and_then(|id| numbers.get(id).copied()),
            product: told.and_then(|told| apart_from_plan(told, products.get(&stage))),
        });
        let author = names.get(&event.author).cloned().unwrap_or_else(|| event.author.to_string());
        let (event_id, batches) = (event.id.clone(), detail.batches);
        notes.insert(id, Note { event: event_id, author, reason: detail.reason, batches });
        numbers.insert(&event.id, id);
    }
    Ok((log, notes))
}

/// An event's number among the entries of stages.
fn number(event: &Event) -> Result<EntryId, StoreError> {
    let number = u64::try_from(event.sequence);
    number.map(EntryId).map_err(|_| StoreError::Unreadable(format!("entry {}", event.sequence)))
}

/// The product that an entry goes by, where that is not what the job plans now. What the bag says of a product
/// holds for the walls already done with it too. Where it had no name then, it may or may not have been the one
/// that is planned now, so the longer wait of both holds.
fn apart_from_plan(told: Product, planned: Option<&Product>) -> Option<Product> {
    match planned {
        Some(planned) if planned.class() == told.class() && planned.name() == told.name() => None,
        Some(planned) if planned.class() == told.class() && super::crew_name(&told).is_none() => {
            Some(longer(told, planned))
        }
        _ => Some(told),
    }
}

/// `told` with the windows of `planned` where those are longer, and with the higher of the temperatures they work at.
fn longer(told: Product, planned: &Product) -> Product {
    let pairs = Window::ALL.into_iter().flat_map(|window| Bed::ALL.map(|bed| (window, bed)));
    let own = |product: &Product, window, bed| {
        product.own().find(|own| own.window == window && own.bed == bed).cloned()
    };
    let pick = |(window, bed)| -> Option<OwnWindow> {
        let from = if planned.window(window, bed) > told.window(window, bed) { planned } else { &told };
        own(from, window, bed)
    };
    let picked = pairs.filter_map(pick).collect();
    let warmer = if planned.lowest() > told.lowest() { planned } else { &told };
    let lowest = warmer.own_lowest().cloned();
    let both = Product::new(told.name(), told.class(), picked);
    let both = both.and_then(|both| lowest.into_iter().try_fold(both, Product::with_lowest));
    both.unwrap_or(told)
}

fn what_name(what: What) -> &'static str {
    match what {
        What::Started => "started",
        What::Finished => "finished",
        What::Withdrawn => "withdrawn",
    }
}

fn what_from_name(name: &str) -> Option<What> {
    [What::Started, What::Finished, What::Withdrawn].into_iter().find(|what| what_name(*what) == name)
}

/// `back`, or `back 1-4` for some courses. A surface's name has no spaces.
fn part_name(part: &Part) -> String {
    match part.courses {
        Some(courses) => format!("{} {}-{}", part.surface, courses.first(), courses.last()),
        None => part.surface.to_string(),
    }
}

fn part_from_name(name: &str) -> Option<Part> {
    let Some((surface, courses)) = name.split_once(' ') else {
        return Some(Part::whole(SurfaceId::new(name)?));
    };
    let (first, last) = courses.split_once('-')?;
    let courses = Courses::new(first.parse().ok()?, last.parse().ok()?)?;
    Some(Part { surface: SurfaceId::new(surface)?, courses: Some(courses) })
}

#[cfg(test)]
mod tests {
    use trade::cure::ProductClass;

    use super::*;

    fn mortar(name: &str, hours: Option<i64>) -> Product {
        let own = hours.map(|hours| OwnWindow {
            window: Window::SetToGrout,
            bed: Bed::OverMembrane,
            span: Span::from_hours(hours),
            grounds: Grounds::new("the bag says so"),
        });
        Product::new(name, ProductClass::CementMortar, own.into_iter().collect()).unwrap()
    }

    fn wait(told: &Product, planned: &Product) -> i64 {
        let apart = apart_from_plan(told.clone(), Some(planned));
        let used = apart.as_ref().unwrap_or(planned);
        used.window(Window::SetToGrout, Bed::OverMembrane).unwrap().millis() / 3_600_000
    }

    #[test]
    fn what_the_bag_says_holds_for_walls_already_set_with_it() {
        assert_eq!(wait(&mortar("grey bag", None), &mortar("grey bag", Some(24))), 24);
        assert_eq!(wait(&mortar("grey bag", Some(24)), &mortar("grey bag", None)), 48);
    }

    #[test]
    fn another_bag_changes_nothing_for_walls_already_set() {
        assert_eq!(wait(&mortar("grey bag", None), &mortar("white bag", Some(24))), 48);
        assert_eq!(wait(&mortar("grey bag", Some(72)), &mortar("white bag", None)), 72);
    }

    #[test]
    fn a_bag_named_only_afterwards_can_lengthen_the_wait_and_never_shorten_it() {
        let unnamed = ProductClass::CementMortar.name();
        assert_eq!(wait(&mortar(unnamed, None), &mortar("grey bag", Some(24))), 48);
        assert_eq!(wait(&mortar(unnamed, None), &mortar("grey bag", Some(72))), 72);
    }

    #[test]
    fn a_part_is_read_back_as_it_was_written() {
        for name in ["back", "back 1-4", "A_1 2-2"] {
            assert_eq!(part_from_name(name).map(|part| part_name(&part)).as_deref(), Some(name));
        }
        for name in ["", "back ", "back 4-1", "back 0-1", "back 1", "back wall 1-2"] {
            assert_eq!(part_from_name(name), None, "{name}");
        }
    }
}
