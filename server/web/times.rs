//! Times and spans in words, in the job's time zone: weekday first, the date too where it is a week or more away.

use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use trade::cure::{Instant, Span};

use super::form::Choice;
use crate::texts::Texts;

/// From this many days on a weekday alone could be taken for another.
const WEEK: i32 = 7;

/// From this many whole days on, days say more than hours.
const MANY_HOURS: i64 = 96;

/// How times are said on one page.
#[derive(Clone)]
pub struct Times {
    texts: Texts,
    zone: TimeZone,
    now: Instant,
}

impl Times {
    /// Times in this zone, said at this moment.
    pub fn new(texts: &Texts, zone: &TimeZone, now: Instant) -> Self {
        Self { texts: texts.clone(), zone: zone.clone(), now }
    }

    /// `Wed 3:40 pm`; a week or more away `Wed 11 Mar, 3:40 pm`. Where a clock change makes the hour come twice
    /// it names the offset's abbreviation.
    pub fn at(&self, instant: Instant) -> String {
        let then = self.zoned(instant);
        let key = if self.is_near(then.date()) { "time-at" } else { "time-at-date" };
        let (day, clock) = (self.day(then.date()), self.clock(then.time()));
        let time = self.texts.say_with(key, &[("day", &day), ("clock", &clock)]);
        if self.zone.to_ambiguous_zoned_datetime(then.datetime()).is_ambiguous() {
            let zone = then.strftime("%Z").to_string();
            return self.texts.say_with("time-zone", &[("time", &time), ("zone", &zone)]);
        }
        time
    }

    /// The present moment.
    pub fn now(&self) -> String {
        self.at(self.now)
    }

    /// `5 h 12 min`, rounded up to whole minutes so that nothing is said to be over before it is; `4 days` where
    /// it comes out whole.
    pub fn span(&self, span: Span) -> String {
        let minutes =
            span.millis().max(0).div_euclid(60_000) + i64::from(span.millis().rem_euclid(60_000) > 0);
        let (hours, minutes) = (minutes / 60, minutes % 60);
        let say = |key: &str| {
            let (days, hours, minutes) = ((hours / 24).to_string(), hours.to_string(), minutes.to_string());
            self.texts.say_with(key, &[("days", &days), ("hours", &hours), ("minutes", &minutes)])
        };
        match (hours, minutes) {
            (hours, 0) if hours >= MANY_HOURS && hours % 24 == 0 => say("time-days"),
            (0, _) => say("time-minutes"),
            (_, 0) => say("time-hours"),
            _ => say("time-hours-minutes"),
        }
    }

    /// The last days to choose from, today first; their values are dates, so that a form sent after midnight
    /// still means the day it was drawn with. With them the day of `also`, however long ago.
    pub fn last_days(&self, also: Option<Instant>) -> Vec<Choice> {
        let today = self.zoned(self.now).date();
        let words = |days_ago: i32, date: Date| match days_ago {
            0 => self.texts.say("time-today"),
            1 => self.texts.say("time-yesterday"),
            _ => self.day(date),
        };
        let past =
            (0..WEEK).filter_map(|ago| Some((ago, today.checked_sub(jiff::Span::new().days(ago)).ok()?)));
        let mut days: Vec<Choice> =
            past.map(|(ago, date)| Choice::new(date.to_string(), words(ago, date))).collect();
        let also = also.map(|instant| self.zoned(instant).date());
        let older = also.filter(|also| !days.iter().any(|day| day.value == also.to_string()));
        days.extend(older.map(|also| Choice::new(also.to_string(), self.day(also))));
        days
    }

    /// Day and time of an instant as a form takes them: `2026-03-03`, `15:40`.
    pub fn typed(&self, instant: Instant) -> (String, String) {
        let then = self.zoned(instant);
        (then.date().to_string(), then.strftime("%H:%M").to_string())
    }

    /// Today as a form takes it.
    pub fn today(&self) -> String {
        self.typed(self.now).0
    }

    /// The instant of a day and time of the clock on the wall. Where a clock change makes it come twice it is the
    /// later, and where the change leaves it out it is as long after: a later finish only makes a wait longer.
    pub fn read(&self, date: Date, time: Time) -> Option<Instant> {
        let zoned = self.zone.to_ambiguous_zoned_datetime(date.to_datetime(time)).later().ok()?;
        Some(Instant::from_millis(zoned.timestamp().as_millisecond()))
    }

    fn zoned(&self, instant: Instant) -> ZonedDateTime {
        let timestamp = Timestamp::from_millisecond(instant.millis());
        // Beyond the years that jiff knows there is nothing to tell apart.
        let end = if instant.millis() < 0 { Timestamp::MIN } else { Timestamp::MAX };
        timestamp.unwrap_or(end).to_zoned_datetime(self.zone.clone())
    }

    /// Whether a weekday alone names this day.
    fn is_near(&self, date: Date) -> bool {
        let today = self.zoned(self.now).date();
        date.duration_since(today).as_hours().abs() < i64::from(WEEK) * 24
    }

    fn day(&self, date: Date) -> String {
        let today = self.zoned(self.now).date();
        let weekday = self.texts.say(&format!("time-{}", date.strftime("%A")).to_lowercase());
        if self.is_near(date) {
            return weekday;
        }
        let month = self.texts.say(&format!("time-month-{}", date.month()));
        let key = if date.year() == today.year() { "time-date" } else { "time-date-year" };
        let (day, year) = (date.day().to_string(), date.year().to_string());
        self.texts.say_with(key, &[("weekday", &weekday), ("day", &day), ("month", &month), ("year", &year)])
    }

    fn clock(&self, time: Time) -> String {
        let key = if time.hour() < 12 { "time-am" } else { "time-pm" };
        self.texts.say_with(key, &[("clock", &time.strftime("%-I:%M").to_string())])
    }
}

/// A time as people write it: `15:40`, `3:40 pm`, `3pm`, `3:40 p. m.`.
pub fn time_of_day(typed: &str) -> Option<Time> {
    let typed = typed.trim().to_lowercase();
    let half = |halves: [&str; 3]| halves.into_iter().find_map(|half| typed.strip_suffix(half));
    let (clock, half) = match (half(["am", "a.m.", "a. m."]), half(["pm", "p.m.", "p. m."])) {
        (Some(clock), _) => (clock, Some(0)),
        (_, Some(clock)) => (clock, Some(12)),
        _ => (typed.as_str(), None),
    };
    let (hour, minute) = match clock.trim().split_once([':', '.']) {
        Some((hour, minute)) => (hour.parse::<i8>().ok()?, minute.parse::<i8>().ok()?),
        None if half.is_some() => (clock.trim().parse::<i8>().ok()?, 0),
        None => return None,
    };
    let hour = match half {
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        Some(_) => return None,
        None => hour,
    };
    Time::new(hour, minute, 0, 0).ok()
}

/// A span as people write it: `24`, `36 h`, `1.5 h`, `90 min`, `3 days`, `3 días`, `1 h 30 min`; a bare
/// number is hours.
pub fn span(typed: &str) -> Option<Span> {
    let mut rest = typed.trim();
    let mut parts = Vec::new();
    while !rest.is_empty() {
        let number_ends =
            rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(rest.len());
        let (number, more) = rest.split_at(number_ends);
        let more = more.trim_start();
        let unit_ends = more.find(|c: char| !c.is_alphabetic()).unwrap_or(more.len());
        let (unit, more) = more.split_at(unit_ends);
        parts.push(times(number, unit_millis(unit)?)?);
        rest = more.trim_start();
    }
    if parts.is_empty() { None } else { Some(parts.into_iter().map(Span::from_millis).sum()) }
}

fn unit_millis(unit: &str) -> Option<i64> {
    match unit.to_lowercase().as_str() {
        "" | "h" | "hr" | "hrs" | "hour" | "hours" | "hora" | "horas" => Some(3_600_000),
        "m" | "min" | "mins" | "minute" | "minutes" | "minuto" | "minutos" => Some(60_000),
        "d" | "day" | "days" | "dia" | "dias" | "día" | "días" => Some(86_400_000),
        _ => None,
    }
}

/// A decimal number of at most three places times a whole one, exactly.
fn times(number: &str, unit: i64) -> Option<i64> {
    let (whole, decimals) = number.split_once(['.', ',']).unwrap_or((number, "0"));
    let places = u32::try_from(decimals.len()).ok().filter(|places| (1..=3).contains(places))?;
    let part = decimals.parse::<i64>().ok()?.checked_mul(unit)? / 10_i64.checked_pow(places)?;
    whole.parse::<i64>().ok()?.checked_mul(unit)?.checked_add(part)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::texts::Language;

    /// Tuesday 3 March 2026, 15:40 UTC.
    const TUESDAY: Instant = Instant::from_millis(1_772_552_400_000);

    fn times_in(zone: &str) -> Times {
        Times::new(&Texts::english().unwrap(), &TimeZone::get(zone).unwrap(), TUESDAY)
    }

    #[test]
    fn the_weekday_comes_first_and_the_date_where_it_is_a_week_away() {
        let times = times_in("Europe/Lisbon");
        assert_eq!(times.now(), "Tue 3:40 pm");
        assert_eq!(times.at(TUESDAY + Span::from_hours(48)), "Thu 3:40 pm");
        assert_eq!(times.at(TUESDAY + Span::from_hours(7 * 24 + 9)), "Wed 11 Mar, 12:40 am");
        assert_eq!(times.at(TUESDAY - Span::from_hours(365 * 24)), "Mon 3 Mar 2025, 3:40 pm");
        assert_eq!(times_in("America/Denver").now(), "Tue 8:40 am");
    }

    #[test]
    fn the_hour_that_comes_twice_names_its_offset() {
        let zone = TimeZone::get("America/Denver").unwrap();
        // Sunday 1 November 2026, clocks go from 2:00 am back to 1:00 am at 08:00 UTC.
        let before = Instant::from_millis(1_793_518_200_000);
        let times = Times::new(&Texts::english().unwrap(), &zone, before);
        assert_eq!(times.at(before), "Sun 1:30 am MDT");
        assert_eq!(times.at(before + Span::from_hours(1)), "Sun 1:30 am MST");
        let typed = times.read(jiff::civil::date(2026, 11, 1), jiff::civil::time(1, 30, 0, 0));
        assert_eq!(typed, Some(before + Span::from_hours(1)), "the later of the two");
    }

    #[test]
    fn a_wait_is_never_said_to_be_shorter_than_it_is() {
        let times = times_in("UTC");
        assert_eq!(times.span(Span::from_millis(1)), "1 min");
        assert_eq!(times.span(Span::from_minutes(5 * 60 + 12)), "5 h 12 min");
        assert_eq!(times.span(Span::from_millis(4 * 3_600_000 + 59 * 60_000 + 1)), "5 h");
        assert_eq!(times.span(Span::from_hours(48)), "48 h");
        assert_eq!(times.span(Span::from_hours(30 * 24)), "30 days");
    }

    #[test]
    fn times_of_day_as_people_write_them() {
        for (typed, hour, minute) in [
            ("15:40", 15, 40),
            (" 3:40 pm", 15, 40),
            ("3pm", 15, 0),
            ("12:05 AM", 0, 5),
            ("12 pm", 12, 0),
            ("3:40 p. m.", 15, 40),
            ("3:40 P.M.", 15, 40),
            ("12:05 a. m.", 0, 5),
            ("8.05", 8, 5),
        ] {
            assert_eq!(time_of_day(typed), Some(jiff::civil::time(hour, minute, 0, 0)), "{typed}");
        }
        for typed in ["", "15", "25:00", "3:75 pm", "13 pm", "noon", "3:4o"] {
            assert_eq!(time_of_day(typed), None, "{typed}");
        }
    }

    #[test]
    fn spans_as_the_bag_has_them() {
        for (typed, minutes) in [
            ("24", 24 * 60),
            ("36 h", 36 * 60),
            ("1.5h", 90),
            ("1,25 hours", 75),
            ("90 min", 90),
            ("3 days", 3 * 1440),
            ("3 días", 3 * 1440),
            ("1 día 6 horas", 30 * 60),
            ("1 h 30 min", 90),
            ("0", 0),
        ] {
            assert_eq!(span(typed), Some(Span::from_minutes(minutes)), "{typed}");
        }
        for typed in ["", "soon", "h", "24 fortnights", "1.", "-3", "1.2345", "99999999999999999999"] {
            assert_eq!(span(typed), None, "{typed}");
        }
    }

    #[test]
    fn what_is_said_is_read_back_the_same_in_every_language() {
        for language in Language::ALL {
            let times = Times::new(&Texts::of(language).unwrap(), &TimeZone::UTC, TUESDAY);
            for minutes in [1, 59, 60, 61, 24 * 60, 95 * 60 + 1, 96 * 60, 90 * 24 * 60] {
                let said = times.span(Span::from_minutes(minutes));
                assert_eq!(span(&said), Some(Span::from_minutes(minutes)), "{said}");
            }
            for hour in 0..24 {
                let time = jiff::civil::time(hour, 5, 0, 0);
                assert_eq!(time_of_day(&times.clock(time)), Some(time), "{}", times.clock(time));
            }
        }
    }
}
