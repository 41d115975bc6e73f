//! The layout of a job: every wall drawn, what it comes to, and moves by hand.

mod choices;
mod form;
mod no_plan;
mod page;
mod wall;
mod words;

use std::sync::Arc;

use anyhow::Context;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use trade::measure::SurfaceId;

use self::choices::Choices;
use self::form::TypedMove;
use self::no_plan::NoPlanPage;
use self::page::{Show, Typed};
use self::wall::Close;
use super::error::PageError;
use super::form::{Faults, Sent};
use super::page::{faulty, page};
use super::urls;
use crate::app::App;
use crate::store::{JobId, SheetChange, StoredSheet};
use crate::work::{NoPlan, Planned};

/// Which wall's choices stand open on the page.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Open {
    open: String,
}

/// The layout in force.
pub async fn show(
    State(app): State<App>,
    Path(job): Path<JobId>,
    Query(open): Query<Open>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match app.work.plan(&stored).await {
        Ok(planned) => page(&drawn(&app, &stored, planned, Typed::nothing(open.open)).await?),
        Err(why) => no_page(&app, &stored, why),
    }
}

/// One wall as large as it takes to read every piece.
pub async fn close(
    State(app): State<App>,
    Path((job, wall)): Path<(JobId, String)>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let wall = SurfaceId::new(&wall).ok_or(PageError::NotFound)?;
    match app.work.plan(&stored).await {
        Ok(planned) => page(&Close::new(&app, &stored, &planned, &wall).ok_or(PageError::NotFound)?),
        Err(why) => no_page(&app, &stored, why),
    }
}

/// Moves something by hand, or gives it back to the proposal.
pub async fn change(
    State(app): State<App>,
    Path(job): Path<JobId>,
    sent: Sent<TypedMove>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let tape = words::Tape::new(&app.texts, stored.sheet.unit, stored.line_shift);
    let planned_from = stored.sheet.job().ok();
    match sent.typed.read(&tape, &stored, planned_from.as_ref()) {
        Ok(Some(made)) => {
            let layout = SheetChange::Layout(made.made_on(&stored));
            app.store.change_sheet(sent.key, job.clone(), sent.typed.version, layout).await?;
            let anchor = made.anchor();
            let address = format!("{}?open={anchor}#{anchor}", urls::layout(&job));
            Ok(Redirect::to(&address).into_response())
        }
        Ok(None) => Err(PageError::BadForm),
        Err(faults) => match app.work.plan(&stored).await {
            Ok(planned) => faulty(&drawn(&app, &stored, planned, Typed::wrong(sent.typed, faults)).await?),
            Err(why) => no_page(&app, &stored, why),
        },
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
    Ok(Show::new(app, stored, &planned, &choices, typed))
}

fn no_page(app: &App, stored: &StoredSheet, why: NoPlan) -> Result<Response, PageError> {
    page(&NoPlanPage::new(app, stored, &why))
}

/// The id of a wall's part of the page.
fn wall_anchor(wall: &SurfaceId) -> String {
    format!("wall-{wall}")
}

impl Typed {
    fn nothing(open: String) -> Self {
        Self { typed: TypedMove::default(), faults: Faults::default(), open }
    }

    fn wrong(typed: TypedMove, faults: Faults) -> Self {
        Self { open: String::new(), typed, faults }
    }
}
