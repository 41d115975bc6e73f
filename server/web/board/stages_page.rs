//! The page of the stages that are on a job.

use std::collections::BTreeSet;

use askama::Template as Page;
use trade::cure::{StageGraph, StageKind, Template};

use super::page::frame;
use super::sight::Sight;
use super::stages::{ON, WHY};
use super::words::Words;
use crate::app::App;
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// Every stage there is, with a tick for each that is on the job.
#[derive(Page)]
#[template(path = "board/stages.html")]
pub struct StagesPage {
    frame: Frame,
    faults: Faults,
    work: Field,
    works: Vec<Choice>,
    /// The field that all ticks share.
    on: Field,
    ticks: Vec<Tick>,
    why: Field,
    url: String,
    board_url: String,
}

struct Tick {
    value: &'static str,
    stage: String,
    /// What it waits for, with these ticks.
    after: String,
    ticked: bool,
}

impl StagesPage {
    /// The page with these stages ticked, and what is wrong with them. A kind of work is named where its stages are
    /// shown for the asking: nothing is saved yet.
    pub fn new(
        app: &App,
        sight: &Sight,
        work: Option<Template>,
        ticked: &BTreeSet<StageKind>,
        why: String,
        faults: Faults,
    ) -> Self {
        let words = sight.words(app);
        let graph = &sight.stages.graph;
        let waits = all_waits(graph);
        let tick = |stage: StageKind| Tick {
            value: stage.name(),
            stage: words.stage(stage),
            after: after(&words, &waits, ticked, stage),
            ticked: ticked.contains(&stage),
        };
        let frame = frame(app, sight, words.say("stages-title")).faulty_if(!faults.is_empty());
        Self {
            work: Field::new("work", work.map_or("", Template::name)),
            works: works(app),
            on: Field::new(ON, "").with(&faults),
            ticks: graph.stages().map(|(stage, _)| tick(stage)).collect(),
            why: Field::new(WHY, why).with(&faults),
            url: urls::stages(sight.job()),
            board_url: urls::board(sight.job()),
            frame,
            faults,
        }
    }
}

/// Every kind of work, as a choice.
pub fn works(app: &App) -> Vec<Choice> {
    let choice = |work: Template| Choice::new(work.name(), app.texts.say(&format!("work-{}", work.name())));
    Template::ALL.into_iter().map(choice).collect()
}

/// The graph with every stage on the job.
fn all_waits(graph: &StageGraph) -> StageGraph {
    let all = graph.stages().map(|(stage, _)| stage).collect();
    graph.clone().with_on(&all, None).unwrap_or_else(|_| graph.clone())
}

/// `after Set, Clips off`.
fn after(words: &Words, all: &StageGraph, ticked: &BTreeSet<StageKind>, stage: StageKind) -> String {
    let mut found = BTreeSet::new();
    let mut next = vec![stage];
    while let Some(stage) = next.pop() {
        for (from, _) in all.waits_of(stage) {
            if ticked.contains(&from) {
                found.insert(from);
            } else {
                next.push(from);
            }
        }
    }
    if found.is_empty() {
        return words.say("stages-after-nothing");
    }
    words.say_with("stages-after", &[("stages", &words.stages(&found))])
}
