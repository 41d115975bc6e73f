//! Goes over a plan from the rules alone.
//!
//! It lays a whole tile or the racked offcut on the table, makes the cuts in their order and looks at what lies
//! there in the end. It shares nothing with the solver, so that a mistake there is found here. Of the bound it
//! only sees that the plan does not contradict it; [`super::check_proof`] goes over why it is one.

use thiserror::Error;

use super::{Axis, Cut, Place, Plan, Problem, Stock, Turn, Wanted};
use crate::geometry::{Rect, Side, Sides};
use crate::measure::Length;

/// What is wrong with a plan. Tiles and places are counted from 0 as they stand in it, pieces in the problem.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Fault {
    /// A place names a piece that is not wanted.
    #[error("tile {stock}: there is no piece {piece}")]
    UnknownPiece {
        /// The tile.
        stock: usize,
        /// The index it names.
        piece: usize,
    },
    /// It names a racked offcut that is not there.
    #[error("stock {stock}: there is no offcut {rack} on the rack")]
    UnknownRack {
        /// The stock.
        stock: usize,
        /// The index it names.
        rack: usize,
    },
    /// A racked offcut is there once.
    #[error("offcut {rack} on the rack is used {times} times")]
    RackUsedAgain {
        /// The racked offcut.
        rack: usize,
        /// How often.
        times: usize,
    },
    /// Not cut, or more than once.
    #[error("piece {piece} is cut {times} times")]
    NotOnce {
        /// The piece.
        piece: usize,
        /// How often.
        times: usize,
    },
    /// Of another size than wanted, turned as the place says.
    #[error("tile {stock}: piece {piece} is cut to a wrong size")]
    WrongSize {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
    },
    /// Turned as it may not be.
    #[error("tile {stock}: piece {piece} may not be turned by {} degrees", turn.degrees())]
    TurnNotAllowed {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
        /// How it is turned.
        turn: Turn,
    },
    /// Past the edge of the tile.
    #[error("tile {stock}: piece {piece} lies past the tile's edge")]
    OffTheTile {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
    },
    /// A side that must be the tile's own would be a cut one.
    #[error("tile {stock}: the {} side of piece {piece} must be a factory edge and is cut", side.name())]
    CutSideShows {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
        /// The side, as the piece is on the wall.
        side: Side,
    },
    /// Two places take the same spot.
    #[error("tile {stock}: pieces {first} and {second} overlap")]
    Overlap {
        /// The tile.
        stock: usize,
        /// One piece.
        first: usize,
        /// The other.
        second: usize,
    },
    /// A piece that shares with no other does.
    #[error("tile {stock}: piece {piece} must have its tile alone")]
    NotAlone {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
    },
    /// What is to be cut does not lie on the table then.
    #[error("tile {stock}, cut {cut}: no such part lies on the table")]
    NoSuchPart {
        /// The tile.
        stock: usize,
        /// The cut.
        cut: usize,
    },
    /// The blade would run beside the part.
    #[error("tile {stock}, cut {cut}: the blade misses the part")]
    BladeMisses {
        /// The tile.
        stock: usize,
        /// The cut.
        cut: usize,
    },
    /// No piece comes out of the part that is cut.
    #[error("tile {stock}, cut {cut}: nothing that is wanted comes of it")]
    IdleCut {
        /// The tile.
        stock: usize,
        /// The cut.
        cut: usize,
    },
    /// After the last cut the piece does not lie there by itself.
    #[error("tile {stock}: the cuts do not free piece {piece}")]
    NotFreed {
        /// The tile.
        stock: usize,
        /// The piece.
        piece: usize,
    },
    /// What was lost is not parted from the rest, or is counted on.
    #[error("tile {stock}: what was lost of {piece} does not lie there by itself")]
    NotGone {
        /// The tile.
        stock: usize,
        /// The piece that it was or was to become.
        piece: String,
    },
    /// A tile from which nothing is cut.
    #[error("tile {stock}: nothing is cut from it")]
    EmptyTile {
        /// The tile.
        stock: usize,
    },
    /// A tile that is needed before the one that stands before it.
    #[error("tile {stock} is needed before the one that stands before it")]
    OutOfOrder {
        /// The tile.
        stock: usize,
    },
    /// The plan uses fewer tiles than it says any plan must.
    #[error("the plan uses {tiles} tiles, yet says that none can use fewer than {bound}")]
    BelowBound {
        /// Tiles of the plan.
        tiles: usize,
        /// Its bound.
        bound: usize,
    },
    /// Setting order would use fewer tiles than any plan must.
    #[error("setting order takes {tiles} tiles, yet the plan says that none can use fewer than {bound}")]
    SettingOrderBelowBound {
        /// Tiles in setting order.
        tiles: usize,
        /// The plan's bound.
        bound: usize,
    },
}

/// Every fault of the plan; none when it obeys the rules.
pub fn check(problem: &Problem, plan: &Plan) -> Vec<Fault> {
    let mut faults = count_faults(problem, plan);
    faults.extend(rack_faults(problem, plan));
    for (index, stock) in plan.stock.iter().enumerate() {
        faults.extend(tile_faults(problem, index, stock));
    }
    let first_needed = |stock: &Stock| stock.places.iter().map(|place| place.piece).min();
    for (index, pair) in plan.stock.windows(2).enumerate() {
        if first_needed(&pair[0]) > first_needed(&pair[1]) {
            faults.push(Fault::OutOfOrder { stock: index + 1 });
        }
    }
    let (tiles, bound) = (plan.tiles(), plan.bound);
    if tiles < bound {
        faults.push(Fault::BelowBound { tiles, bound });
    }
    if plan.in_setting_order < bound {
        faults.push(Fault::SettingOrderBelowBound { tiles: plan.in_setting_order, bound });
    }
    faults
}

fn count_faults(problem: &Problem, plan: &Plan) -> Vec<Fault> {
    let mut times = vec![0_usize; problem.pieces().len()];
    for place in plan.stock.iter().flat_map(|stock| &stock.places) {
        if let Some(times) = times.get_mut(place.piece) {
            *times += 1;
        }
    }
    let wrong = times.into_iter().enumerate().filter(|(_, times)| *times != 1);
    wrong.map(|(piece, times)| Fault::NotOnce { piece, times }).collect()
}

fn rack_faults(problem: &Problem, plan: &Plan) -> Vec<Fault> {
    let mut times = vec![0_usize; problem.rack().len()];
    for rack in plan.stock.iter().filter_map(|stock| stock.rack) {
        if let Some(times) = times.get_mut(rack) {
            *times += 1;
        }
    }
    let again = times.into_iter().enumerate().filter(|(_, times)| *times > 1);
    again.map(|(rack, times)| Fault::RackUsedAgain { rack, times }).collect()
}

/// What is laid on the table before the first cut.
#[derive(Clone, Copy)]
struct Blank {
    at: Rect,
    /// Its sides that are a tile's own.
    own: Sides,
}

impl Blank {
    /// A whole tile or the racked offcut named; `None` where there is no such offcut.
    fn of(problem: &Problem, stock: &Stock) -> Option<Self> {
        let sized = |right, top| Rect { left: Length::ZERO, bottom: Length::ZERO, right, top };
        Some(match stock.rack {
            None => Self { at: sized(problem.tile_width(), problem.tile_height()), own: Sides::ALL },
            Some(rack) => {
                let racked = problem.rack().get(rack)?;
                Self { at: sized(racked.width, racked.height), own: racked.factory }
            }
        })
    }
}

fn tile_faults(problem: &Problem, index: usize, stock: &Stock) -> Vec<Fault> {
    let Some(blank) = Blank::of(problem, stock) else {
        return stock.rack.map(|rack| Fault::UnknownRack { stock: index, rack }).into_iter().collect();
    };
    let mut faults = Vec::new();
    if stock.places.is_empty() && stock.gone().is_empty() {
        faults.push(Fault::EmptyTile { stock: index });
    }
    for (nth, place) in stock.places.iter().enumerate() {
        let Some(wanted) = problem.pieces().get(place.piece) else {
            faults.push(Fault::UnknownPiece { stock: index, piece: place.piece });
            continue;
        };
        faults.extend(place_faults(problem, index, blank, place, wanted));
        if wanted.alone && stock.places.len() > 1 {
            faults.push(Fault::NotAlone { stock: index, piece: place.piece });
        }
        for other in &stock.places[nth + 1..] {
            if overlap(place.at, other.at) {
                faults.push(Fault::Overlap { stock: index, first: place.piece, second: other.piece });
            }
        }
    }
    faults.extend(cut_faults(problem.kerf(), index, blank, stock));
    faults
}

fn place_faults(problem: &Problem, stock: usize, blank: Blank, place: &Place, wanted: &Wanted) -> Vec<Fault> {
    let piece = place.piece;
    let mut faults = Vec::new();
    let (allowed, lying) = match place.turn {
        Turn::None => (true, (wanted.width, wanted.height)),
        Turn::Half => (problem.half_turn(), (wanted.width, wanted.height)),
        Turn::Quarter | Turn::ThreeQuarter => (problem.quarter_turn(), (wanted.height, wanted.width)),
    };
    if !allowed {
        faults.push(Fault::TurnNotAllowed { stock, piece, turn: place.turn });
    }
    if (place.at.width(), place.at.height()) != lying {
        faults.push(Fault::WrongSize { stock, piece });
    }
    if !within(place.at, blank.at) {
        faults.push(Fault::OffTheTile { stock, piece });
    }
    let own = on_the_wall(sides_on(place.at, blank), place.turn);
    let cut = wanted.factory.iter().filter(|side| !own.has(*side));
    faults.extend(cut.map(|side| Fault::CutSideShows { stock, piece, side }));
    faults
}

/// Makes the cuts and looks at what lies on the table after each and in the end.
fn cut_faults(kerf: Length, index: usize, blank: Blank, stock: &Stock) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut table = vec![blank.at];
    for (nth, cut) in stock.cuts.iter().enumerate() {
        let Some(lying) = table.iter().position(|part| *part == cut.part) else {
            faults.push(Fault::NoSuchPart { stock: index, cut: nth });
            continue;
        };
        table.swap_remove(lying);
        if !blade_meets(cut, kerf) {
            faults.push(Fault::BladeMisses { stock: index, cut: nth });
        }
        let comes_of_it = |at: Rect| within(at, cut.part);
        if !stock.places.iter().any(|place| comes_of_it(place.at))
            && !stock.gone().iter().any(|gone| comes_of_it(gone.at))
        {
            faults.push(Fault::IdleCut { stock: index, cut: nth });
        }
        table.extend(halves(cut, kerf));
    }
    for gone in stock.gone() {
        match table.iter().position(|part| *part == gone.at) {
            Some(lost) => drop(table.swap_remove(lost)),
            None => faults.push(Fault::NotGone { stock: index, piece: gone.piece.clone() }),
        }
    }
    for place in &stock.places {
        match table.iter().position(|part| *part == place.at) {
            Some(freed) => {
                table.swap_remove(freed);
            }
            None => faults.push(Fault::NotFreed { stock: index, piece: place.piece }),
        }
    }
    faults
}

fn ends(cut: &Cut) -> (Length, Length) {
    match cut.across {
        Axis::X => (cut.part.left, cut.part.right),
        Axis::Y => (cut.part.bottom, cut.part.top),
    }
}

/// Whether something of the part goes, into the kerf or to the other side, and something is left.
fn blade_meets(cut: &Cut, kerf: Length) -> bool {
    let (low, high) = ends(cut);
    let second = cut.at + kerf;
    cut.at < high && second > low && (cut.at > low || second < high)
}

/// The one or two parts that are left.
fn halves(cut: &Cut, kerf: Length) -> Vec<Rect> {
    let (low, high) = ends(cut);
    let second = cut.at + kerf;
    let mut parts = Vec::new();
    if cut.at > low {
        parts.push(match cut.across {
            Axis::X => Rect { right: cut.at, ..cut.part },
            Axis::Y => Rect { top: cut.at, ..cut.part },
        });
    }
    if second < high {
        parts.push(match cut.across {
            Axis::X => Rect { left: second, ..cut.part },
            Axis::Y => Rect { bottom: second, ..cut.part },
        });
    }
    parts
}

fn within(inner: Rect, outer: Rect) -> bool {
    inner.left >= outer.left
        && inner.right <= outer.right
        && inner.bottom >= outer.bottom
        && inner.top <= outer.top
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top
}

/// The sides of the place that are the tile's own, on the table.
fn sides_on(place: Rect, blank: Blank) -> Sides {
    let meets = |side: &Side| {
        blank.own.has(*side)
            && match side {
                Side::Left => place.left == blank.at.left,
                Side::Right => place.right == blank.at.right,
                Side::Bottom => place.bottom == blank.at.bottom,
                Side::Top => place.top == blank.at.top,
            }
    };
    Side::ALL.into_iter().filter(meets).collect()
}

/// Where sides on the table come to be on the wall: turned counter-clockwise, a quarter at a time.
pub(super) fn on_the_wall(sides: Sides, turn: Turn) -> Sides {
    let quarter = |sides: Sides| -> Sides {
        let turned = sides.iter().map(|side| match side {
            Side::Right => Side::Top,
            Side::Top => Side::Left,
            Side::Left => Side::Bottom,
            Side::Bottom => Side::Right,
        });
        turned.collect()
    };
    match turn {
        Turn::None => sides,
        Turn::Quarter => quarter(sides),
        Turn::Half => quarter(quarter(sides)),
        Turn::ThreeQuarter => quarter(quarter(quarter(sides))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offcut::{Demand, Racked};

    /// A row end and a small piece, and an offcut on the rack that keeps the right end of its tile.
    fn problem() -> Problem {
        let piece = |id: &str, width, height, factory: &[Side]| Wanted {
            id: id.to_owned(),
            width: Length::mm(width),
            height: Length::mm(height),
            factory: factory.iter().copied().collect(),
            alone: false,
        };
        let keeps = [Side::Right, Side::Bottom, Side::Top].into_iter().collect();
        Problem::new(Demand {
            tile_width: Length::mm(600),
            tile_height: Length::mm(300),
            kerf: Length::mm(2),
            half_turn: true,
            quarter_turn: false,
            pieces: vec![
                piece("end", 200, 300, &[Side::Left, Side::Bottom, Side::Top]),
                piece("fill", 90, 300, &[]),
            ],
            rack: vec![Racked {
                id: "r".to_owned(),
                width: Length::mm(300),
                height: Length::mm(300),
                factory: keeps,
            }],
        })
        .expect("can be cut")
    }

    /// Both from the racked offcut: the row end turned, at the end that the offcut keeps.
    fn from_the_rack(spoil: impl FnOnce(&mut Plan)) -> Vec<Fault> {
        let (mm, top) = (Length::mm, Length::mm(300));
        let strip = |left, right| Rect { left: mm(left), bottom: Length::ZERO, right: mm(right), top };
        let places = vec![
            Place { piece: 0, at: strip(100, 300), turn: Turn::Half },
            Place { piece: 1, at: strip(0, 90), turn: Turn::None },
        ];
        let cuts = vec![
            Cut { part: strip(0, 300), across: Axis::X, at: mm(98) },
            Cut { part: strip(0, 98), across: Axis::X, at: mm(90) },
        ];
        let stock = vec![Stock { rack: Some(0), begun: None, places, cuts }];
        let mut plan = Plan { stock, bound: 0, proof: crate::offcut::Proof::default(), in_setting_order: 1 };
        assert_eq!(check(&problem(), &plan), []);
        spoil(&mut plan);
        check(&problem(), &plan)
    }

    #[test]
    fn a_piece_lies_within_the_racked_offcut_at_the_sides_that_it_has() {
        let turned = from_the_rack(|plan| {
            plan.stock[0].places.swap(0, 1);
            plan.stock[0].cuts.remove(1);
            plan.stock[0].places = vec![Place { turn: Turn::None, ..plan.stock[0].places[1].clone() }];
        });
        let shows = Fault::CutSideShows { stock: 0, piece: 0, side: Side::Left };
        assert_eq!(turned, [Fault::NotOnce { piece: 1, times: 0 }, shows]);
        let beyond = from_the_rack(|plan| {
            let place = &mut plan.stock[0].places[0];
            (place.at.left, place.at.right) = (Length::mm(400), Length::mm(600));
        });
        assert!(beyond.contains(&Fault::OffTheTile { stock: 0, piece: 0 }), "{beyond:?}");
    }

    #[test]
    fn a_racked_offcut_is_there_once_and_no_other_is() {
        let again = from_the_rack(|plan| {
            let second = plan.stock[0].places.remove(1);
            plan.stock[0].cuts.truncate(1);
            let part = Rect { right: Length::mm(300), ..second.at };
            let cuts = vec![Cut { part, across: Axis::X, at: Length::mm(90) }];
            plan.stock.push(Stock { rack: Some(0), begun: None, places: vec![second], cuts });
        });
        assert_eq!(again, [Fault::RackUsedAgain { rack: 0, times: 2 }]);
        let other = from_the_rack(|plan| plan.stock[0].rack = Some(1));
        assert_eq!(other, [Fault::UnknownRack { stock: 0, rack: 1 }]);
        let new = from_the_rack(|plan| plan.stock[0].rack = None);
        assert!(new.contains(&Fault::NoSuchPart { stock: 0, cut: 0 }), "{new:?}");
    }
}
