//! The stream by which open pages hear that something was saved. It says only where the store stands; a page that was
//! drawn from elsewhere fetches itself anew.
//!
//! Every message carries where the store stands, the first one at once: so a page that was asleep, out of range or open
//! while the server was restarted is right as soon as it hears from the server again, and nothing has to be kept for it.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::http::StatusCode;
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream::{self, Stream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};

use crate::app::App;
use crate::store::Seen;

/// The server is heard from at least so often, so that a page knows when it was last.
const BEAT_EVERY: Duration = Duration::from_secs(15);

/// Streams at once: every phone and laptop of the largest crew, each with a few pages open.
const MOST_STREAMS: usize = 128;

/// The places for streams, and when they end.
#[derive(Clone)]
pub struct Live {
    places: Arc<Semaphore>,
    stopping: Arc<watch::Sender<bool>>,
}

/// What one page listens to.
struct Listener {
    changes: watch::Receiver<Seen>,
    stopping: watch::Receiver<bool>,
    _place: OwnedSemaphorePermit,
}

impl Default for Live {
    /// With no stream yet.
    fn default() -> Self {
        Self { places: Arc::new(Semaphore::new(MOST_STREAMS)), stopping: Arc::new(watch::Sender::new(false)) }
    }
}

impl Live {
    /// Ends all streams, which else would keep a server that wants to stop.
    pub fn stop(&self) {
        self.stopping.send_replace(true);
    }
}

/// Says where the store stands, now and whenever something is saved.
pub async fn live(app: App) -> Response {
    let Ok(place) = Arc::clone(&app.live.places).try_acquire_owned() else {
        return (StatusCode::SERVICE_UNAVAILABLE, app.texts.say("live-full")).into_response();
    };
    let mut changes = app.store.changes();
    changes.mark_changed();
    let listener = Listener { changes, stopping: app.live.stopping.subscribe(), _place: place };
    Sse::new(messages(listener)).into_response()
}

fn messages(listener: Listener) -> impl Stream<Item = Result<Event, Infallible>> {
    stream::unfold(listener, |mut listener| async move {
        let seen = listener.next().await?;
        Some((Ok(Event::default().event("seen").data(seen.to_string())), listener))
    })
}

impl Listener {
    /// Where the store stands: once it has changed, or as a sign of life; `None` when the server stops.
    async fn next(&mut self) -> Option<Seen> {
        let ended = tokio::select! {
            _ = self.stopping.wait_for(|stopping| *stopping) => true,
            changed = self.changes.changed() => changed.is_err(),
            () = tokio::time::sleep(BEAT_EVERY) => false,
        };
        (!ended).then(|| self.changes.borrow_and_update().clone())
    }
}
