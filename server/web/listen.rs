//! Serves until it is told to stop: opens the store, says where it is, and takes connections.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use anyhow::Context;
use tokio::net::TcpListener;
use tokio::signal::unix::{SignalKind, signal};

use super::connections::Connections;
use super::{Hosts, Reached, addresses, local_name, router, urls};
use crate::app::App;
use crate::box_door;
use crate::clock::Clock;
use crate::config::{LocalName, Serve};
use crate::output::qr;
use crate::store::Store;
use crate::texts::Languages;

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
        let folder = serve.data_folder("data");
        let store = Store::open(&folder, Clock::system()).await?;
        let at = serve.listen_on(IpAddr::V4(Ipv4Addr::UNSPECIFIED));
        let place = Place::new(serve, folder, at);
        listen(store, place, Languages::load()?).await
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
        let folder = serve.data_folder("data/demo");
        let store = Store::open(&folder, Clock::system()).await?;
        crate::demo::fill(&store).await?;
        let at = serve.listen_on(IpAddr::V4(Ipv4Addr::LOCALHOST));
        listen(store, Place { demo: true, ..Place::new(serve, folder, at) }, languages).await
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

/// What is served, and where.
struct Place {
    folder: PathBuf,
    at: SocketAddr,
    hosts: Vec<String>,
    /// What the local network is told that it is called.
    name: Option<LocalName>,
    demo: bool,
}

impl Place {
    fn new(serve: &Serve, folder: PathBuf, at: SocketAddr) -> Self {
        let name = (!serve.no_name).then(|| serve.name.clone());
        Self { folder, at, hosts: serve.hosts.clone(), name, demo: false }
    }
}

/// Serves an open store.
async fn listen(store: Store, place: Place, languages: Languages) -> anyhow::Result<()> {
    let listener = TcpListener::bind(place.at)
        .await
        .with_context(|| format!("cannot listen on {}: is another program using it?", place.at))?;
    let address = listener.local_addr()?;
    let addresses = addresses::of(address);
    let told = place
        .name
        .as_ref()
        .and_then(|name| local_name::tell(name, &addresses, address.ip().is_unspecified()));
    let reached = Reached {
        name: told.as_ref().map(|told| told.name.clone()),
        moved_from: moved_from(&store, &addresses).await?,
        addresses,
    };
    let app = App {
        demo: place.demo,
        reached: Arc::new(reached),
        ..App::new(store.clone(), Hosts::new(address, &place.hosts))?.speaking(languages)
    };
    announce(&app).await?;
    let door = tokio::spawn(box_door::answer(place.folder, app.clone()));
    let beating = tokio::spawn(beat(store.clone()));
    accept_until_stopped(listener, app).await?;
    beating.abort();
    door.abort();
    if let Some(told) = told {
        told.take_back();
    }
    if tokio::time::timeout(FINISH_WITHIN, store.close()).await.is_err() {
        tracing::warn!("the database was still in use when the server stopped");
    }
    Ok(())
}

/// Where phones went when the server last ran, if that is no longer the place: they joined there, and will not find
/// it. An address that works at the box alone was nobody's.
async fn moved_from(store: &Store, addresses: &[SocketAddr]) -> anyhow::Result<Option<SocketAddr>> {
    let Some(now) = addresses.first().filter(|first| !first.ip().is_loopback()) else { return Ok(None) };
    let before = store.reached_at(*now).await?;
    Ok(before.filter(|before| !addresses.contains(before)))
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

/// Prints where the server is, the address to name first, and, where there is no lead yet, the link that makes one.
#[expect(clippy::print_stdout, reason = "what a person needs to open the browser")]
async fn announce(app: &App) -> anyhow::Result<()> {
    let mut words = String::new();
    for (place, address) in app.reached.addresses.iter().enumerate() {
        let key = if place == 0 { "announce-at" } else { "announce-also" };
        words += &app.texts.say_with(key, &[("url", &format!("http://{address}/"))]);
        words.push('\n');
    }
    if let Some(url) = app.reached.name_url() {
        words += &app.texts.say_with("announce-also", &[("url", &url)]);
        words.push('\n');
    }
    if let Some(before) = app.reached.moved_from {
        words += &app.texts.say_with("announce-moved", &[("before", &before.to_string())]);
        words.push('\n');
    }
    if app.store.lead_set_up().await?.is_none() {
        words += &lead_link(app, "announce-set-up").await?;
    }
    print!("{words}");
    std::io::Write::flush(&mut std::io::stdout())?;
    Ok(())
}

/// A fresh link that makes whoever opens it the lead, in words and as a code to scan.
pub async fn lead_link(app: &App, words: &str) -> anyhow::Result<String> {
    let token = app.store.lead_link().await?;
    let host = app.reached.first().map_or_else(|| "127.0.0.1".to_owned(), |first| first.to_string());
    let link = format!("http://{host}{}", urls::set_up(&token));
    Ok(format!("{}\n{link}\n{}\n", app.texts.say(words), qr::for_terminal(&link)?))
}

async fn accept_until_stopped(listener: TcpListener, app: App) -> anyhow::Result<()> {
    let (mut interrupt, mut terminate) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    let live = app.live.clone();
    let service = router(app);
    let connections = Connections::default();
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
        connections.answer(stream, from.ip(), &service);
    }
    drop(listener);
    live.stop();
    if !connections.finish(FINISH_WITHIN).await {
        tracing::warn!("some requests did not finish before the server stopped");
    }
    Ok(())
}
