//! What a setter needs at one planned wall: lines to strike, gaps or cuts along the base, props, story pole.
//! x is from the bare wall's left corner, heights from today's line.

use std::collections::BTreeSet;

use trade::course::{Course, CourseFlag, PoleMark, Station, Strike, WallCourses, lines_to_strike};
use trade::geometry::Point;
use trade::measure::bare::{BareWall, LineShift, SetFirst};
use trade::measure::{FirstCourse, Length, Role, Sheet, Surface, SurfaceId};
use trade::place::Piece;

use super::sketch::Seen;
use super::words::{from_line, wall_name};
use crate::output::wall_drawing::{self, TileSketch};
use crate::store::StoredSheet;
use crate::texts::{Said, Texts};
use crate::web::tape::Tape;
use crate::work::Planned;

/// The card of one wall.
pub struct Card {
    pub figures: Vec<Figure>,
    /// What could not be obeyed.
    pub flags: Vec<String>,
    pub drawing: String,
    pub stations: Vec<StationLine>,
    /// Some of the base carries no first course, so that each station says what it stands on.
    pub curbs: bool,
    /// Empty where the first course is scribed.
    pub props: Vec<PropLine>,
    pub pole: Vec<PoleLine>,
}

/// One number, the largest thing on the page.
pub struct Figure {
    pub label: String,
    pub value: String,
    pub more: String,
}

/// What to do at one place along the base.
pub struct StationLine {
    pub x: String,
    pub gap: String,
    pub height: String,
    pub carries: String,
}

/// How high to prop under one corner of the first course.
pub struct PropLine {
    pub x: String,
    pub height: String,
    /// The tile sits on the base here.
    pub on_base: bool,
}

/// One mark of the story pole: the upper edge of a course.
pub struct PoleLine {
    pub course: String,
    pub above_base: String,
    pub from_line: String,
    /// Above or below the line; nothing at it.
    pub side: String,
    /// The width of the course's first piece from the left; empty where it is a whole tile or there is no course.
    pub begins: String,
    /// That piece is a whole tile.
    pub whole: bool,
    /// What the whole course is cut to at its top, in words; empty where whole tiles end there.
    pub cut_to: String,
}

/// Highest and lowest place of the base of one wall that carries, in the first line's frame.
#[derive(Clone, Copy)]
pub struct Carrying {
    pub highest: Length,
    pub lowest: Length,
}

impl Figure {
    /// A number, and not words.
    pub fn is_number(&self) -> bool {
        self.value.starts_with(|c: char| c.is_ascii_digit())
    }
}

impl Carrying {
    /// Over the stretches of a wall's base that carry; `None` where none does.
    pub fn of(surface: &Surface) -> Option<Self> {
        let stretches = surface.base.windows(2).filter(|pair| pair[0].carries && pair[0].x < pair[1].x);
        let between = stretches.flat_map(|pair| [-pair[0].drop, -pair[1].drop]);
        let last = surface.base.last().filter(|last| last.carries && last.x < surface.width);
        let heights: Vec<Length> = between.chain(last.map(|last| -last.drop)).collect();
        let (highest, lowest) = (*heights.iter().max()?, *heights.iter().min()?);
        Some(Self { highest, lowest })
    }
}

/// The walls whose base has the high point of the line.
pub fn walls_with_the_high_point(planned: &Planned) -> Vec<SurfaceId> {
    let has_it = |surface: &&Surface| {
        let courses = planned.option.courses.walls.get(&surface.id);
        courses.zip(Carrying::of(surface)).is_some_and(|(wall, base)| base.highest == wall.high_point)
    };
    planned.job.surfaces.iter().filter(has_it).map(|surface| surface.id.clone()).collect()
}

/// A wall with its plan.
struct Wall<'a> {
    texts: &'a Texts,
    tape: &'a Tape,
    sheet: &'a Sheet,
    line: LineShift,
    bare: &'a BareWall,
    planned: &'a Planned,
    surface: &'a Surface,
    courses: &'a WallCourses,
    /// What the neighbour's tile, set first, takes off the left.
    taken_left: Length,
}

impl Card {
    /// The card of a wall, if the plan has courses on it.
    pub fn new(
        stored: &StoredSheet,
        bare: &BareWall,
        planned: &Planned,
        texts: &Texts,
        tape: &Tape,
    ) -> Option<Self> {
        let wall = Wall {
            texts,
            tape,
            sheet: &stored.sheet,
            line: stored.line_shift,
            surface: planned.job.surface(&bare.id)?,
            courses: planned.option.courses.walls.get(&bare.id)?,
            taken_left: taken_left(bare, &stored.sheet),
            bare,
            planned,
        };
        Some(Self {
            figures: wall.figures(),
            flags: wall.courses.flags.iter().map(|flag| wall.flag(flag)).collect(),
            drawing: wall.drawing().unwrap_or_default(),
            stations: wall.stations(),
            curbs: wall.courses.stations.iter().any(|station| !station.carries),
            props: wall.props(),
            pole: wall.pole(),
        })
    }
}

/// What a wall's first course is called.
pub fn begins_with(courses: &WallCourses, tape: &Tape) -> &'static str {
    match courses.first_course {
        _ if courses.stands_whole(tape.unit()) => "card-whole",
        FirstCourse::Propped => "card-propped",
        FirstCourse::Scribed => "card-scribed",
    }
}

/// What the neighbour's tile, set first, takes off the left of a bare wall.
pub fn taken_left(bare: &BareWall, sheet: &Sheet) -> Length {
    match &bare.left.meets {
        Some(meets) if meets.set_first == SetFirst::Neighbour => sheet.build_up(&meets.neighbour),
        _ => Length::ZERO,
    }
}

impl Wall<'_> {
    fn figures(&self) -> Vec<Figure> {
        let mut figures = vec![self.first_course()];
        if let Some(strike) = self.strike() {
            figures.push(self.level(strike.course, strike.level));
            figures.extend(strike.plumb.map(|x| self.plumb(strike.course, x)));
        }
        figures.push(self.high_point());
        figures
    }

    fn strike(&self) -> Option<Strike> {
        let option = &self.planned.option;
        lines_to_strike(&self.planned.job, &option.layout, &option.courses).get(&self.bare.id).copied()
    }

    fn first_course(&self) -> Figure {
        let gaps = || self.courses.stations.iter().filter(|station| station.carries);
        if self.courses.stands_whole(self.tape.unit()) {
            let gap = self.tape.show_gap(gaps().map(|station| station.gap).min().unwrap_or_default());
            let more = self.texts.say_with("card-whole-says", &[("gap", &gap)]);
            return self.figure("card-first-course", self.texts.say("card-whole"), more);
        }
        let (value, more) = match self.courses.first_course {
            FirstCourse::Propped => {
                let largest = gaps().map(|station| station.gap).max().unwrap_or_default();
                let largest = self.tape.show_gap(largest);
                ("card-propped", self.texts.say_with("card-propped-says", &[("gap", &largest)]))
            }
            FirstCourse::Scribed => {
                let least = gaps().map(|station| station.cut_height).min().unwrap_or_default();
                let most = gaps().map(|station| station.cut_height).max().unwrap_or_default();
                let (least, most) = (self.tape.show_fit(least), self.tape.show_fit(most));
                (
                    "card-scribed",
                    self.texts.say_with("card-scribed-says", &[("least", &least), ("most", &most)]),
                )
            }
        };
        self.figure("card-first-course", self.texts.say(value), more)
    }

    fn level(&self, course: u32, y: Length) -> Figure {
        let y = self.line.todays_height(y);
        let side = if y < Length::ZERO { "card-level-below" } else { "card-level-above" };
        let more = self.texts.say_with(side, &[("course", &course)]);
        self.figure("card-level", self.off_the_line(y), more)
    }

    fn plumb(&self, course: u32, x: Length) -> Figure {
        let from_tile = self.tape.show(x);
        let key = if self.taken_left == Length::ZERO { "card-plumb-says" } else { "card-plumb-says-tile" };
        let more = self.texts.say_with(key, &[("x", &from_tile), ("course", &course)]);
        self.figure("card-plumb", self.tape.show(x + self.taken_left), more)
    }

    fn high_point(&self) -> Figure {
        let walls = walls_with_the_high_point(self.planned);
        let names: Vec<String> = walls.iter().map(|id| wall_name(self.texts, self.sheet, id)).collect();
        let more = match Carrying::of(self.surface) {
            _ if walls.contains(&self.bare.id) => self.texts.say("card-high-here"),
            Some(base) => {
                let below = self.tape.show_gap(self.courses.high_point - base.highest);
                match below == self.tape.show_gap(Length::ZERO) {
                    true => self.texts.say("card-high-level"),
                    false => self.texts.say_with("card-high-elsewhere", &[("below", &below)]),
                }
            }
            None => self.texts.say("card-nothing-carries"),
        };
        self.figure("card-high", names.join(", "), more)
    }

    fn figure(&self, label: &str, value: String, more: String) -> Figure {
        Figure { label: self.texts.say(label), value, more }
    }

    fn flag(&self, flag: &CourseFlag) -> String {
        match flag {
            CourseFlag::PropGapTooLarge { largest, allowed } => {
                let (largest, allowed) = (self.tape.show_gap(*largest), self.tape.show_gap(*allowed));
                self.texts.say_with("card-gap-too-large", &[("largest", &largest), ("allowed", &allowed)])
            }
            CourseFlag::StripOutOfRange { bottom, lowest, highest, .. } => {
                let [bottom, lowest, highest] = [bottom, lowest, highest]
                    .map(|y| from_line(self.texts, self.tape, self.line.todays_height(*y)));
                let says: [(&str, &dyn Said); 3] =
                    [("bottom", &bottom), ("lowest", &lowest), ("highest", &highest)];
                self.texts.say_with("card-strip-out-of-range", &says)
            }
        }
    }

    fn stations(&self) -> Vec<StationLine> {
        let line = |station: &Station| StationLine {
            x: self.tape.show(station.x + self.taken_left),
            gap: self.tape.show_gap(station.gap),
            height: self.tape.show_fit(station.cut_height),
            carries: self.texts.say(if station.carries { "card-carries" } else { "card-curb" }),
        };
        self.courses.stations.iter().map(line).collect()
    }

    /// One prop a joint: under the left corner of every tile of the first course, and the right one of the last.
    fn props(&self) -> Vec<PropLine> {
        if self.courses.first_course == FirstCourse::Scribed {
            return Vec::new();
        }
        let first = self.courses.courses.iter().find(|course| !course.strip).map(|course| course.number);
        let bounds = || {
            let pieces = self.planned.option.pieces.iter().filter(|piece| piece.surface == self.bare.id);
            pieces.filter(|piece| Some(piece.course) == first).map(|piece| piece.bounds)
        };
        let mut corners: BTreeSet<Length> = bounds().map(|bounds| bounds.left).collect();
        corners.extend(bounds().map(|bounds| bounds.right).max());
        let line = |x: Length| {
            let height = self.courses.prop_height(x);
            PropLine {
                x: self.tape.show(x + self.taken_left),
                height: self.tape.show_gap(height),
                on_base: height == Length::ZERO,
            }
        };
        corners.into_iter().map(line).collect()
    }

    /// From the top, as the pole stands. The foot of a scribed course is below the base and on no pole.
    fn pole(&self) -> Vec<PoleLine> {
        let marks = self.courses.story_pole();
        let foot = marks.first().filter(|first| first.bottom_above_base >= Length::ZERO).map(|first| {
            self.pole_line(self.texts.say("card-pole-foot"), first.bottom_above_base, first.bottom)
        });
        let tops = marks.iter().zip(&self.courses.courses).map(|(mark, of)| {
            let course = if mark.strip { self.texts.say("card-pole-strip") } else { mark.number.to_string() };
            let first = self.first_of(of);
            let cut = first.filter(|first| !first.full);
            PoleLine {
                begins: cut.map(|cut| self.tape.show_fit(cut.bounds.width())).unwrap_or_default(),
                whole: first.is_some_and(|first| first.full),
                ..self.upper_edge(course, mark)
            }
        });
        let mut pole: Vec<PoleLine> = foot.into_iter().chain(tops).collect();
        pole.reverse();
        pole
    }

    /// The upper edge of a course as its tiles have it: where all are cut at the top, that is where they are cut to.
    fn upper_edge(&self, course: String, mark: &PoleMark) -> PoleLine {
        let Some((lowest, highest)) = mark.cut_at_top else {
            return self.pole_line(course, mark.top_above_base, mark.top);
        };
        let [low, high] =
            [lowest, highest].map(|y| self.pole_line(course.clone(), y - self.courses.high_point, y));
        let from_to = |low: String, high: String| match low == high {
            true => high,
            false => self.texts.say_with("card-pole-from-to", &[("low", &low), ("high", &high)]),
        };
        let ceiling = self.surface.edges.top == Role::Ceiling;
        PoleLine {
            above_base: from_to(low.above_base, high.above_base),
            from_line: from_to(low.from_line, high.from_line),
            cut_to: self.texts.say(if ceiling { "card-pole-ceiling" } else { "card-pole-top" }),
            ..high
        }
    }

    fn pole_line(&self, course: String, above_base: Length, y: Length) -> PoleLine {
        let y = self.line.todays_height(y);
        let (from_line, side) = match y.units().signum() {
            1 => (self.off_the_line(y), self.texts.say("wall-side-above")),
            -1 => (self.off_the_line(y), self.texts.say("wall-side-below")),
            _ => (self.texts.say("height-at"), String::new()),
        };
        PoleLine {
            course,
            above_base: self.tape.show_fit(above_base),
            from_line,
            side,
            begins: String::new(),
            whole: false,
            cut_to: String::new(),
        }
    }

    /// How far a mark lies from today's line. A course stands no higher than its cut pieces are cut, and those are cut
    /// down to the mark: so every mark is the one at its height or below it.
    fn off_the_line(&self, y: Length) -> String {
        if y < Length::ZERO { self.tape.show_clear(-y) } else { self.tape.show_fit(y) }
    }

    /// The piece that a course begins with at the left.
    fn first_of(&self, course: &Course) -> Option<&Piece> {
        let of_it = |piece: &&Piece| {
            piece.surface == self.bare.id && piece.course == course.number && piece.band == course.band
        };
        self.planned.option.pieces.iter().filter(of_it).min_by_key(|piece| piece.bounds.left)
    }

    fn drawing(&self) -> Option<String> {
        let today = self.bare.raised(-self.line.0);
        let mut sketch = Seen::from(&today).sketch(self.texts, self.tape);
        let moved = |at: &Point| Point::new(at.x + self.taken_left, self.line.todays_height(at.y));
        let pieces = self.planned.option.pieces.iter().filter(|piece| piece.surface == self.bare.id);
        let field = || self.courses.courses.iter().filter(|course| !course.strip);
        let plumb = self.strike().and_then(|strike| strike.plumb);
        let courses = field().map(|course| {
            (self.line.todays_height((course.bottom + course.top).half()), course.number.to_string())
        });
        sketch.tile = Some(TileSketch {
            pieces: pieces.map(|piece| (piece.outline.iter().map(moved).collect(), piece.full)).collect(),
            courses: courses.collect(),
            plumb: plumb.map(|x| (x + self.taken_left, self.texts.say("plumb-line"))),
        });
        let courses = field().count();
        sketch.names.description = self.texts.say_with("card-drawing-says", &[("courses", &courses)]);
        wall_drawing::draw(&sketch, "planned")
    }
}
