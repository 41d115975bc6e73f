//! Joint widths worth trying within the range that the lead allows.
//!
//! Between the ends of a row `W` long lie `m` whole pitches, so that what the two end tiles reach into it, `x` and `x'`,
//! come to `x + x' = W - J - m (T + J)` for a tile `T` and a joint `J`. Taken from two rows of which one is shifted by
//! `q / d` of a pitch, `m` is a multiple of `1 / d`. So for every sum `S` that is worth having there is a joint for each
//! whole number `n = d m`:
//!
//! `J = (d (W - S) - n T) / (d + n)`
//!
//! Sums worth having are: both ends flush; one flush and the other just no sliver, or cut from the tile that another
//! like it comes from; both just no sliver; both from one tile. For an opening's sides on joints `S = 0`, and `W` is its
//! width. Quotients that are no whole number of units are kept with both their neighbours.

use std::collections::BTreeSet;

use crate::measure::{Job, Length, OpeningShape, Pattern, Surface};

/// The most joints worth trying: each is a search of its own.
pub const MOST_JOINTS: usize = 24;

/// Steps finer than this part of a pitch are left out.
const FINEST_STEP: i64 = 12;

/// What a joint is for, the best reason first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum For {
    /// An end of the range.
    End,
    /// Whole tiles from end to end.
    Whole,
    /// No sliver.
    NoSliver,
    /// Two ends from one tile.
    OneTile,
    /// An opening between two joints.
    Opening,
    /// A step on a rule.
    Step,
}

/// The joints worth trying within the job's range, the usual one first and then the best reasons; at most
/// [`MOST_JOINTS`]. Among equal reasons rows that are not shifted come first, then joints near the usual one. With
/// several walls each wall's own joints are there, and steps of 1/64 in as far as there is room.
pub fn joint_candidates(job: &Job, usual: Length) -> Vec<Length> {
    let (least, most) = job.joint_range;
    let mut found: BTreeSet<(For, i64, Length, Length)> = BTreeSet::new();
    let mut add = |reason: For, step: i64, joint: Length| {
        if least <= joint && joint <= most {
            found.insert((reason, step, (joint - usual).abs(), joint));
        }
    };
    add(For::End, 1, least);
    add(For::End, 1, most);
    for surface in &job.surfaces {
        for (reason, step, joint) in fits(job, surface) {
            add(reason, step, joint);
        }
    }
    let sixty_fourths = |at: i64| Length::sixty_fourths(at);
    let steps = (0..=most.units().div_euclid(Length::UNITS_PER_SIXTY_FOURTH)).map(sixty_fourths);
    for joint in steps.filter(|joint| *joint >= least).take(MOST_JOINTS) {
        add(For::Step, 1, joint);
    }
    let mut joints = vec![usual];
    for (.., joint) in found {
        if joints.len() < MOST_JOINTS && !joints.contains(&joint) {
            joints.push(joint);
        }
    }
    joints
}

/// The joints that fit one surface, with what for and by what part of a pitch rows are shifted.
fn fits(job: &Job, surface: &Surface) -> Vec<(For, i64, Length)> {
    let room = (surface.width - job.gaps.at(surface.edges.left) - job.gaps.at(surface.edges.right)).units();
    let hidden = (surface.covered.left - job.gaps.at(surface.edges.left)).max(Length::ZERO)
        + (surface.covered.right - job.gaps.at(surface.edges.right)).max(Length::ZERO);
    let (hidden, kerf) = (hidden.units(), (job.kerf + job.spare).units());
    let mut joints = Vec::new();
    for band in &surface.bands {
        let Some(tile) = job.laid_size(&band.tile, band.upright).map(|size| size.width.units()) else {
            continue;
        };
        let least = job
            .smallest_cut
            .filter(|_| !band.is_strip())
            .map_or(tile.div_euclid(2), |least| least.width.units());
        let half = (tile - kerf).div_euclid(2);
        let sums = [
            (For::Whole, 2 * tile),
            (For::NoSliver, tile + least + hidden),
            (For::NoSliver, 2 * least + hidden),
            (For::OneTile, tile - kerf),
            (For::OneTile, tile + half),
        ];
        let parts = parts_of_a_pitch(band.pattern.as_ref().unwrap_or(&surface.pattern));
        for step in BTreeSet::from([1, parts]) {
            for (reason, sum) in sums {
                let joint = |joint| (reason, step, joint);
                joints.extend(quotients(job, room - sum, step, tile).into_iter().map(joint));
            }
        }
        let widths = surface.openings.iter().filter_map(|opening| match opening.shape {
            OpeningShape::Rectangle { width, .. } => Some((width + opening.clearance * 2).units()),
            OpeningShape::Circle { .. } => None,
        });
        for width in widths {
            let joint = |joint| (For::Opening, 1, joint);
            joints.extend(quotients(job, width, 1, tile).into_iter().map(joint));
        }
    }
    joints
}

/// Every `(d rest - n T) / (d + n)` within the job's range, rounded down and up.
fn quotients(job: &Job, rest: i64, d: i64, tile: i64) -> BTreeSet<Length> {
    let (least, most) = job.joint_range;
    // d rest - n T >= J (d + n) for the least J, and <= for the greatest.
    let number = |joint: i64| (d * (rest - joint)).div_euclid((tile + joint).max(1));
    let mut joints = BTreeSet::new();
    for n in number(most.units()).max(1 - d)..=number(least.units()) {
        let (over, under) = (d * rest - n * tile, d + n);
        let down = over.div_euclid(under);
        joints.insert(Length::from_units(down));
        joints.insert(Length::from_units(down + i64::from(over.rem_euclid(under) != 0)));
    }
    joints.retain(|joint| least <= *joint && *joint <= most);
    joints
}

/// By multiples of what part of a pitch its rows are shifted: 3 for thirds.
fn parts_of_a_pitch(pattern: &Pattern) -> i64 {
    let parts = match pattern {
        Pattern::Straight => 1,
        Pattern::Running { step, .. } => step.denominator(),
        Pattern::Cycle { shifts } => shifts.iter().map(|shift| shift.denominator()).fold(1, common_multiple),
    };
    if parts <= FINEST_STEP { parts } else { 1 }
}

/// The least common multiple, or one past the finest step.
fn common_multiple(one: i64, other: i64) -> i64 {
    (1..=FINEST_STEP).find(|all| all % one == 0 && all % other == 0).unwrap_or(FINEST_STEP + 1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::course::sample::{job, mm, tenths, wall};

    #[test]
    fn six_tiles_fill_a_wall_with_the_joint_that_is_over() {
        // 1800 between the gaps, 3 tiles of 598: two joints share 6 mm.
        let mut job = job(vec![wall("A", 1806, &[(0, 1200)])]);
        job.joint_range = (mm(2), mm(4));
        let joints = joint_candidates(&job, mm(2));
        assert_eq!(joints[0], mm(2));
        assert!(joints[..4].contains(&mm(3)), "{joints:?}");
        job.surfaces[0].width = tenths(18073);
        assert!(
            joint_candidates(&job, mm(2))[..4].contains(&Length::from_units(mm(3).units() + 49_920)),
            "3.65 mm"
        );
    }

    #[test]
    fn without_a_range_there_is_the_usual_joint_alone() {
        let job = job(vec![wall("A", 1806, &[(0, 1200)])]);
        assert_eq!(joint_candidates(&job, mm(3)), [mm(3)]);
    }

    proptest! {
        #[test]
        fn a_joint_that_was_chosen_to_fill_the_wall_is_found_again(
            tile in 40_i64..700, whole in 1_i64..8, joint in 20_i64..50, least in 10_i64..20, most in 50_i64..90
        ) {
            let mut job = job(vec![wall("A", 0, &[(0, 1200)])]);
            job.tiles.insert(crate::measure::TileId("wall".to_owned()), crate::course::sample::tile(mm(tile), mm(298)));
            job.joint_range = (tenths(least), tenths(most));
            job.surfaces[0].width = mm(6) + mm(tile) * (whole + 1) + tenths(joint) * whole;
            let joints = joint_candidates(&job, tenths(least));
            prop_assert!(joints.contains(&tenths(joint)), "{:?}", joints);
            prop_assert!(joints.len() <= MOST_JOINTS);
            prop_assert!(joints.iter().all(|joint| tenths(least) <= *joint && *joint <= tenths(most)));
        }
    }
}
