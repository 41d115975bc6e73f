//! Lengths, heights and findings in a tiler's words.

use std::collections::BTreeMap;

use trade::advice::Advice;
use trade::measure::bare::LineShift;
use trade::measure::{Length, Rounding, SurfaceId, Unit};
use trade::search::{Amount, Measure};

use crate::output::findings::{self, Findings};
use crate::store::StoredSheet;
use crate::texts::{Said, Texts};
use crate::web::tape::Tape;
use crate::web::walls::{from_line, wall_name};

/// The words of one job: its tape, and where its line lies today.
#[derive(Clone)]
pub struct Words {
    texts: Texts,
    pub tape: Tape,
    shift: LineShift,
    walls: BTreeMap<SurfaceId, String>,
}

/// What a layout without cuts counts as its narrowest.
const NO_CUT: Length = Length::from_units(i64::MAX);

impl Words {
    /// The words of a job.
    pub fn of(texts: &Texts, stored: &StoredSheet) -> Self {
        let walls = stored.sheet.walls.iter();
        Self {
            texts: texts.clone(),
            tape: Tape::new(texts, stored.sheet.unit),
            shift: stored.line_shift,
            walls: walls.map(|wall| (wall.id.clone(), wall_name(texts, &stored.sheet, &wall.id))).collect(),
        }
    }

    /// What the crew calls a wall, with its short name.
    pub fn wall(&self, id: &SurfaceId) -> String {
        self.walls.get(id).cloned().unwrap_or_else(|| id.to_string())
    }

    /// What its unit is called.
    pub fn unit_name(&self) -> String {
        self.say(match self.tape.unit() {
            Unit::Millimetre => "layout-millimetres",
            Unit::Inch => "layout-inches",
        })
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.texts.say(key)
    }

    /// The words for a key, where there are any.
    pub fn say_if_any(&self, key: &str) -> Option<String> {
        self.texts.has(key).then(|| self.say(key))
    }

    /// The words for a key with one value put in.
    pub fn say1(&self, key: &str, name: &str, value: &dyn Said) -> String {
        self.texts.say_with(key, &[(name, value)])
    }

    /// The words for a key with values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// A cut that must fit its space, rounded down to the mark.
    pub fn cut(&self, length: Length) -> String {
        self.texts.length(&length.show(self.tape.unit(), Rounding::FitsIn))
    }

    /// The same without its unit.
    pub fn bare_cut(&self, length: Length) -> String {
        let shown = self.cut(length);
        shown.rsplit_once(' ').map_or(shown.as_str(), |(number, _)| number).to_owned()
    }

    /// What a field shows: as fine as anyone marks, without the unit.
    pub fn field(&self, length: Length) -> String {
        let shown = length.show_fine(self.tape.unit(), Rounding::Nearest);
        let own = match self.tape.unit() {
            Unit::Millimetre => " mm",
            Unit::Inch => " in",
        };
        shown.strip_suffix(own).map(str::to_owned).unwrap_or(shown)
    }

    /// A height of the first line's frame, above or below the line as it is today.
    pub fn height(&self, first: Length) -> String {
        from_line(&self.texts, &self.tape, self.today(first))
    }

    /// A height of the first line's frame, from the line as it is today.
    pub fn today(&self, first: Length) -> Length {
        self.shift.todays_height(first)
    }

    /// What a rule found.
    pub fn finding(&self, advice: &Advice) -> String {
        let sayer = Findings {
            texts: &self.texts,
            unit: self.tape.unit(),
            wall: &|id| self.wall(id),
            height: &|height| self.height(height),
            gap: &|gap| self.tape.show_gap(gap),
        };
        sayer.say(&advice.says)
    }

    /// What a layout is judged by.
    pub fn measure(&self, measure: Measure) -> String {
        self.say(&format!("options-measure-{}", measure.name()))
    }

    /// A figure of a layout.
    pub fn amount(&self, measure: Measure, amount: Amount) -> String {
        match (measure, amount) {
            (_, Amount::Count(count)) => count.to_string(),
            (Measure::NarrowestCut, Amount::Size(NO_CUT)) => self.say("layout-no-cut"),
            (Measure::NarrowestCut, Amount::Size(length)) => self.cut(length),
            (Measure::Symmetry, Amount::Size(Length::ZERO)) => self.say("options-equal"),
            (Measure::Symmetry, Amount::Size(length)) => {
                self.say1("options-apart", "length", &self.tape.show(length))
            }
            (_, Amount::Size(length)) => self.tape.show_gap(length),
        }
    }

    /// Where a rule is published; what no paper says is common practice.
    pub fn source(&self, advice: &Advice) -> String {
        findings::source(&self.texts, advice)
    }
}
