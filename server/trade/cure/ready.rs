//! The earliest next step on a wall: what is done, what is ready, and what must still wait for what.

use std::collections::{BTreeMap, BTreeSet};

use super::climate::{Anchor, Places};
use super::log::{Placed, placed};
use super::running::Ran;
use super::trust::at_most_elapsed;
use super::{
    Bed, Climate, Courses, Entry, EntryId, Heartbeats, Instant, Now, Pace, Part, Product, Span, StageGraph,
    StageKind, Temperature, Terms, WaitKind, WallClock, What, Window, counts_from,
};
use crate::measure::SurfaceId;

/// Which product the job plans for each stage. An entry that names another one goes by that. A stage with
/// none, or with one that states no such window, waits the longest that any class does.
pub type Products = BTreeMap<StageKind, Product>;

/// A wall, as far as waiting goes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wall {
    surface: SurfaceId,
    bed: Bed,
    courses: Courses,
}

/// All that is known of the work on one wall.
#[derive(Clone, Copy, Debug)]
pub struct Work<'a> {
    /// What waits for what.
    pub graph: &'a StageGraph,
    /// What is used.
    pub products: &'a Products,
    /// Where.
    pub wall: &'a Wall,
    /// What was reported, in the order received. Entries of other walls may be among it.
    pub log: &'a [Entry],
    /// How cold it was, as far as that was told.
    pub climate: &'a Climate,
}

/// Where a stage stands on a wall or part of one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// Every course has it.
    Done {
        /// When the last of it was finished, as told.
        at: Instant,
        /// The entry that said so.
        by: EntryId,
        /// Some of it was done before it should have been.
        done_early: bool,
    },
    /// It may be started.
    Ready {
        /// Since when; `None` where it waits for nothing.
        since: Option<Instant>,
    },
    /// It may not be started yet.
    NotBefore {
        /// When it may, by the present wall clock.
        at: Instant,
        /// What it waits for longest.
        because: Reason,
    },
    /// It may not be started yet, and no time can be told: what it waits for stands still in the cold.
    TooCold {
        /// What stands still.
        because: Reason,
    },
    /// No time can be told: these are not finished on every course, or were started again.
    Missing {
        /// What it waits for.
        stages: BTreeSet<StageKind>,
        /// What is finished and has still to run its time: whatever is missing, it is not before this.
        running: Option<Box<Running>>,
    },
    /// The lead marked it as not on this job.
    NotOnThisJob,
}

/// A window that has still to run.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Running {
    /// When it is over, by the present wall clock; `None` while it stands still in the cold.
    pub at: Option<Instant>,
    /// What runs.
    pub because: Reason,
}

/// Why a stage must wait: what was finished when, with what, and how long that asks for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reason {
    /// What is waited for.
    pub stage: StageKind,
    /// Where it was finished last.
    pub part: Part,
    /// The entry that said so.
    pub entry: EntryId,
    /// When it was finished, as told.
    pub finished: Instant,
    /// From when the window runs. Other than `finished` where it was told late and the lead has yet to
    /// confirm.
    pub counts_from: Instant,
    /// What it was done with, where that is known.
    pub product: Option<Product>,
    /// Which wait.
    pub wait: WaitKind,
    /// How long it is where it is warm.
    pub window: Span,
    /// How long it still takes, if nothing else is told; while it stands still, how much is left by the bag.
    pub to_go: Span,
    /// How much time has surely passed of it.
    pub elapsed: Span,
    /// How fast it runs just now.
    pub pace: Pace,
    /// By how much cold, known or feared, makes it longer in all, as far as that can be told.
    pub longer: Span,
    /// The coldest that it works at, where it is the product's window.
    pub lowest: Option<Temperature>,
    /// What is known of the present wall clock.
    pub wall_clock: WallClock,
}

/// What a stage still waits for, whether or not it was done before.
pub(super) enum Waiting {
    Ready { since: Option<Instant> },
    NotBefore { at: Instant, because: Reason },
    TooCold { because: Reason },
    Missing { stages: BTreeSet<StageKind>, running: Option<Box<Running>> },
}

/// How much is left of a wait: what stands still is longer than anything that runs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Left {
    stands_still: bool,
    /// Zero or less where it is over; while it stands still, by the bag.
    to_go: Span,
}

/// Where `stage` stands on these courses, or on the whole wall where none are named.
///
/// Windows run from the last finish of everything waited for, on every course in question, never from a
/// start.
pub fn not_before(work: &Work<'_>, courses: Option<Courses>, stage: StageKind, now: &Now) -> Verdict {
    if !work.graph.has(stage) {
        return Verdict::NotOnThisJob;
    }
    let standing = work.standing();
    let range = work.range(courses);
    let Some(done) = finishes(&standing, stage, range, &now.heartbeats) else {
        return waiting(work, courses, stage, now).into();
    };
    let Some(last) = done.iter().max_by_key(|finish| (finish.entry.happened, finish.entry.id)) else {
        return waiting(work, courses, stage, now).into();
    };
    let reports = |placed: &Placed<'_>| placed.is_of(stage, range) && placed.entry.what != What::Withdrawn;
    let mut places = (0..standing.len()).filter(|place| standing.get(*place).is_some_and(reports));
    let done_early = places.any(|place| early(work, &standing, place, now));
    Verdict::Done { at: last.entry.happened, by: last.entry.id, done_early }
}

/// Whether the work that a standing entry reports was begun or finished before it should have been, judged by
/// what stands of the log before it. Where the clocks leave a doubt it was. `false` for an entry that does
/// not stand or is of another wall.
///
/// Such work is kept, and what depends on it counts from it in full.
pub fn done_early(work: &Work<'_>, id: EntryId, now: &Now) -> bool {
    let standing = work.standing();
    let place = standing.iter().position(|placed| placed.entry.id == id);
    place.is_some_and(|place| early(work, &standing, place, now))
}

/// The starts of `stage` on these courses, or on the whole wall where none are named, that no finish has surely
/// ended, in the order of the log.
pub fn open_starts(work: &Work<'_>, courses: Option<Courses>, stage: StageKind, now: &Now) -> Vec<EntryId> {
    let standing = work.standing();
    let range = work.range(courses);
    let open = still_open(&of_stage(&standing, stage, range), range, &now.heartbeats);
    open.into_iter().map(|start| start.entry.id).collect()
}

/// What `stage` still waits for on these courses. A stage done before and done again waits as it did the
/// first time.
pub(super) fn waiting(work: &Work<'_>, courses: Option<Courses>, stage: StageKind, now: &Now) -> Waiting {
    let standing = work.standing();
    let range = work.range(courses);
    let mut stages = BTreeSet::new();
    let places = work.climate.before(work.wall.surface(), &Anchor::of(now), &now.heartbeats);
    let mut longest: Option<(Left, Placed<'_>, WaitKind)> = None;
    for (from, wait) in work.graph.waits_of(stage) {
        let Some(done) = finishes(&standing, from, range, &now.heartbeats) else {
            stages.insert(from);
            continue;
        };
        for finish in done {
            let left = Left::of(work.ran(finish.entry, wait, work.elapsed(finish.entry, now), &places));
            if longest.is_none_or(|(most, ..)| left > most) {
                longest = Some((left, finish, wait));
            }
        }
    }
    let running = longest.filter(|(left, ..)| left.is_any()).map(|(left, finish, wait)| Running {
        at: (!left.stands_still).then(|| now.at.wall + left.to_go),
        because: work.reason(finish.entry, wait, left, now, &places),
    });
    match running {
        running if !stages.is_empty() => Waiting::Missing { stages, running: running.map(Box::new) },
        Some(Running { at: Some(at), because }) => Waiting::NotBefore { at, because },
        Some(Running { at: None, because }) => Waiting::TooCold { because },
        None => Waiting::Ready { since: longest.map(|(left, ..)| now.at.wall + left.to_go) },
    }
}

/// Whether it may have been below freezing on what a standing entry finished before the longest window of what it
/// was done with had run out. `false` for a start, and for an entry that does not stand or is of another wall.
///
/// The entry is kept and counts; whether the bond holds is for the crew to look at.
pub fn may_have_frozen(work: &Work<'_>, id: EntryId, now: &Now) -> bool {
    let standing = work.standing();
    let finish = standing.iter().find(|placed| placed.entry.id == id).map(|placed| placed.entry);
    let Some(finish) = finish.filter(|finish| finish.what == What::Finished) else { return false };
    let windows = Window::ALL.into_iter().filter(|window| window.leaves() == finish.stage);
    let terms = windows.map(|window| work.terms(finish, window)).max_by_key(|terms| terms.window);
    let Some(terms) = terms else { return false };
    let places = work.climate.before(work.wall.surface(), &Anchor::of(now), &now.heartbeats);
    let most = at_most_elapsed(&finish.received, &now.at);
    let perhaps = most.map_or(Span::from_millis(i64::MAX), |most| most + finish.told_age().max(Span::ZERO));
    terms.froze(&places, work.elapsed(finish, now), perhaps, work.climate.rule())
}

impl Left {
    fn of(ran: Ran) -> Self {
        match ran {
            Ran::Over(ago) => Self { stands_still: false, to_go: -ago },
            Ran::Still { to_go: Some(to_go), .. } => Self { stands_still: false, to_go },
            Ran::Still { to_go: None, by_the_bag, .. } => Self { stands_still: true, to_go: by_the_bag },
        }
    }

    /// Whether there is anything left.
    fn is_any(self) -> bool {
        self.stands_still || self.to_go > Span::ZERO
    }
}

impl From<Waiting> for Verdict {
    fn from(waiting: Waiting) -> Self {
        match waiting {
            Waiting::Ready { since } => Self::Ready { since },
            Waiting::NotBefore { at, because } => Self::NotBefore { at, because },
            Waiting::TooCold { because } => Self::TooCold { because },
            Waiting::Missing { stages, running } => Self::Missing { stages, running },
        }
    }
}

impl Wall {
    /// A wall of so many courses, or `None` where it has none. Parts named in the log make up the whole wall
    /// only when they leave out none of these.
    pub fn new(surface: SurfaceId, bed: Bed, courses: u32) -> Option<Self> {
        Courses::new(1, courses).map(|courses| Self { surface, bed, courses })
    }

    /// Which wall.
    pub fn surface(&self) -> &SurfaceId {
        &self.surface
    }

    /// What the tile lies on.
    pub fn bed(&self) -> Bed {
        self.bed
    }

    /// All its courses.
    pub fn courses(&self) -> Courses {
        self.courses
    }
}

impl<'a> Work<'a> {
    fn standing(&self) -> Vec<Placed<'a>> {
        let mut standing = placed(self.log);
        standing.retain(|placed| placed.entry.part.surface == self.wall.surface);
        standing
    }

    fn range(&self, courses: Option<Courses>) -> Courses {
        courses.unwrap_or(self.wall.courses)
    }

    /// The time that has surely passed since this finish, from when it counts.
    fn elapsed(&self, finish: &Entry, now: &Now) -> Span {
        now.surely_since(&finish.received) + finish.credited_age()
    }

    /// Where a wait on this finish stands once so long has surely passed since, up to the moment that `places` are
    /// told from. Only what a product does is slower in the cold.
    fn ran(&self, finish: &Entry, wait: WaitKind, elapsed: Span, places: &Places) -> Ran {
        let plain = |window: Span| {
            let to_go = window - elapsed;
            if to_go > Span::ZERO {
                Ran::Still { to_go: Some(to_go), by_the_bag: to_go, pace: Pace::AsTheBagSays }
            } else {
                Ran::Over(-to_go)
            }
        };
        match wait {
            WaitKind::Finished => plain(Span::ZERO),
            WaitKind::Fixed(span) => plain(span),
            WaitKind::Cure(window) => self.terms(finish, window).run(places, elapsed, self.climate.rule()),
        }
    }

    fn terms(&self, finish: &Entry, window: Window) -> Terms {
        Terms::of(self.product(finish), window, self.wall.bed)
    }

    fn product<'b>(&self, finish: &'b Entry) -> Option<&'b Product>
    where
        'a: 'b,
    {
        finish.product.as_ref().or_else(|| self.products.get(&finish.stage))
    }

    fn reason(&self, finish: &Entry, wait: WaitKind, left: Left, now: &Now, places: &Places) -> Reason {
        let elapsed = self.elapsed(finish, now);
        let (window, lowest, pace) = match wait {
            WaitKind::Finished => (Span::ZERO, None, Pace::AsTheBagSays),
            WaitKind::Fixed(span) => (span, None, Pace::AsTheBagSays),
            WaitKind::Cure(window) => {
                let terms = self.terms(finish, window);
                (terms.window, Some(terms.lowest), terms.pace(&places.present(), self.climate.rule()))
            }
        };
        Reason {
            stage: finish.stage,
            part: finish.part.clone(),
            entry: finish.id,
            finished: finish.happened,
            counts_from: counts_from(finish),
            product: self.product(finish).cloned(),
            wait,
            window,
            to_go: left.to_go,
            elapsed,
            pace,
            longer: (left.to_go - (window - elapsed)).max(Span::ZERO),
            lowest,
            wall_clock: now.at.wall_clock,
        }
    }
}

impl Placed<'_> {
    fn is_of(&self, stage: StageKind, range: Courses) -> bool {
        self.entry.stage == stage && self.entry.part.span().overlap(range).is_some()
    }
}

/// The finishes of `stage` that touch `range`, or `None` where some course of it has none, or was started
/// again and not finished since.
fn finishes<'a>(
    standing: &[Placed<'a>],
    stage: StageKind,
    range: Courses,
    beats: &Heartbeats,
) -> Option<Vec<Placed<'a>>> {
    let of_it = of_stage(standing, stage, range);
    let open = !still_open(&of_it, range, beats).is_empty();
    let ended: Vec<Placed<'a>> =
        of_it.into_iter().filter(|placed| placed.entry.what == What::Finished).collect();
    (!open && range.covered_by(ended.iter().map(|placed| placed.entry.part.span()))).then_some(ended)
}

fn of_stage<'a>(standing: &[Placed<'a>], stage: StageKind, range: Courses) -> Vec<Placed<'a>> {
    standing.iter().copied().filter(|placed| placed.is_of(stage, range)).collect()
}

/// The starts among these that were not finished since on some course of `range`.
fn still_open<'a>(of_it: &[Placed<'a>], range: Courses, beats: &Heartbeats) -> Vec<Placed<'a>> {
    let span = |placed: &Placed<'a>| placed.entry.part.span();
    let open = |place: usize, start: &Placed<'a>| {
        let ends = of_it.iter().skip(place + 1).filter(|end| ends_it(end, start, beats)).map(span);
        span(start).overlap(range).is_some_and(|part| !part.covered_by(ends))
    };
    let starts = of_it.iter().copied().enumerate().filter(|(_, placed)| placed.entry.what == What::Started);
    starts.filter(|(place, start)| open(*place, start)).map(|(_, start)| start).collect()
}

/// Whether a finish reported after a start is surely of that work, not of an earlier go told late. Where it
/// is told for the very moment of the start, only its being told at once settles it.
fn ends_it(end: &Placed<'_>, start: &Placed<'_>, beats: &Heartbeats) -> bool {
    let told = start.entry.told_age() - end.entry.told_age();
    let surely = |passed: Span| {
        let between = passed + told;
        between > Span::ZERO || (between == Span::ZERO && end.entry.told_age() <= Span::ZERO)
    };
    end.entry.what == What::Finished && at_least_between(start, end, beats).is_some_and(surely)
}

/// The least that can lie between the receipts of two entries: negative where `later` was received first, as
/// happens with corrections; `None` where nobody can say.
fn at_least_between(earlier: &Placed<'_>, later: &Placed<'_>, beats: &Heartbeats) -> Option<Span> {
    let (from, to) = (&earlier.entry.received, &later.entry.received);
    if earlier.place <= later.place {
        Some(beats.surely_elapsed(from, to))
    } else {
        at_most_elapsed(to, from).map(|most| -most)
    }
}

/// See [`done_early`]; `place` is the entry's in `standing`.
fn early(work: &Work<'_>, standing: &[Placed<'_>], place: usize, now: &Now) -> bool {
    let Some((entry, before)) = standing.get(place).zip(standing.get(..place)) else { return false };
    let range = entry.entry.part.span().overlap(work.wall.courses).unwrap_or_else(|| entry.entry.part.span());
    let told_age = entry.entry.told_age().max(Span::ZERO);
    let anchor = Anchor { id: Some(entry.entry.id), stamp: &entry.entry.received, age: told_age };
    let places = work.climate.before(work.wall.surface(), &anchor, &now.heartbeats);
    let too_soon = |finish: &Placed<'_>, wait: WaitKind| {
        let passed = at_least_between(finish, entry, &now.heartbeats)
            .map(|passed| passed + finish.entry.credited_age() - told_age);
        passed.is_none_or(|passed| matches!(work.ran(finish.entry, wait, passed, &places), Ran::Still { .. }))
    };
    work.graph.waits_of(entry.entry.stage).into_iter().any(|(from, wait)| {
        finishes(before, from, range, &now.heartbeats)
            .is_none_or(|done| done.iter().any(|finish| too_soon(finish, wait)))
    })
}

#[cfg(test)]
mod tests;
