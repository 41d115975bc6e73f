//! Whether a layout can be had that has everything a lead asks for: looked for while the request waits, and no longer
//! than a person does. The last few answers are kept, for whoever then chooses what was found.

use std::collections::VecDeque;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use tokio::runtime::Handle;
use trade::measure::Job;
use trade::search::{Answer, Asked as Wish, LayoutOption, WhyNot, why_not};

use super::NoPlan;
use super::lists::Asked;
use super::places::Turn;

/// After this, what was found by then is the answer; requests are answered within 15 s.
const LOOKED_FOR: Duration = Duration::from_secs(9);

/// Answers kept.
const KEPT: usize = 4;

/// The last answers.
#[derive(Clone, Default)]
pub(super) struct Answers(Arc<Mutex<VecDeque<Kept>>>);

/// What was asked of which sheet, and what came of it.
type Kept = (Asked, Vec<Wish>, Arc<Wished>);

/// What comes of a wish.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wished {
    pub job: Job,
    pub found: Result<LayoutOption, Box<WhyNot>>,
    /// Time or the counted bounds ran out: another layout may have it, or have it better.
    pub cut_short: bool,
}

/// Held by the request.
struct Waiting;

impl Answers {
    /// What was found before, where it is kept.
    pub fn lying_there(&self, asked: &Asked, wishes: &[Wish]) -> Option<Arc<Wished>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(of, all, _)| of == asked && all == wishes).map(|(_, _, wished)| Arc::clone(wished))
    }

    /// Looks for the best layout that has all wishes, and keeps what comes of it.
    ///
    /// # Errors
    ///
    /// When the server ends first.
    pub async fn look(&self, asked: Asked, wishes: Vec<Wish>, turn: Turn) -> Result<Arc<Wished>, NoPlan> {
        let wished = Arc::new(look(asked.clone(), wishes.clone(), turn).await?);
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(of, all, _)| *of != asked || *all != wishes);
        kept.push_front((asked, wishes, Arc::clone(&wished)));
        kept.truncate(KEPT);
        Ok(wished)
    }
}

async fn look(asked: Asked, wishes: Vec<Wish>, mut turn: Turn) -> Result<Wished, NoPlan> {
    let waiting = Arc::new(Waiting);
    let somebody = Arc::downgrade(&waiting);
    turn.come().await?;
    let enough = Arc::new(AtomicBool::new(false));
    let (handle, time_is_up) = (Handle::current(), Arc::clone(&enough));
    let bell = tokio::spawn(async move {
        tokio::time::sleep(LOOKED_FOR).await;
        enough.store(true, Ordering::Relaxed);
    });
    let looked = tokio::task::spawn_blocking(move || {
        let mut stopped = false;
        let (job, priorities) = asked.into_parts();
        let Answer { found, cut_short } = why_not(&job, &wishes, &priorities, &mut || {
            let goes_on = turn.step_aside(&handle) && somebody.strong_count() > 0;
            stopped |= !goes_on || time_is_up.load(Ordering::Relaxed);
            if stopped { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        Wished { job, found, cut_short }
    });
    let looked = looked.await.map_err(|_| NoPlan::Stopped);
    bell.abort();
    drop(waiting);
    looked
}
