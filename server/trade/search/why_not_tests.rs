//! What a lead asks for, and what cannot be had.

use super::*;
use crate::course::sample::{id, job, mm, wall};
use crate::measure::OpeningEdge;

#[expect(clippy::result_large_err, reason = "tests read better without the box")]
fn ask(job: &Job, asked: &[Asked]) -> Result<LayoutOption, WhyNot> {
    why_not(job, asked, &Priorities::default(), &mut || ControlFlow::Continue(())).map_err(|why| *why)
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
    Asked::JointAt { surface: id("A"), opening: "niche".to_owned(), edge: Side::Bottom }
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
        "whole tiles at the top of A and a joint at the sill of \"niche\" on A need a joint of 5.5 mm; your range is \
         2.0 mm to 4.0 mm"
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
        let asked = [Asked::JointAt { surface: id("A"), opening: "niche".to_owned(), edge }];
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
    let shelf = Asked::JointAt { surface: id("A"), opening: "shelf".to_owned(), edge: Side::Top };
    assert_eq!(ask(&room, std::slice::from_ref(&shelf)), Err(WhyNot::Unknown(shelf)));
}
