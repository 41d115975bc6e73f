//! The job's sheet: tile, joint, saw, gaps and floor.

mod form;
mod page;

use axum::extract::Path;
use axum::response::Response;

use self::page::{Echoes, Sheet};
use super::error::PageError;
use super::form::{Asking, Faults, Fields, Sent};
use super::layout::{self, Change, Wanted};
use super::page::{faulty, outrun, page};
use super::session::{Hand, Lead};
use super::tape::Tape;
use super::{urls, walls};
use crate::app::App;
use crate::store::{JobId, SheetChange};

/// The sheet as it stands.
pub async fn show(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let typed = form::typed(&stored, &app.texts);
    page(&Sheet::new(&app, &stored, &typed, Faults::default()))
}

/// Saves the sheet, and lays the first tile on walls that were measured before it.
pub async fn save(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    if sent.typed.has_too_many_rows() {
        return Err(PageError::TooLarge);
    }
    let stored = app.store.sheet(&job).await?;
    let terms = match form::read(&sent.typed, &stored, &app.texts) {
        Ok(terms) => terms,
        Err(faults) => return faulty(&Sheet::new(&app, &stored, &sent.typed, faults)),
    };
    // Without its membrane a wall that is set already would wait for less than it was set to.
    if stored.membrane && !terms.membrane && !app.store.events(&job).await?.is_empty() {
        let mut faults = Faults::default();
        faults.add("membrane", app.texts.say("sheet-fault-membrane"));
        return faulty(&Sheet::new(&app, &stored, &sent.typed, faults));
    }
    let bare = walls::with_the_first_tile(&stored.sheet, &terms.tiles);
    let changes = [SheetChange::Terms(terms)].into_iter().chain(bare.into_iter().map(SheetChange::Wall));
    let sheet = urls::sheet(&job);
    let wanted = Wanted {
        change: Change::Sheet(changes.collect()),
        action: sheet.clone(),
        to: urls::job(&job),
        back: sheet,
    };
    match layout::take(&app, &stored, lead.0, sent, wanted).await? {
        Ok(answer) => Ok(answer),
        Err(typed) => {
            let stored = app.store.sheet(&job).await?;
            let page = Sheet::new(&app, &stored, &typed, Faults::default());
            outrun(&page.outrun_by_another(stored.version))
        }
    }
}

/// What was understood of every length typed so far.
pub async fn echo(
    app: App,
    _hand: Hand,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    page(&Echoes::of_sheet(&app, &stored, &sent.typed))
}

/// What was understood of every field of a form that reads as a length. It is put beside the lengths alone.
pub async fn echo_any(
    app: App,
    _hand: Hand,
    Path(job): Path<JobId>,
    Asking(typed): Asking<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    page(&Echoes::of_any(&Tape::new(&app.texts, stored.sheet.unit), &typed))
}
