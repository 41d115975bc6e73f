//! What time it is: the wall clock, and the machine's own clock that nobody sets. The only caller of `now`.

use std::sync::{Arc, Mutex, PoisonError};

use trade::cure::Instant;

/// Where the time comes from.
#[derive(Clone, Debug)]
pub enum Clock {
    /// The machine's clocks.
    System(Boot),
    /// A time that stands still until it is moved, for tests.
    Fixed(Arc<Mutex<Stamp>>),
}

/// Which start of the machine this is: instants of its own clock compare only within one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Boot(pub String);

/// One reading of both clocks.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stamp {
    /// The wall clock, which people and networks set.
    pub wall: Instant,
    /// This start of the machine.
    pub boot: Boot,
    /// Milliseconds since then, counted through sleep.
    pub boot_ms: i64,
}

impl Clock {
    /// The machine's clocks.
    pub fn system() -> Self {
        Self::System(this_boot())
    }

    /// Both clocks, read now.
    pub fn stamp(&self) -> Stamp {
        match self {
            Self::System(boot) => Stamp { wall: wall_now(), boot: boot.clone(), boot_ms: boot_now() },
            Self::Fixed(stamp) => stamp.lock().unwrap_or_else(PoisonError::into_inner).clone(),
        }
    }

    /// The wall clock, read now.
    pub fn now(&self) -> Instant {
        self.stamp().wall
    }
}

#[expect(clippy::disallowed_methods, reason = "this is the one place that reads the clock")]
fn wall_now() -> Instant {
    Instant::from_millis(jiff::Timestamp::now().as_millisecond())
}

/// The kernel's name for this start of the machine; where there is none, a name for this process, which only
/// makes waits longer.
#[expect(clippy::disallowed_methods, reason = "a kernel file, not the database")]
fn this_boot() -> Boot {
    std::fs::read_to_string("/proc/sys/kernel/random/boot_id")
        .map(|id| Boot(id.trim().to_owned()))
        .unwrap_or_else(|_| Boot(crate::store::random_name()))
}

fn boot_now() -> i64 {
    #[cfg(target_os = "linux")]
    let clock = rustix::time::ClockId::Boottime;
    #[cfg(not(target_os = "linux"))]
    let clock = rustix::time::ClockId::Monotonic;
    let time = rustix::time::clock_gettime(clock);
    time.tv_sec * 1000 + i64::from(time.tv_nsec) / 1_000_000
}
