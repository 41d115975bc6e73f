//! The pages of the ways in.

use askama::Template;

use super::form::{TypedJoin, TypedSetUp, new_device};
use crate::app::App;
use crate::store::{LinkState, Role};
use crate::web::form::{Choice, Faults, Field};
use crate::web::page::Frame;
use crate::web::urls;

/// Setting up the lead.
#[derive(Template)]
#[template(path = "join/set_up.html")]
pub struct SetUpPage {
    frame: Frame,
    faults: Faults,
    link: String,
    device: String,
    name: Field,
    pin: Field,
    again: Field,
    unit: Field,
    zone: Field,
    units: Vec<Choice>,
    demo: bool,
    /// Said to the lead there is, who lost the PIN and chooses another.
    lost: Option<String>,
    make_url: &'static str,
    demo_url: &'static str,
}

/// Joining by a link.
#[derive(Template)]
#[template(path = "join/join.html")]
pub struct JoinPage {
    frame: Frame,
    faults: Faults,
    device: String,
    name: Field,
    is_board: bool,
}

/// Waiting to be let in.
#[derive(Template)]
#[template(path = "join/wait.html")]
pub struct Waiting {
    frame: Frame,
    says: String,
    here: &'static str,
}

/// A link that does not open.
#[derive(Template)]
#[template(path = "join/closed.html")]
pub struct Closed {
    frame: Frame,
    says: String,
    way: String,
}

/// What somebody sees who is not in.
#[derive(Template)]
#[template(path = "join/stranger.html")]
pub struct Stranger {
    frame: Frame,
    says: String,
    /// Where the lead signs in, where there is one.
    sign_in: Option<&'static str>,
}

/// The lead's PIN.
#[derive(Template)]
#[template(path = "join/sign_in.html")]
pub struct SignInPage {
    frame: Frame,
    faults: Faults,
    device: String,
    pin: Field,
}

impl SetUpPage {
    /// The form with what was typed and what is wrong with it. PINs are typed anew.
    /// Where there is a `lead` already, it asks for nothing but that.
    pub fn new(app: &App, typed: &TypedSetUp, lead: Option<&str>, faults: Faults) -> Self {
        let title = if lead.is_some() { "new-pin-title" } else { "set-up-title" };
        let frame = Frame::new(app, app.texts.say(title)).faulty_if(!faults.is_empty());
        Self {
            link: typed.link.clone(),
            device: typed.device.clone(),
            name: Field::new("name", typed.name.as_str()).with(&faults),
            pin: Field::new("pin", "").with(&faults),
            again: Field::new("again", "").with(&faults),
            unit: Field::new("unit", typed.unit.as_str()).with(&faults),
            zone: Field::new("zone", typed.zone.as_str()).with(&faults),
            units: vec![
                Choice::new("mm", frame.say("job-unit-mm")),
                Choice::new("in", frame.say("job-unit-in")),
            ],
            demo: app.demo && typed.link.is_empty(),
            lost: lead.map(|lead| frame.say1("new-pin-says", "name", &lead)),
            make_url: urls::SET_UP,
            demo_url: urls::LEAD_THE_DEMO,
            frame,
            faults,
        }
    }
}

impl JoinPage {
    /// The form with what was typed and what is wrong with it.
    pub fn new(app: &App, role: Role, typed: &TypedJoin, faults: Faults) -> Self {
        let is_board = role == Role::Board;
        let title = app.texts.say(if is_board { "join-board-title" } else { "join-title" });
        Self {
            frame: Frame::new(app, title).faulty_if(!faults.is_empty()),
            device: typed.device.clone(),
            name: Field::new("name", typed.name.as_str()).with(&faults),
            is_board,
            faults,
        }
    }
}

impl Waiting {
    /// For whoever asks.
    pub fn new(app: &App) -> Self {
        let frame = Frame::new(app, app.texts.say("wait-title"));
        Self { says: frame.say1("wait-says", "name", &frame.who), here: urls::WAIT, frame }
    }
}

impl Closed {
    /// In one sentence why, and the way on for whoever came by a link of this kind.
    pub fn new(app: &App, role: Role, state: LinkState) -> Self {
        let frame = Frame::new(app, app.texts.say("closed-title"));
        let says = frame.say(match state {
            LinkState::Used => "closed-used",
            LinkState::Expired => "closed-expired",
            LinkState::Revoked => "closed-revoked",
            LinkState::Unknown | LinkState::Open(_) => "closed-unknown",
        });
        let way = frame.say(if role == Role::Lead { "closed-way-lead" } else { "closed-way" });
        Self { says, way, frame }
    }
}

impl Stranger {
    /// The way in, where there is a lead to ask and where there is none yet.
    pub fn new(app: &App, is_set_up: bool) -> Self {
        let frame = Frame::new(app, app.texts.say("stranger-title"));
        let says = frame.say(if is_set_up { "stranger-says" } else { "stranger-no-lead" });
        Self { says, sign_in: is_set_up.then_some(urls::SIGN_IN), frame }
    }
}

impl SignInPage {
    /// The form with what is wrong. The PIN is typed anew.
    pub fn new(app: &App, faults: Faults) -> Self {
        Self {
            frame: Frame::new(app, app.texts.say("sign-in-title")).faulty_if(!faults.is_empty()),
            device: new_device(),
            pin: Field::new("pin", "").with(&faults),
            faults,
        }
    }
}
