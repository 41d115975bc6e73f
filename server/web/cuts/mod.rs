//! The saw: what to cut next, from what and how, and what has been cut.

mod hands;
mod operation;
mod page;
mod print;
mod queue;
mod rack;
mod refused;
mod saw;
mod sheet;
mod tiles;
mod view;
mod words;
mod yard;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, RawQuery};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, HeaderValue};
use axum::response::{IntoResponse, Redirect, Response};
use trade::place::PieceId;

use self::hands::Hands;
use self::page::NothingYet;
pub use self::print::{Print, shape_print};
pub use self::refused::Refused;
use self::saw::NoCut;
pub use self::saw::{Entry, Fits, Left, Racked, Saw, written};
pub use self::tiles::stock_print;
pub use self::view::View;
pub use self::yard::Yard;
use super::error::PageError;
use super::form::Sent;
use super::page::{page, reader};
use super::session::Hand;
use super::urls;
use crate::app::App;
use crate::store::{EventId, JobHead, JobId, NOT_BROKE, NOT_CUT, NewCut};

/// What the button "Cut" sends: for which plan it was pressed.
#[derive(serde::Deserialize)]
pub struct Pressed {
    print: String,
}

/// What "Broke it" sends: for which plan it was pressed, and which cut the page showed, if any.
#[derive(serde::Deserialize)]
pub struct Broken {
    print: String,
    #[serde(default)]
    entry: String,
}

/// What "Leave it to others" sends: nothing but its key.
#[derive(serde::Deserialize)]
pub struct LetGo {}

/// What "Not cut after all" sends: which entry it takes back.
#[derive(serde::Deserialize)]
pub struct TakenBack {
    entry: String,
}

/// A shift with its breaks: so long a phone out of range opens the page that it kept.
const KEPT_FOR_A_SHIFT: HeaderValue = HeaderValue::from_static("private, max-age=36000");

/// The piece in hand and the whole queue. A phone keeps the page where it asked for the one to keep.
pub async fn saw(app: App, Path(job): Path<JobId>, RawQuery(query): RawQuery) -> Result<Response, PageError> {
    let (head, yard) = Yard::of(&app, &job).await?;
    let Some(yard) = yard else { return page(&NothingYet::new(&app, &head)) };
    let mut answer = page(&View::new(&app, &head, &yard).saw())?;
    let kept = urls::cuts_kept(&job, app.texts.language(), &reader(&app));
    if query.is_some_and(|query| kept.ends_with(&format!("?{query}"))) {
        answer.headers_mut().insert(CACHE_CONTROL, KEPT_FOR_A_SHIFT);
    }
    Ok(answer)
}

/// The offcuts on the rack.
pub async fn rack(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let (head, yard) = Yard::of(&app, &job).await?;
    match yard {
        Some(yard) => page(&View::new(&app, &head, &yard).rack()),
        None => page(&NothingYet::new(&app, &head)),
    }
}

/// One piece.
pub async fn piece(app: App, Path((job, piece)): Path<(JobId, String)>) -> Result<Response, PageError> {
    let (head, yard) = find(&app, &job).await?;
    let entry = yard.saw.entry(&PieceId(piece)).ok_or(PageError::NotFound)?;
    page(&View::new(&app, &head, &yard).piece(entry))
}

/// Keeps that a piece is cut, where it can have been.
pub async fn cut(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let piece = PieceId(piece);
    let was = yard.saw.entry(&piece).ok_or(PageError::NotFound)?.would_be.clone();
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let (planned, asked, print) = (Arc::clone(&yard.saw.planned), piece.clone(), sent.typed.print);
    let device = by.0.device.clone();
    let outcome = app
        .store
        .append_cut(new, by.0, move |sawn, claims| {
            let (saw, hands) = (Saw::new(planned, sawn.clone()), Hands::new(device, claims.to_vec()));
            saw.may_cut(&asked, &print, &hands)?;
            Ok(saw.next_after(&asked, &hands).map(|next| saw.piece(next).id.clone()))
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.no_cut(&piece, why)).await
}

/// Puts a piece into the hand of this device, where it can be cut and nobody else has it.
pub async fn take(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let piece = PieceId(piece);
    yard.saw.entry(&piece).ok_or(PageError::NotFound)?;
    let (planned, asked, print) = (Arc::clone(&yard.saw.planned), piece.clone(), sent.typed.print);
    let device = by.0.device.clone();
    let outcome = app
        .store
        .take_in_hand(sent.key, job.clone(), piece.clone(), by.0, move |sawn, claims| {
            let hands = Hands::new(device, claims.to_vec());
            Saw::new(planned, sawn.clone()).may_cut(&asked, &print, &hands)
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.not_taken(&piece, why)).await
}

/// Lets go of a piece.
pub async fn let_go(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<LetGo>,
) -> Result<Response, PageError> {
    app.store.let_go(sent.key, job.clone(), PieceId(piece), by.0).await?;
    Ok(to_the_saw(&app, &job))
}

/// Takes a cut back.
pub async fn not_cut(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let planned = Arc::clone(&yard.saw.planned);
    let (asked, of) = (entry.clone(), piece.clone());
    let outcome = app
        .store
        .take_back_cut(NOT_CUT, sent.key, job.clone(), (piece.clone(), entry), by.0, move |sawn| {
            Saw::new(planned, sawn.clone()).may_take_back(&of, &asked)
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.no_way_back(&piece, why)).await
}

/// Keeps that a piece broke, and its tile with it.
pub async fn broke(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Broken>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let piece = PieceId(piece);
    let (was, cut) = Saw::would_lose(yard.saw.entry(&piece).ok_or(PageError::NotFound)?);
    let Broken { print, entry } = sent.typed;
    let (planned, asked, device) = (Arc::clone(&yard.saw.planned), piece.clone(), by.0.device.clone());
    let seen = Some(EventId::from(entry)).filter(|entry| !entry.as_str().is_empty());
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let outcome = app
        .store
        .append_loss(new, cut.clone(), by.0, move |sawn, claims| {
            let (saw, hands) = (Saw::new(planned, sawn.clone()), Hands::new(device, claims.to_vec()));
            if seen == cut {
                saw.may_break(&asked, &print, cut.as_ref(), &hands)
            } else {
                Err(NoCut::PlanChanged)
            }
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.not_broken(&piece, why)).await
}

/// Takes back that a tile broke.
pub async fn not_broke(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let planned = Arc::clone(&yard.saw.planned);
    let (asked, of) = (entry.clone(), piece.clone());
    let lost = (piece.clone(), entry);
    let outcome = app
        .store
        .take_back_cut(NOT_BROKE, sent.key, job.clone(), lost, by.0, move |sawn| {
            Saw::new(planned, sawn.clone()).may_mend(&of, &asked)
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.still_broken(&piece, why)).await
}

/// The job with its saw, where there is a layout.
async fn find(app: &App, job: &JobId) -> Result<(JobHead, Yard), PageError> {
    let (head, yard) = Yard::of(app, job).await?;
    Ok((head, yard.ok_or(PageError::NotFound)?))
}

/// Back to the saw, or why not, seen against the job as it stands by now.
async fn answer<T, R, P: Template>(
    app: &App,
    job: &JobId,
    outcome: Result<T, R>,
    say: impl FnOnce(View<'_>, &R) -> P,
) -> Result<Response, PageError> {
    let Err(why) = outcome else { return Ok(to_the_saw(app, job)) };
    let (head, yard) = find(app, job).await?;
    let says = page(&say(View::new(app, &head, &yard), &why))?;
    Ok((StatusCode::CONFLICT, says).into_response())
}

fn to_the_saw(app: &App, job: &JobId) -> Response {
    Redirect::to(&urls::cuts_at(job, &app.store.seen())).into_response()
}
