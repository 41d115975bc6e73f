//! Stories of the saw, and plans held against trying everything.

use proptest::prelude::*;

use super::board::Board;
use super::fronts::Fronts;
use super::*;
use crate::geometry::Side;

const ROW_END: &[Side] = &[Side::Left, Side::Bottom, Side::Top];
const OTHER_ROW_END: &[Side] = &[Side::Right, Side::Bottom, Side::Top];
const RIP: &[Side] = &[Side::Left, Side::Right, Side::Bottom];
const FREE: &[Side] = &[];
const CORNER: &[Side] = &[Side::Left, Side::Bottom];

/// Tiles of 600 by 300 mm on a saw with a blade of 2 mm, pieces of a width, height and factory sides.
fn demand(pieces: &[(i64, i64, &[Side])]) -> Demand {
    let wanted = |(index, (width, height, factory)): (usize, &(i64, i64, &[Side]))| Wanted {
        id: format!("p{index}"),
        width: Length::mm(*width),
        height: Length::mm(*height),
        factory: factory.iter().copied().collect(),
        alone: false,
    };
    Demand {
        tile_width: Length::mm(600),
        tile_height: Length::mm(300),
        kerf: Length::mm(2),
        half_turn: true,
        quarter_turn: false,
        pieces: pieces.iter().enumerate().map(wanted).collect(),
        rack: Vec::new(),
    }
}

/// The plan, after check has gone over it.
fn planned(demand: Demand) -> Plan {
    let problem = Problem::new(demand).expect("can be cut");
    let plan = solve(&problem);
    assert_eq!(check(&problem, &plan), []);
    plan
}

fn tiles_and_bound(demand: Demand) -> (usize, usize) {
    let plan = planned(demand);
    (plan.stock.len(), plan.bound)
}

#[test]
fn four_row_ends_of_a_third_take_two_tiles_and_no_plan_can_use_fewer() {
    let plan = planned(demand(&[(200, 300, ROW_END); 4]));
    assert_eq!((plan.stock.len(), plan.bound, plan.in_setting_order), (2, 2, 2));
    let first = &plan.stock[0];
    assert_eq!(first.cuts.len(), 2);
    assert_eq!(first.places[0].turn, Turn::None);
    assert_eq!(first.places[0].at.right, Length::mm(200));
    assert_eq!(first.places[1].turn, Turn::Half);
    assert_eq!(first.places[1].at.left, Length::mm(400));
}

#[test]
fn a_cut_is_marked_on_the_edge_of_what_is_kept() {
    let kerf = Length::mm(2);
    let plan = planned(demand(&[(200, 300, ROW_END); 2]));
    let [first, second] = &plan.stock[0].cuts[..] else { panic!("two cuts") };
    assert_eq!((first.at, plan.stock[0].mark(first, kerf)), (Length::mm(200), Length::mm(200)));
    assert_eq!(second.part.left, Length::mm(202));
    assert_eq!((second.at, plan.stock[0].mark(second, kerf)), (Length::mm(398), Length::mm(400)));
}

#[test]
fn row_ends_go_two_to_a_tile_however_narrow() {
    assert_eq!(tiles_and_bound(demand(&[(50, 300, ROW_END); 7])), (4, 4));
}

#[test]
fn row_ends_that_fill_the_tile_but_for_the_kerf_still_pair() {
    assert_eq!(tiles_and_bound(demand(&[(299, 300, ROW_END); 2])), (1, 1));
    assert_eq!(tiles_and_bound(demand(&[(300, 300, ROW_END); 2])), (2, 2));
}

#[test]
fn four_corner_pieces_share_one_tile() {
    assert_eq!(tiles_and_bound(demand(&[(250, 100, CORNER); 4])), (2, 2));
    let corners: Vec<(i64, i64, &[Side])> = vec![
        (250, 100, &[Side::Left, Side::Bottom]),
        (250, 100, &[Side::Right, Side::Bottom]),
        (250, 100, &[Side::Left, Side::Top]),
        (250, 100, &[Side::Right, Side::Top]),
    ];
    assert_eq!(tiles_and_bound(demand(&corners)), (1, 1));
}

#[test]
fn a_row_end_and_a_rip_never_share() {
    assert_eq!(tiles_and_bound(demand(&[(100, 300, ROW_END), (600, 100, RIP)])), (2, 2));
}

#[test]
fn of_a_directional_tile_the_largest_left_end_goes_with_the_smallest_right_end() {
    let ends: [(i64, i64, &[Side]); 6] = [
        (400, 300, ROW_END),
        (300, 300, ROW_END),
        (200, 300, ROW_END),
        (398, 300, OTHER_ROW_END),
        (298, 300, OTHER_ROW_END),
        (198, 300, OTHER_ROW_END),
    ];
    let plan = planned(Demand { half_turn: false, ..demand(&ends) });
    assert_eq!((plan.stock.len(), plan.bound), (3, 3));
    for stock in &plan.stock {
        assert_eq!(stock.places.iter().map(|place| place.at.width()).sum::<Length>(), Length::mm(598));
    }
    let left_ends = [(100, 300, ROW_END); 3];
    assert_eq!(tiles_and_bound(Demand { half_turn: false, ..demand(&left_ends) }), (3, 3));
}

#[test]
fn a_piece_that_wants_its_tile_alone_gets_it() {
    let mut two = demand(&[(100, 100, FREE), (100, 100, FREE)]);
    assert_eq!(tiles_and_bound(two.clone()), (1, 1));
    two.pieces[1].alone = true;
    assert_eq!(tiles_and_bound(two), (2, 2));
}

#[test]
fn pieces_without_factory_sides_are_cut_like_stock() {
    assert_eq!(tiles_and_bound(demand(&[(118, 300, FREE); 10])), (2, 2));
    assert_eq!(tiles_and_bound(demand(&[(119, 299, FREE); 10])), (3, 3));
}

#[test]
fn a_quarter_turn_saves_a_tile_where_it_is_allowed() {
    let pieces: [(i64, i64, &[Side]); 4] =
        [(298, 149, FREE), (298, 149, FREE), (149, 298, FREE), (149, 298, FREE)];
    let turned = Demand { quarter_turn: true, kerf: Length::ZERO, ..demand(&pieces) };
    assert_eq!(tiles_and_bound(turned), (1, 1));
    let strip: [(i64, i64, &[Side]); 2] = [(90, 280, FREE), (580, 200, FREE)];
    assert_eq!(tiles_and_bound(demand(&strip)), (2, 2));
    assert_eq!(tiles_and_bound(Demand { quarter_turn: true, ..demand(&strip) }), (1, 1));
}

#[test]
fn a_whole_drilled_tile_needs_no_cut() {
    let plan = planned(demand(&[(600, 300, &Side::ALL)]));
    assert_eq!(plan.stock.len(), 1);
    assert!(plan.stock[0].cuts.is_empty());
}

#[test]
fn nothing_wanted_takes_no_tile() {
    assert_eq!(tiles_and_bound(demand(&[])), (0, 0));
}

#[test]
fn an_offcut_waits_no_longer_than_it_must() {
    let plan = planned(demand(&[(200, 300, ROW_END); 8]));
    for stock in &plan.stock {
        assert_eq!(stock.places[1].piece - stock.places[0].piece, 1);
    }
}

#[test]
fn a_shaving_thinner_than_the_blade_comes_off_whichever_side_is_kept() {
    let right_end = Demand { half_turn: false, ..demand(&[(599, 300, OTHER_ROW_END), (599, 300, ROW_END)]) };
    let plan = planned(right_end);
    assert_eq!(plan.stock[0].places[0].at.right, Length::mm(600));
    assert_eq!(plan.stock[1].places[0].at.left, Length::ZERO);
}

/// A plan for a row end and a free piece that share a tile, and a third piece on its own, then spoilt.
fn faults_of(spoil: impl FnOnce(&mut Plan)) -> Vec<Fault> {
    let pieces: [(i64, i64, &[Side]); 3] = [(300, 300, ROW_END), (100, 100, FREE), (590, 290, CORNER)];
    let problem = Problem::new(demand(&pieces)).expect("can be cut");
    let mut plan = solve(&problem);
    assert_eq!(check(&problem, &plan), []);
    assert_eq!(plan.stock.len(), 2);
    spoil(&mut plan);
    check(&problem, &plan)
}

#[test]
fn check_counts_pieces() {
    let lost = faults_of(|plan| plan.stock[1].places.clear());
    assert!(lost.contains(&Fault::NotOnce { piece: 2, times: 0 }));
    assert!(lost.contains(&Fault::EmptyTile { stock: 1 }));
    let twice = faults_of(|plan| plan.stock.push(plan.stock[1].clone()));
    assert_eq!(twice, [Fault::NotOnce { piece: 2, times: 2 }]);
    let unknown = faults_of(|plan| plan.stock[1].places[0].piece = 7);
    assert!(unknown.contains(&Fault::UnknownPiece { stock: 1, piece: 7 }));
}

#[test]
fn check_measures_pieces() {
    let shifted = faults_of(|plan| plan.stock[0].places[0].at.right += Length::mm(1));
    assert!(shifted.contains(&Fault::WrongSize { stock: 0, piece: 0 }));
    assert!(shifted.contains(&Fault::NotFreed { stock: 0, piece: 0 }));
    let outside = faults_of(|plan| plan.stock[1].places[0].at.left = Length::mm(-1));
    assert!(outside.contains(&Fault::OffTheTile { stock: 1, piece: 2 }));
    let on_top = faults_of(|plan| plan.stock[0].places[1].at = plan.stock[0].places[0].at);
    assert!(on_top.contains(&Fault::Overlap { stock: 0, first: 0, second: 1 }));
}

#[test]
fn check_looks_at_factory_edges_and_turns() {
    let turned = faults_of(|plan| plan.stock[0].places[0].turn = Turn::Half);
    assert_eq!(turned, [Fault::CutSideShows { stock: 0, piece: 0, side: Side::Left }]);
    let laid = faults_of(|plan| plan.stock[0].places[1].turn = Turn::Quarter);
    assert_eq!(laid, [Fault::TurnNotAllowed { stock: 0, piece: 1, turn: Turn::Quarter }]);
}

#[test]
fn check_makes_the_cuts() {
    let last = |plan: &Plan| plan.stock[0].cuts.len() - 1;
    let reversed = faults_of(|plan| plan.stock[0].cuts.reverse());
    assert!(reversed.contains(&Fault::NoSuchPart { stock: 0, cut: 0 }));
    let forgotten = faults_of(|plan| plan.stock[0].cuts.truncate(1));
    assert_eq!(forgotten, [Fault::NotFreed { stock: 0, piece: 1 }]);
    let beside = faults_of(|plan| plan.stock[1].cuts[0].at = Length::mm(700));
    assert!(beside.contains(&Fault::BladeMisses { stock: 1, cut: 0 }));
    let idle = faults_of(|plan| {
        let cut = plan.stock[0].cuts[last(plan)];
        let waste = match cut.across {
            Axis::X => Rect { left: cut.at + Length::mm(2), ..cut.part },
            Axis::Y => Rect { bottom: cut.at + Length::mm(2), ..cut.part },
        };
        let at = waste.left + Length::mm(1);
        plan.stock[0].cuts.push(Cut { part: waste, across: Axis::X, at });
    });
    assert_eq!(idle, [Fault::IdleCut { stock: 0, cut: 3 }]);
}

#[test]
fn check_holds_the_figures_against_each_other() {
    assert_eq!(faults_of(|plan| plan.stock.swap(0, 1)), [Fault::OutOfOrder { stock: 1 }]);
    let high = faults_of(|plan| plan.bound = 3);
    let (tiles, bound) = (2, 3);
    assert_eq!(high, [Fault::BelowBound { tiles, bound }, Fault::SettingOrderBelowBound { tiles, bound }]);
    let mut apart = demand(&[(100, 100, FREE), (100, 100, FREE)]);
    let plan = planned(apart.clone());
    apart.pieces[1].alone = true;
    let problem = Problem::new(apart).expect("can be cut");
    assert_eq!(check(&problem, &plan), [Fault::NotAlone { stock: 0, piece: 1 }]);
}

/// Sizes in whole millimetres on a small tile, so that exact fits are common.
pub(super) fn small_demand(count: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Demand> {
    let flags = (0_i64..4, any::<bool>(), any::<bool>());
    let tile = (8_i64..40, 8_i64..30);
    (tile, flags).prop_flat_map(move |((width, height), (kerf, half_turn, quarter_turn))| {
        let pieces = prop::collection::vec(wanted(width, height), count.clone());
        pieces.prop_map(move |pieces| Demand {
            tile_width: Length::mm(width),
            tile_height: Length::mm(height),
            kerf: Length::mm(kerf),
            half_turn,
            quarter_turn,
            pieces,
            rack: Vec::new(),
        })
    })
}

/// A row end, a rip, a corner piece, a piece on one side or on none; small pieces as often as large ones.
fn wanted(tile_width: i64, tile_height: i64) -> impl Strategy<Value = Wanted> {
    let sides = prop::collection::vec(any::<bool>(), 4);
    let alone = (0_u8..30).prop_map(|lot| lot == 0);
    (1..=tile_width, 1..=tile_height, sides, any::<(bool, bool)>(), alone).prop_map(
        move |(width, height, sides, (few, small), alone)| {
            let part = if small { 3 } else { 1 };
            let (width, height) = ((width / part).max(1), (height / part).max(1));
            let (left, right) = (sides[0], sides[1] && !(few && sides[0]));
            let (bottom, top) = (sides[2], sides[3] && !(few && sides[2]));
            let needed = [(left, Side::Left), (right, Side::Right), (bottom, Side::Bottom), (top, Side::Top)];
            Wanted {
                id: "p".to_owned(),
                width: Length::mm(if left && right { tile_width } else { width }),
                height: Length::mm(if bottom && top { tile_height } else { height }),
                factory: needed.into_iter().filter(|(needs, _)| *needs).map(|(_, side)| side).collect(),
                alone,
            }
        },
    )
}

/// The fewest new tiles, by trying every way to part the pieces into tiles, after everything that could be cut from
/// each racked offcut.
fn fewest_with_rack(problem: &Problem) -> usize {
    let all: Vec<usize> = (0..problem.pieces().len()).collect();
    let fronts = Fronts::new(problem, &all);
    let mut fewest = fewest_of_sets(problem);
    for rack in 0..problem.rack().len() {
        let board = Board::racked(problem, rack);
        let without = fewest.clone();
        for (set, fewest) in fewest.iter_mut().enumerate() {
            let parts = (1..=set).filter(|part| part & !set == 0 && fronts.fits_on(*part, &board));
            *fewest = parts.map(|part| without[set & !part]).min().unwrap_or(*fewest).min(*fewest);
        }
    }
    fewest[(1 << all.len()) - 1]
}

/// The fewest tiles, by trying every way to part the pieces into tiles.
fn fewest(problem: &Problem) -> usize {
    fewest_of_sets(problem)[(1 << problem.pieces().len()) - 1]
}

fn fewest_of_sets(problem: &Problem) -> Vec<usize> {
    let all: Vec<usize> = (0..problem.pieces().len()).collect();
    let fronts = Fronts::new(problem, &all);
    let mut fewest = vec![0_usize];
    for set in 1..1_usize << all.len() {
        let tiles = (1..=set).filter(|part| part & !set == 0 && fronts.fits(*part));
        fewest.push(tiles.map(|part| 1 + fewest[set & !part]).min().expect("each goes on a tile of its own"));
    }
    fewest
}

/// Whether pieces can be cut from a part, by trying every cut at every millimetre.
fn can_be_cut(problem: &Problem, part: Rect, pieces: &[usize]) -> bool {
    let [only] = pieces else {
        let axes = [(Axis::X, part.left, part.right), (Axis::Y, part.bottom, part.top)];
        return axes.into_iter().any(|(across, low, high)| {
            let mut at = low + Length::mm(1);
            while at + problem.kerf() < high {
                let (first, second) = match across {
                    Axis::X => (Rect { right: at, ..part }, Rect { left: at + problem.kerf(), ..part }),
                    Axis::Y => (Rect { top: at, ..part }, Rect { bottom: at + problem.kerf(), ..part }),
                };
                let parted = |chosen: usize| {
                    let of = |wanted: bool| -> Vec<usize> {
                        let bits = pieces.iter().enumerate();
                        bits.filter(|(bit, _)| (chosen & (1 << bit) != 0) == wanted)
                            .map(|(_, p)| *p)
                            .collect()
                    };
                    can_be_cut(problem, first, &of(true)) && can_be_cut(problem, second, &of(false))
                };
                if (1..(1 << pieces.len()) - 1).any(parted) {
                    return true;
                }
                at += Length::mm(1);
            }
            false
        });
    };
    let tile = (problem.tile_width(), problem.tile_height());
    problem.shapes(*only).iter().any(|shape| {
        let missed = shape.needs.iter().any(|side| match side {
            Side::Left => part.left != Length::ZERO,
            Side::Bottom => part.bottom != Length::ZERO,
            Side::Right => part.right != tile.0,
            Side::Top => part.top != tile.1,
        });
        !missed && shape.width <= part.width() && shape.height <= part.height()
    })
}

proptest! {
    #![proptest_config(crate::cases(300))]

    #[test]
    fn what_the_fronts_say_of_three_pieces_is_what_trying_every_cut_says(
        demand in small_demand(3..=3),
    ) {
        let problem = Problem::new(demand).expect("can be cut");
        let whole = Rect { right: problem.tile_width(), top: problem.tile_height(), ..Rect::default() };
        let tried = can_be_cut(&problem, whole, &[0, 1, 2]) && !problem.pieces().iter().any(|piece| piece.alone);
        let fronts = Fronts::new(&problem, &[0, 1, 2]);
        prop_assert_eq!(fronts.fits(0b111), tried);
        prop_assert_eq!(fronts.board(0b111).is_some(), tried);
    }

    #[test]
    fn bound_then_fewest_then_plan_then_setting_order(demand in small_demand(0..=7)) {
        let problem = Problem::new(demand).expect("can be cut");
        let plan = solve(&problem);
        prop_assert_eq!(check(&problem, &plan), vec![]);
        let fewest = fewest(&problem);
        prop_assert!(bound(&problem) <= plan.bound);
        prop_assert!(plan.bound <= fewest);
        prop_assert!(fewest <= plan.stock.len());
        prop_assert!(plan.stock.len() <= plan.in_setting_order);
        prop_assert_eq!(plan.stock.len(), fewest);
        prop_assert!(plan.is_proved());
        let estimate = estimate(&problem);
        prop_assert!(estimate.bound <= fewest && fewest <= estimate.tiles);
    }

    #[test]
    fn offcuts_at_hand_are_cut_first_and_save_as_many_tiles_as_they_can(
        demand in small_demand(0..=6),
        racked in prop::collection::vec((any::<(u8, u8)>(), prop::collection::vec(any::<bool>(), 4)), 1..=2),
    ) {
        let problem = Problem::new(with_rack(demand, &racked)).expect("can be cut");
        let plan = solve(&problem);
        let fewest = fewest_with_rack(&problem);
        prop_assert!(plan.bound <= fewest);
        prop_assert!(bound(&problem) <= fewest);
        prop_assert_eq!(plan.tiles(), fewest);
        prop_assert!(plan.is_proved());
        prop_assert!(plan.tiles() <= plan.in_setting_order);
        let mut used: Vec<usize> = plan.stock.iter().filter_map(|stock| stock.rack).collect();
        used.sort_unstable();
        prop_assert!(used.windows(2).all(|pair| pair[0] != pair[1]));
        let mut cut: Vec<usize> = plan.stock.iter().flat_map(|stock| &stock.places).map(|place| place.piece).collect();
        cut.sort_unstable();
        prop_assert_eq!(cut, (0..problem.pieces().len()).collect::<Vec<_>>());
    }
}

/// Offcuts of a share of the tile, with some of its sides.
fn with_rack(demand: Demand, racked: &[((u8, u8), Vec<bool>)]) -> Demand {
    let part = |of: Length, share: u8| {
        Length::mm((of.units() / Length::mm(1).units() * i64::from(share) / 255).max(1))
    };
    let offcut = |(index, ((width, height), sides)): (usize, &((u8, u8), Vec<bool>))| {
        let (left, bottom) = (sides[0], sides[1]);
        let named = [(Side::Left, left), (Side::Right, sides[2] && !left), (Side::Bottom, bottom)];
        Racked {
            id: format!("r{index}"),
            width: part(demand.tile_width, *width),
            height: if sides[3] { demand.tile_height } else { part(demand.tile_height, *height) },
            factory: named
                .into_iter()
                .chain([(Side::Top, sides[3])])
                .filter_map(|(side, own)| own.then_some(side))
                .collect(),
        }
    };
    let rack = racked.iter().enumerate().map(offcut).collect();
    Demand { rack, ..demand }
}

proptest! {
    #![proptest_config(crate::cases(3))]

    #[test]
    fn check_finds_nothing_in_a_plan_of_many_pieces(demand in small_demand(0..=80)) {
        let problem = Problem::new(demand).expect("can be cut");
        let plan = solve(&problem);
        prop_assert_eq!(check(&problem, &plan), vec![]);
        prop_assert!(plan.stock.len() <= plan.in_setting_order);
        prop_assert_eq!(solve(&problem), plan);
    }
}

#[test]
fn small_rooms_and_cutting_stock_are_planned_with_the_fewest_tiles_and_it_is_proved() {
    let rooms = (0..12).map(|seed| rooms::room(seed, 30));
    let triplets = (0..3).map(|seed| rooms::triplets(seed, 20));
    let uniform = (0..3).map(|seed| rooms::uniform(seed, 60, 150, 20, 100));
    for (nth, demand) in rooms.chain(triplets).chain(uniform).enumerate() {
        let plan = planned(demand);
        assert!(plan.is_proved(), "{nth}: {} tiles, bound {}", plan.tiles(), plan.bound);
        assert_eq!(plan.proof.parts.iter().map(|part| part.tiles).sum::<usize>(), plan.bound);
    }
}
