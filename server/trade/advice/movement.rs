//! Where a surface is so long that it wants movement joints.

use super::{Advice, Exposure, Finding, Layout};
use crate::measure::{Length, OutlineKind, Surface};

/// How far apart movement joints may be where a surface is exposed like this.
struct Spacing {
    exposure: Exposure,
    most: Length,
    source: &'static str,
}

const fn feet(count: i64) -> Length {
    Length::sixty_fourths(count * 12 * 64)
}

/// The wider end of each published range: 20 to 25 ft, 8 to 12 ft, 3 to 4.5 m, 8 to 10 m.
const SPACINGS: [Spacing; 4] = [
    Spacing { exposure: Exposure::Indoors, most: feet(25), source: "NTCA Reference Manual 2024-25" },
    Spacing { exposure: Exposure::Exposed, most: feet(12), source: "NTCA Reference Manual 2024-25" },
    Spacing { exposure: Exposure::BritishWall, most: Length::mm(4500), source: "The Tile Association" },
    Spacing { exposure: Exposure::BritishFloor, most: Length::mm(10_000), source: "The Tile Association" },
];

/// NTCA Reference Manual 2024-25 p. 23, and for British work The Tile Association's guide at tiles.org.uk. Only a
/// surface over 25 ft breaks a rule for certain; where it is exposed is not known here, so the closer spacings are
/// notes. A wall within them all, as in any shower, is not spoken of. Who designs the building says where the joints
/// go, not the setter (the same manual).
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    let too_long = layout.job.surfaces.iter().flat_map(|surface| {
        let length = longest_way(surface);
        let wanted =
            SPACINGS.iter().filter(move |spacing| length > spacing.most && applies(spacing, surface));
        wanted.map(move |spacing| Advice {
            rule: "movement-joints",
            source: spacing.source,
            passes: match spacing.exposure {
                Exposure::Indoors => false,
                Exposure::Exposed | Exposure::BritishWall | Exposure::BritishFloor => true,
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

fn applies(spacing: &Spacing, surface: &Surface) -> bool {
    let floor = surface.outline.as_ref().is_some_and(|outline| outline.kind() == OutlineKind::Floor);
    match spacing.exposure {
        Exposure::Indoors | Exposure::Exposed => true,
        Exposure::BritishWall => !floor,
        Exposure::BritishFloor => floor,
    }
}

/// The fewest joints that leave no field longer than `most`.
fn joints(length: Length, most: Length) -> i64 {
    (length.units() - 1).div_euclid(most.units())
}

fn longest_way(surface: &Surface) -> Length {
    surface.width.max(surface.bounds().height())
}

#[cfg(test)]
mod tests {
    use super::super::sample::{inches, one_wall, said_by};
    use super::*;
    use crate::geometry::Point;
    use crate::measure::{Job, Outline, Role};

    fn wanted(length: Length) -> Vec<(Exposure, i64, bool)> {
        let mut job = one_wall(inches(12, 0), inches(12, 0));
        job.surfaces[0].width = length;
        wanted_in(&job)
    }

    /// What is wanted of a surface: the joints, and whether a rule is broken.
    fn wanted_in(job: &Job) -> Vec<(Exposure, i64, bool)> {
        let said = said_by(advise, job, inches(0, 8));
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

    /// The Tile Association, read: joints in floors every 8 to 10 m, so one in 12 m.
    #[test]
    fn a_british_floor_of_12_m_wants_a_joint_and_is_no_wall() {
        let at = |x: i64, y: i64| Point::new(Length::mm(x), Length::mm(y));
        let corners = [at(0, 0), at(12_000, 0), at(12_000, 2200), at(0, 2200)];
        let mut job = one_wall(inches(12, 0), inches(12, 0));
        job.surfaces[0].width = Length::mm(12_000);
        job.surfaces[0].outline = Outline::new(OutlineKind::Floor, &corners, &[Role::Corner; 4]).ok();
        let wanted = wanted_in(&job);
        assert!(wanted.contains(&(Exposure::BritishFloor, 1, true)), "{wanted:?}");
        assert!(wanted.iter().all(|(exposure, ..)| *exposure != Exposure::BritishWall));
    }

    #[test]
    fn a_shower_wall_is_not_spoken_of() {
        assert_eq!(wanted(Length::mm(1500)), []);
    }
}
