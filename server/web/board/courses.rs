//! How many courses each wall has, so that parts of it can be told apart.

use std::collections::BTreeMap;
use std::time::Duration;

use trade::measure::SurfaceId;

use crate::app::App;
use crate::store::JobId;
use crate::web::error::PageError;

/// Where no layout says how many courses a wall has, no count of them covers it: only what is reported of the whole
/// wall does, so that losing the layout can never open a gate.
pub const UNKNOWN: u32 = u32::MAX;

/// How long the board waits for a layout. What is reported must never wait for the planner.
const PLAN_WITHIN: Duration = Duration::from_secs(2);

/// The number of the highest course of each wall in the layout in force; empty while there is none.
pub async fn courses_of(app: &App, job: &JobId) -> Result<BTreeMap<SurfaceId, u32>, PageError> {
    let stored = app.store.sheet(job).await?;
    let Ok(Ok(planned)) = tokio::time::timeout(PLAN_WITHIN, app.work.plan(&stored)).await else {
        return Ok(BTreeMap::new());
    };
    let walls = planned.option.courses.walls.iter();
    let highest = |(id, wall): (&SurfaceId, &trade::course::WallCourses)| {
        Some((id.clone(), wall.courses.iter().map(|course| course.number).max()?))
    };
    Ok(walls.filter_map(highest).collect())
}
