//! What layouts are judged by, in a tiler's words.

use trade::measure::{Layout, Length};
use trade::search::{Aim, Amount, LayoutOption, Measure, Options, Reason};

use crate::texts::Said;
use crate::web::layout::Words;

/// How one layout differs from another: what it gains and what it costs.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Difference {
    pub gains: Vec<String>,
    pub costs: Vec<String>,
}

/// What an aim is called.
pub fn aim(words: &Words, aim: Aim) -> String {
    words.say(match aim {
        Aim::FewestTiles => "options-aim-fewest-tiles",
        Aim::LargestCuts => "options-aim-largest-cuts",
        Aim::BestLooks => "options-aim-best-looks",
    })
}

impl Difference {
    /// How option `index` differs from the first. Where rules are concerned, what they say.
    pub fn from_the_first(words: &Words, options: &Options, index: usize) -> Self {
        let mut difference = Self::default();
        let (Some(here), Some(first)) = (options.options.get(index), options.options.first()) else {
            return difference;
        };
        for reason in options.reasons(index) {
            let told = |amount| words.amount(reason.measure, amount);
            let reads_alike = told(reason.here) == told(reason.first);
            if reason.measure != Measure::Warnings && !reads_alike {
                let list = if reason.better { &mut difference.gains } else { &mut difference.costs };
                list.push(reason_words(words, &reason));
            }
        }
        for (one, other, list) in [(here, first, &mut difference.gains), (first, here, &mut difference.costs)]
        {
            list.extend(kept_only_by(words, one, other, std::ptr::eq(one, here)));
        }
        difference
    }
}

/// The rules that `one` keeps and `other` does not, as they are said of the layout that is here.
fn kept_only_by(words: &Words, one: &LayoutOption, other: &LayoutOption, one_is_here: bool) -> Vec<String> {
    let kept = |option: &LayoutOption, rule: &str| {
        option.advice.iter().filter(|advice| advice.rule == rule).all(|advice| advice.passes)
    };
    let broken = other.advice.iter().filter(|advice| !advice.passes && kept(one, advice.rule));
    let mut rules: Vec<&str> = broken.map(|advice| advice.rule).collect();
    rules.dedup();
    let says = |rule: &&str| {
        let way = if one_is_here { "kept" } else { "broken" };
        words
            .say_if_any(&format!("options-rule-{rule}-{way}"))
            .unwrap_or_else(|| words.say1(&format!("options-rule-{way}"), "rule", &rule.replace('-', " ")))
    };
    rules.iter().map(says).collect()
}

fn reason_words(words: &Words, reason: &Reason) -> String {
    let (here, first) =
        (words.amount(reason.measure, reason.here), words.amount(reason.measure, reason.first));
    match (reason.here, reason.first) {
        (Amount::Count(here), Amount::Count(first)) if counts_are_told_apart(reason.measure) => {
            let way = if here < first { "fewer" } else { "more" };
            let key = format!("options-{}-{way}", reason.measure.name());
            words.say1(&key, "count", &here.abs_diff(first))
        }
        (Amount::Count(here), Amount::Count(_)) => {
            let key = format!("options-{}-instead", reason.measure.name());
            words.say_with(&key, &[("here", &here), ("first", &first)])
        }
        _ => {
            let key = format!("options-{}-instead", reason.measure.name());
            words.say_with(&key, &[("here", &here), ("first", &first)])
        }
    }
}

/// Whether a difference of so many says more than the two numbers.
const fn counts_are_told_apart(measure: Measure) -> bool {
    match measure {
        Measure::Tiles | Measure::Cuts => true,
        Measure::Slivers
        | Measure::OpeningEdges
        | Measure::NarrowestCut
        | Measure::Symmetry
        | Measure::BaseGap
        | Measure::Warnings => false,
    }
}

/// How many tiles any plan for this layout takes at least, and whether that proves this one.
pub fn proved(words: &Words, option: &LayoutOption) -> (&'static str, String) {
    let bought: usize = option.figures.bought;
    let bound: usize = option.cutting.values().map(trade::search::TileCutting::bound).sum();
    if bought == bound {
        ("done", words.say1("options-proved", "bound", &bound))
    } else {
        ("look", words.say1("options-at-least", "bound", &bound))
    }
}

/// The tiles by kind, where there are several.
pub fn kinds(words: &Words, option: &LayoutOption) -> String {
    if option.cutting.len() < 2 {
        return String::new();
    }
    let kind = |(tile, cutting): (&trade::measure::TileId, &trade::search::TileCutting)| {
        let values: [(&str, &dyn Said); 2] = [("count", &cutting.bought()), ("tile", &tile.0)];
        words.say_with("options-kind", &values)
    };
    option.cutting.iter().map(kind).collect::<Vec<_>>().join(" + ")
}

/// The joint, where it is not the job's.
pub fn other_joint(words: &Words, jobs: Length, layout: &Layout) -> Option<String> {
    let joint = layout.joint.filter(|joint| *joint != jobs)?;
    let (joint, jobs) = (words.tape.show_gap(joint), words.tape.show_gap(jobs));
    Some(words.say_with("options-joint", &[("joint", &joint), ("job", &jobs)]))
}
