//! Counted work and repeatable chance, so that the same problem gives the same plan on any machine.

use std::cell::RefCell;
use std::ops::ControlFlow;

use super::solve::Progress;

/// What may still be spent. A step is about one comparison of a piece with a part.
pub(super) struct Steps<'w> {
    left: usize,
    watch: Option<&'w dyn Watches>,
}

trait Watches {
    /// Whether to go on after so many more steps.
    fn spend(&self, count: usize) -> bool;
}

/// Asks every so often whether to go on.
pub(super) struct Watch<'w>(RefCell<Watching<'w>>);

struct Watching<'w> {
    go_on: &'w mut dyn FnMut(Progress) -> ControlFlow<()>,
    progress: Progress,
    /// Steps since it was last asked.
    since: usize,
    /// Steps that may still be spent in all.
    left: usize,
    /// Of those, what is kept for later.
    kept: usize,
    stopped: bool,
}

/// Numbers as good as drawn by lot, the same at every run (splitmix64, S. Vigna, from memory).
pub(super) struct Chance(u64);

/// Steps from one question to the next: a few milliseconds.
const ASK_EVERY: usize = 500_000;

impl<'w> Watch<'w> {
    /// Over so many steps in all.
    pub(super) fn new(go_on: &'w mut dyn FnMut(Progress) -> ControlFlow<()>, left: usize) -> Self {
        let progress = Progress { tiles: 0, bound: 0 };
        Self(RefCell::new(Watching { go_on, progress, since: 0, left, kept: 0, stopped: false }))
    }

    /// So many steps, fewer if told to stop.
    pub(super) const fn steps<'s>(&'s self, most: usize) -> Steps<'s> {
        Steps { left: most, watch: Some(self) }
    }

    /// Steps that are left for now.
    pub(super) fn left(&self) -> usize {
        let watching = self.0.borrow();
        watching.left.saturating_sub(watching.kept)
    }

    /// Keeps half of what is left for later, or nothing.
    pub(super) fn keep_half(&self, keep: bool) {
        let mut watching = self.0.borrow_mut();
        watching.kept = if keep { watching.left / 2 } else { 0 };
    }

    /// Makes known how far planning has come.
    pub(super) fn reached(&self, progress: Progress) {
        self.0.borrow_mut().progress = progress;
    }
}

impl Watches for Watch<'_> {
    fn spend(&self, count: usize) -> bool {
        let mut watching = self.0.borrow_mut();
        watching.since += count;
        watching.left = watching.left.saturating_sub(count);
        if watching.since >= ASK_EVERY && !watching.stopped {
            watching.since = 0;
            let progress = watching.progress;
            watching.stopped = (watching.go_on)(progress).is_break();
        }
        !watching.stopped && watching.left > watching.kept
    }
}

impl Steps<'_> {
    /// That nobody watches.
    pub(super) const fn of(most: usize) -> Self {
        Self { left: most, watch: None }
    }

    /// Whether nothing is left.
    pub(super) const fn spent(&self) -> bool {
        self.left == 0
    }

    /// So many of them at most, taken off here whether the part spends them or not.
    pub(super) fn part(&mut self, most: usize) -> Self {
        let most = most.min(self.left);
        self.left -= most;
        Self { left: most, watch: self.watch }
    }

    /// Puts back what a part did not spend.
    pub(super) const fn put_back(&mut self, part: Self) {
        self.left += part.left;
    }

    /// Takes `count` off; false once more was asked for than was left.
    pub(super) fn spend(&mut self, count: usize) -> bool {
        let go_on = self.watch.is_none_or(|watch| watch.spend(count));
        match self.left.checked_sub(count) {
            Some(left) if go_on => {
                self.left = left;
                true
            }
            _ => {
                self.left = 0;
                false
            }
        }
    }
}

impl Chance {
    pub(super) const fn new() -> Self {
        Self(0)
    }

    /// One of `0..n`, for n from 1 to 65536.
    pub(super) fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        let [.., high, low] = mixed.to_be_bytes();
        usize::from(u16::from_be_bytes([high, low])) % n
    }
}
