//! The walls of a job: measured from the level line, drawn as they are typed, and what to strike on each.

mod card;
mod corners;
mod form;
mod list;
mod page;
mod sketch;
mod typed;
mod words;

pub use self::card::{Card, taken_left};
pub use self::page::moved_line;
pub use self::sketch::Seen;
pub use self::words::{Missing, from_line, misread, missing, open_corners, wall_name};

use std::collections::BTreeMap;

use axum::extract::Path;
use axum::response::{IntoResponse, Redirect, Response};
use trade::measure::bare::{BareWall, LineShift};
use trade::measure::{Band, BandHeight, Length, Sheet, SurfaceId, Tile, TileId};

use self::form::{Draft, Which};
use self::list::List;
use self::page::{Drawn, Shown, WallPage};
use super::error::PageError;
use super::form::{Faults, Fields, Sent};
use super::layout::{Change, Wanted};
use super::page::{faulty, outrun, page};
use super::session::{Hand, Lead};
use super::tape::{Asked, Tape};
use super::{fit, layout, urls};
use crate::app::App;
use crate::store::{Actor, JobId, SheetChange, StoreError, StoredSheet};

pub use words::has_too_many_tiles;

/// The level line moves by less than this when it is set up again.
const FARTHEST_MOVE: Length = Length::mm(2_000);

/// The job's first page.
pub async fn list(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let plan = fit::plan_now(&app, &stored).await?;
    page(&List::new(&app, &stored, &plan, &Fields::default(), Faults::default()))
}

/// The line has moved since the last reading: by so much from where it was till now.
pub async fn move_line(
    app: App,
    _lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let shown = async |faults| {
        let plan = fit::plan_now(&app, &stored).await?;
        Ok::<_, PageError>(List::new(&app, &stored, &plan, &sent.typed, faults))
    };
    let moved = match read_move(&app, &stored, &sent.typed) {
        Ok(moved) => moved,
        Err(faults) => return faulty(&shown(faults).await?),
    };
    let version = version(&sent.typed)?;
    let change = SheetChange::Line(LineShift(stored.line_shift.0 + moved));
    match app.store.change_sheet(sent.key.clone(), job.clone(), version, change).await {
        Ok(()) => Ok(Redirect::to(&format!("{}#line", urls::job(&job))).into_response()),
        Err(StoreError::Stale) => outrun(&shown(Faults::default()).await?.outrun_by_another(stored.version)),
        Err(error) => Err(error.into()),
    }
}

fn read_move(app: &App, stored: &StoredSheet, typed: &Fields) -> Result<Length, Faults> {
    let tape = Tape::new(&app.texts, stored.sheet.unit);
    let mut faults = Faults::default();
    let asked = Asked::new("moved", app.texts.say("line-moved"));
    let moved = tape.size(typed, &asked, &mut faults);
    match moved {
        Some(moved) if moved <= FARTHEST_MOVE => Ok(if typed.get("way") == "lower" { -moved } else { moved }),
        Some(_) => {
            let most = tape.show(FARTHEST_MOVE);
            faults.add("moved", app.texts.say_with("line-fault-far", &[("most", &most)]));
            Err(faults)
        }
        None => Err(faults),
    }
}

/// The form for a new wall.
pub async fn new(app: App, Path(job): Path<JobId>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let typed = typed::new_wall(&stored);
    page(&shown(&app, &stored, Which::New, &typed, Faults::default()))
}

/// Saves a new wall, or draws what was typed of it.
pub async fn make(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    take(&app, &stored, Which::New, lead.0, sent).await
}

/// One wall.
pub async fn show(app: App, Path((job, id)): Path<(JobId, String)>) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let wall = wall_of(&stored, &id)?;
    let typed = typed::stored_wall(wall, &stored, &app.texts);
    let plan = fit::plan_now(&app, &stored).await?;
    let shown = shown(&app, &stored, Which::Stored(&wall.id), &typed, Faults::default());
    page(&shown.planned(&app, &stored, wall, &plan))
}

/// Saves a wall that was measured again, or draws what was typed of it.
pub async fn save(
    app: App,
    lead: Lead,
    Path((job, id)): Path<(JobId, String)>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let id = wall_of(&stored, &id)?.id.clone();
    take(&app, &stored, Which::Stored(&id), lead.0, sent).await
}

/// The drawing of a wall as it is typed, and what was understood of every length; saves nothing.
pub async fn draw(
    app: App,
    _hand: Hand,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    page(&Drawn::new(&app, &stored, Which::New, &sent.typed))
}

/// Takes a wall off the job, while nothing is logged on it.
async fn remove_wall(
    app: &App,
    stored: &StoredSheet,
    which: Which<'_>,
    by: Actor,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let Which::Stored(id) = which else { return Err(PageError::NotFound) };
    let wall = urls::wall(&stored.id, id.as_str());
    let wanted = Wanted {
        change: Change::Walls(vec![SheetChange::NoWall(id.clone())]),
        action: wall.clone(),
        to: urls::job(&stored.id),
        back: wall,
    };
    match layout::take(app, stored, by, sent, wanted).await? {
        Ok(answer) => Ok(answer),
        Err(_) => Err(PageError::Stale),
    }
}

/// What a press on one of the form's buttons does.
async fn take(
    app: &App,
    stored: &StoredSheet,
    which: Which<'_>,
    by: Actor,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let typed = &sent.typed;
    if typed.has_too_many_rows() {
        return Err(PageError::TooLarge);
    }
    match typed.get("do") {
        "save" | "" => save_wall(app, stored, which, by, sent).await,
        "remove" => remove_wall(app, stored, which, by, sent).await,
        "draw" => {
            let draft = Draft::read(typed, stored, which, &app.texts);
            let faults = draft.sound_wall(stored, &app.texts).err().unwrap_or_default();
            let wrong = !faults.is_empty();
            let drawn = shown(app, stored, which, typed, faults).drawn_only();
            if wrong { faulty(&drawn) } else { page(&drawn) }
        }
        more => page(&WallPage::new(
            app,
            Shown {
                stored,
                which,
                typed,
                faults: Faults::default(),
                more: more.strip_prefix("more-").unwrap_or_default(),
            },
        )),
    }
}

async fn save_wall(
    app: &App,
    stored: &StoredSheet,
    which: Which<'_>,
    by: Actor,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let draft = Draft::read(&sent.typed, stored, which, &app.texts);
    let wall = match draft.sound_wall(stored, &app.texts) {
        Ok(wall) => wall,
        Err(faults) => return faulty(&shown(app, stored, which, &sent.typed, faults)),
    };
    let id = wall.id.clone();
    let changes = corners::with_neighbours(&stored.sheet, wall);
    let here = urls::wall(&stored.id, id.as_str());
    let action = match which {
        Which::New => urls::new_wall(&stored.id),
        Which::Stored(_) => here.clone(),
    };
    let back = action.clone();
    let change = Change::Walls(changes.into_iter().map(SheetChange::Wall).collect());
    let wanted = Wanted { change, action, to: here, back };
    match layout::take(app, stored, by, sent, wanted).await? {
        Ok(answer) => Ok(answer),
        Err(typed) => {
            let stored = app.store.sheet(&stored.id).await?;
            let page = shown(app, &stored, which, &typed, Faults::default());
            outrun(&page.outrun_by_another(stored.version))
        }
    }
}

fn shown(app: &App, stored: &StoredSheet, which: Which<'_>, typed: &Fields, faults: Faults) -> WallPage {
    WallPage::new(app, Shown { stored, which, typed, faults, more: "" })
}

fn wall_of<'a>(stored: &'a StoredSheet, id: &str) -> Result<&'a BareWall, PageError> {
    stored.sheet.walls.iter().find(|wall| wall.id.as_str() == id).ok_or(PageError::NotFound)
}

/// The version of the sheet that a form was drawn from.
///
/// # Errors
///
/// When the form names none.
pub fn version(typed: &Fields) -> Result<i64, PageError> {
    typed.get("version").parse().map_err(|_| PageError::BadForm)
}

/// The walls that were measured before there was any tile, with the largest tile laid on them.
pub fn with_the_first_tile(sheet: &Sheet, tiles: &BTreeMap<TileId, Tile>) -> Vec<BareWall> {
    let area = |tile: &Tile| i128::from(tile.width.units()) * i128::from(tile.height.units());
    let Some((largest, _)) = tiles.iter().max_by_key(|(_, tile)| area(tile)) else { return Vec::new() };
    let field = Band {
        tile: largest.clone(),
        upright: false,
        height: BandHeight::Fill,
        bottom_between: None,
        joint_above: None,
        pattern: None,
    };
    let bare = sheet.walls.iter().filter(|wall| wall.bands.is_empty());
    bare.map(|wall| BareWall { bands: vec![field.clone()], ..wall.clone() }).collect()
}

/// The first wall on which a sheet's tile would be past planning.
pub fn wall_of_too_many_tiles(sheet: &Sheet) -> Option<&SurfaceId> {
    sheet.walls.iter().find(|wall| has_too_many_tiles(wall, sheet)).map(|wall| &wall.id)
}
