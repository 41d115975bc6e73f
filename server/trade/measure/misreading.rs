//! Readings that break the pattern of their neighbours: the commonest error on site is a tape read an inch or
//! some centimetres off.
//!
//! Nothing is refused here. A reading is named with what its neighbours suggest, and a person looks again. One
//! wrong reading among many that agree is found, however little it is off; where there are too few for a pattern,
//! or they do not agree, one that is off by more than a floor falls is still found.

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
    /// What the others suggest.
    pub suggested: Length,
    /// Who they are.
    pub against: Against,
}

/// What a reading is held against.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Against {
    /// The readings beside it on its wall.
    Neighbours,
    /// The one before it: either of the two may be the wrong one.
    TheOneBefore,
    /// The readings of the other walls.
    OtherWalls,
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

/// No floor falls by more than 1 in so much: a shower floor falls 1/2 in to the foot at most (NTCA, quoted in
/// TileLetter).
const STEEPEST_FALL: i64 = 24;
/// Farther than this from every reading of the other walls is no fall of a floor: so much is 1/2 in to the foot over a
/// room of eight feet (common practice).
const FAR: Length = Length::mm(100);

/// The base readings of one wall that the others do not bear out. `others` are drops read on other walls of the same
/// line, which count as neighbours where the whole floor is level.
///
/// Steps, and stretches that do not carry (curbs, benches, tub rims), are no misreadings.
pub fn at_the_base(base: &[BaseReading], others: &[Length]) -> Vec<Misreading> {
    let points: Vec<_> = base.iter().map(|reading| (reading.x, reading.drop)).collect();
    let counts: Vec<_> = (0..base.len()).map(|at| stands_on_carrying(base, at)).collect();
    let mut found = misreadings(&points, &counts, others);
    let runs = runs_between_steps(&points, &counts);
    add_new(&mut found, runs.iter().flat_map(|run| beyond_a_fall(&points, run)));
    if !(0..points.len()).any(|index| at_a_step(&points, index)) {
        add_new(
            &mut found,
            runs.iter().flatten().filter_map(|&index| far_from(others, index, points[index].1)),
        );
    }
    let open = runs.iter().flat_map(|run| unexplained(&points, run, &found)).collect::<Vec<_>>();
    add_new(&mut found, open.into_iter());
    found.sort_by_key(|misreading| misreading.index);
    found
}

fn add_new(found: &mut Vec<Misreading>, more: impl Iterator<Item = Misreading>) {
    for one in more {
        if found.iter().all(|other| other.index != one.index) {
            found.push(one);
        }
    }
}

/// Whether two readings lie farther apart than a floor falls between them, by a slip that is worth a word.
fn too_steep(one: (Length, Length), other: (Length, Length)) -> bool {
    let run = (one.0 - other.0).abs();
    (one.1 - other.1).abs() - Length::from_units(run.units() / STEEPEST_FALL) > BROKEN
}

/// Readings of a stretch that lie off both readings beside them to the same side, and at its ends off the one, where
/// those beside are borne out themselves.
fn beyond_a_fall(points: &[(Length, Length)], run: &[usize]) -> Vec<Misreading> {
    let at = |place: usize| run.get(place).map(|index| points[*index]);
    let judged = (0..run.len()).filter_map(|place| {
        let (here, before, after) = (at(place)?, place.checked_sub(1).and_then(at), at(place + 1));
        let off = |beside: (Length, Length)| too_steep(here, beside);
        let suggested = match (before, after) {
            (Some(before), Some(after)) => {
                let one_side = (here.1 > before.1) == (here.1 > after.1);
                let is_off = one_side && off(before) && off(after) && !too_steep(before, after);
                is_off.then(|| between(before, after, here.0))
            }
            (Some(beside), None) => off_the_end(here, beside, place.checked_sub(2).and_then(at)?),
            (None, Some(beside)) => off_the_end(here, beside, at(place + 2)?),
            (None, None) => None,
        };
        Some(Misreading {
            index: run[place],
            read: here.1,
            suggested: suggested?,
            against: Against::Neighbours,
        })
    });
    judged.collect()
}

/// What the one beside says of a reading at the end of a stretch, where the two are too far apart, the next one bears
/// out the one beside, and the reading does not go on as those two do either.
fn off_the_end(here: (Length, Length), beside: (Length, Length), next: (Length, Length)) -> Option<Length> {
    let goes_on = (here.1 - between(beside, next, here.0)).abs() < BROKEN;
    (too_steep(here, beside) && !too_steep(beside, next) && !goes_on).then_some(beside.1)
}

/// The reading where every one of the other walls lies far from it.
fn far_from(others: &[Length], index: usize, read: Length) -> Option<Misreading> {
    let suggested = others.iter().copied().min_by_key(|other| (*other - read).abs())?;
    let far = (suggested - read).abs() > FAR;
    far.then_some(Misreading { index, read, suggested, against: Against::OtherWalls })
}

/// Readings too far from the one before them, where neither of the two was found out. More than three may lie on a
/// slope of their own.
fn unexplained(points: &[(Length, Length)], run: &[usize], found: &[Misreading]) -> Vec<Misreading> {
    if run.len() > LEAST_FOR_SLOPE {
        return Vec::new();
    }
    let is_found = |index: usize| found.iter().any(|misreading| misreading.index == index);
    let steep = run.windows(2).filter_map(|pair| match *pair {
        [before, index] if !is_found(before) && !is_found(index) => {
            let (suggested, read) = (points[before].1, points[index].1);
            let open = Misreading { index, read, suggested, against: Against::TheOneBefore };
            too_steep(points[before], points[index]).then_some(open)
        }
        _ => None,
    });
    steep.collect()
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
            ((read - suggested).abs() >= BROKEN).then_some(Misreading {
                index,
                read,
                suggested,
                against: Against::Neighbours,
            })
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
            [Misreading {
                index: 0,
                read: Length::mm(1200),
                suggested: Length::mm(1226),
                against: Against::Neighbours
            }]
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

    fn inches(readings: &[(i64, i64)]) -> Vec<BaseReading> {
        let reading = |&(x, sixteenths)| BaseReading {
            x: Length::sixty_fourths(64 * x),
            drop: Length::sixty_fourths(4 * sixteenths),
            carries: true,
        };
        readings.iter().map(reading).collect()
    }

    fn held(base: &[BaseReading], others: &[Length]) -> Vec<(usize, Against)> {
        at_the_base(base, others).into_iter().map(|found| (found.index, found.against)).collect()
    }

    #[test]
    fn among_three_that_do_not_quite_agree_a_slip_is_named_all_the_same() {
        // 47 7/8, 46 and 48 1/4; then the ones, and then the minus that slipped in.
        for slip in [46 * 16, 4 * 16 + 14, -(4 * 16 + 14)] {
            let three = inches(&[(0, 47 * 16 + 14), (18, slip), (36, 48 * 16 + 4)]);
            assert_eq!(held(&three, &[]), [(1, Against::Neighbours)], "{slip}");
        }
        let at_the_end = inches(&[(0, 47 * 16 + 14), (18, 48 * 16 + 4), (36, 4 * 16 + 8)]);
        assert_eq!(held(&at_the_end, &[]), [(2, Against::Neighbours)]);
    }

    #[test]
    fn of_two_readings_nobody_knows_which_one_unless_the_other_walls_tell() {
        let two = inches(&[(0, 48 * 16), (36, 4 * 16 + 14)]);
        assert_eq!(held(&two, &[]), [(1, Against::TheOneBefore)]);
        let others = [Length::sixty_fourths(64 * 48), Length::sixty_fourths(64 * 49)];
        assert_eq!(held(&two, &others), [(1, Against::OtherWalls)]);
    }

    #[test]
    fn a_wall_that_is_feet_off_all_other_walls_is_named() {
        let feet_off = inches(&[(0, 36 * 16), (60, 36 * 16 + 2)]);
        let others = [Length::sixty_fourths(64 * 48), Length::sixty_fourths(64 * 48 + 8)];
        assert_eq!(held(&feet_off, &others), [(0, Against::OtherWalls), (1, Against::OtherWalls)]);
        assert_eq!(held(&feet_off, &[]), []);
        // Beside a tub the floor lies lower, and the step was measured.
        let beside = [(0, 36 * 16), (30, 36 * 16), (30, 50 * 16), (36, 50 * 16)];
        assert_eq!(held(&inches(&beside), &others), []);
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
        fn a_floor_that_falls_like_a_shower_floor_is_no_slip_and_a_dropped_digit_always_is(
            scatter in prop::collection::vec(0..6_i64, 2..6), slope in -12..=12_i64, at in any::<prop::sample::Index>(),
        ) {
            // Readings 300 mm apart: 12 mm is just under 1/2 in to the foot.
            let drops: Vec<_> = (0..).zip(&scatter).map(|(n, more)| 1200 + slope * n + more).collect();
            prop_assert_eq!(found(&base(&drops)), []);
            let at = at.index(drops.len());
            let mut slipped = base(&drops);
            slipped[at].drop = Length::mm(drops[at] / 10);
            let found: Vec<_> = held(&slipped, &[]).into_iter().map(|(index, _)| index).collect();
            if drops.len() == 2 {
                prop_assert_eq!(found, [1]);
            } else {
                prop_assert_eq!(found, [at]);
            }
        }

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
