//! The one length of the whole program.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length, a coordinate or a gap: a whole number of 1/76800 mm.
///
/// 1/64 in is 30480 of these units and 0.01 mm is 768, so inches in 64ths, hundredths of a millimetre, and
/// halves to sixths of either are whole numbers: sums never drift, and a third-step bond is exactly a third.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

/// The unit of a number typed without one, and the unit lengths are shown in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Unit {
    /// Millimetres.
    Millimetre,
    /// Inches and their fractions.
    Inch,
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// Units in one millimetre.
    pub const UNITS_PER_MM: i64 = 76_800;
    /// Units in one 64th of an inch (25.4 mm / 64).
    pub const UNITS_PER_SIXTY_FOURTH: i64 = 30_480;

    /// A length from its exact form, in units of 1/76800 mm.
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// The exact form, in units of 1/76800 mm.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Whole millimetres.
    pub const fn mm(millimetres: i64) -> Self {
        Self(millimetres * Self::UNITS_PER_MM)
    }

    /// Whole 64ths of an inch.
    pub const fn sixty_fourths(count: i64) -> Self {
        Self(count * Self::UNITS_PER_SIXTY_FOURTH)
    }

    /// The size without its direction.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half, rounded down to a whole unit.
    pub const fn half(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// What is left after taking off whole `pitch`es: always at least 0 and less than `pitch`.
    pub const fn modulo(self, pitch: Self) -> Self {
        Self(self.0.rem_euclid(pitch.0))
    }

    /// Millimetres as a float, to draw with and never to decide with.
    #[expect(
        clippy::cast_precision_loss,
        clippy::as_conversions,
        reason = "drawing only; exact below 2^53 units"
    )]
    pub fn to_mm(self) -> f64 {
        self.0 as f64 / 76_800.0
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl std::fmt::Debug for Length {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{}mm", self.to_mm())
    }
}
