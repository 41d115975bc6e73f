//! What the rules say of a surface: where tile belongs, which tile of the pattern a place is in, and where nothing
//! hides a cut edge.

use crate::course::{Course, CutLine};
use crate::geometry::polygon::{self, Where};
use crate::geometry::{Point, ROUNDNESS, Rect, Side};
use crate::measure::{Job, Layout, Length, OpeningShape, Outline, OutlineSide, Pattern, Role, Surface};

use super::super::{Hole, Limits, Piece, SMALLEST_PIECE, Shift, TrueSize};

/// The surface with its rules.
pub(super) struct Ground<'a> {
    job: &'a Job,
    surface: &'a Surface,
    courses: &'a [Course],
    layout: &'a Layout,
    limits: &'a dyn Limits,
    pub joint: Length,
    pub left: Length,
    pub right: Length,
    pub openings: Vec<Gap<'a>>,
    pub sides: Vec<Border>,
    /// Its ends as planned, and how far the lines of foot and head were found above those planned.
    planned: (Length, Length),
    raised: (Length, Length),
}

/// A side of an outline, which has the surface on its left, with the room that its gap keeps free.
pub(super) struct Border {
    from: Point,
    to: Point,
    bare: bool,
    free: Rect,
}

/// One tile of the pattern.
#[derive(Clone, Copy)]
pub(super) struct Slot<'a> {
    pub course: &'a Course,
    pub cell: Rect,
}

/// An opening with its clearance.
#[derive(Clone)]
pub(super) struct Gap<'a> {
    pub name: &'a str,
    bare: bool,
    form: Form,
}

#[derive(Clone)]
enum Form {
    Square(Rect),
    Round(Point, Length),
}

/// A stretch of the line that a tile is cut to.
pub(super) struct Limit {
    left: Point,
    right: Point,
    /// Where a step parts the lines, the tile may be notched square, down to the line's farther end.
    parted: bool,
}

impl<'a> Ground<'a> {
    pub(super) fn new(
        job: &'a Job,
        surface: &'a Surface,
        courses: &'a [Course],
        layout: &'a Layout,
        limits: &'a dyn Limits,
    ) -> Self {
        let openings = surface.openings.iter().map(|opening| {
            let grown = opening.clearance;
            let form = match opening.shape {
                OpeningShape::Rectangle { x, y, width, height } => Form::Square(Rect {
                    left: x - grown,
                    bottom: y - grown,
                    right: x + width + grown,
                    top: y + height + grown,
                }),
                OpeningShape::Circle { x, y, diameter } => {
                    Form::Round(Point::new(x, y), diameter + grown + grown)
                }
            };
            Gap { name: &opening.name, bare: !opening.edge.allows_cut(), form }
        });
        let (left, right) = match &surface.outline {
            None => (job.gaps.at(surface.edges.left), surface.width - job.gaps.at(surface.edges.right)),
            Some(outline) => (outline.bounds().left, outline.bounds().right),
        };
        Self {
            job,
            surface,
            courses,
            layout,
            limits,
            joint: layout.joint.unwrap_or(job.joint),
            left,
            right,
            openings: openings.filter(|gap| !gap.is_closed()).collect(),
            sides: surface.outline.as_ref().map(|outline| borders(job, outline)).unwrap_or_default(),
            planned: (left, right),
            raised: (Length::ZERO, Length::ZERO),
        }
    }

    /// The same as the tape found it for one piece: what ends it on the sides measured stands elsewhere.
    pub(super) fn as_found(&self, size: &TrueSize) -> Self {
        let mut found = Self { openings: self.openings.clone(), sides: Vec::new(), ..*self };
        for shift in &size.shifts {
            if !found.opening_moved(&size.planned, *shift) {
                match shift.side {
                    Side::Left => found.left -= shift.by,
                    Side::Right => found.right += shift.by,
                    Side::Bottom => found.raised.0 -= shift.by,
                    Side::Top => found.raised.1 += shift.by,
                }
            }
        }
        found.openings.retain(|gap| !gap.is_closed());
        found
    }

    /// Moves the near side of every square opening that the piece was planned up to; whether there is one.
    fn opening_moved(&mut self, planned: &Rect, Shift { side, by }: Shift) -> bool {
        let mut moved = false;
        for gap in &mut self.openings {
            let Form::Square(rect) = &mut gap.form else { continue };
            let beside = rect.bottom < planned.top && planned.bottom < rect.top;
            let over = rect.left < planned.right && planned.left < rect.right;
            let (at, meets) = (rect.at(side.opposite()), planned.at(side));
            let faces = match side {
                Side::Left | Side::Right => beside,
                Side::Bottom | Side::Top => over,
            };
            if !faces || at != meets {
                continue;
            }
            match side {
                Side::Left => rect.right -= by,
                Side::Right => rect.left += by,
                Side::Bottom => rect.top -= by,
                Side::Top => rect.bottom += by,
            }
            moved = true;
        }
        moved
    }

    /// The way of the first side of the outline that the piece crosses, or whose gap it enters.
    pub(super) fn side_crossed(&self, piece: &Piece) -> Option<Side> {
        let corners: Vec<Point> = self.sides.iter().map(|side| side.from).collect();
        let entered = |side: &&Border| polygon::overlap(&piece.outline, &side.free.corners());
        let outside = || !polygon::is_inside(&piece.outline, &corners);
        let first = self.sides.first()?;
        let crossed = self.sides.iter().find(entered).or_else(|| outside().then_some(first))?;
        Some(crossed.faces())
    }

    /// Whether a place lies within the outline and clear of its gaps, by `spare` at the least.
    fn is_in_outline(&self, p: Point, spare: Length) -> bool {
        if self.sides.is_empty() {
            return true;
        }
        let corners: Vec<Point> = self.sides.iter().map(|side| side.from).collect();
        let there = Rect { left: p.x, right: p.x, bottom: p.y, top: p.y }.grown(spare);
        polygon::locate(&corners, p) == Where::Inside
            && self.sides.iter().all(|side| {
                !side.free.overlaps(&there) && !polygon::point_closer_than(side.from, side.to, p, spare)
            })
    }

    /// Whether an opening, a side of the outline or the gap beside one lies on the straight way between two places
    /// on one level or plumb line.
    fn is_parted(&self, a: Point, b: Point) -> bool {
        let way = polygon::bounds(&[a, b]).grown(Length::from_units(1));
        let by_opening = self.openings.iter().any(|gap| match gap.form {
            Form::Square(rect) => rect.overlaps(&way),
            Form::Round(centre, diameter) => polygon::point_closer_than(a, b, centre, diameter.half()),
        });
        let by_side =
            |side: &Border| side.free.overlaps(&way) || polygon::segments_meet(side.from, side.to, a, b);
        by_opening || self.sides.iter().any(by_side)
    }

    /// The tile of the pattern that holds the piece.
    pub(super) fn slot_of(&self, piece: &Piece) -> Option<Slot<'a>> {
        let in_course = |course: &&Course| {
            course.number == piece.course
                && course.band == piece.band
                && course.tile == piece.tile
                && course.bottom <= piece.bounds.bottom
                && piece.bounds.top <= course.top
        };
        let course = self.courses.iter().find(in_course)?;
        let (first, width, pitch) = self.row(course)?;
        let left = piece.bounds.left - (piece.bounds.left - first).modulo(pitch);
        let cell = Rect { left, bottom: course.bottom, right: left + width, top: course.top };
        cell.holds(&piece.bounds).then_some(Slot { course, cell })
    }

    /// Every tile of the pattern that reaches between the ends of the surface.
    pub(super) fn slots(&self) -> Vec<Slot<'a>> {
        let mut slots = Vec::new();
        for course in self.courses {
            let Some((first, width, pitch)) = self.row(course) else { continue };
            let mut left = self.left - (self.left - first).modulo(pitch);
            while left < self.right {
                let cell = Rect { left, bottom: course.bottom, right: left + width, top: course.top };
                slots.push(Slot { course, cell });
                left += pitch;
            }
        }
        slots
    }

    /// The left edge of one of the course's tiles, their width and their pitch.
    fn row(&self, course: &Course) -> Option<(Length, Length, Length)> {
        let band = self.surface.bands.get(course.band)?;
        let width = self.job.laid_size(&band.tile, band.upright)?.width;
        let pitch = width + self.joint;
        let own = self.layout.band_starts.get(&(self.surface.id.clone(), course.band));
        let joint_centre =
            own.or_else(|| self.layout.starts.get(&self.surface.id)).copied().unwrap_or_default();
        let number = match own.is_some() || band.bottom_between.is_some() {
            false => i64::from(course.number),
            true => {
                let of_band = self.courses.iter().filter(|other| other.band == course.band);
                let lowest = of_band.map(|other| other.number).min()?;
                i64::from(course.number) - i64::from(lowest) + 1
            }
        };
        let mut pattern = band.pattern.clone().unwrap_or_else(|| self.surface.pattern.clone());
        if let Pattern::Running { mirror, .. } = &mut pattern {
            *mirror = self.layout.mirror.get(&self.surface.id).copied().unwrap_or(*mirror);
        }
        let right_half = self.joint - self.joint.half();
        Some((joint_centre + right_half + pattern.shift(number, pitch), width, pitch))
    }

    /// The joint between tiles of two courses: between two bands, the one above the lower.
    pub(super) fn joint_between(&self, one: &Course, other: &Course) -> Length {
        let lower = if one.bottom < other.bottom { one } else { other };
        let own = self.surface.bands.get(lower.band).and_then(|band| band.joint_above);
        if one.band == other.band { self.joint } else { own.unwrap_or(self.joint) }
    }

    pub(super) fn widest_joint(&self) -> Length {
        self.surface.bands.iter().filter_map(|band| band.joint_above).fold(self.joint, Length::max)
    }

    /// The lines that the tile's bottom and top are cut to, as they were planned: a tape along the course says nothing
    /// of the base. Beyond an end as planned they run straight on.
    pub(super) fn limits_of(&self, slot: &Slot<'_>) -> Vec<(Side, Limit)> {
        let (x0, x1) = (slot.cell.left.max(self.left), slot.cell.right.min(self.right));
        if x1 <= x0 || !self.sides.is_empty() {
            return Vec::new();
        }
        let (from, to) = (slot.cell.left.max(self.planned.0), slot.cell.right.min(self.planned.1));
        if to <= from {
            return Vec::new();
        }
        let run_on = |line: &CutLine, x: Length| Point::new(x, polygon::height_at(line.left, line.right, x));
        let lines = |mut lines: Vec<CutLine>, side: Side, up: Length| {
            let parted = lines.len() > 1;
            lines.retain(|line| line.left.x < x1 && x0 < line.right.x || !parted);
            if let Some(first) = lines.first_mut() {
                first.left = run_on(first, x0);
            }
            if let Some(last) = lines.last_mut() {
                last.right = run_on(last, x1);
            }
            let raised = move |point: Point| Point::new(point.x, point.y + up);
            let limit = move |line: CutLine| {
                (side, Limit { left: raised(line.left), right: raised(line.right), parted })
            };
            lines.into_iter().map(limit)
        };
        let foot = lines(self.limits.feet(from, to), Side::Bottom, self.raised.0);
        foot.chain(lines(self.limits.heads(from, to), Side::Top, self.raised.1)).collect()
    }

    /// Whether tile belongs at a place in this tile of the pattern; no where the last 4 units, or the roundness of
    /// a circle, leave it open.
    pub(super) fn wants_tile(&self, slot: &Slot<'_>, p: Point) -> bool {
        let spare = Length::from_units(4);
        let room =
            Rect { left: slot.cell.left.max(self.left), right: slot.cell.right.min(self.right), ..slot.cell };
        let inner = room.grown(-spare);
        inner.left < p.x
            && p.x < inner.right
            && inner.bottom < p.y
            && p.y < inner.top
            && self.limits_of(slot).iter().all(|(side, limit)| limit.leaves(*side, p, spare))
            && self.openings.iter().all(|gap| gap.leaves(p, spare))
            && self.is_in_outline(p, spare)
    }

    /// Whether the tile that belongs at a place has there, to the left and right together or up and down, no more
    /// than what counts as joint or is too small to cut. Measured in steps of a sixteenth of that.
    pub(super) fn is_thin(&self, slot: &Slot<'_>, p: Point) -> bool {
        let thickness = self.joint.max(SMALLEST_PIECE);
        let step = Length::from_units(thickness.units() / 16);
        let run = |right: i64, up: i64| {
            let at = |n: i64| Point::new(p.x + step * (right * n), p.y + step * (up * n));
            let goes_on = |&n: &i64| self.wants_tile(slot, at(n)) && !self.is_parted(at(n - 1), at(n));
            (1..=20).take_while(goes_on).count()
        };
        run(1, 0) + run(-1, 0) <= 17 || run(0, 1) + run(0, -1) <= 17
    }

    /// Whether an edge of a piece lies at an edge of the surface, or of an opening, that nothing hides.
    pub(super) fn is_bare(&self, a: Point, b: Point) -> bool {
        let edges = &self.surface.edges;
        let upright_at = |x: Length| a.x == x && b.x == x;
        if !self.sides.is_empty() {
            return self.sides.iter().any(|side| side.bare && side.is_along(a, b))
                || self.openings.iter().any(|gap| gap.bare && gap.is_bordered_by(a, b));
        }
        let at_end = (edges.left == Role::Bare && upright_at(self.left))
            || (edges.right == Role::Bare && upright_at(self.right));
        at_end
            || (edges.base == Role::Bare && self.is_at_limit(a, b, Side::Bottom))
            || (edges.top == Role::Bare && self.is_at_limit(a, b, Side::Top))
            || self.openings.iter().any(|gap| gap.bare && gap.is_bordered_by(a, b))
    }

    /// Whether an edge lies on the lines that a tile's bottom or top is cut to, or on the plumb side of a step
    /// between two of them.
    fn is_at_limit(&self, a: Point, b: Point, which: Side) -> bool {
        let (middle, two) = (Point::new((a.x + b.x).half(), (a.y + b.y).half()), Length::from_units(2));
        let faces_it = if which == Side::Bottom { a.x < b.x } else { b.x < a.x };
        let here = self.slots().into_iter().filter(|slot| {
            let cell = slot.cell.grown(two);
            cell.left < middle.x && middle.x < cell.right && cell.bottom < middle.y && middle.y < cell.top
        });
        here.flat_map(|slot| self.limits_of(&slot)).any(|(side, limit)| {
            let at = |p: Point| (limit.at(p.x) - p.y).abs() <= two;
            let beyond_farther = match which {
                Side::Top => middle.y > limit.farther(side),
                Side::Bottom | Side::Left | Side::Right => middle.y < limit.farther(side),
            };
            let at_step = a.x == b.x && (a.x == limit.left.x || a.x == limit.right.x) && beyond_farther;
            let on_notch = faces_it && a.y == b.y && limit.farther(side) == a.y;
            side == which && ((faces_it && at(a) && at(b)) || (limit.parted && (on_notch || at_step)))
        })
    }

    pub(super) fn is_bare_round(&self, centre: Point, diameter: Length) -> bool {
        self.openings.iter().any(|gap| match gap.form {
            Form::Round(c, d) => gap.bare && c == centre && d == diameter,
            Form::Square(_) => false,
        })
    }

    /// The corners of openings and of what an outline's gaps keep free, and eight points of each circle.
    pub(super) fn corners(&self) -> impl Iterator<Item = Point> + '_ {
        let of_sides = self.sides.iter().flat_map(|side| side.free.corners());
        of_sides.chain(self.corners_of_openings())
    }

    fn corners_of_openings(&self) -> impl Iterator<Item = Point> + '_ {
        self.openings.iter().flat_map(|gap| match gap.form {
            Form::Square(rect) => rect.corners(),
            Form::Round(centre, diameter) => super::around(centre, diameter.half()).collect(),
        })
    }
}

/// The sides of an outline. A gap is kept square to its side along all of it, and in a corner that juts into the
/// surface as far on as the other side's gap reaches.
fn borders(job: &Job, outline: &Outline) -> Vec<Border> {
    let sides = outline.sides();
    let count = sides.len();
    let border = |at: usize| {
        let (before, side, after) = (sides[(at + count - 1) % count], sides[at], sides[(at + 1) % count]);
        let gap = job.gaps.at(side.role);
        let juts_in = |a: &OutlineSide, b: &OutlineSide| polygon::turn(a.from, a.to, b.to) < 0;
        let on = |corner: bool, other: &OutlineSide| {
            if corner { job.gaps.at(other.role) } else { Length::ZERO }
        };
        let (first, last) = (on(juts_in(&before, &side), &before), on(juts_in(&side, &after), &after));
        let sign = |length: Length| Length::from_units(length.units().signum());
        let (along_x, along_y) = (sign(side.to.x - side.from.x), sign(side.to.y - side.from.y));
        let moved = |p: Point, along: Length, inward: Length| {
            Point::new(
                p.x + along_x * along.units() - along_y * inward.units(),
                p.y + along_y * along.units() + along_x * inward.units(),
            )
        };
        let free = polygon::bounds(&[moved(side.from, -first, Length::ZERO), moved(side.to, last, gap)]);
        Border { from: side.from, to: side.to, bare: side.role == Role::Bare, free }
    };
    (0..count).map(border).collect()
}

impl Border {
    fn faces(&self) -> Side {
        super::mostly_faces(self.from, self.to)
    }

    /// Whether an edge of a piece lies on it along more than a point.
    fn is_along(&self, a: Point, b: Point) -> bool {
        let (here, there) = (polygon::bounds(&[self.from, self.to]), polygon::bounds(&[a, b]));
        let shared = here.shared(&there);
        let square = a.x == b.x || a.y == b.y;
        square
            && shared.left <= shared.right
            && shared.bottom <= shared.top
            && shared.width() + shared.height() > Length::ZERO
    }
}

impl Limit {
    fn at(&self, x: Length) -> Length {
        polygon::height_at(self.left, self.right, x)
    }

    /// The end of the line that takes more off the tile.
    fn farther(&self, side: Side) -> Length {
        match side {
            Side::Top => self.left.y.min(self.right.y),
            Side::Bottom | Side::Left | Side::Right => self.left.y.max(self.right.y),
        }
    }

    /// Whether an edge passes this line by more than a unit.
    pub(super) fn is_crossed(&self, side: Side, a: Point, b: Point) -> bool {
        let unit = Length::from_units(1);
        let beyond = |p: Point| match side {
            Side::Top => p.y > self.at(p.x) + unit,
            Side::Bottom | Side::Left | Side::Right => p.y < self.at(p.x) - unit,
        };
        if a.x == b.x {
            return self.left.x < a.x && a.x < self.right.x && (beyond(a) || beyond(b));
        }
        let (low, high) = (a.x.min(b.x).max(self.left.x), a.x.max(b.x).min(self.right.x));
        let on_edge = |x: Length| Point::new(x, polygon::height_at(a, b, x));
        low < high && (beyond(on_edge(low)) || beyond(on_edge(high)))
    }

    fn leaves(&self, side: Side, p: Point, spare: Length) -> bool {
        if p.x + spare < self.left.x || self.right.x < p.x - spare {
            return true;
        }
        let y = if self.parted { self.farther(side) } else { self.at(p.x) };
        match side {
            Side::Top => p.y < y - spare,
            Side::Bottom | Side::Left | Side::Right => p.y > y + spare,
        }
    }
}

impl Gap<'_> {
    /// Clearances that close it leave nothing.
    fn is_closed(&self) -> bool {
        match self.form {
            Form::Square(rect) => rect.is_empty(),
            Form::Round(_, diameter) => diameter <= Length::ZERO,
        }
    }

    /// Whether any of the piece, its holes taken out, lies in the opening.
    pub(super) fn is_entered_by(&self, piece: &Piece) -> bool {
        let unit = Length::from_units(1);
        let rings = std::iter::once(&piece.outline).chain(piece.holes.iter().filter_map(|hole| match hole {
            Hole::Polygon(corners) => Some(corners),
            Hole::Round { .. } => None,
        }));
        let mut edges = rings.flat_map(|ring| polygon::edges(ring));
        match self.form {
            Form::Square(rect) => {
                let inner = rect.grown(-unit);
                let corners = inner.corners();
                let enters = |(a, b): (Point, Point)| {
                    let inside = |p: Point| polygon::locate(&corners, p) == Where::Inside;
                    let middle = Point::new((a.x + b.x).half(), (a.y + b.y).half());
                    inside(a)
                        || inside(b)
                        || inside(middle)
                        || polygon::edges(&corners).any(|(c, d)| polygon::segments_cross(a, b, c, d))
                };
                let centre = Point::new((rect.left + rect.right).half(), (rect.bottom + rect.top).half());
                edges.any(enters) || has(piece, centre)
            }
            Form::Round(centre, diameter) => {
                let near = diameter.half() - unit;
                let narrower = piece.holes.iter().any(|hole| match hole {
                    Hole::Round { centre: c, diameter: d } => *c == centre && *d < diameter,
                    Hole::Polygon(_) => false,
                });
                edges.any(|(a, b)| polygon::point_closer_than(a, b, centre, near))
                    || has(piece, centre)
                    || narrower
            }
        }
    }

    fn leaves(&self, p: Point, spare: Length) -> bool {
        match self.form {
            Form::Square(rect) => {
                let rect = rect.grown(spare);
                p.x < rect.left || rect.right < p.x || p.y < rect.bottom || rect.top < p.y
            }
            Form::Round(centre, diameter) => !in_circle(centre, diameter + (ROUNDNESS + spare) * 2, p),
        }
    }

    /// Whether an edge of a piece lies on the opening's border.
    fn is_bordered_by(&self, a: Point, b: Point) -> bool {
        match self.form {
            Form::Square(rect) => {
                let along = |low: Length, high: Length, from: Length, to: Length| {
                    from.min(to) < high && low < from.max(to)
                };
                let upright = a.x == b.x && [rect.left, rect.right].contains(&a.x);
                let level = a.y == b.y && [rect.bottom, rect.top].contains(&a.y);
                (upright && along(rect.bottom, rect.top, a.y, b.y))
                    || (level && along(rect.left, rect.right, a.x, b.x))
            }
            Form::Round(centre, diameter) => {
                let ring = |p: Point, off: Length| {
                    in_circle(centre, diameter + off * 2, p) && !in_circle(centre, diameter - off * 2, p)
                };
                let unit = Length::from_units(1);
                let ends = [a, b].into_iter().all(|end| ring(end, ROUNDNESS + unit * 4));
                ends && (is_short(a, b) || touches(a, b, centre, diameter, unit * 8))
            }
        }
    }
}

/// Whether an edge is so short that rounding its ends may turn it anywhere; nobody sees it either.
pub(super) fn is_short(a: Point, b: Point) -> bool {
    polygon::squared(a, b) < polygon::wide(ROUNDNESS) * polygon::wide(ROUNDNESS)
}

/// Whether the line from `a` to `b` touches a circle on its right, within `off`.
fn touches(a: Point, b: Point, centre: Point, diameter: Length, off: Length) -> bool {
    let across = -polygon::turn(a, b, centre);
    let (diameter, off) = (polygon::wide(diameter), polygon::wide(off));
    let length = polygon::squared(a, b);
    let (least, most) = ((diameter - 2 * off).max(0), diameter + 2 * off);
    across > 0 && least * least * length <= 4 * across * across && 4 * across * across <= most * most * length
}

/// Whether a place is in the open inside of a piece.
pub(super) fn has(piece: &Piece, p: Point) -> bool {
    polygon::locate(&piece.outline, p) == Where::Inside
        && piece.holes.iter().all(|hole| match hole {
            Hole::Round { centre, diameter } => !in_circle(*centre, *diameter, p),
            Hole::Polygon(corners) => polygon::locate(corners, p) == Where::Outside,
        })
}

/// Whether a place is nearer than `near` to the piece's outline or a hole; to a circle's chords by its roundness.
pub(super) fn is_near_border(piece: &Piece, p: Point, near: Length) -> bool {
    let close = |ring: &[Point], near: Length| {
        polygon::edges(ring).any(|(a, b)| polygon::point_closer_than(a, b, p, near))
    };
    let chords = |ring: &[Point]| {
        let slanted = |(a, b): (Point, Point)| a.x != b.x && a.y != b.y;
        polygon::edges(ring)
            .filter(|&edge| slanted(edge))
            .any(|(a, b)| polygon::point_closer_than(a, b, p, near + ROUNDNESS))
    };
    close(&piece.outline, near)
        || chords(&piece.outline)
        || piece.holes.iter().any(|hole| match hole {
            Hole::Polygon(corners) => close(corners, near) || chords(corners),
            Hole::Round { centre, diameter } => {
                in_circle(*centre, *diameter + near * 2, p) && !in_circle(*centre, *diameter - near * 2, p)
            }
        })
}

pub(super) fn in_circle(centre: Point, diameter: Length, p: Point) -> bool {
    let diameter = polygon::wide(diameter.max(Length::ZERO));
    4 * polygon::squared(centre, p) < diameter * diameter
}
