//! What every request passes.

use axum::body::Body;
use axum::http::{Request, StatusCode, header};

use crate::cuts::Yard;
use crate::support::Crew;

fn form(host: &str, origin: Option<&str>) -> Request<Body> {
    let request = Request::post("/jobs").header(header::HOST, host);
    let request = match origin {
        Some(origin) => request.header(header::ORIGIN, origin),
        None => request,
    };
    request
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .body(Body::from("key=0123456789abcdef&name=Taken&unit=mm&zone=UTC"))
        .unwrap()
}

#[tokio::test]
async fn a_form_from_another_site_is_refused_and_our_own_is_taken() {
    let crew = Crew::new().await;
    for origin in [Some("http://evil.test"), Some("http://127.0.0.1:9090"), Some("null"), None] {
        let page = crew.send(form("127.0.0.1:8080", origin)).await;
        assert_eq!(page.status, StatusCode::FORBIDDEN, "{origin:?}");
    }
    assert!(crew.get("/").await.texts(".list-name").is_empty());
    crew.send(form("127.0.0.1:8080", Some("http://127.0.0.1:8080"))).await.leads_to();
    assert_eq!(crew.get("/").await.texts(".list-name"), ["Taken"]);
}

#[tokio::test]
async fn a_name_pointed_at_our_address_is_refused() {
    let crew = Crew::new().await;
    let page = crew.send(form("evil.test", Some("http://evil.test"))).await;
    assert_eq!(page.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn every_answer_carries_the_headers() {
    let crew = Crew::new().await;
    for address in ["/", "/jobs/new", "/nowhere"] {
        let page = crew.get(address).await;
        let policy = page.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"), "{address}: {policy}");
        assert_eq!(page.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        assert_eq!(page.headers[header::REFERRER_POLICY], "same-origin");
        assert!(!page.body.contains(" style=") && !page.body.contains(" onclick="), "{address}");
    }
}

#[tokio::test]
async fn a_form_without_a_key_is_not_taken() {
    let crew = Crew::new().await;
    let page = crew.post_with_key("/jobs", "", &[("name", "Keyless"), ("unit", "mm"), ("zone", "UTC")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(crew.get("/").await.texts(".list-name").is_empty());
}

#[tokio::test]
async fn a_form_larger_than_any_wall_is_not_taken() {
    let crew = Crew::new().await;
    let page = crew.post("/jobs", &[("name", &"x".repeat(70_000))]).await;
    assert_eq!(page.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn a_key_that_a_form_used_up_makes_no_entry_of_the_log() {
    let yard = Yard::new().await;
    let piece = yard.saw().await.text(".cut-label");
    let print = yard.print(&piece).await;
    let key = coursebook::store::random_name();
    let at = |what: &str| format!("/jobs/{}/cuts/{piece}{what}", yard.job);
    yard.crew.post_with_key(&at("/take"), &key, &[("print", &print)]).await.leads_to();
    let forged = yard.crew.post_with_key(&at(""), &key, &[("print", &print)]).await;
    assert_eq!(forged.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", forged.body);
    assert!(yard.crew.get(&format!("/jobs/{}/log", yard.job)).await.texts(".log-says").is_empty());
}
