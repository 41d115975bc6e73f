//! What waits for what on a job: stages, and the waits between them.

use std::collections::{BTreeMap, BTreeSet};

use super::{Grounds, Span, Template, Window};

/// The stages of a job and what each waits for. No stage waits for itself, however far round.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StageGraph {
    /// Each stage, and whether it is on this job.
    stages: BTreeMap<StageKind, bool>,
    waits: BTreeSet<Wait>,
}

/// A kind of work on a surface, in the order of the work.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum StageKind {
    /// Waterproofing: the last coat of the membrane.
    Membrane,
    /// Water test: the drain is plugged and the pan is filled.
    TestFilled,
    /// Water test: it has held, and a witness has seen it.
    TestPassed,
    /// Setting tile.
    Set,
    /// Taking off levelling clips.
    ClipRemoval,
    /// Grouting.
    Grout,
    /// Sealant in the corners and at the base: the movement joints, which stay empty of grout.
    Sealant,
    /// Sealing.
    Seal,
    /// The floor is opened to people.
    WalkOn,
    /// The floor is opened to fixtures and heavy loads.
    HeavyUse,
    /// Water on it.
    WaterOn,
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
    /// Nothing would be left to do.
    #[error("At least one stage stays on the job.")]
    NoStage,
    /// Waterproofing or its test, and nobody said who answers for it.
    #[error("Say who does this instead, when, and what proof there is.")]
    TakenOffWithoutReason(StageKind),
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

    /// The work with tile alone: set, clips off, grout, seal. Grout waits for the mortar and for the clips (common
    /// practice).
    pub fn tile_work() -> Self {
        let stages = StageKind::TILE_WORK;
        let among = |wait: &&Wait| stages.contains(&wait.from) && stages.contains(&wait.to);
        Self {
            stages: stages.into_iter().map(|stage| (stage, true)).collect(),
            waits: WAITS.iter().filter(among).copied().collect(),
        }
    }

    /// Every stage there is with all that each waits for, those of the template on the job and the others not.
    pub fn of(template: Template) -> Self {
        let on = template.stages();
        let stages = StageKind::ALL.into_iter().map(|stage| (stage, on.contains(&stage))).collect();
        Self { stages, waits: WAITS.into_iter().collect() }
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

    /// The same stages and waits with these on the job, and the others not.
    ///
    /// # Errors
    /// None at all, one that the graph does not list, and what keeps water out taken off for no reason.
    pub fn with_on(mut self, on: &BTreeSet<StageKind>, why: Option<&Grounds>) -> Result<Self, GraphFault> {
        if on.is_empty() {
            return Err(GraphFault::NoStage);
        }
        if let Some(unknown) = on.iter().find(|stage| !self.stages.contains_key(stage)) {
            return Err(GraphFault::UnknownStage(*unknown));
        }
        for (stage, is_on) in &mut self.stages {
            let stays = on.contains(stage);
            if *is_on && !stays && stage.keeps_water_out() && why.is_none() {
                return Err(GraphFault::TakenOffWithoutReason(*stage));
            }
            *is_on = stays;
        }
        Ok(self)
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

/// What waits for what, common practice: a test is made on a cured membrane and holds for a day; tile goes on a
/// membrane that was tested; sealant goes in before sealer; people, fixtures and water wait for the grout, and water
/// for sealant and sealer too.
///
/// A day of the water test: "most codes require a 24 hour test, some longer" (an installer at terrylove.com), and the
/// least of ASTM D5957 (from memory). An inspector may ask for another.
const WAITS: [Wait; 15] = {
    use StageKind::{
        ClipRemoval, Grout, HeavyUse, Membrane, Seal, Sealant, Set, TestFilled, TestPassed, WalkOn, WaterOn,
    };
    use WaitKind::{Cure, Finished, Fixed};
    const fn wait(from: StageKind, to: StageKind, kind: WaitKind) -> Wait {
        Wait { from, to, kind }
    }
    [
        wait(Membrane, TestFilled, Cure(Window::MembraneToTest)),
        wait(TestFilled, TestPassed, Fixed(Span::from_hours(24))),
        wait(Membrane, Set, Cure(Window::MembraneToTile)),
        wait(TestPassed, Set, Finished),
        wait(Set, ClipRemoval, Cure(Window::SetToClips)),
        wait(Set, Grout, Cure(Window::SetToGrout)),
        wait(ClipRemoval, Grout, Finished),
        wait(Grout, Sealant, Cure(Window::GroutToSealant)),
        wait(Grout, Seal, Cure(Window::GroutToSeal)),
        wait(Sealant, Seal, Cure(Window::SealantToSeal)),
        wait(Grout, WalkOn, Cure(Window::GroutToWalk)),
        wait(Grout, HeavyUse, Cure(Window::GroutToHeavyUse)),
        wait(Grout, WaterOn, Cure(Window::GroutToWater)),
        wait(Sealant, WaterOn, Cure(Window::SealantToWater)),
        wait(Seal, WaterOn, Cure(Window::SealToWater)),
    ]
};

impl Wait {
    fn check(&self, stages: &BTreeMap<StageKind, bool>) -> Result<(), GraphFault> {
        let unknown = [self.from, self.to].into_iter().find(|stage| !stages.contains_key(stage));
        if let Some(stage) = unknown {
            return Err(GraphFault::UnknownStage(stage));
        }
        match self.kind {
            WaitKind::Finished => Ok(()),
            WaitKind::Cure(window) if window.leaves() == self.from => Ok(()),
            WaitKind::Cure(window) => Err(GraphFault::WindowOfAnotherStage { from: self.from, window }),
            WaitKind::Fixed(span) if span < Span::ZERO || span > super::Product::LONGEST => {
                Err(GraphFault::OutOfRange(span))
            }
            WaitKind::Fixed(_) => Ok(()),
        }
    }
}

impl Window {
    /// The stage whose product asks for this window.
    pub fn leaves(self) -> StageKind {
        match self {
            Self::MembraneToTest | Self::MembraneToTile => StageKind::Membrane,
            Self::SetToClips | Self::SetToGrout => StageKind::Set,
            Self::GroutToSealant
            | Self::GroutToSeal
            | Self::GroutToWalk
            | Self::GroutToHeavyUse
            | Self::GroutToWater => StageKind::Grout,
            Self::SealantToSeal | Self::SealantToWater => StageKind::Sealant,
            Self::SealToWater => StageKind::Seal,
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
    pub const ALL: [Self; 11] = [
        Self::Membrane,
        Self::TestFilled,
        Self::TestPassed,
        Self::Set,
        Self::ClipRemoval,
        Self::Grout,
        Self::Sealant,
        Self::Seal,
        Self::WalkOn,
        Self::HeavyUse,
        Self::WaterOn,
    ];

    /// The work with tile alone, which every job has that is grouted.
    pub const TILE_WORK: [Self; 4] = [Self::Set, Self::ClipRemoval, Self::Grout, Self::Seal];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::Membrane => "membrane",
            Self::TestFilled => "test_filled",
            Self::TestPassed => "test_passed",
            Self::Set => "set",
            Self::ClipRemoval => "clip_removal",
            Self::Grout => "grout",
            Self::Sealant => "sealant",
            Self::Seal => "seal",
            Self::WalkOn => "walk_on",
            Self::HeavyUse => "heavy_use",
            Self::WaterOn => "water_on",
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

    use super::StageKind::{
        ClipRemoval, Grout, Membrane, Seal, Sealant, Set, TestFilled, TestPassed, WaterOn,
    };
    use super::*;

    #[test]
    fn grout_waits_for_the_mortar_and_the_clips() {
        let waits = StageGraph::tile_work().waits_of(Grout);
        let expected = [(Set, WaitKind::Cure(Window::SetToGrout)), (ClipRemoval, WaitKind::Finished)];
        assert_eq!(waits, BTreeSet::from(expected));
        assert!(StageGraph::tile_work().waits_of(Set).is_empty());
    }

    #[test]
    fn what_waits_for_what_is_stored_and_read_back() {
        let graph = StageGraph::tile_work();
        let stored =
            graph.rows().into_iter().map(|(from, to, kind)| (from.name(), to.name(), kind.to_text()));
        let read = stored.map(|(from, to, kind)| {
            let stage = |name| StageKind::from_name(name).unwrap();
            (stage(from), stage(to), WaitKind::from_text(&kind).unwrap())
        });
        assert_eq!(StageGraph::new(StageKind::TILE_WORK, read), Ok(graph));
    }

    #[test]
    fn all_that_waits_for_something_can_be_done_in_some_order() {
        let rows = WAITS.map(|wait| (wait.from, wait.to, wait.kind));
        let graph = StageGraph::new(StageKind::ALL, rows).expect("no ring");
        assert_eq!(graph.rows().len(), WAITS.len());
        assert!(WAITS.iter().all(|wait| wait.from < wait.to), "in the order of the work");
        for window in Window::ALL {
            let waits: Vec<_> = WAITS.iter().filter(|wait| wait.kind == WaitKind::Cure(window)).collect();
            assert!(matches!(waits[..], [wait] if wait.from == window.leaves()), "{window:?}");
        }
    }

    #[test]
    fn tile_in_a_shower_waits_for_the_membrane_and_its_test() {
        let graph = StageGraph::of(Template::ShowerWall);
        let expected = [(Membrane, WaitKind::Cure(Window::MembraneToTile)), (TestPassed, WaitKind::Finished)];
        assert_eq!(graph.waits_of(Set), BTreeSet::from(expected));
        let day = WaitKind::Fixed(Span::from_hours(24));
        assert_eq!(graph.waits_of(TestPassed), BTreeSet::from([(TestFilled, day)]));
        // Of a wall that is not tested the day of the test is nobody's wait.
        let untested = graph.without(TestFilled).unwrap().without(TestPassed).unwrap();
        let cured =
            [Window::MembraneToTest, Window::MembraneToTile].map(|window| (Membrane, WaitKind::Cure(window)));
        assert_eq!(untested.waits_of(Set), BTreeSet::from(cured));
    }

    #[test]
    fn water_waits_for_grout_sealant_and_sealer() {
        let graph = StageGraph::of(Template::TubSurround);
        let expected =
            [(Grout, Window::GroutToWater), (Sealant, Window::SealantToWater), (Seal, Window::SealToWater)];
        assert_eq!(
            graph.waits_of(WaterOn),
            expected.map(|(from, window)| (from, WaitKind::Cure(window))).into()
        );
    }

    #[test]
    fn with_tile_work_alone_the_stages_of_a_wider_graph_wait_no_less() {
        let (narrow, wide) = (StageGraph::tile_work(), StageGraph::of(Template::TileWork));
        for stage in StageKind::TILE_WORK {
            assert!(wide.waits_of(stage).is_superset(&narrow.waits_of(stage)), "{stage:?}");
        }
    }

    #[test]
    fn without_clips_grout_still_waits_as_long_as_the_clips_would_have() {
        let graph = StageGraph::tile_work().without(ClipRemoval).unwrap();
        let through = [(Set, WaitKind::Cure(Window::SetToClips)), (Set, WaitKind::Cure(Window::SetToGrout))];
        assert!(!graph.has(ClipRemoval));
        assert_eq!(graph.waits_of(Grout), BTreeSet::from(through));
    }

    #[test]
    fn with_clips_and_grout_off_sealing_waits_for_setting() {
        let graph = StageGraph::tile_work().without(Grout).unwrap().without(ClipRemoval).unwrap();
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

    #[test]
    fn waterproofing_comes_off_a_job_only_for_a_reason() {
        let shower = || StageGraph::of(Template::ShowerWall);
        let tile_alone = Template::TileWork.stages();
        assert_eq!(shower().with_on(&tile_alone, None), Err(GraphFault::TakenOffWithoutReason(Membrane)));
        let why = Grounds::new("the builder's own crew, Monday, photographs");
        assert_eq!(shower().with_on(&tile_alone, why.as_ref()), Ok(StageGraph::of(Template::TileWork)));
        assert_eq!(
            StageGraph::of(Template::TileWork).with_on(&Template::ShowerWall.stages(), None),
            Ok(shower())
        );
        let without_clips =
            Template::ShowerWall.stages().into_iter().filter(|stage| *stage != ClipRemoval).collect();
        assert!(shower().with_on(&without_clips, None).is_ok(), "small tile has no clips");
        assert_eq!(shower().with_on(&BTreeSet::new(), why.as_ref()), Err(GraphFault::NoStage));
        assert_eq!(
            StageGraph::tile_work().with_on(&BTreeSet::from([Membrane]), None),
            Err(GraphFault::UnknownStage(Membrane))
        );
    }

    /// Every order in which the four stages could be done.
    fn orders() -> Vec<Vec<StageKind>> {
        let mut orders = vec![vec![]];
        for stage in StageKind::TILE_WORK {
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
                pairs.iter().map(|(from, to)| (StageKind::TILE_WORK[*from], StageKind::TILE_WORK[*to], kind)).collect();
            let place = |order: &[StageKind], stage| order.iter().position(|other| *other == stage);
            let kept = |order: &Vec<StageKind>| {
                rows.iter().all(|(from, to, _)| place(order, *from) < place(order, *to))
            };
            let graph = StageGraph::new(StageKind::TILE_WORK, rows.clone());
            prop_assert_eq!(graph.is_ok(), orders().iter().any(kept));
            prop_assert_eq!(WaitKind::from_text(&kind.to_text()), Some(kind));
        }
    }
}
