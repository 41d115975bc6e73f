//! Two layouts side by side: both drawings, and the figures in which they differ.

use askama::Template;
use trade::measure::{FirstCourse, SurfaceId};
use trade::place::Piece;
use trade::search::{Amount, LayoutOption, Measure};

use super::card::{Deck, NOW, print};
use super::words;
use crate::app::App;
use crate::store::StoredSheet;
use crate::web::form::{Choice, Fields};
use crate::web::layout::Words;
use crate::web::page::{Frame, Here};
use crate::web::urls;
use crate::work::{Listed, Planned};

/// Two layouts side by side.
#[derive(Template)]
#[template(path = "options/compare.html")]
pub struct Compare {
    frame: Frame,
    action: String,
    version: i64,
    sides: [Side; 2],
    rows: Vec<Row>,
    lies: Vec<Row>,
    /// What else may be held against each other.
    picks: [Pick; 2],
    back: String,
}

/// One of the two.
struct Side {
    title: String,
    in_force: bool,
    drawing: String,
    tiles: String,
    proved: (&'static str, String),
    /// What the form that chooses it sends.
    print: String,
}

/// One figure of both.
struct Row {
    name: String,
    values: [Value; 2],
}

struct Value {
    words: String,
    better: bool,
}

/// One of the two lists to pick from.
struct Pick {
    label: String,
    id: &'static str,
    now: String,
    choices: Vec<Choice>,
}

/// One of the layouts asked for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Which {
    Now,
    /// An index into the list.
    Option(usize),
}

impl Which {
    /// Two of them, from `compare=1,3` or from two fields of that name.
    pub fn both(asked: &Fields) -> Option<[Self; 2]> {
        let all = asked.all("compare");
        let mut asked =
            all.iter().flat_map(|typed| typed.split(',')).map(str::trim).filter(|s| !s.is_empty());
        let both = [Self::read(asked.next()?)?, Self::read(asked.next()?)?];
        asked.next().is_none().then_some(both)
    }

    fn read(typed: &str) -> Option<Self> {
        if typed == NOW {
            return Some(Self::Now);
        }
        typed.parse::<usize>().ok()?.checked_sub(1).map(Self::Option)
    }

    fn written(self) -> String {
        match self {
            Self::Now => NOW.to_owned(),
            Self::Option(index) => (index + 1).to_string(),
        }
    }
}

impl Compare {
    /// Both; `None` where one is not in the list.
    pub fn new(
        app: &App,
        stored: &StoredSheet,
        listed: &Listed,
        now: &Planned,
        which: [Which; 2],
    ) -> Option<Self> {
        let words = Words::of(&app.texts, stored);
        let deck = Deck { stored, words: &words, listed, now };
        let find = |which: Which| match which {
            Which::Now => Some(&now.option),
            Which::Option(index) => listed.options.options.get(index),
        };
        let options = [find(which[0])?, find(which[1])?];
        let title = words.say("options-compare-title");
        Some(Self {
            frame: Frame::of_job(app, title, &stored.id, &stored.sheet.name, Here::Wall),
            action: urls::options(&stored.id),
            version: stored.version,
            sides: [0, 1].map(|side| Side::new(&deck, which[side], options[side], side)),
            rows: Measure::ALL.into_iter().filter_map(|measure| Row::of(&words, measure, options)).collect(),
            lies: lies(&words, listed, options),
            picks: [("compare-one", "options-pick-one"), ("compare-other", "options-pick-other")]
                .into_iter()
                .zip(which)
                .map(|((id, label), which)| Pick::new(&deck, id, label, which))
                .collect::<Vec<_>>()
                .try_into()
                .ok()?,
            back: urls::options(&stored.id),
        })
    }
}

impl Side {
    fn new(deck: &Deck<'_>, which: Which, option: &LayoutOption, side: usize) -> Self {
        let words = deck.words;
        let title = title(words, which);
        Self {
            in_force: deck.is_in_force(option),
            drawing: deck.drawing(option, &title, &format!("side-{side}")),
            tiles: words.say1("layout-tiles", "count", &option.figures.bought),
            proved: words::proved(words, option),
            print: print(&option.layout),
            title,
        }
    }
}

fn title(words: &Words, which: Which) -> String {
    match which {
        Which::Now => words.say("options-now"),
        Which::Option(index) => words.say1("options-number", "number", &(index + 1)),
    }
}

impl Row {
    /// `None` where both are the same.
    fn of(words: &Words, measure: Measure, options: [&LayoutOption; 2]) -> Option<Self> {
        let amounts = options.map(|option| measure.of(&option.figures));
        if amounts[0] == amounts[1] {
            return None;
        }
        let better = |one: Amount, other: Amount| (one > other) == measure.more_is_better();
        let value = |one: Amount, other: Amount| Value {
            words: words.amount(measure, one),
            better: better(one, other),
        };
        Some(Self {
            name: words.measure(measure),
            values: [value(amounts[0], amounts[1]), value(amounts[1], amounts[0])],
        })
    }

    fn plain(name: String, values: [String; 2]) -> Option<Self> {
        let differ = values[0] != values[1];
        differ.then(|| Self { name, values: values.map(|words| Value { words, better: false }) })
    }
}

/// How the two lie on the walls, where they differ.
fn lies(words: &Words, listed: &Listed, options: [&LayoutOption; 2]) -> Vec<Row> {
    let joint = |option: &LayoutOption| words.tape.show_gap(listed.job.joint_in(&option.layout));
    let mut rows: Vec<Row> =
        Row::plain(words.say("options-lies-joint"), options.map(joint)).into_iter().collect();
    rows.extend(Row::plain(words.say("options-lies-line"), options.map(|option| lines(words, option))));
    for surface in &listed.job.surfaces {
        let wall = words.wall(&surface.id);
        let name = |key: &str| words.say1(key, "wall", &wall);
        let ends = options.map(|option| ends(words, option, &surface.id));
        let firsts = options.map(|option| first(words, option, &surface.id));
        rows.extend(Row::plain(name("options-lies-ends"), ends));
        rows.extend(Row::plain(name("options-lies-first"), firsts));
    }
    rows
}

/// Where joints between courses lie: one height for each level line.
fn lines(words: &Words, option: &LayoutOption) -> String {
    let mut heights: Vec<String> = option.layout.course_line.values().map(|y| words.height(*y)).collect();
    heights.dedup();
    heights.join(" · ")
}

/// The first and the last piece of a wall's lowest course.
fn ends(words: &Words, option: &LayoutOption, wall: &SurfaceId) -> String {
    let of_wall = || option.pieces.iter().filter(|piece| piece.surface == *wall);
    let lowest = of_wall().map(|piece| piece.course).min();
    let row = || of_wall().filter(|piece| Some(piece.course) == lowest);
    let first = row().min_by_key(|piece| piece.bounds.left);
    let last = row().max_by_key(|piece| piece.bounds.right);
    // A number and its unit stay on one line.
    let width = |piece: &Piece| words.cut(piece.bounds.width()).replace(' ', "\u{a0}");
    first.zip(last).map(|(first, last)| format!("{} · {}", width(first), width(last))).unwrap_or_default()
}

fn first(words: &Words, option: &LayoutOption, wall: &SurfaceId) -> String {
    match option.courses.walls.get(wall).map(|courses| courses.first_course) {
        Some(FirstCourse::Propped) => words.say("layout-first-propped"),
        Some(FirstCourse::Scribed) => words.say("layout-first-scribed"),
        None => String::new(),
    }
}

impl Pick {
    fn new(deck: &Deck<'_>, id: &'static str, label: &str, which: Which) -> Self {
        let all = (0..deck.listed.options.options.len()).map(Which::Option).chain([Which::Now]);
        Self {
            label: deck.words.say(label),
            id,
            now: which.written(),
            choices: all.map(|which| Choice::new(which.written(), title(deck.words, which))).collect(),
        }
    }
}
