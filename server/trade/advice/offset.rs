//! A tile whose stepped side is over 15 in is stepped by a third of it at most.

use super::{Advice, Finding, Layout};
use crate::measure::{Band, Fraction, Length, Pattern, Surface};

/// 15 in: "greater than", so that a side of exactly 15 in may still be stepped by half.
const LONG: Length = Length::sixty_fourths(15 * 64);

/// 33 % of the stepped side, so the third of a third-step bond is kept.
const MOST: (i64, i64) = (1, 3);

/// ANSI A108.02 4.3.8.2, as quoted in a CTEF tile tip, fcimag.com/articles/94659.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let advice = |passes, says| Advice { rule: "offset", source: "ANSI A108.02 4.3.8.2", passes, says };
    let over: Vec<Advice> = layout
        .job
        .surfaces
        .iter()
        .flat_map(|surface| surface.bands.iter().map(move |band| (surface, band)))
        .filter(|(surface, band)| stepped_too_far(layout, surface, band))
        .map(|(surface, band)| {
            advice(false, Finding::Offset { surface: surface.id.clone(), tile: band.tile.clone() })
        })
        .collect();
    if over.is_empty() { vec![advice(true, Finding::OffsetKept)] } else { over }
}

fn stepped_too_far(layout: &Layout<'_>, surface: &Surface, band: &Band) -> bool {
    let Some(size) = layout.job.laid_size(&band.tile, band.upright) else { return false };
    if size.width <= LONG || band.is_strip() {
        return false;
    }
    match band.pattern.as_ref().unwrap_or(&surface.pattern) {
        Pattern::Straight => false,
        Pattern::Running { step, .. } => over_a_third(*step),
        Pattern::Cycle { shifts } => {
            let next = shifts.iter().cycle().skip(1);
            shifts.iter().zip(next).any(|(one, other)| between_is_over_a_third(*one, *other))
        }
    }
}

/// A step by more than a third either way round: two thirds right is a third left.
fn over_a_third(step: Fraction) -> bool {
    between_is_over_a_third(Fraction::ZERO, step)
}

fn between_is_over_a_third(one: Fraction, other: Fraction) -> bool {
    let whole = one.denominator() * other.denominator();
    let step = other.numerator() * one.denominator() - one.numerator() * other.denominator();
    let right = step.rem_euclid(whole);
    right.min(whole - right) * MOST.1 > whole * MOST.0
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by, stepped};
    use super::*;

    #[test]
    fn a_half_step_is_over_a_third_and_two_thirds_is_a_third_the_other_way() {
        let step = |numerator, denominator| Fraction::new(numerator, denominator).unwrap();
        assert!(over_a_third(step(1, 2)));
        assert!(!over_a_third(step(1, 3)));
        assert!(!over_a_third(step(2, 3)));
        assert!(!over_a_third(step(1, 4)));
        assert!(over_a_third(step(2, 5)));
    }

    /// ANSI A108.02 4.3.8.2, read as quoted: 24 in stepped by half is warned about, 12 in is not. At exactly 15 in
    /// the limit does not hold, which is derived from "greater than 15 in".
    #[test]
    fn only_a_side_over_15_in_may_not_be_stepped_by_half() {
        let kept = |side: Length| {
            let job = stepped(one_wall(side, inches(6, 0)), 1, 2);
            said_by(advise, &job, inches(0, 8)).iter().all(|advice| advice.passes)
        };
        assert!(!kept(inches(24, 0)));
        assert!(!kept(inches(15, 1)));
        assert!(kept(inches(15, 0)));
        assert!(kept(inches(12, 0)));
    }
}
