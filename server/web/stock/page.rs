//! The page of the tiles that are left.

use askama::Template;
use trade::measure::{SurfaceId, TileId};

use super::need::Answer;
use crate::app::App;
use crate::store::{Count, JobHead};
use crate::texts::Said;
use crate::web::cuts::{Saw, Yard};
use crate::web::form::{Faults, Field};
use crate::web::page::{Frame, Here};
use crate::web::times::Times;
use crate::web::urls;

/// Every kind of tile with its count.
#[derive(Template)]
#[template(path = "stock/stock.html")]
pub struct StockPage {
    frame: Frame,
    faults: Faults,
    action: String,
    kinds: Vec<Kind>,
    saw_url: String,
}

/// One kind of tile.
struct Kind {
    tile: String,
    /// "12 left, 15 needed", or what is needed alone.
    says: String,
    /// The class of the state, and its words; nothing where nobody counted.
    state: Option<(&'static str, String)>,
    made_of: String,
    proof: String,
    /// What to buy, what can be finished and what waits.
    then: Vec<String>,
    /// Who counted, and what was used since.
    counted: Option<String>,
    saved: Option<String>,
    label: String,
    field: Field,
}

/// What a form shows beside what is stored.
#[derive(Default)]
pub struct Shown {
    pub tile: Option<TileId>,
    pub typed: String,
    pub faults: Faults,
}

/// The id of the field of a kind of tile: their names may have letters that no id has.
pub fn field_of(saw: &Saw, tile: &TileId) -> String {
    let nth = saw.tally.keys().position(|of| of == tile).unwrap_or_default();
    format!("{}-{nth}", super::LEFT)
}

impl StockPage {
    /// The page as it stands.
    pub fn new(app: &App, head: &JobHead, yard: &Yard, answers: &[Answer], shown: Shown) -> Self {
        let title = app.texts.say("stock-title");
        let frame =
            Frame::of_job(app, title, &head.id, &head.name, Here::Saw).faulty_if(!shown.faults.is_empty());
        let words = Words { app, head, yard };
        Self {
            kinds: answers.iter().map(|answer| words.kind(answer, &shown)).collect(),
            action: urls::stock(&head.id),
            saw_url: urls::cuts(&head.id),
            faults: shown.faults,
            frame,
        }
    }
}

struct Words<'a> {
    app: &'a App,
    head: &'a JobHead,
    yard: &'a Yard,
}

impl Words<'_> {
    fn say(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.app.texts.say_with(key, values)
    }

    fn kind(&self, answer: &Answer, shown: &Shown) -> Kind {
        let tile = &answer.tile.0;
        let (needed, bound) = (answer.needed(), answer.bound());
        let name = field_of(&self.yard.saw, &answer.tile);
        let typed = if shown.tile.as_ref() == Some(&answer.tile) { shown.typed.as_str() } else { "" };
        let count = self.yard.log.sawn.count_of(&answer.tile);
        let saved = count.map(|count| count.counted.saved).filter(|saved| *saved > 0);
        Kind {
            says: match answer.left {
                Some(left) => self.say("stock-left-needed", &[("left", &left), ("needed", &needed)]),
                None => self.say("stock-needed", &[("needed", &needed)]),
            },
            state: answer.left.map(|left| match answer.short() {
                Some(short) => ("look", self.say("stock-short", &[("count", &short)])),
                None => ("done", self.say("stock-enough", &[("count", &(left - needed))])),
            }),
            made_of: self.say("stock-made-of", &[("whole", &answer.whole), ("cut", &answer.cut)]),
            proof: match needed == bound {
                true => self.say("stock-proved", &[("count", &needed)]),
                false => self.say("stock-at-least", &[("count", &bound)]),
            },
            then: self.then(answer),
            counted: count.map(|count| self.counted(count, answer.used.unwrap_or_default())),
            saved: saved.map(|saved| self.say("stock-saved", &[("count", &saved)])),
            label: self.say("stock-label", &[("tile", tile)]),
            field: Field::new(&name, typed).with(&shown.faults),
            tile: tile.clone(),
        }
    }

    /// What to buy, what can be finished and what waits, where tiles are short.
    fn then(&self, answer: &Answer) -> Vec<String> {
        let Some(short) = answer.short() else { return Vec::new() };
        let tile = self.yard.saw.planned.job.tiles.get(&answer.tile);
        let per_box = tile.and_then(|tile| tile.per_box).and_then(|count| usize::try_from(count).ok());
        let buy = match per_box.filter(|count| *count > 0) {
            Some(per_box) => {
                let boxes = short.div_ceil(per_box);
                self.say("stock-buy-boxes", &[("count", &short), ("boxes", &boxes)])
            }
            None => self.say("stock-buy", &[("count", &short)]),
        };
        let walls = |enough: bool| {
            let walls = answer.walls.iter().filter(|(_, is)| *is == enough);
            walls.map(|(wall, _)| self.wall(wall)).collect::<Vec<_>>().join(", ")
        };
        let (finished, wait) = (walls(true), walls(false));
        let finished = match finished.is_empty() {
            true => self.say("stock-finish-none", &[]),
            false => self.say("stock-finish", &[("walls", &finished)]),
        };
        let wait = (!wait.is_empty()).then(|| self.say("stock-wait", &[("walls", &wait)]));
        [buy, finished].into_iter().chain(wait).collect()
    }

    fn counted(&self, count: &Count, used: usize) -> String {
        let times = Times::new(&self.app.texts, &self.head.zone, self.app.clock.now());
        let (who, when) = (self.yard.log.name(&count.author).to_owned(), times.at(count.at));
        let left = count.counted.left;
        self.say("stock-counted", &[("left", &left), ("who", &who), ("when", &when), ("used", &used)])
    }

    fn wall(&self, wall: &SurfaceId) -> String {
        let surface = self.yard.saw.planned.job.surface(wall);
        surface.map_or_else(|| wall.to_string(), |surface| surface.name.clone())
    }
}
