//! Goes over a plan from the rules alone.
//!
//! It lays a whole tile on the table, makes the cuts in their order and looks at what lies there in the end. It
//! shares nothing with the solver, so that a mistake there is found here. Whether the bound is one, it cannot
//! say, only that the plan does not contradict it.

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

fn tile_faults(problem: &Problem, index: usize, stock: &Stock) -> Vec<Fault> {
    let mut faults = Vec::new();
    if stock.places.is_empty() {
        faults.push(Fault::EmptyTile { stock: index });
    }
    for (nth, place) in stock.places.iter().enumerate() {
        let Some(wanted) = problem.pieces().get(place.piece) else {
            faults.push(Fault::UnknownPiece { stock: index, piece: place.piece });
            continue;
        };
        faults.extend(place_faults(problem, index, place, wanted));
        if wanted.alone && stock.places.len() > 1 {
            faults.push(Fault::NotAlone { stock: index, piece: place.piece });
        }
        for other in &stock.places[nth + 1..] {
            if overlap(place.at, other.at) {
                faults.push(Fault::Overlap { stock: index, first: place.piece, second: other.piece });
            }
        }
    }
    faults.extend(cut_faults(problem, index, stock));
    faults
}

fn place_faults(problem: &Problem, stock: usize, place: &Place, wanted: &Wanted) -> Vec<Fault> {
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
    let tile = whole(problem);
    if !within(place.at, tile) {
        faults.push(Fault::OffTheTile { stock, piece });
    }
    let own = on_the_wall(sides_on(place.at, tile), place.turn);
    let cut = wanted.factory.iter().filter(|side| !own.has(*side));
    faults.extend(cut.map(|side| Fault::CutSideShows { stock, piece, side }));
    faults
}

/// Makes the cuts and looks at what lies on the table after each and in the end.
fn cut_faults(problem: &Problem, index: usize, stock: &Stock) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut table = vec![whole(problem)];
    for (nth, cut) in stock.cuts.iter().enumerate() {
        let Some(lying) = table.iter().position(|part| *part == cut.part) else {
            faults.push(Fault::NoSuchPart { stock: index, cut: nth });
            continue;
        };
        table.swap_remove(lying);
        if !blade_meets(cut, problem.kerf()) {
            faults.push(Fault::BladeMisses { stock: index, cut: nth });
        }
        if !stock.places.iter().any(|place| within(place.at, cut.part)) {
            faults.push(Fault::IdleCut { stock: index, cut: nth });
        }
        table.extend(halves(cut, problem.kerf()));
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

fn whole(problem: &Problem) -> Rect {
    let origin = Length::ZERO;
    Rect { left: origin, bottom: origin, right: problem.tile_width(), top: problem.tile_height() }
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
fn sides_on(place: Rect, tile: Rect) -> Sides {
    let meets = |side: &Side| match side {
        Side::Left => place.left == tile.left,
        Side::Right => place.right == tile.right,
        Side::Bottom => place.bottom == tile.bottom,
        Side::Top => place.top == tile.top,
    };
    Side::ALL.into_iter().filter(meets).collect()
}

/// Where sides on the table come to be on the wall: turned counter-clockwise, a quarter at a time.
fn on_the_wall(sides: Sides, turn: Turn) -> Sides {
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
