//! The plan in the middle of the work: the sheet's own, planned again wherever the log says that pieces have other sizes
//! than planned. It depends on the sheet and on the order of the log alone, so that every page and every start of the
//! server sees the same.

use std::collections::{BTreeMap, VecDeque};
use std::sync::{Arc, Mutex, PoisonError, Weak};

use trade::offcut::Begun;
use trade::place::Measured;
use trade::search::{BegunTile, CutBefore, InField, LayoutOption, Relay, UseOf, WorkFault};

use crate::app::App;
use crate::store::{
    BROKE, COUNTED, CUT, CutLog, Event, EventId, JobId, MEASURED, NOT_TRIMMED, RELAID, Relaid, Sawn,
    StoreError, StoredSheet, TAKEN_OVER, TRIMMED,
};
use crate::web::cuts::{InUse, Print, Saw, Yard, stock_print};
use crate::web::error::PageError;
use crate::work::{NoPlan, Planned};

/// Plans kept, as many as the planner's desk keeps of those that nothing was measured for.
const KEPT: usize = 8;

/// The plans in the middle of the work.
#[derive(Clone, Default)]
pub struct PlansInField {
    kept: Arc<Mutex<VecDeque<Kept>>>,
    /// A job's is held by whoever works one of its plans out: who wants the same waits there, looks again, and takes no
    /// place at the planner.
    one_by_one: Arc<Mutex<BTreeMap<JobId, Weak<tokio::sync::Mutex<()>>>>>,
}

/// One of them, and the entry of the log up to which it holds.
struct Kept {
    job: JobId,
    version: i64,
    through: i64,
    planned: Arc<Planned>,
}

/// The plan that the crew goes by now, or why there is none.
///
/// # Errors
///
/// When the log cannot be read.
pub async fn plan_now(app: &App, stored: &StoredSheet) -> Result<Result<Arc<Planned>, NoPlan>, PageError> {
    match app.work.plan(stored).await {
        Ok(first) => {
            let log = app.store.cut_log(&stored.id).await?;
            Ok(Ok(planned(app, stored, &first, &log).await?))
        }
        Err(why) => Ok(Err(why)),
    }
}

/// The plan that the saw goes by now; `first` is the sheet's own.
///
/// # Errors
///
/// When the planner has no place, or the log cannot be read.
pub async fn planned(
    app: &App,
    stored: &StoredSheet,
    first: &Arc<Planned>,
    log: &CutLog,
) -> Result<Arc<Planned>, PageError> {
    let makes_another = |event: &Event| [MEASURED, COUNTED, RELAID].contains(&event.kind.as_str());
    let Some(last) = log.entries.last().filter(|_| log.entries.iter().any(makes_another)) else {
        return Ok(Arc::clone(first));
    };
    let through = last.sequence;
    if let Ok(now) = app.fields.settled(stored, first, log, through) {
        return Ok(now);
    }
    let one = app.fields.of_job(&stored.id).lock_owned().await;
    let (from, now) = match app.fields.settled(stored, first, log, through) {
        Ok(now) => return Ok(now),
        Err(nearest) => nearest,
    };
    let (first, entries) = (Arc::clone(first), log.entries.clone());
    let (fields, stored) = (app.fields.clone(), stored.clone());
    let folded = app.work.in_turn(move || {
        let planned = fold(&first, now, &entries, from)?;
        // Kept here, whoever has gone by now; and until then nobody else begins with the same.
        fields.keep(&stored, through, &planned);
        drop(one);
        Ok::<_, StoreError>(planned)
    });
    Ok(folded.await??)
}

/// The plan as it would be with one more measurement, beside the one that the saw goes by.
///
/// # Errors
///
/// When the planner has no place; within, when the pieces cannot be cut so.
pub async fn tried(
    app: &App,
    (first, now): (&Arc<Planned>, &Arc<Planned>),
    sawn: Sawn,
    measured: Measured,
) -> Result<Result<Arc<Planned>, WorkFault>, PageError> {
    let (first, now) = (Arc::clone(first), Arc::clone(now));
    let tried = app.work.in_turn(move || {
        let settled = settled(&first, &now, &sawn, &measured)?;
        Ok(settled.map_or(now, Arc::new))
    });
    Ok(tried.await?)
}

/// Goes on from the plan that held up to the entry numbered `from`.
fn fold(
    first: &Arc<Planned>,
    now: Arc<Planned>,
    entries: &[Event],
    from: i64,
) -> Result<Arc<Planned>, StoreError> {
    // What came before a layout was laid anew has no part in its plan.
    let laid = entries.iter().filter(|event| event.kind == RELAID && event.sequence > from);
    let laid = laid.map(|event| Ok((event.sequence, Relaid::of(event)?.begun)));
    let mut laid = laid.collect::<Result<BTreeMap<_, _>, StoreError>>()?;
    let anew = laid.iter().rev().find(|(_, begun)| begun.is_some());
    let from = anew.map_or(from, |(sequence, _)| sequence - 1);
    let mut now = now;
    for (at, event) in entries.iter().enumerate().filter(|(_, event)| event.sequence > from) {
        // Each in its turn: somebody may have seen the plan after it, and the next one starts from there.
        if !may_unsettle(event) {
            continue;
        }
        let sawn = Sawn::of(&entries[..=at])?;
        now = match event.kind.as_str() {
            RELAID => match laid.remove(&event.sequence).flatten() {
                Some(begun) => laid_anew(first, &begun, &sawn),
                None => settle(first, now, &sawn),
            },
            COUNTED => with_fewest(first, settle(first, now, &sawn), &sawn),
            _ => settle(first, now, &sawn),
        };
    }
    Ok(now)
}

/// The plan that holds once this was done, as far as it is none of its own cuts.
fn settle(first: &Planned, now: Arc<Planned>, sawn: &Sawn) -> Arc<Planned> {
    let made_with = names(sawn);
    let option = match settled(first, &now, sawn, &sawn.true_sizes()) {
        Ok(Some(planned)) => planned.option,
        Ok(None) => now.option.clone(),
        Err(error) => {
            // It was planned once when it was measured. The pages say which sizes the plan does not hold.
            tracing::error!(%error, "true sizes could not be planned again");
            now.option.clone()
        }
    };
    if made_with == now.made_with && option == now.option {
        return now;
    }
    Arc::new(Planned { job: first.job.clone(), option, made_with })
}

/// Whether the plan may be another after an entry: not after what was cut, or broke in the cutting, by the plan
/// itself, nor after a trim, which takes nothing of a tile, nor after what changes hands.
fn may_unsettle(event: &Event) -> bool {
    match event.kind.as_str() {
        TRIMMED | NOT_TRIMMED | TAKEN_OVER => false,
        CUT | BROKE => event.supersedes.is_some(),
        _ => true,
    }
}

/// The plan that holds from now on; nothing where the one in force does.
fn settled(
    first: &Planned,
    now: &Arc<Planned>,
    sawn: &Sawn,
    measured: &Measured,
) -> Result<Option<Planned>, WorkFault> {
    let saw = Saw::new(Arc::clone(now), sawn.clone());
    let cut = saw.in_field();
    let field = InField { job: &first.job, planned: &first.option, now: &now.option, measured, sawn: &cut };
    let option = field.settled()?;
    let made_with = names(sawn);
    Ok(option.map(|option| Planned { job: first.job.clone(), option, made_with }))
}

/// The plan with the fewest tiles for what is open, beside the one that the saw goes by.
///
/// # Errors
///
/// When the planner has no place.
pub async fn fewest(app: &App, yard: &Yard) -> Result<Arc<Planned>, PageError> {
    let (first, now, sawn) = (Arc::clone(&yard.first), Arc::clone(&yard.saw.planned), yard.log.sawn.clone());
    Ok(app.work.in_turn(move || with_fewest(&first, now, &sawn)).await?)
}

/// The plan of another layout once it is chosen, and the tiles cut into that it starts from: `first` comes of its sheet,
/// and `now` is what the saw goes by.
///
/// # Errors
///
/// When the planner has no place, or what it planned cannot be told to another layout.
pub async fn relaid(
    app: &App,
    first: &Arc<Planned>,
    now: &Arc<Planned>,
    sawn: &Sawn,
) -> Result<(Arc<Planned>, Vec<BegunTile>), PageError> {
    let (first, now, sawn) = (Arc::clone(first), Arc::clone(now), sawn.clone());
    let relaid = app.work.in_turn(move || {
        let (cut, measured) = (Saw::new(Arc::clone(&now), sawn.clone()).in_field(), sawn.true_sizes());
        let (job, option) = (&now.job, &now.option);
        let begun = InField { job, planned: option, now: option, measured: &measured, sawn: &cut }.begun()?;
        Ok((laid_anew(&first, &begun, &sawn), begun))
    });
    Ok(relaid.await?.map_err(NoPlan::Layout)?)
}

/// The plan of a layout that takes another's place, from what lies on the rack and whole tiles; from whole tiles alone
/// where that takes fewer.
fn laid_anew(first: &Arc<Planned>, begun: &[BegunTile], sawn: &Sawn) -> Arc<Planned> {
    let plain = settle(first, Arc::clone(first), sawn);
    if begun.is_empty() {
        return if sawn.counts.is_empty() { plain } else { with_fewest(first, plain, sawn) };
    }
    let in_use = InUse::of(&plain, sawn);
    let cut: BTreeMap<_, _> = sawn
        .records
        .iter()
        .map(|record| {
            let is_off = in_use.off.contains(&record.piece);
            let use_of = if is_off { UseOf::None } else { UseOf::AsItIs };
            (record.piece.clone(), CutBefore { use_of, entry: record.event.as_str().to_owned() })
        })
        .collect();
    let (job, planned, measured) = (&first.job, &first.option, &sawn.true_sizes());
    let mut option = match (Relay { job, planned, measured, begun, cut: &cut }).plan() {
        Ok(option) => option,
        Err(error) => {
            tracing::error!(%error, "another layout could not be planned from what lies on the rack");
            return plain;
        }
    };
    name_anew(&mut option, sawn);
    let again = Arc::new(Planned { job: job.clone(), option, made_with: plain.made_with.clone() });
    let tiles = |in_use: &InUse| in_use.tiles.values().sum::<usize>();
    if tiles(&InUse::of(&again, sawn)) <= tiles(&in_use) { again } else { plain }
}

/// The plan in force, or one of fewer tiles that leaves what is cut as it is.
fn with_fewest(first: &Planned, now: Arc<Planned>, sawn: &Sawn) -> Arc<Planned> {
    let (cut, measured) = (Saw::new(Arc::clone(&now), sawn.clone()).in_field(), sawn.true_sizes());
    let field = InField {
        job: &first.job,
        planned: &first.option,
        now: &now.option,
        measured: &measured,
        sawn: &cut,
    };
    let again = match field.plan_again() {
        Ok(mut option) => {
            name_anew(&mut option, sawn);
            Arc::new(Planned { job: first.job.clone(), option, made_with: now.made_with.clone() })
        }
        Err(error) => {
            tracing::error!(%error, "what is not cut yet could not be planned again");
            return now;
        }
    };
    let tiles = |planned: &Arc<Planned>| -> usize {
        Saw::new(Arc::clone(planned), sawn.clone()).tally.values().map(|tally| tally.needed).sum()
    };
    if tiles(&again) < tiles(&now) { again } else { now }
}

/// A tile planned just like one that broke is another tile: by a name of its own no loss is taken for one of it.
fn name_anew(option: &mut LayoutOption, sawn: &Sawn) {
    for (tile, cutting) in &mut option.cutting {
        for stock in cutting.plan.stock.iter_mut().filter(|stock| stock.begun.is_none()) {
            let print = stock_print(tile, &cutting.problem, stock);
            if let Some(loss) = sawn.losses.iter().rev().find(|loss| loss.was.stock_print == print) {
                let mut name = Print::new("counted");
                name.words(&print);
                name.words(loss.event.as_str());
                stock.begun = Some(Begun { name: name.finish(), written: Vec::new(), gone: Vec::new() });
            }
        }
    }
}

fn names(sawn: &Sawn) -> Vec<EventId> {
    sawn.measured.iter().map(|record| record.event.clone()).collect()
}

impl PlansInField {
    /// What whoever works out a plan of this job holds.
    fn of_job(&self, job: &JobId) -> Arc<tokio::sync::Mutex<()>> {
        let mut held = self.one_by_one.lock().unwrap_or_else(PoisonError::into_inner);
        held.retain(|_, turn| turn.strong_count() > 0);
        held.get(job).and_then(Weak::upgrade).unwrap_or_else(|| {
            let turn = Arc::default();
            held.insert(job.clone(), Arc::downgrade(&turn));
            turn
        })
    }

    /// The plan after the entry `through` where nothing is to be worked out for it, or else the nearest one before.
    fn settled(
        &self,
        stored: &StoredSheet,
        first: &Arc<Planned>,
        log: &CutLog,
        through: i64,
    ) -> Result<Arc<Planned>, (i64, Arc<Planned>)> {
        let (from, now) = self.nearest(stored, through).unwrap_or_else(|| (0, Arc::clone(first)));
        if log.entries.iter().any(|event| event.sequence > from && may_unsettle(event)) {
            return Err((from, now));
        }
        self.keep(stored, through, &now);
        Ok(now)
    }

    /// The plan of this sheet that holds up to the latest entry not after `through`.
    fn nearest(&self, stored: &StoredSheet, through: i64) -> Option<(i64, Arc<Planned>)> {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let of_sheet = kept.iter().filter(|kept| kept.job == stored.id && kept.version == stored.version);
        let before = of_sheet.filter(|kept| kept.through <= through);
        let nearest = before.max_by_key(|kept| kept.through)?;
        Some((nearest.through, Arc::clone(&nearest.planned)))
    }

    fn keep(&self, stored: &StoredSheet, through: i64, planned: &Arc<Planned>) {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let overtaken = |kept: &Kept| kept.version <= stored.version && kept.through <= through;
        kept.retain(|kept| kept.job != stored.id || !overtaken(kept));
        let (job, version, planned) = (stored.id.clone(), stored.version, Arc::clone(planned));
        kept.push_front(Kept { job, version, through, planned });
        kept.truncate(KEPT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_plans_one_job_keeps_nobody_from_another() {
        let fields = PlansInField::default();
        let (one, other) = (JobId::from("one".to_owned()), JobId::from("other".to_owned()));
        let held = fields.of_job(&one).try_lock_owned();
        assert!(held.is_ok());
        assert!(fields.of_job(&one).try_lock().is_err(), "the same job waits");
        assert!(fields.of_job(&other).try_lock().is_ok());
        drop(held);
        assert!(fields.of_job(&one).try_lock().is_ok());
    }
}
