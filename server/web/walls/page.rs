//! The page of one wall: its form, its drawing, and what to strike and set once it is planned.

use askama::Template;
use trade::measure::bare::BareWall;
use trade::measure::{OpeningEdge, Role, SurfaceId};

use super::card::Card;
use super::form::{BASE, Draft, ENDS, OPENING, STEPS, TOP, Which};
use super::sketch::{SeenLine, role_words};
use super::words::{self, Missing, wall_name};
use super::{typed, version};
use crate::app::App;
use crate::output::wall_drawing;
use crate::store::StoredSheet;
use crate::web::ask::{Measure, Tick};
use crate::web::form::{Choice, Faults, Field, Fields, cell};
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::web::urls;
use crate::work::{NoPlan, Planned};

/// One wall.
#[derive(Template)]
#[template(path = "walls/wall.html")]
pub struct WallPage {
    frame: Frame,
    faults: Faults,
    /// Someone else changed the job while this was typed.
    outrun: bool,
    /// The lead asked for the drawing.
    drawn_only: bool,
    action: String,
    draw: String,
    version: i64,
    /// The form's summary where it is folded away, because the wall is measured and planned.
    folded: Option<String>,
    line: Option<String>,
    warnings: Vec<String>,
    name: Field,
    /// A new wall's short name.
    id: Option<Field>,
    width: Measure,
    base: Vec<BaseRow>,
    top: Vec<TopRow>,
    ends: Vec<EndRows>,
    base_role: Field,
    base_roles: Vec<Choice>,
    top_role: Field,
    top_roles: Vec<Choice>,
    top_may_move: Measure,
    openings: Vec<OpeningRows>,
    openings_open: bool,
    tiles: Vec<Choice>,
    field_tile: Field,
    field_upright: Tick,
    strip_tile: Field,
    strip_tiles: Vec<Choice>,
    strip_least: Height,
    strip_most: Height,
    strip_open: bool,
    pattern: Field,
    patterns: Vec<Choice>,
    step: Field,
    steps: Vec<Choice>,
    step_other: Field,
    drawn: Drawn,
    missing: Vec<Missing>,
    card: Option<Card>,
    layout_url: String,
    /// Where to frame what is not built yet; of a stored wall.
    rough_in_url: String,
    back: String,
}

/// The drawing of what is typed, with what was understood of every length: alone it is what the script fetches.
#[derive(Template)]
#[template(path = "walls/drawn.html")]
pub struct Drawn {
    texts: DrawnWords,
    svg: Option<String>,
    lines: Vec<SeenLine>,
    warnings: Vec<String>,
    echoes: Vec<(String, String)>,
}

struct DrawnWords {
    nothing: String,
    table: String,
    what: String,
    x: String,
    height: String,
}

struct BaseRow {
    x: Measure,
    drop: Measure,
    curb: Tick,
}

struct TopRow {
    x: Measure,
    rise: Measure,
}

struct EndRows {
    heading: String,
    role: Field,
    roles: Vec<Choice>,
    /// Which wall an inside corner is taken to meet.
    taken: String,
    meets: Field,
    walls: Vec<Choice>,
    first: Field,
    firsts: Vec<Choice>,
}

/// A height with its choice of above or below the line.
struct Height {
    measure: Measure,
    side: Field,
    sides: Vec<Choice>,
}

struct OpeningRows {
    heading: String,
    name: Field,
    kind: Field,
    kinds: Vec<Choice>,
    x: Measure,
    y: Height,
    width: Measure,
    height: Measure,
    clearance: Measure,
    edge: Field,
    edges: Vec<Choice>,
}

/// Rows added by one press of "more rows".
const MORE: usize = 4;

/// What the page is drawn from.
pub struct Shown<'a> {
    pub stored: &'a StoredSheet,
    pub which: Which<'a>,
    pub typed: &'a Fields,
    pub faults: Faults,
    /// The list that is to have more rows.
    pub more: &'a str,
}

impl WallPage {
    /// The form with what was typed and what is wrong with it, and its drawing.
    pub fn new(app: &App, shown: Shown<'_>) -> Self {
        let Shown { stored, which, typed, faults, more } = shown;
        let title = match which {
            Which::New => app.texts.say("wall-new-title"),
            Which::Stored(id) => wall_name(&app.texts, &stored.sheet, id),
        };
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall);
        let frame = frame.faulty_if(!faults.is_empty());
        let tape = Tape::new(&app.texts, stored.sheet.unit);
        let form = Form { frame: &frame, tape: &tape, typed, faults: &faults, stored, which };
        let drawn = Drawn::new(app, stored, which, typed);
        let action = match which {
            Which::New => urls::new_wall(&stored.id),
            Which::Stored(id) => urls::wall(&stored.id, id.as_str()),
        };
        let opening_rows = form.rows("opening", &OPENING, 1, 1, more);
        let strip_fields = ["strip-tile", "strip-least", "strip-most"];
        Self {
            outrun: false,
            drawn_only: false,
            action,
            draw: urls::draw_wall(&stored.id),
            version: version(typed).unwrap_or(stored.version),
            folded: None,
            line: moved_line(&frame, &tape, stored),
            warnings: drawn.warnings.clone(),
            name: form.field("name"),
            id: matches!(which, Which::New).then(|| form.field("id")),
            width: form.measure("width", "wall-width"),
            base: (0..form.rows("base", &BASE, 2, 3, more)).map(|row| form.base(row)).collect(),
            top: (0..form.rows("top", &TOP, 1, 2, more)).map(|row| form.top(row)).collect(),
            ends: ENDS.map(|end| form.end(end)).into(),
            base_role: form.field_or("base-role", Role::Base.name()),
            base_roles: form.roles(&[Role::Base, Role::Trim, Role::Bare, Role::Hidden], "base-role"),
            top_role: form.field_or("top-role", Role::Ceiling.name()),
            top_roles: form
                .roles(&[Role::Ceiling, Role::Trim, Role::Mitre, Role::Bare, Role::Hidden], "top-role"),
            top_may_move: form.measure("top-may-move", "wall-top-may-move"),
            openings_open: opening_rows > 1 || more == "opening" || form.any_faulty("opening-"),
            openings: (0..opening_rows).map(|row| form.opening(row)).collect(),
            tiles: form.tiles(),
            field_tile: form
                .field_or("field-tile", typed::usual_tile(&stored.sheet).map_or("", |tile| tile.0.as_str())),
            field_upright: form.tick("field-upright".to_owned(), "wall-field-upright"),
            strip_tile: form.field("strip-tile"),
            strip_tiles: [Choice::new("", frame.say("wall-no-strip"))]
                .into_iter()
                .chain(form.tiles())
                .collect(),
            strip_least: form.height("strip-least", "wall-strip-least"),
            strip_most: form.height("strip-most", "wall-strip-most"),
            strip_open: strip_fields.iter().any(|name| typed.ticked(name)) || form.any_faulty("strip-"),
            pattern: form.field_or("pattern", "straight"),
            patterns: form.patterns(),
            step: form.field_or("step", STEPS[0]),
            steps: form.steps(),
            step_other: form.field("step-other"),
            drawn,
            missing: Vec::new(),
            card: None,
            layout_url: urls::layout(&stored.id),
            rough_in_url: match which {
                Which::New => String::new(),
                Which::Stored(id) => urls::rough_in(&stored.id, id),
            },
            back: urls::job(&stored.id),
            frame,
            faults,
        }
    }

    /// The same page, saying that someone else was quicker. Sent again, it replaces what they changed.
    #[must_use]
    pub fn outrun_by_another(self, version: i64) -> Self {
        Self { outrun: true, version, ..self }
    }

    /// The same page, drawn again from what is typed and not saved.
    #[must_use]
    pub fn drawn_only(self) -> Self {
        Self { drawn_only: true, ..self }
    }

    /// The same page with what the plan says of the wall, or why there is none.
    #[must_use]
    pub fn planned(
        mut self,
        app: &App,
        stored: &StoredSheet,
        bare: &BareWall,
        plan: &Result<std::sync::Arc<Planned>, NoPlan>,
    ) -> Self {
        let tape = Tape::new(&app.texts, stored.sheet.unit);
        match plan {
            Ok(planned) => self.card = Card::new(stored, bare, planned, &app.texts, &tape),
            Err(no_plan) => self.missing = words::missing(no_plan, stored, &app.texts),
        }
        if self.card.is_some() && self.warnings.is_empty() && self.faults.is_empty() {
            let readings = bare.base.len() + bare.top.len();
            let width = tape.show(bare.width);
            self.folded =
                Some(self.frame.say_with("wall-measures", &[("width", &width), ("readings", &readings)]));
        }
        self
    }
}

/// Where today's line is, once it has moved.
pub fn moved_line(frame: &Frame, tape: &Tape, stored: &StoredSheet) -> Option<String> {
    let shift = stored.line_shift.0;
    let key = match shift.units().signum() {
        1 => "line-is-higher",
        -1 => "line-is-lower",
        _ => return None,
    };
    Some(frame.say1(key, "shift", &tape.show_gap(shift.abs())))
}

impl Drawn {
    /// The drawing of what is typed so far.
    pub fn new(app: &App, stored: &StoredSheet, which: Which<'_>, typed: &Fields) -> Self {
        let (texts, tape) = (&app.texts, Tape::new(&app.texts, stored.sheet.unit));
        let draft = Draft::read(typed, stored, which, texts);
        let seen = draft.seen();
        let corners = ENDS.map(|end| (format!("{end}-role"), words::corner(typed, end, stored, texts)));
        let wall = draft.wall().map(|today| today.raised(stored.line_shift.0));
        Self {
            texts: DrawnWords {
                nothing: texts.say("wall-drawing-nothing"),
                table: texts.say("wall-drawing-table"),
                what: texts.say("wall-column-what"),
                x: texts.say("wall-column-x"),
                height: texts.say("wall-column-height"),
            },
            svg: wall_drawing::draw(&seen.sketch(texts, &tape), "measured"),
            lines: seen.lines(texts, &tape),
            warnings: wall.map(|wall| words::misreadings(&wall, stored, texts)).unwrap_or_default(),
            echoes: echoes(typed, &tape).into_iter().chain(corners).collect(),
        }
    }
}

/// What was understood of each length typed.
fn echoes(typed: &Fields, tape: &Tape) -> Vec<(String, String)> {
    let columns = |list: &str, names: &[&str]| -> Vec<String> {
        (0..typed.rows(list)).flat_map(|row| names.iter().map(move |name| cell(list, row, name))).collect()
    };
    let mut names = ["width", "top-may-move", "strip-least", "strip-most"].map(str::to_owned).to_vec();
    names.extend(columns("base", &BASE));
    names.extend(columns("top", &TOP));
    names.extend(columns("opening", &OPENING[1..]));
    names
        .into_iter()
        .map(|name| {
            let echo = tape.echo(typed.get(&name));
            (name, echo)
        })
        .collect()
}

/// What every field of the form is made from.
struct Form<'a> {
    frame: &'a Frame,
    tape: &'a Tape,
    typed: &'a Fields,
    faults: &'a Faults,
    stored: &'a StoredSheet,
    which: Which<'a>,
}

impl Form<'_> {
    /// The rows filled and some empty ones, at least a few.
    fn rows(&self, list: &str, columns: &[&str], spare: usize, least: usize, more: &str) -> usize {
        let filled = self.typed.filled(list, columns).last().map_or(0, |last| last + 1);
        let rows = (filled + spare).max(least).max(self.typed.rows(list));
        if more == list { rows + MORE } else { rows }
    }

    fn field(&self, name: &str) -> Field {
        Field::new(name, self.typed.get(name)).with(self.faults)
    }

    fn field_or(&self, name: &str, usual: &str) -> Field {
        let typed = self.typed.get(name);
        Field::new(name, if typed.is_empty() { usual } else { typed }).with(self.faults)
    }

    fn measure(&self, name: &str, words: &str) -> Measure {
        Measure::new(self.frame, self.tape, self.typed, self.faults, name, words)
    }

    fn tick(&self, name: String, words: &str) -> Tick {
        Tick::new(self.frame, self.typed, name, words)
    }

    fn any_faulty(&self, beginning: &str) -> bool {
        self.faults.iter().any(|fault| fault.field.starts_with(beginning))
    }

    fn reading(&self, list: &str, row: usize, column: &str) -> Measure {
        let mut measure = self.measure(&cell(list, row, column), "wall-reading");
        measure.label = self.frame.say1(&format!("wall-{list}-{column}-of"), "number", &(row + 1));
        measure
    }

    fn base(&self, row: usize) -> BaseRow {
        let mut curb = self.tick(cell("base", row, "curb"), "wall-curb");
        curb.label = self.frame.say1("wall-base-curb-of", "number", &(row + 1));
        BaseRow { x: self.reading("base", row, "x"), drop: self.reading("base", row, "drop"), curb }
    }

    fn top(&self, row: usize) -> TopRow {
        TopRow { x: self.reading("top", row, "x"), rise: self.reading("top", row, "rise") }
    }

    fn roles(&self, usual: &[Role], name: &str) -> Vec<Choice> {
        // A wall from a file may have a role that is not usual here; it stays.
        let stored = Role::from_name(self.typed.get(name)).filter(|role| !usual.contains(role));
        let roles = usual.iter().copied().chain(stored);
        roles.map(|role| Choice::new(role.name(), role_words(self.frame.texts(), role))).collect()
    }

    fn end(&self, end: &str) -> EndRows {
        let own = |id: &SurfaceId| matches!(self.which, Which::Stored(this) if this == id);
        let others = self.stored.sheet.walls.iter().filter(|wall| !own(&wall.id));
        let none = Choice::new("", self.frame.say("wall-meets-none"));
        let other = |wall: &BareWall| {
            Choice::new(wall.id.as_str(), wall_name(self.frame.texts(), &self.stored.sheet, &wall.id))
        };
        EndRows {
            heading: self.frame.say(&format!("wall-{end}")),
            role: self.field_or(&format!("{end}-role"), Role::Corner.name()),
            roles: self.roles(
                &[Role::Corner, Role::Trim, Role::Mitre, Role::Bare, Role::Hidden],
                &format!("{end}-role"),
            ),
            taken: words::corner(self.typed, end, self.stored, self.frame.texts()),
            meets: self.field(&format!("{end}-meets")),
            walls: [none].into_iter().chain(others.map(other)).collect(),
            first: self.field_or(&format!("{end}-first"), "this"),
            firsts: ["this", "neighbour"]
                .map(|first| Choice::new(first, self.frame.say(&format!("wall-first-{first}"))))
                .to_vec(),
        }
    }

    fn height(&self, name: &str, words: &str) -> Height {
        Height {
            measure: self.measure(name, words),
            side: self.field_or(&format!("{name}-side"), "above"),
            sides: ["above", "below"]
                .map(|side| Choice::new(side, self.frame.say(&format!("wall-{side}"))))
                .to_vec(),
        }
    }

    fn opening(&self, row: usize) -> OpeningRows {
        let name = |column: &str| cell("opening", row, column);
        let measure = |column: &str| self.measure(&name(column), &format!("wall-opening-{column}"));
        let usual = Choice::new("", self.frame.say("wall-edge-usual"));
        let edge =
            |edge: OpeningEdge| Choice::new(edge.name(), self.frame.say(&format!("edge-{}", edge.name())));
        OpeningRows {
            heading: self.frame.say1("wall-opening-number", "number", &(row + 1)),
            name: self.field(&name("name")),
            kind: self.field_or(&name("kind"), "rectangle"),
            kinds: ["rectangle", "circle"]
                .map(|kind| Choice::new(kind, self.frame.say(&format!("wall-kind-{kind}"))))
                .to_vec(),
            x: measure("x"),
            y: self.height(&name("y"), "wall-opening-y"),
            width: measure("width"),
            height: measure("height"),
            clearance: measure("clearance"),
            edge: self.field(&name("edge")),
            edges: [usual].into_iter().chain(OpeningEdge::ALL.map(edge)).collect(),
        }
    }

    fn tiles(&self) -> Vec<Choice> {
        self.stored.sheet.tiles.keys().map(|tile| Choice::new(tile.0.clone(), tile.0.clone())).collect()
    }

    fn patterns(&self) -> Vec<Choice> {
        let usual = ["straight", "right", "left"];
        let typed = self.typed.get("pattern");
        let own = (!typed.is_empty() && !usual.contains(&typed))
            .then(|| Choice::new(typed, self.frame.say1("wall-pattern-own", "pattern", &typed)));
        let usual = usual.map(|kind| Choice::new(kind, self.frame.say(&format!("wall-pattern-{kind}"))));
        usual.into_iter().chain(own).collect()
    }

    fn steps(&self) -> Vec<Choice> {
        let other = Choice::new("other", self.frame.say("wall-step-other-choice"));
        STEPS.map(|step| Choice::new(step, step)).into_iter().chain([other]).collect()
    }
}
