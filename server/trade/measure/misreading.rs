//! Readings that break the pattern of their neighbours: the commonest error on site is a tape read an inch or
//! some centimetres off.
//!
//! Nothing is refused here. A reading is named with what its neighbours suggest, and a person looks again. One
//! wrong reading among many that agree is found; where several are wrong there is no pattern to judge by.

use super::bare::stands_on_carrying;
use super::sound::between;
use super::{BaseReading, Length, TopReading};

/// A reading that its neighbours do not bear out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Misreading {
    /// Its place in the list.
    pub index: usize,
    /// What was read.
    pub read: Length,
    /// What its neighbours suggest.
    pub suggested: Length,
}

/// Readings agree when they lie within a quarter inch of one level or of one slope.
const AGREE: Length = Length::sixty_fourths(16);
/// A slip of 25 mm or an inch, less what the reading may itself differ from its neighbours by (6 mm).
const BROKEN: Length = Length::mm(19);
/// Neighbours looked at on each side: a floor is straight over so many readings, not over all.
const NEIGHBOURS: usize = 4;
/// Fewer readings than this do not make a level.
const LEAST_FOR_LEVEL: usize = 2;
/// Fewer than this do not make a slope: two always lie on one.
const LEAST_FOR_SLOPE: usize = 3;

/// The base readings of one wall that break the pattern of their neighbours. `others` are drops read on other
/// walls of the same line, which count as neighbours where the whole floor is level.
///
/// Steps, and stretches that do not carry (curbs, benches, tub rims), are no misreadings.
pub fn at_the_base(base: &[BaseReading], others: &[Length]) -> Vec<Misreading> {
    let points: Vec<_> = base.iter().map(|reading| (reading.x, reading.drop)).collect();
    let counts: Vec<_> = (0..base.len()).map(|at| stands_on_carrying(base, at)).collect();
    misreadings(&points, &counts, others)
}

/// The same for readings up to the ceiling or to where tile stops.
pub fn at_the_top(top: &[TopReading], others: &[Length]) -> Vec<Misreading> {
    let points: Vec<_> = top.iter().map(|reading| (reading.x, reading.rise)).collect();
    misreadings(&points, &vec![true; points.len()], others)
}

fn misreadings(points: &[(Length, Length)], counts: &[bool], others: &[Length]) -> Vec<Misreading> {
    let runs = runs_between_steps(points, counts);
    let judged =
        runs.iter().flat_map(|run| run.iter().enumerate().map(move |(place, index)| (run, place, *index)));
    judged
        .filter(|(_, _, index)| !at_a_step(points, *index))
        .filter_map(|(run, place, index)| {
            let before: Vec<_> = run[..place].iter().map(|i| points[*i]).collect();
            let after: Vec<_> = run[place + 1..].iter().map(|i| points[*i]).collect();
            let (x, read) = points[index];
            let suggested = suggested_at(x, &before, &after, others)?;
            ((read - suggested).abs() >= BROKEN).then_some(Misreading { index, read, suggested })
        })
        .collect()
}

/// The places of the readings that count, parted where two lie at one x and where others lie between.
fn runs_between_steps(points: &[(Length, Length)], counts: &[bool]) -> Vec<Vec<usize>> {
    let mut runs: Vec<Vec<usize>> = Vec::new();
    for index in (0..points.len()).filter(|index| counts[*index]) {
        match runs.last_mut() {
            Some(run)
                if run.last() == index.checked_sub(1).as_ref() && points[index - 1].0 < points[index].0 =>
            {
                run.push(index);
            }
            _ => runs.push(vec![index]),
        }
    }
    runs
}

fn at_a_step(points: &[(Length, Length)], index: usize) -> bool {
    let x = points[index].0;
    points.iter().filter(|point| point.0 == x).count() > 1
}

/// What the other readings say about `x`, where they agree among themselves.
fn suggested_at(
    x: Length,
    before: &[(Length, Length)],
    after: &[(Length, Length)],
    others: &[Length],
) -> Option<Length> {
    let level = level_of(before.iter().chain(after).map(|point| point.1).chain(others.iter().copied()));
    let pattern = level.or_else(|| {
        let near = before.iter().rev().take(NEIGHBOURS).chain(after.iter().take(NEIGHBOURS));
        slope_at(x, &near.copied().collect::<Vec<_>>())
    })?;
    match (before.last(), after.first()) {
        (Some(before), Some(after)) => Some(between(*before, *after, x)),
        _ => Some(pattern),
    }
}

/// The middle of the readings, where there are enough and all agree on one level.
fn level_of(readings: impl Iterator<Item = Length> + Clone) -> Option<Length> {
    let (least, most) = (readings.clone().min()?, readings.clone().max()?);
    (readings.count() >= LEAST_FOR_LEVEL && most - least <= AGREE).then(|| (least + most).half())
}

/// The height at `x` of the slope that all the readings agree on, unless `x` lies too far beside them.
fn slope_at(x: Length, near: &[(Length, Length)]) -> Option<Length> {
    if near.len() < LEAST_FOR_SLOPE {
        return None;
    }
    let (first, last) = (near.iter().map(|p| p.0).min()?, near.iter().map(|p| p.0).max()?);
    let beside = (first - x).max(x - last).max(Length::ZERO);
    if beside * 2 > last - first {
        return None;
    }
    // The narrowest strip that holds points runs along two of them.
    let pairs = (0..near.len()).flat_map(|i| (i + 1..near.len()).map(move |j| (near[i], near[j])));
    let strips = pairs.map(|(a, b)| {
        let over = |point: &(Length, Length)| point.1 - between(a, b, point.0);
        let least = near.iter().map(over).min().unwrap_or_default();
        let most = near.iter().map(over).max().unwrap_or_default();
        (most - least, between(a, b, x) + (least + most).half())
    });
    strips.min_by_key(|(spread, _)| *spread).filter(|(spread, _)| *spread <= AGREE).map(|(_, height)| height)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn base(drops: &[i64]) -> Vec<BaseReading> {
        let reading = |(n, drop): (i64, &i64)| reading(300 * n, *drop, true);
        (0..).zip(drops).map(reading).collect()
    }

    fn reading(x: i64, drop: i64, carries: bool) -> BaseReading {
        BaseReading { x: Length::mm(x), drop: Length::mm(drop), carries }
    }

    fn found(base: &[BaseReading]) -> Vec<(usize, Length)> {
        at_the_base(base, &[]).into_iter().map(|found| (found.index, found.suggested)).collect()
    }

    #[test]
    fn a_tape_read_an_inch_off_is_named_with_what_its_neighbours_suggest() {
        assert_eq!(found(&base(&[1200, 1202, 1176, 1204, 1201])), [(2, Length::mm(1203))]);
        assert_eq!(found(&base(&[1228, 1202, 1200, 1204])), [(0, Length::mm(1202))]);
        assert_eq!(found(&base(&[1200, 1202, 1198, 1204, 1201])), []);
    }

    #[test]
    fn a_floor_that_slopes_is_a_pattern_too() {
        assert_eq!(found(&base(&[1200, 1190, 1180, 1170, 1160])), []);
        assert_eq!(found(&base(&[1200, 1190, 1155, 1170, 1160])), [(2, Length::mm(1180))]);
        assert_eq!(found(&base(&[1200, 1190, 1180, 1170, 1135])), [(4, Length::mm(1160))]);
    }

    #[test]
    fn where_the_others_do_not_agree_nothing_is_said() {
        assert_eq!(found(&base(&[1200, 1212, 1176, 1188, 1201])), []);
        assert_eq!(found(&base(&[1200, 1226])), []);
        assert_eq!(found(&base(&[1200, 1200, 1226, 1226])), []);
    }

    #[test]
    fn other_walls_of_the_line_tell_which_of_two_readings_is_wrong() {
        let others = [Length::mm(1199), Length::mm(1202), Length::mm(1201)];
        let two = base(&[1200, 1226]);
        let found: Vec<_> = at_the_base(&two, &others).into_iter().map(|found| found.index).collect();
        assert_eq!(found, [1]);
        assert_eq!(
            at_the_base(&two, &[Length::mm(1226)]),
            [Misreading { index: 0, read: Length::mm(1200), suggested: Length::mm(1226) }]
        );
    }

    #[test]
    fn steps_and_curbs_are_no_misreadings() {
        let step = [
            reading(0, 1200, true),
            reading(300, 1200, true),
            reading(600, 1200, true),
            reading(600, 1170, true),
            reading(900, 1170, true),
        ];
        assert_eq!(found(&step), []);
        let curb = [
            reading(0, 1200, true),
            reading(800, 1201, true),
            reading(800, 1100, false),
            reading(900, 1100, false),
            reading(900, 1200, true),
            reading(1500, 1202, true),
        ];
        assert_eq!(found(&curb), []);
        let no_curb = [
            reading(0, 1200, true),
            reading(800, 1201, true),
            reading(900, 1100, true),
            reading(1500, 1202, true),
        ];
        assert_eq!(found(&no_curb).len(), 1);
    }

    #[test]
    fn a_ceiling_is_read_the_same_way() {
        let top: Vec<_> = [(0, 1000), (500, 975), (900, 1001)]
            .into_iter()
            .map(|(x, rise)| TopReading { x: Length::mm(x), rise: Length::mm(rise) })
            .collect();
        assert_eq!(at_the_top(&top, &[]).len(), 1);
        assert_eq!(at_the_top(&top[..1], &[]), []);
    }

    proptest! {
        #[test]
        fn one_slip_of_an_inch_is_always_found(
            scatter in prop::collection::vec(0..6_i64, 4..12), slope in -40..40_i64, at in any::<prop::sample::Index>(), up in any::<bool>(),
        ) {
            let at = at.index(scatter.len() - 2) + 1;
            let true_drops: Vec<_> = (0..).zip(&scatter).map(|(n, more)| 1200 + slope * n + more).collect();
            prop_assert_eq!(found(&base(&true_drops)), []);
            let mut slipped = base(&true_drops);
            slipped[at].drop += Length::sixty_fourths(if up { 64 } else { -64 });
            let found: Vec<_> = at_the_base(&slipped, &[]).into_iter().map(|found| found.index).collect();
            prop_assert!(found.contains(&at), "{slipped:?}");
        }
    }
}
