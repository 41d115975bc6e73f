//! The layout of a job: every wall drawn, what it comes to, moves by hand, and the job as a file.

mod better;
mod choices;
mod cut_list;
mod form;
mod page;
mod price;
mod proof;
mod relaid;
mod wall;
mod words;

use std::sync::Arc;

use anyhow::Context;
use axum::extract::{Path, Query};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use trade::job_file::write_with_priorities;
use trade::measure::{Layout, SurfaceId};

pub use self::page::{AdviceLine, no_layout};
pub use self::price::{Change, Wanted, take};
pub use self::relaid::{changes, costs};
pub use self::wall::wall_drawing;
pub use self::words::Words;

use self::choices::Choices;
use self::cut_list::CutList;
use self::form::{Move, NoMove};
use self::page::{Show, Typed};
use self::wall::Close;
use super::error::PageError;
use super::fit;
use super::form::{Faults, Fields, Sent};
use super::page::{faulty, outrun, page};
use super::session::Lead;
use super::urls;
use crate::app::App;
use crate::output::proof_file::proof_file;
use crate::store::{JobId, StoredSheet};
use crate::work::{NoPlan, Planned};

/// The ids of the parts of the page that belong to all walls.
const LINE_ANCHOR: &str = "courses";
const JOINT_ANCHOR: &str = "joint-width";

/// Letters of a job's name that a file's name keeps.
const LONGEST_FILE_NAME: usize = 60;

/// Which part of the page stands open.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Open {
    open: String,
}

/// The layout in force.
pub async fn show(
    app: App,
    Path(job): Path<JobId>,
    Query(Open { open }): Query<Open>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match fit::plan_now(&app, &stored).await? {
        Ok(planned) => page(&drawn(&app, &stored, planned, Typed { open, ..Typed::default() }).await?),
        Err(why) => no_layout(&app, &stored, &why),
    }
}

/// One wall as large as it takes to read every piece.
pub async fn close(app: App, Path((job, wall)): Path<(JobId, String)>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let wall = SurfaceId::new(&wall).ok_or(PageError::NotFound)?;
    match fit::plan_now(&app, &stored).await? {
        Ok(planned) => page(&Close::new(&app, &stored, &planned, &wall).ok_or(PageError::NotFound)?),
        Err(why) => no_layout(&app, &stored, &why),
    }
}

/// Moves something by hand, or gives it back to the proposal.
pub async fn change(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let tiled = stored.sheet.job().ok();
    let words = Words::of(&app.texts, &stored);
    let made = match Move::read(&sent.typed, &words, &stored, tiled.as_ref()) {
        Ok(made) => made,
        Err(NoMove::BadForm) => return Err(PageError::BadForm),
        Err(NoMove::Faults(faults)) => return redrawn(&app, &stored, sent.typed, Some(faults)).await,
    };
    let (here, anchor) = (urls::layout(&job), made.anchor());
    let to = format!("{here}?open={anchor}#{anchor}");
    let change = Change::Layout(made.made_on(&stored));
    let wanted = Wanted { change, action: here.clone(), to, back: here };
    match take(&app, &stored, lead.0, sent, wanted).await? {
        Ok(answer) => Ok(answer),
        Err(typed) => redrawn(&app, &app.store.sheet(&job).await?, typed, None).await,
    }
}

/// Every cut in the order of setting, with the rack as it fills and empties.
pub async fn cuts(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match fit::plan_now(&app, &stored).await? {
        Ok(planned) => {
            let sawn = app.store.cut_log(&job).await?.sawn;
            page(&CutList::new(&app, &stored, planned, sawn))
        }
        Err(why) => no_layout(&app, &stored, &why),
    }
}

/// Why no plan uses fewer tiles, for whoever wants to go over it.
pub async fn proof(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match fit::plan_now(&app, &stored).await? {
        Ok(planned) => {
            let name = format!("{}-proof", file_name(&planned.job.name));
            Ok(attachment(&name, proof_file(&planned.option)))
        }
        Err(why) => no_layout(&app, &stored, &why),
    }
}

/// The job as the planner's file.
pub async fn job_file(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match stored.sheet.job() {
        Ok(job) => {
            let file = write_with_priorities(&job, &stored.sheet.priorities);
            Ok(attachment(&file_name(&job.name), file))
        }
        Err(faults) => no_layout(&app, &stored, &NoPlan::Sheet(faults)),
    }
}

/// JSON to be kept as a file of this name.
fn attachment(name: &str, json: String) -> Response {
    let headers = [
        (header::CONTENT_TYPE, "application/json".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}.json\"")),
    ];
    (headers, json).into_response()
}

/// The page with what was typed: with its faults, or, where there are none, because someone else was quicker.
async fn redrawn(
    app: &App,
    stored: &StoredSheet,
    fields: Fields,
    faults: Option<Faults>,
) -> Result<Response, PageError> {
    let planned = match fit::plan_now(app, stored).await? {
        Ok(planned) => planned,
        Err(why) => return no_layout(app, stored, &why),
    };
    match faults {
        Some(faults) => {
            faulty(&drawn(app, stored, planned, Typed { fields, faults, ..Typed::default() }).await?)
        }
        None => {
            outrun(&drawn(app, stored, planned, Typed { fields, outrun: true, ..Typed::default() }).await?)
        }
    }
}

/// The page, with its choices worked out off the request threads.
async fn drawn(
    app: &App,
    stored: &StoredSheet,
    planned: Arc<Planned>,
    typed: Typed,
) -> Result<Show, PageError> {
    let of = Arc::clone(&planned);
    let choices = tokio::task::spawn_blocking(move || Choices::of(&of))
        .await
        .context("the choices of a layout were not worked out")
        .map_err(PageError::Ours)?;
    let cut = app.store.cut_log(&stored.id).await?.sawn.records.len();
    if cut == 0 && stored.sheet.layout == Layout::default() {
        // Nobody is to go on with a quick suggestion before the better ones are looked for: what is found while a page
        // may wait is told on it.
        app.work.options(stored).await;
    }
    Ok(Show::new(app, stored, &planned, &choices, Typed { cut, ..typed }))
}

/// The id of a wall's part of the page.
fn wall_anchor(wall: &SurfaceId) -> String {
    format!("wall-{wall}")
}

/// A name that any system takes for a file: `alder-court-upstairs-bath`.
fn file_name(job: &str) -> String {
    let plain = job.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { ' ' });
    let words = plain.take(LONGEST_FILE_NAME).collect::<String>();
    let name = words.split_whitespace().collect::<Vec<_>>().join("-");
    if name.is_empty() { "job".to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn a_files_name_cannot_leave_its_header_or_its_folder() {
        assert_eq!(file_name("Alder Court, upstairs bath"), "alder-court-upstairs-bath");
        assert_eq!(file_name("../../etc/x\";\r\nSet-Cookie: a"), "etc-x-set-cookie-a");
        assert_eq!(file_name("浴室"), "job");
        assert_eq!(file_name(&"x".repeat(500)).len(), 60);
    }
}
