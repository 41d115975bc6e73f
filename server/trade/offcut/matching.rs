//! The most pairs that can be made, after J. Edmonds, "Paths, trees, and flowers", 1965.

use std::collections::VecDeque;

use super::steps::Steps;

/// Pairs of things `0..n`.
pub(super) struct Pairs {
    /// The partner of each.
    pub(super) mate: Vec<Option<usize>>,
    /// No other pairing makes more pairs. Not known when the steps ran out.
    pub(super) most: bool,
}

/// Pairs up `0..n` where `share` allows.
///
/// It starts with each in turn taking the last partner that it can share with. When the things are sorted by
/// size, the largest first, and sharing asks for size alone, that is two pointers and already the most: what fits
/// beside the largest fits beside any other, so in a best pairing the largest may be given the smallest, and
/// whoever loses the smallest takes the largest's old partner. Then pairs are changed along
/// augmenting paths until there are none, which is the most whatever sharing asks for.
pub(super) fn most_pairs(n: usize, share: impl Fn(usize, usize) -> bool, steps: &mut Steps) -> Pairs {
    let mut search = Search {
        share,
        mate: vec![None; n],
        parent: vec![None; n],
        base: (0..n).collect(),
        reached: vec![false; n],
        done: vec![false; n],
    };
    search.pair_in_turn();
    let mut most = true;
    for root in 0..n {
        if search.mate[root].is_none() && !search.done[root] {
            match search.augment(root, steps) {
                Some(true) => {}
                // No path from here crosses what this search reached, now or later: leave it out from now on.
                Some(false) => search.retire(),
                None => {
                    most = false;
                    break;
                }
            }
        }
    }
    Pairs { mate: search.mate, most }
}

struct Search<S> {
    share: S,
    mate: Vec<Option<usize>>,
    /// How an inner node was reached in the tree being grown.
    parent: Vec<Option<usize>>,
    /// The base of the blossom that a node lies in.
    base: Vec<usize>,
    reached: Vec<bool>,
    done: Vec<bool>,
}

impl<S: Fn(usize, usize) -> bool> Search<S> {
    fn pair_in_turn(&mut self) {
        let n = self.mate.len();
        for a in 0..n {
            if self.mate[a].is_none()
                && let Some(b) = (a + 1..n).rev().find(|&b| self.mate[b].is_none() && (self.share)(a, b))
            {
                self.mate[a] = Some(b);
                self.mate[b] = Some(a);
            }
        }
    }

    /// Whether one more pair was made from a path that starts at `root`; `None` when the steps ran out.
    fn augment(&mut self, root: usize, steps: &mut Steps) -> Option<bool> {
        let n = self.mate.len();
        self.parent.fill(None);
        self.reached.fill(false);
        for (node, base) in self.base.iter_mut().enumerate() {
            *base = node;
        }
        self.reached[root] = true;
        let mut next = VecDeque::from([root]);
        while let Some(node) = next.pop_front() {
            if !steps.spend(n) {
                return None;
            }
            for to in 0..n {
                if self.done[to]
                    || to == node
                    || !(self.share)(node, to)
                    || self.base[node] == self.base[to]
                    || self.mate[node] == Some(to)
                {
                    continue;
                }
                let outer = to == root || self.mate[to].is_some_and(|mate| self.parent[mate].is_some());
                if outer {
                    self.shrink(node, to, &mut next);
                } else if self.parent[to].is_none() {
                    self.parent[to] = Some(node);
                    match self.mate[to] {
                        None => {
                            self.flip(to);
                            return Some(true);
                        }
                        Some(mate) => {
                            self.reached[mate] = true;
                            next.push_back(mate);
                        }
                    }
                }
            }
        }
        Some(false)
    }

    /// An odd cycle closed between `a` and `b`: all on it become outer.
    fn shrink(&mut self, a: usize, b: usize, next: &mut VecDeque<usize>) {
        let stem = self.common_base(a, b);
        let mut on_cycle = vec![false; self.mate.len()];
        self.mark(a, stem, b, &mut on_cycle);
        self.mark(b, stem, a, &mut on_cycle);
        for node in 0..self.mate.len() {
            if on_cycle[self.base[node]] {
                self.base[node] = stem;
                if !std::mem::replace(&mut self.reached[node], true) {
                    next.push_back(node);
                }
            }
        }
    }

    fn common_base(&self, a: usize, b: usize) -> usize {
        let mut above = vec![false; self.mate.len()];
        let mut node = Some(a);
        while let Some(at) = node {
            let base = self.base[at];
            above[base] = true;
            node = self.outer_above(base);
        }
        let mut base = self.base[b];
        while !above[base] {
            match self.outer_above(base) {
                Some(up) => base = self.base[up],
                None => break,
            }
        }
        base
    }

    /// The next outer node towards the root.
    fn outer_above(&self, node: usize) -> Option<usize> {
        self.mate[node].and_then(|mate| self.parent[mate])
    }

    fn mark(&mut self, from: usize, stem: usize, child: usize, on_cycle: &mut [bool]) {
        let (mut node, mut child) = (from, child);
        while self.base[node] != stem {
            let Some(mate) = self.mate[node] else { break };
            on_cycle[self.base[node]] = true;
            on_cycle[self.base[mate]] = true;
            self.parent[node] = Some(child);
            child = mate;
            match self.parent[mate] {
                Some(up) => node = up,
                None => break,
            }
        }
    }

    fn flip(&mut self, end: usize) {
        let mut node = Some(end);
        while let Some(to) = node {
            let from = self.parent[to];
            node = from.and_then(|from| self.mate[from]);
            self.mate[to] = from;
            if let Some(from) = from {
                self.mate[from] = Some(to);
            }
        }
    }

    fn retire(&mut self) {
        for node in 0..self.mate.len() {
            if self.reached[node] || self.parent[node].is_some() {
                self.done[node] = true;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn most_by_hand(free: usize, share: &[Vec<bool>]) -> usize {
        let Some(a) = (0..share.len()).find(|a| free & (1 << a) != 0) else { return 0 };
        let free = free & !(1 << a);
        let paired = (0..share.len())
            .filter(|b| free & (1 << b) != 0 && share[a][*b])
            .map(|b| 1 + most_by_hand(free & !(1 << b), share));
        paired.chain([most_by_hand(free, share)]).max().unwrap_or(0)
    }

    proptest! {
        #[test]
        fn as_many_pairs_as_trying_everything_finds(n in 1_usize..10, bits in prop::collection::vec(0_u8..3, 100)) {
            let share: Vec<Vec<bool>> =
                (0..n).map(|a| (0..n).map(|b| a != b && bits[a.min(b) * 10 + a.max(b)] == 0).collect()).collect();
            let pairs = most_pairs(n, |a, b| share[a][b], &mut Steps::of(1_000_000));
            prop_assert!(pairs.most);
            let made = pairs.mate.iter().flatten().count() / 2;
            prop_assert_eq!(made, most_by_hand((1 << n) - 1, &share));
            for (a, mate) in pairs.mate.iter().enumerate() {
                if let Some(b) = *mate {
                    prop_assert!(share[a][b]);
                    prop_assert_eq!(pairs.mate[b], Some(a));
                }
            }
        }
    }
}
