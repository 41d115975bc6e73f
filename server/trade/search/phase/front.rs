//! The choices that no other beats on every measure.

use super::tally::Tally;

/// Choices with what they come to, none at least as good as another on every measure.
pub(super) struct Front<T> {
    choices: Vec<(Tally, T)>,
}

impl<T> Front<T> {
    pub(super) const fn new() -> Self {
        Self { choices: Vec::new() }
    }

    /// Adds a choice unless one here is as good on every measure; drops those it beats. Among equals the first stays.
    pub(super) fn offer(&mut self, tally: Tally, choice: impl FnOnce() -> T) {
        let costs = tally.costs();
        let beaten = |known: &[i64; 8], by: &[i64; 8]| known.iter().zip(by).all(|(known, by)| by <= known);
        if let Some(at) = self.choices.iter().position(|(known, _)| beaten(&costs, &known.costs())) {
            // What beats one choice will likely beat the next.
            self.choices.swap(0, at);
            return;
        }
        self.choices.retain(|(known, _)| !beaten(&known.costs(), &costs));
        self.choices.push((tally, choice()));
    }

    pub(super) fn choices(&self) -> &[(Tally, T)] {
        &self.choices
    }

    pub(super) fn into_choices(self) -> Vec<(Tally, T)> {
        self.choices
    }
}
