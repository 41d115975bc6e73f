//! A job as the crew writes it down: bare walls, tiles, saw and gaps. [`Sheet::job`] turns it into what the
//! planner takes.

use std::collections::BTreeMap;

use super::bare::{BareFault, BareWall, End, Floor, LineShift};
use super::{Gaps, Job, Layout, LeastSize, Length, SurfaceId, Tile, TileId, Unit};
use crate::search::Priorities;

/// The job's sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sheet {
    /// What the crew calls the job.
    pub name: String,
    /// What the tape reads.
    pub unit: Unit,
    /// The tiles by name; empty until the first is measured.
    pub tiles: BTreeMap<TileId, Tile>,
    /// The joint between tiles.
    pub joint: Length,
    /// The least and greatest joint the lead allows; `None` means the joint alone.
    pub joint_range: Option<(Length, Length)>,
    /// What the saw's blade takes away.
    pub kerf: Length,
    /// Added beside each kerf because the saw is not exact.
    pub spare: Length,
    /// The gap kept at each role of edge.
    pub gaps: Gaps,
    /// The largest gap at the base that what hides it still covers, where no floor is laid later.
    pub base_gap_max: Length,
    /// Pieces smaller than this are slivers; `None` means half the tile.
    pub smallest_cut: Option<LeastSize>,
    /// The mortar bed behind the tile.
    pub bed: Length,
    /// What happens to the floor at the foot of the walls.
    pub floor: Floor,
    /// The walls, their heights from the first line.
    pub walls: Vec<BareWall>,
    /// What the lead chose.
    pub layout: Layout,
    /// What the lead judges a layout by first.
    pub priorities: Priorities,
}

/// Why a sheet cannot be planned yet.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum SheetFault {
    /// There is no wall.
    #[error("no wall is measured yet")]
    NoWalls,
    /// A wall says what is laid on it with no tile measured.
    #[error("wall {0} has no tile yet")]
    NoTile(SurfaceId),
    /// The joint is as wide as a tile.
    #[error("the joint of {joint:?} is as wide as tile \"{}\"", tile.0)]
    JointTooWide {
        /// The joint in force.
        joint: Length,
        /// Which tile.
        tile: TileId,
    },
    /// More tile than can be planned at once.
    #[error("the walls take more than {most} tiles")]
    TooManyTiles {
        /// The most that is planned.
        most: i64,
    },
    /// A wall cannot be tiled as entered.
    #[error("wall {wall}: {fault}")]
    Wall {
        /// Which wall.
        wall: SurfaceId,
        /// Why.
        fault: BareFault,
    },
}

impl Sheet {
    /// A notch's leg thinner than this breaks at the saw (common practice).
    pub const THINNEST_LEG: Length = Length::mm(50);
    /// The most tiles planned at once, by area: a hundred square metres of small tile, a few seconds of work.
    pub const MOST_TILES: i64 = 8000;
    /// A web between hole and edge thinner than this breaks (common practice).
    pub const THINNEST_WEB: Length = Length::mm(25);

    /// The job as the planner takes it: neighbours' tile and floor taken off.
    ///
    /// # Errors
    ///
    /// Every reason why it cannot be planned yet.
    pub fn job(&self) -> Result<Job, Vec<SheetFault>> {
        if self.walls.is_empty() {
            return Err(vec![SheetFault::NoWalls]);
        }
        let mut faults = self.faults_of_all();
        let mut surfaces = Vec::new();
        for wall in &self.walls {
            if wall.bands.is_empty() || wall.bands.iter().any(|band| !self.tiles.contains_key(&band.tile)) {
                faults.push(SheetFault::NoTile(wall.id.clone()));
                continue;
            }
            match self.with_build_up(wall).surface(self.floor, LineShift::default()) {
                Ok(surface) => surfaces.push(surface),
                Err(why) => {
                    faults.extend(
                        why.into_iter().map(|fault| SheetFault::Wall { wall: wall.id.clone(), fault }),
                    );
                }
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let chosen = self.layout.joint.unwrap_or(self.joint);
        let (least, most) = self.joint_range.unwrap_or((self.joint, self.joint));
        Ok(Job {
            name: self.name.clone(),
            unit: self.unit,
            tiles: self.tiles.clone(),
            joint: self.joint,
            joint_range: (least.min(self.joint).min(chosen), most.max(self.joint).max(chosen)),
            kerf: self.kerf,
            spare: self.spare,
            gaps: self.gaps,
            base_gap_max: self.floor.base_gap_max().unwrap_or(self.base_gap_max).max(self.gaps.base),
            smallest_cut: self.smallest_cut,
            thinnest_leg: Self::THINNEST_LEG,
            thinnest_web: Self::THINNEST_WEB,
            setting_order: self.setting_order(),
            start_course: 1,
            surfaces,
            layout: Some(self.layout_on_these_bands()),
        })
    }

    /// What the lead chose, without starts of bands that a wall no longer has.
    fn layout_on_these_bands(&self) -> Layout {
        let mut layout = self.layout.clone();
        let bands = |wall: &SurfaceId| {
            self.walls.iter().find(|other| other.id == *wall).map_or(0, |wall| wall.bands.len())
        };
        layout.band_starts.retain(|(wall, band), _| *band < bands(wall));
        layout
    }

    fn faults_of_all(&self) -> Vec<SheetFault> {
        let joint = self.layout.joint.unwrap_or(self.joint);
        let too_wide = self.tiles.iter().find(|(_, tile)| joint >= tile.width.min(tile.height));
        let too_wide = too_wide.map(|(id, _)| SheetFault::JointTooWide { joint, tile: id.clone() });
        let tiles: i128 = self.walls.iter().map(|wall| self.tiles_on(wall)).sum();
        let too_many = tiles > i128::from(Self::MOST_TILES);
        too_wide
            .into_iter()
            .chain(too_many.then_some(SheetFault::TooManyTiles { most: Self::MOST_TILES }))
            .collect()
    }

    /// About how many tiles a wall takes, by area, in the smallest of its tiles that fills.
    fn tiles_on(&self, wall: &BareWall) -> i128 {
        let height = wall.base.iter().map(|reading| reading.drop).max().unwrap_or_default()
            + wall.top.iter().map(|reading| reading.rise).max().unwrap_or_default();
        let area = |width: Length, height: Length| i128::from(width.units()) * i128::from(height.units());
        let field = wall.bands.iter().filter(|band| !band.is_strip());
        let tiles = field.filter_map(|band| self.tiles.get(&band.tile));
        let smallest = tiles.map(|tile| area(tile.width, tile.height)).min().unwrap_or(i128::MAX);
        area(wall.width, height) / smallest.max(1)
    }

    /// Tile and bed of a wall, as its neighbours meet it: the thickest of its tiles.
    pub fn build_up(&self, wall: &SurfaceId) -> Length {
        let bands = self.walls.iter().filter(|other| other.id == *wall).flat_map(|other| &other.bands);
        let tiles = bands.filter_map(|band| self.tiles.get(&band.tile));
        tiles.filter_map(|tile| tile.thickness).max().unwrap_or_default() + self.bed
    }

    /// The wall with what its neighbours' tile takes at each inside corner.
    fn with_build_up(&self, wall: &BareWall) -> BareWall {
        let known = |end: &End| {
            let mut end = end.clone();
            if let Some(meets) = &mut end.meets {
                meets.build_up = self.build_up(&meets.neighbour);
            }
            end
        };
        BareWall { left: known(&wall.left), right: known(&wall.right), ..wall.clone() }
    }

    /// Walls that run behind their neighbours come first (common practice: the back wall), then as measured.
    fn setting_order(&self) -> Vec<SurfaceId> {
        let mut walls: Vec<&BareWall> = self.walls.iter().collect();
        walls.sort_by_key(|wall| wall.ends_set_after_a_neighbour());
        walls.into_iter().map(|wall| wall.id.clone()).collect()
    }
}
