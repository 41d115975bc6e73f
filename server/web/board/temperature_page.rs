//! The pages of how cold it is.

use askama::Template;
use trade::cure::{Stretch, Temperature};

use super::page::frame;
use super::sight::{Sight, WallSight};
use super::temperature::{FEELS, TypedCorrection, TypedNight, TypedReading};
use super::words::Words;
use crate::app::App;
use crate::store::KeptReading;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// So many readings are listed: those of the last days, with which something may still be wrong.
const SHOWN: usize = 50;

/// What was told, and the forms to tell more.
#[derive(Template)]
#[template(path = "board/temperature.html")]
pub struct TemperaturePage {
    frame: Frame,
    faults: Faults,
    tap: Tap,
    walls: Vec<Choice>,
    wall: Field,
    day: Field,
    days: Vec<Choice>,
    time: Field,
    night: String,
    lowest: Field,
    night_url: String,
    rule: String,
    readings: Vec<ReadingLine>,
    /// That there are more than these.
    latest: Option<String>,
    board_url: String,
}

/// The buttons and the field that tell how cold it is now, as the board and the page have them.
pub struct Tap {
    /// What counts now, wall by wall where they differ.
    pub says: Vec<String>,
    pub feels: Vec<Feel>,
    pub degrees: Field,
    pub hint: String,
    pub url: String,
}

/// One button.
pub struct Feel {
    pub value: &'static str,
    pub words: String,
    pub range: String,
}

struct ReadingLine {
    says: String,
    told: String,
    struck: bool,
    correction: Option<String>,
    /// Why it corrects another.
    why: Option<String>,
    mend_url: Option<String>,
}

/// The form that corrects a reading.
#[derive(Template)]
#[template(path = "board/reading.html")]
pub struct CorrectPage {
    frame: Frame,
    faults: Faults,
    says: String,
    told: String,
    right: Field,
    rights: Vec<Choice>,
    degrees: Field,
    reason: Field,
    url: String,
    back_url: String,
}

impl Tap {
    /// As it stands, with what was typed.
    pub fn of(words: &Words, sight: &Sight, typed: &str, faults: &Faults) -> Self {
        let feel = |(value, tenths): (&'static str, i32)| {
            let above = FEELS.into_iter().map(|(_, next)| next).find(|next| *next > tenths);
            let show = |tenths: i32| Temperature::from_tenths(tenths).map(|at| words.degrees(at));
            let from = show(tenths).unwrap_or_default();
            let range = match above.and_then(|next| show(next - 10)) {
                Some(to) => words.say_with("temperature-from-to", &[("from", &from), ("to", &to)]),
                None => words.say_with("temperature-from", &[("from", &from)]),
            };
            Feel { value, words: words.say(&format!("temperature-{value}")), range }
        };
        Self {
            says: counts_now(words, sight),
            feels: FEELS.into_iter().map(feel).collect(),
            degrees: Field::new("degrees", typed.to_owned()).with(faults),
            hint: words.degrees_hint(),
            url: urls::temperature(sight.job()),
        }
    }
}

/// What counts now: once where it is the same on every wall.
fn counts_now(words: &Words, sight: &Sight) -> Vec<String> {
    let (climate, now) = (&sight.stages.temperatures.climate, &sight.stages.now);
    let says = |wall: &WallSight| counts(words, &climate.present(wall.id(), now));
    let all: Vec<(&str, String)> = sight.walls.iter().map(|wall| (wall.name.as_str(), says(wall))).collect();
    match all.first() {
        Some((_, first)) if all.iter().all(|(_, says)| says == first) => vec![first.clone()],
        _ => all.into_iter().map(|(wall, says)| format!("{wall}: {says}")).collect(),
    }
}

fn counts(words: &Words, present: &Stretch) -> String {
    match present.temperature {
        Some(at) => {
            let key = if present.unknown { "temperature-counts-unknown" } else { "temperature-counts" };
            words.say_with(key, &[("degrees", &words.degrees(at))])
        }
        None => words.say("temperature-nothing"),
    }
}

impl TemperaturePage {
    /// As it stands, with what was typed and what is wrong with it.
    pub fn new(app: &App, sight: &Sight, typed: TypedReading, night: TypedNight, faults: Faults) -> Self {
        let words = sight.words(app);
        let told = &sight.stages.temperatures;
        let walls = sight.walls.iter().map(|wall| Choice::new(wall.id().as_str(), wall.name.clone()));
        let day = if typed.day.is_empty() { words.times.today() } else { typed.day };
        let rule = told.climate.rule();
        let reference = words.degrees(rule.reference());
        Self {
            tap: Tap::of(&words, sight, &typed.degrees, &faults),
            walls: std::iter::once(Choice::new("", words.say("temperature-room"))).chain(walls).collect(),
            wall: Field::new("wall", typed.wall).with(&faults),
            day: Field::new("day", day).with(&faults),
            days: words.times.last_days(None),
            time: Field::new("time", typed.time).with(&faults),
            night: match told.climate.night() {
                Some(night) => words.say_with("temperature-night-is", &[("degrees", &words.degrees(night))]),
                None => words.say("temperature-night-none"),
            },
            lowest: Field::new("lowest", night.lowest).with(&faults),
            night_url: urls::night(sight.job()),
            rule: words.say_with("temperature-rule", &[("reference", &reference)]),
            readings: told.readings.iter().rev().take(SHOWN).map(|kept| line(&words, sight, kept)).collect(),
            latest: (told.readings.len() > SHOWN).then(|| {
                words.say_with("temperature-latest", &[("most", &SHOWN), ("count", &told.readings.len())])
            }),
            board_url: urls::board(sight.job()),
            frame: frame(app, sight, words.say("temperature-title")).faulty_if(!faults.is_empty()),
            faults,
        }
    }
}

fn line(words: &Words, sight: &Sight, kept: &KeptReading) -> ReadingLine {
    let told = &sight.stages.temperatures;
    let corrected = told.corrected_by(kept);
    let stands = corrected.is_none() && kept.reading.temperature.is_some();
    let correction = corrected.map(|by| {
        let (who, when) = (author(sight, by), words.times.at(by.reading.received.wall));
        words.say_with("temperature-corrected", &[("who", &who), ("when", &when)])
    });
    ReadingLine {
        says: says(words, kept),
        told: told_by(words, sight, kept),
        struck: corrected.is_some(),
        correction,
        why: kept.reason.as_ref().map(|reason| words.say_with("entry-why", &[("reason", reason)])),
        mend_url: stands.then(|| urls::reading(sight.job(), &kept.event)),
    }
}

fn says(words: &Words, kept: &KeptReading) -> String {
    let place = words.surface(kept.reading.surface.as_ref());
    let when = words.times.at(kept.reading.held_from);
    match kept.reading.temperature {
        Some(at) => words.say_with(
            "temperature-read",
            &[("place", &place), ("degrees", &words.degrees(at)), ("when", &when)],
        ),
        None => words.say_with("temperature-never-read", &[("place", &place), ("when", &when)]),
    }
}

fn told_by(words: &Words, sight: &Sight, kept: &KeptReading) -> String {
    let (who, when) = (author(sight, kept), words.times.at(kept.reading.received.wall));
    words.say_with("entry-told", &[("who", &who), ("when", &when)])
}

fn author<'a>(sight: &'a Sight, kept: &'a KeptReading) -> &'a str {
    sight.stages.names.get(&kept.author).map_or("", String::as_str)
}

impl CorrectPage {
    /// One reading, with what was typed and what is wrong with it.
    pub fn new(app: &App, sight: &Sight, kept: &KeptReading, typed: TypedCorrection, faults: Faults) -> Self {
        let words = sight.words(app);
        let choice = |value: &str| Choice::new(value, words.say(&format!("temperature-right-{value}")));
        let frame = frame(app, sight, words.say("temperature-correct")).faulty_if(!faults.is_empty());
        let never = frame.leads.then(|| choice("never"));
        let right = if typed.right.is_empty() { "number".to_owned() } else { typed.right };
        Self {
            says: says(&words, kept),
            told: told_by(&words, sight, kept),
            right: Field::new("right", right).with(&faults),
            rights: std::iter::once(choice("number")).chain(never).collect(),
            degrees: Field::new("degrees", typed.degrees).with(&faults),
            reason: Field::new("reason", typed.reason).with(&faults),
            url: urls::reading(sight.job(), &kept.event),
            back_url: urls::temperature(sight.job()),
            frame,
            faults,
        }
    }
}
