//! What a handler answers when it cannot answer as asked. What a person can mend is said in their words; what only
//! we can mend is logged once and shown as an apology with a number.

use std::any::Any;

use askama::Template;
use axum::extract::Request;
use axum::http::StatusCode;
use axum::http::header;
use axum::middleware::Next;
use axum::response::{Html, IntoResponse, Response};

use crate::app::App;
use crate::store::{StoreError, random_name};
use crate::texts::Texts;
use crate::work::NoPlan;

/// Why there is no page.
#[derive(thiserror::Error, Debug)]
pub enum PageError {
    #[error("no such page")]
    NotFound,
    #[error("someone else changed this")]
    Stale,
    #[error("the form cannot be read")]
    BadForm,
    #[error("something is logged on it")]
    Logged,
    #[error("the form is too large")]
    TooLarge,
    #[error("the form and its header name two keys")]
    TwoKeys,
    #[error("there are no words in that language")]
    NoSuchLanguage,
    #[error("nobody is in on this phone")]
    NotIn,
    #[error("somebody else pressed the button")]
    Anothers,
    #[error("only the lead may do this")]
    LeadOnly,
    #[error("a board only reads")]
    BoardReads,
    #[error("the disk is full")]
    DiskFull,
    #[error("too many wait for the planner")]
    Busy,
    #[error(transparent)]
    Ours(anyhow::Error),
}

impl From<StoreError> for PageError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Missing => Self::NotFound,
            StoreError::Stale => Self::Stale,
            StoreError::Logged => Self::Logged,
            StoreError::KeyReused => Self::BadForm,
            StoreError::DiskFull => Self::DiskFull,
            other => Self::Ours(other.into()),
        }
    }
}

impl From<NoPlan> for PageError {
    fn from(why: NoPlan) -> Self {
        match why {
            NoPlan::Busy => Self::Busy,
            other @ (NoPlan::Sheet(_) | NoPlan::Layout(_) | NoPlan::Stopped) => Self::Ours(other.into()),
        }
    }
}

impl From<askama::Error> for PageError {
    fn from(error: askama::Error) -> Self {
        Self::Ours(error.into())
    }
}

/// The page of an error: it stands alone, since what failed may be what the frame needs.
#[derive(Template)]
#[template(path = "error.html")]
struct ErrorPage {
    language: &'static str,
    styles: [String; 2],
    title: String,
    says: String,
    back: String,
}

/// What an error's page is to say. The answer carries it to where the request's language is known.
#[derive(Clone)]
struct Apology {
    key: &'static str,
    number: String,
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let (status, key) = match &self {
            Self::NotFound => (StatusCode::NOT_FOUND, "error-not-found"),
            Self::Stale => (StatusCode::CONFLICT, "error-stale"),
            Self::BadForm => (StatusCode::UNPROCESSABLE_ENTITY, "error-bad-form"),
            Self::Logged => (StatusCode::CONFLICT, "error-logged"),
            Self::TooLarge => (StatusCode::PAYLOAD_TOO_LARGE, "error-too-large"),
            Self::TwoKeys => (StatusCode::UNPROCESSABLE_ENTITY, "error-two-keys"),
            Self::NotIn => (StatusCode::FORBIDDEN, "error-not-in"),
            Self::Anothers => (StatusCode::FORBIDDEN, "error-anothers"),
            Self::NoSuchLanguage => (StatusCode::UNPROCESSABLE_ENTITY, "error-no-such-language"),
            Self::LeadOnly => (StatusCode::FORBIDDEN, "error-lead-only"),
            Self::BoardReads => (StatusCode::FORBIDDEN, "error-board-reads"),
            Self::DiskFull => (StatusCode::INSUFFICIENT_STORAGE, "error-disk-full"),
            Self::Busy => (StatusCode::SERVICE_UNAVAILABLE, "no-plan-busy"),
            Self::Ours(_) => (StatusCode::INTERNAL_SERVER_ERROR, "error-ours"),
        };
        let number = random_name();
        if let Self::Ours(error) = &self {
            tracing::error!(number, "{error:#}");
        }
        let mut response = status.into_response();
        response.extensions_mut().insert(Apology { key, number });
        response
    }
}

/// Writes the page of an error in the language of the request.
pub async fn in_words(app: App, request: Request, next: Next) -> Response {
    let response = next.run(request).await;
    match response.extensions().get::<Apology>().cloned().or_else(|| of_bare_status(&response)) {
        Some(apology) => (response.status(), apology.page(&app.texts, app.assets.styles())).into_response(),
        None => response,
    }
}

/// What to say for an answer that says nothing: the layers round the routes answer with a status alone, or with words
/// that are not ours where a form is too large.
fn of_bare_status(response: &Response) -> Option<Apology> {
    let silent = !response.headers().contains_key(header::CONTENT_TYPE);
    let key = match response.status() {
        StatusCode::PAYLOAD_TOO_LARGE => "error-too-large",
        StatusCode::FORBIDDEN if silent => "guard-other-origin",
        StatusCode::METHOD_NOT_ALLOWED if silent => "error-not-found",
        StatusCode::SERVICE_UNAVAILABLE if silent => "error-slow",
        _ => return None,
    };
    Some(Apology { key, number: String::new() })
}

impl Apology {
    fn page(&self, texts: &Texts, styles: [String; 2]) -> Html<String> {
        let page = ErrorPage {
            language: texts.language(),
            styles,
            title: texts.say("error-title"),
            says: texts.say_with(self.key, &[("number", &self.number)]),
            back: texts.say("error-back"),
        };
        Html(page.render().unwrap_or(page.says))
    }
}

/// The answer when a handler panicked: logged, and never a dropped connection.
pub fn after_panic(panic: Box<dyn Any + Send>) -> Response {
    let says = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied())
        .unwrap_or("no message");
    PageError::Ours(anyhow::anyhow!("a handler panicked: {says}")).into_response()
}
