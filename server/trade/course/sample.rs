//! Small jobs to try things on.

use std::collections::BTreeMap;

use crate::measure::{
    Band, BandHeight, BaseReading, Covered, Edges, FirstCourse, Gaps, Job, Layout, Length, LineId, Pattern,
    Role, Surface, SurfaceId, Tile, TileId, TopReading, Unit,
};

pub(crate) const fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

/// Tenths of a millimetre.
pub(crate) const fn tenths(count: i64) -> Length {
    Length::from_units(count * Length::UNITS_PER_MM / 10)
}

pub(crate) fn id(name: &str) -> SurfaceId {
    SurfaceId::new(name).expect("a good name")
}

/// A 598 x 298 tile with a 3 mm joint and 3 mm gaps, on the given walls.
pub(crate) fn job(surfaces: Vec<Surface>) -> Job {
    Job {
        name: "Alder Court, upstairs bath".to_owned(),
        unit: Unit::Millimetre,
        tiles: BTreeMap::from([
            (TileId("wall".to_owned()), tile(mm(598), mm(298))),
            (TileId("strip".to_owned()), tile(mm(298), mm(50))),
            (TileId("low".to_owned()), tile(mm(298), mm(98))),
        ]),
        joint: mm(3),
        joint_range: (mm(3), mm(3)),
        kerf: mm(2),
        spare: Length::ZERO,
        gaps: Gaps {
            corner: mm(3),
            base: mm(3),
            ceiling: mm(3),
            trim: mm(3),
            mitre: Length::ZERO,
            opening: mm(3),
        },
        base_gap_max: mm(6),
        smallest_cut: None,
        thinnest_leg: mm(50),
        thinnest_web: mm(25),
        setting_order: Vec::new(),
        start_course: 1,
        surfaces,
        layout: None,
    }
}

pub(crate) fn tile(width: Length, height: Length) -> Tile {
    Tile {
        width,
        height,
        thickness: None,
        rectified: None,
        directional: false,
        quarter_turn: false,
        size_variation: None,
        warpage: None,
        per_box: None,
    }
}

/// A wall between two corners from a base that is `drops` below the line (x, drop) to a ceiling 1 m above it.
pub(crate) fn wall(name: &str, width: i64, drops: &[(i64, i64)]) -> Surface {
    let base =
        drops.iter().map(|(x, drop)| BaseReading { x: mm(*x), drop: mm(*drop), carries: true }).collect();
    Surface {
        id: id(name),
        name: name.to_owned(),
        line: LineId::default(),
        outline: None,
        width: mm(width),
        base,
        top: vec![TopReading { x: Length::ZERO, rise: mm(1000) }],
        edges: Edges { left: Role::Corner, right: Role::Corner, base: Role::Base, top: Role::Ceiling },
        covered: Covered::default(),
        openings: Vec::new(),
        bands: vec![field("wall", BandHeight::Fill)],
        pattern: Pattern::Straight,
        top_may_move: Length::ZERO,
    }
}

pub(crate) fn field(tile: &str, height: BandHeight) -> Band {
    Band {
        tile: TileId(tile.to_owned()),
        upright: false,
        height,
        bottom_between: None,
        joint_above: None,
        pattern: None,
    }
}

pub(crate) fn strip(lowest: i64, highest: i64) -> Band {
    Band { bottom_between: Some((mm(lowest), mm(highest))), ..field("strip", BandHeight::Courses(1)) }
}

/// Every wall with the same course line.
pub(crate) fn at(job: &Job, line: Length) -> Layout {
    let course_line = job.surfaces.iter().map(|surface| (surface.id.clone(), line)).collect();
    Layout { course_line, ..Layout::default() }
}

/// Every wall with the same course line, and begun in the same way.
pub(crate) fn begun(job: &Job, line: Length, first: FirstCourse) -> Layout {
    let first_course = job.surfaces.iter().map(|surface| (surface.id.clone(), first)).collect();
    Layout { first_course, ..at(job, line) }
}
