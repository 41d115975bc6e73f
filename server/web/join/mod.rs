//! The ways in: setting up the lead, a link for a helper or a board, and the lead's PIN. A GET uses nothing up, so a
//! program that looks at links before people do does no harm.

mod form;
mod page;

use axum::extract::Path;
use axum::http::{Extensions, HeaderMap, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};

use self::form::{TypedJoin, TypedPin, TypedSetUp};
use self::page::{Closed, JoinPage, SetUpPage, SignInPage, Waiting};
use super::error::PageError;
use super::form::{Faults, Sent};
use super::page::{faulty, page};
use super::session::{device_name, is_at_the_box, with_cookie};
use super::urls;
use crate::app::App;
use crate::store::{LinkState, LinkToken, Opened, PinHash, PinTry, Role, SetUp, Way};

pub use self::page::Stranger;

/// A waiting page looks again after so many seconds.
const LOOK_AGAIN: &str = "4";

/// The form that sets up the lead, at the box.
pub async fn set_up(app: App, extensions: Extensions) -> Result<Response, PageError> {
    let at_the_box = is_at_the_box(&extensions);
    if app.store.lead_set_up().await?.is_some() && !(app.demo && at_the_box) {
        return Ok(Redirect::to(urls::JOBS).into_response());
    }
    if !at_the_box {
        return closed(&app, Role::Lead, LinkState::Unknown);
    }
    set_up_form(&app, "").await
}

/// The same by a link that the box printed.
pub async fn set_up_by_link(app: App, Path(token): Path<String>) -> Result<Response, PageError> {
    match state(&app, &token).await? {
        LinkState::Open(Role::Lead) => set_up_form(&app, &token).await,
        LinkState::Open(_) => closed(&app, Role::Lead, LinkState::Unknown),
        shut => closed(&app, Role::Lead, shut),
    }
}

async fn set_up_form(app: &App, link: &str) -> Result<Response, PageError> {
    let (lead, jobs) = (app.store.lead_set_up().await?, app.store.new_jobs().await?);
    let typed = TypedSetUp::usual(link, lead.as_deref(), jobs);
    page(&SetUpPage::new(app, &typed, lead.as_deref(), Faults::default()))
}

/// Sets up the lead, or gives the one there is a new PIN: then nothing else is asked.
pub async fn make_lead(
    app: App,
    extensions: Extensions,
    headers: HeaderMap,
    sent: Sent<TypedSetUp>,
) -> Result<Response, PageError> {
    let token = sent.typed.token()?;
    let way = match sent.typed.link.as_str() {
        "" if is_at_the_box(&extensions) => Way::Box,
        link => match LinkToken::read(link) {
            Some(link) => Way::Link(link),
            None => return closed(&app, Role::Lead, LinkState::Unknown),
        },
    };
    let lead = match &way {
        Way::Box => None,
        Way::Link(_) => app.store.lead_set_up().await?,
    };
    let typed = match &lead {
        Some(lead) => sent.typed.of_lead(lead, app.store.new_jobs().await?),
        None => sent.typed,
    };
    let (name, pin, jobs) = match typed.read(&app.texts) {
        Ok(read) => read,
        // Only a link that opens shows who leads.
        Err(faults) => match state(&app, &typed.link).await? {
            LinkState::Open(Role::Lead) => {
                return faulty(&SetUpPage::new(&app, &typed, lead.as_deref(), faults));
            }
            _ if lead.is_none() => return faulty(&SetUpPage::new(&app, &typed, None, faults)),
            shut => return closed(&app, Role::Lead, shut),
        },
    };
    let pin = aside(move || PinHash::of(&pin)).await?.map_err(PageError::Ours)?;
    let new = SetUp { name, pin, jobs, device: device_name(&headers) };
    match app.store.set_up(way, token.clone(), new).await? {
        Opened::Yes(_) => {
            let to = if lead.is_some() { urls::PEOPLE_NEW_PIN } else { urls::JOBS };
            with_cookie(&token, Redirect::to(to))
        }
        Opened::No(state) => closed(&app, Role::Lead, state),
    }
}

/// Makes whoever sits at the box the lead of the demo job.
pub async fn lead_the_demo(
    app: App,
    extensions: Extensions,
    headers: HeaderMap,
    sent: Sent<TypedPin>,
) -> Result<Response, PageError> {
    if !app.demo || !is_at_the_box(&extensions) {
        return Err(PageError::NotFound);
    }
    let token = sent.typed.token()?;
    app.store.lead_the_demo(token.clone(), device_name(&headers)).await?;
    with_cookie(&token, Redirect::to(urls::JOBS))
}

/// The form of a link: who joins.
pub async fn show(app: App, Path(token): Path<String>) -> Result<Response, PageError> {
    match state(&app, &token).await? {
        LinkState::Open(role @ (Role::Helper | Role::Board)) => {
            page(&JoinPage::new(&app, role, &TypedJoin::new(), Faults::default()))
        }
        LinkState::Open(Role::Lead) => closed(&app, Role::Helper, LinkState::Unknown),
        shut => closed(&app, Role::Helper, shut),
    }
}

/// Uses the link: the device waits to be let in.
pub async fn join(
    app: App,
    Path(link): Path<String>,
    headers: HeaderMap,
    sent: Sent<TypedJoin>,
) -> Result<Response, PageError> {
    let token = sent.typed.token()?;
    let Some(link) = LinkToken::read(&link) else {
        return closed(&app, Role::Helper, LinkState::Unknown);
    };
    let name = match sent.typed.read(&app.texts) {
        Ok(name) => name,
        Err(faults) => {
            let role = match app.store.link(&link).await? {
                LinkState::Open(role) => role,
                shut => return closed(&app, Role::Helper, shut),
            };
            return faulty(&JoinPage::new(&app, role, &sent.typed, faults));
        }
    };
    match app.store.join(link, token.clone(), name, device_name(&headers)).await? {
        Opened::Yes(_) => with_cookie(&token, Redirect::to(urls::WAIT)),
        Opened::No(state) => closed(&app, Role::Helper, state),
    }
}

/// Where a device waits: the page looks again by itself until the lead has let it in.
pub async fn wait(app: App) -> Result<Response, PageError> {
    match &app.caller {
        Some(caller) if caller.is_in => Ok(Redirect::to(urls::JOBS).into_response()),
        Some(_) => Ok(([(header::REFRESH, LOOK_AGAIN)], page(&Waiting::new(&app))?).into_response()),
        None => closed(&app, Role::Helper, LinkState::Revoked),
    }
}

/// The form for the lead's PIN.
pub async fn sign_in(app: App) -> Result<Response, PageError> {
    page(&SignInPage::new(&app, Faults::default()))
}

/// Lets the lead in by PIN.
pub async fn try_pin(app: App, headers: HeaderMap, sent: Sent<TypedPin>) -> Result<Response, PageError> {
    let token = sent.typed.token()?;
    let refused = |words: &str, status| {
        let mut faults = Faults::default();
        faults.add("pin", app.texts.say(words));
        let page = askama::Template::render(&SignInPage::new(&app, faults))?;
        Ok((status, Html(page)).into_response())
    };
    let Ok(pin) = sent.typed.pin() else { return refused("fault-pin-six", StatusCode::UNPROCESSABLE_ENTITY) };
    match app.store.try_pin().await? {
        PinTry::Against { lead, hash } => {
            if !aside(move || hash.is_of(&pin)).await? {
                return refused("fault-pin-wrong", StatusCode::UNPROCESSABLE_ENTITY);
            }
            app.store.sign_in(lead, token.clone(), device_name(&headers)).await?;
            with_cookie(&token, Redirect::to(urls::JOBS))
        }
        PinTry::Later => refused("fault-pin-later", StatusCode::TOO_MANY_REQUESTS),
        PinTry::NeedsLink => refused("fault-pin-needs-link", StatusCode::TOO_MANY_REQUESTS),
        PinTry::NoLead => refused("fault-pin-no-lead", StatusCode::UNPROCESSABLE_ENTITY),
    }
}

/// Slow on purpose, so off the threads that answer.
async fn aside<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, PageError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| PageError::Ours(error.into()))
}

async fn state(app: &App, token: &str) -> Result<LinkState, PageError> {
    match LinkToken::read(token) {
        Some(token) => Ok(app.store.link(&token).await?),
        None => Ok(LinkState::Unknown),
    }
}

/// Why a link does not open, and the way on.
fn closed(app: &App, role: Role, state: LinkState) -> Result<Response, PageError> {
    let page = askama::Template::render(&Closed::new(app, role, state))?;
    Ok((StatusCode::GONE, Html(page)).into_response())
}
