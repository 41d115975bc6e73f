//! What every request may use: built once, cheap to clone. A handler that takes `App` has it in the language of its
//! request.

use std::sync::Arc;

use crate::clock::Clock;
use crate::store::{Crew, Store};
use crate::texts::{Language, Languages, Texts};
use crate::web::{Assets, Hosts, Live, Wanted, urls};
use crate::work::Work;

/// The running server.
#[derive(Clone)]
pub struct App {
    pub store: Store,
    pub clock: Clock,
    /// Until people can join, whoever reaches the server is its one lead.
    pub crew: Crew,
    pub work: Work,
    pub languages: Arc<Languages>,
    /// The words of one language: of the request in a handler.
    pub texts: Texts,
    /// Whether the request asks for languages that we do not have, and for none that we have.
    pub asks_for_others: bool,
    /// The page asked for, which a switch of language comes back to.
    pub here: String,
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
        let languages = Languages::load()?;
        Ok(Self {
            clock: store.clock().clone(),
            store,
            crew,
            work: Work::new(),
            texts: languages.of(Language::English).clone(),
            languages: Arc::new(languages),
            asks_for_others: false,
            here: urls::JOBS.to_owned(),
            live: Live::default(),
            assets: Arc::new(Assets::load()),
            hosts: Arc::new(hosts),
        })
    }

    /// The same server with other words.
    #[must_use]
    pub fn speaking(self, languages: Languages) -> Self {
        Self { texts: languages.of(Language::English).clone(), languages: Arc::new(languages), ..self }
    }

    /// The same server as one request has it: in the language wanted, at the page asked for.
    #[must_use]
    pub fn asked(&self, wanted: Wanted, here: String) -> Self {
        let texts = self.languages.of(wanted.language()).clone();
        Self { texts, asks_for_others: wanted == Wanted::Others, here, ..self.clone() }
    }
}
