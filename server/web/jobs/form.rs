//! A new job as it is typed.

use trade::cure::Template;
use trade::measure::Unit;

use crate::store::{NewJob, NewJobs};
use crate::texts::Texts;
use crate::web::form::Faults;

/// The longest name that still fits the head of a page on a phone.
const LONGEST_NAME: usize = 80;

/// What was typed.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedJob {
    pub name: String,
    pub unit: String,
    pub zone: String,
    pub work: String,
}

impl TypedJob {
    /// The form as it first stands: as the lead said when they were set up, else metric in the box's own time zone.
    pub fn usual(jobs: Option<NewJobs>) -> Self {
        if let Some(NewJobs { zone, unit }) = jobs {
            let unit = if unit == Unit::Inch { "in" } else { "mm" };
            return Self { unit: unit.to_owned(), zone, ..Self::default() };
        }
        let zone = jiff::tz::TimeZone::system().iana_name().unwrap_or("UTC").to_owned();
        Self { unit: "mm".to_owned(), zone, ..Self::default() }
    }

    /// The new job, or what to change.
    pub fn read(&self, texts: &Texts) -> Result<NewJob, Faults> {
        let mut faults = Faults::default();
        let name = faults.take("name", self.name(texts));
        let unit = faults.take("unit", self.unit(texts));
        let zone = faults.take("zone", self.zone(texts));
        let work = faults.take("work", self.work(texts));
        match (name, unit, zone, work) {
            (Some(name), Some(unit), Some(zone), Some(work)) => Ok(NewJob { name, unit, zone, work }),
            _ => Err(faults),
        }
    }

    fn name(&self, texts: &Texts) -> Result<String, String> {
        let name = self.name.trim();
        if name.is_empty() {
            return Err(texts.say("fault-name-missing"));
        }
        if name.chars().count() > LONGEST_NAME {
            return Err(texts.say_with("fault-name-long", &[("most", &LONGEST_NAME)]));
        }
        Ok(name.to_owned())
    }

    fn unit(&self, texts: &Texts) -> Result<Unit, String> {
        match self.unit.as_str() {
            "mm" => Ok(Unit::Millimetre),
            "in" => Ok(Unit::Inch),
            _ => Err(texts.say("fault-choice")),
        }
    }

    /// Where none is named, the work with tile alone.
    fn work(&self, texts: &Texts) -> Result<Template, String> {
        if self.work.is_empty() {
            return Ok(Template::TileWork);
        }
        Template::from_name(&self.work).ok_or_else(|| texts.say("fault-choice"))
    }

    fn zone(&self, texts: &Texts) -> Result<String, String> {
        let zone = jiff::tz::TimeZone::get(self.zone.trim()).map_err(|_| texts.say("fault-zone"))?;
        zone.iana_name().map(str::to_owned).ok_or_else(|| texts.say("fault-zone"))
    }
}
