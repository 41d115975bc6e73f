//! Whose browser it is: a type, so that a story cannot mistake one for another.

use std::marker::PhantomData;
use std::net::{IpAddr, Ipv4Addr};
use std::sync::Mutex;

use axum::body::Body;
use axum::http::{Request, header};
use coursebook::web::Ends;

use super::{Crew, Page};

/// A helper's phone.
pub struct Helper;
/// A tablet on the wall.
pub struct Board;
/// Anyone on the network.
pub struct Stranger;

/// One browser with its cookie.
pub struct Browser<'a, Who> {
    crew: &'a Crew,
    cookie: Mutex<Option<String>>,
    who: PhantomData<Who>,
}

/// The PIN of the lead of every story.
pub const PIN: &str = "493027";

/// An address for documentation (RFC 5737), as a phone's.
const PHONE: IpAddr = IpAddr::V4(Ipv4Addr::new(192, 0, 2, 44));

impl Crew {
    /// Somebody who has just come.
    pub fn stranger(&self) -> Browser<'_, Stranger> {
        Browser { crew: self, cookie: Mutex::new(None), who: PhantomData }
    }

    /// A helper who was let in.
    pub async fn helper(&self, name: &str) -> Browser<'_, Helper> {
        self.let_in(name, "helper").await
    }

    /// A board that was let in.
    pub async fn board(&self, name: &str) -> Browser<'_, Board> {
        self.let_in(name, "board").await
    }

    /// A link for a helper or a board, as its path.
    pub async fn link_for(&self, role: &str) -> String {
        let shown = self.post("/people/links", &[("role", role)]).await.leads_to();
        let address = self.get(&shown).await.text(".address");
        address[address.find("/join/").unwrap()..].to_owned()
    }

    async fn let_in<Who>(&self, name: &str, role: &str) -> Browser<'_, Who> {
        let browser = self.stranger();
        assert_eq!(browser.join(&self.link_for(role).await, name).await.leads_to(), "/join");
        let people = self.get("/people").await;
        let let_in = people.attribute(".waiting form", "action");
        self.post(&let_in, &[]).await.leads_to();
        Browser { crew: self, cookie: browser.cookie, who: PhantomData }
    }
}

impl<Who> Browser<'_, Who> {
    /// What the browser keeps.
    pub fn cookie(&self) -> Option<String> {
        self.cookie.lock().unwrap().clone()
    }

    /// Opens a page.
    pub async fn get(&self, address: &str) -> Page {
        self.send(Request::get(address), Body::empty(), PHONE).await
    }

    /// Opens a page at the box itself.
    pub async fn get_at_the_box(&self, address: &str) -> Page {
        self.send(Request::get(address), Body::empty(), Ipv4Addr::LOCALHOST.into()).await
    }

    /// Sends a form with a key of its own.
    pub async fn post(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        self.post_from(address, fields, PHONE).await
    }

    /// Sends a form from the box itself.
    pub async fn post_at_the_box(&self, address: &str, fields: &[(&str, &str)]) -> Page {
        self.post_from(address, fields, Ipv4Addr::LOCALHOST.into()).await
    }

    async fn post_from(&self, address: &str, fields: &[(&str, &str)], from: IpAddr) -> Page {
        let key = coursebook::store::random_name();
        let mut all = vec![("key", key.as_str())];
        all.extend_from_slice(fields);
        let request = Request::post(address)
            .header(header::ORIGIN, "http://127.0.0.1:8080")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.send(request, Body::from(serde_html_form::to_string(&all).unwrap()), from).await
    }

    async fn send(&self, request: axum::http::request::Builder, body: Body, from: IpAddr) -> Page {
        let request = request
            .header(header::HOST, "127.0.0.1:8080")
            .extension(Ends { from, to: Ipv4Addr::LOCALHOST.into() });
        let request = match self.cookie() {
            Some(cookie) => request.header(header::COOKIE, cookie),
            None => request,
        };
        let page = Page::read(self.crew.answer_any(request.body(body).unwrap()).await).await;
        if let Some(set) = page.headers.get(header::SET_COOKIE) {
            let cookie = set.to_str().unwrap().split(';').next().unwrap().to_owned();
            *self.cookie.lock().unwrap() = Some(cookie);
        }
        page
    }
}

impl Browser<'_, Stranger> {
    /// Fills in the form of a link.
    pub async fn join(&self, link: &str, name: &str) -> Page {
        let form = self.get(link).await;
        let device = form.attribute("input[name=device]", "value");
        self.post(link, &[("device", &device), ("name", name)]).await
    }

    /// Sets up the lead at the box.
    pub async fn set_up_at_the_box(&self) -> Page {
        self.set_up_at_the_box_as("lead").await
    }

    /// Sets up a lead of this name at the box.
    pub async fn set_up_at_the_box_as(&self, name: &str) -> Page {
        let form = self.get_at_the_box("/set-up").await;
        self.post_at_the_box("/set-up", &lead_form(name, &form.attribute("input[name=device]", "value"), ""))
            .await
    }

    /// Sets up the lead by a link of the box.
    pub async fn set_up_by(&self, link: &str) -> Page {
        let form = self.get(link).await;
        let device = form.attribute("input[name=device]", "value");
        self.post("/set-up", &lead_form("lead", &device, link.rsplit('/').next().unwrap())).await
    }

    /// Types a PIN.
    pub async fn sign_in(&self, pin: &str) -> Page {
        let form = self.get("/sign-in").await;
        let device = form.attribute("input[name=device]", "value");
        self.post("/sign-in", &[("device", &device), ("pin", pin)]).await
    }
}

fn lead_form<'a>(name: &'a str, device: &'a str, link: &'a str) -> [(&'a str, &'a str); 7] {
    [
        ("device", device),
        ("link", link),
        ("name", name),
        ("pin", PIN),
        ("again", PIN),
        ("unit", "in"),
        ("zone", "Europe/Lisbon"),
    ]
}
