//! What every request may use: built once, cheap to clone. A handler that takes `App` has it in the language of its
//! request.

use std::sync::Arc;

use crate::clock::Clock;
use crate::store::{Caller, Store};
use crate::texts::{Language, Languages, Texts};
use crate::web::{Assets, Hosts, Live, PlansInField, Reached, StockAnswers, Wanted, urls};
use crate::work::Work;

/// The running server.
#[derive(Clone)]
pub struct App {
    pub store: Store,
    pub clock: Clock,
    /// Who asks, in a handler; nobody where the browser is a stranger's.
    pub caller: Option<Caller>,
    /// Whether this serves the demo job, whose lead anyone at the box may be.
    pub demo: bool,
    /// Where phones reach this server.
    pub reached: Arc<Reached>,
    pub work: Work,
    /// Plans made again in the middle of the work.
    pub fields: PlansInField,
    /// What was worked out of the tiles that are left.
    pub stocks: StockAnswers,
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
    /// When the words compiled in are not well formed.
    pub fn new(store: Store, hosts: Hosts) -> anyhow::Result<Self> {
        let languages = Languages::load()?;
        Ok(Self {
            clock: store.clock().clone(),
            store,
            caller: None,
            demo: false,
            reached: Arc::new(Reached::default()),
            work: Work::new(),
            fields: PlansInField::default(),
            stocks: StockAnswers::default(),
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

    /// The same server as one request has it: in the language wanted, at the page asked for, with who asks.
    #[must_use]
    pub fn asked(&self, wanted: Wanted, here: String, caller: Option<Caller>) -> Self {
        let texts = self.languages.of(wanted.language()).clone();
        Self { texts, asks_for_others: wanted == Wanted::Others, here, caller, ..self.clone() }
    }
}
