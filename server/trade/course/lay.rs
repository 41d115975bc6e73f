//! Laying course lines: every wall of a level line from its readings, its bands and one joint.

use std::collections::BTreeMap;

use super::profile::{Profile, Reading};
use super::stack::{Begin, Kind, LEAST_PART, Laid, Layer, Stack};
use super::{Course, CourseFault, CourseFlag, Courses, LevelEnd, LevelSide, Outline, Station, WallCourses};
use crate::geometry::{Point, Side};
use crate::measure::{self, FirstCourse, Job, Layout, Length, Role, Surface, SurfaceId};

/// A wall of more courses than this is a slip of the keyboard.
const MOST_COURSES: u16 = 2000;

/// The courses of every wall, for a layout that has a course line for each.
///
/// Where the layout does not say whether a wall is propped or scribed, a carrying base that lies up to 3 mm
/// below the line's high point is propped, and one that falls more is scribed (common practice); so is one
/// whose largest gap would be more than `base_gap_max`. What the layout says is obeyed, and flagged.
///
/// # Errors
/// When no base of a level line carries, when walls of one level line disagree about its course lines, and when
/// a wall lacks a course line, a top, a known tile or room for a course.
pub fn lay(job: &Job, layout: &Layout) -> Result<Courses, CourseFault> {
    let mut walls = BTreeMap::new();
    for line in lines(job) {
        walls.extend(lay_line(job, layout, &line)?);
    }
    Ok(Courses { walls })
}

/// The walls of each level line, in the job's order.
pub(crate) fn lines(job: &Job) -> Vec<Vec<&Surface>> {
    let mut lines = BTreeMap::new();
    for surface in &job.surfaces {
        lines.entry(&surface.line).or_insert_with(Vec::new).push(surface);
    }
    lines.into_values().collect()
}

/// The courses of the walls of one level line.
pub(crate) fn lay_line(
    job: &Job,
    layout: &Layout,
    surfaces: &[&Surface],
) -> Result<BTreeMap<SurfaceId, WallCourses>, CourseFault> {
    let grounds = surfaces.iter().map(|surface| Ground::of(job, surface)).collect::<Result<Vec<_>, _>>()?;
    let line = Line::over(job, layout, &grounds)?;
    let mut laid = Vec::new();
    for ground in &grounds {
        let stack = line.stack(job, layout, ground)?;
        let at = *layout
            .course_line
            .get(&ground.surface.id)
            .ok_or_else(|| CourseFault::MissingCourseLine { surface: ground.surface.id.clone() })?;
        laid.push(Unnumbered::on(ground, stack, at, job)?);
    }
    agreed(&laid)?;
    let lowest = laid.iter().map(Unnumbered::lowest_bottom).min().unwrap_or_default();
    Ok(laid.into_iter().map(|wall| (wall.ground.surface.id.clone(), wall.numbered(&line, lowest))).collect())
}

/// The highest and the lowest place of the carrying base over the walls of one level line, with the gap.
pub(crate) fn high_and_low(job: &Job, surfaces: &[&Surface]) -> Result<(Length, Length), CourseFault> {
    let grounds = surfaces.iter().map(|surface| Ground::of(job, surface)).collect::<Result<Vec<_>, _>>()?;
    let line = Line::over(job, &Layout::default(), &grounds)?;
    Ok((line.seat, line.low))
}

/// A wall's readings as lines, before anything is laid on it.
struct Ground<'a> {
    surface: &'a Surface,
    base: Profile,
    /// The base with its gap.
    foot: Profile,
    /// The top less its gap.
    top: (Length, Length),
    head: Profile,
}

/// What the walls of a level line have in common.
struct Line {
    joint: Length,
    seat: Length,
    high_point: Length,
    /// The lowest place of the carrying base with the gap.
    low: Length,
    /// The lowest and the highest place of tile on any wall.
    reach: (Length, Length),
}

/// A wall laid, before its courses are counted.
struct Unnumbered<'a> {
    ground: &'a Ground<'a>,
    stack: Stack,
    line: Length,
    first_course: FirstCourse,
    first_bottom: Length,
    outline: Outline,
    top_stop: Option<Length>,
    /// Every course of the line's whole height.
    courses: Vec<Laid>,
    /// Where tile of this wall begins and ends.
    reach: (Length, Length),
    base_gap_max: Length,
}

impl<'a> Ground<'a> {
    fn of(job: &Job, surface: &'a Surface) -> Result<Self, CourseFault> {
        if let Some(outline) = &surface.outline {
            return Self::of_outline(job, surface, outline);
        }
        let base: Vec<Reading> = surface
            .base
            .iter()
            .map(|reading| Reading { at: Point::new(reading.x, -reading.drop), carries: reading.carries })
            .collect();
        // Turned over, so that rounding up keeps clear of the ceiling too.
        let top: Vec<Reading> = surface
            .top
            .iter()
            .map(|reading| Reading { at: Point::new(reading.x, -reading.rise), carries: false })
            .collect();
        let base = Profile::through(&base, surface.width);
        let head = Profile::through(&top, surface.width).raised(job.gaps.at(surface.edges.top));
        let (Some(lowest), Some(highest)) = (head.highest(), head.lowest()) else {
            return Err(CourseFault::NoTop { surface: surface.id.clone() });
        };
        Ok(Self {
            surface,
            foot: base.raised(job.gaps.at(surface.edges.base)),
            base,
            top: (-lowest, -highest),
            head,
        })
    }

    /// Courses run from the lowest to the highest place that an outline leaves for tile, and the first is cut where
    /// it falls.
    fn of_outline(job: &Job, surface: &'a Surface, outline: &measure::Outline) -> Result<Self, CourseFault> {
        let room = outline.room(&job.gaps);
        let lowest = room.iter().map(|part| part.bottom).min();
        let highest = room.iter().map(|part| part.top).max();
        let (Some(lowest), Some(highest)) = (lowest, highest) else {
            return Err(CourseFault::NoCourseFits { surface: surface.id.clone() });
        };
        let at = Point::new(Length::ZERO, lowest);
        let base = Profile::through(&[Reading { at, carries: true }], surface.width);
        Ok(Self {
            surface,
            foot: base.clone(),
            base,
            top: (highest, highest),
            head: Profile::level(-highest, surface.width),
        })
    }

    fn lowest_carrying(&self) -> Option<Length> {
        self.base.carrying().flat_map(|stretch| [stretch.from.y, stretch.to.y]).min()
    }
}

impl Line {
    fn over(job: &Job, layout: &Layout, grounds: &[Ground]) -> Result<Self, CourseFault> {
        let feet =
            || grounds.iter().flat_map(|ground| ground.foot.carrying()).flat_map(|s| [s.from.y, s.to.y]);
        let bases = grounds.iter().flat_map(|ground| ground.base.carrying()).flat_map(|s| [s.from.y, s.to.y]);
        let (Some(seat), Some(low), Some(high_point)) = (feet().max(), feet().min(), bases.max()) else {
            let line = grounds.first().map(|ground| ground.surface.line.clone()).unwrap_or_default();
            return Err(CourseFault::NoCarryingBase { line });
        };
        let lowest = grounds.iter().filter_map(|ground| ground.foot.lowest()).min().unwrap_or(low);
        let highest = grounds.iter().map(|ground| ground.top.1 + may_move(ground.surface)).max();
        let joint = layout.joint.unwrap_or_else(|| job.chosen_joint());
        Ok(Self { joint, seat, high_point, low, reach: (lowest, highest.unwrap_or(seat)) })
    }

    fn stack(&self, job: &Job, layout: &Layout, ground: &Ground) -> Result<Stack, CourseFault> {
        let surface = ground.surface;
        let mut layers = Vec::new();
        for band in &surface.bands {
            let size = job.laid_size(&band.tile, band.upright).ok_or_else(|| CourseFault::UnknownTile {
                surface: surface.id.clone(),
                tile: band.tile.clone(),
            })?;
            layers.push(Layer::of(band, size.height, self.joint));
        }
        let least_pitch = layers.iter().map(|layer| layer.height + self.joint).min().unwrap_or_default();
        if self.reach.1 - self.reach.0 > least_pitch * i64::from(MOST_COURSES) {
            return Err(CourseFault::TooManyCourses { surface: surface.id.clone(), most: MOST_COURSES });
        }
        Ok(Stack {
            layers,
            joint: self.joint,
            begin: Begin {
                asked: way_to_begin(layout, surface),
                seat: self.seat,
                line_low: self.low,
                lowest_base: ground.lowest_carrying(),
                high_point: self.high_point,
                base_gap_max: job.base_gap_max,
            },
            low: self.reach.0,
            high: self.reach.1,
            wanted_top: ground.top.1,
            top_may_move: may_move(surface),
        })
    }
}

impl<'a> Unnumbered<'a> {
    fn on(ground: &'a Ground<'a>, stack: Stack, line: Length, job: &Job) -> Result<Self, CourseFault> {
        let surface = ground.surface;
        let anchor = stack.anchor(line);
        let courses = stack.laid_on(anchor);
        let (first_course, first_bottom) = stack.begins(anchor);
        let foot_at_base = match first_course {
            FirstCourse::Propped => ground.foot.levelled_where_it_carries(first_bottom),
            FirstCourse::Scribed => ground.foot.clone(),
        };
        let base_gap = job.gaps.at(surface.edges.base);
        let top_gap = job.gaps.at(surface.edges.top);
        let top_stop = top_stop(surface, ground.top, &courses);
        let head = match top_stop {
            Some(stop) => Profile::level(-stop, surface.width),
            None => ground.head.stepped(top_gap, top_gap),
        };
        let reach = (foot_at_base.lowest().unwrap_or(first_bottom), top_stop.unwrap_or(ground.top.1));
        let wall = Self {
            ground,
            stack,
            line,
            first_course,
            first_bottom,
            outline: Outline {
                width: surface.width,
                base: ground.base.clone(),
                foot: foot_at_base.stepped((job.base_gap_max - base_gap).max(Length::ZERO), base_gap),
                foot_at_base,
                head,
                sides: level_sides(job, surface),
            },
            top_stop,
            courses,
            reach,
            base_gap_max: job.base_gap_max,
        };
        if wall.reached().next().is_none() {
            return Err(CourseFault::NoCourseFits { surface: surface.id.clone() });
        }
        Ok(wall)
    }

    /// The courses of which this wall has a part.
    fn reached(&self) -> impl Iterator<Item = &Laid> {
        let (low, high) = self.reach;
        self.courses
            .iter()
            .filter(move |course| course.top - low >= LEAST_PART && high - course.bottom >= LEAST_PART)
    }

    fn lowest_bottom(&self) -> Length {
        let field = self.reached().find(|course| !course.strip);
        field.or(self.reached().next()).map(|course| course.bottom).unwrap_or_default()
    }

    /// The wall with its courses counted from the line's lowest, whose whole tiles begin at `lowest`. On walls
    /// with other tile the course counts as 1 whose middle is the first above that.
    fn numbered(self, line: &Line, lowest: Length) -> WallCourses {
        let counted = |course: &Laid| !course.strip && (course.bottom + course.top).half() > lowest;
        let number_at = |bottom: Length| {
            let below = self.courses.iter().filter(|other| counted(other) && other.bottom <= bottom);
            u32::try_from(below.count()).unwrap_or(u32::MAX)
        };
        let bands = &self.ground.surface.bands;
        let courses: Vec<Course> = self
            .reached()
            .filter_map(|course| {
                Some(Course {
                    number: number_at(course.bottom),
                    band: course.band,
                    tile: bands.get(course.band)?.tile.clone(),
                    strip: course.strip,
                    bottom: course.bottom,
                    top: course.top,
                })
            })
            .collect();
        WallCourses {
            first_course: self.first_course,
            stations: self.stations(),
            seat: line.seat,
            high_point: line.high_point,
            top_stop: self.top_stop,
            flags: self.flags(),
            courses,
            outline: self.outline,
        }
    }

    fn stations(&self) -> Vec<Station> {
        let mut stations: Vec<Station> = Vec::new();
        if self.ground.surface.outline.is_some() {
            return stations;
        }
        let base = self.outline.base.stretches().iter();
        for (base, foot) in base.zip(self.outline.foot_at_base.stretches()) {
            for (base_at, foot_at) in [(base.from, foot.from), (base.to, foot.to)] {
                let course = self.reached().find(|course| course.top - foot_at.y >= LEAST_PART);
                let (bottom, top) = course
                    .map_or((foot_at.y, foot_at.y), |course| (foot_at.y.max(course.bottom), course.top));
                let station = Station {
                    x: base_at.x,
                    gap: bottom - base_at.y,
                    cut_height: top - bottom,
                    carries: base.carries,
                };
                let same = |last: &Station| {
                    (last.x, last.gap, last.cut_height) == (station.x, station.gap, station.cut_height)
                };
                if stations.last().is_some_and(same) {
                    stations.pop();
                }
                stations.push(station);
            }
        }
        stations
    }

    fn flags(&self) -> Vec<CourseFlag> {
        let mut flags = Vec::new();
        let largest = self.ground.lowest_carrying().map(|base| self.first_bottom - base);
        if let (FirstCourse::Propped, Some(largest)) = (self.first_course, largest)
            && largest > self.base_gap_max
        {
            flags.push(CourseFlag::PropGapTooLarge { largest, allowed: self.base_gap_max });
        }
        flags.extend(self.reached().filter_map(|course| match self.stack.layers.get(course.band)?.kind {
            Kind::Strip { lowest, highest } if course.bottom < lowest || highest < course.bottom => {
                Some(CourseFlag::StripOutOfRange {
                    band: course.band,
                    bottom: course.bottom,
                    lowest,
                    highest,
                })
            }
            Kind::Strip { .. } | Kind::Fill | Kind::Courses(_) => None,
        }));
        flags
    }
}

/// Walls of one line with the same bands must have been given joints of the same courses. Where bands differ
/// there is nothing to compare.
fn agreed(walls: &[Unnumbered]) -> Result<(), CourseFault> {
    for (place, wall) in walls.iter().enumerate() {
        let earlier = walls.iter().take(place);
        let mut alike = earlier.filter(|other| other.ground.surface.bands == wall.ground.surface.bands);
        if let Some(other) = alike.next()
            && other.line != wall.line
            && !other.stack.same(other.line, wall.line)
        {
            return Err(CourseFault::LinesDisagree {
                one: other.ground.surface.id.clone(),
                other: wall.ground.surface.id.clone(),
            });
        }
    }
    Ok(())
}

/// What the lead chose; a surface given by its outline is never propped.
fn way_to_begin(layout: &Layout, surface: &Surface) -> Option<FirstCourse> {
    match surface.outline {
        Some(_) => Some(FirstCourse::Scribed),
        None => layout.first_course.get(&surface.id).copied(),
    }
}

/// The level sides of an outline, where tile ends beside them.
fn level_sides(job: &Job, surface: &Surface) -> Vec<LevelSide> {
    let sides = surface.outline.iter().flat_map(measure::Outline::sides);
    let level = sides.filter_map(|side| {
        let gap = job.gaps.at(side.role);
        let (y, end) = match side.faces() {
            Side::Bottom => (side.at() + gap, LevelEnd::Foot),
            Side::Top => (side.at() - gap, LevelEnd::Head),
            Side::Left | Side::Right => return None,
        };
        Some(LevelSide { y, end, allows_cut: side.role.allows_cut() })
    });
    level.collect()
}

/// How far the top may move: only a bare or trimmed one can.
fn may_move(surface: &Surface) -> Length {
    match surface.edges.top {
        Role::Bare | Role::Trim => surface.top_may_move,
        Role::Corner | Role::Base | Role::Ceiling | Role::Mitre | Role::Hidden => Length::ZERO,
    }
}

/// The top of the whole course nearest to the wanted top (its lowest and highest place), if it is within reach.
fn top_stop(surface: &Surface, top: (Length, Length), courses: &[Laid]) -> Option<Length> {
    let off = |stop: &Length| (*stop - top.0).abs().max((*stop - top.1).abs());
    let within = may_move(surface);
    if within == Length::ZERO {
        return None;
    }
    courses.iter().map(|course| course.top).filter(|stop| off(stop) <= within).min_by_key(off)
}
