//! What every request may use: built once, cheap to clone.

use std::sync::Arc;

use crate::clock::Clock;
use crate::store::{Crew, Store};
use crate::texts::Texts;
use crate::web::{Assets, Hosts, Live};
use crate::work::Work;

/// The running server.
#[derive(Clone)]
pub struct App {
    pub store: Store,
    pub clock: Clock,
    /// Until people can join, whoever reaches the server is its one lead.
    pub crew: Crew,
    pub work: Work,
    pub texts: Texts,
    pub live: Live,
    pub assets: Arc<Assets>,
    pub hosts: Arc<Hosts>,
}

impl App {
    /// Everything over an open store.
    ///
    /// # Errors
    ///
    /// When the lead cannot be read or made.
    pub async fn new(store: Store, hosts: Hosts) -> anyhow::Result<Self> {
        let crew = store.crew().await?;
        Ok(Self {
            clock: store.clock().clone(),
            store,
            crew,
            work: Work::new(),
            texts: Texts::english()?,
            live: Live::default(),
            assets: Arc::new(Assets::load()),
            hosts: Arc::new(hosts),
        })
    }
}
