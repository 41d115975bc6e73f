//! The form for what the tape reads in a piece's place.

use askama::Template;
use trade::measure::Length;
use trade::place::{Clear, Piece, Reach};

use super::form::{Doubt, farther, field, reach, reach_field, value};
use super::room::{NoWayBack, Room};
use super::words::Words;
use crate::app::App;
use crate::output::place_drawing::place_drawing;
use crate::store::MeasuredRecord;
use crate::texts::Said;
use crate::web::ask::Measure;
use crate::web::cuts::Refused;
use crate::web::form::{Faults, Field, Fields};
use crate::web::page::{Frame, Here};
use crate::web::times::Times;
use crate::web::urls;

/// The form.
#[derive(Template)]
#[template(path = "fit/measure.html")]
pub struct MeasurePage {
    frame: Frame,
    faults: Faults,
    outrun: bool,
    doubt: Option<Doubt>,
    piece: String,
    place: String,
    asks: Vec<Ask>,
    print: String,
    action: String,
    echo_url: String,
    drawing: Option<String>,
    standing: Vec<Standing>,
    piece_url: String,
    layout_url: String,
    wall_url: String,
}

/// What was understood of it.
#[derive(Template)]
#[template(path = "fit/echo.html")]
pub struct Echo {
    echoes: Vec<(&'static str, String)>,
}

/// What a form shows beside what is stored.
#[derive(Default)]
pub struct Shown {
    pub typed: Fields,
    pub faults: Faults,
    /// The plan has changed since the form was drawn.
    pub outrun: bool,
    /// It is so far off the plan that it is asked about.
    pub doubt: Option<Doubt>,
}

/// One way to lay the tape.
struct Ask {
    measure: Measure,
    /// For whom it goes; empty where it can go for no other.
    reaches: Vec<Choice>,
    name: &'static str,
}

/// For whom a reading goes.
struct Choice {
    value: &'static str,
    words: String,
    chosen: bool,
}

/// A measurement that stands.
struct Standing {
    says: String,
    url: String,
    back: BackForm,
}

/// "Not so after all".
pub struct BackForm {
    pub url: String,
    pub entry: String,
}

impl BackForm {
    /// What takes a measurement back.
    pub fn of(room: &Room, record: &MeasuredRecord) -> Self {
        let url = urls::not_measured(&room.head.id, &record.piece.0);
        Self { url, entry: record.event.as_str().to_owned() }
    }
}

/// The frame of a page of this room.
pub fn frame(app: &App, room: &Room, title: String) -> Frame {
    Frame::of_job(app, title, &room.head.id, &room.head.name, Here::Saw)
}

impl MeasurePage {
    /// The form with what was typed.
    pub fn new(app: &App, room: &Room, shown: Shown) -> Self {
        let Shown { typed, faults, outrun, doubt } = shown;
        let (job, piece) = (&room.head.id, &room.piece.0);
        let words = Words::new(&app.texts, room.head.unit);
        let title = app.texts.say_with("fit-title", &[("piece", piece)]);
        let frame = frame(app, room, title).faulty_if(!faults.is_empty());
        let clear = room.clear();
        let asks = clear.iter().map(|clear| ask(room, &words, clear, &typed, &faults));
        let surface = room.piece_first(&room.piece).map(|piece| piece.surface.to_string());
        let place = place(app, room);
        Self {
            asks: asks.collect(),
            drawing: room.now().and_then(|piece| drawing(app, room, piece, &place)),
            place,
            standing: room.standing().map(|record| standing(app, room, record)).collect(),
            print: room.print(),
            action: urls::fit(job, piece),
            echo_url: urls::fit_echo(job, piece),
            piece_url: urls::cut(job, piece),
            layout_url: urls::layout(job),
            wall_url: surface.map_or_else(|| urls::job(job), |wall| urls::wall(job, &wall)),
            piece: piece.clone(),
            outrun,
            doubt,
            frame,
            faults,
        }
    }
}

impl Echo {
    /// What was understood of each field.
    pub fn new(app: &App, room: &Room, typed: &Fields) -> Self {
        let words = Words::new(&app.texts, room.head.unit);
        let echoes =
            room.clear().iter().map(|clear| (field(clear.way), echo(room, &words, clear, typed))).collect();
        Self { echoes }
    }
}

/// Why a size stays.
pub fn refused(app: &App, room: &Room, why: &NoWayBack) -> Refused {
    let (says, about) = match why {
        NoWayBack::Gone => (app.texts.say("fit-back-gone"), &room.piece),
        NoWayBack::Hangs(run) => {
            let values: [(&str, &dyn Said); 2] = [("piece", &room.piece.0), ("run", run)];
            (app.texts.say_with("cut-refused-set", &values), &room.piece)
        }
        NoWayBack::CutSince(piece) => {
            (app.texts.say_with("fit-back-cut-since", &[("piece", &piece.0)]), piece)
        }
    };
    Refused::new(app, &room.head, app.texts.say("fit-back-refused-title"), says, about)
}

fn ask(room: &Room, words: &Words, clear: &Clear, typed: &Fields, faults: &Faults) -> Ask {
    let name = field(clear.way);
    let measure = Measure {
        label: words.opening(clear.way),
        hint: words.plan(clear),
        field: Field::new(name, typed.get(name)).with(faults),
        echo: echo(room, words, clear, typed),
        pad: words.tape.pad(),
        keyboard: words.tape.keyboard(),
    };
    let farther = farther(clear.way);
    let chosen = reach(typed, clear.way);
    let names: Vec<String> = room.alike(clear.way, farther).into_iter().map(|piece| piece.0).collect();
    let choice = |reach: Reach| Choice {
        value: value(reach),
        chosen: reach == chosen,
        words: match reach {
            Reach::Piece => words.say("fit-for-piece"),
            Reach::Course => words.say_with("fit-for-course", &[("pieces", &names.join(", "))]),
            Reach::Above => words.say_with("fit-for-above", &[("pieces", &names.join(", "))]),
        },
    };
    let reaches =
        if names.is_empty() { Vec::new() } else { [Reach::Piece, farther].map(choice).into_iter().collect() };
    Ask { measure, reaches, name: reach_field(clear.way) }
}

/// What was understood, and what the piece comes to; nothing while it is no opening.
fn echo(room: &Room, words: &Words, clear: &Clear, typed: &Fields) -> String {
    let read = Length::parse(typed.get(field(clear.way)), words.tape.unit());
    match read {
        Ok(opening) if opening > clear.kept_free() => words.comes_to(&room.piece, clear, opening),
        Ok(_) | Err(_) => words.tape.echo(typed.get(field(clear.way))),
    }
}

/// Wall, course and number from the left.
pub fn place(app: &App, room: &Room) -> String {
    let view = crate::web::cuts::View::new(app, &room.head, &room.yard);
    room.now().map(|piece| view.place(piece)).unwrap_or_default()
}

fn drawing(app: &App, room: &Room, piece: &Piece, place: &str) -> Option<String> {
    let all = room.yard.saw.planned.option.pieces.iter();
    let beside: Vec<&Piece> = all.filter(|other| other.surface == piece.surface).collect();
    let title = app.texts.say_with("cut-on-wall", &[("piece", &piece.id.0)]);
    place_drawing("on-wall", &beside, piece, (&title, place))
}

fn standing(app: &App, room: &Room, record: &MeasuredRecord) -> Standing {
    let times = Times::new(&app.texts, &room.head.zone, app.clock.now());
    let (who, when) = (room.yard.log.name(&record.author).to_owned(), times.at(record.at));
    let piece = &record.piece.0;
    let says = app.texts.say_with("fit-standing", &[("piece", piece), ("who", &who), ("when", &when)]);
    let url = urls::fitted(&room.head.id, piece, &record.event);
    Standing { says, url, back: BackForm::of(room, record) }
}
