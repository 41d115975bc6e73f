//! The whole of a job as the planner takes it: tiles, joint, saw, gaps, surfaces and what the lead chose.

use std::collections::BTreeMap;

use super::{Length, Role, Surface, SurfaceId};

/// The short name of a tile in its job: `wall`, `strip`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct TileId(pub String);

/// Everything the planner needs. [`crate::job_file::read`] and the store build it; both refuse nonsense, so
/// that here every surface has a width, every band names a tile of `tiles`, and every joint is narrower than
/// its tile.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Job {
    /// What the crew calls the job.
    pub name: String,
    /// The unit of numbers typed without one.
    pub unit: crate::measure::Unit,
    /// The tiles by name.
    pub tiles: BTreeMap<TileId, Tile>,
    /// The joint between tiles.
    pub joint: Length,
    /// The least and greatest joint the lead allows.
    pub joint_range: (Length, Length),
    /// What the saw's blade takes away.
    pub kerf: Length,
    /// Added beside each kerf because the saw is not exact.
    pub spare: Length,
    /// The gap kept at each role of edge.
    pub gaps: Gaps,
    /// The largest gap at the base that what hides it still covers.
    pub base_gap_max: Length,
    /// Pieces smaller than this where they show are slivers; `None` means half the tile.
    pub smallest_cut: Option<LeastSize>,
    /// A notch's leg thinner than this is a sliver.
    pub thinnest_leg: Length,
    /// A web between hole and edge thinner than this is a sliver.
    pub thinnest_web: Length,
    /// The order in which surfaces are set; surfaces not named follow in their own order.
    pub setting_order: Vec<SurfaceId>,
    /// The course set first on every wall (1 is the lowest).
    pub start_course: u32,
    /// The walls.
    pub surfaces: Vec<Surface>,
    /// What the lead chose, when they have.
    pub layout: Option<Layout>,
}

/// One kind of tile, by its measured size, never its nominal one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tile {
    /// Measured width.
    pub width: Length,
    /// Measured height.
    pub height: Length,
    /// Thickness, where it is known.
    pub thickness: Option<Length>,
    /// Edges finished after firing, where it is known.
    pub rectified: Option<bool>,
    /// Has a direction, so it is never turned.
    pub directional: bool,
    /// A quarter turn is allowed.
    pub quarter_turn: bool,
    /// Largest less smallest of the tiles measured.
    pub size_variation: Option<Length>,
    /// Bow of the longest edge.
    pub warpage: Option<Length>,
    /// Tiles in a box.
    pub per_box: Option<u32>,
}

/// The gaps by role; bare and hidden edges have none.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Gaps {
    /// Inside corners and perimeters.
    pub corner: Length,
    /// The foot of walls.
    pub base: Length,
    /// Ceilings.
    pub ceiling: Length,
    /// Edge profiles.
    pub trim: Length,
    /// Mitred outside corners.
    pub mitre: Length,
    /// Clearance of openings that give none of their own.
    pub opening: Length,
}

/// A least width and height.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LeastSize {
    /// Across.
    pub width: Length,
    /// Up.
    pub height: Length,
}

/// What the lead chose. Whatever is absent is proposed.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Layout {
    /// y of the centre of a joint between field courses (any of them), by surface.
    pub course_line: BTreeMap<SurfaceId, Length>,
    /// x of the centre of an upright joint in course 1, by surface, modulo tile + joint.
    pub starts: BTreeMap<SurfaceId, Length>,
    /// The same for a strip or other band with a start of its own, by surface and band (0 is the lowest).
    pub band_starts: BTreeMap<(SurfaceId, usize), Length>,
    /// Propped or scribed, by surface.
    pub first_course: BTreeMap<SurfaceId, FirstCourse>,
    /// Which way the step climbs, by surface: `true` is left.
    pub mirror: BTreeMap<SurfaceId, bool>,
    /// The joint, where the lead chose one within the range.
    pub joint: Option<Length>,
}

/// How a wall's first course meets a base that is not level.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FirstCourse {
    /// Whole tiles, level, held up by props; the gap below them varies.
    Propped,
    /// Tiles cut to the base; the gap below them stays.
    Scribed,
}

impl Gaps {
    /// The gap kept at an edge of this role.
    pub fn at(&self, role: Role) -> Length {
        match role {
            Role::Corner => self.corner,
            Role::Base => self.base,
            Role::Ceiling => self.ceiling,
            Role::Trim => self.trim,
            Role::Mitre => self.mitre,
            Role::Bare | Role::Hidden => Length::ZERO,
        }
    }
}

impl Job {
    /// The joint in force: the lead's choice, else the job's.
    pub fn chosen_joint(&self) -> Length {
        self.layout.as_ref().and_then(|layout| layout.joint).unwrap_or(self.joint)
    }

    /// The joint under a layout: the one chosen there, else the job's.
    pub fn joint_in(&self, layout: &Layout) -> Length {
        layout.joint.unwrap_or_else(|| self.chosen_joint())
    }

    /// The surfaces in the order they are set.
    pub fn in_setting_order(&self) -> Vec<&Surface> {
        let named = self.setting_order.iter().filter_map(|id| self.surface(id));
        let others = self.surfaces.iter().filter(|surface| !self.setting_order.contains(&surface.id));
        named.chain(others).collect()
    }

    /// The surface of that name.
    pub fn surface(&self, id: &SurfaceId) -> Option<&Surface> {
        self.surfaces.iter().find(|surface| surface.id == *id)
    }

    /// Width and height of a band's tile as it lies on the wall.
    pub fn laid_size(&self, tile: &TileId, upright: bool) -> Option<LeastSize> {
        let tile = self.tiles.get(tile)?;
        let (width, height) = if upright { (tile.height, tile.width) } else { (tile.width, tile.height) };
        Some(LeastSize { width, height })
    }
}
