//! The pages of people and devices.

use askama::Template;

use trade::cure::Instant;

use super::Done;
use crate::app::App;
use crate::store::{DeviceId, DeviceLine, LinkToken, Role, Seen};
use crate::texts::Said;
use crate::web::page::Frame;
use crate::web::urls;

/// Who waits and who is in.
#[derive(Template)]
#[template(path = "people/list.html")]
pub struct PeoplePage {
    frame: Frame,
    /// There is a new PIN, and which other devices are in as lead.
    new_pin: Option<String>,
    /// How many links were taken back.
    taken_back: Option<String>,
    waiting: Vec<Line>,
    inside: Vec<Line>,
    links_url: &'static str,
    revoke_url: &'static str,
    here: &'static str,
    /// Said where no phone can reach the server.
    only_here: bool,
    /// Said where phones reached it elsewhere before.
    moved: Option<String>,
    /// Where phones reach it.
    ways: Vec<String>,
}

/// One device.
struct Line {
    /// Another device than this one, in as lead.
    also_leads: bool,
    /// The id of its part of the page.
    part: String,
    name: String,
    more: String,
    let_in: String,
    let_in_url: String,
    end: String,
    /// Which device it is that would be out, and what comes of that.
    end_sure: String,
    end_url: String,
}

/// A link just made.
#[derive(Template)]
#[template(path = "people/link.html")]
pub struct LinkPage {
    frame: Frame,
    says: String,
    address: String,
    code_url: String,
    people_url: &'static str,
    only_here: bool,
}

impl PeoplePage {
    /// The list as `this` device sees it.
    pub fn new(app: &App, seen: &Seen, this: &DeviceId, devices: Vec<DeviceLine>) -> Self {
        let frame = Frame::new(app, app.texts.say("people-title")).live(seen);
        let (inside, waiting): (Vec<_>, Vec<_>) = devices.into_iter().partition(|device| device.is_in);
        let line = |device: DeviceLine| Line::new(app, &frame, this, device);
        Self {
            new_pin: None,
            taken_back: None,
            waiting: waiting.into_iter().map(line).collect(),
            inside: inside.into_iter().map(line).collect(),
            links_url: urls::LINKS,
            revoke_url: urls::REVOKE,
            here: urls::PEOPLE,
            only_here: app.reached.is_only_here(),
            moved: app.reached.moved(&app.texts),
            ways: app.reached.ways(),
            frame,
        }
    }

    /// The same list, saying what was just done.
    #[must_use]
    pub fn after(mut self, done: &Done) -> Self {
        if done.pin == "new" {
            let others = self.inside.iter().filter(|line| line.also_leads).count();
            self.new_pin = Some(self.frame.say1("new-pin-done", "count", &others));
        }
        self.taken_back = done.back.map(|count| self.frame.say1("people-revoked", "count", &count));
        self
    }
}

impl Line {
    fn new(app: &App, frame: &Frame, this: &DeviceId, device: DeviceLine) -> Self {
        let kind = match (device.role, device.device_name.as_str()) {
            (Role::Board, _) => frame.say("device-board"),
            (_, "phone") => frame.say("device-phone"),
            _ => frame.say("device-computer"),
        };
        let role = frame.say(match device.role {
            Role::Lead => "role-lead",
            Role::Helper => "role-helper",
            Role::Board => "role-board",
        });
        let minutes = |since: Instant| (app.clock.now() - since).millis() / 60_000;
        let came = match minutes(device.made) {
            ..120 => frame.say1("device-came-minutes", "count", &minutes(device.made)),
            120..2880 => frame.say1("device-came-hours", "count", &(minutes(device.made) / 60)),
            _ => frame.say1("device-came-days", "count", &(minutes(device.made) / 1440)),
        };
        let seen = match minutes(device.seen) {
            _ if device.device == *this => frame.say("device-this"),
            ..10 => frame.say("device-seen-now"),
            minutes @ 10..120 => frame.say1("device-seen-minutes", "count", &minutes),
            minutes @ 120..2880 => frame.say1("device-seen-hours", "count", &(minutes / 60)),
            minutes => frame.say1("device-seen-days", "count", &(minutes / 1440)),
        };
        let name = device.person.unwrap_or(device.device_name);
        let sure: [(&str, &dyn Said); 4] =
            [("name", &name), ("kind", &kind), ("came", &came), ("seen", &seen)];
        Self {
            also_leads: device.is_in && device.role == Role::Lead && device.device != *this,
            part: format!("device-{}", device.device),
            end_sure: frame.say_with("people-end-sure", &sure),
            more: frame.say_with(
                "device-more",
                &[("role", &role), ("kind", &kind), ("seen", &seen), ("came", &came)],
            ),
            let_in: frame.say1("people-let-in", "name", &name),
            let_in_url: urls::let_in(&device.device),
            end: frame.say1(if device.is_in { "people-end" } else { "people-turn-away" }, "name", &name),
            end_url: urls::end(&device.device),
            name,
        }
    }
}

impl LinkPage {
    /// The link with its code.
    pub fn new(app: &App, role: Role, token: &LinkToken, address: &str) -> Self {
        let words = if role == Role::Board { "link-board-title" } else { "link-title" };
        let frame = Frame::new(app, app.texts.say(words));
        Self {
            says: frame.say("link-says"),
            address: address.to_owned(),
            code_url: urls::link_code(token),
            people_url: urls::PEOPLE,
            only_here: app.reached.is_only_here(),
            frame,
        }
    }
}
