//! Instants and spans in whole milliseconds: elapsed time, never the calendar, so that 24 h stay 24 h over a
//! clock change.

use std::iter::Sum;
use std::ops::{Add, Neg, Sub};

/// A moment, in milliseconds since 1970-01-01T00:00:00Z.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Instant(i64);

/// Elapsed time in milliseconds; negative where something lies before.
///
/// Arithmetic stops at the ends of `i64` instead of wrapping: they lie 292 million years away, and a nonsense
/// instant must not turn a wait round.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Span(i64);

impl Instant {
    /// That many milliseconds after 1970-01-01T00:00:00Z.
    pub const fn from_millis(millis: i64) -> Self {
        Self(millis)
    }

    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub const fn millis(self) -> i64 {
        self.0
    }
}

impl Span {
    /// No time at all.
    pub const ZERO: Self = Self(0);

    /// That many milliseconds.
    pub const fn from_millis(millis: i64) -> Self {
        Self(millis)
    }

    /// That many minutes of 60 s.
    pub const fn from_minutes(minutes: i64) -> Self {
        Self(minutes.saturating_mul(60_000))
    }

    /// That many hours of 60 min.
    pub const fn from_hours(hours: i64) -> Self {
        Self(hours.saturating_mul(3_600_000))
    }

    /// Milliseconds.
    pub const fn millis(self) -> i64 {
        self.0
    }
}

impl Add<Span> for Instant {
    type Output = Self;
    fn add(self, span: Span) -> Self {
        Self(self.0.saturating_add(span.0))
    }
}

impl Sub<Span> for Instant {
    type Output = Self;
    fn sub(self, span: Span) -> Self {
        Self(self.0.saturating_sub(span.0))
    }
}

impl Sub for Instant {
    type Output = Span;
    fn sub(self, earlier: Self) -> Span {
        Span(self.0.saturating_sub(earlier.0))
    }
}

impl Add for Span {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Span {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Span {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Sum for Span {
    fn sum<I: Iterator<Item = Self>>(spans: I) -> Self {
        spans.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_24_hours_whatever_the_calendar_does() {
        let set = Instant::from_millis(1_711_800_000_000);
        assert_eq!((set + Span::from_hours(24)).millis() - set.millis(), 86_400_000);
        assert_eq!(set + Span::from_minutes(90) - set, Span::from_millis(5_400_000));
    }

    #[test]
    fn a_nonsense_instant_does_not_turn_a_wait_round() {
        let far = Instant::from_millis(i64::MAX);
        assert!(far + Span::from_hours(24) >= far);
        assert!(far - Instant::from_millis(i64::MIN) > Span::ZERO);
        assert!(-Span::from_millis(i64::MIN) > Span::ZERO);
    }
}
