//! Niches and valves as a tiler would have them framed.

use proptest::prelude::*;

use super::*;
use crate::course::sample::{begun, job, mm, tenths, tile, wall};
use crate::measure::{FirstCourse, Fraction, Gaps, Layout, Pattern, Role, TileId};
use crate::place::PieceId;
use crate::search::work_out;

/// A wall of 597 x 297 tile with 3 mm joints, so 600 x 300, from x = 0 and the level line on, 2.4 m wide.
fn shower() -> Job {
    let mut job = job(vec![wall("A", 2400, &[(0, 1200)])]);
    job.tiles.insert(TileId("wall".to_owned()), tile(mm(597), mm(297)));
    job.gaps = Gaps::default();
    job
}

/// Joints centred at x = 1.5 mm and y = 1.5 mm, so that tile begins at 3 mm and the multiples of its module from there.
fn laid(job: &Job) -> LayoutOption {
    laid_from(job, tenths(15))
}

fn laid_from(job: &Job, start: Length) -> LayoutOption {
    let starts = job.surfaces.iter().map(|surface| (surface.id.clone(), start)).collect();
    let layout = Layout { starts, ..begun(job, tenths(15), FirstCourse::Scribed) };
    work_out(job, layout).expect("the shower can be laid")
}

fn niche(width: Length, height: Length, within: Rect) -> Wish {
    let kind = WishKind::Niche { width, height, lining: mm(20) };
    Wish { kind, clearance: mm(0), edge: OpeningEdge::Trim, within }
}

fn rect(left: i64, bottom: i64, right: i64, top: i64) -> Rect {
    Rect { left: mm(left), bottom: mm(bottom), right: mm(right), top: mm(top) }
}

fn places(job: &Job, wish: &Wish) -> Result<RoughIn, NoPlace> {
    rough_in(job, &laid(job), &job.surfaces[0], wish)
}

fn best(job: &Job, wish: &Wish) -> Framing {
    places(job, wish).expect("it has room").places.remove(0)
}

fn offs(framing: &Framing) -> Vec<Option<Off>> {
    match &framing.fit {
        Fit::Niche(edges) => edges.iter().map(|edge| edge.off).collect(),
        Fit::Valve { .. } => panic!("no niche"),
    }
}

#[test]
fn a_niche_as_large_as_a_tile_lands_on_four_joints_and_cuts_nothing() {
    let framing = best(&shower(), &niche(mm(600), mm(300), rect(400, -500, 1500, 500)));
    assert_eq!(offs(&framing), [None; 4]);
    assert_eq!((framing.cut, framing.slivers.len()), (0, 0));
    // 1.5 mm of joint stays on every side: x = 601.5 or 1201.5 less a module, y on the courses.
    let OpeningShape::Rectangle { x, y, .. } = framing.shape else { panic!("a niche") };
    assert_eq!((x - tenths(15)).modulo(mm(600)), mm(0));
    assert_eq!((y - tenths(15)).modulo(mm(300)), mm(0));
    // The hole in the framing is larger by the lining all round.
    let framed = framing.framed.expect("a niche is framed");
    assert_eq!((framed.width(), framed.height()), (mm(640), mm(340)));
    assert_eq!(framed.left, x - mm(20));
}

#[test]
fn a_niche_half_a_tile_wide_lands_on_three_joints_and_says_what_the_fourth_leaves() {
    let framing = best(&shower(), &niche(mm(300), mm(600), rect(400, -700, 1500, 700)));
    let [left, right, bottom, top] = offs(&framing).try_into().expect("four edges");
    assert_eq!((bottom, top), (None, None));
    let off = [left, right].into_iter().flatten().collect::<Vec<_>>();
    assert_eq!(off.len(), 1, "one side on a joint: {framing:?}");
    // Of the 597 mm tile less the niche's 300 stays 297 to 300, as it stands in the joint.
    assert!(mm(297) <= off[0].leaves && off[0].leaves <= mm(300), "{off:?}");
    assert!(off[0].by <= mm(300));
    assert_eq!(framing.slivers, []);
}

#[test]
fn where_neither_side_can_be_on_a_joint_without_a_sliver_the_legs_are_equal() {
    // With an edge on a joint a 560 mm niche leaves 37 to 40 mm of tile, which breaks.
    let framing = best(&shower(), &niche(mm(560), mm(300), rect(400, -500, 2000, 500)));
    let [left, right, bottom, top] = offs(&framing).try_into().expect("four edges");
    let (left, right) = (left.expect("off"), right.expect("off"));
    assert_eq!(left.leaves, right.leaves);
    assert!(left.leaves >= mm(50));
    assert_eq!((bottom, top), (None, None));
}

#[test]
fn where_the_range_has_no_joint_the_miss_is_told() {
    // The framed hole has one place only: x 700 to 1040, y 50 to 250.
    let framing = best(&shower(), &niche(mm(300), mm(160), rect(700, 50, 1040, 250)));
    assert_eq!(framing.framed, Some(rect(700, 50, 1040, 250)));
    let [left, right, bottom, top] = offs(&framing).try_into().expect("four edges");
    // Tile lies from 603 to 1200 and from 3 to 300; the mouth from 720 to 1020 and from 70 to 230.
    assert_eq!(left, Some(Off { by: mm(117), leaves: mm(117) }));
    assert_eq!(right, Some(Off { by: mm(180), leaves: mm(180) }));
    assert_eq!(bottom, Some(Off { by: mm(67), leaves: mm(67) }));
    assert_eq!(top, Some(Off { by: mm(70), leaves: mm(70) }));
    assert_eq!(framing.cut, 1);
}

#[test]
fn in_a_half_bond_a_side_on_a_joint_in_every_second_course_is_off() {
    let mut job = shower();
    job.surfaces[0].pattern = Pattern::Running { step: Fraction::new(1, 2).unwrap(), mirror: false };
    let framing = best(&job, &niche(mm(600), mm(600), rect(400, -700, 1500, 700)));
    let [left, right, bottom, top] = offs(&framing).try_into().expect("four edges");
    assert_eq!((bottom, top), (None, None));
    // In the other course half a tile stays on both sides.
    for side in [left, right] {
        let leaves = side.expect("off in one course of two").leaves;
        assert!((leaves - mm(299)).abs() <= mm(2), "{leaves:?}");
    }
    let one_course = best(&job, &niche(mm(600), mm(300), rect(400, -700, 1500, 700)));
    assert_eq!(offs(&one_course), [None; 4]);
}

#[test]
fn a_niche_that_misses_by_a_little_is_told_the_size_that_would_not() {
    let found = places(&shower(), &niche(mm(600), mm(610), rect(400, -700, 1500, 700))).expect("room");
    // Two courses and the joints round them take 597 to 603 mm.
    assert_eq!(found.fitting, Fitting { width: None, height: Some(mm(603)) });
    let missed: Vec<Length> = offs(&found.places[0]).into_iter().flatten().map(|off| off.by).collect();
    assert_eq!(missed, [mm(7)], "no more than it must");
    let low = places(&shower(), &niche(mm(500), mm(300), rect(400, -700, 1500, 700))).expect("room");
    assert_eq!(low.fitting, Fitting { width: Some(mm(597)), height: None });
    // Joints of a half bond are not above each other: beside two courses no width has both edges on them.
    let mut job = shower();
    job.surfaces[0].pattern = Pattern::Running { step: Fraction::new(1, 2).unwrap(), mirror: false };
    let found = places(&job, &niche(mm(500), mm(600), rect(400, -700, 1500, 700))).expect("room");
    assert_eq!(found.fitting, Fitting::default());
}

#[test]
fn a_range_too_small_says_by_how_much() {
    let wish = niche(mm(300), mm(600), rect(400, 0, 700, 700));
    assert_eq!(places(&shower(), &wish), Err(NoPlace::RangeTooSmall { across: mm(40), up: mm(-60) }));
}

#[test]
fn a_niche_keeps_clear_of_the_window_beside_it_and_of_the_walls_edge() {
    let mut job = shower();
    job.surfaces[0].openings.push(Opening {
        name: "window".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(1000), y: mm(-200), width: mm(800), height: mm(1000) },
        clearance: mm(5),
        edge: OpeningEdge::Trim,
    });
    let wish = niche(mm(600), mm(300), rect(300, -150, 2400, 450));
    let wanted = |framing: &Framing| grown(&framing.shape, mm(0)).grown(job.thinnest_web);
    let found = places(&job, &wish).expect("left of the window");
    assert!(found.places.iter().all(|framing| wanted(framing).right <= mm(995)), "{found:?}");
    let only_there = niche(mm(600), mm(300), rect(900, 0, 1900, 700));
    assert_eq!(places(&job, &only_there), Err(NoPlace::NoneFree));
    let past_the_end = niche(mm(600), mm(300), rect(2000, 0, 3000, 700));
    assert_eq!(places(&job, &past_the_end), Err(NoPlace::NoneFree));
}

#[test]
fn other_places_are_places_of_their_own() {
    let found = places(&shower(), &niche(mm(300), mm(300), rect(100, -600, 2300, 600))).expect("room");
    assert_eq!(found.places.len(), 3);
    let corners: Vec<Point> = found.places.iter().map(|framing| corner(&framing.shape)).collect();
    for (at, one) in corners.iter().enumerate() {
        for other in &corners[at + 1..] {
            assert!((one.x - other.x).abs().max((one.y - other.y).abs()) >= mm(50), "{corners:?}");
        }
    }
}

fn valve(within: Rect) -> Wish {
    let kind = WishKind::Valve { diameter: mm(120) };
    Wish { kind, clearance: mm(0), edge: OpeningEdge::Plate, within }
}

fn seat(framing: &Framing) -> (Seat, Option<Length>) {
    match framing.fit {
        Fit::Valve { seat, web } => (seat, web),
        Fit::Niche(_) => panic!("no valve"),
    }
}

#[test]
fn a_valve_goes_to_the_middle_of_a_tile_where_its_range_has_one() {
    let framing = best(&shower(), &valve(rect(800, -100, 1100, 200)));
    assert_eq!(framing.shape, OpeningShape::Circle { x: tenths(9015), y: tenths(1515), diameter: mm(120) });
    assert_eq!(seat(&framing), (Seat::MiddleOfTile, Some(tenths(885))));
    assert_eq!((framing.cut, framing.slivers.len()), (1, 0));
}

#[test]
fn a_valve_near_a_joint_goes_onto_the_crossing_or_off_the_joint() {
    let crossing = best(&shower(), &valve(rect(580, -20, 620, 20)));
    assert_eq!(seat(&crossing).0, Seat::Crossing);
    assert_eq!(crossing.shape, OpeningShape::Circle { x: tenths(6015), y: tenths(15), diameter: mm(120) });
    assert_eq!(crossing.cut, 4);
    // A plumb line to keep to: the height goes to the middle of the course, and the web is told.
    let on_a_line = best(&shower(), &valve(rect(700, 60, 700, 240)));
    assert_eq!(on_a_line.shape, OpeningShape::Circle { x: mm(700), y: tenths(1515), diameter: mm(120) });
    assert_eq!(seat(&on_a_line), (Seat::WithinTile, Some(mm(37))));
    // No room but across an edge.
    let across = best(&shower(), &valve(rect(620, 100, 625, 105)));
    assert_eq!(seat(&across).0, Seat::AcrossEdge);
}

#[test]
fn a_valve_that_sits_too_deep_comes_forward_by_what_is_missing() {
    let inches = |sixteenths: i64| Length::sixty_fourths(sixteenths * 4);
    let depth =
        |to_bare_wall: Length| Depth { to_bare_wall, build_up: inches(8), window: (inches(34), inches(48)) };
    assert_eq!(depth(inches(30)).finished(), inches(38));
    assert_eq!(depth(inches(30)).verdict(), DepthVerdict::Fits { to_least: inches(4), to_most: inches(10) });
    assert_eq!(depth(inches(20)).verdict(), DepthVerdict::MoveBack { least: inches(6), most: inches(20) });
    assert_eq!(depth(inches(44)).verdict(), DepthVerdict::MoveForward { least: inches(4), most: inches(18) });
}

#[test]
fn heights_are_told_from_a_base_that_falls() {
    let base = [(0, 1200), (1000, 1210), (1000, 1100)];
    let base = base.map(|(x, drop)| BaseReading { x: mm(x), drop: mm(drop), carries: true });
    assert_eq!(above_base(&base, mm(500), mm(0)), mm(1205));
    assert_eq!(above_base(&base, mm(1000), mm(10)), mm(1110));
    assert_eq!(above_base(&base, mm(2000), mm(-100)), mm(1000));
}

prop_compose! {
    fn wishes()(
        step in prop::sample::select(vec![(0_i64, 1_i64), (1, 2), (1, 3)]),
        start in 0..600_i64,
        width in 100..900_i64, height in 100..700_i64, lining in 0..40_i64, clearance in 0..6_i64,
        left in 0..1500_i64, bottom in -1100..500_i64, across in 0..900_i64, up in 0..700_i64,
        bare in any::<bool>(),
    ) -> (Job, Wish, i64) {
        let mut job = shower();
        job.surfaces[0].pattern =
            Pattern::Running { step: Fraction::new(step.0, step.1).unwrap(), mirror: false };
        job.surfaces[0].edges.left = if bare { Role::Trim } else { Role::Corner };
        let within = rect(
            left, bottom, left + width + 2 * lining + across, bottom + height + 2 * lining + up,
        );
        let kind = WishKind::Niche { width: mm(width), height: mm(height), lining: mm(lining) };
        (job, Wish { kind, clearance: mm(clearance), edge: OpeningEdge::Trim, within }, start)
    }
}

fn cut_at_all(job: &Job, option: &LayoutOption, opening: Option<Opening>) -> BTreeMap<PieceId, bool> {
    let mut surface = job.surfaces[0].clone();
    surface.openings.extend(opening);
    let wall = &option.courses.walls[&surface.id];
    let placed = place::pieces(job, &surface, &wall.courses, &option.layout, wall);
    let faults = place::check(job, &surface, &wall.courses, &option.layout, wall, &placed.pieces);
    assert_eq!(faults, []);
    placed.pieces.into_iter().map(|piece| (piece.id, piece.full)).collect()
}

proptest! {
    #![proptest_config(crate::cases(4))]

    /// Whatever is wished, the framed hole stays in its range, no place tried at chance is better by what is told of
    /// it, and a niche on four joints cuts no tile more than the wall without it.
    #[test]
    fn places_keep_their_range_and_joints_cut_nothing((job, wish, start) in wishes(), chance in 0..1000_i64) {
        let option = laid_from(&job, mm(start));
        let found = match rough_in(&job, &option, &job.surfaces[0], &wish) {
            Ok(found) => found,
            Err(NoPlace::NoneFree) => return Ok(()),
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        };
        let without = cut_at_all(&job, &option, None);
        for framing in &found.places {
            let framed = framing.framed.expect("a niche");
            prop_assert!(wish.within.holds(&framed));
            let with = cut_at_all(&job, &option, Some(wish.opening("niche".to_owned(), framing.shape)));
            if offs(framing).iter().all(Option::is_none) {
                let cut = |pieces: &BTreeMap<PieceId, bool>| pieces.values().filter(|full| !**full).count();
                prop_assert!(cut(&with) <= cut(&without));
            }
        }
        // The same wish with its range shrunk to one place within it is never better.
        let best = quality(&job, &found.places[0]);
        let WishKind::Niche { width, height, lining } = wish.kind else { panic!("a niche") };
        let (across, up) = (width + lining * 2, height + lining * 2);
        let along = |room: Length| Length::from_units(room.units() / 1000 * chance);
        let left = wish.within.left + along(wish.within.width() - across);
        let bottom = wish.within.bottom + along(wish.within.height() - up);
        let only = Rect { left, bottom, right: left + across, top: bottom + up };
        if let Ok(there) = rough_in(&job, &option, &job.surfaces[0], &Wish { within: only, ..wish.clone() }) {
            prop_assert!(best <= quality(&job, &there.places[0]), "{:?} {:?}", found.places[0], there.places[0]);
        }
    }
}

/// Thin parts, then edges off joints.
fn quality(job: &Job, framing: &Framing) -> (usize, usize) {
    let offs: Vec<Off> = offs(framing).into_iter().flatten().collect();
    (offs.iter().filter(|off| off.leaves < job.thinnest_leg).count(), offs.len())
}
