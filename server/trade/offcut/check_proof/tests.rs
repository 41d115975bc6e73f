//! Proofs written by hand, then spoilt; and what tiles can hold, held against trying every cut.

use proptest::prelude::*;

use super::*;
use crate::offcut::tests::small_demand;
use crate::offcut::{Demand, Proof, Racked, solve};

const ROW_END: &[Side] = &[Side::Left, Side::Bottom, Side::Top];
const FREE: &[Side] = &[];

/// Tiles of 600 by 300 mm on a saw with a blade of 2 mm that may be turned by half a turn.
fn problem(pieces: &[(i64, i64, &[Side])], rack: Vec<Racked>) -> Problem {
    let wanted = |(index, (width, height, factory)): (usize, &(i64, i64, &[Side]))| Wanted {
        id: format!("p{index}"),
        width: Length::mm(*width),
        height: Length::mm(*height),
        factory: factory.iter().copied().collect(),
        alone: false,
    };
    Problem::new(Demand {
        tile_width: Length::mm(600),
        tile_height: Length::mm(300),
        kerf: Length::mm(2),
        half_turn: true,
        quarter_turn: false,
        pieces: pieces.iter().enumerate().map(wanted).collect(),
        rack,
    })
    .expect("can be cut")
}

fn racked(width: i64, height: i64, factory: &[Side]) -> Racked {
    let factory = factory.iter().copied().collect();
    Racked { id: "r".to_owned(), width: Length::mm(width), height: Length::mm(height), factory }
}

fn prices(each: &[i64], best_pattern: i64) -> Prices {
    Prices { each: each.to_vec(), best_pattern, best_of_rack: Vec::new() }
}

fn by_prices(pieces: &[usize], tiles: usize, each: &[i64], best_pattern: i64) -> Part {
    Part { pieces: pieces.to_vec(), tiles, reason: Reason::Prices(prices(each, best_pattern)) }
}

fn faults(problem: &Problem, parts: Vec<Part>) -> Vec<ProofFault> {
    let bound = parts.iter().map(|part| part.tiles).sum();
    let proof = Proof { parts };
    check_proof(problem, &Plan { stock: Vec::new(), bound, proof, in_setting_order: 0 })
}

/// Three row ends of which two share a tile, and a rip that no row end shares with.
fn ends_and_rip() -> (Problem, Vec<Part>) {
    const RIP: &[Side] = &[Side::Left, Side::Right, Side::Bottom];
    let pieces: [(i64, i64, &[Side]); 4] =
        [(200, 300, ROW_END), (600, 100, RIP), (200, 300, ROW_END), (398, 300, ROW_END)];
    let parts = vec![by_prices(&[0, 2, 3], 2, &[1, 1, 1], 2), by_prices(&[1], 1, &[1], 2)];
    (problem(&pieces, Vec::new()), parts)
}

fn spoilt(spoil: impl FnOnce(&mut Vec<Part>)) -> Vec<ProofFault> {
    let (problem, mut parts) = ends_and_rip();
    assert_eq!(faults(&problem, parts.clone()), []);
    spoil(&mut parts);
    faults(&problem, parts)
}

#[test]
fn a_price_raised_is_found_out() {
    let raised = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 2, &[1, 1, 2], 2));
    assert_eq!(raised, [ProofFault::TileHoldsMore { part: 0, said: 2, found: 3 }]);
    let below_nothing = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 2, &[3, -1, 1], 2));
    assert_eq!(below_nothing, [ProofFault::WrongPrices { part: 0 }]);
    let one_too_few = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 2, &[2, 1], 2));
    assert_eq!(one_too_few, [ProofFault::WrongPrices { part: 0 }]);
}

#[test]
fn a_best_pattern_lowered_is_found_out_and_one_raised_proves_less() {
    let lowered = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 3, &[1, 1, 1], 1));
    assert_eq!(lowered, [ProofFault::TileHoldsMore { part: 0, said: 1, found: 2 }]);
    let raised = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 2, &[1, 1, 1], 3));
    assert_eq!(raised, [ProofFault::WrongTiles { part: 0, said: 2, proved: 1 }]);
    let nothing = spoilt(|parts| parts[0] = by_prices(&[0, 2, 3], 2, &[0, 0, 0], 0));
    assert_eq!(nothing, [ProofFault::WrongTiles { part: 0, said: 2, proved: 0 }]);
}

#[test]
fn a_part_split_where_its_pieces_share_a_tile_is_found_out() {
    let split = spoilt(|parts| {
        parts[0] = by_prices(&[0, 2], 1, &[1, 1], 2);
        parts.push(by_prices(&[3], 1, &[1], 2));
    });
    assert_eq!(split, [ProofFault::PartsMix { first: 0, second: 3 }]);
    let of_a_kind = spoilt(|parts| {
        parts[0] = by_prices(&[0, 3], 1, &[1, 1], 2);
        parts.push(by_prices(&[2], 1, &[1], 2));
    });
    assert!(of_a_kind.contains(&ProofFault::PartsMix { first: 0, second: 2 }));
}

#[test]
fn parts_merged_prove_only_what_their_prices_do() {
    let merged = spoilt(|parts| *parts = vec![by_prices(&[0, 1, 2, 3], 3, &[1, 1, 1, 1], 2)]);
    assert_eq!(merged, [ProofFault::WrongTiles { part: 0, said: 3, proved: 2 }]);
}

#[test]
fn every_piece_is_argued_for_once_and_the_parts_add_up() {
    let lost = spoilt(|parts| drop(parts.pop()));
    assert_eq!(lost, [ProofFault::NotInOnePart { piece: 1, times: 0 }]);
    let twice = spoilt(|parts| parts.push(parts[1].clone()));
    assert_eq!(twice, [ProofFault::NotInOnePart { piece: 1, times: 2 }]);
    let unknown = spoilt(|parts| parts.push(by_prices(&[9], 0, &[0], 0)));
    assert_eq!(unknown, [ProofFault::UnknownPiece { part: 2, piece: 9 }]);
    let (problem, parts) = ends_and_rip();
    let plan = Plan { stock: Vec::new(), bound: 4, proof: Proof { parts }, in_setting_order: 0 };
    assert_eq!(check_proof(&problem, &plan), [ProofFault::NotTheSum { bound: 4, sum: 3 }]);
}

#[test]
fn a_plan_without_a_proof_proves_nothing() {
    let (problem, _) = ends_and_rip();
    let plan = Plan { stock: Vec::new(), bound: 3, proof: Proof::default(), in_setting_order: 0 };
    assert_eq!(check_proof(&problem, &plan).len(), 5);
}

/// Nine pieces of which any two share a tile but no three.
fn nine_halves() -> (Problem, Vec<usize>) {
    (problem(&[(250, 290, FREE); 9], Vec::new()), (0..9).collect())
}

fn with_set(
    pieces: &[usize],
    tiles: usize,
    each: &[i64],
    best_pattern: i64,
    set: &[usize],
    price: i64,
) -> Part {
    let sets = vec![OddSet { pieces: set.to_vec(), price }];
    Part {
        pieces: pieces.to_vec(),
        tiles,
        reason: Reason::OddSets { prices: prices(each, best_pattern), sets },
    }
}

#[test]
fn an_odd_set_holds_and_an_invented_one_is_found_out() {
    let (problem, all) = nine_halves();
    assert_eq!(faults(&problem, vec![by_prices(&all, 5, &[1; 9], 2)]), []);
    // Two pieces of a set begin one pair: nine of them begin five, and a tile holds one pair.
    assert_eq!(faults(&problem, vec![with_set(&all, 5, &[0; 9], 1, &all, 1)]), []);
    let invented = faults(&problem, vec![with_set(&all, 9, &[1; 9], 2, &[0], 8)]);
    assert!(invented.contains(&ProofFault::TileHoldsMore { part: 0, said: 2, found: 10 }), "{invented:?}");
    for set in [&[0, 0][..], &[11]] {
        let found = faults(&problem, vec![with_set(&all, 5, &[1; 9], 2, set, 1)]);
        assert_eq!(found, [ProofFault::WrongSet { part: 0, set: 0 }]);
    }
    let free = faults(&problem, vec![with_set(&all, 5, &[1; 9], 2, &all, 0)]);
    assert_eq!(free, [ProofFault::WrongSet { part: 0, set: 0 }]);
}

#[test]
fn what_the_rack_holds_is_taken_off() {
    let pieces: [(i64, i64, &[Side]); 3] = [(200, 300, ROW_END); 3];
    let rack = vec![racked(250, 300, &[Side::Right, Side::Bottom, Side::Top]), racked(199, 300, ROW_END)];
    let problem = problem(&pieces, rack);
    let part = |tiles, best_of_rack: &[i64]| {
        let prices = Prices { best_of_rack: best_of_rack.to_vec(), ..prices(&[1; 3], 2) };
        vec![Part { pieces: vec![0, 1, 2], tiles, reason: Reason::Prices(prices) }]
    };
    assert_eq!(faults(&problem, part(1, &[1, 0])), []);
    let hidden = faults(&problem, part(2, &[0, 0]));
    assert_eq!(hidden, [ProofFault::RackHoldsMore { part: 0, rack: 0, said: 0, found: 1 }]);
    assert_eq!(faults(&problem, part(0, &[1, 2])), []);
    assert_eq!(faults(&problem, part(0, &[1, 9])), []);
    assert_eq!(faults(&problem, part(2, &[])), [ProofFault::WrongPrices { part: 0 }]);
}

#[test]
fn a_search_may_prove_more_than_its_prices_but_not_less() {
    let (problem, all) = nine_halves();
    let searched = |tiles, best| Part {
        pieces: all.clone(),
        tiles,
        reason: Reason::Search { prices: prices(&[1; 9], best), cases: 7 },
    };
    assert_eq!(faults(&problem, vec![searched(6, 2)]), []);
    let less = faults(&problem, vec![searched(4, 2)]);
    assert_eq!(less, [ProofFault::WrongTiles { part: 0, said: 4, proved: 5 }]);
    let wrong = faults(&problem, vec![searched(9, 1)]);
    assert_eq!(wrong, [ProofFault::TileHoldsMore { part: 0, said: 1, found: 2 }]);
}

#[test]
fn what_cannot_be_gone_over_is_said_and_never_passes() {
    let (problem, all) = nine_halves();
    let set = |first: usize| OddSet { pieces: vec![first, first + 1], price: 1 };
    let sets = (0..8).map(set).collect();
    let part = Part { pieces: all, tiles: 0, reason: Reason::OddSets { prices: prices(&[0; 9], 100), sets } };
    let found = faults(&problem, vec![Part { tiles: 1, ..part }]);
    assert_eq!(found, [ProofFault::NotConfirmed { part: 0 }]);
}

/// What a part is worth by trying every cut at every millimetre, for an even and an odd number of pieces in the
/// one set.
struct Tried<'a> {
    kerf: i64,
    whole: (i64, i64),
    own: Sides,
    offers: &'a [Offer],
    set_price: i64,
    known: BTreeMap<(i64, i64, Sides), [Option<i64>; 2]>,
}

impl Tried<'_> {
    fn worth(&mut self, width: i64, height: i64, own: Sides) -> [Option<i64>; 2] {
        if let Some(known) = self.known.get(&(width, height, own)) {
            return *known;
        }
        let mut best = [Some(0), None];
        let keep = |best: &mut [Option<i64>; 2], odd: usize, worth| best[odd] = best[odd].max(Some(worth));
        for offer in self.offers {
            // Who needs two opposite sides is as long as the whole.
            let long = |a, b, is, full| !(offer.needs.has(a) && offer.needs.has(b)) || is == Length::mm(full);
            if own.has_all(offer.needs)
                && offer.width <= Length::mm(width)
                && offer.height <= Length::mm(height)
                && long(Side::Left, Side::Right, offer.width, self.whole.0)
                && long(Side::Bottom, Side::Top, offer.height, self.whole.1)
            {
                let odd = offer.sets;
                keep(&mut best, odd, offer.price + if odd == 1 { self.set_price } else { 0 });
            }
        }
        for (across, size) in [(true, width), (false, height)] {
            for at in 1..(size - self.kerf) {
                let rest = size - self.kerf - at;
                let (first, second) = if across {
                    (
                        self.worth(at, height, own.without(Side::Right)),
                        self.worth(rest, height, own.without(Side::Left)),
                    )
                } else {
                    (
                        self.worth(width, at, own.without(Side::Top)),
                        self.worth(width, rest, own.without(Side::Bottom)),
                    )
                };
                for (a, b) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                    if let (Some(one), Some(two)) = (first[a], second[b]) {
                        keep(&mut best, a ^ b, one + two - if a & b == 1 { self.set_price } else { 0 });
                    }
                }
            }
        }
        self.known.insert((width, height, own), best);
        best
    }
}

fn some_sides() -> impl Strategy<Value = Sides> {
    prop::collection::vec(any::<bool>(), 4).prop_map(|has| {
        Side::ALL.into_iter().zip(has).filter(|(_, has)| *has).map(|(side, _)| side).collect()
    })
}

fn some_offers(width: i64, height: i64) -> impl Strategy<Value = Vec<Offer>> {
    let offer = (1..=width, 1..=height, some_sides(), 0_i64..20, 0_usize..2, 0_u8..20);
    let offer = offer.prop_map(move |(w, h, needs, price, sets, lot)| Offer {
        width: Length::mm(if needs.has(Side::Left) && needs.has(Side::Right) { width } else { w }),
        height: Length::mm(if needs.has(Side::Bottom) && needs.has(Side::Top) { height } else { h }),
        needs,
        price,
        sets,
        alone: lot == 0,
    });
    prop::collection::vec(offer, 1..6)
}

proptest! {
    #![proptest_config(crate::cases(200))]

    #[test]
    fn what_a_part_is_worth_is_what_trying_every_cut_says(
        ((width, height), offers, own, kerf, set_price) in (4_i64..26, 4_i64..20).prop_flat_map(|(width, height)| {
            (Just((width, height)), some_offers(width, height), prop_oneof![Just(Sides::ALL), some_sides()], 0_i64..3, 0_i64..20)
        }),
    ) {
        let shared: Vec<Offer> = offers.iter().filter(|offer| !offer.alone).copied().collect();
        let known = BTreeMap::new();
        let mut tried = Tried { kerf, whole: (width, height), own, offers: &shared, set_price, known };
        let shared_worth = tried.worth(width, height, tried.own).into_iter().flatten().max();
        let alone: Vec<Offer> = offers.iter().filter(|offer| offer.alone).copied().collect();
        let known = BTreeMap::new();
        let mut tried = Tried { kerf: 100, whole: (width, height), own, offers: &alone, set_price, known };
        let alone_worth = tried.worth(width, height, tried.own).into_iter().flatten().max();
        let whole = Whole { width: Length::mm(width), height: Length::mm(height), own };
        let worth = most_worth(whole, Length::mm(kerf), &offers, &[set_price]);
        prop_assert_eq!(Some(worth), shared_worth.max(alone_worth).map(Worth::Exactly));
    }
}

/// Asks for a tile more than the part's prices prove, and for a best pattern below the one there is.
fn greedier(plan: &Plan) -> [Plan; 2] {
    let (mut more, mut lower) = (plan.clone(), plan.clone());
    more.bound += 1;
    if let Some(part) = more.proof.parts.first_mut() {
        part.tiles += 1;
    }
    for part in &mut lower.proof.parts {
        match &mut part.reason {
            Reason::Prices(prices) | Reason::OddSets { prices, .. } | Reason::Search { prices, .. } => {
                prices.best_pattern /= 2;
            }
        }
    }
    [more, lower]
}

proptest! {
    #![proptest_config(crate::cases(200))]

    #[test]
    fn the_solvers_proofs_hold_and_spoilt_they_do_not(demand in small_demand(1..=12)) {
        let problem = Problem::new(demand).expect("can be cut");
        let plan = solve(&problem);
        prop_assert_eq!(check_proof(&problem, &plan), vec![]);
        let [more, lower] = greedier(&plan);
        let searched = plan.proof.parts.iter().any(|part| matches!(part.reason, Reason::Search { .. }));
        prop_assert!(searched || !check_proof(&problem, &more).is_empty());
        prop_assert!(!check_proof(&problem, &lower).is_empty());
    }
}
