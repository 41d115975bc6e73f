//! The page of the rough-in sheet: what is wished for, and the answer.

use askama::Template;
use trade::measure::OpeningEdge;
use trade::search::{NoPlace, RoughIn};

use super::Sheet;
use super::answer::{Answer, no_place};
use super::form::Kind;
use crate::app::App;
use crate::store::StoredWish;
use crate::web::ask::Measure;
use crate::web::form::{Choice, Faults, Field, Fields};
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::web::walls::{Missing, missing, wall_name};

/// The sheet.
#[derive(Template)]
#[template(path = "rough_in/sheet.html")]
pub struct RoughInPage {
    frame: Frame,
    faults: Faults,
    /// Someone else was quicker, in words.
    outrun: Option<String>,
    action: String,
    back: String,
    version: i64,
    wishes: Vec<WishLink>,
    name: String,
    /// The number of the wish looked at; nothing for a new one.
    place: String,
    /// Stands for what it was when the page was drawn.
    print: String,
    answer: Option<Answer>,
    no_place: Option<String>,
    missing: Vec<Missing>,
    form: Option<Form>,
}

/// One of the wall's wishes.
struct WishLink {
    name: String,
    url: String,
    here: bool,
}

/// What is asked.
struct Form {
    kind: &'static str,
    title: String,
    /// Folded away, because the answer stands above it.
    folded: bool,
    name: Field,
    sizes: Vec<Measure>,
    x: [Measure; 2],
    y: [Height; 2],
    clearance: Measure,
    edge: Field,
    edges: Vec<Choice>,
    depth: Vec<Measure>,
}

/// A height with its choice of above or below the line.
struct Height {
    measure: Measure,
    side: Field,
    sides: Vec<Choice>,
}

/// What the page is drawn from.
pub struct Shown<'a> {
    /// What the form asks for, where there is one.
    pub kind: Option<Kind>,
    pub looked: Option<&'a StoredWish>,
    pub answer: Option<Result<RoughIn, NoPlace>>,
    pub typed: &'a Fields,
    pub faults: Faults,
}

impl RoughInPage {
    /// The sheet with what was typed, and the answer where there is one.
    pub fn new(app: &App, sheet: &Sheet, shown: Shown<'_>) -> Self {
        let Shown { kind, looked, answer, typed, faults } = shown;
        let stored = &sheet.stored;
        let wall = wall_name(&app.texts, &stored.sheet, &sheet.bare.id);
        let title = app.texts.say_with("rough-title", &[("wall", &wall)]);
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall);
        let frame = frame.faulty_if(!faults.is_empty());
        let tape = Tape::new(&app.texts, stored.sheet.unit);
        let (answer, why_none) = match (looked, answer) {
            (Some(wish), Some(Ok(found))) => (Answer::new(&found, wish, sheet, &app.texts, &tape), None),
            (Some(wish), Some(Err(why))) => (None, Some(no_place(&why, wish, &app.texts, &tape))),
            (None, _) | (_, None) => (None, None),
        };
        let asked = Asked { frame: &frame, tape: &tape, typed, faults: &faults };
        let form = kind.map(|kind| asked.form(kind, looked, answer.is_some()));
        Self {
            outrun: None,
            action: sheet.url(),
            back: sheet.wall_url(),
            version: stored.version,
            wishes: sheet.wishes.iter().map(|wish| link(sheet, wish, looked)).collect(),
            name: looked.map(|wish| wish.name.clone()).unwrap_or_default(),
            place: looked.map(|wish| wish.place.to_string()).unwrap_or_default(),
            print: looked.map(StoredWish::print).unwrap_or_default(),
            answer,
            no_place: why_none,
            missing: sheet
                .plan
                .as_ref()
                .err()
                .map(|why| missing(why, stored, &app.texts))
                .unwrap_or_default(),
            form,
            frame,
            faults,
        }
    }

    /// The same page, saying that someone else was quicker.
    #[must_use]
    pub fn outrun_by_another(self, words: &str) -> Self {
        Self { outrun: Some(self.frame.say(words)), ..self }
    }
}

fn link(sheet: &Sheet, wish: &StoredWish, looked: Option<&StoredWish>) -> WishLink {
    WishLink {
        name: wish.name.clone(),
        url: format!("{}?at={}", sheet.url(), wish.place),
        here: looked.is_some_and(|looked| looked.place == wish.place),
    }
}

struct Asked<'a> {
    frame: &'a Frame,
    tape: &'a Tape,
    typed: &'a Fields,
    faults: &'a Faults,
}

impl Asked<'_> {
    fn form(&self, kind: Kind, looked: Option<&StoredWish>, answered: bool) -> Form {
        let (sizes, depth): (&[&str], &[&str]) = match kind {
            Kind::Niche => (&["width", "height", "lining"], &[]),
            Kind::Valve => (&["diameter"], &["to-bare-wall", "window-least", "window-most"]),
        };
        let measures = |names: &[&str]| names.iter().map(|name| self.measure(name)).collect();
        let title = match (kind, looked) {
            (_, Some(wish)) => self.frame.say1("rough-form-change", "name", &wish.name),
            (Kind::Niche, None) => self.frame.say("rough-form-niche"),
            (Kind::Valve, None) => self.frame.say("rough-form-valve"),
        };
        let edge =
            |edge: OpeningEdge| Choice::new(edge.name(), self.frame.say(&format!("edge-{}", edge.name())));
        Form {
            kind: kind.name(),
            title,
            folded: answered && self.faults.is_empty(),
            name: self.field("name"),
            sizes: measures(sizes),
            x: ["x-from", "x-to"].map(|name| self.measure(name)),
            y: ["y-from", "y-to"].map(|name| self.height(name)),
            clearance: self.measure("clearance"),
            edge: self.field_or("edge", kind.usual_edge().name()),
            edges: OpeningEdge::ALL.map(edge).into(),
            depth: measures(depth),
        }
    }

    fn measure(&self, name: &str) -> Measure {
        Measure::new(self.frame, self.tape, self.typed, self.faults, name, &format!("rough-{name}"))
    }

    fn height(&self, name: &str) -> Height {
        Height {
            measure: self.measure(name),
            side: self.field_or(&format!("{name}-side"), "above"),
            sides: ["above", "below"]
                .map(|side| Choice::new(side, self.frame.say(&format!("wall-{side}"))))
                .to_vec(),
        }
    }

    fn field(&self, name: &str) -> Field {
        Field::new(name, self.typed.get(name)).with(self.faults)
    }

    fn field_or(&self, name: &str, usual: &str) -> Field {
        let typed = self.typed.get(name);
        Field::new(name, if typed.is_empty() { usual } else { typed }).with(self.faults)
    }
}
