//! What a lead asks for, and what cannot be had.

use super::*;
use crate::course::sample::{id, job, mm, wall};
use crate::measure::OpeningEdge;

fn answer(bounds: Bounds, job: &Job, asked: &[Asked]) -> Answer {
    within(bounds, job, asked, &Priorities::default(), &mut || ControlFlow::Continue(()))
}

fn ask(job: &Job, asked: &[Asked]) -> Result<LayoutOption, WhyNot> {
    answer(Bounds::USUAL, job, asked).found.map_err(|why| *why)
}

/// 1197 mm below the line to `rise` above it, less a gap of 3 mm, with a niche whose sill is at `sill`.
fn niched(rise: i64, sill: i64) -> Job {
    let mut room = wall("A", 1800, &[(0, 1200)]);
    room.top[0].rise = mm(rise);
    room.openings.push(Opening {
        name: "niche".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(600), y: mm(sill) + mm(3), width: mm(400), height: mm(300) },
        clearance: mm(3),
        edge: OpeningEdge::Trim,
    });
    job(vec![room])
}

fn sill() -> Asked {
    Asked::JointAt { surface: id("A"), opening: 0, edge: Side::Bottom }
}

#[test]
fn whole_tiles_under_the_ceiling_and_a_joint_at_the_sill_are_had_where_both_fit() {
    // 4 courses of 298 mm with 4 joints of 3 mm below the top, tile ends and the niche begins.
    let room = niched(1000, 997 - 4 * 301);
    let option = ask(&room, &[Asked::WholeAtTop(id("A")), sill()]).expect("both fit");
    assert!(option.courses.walls[&id("A")].courses.iter().any(|course| course.top == mm(997)));
    assert!(option.courses.walls[&id("A")].courses.iter().any(|course| course.top == mm(997 - 4 * 301)));
}

#[test]
fn where_they_fit_only_with_another_joint_the_sentence_names_it() {
    // With 5.5 mm instead of 3 mm the same four joints reach 10 mm further.
    let mut room = niched(1000, 997 - 4 * 301 - 10);
    room.joint_range = (mm(2), mm(4));
    let asked = [Asked::WholeAtTop(id("A")), sill()];
    let why = ask(&room, &asked).expect_err("they do not fit");
    assert!(matches!(why, WhyNot::Joint { needed, .. } if needed == mm(5) + mm(1).half()), "{why:?}");
    assert_eq!(
        why.to_string(),
        "no layout was found that has whole tiles at the top of A and a joint at the sill of opening 1 on A with a joint \
         of 2.0 mm to 4.0 mm, your range; they meet with one of 5.5 mm"
    );
    room.joint_range = (mm(2), mm(6));
    let option = ask(&room, &asked).expect("within the range");
    assert_eq!(option.layout.joint, Some(mm(5) + mm(1).half()));
}

#[test]
fn no_wall_is_propped_over_a_base_that_falls_too_far() {
    let mut room = niched(1000, 0);
    assert!(ask(&room, &[Asked::NoScribe]).is_ok());
    room.surfaces[0].base = wall("A", 1800, &[(0, 1212), (1800, 1200)]).base;
    let why = ask(&room, &[Asked::NoScribe]).expect_err("it falls too far");
    assert_eq!(
        why.to_string(),
        "every wall propped cannot be had: the base falls by 12.0 mm, and a gap that grows by more than 3.0 mm is not hidden"
    );
}

#[test]
fn a_side_of_the_niche_is_brought_onto_a_joint() {
    let room = niched(1000, 0);
    for (edge, x) in [(Side::Left, mm(597)), (Side::Right, mm(1003))] {
        let asked = [Asked::JointAt { surface: id("A"), opening: 0, edge }];
        let option = ask(&room, &asked).expect("one side can be had");
        let meets = |piece: &Piece| piece.cell.right == x || piece.cell.left == x;
        assert!(option.pieces.iter().any(meets), "{edge:?}");
    }
}

#[test]
fn the_widest_narrowest_cut_there_is_is_told_and_holds() {
    let room = niched(1000, 0);
    let why = ask(&room, &[Asked::NoCutUnder(mm(400))]).expect_err("too much");
    let WhyNot::Narrowest { possible, alone: true, .. } = why else { panic!("{why:?}") };
    assert!(possible > mm(50) && possible < mm(400));
    let option = ask(&room, &[Asked::NoCutUnder(possible)]).expect("that much can be had");
    assert!(option.figures.narrowest_cut >= Some(possible));
}

#[test]
fn a_top_out_of_level_has_no_whole_tiles_and_an_unknown_niche_is_told() {
    let mut room = niched(1000, 0);
    room.surfaces[0].top.push(crate::measure::TopReading { x: mm(1800), rise: mm(1020) });
    let why = ask(&room, &[Asked::WholeAtTop(id("A"))]).expect_err("out of level");
    assert_eq!(why, WhyNot::OutOfLevel { asked: Asked::WholeAtTop(id("A")), by: mm(20) });
    let shelf = Asked::JointAt { surface: id("A"), opening: 1, edge: Side::Top };
    assert_eq!(ask(&room, std::slice::from_ref(&shelf)), Err(WhyNot::Unknown(shelf)));
}

/// A second niche of the same name, whose sill lies `higher` than the first one's.
fn twice_niched(higher: i64) -> Job {
    let mut room = niched(1000, 997 - 4 * 301);
    let mut second = room.surfaces[0].openings[0].clone();
    second.shape = OpeningShape::Rectangle {
        x: mm(1200),
        y: mm(997 - 4 * 301 + higher) + mm(3),
        width: mm(300),
        height: mm(300),
    };
    room.surfaces[0].openings.push(second);
    room
}

#[test]
fn two_niches_of_one_name_are_two_niches() {
    // Half a course higher no course ends at both sills.
    let room = twice_niched(150);
    let of = |opening| Asked::JointAt { surface: id("A"), opening, edge: Side::Bottom };
    for (opening, sill) in [(0, mm(997 - 4 * 301)), (1, mm(997 - 4 * 301 + 150))] {
        let option = ask(&room, &[of(opening)]).expect("each by itself");
        assert!(option.courses.walls[&id("A")].courses.iter().any(|course| course.top == sill), "{opening}");
    }
    let why = ask(&room, &[of(0), of(1)]).expect_err("not both");
    let told = why.to_string();
    assert!(told.contains("opening 1 on A") && told.contains("opening 2 on A"), "{told}");
    let right = |opening| Asked::JointAt { surface: id("A"), opening, edge: Side::Right };
    let option = ask(&room, &[right(1)]).expect("a start brings it there");
    assert!(option.pieces.iter().any(|piece| piece.cell.left == mm(1503)));
}

#[test]
fn what_is_asked_twice_is_told_once() {
    let room = niched(1000, 0);
    let (whole, left) =
        (Asked::WholeAtTop(id("A")), Asked::JointAt { surface: id("A"), opening: 0, edge: Side::Left });
    let nothing = Bounds { courses: 0, pieces: 0 };
    let asked = [whole.clone(), left.clone(), whole.clone(), left.clone()];
    let Answer { found, cut_short } = answer(nothing, &room, &asked);
    assert_eq!(found.map_err(|why| *why), Err(WhyNot::Together(vec![whole, left])));
    assert!(cut_short);
    let twice = [Asked::NoCutUnder(mm(400)), Asked::NoCutUnder(mm(400))];
    assert!(matches!(ask(&room, &twice), Err(WhyNot::Narrowest { alone: true, .. })));
}

#[test]
fn a_search_that_reached_its_bounds_says_so_and_gives_no_reason_it_did_not_find() {
    let mut room = niched(1000, 0);
    assert!(!answer(Bounds::USUAL, &room, &[sill()]).cut_short, "a small wall is looked at whole");
    let few = answer(Bounds { pieces: 1, ..Bounds::USUAL }, &room, &[sill()]);
    assert!(few.cut_short && few.found.is_ok(), "what was found by then counts");
    // It falls too far to be propped, but whether that was the reason was not looked at.
    room.surfaces[0].base = wall("A", 1800, &[(0, 1212), (1800, 1200)]).base;
    let none = answer(Bounds { courses: 1, ..Bounds::USUAL }, &room, &[Asked::NoScribe]);
    assert!(none.cut_short);
    assert_eq!(none.found.map_err(|why| *why), Err(WhyNot::Together(vec![Asked::NoScribe])));
}

#[test]
fn the_ways_to_start_many_walls_are_bounded() {
    // Three starts a wall, a third of a pitch apart, on eight walls: 6561 ways together.
    let third = niched(1000, 0).surfaces[0].clone();
    let mut walls = Vec::new();
    for name in ["A", "B", "C", "D", "E", "F", "G", "H"] {
        let mut wall = third.clone();
        wall.id = id(name);
        wall.pattern = crate::measure::Pattern::Running {
            step: crate::measure::Fraction::new(1, 3).expect("a third"),
            mirror: false,
        };
        walls.push(wall);
    }
    let room = job(walls);
    let asked: Vec<Asked> = room
        .surfaces
        .iter()
        .map(|wall| Asked::JointAt { surface: wall.id.clone(), opening: 0, edge: Side::Left })
        .collect();
    let mut go_on = || ControlFlow::Continue(());
    let mut looking = Looking { watch: Watch::new(&mut go_on), left: Bounds::USUAL, cut_short: false };
    let wishes = Wishes { job: &room, asked: &asked };
    let frame = wishes.frames_with(mm(3), 1, &mut looking).remove(0);
    let started = wishes.with_starts(&frame, &mut looking);
    assert_eq!(started.len(), MOST_STARTED);
    assert!(looking.cut_short, "and that is told");
}

#[test]
fn a_ceiling_that_slopes_by_a_whole_course_has_no_whole_tiles_along_it() {
    let mut room = niched(1000, 0);
    room.surfaces[0].top.push(crate::measure::TopReading { x: mm(1800), rise: mm(1301) });
    let why = ask(&room, &[Asked::WholeAtTop(id("A"))]).expect_err("tiles in between are cut");
    assert_eq!(why, WhyNot::OutOfLevel { asked: Asked::WholeAtTop(id("A")), by: mm(301) });
}

#[test]
fn a_joint_counts_only_beside_the_opening_itself() {
    // With steps of a third, courses above and below it have a joint where none beside it has.
    let mut room = niched(1000, 0);
    room.surfaces[0].pattern = crate::measure::Pattern::Running {
        step: crate::measure::Fraction::new(1, 3).expect("a third"),
        mirror: false,
    };
    let asked = [Asked::JointAt { surface: id("A"), opening: 0, edge: Side::Left }];
    let option = ask(&room, &asked).expect("a start brings it there");
    let beside = |piece: &Piece| piece.bounds.bottom < mm(306) && mm(0) < piece.bounds.top;
    assert!(option.pieces.iter().any(|piece| beside(piece) && piece.cell.right == mm(597)));
    let wishes = Wishes { job: &room, asked: &asked };
    let above: Vec<Piece> = option.pieces.iter().filter(|piece| !beside(piece)).cloned().collect();
    assert!(!wishes.sides_hold(&above));
}
