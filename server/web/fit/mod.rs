//! Measured again: what the tape finds in a piece's place when the piece does not fit, what that changes and what it
//! costs.

mod field;
mod form;
mod page;
mod room;
mod told;
mod words;

use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use trade::place::{PieceId, Reading, Refit};
use trade::search::WorkFault;

pub use self::field::{PlansInField, fewest, plan_now, planned, relaid};
pub use self::told::as_measured;
pub use self::words::unheld;

use self::form::Doubt;
use self::page::{Echo, MeasurePage, Shown};
use self::room::{NoWayBack, Room};
use self::told::Told;
use self::words::Words;
use super::cuts::Saw;
use super::error::PageError;
use super::form::{Asking, Faults, Fields as Typed, Sent};
use super::page::{faulty, outrun, page};
use super::session::Hand;
use super::urls;
use crate::app::App;
use crate::store::{EventId, Found, JobId, NewMeasurement, TileCount};

/// How often a form is tried against a log in which somebody cut meanwhile: planning takes a tenth of a second, and a
/// crew has two saws.
const TRIES: usize = 4;

/// What "Not so after all" sends: which measurement it takes back.
#[derive(serde::Deserialize)]
pub struct TakenBack {
    entry: String,
}

/// The form for what the tape reads.
pub async fn show(app: App, Path((job, piece)): Path<(JobId, String)>) -> Result<Response, PageError> {
    let room = Room::of(&app, &job, PieceId(piece)).await?;
    page(&MeasurePage::new(&app, &room, Shown::default()))
}

/// What was understood of it as it is being typed, for the script.
pub async fn echo(
    app: App,
    Path((job, piece)): Path<(JobId, String)>,
    Asking(typed): Asking<Typed>,
) -> Result<Response, PageError> {
    let room = Room::of(&app, &job, PieceId(piece)).await?;
    page(&Echo::new(&app, &room, &typed))
}

/// Keeps what was measured, once the plan with it is known to hold.
pub async fn measure(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<Typed>,
) -> Result<Response, PageError> {
    let piece = PieceId(piece);
    for _ in 0..TRIES {
        let room = Room::of(&app, &job, piece.clone()).await?;
        let words = Words::new(&app.texts, room.head.unit);
        let shown = |faults: Faults| Shown { typed: sent.typed.clone(), faults, ..Shown::default() };
        let readings = match form::read(&sent.typed, &room.clear(), &words) {
            Ok(readings) => readings,
            Err(faults) => return faulty(&MeasurePage::new(&app, &room, shown(faults))),
        };
        if let Some(before) = app.store.measured_by(&sent.key, (&job, &piece), &readings).await? {
            return Ok(to_told(&job, &piece, &before));
        }
        if let Err(why) = room.may_measure() {
            return refused(&app, &room, &why);
        }
        if sent.typed.get("print") != room.print() {
            return outrun(&MeasurePage::new(
                &app,
                &room,
                Shown { outrun: true, ..shown(Faults::default()) },
            ));
        }
        let refits = match room.refit(&readings) {
            Ok(refits) => refits,
            Err(why) => return faulty(&MeasurePage::new(&app, &room, shown(words.no_fits(&piece, &why)))),
        };
        if let Some(doubt) = Doubt::of(&words, &room.clear(), &readings)
            && sent.typed.get("sure") != doubt.sure
        {
            let doubt = Some(doubt);
            return faulty(&MeasurePage::new(&app, &room, Shown { doubt, ..shown(Faults::default()) }));
        }
        let found = match found(&app, &room, readings, &refits).await? {
            Ok(found) => found,
            Err(why) => {
                return faulty(&MeasurePage::new(&app, &room, shown(words.no_plan(&room.clear(), &why))));
            }
        };
        let new = NewMeasurement { key: sent.key.clone(), job: job.clone(), piece: piece.clone(), found };
        let seen = room.yard.log.sawn.clone();
        let outcome = app.store.append_measured(new, by.0.clone(), move |sawn| same(sawn, &seen)).await?;
        if let Ok(event) = outcome {
            return Ok(to_told(&job, &piece, &event));
        }
    }
    Err(PageError::Stale)
}

/// What came of a measurement.
pub async fn told(
    app: App,
    Path((job, piece, event)): Path<(JobId, String, String)>,
) -> Result<Response, PageError> {
    let room = Room::of(&app, &job, PieceId(piece)).await?;
    let record = app.store.measurement(&job, &EventId::from(event)).await?;
    if record.piece != room.piece {
        return Err(PageError::NotFound);
    }
    page(&Told::new(&app, &room, &record))
}

/// Takes a measurement back, unless something was cut to it since.
pub async fn not_measured(
    app: App,
    by: Hand,
    Path((job, piece)): Path<(JobId, String)>,
    sent: Sent<TakenBack>,
) -> Result<Response, PageError> {
    let (piece, event) = (PieceId(piece), EventId::from(sent.typed.entry));
    for _ in 0..TRIES {
        let room = Room::of(&app, &job, piece.clone()).await?;
        let seen = room.yard.log.sawn.clone();
        let may = room.may_take_back(&event);
        let of = (piece.clone(), event.clone());
        let allowed = move |sawn: &_| match same(sawn, &seen) {
            Ok(()) => may.map_err(Some),
            Err(Outrun) => Err(None),
        };
        match app.store.take_back_measured(sent.key.clone(), job.clone(), of, by.0.clone(), allowed).await? {
            Ok(_) => return Ok(Redirect::to(&urls::fit(&job, &piece.0)).into_response()),
            Err(None) => {}
            Err(Some(why)) => return refused(&app, &room, &why),
        }
    }
    Err(PageError::Stale)
}

fn refused(app: &App, room: &Room, why: &NoWayBack) -> Result<Response, PageError> {
    let says = page(&page::refused(app, room, why))?;
    Ok((StatusCode::CONFLICT, says).into_response())
}

/// Something was done at the saw since the plan was looked at.
struct Outrun;

fn same(sawn: &crate::store::Sawn, seen: &crate::store::Sawn) -> Result<(), Outrun> {
    if sawn == seen { Ok(()) } else { Err(Outrun) }
}

fn to_told(job: &JobId, piece: &PieceId, event: &EventId) -> Response {
    Redirect::to(&urls::fitted(job, &piece.0, event)).into_response()
}

/// What is to be kept: the sizes, and how many tiles the job takes before and with them.
async fn found(
    app: &App,
    room: &Room,
    readings: Vec<Reading>,
    refits: &[Refit],
) -> Result<Result<Found, WorkFault>, PageError> {
    let yard = &room.yard;
    let sawn = yard.log.sawn.clone();
    let mut measured = sawn.true_sizes();
    for refit in refits {
        let size = refit.size.after(measured.get(&refit.piece.id));
        measured.insert(refit.piece.id.clone(), size);
    }
    let now = (&yard.first, &yard.saw.planned);
    let planned = match field::tried(app, now, sawn.clone(), measured.clone()).await? {
        Ok(planned) => planned,
        Err(why) => return Ok(Err(why)),
    };
    let mut after = Saw::new(planned, sawn.clone());
    // What is cut and cannot be trimmed to its new size takes what cutting it anew takes.
    let anew: Vec<PieceId> = refits.iter().map(|refit| refit.piece.id.clone()).collect();
    let anew: Vec<PieceId> = anew.into_iter().filter(|piece| after.is_to_be_cut_anew(piece)).collect();
    if !anew.is_empty() {
        let sawn = sawn.if_in_vain(&anew);
        match field::tried(app, now, sawn.clone(), measured).await? {
            Ok(planned) => after = Saw::new(planned, sawn),
            Err(why) => return Ok(Err(why)),
        }
    }
    let tile = refits.first().map(|refit| &refit.piece.tile);
    let counts = yard.saw.tally.iter().filter_map(|(id, tally)| {
        let count = TileCount { tile: id.clone(), before: tally.needed, after: after.tally.get(id)?.needed };
        (count.before != count.after || Some(id) == tile).then_some(count)
    });
    let mut tiles: Vec<TileCount> = counts.collect();
    if tiles.iter().any(|count| count.before != count.after) {
        tiles.retain(|count| count.before != count.after);
    }
    let sizes = refits.iter().map(|refit| (refit.piece.id.clone(), refit.size.clone())).collect();
    Ok(Ok(Found { readings, sizes, tiles }))
}
