//! Works out how long a cold wall waits and how old concrete would be by then: one case a line as JSON from standard
//! input, one answer a line. `tests/outside/cold.py` knows the answers in another way.
//!
//! `{"readings": [[minute, tenths]], "nights": [[minute, tenths]], "window": ms, "ordinary": ms, "looked": minute}`: the
//! wall is finished at minute 0 over a membrane and looked at later; minutes may be negative.

use std::collections::BTreeMap;
use std::io::BufRead;

use trade::cure::{
    Bed, BootId, Climate, ColdRule, Entry, EntryId, Grounds, Heartbeats, Instant, Night, Now, OwnWindow,
    Part, Product, ProductClass, Reading, Span, StageGraph, StageKind, Stamp, Temperature, Verdict, Wall,
    WallClock, What, Window, Work, equivalent_age, not_before,
};
use trade::measure::SurfaceId;

#[derive(serde::Deserialize)]
struct Case {
    readings: Vec<(i64, i32)>,
    nights: Vec<(i64, i32)>,
    window: i64,
    ordinary: i64,
    looked: i64,
    step: u32,
}

#[expect(clippy::print_stdout, reason = "what it is for")]
fn main() {
    for line in std::io::stdin().lock().lines() {
        let line = line.expect("standard input is text");
        let case: Case = serde_json::from_str(&line).expect("a case as JSON");
        println!("{}", answer(&case));
    }
}

fn answer(case: &Case) -> serde_json::Value {
    let surface = SurfaceId::new("back").expect("a name");
    let rule = ColdRule::new(Temperature::from_tenths(210).expect("warm"), case.step).expect("a rule");
    let climate = climate(case).with_rule(rule);
    let products = BTreeMap::from([(StageKind::Set, mortar(case))]);
    let finished = Entry {
        id: EntryId(1_000_000),
        part: Part::whole(surface.clone()),
        stage: StageKind::Set,
        what: What::Finished,
        happened: stamp(0).wall,
        received: stamp(0),
        confirmed: false,
        supersedes: None,
        product: None,
    };
    let wall = Wall::new(surface.clone(), Bed::OverMembrane, 6).expect("a wall");
    let graph = StageGraph::tile_work().without(StageKind::ClipRemoval).expect("it has clips");
    let work = Work { graph: &graph, products: &products, wall: &wall, log: &[finished], climate: &climate };
    let now = Now { at: stamp(case.looked), heartbeats: Heartbeats::default() };
    let over = match not_before(&work, None, StageKind::Grout, &now) {
        Verdict::NotBefore { at, .. } | Verdict::Ready { since: Some(at) } => {
            Some((at - stamp(0).wall).millis())
        }
        _ => None,
    };
    let stretches = climate.stretches(&surface, Span::from_minutes(case.looked), &now);
    let spent =
        stretches.iter().filter_map(|stretch| Some((stretch.began - stretch.ended, stretch.temperature?)));
    serde_json::json!({ "over": over, "age": equivalent_age(spent) })
}

fn climate(case: &Case) -> Climate {
    let temperature = |tenths: i32| Temperature::from_tenths(tenths).expect("a temperature");
    let readings = (0..).zip(&case.readings).map(|(id, (minute, tenths))| Reading {
        id: EntryId(id),
        surface: None,
        temperature: Some(temperature(*tenths)),
        held_from: stamp(*minute).wall,
        received: stamp(*minute),
        supersedes: None,
    });
    let nights = (500_000..).zip(&case.nights).map(|(id, (minute, tenths))| Night {
        id: EntryId(id),
        lowest: temperature(*tenths),
        received: stamp(*minute),
    });
    Climate::new(readings.collect(), nights.collect())
}

fn mortar(case: &Case) -> Product {
    let own = |window, bed, millis| OwnWindow {
        window,
        bed,
        span: Span::from_millis(millis),
        grounds: Grounds::new("as the case says"),
    };
    let windows = vec![
        own(Window::SetToGrout, Bed::OverMembrane, case.window),
        own(Window::SetToGrout, Bed::Ordinary, case.ordinary),
        own(Window::SetToClips, Bed::OverMembrane, 0),
        own(Window::SetToClips, Bed::Ordinary, 0),
    ];
    Product::new("bag", ProductClass::CementMortar, windows).expect("a product")
}

fn stamp(minute: i64) -> Stamp {
    let passed = Span::from_minutes(minute);
    Stamp {
        wall: Instant::from_millis(1_772_552_400_000) + passed,
        boot: BootId(1),
        since_boot: Span::from_hours(10_000) + passed,
        wall_clock: WallClock::Trusted,
    }
}
