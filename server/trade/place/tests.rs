//! Stories of single walls, and a raster of whole millimetres that every small wall must agree with.

mod outlines;
mod raster;
mod stories;

use std::collections::BTreeMap;

use super::*;
use crate::geometry::polygon;
use crate::measure::{
    BandHeight, Covered, Edges, Fraction, Gaps, LineId, Opening, OpeningEdge, OpeningShape, Outline,
    OutlineKind, Pattern, Role, Tile, TopReading, Unit,
};

const MM: i64 = Length::UNITS_PER_MM;

fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn at(x: i64, y: i64) -> Point {
    Point::new(mm(x), mm(y))
}

fn rect(left: i64, bottom: i64, right: i64, top: i64) -> Rect {
    Rect { left: mm(left), bottom: mm(bottom), right: mm(right), top: mm(top) }
}

fn polygon_of(corners: &[(i64, i64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| at(x, y)).collect()
}

/// A wall with one field band, and what is needed to place tile on it. Courses start at y = 0.
#[derive(Clone, Debug)]
struct Wall {
    job: Job,
    courses: Vec<Course>,
    layout: Layout,
    lines: Lines,
}

/// Straight lines for foot and head, by their heights at x = 0 and at the wall's right end, and for a stepped
/// foot the x of the step and the level beyond it.
#[derive(Clone, Debug)]
struct Lines {
    width: Length,
    foot: (Length, Length),
    head: (Length, Length),
    step: Option<(Length, Length)>,
}

impl Limits for Lines {
    fn feet(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        match self.step {
            Some((x, level)) if x < x1 => {
                let beyond =
                    |from: Length| CutLine { left: Point::new(from, level), right: Point::new(x1, level) };
                if x <= x0 { vec![beyond(x0)] } else { vec![self.line(self.foot, x0, x), beyond(x)] }
            }
            Some(_) | None => vec![self.line(self.foot, x0, x1)],
        }
    }

    fn heads(&self, x0: Length, x1: Length) -> Vec<CutLine> {
        vec![self.line(self.head, x0, x1)]
    }
}

impl Lines {
    fn line(&self, (left, right): (Length, Length), x0: Length, x1: Length) -> CutLine {
        let ends = (Point::new(Length::ZERO, left), Point::new(self.width, right));
        let on_line = |x: Length| Point::new(x, polygon::height_at(ends.0, ends.1, x));
        CutLine { left: on_line(x0), right: on_line(x1) }
    }
}

impl Wall {
    /// `courses` courses from y = 0 up to the last one's top; corners left and right, a 3 mm joint and no gaps.
    fn new(width: i64, (tile_width, tile_height): (i64, i64), joint: i64, courses: u32) -> Self {
        let tile = Tile {
            width: mm(tile_width),
            height: mm(tile_height),
            thickness: None,
            rectified: None,
            directional: false,
            quarter_turn: false,
            size_variation: None,
            warpage: None,
            per_box: None,
        };
        let surface = Surface {
            id: SurfaceId::new("A").unwrap(),
            name: "left wall".to_owned(),
            line: LineId::default(),
            outline: None,
            width: mm(width),
            base: Vec::new(),
            top: vec![TopReading { x: mm(0), rise: mm(0) }],
            edges: Edges { left: Role::Corner, right: Role::Corner, base: Role::Base, top: Role::Ceiling },
            covered: Covered::default(),
            openings: Vec::new(),
            bands: vec![Band {
                tile: TileId("wall".to_owned()),
                upright: false,
                height: BandHeight::Fill,
                bottom_between: None,
                joint_above: None,
                pattern: None,
            }],
            pattern: Pattern::Straight,
            top_may_move: Length::ZERO,
        };
        let row = |number: u32| {
            let bottom = mm((tile_height + joint) * i64::from(number - 1));
            let tile = TileId("wall".to_owned());
            Course { number, band: 0, tile, strip: false, bottom, top: bottom + mm(tile_height) }
        };
        let rows: Vec<Course> = (1..=courses).map(row).collect();
        let top = rows.last().map_or(Length::ZERO, |course| course.top);
        Self {
            lines: Lines { width: mm(width), foot: (mm(0), mm(0)), head: (top, top), step: None },
            courses: rows,
            layout: Layout::default(),
            job: Job {
                name: "a wall".to_owned(),
                unit: Unit::Millimetre,
                tiles: BTreeMap::from([(TileId("wall".to_owned()), tile)]),
                joint: mm(joint),
                joint_range: (mm(joint), mm(joint)),
                kerf: mm(2),
                spare: Length::ZERO,
                gaps: Gaps::default(),
                base_gap_max: mm(6),
                smallest_cut: None,
                thinnest_leg: mm(50),
                thinnest_web: mm(25),
                setting_order: Vec::new(),
                start_course: 1,
                surfaces: vec![surface],
                layout: None,
            },
        }
    }

    /// The same tile on a surface through these points, in courses that begin at `low` or below its lowest point.
    fn outlined(mut self, points: &[(i64, i64)], roles: &[Role], low: i64) -> Self {
        let outline = Outline::new(OutlineKind::Floor, &polygon_of(points), roles).unwrap();
        let bounds = outline.bounds();
        let size = self.job.tiles[&TileId("wall".to_owned())].clone();
        let rise = size.height + self.job.joint;
        let first = mm(low) - rise * (mm(low) - bounds.bottom + rise).units().div_euclid(rise.units());
        let course = |number: u32| {
            let bottom = first + rise * i64::from(number - 1);
            let tile = TileId("wall".to_owned());
            Course { number, band: 0, tile, strip: false, bottom, top: bottom + size.height }
        };
        self.courses = (1..).map(course).take_while(|course| course.bottom < bounds.top).collect();
        let surface = self.surface_mut();
        surface.width = bounds.width();
        surface.base = vec![outline.base()];
        surface.top = vec![outline.top()];
        surface.edges = outline.edges();
        surface.outline = Some(outline);
        self
    }

    /// The layout that puts a tile's left edge in course 1 at `x`.
    fn with_left_edge_at(mut self, x: i64) -> Self {
        let joint = self.job.joint;
        self.layout.starts.insert(self.surface().id.clone(), mm(x) - joint + joint.half());
        self
    }

    fn edges(mut self, left: Role, right: Role) -> Self {
        let edges = &mut self.surface_mut().edges;
        (edges.left, edges.right) = (left, right);
        self
    }

    fn pattern(mut self, pattern: Pattern) -> Self {
        self.surface_mut().pattern = pattern;
        self
    }

    fn opening(mut self, shape: OpeningShape, clearance: i64, edge: OpeningEdge) -> Self {
        let clearance = mm(clearance);
        self.surface_mut().openings.push(Opening { name: "hole".to_owned(), shape, clearance, edge });
        self
    }

    fn surface(&self) -> &Surface {
        &self.job.surfaces[0]
    }

    fn surface_mut(&mut self) -> &mut Surface {
        &mut self.job.surfaces[0]
    }

    fn place(&self) -> Placed {
        pieces(&self.job, self.surface(), &self.courses, &self.layout, &self.lines)
    }

    fn faults(&self, pieces: &[Piece]) -> Vec<Fault> {
        check(&self.job, self.surface(), &self.courses, &self.layout, &self.lines, pieces)
    }

    /// The pieces, which the check must find nothing wrong with.
    fn pieces(&self) -> Vec<Piece> {
        let pieces = self.place().pieces;
        assert_eq!(self.faults(&pieces), []);
        pieces
    }

    /// The piece of that label.
    fn piece(&self, label: &str) -> Piece {
        let pieces = self.pieces();
        let labels: Vec<_> = pieces.iter().map(|piece| piece.id.0.clone()).collect();
        let found = pieces.into_iter().find(|piece| piece.id.0 == label);
        found.unwrap_or_else(|| panic!("no {label} among {labels:?}"))
    }
}

fn rectangle(x: i64, y: i64, width: i64, height: i64) -> OpeningShape {
    OpeningShape::Rectangle { x: mm(x), y: mm(y), width: mm(width), height: mm(height) }
}

fn circle(x: i64, y: i64, diameter: i64) -> OpeningShape {
    OpeningShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) }
}

fn running(numerator: i64, denominator: i64) -> Pattern {
    Pattern::Running { step: Fraction::new(numerator, denominator).unwrap(), mirror: false }
}

fn sides(sides: &[Side]) -> Sides {
    sides.iter().copied().collect()
}
