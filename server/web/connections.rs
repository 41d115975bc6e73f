//! Connections: how many there may be, in all and from one address, and how they end. Whoever comes when an address
//! has all that are its due waits until one ends, as an idle one soon does. None is closed to make room: a browser that is
//! about to use it would lose what it asks.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::pin::pin;
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::time::Duration;

use axum::{Extension, Router};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::TcpStream;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};

use super::session::Ends;

/// A phone that has not sent its headers in this time is stuck or hostile, and a connection that nothing is asked over
/// for so long ends.
const HEADERS_WITHIN: Duration = Duration::from_secs(8);

/// Connections at once: a crew needs a few dozen, and a process may open 1,024 files.
const MOST: usize = 512;

/// Connections from one address that are answered at once. A browser opens six, and keeps those of windows just closed
/// for a while; behind an access point a whole crew comes from one address.
const MOST_FROM_ONE: usize = 96;

/// Connections from one address with those that wait for another to end: a quarter of all.
const MOST_WITH_WAITING: usize = 128;

/// All connections of a server.
pub struct Connections {
    all: Arc<Semaphore>,
    addresses: Mutex<BTreeMap<IpAddr, Weak<Address>>>,
    stop: watch::Sender<bool>,
}

/// What is held for one address, as long as it has a connection.
struct Address {
    with_waiting: Arc<Semaphore>,
    answered: Arc<Semaphore>,
}

/// One connection's place, given back when it is dropped.
struct Place {
    address: Arc<Address>,
    _all: OwnedSemaphorePermit,
    _with_waiting: OwnedSemaphorePermit,
}

impl Default for Connections {
    fn default() -> Self {
        let all = Arc::new(Semaphore::new(MOST));
        Self { all, addresses: Mutex::default(), stop: watch::Sender::new(false) }
    }
}

impl Connections {
    /// Answers what comes over `stream`, or closes it where there are too many.
    pub fn answer(&self, stream: TcpStream, from: IpAddr, service: &Router) {
        let Some(place) = self.place(from) else {
            tracing::warn!(%from, "too many connections");
            return;
        };
        let ends = Ends { from, to: stream.local_addr().map_or(from, |to| to.ip()) };
        let service = service.clone().layer(Extension(ends));
        let mut stopped = self.stop.subscribe();
        tokio::spawn(async move {
            let answered = tokio::select! {
                answered = place.answered() => answered,
                () = told(&mut stopped) => None,
            };
            match answered {
                Some(_answered) => serve(stream, service, stopped).await,
                None => tracing::debug!(%from, "a connection waited in vain"),
            }
        });
    }

    /// Lets requests under way finish, for as long as `within`; whether they all did.
    pub async fn finish(&self, within: Duration) -> bool {
        self.stop.send_replace(true);
        tokio::time::timeout(within, self.stop.closed()).await.is_ok()
    }

    fn place(&self, from: IpAddr) -> Option<Place> {
        let all = self.all.clone().try_acquire_owned().ok()?;
        let mut addresses = self.addresses.lock().unwrap_or_else(PoisonError::into_inner);
        addresses.retain(|_, address| address.strong_count() > 0);
        let address = addresses.get(&from).and_then(Weak::upgrade).unwrap_or_else(|| {
            let new = Arc::new(Address::default());
            addresses.insert(from, Arc::downgrade(&new));
            new
        });
        let with_waiting = address.with_waiting.clone().try_acquire_owned().ok()?;
        Some(Place { address, _all: all, _with_waiting: with_waiting })
    }
}

impl Default for Address {
    fn default() -> Self {
        let with_waiting = Arc::new(Semaphore::new(MOST_WITH_WAITING));
        Self { with_waiting, answered: Arc::new(Semaphore::new(MOST_FROM_ONE)) }
    }
}

impl Place {
    /// Waits for a turn to be answered, no longer than a phone may take over its headers.
    async fn answered(&self) -> Option<OwnedSemaphorePermit> {
        tokio::time::timeout(HEADERS_WITHIN, self.address.answered.clone().acquire_owned()).await.ok()?.ok()
    }
}

async fn serve(stream: TcpStream, service: Router, mut stopped: watch::Receiver<bool>) {
    let connection = hyper::server::conn::http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEADERS_WITHIN)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(service));
    let mut connection = pin!(connection);
    let ended = tokio::select! {
        ended = connection.as_mut() => ended,
        () = told(&mut stopped) => {
            // One that is answering ends after its answer.
            connection.as_mut().graceful_shutdown();
            connection.await
        }
    };
    if let Err(error) = ended {
        tracing::debug!(%error, "a connection ended early");
    }
}

/// Waits until the server is told to stop.
async fn told(stopped: &mut watch::Receiver<bool>) {
    if stopped.wait_for(|stopped| *stopped).await.is_err() {
        tracing::debug!("the server is gone altogether");
    }
}

#[cfg(test)]
mod tests {
    use std::net::SocketAddr;

    use axum::routing::get;
    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    use tokio::net::TcpListener;

    use super::*;

    /// Long enough for an answer that nothing holds up.
    const SHORT: Duration = Duration::from_millis(200);

    /// A server that says "level", at `/long` only when `ready` has room.
    async fn server(ready: Arc<Semaphore>) -> (SocketAddr, Arc<Connections>) {
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let at = listener.local_addr().unwrap();
        let long = async move || ready.acquire().await.map(|_| "level").unwrap();
        let service = Router::new().route("/", get(|| async { "level" })).route("/long", get(long));
        let connections = Arc::new(Connections::default());
        let accepting = connections.clone();
        tokio::spawn(async move {
            while let Ok((stream, from)) = listener.accept().await {
                accepting.answer(stream, from.ip(), &service);
            }
        });
        (at, connections)
    }

    async fn asking(at: SocketAddr, path: &str) -> TcpStream {
        let mut stream = TcpStream::connect(at).await.unwrap();
        stream.write_all(format!("GET {path} HTTP/1.1\r\nhost: crew\r\n\r\n").as_bytes()).await.unwrap();
        stream
    }

    async fn answer(stream: &mut TcpStream) -> String {
        let mut read = vec![0; 1024];
        let count = stream.read(&mut read).await.unwrap();
        String::from_utf8_lossy(&read[..count]).into_owned()
    }

    #[tokio::test]
    async fn who_comes_when_an_address_has_all_its_due_waits_and_is_answered() {
        let ready = Arc::new(Semaphore::new(0));
        let (at, connections) = server(ready.clone()).await;
        let mut all = Vec::new();
        for _ in 0..MOST_FROM_ONE {
            all.push(asking(at, "/long").await);
        }
        let mut waiting = asking(at, "/").await;
        assert!(tokio::time::timeout(SHORT, answer(&mut waiting)).await.is_err(), "it waits");
        ready.add_permits(1);
        for stream in &mut all {
            assert!(answer(stream).await.ends_with("level"));
        }
        drop(all.pop());
        assert!(answer(&mut waiting).await.ends_with("level"));
        assert!(connections.finish(HEADERS_WITHIN).await);
    }

    #[tokio::test]
    async fn more_than_may_wait_are_turned_away() {
        let (at, _connections) = server(Arc::new(Semaphore::new(0))).await;
        let mut held = Vec::new();
        for _ in 0..MOST_WITH_WAITING {
            held.push(asking(at, "/long").await);
        }
        let mut read = [0; 1];
        let mut turned_away = TcpStream::connect(at).await.unwrap();
        let read = tokio::time::timeout(HEADERS_WITHIN / 4, turned_away.read(&mut read)).await;
        assert!(matches!(read, Ok(Ok(0) | Err(_))), "at once: {read:?}");
    }
}
