//! Planning off the request threads: a few places, and a plan once begun is finished and kept, whoever has gone.
//! Lists of layouts take longer; they step aside for plans, and end when nobody waits for them.

mod lists;
mod places;
mod wish;

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use trade::measure::{Job, SheetFault};
use trade::search::{self, LayoutOption, WorkFault, plan};

use self::lists::{Asked, Lists, Patience};
use self::places::{Places, Turn};
use self::wish::Answers;
use crate::store::{EventId, JobId, MeasuredRecord, StoredSheet};

pub use self::lists::{Listed, Looked};
pub use self::wish::Wished;

/// Plans at once: one core stays free for pages on the smallest box.
const PLACES: usize = 1;

/// Computations at work or waiting. A crew is a handful of phones; who comes after so many would not get an answer in
/// the time a request has.
const AT_MOST: usize = 16;

/// Plans kept: a plan depends on nothing but its sheet, and a crew looks at a few jobs over and over.
const KEPT: usize = 8;

/// Plans kept of sheets that nobody has saved: whoever is told what one would cost answers within a few looks.
const TRIED: usize = 4;

/// Plans that lie ready, the latest first.
type Shelf = Arc<Mutex<VecDeque<(JobId, i64, Outcome)>>>;

/// Which plans a sheet's lies among.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Among {
    /// Of the sheets in force.
    Kept,
    /// Of sheets that are only tried: they push none of the others out.
    Tried,
}

/// The planner's desk.
#[derive(Clone)]
pub struct Work {
    places: Places,
    kept: Shelf,
    tried: Shelf,
    lists: Lists,
    wished: Answers,
}

/// A job with the layout in force.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Planned {
    pub job: Job,
    pub option: LayoutOption,
    /// What was measured again on the wall, as far as this was made with it.
    pub made_with: Vec<EventId>,
}

impl Planned {
    /// As it comes from the sheet alone.
    pub fn new(job: Job, option: LayoutOption) -> Self {
        Self { job, option, made_with: Vec::new() }
    }

    /// Whether this and nothing else was measured when it was made.
    pub fn is_made_with(&self, measured: &[MeasuredRecord]) -> bool {
        self.made_with.iter().eq(measured.iter().map(|record| &record.event))
    }
}

/// Why there is no plan yet.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum NoPlan {
    #[error("the sheet is not complete")]
    Sheet(Vec<SheetFault>),
    #[error(transparent)]
    Layout(WorkFault),
    #[error("the planner stopped before it answered")]
    Stopped,
    /// Ask again in a moment.
    #[error("too many wait for the planner")]
    Busy,
}

type Outcome = Result<Arc<Planned>, NoPlan>;

impl Work {
    /// An empty desk.
    pub fn new() -> Self {
        Self {
            places: Places::new(PLACES, AT_MOST),
            kept: Arc::default(),
            tried: Arc::default(),
            lists: Lists::new(Patience::default()),
            wished: Answers::default(),
        }
    }

    /// The plan of a sheet, from the desk where it lies there already.
    ///
    /// # Errors
    ///
    /// Why the sheet cannot be planned.
    pub async fn plan(&self, stored: &StoredSheet) -> Outcome {
        self.plan_among(Among::Kept, stored).await
    }

    /// The plan of a sheet that nobody has saved, under an id of its own.
    ///
    /// # Errors
    ///
    /// Why the sheet cannot be planned.
    pub async fn plan_tried(&self, tried: &StoredSheet) -> Outcome {
        self.plan_among(Among::Tried, tried).await
    }

    async fn plan_among(&self, among: Among, stored: &StoredSheet) -> Outcome {
        if let Some(outcome) = self.lying_there(among, stored) {
            return outcome;
        }
        // In a task of its own: a request that runs out of time neither frees the place while the plan still runs
        // nor throws away what it comes to.
        let (work, stored, turn) = (self.clone(), stored.clone(), self.places.queue()?);
        tokio::spawn(async move { work.plan_in_turn(among, &stored, turn).await })
            .await
            .unwrap_or(Err(NoPlan::Stopped))
    }

    /// The layouts worth choosing between on a sheet, by what its lead puts first. What was chosen by hand has no
    /// part in it.
    pub async fn options(&self, stored: &StoredSheet) -> Looked {
        match Asked::of(stored) {
            Ok(asked) => self.lists.list(asked, &self.places, search::options).await,
            Err(why) => Looked::Done(Err(why)),
        }
    }

    /// The best layout that has everything a lead asks for, or why there is none.
    ///
    /// # Errors
    ///
    /// Why the sheet cannot be planned.
    pub async fn wish(
        &self,
        stored: &StoredSheet,
        wishes: Vec<search::Asked>,
    ) -> Result<Arc<Wished>, NoPlan> {
        let asked = Asked::of(stored)?;
        match self.wished.lying_there(&asked, &wishes) {
            Some(wished) if !wished.cut_short => Ok(wished),
            _ => self.wished.look(asked, wishes, self.places.queue()?).await,
        }
    }

    /// What was answered to the same wishes before, the search cut short or not: what a person saw and chooses.
    ///
    /// # Errors
    ///
    /// Why the sheet cannot be planned.
    pub async fn wish_as_answered(
        &self,
        stored: &StoredSheet,
        wishes: Vec<search::Asked>,
    ) -> Result<Arc<Wished>, NoPlan> {
        match self.wished.lying_there(&Asked::of(stored)?, &wishes) {
            Some(wished) => Ok(wished),
            None => self.wish(stored, wishes).await,
        }
    }

    /// Something short, off the request threads and in one of the places. Once begun it is finished, whoever has gone.
    ///
    /// # Errors
    ///
    /// Where too many wait, or it stopped.
    pub async fn in_turn<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, NoPlan> {
        let mut turn = self.places.queue()?;
        turn.come().await?;
        let worked_out = tokio::task::spawn_blocking(move || {
            let _turn = turn;
            work()
        });
        worked_out.await.map_err(|_| NoPlan::Stopped)
    }

    /// The same where they were looked for before; nothing is begun.
    pub fn options_at_hand(&self, stored: &StoredSheet) -> Option<Arc<Listed>> {
        self.lists.lying_there(&Asked::of(stored).ok()?)?.ok()
    }

    async fn plan_in_turn(&self, among: Among, stored: &StoredSheet, mut turn: Turn) -> Outcome {
        turn.come().await?;
        // Whoever waited before may have asked for the same plan.
        if let Some(outcome) = self.lying_there(among, stored) {
            return outcome;
        }
        let sheet = stored.sheet.clone();
        let outcome = tokio::task::spawn_blocking(move || {
            let job = sheet.job().map_err(NoPlan::Sheet)?;
            let option = plan(&job).map_err(NoPlan::Layout)?;
            Ok(Arc::new(Planned::new(job, option)))
        })
        .await
        .unwrap_or(Err(NoPlan::Stopped));
        // A planner that broke off says nothing about the sheet: whoever comes next plans anew.
        if outcome != Err(NoPlan::Stopped) {
            self.keep(among, stored, outcome.clone());
        }
        outcome
    }

    fn lying_there(&self, among: Among, stored: &StoredSheet) -> Option<Outcome> {
        let (shelf, _) = self.shelf(among);
        let kept = shelf.lock().unwrap_or_else(PoisonError::into_inner);
        let found = kept.iter().find(|(of, at, _)| *of == stored.id && *at == stored.version);
        found.map(|(_, _, outcome)| outcome.clone())
    }

    fn keep(&self, among: Among, stored: &StoredSheet, outcome: Outcome) {
        let (shelf, most) = self.shelf(among);
        let mut kept = shelf.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(job, _, _)| *job != stored.id);
        kept.push_front((stored.id.clone(), stored.version, outcome));
        kept.truncate(most);
    }

    /// Where plans lie, and how many.
    fn shelf(&self, among: Among) -> (&Shelf, usize) {
        match among {
            Among::Kept => (&self.kept, KEPT),
            Among::Tried => (&self.tried, TRIED),
        }
    }
}

impl Default for Work {
    fn default() -> Self {
        Self::new()
    }
}
