//! Choosing a language, and being answered in it.

use axum::body::Body;
use axum::http::{HeaderName, Request, StatusCode, header};

use crate::support::{Crew, PIN, Page};

const SPANISH: (HeaderName, &str) = (header::COOKIE, "coursebook_language=es");

/// The fields of the switch, as a browser without script would send them by its one button.
fn switch(page: &Page) -> [(String, String); 2] {
    ["back", "language"]
        .map(|name| (name.to_owned(), page.attribute(&format!(".languages [name={name}]"), "value")))
}

#[tokio::test]
async fn a_page_is_in_the_language_chosen_on_it_and_comes_back_to_itself() {
    let crew = Crew::new().await;
    let page = crew.get("/jobs/new?from=somewhere").await;
    assert_eq!(page.attribute("html", "lang"), "en");
    assert_eq!(page.text(".languages"), "Español");

    let fields = switch(&page);
    let answer = crew.post_form("/language", &fields).await;
    assert_eq!(answer.leads_to(), "/jobs/new?from=somewhere");
    let cookie = answer.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(cookie.contains("; SameSite=Lax"), "{cookie}");
    let cookie = cookie.split(';').next().unwrap();

    let page = crew.get_with("/jobs/new", &[(header::COOKIE, cookie), (header::ACCEPT_LANGUAGE, "en")]).await;
    assert_eq!(page.attribute("html", "lang"), "es");
    assert_eq!(page.text(".languages"), "English");
}

#[tokio::test]
async fn a_person_is_answered_on_every_device_in_the_language_they_chose_on_one() {
    let crew = Crew::new().await;
    let page = crew.get("/").await;
    crew.post_form("/language", &switch(&page)).await.leads_to();
    // Neither this browser's cookie nor another device of the same person is asked again.
    assert_eq!(crew.get_with("/", &[(header::ACCEPT_LANGUAGE, "en")]).await.attribute("html", "lang"), "es");
    let laptop = crew.stranger();
    assert_eq!(laptop.get("/sign-in").await.attribute("html", "lang"), "en", "nobody is in yet");
    laptop.sign_in(PIN).await.leads_to();
    assert_eq!(laptop.get("/").await.attribute("html", "lang"), "es");
    // Each person by themselves.
    let helper = crew.helper("Marta").await;
    assert_eq!(helper.get("/").await.attribute("html", "lang"), "en");
    let crew = crew.restarted().await;
    assert_eq!(crew.get("/").await.attribute("html", "lang"), "es");
}

#[tokio::test]
async fn a_guest_keeps_the_choice_in_the_browser() {
    let crew = Crew::new().await;
    let guest = crew.stranger();
    assert_eq!(guest.get("/sign-in").await.attribute("html", "lang"), "en");
    guest.post("/language", &[("language", "es"), ("back", "/sign-in")]).await.leads_to();
    assert_eq!(guest.get("/sign-in").await.attribute("html", "lang"), "es");
    assert_eq!(crew.get("/").await.attribute("html", "lang"), "en");
}

#[tokio::test]
async fn a_browser_is_answered_in_its_own_language() {
    let crew = Crew::new().await;
    let page = crew.get_with("/", &[(header::ACCEPT_LANGUAGE, "es-MX,es;q=0.9,en;q=0.8")]).await;
    assert_eq!(page.attribute("html", "lang"), "es");
}

#[tokio::test]
async fn a_language_that_nobody_wrote_is_english_with_the_way_on() {
    let crew = Crew::new().await;
    let page = crew.get_with("/", &[(header::ACCEPT_LANGUAGE, "pt-BR,pt;q=0.9")]).await;
    assert_eq!(page.attribute("html", "lang"), "en");
    assert!(page.text(".other-language").contains("English and Spanish"));
    assert_eq!(page.texts(".languages button"), ["English", "Español"]);
    // A browser that says nothing, or takes anything, is told nothing of languages.
    assert!(crew.get("/").await.texts(".other-language").is_empty());

    let answer = crew.post("/language", &[("language", "pt"), ("back", "/")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text("main").contains("English and Spanish"));
    assert_eq!(answer.attribute("main a", "href"), "/");
    assert!(!answer.headers.contains_key(header::SET_COOKIE));
}

#[tokio::test]
async fn a_switch_leads_to_no_other_host() {
    let crew = Crew::new().await;
    for back in ["https://evil.test/", "//evil.test/", "/\\evil.test", ""] {
        let answer = crew.post("/language", &[("language", "es"), ("back", back)]).await;
        assert_eq!(answer.leads_to(), "/", "{back}");
    }
}

/// A page that answers a form has an address that only takes forms; the switch goes back to where the form stood.
#[tokio::test]
async fn a_switch_on_the_answer_to_a_form_goes_back_to_the_form() {
    let crew = Crew::new().await;
    let send = |referer: &str| {
        Request::post("/jobs")
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ORIGIN, "http://127.0.0.1:8080")
            .header(header::REFERER, referer)
            .header(SPANISH.0, SPANISH.1)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from("key=0123456789abcdef0123456789abcdef&name="))
            .unwrap()
    };
    for (referer, back) in [("http://127.0.0.1:8080/jobs/new", "/jobs/new"), ("nonsense", "/")] {
        let answer = crew.send(send(referer)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", answer.body);
        assert_eq!(answer.attribute("html", "lang"), "es");
        assert_eq!(switch(&answer)[0].1, back, "{referer}");
    }
}

#[tokio::test]
async fn an_error_is_said_in_the_language_of_the_request() {
    let crew = Crew::new().await;
    for address in ["/nowhere", "/jobs/none/board"] {
        let page = crew.get_with(address, &[SPANISH]).await;
        assert_eq!(page.status, StatusCode::NOT_FOUND);
        assert_eq!(page.attribute("html", "lang"), "es");
        assert_eq!(crew.get(address).await.attribute("html", "lang"), "en");
    }
    // What the layers round the routes refuse is said in words too.
    let (much, nothing) = ("x".repeat(70_000), String::new());
    for (method, origin, body, status) in [
        ("GET", "http://127.0.0.1:8080", &nothing, StatusCode::METHOD_NOT_ALLOWED),
        ("POST", "http://127.0.0.1:8080", &much, StatusCode::PAYLOAD_TOO_LARGE),
        ("POST", "http://evil.test", &nothing, StatusCode::FORBIDDEN),
    ] {
        let request = Request::builder()
            .method(method)
            .uri("/jobs")
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ORIGIN, origin)
            .header(SPANISH.0, SPANISH.1)
            .header(header::CONTENT_LENGTH, body.len())
            .body(Body::from(body.clone()))
            .unwrap();
        let page = crew.send(request).await;
        assert_eq!(page.status, status);
        assert_eq!(page.attribute("html", "lang"), "es", "{status}");
        assert!(page.text("main p").ends_with('.'), "{}", page.body);
    }
}
