//! From a wall, typed or stored, to its drawing and the same in a table.

use trade::geometry::Point;
use trade::measure::bare::BareWall;
use trade::measure::{BaseReading, Length, Opening, OpeningShape, Role, TopReading};

use super::words::{from_line, reading};
use crate::output::wall_drawing::{Mark, Names, WallSketch};
use crate::texts::Texts;
use crate::web::tape::Tape;

/// What can be seen of a wall, heights from today's line.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    pub name: String,
    pub width: Option<Length>,
    pub base: Vec<BaseReading>,
    pub top: Vec<TopReading>,
    pub openings: Vec<Opening>,
    pub left: Option<Role>,
    pub right: Option<Role>,
    pub base_role: Option<Role>,
    pub top_role: Option<Role>,
}

/// One line of the table that says what the drawing shows.
pub struct SeenLine {
    pub what: String,
    pub x: String,
    pub height: String,
}

impl From<&BareWall> for Seen {
    fn from(wall: &BareWall) -> Self {
        Self {
            name: wall.name.clone(),
            width: Some(wall.width),
            base: wall.base.clone(),
            top: wall.top.clone(),
            openings: wall.openings.clone(),
            left: Some(wall.left.role),
            right: Some(wall.right.role),
            base_role: Some(wall.base_role),
            top_role: Some(wall.top_role),
        }
    }
}

impl Seen {
    /// The drawing, with all its words. Until a width is typed the readings show how wide the wall is at least.
    pub fn sketch(&self, texts: &Texts, tape: &Tape) -> WallSketch {
        let places =
            self.base.iter().map(|reading| reading.x).chain(self.top.iter().map(|reading| reading.x));
        let width = self.width.or_else(|| places.max()).unwrap_or_default();
        let mark = |x: Length, y: Length| Mark { at: Point::new(x, y), words: tape.show(y.abs()) };
        let mut base: Vec<Mark> = self.base.iter().map(|reading| mark(reading.x, -reading.drop)).collect();
        let mut top: Vec<Mark> = self.top.iter().map(|reading| mark(reading.x, reading.rise)).collect();
        // A reading out of order is a fault of the form; the drawing still shows where it was taken.
        base.sort_by_key(|mark| mark.at.x);
        top.sort_by_key(|mark| mark.at.x);
        let openings = self.openings.iter().map(|opening| (opening.shape, opening.name.clone())).collect();
        WallSketch { width, base, top, openings, names: self.names(texts, tape, width), tile: None }
    }

    fn names(&self, texts: &Texts, tape: &Tape, width: Length) -> Names {
        let role = |role: Option<Role>| role.map(|role| role_words(texts, role)).unwrap_or_default();
        let drops = || self.base.iter().map(|reading| reading.drop);
        let (least, most) = (drops().min().unwrap_or_default(), drops().max().unwrap_or_default());
        let rise = self.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
        let (width, least, most) = (tape.show(width), tape.show(least), tape.show(most));
        let (rise, openings) = (tape.show(rise), self.openings.len());
        Names {
            title: texts.say_with("wall-drawing", &[("name", &self.name), ("width", &width)]),
            description: texts.say_with(
                "wall-drawing-says",
                &[("least", &least), ("most", &most), ("rise", &rise), ("openings", &openings)],
            ),
            level: texts.say("level-line"),
            width,
            left: role(self.left),
            right: role(self.right),
            base: role(self.base_role),
            top: role(self.top_role),
        }
    }

    /// The same as the drawing, line by line.
    pub fn lines(&self, texts: &Texts, tape: &Tape) -> Vec<SeenLine> {
        let base = self.base.iter().enumerate().map(|(row, is)| SeenLine {
            what: reading(texts, "base", row, "drop"),
            x: tape.show(is.x),
            height: from_line(texts, tape, -is.drop),
        });
        let top = self.top.iter().enumerate().map(|(row, is)| SeenLine {
            what: reading(texts, "top", row, "rise"),
            x: tape.show(is.x),
            height: from_line(texts, tape, is.rise),
        });
        let openings = self.openings.iter().map(|opening| opening_line(texts, tape, opening));
        base.chain(top).chain(openings).collect()
    }
}

fn opening_line(texts: &Texts, tape: &Tape, opening: &Opening) -> SeenLine {
    let (x, y, size) = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            let (width, height) = (tape.show(width), tape.show(height));
            (x, y, texts.say_with("wall-rectangle-size", &[("width", &width), ("height", &height)]))
        }
        OpeningShape::Circle { x, y, diameter } => {
            (x, y, texts.say_with("wall-circle-size", &[("diameter", &tape.show(diameter))]))
        }
    };
    SeenLine { what: format!("{}: {size}", opening.name), x: tape.show(x), height: from_line(texts, tape, y) }
}

/// What a setter calls the role of an edge.
pub fn role_words(texts: &Texts, role: Role) -> String {
    texts.say(&format!("role-{}", role.name()))
}
