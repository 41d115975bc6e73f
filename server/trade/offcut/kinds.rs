//! Equal pieces put together, so that a plan need only say how many of each kind come from a tile.

use std::collections::BTreeMap;

use super::problem::{Problem, Shape};

/// The kinds of some pieces, the one with the earliest piece first.
pub(super) struct Kinds<'p> {
    pub(super) problem: &'p Problem,
    pub(super) all: Vec<Kind<'p>>,
}

/// Pieces that ask the same of the table, however they are turned on the wall.
pub(super) struct Kind<'p> {
    /// In setting order.
    pub(super) pieces: Vec<usize>,
    pub(super) shapes: &'p [Shape],
    /// Each has its tile alone.
    pub(super) alone: bool,
}

/// A kind that may be cut in the place of another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Swap {
    /// The larger.
    pub(super) from: usize,
    /// The smaller, which comes in its place.
    pub(super) to: usize,
}

impl<'p> Kinds<'p> {
    /// Of pieces in setting order.
    pub(super) fn new(problem: &'p Problem, group: &[usize]) -> Self {
        let mut known = BTreeMap::new();
        let mut all: Vec<Kind<'p>> = Vec::new();
        for &piece in group {
            let shapes = problem.shapes(piece);
            let alone = problem.pieces()[piece].alone;
            let mut asks: Vec<_> =
                shapes.iter().map(|shape| (shape.width, shape.height, shape.needs)).collect();
            asks.sort_unstable();
            let kind = *known.entry((asks, alone)).or_insert(all.len());
            if kind == all.len() {
                all.push(Kind { pieces: Vec::new(), shapes, alone });
            }
            all[kind].pieces.push(piece);
        }
        Self { problem, all }
    }

    /// Where one kind may always be cut in the place of another: for each kind the next smaller ones, as far as they are
    /// few. Those smaller yet follow from several such steps.
    pub(super) fn swaps(&self) -> Vec<Swap> {
        const MOST: usize = 4;
        let mut by_size: Vec<usize> = (0..self.all.len()).collect();
        by_size.sort_by_key(|kind| (self.all[*kind].shapes[0].area(), *kind));
        let mut swaps = Vec::new();
        for (nth, &from) in by_size.iter().enumerate() {
            let mut next: Vec<usize> = Vec::new();
            for &to in by_size[..nth].iter().rev() {
                if next.len() < MOST
                    && self.serves_for(to, from)
                    && !next.iter().any(|between| self.serves_for(to, *between))
                {
                    next.push(to);
                }
            }
            swaps.extend(next.into_iter().map(|to| Swap { from, to }));
        }
        swaps.sort_unstable_by_key(|swap| (swap.from, swap.to));
        swaps
    }

    /// Whether wherever the other can be cut this can.
    fn serves_for(&self, kind: usize, other: usize) -> bool {
        let (kind, other) = (&self.all[kind], &self.all[other]);
        let served = |shape: &Shape| kind.shapes.iter().any(|own| own.serves_for(shape));
        !kind.alone && !other.alone && other.shapes.iter().all(served)
    }

    /// How many of each are wanted.
    pub(super) fn counts(&self) -> Vec<usize> {
        self.all.iter().map(|kind| kind.pieces.len()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offcut::rooms;

    #[test]
    fn wherever_a_kind_is_cut_those_that_stand_in_for_it_can_be() {
        for seed in 0..8 {
            let problem = Problem::new(rooms::room(seed, 80)).expect("can be cut");
            let kinds = Kinds::new(&problem, &(0..problem.pieces().len()).collect::<Vec<_>>());
            let swaps = kinds.swaps();
            assert!(!swaps.is_empty(), "room {seed}");
            for Swap { from, to } in swaps {
                assert!(!kinds.all[from].alone && !kinds.all[to].alone);
                for place in kinds.all[from].shapes {
                    let fits = |own: &Shape| {
                        own.width <= place.width
                            && own.height <= place.height
                            && place.needs.has_all(own.needs)
                    };
                    assert!(kinds.all[to].shapes.iter().any(fits), "room {seed}: {to} for {from}");
                }
            }
        }
    }

    #[test]
    fn a_piece_larger_in_one_direction_stands_in_for_none() {
        let mut demand = rooms::stock(600, &[200, 300]);
        demand.pieces[1].height = crate::measure::Length::mm(50);
        let problem = Problem::new(demand).expect("can be cut");
        assert!(Kinds::new(&problem, &[0, 1]).swaps().is_empty());
    }
}
