//! The saw: what to cut next, from what and how, and what has been cut.

mod changed;
mod hands;
mod in_use;
mod operation;
mod page;
mod print;
mod queue;
mod rack;
mod refused;
mod saw;
mod sheet;
mod tiles;
mod trim;
mod view;
mod words;
mod yard;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query, RawQuery};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, HeaderValue};
use axum::response::{IntoResponse, Redirect, Response};
use trade::place::PieceId;

use self::hands::Hands;
pub use self::in_use::InUse;
use self::page::NothingYet;
pub use self::print::{PagePrint, Print, shape_print};
pub use self::refused::Refused;
use self::saw::NoCut;
pub use self::saw::{Entry, Fits, Left, Racked, Saw, written};
pub use self::tiles::stock_print;
pub use self::view::View;
pub use self::words::Words;
pub use self::yard::Yard;
use super::error::PageError;
use super::form::Sent;
use super::page::{faulty, page, reader};
use super::session::{Hand, Lead};
use super::urls;
use crate::app::App;
use crate::store::{
    ANEW, BROKE, Claim, DeviceId, EventId, Fate, JobId, NOT_ANEW, NOT_BROKE, NOT_CUT, NewCut, NewTrim,
    PersonId, Sawn,
};
use crate::work::Planned;

/// What the button "Cut" sends: for which plan it was pressed, and by which older page the piece was cut, if so.
#[derive(serde::Deserialize)]
pub struct Pressed {
    print: String,
    /// The print of the older page that it was cut by; empty where it was this one.
    #[serde(default)]
    old: String,
}

/// What the page of one piece is asked for.
#[derive(serde::Deserialize)]
pub struct Looked {
    /// The print of an older page by which it is cut already.
    #[serde(default)]
    before: String,
}

/// What "Broke it", "Trim it" and "Cut it anew" send: for which plan it was pressed, and which cut the page showed, if
/// any.
#[derive(serde::Deserialize)]
pub struct Broken {
    print: String,
    #[serde(default)]
    entry: String,
    /// "Yes, another one", where it was asked whether one more broke.
    #[serde(default)]
    again: String,
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
    let mut answer = page(&View::new(&app, &head, &yard).saw()?)?;
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
pub async fn piece(
    app: App,
    Path((job, piece)): Path<(JobId, String)>,
    Query(looked): Query<Looked>,
) -> Result<Response, PageError> {
    let (head, yard) = Yard::laid_out(&app, &job).await?;
    let entry = yard.saw.entry(&PieceId(piece)).ok_or(PageError::NotFound)?;
    let before =
        Some(looked.before).filter(|before| !before.is_empty()).map(|before| PagePrint::sent(&before));
    page(&View::new(&app, &head, &yard).piece(entry, before.as_ref()))
}

/// Keeps that a piece is cut, where it can have been.
pub async fn cut(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (head, yard) = Yard::laid_out(&app, &job).await?;
    let piece = PieceId(piece);
    let Some(entry) = yard.saw.entry(&piece) else {
        let says = page(&View::new(&app, &head, &yard).no_such_piece(&piece))?;
        return Ok((StatusCode::NOT_FOUND, says).into_response());
    };
    let Pressed { print, old } = sent.typed;
    let seen = PagePrint::sent(if old.is_empty() { &print } else { &old });
    let old = (!old.is_empty()).then(|| seen.clone());
    let was = match &old {
        Some(old) => {
            let first = Saw::new(Arc::clone(&yard.first), Sawn::default());
            yard.saw.was_cut(entry, old, &first)
        }
        None => entry.would_be.clone(),
    };
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let (looks, asked) = (Looks::of(&yard, &by), piece.clone());
    let outcome = app
        .store
        .append_cut(new, by.0, move |sawn, claims| {
            let (saw, hands) = looks.at(sawn, claims);
            match &old {
                Some(old) => saw.may_count(&asked, &print, old, &hands)?,
                None => saw.may_cut(&asked, &print, &hands)?,
            }
            Ok(saw.next_after(&asked, &hands).map(|next| saw.piece(next).id.clone()))
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.no_cut(&piece, why, &seen)).await
}

/// Puts a piece into the hand of this device, where it can be cut and nobody else has it.
pub async fn take(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let piece = PieceId(piece);
    yard.saw.entry(&piece).ok_or(PageError::NotFound)?;
    let (looks, asked, print) = (Looks::of(&yard, &by), piece.clone(), sent.typed.print);
    let look = move |sawn: &Sawn, claims: &[Claim]| {
        let (saw, hands) = looks.at(sawn, claims);
        saw.may_cut(&asked, &print, &hands)
    };
    let outcome = app.store.take_in_hand(sent.key, job.clone(), piece.clone(), by.0, look).await?;
    answer(&app, &job, outcome, |view, why| view.not_taken(&piece, why)).await
}

/// Takes a piece out of somebody's hand, as the lead alone may.
pub async fn take_over(
    app: App,
    Lead(by): Lead,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Pressed>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let (piece, print) = (PieceId(piece), sent.typed.print);
    let Some(held) = yard.log.claims.iter().find(|claim| claim.piece == piece) else {
        // It is in nobody's hand by now, and can be taken like any.
        return Ok(to_the_saw(&app, &job));
    };
    let by = Hand(by);
    let (looks, asked) = (Looks::of(&yard, &by), piece.clone());
    let look = move |sawn: &Sawn, claims: &[Claim]| {
        let others = claims.iter().filter(|claim| claim.piece != asked).cloned().collect::<Vec<_>>();
        let (saw, hands) = looks.at(sawn, &others);
        saw.may_cut(&asked, &print, &hands)
    };
    let outcome = app.store.take_over(sent.key, job.clone(), held, by.0, look).await?;
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
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let (looks, asked, of) = (Looks::of(&yard, &by), entry.clone(), piece.clone());
    let look = move |sawn: &Sawn| looks.saw(sawn).may_take_back(&of, &asked);
    let cut = (piece.clone(), entry);
    let outcome = app.store.take_back_cut(NOT_CUT, sent.key, job.clone(), cut, by.0, look).await?;
    answer(&app, &job, outcome, |view, why| view.no_way_back(&piece, why)).await
}

/// Keeps that a piece broke, and its tile with it.
pub async fn broke(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Broken>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let piece = PieceId(piece);
    let (was, cut) = Saw::would_lose(yard.saw.entry(&piece).ok_or(PageError::NotFound)?);
    let Broken { print, entry, again } = sent.typed;
    let (form, now) = (print.clone(), app.clock.now());
    let (looks, asked) = (Looks::of(&yard, &by), piece.clone());
    let seen = Some(EventId::from(entry)).filter(|entry| !entry.as_str().is_empty());
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let outcome = app
        .store
        .append_loss(BROKE, new, cut.clone(), by.0, move |sawn, claims| {
            let (saw, hands) = looks.at(sawn, claims);
            if again.is_empty() && saw.just_broke(&asked, &hands, now) {
                Err(NoCut::JustBroke)
            } else if seen == cut {
                saw.may_break(&asked, &print, cut.as_ref(), &hands)
            } else {
                Err(NoCut::PlanChanged)
            }
        })
        .await?;
    if let Err(NoCut::JustBroke) = outcome {
        let (head, yard) = Yard::laid_out(&app, &job).await?;
        return faulty(&View::new(&app, &head, &yard).broke_again(&piece, &form));
    }
    answer(&app, &job, outcome, |view, why| view.not_broken(&piece, why)).await
}

/// Keeps that a piece was trimmed to the size that it is to have.
pub async fn trim(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Broken>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let piece = PieceId(piece);
    yard.saw.entry(&piece).ok_or(PageError::NotFound)?;
    let cut = EventId::from(sent.typed.entry);
    let new = NewTrim { key: sent.key, job: job.clone(), piece: piece.clone(), cut: cut.clone() };
    let (looks, asked, print) = (Looks::of(&yard, &by), piece.clone(), sent.typed.print);
    let look = move |sawn: &Sawn| {
        let saw = looks.saw(sawn);
        saw.may_trim(saw.entry(&asked).ok_or(NoCut::PlanChanged)?, &print, &cut)
    };
    let outcome = app.store.append_trim(new, by.0, look).await?;
    answer(&app, &job, outcome, |view, why| view.not_trimmed(&piece, why)).await
}

/// Takes back that a piece was trimmed.
pub async fn not_trimmed(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let (looks, asked, of) = (Looks::of(&yard, &by), entry.clone(), piece.clone());
    let look = move |sawn: &Sawn| looks.saw(sawn).may_untrim(&of, &asked);
    let outcome = app.store.take_back_trim(sent.key, job.clone(), (piece.clone(), entry), by.0, look).await?;
    answer(&app, &job, outcome, |view, why| view.stays_trimmed(&piece, why)).await
}

/// Keeps that a piece was cut in vain, so that it is cut anew.
pub async fn anew(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Broken>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let piece = PieceId(piece);
    let (was, _) = Saw::would_lose(yard.saw.entry(&piece).ok_or(PageError::NotFound)?);
    let (looks, asked, print) = (Looks::of(&yard, &by), piece.clone(), sent.typed.print);
    let cut = EventId::from(sent.typed.entry);
    let seen = cut.clone();
    let new = NewCut { key: sent.key, job: job.clone(), piece: piece.clone(), was };
    let outcome = app
        .store
        .append_loss(ANEW, new, Some(cut), by.0, move |sawn, _| {
            let saw = looks.saw(sawn);
            saw.may_cut_anew(saw.entry(&asked).ok_or(NoCut::PlanChanged)?, &print, &seen)
        })
        .await?;
    answer(&app, &job, outcome, |view, why| view.not_anew(&piece, why)).await
}

/// Takes back that a tile broke, or that a piece was cut in vain.
pub async fn not_broke(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (_, yard) = Yard::laid_out(&app, &job).await?;
    let (piece, entry) = (PieceId(piece), EventId::from(sent.typed.entry));
    let (looks, asked, of) = (Looks::of(&yard, &by), entry.clone(), piece.clone());
    let in_vain = |entry: &EventId| {
        yard.saw.sawn().losses.iter().any(|loss| loss.event == *entry && loss.fate == Fate::InVain)
    };
    let kind = if in_vain(&entry) { NOT_ANEW } else { NOT_BROKE };
    let lost = (piece.clone(), entry);
    let look = move |sawn: &Sawn| looks.saw(sawn).may_mend(&of, &asked);
    let outcome = app.store.take_back_cut(kind, sent.key, job.clone(), lost, by.0, look).await?;
    answer(&app, &job, outcome, |view, why| view.still_broken(&piece, why)).await
}

/// The plan and the hands that a form was sent by, to be held against the log in the moment it is kept.
struct Looks {
    planned: Arc<Planned>,
    device: DeviceId,
    person: PersonId,
}

impl Looks {
    fn of(yard: &Yard, by: &Hand) -> Self {
        let (device, person) = (by.0.device.clone(), by.0.person.id.clone());
        Self { planned: Arc::clone(&yard.saw.planned), device, person }
    }

    fn saw(&self, sawn: &Sawn) -> Saw {
        Saw::new(Arc::clone(&self.planned), sawn.clone())
    }

    fn at(&self, sawn: &Sawn, claims: &[Claim]) -> (Saw, Hands) {
        (self.saw(sawn), Hands::new(self.device.clone(), Some(self.person.clone()), claims.to_vec()))
    }
}

/// Back to the saw, or why not, seen against the job as it stands by now.
async fn answer<T, R, P: Template>(
    app: &App,
    job: &JobId,
    outcome: Result<T, R>,
    say: impl FnOnce(View<'_>, &R) -> P,
) -> Result<Response, PageError> {
    let Err(why) = outcome else { return Ok(to_the_saw(app, job)) };
    let (head, yard) = Yard::laid_out(app, job).await?;
    let says = page(&say(View::new(app, &head, &yard), &why))?;
    Ok((StatusCode::CONFLICT, says).into_response())
}

fn to_the_saw(app: &App, job: &JobId) -> Response {
    Redirect::to(&urls::cuts_at(job, &app.store.seen())).into_response()
}
