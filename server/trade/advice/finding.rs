//! What a rule found, with its figures, and plain English for it in files; pages have their own words.

use std::fmt;

use crate::measure::{Length, SurfaceId, TileId};
use crate::place::PieceId;

/// What a rule found, with its figures.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Finding {
    /// The narrowest cut piece, and the size wanted.
    SmallestCut { pieces: usize, least: Option<Length> },
    /// A cut edge shows at a bare edge.
    CutEdgeShows { pieces: Vec<PieceId> },
    /// Pieces with a leg or web so thin that it may break, each with how thin.
    ThinParts { pieces: Vec<(PieceId, Length)> },
    /// Pieces with a notch too small to cut, each with its width and height.
    SmallNotches { pieces: Vec<(PieceId, Length, Length)> },
    /// Strips too thin to cut, and the thinnest.
    ThinStrips { pieces: usize, least: Option<Length> },
    /// Pieces of which a cut takes hardly more than the blade is thick, and the least that one takes.
    Trimmed { pieces: usize, least: Option<Length> },
    /// The step of a long tile is more than a third of it.
    Offset { surface: SurfaceId, tile: TileId },
    /// No long tile is stepped by more than a third.
    OffsetKept,
    /// The joint beside the least that is allowed, and what asks for that much.
    Joint { joint: Length, least: Length, because: JointNeed },
    /// A prop gap larger than what hides it.
    PropGap { surface: SurfaceId, largest: Length, allowed: Length },
    /// A strip outside the range the lead wanted.
    StripMisses { surface: SurfaceId, bottom: Length, lowest: Length, highest: Length },
    /// Largest less smallest of the tiles measured, beside the most that tile sold as this may differ.
    Caliber { tile: TileId, rectified: bool, range: Length, most: Length },
    /// The bow of the longest edge, beside the most that it may be.
    Warpage { tile: TileId, bow: Length, most: Length },
    /// A surface `length` long one way wants at least so many movement joints, where it is exposed like this.
    MovementJoints { surface: SurfaceId, length: Length, exposure: Exposure, every: Length, joints: i64 },
    /// How flat these surfaces must be before they are tiled.
    Flat { surfaces: Vec<SurfaceId>, flatness: Flatness },
    /// How far one tile's edge may stand above the next: what the joint allows and the tile's own bow.
    Lippage { tile: TileId, allowance: Length, bow: Length },
    /// How much of a tile's back the mortar must reach, in per cent.
    Coverage { dry: u8, wet: u8 },
}

/// Why a joint may not be narrower.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum JointNeed {
    /// No joint is narrower.
    Always,
    /// The tiles differ by this much.
    Variation(Length),
    /// Long tile is stepped; its bow, where it is known, is added.
    Stepped { rectified: bool, bow: Option<Length> },
}

/// What a surface has to bear, as far as movement joints ask.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Exposure {
    /// Indoors, out of the sun, dry.
    Indoors,
    /// Outdoors, or indoors in the sun or where water reaches.
    Exposed,
    /// A wall, by British practice.
    BritishWall,
    /// A floor, by British practice.
    BritishFloor,
}

/// The two grades of flatness.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Flatness {
    /// For tile with a side of 15 in or longer.
    Tight,
    /// For all other tile.
    Ordinary,
}

impl Finding {
    /// Whether it is a figure to work to rather than something found out about the layout.
    pub(super) fn is_note(&self) -> bool {
        match self {
            Self::MovementJoints { .. }
            | Self::Flat { .. }
            | Self::Lippage { .. }
            | Self::Coverage { .. } => true,
            Self::SmallestCut { .. }
            | Self::CutEdgeShows { .. }
            | Self::ThinParts { .. }
            | Self::SmallNotches { .. }
            | Self::ThinStrips { .. }
            | Self::Trimmed { .. }
            | Self::Offset { .. }
            | Self::OffsetKept
            | Self::Joint { .. }
            | Self::PropGap { .. }
            | Self::StripMisses { .. }
            | Self::Caliber { .. }
            | Self::Warpage { .. } => false,
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
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
            Self::SmallNotches { pieces } if pieces.is_empty() => write!(out, "no notch is too small to cut"),
            Self::SmallNotches { pieces } => {
                let notches: Vec<String> = pieces
                    .iter()
                    .map(|(id, width, height)| format!("{} {} x {}", id.0, mm(width), mm(height)))
                    .collect();
                write!(
                    out,
                    "a notch is too small to cut, scribe it or move the joint: {}",
                    notches.join(", ")
                )
            }
            Self::ThinStrips { pieces: 0, .. } => write!(out, "no strip is too thin to cut"),
            Self::ThinStrips { pieces, least } => {
                let least = least.as_ref().map(mm).unwrap_or_default();
                write!(out, "{pieces} strips are too thin to cut, the thinnest {least}")
            }
            Self::Trimmed { pieces: 0, .. } => write!(out, "no cut takes off too little for a blade"),
            Self::Trimmed { pieces, least } => {
                let least = least.as_ref().map(mm).unwrap_or_default();
                write!(out, "{pieces} pieces lose hardly more than a blade is thick, the least {least}")
            }
            Self::Offset { surface, tile } => {
                write!(out, "tile {} on {surface} is stepped by more than a third of its length", tile.0)
            }
            Self::OffsetKept => write!(out, "no tile with a side over 15 in is stepped by more than a third"),
            Self::Joint { joint, least, because } => {
                write!(out, "the joint is {}, the least is {}{because}", mm(joint), mm(least))
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
            Self::Caliber { tile, rectified, range, most } => {
                let sold = if *rectified { "rectified" } else { "calibrated" };
                write!(out, "tiles {} differ by {}; {sold} tile may by {}", tile.0, mm(range), mm(most))
            }
            Self::Warpage { tile, bow, most } => {
                write!(out, "tile {} is bowed by {}; rectified tile may be by {}", tile.0, mm(bow), mm(most))
            }
            Self::MovementJoints { surface, length, exposure, every, joints } => write!(
                out,
                "{surface} is {} one way: {exposure} it wants {joints} movement joint(s) at least, one every {}",
                mm(length),
                mm(every)
            ),
            Self::Flat { surfaces, flatness } => {
                let names: Vec<&str> = surfaces.iter().map(SurfaceId::as_str).collect();
                write!(out, "before tile, {} may be {flatness}", names.join(", "))
            }
            Self::Lippage { tile, allowance, bow } => write!(
                out,
                "an edge of tile {} may stand {} above the next: {} and its own bow",
                tile.0,
                mm(&(*allowance + *bow)),
                mm(allowance)
            ),
            Self::Coverage { dry, wet } => write!(
                out,
                "mortar must reach {dry} % of each tile's back where it stays dry, {wet} % in showers and outdoors"
            ),
        }
    }
}

impl fmt::Display for JointNeed {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Always => Ok(()),
            Self::Variation(differ) => write!(out, ", three times the {} by which tiles differ", mm(differ)),
            Self::Stepped { rectified, bow } => {
                let edges = if *rectified { "rectified" } else { "calibrated" };
                write!(out, " for {edges} tile with a side over 15 in that is stepped")?;
                bow.as_ref().map_or(Ok(()), |bow| write!(out, ", its bow of {} included", mm(bow)))
            }
        }
    }
}

impl fmt::Display for Exposure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Indoors => "indoors",
            Self::Exposed => "outdoors, in the sun or where water reaches",
            Self::BritishWall => "as a wall by British practice",
            Self::BritishFloor => "as a floor by British practice",
        })
    }
}

impl fmt::Display for Flatness {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Tight => "1/8 in out of flat in 10 ft and 1/16 in in 24 in",
            Self::Ordinary => "1/4 in out of flat in 10 ft and 1/16 in in 12 in",
        })
    }
}

fn mm(length: &Length) -> String {
    format!("{:.1} mm", length.to_mm())
}
