//! A back wall of ten courses over a membrane, set on a Tuesday at 3:40 pm.

use proptest::prelude::*;

use super::*;
use crate::cure::gate::{self, Refusal};
use crate::cure::{BootId, Grounds, Night, OwnWindow, ProductClass, Reading, Stamp, Window};

const TUESDAY_3_40: Instant = Instant::from_millis(1_780_000_800_000);

/// A story: the crew reports, time passes, someone asks.
struct Story {
    graph: StageGraph,
    products: Products,
    wall: Wall,
    log: Vec<Entry>,
    climate: Climate,
    at: Stamp,
}

impl Story {
    fn new() -> Self {
        let plain = |name, class| Product::new(name, class, vec![]).unwrap();
        Self {
            graph: StageGraph::tile_work(),
            products: BTreeMap::from([
                (StageKind::Set, plain("grey bag", ProductClass::CementMortar)),
                (StageKind::Grout, plain("white tub", ProductClass::CementGrout)),
                (StageKind::Seal, plain("can", ProductClass::PenetratingSealer)),
            ]),
            wall: Wall::new(SurfaceId::new("back").unwrap(), Bed::OverMembrane, 10).unwrap(),
            log: vec![],
            climate: warm(),
            at: Stamp {
                wall: TUESDAY_3_40,
                boot: BootId(1),
                since_boot: Span::from_hours(30),
                wall_clock: WallClock::Trusted,
            },
        }
    }

    fn wait(&mut self, hours: i64) {
        self.wait_for(Span::from_hours(hours));
    }

    fn wait_for(&mut self, span: Span) {
        self.at.wall = self.at.wall + span;
        self.at.since_boot = self.at.since_boot + span;
    }

    fn report(&mut self, stage: StageKind, what: What, courses: Option<(u32, u32)>) -> EntryId {
        let id = EntryId(u64::try_from(self.log.len()).unwrap() + 1);
        self.log.push(Entry {
            id,
            part: Part {
                surface: SurfaceId::new("back").unwrap(),
                courses: courses.and_then(|(first, last)| Courses::new(first, last)),
            },
            stage,
            what,
            happened: self.at.wall,
            received: self.at,
            confirmed: false,
            supersedes: None,
            product: None,
        });
        id
    }

    fn finish(&mut self, stage: StageKind) -> EntryId {
        self.report(stage, What::Finished, None)
    }

    fn last(&mut self) -> &mut Entry {
        self.log.last_mut().unwrap()
    }

    fn work(&self) -> Work<'_> {
        Work {
            graph: &self.graph,
            products: &self.products,
            wall: &self.wall,
            log: &self.log,
            climate: &self.climate,
        }
    }

    fn now(&self) -> Now {
        Now { at: self.at, heartbeats: Heartbeats::default() }
    }

    fn verdict(&self, stage: StageKind) -> Verdict {
        not_before(&self.work(), None, stage, &self.now())
    }

    fn verdict_on(&self, first: u32, last: u32, stage: StageKind) -> Verdict {
        not_before(&self.work(), Courses::new(first, last), stage, &self.now())
    }

    fn may_start(&self, stage: StageKind) -> bool {
        gate::ask(&self.work(), None, stage, &self.now()).is_ok()
    }

    fn early(&self, id: EntryId) -> bool {
        done_early(&self.work(), id, &self.now())
    }
}

/// Nights of 21 °C, where a window is as long as the bag says.
fn warm() -> Climate {
    nights(210)
}

fn nights(lowest: i32) -> Climate {
    let received =
        Stamp { wall: TUESDAY_3_40, boot: BootId(1), since_boot: Span::ZERO, wall_clock: WallClock::Trusted };
    let lowest = Temperature::from_tenths(lowest).unwrap();
    Climate::new(vec![], vec![Night { id: EntryId(0), lowest, received }])
}

fn missing(stages: &[StageKind]) -> Verdict {
    Verdict::Missing { stages: stages.iter().copied().collect(), running: None }
}

fn hours_to_go(verdict: &Verdict) -> i64 {
    match verdict {
        Verdict::NotBefore { because, .. } => because.to_go.millis() / 3_600_000,
        other => panic!("not a wait: {other:?}"),
    }
}

#[test]
fn a_bare_wall_may_be_set_and_nothing_else() {
    let story = Story::new();
    assert_eq!(story.verdict(StageKind::Set), Verdict::Ready { since: None });
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]));
    assert_eq!(story.verdict(StageKind::Grout), missing(&[StageKind::Set, StageKind::ClipRemoval]));
    assert_eq!(story.verdict(StageKind::Seal), missing(&[StageKind::Grout]));
}

#[test]
fn grout_waits_48_hours_from_the_finish_and_says_why() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Started, None);
    story.wait(6);
    let set = story.finish(StageKind::Set);
    let finished = story.at.wall;
    story.wait(24);
    story.finish(StageKind::ClipRemoval);
    story.wait(18);
    let refused = gate::ask(&story.work(), None, StageKind::Grout, &story.now());
    let Err(Refusal::NotBefore { stage: StageKind::Grout, at, because }) = refused else {
        panic!("not refused: {refused:?}")
    };
    assert_eq!(at, finished + Span::from_hours(48), "48 h after the finish, 54 h after the start");
    assert_eq!((because.stage, because.entry, because.finished), (StageKind::Set, set, finished));
    assert_eq!(because.product.as_ref().map(Product::name), Some("grey bag"));
    assert_eq!((because.window, because.to_go), (Span::from_hours(48), Span::from_hours(6)));
    story.wait_for(Span::from_hours(6) - Span::from_millis(1));
    assert!(!story.may_start(StageKind::Grout));
    story.wait_for(Span::from_millis(1));
    assert_eq!(story.verdict(StageKind::Grout), Verdict::Ready { since: Some(at) });
    story.wait(5);
    assert_eq!(story.verdict(StageKind::Grout), Verdict::Ready { since: Some(at) });
    let pass = gate::ask(&story.work(), None, StageKind::Grout, &story.now()).unwrap();
    assert_eq!((pass.stage(), pass.courses(), pass.since()), (StageKind::Grout, None, Some(at)));
}

#[test]
fn grout_waits_for_the_clips_though_the_mortar_is_hard() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(100);
    assert_eq!(story.verdict(StageKind::Grout), missing(&[StageKind::ClipRemoval]));
    story.finish(StageKind::ClipRemoval);
    assert!(story.may_start(StageKind::Grout));
}

#[test]
fn on_an_ordinary_bed_a_day_is_enough() {
    let mut story = Story::new();
    story.wall = Wall::new(SurfaceId::new("back").unwrap(), Bed::Ordinary, 10).unwrap();
    story.finish(StageKind::Set);
    story.wait(24);
    story.finish(StageKind::ClipRemoval);
    assert!(story.may_start(StageKind::Grout));
}

#[test]
fn a_wall_set_in_several_goes_counts_from_the_last() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Finished, Some((1, 4)));
    story.wait(24);
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]), "courses 5 to 10 are bare");
    assert_eq!(story.verdict(StageKind::Set), Verdict::Ready { since: None });
    story.report(StageKind::Set, What::Finished, Some((5, 10)));
    story.wait(10);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 14);
    let lower = story.verdict_on(1, 4, StageKind::ClipRemoval);
    assert!(matches!(lower, Verdict::Ready { since: Some(_) }), "{lower:?}");
    assert_eq!(hours_to_go(&story.verdict_on(4, 5, StageKind::ClipRemoval)), 14);
}

#[test]
fn a_wall_started_again_is_not_finished() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(30);
    story.report(StageKind::Set, What::Started, Some((7, 7)));
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]));
    assert!(matches!(story.verdict_on(1, 6, StageKind::ClipRemoval), Verdict::Ready { .. }));
    story.wait(1);
    story.report(StageKind::Set, What::Finished, Some((7, 7)));
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 24);
}

#[test]
fn an_earlier_go_told_late_does_not_end_the_one_under_way() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Started, None);
    story.wait(6);
    story.report(StageKind::Set, What::Started, None);
    story.wait(1);
    story.finish(StageKind::Set);
    story.last().happened = story.at.wall - Span::from_hours(2);
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]));
    story.finish(StageKind::Set);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 24);
}

#[test]
fn start_and_finish_told_together_in_the_evening_make_a_finished_wall() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Started, None);
    story.last().happened = story.at.wall - Span::from_hours(8);
    story.wait_for(Span::from_minutes(1));
    story.finish(StageKind::Set);
    story.last().happened = story.at.wall - Span::from_hours(2);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 24, "late, so it counts from receipt");
    story.last().confirmed = true;
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 22);
}

#[test]
fn work_done_early_is_kept_and_counts_in_full() {
    let mut story = Story::new();
    let set = story.finish(StageKind::Set);
    story.wait(24);
    let clips = story.finish(StageKind::ClipRemoval);
    story.wait(1);
    let grout = story.finish(StageKind::Grout);
    let done = Verdict::Done { at: story.at.wall, by: grout, done_early: true };
    assert_eq!(story.verdict(StageKind::Grout), done);
    assert!(!story.early(set) && !story.early(clips) && story.early(grout));
    assert_eq!(hours_to_go(&story.verdict(StageKind::Seal)), 72);
    assert!(!story.may_start(StageKind::Grout), "grouting again waits as it did the first time");
}

#[test]
fn work_done_on_time_is_not_called_early_however_the_wall_fares_later() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(48);
    story.finish(StageKind::ClipRemoval);
    let grout = story.finish(StageKind::Grout);
    story.wait(500);
    story.report(StageKind::Set, What::Finished, Some((7, 7)));
    assert!(!story.early(grout));
}

#[test]
fn a_start_before_time_is_early_though_the_finish_is_not() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(24);
    story.finish(StageKind::ClipRemoval);
    story.wait(23);
    story.report(StageKind::Grout, What::Started, None);
    story.wait(2);
    let finished = story.finish(StageKind::Grout);
    assert!(!story.early(finished));
    assert!(matches!(story.verdict(StageKind::Grout), Verdict::Done { done_early: true, .. }));
}

#[test]
fn a_correction_to_a_later_finish_makes_the_grout_early_in_hindsight() {
    let mut story = Story::new();
    let set = story.finish(StageKind::Set);
    story.wait(24);
    story.finish(StageKind::ClipRemoval);
    story.wait(24);
    let grout = story.finish(StageKind::Grout);
    assert!(!story.early(grout));
    story.wait(1);
    story.finish(StageKind::Set);
    story.last().happened = story.at.wall - Span::from_hours(40);
    story.last().confirmed = true;
    story.last().supersedes = Some(set);
    assert!(story.early(grout), "39 h after the last tile");
}

#[test]
fn a_correction_that_nothing_changes_leaves_the_grout_on_time() {
    let mut story = Story::new();
    let set = story.finish(StageKind::Set);
    story.wait(24);
    story.finish(StageKind::ClipRemoval);
    story.wait(24);
    let grout = story.finish(StageKind::Grout);
    story.wait(1);
    story.finish(StageKind::Set);
    story.last().happened = story.at.wall - Span::from_hours(49);
    story.last().confirmed = true;
    story.last().supersedes = Some(set);
    assert!(!story.early(grout));
}

#[test]
fn a_finish_entered_by_mistake_is_withdrawn() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Started, None);
    let mistake = story.finish(StageKind::Set);
    story.wait(30);
    assert!(story.may_start(StageKind::ClipRemoval));
    story.report(StageKind::Set, What::Withdrawn, None);
    story.last().supersedes = Some(mistake);
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]));
}

#[test]
fn what_was_really_used_rules_the_wait() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.last().product = Some(Product::new("fast bag", ProductClass::FastCementMortar, vec![]).unwrap());
    story.wait(16);
    assert!(story.may_start(StageKind::ClipRemoval));
}

#[test]
fn a_part_set_with_slower_mortar_rules_though_it_was_finished_first() {
    let mut story = Story::new();
    story.report(StageKind::Set, What::Finished, Some((1, 4)));
    story.wait(2);
    story.report(StageKind::Set, What::Finished, Some((5, 10)));
    story.last().product = Some(Product::new("fast bag", ProductClass::FastCementMortar, vec![]).unwrap());
    story.wait(16);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 6);
}

#[test]
fn an_unknown_mortar_waits_the_longest() {
    let mut story = Story::new();
    story.products.clear();
    story.finish(StageKind::Set);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 72);
    story.last().product = Some(Product::new("grout", ProductClass::CementGrout, vec![]).unwrap());
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 72, "a grout says nothing of clips");
}

#[test]
fn the_crews_own_window_rules() {
    let mut story = Story::new();
    let own = OwnWindow {
        window: Window::SetToClips,
        bed: Bed::OverMembrane,
        span: Span::from_hours(12),
        grounds: Grounds::new("data sheet"),
    };
    let bag = Product::new("bag", ProductClass::CementMortar, vec![own]).unwrap();
    story.products.insert(StageKind::Set, bag);
    story.finish(StageKind::Set);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 12);
}

#[test]
fn a_stage_not_on_the_job_says_so_and_lets_its_wait_through() {
    let mut story = Story::new();
    story.graph = StageGraph::tile_work().without(StageKind::ClipRemoval).unwrap();
    story.finish(StageKind::Set);
    assert_eq!(story.verdict(StageKind::ClipRemoval), Verdict::NotOnThisJob);
    let refused = gate::ask(&story.work(), None, StageKind::ClipRemoval, &story.now());
    assert_eq!(refused, Err(Refusal::NotOnThisJob { stage: StageKind::ClipRemoval }));
    story.wait(48);
    assert!(story.may_start(StageKind::Grout));
}

#[test]
fn a_fixed_wait_runs_whatever_the_product() {
    let mut story = Story::new();
    let row = (StageKind::Set, StageKind::Grout, WaitKind::Fixed(Span::from_hours(5)));
    story.graph = StageGraph::new([StageKind::Set, StageKind::Grout], [row]).unwrap();
    story.finish(StageKind::Set);
    assert_eq!(hours_to_go(&story.verdict(StageKind::Grout)), 5);
}

#[test]
fn a_finish_told_late_waits_from_receipt_until_the_lead_confirms() {
    let mut story = Story::new();
    story.wait(20);
    story.finish(StageKind::Set);
    story.last().happened = TUESDAY_3_40;
    story.wait(4);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 20);
    story.last().confirmed = true;
    assert!(story.may_start(StageKind::ClipRemoval));
}

#[test]
fn a_clock_set_forward_opens_nothing() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(2);
    story.at.wall = story.at.wall + Span::from_hours(30);
    assert_eq!(hours_to_go(&story.verdict(StageKind::ClipRemoval)), 22);
}

#[test]
fn a_clock_known_to_be_behind_opens_nothing() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(30);
    story.at.wall_clock = WallClock::Behind;
    let verdict = story.verdict(StageKind::ClipRemoval);
    assert_eq!(hours_to_go(&verdict), 24);
    assert!(matches!(
        verdict,
        Verdict::NotBefore { because: Reason { wall_clock: WallClock::Behind, .. }, .. }
    ));
}

#[test]
fn other_walls_do_not_matter() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.last().part.surface = SurfaceId::new("left").unwrap();
    assert_eq!(story.verdict(StageKind::ClipRemoval), missing(&[StageKind::Set]));
}

#[test]
fn a_wall_without_courses_is_no_wall() {
    assert_eq!(Wall::new(SurfaceId::new("back").unwrap(), Bed::Ordinary, 0), None);
}

#[test]
fn a_start_is_open_until_the_part_it_was_told_for_is_finished() {
    let mut story = Story::new();
    let open = |story: &Story| open_starts(&story.work(), None, StageKind::Set, &story.now());
    assert!(open(&story).is_empty());
    let begun = story.report(StageKind::Set, What::Started, Some((1, 4)));
    story.wait(1);
    story.report(StageKind::Set, What::Finished, Some((1, 3)));
    assert_eq!(open(&story), [begun]);
    assert!(open_starts(&story.work(), Courses::new(5, 10), StageKind::Set, &story.now()).is_empty());
    story.report(StageKind::Set, What::Finished, Some((4, 4)));
    assert!(open(&story).is_empty());
    assert_eq!(story.verdict(StageKind::Set), Verdict::Ready { since: None }, "courses 5 to 10 are left");
}

impl Story {
    /// Someone reads a temperature of the room, or of one wall.
    fn read(&mut self, tenths: i32, surface: Option<&str>) {
        let reading = Reading {
            id: EntryId(u64::try_from(self.climate.readings().count()).unwrap() + 1000),
            surface: surface.and_then(SurfaceId::new),
            temperature: Temperature::from_tenths(tenths),
            held_from: self.at.wall,
            received: self.at,
            supersedes: None,
        };
        let all = self.climate.readings().cloned().chain([reading]).collect();
        self.climate = Climate::new(all, self.climate.nights().to_vec());
    }
}

#[test]
fn a_cold_night_makes_the_wait_longer_and_says_by_how_much() {
    let mut story = Story::new();
    story.climate = nights(130);
    story.finish(StageKind::Set);
    story.wait(10);
    let Verdict::NotBefore { at, because } = story.verdict(StageKind::ClipRemoval) else { panic!("no wait") };
    assert_eq!(at, TUESDAY_3_40 + Span::from_hours(48));
    assert_eq!((because.to_go, because.longer), (Span::from_hours(38), Span::from_hours(24)));
    let thirteen = Temperature::from_tenths(130).unwrap();
    assert_eq!(because.pace, Pace::Cold { temperature: thirteen, whole: Span::from_hours(48) });
    story.wait(38);
    assert!(story.may_start(StageKind::ClipRemoval));
}

#[test]
fn too_cold_for_the_mortar_no_time_is_told() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.climate = nights(49);
    story.wait(500);
    let Verdict::TooCold { because } = story.verdict(StageKind::ClipRemoval) else { panic!("not too cold") };
    assert_eq!(because.to_go, Span::from_hours(24));
    let refused = gate::ask(&story.work(), None, StageKind::ClipRemoval, &story.now());
    assert!(matches!(refused, Err(Refusal::TooCold { stage: StageKind::ClipRemoval, .. })));
    let grout = story.verdict(StageKind::Grout);
    assert!(
        matches!(&grout, Verdict::Missing { running: Some(running), .. } if running.at.is_none()),
        "{grout:?}"
    );
}

#[test]
fn a_fixed_wait_and_a_finish_alone_know_no_cold() {
    let mut story = Story::new();
    story.climate = nights(-50);
    let row = (StageKind::Set, StageKind::Grout, WaitKind::Fixed(Span::from_hours(5)));
    story.graph = StageGraph::new([StageKind::Set, StageKind::Grout], [row]).unwrap();
    story.finish(StageKind::Set);
    assert_eq!(hours_to_go(&story.verdict(StageKind::Grout)), 5);
}

#[test]
fn what_was_started_in_its_time_is_not_called_early_for_a_colder_day_later() {
    let mut story = Story::new();
    story.finish(StageKind::Set);
    story.wait(24);
    let clips = story.finish(StageKind::ClipRemoval);
    assert!(!story.early(clips));
    story.wait(1);
    story.read(60, None);
    assert!(!story.early(clips), "it was read after the clips came off");
    let mut late = story.climate.readings().next().unwrap().clone();
    late.held_from = TUESDAY_3_40 + Span::from_hours(12);
    story.climate = Climate::new(vec![late], story.climate.nights().to_vec());
    assert!(story.early(clips), "told late, it speaks of the night before");
}

#[test]
fn frost_marks_what_was_finished_and_nothing_else() {
    let mut story = Story::new();
    let begun = story.report(StageKind::Set, What::Started, None);
    story.wait(1);
    let set = story.finish(StageKind::Set);
    story.wait(5);
    story.read(-10, None);
    let frozen = |story: &Story, id| may_have_frozen(&story.work(), id, &story.now());
    assert!(frozen(&story, set) && !frozen(&story, begun));
    story.wait(100);
    assert!(frozen(&story, set));
    let mut other = Story::new();
    let set = other.finish(StageKind::Set);
    other.read(-10, Some("left"));
    assert!(!frozen(&other, set));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Nothing told of the left wall, or of other courses, makes any step on the lower back wall earlier or later.
    #[test]
    fn adding_an_event_never_makes_an_unrelated_part_earlier(
        told in prop::collection::vec((0usize..3, 0usize..4, 0i64..40, 0i32..240), 0..8),
        added in (0usize..4, 0usize..4, 0i64..40, 0i32..240),
    ) {
        let play = |also: bool| {
            let mut story = Story::new();
            story.climate = nights(180);
            for (kind, stage, hours, tenths) in &told {
                story.wait(*hours);
                match kind {
                    0 => story.read(*tenths, None),
                    1 => drop(story.report(StageKind::TILE_WORK[*stage], What::Started, Some((1, 4)))),
                    _ => drop(story.report(StageKind::TILE_WORK[*stage], What::Finished, Some((1, 4)))),
                }
            }
            let (kind, stage, hours, tenths) = added;
            story.wait(hours);
            if also {
                let stage = StageKind::TILE_WORK[stage];
                match kind {
                    0 => story.read(tenths, Some("left")),
                    1 => drop(story.report(stage, What::Finished, Some((5, 10)))),
                    2 => drop(story.report(stage, What::Started, Some((5, 10)))),
                    _ => {
                        story.report(stage, What::Finished, None);
                        story.last().part.surface = SurfaceId::new("left").unwrap();
                    }
                }
            }
            story.wait(1);
            StageKind::TILE_WORK.map(|stage| story.verdict_on(1, 4, stage))
        };
        prop_assert_eq!(play(true), play(false));
    }
}
