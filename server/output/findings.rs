//! What the published rules found of a layout, in a tiler's words.

use trade::advice::{Advice, Exposure, Finding, Flatness, JointNeed};
use trade::measure::{Length, Rounding, SurfaceId, Unit};
use trade::place::PieceId;

use crate::texts::{Said, Texts};

/// How what a rule found is said: in whose words, and how its walls, heights and gaps are called there.
pub struct Findings<'a> {
    pub texts: &'a Texts,
    pub unit: Unit,
    pub wall: &'a dyn Fn(&SurfaceId) -> String,
    pub height: &'a dyn Fn(Length) -> String,
    pub gap: &'a dyn Fn(Length) -> String,
}

/// Beyond this many, labels are counted and not listed.
const MOST_LABELS: usize = 6;

impl Findings<'_> {
    /// What a rule found.
    pub fn say(&self, finding: &Finding) -> String {
        match finding {
            Finding::SmallestCut { pieces: 0, .. } => self.texts.say("layout-advice-smallest-kept"),
            Finding::SmallestCut { pieces, least } => {
                let least = least.map(|least| self.cut(least)).unwrap_or_default();
                self.texts.say_with("layout-advice-smallest", &[("count", pieces), ("least", &least)])
            }
            Finding::CutEdgeShows { pieces } if pieces.is_empty() => {
                self.texts.say("layout-advice-edge-kept")
            }
            Finding::CutEdgeShows { pieces } => {
                let labels = labels(pieces);
                self.texts.say_with("layout-advice-edge", &[("count", &pieces.len()), ("labels", &labels)])
            }
            Finding::ThinParts { pieces } if pieces.is_empty() => self.texts.say("layout-advice-thin-kept"),
            Finding::ThinParts { pieces } => {
                let part = |(id, size): &(PieceId, Length)| format!("{} {}", id.0, self.cut(*size));
                let parts: Vec<String> = pieces.iter().map(part).collect();
                self.texts.say_with("layout-advice-thin", &[("pieces", &parts.join(", "))])
            }
            Finding::SmallNotches { pieces } if pieces.is_empty() => {
                self.texts.say("layout-advice-notch-kept")
            }
            Finding::SmallNotches { pieces } => {
                let notch = |(id, width, height): &(PieceId, Length, Length)| {
                    format!("{} {} × {}", id.0, self.measured(*width), self.measured(*height))
                };
                let notches: Vec<String> = pieces.iter().map(notch).collect();
                let values: [(&str, &dyn Said); 2] =
                    [("count", &notches.len()), ("notches", &notches.join(", "))];
                self.texts.say_with("layout-advice-notch", &values)
            }
            Finding::ThinStrips { pieces: 0, .. } => self.texts.say("layout-advice-strips-kept"),
            Finding::ThinStrips { pieces, least } => {
                let least = least.map(|least| self.cut(least)).unwrap_or_default();
                self.texts.say_with("layout-advice-strips", &[("count", pieces), ("least", &least)])
            }
            Finding::Trimmed { pieces: 0, .. } => self.texts.say("layout-advice-trimmed-kept"),
            Finding::Trimmed { pieces, least } => {
                let least = least.map(|least| self.measured(least)).unwrap_or_default();
                self.texts.say_with("layout-advice-trimmed", &[("count", pieces), ("least", &least)])
            }
            Finding::Offset { surface, tile } => self
                .texts
                .say_with("layout-advice-offset", &[("tile", &tile.0), ("wall", &(self.wall)(surface))]),
            Finding::OffsetKept => self.texts.say("layout-advice-offset-kept"),
            Finding::Joint { joint, least, because } => self.joint(*joint, *least, *because),
            Finding::PropGap { surface, largest, allowed } => {
                let (largest, allowed) = ((self.gap)(*largest), (self.gap)(*allowed));
                let values: [(&str, &dyn Said); 3] =
                    [("wall", &(self.wall)(surface)), ("largest", &largest), ("allowed", &allowed)];
                self.texts.say_with("layout-advice-prop-gap", &values)
            }
            Finding::StripMisses { surface, bottom, lowest, highest } => {
                let (bottom, lowest, highest) =
                    ((self.height)(*bottom), (self.height)(*lowest), (self.height)(*highest));
                let values: [(&str, &dyn Said); 4] = [
                    ("wall", &(self.wall)(surface)),
                    ("bottom", &bottom),
                    ("lowest", &lowest),
                    ("highest", &highest),
                ];
                self.texts.say_with("layout-advice-strip", &values)
            }
            Finding::Caliber { tile, rectified, range, most } => {
                let key =
                    if *rectified { "layout-advice-caliber" } else { "layout-advice-caliber-calibrated" };
                let (range, most) = (self.measured(*range), self.most(*most));
                self.texts.say_with(key, &[("tile", &tile.0), ("range", &range), ("most", &most)])
            }
            Finding::Warpage { tile, bow, most } => {
                let (bow, most) = (self.measured(*bow), self.most(*most));
                let values: [(&str, &dyn Said); 3] = [("tile", &tile.0), ("bow", &bow), ("most", &most)];
                self.texts.say_with("layout-advice-warpage", &values)
            }
            Finding::MovementJoints { surface, length, exposure, joints, .. } => {
                let key = match exposure {
                    Exposure::Indoors => "layout-advice-movement",
                    Exposure::Exposed => "layout-advice-movement-exposed",
                    Exposure::BritishWall => "layout-advice-movement-british",
                    Exposure::BritishFloor => "layout-advice-movement-british-floor",
                };
                let (wall, length) =
                    ((self.wall)(surface), self.texts.length(&length.show(self.unit, Rounding::Nearest)));
                self.texts.say_with(key, &[("wall", &wall), ("length", &length), ("joints", joints)])
            }
            Finding::Flat { surfaces, flatness } => {
                let key = match flatness {
                    Flatness::Tight => "layout-advice-flat-tight",
                    Flatness::Ordinary => "layout-advice-flat",
                };
                let walls: Vec<String> = surfaces.iter().map(|surface| (self.wall)(surface)).collect();
                self.texts.say_with(key, &[("walls", &walls.join(", "))])
            }
            Finding::Lippage { tile, allowance, bow } => {
                let [most, allowance, bow] =
                    [*allowance + *bow, *allowance, *bow].map(|length| self.measured(length));
                let values: [(&str, &dyn Said); 4] =
                    [("tile", &tile.0), ("most", &most), ("allowance", &allowance), ("bow", &bow)];
                self.texts.say_with("layout-advice-lippage", &values)
            }
            Finding::Coverage { dry, wet } => {
                let (dry, wet) = (usize::from(*dry), usize::from(*wet));
                self.texts.say_with("layout-advice-coverage", &[("dry", &dry), ("wet", &wet)])
            }
        }
    }

    /// A cut that must fit its space, rounded down to the mark.
    fn cut(&self, length: Length) -> String {
        self.texts.length(&length.show(self.unit, Rounding::FitsIn))
    }

    /// As finely as anyone measures a tile: two that a rule tells apart are not shown as one.
    fn measured(&self, length: Length) -> String {
        self.texts.length(&length.show_fine(self.unit, Rounding::Nearest))
    }

    /// What may be at most, never shown as more.
    fn most(&self, length: Length) -> String {
        self.texts.length(&length.show_fine(self.unit, Rounding::FitsIn))
    }

    fn joint(&self, joint: Length, least: Length, because: JointNeed) -> String {
        let least = self.texts.length(&least.show_fine(self.unit, Rounding::Clears));
        let joint = self.measured(joint);
        let says = self.texts.say_with("layout-advice-joint", &[("joint", &joint), ("least", &least)]);
        let why = match because {
            JointNeed::Always => return says,
            JointNeed::Variation(differ) => {
                self.texts.say_with("layout-advice-joint-variation", &[("differ", &self.measured(differ))])
            }
            JointNeed::Stepped { rectified: true, bow: None } => {
                self.texts.say("layout-advice-joint-rectified")
            }
            JointNeed::Stepped { rectified: false, bow: None } => {
                self.texts.say("layout-advice-joint-calibrated")
            }
            JointNeed::Stepped { rectified, bow: Some(bow) } => {
                let key = if rectified {
                    "layout-advice-joint-rectified-bowed"
                } else {
                    "layout-advice-joint-calibrated-bowed"
                };
                self.texts.say_with(key, &[("bow", &self.measured(bow))])
            }
        };
        format!("{says} {why}")
    }
}

/// Where a rule is published; what no paper says is common practice.
pub fn source(texts: &Texts, advice: &Advice) -> String {
    match advice.source {
        "common practice" => texts.say("layout-common-practice"),
        published => published.to_owned(),
    }
}

fn labels(pieces: &[PieceId]) -> String {
    let mut shown: Vec<&str> = pieces.iter().take(MOST_LABELS).map(|piece| piece.0.as_str()).collect();
    if pieces.len() > MOST_LABELS {
        shown.push("…");
    }
    shown.join(", ")
}
