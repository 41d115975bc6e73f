//! How many courses a wall has, so that parts of it can be told apart.

use trade::measure::SurfaceId;

use crate::app::App;
use crate::store::JobId;

/// A wall that is set, grouted and sealed as one part.
pub const WHOLE_WALL: u32 = 1;

/// The courses on a wall. Until the layout says how many, the whole wall is one part, and only whole walls can be
/// reported.
pub async fn courses_on(_app: &App, _job: &JobId, _wall: &SurfaceId) -> u32 {
    WHOLE_WALL
}
