//! One layout as a card: drawn small, with its figures and what sets it apart.

use trade::measure::{Layout, Length};
use trade::search::{LayoutOption, Measure};

use super::words::{self, Difference};
use crate::output::room_drawing::RoomDrawing;
use crate::store::{StoredSheet, fingerprint};
use crate::web::layout::Words;
use crate::web::urls;
use crate::work::{Listed, Planned};

/// One layout of the list.
pub struct Card {
    pub number: usize,
    /// What it is best for; nothing further down the list.
    pub aim: String,
    pub title: String,
    pub in_force: bool,
    pub drawing: String,
    pub tiles: String,
    pub kinds: String,
    /// The class of the state, and its words.
    pub proved: (&'static str, String),
    pub figures: Vec<Line>,
    pub first: bool,
    pub difference: Difference,
    pub warnings: Vec<String>,
    pub warnings_words: String,
    pub joint: Option<String>,
    /// Stands for the layout in the form that chooses it.
    pub print: String,
    pub large_url: String,
    pub large_words: String,
    pub compare_url: String,
    pub compare_words: String,
}

/// One figure.
pub struct Line {
    pub name: String,
    pub value: String,
    /// The class of a state, or nothing.
    pub state: &'static str,
}

/// What all cards are made from.
pub struct Deck<'a> {
    pub stored: &'a StoredSheet,
    pub words: &'a Words,
    pub listed: &'a Listed,
    /// What is in force.
    pub now: &'a Planned,
}

impl Deck<'_> {
    /// Option `index` of the list.
    pub fn card(&self, index: usize) -> Option<Card> {
        let option = self.listed.options.options.get(index)?;
        let (number, words) = (index + 1, self.words);
        let aims = self.listed.options.first.iter().filter(|(_, of)| *of == index);
        let aims: Vec<String> = aims.map(|(aim, _)| words::aim(words, *aim)).collect();
        let title = words.say1("options-number", "number", &number);
        let in_force = self.is_in_force(option);
        let (against, compare_words) = self.comparison(index);
        let warnings = warnings(words, option);
        Some(Card {
            number,
            aim: aims.join(" · "),
            in_force,
            drawing: self.drawing(option, &title, &format!("room-{number}")),
            tiles: words.say1("layout-tiles", "count", &option.figures.bought),
            kinds: words::kinds(words, option),
            proved: words::proved(words, option),
            figures: lines(words, option),
            first: index == 0,
            difference: Difference::from_the_first(words, &self.listed.options, index),
            warnings_words: words.say1("options-warnings", "count", &warnings.len()),
            warnings,
            joint: words::other_joint(words, self.listed.job.joint, &option.layout),
            print: print(&option.layout),
            large_url: urls::option(&self.stored.id, number),
            large_words: words.say1("options-see-large-of", "number", &number),
            compare_url: urls::compared(&self.stored.id, &against, &number.to_string()),
            compare_words,
            title,
        })
    }

    /// Whether the walls are tiled like this as it stands.
    pub fn is_in_force(&self, option: &LayoutOption) -> bool {
        self.now.option.pieces == option.pieces && self.now.option.courses == option.courses
    }

    /// The room, drawn with an option's pieces.
    pub fn drawing(&self, option: &LayoutOption, title: &str, id: &str) -> String {
        let (whole, cut): (Vec<_>, Vec<_>) = option.pieces.iter().partition(|piece| piece.full);
        let of_wall = |surface: &trade::measure::SurfaceId| {
            option.pieces.iter().filter(|piece| piece.surface == *surface).collect()
        };
        let walls = self.listed.job.surfaces.iter();
        RoomDrawing {
            walls: walls.map(|surface| (surface, of_wall(&surface.id))).collect(),
            level: -self.words.today(Length::ZERO),
            title: title.to_owned(),
            description: self
                .words
                .say_with("options-drawing-says", &[("whole", &whole.len()), ("cut", &cut.len())]),
        }
        .draw(id)
    }

    /// What a card is compared with at a tap: the first, and the first with what lies now.
    fn comparison(&self, index: usize) -> (String, String) {
        let with =
            |number: usize| (number.to_string(), self.words.say1("options-compare-with", "number", &number));
        match index {
            0 if self.listed.options.options.first().is_some_and(|first| self.is_in_force(first)) => with(2),
            0 => (NOW.to_owned(), self.words.say("options-compare-with-now")),
            _ => with(1),
        }
    }
}

/// What stands for the layout in force where a number is asked for.
pub const NOW: &str = "now";

/// Every figure but the tiles, which stand above them.
pub fn lines(words: &Words, option: &LayoutOption) -> Vec<Line> {
    let shown = Measure::ALL.into_iter().filter(|measure| *measure != Measure::Tiles);
    let line = |measure: Measure| Line {
        name: words.measure(measure),
        value: words.amount(measure, measure.of(&option.figures)),
        state: match measure {
            Measure::Slivers if option.figures.slivers > 0 => "state look",
            Measure::Warnings if option.figures.warnings > 0 => "state look",
            _ => "",
        },
    };
    shown.map(line).collect()
}

/// What the rules say against it.
pub fn warnings(words: &Words, option: &LayoutOption) -> Vec<String> {
    option.advice.iter().filter(|advice| !advice.passes).map(|advice| words.finding(advice)).collect()
}

/// A short name for a layout, equal for equal ones.
pub fn print(layout: &Layout) -> String {
    fingerprint(layout)
}
