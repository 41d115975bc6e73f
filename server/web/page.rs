//! The frame that every page stands in.

use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use trade::cure::Instant;

use super::cuts::Print;
use super::error::PageError;
use super::urls;
use crate::app::App;
use crate::store::{EventKey, JobId, Role, Seen};
use crate::texts::{Language, Said, Texts};

/// What the frame shows, and the words that every template takes from it.
pub struct Frame {
    texts: Texts,
    pub title: String,
    /// Before the title, where the form has faults.
    pub fault: bool,
    pub styles: [String; 2],
    pub script: String,
    pub icon: String,
    /// Who reads it; nothing where it is a stranger.
    pub who: String,
    /// Whether the lead reads it: what only the lead may change is offered to nobody else.
    pub leads: bool,
    /// Whether whoever reads it may press anything: a board only shows.
    pub works: bool,
    /// Where the store stood before anything on a page was read that keeps itself right while it is open.
    pub seen: Option<String>,
    pub live_script: String,
    pub outbox_script: String,
    /// By whom a button is pressed on this page; nothing where nobody is in.
    pub person: String,
    /// Stands for whoever reads it, on their device.
    reader: String,
    /// Where this page is kept on the phone, and when it was drawn.
    pub kept: Option<Kept>,
    pub pad_script: String,
    /// The job this page belongs to, with its places.
    pub job: Option<JobFrame>,
    /// The page that a switch of language comes back to.
    pub here: String,
    /// Whether the browser asks for languages that we do not have.
    pub asks_for_others: bool,
}

/// A page that a phone keeps for a shift, to work on out of range.
pub struct Kept {
    pub url: String,
    /// Milliseconds since 1970.
    pub drawn: i64,
}

/// The job's own frame.
pub struct JobFrame {
    pub id: JobId,
    pub name: String,
    pub here: Here,
}

/// Which of a job's places this page is in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Here {
    /// Measuring and layout.
    Wall,
    /// Cuts.
    Saw,
    /// Stages.
    Board,
}

/// One of a job's places, as the frame lists it.
pub struct Place {
    pub words: String,
    pub url: String,
    /// The same page as a phone keeps it. Only script leads there, since it asks for a newer one at once.
    pub kept: Option<String>,
    pub here: bool,
}

impl Frame {
    /// A page outside any job.
    pub fn new(app: &App, title: String) -> Self {
        Self {
            texts: app.texts.clone(),
            title,
            fault: false,
            styles: app.assets.styles(),
            script: app.assets.url("sheet.js"),
            icon: app.assets.url("icon.svg"),
            who: who(app),
            works: app.caller.as_ref().is_none_or(|caller| caller.role != Role::Board),
            leads: app.caller.as_ref().is_some_and(|caller| caller.role == Role::Lead),
            seen: None,
            live_script: app.assets.url("live.js"),
            outbox_script: app.assets.url("outbox.js"),
            person: person(app),
            reader: reader(app),
            kept: None,
            pad_script: app.assets.url("pad.js"),
            job: None,
            here: app.here.clone(),
            asks_for_others: app.asks_for_others,
        }
    }

    /// A page of a job.
    pub fn of_job(app: &App, title: String, id: &JobId, name: &str, here: Here) -> Self {
        Self { job: Some(JobFrame { id: id.clone(), name: name.to_owned(), here }), ..Self::new(app, title) }
    }

    /// The same page, with "Error:" before its title where a form on it has faults.
    #[must_use]
    pub fn faulty_if(self, fault: bool) -> Self {
        // What was typed stands nowhere but on this page.
        let seen = self.seen.filter(|_| !fault);
        Self { fault, seen, ..self }
    }

    /// The same page, keeping itself right while it is open. `seen` is to be asked for before anything else is read:
    /// what is saved in between is then fetched once too often, never once too seldom.
    #[must_use]
    pub fn live(self, seen: &Seen) -> Self {
        Self { seen: Some(seen.to_string()), ..self }
    }

    /// The same page, kept on the phone at this address.
    #[must_use]
    pub fn kept(self, url: String, drawn: Instant) -> Self {
        Self { kept: Some(Kept { url, drawn: drawn.millis() }), ..self }
    }

    /// The language's tag.
    pub fn language(&self) -> &'static str {
        self.texts.language()
    }

    /// Where a language is chosen.
    pub fn switch(&self) -> &'static str {
        urls::LANGUAGE
    }

    /// The languages to switch to: all but this one, or every one where the browser asks for another yet.
    pub fn others(&self) -> Vec<Language> {
        let is_other = |language: &Language| self.asks_for_others || language.tag() != self.language();
        Language::ALL.into_iter().filter(is_other).collect()
    }

    /// All words.
    pub fn texts(&self) -> &Texts {
        &self.texts
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.texts.say(key)
    }

    /// The words for a key with one value put in.
    pub fn say1(&self, key: &str, name: &str, value: &dyn Said) -> String {
        self.texts.say_with(key, &[(name, value)])
    }

    /// The words for a key with several values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// The words for a key, or nothing where there are none.
    pub fn say_if_any(&self, key: &str) -> String {
        if self.texts.has(key) { self.texts.say(key) } else { String::new() }
    }

    /// The list of people and devices.
    pub fn people_url(&self) -> &'static str {
        urls::PEOPLE
    }

    /// Where the tiles of this job are counted.
    pub fn stock_url(&self) -> String {
        self.job.as_ref().map(|job| urls::stock(&job.id)).unwrap_or_default()
    }

    /// Where the script asks what was understood of lengths as they are typed.
    pub fn echo_url(&self) -> String {
        self.job.as_ref().map(|job| urls::echo(&job.id)).unwrap_or_default()
    }

    /// A key for one form, so that sending it twice does it once.
    pub fn form_key(&self) -> String {
        EventKey::random().as_str().to_owned()
    }

    /// The job's places, in the order of the work.
    pub fn places(&self) -> Vec<Place> {
        let Some(job) = &self.job else { return Vec::new() };
        [
            (Here::Wall, "place-wall", urls::job(&job.id)),
            (Here::Saw, "place-saw", urls::cuts(&job.id)),
            (Here::Board, "place-board", urls::board(&job.id)),
        ]
        .into_iter()
        .map(|(place, words, url)| Place {
            words: self.say(words),
            url,
            kept: (place == Here::Saw).then(|| urls::cuts_kept(&job.id, self.language(), &self.reader)),
            here: place == job.here,
        })
        .collect()
    }
}

fn who(app: &App) -> String {
    match &app.caller {
        Some(caller) => {
            caller.person.as_ref().map_or_else(|| caller.device_name.clone(), |person| person.name.clone())
        }
        None => String::new(),
    }
}

fn person(app: &App) -> String {
    let who_is_in = app.caller.as_ref().filter(|caller| caller.is_in);
    let person = who_is_in.and_then(|caller| caller.person.as_ref());
    person.map_or_else(String::new, |person| person.id.as_str().to_owned())
}

/// Stands for whoever reads, on their device.
pub fn reader(app: &App) -> String {
    let device = app.caller.as_ref().map_or("", |caller| caller.device.as_str());
    let mut print = Print::new(device);
    print.words(&person(app));
    print.finish()
}

/// A page drawn from its template.
pub fn page(template: &impl Template) -> Result<Response, PageError> {
    Ok(Html(template.render()?).into_response())
}

/// The page of a form with faults: what was typed is on it.
pub fn faulty(template: &impl Template) -> Result<Response, PageError> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, Html(template.render()?)).into_response())
}

/// The page of a form that someone else was quicker to change: what was typed is on it.
pub fn outrun(template: &impl Template) -> Result<Response, PageError> {
    Ok((StatusCode::CONFLICT, Html(template.render()?)).into_response())
}
