//! The planner's places, and the few that may wait for one: a box that is behind says so at once, and does not take on
//! more than anyone would wait for.

use std::sync::Arc;

use tokio::runtime::Handle;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use super::NoPlan;

/// Where computations stand until it is their turn.
#[derive(Clone)]
pub struct Places {
    free: Arc<Semaphore>,
    tickets: Arc<Semaphore>,
}

/// One that may wait, and works when a place is free.
pub struct Turn {
    free: Arc<Semaphore>,
    place: Option<OwnedSemaphorePermit>,
    _ticket: OwnedSemaphorePermit,
}

impl Places {
    /// So many at work at once, and so many at work or waiting.
    pub fn new(at_once: usize, at_most: usize) -> Self {
        Self { free: Arc::new(Semaphore::new(at_once)), tickets: Arc::new(Semaphore::new(at_most)) }
    }

    /// A place in the queue.
    ///
    /// # Errors
    ///
    /// [`NoPlan::Busy`] where as many wait as may.
    pub fn queue(&self) -> Result<Turn, NoPlan> {
        let ticket = Arc::clone(&self.tickets).try_acquire_owned().map_err(|_| NoPlan::Busy)?;
        Ok(Turn { free: Arc::clone(&self.free), place: None, _ticket: ticket })
    }
}

impl Turn {
    /// Waits until a place is free.
    ///
    /// # Errors
    ///
    /// When the server ends first.
    pub async fn come(&mut self) -> Result<(), NoPlan> {
        let place = Arc::clone(&self.free).acquire_owned().await.map_err(|_| NoPlan::Stopped)?;
        self.place = Some(place);
        Ok(())
    }

    /// Lets whoever waits for a place go first; nothing happens where nobody does. False when the server ends.
    pub fn step_aside(&mut self, handle: &Handle) -> bool {
        self.place = None;
        handle.block_on(self.come()).is_ok()
    }
}
