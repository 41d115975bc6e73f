use proptest::prelude::*;

use super::*;
use crate::measure::{BandHeight, OpeningEdge, TileId};

fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn reading(x: i64, drop: i64, carries: bool) -> BaseReading {
    BaseReading { x: mm(x), drop: mm(drop), carries }
}

fn open_end() -> End {
    End { role: Role::Bare, meets: None }
}

fn corner(neighbour: &str, set_first: SetFirst, build_up: i64) -> End {
    let neighbour = SurfaceId::new(neighbour).unwrap();
    End { role: Role::Corner, meets: Some(Meeting { neighbour, set_first, build_up: mm(build_up) }) }
}

/// A side wall of 912 mm between an open end at the left and a back wall at the right.
fn side_wall() -> BareWall {
    BareWall {
        id: SurfaceId::new("A").unwrap(),
        name: "left wall".to_owned(),
        line: LineId::default(),
        width: mm(912),
        base: vec![reading(0, 1203, true), reading(912, 1200, true)],
        top: vec![TopReading { x: mm(0), rise: mm(1000) }],
        left: open_end(),
        right: corner("B", SetFirst::Neighbour, 12),
        base_role: Role::Base,
        top_role: Role::Ceiling,
        openings: vec![Opening {
            name: "valve".to_owned(),
            shape: OpeningShape::Circle { x: mm(455), y: mm(-150), diameter: mm(38) },
            clearance: mm(3),
            edge: OpeningEdge::Plate,
        }],
        bands: vec![Band {
            tile: TileId("strip".to_owned()),
            upright: false,
            height: BandHeight::Courses(1),
            bottom_between: Some((mm(100), mm(200))),
            joint_above: None,
            pattern: None,
        }],
        pattern: Pattern::Straight,
        top_may_move: mm(0),
    }
}

fn planned(wall: &BareWall) -> Surface {
    wall.surface(Floor::AsMeasured, LineShift::default()).unwrap()
}

fn faults(wall: &BareWall) -> Vec<BareFault> {
    wall.surface(Floor::AsMeasured, LineShift::default()).unwrap_err()
}

fn opening_x(surface: &Surface) -> Length {
    match surface.openings[0].shape {
        OpeningShape::Rectangle { x, .. } | OpeningShape::Circle { x, .. } => x,
    }
}

#[test]
fn a_wall_that_butts_against_the_back_wall_loses_its_tile_and_bed() {
    let surface = planned(&side_wall());
    assert_eq!(surface.width, mm(900));
    assert_eq!(surface.covered, Covered::default());
    assert_eq!(opening_x(&surface), mm(455));
    let foot = surface.base.last().copied().unwrap();
    assert_eq!(foot.x, mm(900));
    assert!(mm(1200) < foot.drop && foot.drop < Length::from_units(1201 * Length::UNITS_PER_MM));
}

#[test]
fn at_the_left_end_everything_is_counted_from_the_neighbours_face() {
    let wall = BareWall {
        left: corner("B", SetFirst::Neighbour, 12),
        right: open_end(),
        base: vec![reading(0, 1200, true), reading(24, 1206, true), reading(912, 1206, true)],
        ..side_wall()
    };
    let surface = planned(&wall);
    assert_eq!(surface.width, mm(900));
    assert_eq!(opening_x(&surface), mm(443));
    assert_eq!(surface.base, [reading(0, 1203, true), reading(12, 1206, true), reading(900, 1206, true)]);
    assert_eq!(surface.top, [TopReading { x: mm(0), rise: mm(1000) }]);
}

#[test]
fn a_wall_that_runs_behind_keeps_its_width_and_knows_what_is_covered() {
    let wall = BareWall { right: corner("B", SetFirst::ThisWall, 12), ..side_wall() };
    let surface = planned(&wall);
    assert_eq!(surface.width, mm(912));
    assert_eq!(surface.covered, Covered { left: mm(0), right: mm(12) });
    assert_eq!(surface.base, wall.base);
}

#[test]
fn a_step_behind_the_neighbours_tile_is_gone() {
    let base = vec![
        reading(0, 1100, false),
        reading(12, 1100, false),
        reading(12, 1200, true),
        reading(900, 1200, true),
        reading(900, 1100, false),
        reading(912, 1100, false),
    ];
    let wall = BareWall {
        left: corner("B", SetFirst::Neighbour, 12),
        right: corner("C", SetFirst::Neighbour, 12),
        base,
        ..side_wall()
    };
    assert_eq!(planned(&wall).base, [reading(0, 1200, true), reading(888, 1200, true)]);
}

#[test]
fn a_floor_tiled_first_raises_what_carries_and_leaves_the_curb() {
    let base = vec![
        reading(0, 1203, true),
        reading(800, 1200, true),
        reading(800, 1100, false),
        reading(912, 1100, false),
    ];
    let wall = BareWall { base, right: open_end(), ..side_wall() };
    let floor = Floor::TiledBefore { thickness: mm(14) };
    let surface = wall.surface(floor, LineShift::default()).unwrap();
    let drops: Vec<_> = surface.base.iter().map(|reading| reading.drop).collect();
    assert_eq!(drops, [mm(1189), mm(1186), mm(1100), mm(1100)]);
    assert_eq!(floor.base_gap_max(), None);
}

#[test]
fn a_floor_tiled_later_hides_its_thickness_less_3_mm() {
    let floor = Floor::TiledAfter { thickness: mm(14) };
    assert_eq!(floor.base_gap_max(), Some(mm(11)));
    assert_eq!(Floor::TiledAfter { thickness: mm(2) }.base_gap_max(), Some(mm(0)));
    let surface = side_wall().surface(floor, LineShift::default()).unwrap();
    assert_eq!(surface.base, planned(&side_wall()).base);
    assert!(side_wall().surface(Floor::TiledAfter { thickness: mm(-1) }, LineShift::default()).is_err());
}

#[test]
fn a_line_that_stands_7_mm_higher_today_moves_every_reading_back() {
    let line = LineShift(mm(7));
    let surface = side_wall().surface(Floor::AsMeasured, line).unwrap();
    let as_before = planned(&side_wall());
    assert_eq!(surface.base[0].drop, mm(1196));
    assert_eq!(surface.top[0].rise, mm(1007));
    assert_eq!(surface.openings[0].shape, OpeningShape::Circle { x: mm(455), y: mm(-143), diameter: mm(38) });
    assert_eq!(surface.bands[0].bottom_between, Some((mm(107), mm(207))));
    assert_eq!(line.todays_drop(surface.base[0].drop), as_before.base[0].drop);
    assert_eq!(line.todays_height(surface.top[0].rise), as_before.top[0].rise);
}

#[test]
fn nonsense_is_refused_in_words() {
    let narrow = BareWall { left: corner("D", SetFirst::Neighbour, 900), ..side_wall() };
    assert_eq!(faults(&narrow), [BareFault::WithTile(SurfaceFault::NoWidth)]);
    let covered = BareWall { right: corner("B", SetFirst::ThisWall, 912), ..side_wall() };
    assert_eq!(faults(&covered), [BareFault::WithTile(SurfaceFault::AllCovered)]);

    let back = BareWall { base: vec![reading(500, 1200, true), reading(400, 1200, true)], ..side_wall() };
    let height = sound::Height::Base;
    assert_eq!(faults(&back), [BareFault::AsRead(SurfaceFault::OutOfOrder { height, index: 1 })]);
    let beside = BareWall { base: vec![reading(913, 1200, true)], ..side_wall() };
    assert_eq!(faults(&beside), [BareFault::AsRead(SurfaceFault::Beside { height, index: 0 })]);
    let unread = BareWall { base: vec![], ..side_wall() };
    assert_eq!(faults(&unread), [BareFault::AsRead(SurfaceFault::NoReading(height))]);
    let flat = BareWall { top: vec![TopReading { x: mm(0), rise: mm(-1201) }], ..side_wall() };
    assert!(matches!(faults(&flat)[..], [BareFault::AsRead(SurfaceFault::NoHeight { .. })]));

    let mut behind = side_wall();
    behind.openings[0].shape = OpeningShape::Circle { x: mm(950), y: mm(-150), diameter: mm(38) };
    assert_eq!(faults(&behind), [BareFault::AsRead(SurfaceFault::OpeningOutside { index: 0 })]);
    behind.openings[0].shape =
        OpeningShape::Rectangle { x: mm(901), y: mm(0), width: mm(10), height: mm(10) };
    assert_eq!(faults(&behind), [BareFault::WithTile(SurfaceFault::OpeningOutside { index: 0 })]);

    let mut outside = corner("B", SetFirst::Neighbour, -1);
    outside.role = Role::Trim;
    let said: Vec<_> =
        faults(&BareWall { right: outside, ..side_wall() }).iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "it meets wall B at an end that is not an inside corner",
            "the tile and bed of wall B cannot be less than nothing"
        ]
    );
}

#[test]
fn ten_tiles_in_a_row_give_the_true_size() {
    let ten = NonZeroU32::new(10).unwrap();
    assert_eq!(true_tile_size(mm(5985), ten), Length::from_units(598 * 76_800 + 38_400));
    assert_eq!(true_tile_size(mm(100), NonZeroU32::new(3).unwrap()).units(), 2_560_000);
    assert_eq!(true_tile_size(Length::from_units(15), ten).units(), 2);
}

proptest! {
    #[test]
    fn the_base_stays_where_it_is_whatever_is_taken_off(
        drops in prop::collection::vec((1..900_i64, 1000..1200_i64), 1..8), left in 0..60_i64, right in 0..60_i64, x in 0..780_i64,
    ) {
        let mut base: Vec<_> = drops.iter().map(|(x, drop)| reading(*x, *drop, true)).collect();
        base.sort_by_key(|reading| reading.x);
        base.dedup_by_key(|reading| reading.x);
        let wall = BareWall {
            base,
            left: corner("B", SetFirst::Neighbour, left),
            right: corner("C", SetFirst::Neighbour, right),
            ..side_wall()
        };
        let surface = planned(&wall);
        let drop_at = |base: &[BaseReading], x| {
            let points: Vec<_> = base.iter().map(|reading| (reading.x, reading.drop)).collect();
            sound::height_right_of(&points, x).unwrap()
        };
        let moved = drop_at(&surface.base, mm(x)) - drop_at(&wall.base, mm(x + left));
        prop_assert!(moved.abs().units() <= 1);
        prop_assert!(surface.base.iter().all(|reading| mm(0) <= reading.x && reading.x <= surface.width));
    }
}

#[test]
fn a_wall_read_from_a_moved_line_is_the_wall_raised() {
    let by = mm(7);
    let as_planned = side_wall().surface(Floor::AsMeasured, LineShift(by)).unwrap();
    assert_eq!(planned(&side_wall().raised(by)), as_planned);
    assert_eq!(side_wall().raised(by).raised(-by), side_wall());
    assert_eq!(side_wall().raised(by).base[0].drop, mm(1196));
}
