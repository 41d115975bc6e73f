//! The list of jobs, and starting one.

mod form;
mod page;

use axum::response::{IntoResponse, Redirect, Response};

use self::form::TypedJob;
use self::page::{JobsPage, NewJobPage};
use super::error::PageError;
use super::form::{Faults, Sent};
use super::page::{faulty, page};
use super::session::Lead;
use super::urls;
use crate::app::App;

/// Every job.
pub async fn list(app: App) -> Result<Response, PageError> {
    let seen = app.store.seen();
    let jobs = app.store.jobs().await?;
    page(&JobsPage::new(&app, &seen, jobs))
}

/// The form for a new job.
pub async fn new(app: App) -> Result<Response, PageError> {
    let usual = TypedJob::usual(app.store.new_jobs().await?);
    page(&NewJobPage::new(&app, usual, Faults::default()))
}

/// Starts a job.
pub async fn make(app: App, _lead: Lead, sent: Sent<TypedJob>) -> Result<Response, PageError> {
    match sent.typed.read(&app.texts) {
        Ok(new) => {
            let job = app.store.make_job(sent.key, new).await?;
            Ok(Redirect::to(&urls::job(&job)).into_response())
        }
        Err(faults) => faulty(&NewJobPage::new(&app, sent.typed, faults)),
    }
}
