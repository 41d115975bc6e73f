//! Of many layouts those that no other beats, and a few of them that stand for all.

use std::collections::BTreeSet;

use super::{Figures, Priorities};

/// Figures as costs, the most important measure first: less is better in each.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Cost([i64; 8]);

impl Cost {
    /// Costs in the order of their importance.
    pub(super) const fn new(costs: [i64; 8]) -> Self {
        Self(costs)
    }

    pub(super) fn of(figures: &Figures, priorities: &Priorities) -> Self {
        Self(priorities.in_order().map(|measure| measure.cost(figures)))
    }

    /// Whether it is nowhere worse, and better in something.
    pub(super) fn beats(&self, other: &Self) -> bool {
        self != other && self.0.iter().zip(&other.0).all(|(mine, theirs)| mine <= theirs)
    }
}

/// What no other beats, the best first by the order of the measures; of those that are alike in everything the one
/// given first.
pub(super) fn front<T>(mut all: Vec<(Cost, T)>) -> Vec<(Cost, T)> {
    all.sort_by_key(|(cost, _)| *cost);
    all.dedup_by_key(|(cost, _)| *cost);
    let mut kept: Vec<(Cost, T)> = Vec::new();
    // Whatever beats another comes before it in this order.
    for (cost, one) in all {
        if !kept.iter().any(|(better, _)| better.beats(&cost)) {
            kept.push((cost, one));
        }
    }
    kept
}

/// At most `most` of a front, in its order: the first, the best of each measure, and then each time the one that
/// is least like those taken already.
pub(super) fn thinned<T>(front: Vec<(Cost, T)>, most: usize) -> Vec<(Cost, T)> {
    if front.len() <= most {
        return front;
    }
    let places = places(front.iter().map(|(cost, _)| cost));
    let mut taken = BTreeSet::from([0]);
    for measure in 0..8 {
        let best = (0..places.len()).min_by_key(|&one| (places[one][measure], one));
        taken.extend(best.filter(|_| taken.len() < most));
    }
    let apart = |one: usize, other: usize| {
        places[one].iter().zip(&places[other]).map(|(a, b)| a.abs_diff(*b)).sum::<usize>()
    };
    let mut nearest: Vec<usize> = (0..places.len())
        .map(|one| taken.iter().map(|&other| apart(one, other)).min().unwrap_or(0))
        .collect();
    while taken.len() < most {
        let next = (0..places.len())
            .filter(|one| !taken.contains(one))
            .max_by_key(|&one| (nearest[one], std::cmp::Reverse(one)));
        let Some(next) = next else { break };
        taken.insert(next);
        for (one, distance) in nearest.iter_mut().enumerate() {
            *distance = (*distance).min(apart(one, next));
        }
    }
    front.into_iter().enumerate().filter(|(one, _)| taken.contains(one)).map(|(_, kept)| kept).collect()
}

/// Where each stands among all in each measure, from 0 to 1000, so that measures can be compared.
fn places<'c>(costs: impl Iterator<Item = &'c Cost> + Clone) -> Vec<[usize; 8]> {
    let mut places = vec![[0; 8]; costs.clone().count()];
    for measure in 0..8 {
        let values: BTreeSet<i64> = costs.clone().map(|cost| cost.0[measure]).collect();
        let values: Vec<i64> = values.into_iter().collect();
        for (place, cost) in places.iter_mut().zip(costs.clone()) {
            let rank = values.binary_search(&cost.0[measure]).unwrap_or(0);
            place[measure] = rank * 1000 / (values.len() - 1).max(1);
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn costs() -> impl Strategy<Value = Vec<(Cost, usize)>> {
        let cost = prop::collection::vec(0..4_i64, 8);
        prop::collection::vec(cost, 1..60).prop_map(|costs| {
            let cost = |(one, cost): (usize, Vec<i64>)| (Cost(cost.try_into().expect("eight")), one);
            costs.into_iter().enumerate().map(cost).collect()
        })
    }

    proptest! {
        #[test]
        fn whatever_is_left_out_of_a_front_is_beaten_by_something_in_it_or_alike(all in costs()) {
            let kept = front(all.clone());
            for (cost, _) in &all {
                prop_assert!(kept.iter().any(|(better, _)| better == cost || better.beats(cost)));
            }
            for (cost, _) in &kept {
                prop_assert!(!all.iter().any(|(other, _)| other.beats(cost)));
            }
        }

        #[test]
        fn a_thinned_front_keeps_the_first_and_the_best_of_each_measure(all in costs(), most in 9..12_usize) {
            let whole = front(all);
            let few = thinned(whole.clone(), most);
            prop_assert_eq!(few.len(), whole.len().min(most));
            prop_assert_eq!(few[0].1, whole[0].1);
            for measure in 0..8 {
                let best = |front: &[(Cost, usize)]| front.iter().map(|(cost, _)| cost.0[measure]).min();
                prop_assert_eq!(best(&few), best(&whole));
            }
        }
    }
}
