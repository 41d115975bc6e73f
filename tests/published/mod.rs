//! Checks against sources outside the project: published rules and worked examples, each named beside its check.
//! What is "common practice" has no published source.

mod courses;
mod ends;
mod mixing;

use std::collections::BTreeMap;

use trade::measure::{
    Band, BandHeight, BaseReading, Covered, Edges, Gaps, Job, Length, LineId, Pattern, Role, Surface,
    SurfaceId, Tile, TileId, TopReading, Unit,
};

/// A wall between two corners, `width` wide, from a level base up to a ceiling.
fn wall(name: &str, width: Length, drop: Length, rise: Length) -> Surface {
    Surface {
        id: SurfaceId::new(name).unwrap(),
        name: name.to_owned(),
        line: LineId::default(),
        outline: None,
        width,
        base: vec![BaseReading { x: Length::ZERO, drop, carries: true }],
        top: vec![TopReading { x: Length::ZERO, rise }],
        edges: Edges { left: Role::Corner, right: Role::Corner, base: Role::Base, top: Role::Ceiling },
        covered: Covered::default(),
        openings: Vec::new(),
        bands: vec![Band {
            tile: TileId("wall".to_owned()),
            upright: false,
            height: BandHeight::Fill,
            bottom_between: None,
            joint_above: None,
            pattern: None,
        }],
        pattern: Pattern::Straight,
        top_may_move: Length::ZERO,
    }
}

/// A job with one tile, no gaps but at the base, and no kerf.
fn job(tile: (Length, Length), joint: Length, gap_base: Length, surfaces: Vec<Surface>) -> Job {
    let (width, height) = tile;
    let tile = Tile {
        width,
        height,
        thickness: None,
        rectified: None,
        directional: false,
        quarter_turn: false,
        size_variation: None,
        warpage: None,
        per_box: None,
    };
    Job {
        name: "published".to_owned(),
        unit: Unit::Millimetre,
        tiles: BTreeMap::from([(TileId("wall".to_owned()), tile)]),
        joint,
        joint_range: (joint, joint),
        kerf: Length::ZERO,
        spare: Length::ZERO,
        gaps: Gaps { base: gap_base, ..Gaps::default() },
        base_gap_max: Length::mm(20),
        smallest_cut: None,
        thinnest_leg: Length::mm(50),
        thinnest_web: Length::mm(25),
        setting_order: Vec::new(),
        start_course: 1,
        surfaces,
        layout: None,
    }
}
