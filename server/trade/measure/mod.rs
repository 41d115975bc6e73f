//! Lengths as the tape reads them, and walls as they are measured from a level line.

pub mod bare;
mod job;
mod length;
pub mod misreading;
mod names;
mod outline;
mod sheet;
pub mod sound;
mod surface;
mod tape;

pub use job::{FirstCourse, Gaps, Job, Layout, LeastSize, Tile, TileId};
pub use length::{Length, Unit};
pub use names::{NoFraction, NoPattern};
#[cfg(test)]
pub(crate) use outline::sample as outline_sample;
pub use outline::{Outline, OutlineFault, OutlineKind, OutlineSide};
pub use sheet::{Sheet, SheetFault};
pub use surface::{
    Band, BandHeight, BaseReading, Covered, Edges, Fraction, LineId, Opening, OpeningEdge, OpeningShape,
    Pattern, Role, Surface, SurfaceId, TopReading,
};
pub use tape::{InchMark, LengthFault, Rounding, Scale};
