//! Mixes of mortar and grout: "mixed now", what is told of one, putting it right, and that it is used up.

use axum::extract::Path;
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{AmountFault, Figure, Grounds, Powder, Product, Span, StageKind, Temperature, Water};

use super::batch_page::{BatchesPage, CorrectPage};
use super::batch_words::buckets;
use super::sight::Sight;
use super::temperature::degrees;
use crate::app::App;
use crate::store::{Correction, EventId, JobId, KeptBatch, Lot, MOST_BATCHES, NewBatch, StoreError};
use crate::texts::Texts;
use crate::web::error::PageError;
use crate::web::form::{Faults, Sent};
use crate::web::page::{faulty, page};
use crate::web::session::Hand;
use crate::web::urls;

/// How long a phone has kept a press, in milliseconds by its own clock.
const PRESSED_AGO: &str = "pressed-ago";

/// The oldest that "so many minutes ago" may be: no mix lasts longer.
const MOST_MINUTES: i64 = 12 * 60;

/// The longest that a phone is believed to have kept a press: whatever is older is past its pot life anyway.
const LONGEST_KEPT: i64 = 24 * 3_600_000;

/// A mix as it is typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedBatch {
    pub lot: String,
    pub powder: String,
    pub water: String,
    pub degrees: String,
    pub minutes: String,
}

/// What was wrong with a mix, as it is typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedRight {
    pub right: String,
    pub reason: String,
    #[serde(flatten)]
    pub batch: TypedBatch,
}

/// A form that only asks.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Asked {}

/// What of a mix was told.
struct Read {
    lot: Option<Lot>,
    powder: Option<Powder>,
    water: Option<Water>,
    temperature: Option<Temperature>,
    ago: Span,
}

/// Every mix, and the forms to tell of another.
pub async fn batches(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    page(&BatchesPage::new(&app, &sight, None, Faults::default()).await?)
}

/// Keeps that something was mixed. Of a press that a phone kept, the earliest credible moment counts: it was mixed that
/// long ago, since what it is good for runs out.
pub async fn mixed(
    app: App,
    by: Hand,
    Path((job, stage)): Path<(JobId, String)>,
    headers: HeaderMap,
    sent: Sent<TypedBatch>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let stage = StageKind::from_name(&stage).ok_or(PageError::NotFound)?;
    let product = sight.stages.products.get(&stage).filter(|product| product.is_mixed());
    let product = product.ok_or(PageError::NotFound)?;
    let faults = match sent.typed.read(&app.texts, &sight, product) {
        Ok(Read { lot, powder, water, temperature, ago }) => {
            let told =
                NewBatch { lot, powder, water, temperature, ago, ..NewBatch::of(sent.key, &job, stage) };
            let new = NewBatch { kept_for: kept_for(&headers), ..told };
            match app.store.append_batch(new, by.0).await {
                Err(StoreError::Full) => full(&app),
                appended => {
                    appended?;
                    return Ok(Redirect::to(&urls::batches(&job)).into_response());
                }
            }
        }
        Err(faults) => faults,
    };
    faulty(&BatchesPage::new(&app, &sight, Some((stage, sent.typed)), faults).await?)
}

/// Keeps that a mix is used up or thrown away.
pub async fn used_up(
    app: App,
    by: Hand,
    Path((job, batch)): Path<(JobId, EventId)>,
    sent: Sent<Asked>,
) -> Result<Response, PageError> {
    app.store.batch_over(sent.key, job.clone(), batch, by.0).await?;
    Ok(Redirect::to(&urls::batches(&job)).into_response())
}

/// One mix, with the form that puts it right.
pub async fn batch(app: App, Path((job, batch)): Path<(JobId, EventId)>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let kept = sight.batch(&batch).filter(|kept| !kept.withdrawn).ok_or(PageError::NotFound)?;
    page(&CorrectPage::new(&app, &sight, kept, None, Faults::default()))
}

/// Adds the entry that puts a mix right.
pub async fn correct_batch(
    app: App,
    by: Hand,
    Path((job, batch)): Path<(JobId, EventId)>,
    sent: Sent<TypedRight>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let kept = sight.batch(&batch).ok_or(PageError::NotFound)?;
    let faults = match sent.typed.read(&app.texts, &sight, kept) {
        Ok((never, Read { lot, powder, water, temperature, .. }, reason)) => {
            let corrects = Some(Correction { event: kept.last.clone(), never, reason });
            let told = NewBatch::of(sent.key, &job, kept.stage);
            let new = NewBatch { lot, powder, water, temperature, corrects, ..told };
            match app.store.append_batch(new, by.0).await {
                Err(StoreError::Full) => full(&app),
                appended => {
                    appended?;
                    return Ok(Redirect::to(&urls::batches(&job)).into_response());
                }
            }
        }
        Err(faults) => faults,
    };
    faulty(&CorrectPage::new(&app, &sight, kept, Some(sent.typed), faults))
}

fn full(app: &App) -> Faults {
    let mut faults = Faults::default();
    faults.add("lot", app.texts.say_with("fault-batches-many", &[("most", &MOST_BATCHES)]));
    faults
}

/// How long a phone kept the press, as far as it says something that can be.
fn kept_for(headers: &HeaderMap) -> Span {
    let said = headers.get(PRESSED_AGO).and_then(|said| said.to_str().ok());
    let said = said.and_then(|said| said.parse::<f64>().ok()).unwrap_or_default();
    Span::from_millis(whole(said).clamp(0, LONGEST_KEPT))
}

/// The whole milliseconds of what a script wrote as a number; none of what is no number.
fn whole(number: f64) -> i64 {
    let most = f64::from(i32::MAX);
    format!("{:.0}", number.clamp(0.0, most)).parse().unwrap_or(0)
}

impl TypedBatch {
    /// What was told of a mix of this product, or what to change. Too much water is no fault: it is in the bucket.
    fn read(&self, texts: &Texts, sight: &Sight, product: &Product) -> Result<Read, Faults> {
        let mut faults = Faults::default();
        let lot = faults.take("lot", optional(&self.lot, |typed| lot(typed, texts)));
        let bag = product.figure(Figure::Bag);
        let powder = optional(&self.powder, |typed| {
            Powder::read(typed, bag.unwrap_or(1_000))
                .map_err(|fault| says(fault, "fault-powder", "fault-powder-absurd", texts))
        });
        let powder = faults.take("powder", powder);
        let water = optional(&self.water, |typed| {
            Water::read(typed, buckets(sight.head.unit))
                .map_err(|fault| says(fault, "fault-water", "fault-water-absurd", texts))
        });
        let water = faults.take("water", water);
        let temperature = optional(&self.degrees, |typed| degrees(typed, sight.scale(), texts));
        let temperature = faults.take("degrees", temperature);
        let ago = faults.take("minutes", optional(&self.minutes, |typed| minutes(typed, texts)));
        if let (Some(water), Some(powder)) = (water.flatten(), powder) {
            match powder {
                None => faults.add("powder", texts.say("fault-powder-missing")),
                Some(powder) if water.check(powder, product).is_err() => {
                    faults.add("water", texts.say("fault-water-absurd"));
                }
                Some(_) => {}
            }
        }
        match (lot, powder, water, temperature, ago) {
            (Some(lot), Some(powder), Some(water), Some(temperature), Some(ago)) if faults.is_empty() => {
                Ok(Read { lot, powder, water, temperature, ago: ago.unwrap_or(Span::ZERO) })
            }
            _ => Err(faults),
        }
    }
}

impl TypedRight {
    /// What a mix was, or that it never was, and why that is known.
    fn read(&self, texts: &Texts, sight: &Sight, kept: &KeptBatch) -> Result<(bool, Read, Grounds), Faults> {
        let never = match self.right.as_str() {
            "never" => true,
            "figures" => false,
            _ => {
                let mut faults = Faults::default();
                faults.add("right", texts.say("fault-choice"));
                return Err(faults);
            }
        };
        let read = if never {
            let KeptBatch { lot, powder, water, temperature, .. } = kept.clone();
            Ok(Read { lot, powder, water, temperature, ago: Span::ZERO })
        } else {
            self.batch.read(texts, sight, kept.batch.product())
        };
        let reason = Grounds::new(&self.reason)
            .ok_or_else(|| texts.say_with("fault-reason", &[("most", &Grounds::MOST_CHARACTERS)]));
        match (read, reason) {
            (Ok(read), Ok(reason)) => Ok((never, read, reason)),
            (Err(faults), Ok(_)) => Err(faults),
            (read, Err(says)) => {
                let mut faults = read.err().unwrap_or_default();
                faults.add("reason", says);
                Err(faults)
            }
        }
    }
}

/// Nothing where nothing is typed.
fn optional<T>(typed: &str, read: impl FnOnce(&str) -> Result<T, String>) -> Result<Option<T>, String> {
    let typed = typed.trim();
    if typed.is_empty() { Ok(None) } else { read(typed).map(Some) }
}

fn lot(typed: &str, texts: &Texts) -> Result<Lot, String> {
    Lot::new(typed).ok_or_else(|| texts.say_with("fault-lot", &[("most", &Lot::MOST_CHARACTERS)]))
}

fn minutes(typed: &str, texts: &Texts) -> Result<Span, String> {
    let minutes = typed.parse::<i64>().ok().filter(|minutes| (0..=MOST_MINUTES).contains(minutes));
    minutes.map(Span::from_minutes).ok_or_else(|| texts.say("fault-batch-minutes"))
}

fn says(fault: AmountFault, unclear: &str, absurd: &str, texts: &Texts) -> String {
    match fault {
        AmountFault::Unclear => texts.say(unclear),
        AmountFault::Absurd => texts.say(absurd),
    }
}
