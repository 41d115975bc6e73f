//! How many tiles are left, counted by hand: whether what is still to do can be made of them, and what waits if not.

mod kept;
mod need;
mod page;

use std::sync::Arc;

use axum::extract::Path;
use axum::response::{IntoResponse, Redirect, Response};
use trade::measure::TileId;

use self::kept::Standing;
pub use self::kept::StockAnswers;
use self::need::Site;
use self::page::{Shown, StockPage};
use super::cuts::Yard;
use super::error::PageError;
use super::fit;
use super::form::{Faults, Sent};
use super::page::{faulty, page};
use super::session::Hand;
use super::urls;
use crate::app::App;
use crate::store::{Counted, JobHead, JobId, NewCount, StoreError};

/// How often a count is worked out against a log in which somebody cut meanwhile.
const TRIES: usize = 4;

/// More than any van carries: what is above is a slip of the finger.
const MOST_LEFT: usize = 10_000;

/// The field in which a count is typed.
pub const LEFT: &str = "left";

/// What "Take this count" sends.
#[derive(serde::Deserialize, Clone)]
pub struct Typed {
    tile: String,
    #[serde(default)]
    left: String,
}

/// The counts that hold, and what they come to.
pub async fn show(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let standing = Standing::of(&app, &job).await?;
    let (head, yard) = find(&app, &job).await?;
    let answers = match app.stocks.lying_there(&standing) {
        Some(answers) => answers,
        None => {
            let site = Site::of(&app, &job, &yard, Arc::clone(&yard.saw.planned)).await?;
            app.stocks.keep(standing, worked_out(&app, site).await?)
        }
    };
    page(&StockPage::new(&app, &head, &yard, &answers, Shown::default()))
}

/// Keeps a count, and plans again what is not cut where that takes fewer tiles.
pub async fn count(
    app: App,
    by: Hand,
    Path(job): Path<JobId>,
    sent: Sent<Typed>,
) -> Result<Response, PageError> {
    let to = || Ok(Redirect::to(&urls::stock(&job)).into_response());
    if app.store.was_answered(&sent.key).await? {
        return to();
    }
    for _ in 0..TRIES {
        // Asked for first: what is logged in between makes this try an old one.
        let seen = app.store.last_entry(&job).await?;
        let (head, yard) = find(&app, &job).await?;
        let tile = TileId(sent.typed.tile.clone());
        let before = yard.saw.tally.get(&tile).ok_or(PageError::BadForm)?.needed;
        let left = match sent.typed.left.trim().parse::<usize>() {
            Ok(left) if left <= MOST_LEFT => left,
            _ => {
                let mut faults = Faults::default();
                faults.add(&page::field_of(&yard.saw, &tile), app.texts.say("stock-fault"));
                let site = Site::of(&app, &job, &yard, Arc::clone(&yard.saw.planned)).await?;
                let shown = Shown { tile: Some(tile), typed: sent.typed.left, faults };
                return faulty(&StockPage::new(&app, &head, &yard, &worked_out(&app, site).await?, shown));
            }
        };
        let planned = fit::fewest(&app, &yard).await?;
        let site = Site::of(&app, &job, &yard, planned).await?;
        let after = site.needed_in_all(&tile);
        let answers = worked_out(&app, site).await?;
        let need = answers.iter().find(|answer| answer.tile == tile).ok_or(PageError::BadForm)?;
        let (needed, bound) = (need.needed(), need.bound());
        let counted = Counted { tile, left, needed, bound, saved: before.saturating_sub(after) };
        let new = NewCount { key: sent.key.clone(), job: job.clone(), counted, seen };
        match app.store.append_counted(new, by.0.clone()).await {
            Ok(_) => return to(),
            Err(StoreError::Stale) => {}
            Err(error) => return Err(error.into()),
        }
    }
    Err(PageError::Stale)
}

/// The job with its saw, where there is a layout.
async fn find(app: &App, job: &JobId) -> Result<(JobHead, Yard), PageError> {
    let (head, yard) = Yard::of(app, job).await?;
    Ok((head, yard.ok_or(PageError::NotFound)?))
}

/// What every kind of tile comes to: not for the request threads.
async fn worked_out(app: &App, site: Site) -> Result<Vec<need::Answer>, PageError> {
    Ok(app.work.in_turn(move || site.answers()).await?)
}
