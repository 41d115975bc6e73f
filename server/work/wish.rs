//! Whether a layout can be had that has everything a lead asks for: looked for while the request waits, and no longer
//! than a person does.

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tokio::runtime::Handle;
use tokio::sync::Semaphore;
use trade::measure::Job;
use trade::search::{Answer, Asked as Wish, LayoutOption, WhyNot, why_not};

use super::NoPlan;
use super::lists::{Asked, step_aside};

/// After this, what was found by then is the answer; requests are answered within 15 s.
const LOOKED_FOR: Duration = Duration::from_secs(9);

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

/// Looks for the best layout that has all wishes.
///
/// # Errors
///
/// When the server ends first.
pub(super) async fn look(asked: Asked, wishes: Vec<Wish>, places: Arc<Semaphore>) -> Result<Wished, NoPlan> {
    let waiting = Arc::new(Waiting);
    let somebody = Arc::downgrade(&waiting);
    let place = Arc::clone(&places).acquire_owned().await.map_err(|_| NoPlan::Stopped)?;
    let enough = Arc::new(AtomicBool::new(false));
    let (handle, time_is_up) = (Handle::current(), Arc::clone(&enough));
    let bell = tokio::spawn(async move {
        tokio::time::sleep(LOOKED_FOR).await;
        enough.store(true, Ordering::Relaxed);
    });
    let looked = tokio::task::spawn_blocking(move || {
        let mut place = Some(place);
        let mut stopped = false;
        let (job, priorities) = asked.into_parts();
        let Answer { found, cut_short } = why_not(&job, &wishes, &priorities, &mut || {
            step_aside(&mut place, &places, &handle);
            let nobody = somebody.strong_count() == 0 || place.is_none();
            stopped |= nobody || time_is_up.load(Ordering::Relaxed);
            if stopped { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        Wished { job, found, cut_short }
    });
    let looked = looked.await.map_err(|_| NoPlan::Stopped);
    bell.abort();
    drop(waiting);
    looked
}
