//! How many courses each wall has, so that parts of it can be told apart.

use std::collections::BTreeMap;

use trade::measure::SurfaceId;

use crate::app::App;
use crate::store::JobId;
use crate::web::error::PageError;

/// A wall without a layout is set, grouted and sealed as one part.
pub const WHOLE_WALL: u32 = 1;

/// The number of the highest course of each wall in the layout in force; empty while there is no layout.
pub async fn courses_of(app: &App, job: &JobId) -> Result<BTreeMap<SurfaceId, u32>, PageError> {
    let stored = app.store.sheet(job).await?;
    let Ok(planned) = app.work.plan(&stored).await else { return Ok(BTreeMap::new()) };
    let walls = planned.option.courses.walls.iter();
    let highest = |(id, wall): (&SurfaceId, &trade::course::WallCourses)| {
        Some((id.clone(), wall.courses.iter().map(|course| course.number).max()?))
    };
    Ok(walls.filter_map(highest).collect())
}
