//! Which pieces can share a tile, and the groups of pieces that never mix.

use std::collections::BTreeMap;

use super::Axis;
use super::problem::{Problem, Shape};

/// Equal pieces put together, and which kinds can share a tile two by two.
pub(super) struct Sharing<'p> {
    pub(super) problem: &'p Problem,
    kind: Vec<usize>,
    members: Vec<Vec<usize>>,
    shares: Vec<bool>,
}

impl<'p> Sharing<'p> {
    pub(super) fn new(problem: &'p Problem) -> Self {
        let mut known = BTreeMap::new();
        let mut members: Vec<Vec<usize>> = Vec::new();
        let mut kind = Vec::with_capacity(problem.pieces().len());
        for (index, piece) in problem.pieces().iter().enumerate() {
            let key = (piece.width, piece.height, piece.factory, piece.alone);
            let of = *known.entry(key).or_insert(members.len());
            if of == members.len() {
                members.push(Vec::new());
            }
            members[of].push(index);
            kind.push(of);
        }
        let mut shares = vec![false; members.len() * members.len()];
        for (a, of_a) in members.iter().enumerate() {
            for (b, of_b) in members.iter().enumerate().skip(a) {
                let share = can_share(problem, of_a[0], of_b[0]);
                shares[a * members.len() + b] = share;
                shares[b * members.len() + a] = share;
            }
        }
        Self { problem, kind, members, shares }
    }

    /// Which kind the piece is of: equal kind, equal piece.
    pub(super) fn kind(&self, piece: usize) -> usize {
        self.kind[piece]
    }

    /// Whether the two pieces can share a tile.
    pub(super) fn share(&self, a: usize, b: usize) -> bool {
        self.shares[self.kind[a] * self.members.len() + self.kind[b]]
    }

    /// The pieces parted so that only pieces of one group can ever share a tile: the connected components of
    /// "can share". Groups in the order of their first piece, pieces in setting order. All that a racked offcut could
    /// serve are one group, since they compete for it.
    pub(super) fn groups(&self) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.members.len()];
        let mut groups = Vec::new();
        for start in 0..self.members.len() {
            if std::mem::replace(&mut seen[start], true) {
                continue;
            }
            let mut kinds = vec![start];
            let mut next = vec![start];
            while let Some(a) = next.pop() {
                for (b, seen) in seen.iter_mut().enumerate() {
                    if !*seen && self.shares[a * self.members.len() + b] {
                        *seen = true;
                        kinds.push(b);
                        next.push(b);
                    }
                }
            }
            groups.extend(self.pieces_of(&kinds));
        }
        let (mut served, mut groups): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| group.iter().any(|piece| self.rack_serves(*piece)));
        if !served.is_empty() {
            served = vec![served.concat()];
            served[0].sort_unstable();
        }
        groups.extend(served);
        groups.sort();
        groups
    }

    /// Whether the piece can be cut from some offcut on the rack.
    pub(super) fn rack_serves(&self, piece: usize) -> bool {
        self.problem.rack().iter().any(|rack| {
            self.problem.shapes(piece).iter().any(|shape| {
                rack.factory.has_all(shape.needs) && shape.width <= rack.width && shape.height <= rack.height
            })
        })
    }

    /// Together, or each by itself where they cannot even share with their like.
    fn pieces_of(&self, kinds: &[usize]) -> Vec<Vec<usize>> {
        let mut pieces: Vec<usize> = kinds.iter().flat_map(|kind| self.members[*kind].clone()).collect();
        pieces.sort_unstable();
        match kinds {
            [only] if !self.shares[only * self.members.len() + only] => {
                pieces.into_iter().map(|piece| vec![piece]).collect()
            }
            _ => vec![pieces],
        }
    }
}

/// Exact: two pieces share a tile when some cut parts it into a side for each.
fn can_share(problem: &Problem, a: usize, b: usize) -> bool {
    let pieces = problem.pieces();
    let any = |test: &dyn Fn(&Shape, &Shape) -> bool| {
        problem.shapes(a).iter().any(|a| problem.shapes(b).iter().any(|b| test(a, b)))
    };
    !pieces[a].alone
        && !pieces[b].alone
        && any(&|a, b| {
            [Axis::X, Axis::Y]
                .into_iter()
                .any(|across| parted(problem, across, a, b) || parted(problem, across, b, a))
        })
}

/// Whether one cut leaves `first` on the lower side and `second` on the upper.
fn parted(problem: &Problem, across: Axis, first: &Shape, second: &Shape) -> bool {
    let (low_side, high_side) = across.sides();
    let long_enough = match across {
        Axis::X => first.width + problem.kerf() + second.width <= problem.tile_width(),
        Axis::Y => first.height + problem.kerf() + second.height <= problem.tile_height(),
    };
    long_enough && !first.needs.has(high_side) && !second.needs.has(low_side)
}
