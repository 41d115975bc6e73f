//! Exactly which few pieces can be cut from one tile.
//!
//! For a set S of pieces, F(S) is the list of smallest rooms in which S can be cut: width, height and the sides
//! that must be the tile's own, none at least as good as another. For one piece they are its allowed turns. For
//! more, the first cut that parts them leaves A on one side and B on the other, so a room of A beside or above a
//! room of B is one of S, provided that neither needs the side where the blade runs; every cutting has such a
//! first cut, so nothing is missed. A room can be had in every part at least as large that has those sides:
//! what is over goes to a side that nobody needs.

use super::Axis;
use super::board::{Board, Part, Spot};
use super::problem::{Problem, Shape};
use crate::geometry::Sides;
use crate::measure::Length;

/// The most pieces of one set: a front is kept for each of its subsets, 128 of them here.
pub(super) const MOST_TOGETHER: usize = 7;

/// The smallest rooms of one set of pieces; empty when no tile holds them.
#[derive(Clone, Debug, Default)]
pub(super) struct Front(Vec<Room>);

/// What a set of pieces takes when cut in one way.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Room {
    pub(super) width: Length,
    pub(super) height: Length,
    pub(super) needs: Sides,
}

/// The fronts of all subsets of a few pieces. A subset is a number, its pieces the bits.
pub(super) struct Fronts<'p> {
    problem: &'p Problem,
    pieces: Vec<usize>,
    by_set: Vec<Front>,
}

impl<'p> Fronts<'p> {
    /// Of at most [`MOST_TOGETHER`] pieces.
    pub(super) fn new(problem: &'p Problem, pieces: &[usize]) -> Self {
        debug_assert!(pieces.len() <= MOST_TOGETHER, "a front for each subset");
        let mut by_set = vec![Front::default()];
        for set in 1..1_usize << pieces.len() {
            let front = match only(set) {
                Some(bit) => Front::of_one(problem.shapes(pieces[bit])),
                None if has_loner(problem, pieces, set) => Front::default(),
                None => halves(set).fold(Front::default(), |mut front, (a, b)| {
                    front.join(problem, &by_set[a], &by_set[b]);
                    front
                }),
            };
            by_set.push(front);
        }
        Self { problem, pieces: pieces.to_vec(), by_set }
    }

    /// Whether one tile holds the subset.
    pub(super) fn fits(&self, set: usize) -> bool {
        !self.by_set[set].0.is_empty()
    }

    /// Whether an uncut board holds the subset.
    #[cfg(test)]
    pub(super) fn fits_on(&self, set: usize, board: &Board<'_>) -> bool {
        self.by_set[set].0.iter().any(|room| room.goes_into(board.part(0)))
    }

    /// Cuts the subset from one tile, if one holds it.
    pub(super) fn board(&self, set: usize) -> Option<Board<'p>> {
        let mut board = Board::whole(self.problem);
        (self.fits(set) && self.lay(&mut board, 0, set)).then_some(board)
    }

    /// Cuts the subset from a part. It works wherever a room of the subset's front goes into the part.
    fn lay(&self, board: &mut Board<'_>, part: usize, set: usize) -> bool {
        if let Some(bit) = only(set) {
            let piece = self.pieces[bit];
            let shape = self.problem.shapes(piece).iter().find(|shape| board.part(part).serves(shape));
            return shape.is_some_and(|&shape| {
                board.take(piece, Spot { part, shape, first_cut: Axis::X });
                true
            });
        }
        let Some((across, at, first_set)) = self.first_cut(board.part(part), set) else {
            return false;
        };
        match board.split(part, across, at) {
            (Some(first), Some(second)) => {
                self.lay(board, first, first_set) && self.lay(board, second, set & !first_set)
            }
            _ => false,
        }
    }

    /// A cut of the part that leaves a subset room on its lower side and the others room on its upper.
    fn first_cut(&self, part: &Part, set: usize) -> Option<(Axis, Length, usize)> {
        let both_ways = halves(set).flat_map(|(a, b)| [(a, b), (b, a)]);
        both_ways.flat_map(|(a, b)| [(a, b, Axis::X), (a, b, Axis::Y)]).find_map(|(a, b, across)| {
            let rooms_a = self.by_set[a].0.iter();
            let mut pairs = rooms_a.flat_map(|a| self.by_set[b].0.iter().map(move |b| (a, b)));
            let (room, _) = pairs.find(|(a, b)| {
                a.before(b, across, self.problem.kerf()).is_some_and(|room| room.goes_into(part))
            })?;
            let at = match across {
                Axis::X => part.at.left + room.width,
                Axis::Y => part.at.bottom + room.height,
            };
            Some((across, at, a))
        })
    }
}

impl Front {
    fn of_one(shapes: &[Shape]) -> Self {
        let mut front = Self::default();
        for shape in shapes {
            front.add(Room::of(shape));
        }
        front
    }

    /// Adds every room that one of `a` and one of `b` make with a single cut between them.
    fn join(&mut self, problem: &Problem, a: &Self, b: &Self) {
        for one in &a.0 {
            for two in &b.0 {
                for across in [Axis::X, Axis::Y] {
                    let rooms =
                        [one.before(two, across, problem.kerf()), two.before(one, across, problem.kerf())];
                    for room in rooms.into_iter().flatten() {
                        if room.width <= problem.tile_width() && room.height <= problem.tile_height() {
                            self.add(room);
                        }
                    }
                }
            }
        }
    }

    fn add(&mut self, room: Room) {
        if !self.0.iter().any(|known| known.serves_as(&room)) {
            self.0.retain(|known| !room.serves_as(known));
            self.0.push(room);
        }
    }
}

impl Room {
    pub(super) const fn of(&Shape { width, height, needs, .. }: &Shape) -> Self {
        Self { width, height, needs }
    }

    /// This on the lower side of a cut and `other` on the upper, unless one needs the side where the blade runs.
    pub(super) fn before(&self, other: &Self, across: Axis, kerf: Length) -> Option<Self> {
        let (low_side, high_side) = across.sides();
        if self.needs.has(high_side) || other.needs.has(low_side) {
            return None;
        }
        let needs = self.needs.or(other.needs);
        Some(match across {
            Axis::X => {
                Self { width: self.width + kerf + other.width, height: self.height.max(other.height), needs }
            }
            Axis::Y => {
                Self { width: self.width.max(other.width), height: self.height + kerf + other.height, needs }
            }
        })
    }

    /// Whether it is at most as large and needs no side that the other does not.
    pub(super) fn serves_as(&self, other: &Self) -> bool {
        self.width <= other.width && self.height <= other.height && other.needs.has_all(self.needs)
    }

    pub(super) fn goes_into(&self, part: &Part) -> bool {
        self.width <= part.at.width() && self.height <= part.at.height() && part.own.has_all(self.needs)
    }
}

/// The only member of a set of one.
fn only(set: usize) -> Option<usize> {
    set.is_power_of_two().then(|| (0..MOST_TOGETHER).find(|bit| set == 1 << bit)).flatten()
}

/// Every way to part a set in two, each once.
fn halves(set: usize) -> impl Iterator<Item = (usize, usize)> {
    let lowest = set & set.wrapping_neg();
    std::iter::successors(Some((set - 1) & set), move |half| (*half > 0).then(|| (half - 1) & set))
        .filter(move |half| half & lowest != 0)
        .map(move |half| (half, set & !half))
}

fn has_loner(problem: &Problem, pieces: &[usize], set: usize) -> bool {
    pieces.iter().enumerate().any(|(bit, &piece)| set & (1 << bit) != 0 && problem.pieces()[piece].alone)
}
