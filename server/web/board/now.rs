//! Where the work on one wall stands, for the wall's own card.

use trade::cure::{StageKind, Verdict};
use trade::measure::SurfaceId;

use super::page::{Cell, as_of};
use super::sight::Sight;
use crate::app::App;
use crate::store::{JobId, Seen, crew_name};
use crate::web::error::PageError;

/// One wall as the board has it.
pub struct WallNow {
    /// Where the store stood before anything of this was read.
    pub seen: Seen,
    pub as_of: String,
    /// That the clock cannot be right, in words.
    pub clock_behind: Option<String>,
    /// What was last done or is being done; nothing before the first stage.
    pub now: Option<Cell>,
    /// What comes after it; nothing when all is done.
    pub next: Option<Cell>,
    pub mortar: Mortar,
    /// What the tile lies on, in words.
    pub bed: String,
}

/// What the wall is set with.
pub struct Mortar {
    /// What the crew calls it, else its kind.
    pub name: String,
    /// The crew has told which it is.
    pub told: bool,
}

impl WallNow {
    /// As it stands.
    ///
    /// # Errors
    ///
    /// When the job has no such wall, or the store fails.
    pub async fn of(app: &App, job: &JobId, wall: &SurfaceId) -> Result<Self, PageError> {
        let sight = Sight::of(app, job).await?;
        let here = sight.wall(wall)?;
        let words = sight.words(app);
        let standing = |stage: StageKind| {
            let standing = sight.standing(here, stage);
            let begun = !standing.open.is_empty() || matches!(standing.verdict, Verdict::Done { .. });
            (stage, begun, standing.verdict == Verdict::NotOnThisJob)
        };
        let stages: Vec<_> = sight.kinds().map(standing).filter(|(.., elsewhere)| !elsewhere).collect();
        let last_begun = stages.iter().rposition(|(_, begun, _)| *begun);
        let next = stages.iter().find(|(_, begun, _)| !begun);
        let cell = |stage: StageKind| Cell::of(&words, &sight, here, stage);
        let product = sight.stages.products.get(&StageKind::Set);
        Ok(Self {
            now: last_begun.map(|at| cell(stages[at].0)),
            next: next.map(|(stage, ..)| cell(*stage)),
            as_of: as_of(&words),
            clock_behind: sight.clock_is_behind().then(|| words.clock_behind()),
            mortar: Mortar {
                name: words.product(product),
                told: product.is_some_and(|product| crew_name(product).is_some()),
            },
            bed: words.bed(sight.stages.bed),
            seen: sight.seen,
        })
    }
}
