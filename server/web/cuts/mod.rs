//! The saw: what to cut next, from what and how, and what has been cut.

mod operation;
mod page;
mod saw;
mod words;
mod yard;

use std::sync::Arc;

use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use trade::place::PieceId;

use self::page::{NothingYet, View};
pub use self::saw::{Entry, Left, Saw, written};

use self::yard::Yard;
use super::error::PageError;
use super::form::Sent;
use super::page::page;
use super::urls;
use crate::app::App;
use crate::store::{EventId, JobHead, JobId, NewCut};

/// What the button "Cut" sends: for which plan it was pressed.
#[derive(serde::Deserialize)]
pub struct Pressed {
    print: String,
}

/// What "Not cut after all" sends: which entry it takes back.
#[derive(serde::Deserialize)]
pub struct TakenBack {
    entry: String,
}

/// The piece in hand and the whole queue.
pub async fn saw(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let (head, yard) = Yard::of(&app, &job).await?;
    match yard {
        Some(yard) => page(&View::new(&app, &head, &yard).saw()),
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
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let piece = PieceId(piece);
    let was = yard.saw.entry(&piece).ok_or(PageError::NotFound)?.would_be.clone();
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let (planned, asked, print) = (Arc::clone(&yard.saw.planned), piece.clone(), sent.typed.print);
    let outcome = app
        .store
        .append_cut(new, app.crew.clone(), move |cuts| {
            Saw::new(planned, cuts.to_vec()).may_cut(&asked, &print)
        })
        .await?;
    match outcome {
        Ok(_) => Ok(to_the_saw(&job)),
        Err(why) => {
            let (head, yard) = find(&app, &job).await?;
            refused(page(&View::new(&app, &head, &yard).no_cut(&piece, &why))?)
        }
    }
}

/// Takes a cut back.
pub async fn not_cut(
    app: App,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (_, yard) = find(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let planned = Arc::clone(&yard.saw.planned);
    let (asked, of) = (entry.clone(), piece.clone());
    let outcome = app
        .store
        .take_back_cut(sent.key, job.clone(), (piece.clone(), entry), app.crew.clone(), move |cuts| {
            Saw::new(planned, cuts.to_vec()).may_take_back(&of, &asked)
        })
        .await?;
    match outcome {
        Ok(_) => Ok(to_the_saw(&job)),
        Err(why) => {
            let (head, yard) = find(&app, &job).await?;
            refused(page(&View::new(&app, &head, &yard).no_way_back(&piece, &why))?)
        }
    }
}

/// The job with its saw, where there is a layout.
async fn find(app: &App, job: &JobId) -> Result<(JobHead, Yard), PageError> {
    let (head, yard) = Yard::of(app, job).await?;
    Ok((head, yard.ok_or(PageError::NotFound)?))
}

fn to_the_saw(job: &JobId) -> Response {
    Redirect::to(&urls::cuts(job)).into_response()
}

fn refused(page: Response) -> Result<Response, PageError> {
    Ok((StatusCode::CONFLICT, page).into_response())
}
