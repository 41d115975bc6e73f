//! The job's first page: its walls, what is missing before they can be planned, and the level line.

use std::sync::Arc;

use askama::Template;
use trade::measure::bare::BareWall;

use super::card::{Carrying, begins_with, walls_with_the_high_point};
use super::page::moved_line;
use super::sketch::Seen;
use super::words::{self, Missing, wall_name};
use crate::app::App;
use crate::output::wall_drawing::draw_small;
use crate::store::StoredSheet;
use crate::web::ask::Measure;
use crate::web::form::{Choice, Faults, Field, Fields};
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::web::urls;
use crate::work::{NoPlan, Planned};

/// All walls of a job.
#[derive(Template)]
#[template(path = "walls/list.html")]
pub struct List {
    frame: Frame,
    faults: Faults,
    outrun: bool,
    version: i64,
    walls: Vec<WallLine>,
    missing: Vec<Missing>,
    corners: Vec<Missing>,
    base: Option<Base>,
    new_wall: String,
    sheet: String,
    layout: String,
    file: String,
    /// How today's line lies, once it has moved.
    line: Option<String>,
    line_action: String,
    moved: Measure,
    moved_where: Field,
    moved_wheres: Vec<Choice>,
}

/// One wall of the list.
struct WallLine {
    url: String,
    card_url: String,
    drawing: Option<String>,
    name: String,
    width: String,
    readings: String,
    base: String,
    warnings: Vec<String>,
}

/// The base of every wall against the high point: what a level first course would stand above it.
struct Base {
    high: String,
    lines: Vec<BaseLine>,
}

struct BaseLine {
    wall: String,
    gap: String,
    begins: String,
}

impl List {
    /// The page as the job stands, with what was typed about the line.
    pub fn new(
        app: &App,
        stored: &StoredSheet,
        plan: &Result<Arc<Planned>, NoPlan>,
        typed: &Fields,
        faults: Faults,
    ) -> Self {
        let title = app.texts.say("walls-title");
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall);
        let frame = frame.faulty_if(!faults.is_empty());
        let tape = Tape::new(&app.texts, stored.sheet.unit);
        let mut missing =
            plan.as_ref().err().map(|no| words::missing(no, stored, &app.texts)).unwrap_or_default();
        // Each wall says it for itself, and a job without walls not at all.
        missing.dedup_by(|one, other| one.says == other.says && one.url == other.url);
        if stored.sheet.walls.is_empty() && stored.sheet.tiles.is_empty() {
            missing.push(words::no_tile(stored, &app.texts));
        }
        let way = typed.get("way");
        Self {
            outrun: false,
            version: super::version(typed).unwrap_or(stored.version),
            walls: stored.sheet.walls.iter().map(|wall| wall_line(&frame, &tape, stored, wall)).collect(),
            missing,
            corners: words::open_corners(stored, &app.texts),
            base: plan.as_ref().ok().map(|planned| Base::new(&frame, &tape, stored, planned)),
            new_wall: urls::new_wall(&stored.id),
            sheet: urls::sheet(&stored.id),
            layout: urls::layout(&stored.id),
            file: urls::job_file(&stored.id),
            line: moved_line(&frame, &tape, stored),
            line_action: urls::line(&stored.id),
            moved: Measure::new(&frame, &tape, typed, &faults, "moved", "line-moved"),
            moved_where: Field::new("way", if way.is_empty() { "higher" } else { way }).with(&faults),
            moved_wheres: ["higher", "lower"]
                .map(|way| Choice::new(way, frame.say(&format!("line-{way}"))))
                .to_vec(),
            frame,
            faults,
        }
    }

    /// The same page, saying that someone else was quicker.
    #[must_use]
    pub fn outrun_by_another(self, version: i64) -> Self {
        Self { outrun: true, version, ..self }
    }
}

fn wall_line(frame: &Frame, tape: &Tape, stored: &StoredSheet, wall: &BareWall) -> WallLine {
    let texts = frame.texts();
    let today = wall.raised(-stored.line_shift.0);
    let readings = wall.base.len() + wall.top.len();
    let drops = || today.base.iter().map(|reading| reading.drop);
    let [high, low] = [drops().min(), drops().max()].map(|drop| tape.show(drop.unwrap_or_default()));
    WallLine {
        url: urls::wall(&stored.id, wall.id.as_str()),
        card_url: urls::wall_card(&stored.id, &wall.id),
        drawing: draw_small(&Seen::from(&today).sketch(texts, tape), &format!("wall-{}", wall.id)),
        name: wall_name(texts, &stored.sheet, &wall.id),
        width: frame.say1("wall-wide", "width", &tape.show(wall.width)),
        readings: frame.say1("wall-readings", "count", &readings),
        base: if high == low {
            frame.say1("wall-base-level", "drop", &high)
        } else {
            frame.say_with("wall-base-from-to", &[("high", &high), ("low", &low)])
        },
        warnings: words::misreadings(wall, stored, texts),
    }
}

impl Base {
    fn new(frame: &Frame, tape: &Tape, stored: &StoredSheet, planned: &Planned) -> Self {
        let texts = frame.texts();
        let walls = walls_with_the_high_point(planned);
        let names: Vec<String> = walls.iter().map(|id| wall_name(texts, &stored.sheet, id)).collect();
        let lines = planned.job.surfaces.iter().filter_map(|surface| {
            let courses = planned.option.courses.walls.get(&surface.id)?;
            let base = Carrying::of(surface)?;
            let [least, most] = [base.highest, base.lowest].map(|y| tape.show_gap(courses.seat - y));
            let gap = if least == most {
                least
            } else {
                frame.say_with("walls-gap-from-to", &[("least", &least), ("most", &most)])
            };
            let begins = begins_with(courses, tape);
            let wall = wall_name(texts, &stored.sheet, &surface.id);
            Some(BaseLine { wall, gap, begins: frame.say(begins) })
        });
        Self { high: frame.say1("walls-high-point", "walls", &names.join(", ")), lines: lines.collect() }
    }
}
