//! One wall of the layout: its drawing, figures, choices and pieces.

use askama::Template;
use trade::course::WallCourses;
use trade::measure::{FirstCourse, Length, Surface, SurfaceId};
use trade::place::Piece;

use super::choices::{StartChoice, StartKind, steps};
use super::form::{chosen_on, start_field};
use super::page::{Exact, Figure, Offer, Typed};
use super::wall_anchor;
use super::words::Words;
use crate::app::App;
use crate::output::layout_drawing::{self as drawing, View, WallDrawing};
use crate::store::StoredSheet;
use crate::web::ask::Measure;
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::Planned;

/// All that the parts of the page are made from.
pub struct Drawn<'a> {
    pub stored: &'a StoredSheet,
    pub planned: &'a Planned,
    pub words: &'a Words,
    pub frame: &'a Frame,
    /// With what is in force where nothing was typed.
    pub typed: &'a Typed,
}

impl Drawn<'_> {
    /// One length of the page.
    pub fn measure(&self, field: &str, words: &str) -> Measure {
        Measure::new(self.frame, &self.words.tape, &self.typed.fields, &self.typed.faults, field, words)
    }

    /// Whether a part stands open: it was asked for, something in it is wrong, or its move was not saved.
    pub fn opens(&self, anchor: &str, field: &str, change: &str) -> bool {
        let typed = self.typed;
        typed.open == anchor
            || typed.faults.of(field).is_some()
            || (typed.outrun && typed.fields.get("change") == change)
    }
}

/// One wall on the page.
pub struct WallPart {
    pub anchor: String,
    pub id: String,
    pub title: String,
    pub drawing: String,
    pub close_url: String,
    pub figures: Vec<Figure>,
    /// Where the wall's lines to strike, props and story pole are.
    pub wall_url: String,
    /// The choices stand open.
    pub open: bool,
    pub measure: Measure,
    pub exact: Exact,
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
    pub fn new(drawn: &Drawn<'_>, surface: &Surface, starts: &[StartChoice]) -> Option<Self> {
        let (words, option) = (drawn.words, &drawn.planned.option);
        let courses = option.courses.walls.get(&surface.id)?;
        let pieces = pieces_of(drawn.planned, &surface.id);
        let (id, field) = (&surface.id, start_field(&surface.id));
        let moved_here = drawn.typed.fields.get("wall") == id.as_str();
        Some(Self {
            anchor: wall_anchor(id),
            id: id.to_string(),
            title: words.wall(id),
            drawing: wall_drawing(words, drawn.planned, surface, courses, View::Glance),
            close_url: urls::layout_wall(&drawn.stored.id, id.as_str()),
            figures: figures(words, courses, &pieces),
            wall_url: urls::wall(&drawn.stored.id, id.as_str()),
            open: drawn.opens(&wall_anchor(id), &field, if moved_here { "start" } else { "" }),
            measure: drawn.measure(&field, "layout-start"),
            exact: Exact::of(words, option.layout.starts.get(id).copied().unwrap_or_default()),
            starts: starts.iter().map(|choice| start_offer(words, choice)).collect(),
            climbs: climb_offers(drawn, surface),
            firsts: first_offers(words, courses.first_course),
            chosen: chosen_on(&drawn.stored.sheet.layout, id),
            rows: rows(words, courses, &pieces),
        })
    }
}

impl Close {
    /// `None` when there is no such wall.
    pub fn new(app: &App, stored: &StoredSheet, planned: &Planned, wall: &SurfaceId) -> Option<Self> {
        let words = Words::of(&app.texts, stored);
        let surface = planned.job.surface(wall)?;
        let courses = planned.option.courses.walls.get(wall)?;
        let name = words.wall(wall);
        let title = words.say1("layout-wall-title", "wall", &name);
        let highest = surface.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
        let lowest = surface.base.iter().map(|reading| reading.drop).max().unwrap_or_default();
        Some(Self {
            frame: Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall),
            back: format!("{}#{}", urls::layout(&stored.id), wall_anchor(wall)),
            drawing: wall_drawing(&words, planned, surface, courses, View::Close),
            shape: shape(surface.width, highest + lowest),
        })
    }
}

/// How wide a wall is shown, so that its lettering is read.
fn shape(width: Length, height: Length) -> &'static str {
    if height > width * 2 {
        "close narrow"
    } else if width > height * 2 {
        "close long"
    } else {
        "close"
    }
}

fn pieces_of<'a>(planned: &'a Planned, wall: &SurfaceId) -> Vec<&'a Piece> {
    planned.option.pieces.iter().filter(|piece| piece.surface == *wall).collect()
}

/// One wall with all its pieces.
pub fn wall_drawing(
    words: &Words,
    planned: &Planned,
    surface: &Surface,
    courses: &WallCourses,
    view: View,
) -> String {
    let pieces = pieces_of(planned, &surface.id);
    let whole = pieces.iter().filter(|piece| piece.full).count();
    let cut = pieces.len() - whole;
    let description = words
        .say_with("layout-drawing-says", &[("whole", &whole), ("cut", &cut), ("unit", &words.unit_name())]);
    WallDrawing {
        surface,
        courses,
        pieces: &pieces,
        level: -words.today(Length::ZERO),
        unit: words.tape.unit(),
        view,
        words: drawing::Words {
            title: words.say1("layout-wall-title", "wall", &words.wall(&surface.id)),
            description,
            level_line: words.say("layout-level-line"),
        },
    }
    .draw(&format!("drawing-{}", surface.id))
}

fn figures(words: &Words, courses: &WallCourses, pieces: &[&Piece]) -> Vec<Figure> {
    let whole = pieces.iter().filter(|piece| piece.full).count();
    let narrowest = pieces.iter().filter_map(|piece| piece.least_cut_side()).min();
    let carrying = courses.stations.iter().filter(|station| station.carries);
    let gap = carrying.map(|station| station.gap).max().unwrap_or_default();
    vec![
        Figure::new(words, "layout-whole-tiles", whole.to_string()),
        Figure::new(words, "layout-cut-pieces", (pieces.len() - whole).to_string()),
        Figure::new(
            words,
            "layout-narrowest",
            narrowest.map_or_else(|| words.say("layout-no-cut"), |least| words.cut(least)),
        ),
        Figure::slivers(words, pieces.iter().filter(|piece| piece.sliver.is_some()).count()),
        Figure::new(words, "layout-base-gap", words.tape.show_gap(gap)),
    ]
}

fn start_offer(words: &Words, choice: &StartChoice) -> Offer {
    let kinds: Vec<String> = choice.kinds.iter().map(|kind| kind_words(words, *kind)).collect();
    let gives = &choice.gives;
    let slivers = words.say1("layout-gives-slivers", "count", &gives.slivers);
    let ends = gives.lowest.map(|(first, last)| {
        let (first, last) = (words.cut(first), words.cut(last));
        words.say_with("layout-gives-ends", &[("first", &first), ("last", &last)])
    });
    let narrowest =
        gives.narrowest.map(|least| words.say1("layout-gives-narrowest", "least", &words.cut(least)));
    let gives: Vec<String> = ends.into_iter().chain(narrowest).chain([slivers]).collect();
    Offer {
        words: kinds.join(" · "),
        gives: gives.join("; "),
        typed: choice.start.exact(),
        way: "",
        in_force: choice.in_force,
    }
}

fn kind_words(words: &Words, kind: StartKind) -> String {
    let key = match kind {
        StartKind::NextLeft(away) => return next(words, "layout-start-next-left", away),
        StartKind::NextRight(away) => return next(words, "layout-start-next-right", away),
        StartKind::Proposed(1) => "layout-start-best",
        StartKind::Proposed(2) => "layout-start-second",
        StartKind::Proposed(_) => "layout-start-third",
        StartKind::JointCentred => "layout-start-joint-centred",
        StartKind::TileCentred => "layout-start-tile-centred",
        StartKind::WholeAtLeft => "layout-start-whole-left",
        StartKind::WholeAtRight => "layout-start-whole-right",
        StartKind::QuarterLeft => "layout-start-quarter-left",
        StartKind::QuarterRight => "layout-start-quarter-right",
    };
    words.say(key)
}

fn next(words: &Words, key: &str, away: Length) -> String {
    words.say1(key, "away", &words.tape.show_gap(away))
}

fn climb_offers(drawn: &Drawn<'_>, surface: &Surface) -> Vec<Offer> {
    let Some(measured) = steps(surface) else { return Vec::new() };
    let left = drawn.planned.option.layout.mirror.get(&surface.id).copied().unwrap_or(measured);
    let offer = |way, words, in_force| Offer {
        words: drawn.words.say(words),
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

fn first_offers(words: &Words, now: FirstCourse) -> Vec<Offer> {
    let offer = |first, way, gives| Offer {
        words: words.say(first_key(first)),
        gives: words.say(gives),
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
fn rows(words: &Words, courses: &WallCourses, pieces: &[&Piece]) -> Vec<Row> {
    let row = |course: &trade::course::Course| {
        let of_course =
            || pieces.iter().filter(|piece| piece.course == course.number && piece.band == course.band);
        let cut: Vec<String> =
            of_course().filter(|piece| !piece.full).map(|piece| cut_words(words, piece)).collect();
        let key = if course.strip { "layout-strip-above" } else { "layout-course" };
        Row {
            course: words.say1(key, "number", &course.number),
            whole: of_course().filter(|piece| piece.full).count(),
            cut: if cut.is_empty() { words.say("layout-none") } else { cut.join("; ") },
        }
    };
    courses.courses.iter().rev().map(row).collect()
}

fn cut_words(words: &Words, piece: &Piece) -> String {
    let (width, height) = (words.cut(piece.bounds.width()), words.cut(piece.bounds.height()));
    let key = if piece.sliver.is_some() { "layout-piece-sliver" } else { "layout-piece" };
    words.say_with(key, &[("piece", &piece.id.0), ("width", &width), ("height", &height)])
}
