//! The next steps of a job for a calendar: as a file for anyone of the crew, and at an address that the lead makes and
//! takes back, where a calendar comes by itself.

mod steps;

use askama::Template;
use axum::extract::Path;
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::board::Sight;
use super::error::PageError;
use super::form::Sent;
use super::page::{Frame, Here, page};
use super::people::host_for_others;
use super::session::Lead;
use super::urls;
use crate::app::App;
use crate::store::{FeedToken, JobId};
use crate::texts::{Language, Texts};

/// A form that only asks.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Asked {}

/// What a calendar can be given.
#[derive(Template)]
#[template(path = "calendar/calendar.html")]
struct CalendarPage {
    frame: Frame,
    steps: Vec<String>,
    file_url: String,
    feeds: Vec<String>,
    make_url: String,
    revoke_url: String,
    board_url: String,
}

/// An address just made: it is shown this once.
#[derive(Template)]
#[template(path = "calendar/made.html")]
struct MadePage {
    frame: Frame,
    address: String,
    calendar_url: String,
}

/// What there is, and the lead's form for an address.
pub async fn show(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let sight = Sight::of(&app, &job).await?;
    let times = sight.times(&app);
    let feed = |feed: crate::store::Feed| {
        let when = times.at(feed.made);
        app.texts.say_with("calendar-made-by", &[("who", &feed.by), ("when", &when)])
    };
    let step = |step: crate::output::calendar::Step| {
        app.texts.say_with("calendar-step", &[("when", &times.at(step.starts)), ("step", &step.summary)])
    };
    page(&CalendarPage {
        frame: frame(&app, &sight, "calendar-title").live(&sight.seen),
        steps: steps::steps(&sight, &sight.words(&app)).into_iter().map(step).collect(),
        file_url: urls::calendar_file(&job),
        feeds: app.store.feeds(&job).await?.into_iter().map(feed).collect(),
        make_url: urls::calendar(&job),
        revoke_url: urls::revoke_feeds(&job),
        board_url: urls::board(&job),
    })
}

/// Makes an address.
pub async fn make(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Asked>,
) -> Result<Response, PageError> {
    app.store.job_head(&job).await?;
    let token = app.store.make_feed(sent.key, job.clone(), lead.0.person.id).await?;
    let leads_to = token.map_or_else(|| urls::calendar(&job), |token| urls::feed_made(&job, &token));
    Ok(Redirect::to(&leads_to).into_response())
}

/// An address as the lead copies it.
pub async fn made(
    app: App,
    _lead: Lead,
    headers: HeaderMap,
    Path((job, token)): Path<(JobId, String)>,
) -> Result<Response, PageError> {
    let token = FeedToken::read(&token).ok_or(PageError::NotFound)?;
    if app.store.feed(&token).await?.as_ref() != Some(&job) {
        return Err(PageError::NotFound);
    }
    let sight = Sight::of(&app, &job).await?;
    let host = host_for_others(&app, &headers);
    page(&MadePage {
        frame: frame(&app, &sight, "calendar-made-title"),
        address: format!("http://{host}{}", urls::feed(&token, app.texts.language())),
        calendar_url: urls::calendar(&job),
    })
}

/// Takes every address of the job back.
pub async fn revoke(
    app: App,
    _lead: Lead,
    Path(job): Path<JobId>,
    _sent: Sent<Asked>,
) -> Result<Response, PageError> {
    app.store.revoke_feeds(job.clone()).await?;
    Ok(Redirect::to(&urls::calendar(&job)).into_response())
}

/// The next steps as a file.
pub async fn file(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    answer(&app, &job, &app.texts).await
}

/// The next steps for whoever has the address: a calendar comes without a session, and asks in no language but the one
/// in the address.
pub async fn feed(app: App, Path((token, file)): Path<(String, String)>) -> Result<Response, PageError> {
    let language = file.strip_suffix(".ics").and_then(Language::from_tag).ok_or(PageError::NotFound)?;
    let token = FeedToken::read(&token).ok_or(PageError::NotFound)?;
    let job = app.store.feed(&token).await?.ok_or(PageError::NotFound)?;
    let app = App { texts: app.languages.of(language).clone(), ..app };
    answer(&app, &job, &app.texts).await
}

async fn answer(app: &App, job: &JobId, texts: &Texts) -> Result<Response, PageError> {
    let sight = Sight::of(app, job).await?;
    let last = app.store.events(job).await?.pop();
    let file = steps::file(&sight, &sight.words(app), last.as_ref(), texts);
    let headers = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"coursebook.ics\""),
        (header::CACHE_CONTROL, "no-store"),
    ];
    Ok((headers, file).into_response())
}

fn frame(app: &App, sight: &Sight, title: &str) -> Frame {
    Frame::of_job(app, app.texts.say(title), sight.job(), &sight.head.name, Here::Board)
}
