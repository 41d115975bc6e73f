//! Small walls of whole millimetres against brute force: every millimetre of every tile of the pattern.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;

use super::*;

pub(super) type Pixel = (i64, i64);

/// A wall with its measures in millimetres, so that the raster can work without any of the code under test.
#[derive(Clone, Debug)]
struct Small {
    width: i64,
    tile: (i64, i64),
    joint: i64,
    courses: u32,
    left_edge: i64,
    /// By how much each course lies right of the one below.
    step: i64,
    gaps: (i64, i64),
    bare: (bool, bool),
    foot: i64,
    head: i64,
    rects: Vec<(i64, i64, i64, i64, i64)>,
}

fn small() -> impl Strategy<Value = Small> {
    let opening = (-4_i64..40, -4_i64..40, 1_i64..16, 1_i64..16, -1_i64..3);
    let measures = (6_i64..44, (5_i64..15, 5_i64..15), 0_i64..4, 1_u32..5, -20_i64..20, 0_i64..9);
    let limits = ((0_i64..3, 0_i64..3), any::<(bool, bool)>(), 0_i64..9, 0_i64..9);
    (measures, limits, prop::collection::vec(opening, 0..4)).prop_map(|(measures, limits, rects)| {
        let (width, tile, joint, courses, left_edge, step) = measures;
        let (gaps, bare, foot, head) = limits;
        Small { width, tile, joint, courses, left_edge, step, gaps, bare, foot, head, rects }
    })
}

impl Small {
    fn wall(&self) -> Wall {
        let role = |bare: bool, cut: Role| if bare { Role::Bare } else { cut };
        let mut wall = Wall::new(self.width, self.tile, self.joint, self.courses)
            .edges(role(self.bare.0, Role::Corner), role(self.bare.1, Role::Trim))
            .pattern(running(self.step, self.tile.0 + self.joint))
            .with_left_edge_at(self.left_edge);
        wall.job.gaps.corner = mm(self.gaps.0);
        wall.job.gaps.trim = mm(self.gaps.1);
        wall.lines.foot = (mm(self.foot), mm(self.foot));
        wall.lines.head = (mm(self.head_line()), mm(self.head_line()));
        for (number, &(x, y, width, height, clearance)) in self.rects.iter().enumerate() {
            let edge = if number == 0 { OpeningEdge::Bare } else { OpeningEdge::Trim };
            wall = wall.opening(rectangle(x, y, width, height), clearance, edge);
        }
        wall
    }

    fn head_line(&self) -> i64 {
        (self.tile.1 + self.joint) * i64::from(self.courses) - self.joint - self.head
    }

    /// Whether the millimetre right of and above (x, y) is to be tiled.
    fn in_region(&self, (x, y): Pixel) -> bool {
        let left = if self.bare.0 { 0 } else { self.gaps.0 };
        let right = self.width - if self.bare.1 { 0 } else { self.gaps.1 };
        let taken = self.rects.iter().any(|&(rx, ry, width, height, grown)| {
            (rx - grown..rx + width + grown).contains(&x) && (ry - grown..ry + height + grown).contains(&y)
        });
        (left..right).contains(&x) && (self.foot..self.head_line()).contains(&y) && !taken
    }

    /// Which tile of the pattern the millimetre is in: its course and its place in it.
    fn tile_of(&self, (x, y): Pixel) -> Option<(i64, i64)> {
        let (pitch, rise) = (self.tile.0 + self.joint, self.tile.1 + self.joint);
        let course = y.div_euclid(rise);
        let along = x - self.left_edge - self.step * course;
        let in_tile = y.rem_euclid(rise) < self.tile.1 && along.rem_euclid(pitch) < self.tile.0;
        (in_tile && (0..i64::from(self.courses)).contains(&course)).then(|| (course, along.div_euclid(pitch)))
    }

    /// The pieces as sets of millimetres, each by growing outward from one of its own.
    fn by_brute_force(&self) -> BTreeSet<BTreeSet<Pixel>> {
        let tiled = self.pixels().filter(|&pixel| self.in_region(pixel));
        parts_of(tiled, |pixel| self.tile_of(pixel), self.joint)
    }

    fn pixels(&self) -> impl Iterator<Item = Pixel> {
        let high = (self.tile.1 + self.joint) * i64::from(self.courses);
        (-2..self.width + 2).flat_map(move |x| (-2..high + 2).map(move |y| (x, y)))
    }
}

/// The connected parts of each tile that are wider and higher than a joint.
pub(super) fn parts_of(
    tiled: impl Iterator<Item = Pixel>,
    tile_of: impl Fn(Pixel) -> Option<(i64, i64)>,
    joint: i64,
) -> BTreeSet<BTreeSet<Pixel>> {
    let mut tiles: BTreeMap<(i64, i64), BTreeSet<Pixel>> = BTreeMap::new();
    for pixel in tiled {
        if let Some(tile) = tile_of(pixel) {
            tiles.entry(tile).or_default().insert(pixel);
        }
    }
    let mut parts = BTreeSet::new();
    for mut left in tiles.into_values() {
        while let Some(first) = left.pop_first() {
            let (mut part, mut waiting) = (BTreeSet::from([first]), vec![first]);
            while let Some((x, y)) = waiting.pop() {
                for next in [(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)] {
                    if left.remove(&next) {
                        part.insert(next);
                        waiting.push(next);
                    }
                }
            }
            let xs = part.iter().map(|pixel| pixel.0);
            let ys = part.iter().map(|pixel| pixel.1);
            let wide = xs.clone().max().unwrap() - xs.min().unwrap() + 1;
            let high = ys.clone().max().unwrap() - ys.min().unwrap() + 1;
            if wide.min(high) > joint {
                parts.insert(part);
            }
        }
    }
    parts
}

pub(super) fn middle((x, y): Pixel) -> Point {
    Point::new(mm(2 * x + 1).half(), mm(2 * y + 1).half())
}

pub(super) fn holds(piece: &Piece, point: Point) -> bool {
    polygon::locate(&piece.outline, point) == polygon::Where::Inside
        && piece.holes.iter().all(|hole| match hole {
            Hole::Polygon(corners) => polygon::locate(corners, point) == polygon::Where::Outside,
            Hole::Round { centre, diameter } => {
                4 * polygon::squared(*centre, point) > i128::from(diameter.units()).pow(2)
            }
        })
}

proptest! {
    #![proptest_config(crate::cases(400))]

    #[test]
    fn pieces_are_what_a_raster_of_millimetres_finds(small in small()) {
        let wall = small.wall();
        let placed = wall.place();
        let found: BTreeSet<BTreeSet<Pixel>> = placed
            .pieces
            .iter()
            .map(|piece| small.pixels().filter(|&pixel| holds(piece, middle(pixel))).collect())
            .collect();
        prop_assert_eq!(found, small.by_brute_force());
        prop_assert_eq!(wall.faults(&placed.pieces), []);
    }

    #[test]
    fn slopes_steps_and_circles_are_covered_and_marked(
        small in small(),
        fall in (-6_i64..7, -6_i64..7),
        step in prop::option::of((1_i64..40, 3_i64..20)),
        circles in prop::collection::vec((-4_i64..40, -4_i64..40, 1_i64..14, -1_i64..2, any::<bool>()), 0..4),
    ) {
        let mut wall = small.wall();
        wall.lines.foot.1 += mm(fall.0);
        wall.lines.head.1 += mm(fall.1);
        wall.lines.step = step.map(|(x, up)| (mm(x), wall.lines.foot.0.max(wall.lines.foot.1) + mm(up)));
        for (x, y, diameter, clearance, bare) in circles {
            let edge = if bare { OpeningEdge::Bare } else { OpeningEdge::Plate };
            wall = wall.opening(circle(x, y, diameter), clearance, edge);
        }
        // Such a wall is refused before it is placed.
        prop_assume!(crate::measure::sound::clashing(&wall.surface().openings).is_none());
        let placed = wall.place();
        prop_assert_eq!(wall.faults(&placed.pieces), []);
    }

    #[test]
    fn measures_in_odd_units_are_as_exact_as_millimetres(small in small(), odd in 1_i64..30_000) {
        let mut wall = small.wall();
        let units = |times: i64| Length::from_units(odd * times);
        wall.job.joint += units(2);
        for tile in wall.job.tiles.values_mut() {
            tile.width += units(3);
            tile.height += units(1);
        }
        let joint = wall.job.joint;
        let height = mm(small.tile.1) + units(1);
        for course in &mut wall.courses {
            course.bottom = (height + joint) * i64::from(course.number - 1);
            course.top = course.bottom + height;
        }
        let surface = wall.surface_mut();
        surface.width += units(5);
        for opening in &mut surface.openings {
            opening.clearance += units(1);
        }
        wall.layout.starts.values_mut().for_each(|start| *start += units(7));
        wall.lines.foot.1 += units(1);
        let placed = wall.place();
        prop_assert_eq!(wall.faults(&placed.pieces), []);
    }
}
