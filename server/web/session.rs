//! Who asks: the browser's cookie, the device behind it, and what that may do. A handler that changes something takes
//! [`Lead`] or [`Hand`], so that what a role may do stands in the handler's own signature.

use std::net::IpAddr;

use axum::extract::{FromRequestParts, Request};
use axum::http::header::{self, HeaderMap, HeaderValue};
use axum::http::request::Parts;
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::error::PageError;
use super::join::Stranger;
use super::{once, urls};
use crate::app::App;
use crate::store::{Actor, Caller, Role, SessionToken};

/// The cookie that holds a browser's token.
const COOKIE: &str = "coursebook_session";

/// As long as a session may last at all: the store ends it earlier where it is not used.
const KEPT_FOR: &str = "Max-Age=7776000";

/// The two ends of a connection.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Ends {
    pub from: IpAddr,
    pub to: IpAddr,
}

/// The lead asks.
pub struct Lead(pub Actor);

/// Somebody who works asks: the lead or a helper.
pub struct Hand(pub Actor);

impl Ends {
    /// Whether whoever asks sits at the box.
    pub fn is_at_the_box(&self) -> bool {
        self.from.to_canonical().is_loopback()
    }
}

/// Whether a request comes from the box itself. One whose connection is unknown does not.
pub fn is_at_the_box(parts: &axum::http::Extensions) -> bool {
    parts.get::<Ends>().is_some_and(Ends::is_at_the_box)
}

impl FromRequestParts<App> for Lead {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &App) -> Result<Self, PageError> {
        actor(parts, |role| role == Role::Lead).map(Self).ok_or(PageError::LeadOnly)
    }
}

impl FromRequestParts<App> for Hand {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &App) -> Result<Self, PageError> {
        actor(parts, |role| role != Role::Board).map(Self).ok_or(PageError::BoardReads)
    }
}

fn actor(parts: &Parts, may: impl FnOnce(Role) -> bool) -> Option<Actor> {
    let caller = parts.extensions.get::<Caller>()?;
    (caller.is_in && may(caller.role)).then(|| caller.actor()).flatten()
}

/// Finds out who asks, for all that follows.
pub async fn recognise(app: App, mut request: Request, next: Next) -> Response {
    if let Some(token) = token(request.headers()) {
        match app.store.caller(&token).await {
            Ok(Some(caller)) => {
                request.extensions_mut().insert(caller);
            }
            Ok(None) => {}
            Err(error) => return PageError::from(error).into_response(),
        }
    }
    next.run(request).await
}

/// Lets the crew pass. A stranger is told the way in, a board may only read. What a phone has kept is refused and not
/// led elsewhere, so that it is not lost with a session that has ended.
pub async fn crew_only(app: App, request: Request, next: Next) -> Response {
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    let was_kept = once::was_kept(request.method(), request.headers());
    match &app.caller {
        caller if was_kept && !caller.as_ref().is_some_and(|caller| caller.is_in) => {
            PageError::NotIn.into_response()
        }
        Some(caller) if !caller.is_in => Redirect::to(urls::WAIT).into_response(),
        Some(caller) if caller.role == Role::Board && !reads => PageError::BoardReads.into_response(),
        Some(_) => next.run(request).await,
        None => match told(&app, is_at_the_box(request.extensions())).await {
            Ok(answer) => answer,
            Err(error) => error.into_response(),
        },
    }
}

/// What a stranger is told.
async fn told(app: &App, at_the_box: bool) -> Result<Response, PageError> {
    let is_set_up = app.store.lead_set_up().await?.is_some();
    if at_the_box && (app.demo || !is_set_up) {
        return Ok(Redirect::to(urls::SET_UP).into_response());
    }
    let page = Stranger::new(app, is_set_up);
    Ok((StatusCode::FORBIDDEN, Html(askama::Template::render(&page)?)).into_response())
}

/// An answer that makes this browser the device of a token.
pub fn with_cookie(token: &SessionToken, answer: impl IntoResponse) -> Result<Response, PageError> {
    let cookie = format!("{COOKIE}={}; Path=/; {KEPT_FOR}; SameSite=Lax; HttpOnly", token.reveal());
    let mut cookie = HeaderValue::from_str(&cookie).map_err(|error| PageError::Ours(error.into()))?;
    cookie.set_sensitive(true);
    Ok(([(header::SET_COOKIE, cookie)], answer).into_response())
}

/// The token of a browser's cookie. Of several, the first that can be read.
fn token(headers: &HeaderMap) -> Option<SessionToken> {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|cookies| cookies.to_str().ok());
    let mut each = cookies.flat_map(|cookies| cookies.split(';')).filter_map(|cookie| cookie.split_once('='));
    each.find_map(|(name, token)| (name.trim() == COOKIE).then(|| SessionToken::read(token.trim())).flatten())
}

/// What a browser runs on, as far as its own words say: `phone` or `computer`.
pub fn device_name(headers: &HeaderMap) -> String {
    let agent = headers.get(header::USER_AGENT).and_then(|agent| agent.to_str().ok()).unwrap_or_default();
    if agent.contains("Mobi") { "phone" } else { "computer" }.to_owned()
}
