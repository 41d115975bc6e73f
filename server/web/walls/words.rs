//! What is wrong with walls, looks wrong, or is missing before they can be planned, in the words of the pages.

use trade::course::CourseFault;
use trade::measure::bare::{BareFault, BareWall, End, Floor, LineShift};
use trade::measure::misreading::{Against, Misreading, at_the_base, at_the_top};
use trade::measure::sound::{Height, SurfaceFault};
use trade::measure::{Length, Role, Sheet, SheetFault, SurfaceId};
use trade::offcut::ProblemFault;
use trade::search::WorkFault;

use super::corners::{self, opposite_end, placed};
use super::form::{Draft, ENDS, Row};
use crate::store::StoredSheet;
use crate::texts::{Said, Texts};
use crate::web::form::{Faults, Fields, cell};
use crate::web::tape::Tape;
use crate::web::urls;
use crate::work::NoPlan;

/// A wall wider than this is a slip of the keyboard or of the unit.
const WIDEST: Length = Length::mm(30_000);

/// Tiles on one wall: fifty square metres of small tile. More would keep the planner from everyone else's walls.
const MOST_TILES: i128 = 5000;

/// Something that is missing before the job can be planned, and where to see to it.
pub struct Missing {
    pub says: String,
    pub url: String,
    pub link: String,
}

/// A height from the line: `1203 mm below the line`.
pub fn from_line(texts: &Texts, tape: &Tape, height: Length) -> String {
    let key = match height.units().signum() {
        1 => "height-above",
        -1 => "height-below",
        _ => "height-at",
    };
    texts.say_with(key, &[("height", &tape.show(height.abs()))])
}

/// What a fault calls one field of a reading: "Base reading 2, from the left".
pub fn reading(texts: &Texts, list: &str, row: usize, column: &str) -> String {
    texts.say_with(&format!("wall-{list}-{column}-of"), &[("number", &(row + 1))])
}

/// What the crew calls a wall, with its short name.
pub fn wall_name(texts: &Texts, sheet: &Sheet, id: &SurfaceId) -> String {
    let name = sheet.walls.iter().find(|wall| wall.id == *id).map_or("", |wall| wall.name.as_str());
    texts.say_with("wall-named", &[("name", &name), ("id", &id.as_str())])
}

/// Everything that keeps a wall, its heights from the first line, from being saved.
pub fn wall_faults(wall: &BareWall, stored: &StoredSheet, draft: &Draft, texts: &Texts) -> Faults {
    let mut faults = Faults::default();
    // Stored heights count from the first line already.
    let by_itself = wall.surface(Floor::AsMeasured, LineShift::default()).err().unwrap_or_default();
    let found = if by_itself.is_empty() { among_its_neighbours(wall, &stored.sheet) } else { by_itself };
    let tape = Tape::new(texts, stored.sheet.unit);
    let words = FaultWords { texts, tape: &tape, rows: Some(draft) };
    for fault in &found {
        let (field, says) = words.of(fault, wall);
        faults.add(&field, says);
    }
    if wall.width > WIDEST {
        let most = tape.show(WIDEST);
        faults.add("width", texts.say_with("wall-fault-too-wide", &[("most", &most)]));
    } else if faults.is_empty() && has_too_many_tiles(wall, &stored.sheet) {
        faults
            .add("width", texts.say_with("wall-fault-too-many-tiles", &[("most", &MOST_TILES.to_string())]));
    }
    for (field, says) in taken_corners(wall, stored, texts) {
        faults.add(&field, says);
    }
    faults
}

/// Faults that show once the neighbours' and the floor's tile is taken off.
fn among_its_neighbours(wall: &BareWall, sheet: &Sheet) -> Vec<BareFault> {
    let faults = placed(sheet, wall).job().err().unwrap_or_default();
    let its_own = |fault| match fault {
        SheetFault::Wall { wall: of, fault } if of == wall.id => Some(fault),
        SheetFault::Wall { .. }
        | SheetFault::NoWalls
        | SheetFault::NoTile(_)
        | SheetFault::JointTooWide { .. }
        | SheetFault::TooManyTiles { .. } => None,
    };
    faults.into_iter().filter_map(its_own).collect()
}

/// Whether a wall's tile is too small, or the wall too large, to be planned.
pub fn has_too_many_tiles(wall: &BareWall, sheet: &Sheet) -> bool {
    let lowest = wall.base.iter().map(|reading| -reading.drop).min().unwrap_or_default();
    let highest = wall.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
    let area = i128::from(wall.width.units()) * i128::from((highest - lowest).units());
    wall.bands.iter().filter(|band| !band.is_strip()).filter_map(|band| sheet.tiles.get(&band.tile)).any(
        |tile| {
            let sides = [tile.width, tile.height].map(|side| i128::from((side + sheet.joint).units()));
            area > MOST_TILES * sides[0] * sides[1]
        },
    )
}

/// Corners that a neighbour already shares with another wall.
fn taken_corners(wall: &BareWall, stored: &StoredSheet, texts: &Texts) -> Vec<(String, String)> {
    let ends = ENDS.into_iter().zip([&wall.left, &wall.right]);
    let taken = |(end, is): (&str, &End)| {
        let meets = is.meets.as_ref()?;
        let other = stored.sheet.walls.iter().find(|other| other.id == meets.neighbour)?;
        let theirs = opposite_end(other, end).meets.as_ref().filter(|theirs| theirs.neighbour != wall.id)?;
        let neighbour = wall_name(texts, &stored.sheet, &other.id);
        let already = wall_name(texts, &stored.sheet, &theirs.neighbour);
        let says: [(&str, &dyn Said); 2] = [("neighbour", &neighbour), ("already", &already)];
        Some((format!("{end}-meets"), texts.say_with("wall-fault-corner-taken", &says)))
    };
    ends.filter_map(taken).collect()
}

/// The words for faults of a wall, and the field each belongs to.
struct FaultWords<'a> {
    texts: &'a Texts,
    tape: &'a Tape,
    /// The form's rows; a stored wall's readings stand in rows of their own number.
    rows: Option<&'a Draft>,
}

impl FaultWords<'_> {
    fn of(&self, fault: &BareFault, wall: &BareWall) -> (String, String) {
        match fault {
            BareFault::AsRead(fault) => self.surface(fault, "wall-fault-no-width"),
            BareFault::WithTile(fault) => self.surface(fault, "wall-fault-no-width-left"),
            BareFault::MeetsOutsideACorner { neighbour } => {
                let at_left = wall.left.meets.as_ref().is_some_and(|meets| meets.neighbour == *neighbour);
                let end = if at_left { "left" } else { "right" };
                let says = self.texts.say_with("wall-fault-no-corner", &[("neighbour", &neighbour.as_str())]);
                (format!("{end}-role"), says)
            }
            BareFault::NegativeBuildUp { .. } => {
                ("left-meets".to_owned(), self.texts.say("wall-fault-build-up"))
            }
        }
    }

    fn surface(&self, fault: &SurfaceFault, no_width: &str) -> (String, String) {
        match fault {
            SurfaceFault::NoWidth => ("width".to_owned(), self.texts.say(no_width)),
            SurfaceFault::NoReading(Height::Base) => {
                (cell("base", 0, "drop"), self.texts.say("wall-fault-no-base"))
            }
            SurfaceFault::NoReading(Height::Top) => {
                (cell("top", 0, "rise"), self.texts.say("wall-fault-no-top"))
            }
            SurfaceFault::OutOfOrder { height, index } => self.at_reading(*height, *index, "out-of-order"),
            SurfaceFault::Beside { height, index } => self.at_reading(*height, *index, "beside"),
            SurfaceFault::NoHeight { x } => {
                let x = self.tape.show(*x);
                (cell("top", 0, "rise"), self.texts.say_with("wall-fault-no-height", &[("x", &x)]))
            }
            SurfaceFault::AllCovered => ("width".to_owned(), self.texts.say("wall-fault-covered")),
            SurfaceFault::OpeningOutside { index } => self.at_opening(*index, "x", "outside"),
            SurfaceFault::OpeningClosed { index } => self.at_opening(*index, "clearance", "closed"),
            SurfaceFault::OpeningsClash { index } => self.at_opening(*index, "edge", "clash"),
        }
    }

    fn at_reading(&self, height: Height, index: usize, what: &str) -> (String, String) {
        let (list, row) = match height {
            Height::Base => ("base", self.rows.map_or(index, |draft| row_of(&draft.base, index))),
            Height::Top => ("top", self.rows.map_or(index, |draft| row_of(&draft.top, index))),
        };
        let label = reading(self.texts, list, row, "x");
        let says = self.texts.say_with(&format!("wall-fault-{what}"), &[("label", &label)]);
        (cell(list, row, "x"), says)
    }

    fn at_opening(&self, index: usize, column: &str, what: &str) -> (String, String) {
        let row = self.rows.map_or(index, |draft| row_of(&draft.openings, index));
        let name = self.rows.and_then(|draft| draft.openings.get(index)).map(|row| row.is.name.clone());
        let number = || self.texts.say_with("wall-opening-number", &[("number", &(index + 1))]);
        let name = name.unwrap_or_else(number);
        let says = self.texts.say_with(&format!("wall-fault-opening-{what}"), &[("name", &name)]);
        (cell("opening", row, column), says)
    }
}

fn row_of<T>(rows: &[Row<T>], index: usize) -> usize {
    rows.get(index).map_or(index, |row| row.row)
}

/// Readings of a wall, its heights from the first line, that its neighbours do not bear out.
pub fn misreadings(wall: &BareWall, stored: &StoredSheet, texts: &Texts) -> Vec<String> {
    let sheet = &stored.sheet;
    let tape = Tape::new(texts, sheet.unit);
    let others = || sheet.walls.iter().filter(|other| other.id != wall.id && other.line == wall.line);
    let carrying = others().flat_map(|other| other.base.iter().filter(|reading| reading.carries));
    let drops: Vec<Length> = carrying.map(|reading| reading.drop).collect();
    // Tile may stop lower on one wall than on another; ceilings are one.
    let ceilings = others().filter(|other| other.top_role == wall.top_role);
    let rises: Vec<Length> =
        ceilings.flat_map(|other| other.top.iter().map(|reading| reading.rise)).collect();
    let line = stored.line_shift;
    let says = |list: &str, x: Length, read: Length, suggested: Length| {
        let off = tape.show((read - suggested).abs());
        let (x, read, suggested) = (tape.show(x), tape.show(read), tape.show(suggested));
        texts.say_with(
            &format!("wall-misread-{list}"),
            &[("x", &x), ("off", &off), ("read", &read), ("suggested", &suggested)],
        )
    };
    let (above, below) = beyond_the_line(wall, line);
    let base = at_the_base(&wall.base, &drops).into_iter().filter(|misread| !above.contains(&misread.index));
    let base = base.map(|Misreading { index, read, suggested, against }| {
        let list = match against {
            Against::Neighbours => "base",
            Against::TheOneBefore => "base-before",
            Against::OtherWalls => "base-walls",
        };
        says(list, wall.base[index].x, line.todays_drop(read), line.todays_drop(suggested))
    });
    let top = at_the_top(&wall.top, &rises).into_iter().filter(|misread| !below.contains(&misread.index));
    let top = top.map(|Misreading { index, read, suggested, .. }| {
        says("top", wall.top[index].x, line.todays_height(read), line.todays_height(suggested))
    });
    let wrong_side =
        |list: &str, x: Length| texts.say_with(&format!("wall-misread-{list}"), &[("x", &tape.show(x))]);
    let above = above.iter().map(|&index| wrong_side("base-above", wall.base[index].x));
    let below = below.iter().map(|&index| wrong_side("top-below", wall.top[index].x));
    above.chain(below).chain(base).chain(top).collect()
}

/// Readings of the base above today's line, and of a ceiling below it: a minus that slipped in, as a rule. Tile that
/// stops below the line has its readings there.
fn beyond_the_line(wall: &BareWall, line: LineShift) -> (Vec<usize>, Vec<usize>) {
    let above = (0..wall.base.len()).filter(|&index| line.todays_drop(wall.base[index].drop) < Length::ZERO);
    let is_below = |index: &usize| line.todays_height(wall.top[*index].rise) < Length::ZERO;
    let below = (0..wall.top.len()).filter(|index| wall.top_role == Role::Ceiling && is_below(index));
    (above.collect(), below.collect())
}

/// The same of every wall, with the way to the wall where it is measured again.
pub fn misread(stored: &StoredSheet, texts: &Texts) -> Vec<Missing> {
    let of_wall = |wall: &BareWall| {
        let says = misreadings(wall, stored, texts);
        let at = |says: String| at_wall(says, &wall.id, stored, texts);
        says.into_iter().map(at).collect::<Vec<_>>()
    };
    stored.sheet.walls.iter().flat_map(of_wall).collect()
}

/// Inside corners that may be some other wall's too and of which nobody has said so, with the way to each.
pub fn open_corners(stored: &StoredSheet, texts: &Texts) -> Vec<Missing> {
    let at_corner = |(wall, end): (&SurfaceId, &str)| {
        let name = wall_name(texts, &stored.sheet, wall);
        let says = texts.say_with(&format!("corner-open-{end}"), &[("wall", &name)]);
        let url = format!("{}#{end}-meets", urls::wall(&stored.id, wall.as_str()));
        Missing { says, url, link: texts.say_with("corner-open-link", &[("wall", &name)]) }
    };
    corners::open(&stored.sheet).into_iter().map(at_corner).collect()
}

/// What an inside corner is taken for as it is typed; nothing of another end.
pub fn corner(typed: &Fields, end: &str, stored: &StoredSheet, texts: &Texts) -> String {
    if !["", Role::Corner.name()].contains(&typed.get(&format!("{end}-role"))) {
        return String::new();
    }
    let meets = typed.get(&format!("{end}-meets"));
    if meets.is_empty() {
        return texts.say("wall-corner-none");
    }
    let Some(wall) = stored.sheet.walls.iter().find(|wall| wall.id.as_str() == meets) else {
        return String::new();
    };
    let first = if typed.get(&format!("{end}-first")) == "neighbour" { "neighbour" } else { "this" };
    let name = wall_name(texts, &stored.sheet, &wall.id);
    texts.say_with(&format!("wall-corner-{end}-{first}"), &[("wall", &name)])
}

/// What is missing before the job can be planned.
pub fn missing(no_plan: &NoPlan, stored: &StoredSheet, texts: &Texts) -> Vec<Missing> {
    match no_plan {
        NoPlan::Sheet(faults) => faults.iter().map(|fault| sheet_fault(fault, stored, texts)).collect(),
        NoPlan::Layout(fault) => vec![work_fault(fault, stored, texts)],
        NoPlan::Stopped => vec![at_the_layout(texts.say("no-plan-stopped"), stored, texts)],
        NoPlan::Busy => vec![at_the_layout(texts.say("no-plan-busy"), stored, texts)],
    }
}

fn sheet_fault(fault: &SheetFault, stored: &StoredSheet, texts: &Texts) -> Missing {
    match fault {
        SheetFault::NoWalls => Missing {
            says: texts.say("no-plan-no-wall"),
            url: urls::new_wall(&stored.id),
            link: texts.say("wall-measure"),
        },
        SheetFault::JointTooWide { joint, tile } => {
            let tape = Tape::new(texts, stored.sheet.unit);
            let says = texts.say_with("no-plan-joint", &[("joint", &tape.show(*joint)), ("tile", &tile.0)]);
            Missing { says, url: urls::sheet(&stored.id), link: texts.say("sheet-title") }
        }
        SheetFault::TooManyTiles { most } => Missing {
            says: texts.say_with("no-plan-too-large", &[("most", most)]),
            url: urls::sheet(&stored.id),
            link: texts.say("sheet-title"),
        },
        SheetFault::NoTile(_) if stored.sheet.tiles.is_empty() => no_tile(stored, texts),
        SheetFault::NoTile(wall) => at_wall(texts.say("no-plan-no-tile-on-wall"), wall, stored, texts),
        SheetFault::Wall { wall, fault } => {
            let tape = Tape::new(texts, stored.sheet.unit);
            let bare = stored.sheet.walls.iter().find(|other| other.id == *wall);
            let words = FaultWords { texts, tape: &tape, rows: None };
            let says = bare.map(|bare| words.of(fault, bare).1).unwrap_or_default();
            at_wall(says, wall, stored, texts)
        }
    }
}

/// What to do first where no tile is measured.
pub fn no_tile(stored: &StoredSheet, texts: &Texts) -> Missing {
    Missing {
        says: texts.say("no-plan-no-tile"),
        url: urls::sheet(&stored.id),
        link: texts.say("sheet-title"),
    }
}

fn work_fault(fault: &WorkFault, stored: &StoredSheet, texts: &Texts) -> Missing {
    let on_sheet = |says| Missing { says, url: urls::sheet(&stored.id), link: texts.say("sheet-title") };
    match fault {
        WorkFault::Courses(fault) => course_fault(fault, stored, texts),
        WorkFault::BothWays(tile) => on_sheet(texts.say_with("no-plan-both-ways", &[("tile", &tile.0)])),
        WorkFault::Cutting { tile, faults } => {
            let too_many = faults.iter().any(|fault| matches!(fault, ProblemFault::TooManyPieces { .. }));
            let key = if too_many { "no-plan-too-many" } else { "no-plan-cutting" };
            on_sheet(texts.say_with(key, &[("tile", &tile.0)]))
        }
        WorkFault::Ours(why) => {
            tracing::error!(job = %stored.id, why, "a plan failed its own check");
            at_the_layout(texts.say("no-plan-ours"), stored, texts)
        }
    }
}

fn course_fault(fault: &CourseFault, stored: &StoredSheet, texts: &Texts) -> Missing {
    match fault {
        CourseFault::NoCarryingBase { .. } => at_the_layout(texts.say("no-plan-no-carrying"), stored, texts),
        CourseFault::MissingCourseLine { surface } => {
            at_wall(texts.say("no-plan-no-line"), surface, stored, texts)
        }
        CourseFault::LinesDisagree { one, other } => {
            let [one, other] = [one, other].map(|id| wall_name(texts, &stored.sheet, id));
            let says = texts.say_with("no-plan-lines-disagree", &[("one", &one), ("other", &other)]);
            at_the_layout(says, stored, texts)
        }
        CourseFault::NoCourseFits { surface } => {
            at_wall(texts.say("no-plan-no-course"), surface, stored, texts)
        }
        CourseFault::NoTop { surface } => at_wall(texts.say("wall-fault-no-top"), surface, stored, texts),
        CourseFault::UnknownTile { surface, .. } => {
            at_wall(texts.say("no-plan-no-tile-on-wall"), surface, stored, texts)
        }
        CourseFault::TooManyCourses { surface, .. } => {
            at_wall(texts.say("no-plan-too-many-courses"), surface, stored, texts)
        }
    }
}

fn at_wall(says: String, wall: &SurfaceId, stored: &StoredSheet, texts: &Texts) -> Missing {
    let link = wall_name(texts, &stored.sheet, wall);
    Missing { says, url: urls::wall(&stored.id, wall.as_str()), link }
}

fn at_the_layout(says: String, stored: &StoredSheet, texts: &Texts) -> Missing {
    Missing { says, url: urls::layout(&stored.id), link: texts.say("walls-layout") }
}
