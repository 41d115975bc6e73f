//! How a tile is cut for some kinds of pieces, before it is said which pieces they are.

use super::Axis;
use super::board::{Board, Spot};
use super::fronts::Room;
use super::kinds::Kinds;
use super::problem::{Problem, Shape};
use crate::measure::Length;

/// A tree of cuts with a piece at each end.
#[derive(Clone, Debug)]
pub(super) enum Layout {
    /// One piece of a kind.
    Piece { kind: usize, shape: Shape },
    /// One cut: the first part on the lower side, as large as what it holds, the second on the upper.
    Cut { across: Axis, parts: Box<(Layout, Layout)> },
}

impl Layout {
    pub(super) fn cut(across: Axis, first: Self, second: Self) -> Self {
        Self::Cut { across, parts: Box::new((first, second)) }
    }

    /// What it takes; nothing where a side that is needed would be cut.
    pub(super) fn room(&self, kerf: Length) -> Option<Room> {
        match self {
            Self::Piece { shape, .. } => Some(Room::of(shape)),
            Self::Cut { across, parts } => parts.0.room(kerf)?.before(&parts.1.room(kerf)?, *across, kerf),
        }
    }

    /// How many pieces of each kind it holds.
    pub(super) fn count(&self, counts: &mut [usize]) {
        match self {
            Self::Piece { kind, .. } => counts[*kind] += 1,
            Self::Cut { parts, .. } => {
                parts.0.count(counts);
                parts.1.count(counts);
            }
        }
    }

    /// What is left of it when no more pieces are cut than are still wanted, which are taken off.
    pub(super) fn only(&self, wanted: &mut [usize]) -> Option<Self> {
        match self {
            Self::Piece { kind, .. } => {
                wanted[*kind] = wanted[*kind].checked_sub(1)?;
                Some(self.clone())
            }
            Self::Cut { across, parts } => match (parts.0.only(wanted), parts.1.only(wanted)) {
                (Some(first), Some(second)) => Some(Self::cut(*across, first, second)),
                (first, second) => first.or(second),
            },
        }
    }

    /// The same cuts with other kinds in the place of some, which are taken off `exchange`.
    pub(super) fn exchanged(&self, kinds: &Kinds<'_>, exchange: &mut Vec<(usize, usize)>) -> Self {
        match self {
            Self::Piece { kind, shape } => {
                let nth = exchange.iter().position(|(from, _)| from == kind);
                let to = nth.map_or(*kind, |nth| exchange.swap_remove(nth).1);
                let own = kinds.all[to].shapes.iter().find(|own| own.serves_for(shape));
                own.map_or_else(|| self.clone(), |own| Self::Piece { kind: to, shape: *own })
            }
            Self::Cut { across, parts } => {
                let first = parts.0.exchanged(kinds, exchange);
                Self::cut(*across, first, parts.1.exchanged(kinds, exchange))
            }
        }
    }

    /// The same of kinds that have other numbers; nothing where one has none.
    pub(super) fn numbered(&self, number: &[Option<usize>]) -> Option<Self> {
        Some(match self {
            Self::Piece { kind, shape } => Self::Piece { kind: number[*kind]?, shape: *shape },
            Self::Cut { across, parts } => {
                Self::cut(*across, parts.0.numbered(number)?, parts.1.numbered(number)?)
            }
        })
    }

    /// Cuts it from the board, each time taking the first of the pieces of that kind.
    pub(super) fn lay(&self, kinds: &Kinds<'_>, pieces: &mut [Vec<usize>], board: &mut Board<'_>) {
        self.lay_in(kinds, pieces, board, 0);
    }

    fn lay_in(&self, kinds: &Kinds<'_>, pieces: &mut [Vec<usize>], board: &mut Board<'_>, part: usize) {
        match self {
            Self::Piece { kind, shape } => {
                let piece = pieces[*kind].remove(0);
                let shapes = kinds.problem.shapes(piece).iter();
                if let Some(&shape) = shapes.into_iter().find(|own| own.lies_like(shape)) {
                    board.take(piece, Spot { part, shape, first_cut: Axis::X });
                }
            }
            Self::Cut { across, parts } => {
                let at = parts.0.ends_at(*across, kinds.problem) + board.part(part).at.at(across.sides().0);
                if let (Some(first), Some(second)) = board.split(part, *across, at) {
                    parts.0.lay_in(kinds, pieces, board, first);
                    parts.1.lay_in(kinds, pieces, board, second);
                }
            }
        }
    }

    fn ends_at(&self, across: Axis, problem: &Problem) -> Length {
        let room = self.room(problem.kerf());
        room.map_or(Length::ZERO, |room| match across {
            Axis::X => room.width,
            Axis::Y => room.height,
        })
    }
}
