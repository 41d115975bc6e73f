//! What is typed on the board: when a stage was done, and what is wrong with an entry.

use trade::cure::{Courses, Entry, Grounds, Instant, Span};

use crate::store::{EventId, Told};
use crate::texts::Texts;
use crate::web::form::Faults;
use crate::web::times::{Times, time_of_day};

/// The oldest that "so many minutes ago" may be; beyond it a day and a time are clearer.
const MOST_MINUTES: i64 = 24 * 60;

/// Which courses, where a wall has more than one part.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedPart {
    pub first: String,
    pub last: String,
}

/// That a stage is done, and when it was.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedDone {
    pub minutes: String,
    pub day: String,
    pub time: String,
    /// Of how many pieces that are not cut whoever sends it was told.
    pub uncut: String,
    /// From which mixes, by their entries, with commas between.
    pub batches: String,
    #[serde(flatten)]
    pub part: TypedPart,
}

/// What is wrong with an entry, and why it is known.
#[derive(serde::Deserialize, Default, Clone, Debug)]
#[serde(default)]
pub struct TypedMend {
    pub mend: String,
    pub batches: String,
    pub day: String,
    pub time: String,
    pub reason: String,
}

/// How an entry is mended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Mend {
    /// It happened at another time.
    At(Instant),
    /// It never happened.
    Withdraw,
    /// It happened when it says, though it was told late.
    Confirm,
    /// It was done from these mixes.
    From(Vec<EventId>),
}

impl TypedPart {
    /// The courses, `None` for the whole wall, or what to change.
    pub fn read(&self, texts: &Texts, courses: u32) -> Result<Option<Courses>, Faults> {
        let mut faults = Faults::default();
        let courses = faults.take("first", self.courses(texts, courses));
        courses.ok_or(faults)
    }

    fn courses(&self, texts: &Texts, most: u32) -> Result<Option<Courses>, String> {
        let (first, last) = (self.first.trim(), self.last.trim());
        if first.is_empty() && last.is_empty() {
            return Ok(None);
        }
        let last = if last.is_empty() { first } else { last };
        let read = |typed: &str| typed.parse::<u32>().ok().filter(|course| *course <= most);
        let courses = read(first).zip(read(last)).and_then(|(first, last)| Courses::new(first, last));
        courses.map(Some).ok_or_else(|| texts.say_with("fault-courses", &[("most", &most)]))
    }
}

impl TypedDone {
    /// When it was done and on which courses, or what to change.
    pub fn read(
        &self,
        texts: &Texts,
        times: &Times,
        now: Instant,
        courses: u32,
    ) -> Result<(Told, Option<Courses>), Faults> {
        let mut faults = Faults::default();
        let told = match (self.minutes.trim(), self.time.trim()) {
            ("", "") if self.day.is_empty() || self.day == times.today() => Some(Told::Now),
            ("", "") => faults.take("time", Err(texts.say("fault-time-missing"))),
            (minutes, "") => faults.take("minutes", ago(minutes, texts)),
            ("", _) => faults.take("time", at(&self.day, &self.time, texts, times, now).map(Told::At)),
            (_, _) => faults.take("minutes", Err(texts.say("fault-time-twice"))),
        };
        let courses = faults.take("first", self.part.courses(texts, courses));
        told.zip(courses).ok_or(faults)
    }
}

impl TypedMend {
    /// The form as it first stands: the entry's own time.
    pub fn of(entry: &Entry, times: &Times) -> Self {
        let (day, time) = times.typed(entry.happened);
        Self { mend: "time".to_owned(), day, time, ..Self::default() }
    }

    /// What to mend and why, or what to change. `named` are the mixes named, where there are such.
    pub fn read(
        &self,
        texts: &Texts,
        times: &Times,
        now: Instant,
        named: Option<Vec<EventId>>,
    ) -> Result<(Mend, Grounds), Faults> {
        let mut faults = Faults::default();
        let mend = match self.mend.as_str() {
            "time" => faults.take("time", at(&self.day, &self.time, texts, times, now).map(Mend::At)),
            "never" => Some(Mend::Withdraw),
            "confirm" => Some(Mend::Confirm),
            "batches" => {
                faults.take("batches", named.map(Mend::From).ok_or_else(|| texts.say("fault-choice")))
            }
            _ => faults.take("mend", Err(texts.say("fault-choice"))),
        };
        let reason = Grounds::new(&self.reason)
            .ok_or_else(|| texts.say_with("fault-reason", &[("most", &Grounds::MOST_CHARACTERS)]));
        let reason = faults.take("reason", reason);
        mend.zip(reason).ok_or(faults)
    }
}

fn ago(minutes: &str, texts: &Texts) -> Result<Told, String> {
    let minutes = minutes.parse::<i64>().ok().filter(|minutes| (0..=MOST_MINUTES).contains(minutes));
    minutes.map(|minutes| Told::Ago(Span::from_minutes(minutes))).ok_or_else(|| texts.say("fault-minutes"))
}

pub(super) fn at(
    day: &str,
    time: &str,
    texts: &Texts,
    times: &Times,
    now: Instant,
) -> Result<Instant, String> {
    let day = if day.is_empty() { times.today() } else { day.to_owned() };
    let day = day.parse().map_err(|_| texts.say("fault-choice"))?;
    let time = time_of_day(time).ok_or_else(|| texts.say("fault-time"))?;
    let at = times.read(day, time).ok_or_else(|| texts.say("fault-time"))?;
    if at > now {
        return Err(texts.say_with("fault-time-to-come", &[("now", &times.now())]));
    }
    Ok(at)
}

#[cfg(test)]
mod tests {
    use jiff::tz::TimeZone;

    use super::*;

    /// Tuesday 3 March 2026, 15:40 UTC.
    const NOW: Instant = Instant::from_millis(1_772_552_400_000);

    fn read(minutes: &str, day: &str, time: &str) -> Result<Told, String> {
        let texts = Texts::english().unwrap();
        let times = Times::new(&texts, &TimeZone::UTC, NOW);
        let typed = TypedDone {
            minutes: minutes.to_owned(),
            day: day.to_owned(),
            time: time.to_owned(),
            ..TypedDone::default()
        };
        let read = typed.read(&texts, &times, NOW, 1);
        read.map(|(told, _)| told).map_err(|faults| faults.iter().map(|fault| fault.field.as_str()).collect())
    }

    #[test]
    fn a_finish_is_told_as_just_now_or_so_long_ago_or_at_a_time() {
        assert_eq!(read("", "", ""), Ok(Told::Now));
        assert_eq!(read("", "2026-03-03", ""), Ok(Told::Now), "the form as it stands");
        assert_eq!(read("40", "2026-03-03", ""), Ok(Told::Ago(Span::from_minutes(40))));
        let hour_ago = Told::At(NOW - Span::from_hours(1));
        assert_eq!(read("", "2026-03-03", "14:40"), Ok(hour_ago));
        assert_eq!(read("", "", "2:40 pm"), Ok(hour_ago));
        assert_eq!(read("", "2026-03-02", "15:40"), Ok(Told::At(NOW - Span::from_hours(24))));
    }

    #[test]
    fn what_cannot_be_meant_is_asked_for_again() {
        assert_eq!(read("", "2026-03-02", ""), Err("time".to_owned()), "yesterday, but when?");
        assert_eq!(read("", "2026-03-03", "15:41"), Err("time".to_owned()), "still to come");
        assert_eq!(read("40", "2026-03-03", "14:40"), Err("minutes".to_owned()), "one or the other");
        assert_eq!(read("-5", "", ""), Err("minutes".to_owned()));
        assert_eq!(read("a while", "", ""), Err("minutes".to_owned()));
        assert_eq!(read("", "Tuesday", "14:40"), Err("time".to_owned()));
    }

    #[test]
    fn courses_are_those_of_the_wall_or_all_of_it() {
        let texts = Texts::english().unwrap();
        let read = |first: &str, last: &str| {
            let typed = TypedPart { first: first.to_owned(), last: last.to_owned() };
            typed.read(&texts, 9).map_err(|_| ())
        };
        assert_eq!(read("", ""), Ok(None));
        assert_eq!(read("1", "4"), Ok(Courses::new(1, 4)));
        assert_eq!(read("3", ""), Ok(Courses::new(3, 3)));
        for (first, last) in [("0", "4"), ("4", "1"), ("1", "10"), ("", "4"), ("one", "4")] {
            assert_eq!(read(first, last), Err(()), "{first} to {last}");
        }
    }
}
