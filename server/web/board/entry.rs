//! One entry of a stage, and correcting it by a further one: both stay readable.

use std::convert::Infallible;

use askama::Template;
use axum::extract::Path;
use axum::response::{IntoResponse, Redirect, Response};
use trade::cure::{Entry, StageKind, WallClock, What, counts_from};
use trade::measure::SurfaceId;

use super::form::{Mend, TypedMend};
use super::line::{EntryLine, Lines};
use super::page::frame;
use super::sight::Sight;
use crate::app::App;
use crate::store::{EventId, JobId, NewEntry, Told};
use crate::web::error::PageError;
use crate::web::form::{Choice, Faults, Field, Sent};
use crate::web::page::{Frame, faulty, page};
use crate::web::session::Hand;
use crate::web::urls;

/// An entry, as an address names it.
pub type EntryPath = Path<(JobId, String, String, EventId)>;

/// The form that corrects an entry.
#[derive(Template)]
#[template(path = "board/entry.html")]
struct EntryPage {
    frame: Frame,
    line: EntryLine,
    faults: Faults,
    mend: Field,
    mends: Vec<Choice>,
    batches: Field,
    batch_choices: Vec<Choice>,
    day: Field,
    days: Vec<Choice>,
    time: Field,
    reason: Field,
    /// Why the time cannot be confirmed now.
    no_confirming: Option<String>,
    url: String,
    cell_url: String,
}

/// One entry, with the form that corrects it.
pub async fn entry(app: App, Path(path): EntryPath) -> Result<Response, PageError> {
    let (sight, event) = find(&app, path).await?;
    let entry = standing(&sight, &event)?;
    let typed = TypedMend::of(entry, &sight.times(&app));
    page(&EntryPage::new(&app, &sight, entry, &event, typed, Faults::default()))
}

/// Adds the entry that corrects another. A second press finds the first one's entry by its key, so that what is
/// to be corrected is looked for by the store and not here.
pub async fn mend(
    app: App,
    by: Hand,
    Path(path): EntryPath,
    sent: Sent<TypedMend>,
) -> Result<Response, PageError> {
    let (sight, event) = find(&app, path).await?;
    let entry = sight.stages.entry(&event).ok_or(PageError::NotFound)?;
    let named = sight.named_batches(&sent.typed.batches, entry.stage);
    let (mend, reason) = match sent.typed.read(&app.texts, &sight.times(&app), sight.now(), named) {
        Ok(read) => read,
        Err(faults) => return faulty(&EntryPage::new(&app, &sight, entry, &event, sent.typed, faults)),
    };
    if mend == Mend::Confirm && !may_confirm(&sight, entry) {
        let mut faults = Faults::default();
        faults.add("mend", app.texts.say("fault-choice"));
        return faulty(&EntryPage::new(&app, &sight, entry, &event, sent.typed, faults));
    }
    let (what, told, confirmed, batches) = match mend {
        Mend::At(at) => (entry.what, Told::At(at), false, None),
        Mend::Withdraw => (What::Withdrawn, Told::Now, false, None),
        Mend::Confirm => (entry.what, Told::At(entry.happened), true, None),
        // Nothing of its time changes, nor whether the lead stands by it.
        Mend::From(batches) => (entry.what, Told::At(entry.happened), entry.confirmed, Some(batches)),
    };
    let new = NewEntry {
        what,
        told,
        confirmed,
        batches,
        supersedes: Some(event),
        reason: Some(reason),
        ..NewEntry::of(sent.key, sight.job(), entry.part.clone(), entry.stage)
    };
    let cell = urls::cell(sight.job(), &entry.part.surface, entry.stage);
    let Ok(_) = app.store.append_stage(new, by.0, |_| Ok::<(), Infallible>(())).await?;
    Ok(Redirect::to(&cell).into_response())
}

async fn find(
    app: &App,
    (job, wall, stage, event): (JobId, String, String, EventId),
) -> Result<(Sight, EventId), PageError> {
    let wall = SurfaceId::new(&wall).ok_or(PageError::NotFound)?;
    let stage = StageKind::from_name(&stage).ok_or(PageError::NotFound)?;
    let sight = Sight::of(app, &job).await?;
    let entry = sight.stages.entry(&event).ok_or(PageError::NotFound)?;
    let named = entry.part.surface == wall && entry.stage == stage && entry.what != What::Withdrawn;
    if named { Ok((sight, event)) } else { Err(PageError::NotFound) }
}

/// An entry that nothing has corrected yet.
fn standing<'a>(sight: &'a Sight, event: &EventId) -> Result<&'a Entry, PageError> {
    let entry = sight.stages.entry(event).ok_or(PageError::NotFound)?;
    let stands = trade::cure::standing(&sight.stages.log).iter().any(|other| other.id == entry.id);
    if stands { Ok(entry) } else { Err(PageError::Stale) }
}

/// A finish whose time was told late, and so does not count yet.
fn is_late(entry: &Entry) -> bool {
    entry.what == What::Finished && counts_from(entry) != entry.happened
}

/// A confirmed time counts only where the clock at its receipt is right.
fn may_confirm(sight: &Sight, entry: &Entry) -> bool {
    is_late(entry) && sight.stages.now.at.wall_clock == WallClock::Trusted
}

impl EntryPage {
    fn new(
        app: &App,
        sight: &Sight,
        entry: &Entry,
        event: &EventId,
        typed: TypedMend,
        faults: Faults,
    ) -> Self {
        let words = sight.words(app);
        let choice = |value: &str| Choice::new(value, words.say(&format!("mend-{value}")));
        let confirm = may_confirm(sight, entry).then(|| choice("confirm"));
        let (job, wall, stage) = (sight.job(), &entry.part.surface, entry.stage);
        let batch_choices = words.any_batch_choices(sight, stage);
        Self {
            frame: frame(app, sight, words.say("mend-title")).faulty_if(!faults.is_empty()),
            line: Lines::of(sight, &words).line(entry),
            mend: Field::new("mend", typed.mend).with(&faults),
            mends: [choice("time"), choice("never")]
                .into_iter()
                .chain(confirm)
                .chain((!batch_choices.is_empty()).then(|| choice("batches")))
                .collect(),
            batches: Field::new("batches", typed.batches).with(&faults),
            batch_choices,
            day: Field::new("day", typed.day).with(&faults),
            days: words.times.last_days(Some(entry.happened)),
            time: Field::new("time", typed.time).with(&faults),
            reason: Field::new("reason", typed.reason).with(&faults),
            no_confirming: (is_late(entry) && !may_confirm(sight, entry))
                .then(|| words.say("mend-no-confirming")),
            url: urls::entry(job, wall, stage, event),
            cell_url: urls::cell(job, wall, stage),
            faults,
        }
    }
}
