//! Products, stages, windows, and the gate that keeps people from working on a wall too early.
//!
//! In the order a question meets them:
//!
//! - [`Instant`], [`Span`]: elapsed time in milliseconds, never the calendar;
//! - [`Stamp`], [`Now`]: which clock said so, and how much time has surely passed;
//! - [`Product`], [`ProductClass`]: how long to wait, and who says so;
//! - [`StageGraph`]: what waits for what on this job;
//! - [`Entry`], [`standing`]: what people reported, and which of it still stands;
//! - [`Temperature`], [`Climate`]: how cold it was, and [`ColdRule`]: how much longer that makes a window;
//! - [`not_before`]: the earliest next step;
//! - [`gate::ask`]: may it be started now, and if not, why;
//! - [`Batch`], [`suggest`]: until when a mix may be used, and how much to mix at once.
//!
//! Where the program is unsure it errs on the side of waiting. Deliberately absent: a clock (instants are
//! handed in), and time zones and words for times (pages have them).

mod batch;
mod climate;
mod cold;
mod figure;
pub mod gate;
mod graph;
mod instant;
mod log;
mod product;
mod ready;
mod running;
mod temperature;
mod template;
mod trust;

#[cfg(test)]
mod simulation;

pub use batch::{
    AmountFault, Batch, BatchStanding, BatchWindows, Buckets, GROUT_DENSITY, GROUT_WASTE_PERCENT, Powder,
    Rate, Suggestion, Use, Water, Wetness, grout_per_m2, mortar_per_m2, suggest,
};
pub use climate::{Climate, Night, Reading, Stretch};
pub use cold::{ColdRule, Slowdown, equivalent_age, maturity_rate};
pub use figure::{DefaultFigure, Figure, Measure};
pub use graph::{GraphFault, StageGraph, StageKind, Wait, WaitKind};
pub use instant::{Instant, Span};
pub use log::{Courses, Entry, EntryId, GRACE, Part, What, counts_from, standing};
pub use product::{
    Bed, DefaultWindow, Footing, Grounds, OwnLowest, OwnWindow, Product, ProductClass, ProductFault, Window,
};
pub use ready::{
    Products, Reason, Running, Verdict, Wall, Work, done_early, may_have_frozen, not_before, open_starts,
};
pub use running::{Pace, Terms};
pub use temperature::{Scale, Temperature, TemperatureFault};
pub use template::Template;
pub use trust::{BootId, Heartbeats, Now, Stamp, WallClock, surely_elapsed};
