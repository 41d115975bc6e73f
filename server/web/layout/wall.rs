//! One wall of the layout: its drawing, figures, choices and pieces.

use askama::Template;
use trade::course::{Strike, WallCourses};
use trade::measure::{FirstCourse, Length, Surface, SurfaceId};
use trade::place::Piece;

use super::choices::{StartChoice, StartKind, steps};
use super::form::{chosen_on, start_field};
use super::page::{Figure, Offer, Typed, wall_name};
use super::wall_anchor;
use super::words::Tape;
use crate::app::App;
use crate::output::layout_drawing::{View, WallDrawing, Words};
use crate::store::StoredSheet;
use crate::web::form::Field;
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::Planned;

/// All that the parts of the page are made from.
pub struct Drawn<'a> {
    pub stored: &'a StoredSheet,
    pub planned: &'a Planned,
    pub tape: &'a Tape,
    pub typed: &'a Typed,
}

/// One wall on the page.
pub struct WallPart {
    pub anchor: String,
    pub id: String,
    pub title: String,
    pub drawing: String,
    pub close_url: String,
    pub figures: Vec<Figure>,
    /// What to strike before the first tile.
    pub strike: String,
    /// The choices stand open.
    pub open: bool,
    pub field: Field,
    pub keyboard: &'static str,
    pub starts: Vec<Offer>,
    /// Which way the step climbs; empty where the courses do not step.
    pub climbs: Vec<Offer>,
    pub firsts: Vec<Offer>,
    pub chosen: bool,
    pub rows: Vec<Row>,
}

/// One course in the table.
pub struct Row {
    pub course: String,
    pub whole: usize,
    /// The cut ones from left to right.
    pub cut: String,
}

/// One wall as large as it takes.
#[derive(Template)]
#[template(path = "layout/close.html")]
pub struct Close {
    frame: Frame,
    back: String,
    drawing: String,
    /// The class for the wall's proportions.
    shape: &'static str,
}

impl WallPart {
    /// `None` for a wall without courses, which a plan never has.
    pub fn new(
        drawn: &Drawn<'_>,
        surface: &Surface,
        starts: &[StartChoice],
        strike: Option<&Strike>,
    ) -> Option<Self> {
        let (tape, option) = (drawn.tape, &drawn.planned.option);
        let courses = option.courses.walls.get(&surface.id)?;
        let pieces = pieces_of(drawn.planned, &surface.id);
        let (id, field) = (&surface.id, start_field(&surface.id));
        let now = option.layout.starts.get(id).copied().unwrap_or_default();
        let typed = drawn.typed;
        let field = if typed.faults.of(&field).is_some() {
            Field::new(&field, typed.typed.typed.clone()).with(&typed.faults)
        } else {
            Field::new(&field, tape.typed(now))
        };
        Some(Self {
            anchor: wall_anchor(id),
            id: id.to_string(),
            title: wall_name(&surface.name, id),
            drawing: drawing(tape, drawn.planned, surface, courses, View::Glance),
            close_url: urls::layout_wall(&drawn.stored.id, id.as_str()),
            figures: figures(tape, courses, &pieces),
            strike: strike.map(|strike| strike_words(tape, strike)).unwrap_or_default(),
            open: typed.open == wall_anchor(id) || field.fault.is_some(),
            field,
            keyboard: tape.keyboard(),
            starts: starts.iter().map(|choice| start_offer(tape, choice)).collect(),
            climbs: climb_offers(drawn, surface),
            firsts: first_offers(tape, courses.first_course),
            chosen: chosen_on(&drawn.stored.sheet.layout, id),
            rows: rows(tape, courses, &pieces),
        })
    }
}

impl Close {
    /// `None` when there is no such wall.
    pub fn new(app: &App, stored: &StoredSheet, planned: &Planned, wall: &SurfaceId) -> Option<Self> {
        let tape = Tape::new(&app.texts, stored.sheet.unit, stored.line_shift);
        let surface = planned.job.surface(wall)?;
        let courses = planned.option.courses.walls.get(wall)?;
        let name = wall_name(&surface.name, wall);
        let title = tape.say1("layout-wall-title", "wall", &name);
        let highest = surface.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
        let lowest = surface.base.iter().map(|reading| reading.drop).max().unwrap_or_default();
        Some(Self {
            frame: Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall),
            back: format!("{}#{}", urls::layout(&stored.id), wall_anchor(wall)),
            drawing: drawing(&tape, planned, surface, courses, View::Close),
            shape: if highest + lowest > surface.width { "close high" } else { "close long" },
        })
    }
}

fn pieces_of<'a>(planned: &'a Planned, wall: &SurfaceId) -> Vec<&'a Piece> {
    planned.option.pieces.iter().filter(|piece| piece.surface == *wall).collect()
}

fn drawing(tape: &Tape, planned: &Planned, surface: &Surface, courses: &WallCourses, view: View) -> String {
    let pieces = pieces_of(planned, &surface.id);
    let whole = pieces.iter().filter(|piece| piece.full).count();
    let cut = pieces.len() - whole;
    let description = tape
        .say_with("layout-drawing-says", &[("whole", &whole), ("cut", &cut), ("unit", &tape.unit_name())]);
    WallDrawing {
        surface,
        courses,
        pieces: &pieces,
        level: -tape.today(Length::ZERO),
        unit: tape.unit(),
        view,
        words: Words {
            title: tape.say1("layout-wall-title", "wall", &wall_name(&surface.name, &surface.id)),
            description,
            level_line: tape.say("layout-level-line"),
            course: &|number| tape.say1("layout-course", "number", &number),
        },
    }
    .draw(&format!("drawing-{}", surface.id))
}

fn figures(tape: &Tape, courses: &WallCourses, pieces: &[&Piece]) -> Vec<Figure> {
    let whole = pieces.iter().filter(|piece| piece.full).count();
    let narrowest = pieces.iter().filter_map(|piece| piece.least_cut_side()).min();
    let carrying = courses.stations.iter().filter(|station| station.carries);
    let gap = carrying.map(|station| station.gap).max().unwrap_or_default();
    vec![
        Figure::new(tape, "layout-whole-tiles", whole.to_string()),
        Figure::new(tape, "layout-cut-pieces", (pieces.len() - whole).to_string()),
        Figure::new(
            tape,
            "layout-narrowest",
            narrowest.map_or_else(|| tape.say("layout-no-cut"), |least| tape.show_cut(least)),
        ),
        Figure::slivers(tape, pieces.iter().filter(|piece| piece.sliver.is_some()).count()),
        Figure::new(tape, "layout-base-gap", tape.show_fine(gap)),
    ]
}

fn strike_words(tape: &Tape, strike: &Strike) -> String {
    let level = tape.height(strike.level);
    match strike.plumb {
        Some(x) => tape.say_with("layout-strike", &[("level", &level), ("plumb", &tape.show(x))]),
        None => tape.say1("layout-strike-level", "level", &level),
    }
}

fn start_offer(tape: &Tape, choice: &StartChoice) -> Offer {
    let kinds: Vec<String> = choice.kinds.iter().map(|kind| tape.say(kind_key(*kind))).collect();
    let gives = &choice.gives;
    let slivers = tape.say1("layout-gives-slivers", "count", &gives.slivers);
    let ends = gives.lowest.map(|(first, last)| {
        let (first, last) = (tape.show_cut(first), tape.show_cut(last));
        tape.say_with("layout-gives-ends", &[("first", &first), ("last", &last)])
    });
    let narrowest =
        gives.narrowest.map(|least| tape.say1("layout-gives-narrowest", "least", &tape.show_cut(least)));
    let gives: Vec<String> = ends.into_iter().chain(narrowest).chain([slivers]).collect();
    Offer {
        words: kinds.join(", "),
        gives: gives.join("; "),
        typed: choice.start.exact(),
        way: "",
        in_force: choice.in_force,
    }
}

fn kind_key(kind: StartKind) -> &'static str {
    match kind {
        StartKind::Proposed(1) => "layout-start-best",
        StartKind::Proposed(2) => "layout-start-second",
        StartKind::Proposed(_) => "layout-start-third",
        StartKind::JointCentred => "layout-start-joint-centred",
        StartKind::TileCentred => "layout-start-tile-centred",
        StartKind::WholeAtLeft => "layout-start-whole-left",
        StartKind::WholeAtRight => "layout-start-whole-right",
        StartKind::QuarterLeft => "layout-start-quarter-left",
        StartKind::QuarterRight => "layout-start-quarter-right",
    }
}

fn climb_offers(drawn: &Drawn<'_>, surface: &Surface) -> Vec<Offer> {
    let Some(measured) = steps(surface) else { return Vec::new() };
    let left = drawn.planned.option.layout.mirror.get(&surface.id).copied().unwrap_or(measured);
    let offer = |way, words, in_force| Offer {
        words: drawn.tape.say(words),
        gives: String::new(),
        typed: String::new(),
        way,
        in_force,
    };
    vec![offer("right", "layout-climb-right", !left), offer("left", "layout-climb-left", left)]
}

fn first_key(first: FirstCourse) -> &'static str {
    match first {
        FirstCourse::Propped => "layout-first-propped",
        FirstCourse::Scribed => "layout-first-scribed",
    }
}

fn first_offers(tape: &Tape, now: FirstCourse) -> Vec<Offer> {
    let offer = |first, way, gives| Offer {
        words: tape.say(first_key(first)),
        gives: tape.say(gives),
        typed: String::new(),
        way,
        in_force: first == now,
    };
    vec![
        offer(FirstCourse::Propped, "propped", "layout-first-propped-is"),
        offer(FirstCourse::Scribed, "scribed", "layout-first-scribed-is"),
    ]
}

/// From the top down, as the wall is seen.
fn rows(tape: &Tape, courses: &WallCourses, pieces: &[&Piece]) -> Vec<Row> {
    let row = |course: &trade::course::Course| {
        let of_course =
            || pieces.iter().filter(|piece| piece.course == course.number && piece.band == course.band);
        let cut: Vec<String> =
            of_course().filter(|piece| !piece.full).map(|piece| cut_words(tape, piece)).collect();
        let key = if course.strip { "layout-strip-above" } else { "layout-course" };
        Row {
            course: tape.say1(key, "number", &course.number),
            whole: of_course().filter(|piece| piece.full).count(),
            cut: if cut.is_empty() { tape.say("layout-none") } else { cut.join("; ") },
        }
    };
    courses.courses.iter().rev().map(row).collect()
}

fn cut_words(tape: &Tape, piece: &Piece) -> String {
    let (width, height) = (tape.show_cut(piece.bounds.width()), tape.show_cut(piece.bounds.height()));
    let key = if piece.sliver.is_some() { "layout-piece-sliver" } else { "layout-piece" };
    tape.say_with(key, &[("piece", &piece.id.0), ("width", &width), ("height", &height)])
}
