//! Takes connections and answers them, with limits that a stuck phone cannot exhaust.

use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use anyhow::Context;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::signal::unix::{SignalKind, signal};

use super::{Hosts, router};
use crate::app::App;
use crate::clock::Clock;
use crate::config::Serve;
use crate::store::Store;
use crate::texts::Languages;

/// A phone that has not sent its headers in this time is stuck or hostile.
const HEADERS_WITHIN: Duration = Duration::from_secs(8);

/// Connections at once: a crew needs a few dozen.
const MOST_CONNECTIONS: usize = 256;

/// Connections from one address: a browser opens six a page.
const MOST_FROM_ONE: usize = 16;

/// A power cut costs at most this much of a wait.
const BEAT_EVERY: Duration = Duration::from_secs(60);

/// How long a plan under way may keep the process when the server stops.
const PLANS_END_WITHIN: Duration = Duration::from_secs(1);

/// How long requests under way get to finish when the server stops.
const FINISH_WITHIN: Duration = Duration::from_secs(10);

/// Serves the crew's jobs until it is told to stop.
///
/// # Errors
///
/// When the data folder or the address cannot be used.
pub fn serve(serve: &Serve) -> anyhow::Result<()> {
    run(async {
        let store = Store::open(&serve.data_folder("data"), Clock::system()).await?;
        listen(store, serve, Languages::load()?).await
    })
}

/// Serves a data folder that holds the demo job.
///
/// # Errors
///
/// When the data folder or the address cannot be used.
pub fn serve_demo(serve: &Serve) -> anyhow::Result<()> {
    serve_demo_in(serve, Languages::load()?)
}

/// The same in other words than those compiled in.
///
/// # Errors
///
/// When the data folder or the address cannot be used.
pub fn serve_demo_in(serve: &Serve, languages: Languages) -> anyhow::Result<()> {
    run(async {
        let store = Store::open(&serve.data_folder("data/demo"), Clock::system()).await?;
        crate::demo::fill(&store).await?;
        listen(store, serve, languages).await
    })
}

/// Runs `work` to its end on a new runtime.
fn run(work: impl Future<Output = anyhow::Result<()>>) -> anyhow::Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    let outcome = runtime.block_on(work);
    // A plan under way is only a plan: nothing is lost with it.
    runtime.shutdown_timeout(PLANS_END_WITHIN);
    outcome
}

/// Serves an open store.
async fn listen(store: Store, serve: &Serve, languages: Languages) -> anyhow::Result<()> {
    let listener = TcpListener::bind(serve.listen)
        .await
        .with_context(|| format!("cannot listen on {}: is another program using it?", serve.listen))?;
    let address = listener.local_addr()?;
    let app = App::new(store.clone(), Hosts::new(address, &serve.hosts)).await?.speaking(languages);
    announce(address);
    let beating = tokio::spawn(beat(store.clone()));
    accept_until_stopped(listener, app).await?;
    beating.abort();
    store.close().await;
    Ok(())
}

/// Records that the program runs, so that a restart later costs only the time the machine was off.
async fn beat(store: Store) {
    let mut minutes = tokio::time::interval(BEAT_EVERY);
    loop {
        minutes.tick().await;
        if let Err(error) = store.beat().await {
            tracing::warn!(%error, "the time could not be recorded");
        }
    }
}

#[expect(clippy::print_stdout, reason = "the one line a person needs to open the browser")]
fn announce(address: SocketAddr) {
    println!("coursebook is at http://{address}/");
}

async fn accept_until_stopped(listener: TcpListener, app: App) -> anyhow::Result<()> {
    let (mut interrupt, mut terminate) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    let live = app.live.clone();
    let service = router(app);
    let graceful = GracefulShutdown::new();
    let places = Places::default();
    loop {
        let (stream, from) = tokio::select! {
            accepted = listener.accept() => match accepted {
                Ok(accepted) => accepted,
                Err(error) => {
                    tracing::warn!(%error, "a connection could not be taken");
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    continue;
                }
            },
            _ = interrupt.recv() => break,
            _ = terminate.recv() => break,
        };
        if let Some(place) = places.take(from.ip()) {
            answer(stream, service.clone(), &graceful, place);
        }
    }
    drop(listener);
    live.stop();
    if tokio::time::timeout(FINISH_WITHIN, graceful.shutdown()).await.is_err() {
        tracing::warn!("some requests did not finish before the server stopped");
    }
    Ok(())
}

fn answer(stream: TcpStream, service: axum::Router, graceful: &GracefulShutdown, place: Place) {
    let connection = hyper::server::conn::http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEADERS_WITHIN)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(service));
    let watched = graceful.watch(connection);
    tokio::spawn(async move {
        if let Err(error) = watched.await {
            tracing::debug!(%error, "a connection ended early");
        }
        drop(place);
    });
}

/// How many connections each address holds.
#[derive(Clone, Default)]
struct Places(Arc<Mutex<BTreeMap<IpAddr, usize>>>);

/// One connection's place, given back when it is dropped.
struct Place {
    from: IpAddr,
    places: Places,
}

impl Places {
    fn take(&self, from: IpAddr) -> Option<Place> {
        let mut held = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let all: usize = held.values().sum();
        let count = held.entry(from).or_default();
        if all >= MOST_CONNECTIONS || *count >= MOST_FROM_ONE {
            return None;
        }
        *count += 1;
        Some(Place { from, places: self.clone() })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut held = self.places.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = held.get_mut(&self.from) {
            *count -= 1;
            if *count == 0 {
                held.remove(&self.from);
            }
        }
    }
}
