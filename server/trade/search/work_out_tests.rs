use proptest::prelude::*;

use crate::place::{Piece, Sliver};

use super::{plan, work_out};
use crate::course::sample::{job, mm, wall};
use crate::measure::{
    Band, BandHeight, Fraction, Job, LeastSize, Length, Opening, OpeningEdge, OpeningShape, Pattern, Role,
    Surface, TileId,
};

pub(in crate::search) fn running(numerator: i64, denominator: i64) -> Pattern {
    let step = Fraction::new(numerator, denominator).expect("a good step");
    Pattern::Running { step, mirror: false }
}

/// A three-wall shower with a niche, a valve and a strip.
pub(in crate::search) fn shower() -> Job {
    let strip = Band {
        tile: TileId("strip".to_owned()),
        upright: false,
        height: BandHeight::Courses(1),
        bottom_between: Some((mm(-100), mm(300))),
        joint_above: None,
        pattern: None,
    };
    let walls = [
        wall("back", 1500, &[(0, 1203), (750, 1206), (1500, 1201)]),
        wall("left", 910, &[(0, 1204), (910, 1203)]),
        wall("right", 910, &[(0, 1201), (910, 1208)]),
    ];
    let mut walls = walls.map(|wall| {
        let mut bands = wall.bands.clone();
        bands.push(strip.clone());
        bands.extend(wall.bands.clone());
        Surface { bands, pattern: running(1, 3), ..wall }
    });
    walls[0].openings.push(Opening {
        name: "niche".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(500), y: mm(-250), width: mm(400), height: mm(300) },
        clearance: mm(3),
        edge: OpeningEdge::Trim,
    });
    walls[1].openings.push(Opening {
        name: "valve".to_owned(),
        shape: OpeningShape::Circle { x: mm(455), y: mm(-150), diameter: mm(120) },
        clearance: mm(3),
        edge: OpeningEdge::Plate,
    });
    job(walls.into())
}

#[test]
fn a_shower_is_planned_whole_and_its_layout_put_back_gives_the_same_plan() {
    let mut job = shower();
    // A third-step bond leaves cuts under half a tile in some courses, whatever the start.
    job.smallest_cut = Some(LeastSize { width: mm(100), height: mm(100) });
    let option = plan(&job).expect("the shower can be planned");
    let too_small = |piece: &&Piece| matches!(piece.sliver, Some(Sliver::Narrow(_) | Sliver::Low(_)));
    assert_eq!(option.pieces.iter().find(too_small), None);
    let field = &option.cutting[&TileId("wall".to_owned())];
    assert!(field.bound() <= field.bought() && field.bought() < option.pieces.len());
    assert!(field.plan.in_setting_order >= field.plan.stock.len());
    job.layout = Some(option.layout.clone());
    assert_eq!(plan(&job).as_ref(), Ok(&option));
}

#[test]
fn a_tile_laid_both_across_and_upright_is_named() {
    let mut job = shower();
    job.surfaces[0].bands[0].upright = true;
    assert!(plan(&job).expect_err("both ways").to_string().contains("lies across in one band and upright"));
}

prop_compose! {
    pub(in crate::search) fn walls()(
        count in 1..4_usize,
        widths in prop::collection::vec(300..2600_i64, 4),
        drops in prop::collection::vec(1180..1215_i64, 16),
        step in prop::sample::select(vec![(0_i64, 1_i64), (1, 2), (1, 3), (2, 3), (1, 4)]),
        left in prop::sample::select(vec![Role::Corner, Role::Trim, Role::Bare]),
        niche in prop::option::of((0..2000_i64, -900..700_i64, 60..500_i64, 60..500_i64)),
        valve in prop::option::of((0..2000_i64, -900..700_i64, 30..160_i64)),
    ) -> Job {
        let names = ["A", "B", "C"];
        let surfaces = (0..count).map(|at| {
            let (width, drops) = (widths[at], &drops[at * 4..]);
            let mut wall = wall(names[at], width, &[(0, drops[0]), (width / 2, drops[1]), (width, drops[2])]);
            wall.edges.left = left;
            wall.pattern = if step.0 == 0 { Pattern::Straight } else { running(step.0, step.1) };
            wall.openings.extend(niche.map(|(x, y, width, height)| Opening {
                name: "niche".to_owned(),
                shape: OpeningShape::Rectangle { x: mm(x), y: mm(y), width: mm(width), height: mm(height) },
                clearance: mm(3),
                edge: OpeningEdge::Trim,
            }));
            wall.openings.extend(valve.map(|(x, y, diameter)| Opening {
                name: "valve".to_owned(),
                shape: OpeningShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) },
                clearance: Length::ZERO,
                edge: OpeningEdge::Plate,
            }));
            wall
        });
        job(surfaces.collect())
    }
}

proptest! {
    #![proptest_config(crate::cases(300))]

    /// [`work_out`] answers nothing that the checks of placing and cutting find fault with, so an answer at all
    /// is what is tested; and the answer's own layout gives it again.
    #[test]
    fn whatever_was_measured_the_plan_passes_its_checks(job in walls()) {
        let option = plan(&job).map_err(|fault| TestCaseError::fail(fault.to_string()))?;
        prop_assert_eq!(work_out(&job, option.layout.clone()), Ok(option));
    }
}
