//! Lengths as people type them and as the tape shows them.
//!
//! Reading takes inches and fractions, feet and inches, and metric decimals with a point or a comma; it never
//! goes through a float. Showing rounds to a mark that the tape has, in the direction that the work wants.
//! Absent on purpose: yards, and sums typed into one field.

use super::{Length, Unit};

mod reading;
#[cfg(test)]
mod tests;

/// What is wrong with a typed length, in words that say what to type instead.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum LengthFault {
    /// Nothing was typed.
    #[error("Type a length, such as 603 mm or 23 3/4 in.")]
    Empty,
    /// It cannot be read as a length.
    #[error("“{typed}” is not a length. Type it like 603, 60.3 cm, 23 3/4 in or 5' 3 1/2\".")]
    NotALength {
        /// As typed.
        typed: String,
    },
    /// A comma before exactly three digits: thousands to some, a decimal comma to others.
    #[error(
        "“{typed}” can be read two ways. Leave the comma out for thousands, or type a point before decimals."
    )]
    AmbiguousComma {
        /// As typed.
        typed: String,
    },
    /// A fraction over nothing.
    #[error("“{typed}” has a fraction over 0. Type the fraction as on the tape, such as 3/4.")]
    ZeroDenominator {
        /// As typed.
        typed: String,
    },
    /// A whole number followed by a fraction of one or more.
    #[error("“{typed}” has a fraction of one or more after a whole number. Type it like 23 3/4.")]
    FractionOfOneOrMore {
        /// As typed.
        typed: String,
    },
    /// Twelve inches or more after feet.
    #[error("“{typed}” has 12 inches or more after the feet. Type the rest in inches, such as 5' 3 1/2\".")]
    InchesPastAFoot {
        /// As typed.
        typed: String,
    },
    /// Longer than any job.
    #[error("“{typed}” is longer than 1000 m. Check the number and its unit.")]
    TooLong {
        /// As typed.
        typed: String,
    },
    /// More than [`Length::MOST_TYPED`] characters.
    #[error("That is too much text for a length. Type it like 603 mm or 23 3/4 in.")]
    TooMuchText,
}

/// Which way a length is rounded to a mark of the tape.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Rounding {
    /// To the nearest mark, half away from zero.
    Nearest,
    /// Down: a piece that must fit a space.
    FitsIn,
    /// Up: a hole that something must pass.
    Clears,
}

/// What lengths are shown in, and the finest mark used.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Scale {
    /// Inches or millimetres.
    pub unit: Unit,
    /// The finest mark of an inch tape; millimetres are shown whole.
    pub inch_mark: InchMark,
}

/// The finest mark used on an inch tape.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub enum InchMark {
    /// 1/8 in.
    Eighth,
    /// 1/16 in, what most tapes have.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
}

impl Length {
    /// The longest length that is read: longer than any room, short enough that sums stay far from overflow.
    pub const MOST: Self = Self::mm(1_000_000);
    /// The longest text that is read as a length; the longest sensible one, `123 ft 11 63/64 inches`, is 22.
    pub const MOST_TYPED: usize = 40;

    /// Reads a length as typed: `23 3/4`, `23-3/4 in`, `23¾"`, `5' 3 1/2"`, `603 mm`, `60,3 cm`, `1.2 m`. A
    /// number without a unit is in `unit`. Decimals go to the nearest whole unit of 1/76800 mm, half away from
    /// zero; fractions down to 64ths of an inch are exact.
    ///
    /// # Errors
    /// Says what to type when the text is no length, can be read two ways or is longer than 1000 m.
    pub fn parse(typed: &str, unit: Unit) -> Result<Self, LengthFault> {
        reading::typed_length(typed, unit)
    }

    /// Reads the text of a JSON number in `unit`, with or without an exponent, exactly as its decimals say.
    ///
    /// # Errors
    /// When the text is no number or is longer than 1000 m.
    pub fn from_json_number(number: &str, unit: Unit) -> Result<Self, LengthFault> {
        reading::json_number(number, unit)
    }

    /// As on the tape: `5 3/8 in`, `603 mm`.
    pub fn show(self, scale: impl Into<Scale>, rounding: Rounding) -> String {
        let scale = scale.into();
        match scale.unit {
            Unit::Millimetre => self.tenths_shown(10, rounding),
            Unit::Inch => self.inches_shown(scale.inch_mark.marks_in_an_inch(), rounding),
        }
    }

    /// The mark of the tape that [`Length::show`] shows.
    #[must_use]
    pub fn on_tape(self, scale: impl Into<Scale>, rounding: Rounding) -> Self {
        let scale = scale.into();
        let step = match scale.unit {
            Unit::Millimetre => Self::UNITS_PER_MM,
            Unit::Inch => Self::UNITS_PER_SIXTY_FOURTH * 64 / scale.inch_mark.marks_in_an_inch(),
        };
        Self::from_units(rounding.marks(self, step) * step)
    }

    /// For tile, joint and kerf: to 0.1 mm or 1/64 in.
    pub fn show_fine(self, unit: Unit, rounding: Rounding) -> String {
        match unit {
            Unit::Millimetre => self.tenths_shown(1, rounding),
            Unit::Inch => self.inches_shown(64, rounding),
        }
    }

    /// The exact length in words that [`Length::parse`] reads back as the same length: `603.25 mm`.
    pub fn exact(self) -> String {
        format!("{} mm", self.to_mm_decimal())
    }

    /// Millimetres with up to six decimals, enough that reading them back gives the same length, since one unit
    /// is more than thirteen millionths of a millimetre.
    pub fn to_mm_decimal(self) -> String {
        let per_mm = i128::from(Self::UNITS_PER_MM);
        let millionths = divided_nearest(i128::from(self.units()) * 1_000_000, per_mm);
        let (whole, part) = (millionths.abs() / 1_000_000, millionths.abs() % 1_000_000);
        let sign = if millionths < 0 { "-" } else { "" };
        let decimals = format!("{part:06}");
        match decimals.trim_end_matches('0') {
            "" => format!("{sign}{whole}"),
            decimals => format!("{sign}{whole}.{decimals}"),
        }
    }

    /// As a JSON number of the unit: millimetres with up to six decimals, inches with up to eight, each enough that
    /// reading it back gives the same length.
    pub fn to_json_number_in(self, unit: Unit) -> serde_json::Number {
        match unit {
            Unit::Millimetre => self.to_json_number(),
            Unit::Inch => {
                let per_inch = i128::from(Self::UNITS_PER_SIXTY_FOURTH) * 64;
                let parts = divided_nearest(i128::from(self.units()) * 100_000_000, per_inch);
                let sign = if parts < 0 { "-" } else { "" };
                let (whole, part) = (parts.abs() / 100_000_000, parts.abs() % 100_000_000);
                let decimal = format!("{sign}{whole}.{part:08}");
                let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
                // As below: the text of a decimal number is always a JSON number.
                decimal.parse().unwrap_or_else(|_| serde_json::Number::from(0))
            }
        }
    }

    /// Millimetres as a JSON number with up to six decimals. Up to 1000 m that is 13 digits, which JSON numbers
    /// carry without loss.
    pub fn to_json_number(self) -> serde_json::Number {
        // The text of a decimal number is always a JSON number; 0 is only here because parsing returns a Result.
        self.to_mm_decimal().parse().unwrap_or_else(|_| serde_json::Number::from(0))
    }

    /// `step` is in tenths of a millimetre.
    fn tenths_shown(self, step: i64, rounding: Rounding) -> String {
        let tenths = rounding.marks(self, Self::UNITS_PER_MM / 10 * step) * step;
        let (whole, part) = (tenths.abs() / 10, tenths.abs() % 10);
        let sign = if tenths < 0 { "-" } else { "" };
        match part {
            0 => format!("{sign}{whole} mm"),
            part => format!("{sign}{whole}.{part} mm"),
        }
    }

    fn inches_shown(self, marks_in_an_inch: i64, rounding: Rounding) -> String {
        let marks = rounding.marks(self, Self::UNITS_PER_SIXTY_FOURTH * 64 / marks_in_an_inch);
        let (whole, part) = (marks.abs() / marks_in_an_inch, marks.abs() % marks_in_an_inch);
        let sign = if marks < 0 { "-" } else { "" };
        // Both are whole powers of two at most, so what they share is the lowest set bit of the marks.
        let shared = if part == 0 { 1 } else { 1 << part.trailing_zeros() };
        let (numerator, denominator) = (part / shared, marks_in_an_inch / shared);
        match (whole, part) {
            (_, 0) => format!("{sign}{whole} in"),
            (0, _) => format!("{sign}{numerator}/{denominator} in"),
            _ => format!("{sign}{whole} {numerator}/{denominator} in"),
        }
    }
}

impl Rounding {
    /// How many steps of `step` units the length is, rounded this way.
    fn marks(self, length: Length, step: i64) -> i64 {
        let units = length.units();
        match self {
            Self::FitsIn => units.div_euclid(step),
            Self::Clears => -(-units).div_euclid(step),
            Self::Nearest => {
                let away = (units.abs() + step / 2).div_euclid(step);
                if units < 0 { -away } else { away }
            }
        }
    }
}

impl InchMark {
    /// 8, 16 or 32.
    pub const fn marks_in_an_inch(self) -> i64 {
        match self {
            Self::Eighth => 8,
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
        }
    }
}

impl From<Unit> for Scale {
    fn from(unit: Unit) -> Self {
        Self { unit, inch_mark: InchMark::default() }
    }
}

/// `dividend / divisor` to the nearest whole number, half away from zero; the divisor is above 0.
pub(super) fn divided_nearest(dividend: i128, divisor: i128) -> i128 {
    (2 * dividend + dividend.signum() * divisor) / (2 * divisor)
}
