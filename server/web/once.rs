//! Forms that script sends from what a phone has kept, perhaps for the second time: with their key in a header too, and
//! answered so that nothing else can be taken for an outcome. A way in that a stranger is sent to, or the page of some
//! other network that stands before ours, carries no [`OUTCOME`], so the phone keeps what it has and asks again.

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::header::{HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode, request};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::error::PageError;
use super::form;
use super::guard::MOST_BODY;
use crate::app::App;

/// The key of the form, so that a repeat is known before the form is looked into.
const IDEMPOTENCY_KEY: HeaderName = HeaderName::from_static("idempotency-key");

/// Who was in on the phone when the button was pressed, where the phone says: another's work is not logged as theirs.
const PRESSED_BY: HeaderName = HeaderName::from_static("pressed-by");

/// What came of a form: `done`, `again` where it had been done before, or `refused` for good, with a page that says why.
/// None of them is "ask again later".
const OUTCOME: HeaderName = HeaderName::from_static("outcome");

const DONE: HeaderValue = HeaderValue::from_static("done");
const AGAIN: HeaderValue = HeaderValue::from_static("again");
const REFUSED: HeaderValue = HeaderValue::from_static("refused");

/// Whether a form comes from what a phone has kept.
pub fn was_kept(method: &Method, headers: &HeaderMap) -> bool {
    *method == Method::POST && headers.contains_key(IDEMPOTENCY_KEY)
}

/// Answers a kept form, of somebody who is in: a repeat with what came of it before, whatever the pages look like by
/// now.
pub async fn answer_once(app: App, request: Request, next: Next) -> Response {
    if !was_kept(request.method(), request.headers()) {
        return next.run(request).await;
    }
    match look(&app, request).await {
        Ok(Some(request)) => outcome(next.run(request).await),
        Ok(None) => (StatusCode::NO_CONTENT, [(OUTCOME, AGAIN)]).into_response(),
        Err(error) => error.into_response(),
    }
}

/// Marks what is refused, wherever on its way in: the same form would be refused again.
pub async fn mark_refused(request: Request, next: Next) -> Response {
    let kept = was_kept(request.method(), request.headers());
    let mut response = next.run(request).await;
    if kept && response.status().is_client_error() {
        response.headers_mut().entry(OUTCOME).or_insert(REFUSED);
    }
    response
}

/// The request to go on with; nothing where it was done before.
async fn look(app: &App, request: Request) -> Result<Option<Request>, PageError> {
    let (parts, body) = request.into_parts();
    let body = to_bytes(body, MOST_BODY).await.map_err(|_| PageError::TooLarge)?;
    let key = form::key(parts.uri.path(), &body)?;
    if parts.headers.get(IDEMPOTENCY_KEY).map(HeaderValue::as_bytes) != Some(key.as_str().as_bytes()) {
        return Err(PageError::TwoKeys);
    }
    if app.store.was_answered(&key).await? {
        return Ok(None);
    }
    if is_anothers(app, &parts) {
        return Err(PageError::Anothers);
    }
    Ok(Some(Request::from_parts(parts, Body::from(body))))
}

/// Whether somebody else pressed the button than is in by now.
fn is_anothers(app: &App, parts: &request::Parts) -> bool {
    let pressed = parts.headers.get(PRESSED_BY).map(HeaderValue::as_bytes);
    let asks = app.caller.as_ref().and_then(|caller| caller.person.as_ref());
    pressed.is_some_and(|pressed| asks.is_none_or(|asks| asks.id.as_str().as_bytes() != pressed))
}

/// What a handler answers. Where it would lead a browser on, script is told where to and goes there itself: a fetch
/// follows by itself, and then cannot tell the page it asked for from any other.
fn outcome(mut response: Response) -> Response {
    if response.status().is_redirection() {
        *response.status_mut() = StatusCode::NO_CONTENT;
    }
    if response.status().is_success() {
        response.headers_mut().insert(OUTCOME, DONE);
    }
    response
}
