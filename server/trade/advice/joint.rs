//! How narrow a joint may be.

use super::{Advice, Finding, JointNeed, Layout, longest_side, steps};
use crate::measure::{Length, Tile};

/// Never below 1/16 in.
const NEVER_BELOW: Length = Length::sixty_fourths(4);

/// At least three times the actual variation in facial dimensions.
const TIMES_VARIATION: i64 = 3;

/// In offset patterns tile with a side greater than 15 in wants this joint on average.
const LONG: Length = Length::sixty_fourths(15 * 64);
const STEPPED_RECTIFIED: Length = Length::sixty_fourths(8);
const STEPPED_CALIBRATED: Length = Length::sixty_fourths(12);

/// ANSI A108.02 4.3.8, as quoted at tileletter.com/what-is-minimum-grout-joint/; for offset patterns with the bow of
/// the longest edge added, 4.3.8.1, as quoted at
/// ctasc.com/expert-answers/what-is-the-allowable-tolerance-for-tile-grout-head-joint-widths/. Tile that is not
/// rectified is taken as calibrated. "15 in" is nominal there; here it is held against the measured side.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let by_variation = layout.tiles().into_values().filter_map(|tile| tile.size_variation);
    let by_variation = by_variation.map(|differ| (differ * TIMES_VARIATION, JointNeed::Variation(differ)));
    let long = layout.laid().filter(|(surface, band, tile)| {
        longest_side(tile) > LONG && !band.is_strip() && steps(surface, band)
    });
    let stepped = long.filter_map(|(_, _, tile)| for_stepped(tile));
    let needs = by_variation.chain(stepped);
    let (least, because) =
        needs.fold((NEVER_BELOW, JointNeed::Always), |most, need| if need.0 > most.0 { need } else { most });
    vec![Advice {
        rule: "joint",
        source: match because {
            JointNeed::Always | JointNeed::Variation(_) => "ANSI A108.02 4.3.8",
            JointNeed::Stepped { .. } => "ANSI A108.02 4.3.8.1",
        },
        passes: layout.joint >= least,
        says: Finding::Joint { joint: layout.joint, least, because },
    }]
}

/// Left out where nobody said whether the edges are rectified. A bow that nobody measured adds nothing, so that what
/// is asked is the least in any case.
fn for_stepped(tile: &Tile) -> Option<(Length, JointNeed)> {
    let rectified = tile.rectified?;
    let least = if rectified { STEPPED_RECTIFIED } else { STEPPED_CALIBRATED };
    let bow = tile.warpage;
    Some((least + bow.unwrap_or_default(), JointNeed::Stepped { rectified, bow }))
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by, stepped, the_tile};
    use super::*;
    use crate::measure::Job;

    fn least(job: &Job) -> Length {
        match said_by(advise, job, inches(1, 0)).as_slice() {
            [Advice { says: Finding::Joint { least, .. }, .. }] => *least,
            other => panic!("{other:?}"),
        }
    }

    fn with(mut job: Job, change: impl Fn(&mut Tile)) -> Job {
        job.tiles.entry(the_tile()).and_modify(change);
        job
    }

    /// ANSI A108.02 4.3.8: 1/16 in variation wants a 3/16 in joint. Read as quoted.
    #[test]
    fn tiles_that_differ_by_a_16th_want_three_16ths() {
        let job =
            with(one_wall(inches(12, 0), inches(12, 0)), |tile| tile.size_variation = Some(inches(0, 4)));
        assert_eq!(least(&job), inches(0, 12));
        assert!(!said_by(advise, &job, inches(0, 11))[0].passes);
        assert!(said_by(advise, &job, inches(0, 12))[0].passes);
    }

    /// ANSI A108.02 4.3.8.1: rectified 12 x 24 in in an offset pattern, bowed 1/32 in, 5/32 in. Read, with this
    /// example, at ctasc.com.
    #[test]
    fn stepped_rectified_tile_wants_an_8th_and_its_bow() {
        let job = stepped(one_wall(inches(24, 0), inches(12, 0)), 1, 3);
        let rectified = with(job, |tile| tile.rectified = Some(true));
        assert_eq!(least(&rectified), inches(0, 8), "the bow is not known");
        let bowed = with(rectified, |tile| tile.warpage = Some(inches(0, 2)));
        assert_eq!(least(&bowed), inches(0, 10));
    }

    /// ANSI A108.02 as quoted at fcimag.com/articles/96103: calibrated, a side over 15 in, offset: 3/16 in. Read.
    #[test]
    fn stepped_calibrated_tile_wants_three_16ths() {
        let long = with(one_wall(inches(15, 1), inches(8, 0)), |tile| tile.rectified = Some(false));
        assert_eq!(least(&stepped(long.clone(), 1, 3)), inches(0, 12));
        assert_eq!(least(&stepped(long.clone(), 3, 3)), inches(0, 4), "a whole step is none");
        assert_eq!(least(&long), inches(0, 4), "straight");
        let fifteen = with(one_wall(inches(15, 0), inches(8, 0)), |tile| tile.rectified = Some(false));
        assert_eq!(
            least(&stepped(fifteen, 1, 2)),
            inches(0, 4),
            "greater than 15 in, derived from the wording"
        );
    }

    #[test]
    fn where_nobody_said_how_the_edges_are_made_only_the_common_least_is_asked() {
        let job = stepped(one_wall(inches(24, 0), inches(12, 0)), 1, 3);
        assert_eq!(least(&job), inches(0, 4));
    }

    /// ANSI A108.02 4.3.8: never below 1/16 in. Read as quoted.
    #[test]
    fn no_joint_is_under_a_16th() {
        let job = with(one_wall(inches(4, 0), inches(4, 0)), |tile| tile.size_variation = Some(inches(0, 1)));
        assert_eq!(least(&job), inches(0, 4));
        assert!(!said_by(advise, &job, inches(0, 3))[0].passes);
    }
}
