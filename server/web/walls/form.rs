//! A wall as it is typed. Heights are typed from today's line.

use trade::measure::bare::{BareWall, End, Meeting, SetFirst};
use trade::measure::{
    Band, BandHeight, BaseReading, Fraction, Length, LineId, Opening, OpeningEdge, OpeningShape, Pattern,
    Role, SurfaceId, TileId, TopReading,
};

use super::sketch::Seen;
use super::words;
use crate::store::StoredSheet;
use crate::texts::Texts;
use crate::web::form::{Faults, Fields, cell};
use crate::web::tape::{Asked, Tape};

/// The longest name that still fits the head of a page on a phone.
const LONGEST_NAME: usize = 40;

/// Steps of a running bond that have a place of their own in the list.
pub const STEPS: [&str; 3] = ["1/2", "1/3", "1/4"];

/// Short names that are addresses of pages.
const TAKEN: [&str; 2] = ["new", "draw"];

/// The columns of each list in which something is typed.
pub const BASE: [&str; 2] = ["x", "drop"];
pub const TOP: [&str; 2] = ["x", "rise"];
pub const OPENING: [&str; 6] = ["name", "x", "y", "width", "height", "clearance"];

/// The wall's two ends: the names of their fields and of their words.
pub const ENDS: [&str; 2] = ["left", "right"];

/// Which wall the form is for.
#[derive(Clone, Copy)]
pub enum Which<'a> {
    /// One that is not stored yet.
    New,
    /// A stored one, measured again.
    Stored(&'a SurfaceId),
}

/// All that could be read, and what is wrong with the rest.
#[derive(Clone, Debug, Default)]
pub struct Draft {
    id: Option<SurfaceId>,
    name: Option<String>,
    pub width: Option<Length>,
    pub base: Vec<Row<BaseReading>>,
    pub top: Vec<Row<TopReading>>,
    pub openings: Vec<Row<Opening>>,
    ends: Option<[End; 2]>,
    base_role: Option<Role>,
    top_role: Option<Role>,
    bands: Option<Vec<Band>>,
    pattern: Option<Pattern>,
    top_may_move: Option<Length>,
    pub faults: Faults,
}

/// Something read from one row of a list.
#[derive(Clone, Debug)]
pub struct Row<T> {
    pub row: usize,
    pub is: T,
}

/// The longest name of an opening that is kept; a job file takes as much.
const LONGEST_OPENING_NAME: usize = 80;

impl Draft {
    /// Reads what was typed, all of it.
    pub fn read(fields: &Fields, stored: &StoredSheet, which: Which<'_>, texts: &Texts) -> Self {
        let tape = Tape::new(texts, stored.sheet.unit);
        let mut reader = Reader { fields, stored, which, texts, tape, faults: Faults::default() };
        let mut draft = Self {
            name: reader.name(),
            id: reader.id(),
            width: reader.width(),
            base: reader.base(),
            top: reader.top(),
            ends: reader.ends(),
            base_role: reader.role("base-role", Role::Base),
            top_role: reader.role("top-role", Role::Ceiling),
            top_may_move: reader.top_may_move(),
            openings: reader.openings(),
            bands: reader.bands(),
            pattern: reader.pattern(),
            faults: Faults::default(),
        };
        draft.faults = reader.faults;
        draft
    }

    /// The wall as read from today's line, where every field could be read.
    pub fn wall(&self) -> Option<BareWall> {
        if !self.faults.is_empty() {
            return None;
        }
        let [left, right] = self.ends.clone()?;
        Some(BareWall {
            id: self.id.clone()?,
            name: self.name.clone()?,
            line: LineId::default(),
            width: self.width?,
            base: self.base.iter().map(|row| row.is).collect(),
            top: self.top.iter().map(|row| row.is).collect(),
            left,
            right,
            base_role: self.base_role?,
            top_role: self.top_role?,
            openings: self.openings.iter().map(|row| row.is.clone()).collect(),
            bands: self.bands.clone()?,
            pattern: self.pattern.clone()?,
            top_may_move: self.top_may_move?,
        })
    }

    /// The wall to save, its heights from the first line, or everything to change.
    ///
    /// # Errors
    ///
    /// One sentence for each field that cannot be so.
    pub fn sound_wall(&self, stored: &StoredSheet, texts: &Texts) -> Result<BareWall, Faults> {
        let Some(today) = self.wall() else { return Err(self.faults.clone()) };
        let wall = today.raised(stored.line_shift.0);
        let faults = words::wall_faults(&wall, stored, self, texts);
        if faults.is_empty() { Ok(wall) } else { Err(faults) }
    }

    /// What can be drawn of it.
    pub fn seen(&self) -> Seen {
        let ends = self.ends.as_ref();
        Seen {
            name: self.name.clone().unwrap_or_default(),
            width: self.width,
            base: self.base.iter().map(|row| row.is).collect(),
            top: self.top.iter().map(|row| row.is).collect(),
            openings: self.openings.iter().map(|row| row.is.clone()).collect(),
            left: ends.map(|[left, _]| left.role),
            right: ends.map(|[_, right]| right.role),
            base_role: self.base_role,
            top_role: self.top_role,
        }
    }
}

struct Reader<'a> {
    fields: &'a Fields,
    stored: &'a StoredSheet,
    which: Which<'a>,
    texts: &'a Texts,
    tape: Tape,
    faults: Faults,
}

impl Reader<'_> {
    fn name(&mut self) -> Option<String> {
        let name = self.fields.get("name");
        let read = if name.is_empty() {
            Err(self.texts.say("wall-fault-name"))
        } else if name.chars().count() > LONGEST_NAME {
            Err(self.texts.say_with("fault-name-long", &[("most", &LONGEST_NAME)]))
        } else {
            Ok(name.to_owned())
        };
        self.faults.take("name", read)
    }

    /// A new wall's short name is on its form, so that pressing twice names it once.
    fn id(&mut self) -> Option<SurfaceId> {
        if let Which::Stored(id) = self.which {
            return Some(id.clone());
        }
        let typed = self.fields.get("id");
        let id = SurfaceId::new(typed).filter(|id| !TAKEN.contains(&id.as_str()));
        let drawn_now = self.fields.get("version") == self.stored.version.to_string();
        let is_taken =
            |id: &SurfaceId| drawn_now && self.stored.sheet.walls.iter().any(|wall| wall.id == *id);
        let read = match id {
            None => Err(self.texts.say("wall-fault-id")),
            Some(id) if is_taken(&id) => Err(self.texts.say_with("wall-fault-id-taken", &[("id", &typed)])),
            Some(id) => Ok(id),
        };
        self.faults.take("id", read)
    }

    fn width(&mut self) -> Option<Length> {
        let asked = Asked::new("width", self.texts.say("wall-width"));
        let width = self.tape.wanted(self.fields, &asked, &mut self.faults)?;
        let says = || self.texts.say_with("wall-fault-width-none", &[("typed", &self.fields.get("width"))]);
        let fits = if width > Length::ZERO { Ok(width) } else { Err(says()) };
        self.faults.take("width", fits)
    }

    fn base(&mut self) -> Vec<Row<BaseReading>> {
        let mut rows = Vec::new();
        for row in self.fields.filled("base", &BASE) {
            let x = self.x("base", row);
            let drop = self.height("base", row, "drop");
            let carries = !self.fields.ticked(&cell("base", row, "curb"));
            if let (Some(x), Some(drop)) = (x, drop) {
                rows.push(Row { row, is: BaseReading { x, drop, carries } });
            }
        }
        rows
    }

    fn top(&mut self) -> Vec<Row<TopReading>> {
        let mut rows = Vec::new();
        for row in self.fields.filled("top", &TOP) {
            let (x, rise) = (self.x("top", row), self.height("top", row, "rise"));
            if let (Some(x), Some(rise)) = (x, rise) {
                rows.push(Row { row, is: TopReading { x, rise } });
            }
        }
        rows
    }

    /// The first reading of a list stands at the left end unless it says where.
    fn x(&mut self, list: &str, row: usize) -> Option<Length> {
        let name = cell(list, row, "x");
        if self.fields.get(&name).is_empty() && row == 0 {
            return Some(Length::ZERO);
        }
        let asked = Asked::new(name, words::reading(self.texts, list, row, "x"));
        self.tape.wanted(self.fields, &asked, &mut self.faults)
    }

    fn height(&mut self, list: &str, row: usize, column: &str) -> Option<Length> {
        let asked = Asked::new(cell(list, row, column), words::reading(self.texts, list, row, column));
        self.tape.wanted(self.fields, &asked, &mut self.faults)
    }

    fn ends(&mut self) -> Option<[End; 2]> {
        let [left, right] = ENDS.map(|end| self.end(end));
        Some([left?, right?])
    }

    fn end(&mut self, end: &str) -> Option<End> {
        let role = self.role(&format!("{end}-role"), Role::Corner)?;
        let meets = self.fields.get(&format!("{end}-meets"));
        // Only at an inside corner does one tiled wall meet another; what stands beside another choice is left over.
        if meets.is_empty() || role != Role::Corner {
            return Some(End { role, meets: None });
        }
        let set_first = match self.fields.get(&format!("{end}-first")) {
            "neighbour" => SetFirst::Neighbour,
            _ => SetFirst::ThisWall,
        };
        let known = self.stored.sheet.walls.iter().find(|wall| wall.id.as_str() == meets);
        let neighbour = known.map(|wall| wall.id.clone()).ok_or_else(|| self.texts.say("fault-choice"));
        let neighbour = self.faults.take(&format!("{end}-meets"), neighbour)?;
        Some(End { role, meets: Some(Meeting { neighbour, set_first, build_up: Length::ZERO }) })
    }

    fn role(&mut self, name: &str, usual: Role) -> Option<Role> {
        let role = match self.fields.get(name) {
            "" => Some(usual),
            typed => Role::from_name(typed),
        };
        self.faults.take(name, role.ok_or_else(|| self.texts.say("fault-choice")))
    }

    fn top_may_move(&mut self) -> Option<Length> {
        if self.fields.get("top-may-move").is_empty() {
            return Some(Length::ZERO);
        }
        let asked = Asked::new("top-may-move", self.texts.say("wall-top-may-move"));
        self.tape.size(self.fields, &asked, &mut self.faults)
    }

    fn openings(&mut self) -> Vec<Row<Opening>> {
        let filled = self.fields.filled("opening", &OPENING);
        filled.into_iter().filter_map(|row| Some(Row { row, is: self.opening(row)? })).collect()
    }

    fn opening(&mut self, row: usize) -> Option<Opening> {
        let typed_name = self.fields.get(&cell("opening", row, "name"));
        let name = if typed_name.is_empty() {
            self.texts.say_with("wall-opening-number", &[("number", &(row + 1))])
        } else {
            typed_name.chars().take(LONGEST_OPENING_NAME).collect()
        };
        let asked = |column: &str| {
            let label = self.texts.say(&format!("wall-opening-{column}"));
            Asked::new(cell("opening", row, column), format!("{name}, {label}"))
        };
        let [x, y, width, height, clearance] = ["x", "y", "width", "height", "clearance"].map(asked);
        let circle = self.fields.get(&cell("opening", row, "kind")) == "circle";
        let x = self.tape.wanted(self.fields, &x, &mut self.faults);
        let y = self.above_or_below(&y);
        let width = self.extent(&width);
        let shape = if circle {
            OpeningShape::Circle { x: x?, y: y?, diameter: width? }
        } else {
            let height = self.extent(&height);
            OpeningShape::Rectangle { x: x?, y: y?, width: width?, height: height? }
        };
        let clearance = if self.fields.get(&clearance.name).is_empty() {
            Some(self.stored.sheet.gaps.opening)
        } else {
            self.tape.wanted(self.fields, &clearance, &mut self.faults)
        };
        let edge = match self.fields.get(&cell("opening", row, "edge")) {
            "" if circle => Some(OpeningEdge::Plate),
            "" => Some(OpeningEdge::Trim),
            typed => OpeningEdge::from_name(typed),
        };
        let edge = edge.ok_or_else(|| self.texts.say("fault-choice"));
        let edge = self.faults.take(&cell("opening", row, "edge"), edge);
        Some(Opening { name, shape, clearance: clearance?, edge: edge? })
    }

    fn extent(&mut self, asked: &Asked) -> Option<Length> {
        let length = self.tape.wanted(self.fields, asked, &mut self.faults)?;
        let says = || self.texts.say_with("wall-fault-extent", &[("label", &asked.label)]);
        let fits = if length > Length::ZERO { Ok(length) } else { Err(says()) };
        self.faults.take(&asked.name, fits)
    }

    /// A height from the line with its own choice of above or below; a minus always means below.
    fn above_or_below(&mut self, asked: &Asked) -> Option<Length> {
        let length = self.tape.wanted(self.fields, asked, &mut self.faults)?;
        match self.fields.get(&format!("{}-side", asked.name)) {
            "below" => Some(-length.abs()),
            _ => Some(length),
        }
    }

    /// Nothing while no tile is measured: the first tile is laid on every wall that has none.
    fn bands(&mut self) -> Option<Vec<Band>> {
        if self.stored.sheet.tiles.is_empty() {
            return Some(Vec::new());
        }
        let field = self.tile("field-tile")?;
        let field = Band {
            tile: field,
            upright: self.fields.ticked("field-upright"),
            height: BandHeight::Fill,
            bottom_between: None,
            joint_above: None,
            pattern: None,
        };
        if self.fields.get("strip-tile").is_empty() {
            return Some(vec![field]);
        }
        let strip = self.tile("strip-tile");
        let [least, most] = ["strip-least", "strip-most"].map(|name| {
            let asked = Asked::new(name, self.texts.say(&format!("wall-{name}")));
            self.above_or_below(&asked)
        });
        let (least, most) = (least?, most?);
        let strip = Band {
            tile: strip?,
            upright: false,
            height: BandHeight::Courses(1),
            bottom_between: Some((least.min(most), least.max(most))),
            joint_above: None,
            pattern: None,
        };
        Some(vec![field.clone(), strip, field])
    }

    fn tile(&mut self, name: &str) -> Option<TileId> {
        let id = TileId(self.fields.get(name).to_owned());
        let known = self.stored.sheet.tiles.contains_key(&id);
        let read = if known { Ok(id) } else { Err(self.texts.say("fault-choice")) };
        self.faults.take(name, read)
    }

    fn pattern(&mut self) -> Option<Pattern> {
        let mirror = match self.fields.get("pattern") {
            "straight" | "" => return Some(Pattern::Straight),
            "right" => false,
            "left" => true,
            other => {
                let read = other.parse().map_err(|_| self.texts.say("fault-choice"));
                return self.faults.take("pattern", read);
            }
        };
        let name = if self.fields.get("step") == "other" { "step-other" } else { "step" };
        let step: Option<Fraction> = self.fields.get(name).parse().ok();
        let step = step.filter(|step| 0 < step.numerator() && step.numerator() < step.denominator());
        let step = step.ok_or_else(|| self.texts.say("wall-fault-step"));
        Some(Pattern::Running { step: self.faults.take(name, step)?, mirror })
    }
}
