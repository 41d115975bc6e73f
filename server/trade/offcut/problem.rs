//! The pieces that are wanted from tiles of one kind, once nonsense has been refused.

use std::collections::BTreeMap;

use thiserror::Error;

use super::{Racked, Turn, Wanted};
use crate::geometry::{Rect, Side, Sides};
use crate::measure::Length;

/// The most pieces in one problem. A room has a few hundred cuts, a large floor two thousand; beyond this the
/// table of who can share with whom (its square) and the wait for an answer stop being reasonable.
pub const MOST_PIECES: usize = 3000;

/// The longest side of a tile, and the widest kerf: no slab is longer than 100 m, and sums of lengths below it
/// stay far inside what a whole number holds.
pub const LONGEST_SIDE: Length = Length::mm(100_000);

/// What is to be cut from tiles of one kind, as a file or a layout gives it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Demand {
    /// Width of the whole tile as it lies face up on the table.
    pub tile_width: Length,
    /// Height of the whole tile.
    pub tile_height: Length,
    /// Lost at each cut: blade and, where given, what is spared beside it.
    pub kerf: Length,
    /// Pieces may be turned by half a turn: not where the tile has a direction.
    pub half_turn: bool,
    /// Pieces may be turned by a quarter, either way. Taken at its word also where half a turn is not allowed.
    pub quarter_turn: bool,
    /// In the order they are set.
    pub pieces: Vec<Wanted>,
    /// Offcuts at hand.
    pub rack: Vec<Racked>,
}

/// A [`Demand`] in which every piece can be cut from a tile of its own.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    demand: Demand,
    /// For each piece the ways it may lie on the table, never none.
    shapes: Vec<Vec<Shape>>,
    /// For each choice of sides that some shape needs, the least width and the least height of those shapes.
    least: BTreeMap<Sides, (Length, Length)>,
}

/// Why a [`Demand`] is refused.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum ProblemFault {
    /// Zero or negative.
    #[error("the tile's width and height must be more than nothing")]
    TileSize,
    /// See [`LONGEST_SIDE`].
    #[error("the tile is longer than 100 m: is the unit right?")]
    TileTooLong,
    /// Negative.
    #[error("the kerf cannot be less than nothing")]
    NegativeKerf,
    /// See [`LONGEST_SIDE`].
    #[error("the kerf is wider than 100 m: is the unit right?")]
    KerfTooWide,
    /// See [`MOST_PIECES`].
    #[error("{count} pieces are more than can be planned at once ({MOST_PIECES}): plan room by room")]
    TooManyPieces {
        /// How many were asked for.
        count: usize,
    },
    /// Zero or negative.
    #[error("piece {id}: its width and height must be more than nothing")]
    PieceSize {
        /// Its index among the pieces.
        piece: usize,
        /// Its label.
        id: String,
    },
    /// Larger than the tile in every allowed turn.
    #[error("piece {id} is larger than the tile, whichever way it may be turned")]
    PieceTooLarge {
        /// Its index among the pieces.
        piece: usize,
        /// Its label.
        id: String,
    },
    /// It needs factory edges on two opposite sides, and no turn in which it fits has them as far apart as the
    /// tile's own.
    #[error("piece {id} needs factory edges on opposite sides, but is not as long as the tile between them")]
    OppositeSides {
        /// Its index among the pieces.
        piece: usize,
        /// Its label.
        id: String,
    },
    /// See [`MOST_RACKED`].
    #[error("{count} offcuts are more than can be planned with at once ({MOST_RACKED})")]
    TooManyRacked {
        /// How many were given.
        count: usize,
    },
    /// Zero or negative.
    #[error("offcut {id}: its width and height must be more than nothing")]
    RackedSize {
        /// Its index on the rack.
        rack: usize,
        /// Its label.
        id: String,
    },
    /// Larger than the tile as it lies.
    #[error("offcut {id} is larger than the tile it was cut from: lay it as the tile lies")]
    RackedTooLarge {
        /// Its index on the rack.
        rack: usize,
        /// Its label.
        id: String,
    },
    /// A cut takes away one of two opposite sides of the tile.
    #[error(
        "offcut {id} is said to have factory edges on opposite sides, but is not as long as the tile between them"
    )]
    RackedOppositeSides {
        /// Its index on the rack.
        rack: usize,
        /// Its label.
        id: String,
    },
}

/// The most offcuts that can lie on the rack: more than anyone keeps of one kind of tile.
pub const MOST_RACKED: usize = 200;

/// One way in which a piece may lie on the table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Shape {
    pub(super) width: Length,
    pub(super) height: Length,
    /// Sides, as it lies, that must be the tile's own.
    pub(super) needs: Sides,
    pub(super) turn: Turn,
}

impl Problem {
    /// Looks the demand over. Every fault found is named, those of the tile first.
    pub fn new(demand: Demand) -> Result<Self, Vec<ProblemFault>> {
        let mut faults = tile_faults(&demand);
        if demand.pieces.len() > MOST_PIECES {
            faults.push(ProblemFault::TooManyPieces { count: demand.pieces.len() });
        }
        if demand.rack.len() > MOST_RACKED {
            faults.push(ProblemFault::TooManyRacked { count: demand.rack.len() });
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut shapes = Vec::with_capacity(demand.pieces.len());
        for index in 0..demand.pieces.len() {
            match shapes_of(&demand, index) {
                Ok(ways) => shapes.push(ways),
                Err(fault) => faults.push(fault),
            }
        }
        faults.extend((0..demand.rack.len()).filter_map(|rack| racked_fault(&demand, rack)));
        let least = least_sizes(shapes.iter().flatten());
        if faults.is_empty() { Ok(Self { demand, shapes, least }) } else { Err(faults) }
    }

    /// Width of the whole tile as it lies face up on the table.
    pub const fn tile_width(&self) -> Length {
        self.demand.tile_width
    }

    /// Height of the whole tile.
    pub const fn tile_height(&self) -> Length {
        self.demand.tile_height
    }

    /// Lost at each cut.
    pub const fn kerf(&self) -> Length {
        self.demand.kerf
    }

    /// Whether pieces may be turned by half a turn.
    pub const fn half_turn(&self) -> bool {
        self.demand.half_turn
    }

    /// Whether pieces may be turned by a quarter, either way.
    pub const fn quarter_turn(&self) -> bool {
        self.demand.quarter_turn
    }

    /// The pieces in the order they are set.
    pub fn pieces(&self) -> &[Wanted] {
        &self.demand.pieces
    }

    /// Offcuts at hand.
    pub fn rack(&self) -> &[Racked] {
        &self.demand.rack
    }

    /// The ways the piece may lie on the table, the least turned first; never none.
    pub(super) fn shapes(&self, piece: usize) -> &[Shape] {
        &self.shapes[piece]
    }

    /// Whether a part with these sides of the tile's own is worth keeping at hand; if not, no piece comes from it.
    pub(super) fn is_of_use(&self, at: Rect, own: Sides) -> bool {
        let large_enough =
            |(width, height): &(Length, Length)| *width <= at.width() && *height <= at.height();
        self.least.iter().any(|(needs, least)| own.has_all(*needs) && large_enough(least))
    }
}

fn least_sizes<'s>(shapes: impl Iterator<Item = &'s Shape>) -> BTreeMap<Sides, (Length, Length)> {
    let mut least = BTreeMap::new();
    for shape in shapes {
        let (width, height) = least.entry(shape.needs).or_insert((shape.width, shape.height));
        *width = shape.width.min(*width);
        *height = shape.height.min(*height);
    }
    least
}

fn tile_faults(demand: &Demand) -> Vec<ProblemFault> {
    let sides = [demand.tile_width, demand.tile_height];
    let mut faults = Vec::new();
    if sides.iter().any(|side| *side <= Length::ZERO) {
        faults.push(ProblemFault::TileSize);
    }
    if sides.iter().any(|side| *side > LONGEST_SIDE) {
        faults.push(ProblemFault::TileTooLong);
    }
    if demand.kerf < Length::ZERO {
        faults.push(ProblemFault::NegativeKerf);
    }
    if demand.kerf > LONGEST_SIDE {
        faults.push(ProblemFault::KerfTooWide);
    }
    faults
}

fn shapes_of(demand: &Demand, piece: usize) -> Result<Vec<Shape>, ProblemFault> {
    let wanted = &demand.pieces[piece];
    let id = wanted.id.clone();
    if wanted.width <= Length::ZERO || wanted.height <= Length::ZERO {
        return Err(ProblemFault::PieceSize { piece, id });
    }
    let mut fitting = allowed_turns(demand)
        .into_iter()
        .map(|turn| Shape::of(wanted, turn))
        .filter(|shape| shape.width <= demand.tile_width && shape.height <= demand.tile_height)
        .peekable();
    if fitting.peek().is_none() {
        return Err(ProblemFault::PieceTooLarge { piece, id });
    }
    let mut shapes: Vec<Shape> = Vec::new();
    for shape in fitting.filter(|shape| shape.keeps_opposite_sides(demand)) {
        if !shapes.iter().any(|known| known.lies_like(&shape)) {
            shapes.push(shape);
        }
    }
    if shapes.is_empty() { Err(ProblemFault::OppositeSides { piece, id }) } else { Ok(shapes) }
}

fn racked_fault(demand: &Demand, rack: usize) -> Option<ProblemFault> {
    let Racked { id, width, height, factory } = demand.rack[rack].clone();
    let (tile_width, tile_height) = (demand.tile_width, demand.tile_height);
    let has_both = |one: Side| factory.has(one) && factory.has(one.opposite());
    if width <= Length::ZERO || height <= Length::ZERO {
        Some(ProblemFault::RackedSize { rack, id })
    } else if width > tile_width || height > tile_height {
        Some(ProblemFault::RackedTooLarge { rack, id })
    } else if (has_both(Side::Left) && width < tile_width) || (has_both(Side::Bottom) && height < tile_height)
    {
        Some(ProblemFault::RackedOppositeSides { rack, id })
    } else {
        None
    }
}

fn allowed_turns(demand: &Demand) -> Vec<Turn> {
    let mut turns = vec![Turn::None];
    if demand.half_turn {
        turns.push(Turn::Half);
    }
    if demand.quarter_turn {
        turns.extend([Turn::Quarter, Turn::ThreeQuarter]);
    }
    turns
}

impl Shape {
    fn of(wanted: &Wanted, turn: Turn) -> Self {
        let (width, height) = match turn {
            Turn::None | Turn::Half => (wanted.width, wanted.height),
            Turn::Quarter | Turn::ThreeQuarter => (wanted.height, wanted.width),
        };
        let needs = wanted.factory.iter().map(|side| turn.to_table(side)).collect();
        Self { width, height, needs, turn }
    }

    /// A cut always takes away one of two opposite sides, so who needs both must be as long as the tile.
    fn keeps_opposite_sides(&self, demand: &Demand) -> bool {
        let across = self.needs.has(Side::Left) && self.needs.has(Side::Right);
        let up = self.needs.has(Side::Bottom) && self.needs.has(Side::Top);
        (!across || self.width == demand.tile_width) && (!up || self.height == demand.tile_height)
    }

    /// Whether it can be cut wherever the other can.
    pub(super) fn serves_for(&self, other: &Self) -> bool {
        self.width <= other.width && self.height <= other.height && other.needs.has_all(self.needs)
    }

    /// Whether both ask the same of the table, turned differently.
    pub(super) fn lies_like(&self, other: &Self) -> bool {
        (self.width, self.height, self.needs) == (other.width, other.height, other.needs)
    }
}

impl Turn {
    /// Counter-clockwise, from the table to the wall.
    pub const fn degrees(self) -> u16 {
        match self {
            Self::None => 0,
            Self::Quarter => 90,
            Self::Half => 180,
            Self::ThreeQuarter => 270,
        }
    }

    /// Where a side of the piece on the wall lies on the table: turned back, clockwise.
    pub(super) const fn to_table(self, side: Side) -> Side {
        match self {
            Self::None => side,
            Self::Quarter => clockwise(side),
            Self::Half => side.opposite(),
            Self::ThreeQuarter => clockwise(side).opposite(),
        }
    }
}

const fn clockwise(side: Side) -> Side {
    match side {
        Side::Top => Side::Right,
        Side::Right => Side::Bottom,
        Side::Bottom => Side::Left,
        Side::Left => Side::Top,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demand(width: i64, height: i64, factory: &[Side]) -> Demand {
        Demand {
            tile_width: Length::mm(600),
            tile_height: Length::mm(300),
            kerf: Length::mm(2),
            half_turn: true,
            quarter_turn: false,
            pieces: vec![Wanted {
                id: "a".to_owned(),
                width: Length::mm(width),
                height: Length::mm(height),
                factory: factory.iter().copied().collect(),
                alone: false,
            }],
            rack: Vec::new(),
        }
    }

    fn only_fault(demand: Demand) -> ProblemFault {
        let mut faults = Problem::new(demand).expect_err("refused");
        assert_eq!(faults.len(), 1);
        faults.remove(0)
    }

    #[test]
    fn a_piece_taller_than_the_tile_is_refused_unless_it_may_be_laid_down() {
        let tall = demand(200, 400, &[]);
        let fault = only_fault(tall.clone());
        assert_eq!(fault.to_string(), "piece a is larger than the tile, whichever way it may be turned");
        assert!(Problem::new(Demand { quarter_turn: true, ..tall }).is_ok());
    }

    #[test]
    fn a_piece_with_needs_on_opposite_sides_must_be_full_size_between_them() {
        let fault = only_fault(demand(599, 100, &[Side::Left, Side::Right]));
        assert_eq!(fault, ProblemFault::OppositeSides { piece: 0, id: "a".to_owned() });
        assert!(Problem::new(demand(600, 100, &[Side::Left, Side::Right])).is_ok());
        assert!(Problem::new(demand(200, 300, &[Side::Bottom, Side::Top])).is_ok());
    }

    #[test]
    fn an_upright_strip_that_needs_both_ends_is_laid_down_only_where_a_quarter_turn_is_allowed() {
        let upright = demand(100, 300, &[Side::Left, Side::Right]);
        assert!(Problem::new(upright).is_err());
        let long = Demand { quarter_turn: true, ..demand(100, 600, &[Side::Bottom, Side::Top]) };
        let problem = Problem::new(long).expect("lies along the tile");
        assert!(problem.shapes(0).iter().all(|shape| shape.width == Length::mm(600)));
    }

    #[test]
    fn nothing_and_less_than_nothing_are_refused() {
        assert!(matches!(only_fault(demand(0, 10, &[])), ProblemFault::PieceSize { .. }));
        let kerf = Demand { kerf: Length::mm(-1), ..demand(10, 10, &[]) };
        assert_eq!(only_fault(kerf), ProblemFault::NegativeKerf);
        let tile = Demand { tile_width: Length::ZERO, ..demand(10, 10, &[]) };
        assert_eq!(only_fault(tile), ProblemFault::TileSize);
        let mut crowd = demand(10, 10, &[]);
        crowd.pieces = vec![crowd.pieces[0].clone(); MOST_PIECES + 1];
        assert_eq!(only_fault(crowd), ProblemFault::TooManyPieces { count: MOST_PIECES + 1 });
    }

    #[test]
    fn a_quarter_turn_brings_the_right_side_on_the_table_to_the_top_on_the_wall() {
        assert_eq!(Turn::Quarter.to_table(Side::Top), Side::Right);
        assert_eq!(Turn::ThreeQuarter.to_table(Side::Top), Side::Left);
        assert_eq!(Turn::Half.to_table(Side::Top), Side::Bottom);
    }

    #[test]
    fn turns_that_ask_the_same_of_the_table_are_kept_once() {
        let problem = Problem::new(demand(200, 100, &[])).expect("fits");
        assert_eq!(problem.shapes(0).len(), 1);
        let problem = Problem::new(demand(200, 100, &[Side::Left])).expect("fits");
        assert_eq!(problem.shapes(0).len(), 2);
    }
}
