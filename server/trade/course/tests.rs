//! Course lines as a setter would check them with a level and a story pole.

use proptest::prelude::*;

use super::sample::{at, begun, field, id, job, mm, strip, tenths, tile, wall};
use super::*;
use crate::measure::{BandHeight, BaseReading, Job, Layout, LineId, Role, Surface, TopReading};

fn only(job: &Job, layout: &Layout) -> WallCourses {
    let courses = lay(job, layout).expect("the job can be laid");
    courses.walls.into_values().next().expect("a wall")
}

fn gaps(wall: &WallCourses) -> Vec<(Length, Length)> {
    wall.stations.iter().map(|station| (station.x, station.gap)).collect()
}

fn numbers(wall: &WallCourses) -> Vec<u32> {
    wall.courses.iter().map(|course| course.number).collect()
}

#[test]
fn a_wall_that_falls_3mm_is_propped_on_its_high_point() {
    let job = job(vec![wall("A", 910, &[(0, 1203), (910, 1200)])]);
    // The joint above the third course.
    let wall = only(&job, &at(&job, tenths(-8975) + mm(301 * 2)));
    assert_eq!(wall.first_course, FirstCourse::Propped);
    assert_eq!(wall.seat, mm(-1197));
    assert_eq!(gaps(&wall), [(mm(0), mm(6)), (mm(910), mm(3))]);
    assert_eq!(wall.stations[0].cut_height, mm(298));
    assert_eq!(
        (wall.courses[0].number, wall.courses[0].bottom, wall.courses[0].top),
        (1, mm(-1197), mm(-899))
    );
    assert_eq!(wall.courses.len(), 8, "the eighth is cut under the ceiling: 910 to 997");
    assert_eq!(wall.courses[7].bottom, mm(910));
    assert_eq!(wall.prop_height(mm(455)), tenths(45));
    assert_eq!(wall.flags, []);
    let cut = wall.foot(mm(0), mm(598));
    assert_eq!((cut.left.y, cut.right.y), (mm(-1197), mm(-1197)));
    assert_eq!(wall.gap_under(&cut), mm(6));
}

#[test]
fn a_wall_that_falls_6mm_is_scribed() {
    let job = job(vec![wall("A", 600, &[(0, 1206), (600, 1200)])]);
    // Whole at the low point: the first course from -1203 to -905.
    let wall = only(&job, &at(&job, tenths(-9035)));
    assert_eq!(wall.first_course, FirstCourse::Scribed);
    assert_eq!(gaps(&wall), [(mm(0), mm(3)), (mm(600), mm(3))]);
    let heights: Vec<_> = wall.stations.iter().map(|station| station.cut_height).collect();
    assert_eq!(heights, [mm(298), mm(292)]);
    assert_eq!(wall.courses[0].bottom, mm(-1203));
    let cut = wall.foot(mm(0), mm(600));
    assert_eq!((cut.left.y, cut.right.y), (mm(-1203), mm(-1197)));
    assert_eq!(wall.gap_under(&cut), mm(3));
}

#[test]
fn propping_a_wall_that_falls_too_far_is_obeyed_and_flagged() {
    let job = job(vec![wall("A", 600, &[(0, 1206), (600, 1200)])]);
    let wall = only(&job, &begun(&job, tenths(-11985), FirstCourse::Propped));
    assert_eq!(wall.flags, [CourseFlag::PropGapTooLarge { largest: mm(9), allowed: mm(6) }]);
    assert_eq!(gaps(&wall), [(mm(0), mm(9)), (mm(600), mm(3))]);
}

#[test]
fn a_line_too_far_above_the_base_to_prop_from_is_scribed() {
    let job = job(vec![wall("A", 600, &[(0, 1200)])]);
    let wall = only(&job, &at(&job, mm(-1100)));
    assert_eq!(wall.first_course, FirstCourse::Scribed);
    assert_eq!(wall.stations[0].cut_height, tenths(955));
    assert_eq!(wall.courses[0].number, 1);
}

/// Common practice: level line at the top of the fourth course; the wall with the smallest drop has the high
/// point.
#[test]
fn three_walls_level_but_of_different_drop_start_on_the_highest() {
    let eighths = |count: i64| Length::sixty_fourths(count * 8);
    let drops = [("A", 47 * 8 + 5), ("B", 48 * 8), ("C", 47 * 8 + 7)];
    let mut job = job(drops
        .iter()
        .map(|(name, drop)| {
            let base = vec![BaseReading { x: Length::ZERO, drop: eighths(*drop), carries: true }];
            Surface { base, ..wall(name, 900, &[]) }
        })
        .collect());
    job.gaps.base = eighths(1);
    job.base_gap_max = eighths(4);
    // Four courses and three joints of 1/8 in reach from 1/8 in above the high point to the line.
    job.joint = eighths(1);
    let height = Length::from_units((eighths(47 * 8 + 4) - eighths(3)).units() / 4);
    job.tiles.insert(TileId("wall".to_owned()), tile(eighths(96), height));
    let courses = lay(&job, &begun(&job, eighths(1).half(), FirstCourse::Propped)).unwrap();
    let gap = |name: &str| courses.walls[&id(name)].prop_height(mm(450));
    assert_eq!([gap("A"), gap("B"), gap("C")], [eighths(1), eighths(4), eighths(3)]);
    for wall in courses.walls.values() {
        assert_eq!(wall.high_point, -eighths(47 * 8 + 5));
        assert_eq!(wall.course(4).unwrap().top, Length::ZERO);
        assert_eq!(wall.story_pole()[3].top_above_base, eighths(47 * 8 + 5));
        assert_eq!(wall.flags, []);
    }
}

/// The height of a bath over the floor by its courses (Borgmeier and Braunreiter's textbook, chapter 9): 0.5 cm
/// under the tile, tile of 15 cm, joints of 0.2 cm, the rim 0.3 cm below the fourth course's upper edge; and with
/// a base of 10 cm in place of the lowest course.
#[test]
fn the_story_pole_gives_the_height_of_a_bath() {
    let mut job = job(vec![wall("A", 900, &[(0, 1000)])]);
    job.joint = mm(2);
    job.gaps.base = mm(5);
    job.tiles.insert(TileId("wall".to_owned()), tile(mm(150), mm(150)));
    job.tiles.insert(TileId("base".to_owned()), tile(mm(300), mm(100)));
    let rim = |job: &Job, joint: Length| {
        let pole = only(job, &at(job, joint)).story_pole();
        let fourth = pole.iter().find(|mark| mark.number == 4).unwrap();
        fourth.top_above_base - mm(3)
    };
    assert_eq!(rim(&job, mm(-1000 + 5 + 150 + 1)), mm(608));
    job.surfaces[0].bands = vec![field("base", BandHeight::Courses(1)), field("wall", BandHeight::Fill)];
    assert_eq!(rim(&job, mm(-1000 + 5 + 100 + 1)), mm(558), "the joint above the base");
    assert_eq!(rim(&job, mm(-1000 + 5 + 100 + 2 + 150 + 1)), mm(558), "a joint above the first 15 cm course");
}

/// Nobody can mark a pole above the ceiling.
#[test]
fn the_last_course_on_the_pole_ends_where_it_is_cut_to_the_ceiling() {
    let level = job(vec![wall("A", 900, &[(0, 1000)])]);
    let last = only(&level, &at(&level, mm(-100))).story_pole().pop().unwrap();
    assert!(last.top > mm(1000), "{last:?}");
    let under = mm(1000) - level.gaps.ceiling;
    assert_eq!(last.cut_at_top, Some((under, under)));
    let mut sloping = level;
    let end = TopReading { x: mm(900), rise: mm(990) };
    sloping.surfaces[0].top.push(end);
    let last = only(&sloping, &at(&sloping, mm(-100))).story_pole().pop().unwrap();
    assert_eq!(last.cut_at_top, Some((under - mm(10), under)));
}

#[test]
fn a_wall_whose_base_lies_lower_gets_the_low_course_and_all_count_alike() {
    let mut low = wall("B", 800, &[(0, 1500)]);
    low.base[0].carries = false;
    let job = job(vec![wall("A", 900, &[(0, 1200)]), low]);
    let courses = lay(&job, &at(&job, tenths(-8975))).unwrap();
    let (high, low) = (&courses.walls[&id("A")], &courses.walls[&id("B")]);
    assert_eq!(numbers(low), (1..=9).collect::<Vec<_>>());
    assert_eq!(numbers(high), (2..=9).collect::<Vec<_>>(), "nothing below the whole course on the base");
    assert_eq!(low.course(2).unwrap().bottom, high.course(2).unwrap().bottom);
    assert_eq!(low.course(1).unwrap().bottom, mm(-1197 - 301));
    assert_eq!(low.stations[0].gap, mm(3));
    assert_eq!(low.stations[0].cut_height, mm(297));
}

#[test]
fn parts_under_a_millimetre_make_no_course() {
    let job = job(vec![wall("A", 900, &[(0, 1200)])]);
    // The joint ends 0.5 mm above the seat: the course below it would be 0 mm; then 0.9 mm and 1 mm above.
    for (above, count) in [(35, 8), (39, 8), (40, 9)] {
        let wall = only(&job, &begun(&job, mm(-1197) + tenths(above - 15), FirstCourse::Scribed));
        assert_eq!(wall.courses.len(), count, "{above}");
        assert_eq!(wall.courses[0].number, 1);
    }
}

fn curbed() -> Surface {
    let mut surface = wall("A", 1500, &[(0, 1200), (900, 1200), (900, 1050), (1050, 1050), (1050, 1260)]);
    surface.base[2].carries = false;
    surface.base[3].carries = false;
    surface.base[4].carries = false;
    surface
}

#[test]
fn over_a_curb_and_beyond_it_tile_is_cut_and_on_the_base_it_is_whole() {
    let job = job(vec![curbed()]);
    let wall = only(&job, &at(&job, tenths(-8975)));
    assert_eq!(wall.first_course, FirstCourse::Propped);
    let stations: Vec<_> = wall.stations.iter().map(|s| (s.x, s.gap, s.cut_height, s.carries)).collect();
    assert_eq!(
        stations,
        [
            (mm(0), mm(3), mm(298), true),
            (mm(900), mm(3), mm(298), true),
            (mm(900), mm(3), mm(148), false),
            (mm(1050), mm(3), mm(148), false),
            (mm(1050), mm(3), mm(57), false),
            (mm(1500), mm(3), mm(57), false),
        ]
    );
    assert_eq!(numbers(&wall)[..2], [1, 2]);
    assert_eq!(wall.course(2).unwrap().bottom, mm(-1197));
}

#[test]
fn a_tile_across_a_curb_is_notched_clear_of_its_faces() {
    let job = job(vec![curbed()]);
    let wall = only(&job, &at(&job, tenths(-8975)));
    let cuts: Vec<_> = wall.feet(mm(602), mm(1200)).iter().map(|c| (c.left, c.right)).collect();
    let level = |x0: i64, x1: i64, y: i64| (Point::new(mm(x0), mm(y)), Point::new(mm(x1), mm(y)));
    assert_eq!(cuts, [level(602, 897, -1197), level(897, 1053, -1047), level(1053, 1200, -1257)]);
    let straight = wall.foot(mm(602), mm(1200));
    assert!(straight.left.y >= mm(-1197) && straight.right.y >= mm(-1257));
    assert!(wall.gap_under(&straight) > job.base_gap_max, "one straight cut cannot do it");
    assert_eq!(wall.feet(mm(0), mm(598)).len(), 1);
}

#[test]
fn a_low_step_is_cleared_at_its_higher_side_by_one_level_cut() {
    let job = job(vec![wall("A", 600, &[(0, 1202), (300, 1202), (300, 1200)])]);
    let wall = only(&job, &begun(&job, tenths(-9035), FirstCourse::Scribed));
    let cut = wall.foot(mm(0), mm(598));
    assert_eq!((cut.left.y, cut.right.y), (mm(-1197), mm(-1197)));
    assert_eq!(wall.gap_under(&cut), mm(5));
    assert_eq!(wall.feet(mm(0), mm(598)), [cut]);
}

#[test]
fn under_a_sloping_ceiling_tile_is_cut_to_it() {
    let mut surface = wall("A", 1000, &[(0, 1200)]);
    surface.top = vec![
        TopReading { x: mm(0), rise: mm(990) },
        TopReading { x: mm(500), rise: mm(1000) },
        TopReading { x: mm(1000), rise: mm(1000) },
    ];
    let job = job(vec![surface]);
    let wall = only(&job, &at(&job, tenths(-8975)));
    let cut = wall.head(mm(0), mm(500));
    assert_eq!((cut.left.y, cut.right.y), (mm(987), mm(997)));
    let over_the_kink = wall.head(mm(400), mm(600));
    // The chord from 995 to 997 would be lowest at the kink, where the ceiling is higher: it is a roof.
    assert_eq!((over_the_kink.left.y, over_the_kink.right.y), (mm(995), mm(997)));
}

#[test]
fn square_to_a_steep_ceiling_the_gap_is_longer_plumb() {
    let mut surface = wall("A", 1000, &[(0, 1200)]);
    surface.top = vec![TopReading { x: mm(0), rise: mm(0) }, TopReading { x: mm(1000), rise: mm(1000) }];
    let job = job(vec![surface]);
    let cut = only(&job, &at(&job, tenths(-8975))).head(mm(0), mm(1000));
    // 3 mm times the square root of 2, 4.242640687 mm.
    let plumb = -cut.left.y;
    assert!((plumb.units() - 325_835).abs() <= 2, "{plumb:?}");
}

#[test]
fn a_bare_top_stops_at_the_whole_course_nearest_to_the_wanted_rise() {
    let mut surface = wall("A", 900, &[(0, 1200)]);
    surface.edges.top = Role::Bare;
    surface.top[0].rise = mm(880);
    surface.top_may_move = mm(50);
    let mut job = job(vec![surface]);
    let wall = only(&job, &at(&job, tenths(-8975)));
    assert_eq!(wall.top_stop, Some(mm(907)), "seven courses: -1197 + 7 x 298 + 6 x 3");
    assert_eq!(wall.courses.len(), 7);
    assert_eq!(wall.head(mm(0), mm(598)).left.y, mm(907));
    job.surfaces[0].top_may_move = mm(20);
    let wall = only(&job, &at(&job, tenths(-8975)));
    assert_eq!(wall.top_stop, None);
    assert_eq!(wall.head(mm(0), mm(598)).left.y, mm(880));
}

fn banded(lowest: i64, highest: i64) -> Job {
    let mut surface = wall("A", 900, &[(0, 1200)]);
    let mut below = field("wall", BandHeight::Fill);
    below.joint_above = Some(mm(2));
    let mut across = strip(lowest, highest);
    across.joint_above = Some(mm(4));
    surface.bands = vec![below, across, field("wall", BandHeight::Fill)];
    job(vec![surface])
}

#[test]
fn a_strip_sits_on_whole_courses_and_whole_courses_start_again_on_it() {
    let job = banded(-100, 50);
    let wall = only(&job, &at(&job, tenths(-8975)));
    let strip = wall.courses.iter().position(|course| course.strip).unwrap();
    // The fourth course ends at -1197 + 4 x 301 - 3 = 4.
    assert_eq!((wall.courses[strip].bottom, wall.courses[strip].top), (mm(6), mm(56)));
    assert_eq!(wall.courses[strip].number, 4);
    assert_eq!(wall.courses[strip + 1].bottom, mm(60));
    assert_eq!(numbers(&wall), [1, 2, 3, 4, 4, 5, 6, 7, 8]);
    assert_eq!(wall.flags, []);
}

#[test]
fn a_strip_that_no_whole_course_brings_into_range_goes_nearest_and_is_flagged() {
    let job = banded(20, 60);
    let wall = only(&job, &at(&job, tenths(-8975)));
    assert_eq!(
        wall.flags,
        [CourseFlag::StripOutOfRange { band: 1, bottom: mm(6), lowest: mm(20), highest: mm(60) }]
    );
}

#[test]
fn a_line_that_leaves_open_where_the_strip_is_puts_it_where_it_lies_best() {
    let mut job = banded(0, 200);
    job.surfaces[0].bands[2] = field("low", BandHeight::Fill);
    // Joints of the low tile every 101 mm, from 600 mm down: the strip's bottom may be 54 mm below any course.
    let wall = only(&job, &at(&job, tenths(6000) - tenths(15)));
    let strip = wall.courses.iter().find(|course| course.strip).unwrap();
    // 600 - 505 - 54 = 41 and 600 - 404 - 54 = 142 are in the range; 41 is 59 from its middle, 142 is 42.
    assert_eq!(strip.bottom, mm(142));
    assert_eq!(wall.flags, []);
}

#[test]
fn bands_above_a_fill_end_at_the_top() {
    let mut surface = wall("A", 900, &[(0, 1200)]);
    surface.top[0].rise = mm(800);
    surface.bands = vec![field("wall", BandHeight::Fill), field("low", BandHeight::Courses(2))];
    let job = job(vec![surface]);
    let wall = only(&job, &at(&job, tenths(-8975)));
    let low: Vec<_> = wall.courses.iter().filter(|c| c.band == 1).map(|c| (c.bottom, c.top)).collect();
    assert_eq!(low, [(mm(609), mm(707)), (mm(710), mm(808))], "the last is cut at 797");
    assert_eq!(wall.courses.len(), 8);
}

#[test]
fn what_is_missing_is_named() {
    let job = job(vec![wall("A", 900, &[(0, 1200)]), wall("B", 900, &[(0, 1200)])]);
    let mut layout = at(&job, mm(-900));
    layout.course_line.remove(&id("B"));
    assert_eq!(lay(&job, &layout), Err(CourseFault::MissingCourseLine { surface: id("B") }));
    layout.course_line.insert(id("B"), mm(-800));
    assert_eq!(lay(&job, &layout), Err(CourseFault::LinesDisagree { one: id("A"), other: id("B") }));
    layout.course_line.insert(id("B"), mm(-900 + 301));
    assert!(lay(&job, &layout).is_ok(), "another joint of the same courses");

    let mut hung = job.clone();
    for surface in &mut hung.surfaces {
        surface.base[0].carries = false;
    }
    assert_eq!(lay(&hung, &layout), Err(CourseFault::NoCarryingBase { line: LineId::default() }));
    let mut shut = job.clone();
    shut.surfaces[1].top[0].rise = mm(-1199);
    assert_eq!(lay(&shut, &layout), Err(CourseFault::NoCourseFits { surface: id("B") }));
    let mut tiny = job;
    tiny.tiles.insert(TileId("wall".to_owned()), tile(mm(1), tenths(1)));
    tiny.joint = tenths(1);
    assert!(matches!(lay(&tiny, &layout), Err(CourseFault::TooManyCourses { .. })));
}

#[test]
fn lines_are_struck_under_the_start_course_and_through_its_middle_joint() {
    let mut surface = wall("A", 1800, &[(0, 1200)]);
    let step = crate::measure::Fraction::new(1, 3).unwrap();
    surface.pattern = crate::measure::Pattern::Running { step, mirror: false };
    let mut job = job(vec![surface]);
    let mut layout = at(&job, tenths(-8975));
    layout.starts.insert(id("A"), mm(300));
    let struck = |job: &Job| lines_to_strike(job, &layout, &lay(job, &layout).unwrap())[&id("A")];
    assert_eq!(struck(&job), Strike { course: 1, level: mm(-1197), plumb: Some(mm(901)) });
    job.start_course = 2;
    // A third of 598 + 3 mm.
    let third = Length::from_units(601 * Length::UNITS_PER_MM / 3);
    assert_eq!(struck(&job), Strike { course: 2, level: mm(-1197 + 301), plumb: Some(mm(901) + third) });
}

prop_compose! {
    /// Readings over a 2 m wall: some kinks, some steps, drops within 40 mm of each other.
    fn readings()(steps in prop::collection::vec((0i64..4, 0i64..=40_000), 1..9)) -> Vec<BaseReading> {
        let mut x = 0;
        steps
            .into_iter()
            .map(|(along, drop)| {
                x += along * 173;
                BaseReading { x: mm(x), drop: mm(1180) + Length::from_units(drop * 77), carries: true }
            })
            .collect()
    }
}

/// y of the base at the ends of every straight bit inside `x0..x1` and densely between, as floats, both sides
/// of each step.
fn sampled(readings: &[BaseReading], x0: Length, x1: Length) -> Vec<(f64, f64)> {
    let point = |reading: &BaseReading| (reading.x.to_mm(), -reading.drop.to_mm());
    let mut line: Vec<(f64, f64)> = readings.iter().map(point).collect();
    line.insert(0, (-1.0, line[0].1));
    line.push((5000.0, line[line.len() - 1].1));
    let (left, right) = (x0.to_mm(), x1.to_mm());
    let mut points = Vec::new();
    for pair in line.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let (a, b) = (from.0.max(left), to.0.min(right));
        if a < b {
            for part in 0..=8 {
                let x = a + (b - a) * f64::from(part) / 8.0;
                points.push((x, from.1 + (to.1 - from.1) * (x - from.0) / (to.0 - from.0)));
            }
        }
    }
    points
}

/// The least greatest distance that any straight line on or above the points can have, by narrowing the slope.
fn least_distance(points: &[(f64, f64)]) -> f64 {
    let spread = |slope: f64| {
        let above = |(x, y): &(f64, f64)| y - slope * x;
        let most = points.iter().map(above).fold(f64::MIN, f64::max);
        let least = points.iter().map(above).fold(f64::MAX, f64::min);
        most - least
    };
    let (mut low, mut high) = (-2000.0, 2000.0);
    for _ in 0..300 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if spread(a) < spread(b) { high = b } else { low = a }
    }
    spread((low + high) / 2.0)
}

/// A millionth of a millimetre, for the floats that the tests compare in.
const DUST: f64 = 1e-6;
/// Two units.
const TWO: f64 = 2.0 / 76_800.0 + DUST;

fn height(cut: &CutLine, x: f64) -> f64 {
    let (left, right) = (cut.left, cut.right);
    let run = right.x.to_mm() - left.x.to_mm();
    left.y.to_mm() + (right.y.to_mm() - left.y.to_mm()) * (x - left.x.to_mm()) / run
}

fn scribed(readings: Vec<BaseReading>, gap: Length, gap_max: Length) -> WallCourses {
    let mut job = job(vec![Surface { base: readings, ..wall("A", 2000, &[]) }]);
    job.gaps.base = gap;
    job.base_gap_max = gap_max;
    only(&job, &begun(&job, mm(-900), FirstCourse::Scribed))
}

proptest! {
    #[test]
    fn a_scribed_foot_is_never_nearer_than_the_gap(
        readings in readings(), gap in 0i64..6, x0 in 0i64..1900, width in 5i64..600
    ) {
        let (x0, x1) = (mm(x0), mm((x0 + width).min(2000)));
        let wall = scribed(readings.clone(), mm(gap), mm(1000));
        let cut = wall.foot(x0, x1);
        for (x, y) in sampled(&readings, x0, x1) {
            prop_assert!(height(&cut, x) >= y + mm(gap).to_mm() - DUST, "at {x}");
        }
    }

    #[test]
    fn a_scribed_foot_is_as_close_as_a_straight_cut_can_be(
        readings in readings(), x0 in 0i64..1900, width in 5i64..600
    ) {
        let (x0, x1) = (mm(x0), mm((x0 + width).min(2000)));
        let wall = scribed(readings.clone(), Length::ZERO, mm(1000));
        let cut = wall.foot(x0, x1);
        let points = sampled(&readings, x0, x1);
        let distance = points.iter().map(|(x, y)| height(&cut, *x) - y).fold(f64::MIN, f64::max);
        let least = least_distance(&points);
        prop_assert!(distance <= least + TWO, "{distance} against {least}");
        prop_assert!((wall.gap_under(&cut).to_mm() - distance).abs() < 0.001);
    }

    #[test]
    fn notched_feet_keep_the_gap_from_the_base_and_from_the_faces_of_steps(
        readings in readings(), x0 in 0i64..1900, width in 5i64..600
    ) {
        let (x0, x1) = (mm(x0), mm((x0 + width).min(2000)));
        let wall = scribed(readings.clone(), mm(3), mm(6));
        let cuts = wall.feet(x0, x1);
        prop_assert_eq!((cuts[0].left.x, cuts[cuts.len() - 1].right.x), (x0, x1));
        for pair in cuts.windows(2) {
            prop_assert_eq!(pair[0].right.x, pair[1].left.x);
        }
        for cut in cuts {
            for (x, y) in sampled(&readings, cut.left.x, cut.right.x) {
                prop_assert!(height(&cut, x) >= y + 3.0 - DUST, "at {x}");
            }
        }
    }

    #[test]
    fn a_head_is_never_nearer_to_the_ceiling_than_its_gap_and_as_close_as_can_be(
        readings in readings(), x0 in 0i64..1900, width in 5i64..600
    ) {
        let (x0, x1) = (mm(x0), mm((x0 + width).min(2000)));
        let mut job = job(vec![wall("A", 2000, &[(0, 500)])]);
        job.gaps.ceiling = Length::ZERO;
        // The readings turned over make a ceiling.
        job.surfaces[0].top =
            readings.iter().map(|reading| TopReading { x: reading.x, rise: reading.drop }).collect();
        let cut = only(&job, &at(&job, mm(0))).head(x0, x1);
        let points = sampled(&readings, x0, x1);
        let under = |(x, y): &(f64, f64)| -y - height(&cut, *x);
        let least = points.iter().map(under).fold(f64::MAX, f64::min);
        let most = points.iter().map(under).fold(f64::MIN, f64::max);
        prop_assert!(least >= -DUST);
        // A step of the ceiling has nothing to stand off when the gap is zero.
        prop_assert!(most <= least_distance(&points) + TWO);
    }

    #[test]
    fn any_joint_between_field_courses_gives_the_same_courses(
        line in -10_000i64..10_000, lowest in -900i64..700, range in 0i64..400, accent in 0u32..3,
        odd in 0i64..2, second_strip in any::<bool>(), low_above in any::<bool>()
    ) {
        let mut job = banded(lowest, lowest + range);
        job.joint += Length::from_units(odd);
        let bands = &mut job.surfaces[0].bands;
        if low_above {
            bands[2] = field("low", BandHeight::Fill);
        }
        if second_strip {
            bands.extend([strip(lowest + 1000, lowest + 1300), field("wall", BandHeight::Fill)]);
        }
        if accent > 0 {
            bands.insert(0, field("low", BandHeight::Courses(accent)));
        }
        let first = only(&job, &at(&job, tenths(line)));
        for pair in first.courses.windows(2) {
            // A joint of other tile above a strip leaves open where the strip is; then it goes where it lies best.
            let tells_all = !low_above || pair[1].band < 2;
            if tells_all && !pair[0].strip && !pair[1].strip {
                let joint = pair[1].bottom - pair[0].top;
                let again = only(&job, &at(&job, pair[0].top + joint.half()));
                prop_assert_eq!(&again.courses, &first.courses);
            }
        }
    }

    #[test]
    fn courses_leave_only_joints_between_them_and_reach_from_base_to_top(
        line in -10_000i64..10_000, drop in 1000i64..1300, fall in 0i64..30
    ) {
        let job = job(vec![wall("A", 900, &[(0, drop + fall), (900, drop)])]);
        let wall = only(&job, &at(&job, tenths(line)));
        for pair in wall.courses.windows(2) {
            prop_assert_eq!(pair[1].bottom - pair[0].top, mm(3));
            prop_assert_eq!(pair[1].number, pair[0].number + 1);
        }
        let (lowest, highest) = (&wall.courses[0], &wall.courses[wall.courses.len() - 1]);
        prop_assert_eq!(lowest.number, 1);
        let room_below = lowest.bottom - mm(3 - drop - fall);
        prop_assert!(room_below <= mm(6), "no course is missing at the base: {:?}", room_below);
        prop_assert!(mm(997) - highest.top < mm(4), "nor at the top");
        prop_assert!(wall.stations.iter().all(|s| s.gap >= mm(3) && s.cut_height <= mm(298)));
    }
}
