//! The page of the look.

use std::sync::Arc;

use askama::Template;
use trade::measure::{Length, Unit};

use super::drawings;
use crate::app::App;
use crate::store::StoredSheet;
use crate::texts::Language;
use crate::web::ask::{Measure, Tick};
use crate::web::form::{Choice, Faults, Field, Fields};
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::work::Planned;

/// Every part, a panel for each language and theme.
#[derive(Template)]
#[template(path = "look/look.html")]
pub struct Look {
    frame: Frame,
    panels: Vec<Panel>,
}

/// Every part in one language and one theme.
struct Panel {
    frame: Frame,
    language: Language,
    theme: &'static str,
    /// Before every id in it.
    prefix: String,
    faults: Faults,
    name: Field,
    wrong_name: Field,
    choice: Field,
    choices: Vec<Choice>,
    inches: Measure,
    millimetres: Measure,
    wrong: Measure,
    tick: Tick,
    when: String,
    readings: usize,
    layout: String,
    cut: String,
    rack: String,
}

impl Look {
    /// All of it.
    pub fn new(app: &App, job: Option<&(StoredSheet, Arc<Planned>)>) -> Self {
        let title = "The look".to_owned();
        // In a job's frame lengths have their pad too.
        let frame = match job {
            Some((stored, _)) => Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall),
            None => Frame::new(app, title),
        };
        let both = |language| ["light", "dark"].map(|theme| Panel::new(app, language, theme, job));
        Self { frame, panels: Language::ALL.into_iter().flat_map(both).collect() }
    }
}

impl Panel {
    fn new(
        app: &App,
        language: Language,
        theme: &'static str,
        job: Option<&(StoredSheet, Arc<Planned>)>,
    ) -> Self {
        let app = App { texts: app.languages.of(language).clone(), ..app.clone() };
        let (frame, texts) = (Frame::new(&app, String::new()), &app.texts);
        let prefix = format!("{}-{theme}", language.tag());
        let named = |name: &str| format!("{prefix}-{name}");
        let mut typed = Fields::default();
        typed.put(&named("inches"), "23 3/4");
        typed.put(&named("millimetres"), "603.5");
        typed.put(&named("wrong"), "23 4/3");
        let mut faults = Faults::default();
        faults.add(&named("wrong-name"), texts.say("fault-name-missing"));
        let tape = |unit| Tape::new(texts, unit);
        let asked = crate::web::tape::Asked::new(named("wrong"), texts.say("wall-width"));
        // Noted among the faults, like every length that cannot be read.
        let _: Option<Length> = tape(Unit::Inch).wanted(&typed, &asked, &mut faults);
        let measure =
            |unit, name: &str| Measure::new(&frame, &tape(unit), &typed, &faults, &named(name), "wall-width");
        let drawn = job.map(|(stored, planned)| (stored, planned.as_ref()));
        Self {
            name: Field::new(&named("name"), "Back wall"),
            wrong_name: Field::new(&named("wrong-name"), "").with(&faults),
            choice: Field::new(&named("choice"), "mm"),
            choices: ["mm", "in"]
                .map(|unit| Choice::new(unit, texts.say(&format!("job-unit-{unit}"))))
                .to_vec(),
            inches: measure(Unit::Inch, "inches"),
            millimetres: measure(Unit::Millimetre, "millimetres"),
            wrong: measure(Unit::Inch, "wrong"),
            tick: Tick::new(&frame, &typed, named("tick"), "sheet-membrane"),
            when: "Wed 3:40 pm".to_owned(),
            readings: 4,
            layout: drawings::layout(texts, drawn, &prefix),
            cut: drawings::cut(texts),
            rack: drawings::rack(texts, &prefix),
            language,
            theme,
            prefix,
            faults,
            frame,
        }
    }
}
