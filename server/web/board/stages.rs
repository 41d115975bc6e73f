//! Which stages are on a job, as its lead ticks them.

use std::collections::BTreeSet;

use axum::extract::{Path, Query};
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{GraphFault, Grounds, StageKind, Template};

use super::sight::Sight;
use super::stages_page::StagesPage;
use super::words::Words;
use crate::app::App;
use crate::store::{JobId, StagesChange};
use crate::web::error::PageError;
use crate::web::form::{Faults, Fields, Sent};
use crate::web::page::{faulty, page};
use crate::web::session::Lead;
use crate::web::urls;

/// The field of each ticked stage.
pub const ON: &str = "on";
/// The field of the reason.
pub const WHY: &str = "why";

/// The kind of work whose stages are to be ticked, where one is named.
#[derive(serde::Deserialize)]
pub struct Asked {
    work: Option<String>,
}

/// The stages as they stand, or as a kind of work starts with them.
pub async fn stages(
    app: App,
    Path(job): Path<JobId>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let work = asked.work.map(|name| Template::from_name(&name).ok_or(PageError::NotFound)).transpose()?;
    let ticked = work.map_or_else(|| sight.kinds().collect(), Template::stages);
    page(&StagesPage::new(&app, &sight, work, &ticked, String::new(), Faults::default()))
}

/// Puts stages on the job and takes others off it.
pub async fn save_stages(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let named = sent.typed.all(ON).into_iter().map(StageKind::from_name);
    let on: BTreeSet<StageKind> = named.collect::<Option<_>>().ok_or(PageError::NotFound)?;
    let why = sent.typed.get(WHY);
    let change = StagesChange { key: sent.key, job: job.clone(), on, reason: Grounds::new(why) };
    let (on, why) = (change.on.clone(), why.to_owned());
    match app.store.save_stages(change, lead.0).await? {
        Ok(_) => Ok(Redirect::to(&urls::board(&job)).into_response()),
        Err(fault) => {
            let sight = Sight::of(&app, &job).await?;
            let mut faults = Faults::default();
            let (field, says) = told(&fault, &sight.words(&app));
            faults.add(field, says);
            faulty(&StagesPage::new(&app, &sight, None, &on, why, faults))
        }
    }
}

/// What to change, and in which field.
fn told(fault: &GraphFault, words: &Words) -> (&'static str, String) {
    match fault {
        GraphFault::TakenOffWithoutReason(stage) => {
            (WHY, words.say_with("stages-fault-why", &[("stage", &words.stage(*stage))]))
        }
        _ => (ON, words.say("stages-fault-none")),
    }
}
