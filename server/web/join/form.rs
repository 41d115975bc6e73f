//! What is typed on the ways in.

use trade::measure::Unit;

use crate::store::{NewJobs, Pin, PinFault, SessionToken};
use crate::texts::Texts;
use crate::web::error::PageError;
use crate::web::form::Faults;

/// The longest name that fits beside the others in the head of a page.
const LONGEST_NAME: usize = 40;

/// Setting up the lead.
#[derive(serde::Deserialize, Default, Clone)]
#[serde(default)]
pub struct TypedSetUp {
    /// The link it came by; nothing at the box.
    pub link: String,
    /// What this browser will be known by. It is made with the page, so that a form sent twice makes one device.
    pub device: String,
    pub name: String,
    pub pin: String,
    pub again: String,
    pub unit: String,
    pub zone: String,
}

/// Joining by a link.
#[derive(serde::Deserialize, Default, Clone)]
#[serde(default)]
pub struct TypedJoin {
    pub device: String,
    pub name: String,
}

/// Signing in.
#[derive(serde::Deserialize, Default, Clone)]
#[serde(default)]
pub struct TypedPin {
    pub device: String,
    pub pin: String,
}

fn token(device: &str) -> Result<SessionToken, PageError> {
    SessionToken::read(device).ok_or(PageError::BadForm)
}

/// A token for the browser that gets the page.
pub fn new_device() -> String {
    SessionToken::random().reveal()
}

impl TypedSetUp {
    /// The form as it first stands.
    pub fn usual(link: &str, lead: Option<&str>, jobs: Option<NewJobs>) -> Self {
        let box_zone = || jiff::tz::TimeZone::system().iana_name().unwrap_or("UTC").to_owned();
        let unit = jobs.as_ref().map_or(Unit::Millimetre, |jobs| jobs.unit);
        Self {
            link: link.to_owned(),
            device: new_device(),
            name: lead.unwrap_or_default().to_owned(),
            unit: if unit == Unit::Inch { "in" } else { "mm" }.to_owned(),
            zone: jobs.map_or_else(box_zone, |jobs| jobs.zone),
            ..Self::default()
        }
    }

    /// A new PIN for the lead there is, whose name and jobs stay as they are.
    #[must_use]
    pub fn of_lead(self, lead: &str, jobs: Option<NewJobs>) -> Self {
        let Self { device, pin, again, .. } = self;
        Self { device, pin, again, ..Self::usual(&self.link, Some(lead), jobs) }
    }

    /// The browser's token.
    pub fn token(&self) -> Result<SessionToken, PageError> {
        token(&self.device)
    }

    /// The lead's name, PIN and how jobs start, or what to change.
    pub fn read(&self, texts: &Texts) -> Result<(String, Pin, NewJobs), Faults> {
        let mut faults = Faults::default();
        let name = faults.take("name", name(&self.name, texts));
        let pin = faults.take("pin", pin(&self.pin, texts));
        if self.pin.trim() != self.again.trim() {
            faults.add("again", texts.say("fault-pin-again"));
        }
        let unit = faults.take("unit", unit(&self.unit, texts));
        let zone = faults.take("zone", zone(&self.zone, texts));
        match (name, pin, unit, zone) {
            (Some(name), Some(pin), Some(unit), Some(zone)) if faults.is_empty() => {
                Ok((name, pin, NewJobs { zone, unit }))
            }
            _ => Err(faults),
        }
    }
}

impl TypedJoin {
    /// The form as it first stands.
    pub fn new() -> Self {
        Self { device: new_device(), name: String::new() }
    }

    /// The browser's token.
    pub fn token(&self) -> Result<SessionToken, PageError> {
        token(&self.device)
    }

    /// The name, or what to change.
    pub fn read(&self, texts: &Texts) -> Result<String, Faults> {
        let mut faults = Faults::default();
        faults.take("name", name(&self.name, texts)).ok_or(faults)
    }
}

impl TypedPin {
    /// The browser's token.
    pub fn token(&self) -> Result<SessionToken, PageError> {
        token(&self.device)
    }

    /// What was typed, as a PIN.
    pub fn pin(&self) -> Result<Pin, PinFault> {
        Pin::read(&self.pin)
    }
}

fn name(typed: &str, texts: &Texts) -> Result<String, String> {
    let name = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    if name.is_empty() {
        return Err(texts.say("fault-person-missing"));
    }
    if name.chars().count() > LONGEST_NAME || name.chars().any(char::is_control) {
        return Err(texts.say_with("fault-person-long", &[("most", &LONGEST_NAME)]));
    }
    Ok(name)
}

fn pin(typed: &str, texts: &Texts) -> Result<Pin, String> {
    Pin::read(typed).map_err(|fault| match fault {
        PinFault::NotSixDigits => texts.say("fault-pin-six"),
        PinFault::TooPlain => texts.say("fault-pin-plain"),
    })
}

fn unit(typed: &str, texts: &Texts) -> Result<Unit, String> {
    match typed {
        "mm" => Ok(Unit::Millimetre),
        "in" => Ok(Unit::Inch),
        _ => Err(texts.say("fault-choice")),
    }
}

fn zone(typed: &str, texts: &Texts) -> Result<String, String> {
    let zone = jiff::tz::TimeZone::get(typed.trim()).map_err(|_| texts.say("fault-zone"))?;
    zone.iana_name().map(str::to_owned).ok_or_else(|| texts.say("fault-zone"))
}
