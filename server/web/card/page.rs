//! The page of the wall card.

use std::sync::Arc;

use askama::Template;
use trade::cure::{Product, StageKind, What, standing};
use trade::measure::bare::BareWall;
use trade::measure::{Length, SurfaceId};

use crate::app::App;
use crate::store::{Stages, StoredSheet, crew_name};
use crate::web::board::WallNow;
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::web::urls;
use crate::web::walls::{Card, Missing, missing, moved_line, wall_name};
use crate::work::{NoPlan, Planned};

/// One wall: where the work stands, what to strike, its courses, and what it is set with.
#[derive(Template)]
#[template(path = "card/card.html")]
pub struct CardPage {
    frame: Frame,
    now: WallNow,
    /// Where the line lies today, once it has moved.
    line: Option<String>,
    card: Option<Card>,
    /// Why there are no lines yet.
    missing: Vec<Missing>,
    set_with: Vec<Given>,
    links: Links,
}

/// One thing that the wall is set with.
struct Given {
    label: String,
    value: String,
    more: String,
}

impl Given {
    fn is_number(&self) -> bool {
        self.value.starts_with(|c: char| c.is_ascii_digit())
    }
}

struct Links {
    layout: String,
    saw: String,
    board: String,
    wall: String,
}

impl CardPage {
    /// The card as the job stands.
    pub fn new(
        app: &App,
        stored: &StoredSheet,
        bare: &BareWall,
        plan: &Result<Arc<Planned>, NoPlan>,
        was_set_with: Option<Product>,
        now: WallNow,
    ) -> Self {
        let (texts, tape) = (&app.texts, Tape::new(&app.texts, stored.sheet.unit));
        let name = wall_name(texts, &stored.sheet, &bare.id);
        let title = texts.say_with("wallcard-title", &[("wall", &name)]);
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall).live(&now.seen);
        let planned = plan.as_ref().ok();
        Self {
            line: moved_line(&frame, &tape, stored),
            card: planned.and_then(|planned| Card::new(stored, bare, planned, texts, &tape)),
            missing: plan.as_ref().err().map(|why| missing(why, stored, texts)).unwrap_or_default(),
            set_with: set_with(
                &frame,
                &tape,
                stored,
                bare,
                planned.map(|planned| joint(planned)),
                was_set_with.as_ref(),
                &now,
            ),
            links: Links::of(stored, &bare.id),
            frame,
            now,
        }
    }

    /// The mortar that the wall was set with, as the log has it; nothing before it is set.
    pub fn set_with(stages: &Stages, wall: &SurfaceId) -> Option<Product> {
        let set = standing(&stages.log).into_iter().rfind(|entry| {
            entry.part.surface == *wall && entry.stage == StageKind::Set && entry.what == What::Finished
        })?;
        set.product.clone().or_else(|| stages.products.get(&StageKind::Set).cloned())
    }
}

fn joint(planned: &Planned) -> Length {
    planned.job.joint_in(&planned.option.layout)
}

/// What the job knows. What only the bag can say is not made up.
fn set_with(
    frame: &Frame,
    tape: &Tape,
    stored: &StoredSheet,
    bare: &BareWall,
    planned_joint: Option<Length>,
    was_set_with: Option<&Product>,
    now: &WallNow,
) -> Vec<Given> {
    let given = |label: &str, value: String, more: String| Given { label: frame.say(label), value, more };
    let joint = planned_joint.unwrap_or(stored.sheet.joint);
    let tiles = bare.bands.iter().filter_map(|band| {
        let tile = stored.sheet.tiles.get(&band.tile)?;
        let (width, height) = (tape.show_gap(tile.width), tape.show_gap(tile.height));
        // The unit once.
        let width = width.rsplit_once(' ').map_or(width.as_str(), |(number, _)| number);
        Some(given("wallcard-tile", format!("{width} × {height}"), band.tile.0.clone()))
    });
    let mut all: Vec<Given> = Vec::new();
    for tile in tiles {
        if all.iter().all(|other| other.more != tile.more) {
            all.push(tile);
        }
    }
    let spacers = match joint == stored.sheet.joint {
        true => frame.say("wallcard-joint-says"),
        false => frame.say1("wallcard-joint-other", "sheet", &tape.show_gap(stored.sheet.joint)),
    };
    all.push(given("wallcard-joint", tape.show_gap(joint), spacers));
    if stored.sheet.bed > Length::ZERO {
        all.push(given("wallcard-bed", tape.show_gap(stored.sheet.bed), now.bed.clone()));
    }
    all.push(match was_set_with {
        Some(product) => {
            let class = || frame.say(&format!("product-class-{}", product.class().name()));
            let name = crew_name(product).map_or_else(class, str::to_owned);
            given("wallcard-mortar-was", name, String::new())
        }
        None => {
            let told = if now.mortar.told { String::new() } else { frame.say("wallcard-mortar-untold") };
            given("wallcard-mortar", now.mortar.name.clone(), told)
        }
    });
    all
}

impl Links {
    fn of(stored: &StoredSheet, wall: &SurfaceId) -> Self {
        Self {
            layout: urls::layout_wall(&stored.id, wall.as_str()),
            saw: urls::cuts(&stored.id),
            board: urls::board(&stored.id),
            wall: urls::wall(&stored.id, wall.as_str()),
        }
    }
}
