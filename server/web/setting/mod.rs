//! The wall as its setter sees it: course by course from the bottom, what to bring up for the next one, and what hangs.

mod page;
mod runs;

use std::sync::Arc;

use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{StageKind, What, standing};
use trade::measure::{SurfaceId, Unit};
use trade::place::PieceId;

use self::page::{Refused, View};
use self::runs::{Run, runs};
use super::board;
use super::cuts::{Saw, Yard};
use super::error::PageError;
use super::form::Sent;
use super::page::page;
use super::session::Hand;
use super::urls;
use crate::app::App;
use crate::store::{EventId, JobHead, JobId, NewLaid, Sawn, Stages};
use crate::work::Planned;

/// What "Set" sends: for which run of which plan it was pressed.
#[derive(serde::Deserialize)]
pub struct Pressed {
    #[serde(default)]
    print: String,
}

/// What "Not set after all" sends: which entry it takes back.
#[derive(serde::Deserialize)]
pub struct TakenBack {
    entry: String,
}

/// Why a press at the wall is not taken.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NotNow {
    /// It hangs already, or does not hang.
    Already,
    /// These pieces of it are not cut, or no longer fit.
    NotCut(Vec<PieceId>),
    /// The board says that this much of the wall is set.
    OnTheBoard,
    /// The plan no longer has it as the page showed it.
    PlanChanged,
}

/// Every wall with its runs.
pub async fn setting(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let (head, yard) = Yard::of(&app, &job).await?;
    let stages = app.store.stages(&job).await?;
    match yard {
        Some(yard) => {
            let batches = board::strip(&app, &job).await?;
            let view = View { app: &app, head: &head, yard: &yard, stages: &stages };
            page(&view.setting(batches))
        }
        None => Ok(Redirect::to(&urls::cuts(&job)).into_response()),
    }
}

/// Keeps that a run is set.
pub async fn laid(
    app: App,
    by: Hand,
    Path((job, run)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (head, yard) = Yard::laid_out(&app, &job).await?;
    let Some(was) = runs(&yard.saw).into_iter().find(|of| of.label == run).map(|run| run.was()) else {
        return answer::<()>(&app, &head, &run, "setting-refused-title", Err(NotNow::PlanChanged));
    };
    let new = NewLaid { key: sent.key, job: job.clone(), run: run.clone(), was };
    let (planned, unit) = (Arc::clone(&yard.saw.planned), head.unit);
    let asked = (run.clone(), sent.typed.print);
    let outcome = app
        .store
        .append_laid(new, by.0, move |sawn, stages| may_set(planned, sawn, stages, &asked, unit))
        .await?;
    answer(&app, &head, &run, "setting-refused-title", outcome)
}

/// Takes back that a run is set.
pub async fn not_laid(
    app: App,
    by: Hand,
    Path((job, run)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (head, _) = Yard::laid_out(&app, &job).await?;
    let entry = EventId::from(sent.typed.entry);
    let (asked, of) = (entry.clone(), run.clone());
    let outcome = app
        .store
        .take_back_laid(sent.key, job.clone(), (run.clone(), entry), by.0, move |sawn, stages| {
            let hangs = sawn.laid.iter().find(|laid| laid.event == asked && laid.run == of);
            let hangs = hangs.ok_or(NotNow::Already)?;
            if on_the_board(stages, &hangs.was.wall, hangs.was.course) {
                Err(NotNow::OnTheBoard)
            } else {
                Ok(())
            }
        })
        .await?;
    answer(&app, &head, &run, "setting-stays-title", outcome)
}

/// Whether a run may be reported as set by a page that showed `print`: all its cuts lie ready, and nobody has said so
/// yet.
fn may_set(
    planned: Arc<Planned>,
    sawn: &Sawn,
    stages: &Stages,
    (label, print): &(String, String),
    unit: Unit,
) -> Result<(), NotNow> {
    let measured_since = !planned.is_made_with(&sawn.measured);
    let saw = Saw::new(planned, sawn.clone());
    let all = runs(&saw);
    let run = all.iter().find(|run| run.label == *label).ok_or(NotNow::PlanChanged)?;
    if sawn.laid.iter().any(|laid| laid.run == *label) {
        return Err(NotNow::Already);
    }
    if on_the_board(stages, &run.wall, run.course) {
        return Err(NotNow::OnTheBoard);
    }
    if measured_since || run.print(unit) != *print {
        return Err(NotNow::PlanChanged);
    }
    let missing: Vec<PieceId> = run.missing(&saw, unit).into_iter().cloned().collect();
    if missing.is_empty() { Ok(()) } else { Err(NotNow::NotCut(missing)) }
}

/// Whether the board says that a course of a wall is set.
fn on_the_board(stages: &Stages, wall: &SurfaceId, course: u32) -> bool {
    standing(&stages.log).into_iter().any(|entry| {
        let courses = entry.part.courses;
        entry.stage == StageKind::Set
            && entry.what == What::Finished
            && entry.part.surface == *wall
            && courses.is_none_or(|courses| (courses.first()..=courses.last()).contains(&course))
    })
}

/// Back to the walls, or why not.
fn answer<T>(
    app: &App,
    head: &JobHead,
    run: &str,
    title: &str,
    outcome: Result<T, NotNow>,
) -> Result<Response, PageError> {
    match outcome {
        Ok(_) => Ok(Redirect::to(&urls::setting_at(&head.id, &app.store.seen())).into_response()),
        Err(why) => {
            let says = page(&Refused::new(app, head, run, title, &why))?;
            Ok((StatusCode::CONFLICT, says).into_response())
        }
    }
}

impl Run<'_> {
    /// As the log keeps it.
    fn was(&self) -> crate::store::Run {
        let cuts = self.cuts().map(|piece| piece.id.clone()).collect();
        crate::store::Run { wall: self.wall.clone(), course: self.course, cuts }
    }
}
