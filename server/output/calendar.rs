//! Next steps as iCalendar (RFC 5545). The library folds and escapes; times are UTC, so that no zone has to be told.

use chrono::{DateTime, Duration, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike};
use trade::cure::{Instant, Span};

/// Something to come, with the alarm that tells of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Step {
    /// The same for the same step for ever, whenever it comes to lie.
    pub uid: String,
    pub summary: String,
    pub description: String,
    pub starts: Instant,
    pub ends: Instant,
    /// How long before its start the alarm goes off.
    pub alarm_before: Span,
}

/// What all steps of one file share.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Head {
    pub name: String,
    /// Grows whenever anything is told that could move a step.
    pub revision: u32,
    /// When that was.
    pub revised: Instant,
}

/// A calendar that asks is told how often to come again.
const EVERY: Duration = Duration::minutes(15);

/// The file.
pub fn calendar(head: &Head, steps: &[Step]) -> String {
    let mut calendar = Calendar::empty();
    for (name, value) in
        [("VERSION", "2.0"), ("PRODID", "-//coursebook//coursebook//EN"), ("CALSCALE", "GREGORIAN")]
    {
        calendar.append_property((name, value));
    }
    // NAME of RFC 7986 the library leaves unescaped; this one it escapes, and every reader knows it.
    calendar.append_property(("X-WR-CALNAME", head.name.as_str())).ttl(&EVERY);
    for step in steps {
        calendar.push(event(head, step));
    }
    calendar.to_string()
}

fn event(head: &Head, step: &Step) -> Event {
    let revised = utc(head.revised);
    let before = Duration::milliseconds(step.alarm_before.millis());
    let mut alarm = Alarm::display(&step.summary, -before);
    // Without these the library makes up others for each file, and an alarm would be a new one each time.
    alarm.uid(&format!("alarm-{}", step.uid)).timestamp(revised);
    Event::new()
        .uid(&step.uid)
        .sequence(head.revision)
        .timestamp(revised)
        .last_modified(revised)
        .summary(&step.summary)
        .description(&step.description)
        .starts(utc(step.starts))
        .ends(utc(step.ends))
        .alarm(alarm)
        .done()
}

/// To whole seconds, which is all that the format has, and none too early.
fn utc(instant: Instant) -> DateTime<Utc> {
    let seconds = instant.millis().div_euclid(1000) + i64::from(instant.millis().rem_euclid(1000) > 0);
    DateTime::from_timestamp(seconds, 0).unwrap_or(DateTime::<Utc>::MAX_UTC)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(summary: &str) -> Step {
        Step {
            uid: "alder-back-grout@coursebook".to_owned(),
            summary: summary.to_owned(),
            description: "Back wall, courses 1 to 4; wait.\nThen go \\ on".to_owned(),
            starts: Instant::from_millis(1_772_552_400_001),
            ends: Instant::from_millis(1_772_553_300_000),
            alarm_before: Span::from_minutes(10),
        }
    }

    fn head() -> Head {
        Head {
            name: "Alder, Court; 2".to_owned(),
            revision: 7,
            revised: Instant::from_millis(1_772_550_000_000),
        }
    }

    #[test]
    fn what_is_written_is_read_back_as_it_was_meant() {
        let words =
            "Zócalo y nicho: boquilla, después de que fragüe; y otra frase larga que no cabe en una línea";
        let file = calendar(&head(), &[step(words)]);
        assert!(file.lines().all(|line| line.len() <= 75), "folded: {file}");
        assert!(file.split_inclusive('\n').all(|line| line.ends_with("\r\n")));
        let read: Calendar = file.parse().unwrap();
        assert_eq!(read.property_value("X-WR-CALNAME"), Some("Alder, Court; 2"));
        let event = read.events().next().unwrap();
        assert_eq!(event.get_summary(), Some(words));
        assert_eq!(event.get_description(), Some("Back wall, courses 1 to 4; wait.\nThen go \\ on"));
        assert_eq!(event.get_sequence(), Some(7));
        assert_eq!(event.get_uid(), Some("alder-back-grout@coursebook"));
        assert_eq!(event.get_timestamp().unwrap().timestamp(), 1_772_550_000);
        assert!(file.contains("DTSTART:20260303T154001Z\r\n"), "none too early: {file}");
        assert!(file.contains("DTEND:20260303T155500Z\r\n"));
        assert!(file.contains("BEGIN:VALARM\r\n") && file.contains("TRIGGER:-PT600S\r\n"), "{file}");
    }

    #[test]
    fn the_same_steps_make_the_same_file() {
        assert_eq!(calendar(&head(), &[step("Grout")]), calendar(&head(), &[step("Grout")]));
        assert!(calendar(&head(), &[]).parse::<Calendar>().is_ok(), "nothing to come is a calendar too");
    }
}
