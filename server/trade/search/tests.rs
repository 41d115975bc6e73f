//! Proposals as published rules and a careful setter would have them.

use proptest::prelude::*;

use std::collections::BTreeSet;

use super::*;
use crate::course::sample::{at, field, id, job, mm, strip, tenths, tile, wall};
use crate::course::{self, WallCourses};
use crate::measure::{
    BandHeight, FirstCourse, Fraction, Gaps, Job, Opening, OpeningEdge, OpeningShape, Pattern, Role, Surface,
    TopReading,
};

/// Left cut, whole tiles and right cut of the lowest course, straight from where the joints fall. A whole tile at
/// an end counts as whole.
fn lowest_row(job: &Job, layout: &Layout) -> (Length, usize, Length) {
    let surface = &job.surfaces[0];
    let tile = job.tiles[&surface.bands[0].tile].width;
    let joint = layout.joint.unwrap();
    let (left, right) = (job.gaps.at(surface.edges.left), surface.width - job.gaps.at(surface.edges.right));
    let mut begins = layout.starts[&surface.id] + joint.half();
    while begins > left {
        begins -= tile + joint;
    }
    let mut pieces = Vec::new();
    while begins < right {
        let (from, to) = (begins.max(left), (begins + tile).min(right));
        if from < to {
            pieces.push(to - from);
        }
        begins += tile + joint;
    }
    let whole = pieces.iter().filter(|width| **width == tile).count();
    (pieces[0], whole, pieces[pieces.len() - 1])
}

/// A wall from corner to corner without gaps, for the rules that know none.
fn bare_room(width: Length, across: Length, joint: Length) -> Job {
    let mut job = job(vec![Surface { width, ..wall("A", 0, &[(0, 1200)]) }]);
    job.tiles.insert(TileId("wall".to_owned()), tile(across, mm(300)));
    job.gaps = Gaps::default();
    job.joint = joint;
    job
}

fn proposed_row(job: &Job) -> (Length, usize, Length) {
    lowest_row(job, &propose(job, &Layout::default()))
}

/// The half-tile rule of NAVEDTRA 14044, chapter 7: each end is half of what is left over and one tile. A
/// vinyl-tile lesson at flooringtech.com.au takes 2630 mm as its example and gets it wrong; here is its right
/// answer.
#[test]
fn corner_to_corner_both_ends_are_equal_and_over_half_a_tile() {
    assert_eq!(proposed_row(&bare_room(mm(2630), mm(300), mm(0))), (mm(265), 7, mm(265)));
    assert_eq!(proposed_row(&bare_room(mm(3540), mm(300), mm(0))), (mm(270), 10, mm(270)));
}

/// The rule in setters' own words at tilersforums.com/threads/centering-vs-different-cuts-to-a-full-tile-in-a-corner.6815: from 5.4 tiles centre a joint, from 4.7 a
/// tile.
#[test]
fn an_odd_number_of_tiles_has_a_joint_centred_and_an_even_one_a_tile() {
    let odd = bare_room(mm(1620), mm(300), mm(0));
    let layout = propose(&odd, &Layout::default());
    assert_eq!(lowest_row(&odd, &layout), (mm(210), 4, mm(210)));
    assert_eq!((mm(810) - layout.starts[&id("A")]).modulo(mm(300)), mm(0), "a joint in the middle");

    let even = bare_room(mm(1410), mm(300), mm(0));
    let layout = propose(&even, &Layout::default());
    assert_eq!(lowest_row(&even, &layout), (mm(255), 3, mm(255)));
    assert_eq!((mm(705) - layout.starts[&id("A")]).modulo(mm(300)), mm(150), "a tile in the middle");
}

#[test]
fn tiles_that_fit_exactly_are_all_left_whole() {
    assert_eq!(proposed_row(&bare_room(mm(1512), mm(300), mm(3))), (mm(300), 5, mm(300)));
}

#[test]
fn a_bare_end_has_a_factory_edge_and_the_corner_has_the_cut() {
    let mut job = job(vec![wall("A", 910, &[(0, 1200)])]);
    job.surfaces[0].edges.left = Role::Bare;
    let layout = propose(&job, &Layout::default());
    assert_eq!(layout.starts[&id("A")], tenths(5995));
    assert_eq!(lowest_row(&job, &layout), (mm(598), 1, mm(306)));
    job.surfaces[0].edges =
        crate::measure::Edges { left: Role::Corner, right: Role::Trim, ..job.surfaces[0].edges };
    let layout = propose(&job, &Layout::default());
    assert_eq!(lowest_row(&job, &layout), (mm(303), 1, mm(598)));
}

#[test]
fn a_half_bond_keeps_every_second_course_flush_at_a_bare_end() {
    let mut job = job(vec![wall("A", 1505, &[(0, 1200)])]);
    job.surfaces[0].edges.left = Role::Bare;
    job.surfaces[0].pattern = Pattern::Running { step: Fraction::new(1, 2).unwrap(), mirror: false };
    let start = propose(&job, &Layout::default()).starts[&id("A")];
    let flush = (start + tenths(15)).modulo(mm(601));
    assert!(flush == mm(0) || flush == tenths(3005), "{start:?}");
}

#[test]
fn what_a_neighbour_covers_does_not_count_as_cut() {
    let mut job = bare_room(mm(2630), mm(300), mm(0));
    job.surfaces[0].covered.left = mm(20);
    // 265 + 10 on the left, of which 20 is covered: both show 255.
    assert_eq!(proposed_row(&job), (mm(275), 7, mm(255)));
}

#[test]
fn a_strip_has_a_start_of_its_own() {
    let mut job = job(vec![wall("A", 1606, &[(0, 1200)])]);
    job.surfaces[0].bands =
        vec![field("wall", BandHeight::Fill), strip(-50, 300), field("wall", BandHeight::Fill)];
    let layout = propose(&job, &Layout::default());
    assert_eq!(layout.band_starts.len(), 1);
    // 1600 mm between the gaps: 4 x 298 with 5 joints leave 393 for the two ends.
    let begins = layout.band_starts[&(id("A"), 1)] + tenths(15) - mm(3);
    assert_eq!(begins.modulo(mm(301)), tenths(1965) + mm(3));
}

fn laid(job: &Job) -> WallCourses {
    let layout = propose(job, &Layout::default());
    let courses = course::lay(job, &layout).expect("the proposal can be laid");
    courses.walls.into_values().next().unwrap()
}

fn first_and_last(job: &Job) -> (Length, Length) {
    let wall = laid(job);
    let first = wall.stations.iter().map(|station| station.cut_height).min().unwrap();
    let last = wall.courses.last().unwrap();
    let head = wall.head(mm(0), job.surfaces[0].width);
    (first, last.top.min(head.left.y.min(head.right.y)) - last.bottom)
}

fn high(rise: i64) -> Job {
    let mut job = job(vec![wall("A", 1800, &[(0, 1200)])]);
    job.surfaces[0].top[0].rise = mm(rise);
    job
}

#[test]
fn where_the_last_course_is_over_half_a_tile_the_first_is_whole_on_its_base() {
    // 7 courses of 301 and 200 mm between the gaps.
    let job = high(3 - 1197 + 7 * 301 + 200);
    assert_eq!(first_and_last(&job), (mm(298), mm(200)));
    assert_eq!(laid(&job).first_course, FirstCourse::Propped);
}

#[test]
fn where_it_would_be_a_sliver_both_cuts_are_equal() {
    // 7 courses of 301 and 40 mm between the gaps: the cuts share 40 + 298 mm.
    let job = high(3 - 1197 + 7 * 301 + 40);
    assert_eq!(first_and_last(&job), (mm(169), mm(169)));
}

#[test]
fn a_wall_that_falls_far_is_cut_from_whole_tiles_at_its_low_point() {
    let mut job = high(3 - 1197 + 7 * 301 + 200);
    job.surfaces[0] =
        Surface { base: wall("A", 0, &[(0, 1220), (1800, 1200)]).base, ..job.surfaces[0].clone() };
    // The top is level, so a whole course under it leaves one cut course, of 180 to 200 mm at the foot or none.
    let wall = laid(&job);
    assert_eq!(wall.first_course, FirstCourse::Scribed);
    let cuts = |wall: &WallCourses| wall.ends().iter().filter(|end| end.kept < end.whole).count();
    assert_eq!(cuts(&wall), 2, "the foot at both ends, the top nowhere");
    assert_eq!(first_and_last(&job), (mm(200), mm(298)));
}

#[test]
fn walls_of_one_line_are_judged_together_and_share_their_courses() {
    let mut lower = wall("B", 1800, &[(0, 1220)]);
    lower.top[0].rise = mm(910);
    let job = job(vec![
        Surface { top: vec![TopReading { x: mm(0), rise: mm(910) }], ..wall("A", 900, &[(0, 1200)]) },
        lower,
    ]);
    let layout = propose(&job, &Layout::default());
    assert_eq!(layout.course_line[&id("A")], layout.course_line[&id("B")]);
    let courses = course::lay(&job, &layout).unwrap();
    // 2104 mm on A, 2124 on B: no line keeps all four cuts at half a tile. A whole course on A leaves 17 mm at
    // B's foot; a sliver of 146 at A's foot is the least evil.
    let cuts =
        |name: &str| -> BTreeSet<Length> { courses.walls[&id(name)].ends().iter().map(|e| e.kept).collect() };
    assert_eq!(cuts("A"), BTreeSet::from([mm(146), mm(149)]));
    assert_eq!(cuts("B"), BTreeSet::from([mm(166), mm(149)]));
}

#[test]
fn a_strip_is_brought_into_its_range() {
    let mut job = high(1000);
    for lowest in [-600, -500, -400, -300, -170, 0, 110] {
        job.surfaces[0].bands =
            vec![field("wall", BandHeight::Fill), strip(lowest, lowest + 5), field("wall", BandHeight::Fill)];
        let wall = laid(&job);
        assert_eq!(wall.flags, [], "{lowest}");
        let bottom = wall.courses.iter().find(|course| course.strip).unwrap().bottom;
        assert!(mm(lowest) <= bottom && bottom <= mm(lowest + 5));
    }
}

fn niche(x: i64, y: i64) -> Opening {
    Opening {
        name: "niche".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(x), y: mm(y), width: mm(313), height: mm(313) },
        clearance: mm(0),
        edge: OpeningEdge::Trim,
    }
}

#[test]
fn among_equal_starts_a_niche_has_its_edge_on_a_joint() {
    // Five tiles and five joints: all stay whole wherever the spare joint is shared out between the ends.
    let mut job = bare_room(mm(1515), mm(300), mm(3));
    job.surfaces[0].openings = vec![niche(2 + 303 + 300, -400)];
    let start = propose(&job, &Layout::default()).starts[&id("A")];
    assert_eq!((start + tenths(15)).modulo(mm(303)), mm(2), "the second tile ends at the niche");
}

#[test]
fn lines_that_bring_a_niche_onto_a_joint_are_among_those_tried() {
    let on_joint = |job: &Job| {
        let lines = ranked_course_lines(job, &Layout::default(), &[&job.surfaces[0]]);
        lines
            .into_iter()
            .filter(|line| {
                let wall = &course::lay(job, &at(job, *line)).unwrap().walls[&id("A")];
                wall.courses.iter().any(|course| course.top == mm(-413))
            })
            .count()
    };
    let mut job = high(1000);
    assert_eq!(on_joint(&job), 0);
    job.surfaces[0].openings = vec![niche(700, -413)];
    assert_eq!(on_joint(&job), 1);
}

#[test]
fn what_the_lead_chose_stays() {
    let mut job = job(vec![wall("A", 1800, &[(0, 1203)]), wall("B", 900, &[(0, 1200)])]);
    job.surfaces[0].bands.insert(0, field("low", BandHeight::Courses(1)));
    let mut chosen = Layout { joint: Some(mm(2)), ..Layout::default() };
    chosen.course_line.insert(id("B"), mm(-777));
    chosen.starts.insert(id("A"), mm(123));
    chosen.band_starts.insert((id("A"), 0), mm(45));
    chosen.first_course.insert(id("B"), FirstCourse::Propped);
    let layout = propose(&job, &chosen);
    assert_eq!(layout.joint, Some(mm(2)));
    assert_eq!(layout.course_line[&id("A")], mm(-777));
    assert_eq!((layout.starts[&id("A")], layout.band_starts[&(id("A"), 0)]), (mm(123), mm(45)));
    assert_eq!(layout.first_course[&id("B")], FirstCourse::Propped);
    assert!(layout.starts.contains_key(&id("B")) && layout.first_course.contains_key(&id("A")));
}

#[test]
fn a_wall_that_cannot_be_laid_still_gets_a_complete_layout() {
    let mut job = job(vec![wall("A", 1800, &[(0, 1200)])]);
    job.surfaces[0].base[0].carries = false;
    let layout = propose(&job, &Layout::default());
    assert!(layout.course_line.contains_key(&id("A")) && layout.starts.contains_key(&id("A")));
    assert!(course::lay(&job, &layout).is_err());
}

proptest! {
    #[test]
    fn no_start_on_a_fine_grid_has_a_larger_least_cut(width in 700i64..4000, joint in 0i64..5, rows in 1i64..4) {
        let mut job = bare_room(mm(width), mm(300), mm(joint));
        job.smallest_cut = Some(crate::measure::LeastSize { width: mm(0), height: mm(0) });
        job.surfaces[0].pattern = Pattern::Running { step: Fraction::new(1, rows).unwrap(), mirror: false };
        let layout = propose(&job, &Layout::default());
        let pitch = mm(300 + joint);
        let least = |start: Length| {
            let mut least = mm(300);
            for row in 0..rows {
                let shift = Length::from_units(pitch.units() * row / rows);
                let begins = (start + mm(joint).half() + shift).modulo(pitch);
                let left = begins - mm(joint);
                let right = (mm(width) - begins).modulo(pitch);
                if left > mm(0) { least = least.min(left) }
                if right > mm(0) { least = least.min(right) }
            }
            least
        };
        let proposed = least(layout.starts[&id("A")]);
        for tenth in 0..(300 + joint) * 5 {
            let other = least(tenths(tenth * 2));
            // Shifts are rounded to units.
            prop_assert!(other <= proposed + Length::from_units(2), "{tenth}: {other:?} over {proposed:?}");
        }
    }

    #[test]
    fn no_course_line_on_a_fine_grid_is_better(rise in 300i64..1600, fall in 0i64..40, second in 0i64..200) {
        let mut other = wall("B", 900, &[(0, 1200 + second)]);
        other.top[0].rise = mm(rise + 31);
        let mut first = wall("A", 900, &[(0, 1200 + fall), (900, 1200)]);
        first.top[0].rise = mm(rise);
        let job = job(vec![first, other]);
        let judge = |line: Length| {
            let laid = course::lay(&job, &at(&job, line)).unwrap();
            let ends: Vec<_> = laid.walls.values().flat_map(WallCourses::ends).collect();
            let slivers = ends.iter().filter(|end| end.kept < mm(149)).count();
            usize::from(slivers > 0)
        };
        let layout = propose(&job, &Layout::default());
        let proposed = judge(layout.course_line[&id("A")]);
        for half in 0..602 {
            prop_assert!(proposed <= judge(tenths(half * 5)), "a line without slivers at {half}");
        }
    }

    #[test]
    fn the_same_job_always_gives_the_same_proposal_and_it_lays_the_same_again(
        width in 300i64..4000, rise in 300i64..1600, fall in 0i64..40
    ) {
        let mut wall = wall("A", width, &[(0, 1200 + fall), (width, 1200)]);
        wall.top[0].rise = mm(rise);
        let job = job(vec![wall]);
        let layout = propose(&job, &Layout::default());
        prop_assert_eq!(&propose(&job, &Layout::default()), &layout);
        prop_assert_eq!(&propose(&job, &layout), &layout);
        let again = Layout { first_course: BTreeMap::new(), ..layout.clone() };
        prop_assert_eq!(course::lay(&job, &again), course::lay(&job, &layout));
    }
}
