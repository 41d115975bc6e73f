//! A layout of the list that beats the one shown: the proposal is made at once, the list is looked for at length.

use trade::search::{LayoutOption, Measure};

use super::words::Words;
use crate::store::StoredSheet;
use crate::web::options::NOW;
use crate::web::urls;

/// That the first of the list is better than what is shown, and where both are held side by side.
#[derive(PartialEq, Eq, Debug)]
pub struct Better {
    pub says: String,
    pub url: String,
}

/// What has to be known first of a suggestion that nobody chose.
pub fn of_a_quick_one(words: &Words, shown: &LayoutOption, first: Option<&LayoutOption>) -> Option<String> {
    let Some(first) = first else { return Some(words.say("layout-quick-looking")) };
    if first.pieces == shown.pieces && first.courses == shown.courses {
        return None;
    }
    let told = [Measure::Tiles, Measure::Slivers, Measure::NarrowestCut].into_iter().filter_map(|measure| {
        let [here, there] = [shown, first].map(|option| words.amount(measure, measure.of(&option.figures)));
        (here != there).then(|| instead(words, measure, &here, &there))
    });
    let gains: Vec<String> = told.collect();
    Some(match gains.is_empty() {
        true => words.say("layout-quick-looking"),
        false => words.say1("layout-quick-first", "gains", &gains.join("; ")),
    })
}

fn instead(words: &Words, measure: Measure, here: &str, there: &str) -> String {
    let values: [(&str, &dyn crate::texts::Said); 3] =
        [("measure", &words.measure(measure)), ("there", &there), ("here", &here)];
    words.say_with("layout-better-in", &values)
}

impl Better {
    /// `None` where the first of the list is worse in anything that is counted, or better in nothing that is told
    /// apart on the page.
    pub fn of(
        words: &Words,
        stored: &StoredSheet,
        shown: &LayoutOption,
        first: &LayoutOption,
    ) -> Option<Self> {
        let mut gains = Vec::new();
        for measure in Measure::ALL {
            let (here, there) = (measure.of(&shown.figures), measure.of(&first.figures));
            if here == there {
                continue;
            }
            if (there > here) != measure.more_is_better() {
                return None;
            }
            let [here, there] = [here, there].map(|amount| words.amount(measure, amount));
            if here != there {
                gains.push(instead(words, measure, &here, &there));
            }
        }
        let says = || words.say1("layout-better", "gains", &gains.join("; "));
        (!gains.is_empty()).then(|| Self { says: says(), url: urls::compared(&stored.id, NOW, "1") })
    }
}
