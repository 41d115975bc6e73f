//! Surfaces given by an outline: single stories, and a raster of whole millimetres.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::raster::{Pixel, holds, middle, parts_of};
use super::*;
use crate::measure::outline_sample::{Columns, columns};
use Side::{Bottom, Left, Right, Top};

const L: [(i64, i64); 6] = [(0, 0), (1000, 0), (1000, 400), (600, 400), (600, 900), (0, 900)];

/// An L in tiles of 300 by 200 with joints of 2, the first tile's corner at the L's own.
fn l_shaped(roles: [Role; 6]) -> Wall {
    Wall::new(0, (300, 200), 2, 1).outlined(&L, &roles, 0).with_left_edge_at(0)
}

#[test]
fn a_corner_that_juts_in_notches_one_tile() {
    let wall = l_shaped([Role::Hidden; 6]);
    let notched: Vec<Piece> = wall.pieces().into_iter().filter(|piece| piece.outline.len() == 6).collect();
    assert_eq!(notched.len(), 1);
    let piece = &notched[0];
    // Its whole tile lies from 604 to 904 and from 404 to 604: nothing of it; the one before goes round the corner.
    assert_eq!(piece.bounds, rect(302, 202, 602, 402));
    assert_eq!(
        piece.marks,
        [Mark::Notch { from: (Right, Top), x: mm(0), y: mm(0), width: mm(2), height: mm(2) }]
    );
}

#[test]
fn gaps_are_kept_square_to_each_side() {
    let mut wall = l_shaped([Role::Corner, Role::Trim, Role::Corner, Role::Trim, Role::Corner, Role::Trim]);
    wall.job.gaps.corner = mm(5);
    wall.job.gaps.trim = mm(3);
    let pieces = wall.pieces();
    let least = |side: fn(&Rect) -> Length| pieces.iter().map(|piece| side(&piece.bounds)).min().unwrap();
    let most = |side: fn(&Rect) -> Length| pieces.iter().map(|piece| side(&piece.bounds)).max().unwrap();
    assert_eq!((least(|b| b.left), least(|b| b.bottom)), (mm(3), mm(5)));
    assert_eq!((most(|b| b.right), most(|b| b.top)), (mm(997), mm(895)));
    let notched = pieces.iter().find(|piece| piece.outline.len() == 6).unwrap();
    assert!(notched.outline.contains(&at(597, 395)), "{:?}", notched.outline);
}

#[test]
fn a_cut_edge_at_a_bare_side_shows_where_the_joint_needs_the_factory_edge() {
    let mut roles = [Role::Corner; 6];
    roles[1] = Role::Bare;
    let wall = l_shaped(roles);
    // 906 to 1000 is cut at the bare end, and keeps its factory edge at the joint.
    let end = wall.pieces().into_iter().find(|piece| piece.bounds.right == mm(1000)).unwrap();
    assert_eq!((end.bounds.left, end.shows), (mm(906), sides(&[Right])));
    assert!(end.factory.has(Left));
    let wall = wall.with_left_edge_at(700);
    let end = wall.pieces().into_iter().find(|piece| piece.bounds.right == mm(1000)).unwrap();
    assert!(end.full && end.shows.is_empty());
}

#[test]
fn a_doorway_in_a_straight_side_is_bare_along_itself_only() {
    let points = [(0, 0), (300, 0), (600, 0), (900, 0), (900, 400), (0, 400)];
    let roles = [Role::Hidden, Role::Bare, Role::Hidden, Role::Hidden, Role::Hidden, Role::Hidden];
    let wall = Wall::new(0, (299, 200), 1, 1).outlined(&points, &roles, 50).with_left_edge_at(0);
    let shows: Vec<Sides> =
        wall.pieces().iter().filter(|piece| piece.bounds.bottom == mm(0)).map(|piece| piece.shows).collect();
    // The courses lie so that the lowest is cut; its upper edge, towards the next course, stays.
    assert_eq!(shows, [Sides::NONE, sides(&[Bottom]), Sides::NONE]);
}

#[test]
fn what_the_region_parts_is_two_pieces() {
    // A U whose legs stand in one tile.
    let points = [(0, 0), (300, 0), (300, 200), (200, 200), (200, 60), (100, 60), (100, 200), (0, 200)];
    let wall = Wall::new(0, (300, 140), 0, 1).outlined(&points, &[Role::Hidden; 8], 60).with_left_edge_at(0);
    let bounds: Vec<Rect> = wall.pieces().iter().map(|piece| piece.bounds).collect();
    assert_eq!(bounds, [rect(0, 0, 300, 60), rect(0, 60, 100, 200), rect(200, 60, 300, 200)]);
}

#[test]
fn a_tongue_between_two_corners_is_a_leg() {
    let points = [(0, 100), (130, 100), (130, 0), (170, 0), (170, 100), (300, 100), (300, 300), (0, 300)];
    let wall = Wall::new(0, (300, 300), 0, 1).outlined(&points, &[Role::Hidden; 8], 0).with_left_edge_at(0);
    let pieces = wall.pieces();
    assert_eq!((pieces.len(), pieces[0].sliver), (1, Some(Sliver::Leg(mm(40)))));
    let notch = |from: Side| Mark::Notch {
        from: (from, Bottom),
        x: mm(0),
        y: mm(0),
        width: mm(130),
        height: mm(100),
    };
    assert_eq!(pieces[0].marks, [notch(Left), notch(Right)]);
}

/// A surface by chance with its measures in millimetres, so that the raster works without the code under test.
#[derive(Clone, Debug)]
struct Small {
    columns: Columns,
    roles: Vec<Role>,
    gaps: (i64, i64),
    tile: (i64, i64),
    joint: i64,
    low: i64,
    left_edge: i64,
    step: i64,
    rects: Vec<(i64, i64, i64, i64, i64)>,
}

fn small() -> impl Strategy<Value = Small> {
    let roles = prop::sample::select(vec![Role::Corner, Role::Trim, Role::Bare, Role::Hidden]);
    let opening = (-4_i64..40, -14_i64..30, 1_i64..14, 1_i64..14, -1_i64..3);
    let shape = (columns(16), prop::collection::vec(roles, 20), (0_i64..4, 0_i64..3));
    let laid = ((5_i64..15, 5_i64..15), 0_i64..4, -8_i64..8, -20_i64..20, 0_i64..9);
    (shape, laid, prop::collection::vec(opening, 0..3)).prop_map(|(shape, laid, rects)| {
        let (columns, roles, gaps) = shape;
        let (tile, joint, low, left_edge, step) = laid;
        Small { columns, roles, gaps, tile, joint, low, left_edge, step, rects }
    })
}

/// A side from one point to another, with its gap.
type Edge = (Pixel, Pixel, i64);

impl Small {
    fn wall(&self) -> Wall {
        let points = self.columns.points();
        let mut wall = Wall::new(0, self.tile, self.joint, 1)
            .outlined(&points, &self.roles[..points.len()], self.low)
            .pattern(running(self.step, self.tile.0 + self.joint))
            .with_left_edge_at(self.left_edge);
        (wall.job.gaps.corner, wall.job.gaps.trim) = (mm(self.gaps.0), mm(self.gaps.1));
        for &(x, y, width, height, clearance) in &self.rects {
            wall = wall.opening(rectangle(x, y, width, height), clearance, OpeningEdge::Trim);
        }
        wall
    }

    /// The sides counter-clockwise.
    fn sides(&self) -> Vec<Edge> {
        let points = self.columns.points();
        let next = points.iter().cycle().skip(1);
        let doubled: i64 = points.iter().zip(next.clone()).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum();
        let gap = |role: Role| match role {
            Role::Corner => self.gaps.0,
            Role::Trim => self.gaps.1,
            Role::Base | Role::Ceiling | Role::Mitre | Role::Bare | Role::Hidden => 0,
        };
        let sides = points.iter().zip(next).zip(&self.roles).map(|((&a, &b), &role)| (a, b, gap(role)));
        let mut sides: Vec<_> = sides.collect();
        if doubled < 0 {
            sides.reverse();
            sides.iter_mut().for_each(|(a, b, _)| std::mem::swap(a, b));
        }
        sides
    }

    /// Whether the millimetre right of and above (x, y) is to be tiled: left of an odd number of plumb sides, and
    /// farther from each side, and from each corner that juts in, than the gaps there.
    fn in_region(&self, (x, y): Pixel, sides: &[Edge]) -> bool {
        let level = |&&(a, b, _): &&Edge| a.1.min(b.1) <= y && y < a.1.max(b.1);
        let to_the_right = sides.iter().filter(level).filter(|(a, b, _)| a.0 == b.0 && a.0 > x).count();
        // How far the far side of the pixel lies on the inner side of a side, less one.
        let inward = |&(a, b, _): &Edge| {
            let along = ((b.0 - a.0).signum(), (b.1 - a.1).signum());
            match along {
                (1, _) => y - a.1,
                (-1, _) => a.1 - 1 - y,
                (_, 1) => a.0 - 1 - x,
                _ => x - a.0,
            }
        };
        let beside = |&(a, b, _): &Edge| {
            let within = |p: i64, q: i64, at: i64| p.min(q) <= at && at < p.max(q);
            if a.0 == b.0 { within(a.1, b.1, y) } else { within(a.0, b.0, x) }
        };
        let near = |side: &Edge| beside(side) && (0..side.2).contains(&inward(side));
        let next = sides.iter().cycle().skip(1);
        let at_corner = sides.iter().zip(next).any(|(one, other)| {
            let turn =
                (one.1.0 - one.0.0) * (other.1.1 - other.0.1) - (one.1.1 - one.0.1) * (other.1.0 - other.0.0);
            turn < 0 && (0..one.2).contains(&inward(one)) && (0..other.2).contains(&inward(other)) && {
                let (dx, dy) = (x - one.1.0, y - one.1.1);
                let reach = one.2.max(other.2);
                (-reach..reach).contains(&dx) && (-reach..reach).contains(&dy)
            }
        });
        let taken = self.rects.iter().any(|&(rx, ry, width, height, grown)| {
            (rx - grown..rx + width + grown).contains(&x) && (ry - grown..ry + height + grown).contains(&y)
        });
        to_the_right % 2 == 1 && !sides.iter().any(near) && !at_corner && !taken
    }

    /// Which tile of the pattern the millimetre is in.
    fn tile_of(&self, (x, y): Pixel, first: i64) -> Option<(i64, i64)> {
        let (pitch, rise) = (self.tile.0 + self.joint, self.tile.1 + self.joint);
        let course = (y - first).div_euclid(rise);
        let along = x - self.left_edge - self.step * course;
        let in_tile = (y - first).rem_euclid(rise) < self.tile.1 && along.rem_euclid(pitch) < self.tile.0;
        in_tile.then(|| (course, along.div_euclid(pitch)))
    }

    fn pixels(&self) -> Vec<Pixel> {
        let points = self.columns.points();
        let range = |of: fn(&(i64, i64)) -> i64| {
            points.iter().map(of).min().unwrap() - 2..points.iter().map(of).max().unwrap() + 2
        };
        let (across, up) = (range(|point| point.0), range(|point| point.1));
        across.flat_map(|x| up.clone().map(move |y| (x, y))).collect()
    }
}

proptest! {
    #![proptest_config(crate::cases(400))]

    #[test]
    fn pieces_of_an_outline_are_what_a_raster_of_millimetres_finds(small in small()) {
        let wall = small.wall();
        let placed = wall.place();
        let (sides, pixels) = (small.sides(), small.pixels());
        let first = wall.courses[0].bottom.units() / MM;
        let tiled = pixels.iter().copied().filter(|&pixel| small.in_region(pixel, &sides));
        let expected = parts_of(tiled, |pixel| small.tile_of(pixel, first), small.joint);
        let found: BTreeSet<BTreeSet<Pixel>> = placed
            .pieces
            .iter()
            .map(|piece| pixels.iter().copied().filter(|&pixel| holds(piece, middle(pixel))).collect())
            .collect();
        prop_assert_eq!(found, expected);
        prop_assert_eq!(wall.faults(&placed.pieces), []);
    }

    #[test]
    fn circles_and_odd_units_on_an_outline_are_covered_and_marked(
        small in small(),
        odd in 0_i64..30_000,
        circles in prop::collection::vec((-4_i64..40, -14_i64..30, 1_i64..14, -1_i64..2, any::<bool>()), 0..3),
    ) {
        let mut wall = small.wall();
        let units = |times: i64| Length::from_units(odd * times);
        wall.job.gaps.corner += units(1);
        wall.job.gaps.trim += units(2);
        wall.layout.starts.values_mut().for_each(|start| *start += units(7));
        for (x, y, diameter, clearance, bare) in circles {
            let edge = if bare { OpeningEdge::Bare } else { OpeningEdge::Plate };
            wall = wall.opening(circle(x, y, diameter), clearance, edge);
        }
        prop_assume!(crate::measure::sound::clashing(&wall.surface().openings).is_none());
        let placed = wall.place();
        prop_assert_eq!(wall.faults(&placed.pieces), []);
    }
}

#[test]
fn the_check_finds_what_passes_an_outline() {
    let mut wall =
        l_shaped([Role::Corner, Role::Bare, Role::Corner, Role::Corner, Role::Corner, Role::Corner]);
    wall.job.gaps.corner = mm(5);
    let sound = wall.pieces();
    let index = sound.iter().position(|piece| piece.outline.len() == 6).unwrap();
    let spoilt = |number: usize, change: &dyn Fn(&mut Piece)| {
        let mut pieces = sound.clone();
        change(&mut pieces[number]);
        wall.faults(&pieces)
    };
    let id = sound[index].id.clone();
    let whole = spoilt(index, &|piece| piece.outline = piece.bounds.corners());
    assert!(
        whole.contains(&Fault::OverEdge(id.clone(), Top)) || whole.contains(&Fault::OverEdge(id, Right)),
        "{whole:?}"
    );
    let first = sound.iter().position(|piece| piece.bounds.left == mm(5)).unwrap();
    let over = spoilt(first, &|piece| {
        piece.bounds.left = mm(4);
        piece.outline = piece.bounds.corners();
    });
    assert!(over.contains(&Fault::OverEdge(sound[first].id.clone(), Left)), "{over:?}");
    let end = sound.iter().position(|piece| piece.bounds.right == mm(1000)).unwrap();
    let hidden = spoilt(end, &|piece| piece.shows = Sides::NONE);
    assert!(hidden.contains(&Fault::CutShows(sound[end].id.clone(), Right)), "{hidden:?}");
    let mut fewer = sound.clone();
    fewer.remove(index);
    assert!(matches!(wall.faults(&fewer).as_slice(), [Fault::Uncovered(_)]));
}
