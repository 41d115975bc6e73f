//! The wall card: one wall on one screen or sheet, as a helper asks for it twenty times a day.

mod page;

use axum::extract::Path;
use axum::response::Response;
use trade::measure::SurfaceId;

use self::page::CardPage;
use super::board::WallNow;
use super::error::PageError;
use super::fit;
use super::page::page;
use crate::app::App;
use crate::store::JobId;

/// The card of one wall.
pub async fn show(app: App, Path((job, wall)): Path<(JobId, String)>) -> Result<Response, PageError> {
    let wall = SurfaceId::new(&wall).ok_or(PageError::NotFound)?;
    let now = WallNow::of(&app, &job, &wall).await?;
    let stored = app.store.sheet(&job).await?;
    let bare = stored.sheet.walls.iter().find(|bare| bare.id == wall).ok_or(PageError::NotFound)?;
    let plan = fit::plan_now(&app, &stored).await?;
    let stages = app.store.stages(&job).await?;
    page(&CardPage::new(&app, &stored, bare, &plan, CardPage::set_with(&stages, &wall), now))
}
