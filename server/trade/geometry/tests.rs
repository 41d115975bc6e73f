use proptest::prelude::*;

use super::polygon::{self, Where};
use super::*;

fn at(x: i64, y: i64) -> Point {
    Point::new(Length::from_units(x), Length::from_units(y))
}

fn polygon_of(corners: &[(i64, i64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| at(x, y)).collect()
}

fn rect(left: i64, bottom: i64, right: i64, top: i64) -> Rect {
    let units = Length::from_units;
    Rect { left: units(left), bottom: units(bottom), right: units(right), top: units(top) }
}

fn any_rect(most: i64) -> impl Strategy<Value = Rect> {
    (0..most, 0..most, 1..most, 1..most).prop_map(|(x, y, w, h)| rect(x, y, x + w, y + h))
}

fn area(shape: &Shape) -> i128 {
    let holes: i128 = shape.holes.iter().map(|hole| polygon::area_doubled(hole)).sum();
    polygon::area_doubled(&shape.outline) + holes
}

#[test]
fn a_right_triangle_of_3_and_4_has_twice_the_area_12() {
    let triangle = polygon_of(&[(0, 0), (4, 0), (0, 3)]);
    assert_eq!(polygon::area_doubled(&triangle), 12);
    assert_eq!(polygon::locate(&triangle, at(1, 1)), Where::Inside);
    assert_eq!(polygon::locate(&triangle, at(2, 0)), Where::On);
    assert_eq!(polygon::locate(&triangle, at(4, 3)), Where::Outside);
    assert_eq!(polygon::locate(&triangle, at(-1, 0)), Where::Outside);
}

#[test]
fn tidying_drops_repeats_spikes_and_corners_on_straight_edges() {
    let rough = polygon_of(&[(4, 4), (4, 2), (4, 0), (2, 0), (2, -3), (2, 0), (0, 0), (0, 0), (0, 4)]);
    assert_eq!(polygon::tidy(&rough), polygon_of(&[(0, 0), (4, 0), (4, 4), (0, 4)]));
    assert!(polygon::tidy(&polygon_of(&[(0, 0), (3, 3), (1, 1)])).is_empty());
}

#[test]
fn a_segment_may_leave_through_two_corners_of_a_notch() {
    let notched = polygon_of(&[(0, 0), (6, 0), (6, 6), (4, 6), (4, 2), (2, 2), (2, 6), (0, 6)]);
    let bridge = polygon_of(&[(0, 6), (0, 5), (2, 6), (4, 6), (6, 5), (6, 6)]);
    assert!(!polygon::is_inside(&bridge, &notched), "its upper edge spans the notch");
    assert!(polygon::is_inside(&polygon_of(&[(0, 0), (6, 0), (4, 2), (2, 2)]), &notched));
}

#[test]
fn neighbours_that_touch_do_not_overlap_and_equal_ones_do() {
    let one = rect(0, 0, 10, 10).corners();
    assert!(!polygon::overlap(&one, &rect(10, 0, 20, 10).corners()));
    assert!(!polygon::overlap(&one, &rect(10, 10, 20, 20).corners()));
    assert!(polygon::overlap(&one, &one));
    assert!(polygon::overlap(&one, &rect(2, -5, 4, 15).corners()));
    assert!(polygon::overlap(&one, &rect(3, 3, 4, 4).corners()));
}

#[test]
fn a_rectangle_cut_through_falls_in_two_and_a_window_is_a_hole() {
    let whole = rect(0, 0, 10, 10);
    let two = minus_rects(&whole, &[rect(4, -1, 6, 11)]);
    assert_eq!(two, [Shape::solid(rect(0, 0, 4, 10).corners()), Shape::solid(rect(6, 0, 10, 10).corners())]);
    let holed = minus_rects(&whole, &[rect(4, 4, 6, 6)]);
    assert_eq!(holed.len(), 1);
    assert_eq!(holed[0].outline, whole.corners());
    assert_eq!(holed[0].holes, [polygon_of(&[(4, 4), (4, 6), (6, 6), (6, 4)])]);
}

#[test]
fn parts_that_meet_at_a_corner_only_are_two() {
    let taken = [rect(0, 5, 5, 10), rect(5, 0, 10, 5)];
    let exact = minus_rects(&rect(0, 0, 10, 10), &taken);
    assert_eq!(exact.len(), 2);
    let clip: Vec<_> = taken.iter().map(Rect::corners).collect();
    assert_eq!(overlay::minus(&Shape::solid(rect(0, 0, 10, 10).corners()), &clip), exact);
}

#[test]
fn a_slope_takes_a_wedge_off_a_tile() {
    let sloped = polygon::clip(&rect(0, 0, 100, 50).corners(), at(0, 10), at(100, 0));
    assert_eq!(sloped, polygon_of(&[(0, 10), (100, 0), (100, 50), (0, 50)]));
    let crossed = polygon::clip(&rect(0, 0, 100, 50).corners(), at(0, 10), at(100, -10));
    assert_eq!(crossed, polygon_of(&[(0, 10), (50, 0), (100, 0), (100, 50), (0, 50)]));
    assert_eq!(polygon::height_at(at(0, 10), at(100, -10), Length::from_units(25)), Length::from_units(5));
    assert_eq!(polygon::height_at(at(100, -10), at(0, 10), Length::from_units(75)), Length::from_units(-5));
}

#[test]
fn a_rectangle_one_unit_wide_overlaps_itself() {
    let corners = [at(5, 0), at(6, 0), at(6, 4), at(5, 4)];
    assert!(polygon::overlap(&corners, &corners));
}

proptest! {
    #[test]
    fn the_polygon_round_a_circle_holds_it_and_hugs_it(
        x in -9_000_000_i64..9_000_000, y in -9_000_000_i64..9_000_000, diameter in 1_i64..90_000_000,
    ) {
        let (centre, diameter) = (at(x, y), Length::from_units(diameter));
        let round = around_circle(centre, diameter);
        let (twice, diameter) = (|a: i128| 4 * a, polygon::wide(diameter));
        prop_assert!(polygon::is_simple(&round));
        prop_assert_eq!(polygon::locate(&round, centre), Where::Inside);
        for (from, to) in polygon::edges(&round) {
            let across = polygon::turn(from, to, centre);
            prop_assert!(across > 0, "the centre is on the left of every edge");
            prop_assert!(4 * across * across >= diameter * diameter * polygon::squared(from, to));
            let most = diameter + 1 + 2 * polygon::wide(ROUNDNESS);
            prop_assert!(twice(polygon::squared(centre, from)) <= most * most);
        }
    }

    #[test]
    fn the_direct_path_agrees_with_a_raster_and_with_the_library(
        whole in any_rect(12), taken in prop::collection::vec(any_rect(8), 0..5),
    ) {
        let parts = minus_rects(&whole, &taken);
        let mut open = 0_i128;
        for x in 0..24 {
            for y in 0..24 {
                let field = rect(x, y, x + 1, y + 1);
                let free = whole.overlaps(&field) && !taken.iter().any(|rect| rect.overlaps(&field));
                open += i128::from(free);
                let doubled = |ring: &[Point]| -> Vec<Point> {
                    ring.iter().map(|p| Point::new(p.x * 2, p.y * 2)).collect()
                };
                let homes = parts.iter().filter(|part| {
                    let holes = part.holes.iter().map(|hole| doubled(hole)).collect();
                    Shape { outline: doubled(&part.outline), holes }.has_inside(at(2 * x + 1, 2 * y + 1))
                });
                prop_assert_eq!(homes.count(), usize::from(free));
            }
        }
        prop_assert_eq!(parts.iter().map(area).sum::<i128>(), 2 * open);
        for part in &parts {
            prop_assert!(polygon::is_simple(&part.outline), "{:?}", part.outline);
            prop_assert!(part.holes.iter().all(|hole| polygon::is_simple(hole)));
            prop_assert!(part.holes.iter().all(|hole| polygon::is_inside(hole, &part.outline)));
        }
        let rest = rest_of(&whole, &taken);
        let areas = rest.iter().map(|rect| area(&Shape::solid(rect.corners())));
        prop_assert_eq!(areas.sum::<i128>(), 2 * open);
        for (number, rect) in rest.iter().enumerate() {
            prop_assert!(whole.holds(rect) && !taken.iter().any(|taken| taken.overlaps(rect)));
            prop_assert!(rest[number + 1..].iter().all(|other| !other.overlaps(rect)));
        }
        let clip: Vec<_> = taken.iter().map(Rect::corners).collect();
        let by_library = overlay::minus(&Shape::solid(whole.corners()), &clip);
        prop_assert_eq!(by_library.len(), parts.len());
        prop_assert_eq!(by_library.iter().map(area).sum::<i128>(), 2 * open);
    }

    #[test]
    fn containment_and_overlap_agree_for_rectangles(one in any_rect(6), other in any_rect(6)) {
        prop_assert_eq!(polygon::is_inside(&one.corners(), &other.corners()), other.holds(&one));
        prop_assert_eq!(polygon::overlap(&one.corners(), &other.corners()), one.overlaps(&other));
    }

    #[test]
    fn distance_agrees_with_the_predicate(
        a in (-50_i64..50, -50_i64..50), b in (-50_i64..50, -50_i64..50), p in (-50_i64..50, -50_i64..50),
    ) {
        let (a, b, p) = (at(a.0, a.1), at(b.0, b.1), at(p.0, p.1));
        let distance = polygon::distance(a, b, p);
        prop_assert!(!polygon::point_closer_than(a, b, p, distance));
        prop_assert!(polygon::point_closer_than(a, b, p, distance + Length::from_units(1)));
    }
}
