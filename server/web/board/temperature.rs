//! How cold it is: told with one tap or as a number, corrected by a further entry; and the lowest of the nights.

use axum::extract::Path;
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{Grounds, Instant, Scale, Temperature, TemperatureFault};
use trade::measure::{SurfaceId, Unit};

use super::form::at;
use super::sight::Sight;
use super::temperature_page::{CorrectPage, TemperaturePage};
use crate::app::App;
use crate::store::{
    Appended, EventId, JobId, KeptReading, MOST_NIGHTS, MOST_READINGS, NewNight, NewReading, Role, Source,
    StoreError, Told,
};
use crate::texts::Texts;
use crate::web::error::PageError;
use crate::web::form::{Faults, Sent};
use crate::web::page::{faulty, page};
use crate::web::session::{Hand, Lead};
use crate::web::times::Times;
use crate::web::urls;

/// A reading as it is typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedReading {
    /// One of [`FEELS`], where a button was tapped.
    pub feel: String,
    pub degrees: String,
    /// Which wall; empty for the whole room.
    pub wall: String,
    pub day: String,
    pub time: String,
}

/// The lowest of the nights as it is typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedNight {
    pub lowest: String,
}

/// What a reading should have been, as it is typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedCorrection {
    pub right: String,
    pub degrees: String,
    pub reason: String,
}

/// What a reading should have been.
struct Correction {
    /// `None` where it was never read.
    right: Option<Temperature>,
    reason: Option<Grounds>,
}

/// What can be tapped, and the lowest tenth of a degree that each button says it means: 5, 13 and 21 °C, at which a
/// window is four times, twice and once as long.
pub const FEELS: [(&str, i32); 3] = [("cold", 50), ("cool", 130), ("normal", 210)];

/// What was told, and the forms to tell more.
pub async fn temperature(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    page(&TemperaturePage::new(
        &app,
        &sight,
        TypedReading::default(),
        TypedNight::default(),
        Faults::default(),
    ))
}

/// Keeps a reading.
pub async fn save_temperature(
    app: App,
    by: Hand,
    Path(job): Path<JobId>,
    sent: Sent<TypedReading>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    match sent.typed.read(&app.texts, &sight, &sight.times(&app)) {
        Ok((temperature, surface, told)) => {
            let new = NewReading { surface, told, ..NewReading::of(sent.key, &job, temperature) };
            match fits(&app, "degrees", MOST_READINGS, app.store.append_reading(new, by.0).await)? {
                Ok(()) => Ok(Redirect::to(&urls::board(&job)).into_response()),
                Err(full) => {
                    faulty(&TemperaturePage::new(&app, &sight, sent.typed, TypedNight::default(), full))
                }
            }
        }
        Err(faults) => faulty(&TemperaturePage::new(&app, &sight, sent.typed, TypedNight::default(), faults)),
    }
}

/// Keeps the lowest of the nights.
pub async fn save_night(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<TypedNight>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    match degrees(&sent.typed.lowest, sight.scale(), &app.texts) {
        Ok(lowest) => {
            let new = NewNight { key: sent.key, job: job.clone(), lowest };
            match fits(&app, "lowest", MOST_NIGHTS, app.store.append_night(new, lead.0).await)? {
                Ok(()) => Ok(Redirect::to(&urls::temperature(&job)).into_response()),
                Err(full) => {
                    faulty(&TemperaturePage::new(&app, &sight, TypedReading::default(), sent.typed, full))
                }
            }
        }
        Err(says) => {
            let mut faults = Faults::default();
            faults.add("lowest", says);
            faulty(&TemperaturePage::new(&app, &sight, TypedReading::default(), sent.typed, faults))
        }
    }
}

/// One reading, with the form that corrects it.
pub async fn reading(app: App, Path((job, event)): Path<(JobId, EventId)>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let kept = standing(&sight, &event)?;
    page(&CorrectPage::new(&app, &sight, kept, TypedCorrection::default(), Faults::default()))
}

/// Adds the reading that corrects another, or takes it back.
///
/// Colder makes waits longer, so anybody may. Warmer, or not at all, makes them shorter: that is the lead's, who says
/// why. What is corrected never changes, so it is no matter that it was looked up before it is written.
pub async fn correct_reading(
    app: App,
    by: Hand,
    Path((job, event)): Path<(JobId, EventId)>,
    sent: Sent<TypedCorrection>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let kept = sight.stages.temperatures.reading(&event).ok_or(PageError::NotFound)?;
    match sent.typed.read(&app.texts, &sight, kept, role(&app)) {
        Ok(Correction { right, reason }) => {
            let new = NewReading {
                key: sent.key,
                job: job.clone(),
                surface: kept.reading.surface.clone(),
                temperature: right,
                told: Told::Now,
                source: Source::Hand,
                supersedes: Some(event),
                reason,
            };
            match fits(&app, "degrees", MOST_READINGS, app.store.append_reading(new, by.0).await)? {
                Ok(()) => Ok(Redirect::to(&urls::temperature(&job)).into_response()),
                Err(full) => faulty(&CorrectPage::new(&app, &sight, kept, sent.typed, full)),
            }
        }
        Err(faults) => faulty(&CorrectPage::new(&app, &sight, kept, sent.typed, faults)),
    }
}

/// That there are as many as there may be is said at the field.
fn fits(
    app: &App,
    field: &str,
    most: u32,
    appended: Result<Appended, StoreError>,
) -> Result<Result<(), Faults>, PageError> {
    match appended {
        Ok(_) => Ok(Ok(())),
        Err(StoreError::Full) => {
            let mut faults = Faults::default();
            faults.add(field, app.texts.say_with("fault-temperatures-many", &[("most", &most)]));
            Ok(Err(faults))
        }
        Err(other) => Err(other.into()),
    }
}

/// As what somebody asks.
fn role(app: &App) -> Option<Role> {
    app.caller.as_ref().map(|caller| caller.role)
}

/// A reading that nothing has corrected yet.
fn standing<'a>(sight: &'a Sight, event: &EventId) -> Result<&'a KeptReading, PageError> {
    let kept = sight.stages.temperatures.reading(event).ok_or(PageError::NotFound)?;
    let stands = kept.reading.temperature.is_some() && sight.stages.temperatures.corrected_by(kept).is_none();
    if stands { Ok(kept) } else { Err(PageError::Stale) }
}

/// In what a job's crew reads a thermometer: who measures in inches reads Fahrenheit.
pub fn scale_of(unit: Unit) -> Scale {
    match unit {
        Unit::Millimetre => Scale::Celsius,
        Unit::Inch => Scale::Fahrenheit,
    }
}

/// A temperature as it is typed, or what to change.
pub fn degrees(typed: &str, scale: Scale, texts: &Texts) -> Result<Temperature, String> {
    Temperature::read(typed, scale).map_err(|fault| match fault {
        TemperatureFault::Unclear => texts.say("fault-degrees"),
        TemperatureFault::OutOfRange => texts.say("fault-degrees-range"),
    })
}

impl TypedReading {
    fn read(
        &self,
        texts: &Texts,
        sight: &Sight,
        times: &Times,
    ) -> Result<(Temperature, Option<SurfaceId>, Told), Faults> {
        let mut faults = Faults::default();
        let tapped = FEELS.into_iter().find(|(feel, _)| *feel == self.feel);
        let temperature = match tapped.and_then(|(_, tenths)| Temperature::from_tenths(tenths)) {
            Some(temperature) => Some(temperature),
            None => faults.take("degrees", degrees(&self.degrees, sight.scale(), texts)),
        };
        let surface = match self.wall.as_str() {
            "" => Some(None),
            wall => {
                let known = SurfaceId::new(wall).filter(|wall| sight.wall(wall).is_ok());
                faults.take("wall", known.map(Some).ok_or_else(|| texts.say("fault-choice")))
            }
        };
        let told = faults.take("time", self.told(texts, times, sight.now()));
        match (temperature, surface, told) {
            (Some(temperature), Some(surface), Some(told)) => Ok((temperature, surface, told)),
            _ => Err(faults),
        }
    }

    /// A day and a time were typed, or it is of this moment.
    fn told(&self, texts: &Texts, times: &Times, now: Instant) -> Result<Told, String> {
        match self.time.trim() {
            "" if self.day.is_empty() || self.day == times.today() => Ok(Told::Now),
            "" => Err(texts.say("fault-time-missing")),
            time => at(&self.day, time, texts, times, now).map(Told::At),
        }
    }
}

impl TypedCorrection {
    /// What it should have been, as far as whoever asks may say so.
    fn read(
        &self,
        texts: &Texts,
        sight: &Sight,
        kept: &KeptReading,
        by: Option<Role>,
    ) -> Result<Correction, Faults> {
        let mut faults = Faults::default();
        let (field, right) = match self.right.as_str() {
            "never" => ("right", Ok(None)),
            "number" => ("degrees", degrees(&self.degrees, sight.scale(), texts).map(Some)),
            _ => ("right", Err(texts.say("fault-choice"))),
        };
        let Some(right) = faults.take(field, right) else { return Err(faults) };
        let warmer = right.is_none() || right > kept.reading.temperature;
        if warmer && by != Some(Role::Lead) {
            faults.add(field, texts.say("fault-reading-warmer"));
            return Err(faults);
        }
        let reason = Grounds::new(&self.reason);
        if reason.is_none() && (warmer || !self.reason.trim().is_empty()) {
            let most = Grounds::MOST_CHARACTERS;
            faults.add("reason", texts.say_with("fault-reason", &[("most", &most)]));
            return Err(faults);
        }
        Ok(Correction { right, reason })
    }
}
