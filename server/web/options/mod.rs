//! The layouts worth choosing between: drawn small with their figures, held against each other, and chosen.

mod card;
mod compare;
mod page;
mod wish;
mod words;

pub use self::card::NOW;
pub use self::wish::{choose_wished, wish};

use std::sync::Arc;

use axum::extract::{Path, RawQuery};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use trade::measure::Layout;
use trade::search::Priorities;

use self::card::print;
use self::compare::{Compare, Which};
use self::page::{Large, List, Looking, RANKS};
use super::error::PageError;
use super::form::{Faults, Fields, Sent};
use super::layout::{Change, Wanted, no_layout, take};
use super::page::{faulty, outrun, page};
use super::session::Lead;
use super::urls;
use super::walls::version;
use crate::app::App;
use crate::store::{Actor, JobId, SheetChange, StoreError, StoredSheet};
use crate::work::{Listed, Looked, Planned};

/// How soon the page looks again by itself while layouts are looked for.
const LOOK_AGAIN: &str = "3";

/// The list with what lies now, or the page that stands in its place.
enum Found {
    List(Arc<Listed>, Arc<Planned>),
    Instead(Response),
}

/// Looks for the list; `still_looking` is the status of the page that says to come back.
async fn find(app: &App, stored: &StoredSheet, still_looking: StatusCode) -> Result<Found, PageError> {
    let looked = app.work.options(stored).await;
    let now = app.work.plan(stored).await;
    match (looked, now) {
        (Looked::Done(Ok(listed)), Ok(now)) => Ok(Found::List(listed, now)),
        (Looked::Done(Err(why)), _) | (_, Err(why)) => Ok(Found::Instead(no_layout(app, stored, &why)?)),
        (Looked::StillLooking, Ok(now)) => Ok(Found::Instead(looking(app, stored, &now, still_looking)?)),
    }
}

/// The layouts, or two of them side by side.
pub async fn show(
    app: App,
    Path(job): Path<JobId>,
    RawQuery(query): RawQuery,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let (listed, now) = match find(&app, &stored, StatusCode::OK).await? {
        Found::List(listed, now) => (listed, now),
        Found::Instead(page) => return Ok(page),
    };
    let asked = Fields::from_query(&query.unwrap_or_default());
    if let Some(both) = Which::both(&asked) {
        return page(&Compare::new(&app, &stored, &listed, &now, both).ok_or(PageError::NotFound)?);
    }
    page(&list(&app, &stored, &listed, &now, page::Sent::default()).await?)
}

/// One layout as large as it takes.
pub async fn large(app: App, Path((job, number)): Path<(JobId, usize)>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let index = number.checked_sub(1).ok_or(PageError::NotFound)?;
    match find(&app, &stored, StatusCode::OK).await? {
        Found::List(listed, now) => {
            page(&Large::new(&app, &stored, &listed, &now, index).ok_or(PageError::NotFound)?)
        }
        Found::Instead(page) => Ok(page),
    }
}

/// Chooses a layout, or says what counts first.
pub async fn change(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    match sent.typed.get("change") {
        "choose" => choose(&app, &stored, lead.0, sent).await,
        "priorities" => prefer(&app, &stored, sent).await,
        _ => Err(PageError::BadForm),
    }
}

async fn choose(
    app: &App,
    stored: &StoredSheet,
    by: Actor,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let listed = match find(app, stored, StatusCode::CONFLICT).await? {
        Found::List(listed, _) => listed,
        Found::Instead(page) => return Ok(page),
    };
    match chosen(&listed, sent.typed.get("print")) {
        Some(layout) => {
            let (change, to) = (Change::Layout(layout), urls::layout(&stored.id));
            let wanted = Wanted { change, action: urls::options(&stored.id), back: to.clone(), to };
            lay(app, stored, by, sent, wanted).await
        }
        // The room was measured again since that page was drawn.
        None => quicker(app, &stored.id, sent.typed).await,
    }
}

fn chosen(listed: &Listed, wanted: &str) -> Option<Layout> {
    let mut layouts = listed.options.options.iter().map(|option| &option.layout);
    layouts.find(|layout| print(layout) == wanted).cloned()
}

/// Takes a layout into force.
async fn lay(
    app: &App,
    stored: &StoredSheet,
    by: Actor,
    sent: Sent<Fields>,
    wanted: Wanted,
) -> Result<Response, PageError> {
    match take(app, stored, by, sent, wanted).await? {
        Ok(answer) => Ok(answer),
        Err(typed) => quicker(app, &stored.id, typed).await,
    }
}

async fn prefer(app: &App, stored: &StoredSheet, sent: Sent<Fields>) -> Result<Response, PageError> {
    match read_priorities(app, &sent.typed) {
        Ok(priorities) => {
            let to = urls::options(&stored.id);
            save(app, stored, sent, SheetChange::Priorities(priorities), to).await
        }
        Err(faults) => {
            redrawn(app, stored, page::Sent { fields: sent.typed, faults, ..page::Sent::default() }).await
        }
    }
}

/// Three different measures.
fn read_priorities(app: &App, typed: &Fields) -> Result<Priorities, Faults> {
    let named = RANKS.map(|rank| typed.get(rank));
    let mut faults = Faults::default();
    for (place, (rank, name)) in RANKS.iter().zip(named).enumerate() {
        if Priorities::named([name]).is_err() {
            faults.add(rank, app.texts.say("fault-choice"));
        } else if named[..place].contains(&name) {
            let measure = app.texts.say(&format!("options-measure-{name}"));
            faults.add(rank, app.texts.say_with("options-fault-twice", &[("measure", &measure)]));
        }
    }
    match Priorities::named(named) {
        Ok(priorities) if faults.is_empty() => Ok(priorities),
        _ => Err(faults),
    }
}

async fn save(
    app: &App,
    stored: &StoredSheet,
    sent: Sent<Fields>,
    change: SheetChange,
    to: String,
) -> Result<Response, PageError> {
    match app.store.change_sheet(sent.key, stored.id.clone(), version(&sent.typed)?, change).await {
        Ok(()) => Ok(Redirect::to(&to).into_response()),
        Err(StoreError::Stale) => quicker(app, &stored.id, sent.typed).await,
        Err(error) => Err(error.into()),
    }
}

/// The page as it stands now, since someone else was quicker.
async fn quicker(app: &App, job: &JobId, fields: Fields) -> Result<Response, PageError> {
    let stored = app.store.sheet(job).await?;
    redrawn(app, &stored, page::Sent { fields, outrun: true, ..page::Sent::default() }).await
}

async fn redrawn(app: &App, stored: &StoredSheet, sent: page::Sent) -> Result<Response, PageError> {
    match find(app, stored, StatusCode::CONFLICT).await? {
        Found::List(listed, now) if sent.outrun => outrun(&list(app, stored, &listed, &now, sent).await?),
        Found::List(listed, now) => faulty(&list(app, stored, &listed, &now, sent).await?),
        Found::Instead(page) => Ok(page),
    }
}

async fn list(
    app: &App,
    stored: &StoredSheet,
    listed: &Listed,
    now: &Planned,
    sent: page::Sent,
) -> Result<List, PageError> {
    let cut = app.store.cut_log(&stored.id).await?.sawn.records.len();
    Ok(List::new(app, stored, listed, now, page::Sent { cut, ..sent }))
}

/// The page while layouts are looked for: it comes back by itself, without script.
fn looking(
    app: &App,
    stored: &StoredSheet,
    now: &Planned,
    status: StatusCode,
) -> Result<Response, PageError> {
    let looking = page(&Looking::new(app, stored, now, status == StatusCode::CONFLICT))?;
    let again = format!("{LOOK_AGAIN}; url={}", urls::options(&stored.id));
    Ok((status, [(header::REFRESH, again)], looking).into_response())
}
