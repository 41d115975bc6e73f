//! One piece after another, each from an offcut that serves it, else from a new tile.

use std::cmp::Reverse;

use super::Axis;
use super::board::{Board, Part, Spot};
use super::problem::{Problem, Shape};
use super::steps::Steps;
use crate::measure::Length;

/// How offcuts are chosen and cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Habit {
    pub(super) order: Order,
    pub(super) pick: Pick,
    pub(super) split: Split,
}

/// Which piece comes first.
#[derive(Clone, Copy, Debug)]
pub(super) enum Order {
    /// As they are set.
    Setting,
    /// Largest area first.
    Area,
    /// Widest first, as it lies unturned.
    Width,
    /// Tallest first.
    Height,
    /// By the longer side.
    LongSide,
    /// Those that need most of the tile's sides first, then by area.
    Needs,
}

/// Which offcut is taken of those that serve.
#[derive(Clone, Copy, Debug)]
pub(super) enum Pick {
    /// Of the tile that was cut into first.
    FirstTile,
    /// Of the least area.
    Smallest,
    /// With the fewest sides of the tile's own that the piece does not need, then of the least area.
    SpareSides,
    /// In which the piece leaves the narrowest strip.
    Tightest,
}

/// Which of the two cuts that free a corner comes first.
#[derive(Clone, Copy, Debug)]
pub(super) enum Split {
    /// The one that leaves the largest offcut.
    LargeRest,
    /// The other.
    SmallRest,
    /// Always across x.
    AcrossX,
    /// Always across y.
    AcrossY,
}

/// As a careful tiler cuts: in setting order, each piece from the smallest offcut at hand that serves, and cut
/// so that the largest rest stays whole.
pub(super) const CAREFUL: Habit =
    Habit { order: Order::Setting, pick: Pick::Smallest, split: Split::LargeRest };

/// Every combination of order, pick and split, the most promising first.
pub(super) fn all_habits() -> impl Iterator<Item = Habit> {
    const ORDERS: [Order; 6] =
        [Order::Area, Order::Setting, Order::Needs, Order::LongSide, Order::Width, Order::Height];
    const PICKS: [Pick; 4] = [Pick::Smallest, Pick::SpareSides, Pick::FirstTile, Pick::Tightest];
    const SPLITS: [Split; 4] = [Split::LargeRest, Split::AcrossX, Split::AcrossY, Split::SmallRest];
    let ways = SPLITS.into_iter().flat_map(|split| PICKS.into_iter().map(move |pick| (pick, split)));
    ways.flat_map(|(pick, split)| ORDERS.into_iter().map(move |order| Habit { order, pick, split }))
}

impl Order {
    /// Puts pieces, given in setting order, in this one.
    pub(super) fn sort(self, problem: &Problem, pieces: &mut [usize]) {
        let shape = |piece: &usize| problem.shapes(*piece)[0];
        let area = |piece: &usize| shape(piece).area();
        match self {
            Self::Setting => pieces.sort_unstable(),
            Self::Area => pieces.sort_by_key(|piece| Reverse(area(piece))),
            Self::Width => pieces.sort_by_key(|piece| Reverse((shape(piece).width, area(piece)))),
            Self::Height => pieces.sort_by_key(|piece| Reverse((shape(piece).height, area(piece)))),
            Self::LongSide => pieces.sort_by_key(|piece| {
                let Shape { width, height, .. } = shape(piece);
                Reverse((width.max(height), area(piece)))
            }),
            Self::Needs => {
                pieces.sort_by_key(|piece| Reverse((shape(piece).needs.iter().count(), area(piece))));
            }
        }
    }
}

impl Habit {
    /// Cuts the pieces in the order given, from the boards at hand or from new ones until there are `most`.
    /// Those for which nothing serves are handed back.
    pub(super) fn cut<'p>(
        self,
        problem: &'p Problem,
        pieces: &[usize],
        boards: &mut Vec<Board<'p>>,
        most: usize,
        steps: &mut Steps,
    ) -> Vec<usize> {
        let mut left = Vec::new();
        for &piece in pieces {
            if let Some((board, spot)) = self.best_spot(problem, piece, boards, steps) {
                boards[board].take(piece, spot);
            } else if boards.len() < most {
                let mut board = Board::whole(problem);
                if let Some(spot) = self.spot_on(problem, piece, &board) {
                    board.take(piece, spot);
                }
                boards.push(board);
            } else {
                left.push(piece);
            }
        }
        left
    }

    fn best_spot(
        self,
        problem: &Problem,
        piece: usize,
        boards: &[Board<'_>],
        steps: &mut Steps,
    ) -> Option<(usize, Spot)> {
        let mut best: Option<(Score, usize, usize, Shape)> = None;
        let alone = |piece: usize| problem.pieces()[piece].alone;
        for (index, board) in boards.iter().enumerate() {
            let on_it = board.pieces();
            if !on_it.is_empty() && (alone(piece) || alone(on_it[0])) {
                continue;
            }
            for (part_index, part) in board.offcuts() {
                steps.spend(1);
                for shape in problem.shapes(piece) {
                    if part.serves(shape) {
                        let score = self.pick.score(part, shape);
                        if best.as_ref().is_none_or(|(least, ..)| score < *least) {
                            best = Some((score, index, part_index, *shape));
                        }
                    }
                }
            }
            if best.is_some() && matches!(self.pick, Pick::FirstTile) {
                break;
            }
        }
        best.map(|(_, board, part, shape)| (board, self.spot(boards[board].part(part), part, shape)))
    }

    fn spot_on(self, problem: &Problem, piece: usize, board: &Board<'_>) -> Option<Spot> {
        let whole = board.part(0);
        let shapes = problem.shapes(piece).iter().filter(|shape| whole.serves(shape));
        let shape = shapes.min_by_key(|shape| self.pick.score(whole, shape))?;
        Some(self.spot(whole, 0, *shape))
    }

    fn spot(self, of: &Part, part: usize, shape: Shape) -> Spot {
        let beside = (of.at.width() - shape.width).times(of.at.height());
        let above = (of.at.height() - shape.height).times(of.at.width());
        let first_cut = match self.split {
            Split::LargeRest if beside >= above => Axis::X,
            Split::SmallRest if beside < above => Axis::X,
            Split::AcrossX => Axis::X,
            Split::LargeRest | Split::SmallRest | Split::AcrossY => Axis::Y,
        };
        Spot { part, shape, first_cut }
    }
}

/// Least is best.
type Score = (i128, i128);

impl Pick {
    fn score(self, part: &Part, shape: &Shape) -> Score {
        let area = part.at.width().times(part.at.height());
        match self {
            Self::FirstTile | Self::Smallest => (area, 0),
            Self::SpareSides => {
                let spare = part.own.iter().map(|side| i128::from(!shape.needs.has(side))).sum();
                (spare, area)
            }
            Self::Tightest => {
                let over = [part.at.width() - shape.width, part.at.height() - shape.height];
                let units = |length: Length| i128::from(length.units());
                (units(over[0].min(over[1])), units(over[0].max(over[1])))
            }
        }
    }
}

impl Shape {
    pub(super) fn area(&self) -> i128 {
        self.width.times(self.height)
    }
}

impl Length {
    /// An area, in square units.
    fn times(self, other: Self) -> i128 {
        i128::from(self.units()) * i128::from(other.units())
    }
}
