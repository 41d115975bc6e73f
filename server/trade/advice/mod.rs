//! What published rules say of a layout. Advice names its source and never blocks; the lead decides.
//!
//! A rule that needs something nobody has told (the bow of the tile, whether its edges are finished) says nothing.
//! Absent, because nothing of it is measured here: the fall of a shower floor, the stiffness of what the tile stands
//! on, the joints in the backing.

mod caliber;
mod courses;
mod coverage;
mod finding;
mod flatness;
mod joint;
mod lippage;
mod movement;
mod offset;
#[cfg(test)]
mod sample;
mod shown_edge;
mod small_notch;
mod smallest_cut;
mod thin_part;
mod thin_strip;
mod trimmed;
mod warpage;

use std::collections::BTreeMap;

use crate::course::Courses;
use crate::measure::{Band, Job, Length, Pattern, Surface, Tile, TileId};
use crate::place::Piece;

pub use finding::{Exposure, Finding, Flatness, JointNeed};

/// What one rule says of one layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Advice {
    /// Its short name in files: `smallest-cut`.
    pub rule: &'static str,
    /// Where it is published, or "common practice".
    pub source: &'static str,
    /// Whether the layout keeps it. A [`Standing::Note`] says nothing of the layout, and so passes.
    pub passes: bool,
    /// What it found.
    pub says: Finding,
}

/// How a page should take a piece of advice.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Standing {
    /// The layout does not keep the rule.
    Look,
    /// A figure to work to, such as how flat the wall must be. Nobody has checked it here, so it must not be shown
    /// as kept; a page may fold it away.
    Note,
    /// The layout keeps the rule.
    Kept,
}

/// Everything a rule may look at.
pub struct Layout<'a> {
    pub job: &'a Job,
    pub joint: Length,
    pub courses: &'a Courses,
    pub pieces: &'a [Piece],
}

/// What every rule says: of the layout first, then the figures to work to.
pub fn advise(layout: &Layout<'_>) -> Vec<Advice> {
    [
        smallest_cut::advise,
        thin_part::advise,
        small_notch::advise,
        thin_strip::advise,
        trimmed::advise,
        shown_edge::advise,
        offset::advise,
        joint::advise,
        courses::advise,
        caliber::advise,
        warpage::advise,
        movement::advise,
        flatness::advise,
        lippage::advise,
        coverage::advise,
    ]
    .into_iter()
    .flat_map(|rule| rule(layout))
    .collect()
}

impl Advice {
    /// Whether to look at it, to work to it, or to be content.
    pub fn standing(&self) -> Standing {
        match (self.passes, self.says.is_note()) {
            (false, _) => Standing::Look,
            (true, true) => Standing::Note,
            (true, false) => Standing::Kept,
        }
    }
}

impl Layout<'_> {
    /// Every band of every surface with its tile.
    fn laid(&self) -> impl Iterator<Item = (&Surface, &Band, &Tile)> {
        let bands = self.job.surfaces.iter().flat_map(|s| s.bands.iter().map(move |band| (s, band)));
        bands.filter_map(|(surface, band)| Some((surface, band, self.job.tiles.get(&band.tile)?)))
    }

    /// The tiles that are laid, each once.
    fn tiles(&self) -> BTreeMap<&TileId, &Tile> {
        self.laid().map(|(_, band, tile)| (&band.tile, tile)).collect()
    }
}

/// The longer side.
fn longest_side(tile: &Tile) -> Length {
    tile.width.max(tile.height)
}

/// Whether the courses of a band step at all.
fn steps(surface: &Surface, band: &Band) -> bool {
    match band.pattern.as_ref().unwrap_or(&surface.pattern) {
        Pattern::Straight => false,
        Pattern::Running { step, .. } => step.numerator().rem_euclid(step.denominator()) != 0,
        Pattern::Cycle { shifts } => {
            let next = shifts.iter().cycle().skip(1);
            shifts.iter().zip(next).any(|(one, other)| {
                let apart = one.numerator() * other.denominator() - other.numerator() * one.denominator();
                apart.rem_euclid(one.denominator() * other.denominator()) != 0
            })
        }
    }
}
