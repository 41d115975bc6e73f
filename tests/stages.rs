//! Which stages are on a job: what a kind of work starts with, what the lead puts on and takes off, and what then waits
//! for what. No source but common practice, where none is named.

use axum::http::StatusCode;
use trade::cure::{Span, Template};

use crate::board::Site;
use crate::support::Crew;

const SHOWER: [&str; 9] = [
    "Waterproofing",
    "Water test filled",
    "Water test passed",
    "Set",
    "Clips off",
    "Grout",
    "Sealant",
    "Seal",
    "Water on",
];

async fn shower() -> Site {
    Site::of(Template::ShowerWall, &[("back", "Back wall")]).await
}

async fn refusal(site: &Site, stage: &str) -> String {
    let refused = site.start(stage).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    refused.text(".refusal")
}

async fn on_the_board(site: &Site) -> Vec<String> {
    site.board().await.texts(".board-stage")
}

/// Puts exactly these on the job.
async fn choose(site: &Site, stages: &[&str], why: &str) -> crate::support::Page {
    let mut fields: Vec<(&str, &str)> = stages.iter().map(|stage| ("on", *stage)).collect();
    fields.push(("why", why));
    site.crew.post(&site.at("board/stages"), &fields).await
}

/// The day of the test: terrylove.com ("most codes require a 24 hour test"), ASTM D5957 (from memory).
#[tokio::test]
async fn tile_in_a_shower_waits_for_its_membrane_and_a_day_of_the_water_test() {
    let site = shower().await;
    assert_eq!(on_the_board(&site).await, SHOWER);
    let missing = "First finish and log: Waterproofing, Water test passed.";
    assert!(refusal(&site, "set").await.ends_with(missing));

    site.done("membrane", &[]).await.leads_to();
    site.crew.pass(Span::from_hours(23));
    let early = refusal(&site, "test_filled").await;
    assert!(
        early.starts_with("Back wall had its last coat of waterproofing Tue 3:40 pm: liquid membrane."),
        "{early}"
    );
    assert!(early.contains("Water test filled not before Wed 3:40 pm. 1 h to go."), "{early}");
    site.crew.pass(Span::from_hours(1));
    site.done("test_filled", &[]).await.leads_to();

    site.crew.pass(Span::from_hours(23));
    let early = refusal(&site, "test_passed").await;
    assert!(early.contains("Water test passed not before Thu 3:40 pm."), "{early}");
    site.crew.pass(Span::from_hours(1));
    site.done("test_passed", &[]).await.leads_to();
    site.start("set").await.leads_to();
}

#[tokio::test]
async fn water_waits_for_grout_sealant_and_sealer() {
    let site = Site::of(Template::TubSurround, &[("back", "Back wall")]).await;
    let missing = "First finish and log: Grout, Sealant, Seal.";
    assert!(refusal(&site, "water_on").await.ends_with(missing));
    for stage in ["membrane", "set", "clip_removal", "grout", "sealant", "seal"] {
        site.crew.pass(Span::from_hours(100));
        site.done(stage, &[]).await.leads_to();
    }
    let early = refusal(&site, "water_on").await;
    assert!(early.contains("72 h to go."), "{early}");
    site.crew.pass(Span::from_hours(72));
    site.start("water_on").await.leads_to();
}

#[tokio::test]
async fn waterproofing_comes_off_a_job_only_for_a_reason_that_stays_in_the_log() {
    let site = shower().await;
    let tile_alone = ["set", "clip_removal", "grout", "seal"];
    let asked = choose(&site, &tile_alone, " ").await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says = "Waterproofing comes off this job: say who does it, when, and what proof there is.";
    assert_eq!(asked.text(".faults li"), says);
    assert_eq!(asked.texts(".stage-ticks input[checked]").len(), 4, "what was ticked stays");
    assert_eq!(on_the_board(&site).await, SHOWER, "nothing was saved");

    choose(&site, &tile_alone, "the builder, Monday, photographs").await.leads_to();
    assert_eq!(on_the_board(&site).await, ["Set", "Clips off", "Grout", "Seal"]);
    site.start("set").await.leads_to();
    let log = site.crew.get(&site.at("log")).await.text("main");
    let gone =
        "No longer on this job: Waterproofing, Water test filled, Water test passed, Sealant, Water on.";
    assert!(log.contains(gone) && log.contains("Why: the builder, Monday, photographs"), "{log}");
}

#[tokio::test]
async fn small_tile_has_no_clips_and_grout_still_waits_for_the_mortar() {
    let site = Site::back_wall().await;
    choose(&site, &["set", "grout", "seal"], "").await.leads_to();
    site.done("set", &[]).await.leads_to();
    site.crew.pass(Span::from_hours(47));
    assert!(refusal(&site, "grout").await.contains("Grout not before Thu 3:40 pm. 1 h to go."));
    site.crew.pass(Span::from_hours(1));
    site.start("grout").await.leads_to();
}

#[tokio::test]
async fn a_kind_of_work_ticks_its_stages_and_saves_nothing() {
    let site = Site::back_wall().await;
    let page = site.crew.get(&site.at("board/stages?work=floor")).await;
    let ticked = page.texts(".stage-ticks label:has(input[checked]) strong");
    assert_eq!(ticked, ["Set", "Clips off", "Grout", "Sealant", "Seal", "Walk on", "Heavy use"]);
    assert_eq!(on_the_board(&site).await, ["Set", "Clips off", "Grout", "Seal"]);
    assert_eq!(site.crew.get(&site.at("board/stages?work=pool")).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_job_starts_with_the_stages_of_its_kind_of_work() {
    let crew = Crew::new().await;
    let new = [("name", "Alder Court"), ("unit", "mm"), ("zone", "Europe/Lisbon"), ("work", "wet_floor")];
    let job = crew.post("/jobs", &new).await.leads_to();
    let page = crew.get(&format!("{job}/board/stages")).await;
    let ticked = page.texts(".stage-ticks label:has(input[checked]) strong");
    assert_eq!(ticked.len(), 11, "{ticked:?}");
    let (known, unknown) = (&new[..3], [("work", "pool")]);
    let fields: Vec<(&str, &str)> = known.iter().copied().chain(unknown).collect();
    assert_eq!(crew.post("/jobs", &fields).await.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn bad_ticks_and_helpers_change_nothing() {
    let mut site = Site::back_wall().await;
    let none = choose(&site, &[], "as I say").await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(none.text(".faults li"), "Tick at least one stage.");
    assert_eq!(choose(&site, &["plaster"], "").await.status, StatusCode::NOT_FOUND);

    let helper = site.crew.helper("Ben").await.cookie().expect("a helper's cookie");
    site.crew.hand_to(&helper);
    assert_eq!(choose(&site, &["set"], "").await.status, StatusCode::FORBIDDEN);
    let page = site.crew.get(&site.at("board/stages")).await;
    assert!(page.texts("main button.action").is_empty());
    assert_eq!(on_the_board(&site).await, ["Set", "Clips off", "Grout", "Seal"]);
}
