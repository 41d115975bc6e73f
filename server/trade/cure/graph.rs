//! What waits for what on a job: stages, and the waits between them.

use std::collections::{BTreeMap, BTreeSet};

use super::{Span, Window};

/// The stages of a job and what each waits for. No stage waits for itself, however far round.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StageGraph {
    /// Each stage, and whether it is on this job.
    stages: BTreeMap<StageKind, bool>,
    waits: BTreeSet<Wait>,
}

/// A kind of work on a surface.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum StageKind {
    /// Setting tile.
    Set,
    /// Taking off levelling clips.
    ClipRemoval,
    /// Grouting.
    Grout,
    /// Sealing.
    Seal,
}

/// One wait: `to` may start when `from` has been finished for as long as `kind` says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Wait {
    /// What must be finished.
    pub from: StageKind,
    /// What may then start.
    pub to: StageKind,
    /// How long after.
    pub kind: WaitKind,
}

/// How long a wait is, from the finish of the stage waited for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum WaitKind {
    /// No longer than until it is finished.
    Finished,
    /// As the product used in the stage waited for asks.
    Cure(Window),
    /// The same whatever the product.
    Fixed(Span),
}

/// What keeps a graph from being used.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum GraphFault {
    /// A wait names a stage that the job does not list.
    #[error("A wait names a stage that is not among the job's stages.")]
    UnknownStage(StageKind),
    /// These stages wait for each other in a ring.
    #[error("These stages wait for each other, so none could ever start.")]
    Ring(BTreeSet<StageKind>),
    /// A product's window that runs from another stage than the wait does.
    #[error("This waiting time belongs to the product of another stage.")]
    WindowOfAnotherStage { from: StageKind, window: Window },
    /// Less than nothing, or beyond [`super::Product::LONGEST`].
    #[error("A waiting time is at least nothing and at most 90 days.")]
    OutOfRange(Span),
}

impl StageGraph {
    /// A graph of these stages, all of them on the job, from stored rows `(from, to, wait)`. A row given
    /// twice counts once.
    ///
    /// # Errors
    /// A wait that names a stage not listed, runs on another stage's product or is out of range, and stages
    /// that wait for each other.
    pub fn new(
        stages: impl IntoIterator<Item = StageKind>,
        rows: impl IntoIterator<Item = (StageKind, StageKind, WaitKind)>,
    ) -> Result<Self, GraphFault> {
        let stages: BTreeMap<StageKind, bool> = stages.into_iter().map(|stage| (stage, true)).collect();
        let waits: BTreeSet<Wait> =
            rows.into_iter().map(|(from, to, kind)| Wait { from, to, kind }).collect();
        for wait in &waits {
            wait.check(&stages)?;
        }
        let ring = ring(stages.keys().copied().collect(), &waits);
        if ring.is_empty() { Ok(Self { stages, waits }) } else { Err(GraphFault::Ring(ring)) }
    }

    /// A shower wall: set, clips off, grout, seal. Grout waits for the mortar and for the clips (common
    /// practice).
    pub fn shower_wall() -> Self {
        use StageKind::{ClipRemoval, Grout, Seal, Set};
        let rows = [
            (Set, ClipRemoval, WaitKind::Cure(Window::SetToClips)),
            (Set, Grout, WaitKind::Cure(Window::SetToGrout)),
            (ClipRemoval, Grout, WaitKind::Finished),
            (Grout, Seal, WaitKind::Cure(Window::GroutToSeal)),
        ];
        let waits = rows.into_iter().map(|(from, to, kind)| Wait { from, to, kind }).collect();
        Self { stages: StageKind::ALL.into_iter().map(|stage| (stage, true)).collect(), waits }
    }

    /// The same graph with `stage` marked as not on this job. What it would have waited for, those behind it
    /// wait for in its place and as long as it would have; the windows that would run from its own finish
    /// fall away.
    ///
    /// # Errors
    /// A stage that the graph does not list.
    pub fn without(mut self, stage: StageKind) -> Result<Self, GraphFault> {
        *self.stages.get_mut(&stage).ok_or(GraphFault::UnknownStage(stage))? = false;
        Ok(self)
    }

    /// The graph as rows for storage; [`Self::new`] and [`Self::without`] read them back.
    pub fn rows(&self) -> Vec<(StageKind, StageKind, WaitKind)> {
        self.waits.iter().map(|wait| (wait.from, wait.to, wait.kind)).collect()
    }

    /// Every stage listed, and whether it is on this job.
    pub fn stages(&self) -> impl Iterator<Item = (StageKind, bool)> {
        self.stages.iter().map(|(stage, on)| (*stage, *on))
    }

    /// Whether the stage is on this job.
    pub fn has(&self, stage: StageKind) -> bool {
        self.stages.get(&stage).copied().unwrap_or(false)
    }

    /// What `stage` waits for among the stages on this job, looking through those that are not.
    pub fn waits_of(&self, stage: StageKind) -> BTreeSet<(StageKind, WaitKind)> {
        let mut found = BTreeSet::new();
        for wait in self.waits.iter().filter(|wait| wait.to == stage) {
            if self.has(wait.from) {
                found.insert((wait.from, wait.kind));
            } else {
                found.extend(self.waits_of(wait.from));
            }
        }
        found
    }
}

impl Wait {
    fn check(&self, stages: &BTreeMap<StageKind, bool>) -> Result<(), GraphFault> {
        let unknown = [self.from, self.to].into_iter().find(|stage| !stages.contains_key(stage));
        if let Some(stage) = unknown {
            return Err(GraphFault::UnknownStage(stage));
        }
        match self.kind {
            WaitKind::Finished => Ok(()),
            WaitKind::Cure(window) if window.leaves() == Some(self.from) => Ok(()),
            WaitKind::Cure(window) => Err(GraphFault::WindowOfAnotherStage { from: self.from, window }),
            WaitKind::Fixed(span) if span < Span::ZERO || span > super::Product::LONGEST => {
                Err(GraphFault::OutOfRange(span))
            }
            WaitKind::Fixed(_) => Ok(()),
        }
    }
}

impl Window {
    /// The stage whose product asks for this window. Sealant work is no stage of its own yet.
    pub fn leaves(self) -> Option<StageKind> {
        match self {
            Self::SetToClips | Self::SetToGrout => Some(StageKind::Set),
            Self::GroutToSeal | Self::GroutToWater => Some(StageKind::Grout),
            Self::SealToWater => Some(StageKind::Seal),
            Self::SealantToWater => None,
        }
    }
}

/// What is left when stages that wait for nothing left are taken away: empty unless there is a ring.
fn ring(mut left: BTreeSet<StageKind>, waits: &BTreeSet<Wait>) -> BTreeSet<StageKind> {
    loop {
        let held =
            |stage: &StageKind| waits.iter().any(|wait| wait.to == *stage && left.contains(&wait.from));
        let still: BTreeSet<StageKind> = left.iter().copied().filter(held).collect();
        if still.len() == left.len() {
            return left;
        }
        left = still;
    }
}

impl StageKind {
    /// Every stage, in the order of the work.
    pub const ALL: [Self; 4] = [Self::Set, Self::ClipRemoval, Self::Grout, Self::Seal];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::Set => "set",
            Self::ClipRemoval => "clip_removal",
            Self::Grout => "grout",
            Self::Seal => "seal",
        }
    }

    /// The stage stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.name() == name)
    }
}

impl WaitKind {
    /// The text it is stored as: `finished`, `cure set_to_grout`, `fixed 86400000` (milliseconds).
    pub fn to_text(self) -> String {
        match self {
            Self::Finished => "finished".to_owned(),
            Self::Cure(window) => format!("cure {}", window.name()),
            Self::Fixed(span) => format!("fixed {}", span.millis()),
        }
    }

    /// The wait stored as that text.
    pub fn from_text(text: &str) -> Option<Self> {
        match text.split_once(' ') {
            None if text == "finished" => Some(Self::Finished),
            Some(("cure", window)) => Window::from_name(window).map(Self::Cure),
            Some(("fixed", millis)) => {
                millis.parse().ok().map(|millis| Self::Fixed(Span::from_millis(millis)))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::StageKind::{ClipRemoval, Grout, Seal, Set};
    use super::*;

    #[test]
    fn grout_on_a_shower_wall_waits_for_the_mortar_and_the_clips() {
        let waits = StageGraph::shower_wall().waits_of(Grout);
        let expected = [(Set, WaitKind::Cure(Window::SetToGrout)), (ClipRemoval, WaitKind::Finished)];
        assert_eq!(waits, BTreeSet::from(expected));
        assert!(StageGraph::shower_wall().waits_of(Set).is_empty());
    }

    #[test]
    fn a_shower_wall_is_stored_and_read_back() {
        let graph = StageGraph::shower_wall();
        let stored =
            graph.rows().into_iter().map(|(from, to, kind)| (from.name(), to.name(), kind.to_text()));
        let read = stored.map(|(from, to, kind)| {
            let stage = |name| StageKind::from_name(name).unwrap();
            (stage(from), stage(to), WaitKind::from_text(&kind).unwrap())
        });
        assert_eq!(StageGraph::new(StageKind::ALL, read), Ok(graph));
    }

    #[test]
    fn without_clips_grout_still_waits_as_long_as_the_clips_would_have() {
        let graph = StageGraph::shower_wall().without(ClipRemoval).unwrap();
        let through = [(Set, WaitKind::Cure(Window::SetToClips)), (Set, WaitKind::Cure(Window::SetToGrout))];
        assert!(!graph.has(ClipRemoval));
        assert_eq!(graph.waits_of(Grout), BTreeSet::from(through));
    }

    #[test]
    fn with_clips_and_grout_off_sealing_waits_for_setting() {
        let graph = StageGraph::shower_wall().without(Grout).unwrap().without(ClipRemoval).unwrap();
        let through = [(Set, WaitKind::Cure(Window::SetToClips)), (Set, WaitKind::Cure(Window::SetToGrout))];
        assert_eq!(graph.waits_of(Seal), BTreeSet::from(through));
    }

    #[test]
    fn faults_are_named() {
        let wall = |rows: &[(StageKind, StageKind, WaitKind)]| StageGraph::new([Set, Grout], rows.to_vec());
        assert_eq!(wall(&[(Set, Seal, WaitKind::Finished)]), Err(GraphFault::UnknownStage(Seal)));
        assert_eq!(wall(&[(Set, Set, WaitKind::Finished)]), Err(GraphFault::Ring(BTreeSet::from([Set]))));
        let ring = wall(&[(Set, Grout, WaitKind::Finished), (Grout, Set, WaitKind::Finished)]);
        assert_eq!(ring, Err(GraphFault::Ring(BTreeSet::from([Set, Grout]))));
        let other = wall(&[(Set, Grout, WaitKind::Cure(Window::GroutToSeal))]);
        assert!(matches!(other, Err(GraphFault::WindowOfAnotherStage { .. })));
        let negative = WaitKind::Fixed(Span::from_hours(-1));
        assert!(matches!(wall(&[(Set, Grout, negative)]), Err(GraphFault::OutOfRange(_))));
        assert!(wall(&[]).unwrap().without(Seal).is_err());
    }

    #[test]
    fn no_other_text_is_a_wait() {
        for text in ["", "finished ", "cure", "cure plaster", "fixed", "fixed 1h", "soon 3"] {
            assert_eq!(WaitKind::from_text(text), None, "{text}");
        }
    }

    /// Every order in which the four stages could be done.
    fn orders() -> Vec<Vec<StageKind>> {
        let mut orders = vec![vec![]];
        for stage in StageKind::ALL {
            orders = orders
                .into_iter()
                .flat_map(|order: Vec<StageKind>| {
                    (0..=order.len()).map(move |at| {
                        let mut longer = order.clone();
                        longer.insert(at, stage);
                        longer
                    })
                })
                .collect();
        }
        orders
    }

    proptest! {
        /// A graph is taken exactly where some order of work would keep every wait.
        #[test]
        fn taken_exactly_where_some_order_keeps_every_wait(
            pairs in prop::collection::vec((0usize..4, 0usize..4), 0..7), hours in -3i64..100,
        ) {
            let kind = WaitKind::Fixed(Span::from_hours(hours.max(0)));
            let rows: Vec<_> =
                pairs.iter().map(|(from, to)| (StageKind::ALL[*from], StageKind::ALL[*to], kind)).collect();
            let place = |order: &[StageKind], stage| order.iter().position(|other| *other == stage);
            let kept = |order: &Vec<StageKind>| {
                rows.iter().all(|(from, to, _)| place(order, *from) < place(order, *to))
            };
            let graph = StageGraph::new(StageKind::ALL, rows.clone());
            prop_assert_eq!(graph.is_ok(), orders().iter().any(kept));
            prop_assert_eq!(WaitKind::from_text(&kind.to_text()), Some(kind));
        }
    }
}
