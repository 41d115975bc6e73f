//! Lists of layouts, looked for in the background for as long as somebody waits: a search that nobody asks after any
//! more stops by itself, and so does every search when the server ends.

use std::collections::VecDeque;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::time::Duration;

use tokio::runtime::Handle;
use tokio::sync::watch;
use trade::measure::{Job, Layout};
use trade::search::{Options, Priorities, WorkFault};

use super::NoPlan;
use super::places::{Places, Turn};
use crate::store::{JobId, StoredSheet};

/// Lists kept: each holds up to a dozen layouts whole.
const KEPT: usize = 4;

/// The lists of layouts, done and under way.
#[derive(Clone)]
pub struct Lists {
    shelf: Arc<Mutex<Shelf>>,
    patience: Patience,
}

/// How long anyone waits.
#[derive(Clone, Copy)]
pub struct Patience {
    /// A request, before it is told that the search goes on.
    pub at_the_door: Duration,
    /// The search, for the person to look again.
    pub to_look_again: Duration,
}

impl Default for Patience {
    fn default() -> Self {
        Self { at_the_door: Duration::from_millis(1500), to_look_again: Duration::from_secs(15) }
    }
}

/// The layouts worth choosing between, and the job they are of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Listed {
    /// Without what was chosen: a layout that was chosen is one of the list, not what the list hangs on.
    pub job: Job,
    pub options: Options,
}

/// What comes of asking for a list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Looked {
    Done(Result<Arc<Listed>, NoPlan>),
    /// Ask again in a moment.
    StillLooking,
}

/// All that a list depends on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asked {
    of: JobId,
    job: Job,
    priorities: Priorities,
}

/// How layouts are looked for.
pub type Search = fn(&Job, &Priorities, &mut dyn FnMut() -> ControlFlow<()>) -> Result<Options, WorkFault>;

type Answer = Result<Arc<Listed>, NoPlan>;

#[derive(Default)]
struct Shelf {
    done: VecDeque<(Asked, Answer)>,
    under_way: Vec<UnderWay>,
}

/// A search under way.
#[derive(Clone)]
struct UnderWay {
    asked: Asked,
    /// Alive while anyone waits.
    waiting: Weak<Waiting>,
    /// The job has changed since.
    overtaken: Arc<AtomicBool>,
    answer: watch::Receiver<Option<Answer>>,
}

/// Held by everyone who waits.
struct Waiting;

impl Asked {
    /// What a sheet asks for, whatever was chosen on it by hand.
    ///
    /// # Errors
    ///
    /// Why the sheet cannot be planned.
    pub fn of(stored: &StoredSheet) -> Result<Self, NoPlan> {
        let sheet = trade::measure::Sheet { layout: Layout::default(), ..stored.sheet.clone() };
        let job = sheet.job().map_err(NoPlan::Sheet)?;
        Ok(Self { of: stored.id.clone(), job, priorities: sheet.priorities })
    }

    /// The job, and what counts first.
    pub fn into_parts(self) -> (Job, Priorities) {
        (self.job, self.priorities)
    }
}

impl Lists {
    /// No list yet.
    pub fn new(patience: Patience) -> Self {
        Self { shelf: Arc::default(), patience }
    }

    /// The list, where it is there already.
    pub fn lying_there(&self, asked: &Asked) -> Option<Answer> {
        let shelf = self.shelf.lock().unwrap_or_else(PoisonError::into_inner);
        shelf.done.iter().find(|(of, _)| of == asked).map(|(_, answer)| answer.clone())
    }

    /// The list, looked for by `search` in one of the `places` where it is not there yet.
    pub async fn list(&self, asked: Asked, places: &Places, search: Search) -> Looked {
        if let Some(answer) = self.lying_there(&asked) {
            return Looked::Done(answer);
        }
        let (waiting, mut answer) = match self.join_or_begin(asked, places, search) {
            Ok(joined) => joined,
            Err(why) => return Looked::Done(Err(why)),
        };
        let answered = tokio::time::timeout(self.patience.at_the_door, answer.wait_for(Option::is_some));
        if let Ok(Ok(answer)) = answered.await
            && let Some(answer) = answer.as_ref()
        {
            return Looked::Done(answer.clone());
        }
        // Who was told to ask again is waited for.
        let look_again = self.patience.to_look_again;
        tokio::spawn(async move {
            tokio::time::sleep(look_again).await;
            drop(waiting);
        });
        Looked::StillLooking
    }

    fn join_or_begin(
        &self,
        asked: Asked,
        places: &Places,
        search: Search,
    ) -> Result<(Arc<Waiting>, watch::Receiver<Option<Answer>>), NoPlan> {
        let mut shelf = self.shelf.lock().unwrap_or_else(PoisonError::into_inner);
        shelf
            .under_way
            .retain(|other| other.waiting.strong_count() > 0 && other.answer.has_changed().is_ok());
        let same = shelf.under_way.iter().find(|other| other.asked == asked);
        if let Some((waiting, same)) = same.and_then(|same| Some((same.waiting.upgrade()?, same))) {
            return Ok((waiting, same.answer.clone()));
        }
        let turn = places.queue()?;
        for other in shelf.under_way.iter().filter(|other| other.asked.of == asked.of) {
            other.overtaken.store(true, Ordering::Relaxed);
        }
        let waiting = Arc::new(Waiting);
        let (tell, answer) = watch::channel(None);
        let under_way =
            UnderWay { asked, waiting: Arc::downgrade(&waiting), overtaken: Arc::default(), answer };
        shelf.under_way.push(under_way.clone());
        drop(shelf);
        let (lists, answer) = (self.clone(), under_way.answer.clone());
        tokio::spawn(async move {
            if let Some(answer) = under_way.search(turn, search).await {
                // A search that broke off says nothing about the layouts: whoever comes next looks anew.
                if answer != Err(NoPlan::Stopped) {
                    lists.keep(under_way.asked, answer.clone());
                }
                tell.send_replace(Some(answer));
            }
        });
        Ok((waiting, answer))
    }

    fn keep(&self, asked: Asked, answer: Answer) {
        let mut shelf = self.shelf.lock().unwrap_or_else(PoisonError::into_inner);
        shelf.done.retain(|(other, _)| other.of != asked.of);
        shelf.done.push_front((asked, answer));
        shelf.done.truncate(KEPT);
    }
}

impl UnderWay {
    /// `None` where it was stopped: what was found by then is no list to choose from.
    async fn search(&self, mut turn: Turn, search: Search) -> Option<Answer> {
        turn.come().await.ok()?;
        let (under_way, handle) = (self.clone(), Handle::current());
        let searched = tokio::task::spawn_blocking(move || {
            let mut stopped = false;
            let asked = &under_way.asked;
            let found = search(&asked.job, &asked.priorities, &mut || {
                stopped |= !turn.step_aside(&handle) || under_way.is_pointless();
                if stopped { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
            });
            let listed = found.map(|options| Arc::new(Listed { job: asked.job.clone(), options }));
            (!stopped).then(|| listed.map_err(NoPlan::Layout))
        });
        searched.await.unwrap_or(Some(Err(NoPlan::Stopped)))
    }

    fn is_pointless(&self) -> bool {
        self.waiting.strong_count() == 0 || self.overtaken.load(Ordering::Relaxed)
    }
}

#[cfg(test)]
#[path = "lists_tests.rs"]
mod tests;
