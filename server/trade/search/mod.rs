//! Which layouts are worth choosing between, and what a choice comes to: every piece, the plan that cuts them, and the
//! figures to choose by.
//!
//! [`options()`] searches: a frame is everything but the starts, walls are put together from what each comes to alone
//! and from the exact search of row ends, and what no other beats is worked out whole. [`propose()`] completes a choice
//! at once, by what the trade looks at first. [`why_not()`] answers what a lead asks for.

mod again;
mod asked;
mod combine;
mod course_lines;
mod frames;
mod front;
mod looks;
mod options;
mod outline_starts;
mod phase;
mod priorities;
mod propose;
mod relay;
mod rough_in;
mod seen;
mod starts;
#[cfg(test)]
mod tests;
mod watch;
mod why_not;
mod work_out;

use std::collections::BTreeMap;

use crate::advice::Advice;
use crate::course::Courses;
use crate::measure::{Layout, Length, TileId};
use crate::offcut;
use crate::place::{Measured, Piece};

pub use again::{InField, Lost, LostPart, Opened, Sawn};
pub use asked::Asked;
pub use course_lines::ranked_course_lines;
pub use options::{Aim, MOST_OPTIONS, Options, Reach, Reason, options};
pub use phase::{MOST_CHOICES, MOST_CORNERS, MOST_JOINTS, StartFront, Starts, joint_candidates, start_front};
pub use priorities::{Amount, Measure, Priorities, PrioritiesFault};
pub use propose::propose;
pub use relay::{BegunTile, CutBefore, Relay, UseOf};
pub use rough_in::{
    Depth, DepthVerdict, EdgeFit, Fit, Fitting, Framing, NoPlace, Off, RoughIn, Seat, Wish, WishKind,
    above_base, rough_in,
};
pub use starts::ranked_starts;
pub use why_not::{Answer, WhyNot, why_not};
pub use work_out::{WorkFault, plan, wanted, work_out};

/// One layout with all that follows from it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LayoutOption {
    /// The choice, complete: put back into the job it gives the same option.
    pub layout: Layout,
    /// The course lines on every wall.
    pub courses: Courses,
    /// Every piece of every surface, in setting order.
    pub pieces: Vec<Piece>,
    /// The true sizes that some of the pieces have, measured on the wall since.
    pub measured: Measured,
    /// How each kind of tile is cut.
    pub cutting: BTreeMap<TileId, TileCutting>,
    /// What to judge it by.
    pub figures: Figures,
    /// What the published rules say of it.
    pub advice: Vec<Advice>,
}

/// The cutting of one kind of tile.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TileCutting {
    /// Whole tiles on the wall.
    pub full: usize,
    /// The pieces to cut; the ids are piece labels.
    pub problem: offcut::Problem,
    /// Which tile each is cut from.
    pub plan: offcut::Plan,
    /// What was still open when this was planned again in the middle of the work; nothing where it was planned once.
    pub open: Option<StillOpen>,
}

/// The pieces that were not cut yet when they were planned again, with the offcuts that lay on the rack then.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StillOpen {
    /// Those pieces, and that rack.
    pub problem: offcut::Problem,
    /// Their own plan, with the proof of its bound.
    pub plan: offcut::Plan,
}

/// The figures of an option.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Figures {
    /// Tiles of all kinds to buy.
    pub bought: usize,
    /// The least side of any cut piece's bounding rectangle in a direction in which it is cut.
    pub narrowest_cut: Option<Length>,
    /// Saw cuts in all.
    pub cuts: usize,
    /// Pieces that are slivers.
    pub slivers: usize,
    /// How far both ends of the rows, and facing walls, are from equal, where a cut may be at both.
    pub unequal: Length,
    /// Edges of openings that lie on joints.
    pub opening_edges_on_joints: usize,
    /// The largest gap between a carrying base and the tile.
    pub base_gap_largest: Length,
    /// Rules that the layout does not keep.
    pub warnings: usize,
}

impl TileCutting {
    /// Whole tiles and tiles cut into.
    pub fn bought(&self) -> usize {
        self.full + self.plan.tiles()
    }

    /// No plan for this layout buys fewer, with what is cut already cut as it is.
    pub fn bound(&self) -> usize {
        self.full + self.plan.bound
    }

    /// The pieces that the proof of the bound is about, and their plan: all, or those that were still open.
    pub fn proved(&self) -> (&offcut::Problem, &offcut::Plan) {
        match &self.open {
            Some(open) => (&open.problem, &open.plan),
            None => (&self.problem, &self.plan),
        }
    }
}
