//! How much longer everything takes in the cold: the published field rule that the gate goes by, in whole numbers
//! rounded so that no wait comes out shorter, and the equivalent age of concrete to set beside it.

use super::{Span, Temperature};

/// Waiting time doubles for each `step` below `reference`; above it never shrinks.
///
/// As published, for each 8 °C below 21 °C: splash.online/articles/winter-tiling-tips,
/// completehome.com.au/outdoors/tips-for-hot-weather-tiling.html. A second source has 10 °C (18 °F below 70 °F,
/// tile-magazine.com/articles/84555), which waits less; so the first is the one taken. Both halve the time above
/// the reference too: that half is left out, and no wait is ever shorter than the product's own.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ColdRule {
    reference: Temperature,
    /// Tenths of a degree.
    step: u32,
}

/// How many times as long something takes, never less than once: in units of 2^-60, rounded up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Slowdown(u128);

/// A part of a wait, in units of 2^-16 ms: fine enough that thousands of stretches lose no millisecond.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Share(u128);

/// So often doubled, the least part of a [`Share`] takes as long as [`LONGEST`]: colder makes no difference, and this
/// 128 bits hold.
const MOST_DOUBLINGS: u64 = 60;
/// 2^(1/2), 2^(1/4) and so on, each rounded up: one for each binary digit of an exponent.
const ROOTS: [u128; 32] = roots();
const SCALE: u32 = 60;
const SHARE: u32 = 16;
/// Longer than any job: 500 years, so that no product below leaves 128 bits.
const LONGEST: i64 = 1 << 44;

impl Default for ColdRule {
    fn default() -> Self {
        Self { reference: Temperature::celsius(21), step: 80 }
    }
}

impl ColdRule {
    /// Doubling for each so many tenths of a degree below a reference; `None` unless that is at least one degree,
    /// with which even the coldest surface is within reach of the arithmetic.
    pub fn new(reference: Temperature, step_tenths: u32) -> Option<Self> {
        (10..=1000).contains(&step_tenths).then_some(Self { reference, step: step_tenths })
    }

    /// Below this it takes longer.
    pub fn reference(&self) -> Temperature {
        self.reference
    }

    /// How many times as long it takes at that temperature.
    ///
    /// 2^(k / step), k tenths below the reference. The whole doublings are a shift. The rest is a product of roots,
    /// 2^(1/2), 2^(1/4) and so on, one for each binary digit of its exponent, which is rounded up to 32 digits.
    pub fn slowdown(&self, at: Temperature) -> Slowdown {
        let below = u64::try_from(self.reference.tenths() - at.tenths()).unwrap_or(0);
        let step = u64::from(self.step);
        let (doublings, rest) = (below / step, below % step);
        if doublings >= MOST_DOUBLINGS {
            return Slowdown(1 << (u64::from(SCALE) + MOST_DOUBLINGS));
        }
        let exponent = (rest << 32).div_ceil(step);
        let mut product = 1 << SCALE;
        for (digit, root) in (0..32).rev().zip(ROOTS) {
            if exponent >> digit & 1 == 1 {
                product = shift_up(product * root, SCALE);
            }
        }
        Slowdown(product << doublings)
    }

    /// How long that takes there.
    pub fn stretched(&self, span: Span, at: Temperature) -> Span {
        self.slowdown(at).stretched(span)
    }

    /// What is left of a window that closes, in the heat: halved for each step above the reference, as the published
    /// rules have it, and rounded down. Never longer in the cold.
    pub fn shortened(&self, span: Span, at: Temperature) -> Span {
        let above = at.tenths() - self.reference.tenths();
        if above <= 0 {
            return span;
        }
        let mirrored = Temperature::from_tenths(self.reference.tenths() - above);
        let share = self.slowdown(mirrored.unwrap_or(Temperature::COLDEST)).share(span);
        Span::from_millis(i64::try_from(share.0 >> SHARE).unwrap_or(i64::MAX)).min(span)
    }
}

impl Slowdown {
    /// Not at all.
    pub const NONE: Self = Self(1 << SCALE);

    /// As much as `longer` is than `span`.
    pub(super) fn between(span: Span, longer: Span) -> Self {
        let (span, longer) = (bounded(span), bounded(longer));
        if span == 0 || longer <= span { Self::NONE } else { Self((longer << SCALE).div_ceil(span)) }
    }

    /// How long something takes that takes `span` without.
    pub fn stretched(self, span: Span) -> Span {
        self.time_for(Share::of(span))
    }

    /// What part of a wait surely passes in `span`.
    pub(super) fn share(self, span: Span) -> Share {
        Share((bounded(span) << (SCALE + SHARE)) / self.0)
    }

    /// How long that part of a wait takes at most.
    pub(super) fn time_for(self, share: Share) -> Span {
        let millis = shift_up(share.0.saturating_mul(self.0), SCALE + SHARE);
        Span::from_millis(i64::try_from(millis).unwrap_or(i64::MAX))
    }
}

impl Share {
    pub(super) fn of(span: Span) -> Self {
        Self(bounded(span) << SHARE)
    }

    /// What is left when `other` is taken off, or `None` where nothing is.
    pub(super) fn less(self, other: Self) -> Option<Self> {
        self.0.checked_sub(other.0).filter(|left| *left > 0).map(Self)
    }
}

/// The equivalent age at 20 °C of what spent so long at each temperature, in hours: how old concrete is in its
/// hardening, by the sum of exp(13.65 - 4000 / (273 + T)) dt.
///
/// fib Model Code 2020 eq. 14.6-80, ENV 1992-1-1 eq. A1.10, for 0 to 80 °C; below 0 °C nothing is counted here. For
/// information only: it was made for concrete and asks for less patience than the field rule, so no gate goes by it.
pub fn equivalent_age(spent: impl IntoIterator<Item = (Span, Temperature)>) -> f64 {
    spent.into_iter().map(|(span, at)| hours(span) * maturity_rate(at)).sum()
}

/// How fast concrete hardens at that temperature, where 20 °C is 1 to within two parts in a thousand.
pub fn maturity_rate(at: Temperature) -> f64 {
    if at < Temperature::FREEZING {
        return 0.0;
    }
    (13.65 - 4000.0 / (273.0 + f64::from(at.tenths()) / 10.0)).exp()
}

/// A wait in hours; those of a job are far below what a float holds to the millisecond.
fn hours(span: Span) -> f64 {
    let minutes = span.millis().div_euclid(60_000);
    let rest = span.millis().rem_euclid(60_000);
    let float = |whole: i64| f64::from(i32::try_from(whole).unwrap_or(i32::MAX));
    (float(minutes) + float(rest) / 60_000.0) / 60.0
}

fn bounded(span: Span) -> u128 {
    u128::try_from(span.millis().clamp(0, LONGEST)).unwrap_or(0)
}

fn shift_up(value: u128, by: u32) -> u128 {
    let down = value >> by;
    if down << by == value { down } else { down + 1 }
}

const fn roots() -> [u128; 32] {
    let mut roots = [0; 32];
    let (mut root, mut rest): (u128, &mut [u128]) = (2 << SCALE, &mut roots);
    while let Some((first, others)) = rest.split_first_mut() {
        root = root_up(root << SCALE);
        *first = root;
        rest = others;
    }
    roots
}

const fn root_up(value: u128) -> u128 {
    let root = value.isqrt();
    if root * root == value { root } else { root + 1 }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn at(tenths: i32) -> Temperature {
        Temperature::from_tenths(tenths).unwrap()
    }

    fn hours_at(rule: &ColdRule, hours: i64, tenths: i32) -> f64 {
        super::hours(rule.stretched(Span::from_hours(hours), at(tenths)))
    }

    /// T5: 24 h of the bag at 10 °C, for each 8 °C below 21 °C twice as long, are 24 x 2.59 = 62 h
    /// (splash.online/articles/winter-tiling-tips).
    #[test]
    fn a_day_of_the_bag_is_62_hours_at_10_degrees() {
        let hours = hours_at(&ColdRule::default(), 24, 100);
        assert!((hours - 24.0 * 2.594).abs() < 0.01, "{hours}");
        assert!((hours - 62.0).abs() < 0.5, "{hours}");
    }

    /// T6: 24 h at 52 °F, for each 18 °F below 70 °F twice as long, are 48 h (tile-magazine.com/articles/84555).
    #[test]
    fn a_day_of_the_bag_is_two_at_52_fahrenheit_by_the_other_source() {
        let fahrenheit = |typed| Temperature::read(typed, crate::cure::Scale::Fahrenheit).unwrap();
        let rule = ColdRule::new(fahrenheit("70"), 100).unwrap();
        assert_eq!(rule.stretched(Span::from_hours(24), fahrenheit("52")), Span::from_hours(48));
    }

    /// T3 and T4, and the other rows of their table: fib Model Code 2020 eq. 14.6-80.
    #[test]
    fn concrete_hardens_as_fast_as_the_code_says() {
        let rates = [(50, 0.478), (150, 0.788), (300, 1.566)];
        for (tenths, expected) in rates {
            assert!((maturity_rate(at(tenths)) - expected).abs() < 0.0005, "{tenths}");
        }
        assert!((maturity_rate(at(100)) - 0.6161).abs() < 0.00005);
        assert!((maturity_rate(at(200)) - 0.9981).abs() < 0.00005);
        assert!(maturity_rate(at(-1)).abs() < f64::EPSILON);
    }

    /// 24 h at 10 °C by concrete's own curve: 39 h, far less than the field rule's 62.
    #[test]
    fn equivalent_age_is_laxer_than_the_gate() {
        let hour = (Span::from_hours(1), at(100));
        let age = |hours| equivalent_age(std::iter::repeat_n(hour, hours));
        assert!(age(38) < 24.0 && age(39) > 24.0);
    }

    #[test]
    fn whole_steps_are_exact_and_warmth_shortens_nothing() {
        let rule = ColdRule::default();
        assert_eq!(rule.stretched(Span::from_hours(24), at(130)), Span::from_hours(48));
        assert_eq!(rule.stretched(Span::from_hours(24), at(50)), Span::from_hours(96));
        assert_eq!(rule.stretched(Span::from_hours(24), at(210)), Span::from_hours(24));
        assert_eq!(rule.stretched(Span::from_hours(24), at(350)), Span::from_hours(24));
    }

    #[test]
    fn a_rule_of_no_step_is_none() {
        assert_eq!(ColdRule::new(at(210), 0), None);
        assert_eq!(ColdRule::new(at(210), 9), None);
        assert!(ColdRule::new(at(210), 80).is_some_and(|rule| rule == ColdRule::default()));
    }

    proptest! {
        /// Never below the true power, and above it by less than a part in a thousand million.
        #[test]
        fn rounded_up_and_no_further(tenths in -400i32..=600, reference in 0i32..=600, step in 10u32..=200) {
            let rule = ColdRule::new(at(reference), step).unwrap();
            let doublings = f64::from((reference - tenths).max(0)) / f64::from(step);
            let exact = doublings.min(60.0).exp2();
            #[expect(clippy::cast_precision_loss, clippy::as_conversions, reason = "held against a float")]
            let found = rule.slowdown(at(tenths)).0 as f64 / SCALE_OF_ONE;
            prop_assert!(found >= exact * (1.0 - 1e-14) && found < exact * (1.0 + 1e-9), "{found} {exact}");
        }

        #[test]
        fn colder_never_takes_less(
            tenths in -399i32..=600,
            step in 10u32..=200,
            millis in 0i64..8_000_000_000,
        ) {
            let (rule, span) = (ColdRule::new(at(210), step).unwrap(), Span::from_millis(millis));
            let (here, colder) = (rule.slowdown(at(tenths)), rule.slowdown(at(tenths - 1)));
            prop_assert!(colder >= here && here >= Slowdown::NONE);
            prop_assert!(here.stretched(span) >= span && here.share(span) <= Share::of(span));
            // What surely passes in the time that a wait takes is the wait, whatever was rounded on the way.
            let longer = here.stretched(span);
            let passed = here.share(longer);
            prop_assert!(longer.millis() > LONGEST || Share::of(span).less(passed).is_none());
        }
    }

    const SCALE_OF_ONE: f64 = 1_152_921_504_606_846_976.0;
}
