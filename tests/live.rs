//! Pages that keep themselves right while they are open: the stream that tells them, and where the pages say they stand.

use std::time::Duration;

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use http_body_util::BodyExt;

use crate::support::Crew;

/// Longer than any answer takes, so that a test that fails does not hang.
const AT_MOST: Duration = Duration::from_secs(10);

async fn listens(crew: &Crew) -> Body {
    let request = Request::get("/live").header(header::HOST, "127.0.0.1:8080").body(Body::empty()).unwrap();
    let answer = crew.answer(request).await;
    assert_eq!(answer.status(), StatusCode::OK);
    assert_eq!(answer.headers()[header::CONTENT_TYPE], "text/event-stream");
    answer.into_body()
}

/// Where the next message says the store stands.
async fn hears(stream: &mut Body) -> String {
    let frame = tokio::time::timeout(AT_MOST, stream.frame()).await.unwrap().unwrap().unwrap();
    let text = String::from_utf8(frame.into_data().unwrap().to_vec()).unwrap();
    let (event, data) = text.trim_end().split_once('\n').unwrap();
    assert_eq!(event, "event: seen");
    data.strip_prefix("data: ").unwrap().to_owned()
}

async fn starts_a_job(crew: &Crew, name: &str) {
    let made = crew.post("/jobs", &[("name", name), ("unit", "mm"), ("zone", "Europe/Lisbon")]).await;
    assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.body);
}

#[tokio::test]
async fn every_open_page_of_fifty_hears_that_something_was_saved() {
    let crew = Crew::new().await;
    let mut streams = Vec::new();
    for _ in 0..50 {
        streams.push(listens(&crew).await);
    }
    let page = crew.get("/").await;
    let shown = page.attribute("main", "data-seen");
    for stream in &mut streams {
        assert_eq!(hears(stream).await, shown, "nothing was saved since the page was drawn");
    }
    starts_a_job(&crew, "Alder Court").await;
    let now = crew.get("/").await.attribute("main", "data-seen");
    assert_ne!(now, shown);
    for stream in &mut streams {
        assert_eq!(hears(stream).await, now);
    }
}

#[tokio::test]
async fn a_page_drawn_before_the_server_was_restarted_hears_that_it_is_old() {
    let crew = Crew::new().await;
    let shown = crew.get("/").await.attribute("main", "data-seen");
    let crew = crew.restarted().await;
    let mut stream = listens(&crew).await;
    assert_ne!(hears(&mut stream).await, shown);
}

#[tokio::test]
async fn a_page_with_faults_keeps_what_was_typed() {
    let crew = Crew::new().await;
    let refused = crew.post("/jobs", &[("name", ""), ("unit", "mm"), ("zone", "Europe/Lisbon")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!refused.body.contains("data-seen"));
}

#[tokio::test]
async fn streams_end_when_the_server_stops_and_too_many_are_refused_in_words() {
    let crew = Crew::new().await;
    let mut streams = Vec::new();
    for _ in 0..128 {
        streams.push(listens(&crew).await);
    }
    let one_more = crew.get("/live").await;
    assert_eq!(one_more.status, StatusCode::SERVICE_UNAVAILABLE);
    assert!(one_more.body.contains("Too many pages listen"), "{}", one_more.body);
    let mut last = streams.pop().unwrap();
    hears(&mut last).await;
    crew.app.live.stop();
    let end = tokio::time::timeout(AT_MOST, last.frame()).await.unwrap();
    assert!(end.is_none());
}
