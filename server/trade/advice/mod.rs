//! What published rules say of a layout. Advice names its source and never blocks; the lead decides.

mod courses;
mod joint;
mod offset;
mod shown_edge;
mod smallest_cut;
mod thin_part;

use std::fmt;

use crate::course::Courses;
use crate::measure::{Job, Length, SurfaceId, TileId};
use crate::place::{Piece, PieceId};

/// What one rule says of one layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Advice {
    /// Its short name in files: `smallest-cut`.
    pub rule: &'static str,
    /// Where it is published, or "common practice".
    pub source: &'static str,
    /// Whether the layout keeps it.
    pub passes: bool,
    /// What it found.
    pub says: Finding,
}

/// What a rule found, with its figures.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Finding {
    /// The narrowest cut piece, and the size wanted.
    SmallestCut { pieces: usize, least: Option<Length> },
    /// A cut edge shows at a bare edge.
    CutEdgeShows { pieces: Vec<PieceId> },
    /// Pieces with a leg or web so thin that it may break, each with how thin.
    ThinParts { pieces: Vec<(PieceId, Length)> },
    /// The step of a long tile is more than a third of it.
    Offset { surface: SurfaceId, tile: TileId },
    /// No long tile is stepped by more than a third.
    OffsetKept,
    /// The joint beside the least that is allowed.
    Joint { joint: Length, least: Length },
    /// A prop gap larger than what hides it.
    PropGap { surface: SurfaceId, largest: Length, allowed: Length },
    /// A strip outside the range the lead wanted.
    StripMisses { surface: SurfaceId, bottom: Length, lowest: Length, highest: Length },
}

/// Everything a rule may look at.
pub struct Layout<'a> {
    pub job: &'a Job,
    pub joint: Length,
    pub courses: &'a Courses,
    pub pieces: &'a [Piece],
}

/// What every rule says.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    [
        smallest_cut::advise,
        thin_part::advise,
        shown_edge::advise,
        offset::advise,
        joint::advise,
        courses::advise,
    ]
    .into_iter()
    .flat_map(|rule| rule(layout))
    .collect()
}

/// Plain English for files; pages have their own words.
impl fmt::Display for Finding {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = |length: &Length| format!("{:.1} mm", length.to_mm());
        match self {
            Self::SmallestCut { pieces: 0, .. } => write!(out, "no cut is smaller than half a tile"),
            Self::SmallestCut { pieces, least } => {
                let least =
                    least.as_ref().map_or(String::new(), |least| format!(", the least {}", mm(least)));
                write!(out, "{pieces} cut pieces are smaller than half a tile{least}")
            }
            Self::CutEdgeShows { pieces } if pieces.is_empty() => {
                write!(out, "no cut edge shows at a bare edge")
            }
            Self::CutEdgeShows { pieces } => {
                let names: Vec<&str> = pieces.iter().map(|piece| piece.0.as_str()).collect();
                write!(out, "a cut edge shows at a bare edge on {}", names.join(", "))
            }
            Self::ThinParts { pieces } if pieces.is_empty() => {
                write!(out, "no notch or hole leaves a part that may break")
            }
            Self::ThinParts { pieces } => {
                let parts: Vec<String> =
                    pieces.iter().map(|(id, size)| format!("{} {}", id.0, mm(size))).collect();
                write!(out, "a notch or hole leaves a part so thin that it may break: {}", parts.join(", "))
            }
            Self::Offset { surface, tile } => {
                write!(out, "tile {} on {surface} is stepped by more than a third of its length", tile.0)
            }
            Self::OffsetKept => write!(out, "no tile with a side over 15 in is stepped by more than a third"),
            Self::Joint { joint, least } => {
                write!(out, "the joint is {}, the least is {}", mm(joint), mm(least))
            }
            Self::PropGap { surface, largest, allowed } => write!(
                out,
                "on {surface} the gap under the first course grows to {}, more than the {} that is hidden",
                mm(largest),
                mm(allowed)
            ),
            Self::StripMisses { surface, bottom, lowest, highest } => write!(
                out,
                "the strip on {surface} starts at {}, outside {} to {}",
                mm(bottom),
                mm(lowest),
                mm(highest)
            ),
        }
    }
}
