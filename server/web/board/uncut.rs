//! A wall told to be set while pieces of it are not cut: it is asked about once, and then kept as told.

use askama::Template;
use trade::cure::{Courses, StageKind};
use trade::measure::SurfaceId;

use super::form::TypedDone;
use super::page::frame;
use super::sight::Sight;
use crate::app::App;
use crate::store::JobId;
use crate::web::cuts::Yard;
use crate::web::error::PageError;
use crate::web::page::Frame;
use crate::web::urls;

/// "Is it still done?"
#[derive(Template)]
#[template(path = "board/uncut.html")]
pub struct Uncut {
    frame: Frame,
    says: String,
    url: String,
    /// All that was typed, and how many pieces were told of.
    fields: Vec<(&'static str, String)>,
    cell_url: String,
    saw_url: String,
}

/// How many pieces of a wall, or of these courses of it, are not cut and do not hang; none where there is no layout.
///
/// # Errors
///
/// When the store fails or the planner has no place.
pub async fn uncut(
    app: &App,
    job: &JobId,
    (wall, courses): (&SurfaceId, Option<Courses>),
) -> Result<usize, PageError> {
    let (_, Some(yard)) = Yard::of(app, job).await? else { return Ok(0) };
    let is_of = |course: u32| courses.is_none_or(|of| (of.first()..=of.last()).contains(&course));
    let open = yard.saw.entries.iter().filter(|entry| {
        let piece = yard.saw.piece(entry);
        let hangs = yard.saw.hangs_in(&piece.id).is_some();
        entry.cut.is_none() && !hangs && piece.surface == *wall && is_of(piece.course)
    });
    Ok(open.count())
}

impl Uncut {
    /// The question, with the form as it was sent.
    pub fn new(app: &App, sight: &Sight, wall: &SurfaceId, typed: TypedDone, count: usize) -> Self {
        let TypedDone { minutes, day, time, batches, part, uncut: _ } = typed;
        let fields = [
            ("minutes", minutes),
            ("day", day),
            ("time", time),
            ("batches", batches),
            ("first", part.first),
            ("last", part.last),
        ];
        let told = ("uncut", count.to_string());
        Self {
            frame: frame(app, sight, app.texts.say("uncut-title")),
            says: app.texts.say_with("uncut-says", &[("count", &count)]),
            url: urls::cell_done(sight.job(), wall, StageKind::Set),
            fields: fields.into_iter().filter(|(_, typed)| !typed.is_empty()).chain([told]).collect(),
            cell_url: urls::cell(sight.job(), wall, StageKind::Set),
            saw_url: urls::cuts(sight.job()),
        }
    }
}
