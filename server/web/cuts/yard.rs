//! A job's plan and its log, read for one request, and who else is about.
//!
//! No two people are to cut the same piece, and looking at a page claims nothing, since a GET changes nothing. So, while
//! another device that may cut was in use within the time that a claim holds, what the saw offers by itself has "Take this
//! piece" for its first button: of two who press it one gets the piece, and the other hears what is next. From then on
//! each cut puts the next piece into the hand that cut, and its first button is "Cut". Whoever is alone is asked nothing.

use std::sync::Arc;

use super::changed::Changed;
use super::hands::Hands;
use super::saw::Saw;
use crate::app::App;
use crate::store::{CLAIM_HOLDS, CutLog, DeviceId, DeviceLine, JobHead, JobId, Role, Seen};
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
    /// What this device has in hand and was changed since it was taken.
    pub changed: Option<Changed>,
    /// Whether another device that may cut was looked at lately.
    others_about: bool,
}

impl Yard {
    /// The job, and its saw where there is a layout.
    pub async fn of(app: &App, job: &JobId) -> Result<(JobHead, Option<Self>), PageError> {
        let caller = app.caller.as_ref().ok_or(PageError::NotFound)?;
        let (device, person) =
            (caller.device.clone(), caller.person.as_ref().map(|person| person.id.clone()));
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
        let others_about = others_about(app, &device).await?;
        let hands = Hands::new(device, person, log.claims.clone());
        let changed = hands.own().map(|claim| Changed::since(&log, claim)).transpose()?.flatten();
        Ok((head, Some(Self { seen, saw, first, log, hands, changed, others_about })))
    }

    /// The job with its saw, where there is a layout.
    ///
    /// # Errors
    ///
    /// [`PageError::NotFound`] where there is none yet.
    pub async fn laid_out(app: &App, job: &JobId) -> Result<(JobHead, Self), PageError> {
        let (head, yard) = Self::of(app, job).await?;
        Ok((head, yard.ok_or(PageError::NotFound)?))
    }

    /// Whether another device may be offered the same piece now.
    pub fn others_about(&self) -> bool {
        self.others_about || self.hands.several()
    }

    /// Whether more than one device cuts or may be about to: only then is it said who has what in hand.
    pub fn several_cut(&self) -> bool {
        self.others_about() || self.log.sawn.records.iter().any(|record| !self.hands.is_own(&record.device))
    }
}

/// Whether another device that may cut was in use within the time that a claim holds.
async fn others_about(app: &App, own: &DeviceId) -> Result<bool, PageError> {
    let earliest = app.clock.now() - CLAIM_HOLDS;
    let cuts = |device: &DeviceLine| device.is_in && device.role != Role::Board && device.device != *own;
    Ok(app.store.devices().await?.iter().any(|device| cuts(device) && device.seen > earliest))
}
