//! A crew at its browser: the real router over a real database in a folder of its own, with a clock that stands
//! still.

mod measured;
mod people;

use std::sync::{Arc, Mutex};

use axum::Router;
use axum::body::Body;
use axum::http::{Request, Response, StatusCode, header};
use coursebook::app::App;
use coursebook::clock::Clock;
use coursebook::store::{self, OpenError, Store};
use coursebook::web::{Hosts, Reached, router};
use scraper::{Html, Selector};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection};
use tempfile::TempDir;
use tower::ServiceExt;
use trade::cure::{BootId, Instant, Span, Stamp, WallClock};

pub use measured::{Wall, typed_over};
pub use people::PIN;

/// A server and its lead's browser.
pub struct Crew {
    pub app: App,
    router: Router,
    lead: Option<String>,
    pub time: Arc<Mutex<Stamp>>,
    pub folder: TempDir,
}

/// An answer, read whole.
pub struct Page {
    pub status: StatusCode,
    pub headers: axum::http::HeaderMap,
    pub body: String,
}

/// Tuesday 3 March 2026, 15:40 in Lisbon, where winter time is UTC.
pub const START: i64 = 1_772_552_400_000;

impl Crew {
    /// A server whose lead is set up.
    pub async fn new() -> Self {
        let mut crew = Self::not_set_up().await;
        let browser = crew.stranger();
        browser.set_up_at_the_box().await.leads_to();
        let cookie = browser.cookie();
        crew.lead = cookie;
        crew
    }

    /// A server over an empty folder.
    pub async fn not_set_up() -> Self {
        Self::over(TempDir::new().unwrap()).await
    }

    async fn over(folder: TempDir) -> Self {
        let start = Stamp {
            wall: Instant::from_millis(START),
            boot: BootId(1),
            since_boot: Span::from_hours(1),
            wall_clock: WallClock::Trusted,
        };
        Self::at(folder, Arc::new(Mutex::new(start))).await
    }

    async fn at(folder: TempDir, time: Arc<Mutex<Stamp>>) -> Self {
        // A command that another test is just starting shares our open files until it runs, the lock among them.
        let mut tries_left = 10_000;
        let store = loop {
            match Store::open(folder.path(), Clock::Fixed(Arc::clone(&time))).await {
                Err(OpenError::InUse(_)) if tries_left > 0 => tries_left -= 1,
                opened => break opened.unwrap(),
            }
        };
        let app = App::new(store, Hosts::new("127.0.0.1:8080".parse().unwrap(), &[])).unwrap();
        Self { router: router(app.clone()), lead: None, app, time, folder }
    }

    /// Serves as the demo is.
    pub fn serve_the_demo(&mut self) {
        self.app.demo = true;
        self.router = router(self.app.clone());
    }

    /// Serves where phones reach it there.
    pub fn reached(&mut self, reached: Reached) {
        self.app.reached = Arc::new(reached);
        self.router = router(self.app.clone());
    }

    /// The same folder, served anew.
    pub async fn restarted(self) -> Self {
        let Self { app, router, lead, time, folder } = self;
        drop(router);
        app.store.close().await;
        drop(app);
        Self { lead, ..Self::at(folder, time).await }
    }

    /// Stops the server and gives back its folder.
    pub async fn stopped(self) -> TempDir {
        let Self { app, router, folder, .. } = self;
        drop(router);
        app.store.close().await;
        folder
    }

    /// Another person of the crew on a device of their own, as the store knows them.
    pub async fn joined(&self, name: &str) -> store::Actor {
        let by = store::Actor {
            person: store::Person { id: store::PersonId::random(), name: name.to_owned() },
            device: store::DeviceId::random(),
        };
        let database = self.folder.path().join("coursebook.db");
        let options = SqliteConnectOptions::new().filename(database).foreign_keys(true);
        let mut connection = options.connect().await.unwrap();
        sqlx::query("INSERT INTO person (id, name, role, made) VALUES (?, ?, 'helper', ?)")
            .bind(&by.person.id)
            .bind(name)
            .bind(START + 1)
            .execute(&mut connection)
            .await
            .unwrap();
        sqlx::query("INSERT INTO device (id, name, made) VALUES (?, ?, ?)")
            .bind(&by.device)
            .bind(name)
            .bind(START + 1)
            .execute(&mut connection)
            .await
            .unwrap();
        connection.close().await.unwrap();
        by
    }

    /// The cookie of whoever asks: the lead, until another is handed to.
    pub fn at_hand(&self) -> String {
        self.lead.clone().unwrap()
    }

    /// From now on the browser with this cookie asks.
    pub fn hand_to(&mut self, cookie: &str) {
        self.lead = Some(cookie.to_owned());
    }

    /// Lets time pass on both clocks.
    pub fn pass(&self, span: Span) {
        let mut time = self.time.lock().unwrap();
        time.wall = time.wall + span;
        time.since_boot = time.since_boot + span;
    }

    /// Opens a page.
    pub async fn get(&self, address: &str) -> Page {
        self.get_with(address, &[]).await
    }

    /// Opens a page with further headers.
    pub async fn get_with(&self, address: &str, headers: &[(header::HeaderName, &str)]) -> Page {
        let request = Request::get(address).header(header::HOST, "127.0.0.1:8080");
        let request = headers.iter().fold(request, |request, (name, value)| request.header(name, *value));
        self.send(request.body(Body::empty()).unwrap()).await
    }

    /// Sends a form from a page of ours, with a key of its own.
    pub async fn post(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        let key = store::random_name();
        self.post_with_key(address, &key, fields).await
    }

    /// Sends a form as it was read off a page.
    pub async fn post_form(&self, address: &str, fields: &[(String, String)]) -> Page {
        let fields: Vec<_> = fields.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
        self.post(address, &fields).await
    }

    /// Presses the one button of a page that says a price.
    pub async fn agree(&self, asked: &Page) -> Page {
        let fields: Vec<_> = asked.form_fields().into_iter().filter(|(name, _)| name != "key").collect();
        self.post_form(&asked.attribute("main form", "action"), &fields).await
    }

    /// An answer, or what comes of it once its price is agreed to.
    pub async fn agreed(&self, answer: Page) -> Page {
        if answer.texts(".price").is_empty() { answer } else { self.agree(&answer).await }
    }

    /// Sends a form with this key.
    pub async fn post_with_key(&self, address: &str, key: &str, fields: &[(&str, &str)]) -> Page {
        self.post_key_with(address, key, fields, &[]).await
    }

    /// Sends a form with a key of its own and further headers.
    pub async fn post_with(
        &self,
        address: &str,
        fields: &[(&str, &str)],
        headers: &[(header::HeaderName, &str)],
    ) -> Page {
        let key = store::random_name();
        self.post_key_with(address, &key, fields, headers).await
    }

    async fn post_key_with(
        &self,
        address: &str,
        key: &str,
        fields: &[(&str, &str)],
        headers: &[(header::HeaderName, &str)],
    ) -> Page {
        let mut all = vec![("key", key)];
        all.extend_from_slice(fields);
        let request = Request::post(address)
            .header(header::HOST, "127.0.0.1:8080")
            .header(header::ORIGIN, "http://127.0.0.1:8080")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        let request = headers.iter().fold(request, |request, (name, value)| request.header(name, *value));
        let form = serde_html_form::to_string(&all).unwrap();
        self.send(request.body(Body::from(form)).unwrap()).await
    }

    /// Sends any request from the lead's browser, and reads no more than the head of its answer.
    pub async fn answer(&self, mut request: Request<Body>) -> Response<Body> {
        if let Some(lead) = &self.lead {
            request.headers_mut().append(header::COOKIE, lead.parse().unwrap());
        }
        self.answer_any(request).await
    }

    /// Sends any request as it is.
    pub async fn answer_any(&self, request: Request<Body>) -> Response<Body> {
        self.router.clone().oneshot(request).await.unwrap()
    }

    /// Sends any request.
    pub async fn send(&self, request: Request<Body>) -> Page {
        Page::read(self.answer(request).await).await
    }
}

impl Page {
    /// Reads an answer whole.
    pub async fn read(answer: Response<Body>) -> Self {
        let (head, body) = answer.into_parts();
        let bytes = axum::body::to_bytes(body, usize::MAX).await.unwrap();
        Page { status: head.status, headers: head.headers, body: String::from_utf8(bytes.to_vec()).unwrap() }
    }

    /// The text of the first element that a selector finds, spaces folded.
    pub fn text(&self, selector: &str) -> String {
        self.texts(selector).into_iter().next().unwrap_or_else(|| panic!("no {selector} in\n{}", self.body))
    }

    /// The texts of all elements that a selector finds.
    pub fn texts(&self, selector: &str) -> Vec<String> {
        let (page, selector) = (Html::parse_document(&self.body), Selector::parse(selector).unwrap());
        let found = page.select(&selector);
        found
            .map(|element| {
                element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
            })
            .collect()
    }

    /// An attribute of the first element that a selector finds.
    pub fn attribute(&self, selector: &str, name: &str) -> String {
        let (parsed, wanted) = (Html::parse_document(&self.body), Selector::parse(selector).unwrap());
        let found = parsed.select(&wanted).next().and_then(|element| element.attr(name));
        found.unwrap_or_else(|| panic!("no {selector}[{name}] in\n{}", self.body)).to_owned()
    }

    /// An attribute of every element that a selector finds.
    pub fn attributes(&self, selector: &str, name: &str) -> Vec<String> {
        let (parsed, wanted) = (Html::parse_document(&self.body), Selector::parse(selector).unwrap());
        parsed.select(&wanted).filter_map(|element| element.attr(name)).map(str::to_owned).collect()
    }

    /// The fields of the first form, as a browser without script would send them.
    pub fn form_fields(&self) -> Vec<(String, String)> {
        let page = Html::parse_document(&self.body);
        let wanted = Selector::parse("main form input, main form select").unwrap();
        let chosen = Selector::parse("option[selected]").unwrap();
        let first = Selector::parse("option").unwrap();
        let form = Selector::parse("main form").unwrap();
        let form = page.select(&form).next().unwrap_or_else(|| panic!("no form in\n{}", self.body));
        let inside =
            |element: &scraper::ElementRef<'_>| element.ancestors().any(|node| node.id() == form.id());
        page.select(&wanted)
            .filter(inside)
            .filter_map(|element| {
                let name = element.attr("name")?.to_owned();
                let value = match (element.value().name(), element.attr("type")) {
                    ("select", _) => {
                        let option =
                            element.select(&chosen).next().or_else(|| element.select(&first).next())?;
                        option.attr("value")?.to_owned()
                    }
                    (_, Some("checkbox" | "radio")) if element.attr("checked").is_none() => return None,
                    _ => element.attr("value").unwrap_or_default().to_owned(),
                };
                Some((name, value))
            })
            .collect()
    }

    /// Where a form's answer leads.
    pub fn leads_to(&self) -> String {
        assert_eq!(self.status, StatusCode::SEE_OTHER, "{}", self.body);
        self.headers[header::LOCATION].to_str().unwrap().to_owned()
    }
}
