//! The layouts worth choosing between.

use std::ops::ControlFlow;

use super::combine::Search;
use super::frames::{Frames, frames, is_decided};
use super::front::{Cost, front, thinned};
use super::looks::facing;
use super::watch::Watch;
use super::work_out::{Drawn, check};
use super::{Amount, Figures, LayoutOption, Measure, Priorities, WorkFault, propose, work_out};
use crate::measure::{Job, Length};

/// The most options listed.
pub const MOST_OPTIONS: usize = 12;

/// How far a search goes: as wide as pays in a room, less in a hall, so that its work is bounded.
#[derive(Clone, Copy, Debug)]
pub(super) struct Extent {
    /// Starts of one wall's field that are placed.
    pub(super) starts: usize,
    /// Ways to lay the courses, with their joints and climbs.
    pub(super) frames: usize,
    /// Starts looked at in all frames together, for those whose row ends pair best.
    pub(super) visits: u64,
    /// Layouts drawn whole, whose tiles are estimated well.
    pub(super) drawn: usize,
    /// Layouts for which cutting plans are made.
    pub(super) worked_out: usize,
}

impl Extent {
    /// Pieces placed, drawn and planned in one search at most: of the order of a second each.
    const PLACED: usize = 300_000;
    const DRAWN: usize = 60_000;
    const WORKED_OUT: usize = 12_000;
    /// Starts looked at for each piece: a larger room may take longer, up to a few seconds.
    const VISITS_A_PIECE: u64 = 2000;

    /// For layouts of about so many pieces.
    pub(super) fn of(pieces: usize) -> Self {
        let pieces = pieces.max(1);
        let starts = (Self::PLACED / pieces).clamp(4, 16);
        Self {
            starts,
            frames: (Self::PLACED / (pieces * starts)).clamp(1, 64),
            visits: Self::VISITS_A_PIECE * u64::try_from(pieces).unwrap_or(u64::MAX).min(2000),
            drawn: (Self::DRAWN / pieces).clamp(2, 48),
            worked_out: (Self::WORKED_OUT / pieces).clamp(1, 16),
        }
    }
}

/// The layouts worth choosing between: none is beaten by another on every measure.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Options {
    /// The best first by the lead's priorities, and after all others those that no setter would offer first
    /// ([`LayoutOption::is_doubtful`]); never empty, at most [`MOST_OPTIONS`].
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
/// First every frame (joint, course lines, the way steps climb) is filled with starts whose tiles are only estimated;
/// then for the layouts that no other beats so far cutting plans are made; and those that still no other beats are
/// checked and listed.
///
/// # Errors
///
/// When no layout can be worked out.
pub fn options(
    job: &Job,
    priorities: &Priorities,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> Result<Options, WorkFault> {
    let chosen = job.layout.clone().unwrap_or_default();
    let mut watch = Watch::new(go_on);
    let proposed = work_out(job, propose(job, &chosen))?;
    if is_decided(job, &chosen) {
        return Ok(Options {
            options: vec![proposed],
            first: vec![(Aim::FewestTiles, 0)],
            reach: Reach::All,
        });
    }
    let extent = Extent::of(proposed.pieces.len());
    let search = Search { job, facing: facing(job), priorities, extent };
    let Frames { frames, mut reach } = frames(job, &chosen, extent.frames);
    let mut promising = Vec::new();
    let mut visits = extent.visits;
    for frame in &frames {
        let on_frame = |(cost, layout)| (cost, (frame, layout));
        promising.extend(search.layouts(frame, &mut watch).into_iter().map(on_frame));
        let (paired, reached) = search.paired(frame, &mut visits, &mut watch);
        promising.extend(paired.into_iter().map(on_frame));
        if reached == Reach::Searched {
            reach = reached;
        }
        if watch.is_stopped() {
            break;
        }
    }
    let mut drawn = Vec::new();
    for (_, (frame, layout)) in few(front(promising), extent.drawn, &mut reach) {
        if !watch.ask() {
            break;
        }
        if let Ok(layout) = Drawn::on(job, frame.courses.clone(), layout) {
            drawn.push(rated(priorities, layout.estimated(), layout));
        }
    }
    let mut worked = vec![rated(priorities, proposed.figures, proposed)];
    for (_, (_, layout)) in few(worth_their_slivers(front(drawn)), extent.worked_out, &mut reach) {
        if !watch.ask() {
            break;
        }
        let option = layout.worked_out(&mut |_| watch.answer());
        worked.push(rated(priorities, option.figures, option));
    }
    let worth_it = worth_their_slivers(front(worth_their_joint(job.joint_in(&chosen), worked)));
    let (mut options, mut fault) = (Vec::new(), None);
    for (_, (_, option)) in thinned(worth_it, MOST_OPTIONS) {
        match check(job, &option) {
            Ok(()) => options.push(option),
            Err(found) => fault = Some(found),
        }
    }
    options.sort_by_key(LayoutOption::is_doubtful);
    // A layout that fails its check is not shown, and the others are still worth choosing between.
    debug_assert!(fault.is_none(), "{fault:?}");
    if let (true, Some(fault)) = (options.is_empty(), &fault) {
        return Err(fault.clone());
    }
    if watch.is_stopped() || fault.is_some() {
        reach = Reach::Searched;
    }
    Ok(Options { first: first(&options), options, reach })
}

/// A few that stand for all of a front; then not every candidate was looked at closely.
fn few<T>(front: Vec<(Cost, T)>, most: usize, reach: &mut Reach) -> Vec<(Cost, T)> {
    if front.len() > most {
        *reach = Reach::Searched;
    }
    thinned(front, most)
}

/// Something with its figures and their cost.
type Rated<T> = (Cost, (Figures, T));

fn rated<T>(priorities: &Priorities, figures: Figures, it: T) -> Rated<T> {
    (Cost::of(&figures, priorities), (figures, it))
}

/// Nobody takes more slivers for nothing: they have to save a tile beside every option with fewer, or leave a wider
/// narrowest cut.
fn worth_their_slivers<T>(front: Vec<Rated<T>>) -> Vec<Rated<T>> {
    let judged: Vec<Figures> = front.iter().map(|(_, (figures, _))| *figures).collect();
    let widest = |figures: &Figures| Measure::NarrowestCut.cost(figures);
    let is_worth_it = |own: &Figures| {
        let mut cleaner = judged.iter().filter(|other| other.slivers < own.slivers);
        cleaner.all(|other| own.bought < other.bought || widest(own) < widest(other))
    };
    front.into_iter().filter(|(_, (figures, _))| is_worth_it(figures)).collect()
}

/// A joint other than the usual is for saving a sliver or a tile: without what neither does beside some option with
/// the usual joint.
fn worth_their_joint(usual: Length, worked: Vec<Rated<LayoutOption>>) -> Vec<Rated<LayoutOption>> {
    let has_usual = |option: &LayoutOption| option.layout.joint == Some(usual);
    let judged = worked.iter().filter(|(_, (_, option))| has_usual(option));
    let with_usual: Vec<Figures> = judged.map(|(_, (figures, _))| *figures).collect();
    let saves = |own: &Figures| {
        with_usual.iter().all(|other| own.slivers < other.slivers || own.bought < other.bought)
    };
    worked.into_iter().filter(|(_, (figures, option))| has_usual(option) || saves(figures)).collect()
}

/// What each aim's best is, where no other aim has taken it; among equals the one listed first that is free. What is
/// doubtful is shown at first only where there is nothing else.
fn first(options: &[LayoutOption]) -> Vec<(Aim, usize)> {
    let sound = options.iter().take_while(|option| !option.is_doubtful()).count();
    let options = if sound > 0 { &options[..sound] } else { options };
    let mut first: Vec<(Aim, usize)> = Vec::new();
    // Looks are seldom alike in two options; tiles and cuts often are.
    for aim in [Aim::BestLooks, Aim::FewestTiles, Aim::LargestCuts] {
        let cost = |index: &usize| aim.cost(&options[*index].figures);
        let taken = |index: &usize| first.iter().any(|(_, taken)| taken == index);
        let best = (0..options.len()).min_by_key(|index| (cost(index), taken(index), *index));
        if let Some(best) = best.filter(|best| !taken(best)) {
            first.push((aim, best));
        }
    }
    first.sort_unstable();
    first
}

impl Aim {
    /// What counts for it, the most important first; less is better.
    fn cost(self, figures: &Figures) -> Vec<i64> {
        let of = |measures: &[Measure]| measures.iter().map(|measure| measure.cost(figures)).collect();
        match self {
            Self::FewestTiles => of(&[Measure::Tiles]),
            Self::LargestCuts => of(&[Measure::NarrowestCut]),
            Self::BestLooks => of(&[Measure::Slivers, Measure::Symmetry, Measure::OpeningEdges]),
        }
    }
}

/// Rules of which a layout that breaks one is never offered first where another keeps them: the gap under the first
/// course shows, or a saw can hardly make its cuts.
const OFFERED_FIRST: [&str; 3] = ["prop-gap", "thin-strip", "trimmed"];

impl LayoutOption {
    /// Whether a setter would put it last, whatever it saves.
    pub fn is_doubtful(&self) -> bool {
        self.advice.iter().any(|advice| !advice.passes && OFFERED_FIRST.contains(&advice.rule))
    }
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

#[cfg(test)]
#[path = "options_tests.rs"]
mod tests;
