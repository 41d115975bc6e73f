//! A stored wall as a person would have typed it, and the form of a wall that is not measured yet.

use trade::measure::bare::{BareWall, End, SetFirst};
use trade::measure::{BandHeight, Length, Opening, OpeningShape, Pattern, Sheet, SurfaceId, TileId};

use super::form::STEPS;
use crate::store::StoredSheet;
use crate::texts::Texts;
use crate::web::form::{Fields, cell};
use crate::web::tape::Tape;

/// The form of a stored wall, heights from today's line.
pub fn stored_wall(wall: &BareWall, stored: &StoredSheet, texts: &Texts) -> Fields {
    let tape = Tape::new(texts, stored.sheet.unit);
    let today = wall.raised(-stored.line_shift.0);
    let mut fields = Fields::default();
    fields.put("name", today.name.clone());
    fields.put("width", tape.typed(today.width));
    for (row, reading) in today.base.iter().enumerate() {
        fields.put(&cell("base", row, "x"), tape.typed(reading.x));
        fields.put(&cell("base", row, "drop"), tape.typed(reading.drop));
        fields.put(&cell("base", row, "curb"), if reading.carries { "" } else { "yes" });
    }
    for (row, reading) in today.top.iter().enumerate() {
        fields.put(&cell("top", row, "x"), tape.typed(reading.x));
        fields.put(&cell("top", row, "rise"), tape.typed(reading.rise));
    }
    put_end(&mut fields, "left", &today.left);
    put_end(&mut fields, "right", &today.right);
    fields.put("base-role", today.base_role.name());
    fields.put("top-role", today.top_role.name());
    let may_move = today.top_may_move;
    fields.put("top-may-move", if may_move == Length::ZERO { String::new() } else { tape.typed(may_move) });
    for (row, opening) in today.openings.iter().enumerate() {
        put_opening(&mut fields, &tape, row, opening, stored.sheet.gaps.opening);
    }
    put_bands(&mut fields, &tape, &today, &stored.sheet);
    put_pattern(&mut fields, &today.pattern);
    fields
}

/// The form of the next wall: its short name. Which walls it meets is for the lead to say: nobody knows in which order
/// walls are measured.
pub fn new_wall(stored: &StoredSheet) -> Fields {
    let sheet = &stored.sheet;
    let mut fields = Fields::default();
    fields.put("id", next_id(sheet));
    if let Some(tile) = usual_tile(sheet) {
        fields.put("field-tile", tile.0.clone());
    }
    put_pattern(&mut fields, sheet.walls.last().map_or(&Pattern::Straight, |wall| &wall.pattern));
    fields
}

/// The tile that most of the field is laid in: the last wall's, or else the largest.
pub fn usual_tile(sheet: &Sheet) -> Option<&TileId> {
    let last = sheet.walls.last().and_then(|wall| wall.bands.first()).map(|band| &band.tile);
    let area = |tile: &TileId| {
        let tile = &sheet.tiles[tile];
        i128::from(tile.width.units()) * i128::from(tile.height.units())
    };
    last.or_else(|| sheet.tiles.keys().max_by_key(|tile| area(tile)))
}

/// A, B, C and so on; the first that is free.
fn next_id(sheet: &Sheet) -> String {
    let is_free =
        |id: &String| SurfaceId::new(id).is_some_and(|id| sheet.walls.iter().all(|wall| wall.id != id));
    let letters = ('A'..='Z').map(String::from);
    let numbered = (27..).map(|number: u32| format!("W{number}"));
    letters.chain(numbered).find(is_free).unwrap_or_default()
}

fn put_end(fields: &mut Fields, end: &str, is: &End) {
    fields.put(&format!("{end}-role"), is.role.name());
    if let Some(meets) = &is.meets {
        fields.put(&format!("{end}-meets"), meets.neighbour.as_str());
        let first = match meets.set_first {
            SetFirst::ThisWall => "this",
            SetFirst::Neighbour => "neighbour",
        };
        fields.put(&format!("{end}-first"), first);
    }
}

/// A height from the line without its sign, and the side of the line it is on.
fn put_side(fields: &mut Fields, tape: &Tape, name: &str, height: Length) {
    fields.put(name, tape.typed(height.abs()));
    fields.put(&format!("{name}-side"), if height < Length::ZERO { "below" } else { "above" });
}

fn put_opening(fields: &mut Fields, tape: &Tape, row: usize, opening: &Opening, usual: Length) {
    let name = |column: &str| cell("opening", row, column);
    let (kind, x, y, width, height) = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => ("rectangle", x, y, width, Some(height)),
        OpeningShape::Circle { x, y, diameter } => ("circle", x, y, diameter, None),
    };
    fields.put(&name("name"), opening.name.clone());
    fields.put(&name("kind"), kind);
    fields.put(&name("x"), tape.typed(x));
    put_side(fields, tape, &name("y"), y);
    fields.put(&name("width"), tape.typed(width));
    fields.put(&name("height"), height.map(|height| tape.typed(height)).unwrap_or_default());
    let own = opening.clearance != usual;
    fields.put(&name("clearance"), if own { tape.typed(opening.clearance) } else { String::new() });
    fields.put(&name("edge"), opening.edge.name());
}

fn put_bands(fields: &mut Fields, tape: &Tape, wall: &BareWall, sheet: &Sheet) {
    let field = wall.bands.iter().find(|band| !band.is_strip() && band.height == BandHeight::Fill);
    let tile = field.map(|band| &band.tile).or_else(|| usual_tile(sheet));
    fields.put("field-tile", tile.map(|tile| tile.0.clone()).unwrap_or_default());
    fields.put("field-upright", if field.is_some_and(|band| band.upright) { "yes" } else { "" });
    let strip = wall.bands.iter().find_map(|band| Some((band, band.bottom_between?)));
    if let Some((strip, (least, most))) = strip {
        fields.put("strip-tile", strip.tile.0.clone());
        put_side(fields, tape, "strip-least", least);
        put_side(fields, tape, "strip-most", most);
    }
}

fn put_pattern(fields: &mut Fields, pattern: &Pattern) {
    let (kind, step) = match pattern {
        Pattern::Straight => ("straight".to_owned(), None),
        Pattern::Running { step, mirror } => {
            (if *mirror { "left" } else { "right" }.to_owned(), Some(step.to_string()))
        }
        // Not one of the form's own choices: it stays as it is unless another is chosen.
        Pattern::Cycle { .. } => (pattern.to_string(), None),
    };
    fields.put("pattern", kind);
    let step = step.unwrap_or_else(|| STEPS[0].to_owned());
    if STEPS.contains(&step.as_str()) {
        fields.put("step", step);
    } else {
        fields.put("step", "other");
        fields.put("step-other", step);
    }
}
