//! Asking whether to go on, every so often.

use std::ops::ControlFlow;

/// Pieces placed, or as much other work, between two questions: a few milliseconds.
const BETWEEN: usize = 500;

/// Whoever waits for the answer.
pub(super) struct Watch<'a> {
    ask: &'a mut dyn FnMut() -> ControlFlow<()>,
    since: usize,
    stopped: bool,
}

impl<'a> Watch<'a> {
    pub(super) fn new(ask: &'a mut dyn FnMut() -> ControlFlow<()>) -> Self {
        Self { ask, since: 0, stopped: false }
    }

    /// Whether to go on after so much work; once told to stop, never again.
    pub(super) fn go_on(&mut self, work: usize) -> bool {
        self.since += work;
        if !self.stopped && self.since >= BETWEEN {
            self.since = 0;
            self.stopped = (self.ask)().is_break();
        }
        !self.stopped
    }

    /// Asks now.
    pub(super) fn ask(&mut self) -> bool {
        self.go_on(BETWEEN)
    }

    /// The same as an answer to be passed on.
    pub(super) fn answer(&mut self) -> ControlFlow<()> {
        if self.ask() { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    }

    pub(super) const fn is_stopped(&self) -> bool {
        self.stopped
    }
}
