//! The board: where every stage of every wall stands, the gate, and the log.

mod batch;
mod batch_page;
mod batch_size;
mod batch_words;
mod courses;
mod entry;
mod form;
mod line;
mod log;
mod now;
mod page;
mod product;
mod product_page;
mod sight;
mod stages;
mod stages_page;
mod temperature;
mod temperature_page;
mod uncut;
mod words;

use std::convert::Infallible;

use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{StageKind, What, gate};
use trade::measure::SurfaceId;

pub use self::batch::{batch, batches, correct_batch, mixed, used_up};
pub use self::batch_page::{Strip, strip};
pub use self::entry::{entry, mend};
pub use self::log::log;
pub use self::now::WallNow;
pub use self::product::{products, save_product};
pub use self::sight::{Sight, WallSight};
pub use self::stages::{save_stages, stages};
pub use self::stages_page::works;
pub use self::temperature::{correct_reading, reading, save_night, save_temperature, temperature};

use self::form::{TypedDone, TypedPart};
use self::page::{Board, CellPage, Refused};
use self::uncut::Uncut;
pub use self::words::Words;
use super::error::PageError;
use super::form::{Faults, Sent};
use super::page::{faulty, page};
use super::session::Hand;
use super::urls;
use crate::app::App;
use crate::store::{JobId, NewEntry, Told};

/// A stage of a wall, as an address names it.
pub type CellPath = Path<(JobId, String, String)>;

/// Every wall and every stage.
pub async fn board(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    page(&Board::new(&app, &sight))
}

/// One stage of one wall.
pub async fn cell(app: App, Path(path): CellPath) -> Result<Response, PageError> {
    let (sight, wall, stage) = find(&app, path).await?;
    page(&CellPage::new(&app, &sight, sight.wall(&wall)?, stage, TypedDone::default(), Faults::default()))
}

/// Asks the gate, and starts the stage where it lets pass.
pub async fn start(
    app: App,
    by: Hand,
    Path(path): CellPath,
    sent: Sent<TypedPart>,
) -> Result<Response, PageError> {
    let (sight, wall, stage) = find(&app, path).await?;
    let here = sight.wall(&wall)?;
    let courses = match sent.typed.read(&app.texts, here.courses()) {
        Ok(courses) => courses,
        Err(faults) => {
            let typed = TypedDone { part: sent.typed, ..TypedDone::default() };
            return faulty(&CellPage::new(&app, &sight, here, stage, typed, faults));
        }
    };
    let new = NewEntry {
        told: Told::Now,
        what: What::Started,
        ..NewEntry::of(sent.key, sight.job(), here.part(courses), stage)
    };
    let asked_of = here.clone();
    let outcome = app
        .store
        .append_stage(new, by.0, move |stages| {
            gate::ask(&asked_of.work(stages), courses, stage, &stages.now).map(|_pass| ())
        })
        .await?;
    match outcome {
        Ok(_) => Ok(to_cell(&sight, &wall, stage)),
        Err(refusal) => {
            // Drawn from the log as it stands after the refusal, which the refusal's own reason is part of.
            let sight = Sight::of(&app, sight.job()).await?;
            let refused = Refused::new(&app, &sight, sight.wall(&wall)?, stage, &refusal);
            Ok((StatusCode::CONFLICT, page(&refused)?).into_response())
        }
    }
}

/// What a phone says of a press that outlived the page it was made on.
const KEPT: &str = "kept";

/// Keeps that a stage is done: never refused, but asked about once where a wall is told to be set and is not cut. What a
/// phone kept out of range is taken as it is: nobody stands before it to be asked.
pub async fn done(
    app: App,
    by: Hand,
    Path(path): CellPath,
    headers: HeaderMap,
    sent: Sent<TypedDone>,
) -> Result<Response, PageError> {
    let (sight, wall, stage) = find(&app, path).await?;
    let here = sight.wall(&wall)?;
    match sent.typed.read(&app.texts, &sight.times(&app), sight.now(), here.courses()) {
        Ok((told, courses)) => {
            let Some(batches) = sight.named_batches(&sent.typed.batches, stage) else {
                let mut faults = Faults::default();
                faults.add("batches", app.texts.say("fault-choice"));
                return faulty(&CellPage::new(&app, &sight, here, stage, sent.typed, faults));
            };
            let may_ask = stage == StageKind::Set && !headers.contains_key(KEPT);
            if may_ask && !app.store.was_answered(&sent.key).await? {
                let count = uncut::uncut(&app, sight.job(), (&wall, courses)).await?;
                let told_of = sent.typed.uncut.parse::<usize>().unwrap_or_default();
                if count > told_of {
                    return faulty(&Uncut::new(&app, &sight, &wall, sent.typed, count));
                }
            }
            let part = here.part(courses);
            let new =
                NewEntry { told, batches: Some(batches), ..NewEntry::of(sent.key, sight.job(), part, stage) };
            let Ok(_) = app.store.append_stage(new, by.0, |_| Ok::<(), Infallible>(())).await?;
            Ok(to_cell(&sight, &wall, stage))
        }
        Err(faults) => faulty(&CellPage::new(&app, &sight, here, stage, sent.typed, faults)),
    }
}

/// What an address names, where the job has it.
async fn find(
    app: &App,
    (job, wall, stage): (JobId, String, String),
) -> Result<(Sight, SurfaceId, StageKind), PageError> {
    let wall = SurfaceId::new(&wall).ok_or(PageError::NotFound)?;
    let stage = StageKind::from_name(&stage).ok_or(PageError::NotFound)?;
    let sight = Sight::of(app, &job).await?;
    sight.wall(&wall)?;
    Ok((sight, wall, stage))
}

fn to_cell(sight: &Sight, wall: &SurfaceId, stage: StageKind) -> Response {
    Redirect::to(&urls::cell(sight.job(), wall, stage)).into_response()
}
