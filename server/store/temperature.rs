//! How cold it was on a job: what was read, of a wall or of the whole job, and the lowest that its nights come to.
//! Each is an entry of the log too. A reading that was wrong is corrected by a further one; both stay.

use serde::{Deserialize, Serialize};
use sqlx::SqliteConnection;
use trade::cure::{Climate, EntryId, Grounds, Instant, Night, Reading, Span, Temperature};
use trade::measure::SurfaceId;

use super::event::{add_event, repeated};
use super::heartbeat::{beat, stamp};
use super::product::{from_json, read, to_json};
use super::{Actor, Appended, Event, EventId, EventKey, JobId, NewEvent, PersonId, Store, StoreError, Told};

/// The kind of a reading in the log.
pub const READING: &str = "reading";
/// The kind of a night temperature in the log.
pub const NIGHT: &str = "night";

/// Readings of a job, with their corrections: several a day for a year. The gate goes through all of them for every
/// page.
pub const MOST_READINGS: u32 = 2000;
/// Night temperatures of a job: one a day for more than a year.
pub const MOST_NIGHTS: u32 = 500;

/// A reading, or the correction of one, as it is asked to be kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewReading {
    /// Of the form that asks; it is kept once for each.
    pub key: EventKey,
    /// Where it was read.
    pub job: JobId,
    /// Of which wall; the whole job where none is named.
    pub surface: Option<SurfaceId>,
    /// `None` takes back what it corrects.
    pub temperature: Option<Temperature>,
    /// From when it held. A correction holds from when the first one did.
    pub told: Told,
    /// Who or what read it.
    pub source: Source,
    /// What it corrects.
    pub supersedes: Option<EventId>,
    /// Why it corrects it.
    pub reason: Option<Grounds>,
}

/// The lowest temperature that nights come to, from now on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewNight {
    /// Of the form that asks; it is kept once for each.
    pub key: EventKey,
    /// Whose nights.
    pub job: JobId,
    /// As cold as the walls get.
    pub lowest: Temperature,
}

/// Where a reading comes from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Source {
    /// Somebody read a thermometer, or felt it.
    Hand,
    /// A file of a thermometer that keeps what it reads.
    File,
    /// A thermometer that tells it by itself.
    Sensor,
}

/// All that was told of temperature on a job.
#[derive(Clone, Debug)]
pub struct Temperatures {
    pub climate: Climate,
    /// Every reading, in the order received, corrected or not.
    pub readings: Vec<KeptReading>,
}

/// A reading as it was kept.
#[derive(Clone, Debug)]
pub struct KeptReading {
    /// Its entry in the log.
    pub event: EventId,
    /// Who told it.
    pub author: PersonId,
    /// Who or what read it.
    pub source: Source,
    /// What was read, as the gate counts it.
    pub reading: Reading,
    /// Why it corrects another.
    pub reason: Option<String>,
}

/// A reading as its entry tells it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ReadingTold {
    /// Of which wall; the whole job where none is named.
    pub surface: Option<SurfaceId>,
    /// `None` takes back what it corrects.
    pub temperature: Option<Temperature>,
    /// It corrects an earlier one.
    pub corrects: bool,
    /// Why.
    pub reason: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct Detail {
    tenths: Option<i32>,
    source: String,
    ago_milliseconds: Option<i64>,
    reason: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct NightDetail {
    tenths: i32,
}

impl Store {
    /// Keeps a reading, once for each key.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where the job has no such wall or what it corrects is not there,
    /// [`StoreError::Stale`] where that was corrected already, [`StoreError::Full`] where there are as many as
    /// [`MOST_READINGS`].
    pub async fn append_reading(&self, new: NewReading, by: Actor) -> Result<Appended, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let asked = new.event()?;
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Appended::Again(before));
            }
            let readings = sqlx::query_scalar!("SELECT count(*) FROM reading WHERE job = ?", new.job)
                .fetch_one(&mut *transaction)
                .await?;
            if readings >= i64::from(MOST_READINGS) {
                return Err(StoreError::Full);
            }
            let corrected = match &new.supersedes {
                Some(id) => Some(correctable(&mut transaction, &new.job, id).await?),
                None => None,
            };
            let received = beat(&mut transaction, store.clock.stamp()).await?;
            let told = match new.told {
                Told::Now => received.wall,
                Told::Ago(age) => received.wall - age,
                Told::At(instant) => instant,
            };
            let holds_from = corrected.map_or(told, |corrected| corrected.reading.held_from);
            let asked = NewEvent { happened: Some(told), ..asked };
            let event = add_event(&mut transaction, asked, by, payload_hash, received).await?;
            insert(&mut transaction, &event.id, &new, holds_from).await?;
            transaction.commit().await?;
            Ok(Appended::New(event))
        })
        .await
    }

    /// Keeps the lowest temperature that nights come to, once for each key.
    ///
    /// # Errors
    ///
    /// [`StoreError::Full`] where there are as many as [`MOST_NIGHTS`].
    pub async fn append_night(&self, new: NewNight, by: Actor) -> Result<Appended, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            let (tenths, job) = (new.lowest.tenths(), new.job.clone());
            let detail = to_json(&NightDetail { tenths })?;
            let (key, kind, part) = (new.key, NIGHT.to_owned(), String::new());
            let asked = NewEvent { key, job: new.job, part, kind, detail, happened: None, supersedes: None };
            let payload_hash = asked.payload_hash();
            if let Some(before) = repeated(&mut transaction, &asked.key, payload_hash).await? {
                return Ok(Appended::Again(before));
            }
            let nights = sqlx::query_scalar!("SELECT count(*) FROM night WHERE job = ?", job)
                .fetch_one(&mut *transaction)
                .await?;
            if nights >= i64::from(MOST_NIGHTS) {
                return Err(StoreError::Full);
            }
            let received = beat(&mut transaction, store.clock.stamp()).await?;
            let event = add_event(&mut transaction, asked, by, payload_hash, received).await?;
            sqlx::query!("INSERT INTO night (event, job, tenths) VALUES (?, ?, ?)", event.id, job, tenths)
                .execute(&mut *transaction)
                .await?;
            transaction.commit().await?;
            Ok(Appended::New(event))
        })
        .await
    }
}

impl NewReading {
    /// A reading of the whole job, of this moment, by hand.
    pub fn of(key: EventKey, job: &JobId, temperature: Temperature) -> Self {
        Self {
            key,
            job: job.clone(),
            surface: None,
            temperature: Some(temperature),
            told: Told::Now,
            source: Source::Hand,
            supersedes: None,
            reason: None,
        }
    }

    /// What a repeat must say too: a time that the server works out is no part of it.
    fn event(&self) -> Result<NewEvent, StoreError> {
        let (happened, ago) = match self.told {
            Told::Now => (None, None),
            Told::Ago(age) => (None, Some(age)),
            Told::At(instant) => (Some(instant), None),
        };
        let detail = Detail {
            tenths: self.temperature.map(Temperature::tenths),
            source: self.source.name().to_owned(),
            ago_milliseconds: ago.map(Span::millis),
            reason: self.reason.as_ref().map(|reason| reason.as_str().to_owned()),
        };
        Ok(NewEvent {
            key: self.key.clone(),
            job: self.job.clone(),
            part: self.surface.as_ref().map_or_else(String::new, ToString::to_string),
            kind: READING.to_owned(),
            detail: to_json(&detail)?,
            happened,
            supersedes: self.supersedes.clone(),
        })
    }
}

impl ReadingTold {
    /// The reading that an entry of kind [`READING`] tells.
    pub fn of(event: &Event) -> Result<Self, StoreError> {
        let detail: Detail = from_json(&event.detail)?;
        let surface = if event.part.is_empty() { None } else { Some(read(&event.part, SurfaceId::new)?) };
        Ok(Self {
            surface,
            temperature: detail.tenths.map(|tenths| temperature(tenths.into())).transpose()?,
            corrects: event.supersedes.is_some(),
            reason: detail.reason,
        })
    }
}

/// The night temperature that an entry of kind [`NIGHT`] tells.
pub fn night_told(event: &Event) -> Result<Temperature, StoreError> {
    let detail: NightDetail = from_json(&event.detail)?;
    temperature(detail.tenths.into())
}

impl Source {
    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::Hand => "hand",
            Self::File => "file",
            Self::Sensor => "sensor",
        }
    }

    fn from_name(name: &str) -> Option<Self> {
        [Self::Hand, Self::File, Self::Sensor].into_iter().find(|source| source.name() == name)
    }
}

impl Temperatures {
    /// The reading of that event.
    pub fn reading(&self, event: &EventId) -> Option<&KeptReading> {
        self.readings.iter().find(|kept| kept.event == *event)
    }

    /// What corrected a reading.
    pub fn corrected_by(&self, kept: &KeptReading) -> Option<&KeptReading> {
        self.readings.iter().find(|other| other.reading.supersedes == Some(kept.reading.id))
    }
}

/// The reading that may be corrected: of this job, and neither corrected nor taken back yet.
async fn correctable(
    connection: &mut SqliteConnection,
    job: &JobId,
    event: &EventId,
) -> Result<KeptReading, StoreError> {
    let told = load(connection, job).await?;
    let kept = told.reading(event).ok_or(StoreError::Missing)?;
    let stands = told.corrected_by(kept).is_none() && kept.reading.temperature.is_some();
    if stands { Ok(kept.clone()) } else { Err(StoreError::Stale) }
}

async fn insert(
    connection: &mut SqliteConnection,
    event: &EventId,
    new: &NewReading,
    holds_from: Instant,
) -> Result<(), StoreError> {
    let (wall, holds_from) = (new.surface.as_ref().map(SurfaceId::as_str), holds_from.millis());
    let (tenths, source) = (new.temperature.map(Temperature::tenths), new.source.name());
    // What corrects another stays where that was, even where the wall has been taken off the job since.
    let known = match wall.filter(|_| new.supersedes.is_none()) {
        Some(wall) => sqlx::query_scalar!("SELECT 1 FROM wall WHERE job = ? AND id = ?", new.job, wall)
            .fetch_optional(&mut *connection)
            .await?
            .is_some(),
        None => true,
    };
    if !known {
        return Err(StoreError::Missing);
    }
    sqlx::query!(
        "INSERT INTO reading (event, job, wall, holds_from, tenths, source, supersedes) VALUES (?, ?, ?, ?, ?, ?, ?)",
        event,
        new.job,
        wall,
        holds_from,
        tenths,
        source,
        new.supersedes
    )
    .execute(connection)
    .await?;
    Ok(())
}

/// All that was told of temperature on a job.
pub(super) async fn load(connection: &mut SqliteConnection, job: &JobId) -> Result<Temperatures, StoreError> {
    let rows = sqlx::query!(
        "SELECT event.id, event.sequence, event.author, event.received, event.boot, event.boot_ms,
                event.wall_clock, event.detail, wall, holds_from, tenths, source, before.sequence AS \"before?: i64\"
         FROM reading JOIN event ON event.id = reading.event
         LEFT JOIN event AS before ON before.id = reading.supersedes
         WHERE reading.job = ? ORDER BY event.sequence",
        job
    )
    .fetch_all(&mut *connection)
    .await?;
    let mut readings = Vec::new();
    for row in rows {
        readings.push(KeptReading {
            event: row.id,
            author: row.author,
            source: read(&row.source, Source::from_name)?,
            reading: Reading {
                id: number(row.sequence)?,
                surface: row.wall.map(|wall| read(&wall, SurfaceId::new)).transpose()?,
                temperature: row.tenths.map(temperature).transpose()?,
                held_from: Instant::from_millis(row.holds_from),
                received: stamp(&row.boot, row.received, row.boot_ms, &row.wall_clock)?,
                supersedes: row.before.map(number).transpose()?,
            },
            reason: from_json::<Detail>(&row.detail)?.reason,
        });
    }
    let told = readings.iter().map(|kept| kept.reading.clone()).collect();
    let climate = Climate::new(told, nights(connection, job).await?);
    Ok(Temperatures { climate, readings })
}

async fn nights(connection: &mut SqliteConnection, job: &JobId) -> Result<Vec<Night>, StoreError> {
    let rows = sqlx::query!(
        "SELECT event.sequence, event.received, event.boot, event.boot_ms, event.wall_clock, tenths
         FROM night JOIN event ON event.id = night.event
         WHERE night.job = ? ORDER BY event.sequence",
        job
    )
    .fetch_all(connection)
    .await?;
    rows.into_iter()
        .map(|row| {
            Ok(Night {
                id: number(row.sequence)?,
                lowest: temperature(row.tenths)?,
                received: stamp(&row.boot, row.received, row.boot_ms, &row.wall_clock)?,
            })
        })
        .collect()
}

fn number(sequence: i64) -> Result<EntryId, StoreError> {
    u64::try_from(sequence).map(EntryId).map_err(|_| StoreError::Unreadable(format!("entry {sequence}")))
}

pub(super) fn temperature(tenths: i64) -> Result<Temperature, StoreError> {
    let read = i32::try_from(tenths).ok().and_then(Temperature::from_tenths);
    read.ok_or_else(|| StoreError::Unreadable(format!("temperature {tenths}")))
}
