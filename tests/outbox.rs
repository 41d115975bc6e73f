//! What a phone keeps and sends later: each press is done once, whatever became of the first answer, and what is refused
//! says so in a way that no page in between can be mistaken for.

use axum::body::{Body, to_bytes};
use axum::http::{HeaderName, Request, StatusCode, header};
use coursebook::store::{JobId, random_name};
use trade::cure::Span;

use crate::support::{Crew, Page};

const KEY: HeaderName = HeaderName::from_static("idempotency-key");
const PRESSED_BY: HeaderName = HeaderName::from_static("pressed-by");

/// All script of ours, as it goes over the air.
const MOST_SCRIPT: usize = 10_000;

/// A crew at a saw, with phones that send what they kept.
struct Site {
    crew: Crew,
    job: JobId,
}

/// A press as a phone keeps it.
struct Kept {
    to: String,
    key: String,
    fields: Vec<(&'static str, String)>,
}

impl Site {
    async fn new() -> Self {
        let crew = Crew::new().await;
        let job = crew.measured_job().await;
        Self { crew, job }
    }

    fn at(&self, rest: &str) -> String {
        format!("/jobs/{}/{rest}", self.job)
    }

    /// "Cut" on the piece that the saw shows.
    async fn cut(&self) -> Kept {
        let piece = self.crew.get(&self.at("cuts")).await.text(".cut-label");
        let to = self.at(&format!("cuts/{piece}"));
        let print = self.crew.get(&to).await.attribute("input[name=print]", "value");
        Kept { to, key: random_name(), fields: vec![("print", print)] }
    }

    /// "Broke it" on the piece that was cut last.
    async fn break_it(&self, cut: &Kept) {
        let page = self.crew.get(&cut.to).await;
        let (print, entry) = (
            page.attribute(".cut-broke input[name=print]", "value"),
            page.attribute(".cut-broke input[name=entry]", "value"),
        );
        let fields = [("print", print.as_str()), ("entry", entry.as_str())];
        self.crew.post(&format!("{}/broke", cut.to), &fields).await.leads_to();
    }

    async fn send(&self, kept: &Kept) -> Page {
        self.send_with(kept, &[(KEY, kept.key.as_str())]).await
    }

    async fn send_with(&self, kept: &Kept, headers: &[(HeaderName, &str)]) -> Page {
        let all =
            std::iter::once(("key", &kept.key)).chain(kept.fields.iter().map(|(name, typed)| (*name, typed)));
        let form = serde_html_form::to_string(all.collect::<Vec<_>>()).unwrap();
        let request = Request::post(&kept.to)
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ORIGIN, "http://127.0.0.1:8080")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        let request = headers.iter().fold(request, |request, (name, value)| request.header(name, *value));
        self.crew.send(request.body(Body::from(form)).unwrap()).await
    }

    /// Who is in at this browser, as its pages say.
    async fn person(&self) -> String {
        self.crew.get("/").await.attribute("#outbox", "data-person")
    }

    async fn cuts_logged(&self) -> usize {
        let events = self.crew.app.store.events(&self.job).await.unwrap();
        events.iter().filter(|event| event.kind == "cut").count()
    }
}

fn outcome(page: &Page) -> Option<&str> {
    page.headers.get("outcome").map(|outcome| outcome.to_str().unwrap())
}

#[tokio::test]
async fn what_is_done_says_so_and_where_it_leads_without_being_followed() {
    let site = Site::new().await;
    let kept = site.cut().await;
    let done = site.send(&kept).await;
    assert_eq!((done.status, outcome(&done)), (StatusCode::NO_CONTENT, Some("done")), "{}", done.body);
    let leads = done.headers[header::LOCATION].to_str().unwrap();
    assert!(leads.starts_with(&site.at("cuts?v=")), "{leads}");
    let form = site.cut().await;
    let sent = site.send_with(&form, &[]).await;
    assert!(sent.leads_to().starts_with(&site.at("cuts?v=")), "a form without the header leads on as ever");
    assert_eq!(outcome(&sent), None);
}

#[tokio::test]
async fn a_repeat_gets_the_first_result_whatever_the_saw_shows_by_then() {
    let site = Site::new().await;
    let kept = site.cut().await;
    site.send(&kept).await;
    let again = site.send(&kept).await;
    assert_eq!((again.status, outcome(&again)), (StatusCode::NO_CONTENT, Some("again")), "{}", again.body);
    site.break_it(&kept).await;
    let after_it_broke = site.send(&kept).await;
    assert_eq!(outcome(&after_it_broke), Some("again"), "{}", after_it_broke.body);
    let without_script = site.send_with(&kept, &[]).await;
    assert_eq!(without_script.status, StatusCode::SEE_OTHER, "{}", without_script.body);
    assert_eq!(site.cuts_logged().await, 1);
}

#[tokio::test]
async fn a_repeat_is_known_after_a_restart() {
    let site = Site::new().await;
    let kept = site.cut().await;
    site.send(&kept).await;
    let site = Site { crew: site.crew.restarted().await, job: site.job };
    assert_eq!(outcome(&site.send(&kept).await), Some("again"));
    assert_eq!(site.cuts_logged().await, 1);
}

#[tokio::test]
async fn two_that_arrive_together_are_one() {
    let site = Site::new().await;
    let kept = site.cut().await;
    let (one, other) = tokio::join!(site.send(&kept), site.send(&kept));
    for answer in [&one, &other] {
        assert!(matches!(outcome(answer), Some("done" | "again")), "{}", answer.body);
    }
    assert_eq!(site.cuts_logged().await, 1);
}

#[tokio::test]
async fn the_header_names_the_key_of_the_form() {
    let site = Site::new().await;
    let kept = site.cut().await;
    let other = random_name();
    for wrong in [other.as_str(), "", "short"] {
        let answer = site.send_with(&kept, &[(KEY, wrong)]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert_eq!(outcome(&answer), Some("refused"));
        assert!(answer.text("main p").contains("two keys"), "{}", answer.body);
    }
    assert_eq!(site.cuts_logged().await, 0);
    assert_eq!(outcome(&site.send(&kept).await), Some("done"), "nothing was used up");
}

#[tokio::test]
async fn a_key_stands_for_one_form_at_one_address() {
    let site = Site::new().await;
    let kept = site.cut().await;
    site.send(&kept).await;
    let reworded =
        Kept { fields: vec![("print", "another".to_owned())], to: kept.to.clone(), key: kept.key.clone() };
    let elsewhere =
        Kept { to: format!("{}/broke", kept.to), key: kept.key.clone(), fields: kept.fields.clone() };
    for other in [reworded, elsewhere] {
        let answer = site.send(&other).await;
        assert_eq!(
            (answer.status, outcome(&answer)),
            (StatusCode::UNPROCESSABLE_ENTITY, Some("refused")),
            "{}",
            other.to
        );
    }
}

#[tokio::test]
async fn a_refusal_is_marked_and_says_why() {
    let site = Site::new().await;
    let kept = site.cut().await;
    site.send(&kept).await;
    let second = Kept { key: random_name(), to: kept.to.clone(), fields: kept.fields.clone() };
    let refused = site.send(&second).await;
    assert_eq!((refused.status, outcome(&refused)), (StatusCode::CONFLICT, Some("refused")));
    assert!(refused.text(".refusal-says").contains("was cut already"), "{}", refused.body);
    let start = Kept { to: site.at("board/B/grout/start"), key: random_name(), fields: Vec::new() };
    let refused = site.send(&start).await;
    assert_eq!((refused.status, outcome(&refused)), (StatusCode::CONFLICT, Some("refused")));
    let done = Kept {
        to: site.at("board/B/set/done"),
        key: random_name(),
        fields: vec![("minutes", "x".to_owned())],
    };
    let faulty = site.send(&done).await;
    assert_eq!((faulty.status, outcome(&faulty)), (StatusCode::UNPROCESSABLE_ENTITY, Some("refused")));
    let gone = Kept { to: site.at("cuts/Z9-9"), key: random_name(), fields: kept.fields.clone() };
    let missing = site.send(&gone).await;
    assert_eq!((missing.status, outcome(&missing)), (StatusCode::NOT_FOUND, Some("refused")));
}

#[tokio::test]
async fn a_form_from_elsewhere_or_to_another_host_is_refused_and_marked() {
    let site = Site::new().await;
    let kept = site.cut().await;
    for (name, value) in [(header::ORIGIN, "http://evil.test"), (header::HOST, "evil.test")] {
        let mut request = Request::post(&kept.to)
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ORIGIN, "http://127.0.0.1:8080")
            .header(KEY, &kept.key)
            .body(Body::from(format!("key={}", kept.key)))
            .unwrap();
        request.headers_mut().insert(name, value.parse().unwrap());
        let answer = site.crew.send(request).await;
        assert!(answer.status.is_client_error(), "{}", answer.status);
        assert_eq!(outcome(&answer), Some("refused"));
    }
}

#[tokio::test]
async fn a_session_that_has_ended_is_told_so_and_led_nowhere() {
    let mut site = Site::new().await;
    let lead = site.crew.at_hand();
    let helper = site.crew.helper("Ana").await.cookie().unwrap();
    site.crew.hand_to(&helper);
    let (kept, ana) = (site.cut().await, site.person().await);
    site.crew.hand_to(&lead);
    let end = site.crew.get("/people").await.attribute(".inside li:last-child form", "action");
    site.crew.post(&end, &[]).await.leads_to();
    site.crew.hand_to(&helper);
    let out = site.send_with(&kept, &[(KEY, &kept.key), (PRESSED_BY, &ana)]).await;
    assert_eq!((out.status, outcome(&out)), (StatusCode::FORBIDDEN, Some("refused")));
    assert!(out.text("main p").starts_with("This phone is not in"), "{}", out.body);
    assert_eq!(site.person().await, "", "whoever is out sends nothing");
    site.crew.hand_to(&lead);
    assert_eq!(site.cuts_logged().await, 0);
}

#[tokio::test]
async fn a_phone_that_waits_to_be_let_in_is_told_so_and_led_nowhere() {
    let mut site = Site::new().await;
    let kept = site.cut().await;
    let waiting = {
        let phone = site.crew.stranger();
        phone.join(&site.crew.link_for("helper").await, "Berto").await.leads_to();
        phone.cookie().unwrap()
    };
    site.crew.hand_to(&waiting);
    let out = site.send(&kept).await;
    assert_eq!((out.status, outcome(&out)), (StatusCode::FORBIDDEN, Some("refused")), "{}", out.body);
}

#[tokio::test]
async fn what_somebody_else_pressed_on_the_same_phone_is_not_logged_as_ones_own() {
    let mut site = Site::new().await;
    let lead = site.person().await;
    let kept = site.cut().await;
    let helper = site.crew.helper("Ana").await.cookie().unwrap();
    let lead_again = site.crew.at_hand();
    site.crew.hand_to(&helper);
    let anothers = site.send_with(&kept, &[(KEY, &kept.key), (PRESSED_BY, &lead)]).await;
    assert_eq!((anothers.status, outcome(&anothers)), (StatusCode::FORBIDDEN, Some("refused")));
    assert!(anothers.text("main p").contains("Somebody else was in"), "{}", anothers.body);
    site.crew.hand_to(&lead_again);
    assert_eq!(outcome(&site.send_with(&kept, &[(KEY, &kept.key), (PRESSED_BY, &lead)]).await), Some("done"));
    site.crew.hand_to(&helper);
    let repeat = site.send_with(&kept, &[(KEY, &kept.key), (PRESSED_BY, &lead)]).await;
    assert_eq!(outcome(&repeat), Some("again"), "what was done is done, whoever asks after it");
}

#[tokio::test]
async fn a_finish_that_is_sent_twice_is_logged_once() {
    let site = Site::new().await;
    let fields = vec![("uncut", "999".to_owned())];
    let done = Kept { to: site.at("board/B/set/done"), key: random_name(), fields };
    assert_eq!(outcome(&site.send(&done).await), Some("done"));
    site.crew.pass(Span::from_minutes(40));
    assert_eq!(outcome(&site.send(&done).await), Some("again"));
    let log = site.crew.get(&site.at("log")).await;
    assert_eq!(log.texts(".log-says").len(), 1, "{}", log.body);
}

#[tokio::test]
async fn all_script_together_is_small() {
    let crew = Crew::new().await;
    let (mut all, mut files) = (0, 0);
    for file in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/static")).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        if !name.ends_with(".js") {
            continue;
        }
        let request = Request::get(crew.app.assets.url(&name))
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ACCEPT_ENCODING, "gzip");
        let answer = crew.answer(request.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status(), StatusCode::OK, "{name} is served");
        assert_eq!(answer.headers()[header::CONTENT_ENCODING], "gzip");
        all += to_bytes(answer.into_body(), usize::MAX).await.unwrap().len();
        files += 1;
    }
    assert!(files >= 3 && all > 2_000, "{files} files of {all} bytes");
    assert!(all <= MOST_SCRIPT, "{all} bytes");
}
