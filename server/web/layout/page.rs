//! The page of the layout in force.

use askama::Template;
use trade::advice::Advice;
use trade::course::lines_to_strike;
use trade::measure::{Length, SurfaceId, TileId};
use trade::search::{LayoutOption, TileCutting};

use super::choices::{Choices, Heights, LineChoice, Span};
use super::form::{JOINT_FIELD, LINE_FIELD, TypedMove};
use super::wall::{Drawn, WallPart};
use super::words::Tape;
use crate::app::App;
use crate::store::StoredSheet;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::Planned;

/// What was sent and is wrong, and what stands open.
pub struct Typed {
    pub typed: TypedMove,
    pub faults: Faults,
    /// The id of the part whose choices stand open.
    pub open: String,
}

/// The layout in force.
#[derive(Template)]
#[template(path = "layout/show.html")]
pub struct Show {
    frame: Frame,
    faults: Faults,
    action: String,
    version: i64,
    totals: Vec<Total>,
    figures: Vec<Figure>,
    walls: Vec<WallPart>,
    line: LinePart,
    joint: JointPart,
    advice: Vec<AdviceLine>,
    /// Something was chosen by hand.
    chosen: bool,
}

/// The tiles of one kind to buy.
struct Total {
    tile: String,
    bought: String,
    made_of: String,
    proved: bool,
    bound: String,
    saved: String,
}

/// One number with its name.
pub struct Figure {
    pub name: String,
    pub value: String,
    /// The class of a state, or nothing.
    pub state: &'static str,
}

/// One choice as a button, or as it is now.
pub struct Offer {
    pub words: String,
    pub gives: String,
    pub typed: String,
    pub way: &'static str,
    pub in_force: bool,
}

/// The course line of all walls.
struct LinePart {
    open: bool,
    now: String,
    field: Field,
    way: String,
    ways: Vec<Choice>,
    keyboard: &'static str,
    offers: Vec<Offer>,
    chosen: bool,
}

/// The joint.
struct JointPart {
    open: bool,
    now: String,
    field: Field,
    keyboard: &'static str,
    chosen: bool,
}

/// What one rule says.
struct AdviceLine {
    state: &'static str,
    word: String,
    says: String,
    source: String,
}

impl Show {
    /// The page as it stands, with what was typed where it is wrong.
    pub fn new(app: &App, stored: &StoredSheet, planned: &Planned, choices: &Choices, typed: Typed) -> Self {
        let sheet = &stored.sheet;
        let frame = Frame::of_job(app, app.texts.say("layout-title"), &stored.id, &sheet.name, Here::Wall)
            .faulty_if(!typed.faults.is_empty());
        let tape = Tape::new(&app.texts, sheet.unit, stored.line_shift);
        let option = &planned.option;
        let strikes = lines_to_strike(&planned.job, &option.layout, &option.courses);
        let drawn = Drawn { stored, planned, tape: &tape, typed: &typed };
        let in_order = planned.job.surfaces.iter();
        let walls = in_order
            .filter_map(|surface| {
                let starts = choices.starts.get(&surface.id).map(Vec::as_slice).unwrap_or_default();
                WallPart::new(&drawn, surface, starts, strikes.get(&surface.id))
            })
            .collect();
        let called = |id: &SurfaceId| {
            let wall = planned.job.surface(id);
            wall.map_or_else(|| id.to_string(), |wall| wall_name(&wall.name, id))
        };
        Self {
            action: urls::layout(&stored.id),
            version: stored.version,
            totals: option
                .cutting
                .iter()
                .map(|(id, cutting)| Total::new(&tape, planned, id, cutting))
                .collect(),
            figures: figures(&tape, option),
            walls,
            line: LinePart::new(&drawn, &choices.lines),
            joint: JointPart::new(&drawn),
            advice: option.advice.iter().map(|advice| AdviceLine::new(&tape, advice, &called)).collect(),
            chosen: sheet.layout != trade::measure::Layout::default(),
            faults: typed.faults,
            frame,
        }
    }
}

/// What a wall is called, with its letter where that is not its name.
pub fn wall_name(name: &str, id: &SurfaceId) -> String {
    if name == id.as_str() || name.is_empty() { id.to_string() } else { format!("{name} ({id})") }
}

impl Total {
    fn new(tape: &Tape, planned: &Planned, id: &TileId, cutting: &TileCutting) -> Self {
        let tile = planned.job.tiles.get(id);
        let size =
            tile.map(|tile| format!("{} × {}", tape.show_fine(tile.width), tape.show_fine(tile.height)));
        let (bought, bound, cut_into) = (cutting.bought(), cutting.bound(), cutting.plan.stock.len());
        let saved = cutting.plan.in_setting_order.saturating_sub(cut_into);
        let (key, proved) =
            if bought == bound { ("layout-proved", true) } else { ("layout-at-least", false) };
        Self {
            tile: tape.say_with("layout-tile", &[("tile", &id.0), ("size", &size.unwrap_or_default())]),
            bought: tape.say1("layout-tiles", "count", &bought),
            made_of: tape.say_with(
                "layout-made-of",
                &[("whole", &cutting.full), ("cut", &cut_into), ("bought", &bought)],
            ),
            proved,
            bound: tape.say1(key, "bound", &bound),
            saved: tape.say1("layout-saved", "count", &saved),
        }
    }
}

/// The figures that a layout is chosen by.
fn figures(tape: &Tape, option: &LayoutOption) -> Vec<Figure> {
    let figures = option.figures;
    let narrowest = figures.narrowest_cut.map(|least| tape.show_cut(least));
    vec![
        Figure::new(tape, "layout-narrowest", narrowest.unwrap_or_else(|| tape.say("layout-no-cut"))),
        Figure::slivers(tape, figures.slivers),
        Figure::new(tape, "layout-saw-cuts", figures.cuts.to_string()),
        Figure::new(tape, "layout-base-gap", tape.show_fine(figures.base_gap_largest)),
    ]
}

impl Figure {
    /// A number by the key of its name.
    pub fn new(tape: &Tape, name: &str, value: String) -> Self {
        Self { name: tape.say(name), value, state: "" }
    }

    /// How many slivers: none is well, any is to be looked at.
    pub fn slivers(tape: &Tape, count: usize) -> Self {
        let state = if count > 0 { "state look" } else { "" };
        Self { state, ..Self::new(tape, "layout-slivers", count.to_string()) }
    }
}

impl LinePart {
    fn new(drawn: &Drawn<'_>, lines: &[LineChoice]) -> Self {
        let (tape, typed) = (drawn.tape, drawn.typed);
        let now = drawn.planned.option.layout.course_line.values().next().copied().unwrap_or_default();
        let today = tape.today(now);
        let mut field = Field::new(LINE_FIELD, tape.typed(today.abs()));
        let mut way = way_of(today);
        if typed.faults.of(LINE_FIELD).is_some() {
            field = Field::new(LINE_FIELD, typed.typed.typed.clone()).with(&typed.faults);
            way = if typed.typed.way == "above" { "above" } else { "below" };
        }
        Self {
            open: typed.open == "courses" || field.fault.is_some(),
            now: tape.say1("layout-line-now", "height", &tape.height(now)),
            field,
            way: way.to_owned(),
            ways: vec![
                Choice::new("below", tape.say("layout-way-below")),
                Choice::new("above", tape.say("layout-way-above")),
            ],
            keyboard: tape.keyboard(),
            offers: lines.iter().map(|choice| line_offer(tape, choice)).collect(),
            chosen: !drawn.stored.sheet.layout.course_line.is_empty(),
        }
    }
}

fn way_of(today: Length) -> &'static str {
    if today > Length::ZERO { "above" } else { "below" }
}

fn line_offer(tape: &Tape, choice: &LineChoice) -> Offer {
    let today = tape.today(choice.line);
    let Heights { first, last } = &choice.gives;
    let (first, last) = (span(tape, first), span(tape, last));
    Offer {
        words: tape.say_with("layout-line-gives", &[("first", &first), ("last", &last)]),
        gives: tape.say1("layout-line-at", "height", &tape.height(choice.line)),
        typed: today.abs().exact(),
        way: way_of(today),
        in_force: choice.in_force,
    }
}

/// `whole`, `140 mm`, or `180 to 200 mm`.
fn span(tape: &Tape, span: &Span) -> String {
    let (least, most) = (tape.show_cut(span.least), tape.show_cut(span.most));
    if span.least >= span.whole {
        tape.say("layout-whole")
    } else if least == most {
        least
    } else {
        tape.say_with("layout-from-to", &[("least", &least), ("most", &most)])
    }
}

impl JointPart {
    fn new(drawn: &Drawn<'_>) -> Self {
        let (tape, typed) = (drawn.tape, drawn.typed);
        let now = drawn.planned.option.layout.joint.unwrap_or(drawn.planned.job.joint);
        let field = if typed.faults.of(JOINT_FIELD).is_some() {
            Field::new(JOINT_FIELD, typed.typed.typed.clone()).with(&typed.faults)
        } else {
            Field::new(JOINT_FIELD, tape.typed(now))
        };
        Self {
            open: typed.open == "joint-width" || field.fault.is_some(),
            now: tape.say1("layout-joint-now", "joint", &tape.show_fine(now)),
            field,
            keyboard: tape.keyboard(),
            chosen: drawn.stored.sheet.layout.joint.is_some(),
        }
    }
}

impl AdviceLine {
    fn new(tape: &Tape, advice: &Advice, wall: &dyn Fn(&SurfaceId) -> String) -> Self {
        let (state, word) =
            if advice.passes { ("done", "layout-advice-kept") } else { ("look", "layout-advice-look") };
        Self { state, word: tape.say(word), says: tape.finding(advice, wall), source: tape.source(advice) }
    }
}
