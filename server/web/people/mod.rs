//! The people of the crew and their devices, for the lead: who waits, who is in, and links for more.

mod page;

use axum::extract::{Path, Query};
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};

use self::page::{LinkPage, PeoplePage};
use super::error::PageError;
use super::form::Sent;
use super::page::page;
use super::session::Lead;
use super::urls;
use crate::app::App;
use crate::output::qr;
use crate::store::{DeviceId, LinkState, LinkToken, Role};

/// Which kind of link is asked for.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct TypedLink {
    role: String,
}

/// What the lead has just done, which the list says.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Done {
    /// There is a new PIN.
    pin: String,
    /// So many links were taken back.
    back: Option<u64>,
}

/// A form that only asks.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Asked {}

/// Everyone.
pub async fn list(app: App, lead: Lead, Query(done): Query<Done>) -> Result<Response, PageError> {
    let seen = app.store.seen();
    let devices = app.store.devices().await?;
    page(&PeoplePage::new(&app, &seen, &lead.0.device, devices).after(&done))
}

/// Makes a link. The page it leads to can be opened by the lead alone.
pub async fn invite(app: App, lead: Lead, sent: Sent<TypedLink>) -> Result<Response, PageError> {
    let role = match Role::from_name(&sent.typed.role) {
        Some(role @ (Role::Helper | Role::Board)) => role,
        Some(Role::Lead) | None => return Err(PageError::BadForm),
    };
    let token = app.store.invite(sent.key, role, lead.0.person.id).await?;
    let leads_to = token.map_or_else(|| urls::PEOPLE.to_owned(), |token| urls::link(&token));
    Ok(Redirect::to(&leads_to).into_response())
}

/// A link as the lead shows it.
pub async fn link(
    app: App,
    _lead: Lead,
    headers: HeaderMap,
    Path(token): Path<String>,
) -> Result<Response, PageError> {
    let token = LinkToken::read(&token).ok_or(PageError::NotFound)?;
    match app.store.link(&token).await? {
        LinkState::Open(role @ (Role::Helper | Role::Board)) => {
            page(&LinkPage::new(&app, role, &token, &address(&app, &headers, &token)))
        }
        LinkState::Unknown => Err(PageError::NotFound),
        _ => Ok(Redirect::to(urls::PEOPLE).into_response()),
    }
}

/// The same as a code for a camera.
pub async fn code(
    app: App,
    _lead: Lead,
    headers: HeaderMap,
    Path(token): Path<String>,
) -> Result<Response, PageError> {
    let token = LinkToken::read(&token).ok_or(PageError::NotFound)?;
    let drawing =
        qr::drawing(&address(&app, &headers, &token)).map_err(|error| PageError::Ours(error.into()))?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], drawing).into_response())
}

/// Takes back the links that nobody has used.
pub async fn revoke(app: App, _lead: Lead, _sent: Sent<Asked>) -> Result<Response, PageError> {
    let count = app.store.revoke_links().await?;
    Ok(Redirect::to(&urls::links_taken_back(count)).into_response())
}

/// Lets a device in.
pub async fn let_in(
    app: App,
    _lead: Lead,
    Path(device): Path<DeviceId>,
    _sent: Sent<Asked>,
) -> Result<Response, PageError> {
    app.store.let_in(device).await?;
    Ok(Redirect::to(urls::PEOPLE).into_response())
}

/// Puts a device out.
pub async fn end(
    app: App,
    _lead: Lead,
    Path(device): Path<DeviceId>,
    _sent: Sent<Asked>,
) -> Result<Response, PageError> {
    app.store.end(device).await?;
    Ok(Redirect::to(urls::PEOPLE).into_response())
}

/// Where a phone opens the link.
fn address(app: &App, headers: &HeaderMap, token: &LinkToken) -> String {
    format!("http://{}{}", host_for_others(app, headers), urls::join(token))
}

/// Where other devices reach us: where the lead did, unless that only works at the box itself.
pub fn host_for_others(app: &App, headers: &HeaderMap) -> String {
    let asked = headers.get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or_default();
    let only_here = ["localhost", "127.", "[::1]"].into_iter().any(|local| asked.starts_with(local));
    let reached = app.reached.first().filter(|first| only_here && !first.ip().is_loopback());
    reached.map_or_else(|| asked.to_owned(), |first| first.to_string())
}
