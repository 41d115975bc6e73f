//! Lengths, heights and findings in a tiler's words.

use std::collections::BTreeMap;

use trade::advice::{Advice, Exposure, Finding, Flatness, JointNeed};
use trade::measure::bare::LineShift;
use trade::measure::{Length, Rounding, SurfaceId, Unit};
use trade::place::PieceId;
use trade::search::{Amount, Measure};

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

/// Beyond this many, labels are counted and not listed.
const MOST_LABELS: usize = 6;

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
        length.show(self.tape.unit(), Rounding::FitsIn)
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
        match &advice.says {
            Finding::SmallestCut { pieces: 0, .. } => self.say("layout-advice-smallest-kept"),
            Finding::SmallestCut { pieces, least } => {
                let least = least.map(|least| self.cut(least)).unwrap_or_default();
                self.say_with("layout-advice-smallest", &[("count", pieces), ("least", &least)])
            }
            Finding::CutEdgeShows { pieces } if pieces.is_empty() => self.say("layout-advice-edge-kept"),
            Finding::CutEdgeShows { pieces } => {
                let labels = labels(pieces);
                self.say_with("layout-advice-edge", &[("count", &pieces.len()), ("labels", &labels)])
            }
            Finding::ThinParts { pieces } if pieces.is_empty() => self.say("layout-advice-thin-kept"),
            Finding::ThinParts { pieces } => {
                let part = |(id, size): &(PieceId, Length)| format!("{} {}", id.0, self.cut(*size));
                let parts: Vec<String> = pieces.iter().map(part).collect();
                self.say_with("layout-advice-thin", &[("pieces", &parts.join(", "))])
            }
            Finding::Offset { surface, tile } => {
                self.say_with("layout-advice-offset", &[("tile", &tile.0), ("wall", &self.wall(surface))])
            }
            Finding::OffsetKept => self.say("layout-advice-offset-kept"),
            Finding::Joint { joint, least, because } => self.joint(*joint, *least, *because),
            Finding::PropGap { surface, largest, allowed } => {
                let (largest, allowed) = (self.tape.show_gap(*largest), self.tape.show_gap(*allowed));
                let values: [(&str, &dyn Said); 3] =
                    [("wall", &self.wall(surface)), ("largest", &largest), ("allowed", &allowed)];
                self.say_with("layout-advice-prop-gap", &values)
            }
            Finding::StripMisses { surface, bottom, lowest, highest } => {
                let (bottom, lowest, highest) =
                    (self.height(*bottom), self.height(*lowest), self.height(*highest));
                let values: [(&str, &dyn Said); 4] = [
                    ("wall", &self.wall(surface)),
                    ("bottom", &bottom),
                    ("lowest", &lowest),
                    ("highest", &highest),
                ];
                self.say_with("layout-advice-strip", &values)
            }
            Finding::Caliber { tile, rectified, range, most } => {
                let key =
                    if *rectified { "layout-advice-caliber" } else { "layout-advice-caliber-calibrated" };
                let (range, most) = (self.measured(*range), self.most(*most));
                self.say_with(key, &[("tile", &tile.0), ("range", &range), ("most", &most)])
            }
            Finding::Warpage { tile, bow, most } => {
                let (bow, most) = (self.measured(*bow), self.most(*most));
                let values: [(&str, &dyn Said); 3] = [("tile", &tile.0), ("bow", &bow), ("most", &most)];
                self.say_with("layout-advice-warpage", &values)
            }
            Finding::MovementJoints { surface, length, exposure, joints, .. } => {
                let key = match exposure {
                    Exposure::Indoors => "layout-advice-movement",
                    Exposure::Exposed => "layout-advice-movement-exposed",
                    Exposure::BritishWall => "layout-advice-movement-british",
                    Exposure::BritishFloor => "layout-advice-movement-british-floor",
                };
                let (wall, length) = (self.wall(surface), self.tape.show(*length));
                self.say_with(key, &[("wall", &wall), ("length", &length), ("joints", joints)])
            }
            Finding::Flat { surfaces, flatness } => {
                let key = match flatness {
                    Flatness::Tight => "layout-advice-flat-tight",
                    Flatness::Ordinary => "layout-advice-flat",
                };
                let walls: Vec<String> = surfaces.iter().map(|surface| self.wall(surface)).collect();
                self.say1(key, "walls", &walls.join(", "))
            }
            Finding::Lippage { tile, allowance, bow } => {
                let [most, allowance, bow] =
                    [*allowance + *bow, *allowance, *bow].map(|length| self.measured(length));
                let values: [(&str, &dyn Said); 4] =
                    [("tile", &tile.0), ("most", &most), ("allowance", &allowance), ("bow", &bow)];
                self.say_with("layout-advice-lippage", &values)
            }
            Finding::Coverage { dry, wet } => {
                let (dry, wet) = (usize::from(*dry), usize::from(*wet));
                self.say_with("layout-advice-coverage", &[("dry", &dry), ("wet", &wet)])
            }
        }
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

    /// As finely as anyone measures a tile: two that a rule tells apart are not shown as one.
    fn measured(&self, length: Length) -> String {
        length.show_fine(self.tape.unit(), Rounding::Nearest)
    }

    /// What may be at most, never shown as more.
    fn most(&self, length: Length) -> String {
        length.show_fine(self.tape.unit(), Rounding::FitsIn)
    }

    fn joint(&self, joint: Length, least: Length, because: JointNeed) -> String {
        let least = least.show_fine(self.tape.unit(), Rounding::Clears);
        let joint = self.measured(joint);
        let says = self.say_with("layout-advice-joint", &[("joint", &joint), ("least", &least)]);
        let why = match because {
            JointNeed::Always => return says,
            JointNeed::Variation(differ) => {
                self.say1("layout-advice-joint-variation", "differ", &self.measured(differ))
            }
            JointNeed::Stepped { rectified: true, bow: None } => self.say("layout-advice-joint-rectified"),
            JointNeed::Stepped { rectified: false, bow: None } => self.say("layout-advice-joint-calibrated"),
            JointNeed::Stepped { rectified, bow: Some(bow) } => {
                let key = if rectified {
                    "layout-advice-joint-rectified-bowed"
                } else {
                    "layout-advice-joint-calibrated-bowed"
                };
                self.say1(key, "bow", &self.measured(bow))
            }
        };
        format!("{says} {why}")
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
