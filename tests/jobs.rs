//! Starting a job.

use axum::http::StatusCode;

use crate::support::Crew;

#[tokio::test]
async fn the_first_page_says_what_to_do_first() {
    let crew = Crew::new().await;
    let page = crew.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".empty").starts_with("No jobs yet."));
    assert_eq!(page.attribute("a.action", "href"), "/jobs/new");
}

#[tokio::test]
async fn a_job_is_started_and_is_still_there_after_a_restart() {
    let crew = Crew::new().await;
    let fields = [("name", " Alder Court, upstairs bath "), ("unit", "mm"), ("zone", "europe/lisbon")];
    crew.post("/jobs", &fields).await.leads_to();
    let crew = crew.restarted().await;
    assert_eq!(crew.get("/").await.texts(".list-name"), ["Alder Court, upstairs bath"]);
}

#[tokio::test]
async fn pressing_twice_starts_one_job() {
    let crew = Crew::new().await;
    let fields = [("name", "Twice"), ("unit", "in"), ("zone", "UTC")];
    let first = crew.post_with_key("/jobs", "0123456789abcdef", &fields).await.leads_to();
    let again = crew.post_with_key("/jobs", "0123456789abcdef", &fields).await.leads_to();
    assert_eq!(first, again);
    assert_eq!(crew.get("/").await.texts(".list-name").len(), 1);
}

#[tokio::test]
async fn a_job_without_a_name_is_asked_for_one_and_nothing_typed_is_lost() {
    let crew = Crew::new().await;
    let page = crew.post("/jobs", &[("name", "  "), ("unit", "furlong"), ("zone", "Atlantis")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.texts(".faults li").len(), 3);
    assert_eq!(page.attribute("input[name=zone]", "value"), "Atlantis");
    assert!(page.text("title").starts_with("Error:"));
    assert!(crew.get("/").await.texts(".list-name").is_empty());
}

#[tokio::test]
async fn a_corrected_form_from_an_old_page_does_not_look_saved() {
    let crew = Crew::new().await;
    let form = |name| [("name", name), ("unit", "mm"), ("zone", "UTC")];
    crew.post_with_key("/jobs", "0123456789abcdef", &form("Alder Court")).await.leads_to();
    let again = crew.post_with_key("/jobs", "0123456789abcdef", &form("Elder Court")).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(crew.get("/").await.texts(".list-name"), ["Alder Court"]);
}
