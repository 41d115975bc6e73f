//! What a surface leaves for tile, as the things that block it, and the parts of a tile between them.

use crate::course::{Course, CutLine};
use crate::geometry::polygon::{self, Where};
use crate::geometry::{Point, Rect, Shape, Side, around_circle, minus_rects, overlay, rest_of};
use crate::measure::{Job, Length, Opening, OpeningShape, Outline, Surface};

use super::Limits;

/// Farther than any wall reaches.
const FAR: Length = Length::from_units(i64::MAX / 4);

/// The region of one surface.
pub(super) struct Region<'a> {
    joint: Length,
    ground: Ground<'a>,
    /// Where tile begins and ends along the surface.
    left: Length,
    right: Length,
    openings: Vec<Blocker>,
}

/// What bounds the surface.
enum Ground<'a> {
    /// Two plumb ends, and what the courses say of base and top.
    Wall(&'a Surface, &'a dyn Limits),
    /// Sides.
    Outline {
        /// What they leave with their gaps.
        room: Vec<Rect>,
        bare: Vec<Blocker>,
    },
}

/// Something that tile may not enter.
#[derive(Clone, Debug)]
pub(super) struct Blocker {
    pub against: Against,
    /// Nothing hides a cut edge here.
    pub bare: bool,
    pub form: Form,
}

/// What a cut edge lies against.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Against {
    /// One of a wall's four edges.
    Edge(Side),
    /// A side of a surface given by its outline.
    Outline,
    /// An opening.
    Opening,
}

/// The form of a blocker near one tile.
#[derive(Clone, Debug)]
pub(super) enum Form {
    Rect(Rect),
    Round(Round),
    /// What lies beyond one side of an outline; others block it, this says where the side is. The side's own line is
    /// that side of the rectangle.
    Beyond(Side, Rect),
    /// All that lies right of the way from the first point to the second; never upright.
    Slope(Point, Point),
}

/// A circle with its clearance, and the polygon round it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Round {
    pub centre: Point,
    pub diameter: Length,
    pub polygon: Vec<Point>,
    pub bare: bool,
}

/// A connected part of a tile in the region.
pub(super) struct Part {
    /// Its outline, and the holes that are not round.
    pub shape: Shape,
    /// The round holes wholly inside it.
    pub rounds: Vec<Round>,
}

impl<'a> Region<'a> {
    /// `joint` is the one in force.
    pub(super) fn new(job: &Job, surface: &'a Surface, limits: &'a dyn Limits, joint: Length) -> Self {
        let (ground, left, right) = match &surface.outline {
            None => (
                Ground::Wall(surface, limits),
                job.gaps.at(surface.edges.left),
                surface.width - job.gaps.at(surface.edges.right),
            ),
            Some(outline) => {
                let room = outline.room(&job.gaps);
                let left = room.iter().map(|part| part.left).min().unwrap_or_default();
                let right = room.iter().map(|part| part.right).max().unwrap_or_default();
                (Ground::Outline { room, bare: bare_sides(outline, joint) }, left, right)
            }
        };
        Self { joint, ground, left, right, openings: surface.openings.iter().filter_map(hole).collect() }
    }

    pub(super) fn joint(&self) -> Length {
        self.joint
    }

    /// From the left end to the right end and over the height of all `courses`.
    pub(super) fn window(&self, courses: &[&Course]) -> Rect {
        Rect {
            left: self.left,
            bottom: courses.iter().map(|course| course.bottom).min().unwrap_or_default(),
            right: self.right,
            top: courses.iter().map(|course| course.top).max().unwrap_or_default(),
        }
    }

    /// Whether nothing hides a cut edge at the foot or the head of a wall beyond which no course follows. At an
    /// outline the line just over a joint away says it.
    pub(super) fn is_bare_beyond(&self, side: Side) -> Option<bool> {
        match self.ground {
            Ground::Wall(surface, _) => Some(bare_edge(surface, side)),
            Ground::Outline { .. } => None,
        }
    }

    /// All that blocks the tile at `cell` and what lies within its own size round it.
    pub(super) fn blockers(&self, cell: &Rect) -> Vec<Blocker> {
        let window = cell.grown(cell.width().max(cell.height()));
        let mut blockers = match &self.ground {
            Ground::Wall(surface, limits) => self.edges(surface, *limits, cell, &window),
            Ground::Outline { room, bare } => {
                let outside = rest_of(&window, room).into_iter().map(Form::Rect);
                let outside = outside.map(|form| Blocker { against: Against::Outline, bare: false, form });
                let near = |side: &&Blocker| side.form.bounds(&window).overlaps(&window);
                outside.chain(bare.iter().filter(near).cloned()).collect()
            }
        };
        let near = self.openings.iter().filter(|opening| opening.form.bounds(&window).overlaps(&window));
        blockers.extend(near.cloned());
        blockers.retain(|blocker| !blocker.form.bounds(&window).is_empty());
        blockers
    }

    /// The edges of a wall.
    fn edges(&self, surface: &Surface, limits: &dyn Limits, cell: &Rect, window: &Rect) -> Vec<Blocker> {
        let mut blockers = Vec::new();
        let mut edge = |side: Side, form: Form| {
            blockers.push(Blocker { against: Against::Edge(side), bare: bare_edge(surface, side), form });
        };
        edge(Side::Left, Form::Rect(Rect { right: self.left, ..*window }));
        edge(Side::Right, Form::Rect(Rect { left: self.right, ..*window }));
        let (x0, x1) = (cell.left.max(self.left), cell.right.min(self.right));
        if x0 < x1 {
            for form in limit_forms(&limits.feet(x0, x1), window) {
                edge(Side::Bottom, form);
            }
            let head = limits.heads(x0, x1);
            let over = Rect { bottom: -window.top, top: -window.bottom, ..*window };
            let upside_down: Vec<CutLine> = head.iter().map(turned_over).collect();
            for form in limit_forms(&upside_down, &over) {
                edge(Side::Top, form.turned_over());
            }
        }
        blockers
    }
}

/// What tile keeps clear of at an opening; `None` where it laps over all of it.
fn hole(opening: &Opening) -> Option<Blocker> {
    let bare = !opening.edge.allows_cut();
    let form = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            let rect = Rect { left: x, bottom: y, right: x + width, top: y + height };
            Some(rect.grown(opening.clearance)).filter(|rect| !rect.is_empty()).map(Form::Rect)
        }
        OpeningShape::Circle { x, y, diameter } => {
            let (centre, diameter) = (Point::new(x, y), diameter + opening.clearance * 2);
            (diameter > Length::ZERO).then(|| {
                let polygon = around_circle(centre, diameter);
                Form::Round(Round { centre, diameter, polygon, bare })
            })
        }
    };
    form.map(|form| Blocker { against: Against::Opening, bare, form })
}

/// Each side where nothing hides a cut edge, and what lies beyond it as far as a joint may leave tile short of it.
fn bare_sides(outline: &Outline, joint: Length) -> Vec<Blocker> {
    let beyond = joint + Length::from_units(4);
    let bare = outline.sides().iter().filter(|side| !side.role.allows_cut());
    let blocker = |side: &crate::measure::OutlineSide| {
        let line = polygon::bounds(&[side.from, side.to]);
        // The side of the rectangle beyond that is the line looks back at the surface.
        let (faces, rect) = match side.faces() {
            Side::Left => (Side::Right, Rect { left: line.left - beyond, ..line }),
            Side::Right => (Side::Left, Rect { right: line.right + beyond, ..line }),
            Side::Bottom => (Side::Top, Rect { bottom: line.bottom - beyond, ..line }),
            Side::Top => (Side::Bottom, Rect { top: line.top + beyond, ..line }),
        };
        Blocker { against: Against::Outline, bare: true, form: Form::Beyond(faces, rect) }
    };
    bare.map(blocker).collect()
}

/// Whether nothing hides a cut edge at that edge of a wall.
fn bare_edge(surface: &Surface, side: Side) -> bool {
    let edges = &surface.edges;
    let role = match side {
        Side::Left => edges.left,
        Side::Right => edges.right,
        Side::Bottom => edges.base,
        Side::Top => edges.top,
    };
    !role.allows_cut()
}

/// What takes a corner or a stretch of an edge off a piece of these bounds, each as one rectangle: an opening alone,
/// and what lies outside an outline in as few as may be.
pub(super) fn notches(bounds: &Rect, blockers: &[Blocker]) -> Vec<Rect> {
    let mut outside = Vec::new();
    let mut notches = Vec::new();
    for blocker in blockers {
        match (&blocker.form, blocker.against) {
            (Form::Rect(rect), Against::Outline) if rect.overlaps(bounds) => outside.push(*rect),
            (Form::Rect(rect), _) if rect.overlaps(bounds) => notches.push(rect.shared(bounds)),
            (Form::Rect(_) | Form::Round(_) | Form::Beyond(..) | Form::Slope(..), _) => {}
        }
    }
    notches.extend(rest_of(bounds, &rest_of(bounds, &outside)));
    notches
}

/// The room below the lines that a tile's bottom is cut to. Where a step parts them the tile is notched square:
/// only the lowest line keeps its slope, run on under the others, and where that would come above one of them
/// it is level too.
fn limit_forms(lines: &[CutLine], window: &Rect) -> Vec<Form> {
    let highest = |line: &CutLine| line.left.y.max(line.right.y);
    let Some(lowest) = lines.iter().min_by_key(|line| highest(line)) else { return Vec::new() };
    let stays_below = lines.iter().filter(|line| *line != lowest).all(|line| {
        let under = |x: Length| polygon::height_at(lowest.left, lowest.right, x);
        under(line.left.x).max(under(line.right.x)) <= highest(line)
    });
    let sloped = lowest.left.y != lowest.right.y && stays_below;
    let (first, last) = (lines.first(), lines.last());
    let level = lines.iter().filter(|line| !(sloped && *line == lowest)).map(|line| {
        let left = if Some(line) == first { window.left } else { line.left.x };
        let right = if Some(line) == last { window.right } else { line.right.x };
        Form::Rect(Rect { left, bottom: window.bottom, right, top: highest(line) })
    });
    level.chain(sloped.then_some(Form::Slope(lowest.left, lowest.right))).collect()
}

fn turned_over(line: &CutLine) -> CutLine {
    CutLine { left: flipped(line.left), right: flipped(line.right) }
}

fn flipped(point: Point) -> Point {
    Point::new(point.x, -point.y)
}

impl Form {
    /// Up for down.
    fn turned_over(self) -> Self {
        match self {
            Self::Rect(rect) => Self::Rect(Rect { bottom: -rect.top, top: -rect.bottom, ..rect }),
            Self::Slope(from, to) => Self::Slope(flipped(to), flipped(from)),
            Self::Round(_) | Self::Beyond(..) => self,
        }
    }

    /// The rectangle round it; for a slope the whole window.
    fn bounds(&self, window: &Rect) -> Rect {
        match self {
            Self::Rect(rect) | Self::Beyond(_, rect) => *rect,
            Self::Round(round) => polygon::bounds(&round.polygon),
            Self::Slope(..) => *window,
        }
    }

    /// Between which y it blocks the upright line at `x`, rounded outward by less than a unit.
    pub(super) fn blocked_at_x(&self, x: Length) -> Option<(Length, Length)> {
        match self {
            Self::Rect(rect) | Self::Beyond(_, rect) => {
                (rect.left < x && x < rect.right).then_some((rect.bottom, rect.top))
            }
            Self::Slope(from, to) => {
                let y = polygon::height_at(*from, *to, x);
                Some(if from.x < to.x { (-FAR, y) } else { (y, FAR) })
            }
            Self::Round(round) => crossed(&round.polygon, x),
        }
    }

    /// Between which x it blocks the level line at `y`, rounded outward by less than a unit.
    pub(super) fn blocked_at_y(&self, y: Length) -> Option<(Length, Length)> {
        let transposed = |point: Point| Point::new(point.y, point.x);
        match self {
            Self::Rect(rect) | Self::Beyond(_, rect) => {
                (rect.bottom < y && y < rect.top).then_some((rect.left, rect.right))
            }
            Self::Slope(from, to) => {
                let x = polygon::height_at(transposed(*from), transposed(*to), y);
                Some(if from.y > to.y { (-FAR, x) } else { (x, FAR) })
            }
            Self::Round(round) => {
                crossed(&round.polygon.iter().copied().map(transposed).collect::<Vec<_>>(), y)
            }
        }
    }
}

/// Between which y a convex polygon meets the upright line at `x`.
fn crossed(corners: &[Point], x: Length) -> Option<(Length, Length)> {
    let unit = Length::from_units(1);
    let crossings = polygon::edges(corners)
        .filter(|(a, b)| a.x.min(b.x) < x && x < a.x.max(b.x) || a.x == x && a.x != b.x)
        .map(|(a, b)| polygon::height_at(a, b, x));
    let ends = crossings.fold(None, |ends: Option<(Length, Length)>, y| {
        Some(ends.map_or((y, y), |(low, high)| (low.min(y), high.max(y))))
    });
    ends.filter(|(low, high)| low < high).map(|(low, high)| (low - unit, high + unit))
}

impl Round {
    /// Whether the circle itself, not the polygon round it, reaches into a rectangle's open inside.
    pub(super) fn bites(&self, rect: &Rect) -> bool {
        let Point { x, y } = self.centre;
        let nearest = Point::new(x.max(rect.left).min(rect.right), y.max(rect.bottom).min(rect.top));
        let diameter = polygon::wide(self.diameter);
        4 * polygon::squared(self.centre, nearest) < diameter * diameter
    }
}

/// The connected parts of a tile between the blockers. Without a slope or a circle across an edge nothing is
/// rounded; a slope alone rounds only where it leaves through the tile's top or bottom.
pub(super) fn parts(cell: &Rect, blockers: &[Blocker]) -> Vec<Part> {
    let (mut whole, mut rects, mut rounds) = (*cell, Vec::new(), Vec::new());
    for blocker in blockers {
        match &blocker.form {
            Form::Rect(rect) if rect.overlaps(&whole) => match less(&whole, rect) {
                Some(rest) => whole = rest,
                None => rects.push(*rect),
            },
            Form::Round(round) if round.bites(cell) => rounds.push(round),
            Form::Rect(_) | Form::Round(_) | Form::Beyond(..) | Form::Slope(..) => {}
        }
    }
    if whole.is_empty() {
        return Vec::new();
    }
    let corners = blockers.iter().fold(whole.corners(), |corners, blocker| match blocker.form {
        Form::Slope(from, to) => polygon::clip(&corners, from, to),
        Form::Rect(_) | Form::Round(_) | Form::Beyond(..) => corners,
    });
    rects.retain(|rect| rect.overlaps(&polygon::bounds(&corners)));
    let shapes = if corners == whole.corners() {
        minus_rects(&whole, &rects)
    } else if corners.is_empty() {
        Vec::new()
    } else if rects.is_empty() {
        vec![Shape::solid(corners)]
    } else {
        let taken: Vec<_> = rects.iter().map(Rect::corners).collect();
        overlay::minus(&Shape::solid(corners), &taken)
    };
    drill(shapes, &rounds)
}

/// A rectangle less another that takes one whole end of it; `None` when it takes something else.
fn less(whole: &Rect, taken: &Rect) -> Option<Rect> {
    let across = taken.bottom <= whole.bottom && whole.top <= taken.top;
    let along = taken.left <= whole.left && whole.right <= taken.right;
    if across && taken.left <= whole.left {
        Some(Rect { left: taken.right, ..*whole })
    } else if across && whole.right <= taken.right {
        Some(Rect { right: taken.left, ..*whole })
    } else if along && taken.bottom <= whole.bottom {
        Some(Rect { bottom: taken.top, ..*whole })
    } else if along && whole.top <= taken.top {
        Some(Rect { top: taken.bottom, ..*whole })
    } else {
        None
    }
}

/// Takes circles out: one wholly inside a shape and clear of every other circle stays a round hole, the others
/// are cut out as polygons.
fn drill(shapes: Vec<Shape>, rounds: &[&Round]) -> Vec<Part> {
    let alone = |round: &Round| {
        let bounds = polygon::bounds(&round.polygon);
        let met = rounds.iter().filter(|other| polygon::bounds(&other.polygon).overlaps(&bounds));
        met.count() == 1
    };
    let (holes, bites): (Vec<&Round>, Vec<&Round>) = rounds
        .iter()
        .partition(|round| alone(round) && shapes.iter().any(|shape| clear_inside(&round.polygon, shape)));
    let bitten = shapes.into_iter().flat_map(|shape| {
        let bounds = shape.bounds();
        let here = bites.iter().filter(|round| round.bites(&bounds));
        let taken: Vec<_> = here.map(|round| round.polygon.clone()).collect();
        if taken.is_empty() { vec![shape] } else { overlay::minus(&shape, &taken) }
    });
    bitten
        .map(|shape| {
            let inside = holes.iter().filter(|round| shape.has_inside(round.centre));
            Part { rounds: inside.map(|round| (*round).clone()).collect(), shape }
        })
        .collect()
}

/// Whether a polygon lies in a shape's open inside, clear of its holes.
fn clear_inside(corners: &[Point], shape: &Shape) -> bool {
    let rings = || std::iter::once(&shape.outline).chain(&shape.holes);
    let clear = polygon::edges(corners).all(|(a, b)| {
        rings().all(|ring| polygon::edges(ring).all(|(c, d)| !polygon::segments_meet(a, b, c, d)))
    });
    let around_no_hole = shape.holes.iter().flatten().all(|&c| polygon::locate(corners, c) == Where::Outside);
    clear && around_no_hole && corners.iter().all(|&corner| shape.has_inside(corner))
}
