//! The list of options as a lead would look it over.

use std::ops::ControlFlow;

use super::*;
use crate::course::sample::mm;
use crate::measure::LeastSize;
use crate::search::work_out::tests::shower;

fn all(job: &Job) -> Options {
    options(job, &Priorities::default(), &mut || ControlFlow::Continue(())).expect("can be worked out")
}

/// A shower in a third-step bond, in which a cut of 10 cm is no sliver.
fn small_shower() -> Job {
    let mut job = shower();
    job.smallest_cut = Some(LeastSize { width: mm(100), height: mm(100) });
    job
}

fn costs(found: &Options) -> Vec<Cost> {
    found.options.iter().map(|option| Cost::of(&option.figures, &Priorities::default())).collect()
}

#[test]
fn a_shower_has_several_layouts_worth_choosing_between_and_none_beats_another() {
    let found = all(&small_shower());
    let costs = costs(&found);
    assert!((3..=MOST_OPTIONS).contains(&costs.len()), "{costs:?}");
    assert!(costs.is_sorted(), "the best first");
    for one in &costs {
        assert!(!costs.iter().any(|other| other.beats(one) || (other == one && !std::ptr::eq(other, one))));
    }
}

#[test]
fn an_options_layout_put_back_into_the_job_gives_that_option_and_no_other() {
    let mut job = small_shower();
    for option in all(&job).options {
        job.layout = Some(option.layout.clone());
        assert_eq!(plan(&job).as_ref(), Ok(&option));
        assert_eq!(all(&job).options, [option]);
    }
}

#[test]
fn the_ones_shown_at_first_are_the_best_at_what_they_are_shown_for() {
    let found = all(&small_shower());
    let figures = |index: usize| found.options[index].figures;
    let every = || found.options.iter().map(|option| option.figures);
    for (aim, index) in &found.first {
        match aim {
            Aim::FewestTiles => assert_eq!(Some(figures(*index).bought), every().map(|f| f.bought).min()),
            Aim::LargestCuts => {
                assert_eq!(Some(figures(*index).narrowest_cut), every().map(|f| f.narrowest_cut).max());
            }
            Aim::BestLooks => assert_eq!(Some(figures(*index).slivers), every().map(|f| f.slivers).min()),
        }
    }
    let mut indices: Vec<usize> = found.first.iter().map(|(_, index)| *index).collect();
    indices.dedup();
    assert!(indices.len() == found.first.len() && indices.len() > 1, "{:?}", found.first);
}

#[test]
fn whoever_says_stop_at_once_still_gets_a_layout_and_whoever_waits_always_the_same() {
    let job = small_shower();
    let stopped =
        options(&job, &Priorities::default(), &mut || ControlFlow::Break(())).expect("one at least");
    assert!(!stopped.options.is_empty() && stopped.reach == Reach::Searched);
    assert_eq!(all(&job), all(&job));
}
