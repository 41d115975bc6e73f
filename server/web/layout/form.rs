//! A hand move as it is typed, and the layout that comes of it.

use trade::measure::{FirstCourse, Job, Layout, Length, SurfaceId};

use super::choices::pitch;
use super::words::Tape;
use crate::store::StoredSheet;
use crate::web::form::Faults;

/// What was sent: one move each time.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedMove {
    /// The version of the sheet that the page was drawn from.
    pub version: i64,
    /// What is moved; see [`Move`].
    pub change: String,
    /// On which wall, where one is meant.
    pub wall: String,
    /// The length typed or pressed.
    pub typed: String,
    /// `above` or `below` the level line; `left` or `right`; `propped` or `scribed`.
    pub way: String,
}

/// One change to the layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Move {
    /// x of an upright joint in course 1.
    Start(SurfaceId, Length),
    /// Which way the step climbs: `true` is left.
    Climb(SurfaceId, bool),
    First(SurfaceId, FirstCourse),
    /// y of a joint between courses, on every wall, in the first line's frame.
    Line(Length),
    Joint(Length),
    /// Everything that was chosen on one wall is proposed again; its course line belongs to all walls.
    WallAsProposed(SurfaceId),
    LineAsProposed,
    JointAsProposed,
    AllAsProposed,
}

/// Ids of the fields on the page.
pub const LINE_FIELD: &str = "line";
pub const JOINT_FIELD: &str = "joint";

/// The id of a wall's start on the page.
pub fn start_field(wall: &SurfaceId) -> String {
    format!("start-{wall}")
}

impl TypedMove {
    /// The id of the field that this was typed into.
    pub fn field(&self) -> String {
        match self.change.as_str() {
            "start" => format!("start-{}", self.wall),
            "line" => LINE_FIELD.to_owned(),
            _ => JOINT_FIELD.to_owned(),
        }
    }

    /// The move; `Ok(None)` for one that no form of ours sends.
    ///
    /// # Errors
    ///
    /// One sentence on what to type instead.
    pub fn read(&self, tape: &Tape, stored: &StoredSheet, job: Option<&Job>) -> Result<Option<Move>, Faults> {
        let wall =
            SurfaceId::new(&self.wall).filter(|id| stored.sheet.walls.iter().any(|wall| wall.id == *id));
        let mut faults = Faults::default();
        let read = match (self.change.as_str(), wall, self.way.as_str(), job) {
            ("start", Some(wall), _, Some(job)) => {
                self.start(tape, job, &wall).map(|x| Some(Move::Start(wall, x)))
            }
            ("line", None, way, Some(job)) => self.line(tape, stored, job, way).map(|y| Some(Move::Line(y))),
            ("joint", None, _, Some(job)) => self.joint(tape, job).map(|joint| Some(Move::Joint(joint))),
            ("climb", Some(wall), "left", _) => Ok(Some(Move::Climb(wall, true))),
            ("climb", Some(wall), "right", _) => Ok(Some(Move::Climb(wall, false))),
            ("first", Some(wall), "propped", _) => Ok(Some(Move::First(wall, FirstCourse::Propped))),
            ("first", Some(wall), "scribed", _) => Ok(Some(Move::First(wall, FirstCourse::Scribed))),
            ("wall-proposal", Some(wall), _, _) => Ok(Some(Move::WallAsProposed(wall))),
            ("line-proposal", None, _, _) => Ok(Some(Move::LineAsProposed)),
            ("joint-proposal", None, _, _) => Ok(Some(Move::JointAsProposed)),
            ("proposal", None, _, _) => Ok(Some(Move::AllAsProposed)),
            _ => Ok(None),
        };
        faults.take(&self.field(), read).ok_or(faults)
    }

    /// A joint may be named anywhere on the wall, or within one tile and joint on a wall narrower than that.
    fn start(&self, tape: &Tape, job: &Job, wall: &SurfaceId) -> Result<Length, String> {
        let x = tape.read(&self.typed)?;
        let surface = job.surface(wall);
        let width = surface.map(|surface| surface.width).unwrap_or_default();
        let layout = job.layout.clone().unwrap_or_default();
        let pitch = surface.and_then(|surface| pitch(job, &layout, surface)).unwrap_or_default();
        if x < Length::ZERO || x > width.max(pitch) {
            return Err(tape.say1("layout-fault-start", "width", &tape.show(width)));
        }
        Ok(x)
    }

    /// A course line lies between the lowest base and the highest top.
    fn line(&self, tape: &Tape, stored: &StoredSheet, job: &Job, way: &str) -> Result<Length, String> {
        let distance = tape.read(&self.typed)?;
        let today = match way {
            "above" => distance,
            "below" => -distance,
            _ => return Err(tape.say("fault-choice")),
        };
        let y = stored.line_shift.first_height(today);
        let lowest = job.surfaces.iter().flat_map(|wall| &wall.base).map(|reading| -reading.drop).min();
        let highest = job.surfaces.iter().flat_map(|wall| &wall.top).map(|reading| reading.rise).max();
        let between = lowest.is_some_and(|lowest| lowest <= y) && highest.is_some_and(|highest| y <= highest);
        if between { Ok(y) } else { Err(tape.say("layout-fault-line")) }
    }

    /// A joint is wider than nothing and narrower than every tile.
    fn joint(&self, tape: &Tape, job: &Job) -> Result<Length, String> {
        let joint = tape.read(&self.typed)?;
        let sides = job.tiles.values().flat_map(|tile| [tile.width, tile.height]);
        let narrowest = sides.min().unwrap_or_default();
        if joint <= Length::ZERO || joint >= narrowest {
            return Err(tape.say1("layout-fault-joint", "tile", &tape.show(narrowest)));
        }
        Ok(joint)
    }
}

impl Move {
    /// The layout with this move made. Whatever is absent in it is proposed.
    pub fn made_on(&self, stored: &StoredSheet) -> Layout {
        let mut layout = stored.sheet.layout.clone();
        match self {
            Self::Start(wall, x) => drop(layout.starts.insert(wall.clone(), *x)),
            Self::Climb(wall, left) => drop(layout.mirror.insert(wall.clone(), *left)),
            Self::First(wall, first) => drop(layout.first_course.insert(wall.clone(), *first)),
            Self::Line(y) => {
                layout.course_line = stored.sheet.walls.iter().map(|wall| (wall.id.clone(), *y)).collect();
            }
            Self::Joint(joint) => layout.joint = Some(*joint),
            Self::WallAsProposed(wall) => {
                layout.starts.remove(wall);
                layout.mirror.remove(wall);
                layout.first_course.remove(wall);
            }
            Self::LineAsProposed => layout.course_line.clear(),
            Self::JointAsProposed => layout.joint = None,
            Self::AllAsProposed => layout = Layout::default(),
        }
        layout
    }

    /// Where on the page this move is seen.
    pub fn anchor(&self) -> String {
        match self {
            Self::Start(wall, _)
            | Self::Climb(wall, _)
            | Self::First(wall, _)
            | Self::WallAsProposed(wall) => super::wall_anchor(wall),
            Self::Line(_) | Self::LineAsProposed => "courses".to_owned(),
            Self::Joint(_) | Self::JointAsProposed => "joint-width".to_owned(),
            Self::AllAsProposed => "main".to_owned(),
        }
    }
}

/// Whether anything of this wall's own was chosen.
pub fn chosen_on(layout: &Layout, wall: &SurfaceId) -> bool {
    layout.starts.contains_key(wall)
        || layout.mirror.contains_key(wall)
        || layout.first_course.contains_key(wall)
}
