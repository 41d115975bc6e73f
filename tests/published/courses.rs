//! Courses from the level line.

use trade::course;
use trade::geometry::Side;
use trade::measure::{Fraction, Layout, Length, Pattern, Role};
use trade::search::{plan, propose};

use super::{job, wall};

/// 64ths of an inch from whole inches and eighths.
const fn inches(whole: i64, eighths: i64) -> Length {
    Length::sixty_fourths(whole * 64 + eighths * 8)
}

/// Common practice, no published source: the level line at the top of the fourth course; drops of 47 5/8, 48 and
/// 47 7/8 in; 1/8 in under the tile at the high point. The 47 5/8 wall is the high point, and the tiles stand 1/2
/// and 3/8 in above the base at the other two, that is 3/8 and 1/4 in more.
#[test]
fn the_high_point_rules_all_three_walls() {
    let (joint, gap) = (inches(0, 1), inches(0, 1));
    // Four courses and three joints from the seat up to the line.
    let height = Length::from_units((inches(47, 4) - joint * 3).units() / 4);
    let drops = [("A", inches(47, 5)), ("B", inches(48, 0)), ("C", inches(47, 7))];
    let walls = drops.map(|(name, drop)| wall(name, inches(60, 0), drop, inches(40, 0)));
    let job = job((height * 2, height), joint, gap, walls.into());
    let mut layout = Layout::default();
    for surface in &job.surfaces {
        layout.course_line.insert(surface.id.clone(), Length::from_units(joint.units() / 2));
        layout.first_course.insert(surface.id.clone(), trade::measure::FirstCourse::Propped);
    }
    let courses = course::lay(&job, &propose(&job, &layout)).unwrap();
    let gaps: Vec<Length> = courses.walls.values().map(|wall| wall.stations[0].gap).collect();
    assert_eq!(gaps, [inches(0, 1), inches(0, 4), inches(0, 3)]);
    assert!(courses.walls.values().all(|wall| wall.high_point == -inches(47, 5)));
    assert!(courses.walls.values().all(|wall| wall.course(4).unwrap().top == Length::ZERO));
}

/// Common practice: a cut edge goes to the corner, the factory edge to the joint; rows of a third-step bond that
/// start with two thirds, a full, then one third of a tile repeat every three courses.
#[test]
fn a_third_step_bond_repeats_every_three_courses_and_cut_edges_go_to_the_corner() {
    let mm = Length::mm;
    let mut surface = wall("A", mm(3000), mm(0), mm(6 * 100));
    surface.edges.right = Role::Bare;
    surface.pattern = Pattern::Cycle {
        shifts: [(2, 3), (0, 1), (1, 3)].map(|(over, under)| Fraction::new(over, under).unwrap()).into(),
    };
    let mut job = job((mm(300), mm(100)), mm(0), mm(0), vec![surface]);
    let id = job.surfaces[0].id.clone();
    let mut layout = Layout::default();
    layout.starts.insert(id.clone(), mm(0));
    layout.course_line.insert(id, mm(100));
    job.layout = Some(layout);
    let option = plan(&job).unwrap();
    let first_of = |course: u32| {
        let row = option.pieces.iter().filter(|piece| piece.course == course);
        row.min_by_key(|piece| piece.bounds.left).unwrap()
    };
    let widths: Vec<Length> = (1..=6).map(|course| first_of(course).bounds.width()).collect();
    assert_eq!(widths, [mm(200), mm(300), mm(100), mm(200), mm(300), mm(100)]);
    for course in [1, 3, 4, 6] {
        let piece = first_of(course);
        assert!(piece.factory.has(Side::Right) && !piece.factory.has(Side::Left), "{piece:?}");
    }
}
