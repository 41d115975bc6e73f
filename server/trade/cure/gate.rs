//! The gate: a stage is started with a pass, or refused with the time and the reason.
//!
//! Only asking to start is refused. Work already done is always taken into the log, and
//! [`super::not_before`] marks it where it was early.

use std::collections::BTreeSet;

use super::ready::{Waiting, waiting};
use super::{Courses, Instant, Now, Reason, Running, StageKind, Work};

/// Leave to start a stage, which only [`ask`] gives.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pass {
    stage: StageKind,
    courses: Option<Courses>,
    since: Option<Instant>,
}

/// Why a stage may not be started, as data: the page has the words and the time zone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Refusal {
    /// The lead marked it as not on this job.
    NotOnThisJob { stage: StageKind },
    /// What it waits for is not finished, so no time can be told; what runs meanwhile has still to run.
    Missing { stage: StageKind, stages: BTreeSet<StageKind>, running: Option<Box<Running>> },
    /// A window has still to run.
    NotBefore {
        stage: StageKind,
        /// When it may be started, by the present wall clock.
        at: Instant,
        /// Boxed because it is far larger than the rest.
        because: Box<Reason>,
    },
    /// A window stands still, so no time can be told.
    TooCold {
        stage: StageKind,
        /// The window.
        because: Box<Reason>,
    },
}

/// May `stage` be started on these courses, or on the whole wall where none are named? A stage that was done
/// before is asked for again on the same terms.
///
/// # Errors
/// The refusal, with its reason.
pub fn ask(work: &Work<'_>, courses: Option<Courses>, stage: StageKind, now: &Now) -> Result<Pass, Refusal> {
    if !work.graph.has(stage) {
        return Err(Refusal::NotOnThisJob { stage });
    }
    match waiting(work, courses, stage, now) {
        Waiting::Ready { since } => Ok(Pass { stage, courses, since }),
        Waiting::NotBefore { at, because } => {
            Err(Refusal::NotBefore { stage, at, because: Box::new(because) })
        }
        Waiting::TooCold { because } => Err(Refusal::TooCold { stage, because: Box::new(because) }),
        Waiting::Missing { stages, running } => Err(Refusal::Missing { stage, stages, running }),
    }
}

impl Pass {
    /// What may be started.
    pub fn stage(&self) -> StageKind {
        self.stage
    }

    /// On which courses; `None` is the whole wall.
    pub fn courses(&self) -> Option<Courses> {
        self.courses
    }

    /// Since when it could have been; `None` where it waits for nothing.
    pub fn since(&self) -> Option<Instant> {
        self.since
    }
}
