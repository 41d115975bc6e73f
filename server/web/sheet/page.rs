//! The page of the job's sheet.

use askama::Template;

use super::form::{EDGES, GAPS, true_side};
use crate::app::App;
use crate::store::StoredSheet;
use crate::web::ask::{Measure, Tick};
use crate::web::form::{Choice, Faults, Field, Fields, cell};
use crate::web::page::{Frame, Here};
use crate::web::tape::Tape;
use crate::web::{urls, walls};

/// The form with what was typed and what is wrong with it.
#[derive(Template)]
#[template(path = "sheet/sheet.html")]
pub struct Sheet {
    frame: Frame,
    faults: Faults,
    /// Someone else changed the job while this was typed.
    outrun: bool,
    action: String,
    echo: String,
    version: i64,
    tiles: Vec<TileRows>,
    joint: Measure,
    /// The joint of the layout in force, where it was chosen and is another one.
    joint_in_force: Option<String>,
    joint_least: Measure,
    joint_most: Measure,
    kerf: Measure,
    bed: Measure,
    membrane: bool,
    floor: Field,
    floors: Vec<Choice>,
    floor_thickness: Measure,
    gaps: Vec<Measure>,
    base_gap_max: Measure,
    spare: Measure,
    smallest_width: Measure,
    smallest_height: Measure,
    /// Something in the part that is rarely changed needs a look.
    rare_open: bool,
    back: String,
}

/// One tile on the page.
struct TileRows {
    heading: String,
    /// Saved before, so that its name stands on walls.
    saved: bool,
    open: bool,
    name: Field,
    width: Measure,
    height: Measure,
    row_width: Measure,
    row_height: Measure,
    thickness: Measure,
    per_box: Field,
    directional: Tick,
    quarter: Tick,
    edges: Field,
    edges_made: Vec<Choice>,
    variation: Measure,
    bow: Measure,
    /// Something is known of what the rules ask, or needs a look.
    facts_open: bool,
    /// The true size, as understood.
    comes_to: String,
    comes_to_id: String,
}

/// What was understood of each length, for the script to put beside the fields.
#[derive(Template)]
#[template(path = "sheet/echoes.html")]
pub struct Echoes {
    pub echoes: Vec<(String, String)>,
}

impl Sheet {
    /// The sheet with what was typed and what is wrong with it.
    pub fn new(app: &App, stored: &StoredSheet, typed: &Fields, faults: Faults) -> Self {
        let title = app.texts.say("sheet-title");
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall);
        let frame = frame.faulty_if(!faults.is_empty());
        let tape = Tape::new(&app.texts, stored.sheet.unit);
        let measure = |name: &str, words: &str| Measure::new(&frame, &tape, typed, &faults, name, words);
        let rows = typed.rows("tile").max(stored.sheet.tiles.len() + 1);
        let gaps: Vec<Measure> = GAPS.iter().map(|(name, words)| measure(name, words)).collect();
        let rare = ["spare", "base-gap-max", "smallest-width", "smallest-height"];
        let mut rare = GAPS.iter().map(|(name, _)| *name).chain(rare);
        Self {
            outrun: false,
            action: urls::sheet(&stored.id),
            echo: urls::sheet_echo(&stored.id),
            version: walls::version(typed).unwrap_or(stored.version),
            tiles: (0..rows).map(|row| TileRows::new(&frame, &tape, stored, typed, &faults, row)).collect(),
            joint: measure("joint", "sheet-joint"),
            joint_in_force: stored
                .sheet
                .layout
                .joint
                .filter(|joint| *joint != stored.sheet.joint)
                .map(|joint| frame.say1("sheet-joint-layout", "joint", &tape.show_gap(joint))),
            joint_least: measure("joint-least", "sheet-joint-least"),
            joint_most: measure("joint-most", "sheet-joint-most"),
            kerf: measure("kerf", "sheet-kerf"),
            bed: measure("bed", "sheet-bed"),
            membrane: typed.ticked("membrane"),
            floor: Field::new("floor", typed.get("floor")).with(&faults),
            floors: ["as-measured", "before", "after"]
                .map(|floor| Choice::new(floor, frame.say(&format!("sheet-floor-{floor}"))))
                .to_vec(),
            floor_thickness: measure("floor-thickness", "sheet-floor-thickness"),
            gaps,
            base_gap_max: measure("base-gap-max", "sheet-base-gap-max"),
            spare: measure("spare", "sheet-spare"),
            smallest_width: measure("smallest-width", "sheet-smallest-width"),
            smallest_height: measure("smallest-height", "sheet-smallest-height"),
            rare_open: rare.any(|name| faults.of(name).is_some()),
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
}

impl TileRows {
    fn new(
        frame: &Frame,
        tape: &Tape,
        stored: &StoredSheet,
        typed: &Fields,
        faults: &Faults,
        row: usize,
    ) -> Self {
        let measure = |column: &str| {
            let words = format!("sheet-tile-{column}");
            Measure::new(frame, tape, typed, faults, &cell("tile", row, column), &words)
        };
        let field = |column: &str| {
            let name = cell("tile", row, column);
            Field::new(&name, typed.get(&name)).with(faults)
        };
        let tick = |column: &str| {
            Tick::new(frame, typed, cell("tile", row, column), &format!("sheet-tile-{column}"))
        };
        let name = field("name");
        let saved = stored.sheet.tiles.keys().any(|id| id.0 == name.typed);
        let facts = ["edges", "variation", "bow"];
        let columns = ["width", "height", "thickness", "row-width", "row-height", "box"];
        let faulty = |column: &&str| faults.of(&cell("tile", row, column)).is_some();
        let filled = |column: &&str| typed.ticked(&cell("tile", row, column));
        let facts_open = facts.iter().any(|fact| faulty(fact) || filled(fact));
        let begun = columns.iter().any(|column| faulty(column) || filled(column)) || faulty(&"name");
        Self {
            heading: if saved {
                frame.say1("sheet-tile-named", "name", &name.typed)
            } else if row == 0 {
                frame.say("sheet-tile")
            } else {
                frame.say("sheet-tile-more")
            },
            open: saved || begun || facts_open || row == 0,
            saved,
            width: measure("width"),
            height: measure("height"),
            row_width: measure("row-width"),
            row_height: measure("row-height"),
            thickness: measure("thickness"),
            per_box: field("box"),
            directional: tick("directional"),
            quarter: tick("quarter"),
            edges: field("edges"),
            edges_made: EDGES.map(|(edges, words)| Choice::new(edges, frame.say(words))).to_vec(),
            variation: measure("variation"),
            bow: measure("bow"),
            facts_open,
            comes_to: comes_to(frame, tape, typed, row),
            comes_to_id: cell("tile", row, "true"),
            name,
        }
    }
}

/// The tile's true size in words, once both sides are known.
fn comes_to(frame: &Frame, tape: &Tape, typed: &Fields, row: usize) -> String {
    let sides = [true_side(tape, typed, row, "width"), true_side(tape, typed, row, "height")];
    let [Some(width), Some(height)] = sides else { return String::new() };
    let (width, height) = (tape.both(width), tape.both(height));
    frame.say_with("sheet-tile-comes-to", &[("width", &width), ("height", &height)])
}

impl Echoes {
    /// Every field of the sheet that reads as a length, and each tile's true size.
    pub fn of_sheet(app: &App, stored: &StoredSheet, typed: &Fields) -> Self {
        let sheet = Sheet::new(app, stored, typed, Faults::default());
        let of = |measure: Measure| (measure.field.name, measure.echo);
        let rare = [sheet.base_gap_max, sheet.spare, sheet.smallest_width, sheet.smallest_height];
        let usual =
            [sheet.joint, sheet.joint_least, sheet.joint_most, sheet.kerf, sheet.bed, sheet.floor_thickness];
        let mut echoes: Vec<_> = usual.into_iter().chain(rare).chain(sheet.gaps).map(of).collect();
        for tile in sheet.tiles {
            let sides = [tile.width, tile.height, tile.row_width, tile.row_height, tile.thickness];
            echoes.extend(sides.into_iter().chain([tile.variation, tile.bow]).map(of));
            echoes.push((tile.comes_to_id, tile.comes_to));
        }
        Self { echoes }
    }

    /// Every field of a form, whatever it asks for.
    pub fn of_any(tape: &Tape, typed: &Fields) -> Self {
        Self { echoes: typed.each().map(|(name, typed)| (name.to_owned(), tape.echo(typed))).collect() }
    }
}
