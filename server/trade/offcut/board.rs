//! One tile on the table and how it is cut so far: a tree of parts, each with the sides that are the tile's own.

use std::rc::Rc;

use super::layout::Layout;
use super::problem::{Problem, Shape};
use super::{Axis, Cut, Place, Stock, Turn};
use crate::geometry::{Rect, Side, Sides};
use crate::measure::Length;

/// A tile being cut. A copy is cheap: plans are tried by the thousand, and most of their tiles stay as they are.
#[derive(Clone, Debug)]
pub(super) struct Board<'p> {
    problem: &'p Problem,
    /// The racked offcut that it is, if it is not a new tile.
    rack: Option<usize>,
    tree: Rc<Tree>,
}

/// Parts are only ever added, so an index stays good; part 0 is the whole tile.
#[derive(Clone, Debug)]
struct Tree {
    parts: Vec<Part>,
    offcuts: Vec<usize>,
    pieces: Vec<usize>,
}

/// A rectangle that lies on the table at some moment.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    pub(super) at: Rect,
    /// Its sides that are the tile's own.
    pub(super) own: Sides,
    state: State,
}

#[derive(Clone, Copy, Debug)]
enum State {
    Free,
    Holds { piece: usize, turn: Turn },
    Cut { across: Axis, at: Length, first: Option<usize>, second: Option<usize> },
}

/// Where a piece could be taken from, how it would lie there, and which cut comes first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) part: usize,
    pub(super) shape: Shape,
    pub(super) first_cut: Axis,
}

impl<'p> Board<'p> {
    /// A whole tile, uncut.
    pub(super) fn whole(problem: &'p Problem) -> Self {
        Self::uncut(problem, None, problem.tile_width(), problem.tile_height(), Sides::ALL)
    }

    /// A racked offcut as it lies: an index into [`Problem::rack`].
    pub(super) fn racked(problem: &'p Problem, rack: usize) -> Self {
        let offcut = &problem.rack()[rack];
        Self::uncut(problem, Some(rack), offcut.width, offcut.height, offcut.factory)
    }

    fn uncut(problem: &'p Problem, rack: Option<usize>, width: Length, height: Length, own: Sides) -> Self {
        let at = Rect { right: width, top: height, ..Rect::default() };
        let parts = vec![Part { at, own, state: State::Free }];
        let offcuts = if problem.is_of_use(at, own) { vec![0] } else { Vec::new() };
        Self { problem, rack, tree: Rc::new(Tree { parts, offcuts, pieces: Vec::new() }) }
    }

    /// The racked offcut that it is, if it is not a new tile.
    pub(super) const fn rack(&self) -> Option<usize> {
        self.rack
    }

    /// As it was before the first cut.
    pub(super) fn emptied(&self) -> Self {
        match self.rack {
            None => Self::whole(self.problem),
            Some(rack) => Self::racked(self.problem, rack),
        }
    }

    /// The pieces cut from it, in the order they were placed.
    pub(super) fn pieces(&self) -> &[usize] {
        &self.tree.pieces
    }

    /// The parts at hand from which at least one piece of the problem can be cut.
    pub(super) fn offcuts(&self) -> impl Iterator<Item = (usize, &Part)> {
        self.tree.offcuts.iter().map(|&index| (index, &self.tree.parts[index]))
    }

    /// The part as it lies.
    pub(super) fn part(&self, index: usize) -> &Part {
        &self.tree.parts[index]
    }

    /// Cuts a free part in two; what the blade leaves nothing of is no part.
    pub(super) fn split(&mut self, part: usize, across: Axis, at: Length) -> (Option<usize>, Option<usize>) {
        let Part { at: whole, own, .. } = *self.part(part);
        let second_from = at + self.problem.kerf();
        let (low, high) = across.ends(whole);
        let (low_side, high_side) = across.sides();
        let first = (at > low).then(|| self.add(across.with_ends(whole, low, at), own.without(high_side)));
        let second = (second_from < high)
            .then(|| self.add(across.with_ends(whole, second_from, high), own.without(low_side)));
        self.settle(part, State::Cut { across, at, first, second });
        (first, second)
    }

    /// Takes the piece out of a part that serves it.
    pub(super) fn take(&mut self, piece: usize, spot: Spot) {
        let target = self.part(spot.part).seat(&spot.shape);
        let strip = self.trim(spot.part, spot.first_cut, target);
        let exact = self.trim(strip, spot.first_cut.other(), target);
        self.settle(exact, State::Holds { piece, turn: spot.shape.turn });
        Rc::make_mut(&mut self.tree).pieces.push(piece);
    }

    /// Cuts away what is beside `target`, which lies at one end of the part; the part that is left.
    fn trim(&mut self, part: usize, across: Axis, target: Rect) -> usize {
        let (low, high) = across.ends(self.part(part).at);
        let (from, to) = across.ends(target);
        let kept = if to < high {
            self.split(part, across, to).0
        } else if from > low {
            self.split(part, across, from - self.problem.kerf()).1
        } else {
            None
        };
        kept.unwrap_or(part)
    }

    fn add(&mut self, at: Rect, own: Sides) -> usize {
        let tree = Rc::make_mut(&mut self.tree);
        let index = tree.parts.len();
        tree.parts.push(Part { at, own, state: State::Free });
        if self.problem.is_of_use(at, own) {
            tree.offcuts.push(index);
        }
        index
    }

    fn settle(&mut self, part: usize, state: State) {
        let tree = Rc::make_mut(&mut self.tree);
        tree.offcuts.retain(|index| *index != part);
        tree.parts[part].state = state;
    }

    /// Gives the place of one piece to another of the same kind.
    pub(super) fn rename(&mut self, old: usize, new: usize) {
        let tree = Rc::make_mut(&mut self.tree);
        for part in &mut tree.parts {
            if let State::Holds { piece, .. } = &mut part.state
                && *piece == old
            {
                *piece = new;
            }
        }
        for piece in tree.pieces.iter_mut().filter(|piece| **piece == old) {
            *piece = new;
        }
    }

    /// How many cuts it takes.
    pub(super) fn cuts(&self) -> usize {
        self.tree.parts.iter().filter(|part| matches!(part.state, State::Cut { .. })).count()
    }

    /// How it is cut, each piece told by its kind; nothing when nothing is cut from it.
    pub(super) fn layout(&self, kind_of: &dyn Fn(usize) -> usize) -> Option<Layout> {
        self.layout_of(0, kind_of)
    }

    fn layout_of(&self, part: usize, kind_of: &dyn Fn(usize) -> usize) -> Option<Layout> {
        match self.part(part).state {
            State::Free => None,
            State::Holds { piece, turn } => {
                let shape = self.problem.shapes(piece).iter().find(|shape| shape.turn == turn)?;
                Some(Layout::Piece { kind: kind_of(piece), shape: *shape })
            }
            State::Cut { across, first, second, .. } => {
                let of = |part: Option<usize>| part.and_then(|part| self.layout_of(part, kind_of));
                match (of(first), of(second)) {
                    (Some(first), Some(second)) => Some(Layout::cut(across, first, second)),
                    (first, second) => first.or(second),
                }
            }
        }
    }

    /// The plan of this tile: places in setting order, cuts in an order in which each part exists when it is cut.
    pub(super) fn stock(&self) -> Stock {
        let mut stock = Stock { rack: self.rack, ..Stock::default() };
        let mut next = vec![0];
        while let Some(index) = next.pop() {
            let part = self.part(index);
            match part.state {
                State::Free => {}
                State::Holds { piece, turn } => stock.places.push(Place { piece, at: part.at, turn }),
                State::Cut { across, at, first, second } => {
                    stock.cuts.push(Cut { part: part.at, across, at });
                    next.extend(second);
                    next.extend(first);
                }
            }
        }
        stock.places.sort_by_key(|place| place.piece);
        stock
    }
}

impl Part {
    /// Whether a piece lying so can be taken out of it. (Who needs two opposite sides is as long as the tile, and
    /// so is every part that has both.)
    pub(super) fn serves(&self, shape: &Shape) -> bool {
        self.own.has_all(shape.needs) && shape.width <= self.at.width() && shape.height <= self.at.height()
    }

    /// Where the piece lies in it: at the sides it needs, otherwise so that what is left keeps a side of the
    /// tile that someone else may need.
    fn seat(&self, shape: &Shape) -> Rect {
        let (left, right) = self.span(Axis::X, shape.needs, shape.width);
        let (bottom, top) = self.span(Axis::Y, shape.needs, shape.height);
        Rect { left, bottom, right, top }
    }

    fn span(&self, across: Axis, needs: Sides, size: Length) -> (Length, Length) {
        let (low, high) = across.ends(self.at);
        let (low_side, high_side) = across.sides();
        let spares_low = self.own.has(low_side) && !self.own.has(high_side);
        if needs.has(high_side) || (spares_low && !needs.has(low_side)) {
            (high - size, high)
        } else {
            (low, low + size)
        }
    }
}

impl Axis {
    /// The other direction.
    pub(super) const fn other(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }

    /// The sides that face along it, lower first.
    pub(super) const fn sides(self) -> (Side, Side) {
        match self {
            Self::X => (Side::Left, Side::Right),
            Self::Y => (Side::Bottom, Side::Top),
        }
    }

    const fn ends(self, rect: Rect) -> (Length, Length) {
        match self {
            Self::X => (rect.left, rect.right),
            Self::Y => (rect.bottom, rect.top),
        }
    }

    const fn with_ends(self, rect: Rect, low: Length, high: Length) -> Rect {
        match self {
            Self::X => Rect { left: low, right: high, ..rect },
            Self::Y => Rect { bottom: low, top: high, ..rect },
        }
    }
}
