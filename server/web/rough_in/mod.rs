//! The rough-in sheet of a wall: where to frame a niche or set a valve that is not built yet, so that it suits the
//! joints of the layout in force.

mod answer;
mod form;
mod page;

use std::sync::Arc;

use axum::extract::{Path, Query};
use axum::response::{IntoResponse, Redirect, Response};
use trade::measure::bare::BareWall;
use trade::measure::{Length, OpeningShape};
use trade::search::{Framing, NoPlace, RoughIn, rough_in};

use self::answer::moved;
use self::form::{Kind, read};
use self::page::{RoughInPage, Shown};
use super::error::PageError;
use super::form::{Faults, Fields, Sent};
use super::layout::{self, Change, Wanted};
use super::page::{faulty, outrun, page};
use super::session::Lead;
use super::urls;
use super::walls::{taken_left, version};
use crate::app::App;
use crate::store::{Actor, JobId, MOST_WISHES, SeenWish, SheetChange, StoreError, StoredSheet, StoredWish};
use crate::work::{NoPlan, Planned};

/// Which of the wall's wishes is looked at: its number, or `niche` or `valve` for a new one.
#[derive(serde::Deserialize, Default)]
#[serde(default)]
pub struct Looked {
    at: String,
}

/// A wall with its wishes, and the one looked at.
struct Sheet {
    stored: StoredSheet,
    bare: BareWall,
    wishes: Vec<StoredWish>,
    plan: Result<Arc<Planned>, NoPlan>,
}

/// The sheet of a wall.
pub async fn show(
    app: App,
    Path((job, wall)): Path<(JobId, String)>,
    Query(Looked { at }): Query<Looked>,
) -> Result<Response, PageError> {
    let sheet = Sheet::of(&app, &job, &wall).await?;
    let looked = at.parse().ok().and_then(|place: i64| sheet.wish(place));
    let looked = looked.or_else(|| sheet.wishes.first().filter(|_| at.is_empty()));
    let kind = looked.map(|wish| Kind::of(&wish.wish)).or_else(|| Kind::named(&at));
    let answer = sheet.answer(&app, looked).await?;
    let typed = looked.map_or_else(Fields::default, |wish| form::stored(wish, &sheet, &app.texts));
    page(&RoughInPage::new(
        &app,
        &sheet,
        Shown { kind, looked, answer, typed: &typed, faults: Faults::default() },
    ))
}

/// Keeps a wish, drops it, or puts it on the wall as an opening.
pub async fn take(
    app: App,
    lead: Lead,
    Path((job, wall)): Path<(JobId, String)>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let sheet = Sheet::of(&app, &job, &wall).await?;
    match sent.typed.get("do") {
        "save" | "" => save(&app, &sheet, sent).await,
        "drop" => drop_wish(&app, &sheet, sent).await,
        "put" => put(&app, &sheet, lead.0, sent).await,
        _ => Err(PageError::BadForm),
    }
}

async fn save(app: &App, sheet: &Sheet, sent: Sent<Fields>) -> Result<Response, PageError> {
    let typed = &sent.typed;
    let kind = Kind::named(typed.get("kind")).ok_or(PageError::BadForm)?;
    let seen = if typed.get("place").is_empty() { None } else { Some(seen(typed)?) };
    let looked = seen.as_ref().and_then(|seen| sheet.wish(seen.place));
    let shown = |faults: Faults| {
        RoughInPage::new(app, sheet, Shown { kind: Some(kind), looked, answer: None, typed, faults })
    };
    let wish = match read(typed, kind, sheet, &app.texts) {
        Ok(wish) => wish,
        Err(faults) => return faulty(&shown(faults)),
    };
    let (job, wall) = (sheet.stored.id.clone(), sheet.bare.id.clone());
    match app.store.save_rough_in(sent.key, job, wall, seen, wish).await {
        Ok(place) => Ok(Redirect::to(&format!("{}?at={place}", sheet.url())).into_response()),
        Err(StoreError::Full) => {
            let mut faults = Faults::default();
            faults.add("name", app.texts.say_with("rough-fault-many", &[("most", &MOST_WISHES)]));
            faulty(&shown(faults))
        }
        Err(StoreError::Stale) => quicker(app, sheet, &sent.typed).await,
        Err(error) => Err(error.into()),
    }
}

async fn drop_wish(app: &App, sheet: &Sheet, sent: Sent<Fields>) -> Result<Response, PageError> {
    let (job, wall) = (sheet.stored.id.clone(), sheet.bare.id.clone());
    match app.store.drop_rough_in(sent.key, job, wall, seen(&sent.typed)?).await {
        Ok(()) => Ok(Redirect::to(&sheet.url()).into_response()),
        Err(StoreError::Stale) => quicker(app, sheet, &sent.typed).await,
        Err(error) => Err(error.into()),
    }
}

/// The page as it stands now with what was typed, since someone else changed the wish, or it is gone: then what was
/// typed stands there as a new one.
async fn quicker(app: &App, sheet: &Sheet, typed: &Fields) -> Result<Response, PageError> {
    let sheet = Sheet::of(app, &sheet.stored.id, sheet.bare.id.as_str()).await?;
    let looked = sheet.wish(seen(typed)?.place);
    let words = if looked.is_some() { "rough-changed" } else { "rough-gone" };
    let shown = Shown {
        kind: Kind::named(typed.get("kind")),
        looked,
        answer: None,
        typed,
        faults: Faults::default(),
    };
    outrun(&RoughInPage::new(app, &sheet, shown).outrun_by_another(words))
}

/// Makes it an opening, and keeps this wall's joints where they are: it is framed to suit them.
async fn put(app: &App, sheet: &Sheet, by: Actor, sent: Sent<Fields>) -> Result<Response, PageError> {
    let (seen, version) = (seen(&sent.typed)?, version(&sent.typed)?);
    let Some(looked) = sheet.wish(seen.place) else {
        return put_already(app, sheet, sent, version, seen).await;
    };
    let answer = sheet.answer(app, Some(looked)).await?;
    let found = answer.as_ref().and_then(|answer| answer.as_ref().ok());
    let chosen = found.and_then(|found| found.places.iter().find(|framing| is_it(framing, &sent.typed)));
    let made = match (chosen, &sheet.plan) {
        (Some(framing), Ok(planned)) if looked.print() == seen.print => {
            let mut bare = sheet.bare.clone();
            let shape = moved(&framing.shape, sheet.taken_left());
            bare.openings.push(looked.wish.opening(looked.name.clone(), shape));
            let changes = vec![
                SheetChange::Wall(bare),
                SheetChange::Layout(kept_as_it_is(&sheet.stored, planned, &sheet.bare)),
                SheetChange::NoRoughIn(sheet.bare.id.clone(), seen),
            ];
            let change = Change::Walls(changes);
            let wanted = Wanted { change, action: sheet.url(), to: sheet.wall_url(), back: sheet.url() };
            layout::take(app, &sheet.stored, by, sent, wanted).await?
        }
        _ => Err(sent.typed),
    };
    match made {
        Ok(answer) => Ok(answer),
        Err(_) => {
            let typed = form::stored(looked, sheet, &app.texts);
            let kind = Some(Kind::of(&looked.wish));
            let shown =
                Shown { kind, looked: Some(looked), answer, typed: &typed, faults: Faults::default() };
            outrun(&RoughInPage::new(app, sheet, shown).outrun_by_another("rough-outrun"))
        }
    }
}

/// The wish is gone: the same press again is answered as the first time, anything else is someone else's doing.
async fn put_already(
    app: &App,
    sheet: &Sheet,
    sent: Sent<Fields>,
    version: i64,
    seen: SeenWish,
) -> Result<Response, PageError> {
    let gone = SheetChange::NoRoughIn(sheet.bare.id.clone(), seen);
    match app.store.change_sheet(sent.key, sheet.stored.id.clone(), version, gone).await {
        Ok(()) => Ok(Redirect::to(&sheet.wall_url()).into_response()),
        Err(StoreError::Stale) => quicker(app, sheet, &sent.typed).await,
        Err(error) => Err(error.into()),
    }
}

/// The lead's choices with this wall's course line and start among them.
fn kept_as_it_is(stored: &StoredSheet, planned: &Planned, bare: &BareWall) -> trade::measure::Layout {
    let (mut kept, now, wall) = (stored.sheet.layout.clone(), &planned.option.layout, &bare.id);
    if let Some(line) = now.course_line.get(wall) {
        kept.course_line.insert(wall.clone(), *line);
    }
    if let Some(start) = now.starts.get(wall) {
        kept.starts.insert(wall.clone(), *start);
    }
    if let Some(first) = now.first_course.get(wall) {
        kept.first_course.insert(wall.clone(), *first);
    }
    kept
}

/// The wish that a form was drawn from.
fn seen(typed: &Fields) -> Result<SeenWish, PageError> {
    let place = typed.get("place").parse().map_err(|_| PageError::BadForm)?;
    Ok(SeenWish { place, print: typed.get("print").to_owned() })
}

/// Whether a place is the one that the form was drawn with.
fn is_it(framing: &Framing, typed: &Fields) -> bool {
    let (x, y) = corner(&framing.shape);
    typed.get("x") == x.units().to_string() && typed.get("y") == y.units().to_string()
}

fn corner(shape: &OpeningShape) -> (Length, Length) {
    match *shape {
        OpeningShape::Rectangle { x, y, .. } | OpeningShape::Circle { x, y, .. } => (x, y),
    }
}

impl Sheet {
    async fn of(app: &App, job: &JobId, wall: &str) -> Result<Self, PageError> {
        let stored = app.store.sheet(job).await?;
        let bare = stored.sheet.walls.iter().find(|bare| bare.id.as_str() == wall).cloned();
        let bare = bare.ok_or(PageError::NotFound)?;
        let wishes = app.store.rough_ins(job, &bare.id).await?;
        let plan = app.work.plan(&stored).await;
        Ok(Self { stored, bare, wishes, plan })
    }

    fn wish(&self, place: i64) -> Option<&StoredWish> {
        self.wishes.iter().find(|wish| wish.place == place)
    }

    fn url(&self) -> String {
        urls::rough_in(&self.stored.id, &self.bare.id)
    }

    fn wall_url(&self) -> String {
        urls::wall(&self.stored.id, self.bare.id.as_str())
    }

    /// What the neighbour's tile, set first, takes off the left of the bare wall.
    fn taken_left(&self) -> Length {
        taken_left(&self.bare, &self.stored.sheet)
    }

    /// What the planner says of a wish; nothing while there is no plan or no wish.
    async fn answer(
        &self,
        app: &App,
        looked: Option<&StoredWish>,
    ) -> Result<Option<Result<RoughIn, NoPlace>>, PageError> {
        let (Some(looked), Ok(planned)) = (looked, &self.plan) else { return Ok(None) };
        let (planned, wall) = (Arc::clone(planned), self.bare.id.clone());
        let mut wish = looked.wish.clone();
        wish.within = wish.within.moved(-self.taken_left(), Length::ZERO);
        let worked_out = app.work.in_turn(move || {
            let surface = planned.job.surface(&wall)?;
            Some(rough_in(&planned.job, &planned.option, surface, &wish))
        });
        match worked_out.await {
            Ok(answer) => Ok(answer),
            Err(NoPlan::Busy) => Err(PageError::Busy),
            Err(why) => Err(PageError::Ours(why.into())),
        }
    }
}
