//! A hand move as it is typed, and the layout that comes of it.

use trade::measure::{FirstCourse, Job, Layout, Length, SurfaceId};

use super::choices::pitch;
use super::words::Words;
use crate::store::StoredSheet;
use crate::web::form::{Faults, Fields};
use crate::web::tape::Asked;

/// One change to the layout. A form sends its kind as `change`, its wall as `wall`, a way as `way` (`above` or
/// `below` the level line, `left` or `right`, `propped` or `scribed`), and a length in the field of its own.
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

/// Why a form is no move.
pub enum NoMove {
    /// What to type instead.
    Faults(Faults),
    /// No form of ours sends it.
    BadForm,
}

/// Names of the fields, which are their ids on the page too.
pub const LINE_FIELD: &str = "line";
pub const JOINT_FIELD: &str = "joint";

/// The name of a wall's start.
pub fn start_field(wall: &SurfaceId) -> String {
    format!("start-{wall}")
}

/// What a typed length is held against.
struct Reader<'a> {
    fields: &'a Fields,
    words: &'a Words,
    stored: &'a StoredSheet,
    /// The job with its walls as they are tiled.
    job: &'a Job,
}

impl Move {
    /// The move that a form asks for.
    ///
    /// # Errors
    ///
    /// Why it is none.
    pub fn read(
        fields: &Fields,
        words: &Words,
        stored: &StoredSheet,
        job: Option<&Job>,
    ) -> Result<Self, NoMove> {
        let wall = SurfaceId::new(fields.get("wall"))
            .filter(|id| stored.sheet.walls.iter().any(|wall| wall.id == *id));
        let reader = job.map(|job| Reader { fields, words, stored, job });
        match (fields.get("change"), wall, fields.get("way"), reader) {
            ("start", Some(wall), _, Some(reader)) => reader.start(&wall).map(|x| Self::Start(wall, x)),
            ("line", None, "above", Some(reader)) => reader.line(|distance| distance),
            ("line", None, "below", Some(reader)) => reader.line(|distance| -distance),
            ("joint", None, _, Some(reader)) => reader.joint(),
            ("climb", Some(wall), "left", _) => Ok(Self::Climb(wall, true)),
            ("climb", Some(wall), "right", _) => Ok(Self::Climb(wall, false)),
            ("first", Some(wall), "propped", _) => Ok(Self::First(wall, FirstCourse::Propped)),
            ("first", Some(wall), "scribed", _) => Ok(Self::First(wall, FirstCourse::Scribed)),
            ("wall-proposal", Some(wall), _, _) => Ok(Self::WallAsProposed(wall)),
            ("line-proposal", None, _, _) => Ok(Self::LineAsProposed),
            ("joint-proposal", None, _, _) => Ok(Self::JointAsProposed),
            ("proposal", None, _, _) => Ok(Self::AllAsProposed),
            _ => Err(NoMove::BadForm),
        }
    }

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
            Self::Line(_) | Self::LineAsProposed => super::LINE_ANCHOR.to_owned(),
            Self::Joint(_) | Self::JointAsProposed => super::JOINT_ANCHOR.to_owned(),
            Self::AllAsProposed => "main".to_owned(),
        }
    }
}

impl Reader<'_> {
    /// A joint may be named anywhere on the wall, or within one tile and joint on a wall narrower than that.
    fn start(&self, wall: &SurfaceId) -> Result<Length, NoMove> {
        let (field, job) = (start_field(wall), self.job);
        let surface = job.surface(wall);
        let width = surface.map(|surface| surface.width).unwrap_or_default();
        let layout = job.layout.clone().unwrap_or_default();
        let pitch = surface.and_then(|surface| pitch(job, &layout, surface)).unwrap_or_default();
        let on_the_wall = |x: Length| Length::ZERO <= x && x <= width.max(pitch);
        let says = || self.words.say1("layout-fault-start", "width", &self.words.tape.show(width));
        self.length(&field, "layout-start", on_the_wall, says)
    }

    /// A course line lies between the lowest base and the highest top.
    fn line(&self, from_today: impl Fn(Length) -> Length) -> Result<Move, NoMove> {
        let first = |distance| self.stored.line_shift.first_height(from_today(distance));
        let walls = &self.job.surfaces;
        let lowest = walls.iter().flat_map(|wall| &wall.base).map(|reading| -reading.drop).min();
        let highest = walls.iter().flat_map(|wall| &wall.top).map(|reading| reading.rise).max();
        let between = |distance: Length| {
            let y = first(distance);
            lowest.is_some_and(|lowest| lowest <= y) && highest.is_some_and(|highest| y <= highest)
        };
        let says = || self.words.say("layout-fault-line");
        self.length(LINE_FIELD, "layout-line", between, says).map(|distance| Move::Line(first(distance)))
    }

    /// A joint is wider than nothing and narrower than every tile.
    fn joint(&self) -> Result<Move, NoMove> {
        let sides = self.job.tiles.values().flat_map(|tile| [tile.width, tile.height]);
        let narrowest = sides.min().unwrap_or_default();
        let fits = |joint: Length| Length::ZERO < joint && joint < narrowest;
        let says = || self.words.say1("layout-fault-joint", "tile", &self.words.tape.show(narrowest));
        self.length(JOINT_FIELD, "layout-joint", fits, says).map(Move::Joint)
    }

    fn length(
        &self,
        field: &str,
        label: &str,
        fits: impl Fn(Length) -> bool,
        says: impl Fn() -> String,
    ) -> Result<Length, NoMove> {
        let mut faults = Faults::default();
        let asked = Asked::new(field, self.words.say(label));
        let typed = self.words.tape.wanted(self.fields, &asked, &mut faults);
        match typed.map(|length| self.unrounded(field).unwrap_or(length)) {
            Some(length) if fits(length) => return Ok(length),
            Some(_) => faults.add(field, says()),
            None => (),
        }
        Err(NoMove::Faults(faults))
    }
}

impl Reader<'_> {
    /// The length behind what the field showed, where that was sent back as it was.
    fn unrounded(&self, field: &str) -> Option<Length> {
        let unchanged = self.fields.get("shown") == self.fields.get(field);
        unchanged.then(|| Length::parse(self.fields.get("exact"), self.words.tape.unit()).ok()).flatten()
    }
}

/// Whether anything of this wall's own was chosen.
pub fn chosen_on(layout: &Layout, wall: &SurfaceId) -> bool {
    layout.starts.contains_key(wall)
        || layout.mirror.contains_key(wall)
        || layout.first_course.contains_key(wall)
}
