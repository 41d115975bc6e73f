//! Lengths, heights and findings in a tiler's words.

use trade::advice::{Advice, Finding};
use trade::measure::bare::LineShift;
use trade::measure::{InchMark, Length, LengthFault, Rounding, Scale, SurfaceId, Unit};
use trade::place::PieceId;

use crate::texts::{Said, Texts};

/// A job's tape: its unit, where its line lies today, and the words.
#[derive(Clone)]
pub struct Tape {
    texts: Texts,
    unit: Unit,
    shift: LineShift,
}

/// Beyond this many, labels are counted and not listed.
const MOST_LABELS: usize = 6;

impl Tape {
    /// The tape of a job.
    pub fn new(texts: &Texts, unit: Unit, shift: LineShift) -> Self {
        Self { texts: texts.clone(), unit, shift }
    }

    /// The unit of numbers typed without one.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// What its unit is called.
    pub fn unit_name(&self) -> String {
        self.say(match self.unit {
            Unit::Millimetre => "layout-millimetres",
            Unit::Inch => "layout-inches",
        })
    }

    /// The keyboard a phone shows: its decimal pad has no stroke for fractions.
    pub fn keyboard(&self) -> &'static str {
        match self.unit {
            Unit::Millimetre => "decimal",
            Unit::Inch => "text",
        }
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.texts.say(key)
    }

    /// The words for a key with one value put in.
    pub fn say1(&self, key: &str, name: &str, value: &dyn Said) -> String {
        self.texts.say_with(key, &[(name, value)])
    }

    /// The words for a key with values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// A length as typed.
    ///
    /// # Errors
    ///
    /// One sentence on what to type instead.
    pub fn read(&self, typed: &str) -> Result<Length, String> {
        let example = self.say(match self.unit {
            Unit::Millimetre => "layout-example-mm",
            Unit::Inch => "layout-example-in",
        });
        Length::parse(typed, self.unit).map_err(|fault| {
            let key = match fault {
                LengthFault::Empty => "layout-fault-empty",
                LengthFault::AmbiguousComma { .. } => "layout-fault-comma",
                LengthFault::TooLong { .. } | LengthFault::TooMuchText => "layout-fault-too-long",
                LengthFault::NotALength { .. }
                | LengthFault::ZeroDenominator { .. }
                | LengthFault::FractionOfOneOrMore { .. }
                | LengthFault::InchesPastAFoot { .. } => "layout-fault-no-length",
            };
            self.say1(key, "example", &example)
        })
    }

    /// To the nearest mark of the tape: `603 mm`, `23 3/4 in`.
    pub fn show(&self, length: Length) -> String {
        length.show(self.unit, Rounding::Nearest)
    }

    /// A cut that must fit its space.
    pub fn show_cut(&self, length: Length) -> String {
        length.show(self.unit, Rounding::FitsIn)
    }

    /// A gap, a joint or a tile, where half a mark matters.
    pub fn show_fine(&self, length: Length) -> String {
        match self.unit {
            Unit::Millimetre => length.show_fine(self.unit, Rounding::Nearest),
            Unit::Inch => {
                length.show(Scale { unit: self.unit, inch_mark: InchMark::ThirtySecond }, Rounding::Nearest)
            }
        }
    }

    /// As a person would have typed it, without the job's own unit: read back it is the same length.
    pub fn typed(&self, length: Length) -> String {
        let shown =
            [length.show(self.unit, Rounding::Nearest), length.show_fine(self.unit, Rounding::Nearest)];
        let same = |text: &String| Length::parse(text, self.unit) == Ok(length);
        let text = shown.into_iter().find(same).unwrap_or_else(|| length.exact());
        let own = match self.unit {
            Unit::Millimetre => " mm",
            Unit::Inch => " in",
        };
        text.strip_suffix(own).map(str::to_owned).unwrap_or(text)
    }

    /// A height of the first line's frame, above or below the line as it is today.
    pub fn height(&self, first: Length) -> String {
        let today = self.today(first);
        let key = match today.cmp(&Length::ZERO) {
            std::cmp::Ordering::Less => "layout-below-line",
            std::cmp::Ordering::Equal => return self.say("layout-on-line"),
            std::cmp::Ordering::Greater => "layout-above-line",
        };
        self.say1(key, "height", &self.show(today.abs()))
    }

    /// A height of the first line's frame, from the line as it is today.
    pub fn today(&self, first: Length) -> Length {
        self.shift.todays_height(first)
    }

    /// What a rule found.
    pub fn finding(&self, advice: &Advice, wall: &dyn Fn(&SurfaceId) -> String) -> String {
        match &advice.says {
            Finding::SmallestCut { pieces: 0, .. } => self.say("layout-advice-smallest-kept"),
            Finding::SmallestCut { pieces, least } => {
                let least = least.map(|least| self.show_cut(least)).unwrap_or_default();
                self.say_with("layout-advice-smallest", &[("count", pieces), ("least", &least)])
            }
            Finding::CutEdgeShows { pieces } if pieces.is_empty() => self.say("layout-advice-edge-kept"),
            Finding::CutEdgeShows { pieces } => {
                let labels = labels(pieces);
                self.say_with("layout-advice-edge", &[("count", &pieces.len()), ("labels", &labels)])
            }
            Finding::Offset { surface, tile } => {
                self.say_with("layout-advice-offset", &[("tile", &tile.0), ("wall", &wall(surface))])
            }
            Finding::OffsetKept => self.say("layout-advice-offset-kept"),
            Finding::Joint { joint, least } => {
                let (joint, least) = (self.show_fine(*joint), self.show_fine(*least));
                self.say_with("layout-advice-joint", &[("joint", &joint), ("least", &least)])
            }
            Finding::PropGap { surface, largest, allowed } => {
                let (largest, allowed) = (self.show_fine(*largest), self.show_fine(*allowed));
                let values: [(&str, &dyn Said); 3] =
                    [("wall", &wall(surface)), ("largest", &largest), ("allowed", &allowed)];
                self.say_with("layout-advice-prop-gap", &values)
            }
            Finding::StripMisses { surface, bottom, lowest, highest } => {
                let (bottom, lowest, highest) =
                    (self.height(*bottom), self.height(*lowest), self.height(*highest));
                let values: [(&str, &dyn Said); 4] = [
                    ("wall", &wall(surface)),
                    ("bottom", &bottom),
                    ("lowest", &lowest),
                    ("highest", &highest),
                ];
                self.say_with("layout-advice-strip", &values)
            }
        }
    }

    /// Where a rule is published; what no paper says is common practice.
    pub fn source(&self, advice: &Advice) -> String {
        match advice.source {
            "common practice" => self.say("layout-common-practice"),
            published => published.to_owned(),
        }
    }
}

fn labels(pieces: &[PieceId]) -> String {
    let mut shown: Vec<&str> = pieces.iter().take(MOST_LABELS).map(|piece| piece.0.as_str()).collect();
    if pieces.len() > MOST_LABELS {
        shown.push("…");
    }
    shown.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tape(unit: Unit, shift: i64) -> Tape {
        Tape::new(&Texts::english().unwrap(), unit, LineShift(Length::mm(shift)))
    }

    #[test]
    fn a_field_reads_back_as_the_length_it_shows() {
        for unit in [Unit::Millimetre, Unit::Inch] {
            for units in [0, 1, 768, 30_480 * 763, 76_800 * 599 + 38_400, 123_456_789] {
                let (tape, length) = (tape(unit, 0), Length::from_units(units));
                assert_eq!(tape.read(&tape.typed(length)), Ok(length), "{}", tape.typed(length));
            }
        }
        assert_eq!(tape(Unit::Millimetre, 0).typed(Length::from_units(76_800 * 599 + 38_400)), "599.5");
    }

    #[test]
    fn heights_are_from_the_line_as_it_is_today() {
        assert_eq!(tape(Unit::Millimetre, 0).height(Length::mm(-897)), "897 mm below the line");
        assert_eq!(tape(Unit::Millimetre, 7).height(Length::mm(-897)), "904 mm below the line");
        assert_eq!(tape(Unit::Millimetre, 7).height(Length::mm(7)), "on the line");
    }
}
