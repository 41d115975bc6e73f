//! A job's plan and its log, read for one request.

use std::sync::Arc;

use super::hands::Hands;
use super::saw::Saw;
use crate::app::App;
use crate::store::{CutLog, JobHead, JobId, Seen};
use crate::web::error::PageError;
use crate::web::fit;
use crate::work::{NoPlan, Planned};

/// What the pages of the saw are drawn from.
pub struct Yard {
    /// Where the store stood before anything of this was read.
    pub seen: Seen,
    pub saw: Saw,
    /// The plan before anything was measured again.
    pub first: Arc<Planned>,
    pub log: CutLog,
    pub hands: Hands,
}

impl Yard {
    /// The job, and its saw where there is a layout.
    pub async fn of(app: &App, job: &JobId) -> Result<(JobHead, Option<Self>), PageError> {
        let device = app.caller.as_ref().ok_or(PageError::NotFound)?.device.clone();
        let seen = app.store.seen();
        let head = app.store.job_head(job).await?;
        let stored = app.store.sheet(job).await?;
        let log = app.store.cut_log(job).await?;
        let first = match app.work.plan(&stored).await {
            Ok(first) => first,
            Err(NoPlan::Sheet(_) | NoPlan::Layout(_)) => return Ok((head, None)),
            // The layout is there, and so is what was pressed: it may come again in a moment.
            Err(NoPlan::Busy | NoPlan::Stopped) => return Err(PageError::Busy),
        };
        let planned = fit::planned(app, &stored, &first, &log).await?;
        let saw = Saw::new(planned, log.sawn.clone());
        let hands = Hands::new(device, log.claims.clone());
        Ok((head, Some(Self { seen, saw, first, log, hands })))
    }

    /// Whether more than one device cuts: only then is it said who has what in hand.
    pub fn several_cut(&self) -> bool {
        self.hands.several() || self.log.sawn.records.iter().any(|record| !self.hands.is_own(&record.device))
    }
}
