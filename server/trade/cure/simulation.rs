//! Years of work with bad clocks, played against the gate.
//!
//! A world knows when each piece of work truly began and ended. Its server sees it only through a wall clock
//! that is set forward and back, restarts, moves to other machines, late and wrong reports and their
//! corrections. Temperatures are read, told late and mistyped. An oracle that knows nothing of logs, stamps or the
//! gate's code says whether a stage was truly safe to start, by true times and floats.
//!
//! Nobody can know of work that nobody reported, nor see through a report that is false and not yet
//! corrected: there the oracle is silent.

use std::collections::BTreeMap;

use self::chance::Chance;
use super::gate;
use super::*;
use crate::measure::SurfaceId;

const MINUTE: i64 = 60_000;
const HOUR: i64 = 60 * MINUTE;
const COURSES: u32 = 6;
/// A job is over after so many steps, so that logs stay as long as real ones.
const STEPS_A_JOB: u32 = 60;

/// A gate to be tried: may this stage be started?
type Gate = dyn Fn(&Work<'_>, Courses, StageKind, &Now) -> bool;

/// What days the crew has.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Days {
    /// Good clocks, and every finish told at once.
    Good,
    /// Bad clocks; reports late, wrong, corrected or never made.
    Bad,
}

/// What came of a run.
#[derive(Default, Debug)]
struct Outcome {
    /// The gate opened before the true finish and its window.
    violations: u32,
    /// The gate opened on something that had to wait, rightly.
    openings: u32,
    /// The gate stayed shut though all was truly ready.
    needless: u32,
    /// The first violation, in words.
    first: Option<String>,
}

/// Work that truly happened on some courses.
#[derive(Clone, Debug)]
struct Episode {
    stage: StageKind,
    first: u32,
    last: u32,
    /// Milliseconds of true time.
    finished: Option<i64>,
    start_told: bool,
    /// The standing entry that reports the finish.
    told: Option<Told>,
    /// How long its product asks for until clips, grout and sealing, in milliseconds.
    windows: [i64; 3],
}

/// A temperature that was truly read.
#[derive(Clone, Copy, Debug)]
struct Taken {
    /// Milliseconds of true time.
    at: i64,
    tenths: i32,
    /// The entry that tells it.
    entry: EntryId,
    /// Another number was typed.
    mistyped: bool,
}

#[derive(Clone, Copy, Debug)]
struct Told {
    entry: EntryId,
    /// The work was still going on when its finish was reported.
    falsely: bool,
    /// How much earlier than the truth a report within a few minutes may be: it is taken as told.
    slack: i64,
}

/// The crew, the wall, the true time, and the server with its clocks.
struct World {
    days: Days,
    chance: Chance,
    /// Milliseconds of true time.
    time: i64,
    /// How far the wall clock is ahead of true time.
    ahead: i64,
    synchronised: bool,
    boot: u128,
    booted: i64,
    latest_seen: i64,
    heartbeats: Vec<Stamp>,
    log: Vec<Entry>,
    readings: Vec<Reading>,
    nights: Vec<Night>,
    climate: Climate,
    episodes: Vec<Episode>,
    taken: Vec<Taken>,
    /// From when which night temperature was given, in true time.
    given: Vec<(i64, i32)>,
    /// A job in summer, where nothing but clocks and reports can go wrong.
    mild: bool,
    products: Products,
    windows: [i64; 3],
    graph: StageGraph,
    wall: Wall,
}

fn simulate(days: Days, steps: u32, seed: u64, gate: &Gate) -> Outcome {
    let mut world = World::new(days, seed);
    let mut outcome = Outcome::default();
    for step in 0..steps {
        if step % STEPS_A_JOB == 0 {
            world.new_job();
        }
        world.step();
        world.beat();
        world.try_gate(gate, &mut outcome);
    }
    outcome
}

fn as_built(work: &Work<'_>, courses: Courses, stage: StageKind, now: &Now) -> bool {
    gate::ask(work, Some(courses), stage, now).is_ok()
}

impl World {
    fn new(days: Days, seed: u64) -> Self {
        let wall = Wall::new(SurfaceId::new("back").unwrap(), Bed::OverMembrane, COURSES).unwrap();
        Self {
            days,
            chance: Chance(seed),
            time: 1_780_000_000_000,
            ahead: 0,
            synchronised: true,
            boot: 1,
            booted: 1_779_990_000_000,
            latest_seen: 0,
            heartbeats: vec![],
            log: vec![],
            readings: vec![],
            nights: vec![],
            climate: Climate::default(),
            episodes: vec![],
            taken: vec![],
            given: vec![],
            mild: false,
            products: BTreeMap::new(),
            windows: [0; 3],
            graph: StageGraph::tile_work(),
            wall,
        }
    }

    /// The next job starts on a clean sheet, with other products.
    fn new_job(&mut self) {
        self.log.clear();
        self.episodes.clear();
        self.readings.clear();
        self.nights.clear();
        self.taken.clear();
        self.given.clear();
        self.climate = Climate::default();
        self.heartbeats.clear();
        self.latest_seen = self.latest_seen.min(self.time + self.ahead);
        self.beat();
        self.windows = self.any_windows();
        self.products = StageKind::TILE_WORK
            .into_iter()
            .filter_map(|stage| Some((stage, product(stage, self.windows)?)))
            .collect();
        self.mild = self.chance.one_in(2);
        if self.mild || !self.chance.one_in(4) {
            self.give_a_night();
        }
    }

    fn any_windows(&mut self) -> [i64; 3] {
        [self.chance.below(30) * HOUR, self.chance.below(50) * HOUR, self.chance.below(80) * HOUR]
    }

    /// One thing happens, in its own moment.
    fn step(&mut self) {
        self.time += 1;
        let kinds = if self.days == Days::Good { 17 } else { 25 };
        match self.chance.below(kinds) {
            0..=3 => self.time += self.chance.below(30 * MINUTE),
            4 | 5 => self.time += self.chance.below(20 * HOUR),
            6..=8 => self.wait_for_a_window(),
            9..=11 => self.begin(),
            12 | 13 => self.finish(),
            14 | 15 => self.read(0, 0),
            16 => self.read_elsewhere_or_give_a_night(),
            17 => self.report_late(),
            18 => self.report_falsely(),
            19 => self.correct(),
            20 => self.confirm(),
            21 => self.read_late(),
            22 => self.mistype_or_correct(),
            _ => self.trouble_with_clocks(),
        }
    }

    /// Time goes on to just before, at or after the end of some true window.
    fn wait_for_a_window(&mut self) {
        let Some(at) = self.pick(|episode| episode.finished.is_some()) else { return };
        let episode = &self.episodes[at];
        let (which, end) = (self.chance.index(3), episode.finished.unwrap_or(0));
        let near = [-MINUTE, -1, 0, 1, MINUTE][self.chance.index(5)];
        let (window, terms) = (self.episodes[at].windows[which], self.terms(at, which));
        let left = whole(window) - self.passed(end, terms).0;
        let rate = self.rate(self.time, terms);
        if rate > 0.0 {
            self.time = self.time.max(self.time + near + thousandths(left / rate) / 1000);
        }
    }

    /// A temperature between 2 and 24 °C, and now and then a night of frost; on a mild job 21 °C and more.
    fn any_tenths(&mut self) -> i32 {
        if self.mild {
            return i32::try_from(210 + self.chance.below(50)).unwrap();
        }
        if self.chance.one_in(20) {
            return -20;
        }
        i32::try_from(20 + self.chance.below(220)).unwrap()
    }

    fn next_id(&self) -> EntryId {
        EntryId(u64::try_from(self.log.len() + self.readings.len() + self.nights.len()).unwrap())
    }

    /// Someone reads a temperature: so long ago in truth, and so long ago as told.
    fn read(&mut self, truly_ago: i64, told_ago: i64) {
        let tenths = self.any_tenths();
        let entry = self.tell_reading(Some(tenths), told_ago, None);
        let place = self.taken.partition_point(|taken| taken.at <= self.time - truly_ago);
        self.taken.insert(place, Taken { at: self.time - truly_ago, tenths, entry, mistyped: false });
    }

    /// What is told late is told as long ago as it was or longer, or by the hour of a watch that differs from the
    /// server's clock where that is known to be unsure.
    fn read_late(&mut self) {
        let ago = 1 + self.chance.below(20 * HOUR);
        let told = match self.chance.below(3) {
            0 => ago + self.chance.below(3 * HOUR),
            1 if self.stamp().wall_clock != WallClock::Trusted => (ago + self.ahead).max(1),
            _ => ago,
        };
        self.read(ago, told);
    }

    fn mistype_or_correct(&mut self) {
        let stamp = self.stamp();
        let Some(at) = self.taken.iter().position(|taken| taken.mistyped) else {
            self.read(0, 0);
            let mistyped = self.any_tenths();
            let last = self.readings.last_mut().unwrap();
            last.temperature = Temperature::from_tenths(mistyped);
            let entry = last.id;
            self.taken
                .iter_mut()
                .filter(|taken| taken.entry == entry)
                .for_each(|taken| taken.mistyped = true);
            return self.climate_told();
        };
        let Taken { tenths, entry, .. } = self.taken[at];
        self.taken[at].mistyped = false;
        let id = self.next_id();
        self.readings.push(Reading {
            id,
            surface: None,
            temperature: Temperature::from_tenths(tenths),
            held_from: stamp.wall,
            received: stamp,
            supersedes: Some(entry),
        });
        self.climate_told();
    }

    fn read_elsewhere_or_give_a_night(&mut self) {
        if self.chance.one_in(2) {
            return self.give_a_night();
        }
        let tenths = self.any_tenths();
        self.tell_reading(Some(tenths), 0, SurfaceId::new("left"));
    }

    fn give_a_night(&mut self) {
        let tenths = self.any_tenths().max(60);
        let lowest = Temperature::from_tenths(tenths).unwrap();
        self.nights.push(Night { id: self.next_id(), lowest, received: self.stamp() });
        self.given.push((self.time, tenths));
        self.climate_told();
    }

    fn tell_reading(&mut self, tenths: Option<i32>, ago: i64, surface: Option<SurfaceId>) -> EntryId {
        let (id, received) = (self.next_id(), self.stamp());
        self.readings.push(Reading {
            id,
            surface,
            temperature: tenths.and_then(Temperature::from_tenths),
            held_from: received.wall - Span::from_millis(ago),
            received,
            supersedes: None,
        });
        self.climate_told();
        id
    }

    fn climate_told(&mut self) {
        self.climate = Climate::new(self.readings.clone(), self.nights.clone());
    }

    fn begin(&mut self) {
        let stage = StageKind::TILE_WORK[self.chance.index(4)];
        let (first, last) = self.any_courses();
        let under_way = |episode: &Episode| {
            episode.stage == stage
                && episode.finished.is_none()
                && episode.first <= last
                && first <= episode.last
        };
        if self.episodes.iter().any(under_way) {
            return;
        }
        let other_product = self.chance.one_in(4);
        let windows = if other_product { self.any_windows() } else { self.windows };
        let start_told = !self.chance.one_in(3);
        self.episodes.push(Episode { stage, first, last, finished: None, start_told, told: None, windows });
        if start_told {
            let at = self.episodes.len() - 1;
            self.tell(at, What::Started, 0, None);
        }
    }

    fn finish(&mut self) {
        let Some(at) = self.pick(|episode| episode.finished.is_none()) else { return };
        self.episodes[at].finished = Some(self.time);
        let falsely_told = self.episodes[at].told.filter(|told| told.falsely);
        if falsely_told.is_none() && (self.days == Days::Good || !self.chance.one_in(3)) {
            self.tell_finish(at, 0, None);
        }
    }

    fn report_late(&mut self) {
        let Some(at) = self.pick(|episode| episode.finished.is_some() && episode.told.is_none()) else {
            return;
        };
        let age = self.any_told_age(at);
        self.tell_finish(at, age, None);
    }

    /// Someone taps "finished" while the work goes on.
    fn report_falsely(&mut self) {
        let going_on =
            |episode: &Episode| episode.finished.is_none() && episode.start_told && episode.told.is_none();
        let Some(at) = self.pick(going_on) else { return };
        let entry = self.tell(at, What::Finished, 0, None);
        self.episodes[at].told = Some(Told { entry, falsely: true, slack: 0 });
    }

    fn correct(&mut self) {
        let Some(at) = self.pick(|episode| episode.told.is_some()) else { return };
        let old = self.episodes[at].told.map(|told| told.entry);
        if self.episodes[at].finished.is_none() {
            self.tell(at, What::Withdrawn, 0, old);
            self.episodes[at].told = None;
        } else {
            let age = self.any_told_age(at);
            self.tell_finish(at, age, old);
        }
    }

    /// The lead confirms a time that is true, or later than the truth.
    fn confirm(&mut self) {
        let Some(at) = self.pick(|episode| episode.told.is_some_and(|told| !told.falsely)) else { return };
        let (Some(finished), Some(told)) = (self.episodes[at].finished, self.episodes[at].told) else {
            return;
        };
        let true_or_later =
            |entry: &&mut Entry| entry.id == told.entry && entry.happened.millis() >= finished;
        self.log.iter_mut().filter(true_or_later).for_each(|entry| entry.confirmed = true);
    }

    /// How long ago the crew says the work was finished: the truth, some other time, or the true hour by a
    /// watch that differs from the server's clock.
    fn any_told_age(&mut self, at: usize) -> i64 {
        let truth = self.time - self.episodes[at].finished.unwrap_or(self.time);
        match self.chance.below(5) {
            0 if !self.another_go_is_open(at) => 0,
            1 => truth + self.chance.below(20 * HOUR),
            2 => truth + self.chance.below(4 * MINUTE),
            3 if !self.another_go_is_open(at) => truth + self.ahead,
            _ => truth,
        }
    }

    /// Another go at some of these courses has been reported as begun. To say then that they were finished
    /// just now, or at an hour that a wrong clock puts after that start, would be false: a finish speaks for
    /// all who worked there.
    fn another_go_is_open(&self, at: usize) -> bool {
        let this = &self.episodes[at];
        let open = |other: &Episode| other.start_told && other.told.is_none_or(|told| told.falsely);
        let mut others =
            self.episodes.iter().enumerate().filter(|(place, other)| *place != at && open(other));
        others.any(|(_, other)| {
            other.stage == this.stage && other.first <= this.last && this.first <= other.last
        })
    }

    fn tell_finish(&mut self, at: usize, age: i64, supersedes: Option<EntryId>) {
        let truth = self.time - self.episodes[at].finished.unwrap_or(self.time);
        let entry = self.tell(at, What::Finished, age, supersedes);
        let slack = if age <= 5 * MINUTE { (age - truth).max(0) } else { 0 };
        self.episodes[at].told = Some(Told { entry, falsely: false, slack });
    }

    fn tell(&mut self, at: usize, what: What, age: i64, supersedes: Option<EntryId>) -> EntryId {
        let id = self.next_id();
        let received = self.stamp();
        let episode = &self.episodes[at];
        let product =
            (episode.windows != self.windows).then(|| product(episode.stage, episode.windows)).flatten();
        let whole = episode.first == 1 && episode.last == COURSES;
        let courses = if whole { None } else { Courses::new(episode.first, episode.last) };
        self.log.push(Entry {
            id,
            part: Part { surface: self.wall.surface().clone(), courses },
            stage: episode.stage,
            what,
            happened: received.wall - Span::from_millis(age),
            received,
            confirmed: false,
            supersedes,
            product,
        });
        id
    }

    fn trouble_with_clocks(&mut self) {
        match self.chance.below(6) {
            0 => self.set_clock(),
            1 => {
                let moved = self.chance.one_in(4);
                self.restart(moved);
            }
            2 | 3 => (self.ahead, self.synchronised) = (0, true),
            4 if self.ahead == 0 => {
                self.synchronised = true;
                self.latest_seen = self.time;
            }
            _ => {}
        }
    }

    /// Someone sets the clock: to another zone, by some minutes, by days.
    fn set_clock(&mut self) {
        let most = [5 * MINUTE, 2 * HOUR, 100 * HOUR][self.chance.index(3)];
        self.ahead += [-HOUR, HOUR, self.chance.below(most), -self.chance.below(most)][self.chance.index(4)];
        self.synchronised = false;
    }

    /// The machine is off for a while, and its clock may have stood still; or the database is moved to
    /// another machine that has been running for weeks.
    fn restart(&mut self, moved: bool) {
        let off = self.chance.below(10 * HOUR);
        self.time += off;
        if self.chance.one_in(2) {
            self.ahead -= off;
        }
        self.synchronised = false;
        self.boot += 1;
        self.booted = if moved { self.time - self.chance.below(700 * HOUR) } else { self.time };
    }

    fn stamp(&self) -> Stamp {
        let wall = self.time + self.ahead;
        let wall_clock = if wall < self.latest_seen {
            WallClock::Behind
        } else if self.synchronised {
            WallClock::Trusted
        } else {
            WallClock::Unsure
        };
        Stamp {
            wall: Instant::from_millis(wall),
            boot: BootId(self.boot),
            since_boot: Span::from_millis(self.time - self.booted),
            wall_clock,
        }
    }

    /// The server keeps the first and the last heartbeat of each start.
    fn beat(&mut self) {
        let stamp = self.stamp();
        let of_this_boot = self.heartbeats.iter().filter(|beat| beat.boot == stamp.boot).count();
        if of_this_boot > 1 {
            self.heartbeats.pop();
        }
        self.heartbeats.push(stamp);
        self.latest_seen = self.latest_seen.max(stamp.wall.millis());
    }

    /// Someone asks for a few stages, and the oracle looks on.
    fn try_gate(&mut self, gate: &Gate, outcome: &mut Outcome) {
        let now = Now { at: self.stamp(), heartbeats: Heartbeats::new(self.heartbeats.clone()) };
        for stage in [StageKind::ClipRemoval, StageKind::Grout, StageKind::Seal] {
            let (first, last) = self.any_courses();
            let courses = Courses::new(first, last).unwrap();
            let work = Work {
                graph: &self.graph,
                products: &self.products,
                wall: &self.wall,
                log: &self.log,
                climate: &self.climate,
            };
            let opened = gate(&work, courses, stage, &now);
            match (opened, self.truly_safe(first, last, stage)) {
                (true, Some(true)) => outcome.openings += 1,
                (true, Some(false)) => {
                    outcome.violations += 1;
                    outcome.first.get_or_insert_with(|| {
                        format!(
                            "{stage:?} on {first} to {last} at {now:?}\n{:#?}\n{:#?}\n{:#?}\n{:#?}\n{:#?}",
                            self.episodes, self.log, self.taken, self.given, self.climate
                        )
                    });
                }
                (false, Some(true)) => outcome.needless += 1,
                (false, Some(false)) | (_, None) => {}
            }
        }
    }

    fn any_courses(&mut self) -> (u32, u32) {
        if self.chance.one_in(2) {
            return (1, COURSES);
        }
        let ends = [self.chance.index(6), self.chance.index(6)].map(|end| u32::try_from(end).unwrap() + 1);
        (ends[0].min(ends[1]), ends[0].max(ends[1]))
    }

    fn pick(&mut self, wanted: impl Fn(&Episode) -> bool) -> Option<usize> {
        let places: Vec<usize> = (0..self.episodes.len()).filter(|at| wanted(&self.episodes[*at])).collect();
        if places.is_empty() { None } else { Some(places[self.chance.index(places.len())]) }
    }
}

/// Milliseconds as a float, which holds years of them exactly.
#[expect(
    clippy::cast_precision_loss,
    clippy::as_conversions,
    reason = "years in milliseconds are below 2^53"
)]
fn whole(millis: i64) -> f64 {
    millis as f64
}

/// Thousandths of a float, rounded up; beyond what a run lasts it is as good as never.
#[expect(clippy::cast_possible_truncation, clippy::as_conversions, reason = "it saturates")]
fn thousandths(value: f64) -> i64 {
    (value.clamp(0.0, 1e12) * 1000.0).ceil() as i64
}

/// A product that asks for these windows, by the crew's own word.
fn product(stage: StageKind, [clips, grout, seal]: [i64; 3]) -> Option<Product> {
    let own = |window, millis| OwnWindow {
        window,
        bed: Bed::OverMembrane,
        span: Span::from_millis(millis),
        grounds: Grounds::new("the bag says so"),
    };
    let (class, own) = match stage {
        StageKind::Set => {
            (ProductClass::CementMortar, vec![own(Window::SetToClips, clips), own(Window::SetToGrout, grout)])
        }
        StageKind::Grout => (ProductClass::CementGrout, vec![own(Window::GroutToSeal, seal)]),
        _ => return None,
    };
    Product::new("bag", class, own).ok()
}

mod chance;
mod oracle;
mod tests;
