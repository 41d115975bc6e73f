//! What was worked out of a job's tiles, for whoever looks again: it depends on the sheet and the log alone.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use super::need::Answer;
use crate::app::App;
use crate::store::{JobId, StoreError};

/// Answers kept, as many as the planner's desk keeps plans.
const KEPT: usize = 8;

/// The last answer of a few jobs.
#[derive(Clone, Default)]
pub struct StockAnswers {
    kept: Arc<Mutex<VecDeque<Kept>>>,
}

/// One of them.
type Kept = (Standing, Arc<Vec<Answer>>);

/// Where a job stands: nothing else goes into an answer.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Standing {
    job: JobId,
    /// Of its sheet.
    version: i64,
    /// The last entry of its log.
    through: i64,
}

impl Standing {
    /// As it is now. Asked for before anything else is read: what comes in between is another standing the next time.
    ///
    /// # Errors
    ///
    /// When the store cannot be read.
    pub async fn of(app: &App, job: &JobId) -> Result<Self, StoreError> {
        let version = app.store.sheet(job).await?.version;
        let through = app.store.last_entry(job).await?;
        Ok(Self { job: job.clone(), version, through })
    }
}

impl StockAnswers {
    /// What was worked out for it before.
    pub fn lying_there(&self, standing: &Standing) -> Option<Arc<Vec<Answer>>> {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(of, _)| of == standing).map(|(_, answers)| Arc::clone(answers))
    }

    /// Keeps what was worked out, in place of what is overtaken.
    pub fn keep(&self, standing: Standing, answers: Vec<Answer>) -> Arc<Vec<Answer>> {
        let answers = Arc::new(answers);
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(of, _)| of.job != standing.job);
        kept.push_front((standing, Arc::clone(&answers)));
        kept.truncate(KEPT);
        answers
    }
}
