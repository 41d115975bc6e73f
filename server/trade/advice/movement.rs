//! Where a surface is so long that it wants movement joints.

use super::{Advice, Exposure, Finding, Layout};
use crate::measure::{Length, Surface};

/// How far apart movement joints may be where a surface is exposed like this.
struct Spacing {
    exposure: Exposure,
    most: Length,
    source: &'static str,
}

const fn feet(count: i64) -> Length {
    Length::sixty_fourths(count * 12 * 64)
}

/// The wider end of each published range: 20 to 25 ft, 8 to 12 ft, 3 to 4.5 m.
const SPACINGS: [Spacing; 3] = [
    Spacing { exposure: Exposure::Indoors, most: feet(25), source: "NTCA Reference Manual 2024-25" },
    Spacing { exposure: Exposure::Exposed, most: feet(12), source: "NTCA Reference Manual 2024-25" },
    Spacing { exposure: Exposure::BritishWall, most: Length::mm(4500), source: "The Tile Association" },
];

/// NTCA Reference Manual 2024-25 p. 23, and for British walls The Tile Association's guide at tiles.org.uk. Only a
/// surface over 25 ft breaks a rule for certain; where it is exposed is not known here, so the closer spacings are
/// notes. A wall within them all, as in any shower, is not spoken of. Who designs the building says where the joints
/// go, not the setter (the same manual).
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let too_long = layout.job.surfaces.iter().flat_map(|surface| {
        let length = longest_way(surface);
        SPACINGS.iter().filter(move |spacing| length > spacing.most).map(move |spacing| Advice {
            rule: "movement-joints",
            source: spacing.source,
            passes: match spacing.exposure {
                Exposure::Indoors => false,
                Exposure::Exposed | Exposure::BritishWall => true,
            },
            says: Finding::MovementJoints {
                surface: surface.id.clone(),
                length,
                exposure: spacing.exposure,
                every: spacing.most,
                joints: joints(length, spacing.most),
            },
        })
    });
    too_long.collect()
}

/// The fewest joints that leave no field longer than `most`.
fn joints(length: Length, most: Length) -> i64 {
    (length.units() - 1).div_euclid(most.units())
}

fn longest_way(surface: &Surface) -> Length {
    let deepest = surface.base.iter().map(|reading| reading.drop).max().unwrap_or_default();
    let highest = surface.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
    surface.width.max(deepest + highest)
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by};
    use super::*;

    /// What is wanted of a surface so long: the joints, and whether a rule is broken.
    fn wanted(length: Length) -> Vec<(Exposure, i64, bool)> {
        let mut job = one_wall(inches(12, 0), inches(12, 0));
        job.surfaces[0].width = length;
        let said = said_by(advise, &job, inches(0, 8));
        let wanted = said.into_iter().map(|advice| match advice.says {
            Finding::MovementJoints { exposure, joints, .. } => (exposure, joints, advice.passes),
            other => panic!("{other:?}"),
        });
        wanted.collect()
    }

    /// NTCA Reference Manual 2024-25 p. 23, read: indoors no field over 25 ft, so one joint in 40 ft; in the sun no
    /// field over 12 ft, so one in 20 ft.
    #[test]
    fn a_long_surface_wants_as_many_joints_as_leave_no_field_too_long() {
        assert_eq!(wanted(feet(40))[0], (Exposure::Indoors, 1, false));
        assert_eq!(wanted(feet(20))[0], (Exposure::Exposed, 1, true));
        assert_eq!((joints(feet(25), feet(25)), joints(feet(50), feet(25))), (0, 1));
    }

    /// The Tile Association, read: joints in walls every 3 to 4.5 m, so one in 6 m.
    #[test]
    fn a_british_wall_of_6_m_wants_a_joint() {
        assert!(wanted(Length::mm(6000)).contains(&(Exposure::BritishWall, 1, true)));
        assert!(wanted(Length::mm(4500)).iter().all(|(exposure, ..)| *exposure == Exposure::Exposed));
    }

    #[test]
    fn a_shower_wall_is_not_spoken_of() {
        assert_eq!(wanted(Length::mm(1500)), []);
    }
}
