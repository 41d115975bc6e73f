//! Prints a link that makes whoever opens it the lead, for one who has lost phone and PIN. Whoever can run it on the
//! box can read its data anyway.

use std::path::Path;
use std::sync::Arc;

use anyhow::Context;

use crate::app::App;
use crate::box_door;
use crate::clock::Clock;
use crate::config::{LeadLink, usual_address};
use crate::store::Store;
use crate::web::{Hosts, Reached, lead_link, reached_at};

/// Prints the link.
///
/// # Errors
///
/// When the data folder is not there or cannot be used.
#[expect(clippy::print_stdout, reason = "a command's answer")]
pub fn run(asked: &LeadLink) -> anyhow::Result<()> {
    let folder = asked.data_folder();
    anyhow::ensure!(folder.join("coursebook.db").exists(), "there is no coursebook in {}", folder.display());
    let words = match box_door::ask(&folder)? {
        Some(words) => words,
        None => make(&folder)?,
    };
    print!("{words}");
    Ok(())
}

/// Makes the link with no server running: it opens once one runs.
fn make(folder: &Path) -> anyhow::Result<String> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(async {
        let store = Store::open(folder, Clock::system()).await.context("the link could not be made")?;
        let usual = usual_address();
        let app = App {
            reached: Arc::new(Reached::new(reached_at(usual))),
            ..App::new(store.clone(), Hosts::new(usual, &[]))?
        };
        let words = lead_link(&app, "announce-lead-link").await;
        store.close().await;
        words
    })
}
