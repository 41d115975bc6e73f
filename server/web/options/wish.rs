//! What a lead wants of a layout: whether it can be had, and if not, why.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, RawQuery};
use axum::response::Response;
use trade::geometry::Side;
use trade::measure::{Job, Opening, OpeningShape, SurfaceId};
use trade::search::{Asked, LayoutOption, WhyNot};

use super::card::{Deck, Line, lines, print, warnings};
use super::{Sent, lay, words};
use crate::app::App;
use crate::store::{JobId, StoredSheet};
use crate::web::ask::Measure;
use crate::web::error::PageError;
use crate::web::form::{Faults, Fields};
use crate::web::layout::{Change, Wanted, Words, no_layout};
use crate::web::page::{Frame, Here, faulty, outrun, page};
use crate::web::session::Lead;
use crate::web::tape::Asked as AskedLength;
use crate::web::urls;
use crate::work::{Listed, NoPlan, Planned, Wished};

/// The field in which the least cut is typed.
const LEAST: &str = "least";

/// What the lead may want, as boxes to tick and a length.
pub struct WishForm {
    pub action: String,
    pub groups: Vec<Group>,
    pub least: Measure,
}

/// Wishes of one kind.
pub struct Group {
    pub title: String,
    pub ticks: Vec<Tick>,
}

/// One wish.
pub struct Tick {
    pub value: String,
    pub words: String,
    pub ticked: bool,
}

/// The answer.
#[derive(Template)]
#[template(path = "options/wish.html")]
struct WishPage {
    frame: Frame,
    faults: Faults,
    outrun: bool,
    version: i64,
    asked: Vec<String>,
    wanted: Vec<String>,
    why_not: Option<String>,
    cut_short: bool,
    found: Option<Found>,
    form: WishForm,
    back: String,
}

/// The layout that has everything.
struct Found {
    drawing: String,
    tiles: String,
    proved: (&'static str, String),
    joint: Option<String>,
    figures: Vec<Line>,
    warnings: Vec<String>,
    in_force: bool,
    print: String,
}

/// Says whether a layout can be had as it is wanted.
pub async fn wish(
    app: App,
    Path(job): Path<JobId>,
    RawQuery(query): RawQuery,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let fields = Fields::from_query(&query.unwrap_or_default());
    answer(&app, &stored, &fields, false).await
}

/// Chooses the layout that has everything wanted.
pub async fn choose_wished(
    app: App,
    lead: Lead,
    Path(job): Path<JobId>,
    sent: Sent<Fields>,
) -> Result<Response, PageError> {
    let stored = app.store.sheet(&job).await?;
    let wishes = match read(&app, &stored, &sent.typed).await {
        Ok((_, Ok(wishes))) => wishes,
        Ok((_, Err(_))) => return Err(PageError::BadForm),
        Err(why) => return no_layout(&app, &stored, &why),
    };
    let wished = match app.work.wish_as_answered(&stored, wishes).await {
        Ok(wished) => wished,
        Err(why) => return no_layout(&app, &stored, &why),
    };
    let found = wished.found.as_ref().ok();
    match found.filter(|option| print(&option.layout) == sent.typed.get("print")) {
        Some(option) => {
            let layout = option.layout.clone();
            let (change, to) = (Change::Layout(layout), urls::layout(&stored.id));
            let wanted = Wanted { change, action: urls::wish(&stored.id), back: to.clone(), to };
            lay(&app, &stored, lead.0, sent, wanted).await
        }
        None => answer(&app, &stored, &sent.typed, true).await,
    }
}

type Wishes = Result<Vec<Asked>, Faults>;

/// The wishes, against the walls as they are tiled.
async fn read(app: &App, stored: &StoredSheet, fields: &Fields) -> Result<(Arc<Planned>, Wishes), NoPlan> {
    let planned = app.work.plan(stored).await?;
    let words = Words::of(&app.texts, stored);
    let mut wishes: Vec<Asked> =
        fields.all("want").into_iter().filter_map(|want| asked_for(&planned.job, want)).collect();
    let mut faults = Faults::default();
    let asked = AskedLength::new(LEAST, words.say("wish-least-of"));
    if !fields.get(LEAST).is_empty() {
        wishes.extend(words.tape.size(fields, &asked, &mut faults).map(Asked::NoCutUnder));
    }
    let wishes = if faults.is_empty() { Ok(wishes) } else { Err(faults) };
    Ok((planned, wishes))
}

async fn answer(
    app: &App,
    stored: &StoredSheet,
    fields: &Fields,
    changed: bool,
) -> Result<Response, PageError> {
    let (planned, wishes) = match read(app, stored, fields).await {
        Ok(read) => read,
        Err(why) => return no_layout(app, stored, &why),
    };
    let (wishes, faults) = match wishes {
        Ok(wishes) => (wishes, Faults::default()),
        Err(faults) => (Vec::new(), faults),
    };
    let mut wished = None;
    if !wishes.is_empty() {
        match app.work.wish(stored, wishes.clone()).await {
            Ok(answer) => wished = Some(answer),
            Err(why) => return no_layout(app, stored, &why),
        }
    }
    if let Some(wished) = &wished
        && let Err(why) = &wished.found
        && let WhyNot::Work(fault) = why.as_ref()
    {
        return no_layout(app, stored, &NoPlan::Layout(fault.clone()));
    }
    let is_faulty = !faults.is_empty();
    let answer = WishPage {
        outrun: changed,
        ..WishPage::new(app, stored, fields, &planned, &wishes, wished.as_deref(), faults)
    };
    match (is_faulty, changed) {
        (true, _) => faulty(&answer),
        (false, true) => outrun(&answer),
        (false, false) => page(&answer),
    }
}

impl WishPage {
    fn new(
        app: &App,
        stored: &StoredSheet,
        fields: &Fields,
        now: &Planned,
        wishes: &[Asked],
        wished: Option<&Wished>,
        faults: Faults,
    ) -> Self {
        let words = Words::of(&app.texts, stored);
        let title = words.say("wish-title");
        let frame = Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall)
            .faulty_if(!faults.is_empty());
        let cut_short = wished.is_some_and(|wished| wished.cut_short);
        let (found, why_not) = match wished {
            Some(Wished { job, found: Ok(option), .. }) => {
                (Some(Found::new(stored, &words, now, job.clone(), option.clone())), None)
            }
            Some(Wished { job, found: Err(why), .. }) => (None, Some(why_words(&words, job, why))),
            None if wishes.is_empty() && faults.is_empty() => (None, Some(words.say("wish-nothing"))),
            None => (None, None),
        };
        Self {
            outrun: false,
            version: stored.version,
            asked: once_each(wishes.iter().map(|wish| capital(&wish_words(&words, &now.job, wish)))),
            wanted: fields.all("want").into_iter().map(str::to_owned).collect(),
            why_not,
            cut_short,
            found,
            form: WishForm::new(&frame, &words, stored, &now.job, fields, &faults),
            back: urls::options(&stored.id),
            faults,
            frame,
        }
    }
}

impl Found {
    fn new(stored: &StoredSheet, words: &Words, now: &Planned, job: Job, option: LayoutOption) -> Self {
        let options = trade::search::Options {
            options: vec![option],
            first: Vec::new(),
            reach: trade::search::Reach::Searched,
        };
        let listed = Listed { job, options };
        let deck = Deck { stored, words, listed: &listed, now };
        let option = &listed.options.options[0];
        Self {
            drawing: deck.drawing(option, &words.say("wish-found"), "wished"),
            tiles: words.say1("layout-tiles", "count", &option.figures.bought),
            proved: words::proved(words, option),
            joint: words::other_joint(words, listed.job.joint, &option.layout),
            figures: lines(words, option),
            warnings: warnings(words, option),
            in_force: deck.is_in_force(option),
            print: print(&option.layout),
        }
    }
}

impl WishForm {
    /// Everything that may be wanted of these walls, with what is wanted ticked.
    pub fn new(
        frame: &Frame,
        words: &Words,
        stored: &StoredSheet,
        job: &Job,
        fields: &Fields,
        faults: &Faults,
    ) -> Self {
        let wanted = fields.all("want");
        let tick =
            |value: String, words: String| Tick { ticked: wanted.contains(&value.as_str()), words, value };
        let walls = |kind: &str| -> Vec<Tick> {
            let walls = job.surfaces.iter();
            walls.map(|wall| tick(format!("{kind}:{}", wall.id), words.wall(&wall.id))).collect()
        };
        let mut bases = walls("base");
        bases.push(tick(NO_SCRIBE.to_owned(), capital(&words.say("wish-no-scribe"))));
        let mut openings = Vec::new();
        for surface in &job.surfaces {
            for (index, opening) in surface.openings.iter().enumerate() {
                if matches!(opening.shape, OpeningShape::Circle { .. }) {
                    continue;
                }
                for edge in [Side::Bottom, Side::Top, Side::Left, Side::Right] {
                    let wish = Asked::JointAt { surface: surface.id.clone(), opening: index, edge };
                    let value = format!("joint:{}:{index}:{}", surface.id, edge.name());
                    openings.push(tick(value, capital(&wish_words(words, job, &wish))));
                }
            }
        }
        let group = |title: &str, ticks: Vec<Tick>| Group { title: words.say(title), ticks };
        let mut groups = vec![group("wish-tops", walls("top")), group("wish-bases", bases)];
        groups.extend((!openings.is_empty()).then(|| group("wish-openings", openings)));
        Self {
            action: urls::wish(&stored.id),
            groups,
            least: Measure::new(frame, &words.tape, fields, faults, LEAST, "wish-least-of"),
        }
    }
}

const NO_SCRIBE: &str = "no-scribe";

/// The wish that a ticked box stands for; nothing where the walls have no such thing any more.
fn asked_for(job: &Job, want: &str) -> Option<Asked> {
    let wall = |name: &str| SurfaceId::new(name).filter(|id| job.surface(id).is_some());
    let mut parts = want.split(':');
    match (parts.next()?, parts.next(), parts.next(), parts.next()) {
        (NO_SCRIBE, None, None, None) => Some(Asked::NoScribe),
        ("top", Some(name), None, None) => Some(Asked::WholeAtTop(wall(name)?)),
        ("base", Some(name), None, None) => Some(Asked::WholeAtBase(wall(name)?)),
        ("joint", Some(name), Some(index), Some(edge)) => {
            let surface = wall(name)?;
            let opening = index
                .parse::<usize>()
                .ok()
                .filter(|at| job.surface(&surface).is_some_and(|wall| *at < wall.openings.len()))?;
            let edge = Side::ALL.into_iter().find(|side| side.name() == edge)?;
            Some(Asked::JointAt { surface, opening, edge })
        }
        _ => None,
    }
}

fn wish_words(words: &Words, job: &Job, wish: &Asked) -> String {
    match wish {
        Asked::WholeAtTop(wall) => words.say1("wish-top", "wall", &words.wall(wall)),
        Asked::WholeAtBase(wall) => words.say1("wish-base", "wall", &words.wall(wall)),
        Asked::JointAt { surface, opening, edge } => {
            let key = match edge {
                Side::Bottom => "wish-joint-bottom",
                Side::Top => "wish-joint-top",
                Side::Left => "wish-joint-left",
                Side::Right => "wish-joint-right",
            };
            let opening = opening_words(words, job, surface, *opening);
            words.say_with(key, &[("opening", &opening), ("wall", &words.wall(surface))])
        }
        Asked::NoCutUnder(least) => words.say1("wish-least", "least", &words.tape.show(*least)),
        Asked::NoScribe => words.say("wish-no-scribe"),
    }
}

/// An opening's name, and which of that name it is where there are several.
fn opening_words(words: &Words, job: &Job, surface: &SurfaceId, at: usize) -> String {
    let openings = job.surface(surface).map(|wall| wall.openings.as_slice()).unwrap_or_default();
    let name = openings.get(at).map(|opening| opening.name.clone()).unwrap_or_default();
    let alike = |of: &[Opening]| of.iter().filter(|other| other.name == name).count();
    if alike(openings) < 2 {
        return name;
    }
    let nth = alike(openings.get(..=at).unwrap_or_default());
    words.say_with("wish-opening-of-several", &[("opening", &name), ("nth", &nth)])
}

fn why_words(words: &Words, job: &Job, why: &WhyNot) -> String {
    let asked = |wish: &Asked| wish_words(words, job, wish);
    let gap = |length: &trade::measure::Length| words.tape.show_gap(*length);
    let says = match why {
        WhyNot::Unknown(wish) => words.say1("wish-why-unknown", "asked", &asked(wish)),
        WhyNot::OutOfLevel { asked: wish, by } => {
            words.say_with("wish-why-level", &[("asked", &asked(wish)), ("by", &gap(by))])
        }
        WhyNot::BaseFalls { asked: wish, fall } => {
            words.say_with("wish-why-base", &[("asked", &asked(wish)), ("fall", &gap(fall))])
        }
        WhyNot::Falls { asked: wish, fall, hidden } => words.say_with(
            "wish-why-falls",
            &[("asked", &asked(wish)), ("fall", &gap(fall)), ("hidden", &gap(hidden))],
        ),
        WhyNot::Joint { one, other, needed, range } => words.say_with(
            "wish-why-joint",
            &[
                ("one", &asked(one)),
                ("other", &asked(other)),
                ("needed", &gap(needed)),
                ("least", &gap(&range.0)),
                ("most", &gap(&range.1)),
            ],
        ),
        WhyNot::Narrowest { wanted, possible, alone } => {
            let key = if *alone { "wish-why-narrowest" } else { "wish-why-narrowest-rest" };
            let (wanted, possible) = (words.tape.show(*wanted), words.cut(*possible));
            words.say_with(key, &[("wanted", &wanted), ("possible", &possible)])
        }
        WhyNot::Together(wishes) => {
            let all = wishes
                .iter()
                .map(asked)
                .reduce(|one, other| words.say_with("wish-and", &[("one", &one), ("other", &other)]));
            words.say1("wish-why-together", "asked", &all.unwrap_or_default())
        }
        // It has a page of its own.
        WhyNot::Work(fault) => fault.to_string(),
    };
    capital(&says)
}

fn once_each(said: impl Iterator<Item = String>) -> Vec<String> {
    said.fold(Vec::new(), |mut once, says| {
        if !once.contains(&says) {
            once.push(says);
        }
        once
    })
}

/// The same with a capital to begin with.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
