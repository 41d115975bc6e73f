use proptest::prelude::*;

use super::*;
use crate::offcut::{Demand, Racked, Wanted, solve};

const ROW_END: &[Side] = &[Side::Left, Side::Bottom, Side::Top];
const KERF: Length = Length::mm(2);

fn problem(pieces: &[(i64, i64, &[Side])], quarter_turn: bool) -> Problem {
    with_rack(pieces, quarter_turn, Vec::new())
}

fn with_rack(pieces: &[(i64, i64, &[Side])], quarter_turn: bool, rack: Vec<Racked>) -> Problem {
    let wanted = |(index, (width, height, factory)): (usize, &(i64, i64, &[Side]))| Wanted {
        id: format!("p{index}"),
        width: Length::mm(*width),
        height: Length::mm(*height),
        factory: factory.iter().copied().collect(),
        alone: false,
    };
    let demand = Demand {
        tile_width: Length::mm(600),
        tile_height: Length::mm(300),
        kerf: KERF,
        half_turn: true,
        quarter_turn,
        pieces: pieces.iter().enumerate().map(wanted).collect(),
        rack,
    };
    Problem::new(demand).expect("can be cut")
}

fn two_row_ends() -> (Problem, Plan) {
    let problem = problem(&[(200, 300, ROW_END), (150, 300, ROW_END)], false);
    let plan = solve(&problem);
    assert_eq!(plan.stock.len(), 1);
    (problem, plan)
}

#[test]
fn the_second_row_end_comes_out_of_what_the_first_leaves() {
    let (problem, plan) = two_row_ends();
    let steps = queue(&problem, &plan, &Progress::default());
    let [first, second] = &steps[..] else { panic!("two steps") };
    let label = Label { stock: 0, nth: 0 };
    assert_eq!((first.take, first.after), (Take::WholeTile, None));
    assert_eq!(first.cuts.len(), 1);
    assert_eq!((first.cuts[0].from, first.cuts[0].keep), (Side::Left, Length::mm(200)));
    assert_eq!((first.leaves[0].label, first.leaves[0].holds.as_slice()), (Some(label), [1].as_slice()));
    assert_eq!((second.take, second.after), (Take::Offcut(label), Some(0)));
    assert_eq!(second.on_saw.at.width(), Length::mm(398));
    assert_eq!((second.cuts[0].from, second.cuts[0].keep), (Side::Right, Length::mm(150)));
    assert_eq!(second.leaves[0].label, None);
}

#[test]
fn a_piece_that_was_turned_is_shown_as_it_stands_on_the_wall() {
    let (problem, plan) = two_row_ends();
    let second = queue(&problem, &plan, &Progress::default()).remove(1);
    assert_eq!(second.turn, Turn::Half);
    let upright = second.upright();
    assert_eq!((upright.cuts[0].from, upright.cuts[0].mark()), (Side::Left, Length::mm(150)));
    assert_eq!(upright.kept.at.left, Length::ZERO);
    assert!(upright.on_saw.own.has_all(ROW_END.iter().copied().collect()));
    assert!(!upright.on_saw.own.has(Side::Right));
    assert_eq!(upright.upright(), upright);
}

#[test]
fn the_fence_is_set_for_the_piece_in_hand_not_for_what_is_cut_again_later() {
    let other_end = &[Side::Right, Side::Bottom, Side::Top];
    let problem = problem(&[(346, 300, other_end), (146, 300, ROW_END)], false);
    let plan = solve(&problem);
    assert_eq!(plan.stock.len(), 1);
    let first = queue(&problem, &plan, &Progress::default()).remove(0).upright();
    assert_eq!((first.cuts[0].from, first.cuts[0].keep), (Side::Right, Length::mm(346)));
}

/// An offcut of 400 × 300 mm that keeps the right end of its tile: a row end of 200 mm comes out of its right end,
/// turned by half, and one without factory sides out of what that leaves.
#[test]
fn what_comes_from_the_rack_is_taken_from_there_and_has_the_sides_of_what_lies_there() {
    let kept = [Side::Right, Side::Bottom, Side::Top].into_iter().collect();
    let offcut =
        Racked { id: "r1".to_owned(), width: Length::mm(400), height: Length::mm(300), factory: kept };
    let problem = with_rack(&[(200, 300, ROW_END), (150, 300, &[])], false, vec![offcut]);
    let plan = solve(&problem);
    assert_eq!(plan.tiles(), 0, "both come from the rack");
    let steps = queue(&problem, &plan, &Progress::default());
    let [first, second] = &steps[..] else { panic!("two steps") };
    assert_eq!(first.take, Take::Racked(0));
    assert_eq!(second.take, Take::Offcut(Label { stock: 0, nth: 0 }));
    assert_eq!((first.on_saw.at.width(), first.on_saw.own), (Length::mm(400), kept));
    assert_eq!(first.tile, first.on_saw.at);
    assert!(!second.kept.own.has(Side::Left), "the offcut's left side was sawn");
    let upright = first.upright();
    assert_eq!(upright.on_saw.at.width(), Length::mm(400));
    assert!(upright.kept.own.has_all(ROW_END.iter().copied().collect()));
    assert!(!upright.on_saw.own.has(Side::Right), "the sawn side stands right on the wall");
}

#[test]
fn a_piece_cut_from_another_tile_takes_nothing_from_this_one() {
    let (problem, plan) = two_row_ends();
    let elsewhere = Progress { elsewhere: BTreeSet::from([0]), ..Progress::default() };
    let steps = queue(&problem, &plan, &elsewhere);
    let [second] = &steps[..] else { panic!("one step") };
    assert_eq!((second.piece, second.take, second.after), (1, Take::WholeTile, None));
    let here = Progress { here: BTreeSet::from([0]), ..Progress::default() };
    assert_eq!(queue(&problem, &plan, &here)[1].after, None);
}

/// A saw that knows nothing of the plan: it takes what a step names, cuts as it is told, with its own
/// arithmetic, and throws away what has no label.
#[derive(Default)]
struct Yard {
    rack: Vec<(Label, Rect)>,
    tiles: usize,
}

impl Yard {
    /// The rectangle that is left in hand, or what cannot be done.
    fn follow(&mut self, step: &Step) -> Result<Rect, String> {
        let mut lying = vec![match step.take {
            Take::WholeTile => {
                self.tiles += 1;
                step.tile
            }
            Take::Racked(_) => step.tile,
            Take::Offcut(label) => {
                let found = self.rack.iter().position(|(racked, _)| *racked == label);
                self.rack.swap_remove(found.ok_or("not on the rack")?).1
            }
        }];
        for cut in &step.cuts {
            let at = lying.iter().position(|part| *part == cut.part.at).ok_or("not on the saw")?;
            let part = lying.swap_remove(at);
            let (x0, y0, x1, y1) = (part.left, part.bottom, part.right, part.top);
            let (k, w) = (cut.keep, KERF);
            let (kept, off) = match cut.from {
                Side::Left => ([x0, y0, x0 + k, y1], [x0 + k + w, y0, x1, y1]),
                Side::Right => ([x1 - k, y0, x1, y1], [x0, y0, x1 - k - w, y1]),
                Side::Bottom => ([x0, y0, x1, y0 + k], [x0, y0 + k + w, x1, y1]),
                Side::Top => ([x0, y1 - k, x1, y1], [x0, y0, x1, y1 - k - w]),
            };
            let parts = [kept, off].map(|[left, bottom, right, top]| Rect { left, bottom, right, top });
            lying.extend(parts.into_iter().filter(|part| !part.is_empty()));
        }
        let at = lying.iter().position(|part| *part == step.kept.at).ok_or("the piece is not free")?;
        let piece = lying.swap_remove(at);
        for left in &step.leaves {
            let at = lying.iter().position(|part| *part == left.part.at).ok_or("no such leftover")?;
            let part = lying.swap_remove(at);
            if let Some(label) = left.label {
                if self.rack.iter().any(|(racked, _)| *racked == label) {
                    return Err("two offcuts of one label".to_owned());
                }
                self.rack.push((label, part));
            }
        }
        if lying.is_empty() { Ok(piece) } else { Err("something is left over unnamed".to_owned()) }
    }
}

fn sides() -> impl Strategy<Value = Vec<Side>> {
    let sides = [
        vec![],
        vec![Side::Left],
        vec![Side::Right, Side::Bottom],
        vec![Side::Top],
        vec![Side::Left, Side::Top],
    ];
    prop::sample::select(sides.to_vec())
}

proptest! {
    #![proptest_config(crate::cases(200))]

    #[test]
    fn followed_in_order_every_piece_comes_out_of_something_that_is_there(
        wanted in prop::collection::vec((20_i64..600, 20_i64..300, sides()), 1..14),
        quarter_turn: bool,
    ) {
        let pieces: Vec<(i64, i64, &[Side])> =
            wanted.iter().map(|(width, height, sides)| (*width, *height, sides.as_slice())).collect();
        let problem = problem(&pieces, quarter_turn);
        let plan = solve(&problem);
        let mut yard = Yard::default();
        let mut cut = BTreeSet::new();
        for step in queue(&problem, &plan, &Progress::default()) {
            prop_assert!(step.after.is_none_or(|before| cut.contains(&before)));
            prop_assert!(cut.insert(step.piece), "cut twice");
            let piece = yard.follow(&step).map_err(TestCaseError::fail)?;
            for cut in &step.cuts {
                let (mark, across) = (cut.mark(), cut.from.opposite());
                let over_the_kerf = match cut.from {
                    Side::Left | Side::Bottom => step.kept.at.at(cut.from) == mark + KERF,
                    Side::Right | Side::Top => step.kept.at.at(cut.from) == mark - KERF,
                };
                prop_assert!(!over_the_kerf, "the piece in hand is measured over the kerf, from {across:?}");
            }
            let (width, height, needs) = &wanted[step.piece];
            let upright = step.upright().kept;
            prop_assert_eq!((upright.at.width(), upright.at.height()), (Length::mm(*width), Length::mm(*height)));
            prop_assert!(upright.own.has_all(needs.iter().copied().collect()));
            prop_assert_eq!(piece, step.kept.at);
        }
        prop_assert_eq!(cut.len(), wanted.len());
        prop_assert_eq!(yard.tiles, plan.stock.len());
        prop_assert!(yard.rack.is_empty(), "{:?} was racked for nothing", yard.rack);
    }

    #[test]
    fn it_goes_on_from_wherever_the_crew_stopped(
        wanted in prop::collection::vec((20_i64..600, 20_i64..300, sides()), 1..14),
        stopped in 0_usize..14,
    ) {
        let pieces: Vec<(i64, i64, &[Side])> =
            wanted.iter().map(|(width, height, sides)| (*width, *height, sides.as_slice())).collect();
        let problem = problem(&pieces, false);
        let plan = solve(&problem);
        let here: BTreeSet<usize> = (0..stopped.min(wanted.len())).collect();
        let began = queue(&problem, &plan, &Progress::default());
        let went_on = queue(&problem, &plan, &Progress { here: here.clone(), ..Progress::default() });
        for (before, after) in began.iter().zip(&went_on) {
            let after_what = before.after.filter(|piece| !here.contains(piece));
            prop_assert_eq!(&Step { after: after_what, ..before.clone() }, after);
        }
    }
}
