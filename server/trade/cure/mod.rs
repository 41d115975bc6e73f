//! Products, stages, windows, and the gate that keeps people from working on a wall too early.
//!
//! In the order a question meets them:
//!
//! - [`Instant`], [`Span`]: elapsed time in milliseconds, never the calendar;
//! - [`Stamp`], [`Now`]: which clock said so, and how much time has surely passed;
//! - [`Product`], [`ProductClass`]: how long to wait, and who says so;
//! - [`StageGraph`]: what waits for what on this job;
//! - [`Entry`], [`standing`]: what people reported, and which of it still stands;
//! - [`not_before`]: the earliest next step;
//! - [`gate::ask`]: may it be started now, and if not, why.
//!
//! Where the program is unsure it errs on the side of waiting. Deliberately absent: a clock (instants are
//! handed in), time zones and words for times (pages have them), and temperature: windows hold at 21 to 25 °C
//! and the surface is taken to be as warm as that.

pub mod gate;
mod graph;
mod instant;
mod log;
mod product;
mod ready;
mod trust;

#[cfg(test)]
mod simulation;

pub use graph::{GraphFault, StageGraph, StageKind, Wait, WaitKind};
pub use instant::{Instant, Span};
pub use log::{Courses, Entry, EntryId, GRACE, Part, What, counts_from, standing};
pub use product::{
    Bed, DefaultWindow, Footing, Grounds, OwnWindow, Product, ProductClass, ProductFault, Window,
};
pub use ready::{Products, Reason, Running, Verdict, Wall, Work, done_early, not_before, open_starts};
pub use trust::{BootId, Heartbeats, Now, Stamp, WallClock, surely_elapsed};
