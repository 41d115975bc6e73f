//! Telling whoever looks on that something was saved. Only that it was: what changed is read from the store.

use std::sync::Arc;

use tokio::sync::watch;

use super::id::random_name;

/// How many times something was saved since the server started, told to everyone who watches.
#[derive(Clone, Debug)]
pub(super) struct Changes(Arc<watch::Sender<Seen>>);

/// What the store stood at. Another start of the server never stands at the same.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Seen {
    start: Arc<str>,
    saved: u64,
}

impl Changes {
    pub(super) fn new() -> Self {
        Self(Arc::new(watch::Sender::new(Seen { start: random_name().into(), saved: 0 })))
    }

    /// Something was saved.
    pub(super) fn tell(&self) {
        self.0.send_modify(|seen| seen.saved += 1);
    }

    /// Where the store stands, and when it stands elsewhere.
    pub(super) fn watch(&self) -> watch::Receiver<Seen> {
        self.0.subscribe()
    }
}

impl std::fmt::Display for Seen {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{}-{}", self.start, self.saved)
    }
}
