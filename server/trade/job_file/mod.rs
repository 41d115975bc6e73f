//! The JSON files that carry a job in and a plan out, or pieces in and the tiles to cut them from out.
//!
//! [`read`] names every fault of a file at once, each by its JSON path, so that whoever wrote it corrects it in
//! one go. [`write_job`] writes what `read` reads back as the same job, and [`write_plan`] what the planner
//! answered. Numbers go in and out by their decimals; no float decides anything on the way.
//!
//! Not read yet, and said so: ceilings, slanted sides of outlines, leaning corners, soft joints, polygon
//! openings, patterns other than straight and running, patterns that run round corners, lists of spacers.

use serde_json::Value;

use crate::measure::Job;
use crate::search::Priorities;

mod duplicates;
mod layout;
mod offcuts;
mod plan;
mod read;
mod read_outline;
mod read_surface;
#[cfg(test)]
pub(crate) mod samples;
#[cfg(test)]
mod tests;
mod walk;
mod write;

pub use offcuts::{ReadOffcuts, read_offcuts, write_offcuts};
pub use plan::{write_options, write_plan};
pub use write::{write_job, write_with_priorities};

/// What a file says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Read {
    /// The job.
    pub job: Job,
    /// What the lead puts first when layouts are compared.
    pub priorities: Priorities,
    /// JSON paths of keys that mean nothing here.
    pub ignored: Vec<String>,
}

/// One thing wrong with a file.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("{path}: found {found}; expected {expected}")]
pub struct Fault {
    /// Where: `$.surfaces[0].base[1].drop`.
    pub path: String,
    /// What stands there, shortened, or `nothing`.
    pub found: String,
    /// What should stand there.
    pub expected: String,
}

/// How much one file may hold: each far above any real job, so that no file can keep the planner busy for ever.
pub mod limits {
    /// Bytes of text: a hundred walls with every list full are under one million.
    pub const BYTES: usize = 4_000_000;
    /// Walls: a large house has about as many.
    pub const SURFACES: usize = 200;
    /// Kinds of tile.
    pub const TILES: usize = 50;
    /// Readings at the base or the top of one wall: one every 10 cm along 20 m.
    pub const READINGS: usize = 200;
    /// Points of an outline.
    pub const POINTS: usize = 200;
    /// Openings in one wall.
    pub const OPENINGS: usize = 100;
    /// Bands on one wall: every course of a high wall.
    pub const BANDS: usize = 100;
    /// Shifts in a cycle, after which nobody sees that it repeats.
    pub const SHIFTS: usize = 60;
    /// Courses in a band, and the number of the course set first.
    pub const COURSES: u32 = 2_000;
    /// Tiles on one wall: 30 square metres in tiles of 2 cm are 75 000.
    pub const TILES_ON_A_WALL: i64 = 100_000;
    /// Tiles in a box.
    pub const TILES_IN_A_BOX: u32 = 10_000;
    /// Characters in a name: a line on a label.
    pub const NAME: usize = 200;
}

/// Reads a job file.
///
/// A number is a length in the job's unit, read by its decimals (exactly up to 15 digits, which is 0.000001 mm in
/// 1000 m), a text a length as typed (`"23 3/4 in"`). `null` is as good as
/// absent. Two keys are ours: `top_may_move` on a surface (a length, 0 when absent) and `carries` on a base
/// reading (`true` when absent; holds from this reading to the next). So are `band_starts` in `layout`, a map
/// from surface and band (0 the lowest) to x, and `unit` there, for numbers of `layout` in another unit than
/// the job's. A third is `priorities`, a list of the names of what layouts are judged by, the most important first;
/// what it does not name follows in the usual order.
///
/// # Errors
/// Every fault found, in no more than one line each.
pub fn read(text: &str) -> Result<Read, Vec<Fault>> {
    let (value, faults) = json_of(text)?;
    read::job(&value, faults)
}

/// The JSON of a file, and the faults that only its text shows.
fn json_of(text: &str) -> Result<(Value, Vec<Fault>), Vec<Fault>> {
    let wrong = |found: String, expected: &str| {
        Err(vec![Fault { path: "$".to_owned(), found, expected: expected.to_owned() }])
    };
    if text.len() > limits::BYTES {
        return wrong(format!("{} bytes", text.len()), "a file of at most 4 000 000 bytes");
    }
    // Editors on some systems put a byte order mark in front.
    let text = text.trim_start_matches('\u{feff}');
    match serde_json::from_str(text) {
        Ok(value) => Ok((value, duplicates::in_text(text))),
        Err(fault) => wrong(format!("text that is not JSON ({fault})"), "a JSON object"),
    }
}
