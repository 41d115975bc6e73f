//! Small jobs to hold the rules against.

use super::{Advice, Layout};
use crate::course::Courses;
use crate::course::sample::{job, tile, wall};
use crate::geometry::{Rect, Sides};
use crate::measure::{Fraction, Job, Length, Pattern, SurfaceId, TileId};
use crate::place::{Piece, PieceId};

/// Inches from 64ths.
pub(super) const fn inches(whole: i64, sixty_fourths: i64) -> Length {
    Length::sixty_fourths(whole * 64 + sixty_fourths)
}

/// One wall laid in tile of this size, as tight as told.
pub(super) fn one_wall(width: Length, height: Length) -> Job {
    let mut job = job(vec![wall("A", 2400, &[(0, 1200)])]);
    job.tiles.insert(the_tile(), tile(width, height));
    job
}

pub(super) fn the_tile() -> TileId {
    TileId("wall".to_owned())
}

/// Every course further right by `numerator / denominator` of a tile.
pub(super) fn stepped(job: Job, numerator: i64, denominator: i64) -> Job {
    let step = Fraction::new(numerator, denominator).expect("a good step");
    let mut job = job;
    job.surfaces[0].pattern = Pattern::Running { step, mirror: false };
    job
}

/// What one rule that looks at no piece says.
pub(super) fn said_by(rule: fn(&Layout<'_>) -> Vec<Advice>, job: &Job, joint: Length) -> Vec<Advice> {
    let courses = Courses { walls: std::collections::BTreeMap::new() };
    rule(&Layout { job, joint, courses: &courses, pieces: &[] })
}

/// A piece of a tile of 598 x 298 mm at the origin, cut to these bounds.
pub(super) fn piece(bounds: Rect) -> Piece {
    let cell =
        Rect { left: Length::ZERO, bottom: Length::ZERO, right: Length::mm(598), top: Length::mm(298) };
    Piece {
        id: PieceId("A1-1".to_owned()),
        surface: SurfaceId::new("A").expect("a good name"),
        tile: the_tile(),
        band: 0,
        course: 1,
        full: bounds == cell,
        cell,
        bounds,
        outline: bounds.corners(),
        holes: Vec::new(),
        factory: Sides::ALL,
        shows: Sides::NONE,
        marks: Vec::new(),
        sliver: None,
    }
}
