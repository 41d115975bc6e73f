use std::sync::atomic::AtomicUsize;

use trade::measure::{Length, Sheet, Unit};
use trade::search::{Aim, Reach};

use super::*;

const SHORT: Patience =
    Patience { at_the_door: Duration::from_millis(20), to_look_again: Duration::from_millis(60) };

fn asked(name: &str) -> Asked {
    let job = Job {
        name: name.to_owned(),
        unit: Unit::Millimetre,
        tiles: Default::default(),
        joint: Length::mm(3),
        joint_range: (Length::mm(3), Length::mm(3)),
        kerf: Length::mm(2),
        spare: Length::ZERO,
        gaps: Default::default(),
        base_gap_max: Length::mm(6),
        smallest_cut: None,
        thinnest_leg: Sheet::THINNEST_LEG,
        thinnest_web: Sheet::THINNEST_WEB,
        setting_order: Vec::new(),
        start_course: 1,
        surfaces: Vec::new(),
        layout: None,
    };
    Asked { of: JobId::from("job".to_owned()), job, priorities: Priorities::default() }
}

fn none_found() -> Options {
    Options { options: Vec::new(), first: vec![(Aim::FewestTiles, 0)], reach: Reach::All }
}

/// Long enough for anything that is going to happen.
async fn wait_until(happened: impl Fn() -> bool) {
    for _ in 0..500 {
        if happened() {
            return;
        }
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
    panic!("it never happened");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_list_found_quickly_is_kept_and_not_looked_for_again() {
    static SEARCHES: AtomicUsize = AtomicUsize::new(0);
    fn at_once(
        _: &Job,
        _: &Priorities,
        go_on: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        SEARCHES.fetch_add(1, Ordering::Relaxed);
        assert!(go_on().is_continue(), "somebody waits");
        Ok(none_found())
    }
    let patience = Patience { at_the_door: Duration::from_secs(10), ..SHORT };
    let (lists, places) = (Lists::new(patience), Places::new(1, 2));
    let first = lists.list(asked("bath"), &places, at_once).await;
    assert!(matches!(&first, Looked::Done(Ok(listed)) if listed.options == none_found()), "{first:?}");
    assert_eq!(lists.list(asked("bath"), &places, at_once).await, first);
    assert_eq!(SEARCHES.load(Ordering::Relaxed), 1);
    lists.list(asked("bath, measured again"), &places, at_once).await;
    assert_eq!(SEARCHES.load(Ordering::Relaxed), 2);
    assert_eq!(lists.lying_there(&asked("bath")), None, "one list a job is kept, the latest");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_search_goes_on_while_somebody_looks_again_and_stops_when_nobody_does() {
    static STOPPED: AtomicBool = AtomicBool::new(false);
    fn without_end(
        _: &Job,
        _: &Priorities,
        go_on: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        while go_on().is_continue() {
            std::thread::sleep(Duration::from_millis(1));
        }
        STOPPED.store(true, Ordering::Relaxed);
        Ok(none_found())
    }
    let patience = Patience { to_look_again: Duration::from_millis(400), ..SHORT };
    let (lists, places) = (Lists::new(patience), Places::new(1, 2));
    for _ in 0..4 {
        assert_eq!(lists.list(asked("bath"), &places, without_end).await, Looked::StillLooking);
        assert!(!STOPPED.load(Ordering::Relaxed), "someone was told to look again");
    }
    wait_until(|| STOPPED.load(Ordering::Relaxed)).await;
    assert_eq!(lists.lying_there(&asked("bath")), None, "half a list is none");
    assert!(places.queue().unwrap().come().await.is_ok(), "its place is free again");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_plan_that_is_asked_for_meanwhile_goes_first() {
    static ASKED: AtomicUsize = AtomicUsize::new(0);
    fn without_end(
        _: &Job,
        _: &Priorities,
        go_on: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        while go_on().is_continue() {
            ASKED.fetch_add(1, Ordering::Relaxed);
            std::thread::sleep(Duration::from_millis(1));
        }
        Ok(none_found())
    }
    let patience = Patience { to_look_again: Duration::from_secs(20), ..SHORT };
    let (lists, places) = (Lists::new(patience), Places::new(1, 2));
    assert_eq!(lists.list(asked("bath"), &places, without_end).await, Looked::StillLooking);
    let mut plan = places.queue().unwrap();
    tokio::time::timeout(Duration::from_secs(5), plan.come()).await.unwrap().unwrap();
    let before = ASKED.load(Ordering::Relaxed);
    tokio::time::sleep(Duration::from_millis(30)).await;
    assert!(ASKED.load(Ordering::Relaxed) <= before + 1, "it waits for the plan");
    drop(plan);
    wait_until(|| ASKED.load(Ordering::Relaxed) > before + 1).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_job_that_changes_stops_the_search_for_what_it_was() {
    static STOPPED: AtomicUsize = AtomicUsize::new(0);
    fn without_end(
        job: &Job,
        _: &Priorities,
        go_on: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        while job.name == "before" && go_on().is_continue() {
            std::thread::sleep(Duration::from_millis(1));
        }
        STOPPED.fetch_add(1, Ordering::Relaxed);
        Ok(none_found())
    }
    let patience = Patience { at_the_door: Duration::from_secs(5), to_look_again: Duration::from_secs(60) };
    let lists = Lists::new(Patience { at_the_door: SHORT.at_the_door, ..patience });
    let places = Places::new(1, 2);
    assert_eq!(lists.list(asked("before"), &places, without_end).await, Looked::StillLooking);
    let lists = Lists { patience, ..lists };
    let after = lists.list(asked("after"), &places, without_end).await;
    assert!(matches!(after, Looked::Done(Ok(_))), "{after:?}");
    wait_until(|| STOPPED.load(Ordering::Relaxed) == 2).await;
    assert_eq!(lists.lying_there(&asked("before")), None);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_search_that_broke_off_is_no_answer_for_who_comes_later() {
    static SEARCHES: AtomicUsize = AtomicUsize::new(0);
    fn breaks_once(
        _: &Job,
        _: &Priorities,
        _: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        assert!(SEARCHES.fetch_add(1, Ordering::Relaxed) > 0, "the first breaks");
        Ok(none_found())
    }
    let patience = Patience { at_the_door: Duration::from_secs(10), ..SHORT };
    let (lists, places) = (Lists::new(patience), Places::new(1, 2));
    assert_eq!(
        lists.list(asked("bath"), &places, breaks_once).await,
        Looked::Done(Err(NoPlan::Stopped)),
        "who waited is told"
    );
    let later = lists.list(asked("bath"), &places, breaks_once).await;
    assert!(matches!(later, Looked::Done(Ok(_))), "{later:?}");
}

#[tokio::test]
async fn where_as_many_wait_as_may_a_search_is_refused_and_not_kept_as_an_answer() {
    fn at_once(
        _: &Job,
        _: &Priorities,
        _: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Options, WorkFault> {
        Ok(none_found())
    }
    let patience = Patience { at_the_door: Duration::from_secs(10), ..SHORT };
    let (lists, places) = (Lists::new(patience), Places::new(1, 2));
    let waiting = [places.queue().unwrap(), places.queue().unwrap()];
    let refused = lists.list(asked("bath"), &places, at_once).await;
    assert_eq!(refused, Looked::Done(Err(NoPlan::Busy)));
    drop(waiting);
    let answered = lists.list(asked("bath"), &places, at_once).await;
    assert!(matches!(answered, Looked::Done(Ok(_))), "{answered:?}");
}
