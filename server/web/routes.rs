//! The table of addresses.

use axum::Router;
use axum::routing::{get, post};

use super::error::PageError;
use super::{assets, guard, jobs, layout};
use crate::app::App;

/// Every address, guarded.
pub fn router(app: App) -> Router {
    let routes = Router::new()
        .route("/", get(jobs::list))
        .route("/jobs", post(jobs::make))
        .route("/jobs/new", get(jobs::new))
        .route("/jobs/{job}/layout", get(layout::show).post(layout::change))
        .route("/jobs/{job}/layout/{wall}", get(layout::close))
        .route("/static/{name}", get(assets::file))
        .fallback(|| async { PageError::NotFound });
    guard::guarded(routes, &app).with_state(app)
}
