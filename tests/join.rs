//! Setting up the lead, joining, who may do what, and getting out.

use std::io::Write;
use std::sync::{Arc, Mutex};

use axum::http::{StatusCode, header};
use coursebook::store::LinkToken;
use trade::cure::Span;

use crate::support::{Crew, PIN};

/// A link of the box for the lead, as its path.
async fn lead_link(crew: &Crew) -> String {
    format!("/set-up/{}", crew.app.store.lead_link().await.unwrap().reveal())
}

#[tokio::test]
async fn until_there_is_a_lead_only_the_box_or_its_link_gets_in() {
    let crew = Crew::not_set_up().await;
    let phone = crew.stranger();
    for address in ["/", "/jobs/new", "/people", "/live"] {
        let page = phone.get(address).await;
        assert_eq!(page.status, StatusCode::FORBIDDEN, "{address}");
        assert!(page.text(".empty").contains("Open the link that the box printed"));
    }
    assert_eq!(phone.get("/set-up").await.status, StatusCode::GONE);
    let forged =
        [("device", "0".repeat(64)), ("name", "Mallory".into()), ("pin", PIN.into()), ("again", PIN.into())];
    let forged: Vec<_> = forged.iter().map(|(name, typed)| (*name, typed.as_str())).collect();
    assert_eq!(phone.post("/set-up", &forged).await.status, StatusCode::GONE);
    assert_eq!(phone.get_at_the_box("/").await.leads_to(), "/set-up");

    let link = lead_link(&crew).await;
    assert_eq!(phone.set_up_by(&link).await.leads_to(), "/");
    assert_eq!(phone.get("/").await.text(".who"), "lead: People and devices: crew");
    assert_eq!(crew.stranger().get(&link).await.status, StatusCode::GONE);
}

#[tokio::test]
async fn new_jobs_start_as_the_lead_said() {
    let crew = Crew::new().await;
    let form = crew.get("/jobs/new").await;
    assert_eq!(form.attribute("option[selected]", "value"), "in");
    assert_eq!(form.attribute("input[name=zone]", "value"), "Europe/Lisbon");
}

#[tokio::test]
async fn once_there_is_a_lead_the_box_is_a_stranger_too_and_nobody_sets_up_another() {
    let crew = Crew::new().await;
    let other = crew.stranger();
    let page = other.get_at_the_box("/").await;
    assert_eq!(page.status, StatusCode::FORBIDDEN);
    assert!(page.text(".empty").contains("Ask the lead for a link"));
    assert_eq!(page.attribute("main a.button", "href"), "/sign-in");
    assert_eq!(other.get_at_the_box("/set-up").await.leads_to(), "/");
    let form =
        [("device", "1".repeat(64)), ("pin", PIN.into()), ("again", PIN.into()), ("name", "Mallory".into())];
    let mut form: Vec<_> = form.iter().map(|(name, typed)| (*name, typed.as_str())).collect();
    form.extend([("unit", "mm"), ("zone", "UTC")]);
    assert_eq!(other.post_at_the_box("/set-up", &form).await.status, StatusCode::GONE);
    assert_eq!(other.post_at_the_box("/set-up/demo", &form).await.status, StatusCode::NOT_FOUND);
    assert_eq!(other.get_at_the_box("/").await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn the_cookie_is_the_browsers_alone() {
    let crew = Crew::not_set_up().await;
    let page = crew.stranger().set_up_at_the_box().await;
    let cookie = page.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(cookie.starts_with("coursebook_session="), "{cookie}");
    for flag in ["; HttpOnly", "; SameSite=Lax", "; Path=/"] {
        assert!(cookie.contains(flag), "{cookie}");
    }
    assert!(!cookie.contains("Domain"), "{cookie}");
}

#[tokio::test]
async fn a_helper_scans_says_a_name_waits_and_is_in() {
    let crew = Crew::new().await;
    let link = crew.link_for("helper").await;
    let phone = crew.stranger();
    for _ in 0..3 {
        let form = phone.get(&link).await;
        assert_eq!(form.status, StatusCode::OK, "a program that looks at links uses none up");
        assert!(form.body.contains("may leave a Wi-Fi that has no internet"));
    }
    let unnamed = phone.join(&link, "  ").await;
    assert_eq!(unnamed.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(phone.join(&link, "Ana").await.leads_to(), "/join");
    let waits = phone.get("/join").await;
    assert!(
        waits.headers.contains_key(header::REFRESH) && waits.text(".empty").starts_with("Ana, the lead sees")
    );
    assert_eq!(phone.get("/").await.leads_to(), "/join");
    assert_eq!(phone.post("/jobs", &[("name", "x")]).await.leads_to(), "/join");

    let people = crew.get("/people").await;
    assert_eq!(people.text(".waiting button"), "Let Ana in");
    crew.post(&people.attribute(".waiting form", "action"), &[]).await.leads_to();
    assert_eq!(phone.get("/join").await.leads_to(), "/");
    let page = phone.get("/").await;
    assert_eq!((page.status, page.text(".who").as_str()), (StatusCode::OK, "Ana"));
}

#[tokio::test]
async fn a_link_opens_once_for_ten_minutes_and_says_so_after() {
    let crew = Crew::new().await;
    let (first, second) = (crew.stranger(), crew.stranger());
    let link = crew.link_for("helper").await;
    let ana = first.get(&link).await.attribute("input[name=device]", "value");
    let bea = second.get(&link).await.attribute("input[name=device]", "value");
    let (ana, bea) =
        ([("device", ana.as_str()), ("name", "Ana")], [("device", bea.as_str()), ("name", "Bea")]);
    let (one, two) = tokio::join!(first.post(&link, &ana), second.post(&link, &bea));
    let statuses = [one.status, two.status];
    assert!(
        statuses.contains(&StatusCode::SEE_OTHER) && statuses.contains(&StatusCode::GONE),
        "{statuses:?}"
    );
    assert_eq!(crew.get("/people").await.texts(".waiting li").len(), 1);
    let used = crew.stranger().get(&link).await;
    assert!(used.text(".empty").contains("used this link already"));
    assert!(used.text("main").contains("Ask the lead for a new one"));

    let link = crew.link_for("helper").await;
    crew.pass(Span::from_minutes(10));
    assert!(crew.stranger().get(&link).await.text(".empty").contains("too old"));
    assert_eq!(
        crew.stranger().post(&link, &[("device", &"2".repeat(64)), ("name", "Eve")]).await.status,
        StatusCode::GONE
    );

    let link = crew.link_for("helper").await;
    let done = crew.post("/people/revoke", &[]).await.leads_to();
    let says = crew.get(done.split('#').next().unwrap()).await.text(".taken-back");
    assert_eq!(says, "One link taken back: it no longer opens.", "the older ones do not open any more");
    let done = crew.post("/people/revoke", &[]).await.leads_to();
    let says = crew.get(done.split('#').next().unwrap()).await.text(".taken-back");
    assert_eq!(says, "No link is out that nobody has used.");
    assert!(crew.get("/people").await.texts(".taken-back").is_empty());
    assert!(crew.stranger().get(&link).await.text(".empty").contains("the lead took this back"));

    let never_made = format!("/join/{}", LinkToken::random().reveal());
    for garbled in
        ["/join/abc", "/join/%F0%9F%A7%B1", &never_made, &lead_link(&crew).await.replace("set-up", "join")]
    {
        let page = crew.stranger().get(garbled).await;
        assert_eq!(page.status, StatusCode::GONE, "{garbled}");
        assert!(page.text(".empty").contains("There is no such link"), "{garbled}");
    }
}

#[tokio::test]
async fn a_join_form_sent_twice_joins_once() {
    let crew = Crew::new().await;
    let link = crew.link_for("helper").await;
    let phone = crew.stranger();
    let device = phone.get(&link).await.attribute("input[name=device]", "value");
    for _ in 0..2 {
        assert_eq!(phone.post(&link, &[("device", &device), ("name", "Ana")]).await.leads_to(), "/join");
    }
    assert_eq!(crew.get("/people").await.texts(".waiting li").len(), 1);
}

/// Every form of a job that changes something, with who may send it.
fn forms(job: &str) -> [(String, bool); 14] {
    [
        ("/jobs".to_owned(), false),
        (format!("{job}/layout"), false),
        (format!("{job}/layout/options"), false),
        (format!("{job}/layout/wish"), false),
        (format!("{job}/board/products"), false),
        (format!("{job}/line"), false),
        (format!("{job}/sheet"), false),
        (format!("{job}/walls/new"), false),
        (format!("{job}/walls/A"), false),
        ("/people/links".to_owned(), false),
        (format!("{job}/board/A/set/done"), true),
        (format!("{job}/board/A/set/start"), true),
        (format!("{job}/cuts/A1-1"), true),
        (format!("{job}/cuts/A1-1/not-cut"), true),
    ]
}

#[tokio::test]
async fn a_helper_works_at_saw_and_board_and_a_board_only_reads() {
    let crew = Crew::new().await;
    let job = format!("/jobs/{}", crew.measured_job().await);
    let (helper, board, stranger) =
        (crew.helper("Ana").await, crew.board("kitchen tablet").await, crew.stranger());
    for place in ["", "/layout", "/cuts", "/board", "/log"] {
        let address = format!("{job}{place}");
        assert_eq!(helper.get(&address).await.status, StatusCode::OK, "{address}");
        assert_eq!(board.get(&address).await.status, StatusCode::OK, "{address}");
        assert_eq!(stranger.get(&address).await.status, StatusCode::FORBIDDEN, "{address}");
    }
    for (address, helper_may) in forms(&job) {
        let sent = helper.post(&address, &[]).await;
        assert_eq!(sent.status != StatusCode::FORBIDDEN, helper_may, "{address}: {}", sent.status);
        assert_eq!(board.post(&address, &[]).await.status, StatusCode::FORBIDDEN, "{address}");
        assert_eq!(stranger.post(&address, &[]).await.status, StatusCode::FORBIDDEN, "{address}");
    }
    assert_eq!(helper.get("/people").await.status, StatusCode::FORBIDDEN);
    assert_eq!(board.get("/people").await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn the_log_says_who_did_it() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let helper = crew.helper("Ana").await;
    let piece = helper.get(&format!("/jobs/{job}/cuts")).await.text(".cut-label");
    let piece = helper.get(&format!("/jobs/{job}/cuts/{piece}")).await;
    let form = piece.attribute("main form", "action");
    let fields = piece.form_fields();
    let fields: Vec<_> =
        fields.iter().filter(|(name, _)| name != "key").map(|(n, t)| (n.as_str(), t.as_str())).collect();
    helper.post(&form, &fields).await.leads_to();
    let events = crew.app.store.events(&job).await.unwrap();
    let [event] = events.as_slice() else { panic!("{events:?}") };
    let devices = crew.app.store.devices().await.unwrap();
    let ana = devices.iter().find(|device| device.person.as_deref() == Some("Ana")).unwrap();
    assert_eq!(event.device, ana.device);
    assert!(helper.get(&format!("/jobs/{job}/log")).await.text("main").contains("Ana"));
}

#[tokio::test]
async fn a_device_that_was_put_out_is_out_and_so_is_one_that_nobody_used() {
    let crew = Crew::new().await;
    let helper = crew.helper("Ana").await;
    let people = crew.get("/people").await;
    let ends = people.texts(".inside summary");
    assert_eq!(ends, ["Sign lead out", "Sign Ana out"], "each asks before it does so");
    let ana = crew.app.store.devices().await.unwrap().pop().unwrap().device;
    crew.post(&format!("/people/{ana}/end"), &[]).await.leads_to();
    assert_eq!(helper.get("/").await.status, StatusCode::FORBIDDEN);
    assert!(helper.get("/join").await.text(".empty").starts_with("You are not in"));
    crew.post(&format!("/people/{ana}/let-in"), &[]).await.leads_to();
    assert_eq!(helper.get("/").await.status, StatusCode::FORBIDDEN, "out is out");

    let board = crew.board("kitchen tablet").await;
    crew.pass(Span::from_hours(13 * 24));
    assert_eq!(board.get("/").await.status, StatusCode::OK);
    crew.pass(Span::from_hours(13 * 24));
    assert_eq!(board.get("/").await.status, StatusCode::OK, "what is used stays in");
    crew.pass(Span::from_hours(14 * 24));
    assert_eq!(board.get("/").await.status, StatusCode::FORBIDDEN);
    let crew = crew.restarted().await;
    assert!(crew.app.store.devices().await.unwrap().is_empty());
}

#[tokio::test]
async fn the_lead_gets_in_on_another_device_by_pin_and_guessing_ends_after_twenty_tries() {
    let crew = Crew::new().await;
    assert_eq!(crew.stranger().sign_in("49302").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let laptop = crew.stranger();
    laptop.sign_in("493 027").await.leads_to();
    assert_eq!(laptop.get("/people").await.status, StatusCode::OK);
    for _ in 0..12 {
        assert_eq!(crew.stranger().sign_in("902715").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let crew = crew.restarted().await;
    for _ in 0..8 {
        assert_eq!(crew.stranger().sign_in("902715").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let crew = crew.restarted().await;
    for pin in ["902715", PIN] {
        let refused = crew.stranger().sign_in(pin).await;
        assert_eq!(refused.status, StatusCode::TOO_MANY_REQUESTS);
        assert!(refused.text(".fault").contains("Wait an hour"));
    }
    crew.pass(Span::from_hours(1));
    crew.stranger().sign_in(PIN).await.leads_to();
}

#[tokio::test]
async fn patient_guessing_ends_too_and_the_box_lets_the_lead_back_in() {
    let crew = Crew::new().await;
    for _ in 0..100 {
        crew.app.store.try_pin().await.unwrap();
        crew.pass(Span::from_minutes(4));
    }
    let refused = crew.stranger().sign_in(PIN).await;
    assert_eq!(refused.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(refused.text(".fault").contains("coursebook lead-link"));

    let (old, link) = (lead_link(&crew).await, lead_link(&crew).await);
    let phone = crew.stranger();
    assert_eq!(phone.get(&old).await.status, StatusCode::GONE, "a newer link ends the older");
    let form = phone.get(&link).await;
    assert_eq!(form.text("h1"), "Choose a new PIN");
    assert!(form.text("main").contains("lead, choose a new PIN") && !form.body.contains("Nobody leads"));
    let asked: Vec<String> = form.form_fields().into_iter().map(|(name, _)| name).collect();
    assert_eq!(asked, ["key", "device", "link", "pin", "again"], "nothing that is known is asked again");
    let (device, token) = (form.attribute("input[name=device]", "value"), link.rsplit('/').next().unwrap());
    let new = |pin| [("device", device.as_str()), ("link", token), ("pin", pin), ("again", "902715")];
    let refused = phone.post("/set-up", &new("902716")).await;
    assert_eq!(
        (refused.status, refused.text("h1").as_str()),
        (StatusCode::UNPROCESSABLE_ENTITY, "Choose a new PIN")
    );
    let done = phone.post("/set-up", &new("902715")).await.leads_to();
    let people = phone.get(&done).await;
    assert!(
        people.text("#new-pin p").contains("One other device is in as lead"),
        "{}",
        people.text("#new-pin")
    );
    let there = people.attribute("#new-pin a", "href");
    let end = people.attribute(&format!("{there} form"), "action");
    phone.post(&end, &[]).await.leads_to();
    assert_eq!(crew.get("/people").await.status, StatusCode::FORBIDDEN);
    assert!(phone.get(&done).await.text("#new-pin").contains("No other device is in as lead."));
    assert_eq!(phone.get("/jobs/new").await.attribute("option[selected]", "value"), "in", "as it was");
    let refused = crew.stranger().sign_in(PIN).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "the old PIN no longer counts");
    crew.stranger().sign_in("902715").await.leads_to();
    let guessed = LinkToken::random().reveal();
    let guess = [("device", device.as_str()), ("link", guessed.as_str()), ("pin", "1"), ("again", "2")];
    assert_eq!(crew.stranger().post("/set-up", &guess).await.status, StatusCode::GONE);
}

#[tokio::test]
async fn what_was_reported_before_there_were_people_stays_the_leads() {
    let crew = Crew::not_set_up().await;
    let before = crew.app.store.at_the_box().await.unwrap().person;
    crew.stranger().set_up_at_the_box_as("Inês").await.leads_to();
    let after = crew.app.store.at_the_box().await.unwrap().person;
    assert_eq!((before.name.as_str(), after.name.as_str()), ("lead", "Inês"));
    assert_eq!(before.id, after.id);
}

#[derive(Clone, Default)]
struct Lines(Arc<Mutex<Vec<u8>>>);

impl Write for Lines {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.lock().unwrap().write(bytes)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

#[tokio::test]
async fn the_log_of_the_server_holds_no_token_and_no_pin() {
    let lines = Lines::default();
    let writer = lines.clone();
    let subscriber = tracing_subscriber::fmt()
        .with_env_filter(coursebook::config::discreet(tracing_subscriber::EnvFilter::new("trace")))
        .with_ansi(false)
        .with_writer(move || writer.clone())
        .finish();
    // With one subscriber alone, a thread without it that comes first to a place in the code silences it for all.
    let _second = tracing::Dispatch::new(tracing_subscriber::fmt().with_writer(std::io::sink).finish());
    let _listening = tracing::subscriber::set_default(subscriber);
    let crew = Crew::new().await;
    let link = crew.link_for("helper").await;
    let phone = crew.stranger();
    phone.join(&link, "Ana").await.leads_to();
    phone.get("/join").await;
    let laptop = crew.stranger();
    laptop.sign_in(PIN).await.leads_to();
    let log = String::from_utf8(lines.0.lock().unwrap().clone()).unwrap();
    assert!(log.contains("/join/…"), "the log has no request: {log}");
    let secrets =
        [phone.cookie(), laptop.cookie()].map(|cookie| cookie.unwrap().split_once('=').unwrap().1.to_owned());
    for secret in secrets.iter().map(String::as_str).chain([link.rsplit('/').next().unwrap(), PIN]) {
        let leak = log.lines().find(|line| line.contains(secret));
        assert_eq!(leak, None, "{secret} is in the log");
    }
}

#[tokio::test]
async fn anyone_at_the_box_leads_the_demo_and_nobody_else_does() {
    let mut crew = Crew::not_set_up().await;
    crew.serve_the_demo();
    let (here, phone) = (crew.stranger(), crew.stranger());
    assert_eq!(phone.get("/").await.status, StatusCode::FORBIDDEN);
    assert_eq!(
        phone.post("/set-up/demo", &[("device", &"3".repeat(64))]).await.status,
        StatusCode::NOT_FOUND
    );
    assert_eq!(here.get_at_the_box("/").await.leads_to(), "/set-up");
    let page = here.get_at_the_box("/set-up").await;
    assert_eq!(page.text("button.action"), "I am at the box: be the lead of the demo job");
    let device = page.attribute("input[name=device]", "value");
    assert_eq!(here.post_at_the_box("/set-up/demo", &[("device", &device)]).await.leads_to(), "/");
    assert_eq!(here.get_at_the_box("/people").await.status, StatusCode::OK);
}
