//! Which stages a kind of work has.

use std::collections::BTreeSet;

use super::StageKind;

/// A kind of work, by what it is done on. It says which stages a job starts with; any can be put on or taken off later.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Template {
    /// The work with tile alone, where somebody else answers for what is under it and for the water.
    TileWork,
    /// Walls of a shower, waterproofed and tested.
    ShowerWall,
    /// Walls round a tub, waterproofed; there is no pan to test.
    TubSurround,
    /// A dry floor.
    Floor,
    /// A floor with waterproofing and a water test.
    WetFloor,
    /// A backsplash.
    Backsplash,
}

impl Template {
    /// Every kind of work.
    pub const ALL: [Self; 6] =
        [Self::TileWork, Self::ShowerWall, Self::TubSurround, Self::Floor, Self::WetFloor, Self::Backsplash];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::TileWork => "tile_work",
            Self::ShowerWall => "shower_wall",
            Self::TubSurround => "tub_surround",
            Self::Floor => "floor",
            Self::WetFloor => "wet_floor",
            Self::Backsplash => "backsplash",
        }
    }

    /// The kind of work stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|template| template.name() == name)
    }

    /// What it starts with (common practice).
    pub fn stages(self) -> BTreeSet<StageKind> {
        use StageKind::{HeavyUse, Membrane, Sealant, TestFilled, TestPassed, WalkOn, WaterOn};
        let besides: &[StageKind] = match self {
            Self::TileWork => &[],
            Self::ShowerWall => &[Membrane, TestFilled, TestPassed, Sealant, WaterOn],
            Self::TubSurround => &[Membrane, Sealant, WaterOn],
            Self::Floor => &[Sealant, WalkOn, HeavyUse],
            Self::WetFloor => &[Membrane, TestFilled, TestPassed, Sealant, WalkOn, HeavyUse, WaterOn],
            Self::Backsplash => &[Sealant],
        };
        StageKind::TILE_WORK.into_iter().chain(besides.iter().copied()).collect()
    }
}

impl StageKind {
    /// Whether work built on it is lost where it was left out: taking it off a job asks for a reason.
    pub fn keeps_water_out(self) -> bool {
        matches!(self, Self::Membrane | Self::TestFilled | Self::TestPassed)
    }
}
