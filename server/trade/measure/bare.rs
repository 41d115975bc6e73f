//! From what the tape read on the bare wall to the [`Surface`] that the planner takes.
//!
//! The planner measures to the face that the tile stops at. On the bare wall the neighbour's tile, the floor's
//! tile and a level line that has moved since the first reading are still to be taken into account; this is
//! the one place where they are. Outside corners are not here: there the tile goes past the bare wall's end,
//! and the width is measured to the tile's face.

use std::num::NonZeroU32;

use super::sound::{self, SurfaceFault};
use super::{
    Band, BaseReading, Covered, Edges, Length, LineId, Opening, OpeningShape, Pattern, Role, Surface,
    SurfaceId, TopReading,
};

/// A wall before any tile is on it or beside it. Heights are from the line as it is today, x from the bare
/// wall's left end.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BareWall {
    /// Its short name.
    pub id: SurfaceId,
    /// What the crew calls it.
    pub name: String,
    /// The level line it is measured from.
    pub line: LineId,
    /// Width at the line, substrate to substrate.
    pub width: Length,
    /// Down to the floor or pan as it lies now.
    pub base: Vec<BaseReading>,
    /// Up to the ceiling or to where tile stops.
    pub top: Vec<TopReading>,
    /// The left end.
    pub left: End,
    /// The right end.
    pub right: End,
    /// What may be seen at the foot.
    pub base_role: Role,
    /// What may be seen at the top.
    pub top_role: Role,
    /// Niches, windows, valves, pipes.
    pub openings: Vec<Opening>,
    /// What is laid, from the bottom up.
    pub bands: Vec<Band>,
    /// How the field is laid.
    pub pattern: Pattern,
    /// How far a bare or trimmed top may move to end on a whole course.
    pub top_may_move: Length,
}

/// One end of a bare wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct End {
    /// What may be seen there.
    pub role: Role,
    /// The wall it meets at an inside corner, if that is tiled too.
    pub meets: Option<Meeting>,
}

/// An inside corner with another tiled wall.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Meeting {
    /// The other wall.
    pub neighbour: SurfaceId,
    /// Which of the two is tiled into the corner first. Usual, from common practice: the back wall runs
    /// behind, the sides butt against it.
    pub set_first: SetFirst,
    /// The neighbour's tile with its bed.
    pub build_up: Length,
}

/// Which of two walls that meet is tiled first.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SetFirst {
    /// This wall runs behind; the neighbour's tile will hide a strip of it.
    ThisWall,
    /// The neighbour runs behind; this wall butts against its tile.
    Neighbour,
}

/// What happens to the floor at the foot of the walls.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Floor {
    /// The walls stand on what was measured.
    AsMeasured,
    /// The floor is tiled before the walls and rises by its tile and bed.
    TiledBefore {
        /// Tile and bed of the floor.
        thickness: Length,
    },
    /// The floor is tiled after the walls and hides the gap under them.
    TiledAfter {
        /// Tile and bed of the floor.
        thickness: Length,
    },
}

/// How far the line of today lies above the first line, from which the planner counts; negative below.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct LineShift(pub Length);

/// Why a bare wall cannot be tiled as it was entered.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum BareFault {
    /// What was read on the bare wall does not hang together.
    #[error("as it was read, {0}")]
    AsRead(SurfaceFault),
    /// What is left for this wall's tile does not hang together.
    #[error("with the neighbours' and the floor's tile taken off, {0}")]
    WithTile(SurfaceFault),
    /// A wall meets another at an end that is no inside corner.
    #[error("it meets wall {neighbour} at an end that is not an inside corner")]
    MeetsOutsideACorner {
        /// The wall met.
        neighbour: SurfaceId,
    },
    /// A tile with its bed that is thinner than nothing.
    #[error("the tile and bed of {of} cannot be less than nothing")]
    NegativeBuildUp {
        /// `wall B` or `the floor`.
        of: String,
    },
}

impl BareWall {
    /// The wall as the planner takes it.
    ///
    /// # Errors
    /// Every reason why it cannot be tiled as entered.
    pub fn surface(&self, floor: Floor, line: LineShift) -> Result<Surface, Vec<BareFault>> {
        let bare = self.in_the_first_lines_frame(line);
        let faults = self.faults(floor, &bare);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut surface = on_the_floor(bare, floor);
        take_off(&mut surface, self.left.behind(), self.right.behind());
        let faults = sound::faults(&(&surface).into());
        if faults.is_empty() {
            Ok(surface)
        } else {
            Err(faults.into_iter().map(BareFault::WithTile).collect())
        }
    }

    /// The same wall with every height counted from a line that lies `by` lower.
    #[must_use]
    pub fn raised(&self, by: Length) -> Self {
        let base = |reading: &BaseReading| BaseReading { drop: reading.drop - by, ..*reading };
        let top = |reading: &TopReading| TopReading { rise: reading.rise + by, ..*reading };
        Self {
            base: self.base.iter().map(base).collect(),
            top: self.top.iter().map(top).collect(),
            openings: self.openings.iter().map(|opening| moved(opening, Length::ZERO, by)).collect(),
            bands: self.bands.iter().map(|band| moved_band(band, by)).collect(),
            ..self.clone()
        }
    }

    /// How many of its ends butt against a neighbour that is tiled first.
    pub(super) fn ends_set_after_a_neighbour(&self) -> usize {
        let ends = [&self.left, &self.right].into_iter().filter_map(|end| end.meets.as_ref());
        ends.filter(|meets| meets.set_first == SetFirst::Neighbour).count()
    }

    fn faults(&self, floor: Floor, bare: &Surface) -> Vec<BareFault> {
        // What the neighbour will cover is judged once the wall has its final width.
        let uncovered = Surface { covered: Covered::default(), ..bare.clone() };
        let ends = [&self.left, &self.right].into_iter().flat_map(End::faults);
        sound::faults(&(&uncovered).into())
            .into_iter()
            .map(BareFault::AsRead)
            .chain(ends)
            .chain(floor.fault())
            .collect()
    }

    /// The bare wall with its heights counted from the first line.
    fn in_the_first_lines_frame(&self, line: LineShift) -> Surface {
        let base = |reading: &BaseReading| BaseReading { drop: line.first_drop(reading.drop), ..*reading };
        let top = |reading: &TopReading| TopReading { rise: line.first_height(reading.rise), ..*reading };
        let opening = |opening: &Opening| moved(opening, Length::ZERO, line.0);
        Surface {
            id: self.id.clone(),
            name: self.name.clone(),
            line: self.line.clone(),
            outline: None,
            width: self.width,
            base: self.base.iter().map(base).collect(),
            top: self.top.iter().map(top).collect(),
            edges: Edges {
                left: self.left.role,
                right: self.right.role,
                base: self.base_role,
                top: self.top_role,
            },
            covered: Covered { left: self.left.covered(), right: self.right.covered() },
            openings: self.openings.iter().map(opening).collect(),
            bands: self.bands.iter().map(|band| moved_band(band, line.0)).collect(),
            pattern: self.pattern.clone(),
            top_may_move: self.top_may_move,
        }
    }
}

impl End {
    /// What the neighbour, set first, takes of this wall.
    fn behind(&self) -> Length {
        self.build_up_where(SetFirst::Neighbour)
    }

    /// What the neighbour, set later, will hide of this wall.
    fn covered(&self) -> Length {
        self.build_up_where(SetFirst::ThisWall)
    }

    fn build_up_where(&self, set_first: SetFirst) -> Length {
        self.meets.iter().filter(|meets| meets.set_first == set_first).map(|meets| meets.build_up).sum()
    }

    fn faults(&self) -> Vec<BareFault> {
        let Some(meets) = &self.meets else { return Vec::new() };
        let mut faults = Vec::new();
        if self.role != Role::Corner {
            faults.push(BareFault::MeetsOutsideACorner { neighbour: meets.neighbour.clone() });
        }
        if meets.build_up < Length::ZERO {
            faults.push(BareFault::NegativeBuildUp { of: format!("wall {}", meets.neighbour) });
        }
        faults
    }
}

impl Floor {
    /// How much a floor laid later must still lap over the gap (common practice).
    pub const LAP: Length = Length::mm(3);

    /// The largest gap at the base that the floor still hides; `None` where no floor is laid later.
    pub fn base_gap_max(self) -> Option<Length> {
        match self {
            Self::AsMeasured | Self::TiledBefore { .. } => None,
            Self::TiledAfter { thickness } => Some((thickness - Self::LAP).max(Length::ZERO)),
        }
    }

    fn fault(self) -> Option<BareFault> {
        let (Self::TiledBefore { thickness } | Self::TiledAfter { thickness }) = self else { return None };
        (thickness < Length::ZERO).then(|| BareFault::NegativeBuildUp { of: "the floor".to_owned() })
    }
}

impl LineShift {
    /// A height above today's line, as a height above the first line.
    pub fn first_height(self, today: Length) -> Length {
        today + self.0
    }

    /// A height above the first line, as a height above today's line.
    pub fn todays_height(self, first: Length) -> Length {
        first - self.0
    }

    /// A drop below today's line, as a drop below the first line.
    pub fn first_drop(self, today: Length) -> Length {
        today - self.0
    }

    /// A drop below the first line, as a drop below today's line.
    pub fn todays_drop(self, first: Length) -> Length {
        first + self.0
    }
}

/// The true size of a tile from `count` of them tight in a row, to the nearest unit: ten tiles from three
/// boxes are usual.
pub fn true_tile_size(row: Length, count: NonZeroU32) -> Length {
    let units = super::tape::divided_nearest(i128::from(row.units()), i128::from(count.get()));
    // Never larger than the row, which is a length already.
    Length::from_units(i64::try_from(units).unwrap_or(row.units()))
}

/// Raises the carrying base by a floor that is tiled first.
fn on_the_floor(mut surface: Surface, floor: Floor) -> Surface {
    if let Floor::TiledBefore { thickness } = floor {
        let carried: Vec<bool> =
            (0..surface.base.len()).map(|at| stands_on_carrying(&surface.base, at)).collect();
        for (reading, carried) in surface.base.iter_mut().zip(carried) {
            if carried {
                reading.drop -= thickness;
            }
        }
    }
    surface
}

/// Whether the reading begins or ends a stretch that carries: the floor. Curbs, benches and tub rims stay where
/// they are when the floor is tiled. Stretches of no width, at steps, say nothing.
pub(super) fn stands_on_carrying(base: &[BaseReading], at: usize) -> bool {
    let stretch = |from: usize| {
        let (from, to) = (base.get(from)?, base.get(from + 1)?);
        (from.x < to.x).then_some(from.carries)
    };
    let before = at.checked_sub(1).and_then(stretch);
    match (before, stretch(at)) {
        (None, None) => base.get(at).is_some_and(|reading| reading.carries),
        (before, after) => before == Some(true) || after == Some(true),
    }
}

/// Takes the neighbours' tile off both ends: narrower, and everything counted from the new left end.
fn take_off(surface: &mut Surface, left: Length, right: Length) {
    surface.width -= left + right;
    let width = surface.width;
    for reading in &mut surface.base {
        reading.x -= left;
    }
    for reading in &mut surface.top {
        reading.x -= left;
    }
    surface.base =
        within(&surface.base, width, |r| (r.x, r.drop), |r, (x, drop)| BaseReading { x, drop, ..r });
    surface.top = within(&surface.top, width, |r| (r.x, r.rise), |_, (x, rise)| TopReading { x, rise });
    surface.openings = surface.openings.iter().map(|opening| moved(opening, -left, Length::ZERO)).collect();
}

/// The readings from x = 0 to `width`; what lay outside is read off at the end of the wall instead.
fn within<R: Copy>(
    readings: &[R],
    width: Length,
    point: impl Fn(&R) -> (Length, Length),
    at: impl Fn(R, (Length, Length)) -> R,
) -> Vec<R> {
    let points: Vec<_> = readings.iter().map(&point).collect();
    let mut kept = readings.to_vec();
    if let Some(last_outside) = readings.iter().rfind(|reading| point(reading).0 <= Length::ZERO)
        && readings.first().is_some_and(|reading| point(reading).0 < Length::ZERO)
    {
        kept.retain(|reading| point(reading).0 > Length::ZERO);
        let height = sound::height_right_of(&points, Length::ZERO);
        kept.splice(0..0, height.map(|height| at(*last_outside, (Length::ZERO, height))));
    }
    if let Some(last) = readings.last().filter(|reading| point(reading).0 > width) {
        kept.retain(|reading| point(reading).0 < width);
        // What the base does up to here was said by the last reading kept.
        let last = *kept.last().unwrap_or(last);
        kept.extend(sound::height_left_of(&points, width).map(|height| at(last, (width, height))));
    }
    kept
}

fn moved(opening: &Opening, right: Length, up: Length) -> Opening {
    let shape = match opening.shape {
        OpeningShape::Rectangle { x, y, width, height } => {
            OpeningShape::Rectangle { x: x + right, y: y + up, width, height }
        }
        OpeningShape::Circle { x, y, diameter } => OpeningShape::Circle { x: x + right, y: y + up, diameter },
    };
    Opening { shape, ..opening.clone() }
}

fn moved_band(band: &Band, up: Length) -> Band {
    Band { bottom_between: band.bottom_between.map(|(least, most)| (least + up, most + up)), ..band.clone() }
}

#[cfg(test)]
mod tests;
