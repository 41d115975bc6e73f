//! The pages of the layouts to choose from.

use askama::Template;
use trade::search::{Measure, Reach};

use super::card::{Card, Deck, Line, lines};
use super::wish::WishForm;
use super::words;
use crate::app::App;
use crate::output::layout_drawing::View;
use crate::store::StoredSheet;
use crate::web::form::{Choice, Faults, Field, Fields};
use crate::web::layout::{AdviceLine, Words, wall_drawing};
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::{Listed, Planned};

/// The fields in which the lead says what counts first.
pub const RANKS: [&str; 3] = ["first", "second", "third"];

/// What was sent and not saved.
#[derive(Default)]
pub struct Sent {
    pub fields: Fields,
    pub faults: Faults,
    /// Someone else was quicker, or the list is another one now.
    pub outrun: bool,
    /// How many pieces are cut already.
    pub cut: usize,
}

/// The list.
#[derive(Template)]
#[template(path = "options/list.html")]
pub struct List {
    frame: Frame,
    faults: Faults,
    outrun: bool,
    cut_already: Option<String>,
    action: String,
    version: i64,
    reach: String,
    all_reached: bool,
    order: String,
    /// What lies now, where it is none of the list.
    now: Option<Now>,
    first: Vec<Card>,
    more: Vec<Card>,
    more_words: String,
    ranks: Vec<Rank>,
    wish: WishForm,
    back: String,
}

/// The layout in force, where it is none of the list.
struct Now {
    drawing: String,
    tiles: String,
    proved: (&'static str, String),
    figures: Vec<Line>,
    compare_url: String,
}

/// One place in the order of what counts.
struct Rank {
    label: String,
    field: Field,
    choices: Vec<Choice>,
}

/// The page while layouts are looked for.
#[derive(Template)]
#[template(path = "options/looking.html")]
pub struct Looking {
    frame: Frame,
    /// A press came to nothing meanwhile.
    pressed: bool,
    so_far: String,
    again: String,
    back: String,
}

/// One layout as large as it takes.
#[derive(Template)]
#[template(path = "options/large.html")]
pub struct Large {
    frame: Frame,
    card: Card,
    action: String,
    version: i64,
    walls: Vec<LargeWall>,
    advice: Vec<AdviceLine>,
    back: String,
}

struct LargeWall {
    title: String,
    drawing: String,
}

impl List {
    /// The list, with what was sent and not saved.
    pub fn new(app: &App, stored: &StoredSheet, listed: &Listed, now: &Planned, sent: Sent) -> Self {
        let words = Words::of(&app.texts, stored);
        let deck = Deck { stored, words: &words, listed, now };
        // The first of the list always stands there: the others are held against it.
        let mut at_first: Vec<usize> = listed.options.first.iter().map(|(_, index)| *index).collect();
        if !at_first.contains(&0) {
            at_first.insert(0, 0);
        }
        let all = 0..listed.options.options.len();
        let card = |index: usize| deck.card(index);
        let more: Vec<Card> =
            all.filter(|index| !at_first.contains(index)).filter_map(|index| deck.card(index)).collect();
        let (reach, all_reached) = match listed.options.reach {
            Reach::All => ("options-reach-all", true),
            Reach::Searched => ("options-reach-searched", false),
        };
        let frame = frame(app, stored, "options-title").faulty_if(!sent.faults.is_empty());
        let in_list = listed.options.options.iter().any(|option| deck.is_in_force(option));
        let order: Vec<String> = stored
            .sheet
            .priorities
            .in_order()
            .iter()
            .take(RANKS.len())
            .map(|measure| words.measure(*measure))
            .collect();
        Self {
            outrun: sent.outrun,
            cut_already: (sent.cut > 0).then(|| frame.say1("layout-cut-already", "count", &sent.cut)),
            action: urls::options(&stored.id),
            version: stored.version,
            reach: words.say(reach),
            all_reached,
            order: words.say1("options-order", "measures", &order.join(", ")),
            now: (!in_list).then(|| Now::new(&deck)),
            more_words: words.say1("options-more", "count", &more.len()),
            first: at_first.into_iter().filter_map(card).collect(),
            more,
            ranks: ranks(&words, stored, &sent),
            wish: WishForm::new(&frame, &words, stored, &listed.job, &Fields::default(), &Faults::default()),
            back: urls::layout(&stored.id),
            faults: sent.faults,
            frame,
        }
    }
}

fn frame(app: &App, stored: &StoredSheet, title: &str) -> Frame {
    Frame::of_job(app, app.texts.say(title), &stored.id, &stored.sheet.name, Here::Wall)
}

impl Now {
    fn new(deck: &Deck<'_>) -> Self {
        let (words, option) = (deck.words, &deck.now.option);
        Self {
            drawing: deck.drawing(option, &words.say("options-now"), "room-now"),
            tiles: words.say1("layout-tiles", "count", &option.figures.bought),
            proved: words::proved(words, option),
            figures: lines(words, option),
            compare_url: urls::compared(&deck.stored.id, super::card::NOW, "1"),
        }
    }
}

fn ranks(words: &Words, stored: &StoredSheet, sent: &Sent) -> Vec<Rank> {
    let in_force = stored.sheet.priorities.in_order();
    let rank = |(name, measure): (&&str, &Measure)| {
        let typed = sent.fields.get(name);
        let value = if typed.is_empty() { measure.name() } else { typed };
        Rank {
            label: words.say(&format!("options-rank-{name}")),
            field: Field::new(name, value).with(&sent.faults),
            choices: Measure::ALL.map(|measure| Choice::new(measure.name(), words.measure(measure))).to_vec(),
        }
    };
    RANKS.iter().zip(in_force).map(rank).collect()
}

impl Looking {
    /// The page, with what is known so far of the layout in force.
    pub fn new(app: &App, stored: &StoredSheet, now: &Planned, pressed: bool) -> Self {
        let words = Words::of(&app.texts, stored);
        let tiles = words.say1("layout-tiles", "count", &now.option.figures.bought);
        let (_, proved) = words::proved(&words, &now.option);
        Self {
            pressed,
            so_far: words.say_with("options-so-far", &[("tiles", &tiles), ("proved", &proved)]),
            again: urls::options(&stored.id),
            back: urls::layout(&stored.id),
            frame: frame(app, stored, "options-title"),
        }
    }
}

impl Large {
    /// Option `index` of the list; `None` where there is none.
    pub fn new(
        app: &App,
        stored: &StoredSheet,
        listed: &Listed,
        now: &Planned,
        index: usize,
    ) -> Option<Self> {
        let words = Words::of(&app.texts, stored);
        let card = Deck { stored, words: &words, listed, now }.card(index)?;
        let option = listed.options.options.get(index)?.clone();
        let planned = Planned::new(listed.job.clone(), option);
        let walls = planned.job.surfaces.iter().filter_map(|surface| {
            let courses = planned.option.courses.walls.get(&surface.id)?;
            Some(LargeWall {
                title: words.wall(&surface.id),
                drawing: wall_drawing(&words, &planned, surface, courses, View::Glance),
            })
        });
        Some(Self {
            frame: Frame::of_job(
                app,
                words.say1("options-number", "number", &card.number),
                &stored.id,
                &stored.sheet.name,
                Here::Wall,
            ),
            action: urls::options(&stored.id),
            version: stored.version,
            walls: walls.collect(),
            advice: planned.option.advice.iter().map(|advice| AdviceLine::new(&words, advice)).collect(),
            back: urls::options(&stored.id),
            card,
        })
    }
}
