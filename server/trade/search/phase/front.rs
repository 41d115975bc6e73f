//! The choices that no other beats on every measure.

use super::tally::Tally;

/// Choices with what they come to, none at least as good as another on every measure.
pub(super) struct Front<T> {
    choices: Vec<Choice<T>>,
}

struct Choice<T> {
    costs: Costs,
    tally: Tally,
    choice: T,
}

type Costs = [i64; 8];

fn as_good(one: &Costs, other: &Costs) -> bool {
    one.iter().zip(other).all(|(one, other)| one <= other)
}

/// Whether all choices are there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Complete {
    Yes,
    No,
}

impl<T> Front<T> {
    pub(super) const fn new() -> Self {
        Self { choices: Vec::new() }
    }

    /// Whether a choice here is at least as good on every measure.
    pub(super) fn beats(&mut self, tally: &Tally) -> bool {
        let costs = tally.costs();
        let better = self.choices.iter().position(|known| as_good(&known.costs, &costs));
        if let Some(at) = better {
            // What beats one choice will likely beat the next.
            self.choices.swap(at / 2, at);
        }
        better.is_some()
    }

    /// Adds a choice unless one here is as good on every measure; drops those it beats. Among equals the first stays.
    pub(super) fn offer(&mut self, tally: Tally, choice: impl FnOnce() -> T) {
        if self.beats(&tally) {
            return;
        }
        let costs = tally.costs();
        self.choices.retain(|known| !as_good(&costs, &known.costs));
        self.choices.push(Choice { costs, tally, choice: choice() });
    }

    pub(super) fn choices(&self) -> impl Iterator<Item = (&Tally, &T)> {
        self.choices.iter().map(|known| (&known.tally, &known.choice))
    }

    /// At most so many of the choices: the best by each figure, then the next best by each.
    pub(super) fn thinned(mut self, most: usize) -> (Vec<(Tally, T)>, Complete) {
        let complete = if self.choices.len() <= most { Complete::Yes } else { Complete::No };
        let mut kept = Vec::new();
        let figures = Tally::NOTHING.costs().len();
        for figure in (0..figures).cycle().take(most.min(self.choices.len())) {
            let key = |at: &usize| (self.choices[*at].costs[figure], self.choices[*at].costs);
            let best = (0..self.choices.len()).min_by_key(key);
            kept.extend(best.map(|at| self.choices.swap_remove(at)));
        }
        (kept.into_iter().map(|known| (known.tally, known.choice)).collect(), complete)
    }
}
