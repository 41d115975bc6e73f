//! The board, one stage of one wall, and "not yet".

use askama::Template;
use trade::cure::gate::Refusal;
use trade::cure::{
    Entry, EntryId, Instant, Pace, Reason, StageKind, Terms, Verdict, WaitKind, What, equivalent_age,
    may_have_frozen, standing,
};

use super::batch_page::Strip;
use super::form::TypedDone;
use super::line::{EntryLine, Lines};
use super::sight::{Sight, Standing, WallSight};
use super::temperature_page::Tap;
use super::words::{Because, Words};
use crate::app::App;
use crate::texts::Said;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::{Frame, Here};
use crate::web::urls;

/// Every wall and every stage.
#[derive(Template)]
#[template(path = "board/board.html")]
pub struct Board {
    frame: Frame,
    as_of: String,
    clock_behind: Option<String>,
    walls: Vec<WallRow>,
    batches: Strip,
    calendar_url: String,
    tap: Tap,
    first_wall_url: String,
    stages_url: String,
    products_url: String,
    log_url: String,
}

struct WallRow {
    name: String,
    card_url: String,
    cells: Vec<Cell>,
}

/// Where a stage stands, in words, shape and colour.
pub struct Cell {
    kind: StageKind,
    pub stage: String,
    pub url: String,
    /// The class that draws its shape.
    pub state: &'static str,
    pub says: String,
    pub more: Vec<String>,
    /// What to look at.
    pub look: Vec<String>,
}

/// One stage of one wall.
#[derive(Template)]
#[template(path = "board/cell.html")]
pub struct CellPage {
    frame: Frame,
    as_of: String,
    cell: Cell,
    /// How old it is by the curve of concrete.
    concrete: Option<String>,
    temperature_url: String,
    waits: Vec<WaitLine>,
    /// Nothing keeps it from being started now.
    start_first: bool,
    under_way: bool,
    done: bool,
    start_words: String,
    start_url: String,
    done_url: String,
    board_url: String,
    log_url: String,
    courses: u32,
    faults: Faults,
    minutes: Field,
    day: Field,
    days: Vec<Choice>,
    time: Field,
    first: Field,
    last: Field,
    lines: Vec<EntryLine>,
    /// From which mixes it may have been done, and which of the choices is made at first.
    batches: Field,
    batch_choices: Vec<Choice>,
    cautions: Vec<String>,
}

/// Something that a stage waits for.
struct WaitLine {
    url: String,
    state: &'static str,
    says: String,
    then: String,
}

/// The gate stayed shut.
#[derive(Template)]
#[template(path = "board/refused.html")]
pub struct Refused {
    frame: Frame,
    answer: String,
    notes: Vec<String>,
    cell_url: String,
    board_url: String,
}

impl Board {
    /// The board as it stands.
    pub fn new(app: &App, sight: &Sight) -> Self {
        let words = sight.words(app);
        let row = |wall: &WallSight| WallRow {
            name: wall.name.clone(),
            card_url: urls::wall_card(sight.job(), wall.id()),
            cells: sight.kinds().map(|stage| Cell::of(&words, sight, wall, stage)).collect(),
        };
        Self {
            frame: frame(app, sight, app.texts.say("board-title")).live(&sight.seen),
            as_of: as_of(&words),
            clock_behind: sight.clock_is_behind().then(|| words.clock_behind()),
            walls: sight.walls.iter().map(row).collect(),
            batches: Strip::of(&words, sight),
            calendar_url: urls::calendar(sight.job()),
            tap: Tap::of(&words, sight, "", &Faults::default()),
            first_wall_url: urls::new_wall(sight.job()),
            stages_url: urls::stages(sight.job()),
            products_url: urls::products(sight.job()),
            log_url: urls::log(sight.job()),
        }
    }
}

impl Cell {
    /// As it stands.
    pub fn of(words: &Words, sight: &Sight, wall: &WallSight, stage: StageKind) -> Self {
        let url = urls::cell(sight.job(), wall.id(), stage);
        let blank = Self {
            kind: stage,
            stage: words.stage(stage),
            url,
            state: "none",
            says: String::new(),
            more: Vec::new(),
            look: Vec::new(),
        };
        let Standing { verdict, open } = sight.standing(wall, stage);
        let cell = blank.standing(words, sight, wall, (verdict, open.last().copied()));
        cell.partly(words, sight, wall)
    }

    /// What is done of it course by course, until the whole wall is.
    fn partly(self, words: &Words, sight: &Sight, wall: &WallSight) -> Self {
        let done = sight.courses_done(wall, self.kind);
        if done == 0 || done == wall.courses() || self.state == "done" {
            return self;
        }
        let values: [(&str, &dyn Said); 2] = [("done", &done), ("all", &wall.courses())];
        if self.kind == StageKind::Set {
            let more = if self.state == "under-way" { self.more } else { Vec::new() };
            return Self {
                state: "under-way",
                says: words.say_with("state-being-set", &values),
                more,
                ..self
            };
        }
        let part = words.say_with("state-part-done", &values);
        let more = std::iter::once(part).chain(self.more).collect();
        Self { more, ..self }
    }

    fn standing(
        self,
        words: &Words,
        sight: &Sight,
        wall: &WallSight,
        stands: (Verdict, Option<EntryId>),
    ) -> Self {
        let (stage, blank) = (self.kind, self);
        match stands {
            (Verdict::Done { at, by, done_early }, _) => {
                let work = wall.work(&sight.stages);
                let of_it = |entry: &&Entry| entry.stage == stage && entry.part.surface == *wall.id();
                let mut reports = sight.stages.log.iter().filter(of_it);
                let froze = reports.any(|entry| may_have_frozen(&work, entry.id, &sight.stages.now));
                let froze = froze.then(|| words.say("state-froze"));
                let look = done_early.then(|| words.say("state-early")).into_iter().chain(froze).collect();
                let more = vec![when_and_who(words, sight, at, by)];
                Self { state: "done", says: words.say("state-done"), more, look, ..blank }
            }
            (Verdict::NotOnThisJob, _) => Self { says: words.say("state-not-on-job"), ..blank },
            (_, Some(start)) => blank.under_way(words, sight, start),
            (Verdict::Ready { since }, None) => {
                let since =
                    since.map(|since| words.say_with("state-since", &[("when", &words.times.at(since))]));
                let more = since.into_iter().collect();
                Self { state: "ready", says: words.say("state-ready"), more, ..blank }
            }
            (Verdict::NotBefore { at, because }, None) => {
                let to_go = words.say_with("state-to-go", &[("span", &words.times.span(because.to_go))]);
                let says = words.say_with("state-not-before", &[("at", &words.times.at(at))]);
                let unsure = !words.because(stage, at, &because).notes.is_empty();
                let look = unsure.then(|| words.say("state-unsure")).into_iter().collect();
                let more = std::iter::once(to_go).chain(short_cold(words, &because)).collect();
                Self { state: "wait", says, more, look, ..blank }
            }
            (Verdict::TooCold { because }, None) => {
                let more = short_cold(words, &because).into_iter().collect();
                Self { state: "wait", says: words.say("state-too-cold"), more, ..blank }
            }
            (Verdict::Missing { stages, running }, None) => {
                let waits = words.say_with("state-waits-for", &[("stages", &words.stages(&stages))]);
                match running {
                    Some(running) => {
                        let says = match running.at {
                            Some(at) => words.say_with("state-not-before", &[("at", &words.times.at(at))]),
                            None => words.say("state-too-cold"),
                        };
                        let cold = short_cold(words, &running.because);
                        let more = std::iter::once(waits).chain(cold).collect();
                        Self { state: "wait", says, more, ..blank }
                    }
                    None => Self { says: waits, ..blank },
                }
            }
        }
    }

    /// A start without a finish; where one was reported that lies before the start, it does not end it.
    fn under_way(self, words: &Words, sight: &Sight, start: EntryId) -> Self {
        let at = sight.entry(start).map(|entry| entry.happened);
        let more = at.map(|at| when_and_who(words, sight, at, start)).into_iter().collect();
        let all = standing(&sight.stages.log);
        let finished_since = sight.entry(start).is_some_and(|start| {
            let same = |entry: &&Entry| entry.stage == start.stage && entry.part == start.part;
            let mut later = all.into_iter().filter(same).filter(|entry| entry.id > start.id);
            later.any(|entry| entry.what == What::Finished)
        });
        let look = finished_since.then(|| words.say("state-finish-before-start")).into_iter().collect();
        Self { state: "under-way", says: words.say("state-under-way"), more, look, ..self }
    }
}

/// How much longer the cold makes it, in few words.
fn short_cold(words: &Words, because: &Reason) -> Option<String> {
    match because.pace {
        Pace::Stopped { temperature } => {
            let lowest = because.lowest.map(|lowest| words.degrees(lowest)).unwrap_or_default();
            let degrees = words.degrees(temperature);
            Some(words.say_with("state-stopped", &[("degrees", &degrees), ("lowest", &lowest)]))
        }
        Pace::AsTheBagSays | Pace::Cold { .. } | Pace::Unknown { .. } => {
            let longer = words.times.span(because.longer);
            let key = match because.pace {
                Pace::Unknown { .. } => "state-longer-unknown",
                _ => "state-longer",
            };
            words.cold(because).map(|_| words.say_with(key, &[("longer", &longer)]))
        }
    }
}

/// How old a cement product is by the curve of concrete, for information; nothing where it never was colder.
fn concrete(words: &Words, sight: &Sight, wall: &WallSight, because: &Reason) -> Option<String> {
    because.product.as_ref().filter(|product| product.class().is_cement())?;
    words.cold(because)?;
    let climate = &sight.stages.temperatures.climate;
    let stretches = climate.stretches(wall.id(), because.elapsed, &sight.stages.now);
    let known = stretches.iter().map(|stretch| Some((stretch.began - stretch.ended, stretch.temperature?)));
    let age = equivalent_age(known.collect::<Option<Vec<_>>>()?);
    let age = format!("{age:.1}");
    Some(words.say_with("cell-concrete", &[("age", &age), ("window", &words.times.span(because.window))]))
}

fn when_and_who(words: &Words, sight: &Sight, at: Instant, by: EntryId) -> String {
    let (when, who) = (words.times.at(at), sight.doer(by));
    words.say_with("state-when-who", &[("when", &when), ("who", &who)])
}

impl CellPage {
    /// The stage as it stands, with what was typed and what is wrong with it.
    pub fn new(
        app: &App,
        sight: &Sight,
        wall: &WallSight,
        stage: StageKind,
        typed: TypedDone,
        faults: Faults,
    ) -> Self {
        let words = sight.words(app);
        let lines = Lines::of(sight, &words);
        let of_it = |entry: &&Entry| entry.stage == stage && entry.part.surface == *wall.id();
        let standing = sight.standing(wall, stage);
        let title = words.say_with("cell-title", &[("stage", &words.stage(stage)), ("wall", &wall.name)]);
        let done = matches!(standing.verdict, Verdict::Done { .. });
        let day = if typed.day.is_empty() { words.times.today() } else { typed.day };
        let mut cell = Cell::of(&words, sight, wall, stage);
        let (usual, batch_choices) = words.batch_choices(sight, stage);
        let named = if faults.is_empty() { usual } else { typed.batches };
        if let (Verdict::NotBefore { at, because }, true) = (&standing.verdict, standing.open.is_empty()) {
            let because = words.because(stage, *at, because);
            cell.more = vec![because.answer.join(" ")];
            cell.look = because.notes;
        } else if let (Verdict::TooCold { because }, true) = (&standing.verdict, standing.open.is_empty()) {
            let because = words.too_cold(because);
            cell.more = vec![because.answer.join(" ")];
            cell.look = because.notes;
        } else if sight.clock_is_behind() {
            cell.look.push(words.clock_behind());
        }
        Self {
            frame: frame(app, sight, title).live(&sight.seen).faulty_if(!faults.is_empty()),
            as_of: as_of(&words),
            concrete: match &standing.verdict {
                Verdict::NotBefore { because, .. } | Verdict::TooCold { because } => {
                    concrete(&words, sight, wall, because)
                }
                _ => None,
            },
            temperature_url: urls::temperature(sight.job()),
            waits: waits(&words, sight, wall, stage),
            start_first: matches!(standing.verdict, Verdict::Ready { .. }) && standing.open.is_empty(),
            under_way: !standing.open.is_empty(),
            start_words: words.say(if done { "cell-start-again" } else { "cell-start" }),
            done,
            start_url: urls::cell_start(sight.job(), wall.id(), stage),
            done_url: urls::cell_done(sight.job(), wall.id(), stage),
            board_url: urls::board(sight.job()),
            log_url: urls::log(sight.job()),
            courses: wall.courses(),
            minutes: Field::new("minutes", typed.minutes).with(&faults),
            day: Field::new("day", day).with(&faults),
            days: words.times.last_days(None),
            time: Field::new("time", typed.time).with(&faults),
            first: Field::new("first", typed.part.first).with(&faults),
            last: Field::new("last", typed.part.last).with(&faults),
            lines: sight.stages.log.iter().rev().filter(of_it).map(|entry| lines.line(entry)).collect(),
            batches: Field::new("batches", named).with(&faults),
            batch_choices,
            cautions: words.cautions(stage, &sight.stages.graph),
            cell,
            faults,
        }
    }
}

fn waits(words: &Words, sight: &Sight, wall: &WallSight, stage: StageKind) -> Vec<WaitLine> {
    let line = |(from, wait): (StageKind, WaitKind)| {
        let cell = Cell::of(words, sight, wall, from);
        WaitLine {
            says: words.say_with("wait-on", &[("stage", &cell.stage), ("state", &cell.says)]),
            then: how_long(words, sight, wall, from, wait),
            url: cell.url,
            state: cell.state,
        }
    };
    sight.stages.graph.waits_of(stage).into_iter().map(line).collect()
}

/// How long after `from` is finished, by what it was done with or else is planned to be.
fn how_long(words: &Words, sight: &Sight, wall: &WallSight, from: StageKind, wait: WaitKind) -> String {
    let bed = sight.stages.bed;
    let window = match wait {
        WaitKind::Finished => return words.say("wait-finished"),
        WaitKind::Fixed(span) => return words.say_with("wait-fixed", &[("span", &words.times.span(span))]),
        WaitKind::Cure(window) => window,
    };
    let used = match sight.standing(wall, from).verdict {
        Verdict::Done { by, .. } => sight.entry(by).and_then(|entry| entry.product.as_ref()),
        _ => None,
    };
    let product = used.or_else(|| sight.stages.products.get(&from));
    let (terms, climate) = (Terms::of(product, window, bed), &sight.stages.temperatures.climate);
    let pace = terms.pace(&climate.present(wall.id(), &sight.stages.now), climate.rule());
    let span = words.times.span(terms.window);
    let (product, bed) = (words.product(product), words.bed(bed));
    let says = words.say_with("wait-cure", &[("span", &span), ("product", &product), ("bed", &bed)]);
    std::iter::once(says).chain(words.at_pace(pace, terms.lowest)).collect::<Vec<_>>().join(". ")
}

impl Refused {
    /// The refusal in words.
    pub fn new(app: &App, sight: &Sight, wall: &WallSight, stage: StageKind, refusal: &Refusal) -> Self {
        let words = sight.words(app);
        let Because { answer, notes } = words.refusal(&wall.name, refusal);
        Self {
            frame: frame(app, sight, words.say("refused-title")),
            answer: answer.join(" "),
            notes,
            cell_url: urls::cell(sight.job(), wall.id(), stage),
            board_url: urls::board(sight.job()),
        }
    }
}

/// The frame of every page of the board.
pub fn frame(app: &App, sight: &Sight, title: String) -> Frame {
    Frame::of_job(app, title, sight.job(), &sight.head.name, Here::Board)
}

/// When the board was seen, in words.
pub fn as_of(words: &Words) -> String {
    words.say_with("board-as-of", &[("now", &words.times.now())])
}
