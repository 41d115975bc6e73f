//! What of the board goes into a calendar: when each stage may be started, and what runs out.
//!
//! A stage for which no time can be told is left out: a calendar has no word for that, and a time made up would be
//! believed. What became ready in the last days stays in, so that it is not gone when its alarm goes off.

use trade::cure::{Instant, Span, StageKind, Verdict};

use crate::output::calendar::{Head, Step, calendar};
use crate::store::{Event, KeptBatch};
use crate::texts::Texts;
use crate::web::board::{Sight, WallSight, Words};

/// A step is as long in a calendar as makes it wide enough to be read.
const WIDE: Span = Span::from_minutes(15);

/// How long what has become ready stays in.
const STAYS: Span = Span::from_hours(7 * 24);

/// How long before a mix runs out its alarm goes off: time to spread what is in the bucket (common practice).
const BEFORE_USE_BY: Span = Span::from_minutes(10);

/// Every step that has a time, the earliest first.
pub fn steps(sight: &Sight, words: &Words) -> Vec<Step> {
    let stages = sight
        .walls
        .iter()
        .flat_map(|wall| sight.kinds().filter_map(move |stage| may_start(sight, words, wall, stage)));
    let mixes = sight.stages.batches.iter().filter(|kept| kept.over.is_none() && !kept.withdrawn);
    let mixes = mixes.flat_map(|kept| runs_out(sight, words, kept));
    let mut steps: Vec<Step> = stages.chain(mixes).collect();
    steps.sort_by(|one, other| (one.starts, &one.uid).cmp(&(other.starts, &other.uid)));
    steps
}

/// The same as a file. Its revision is the number of the log's last entry: whatever moves a step is told there.
pub fn file(sight: &Sight, words: &Words, last: Option<&Event>, texts: &Texts) -> String {
    let number = last.map_or(0, |last| u32::try_from(last.sequence).unwrap_or(u32::MAX));
    let head = Head {
        name: texts.say_with("calendar-name", &[("job", &sight.head.name)]),
        revision: number,
        revised: last.map_or(sight.now(), |last| last.received.wall),
    };
    calendar(&head, &steps(sight, words))
}

fn may_start(sight: &Sight, words: &Words, wall: &WallSight, stage: StageKind) -> Option<Step> {
    let standing = sight.standing(wall, stage);
    if !standing.open.is_empty() {
        return None;
    }
    let (starts, description) = match &standing.verdict {
        Verdict::NotBefore { at, because } => {
            let because = words.because(stage, *at, because);
            (*at, because.answer.into_iter().chain(because.notes).collect::<Vec<_>>().join(" "))
        }
        Verdict::Ready { since: Some(since) } if sight.now() - *since <= STAYS => {
            (*since, words.say("state-ready"))
        }
        Verdict::Ready { .. }
        | Verdict::Done { .. }
        | Verdict::TooCold { .. }
        | Verdict::Missing { .. }
        | Verdict::NotOnThisJob => return None,
    };
    let values: [(&str, &dyn crate::texts::Said); 2] = [("wall", &wall.name), ("stage", &words.stage(stage))];
    Some(Step {
        uid: format!("{}-{}-{}@coursebook", sight.job(), wall.id(), stage.name()),
        summary: words.say_with("calendar-may-start", &values),
        description,
        starts,
        ends: starts + WIDE,
        alarm_before: Span::ZERO,
    })
}

fn runs_out(sight: &Sight, words: &Words, kept: &KeptBatch) -> Vec<Step> {
    let (windows, batch) = (kept.batch.windows(), words.batch(kept));
    let step = |what: &str, key: &str, (starts, ends): (Instant, Instant), alarm_before| Step {
        uid: format!("{}-{}-{what}@coursebook", sight.job(), kept.first),
        summary: words.say_with(key, &[("batch", &batch)]),
        description: words.batch_told(sight, kept).join(" "),
        starts,
        ends,
        alarm_before,
    };
    let use_by = step("use-by", "calendar-use-by", (windows.use_by, windows.use_by + WIDE), BEFORE_USE_BY);
    let wipe = windows.wipe.map(|(from, by)| step("wipe", "calendar-wipe", (from, by.max(from)), Span::ZERO));
    let to_come = |step: &Step| step.ends > sight.now();
    std::iter::once(use_by).chain(wipe).filter(to_come).collect()
}
