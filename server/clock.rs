//! What time it is: the wall clock, and the machine's own clock that nobody sets. The only caller of `now`.

use std::sync::{Arc, Mutex, PoisonError};

use trade::cure::{BootId, Instant, Span, Stamp, WallClock};

/// Where the time comes from.
#[derive(Clone, Debug)]
pub enum Clock {
    /// The machine's clocks.
    System(BootId),
    /// A time that stands still until it is moved, for tests.
    Fixed(Arc<Mutex<Stamp>>),
}

/// Exists once the system's own time service has set the clock from the network (systemd-timesyncd(8)).
const SYNCHRONISED: &str = "/run/systemd/timesync/synchronized";

impl Clock {
    /// The machine's clocks.
    pub fn system() -> Self {
        Self::System(this_boot())
    }

    /// Both clocks, read now. Whether the wall clock is behind what was recorded before is for the store to say.
    pub fn stamp(&self) -> Stamp {
        match self {
            Self::System(boot) => {
                Stamp { wall: wall_now(), boot: *boot, since_boot: boot_now(), wall_clock: wall_clock() }
            }
            Self::Fixed(stamp) => *stamp.lock().unwrap_or_else(PoisonError::into_inner),
        }
    }

    /// The wall clock, read now.
    pub fn now(&self) -> Instant {
        self.stamp().wall
    }
}

/// How long something has taken, for a command that waits no longer than it was told.
#[derive(Clone, Copy, Debug)]
pub struct Stopwatch {
    started: std::time::Instant,
}

impl Stopwatch {
    /// Starts to count.
    #[expect(clippy::disallowed_methods, reason = "this is the one place that reads the clock")]
    pub fn start() -> Self {
        Self { started: std::time::Instant::now() }
    }

    /// The time since then.
    pub fn elapsed(&self) -> std::time::Duration {
        self.started.elapsed()
    }
}

#[expect(clippy::disallowed_methods, reason = "this is the one place that reads the clock")]
fn wall_now() -> Instant {
    Instant::from_millis(jiff::Timestamp::now().as_millisecond())
}

fn wall_clock() -> WallClock {
    if std::path::Path::new(SYNCHRONISED).exists() { WallClock::Trusted } else { WallClock::Unsure }
}

/// The kernel's name for this start of the machine; where there is none, a name for this process, which only
/// makes waits longer.
#[expect(clippy::disallowed_methods, reason = "a kernel file, not the database")]
fn this_boot() -> BootId {
    let kernel = std::fs::read_to_string("/proc/sys/kernel/random/boot_id").unwrap_or_default();
    let named = u128::from_str_radix(&kernel.trim().replace('-', ""), 16);
    BootId(named.unwrap_or_else(|_| crate::store::random_number()))
}

fn boot_now() -> Span {
    #[cfg(target_os = "linux")]
    let clock = rustix::time::ClockId::Boottime;
    #[cfg(not(target_os = "linux"))]
    let clock = rustix::time::ClockId::Monotonic;
    let time = rustix::time::clock_gettime(clock);
    Span::from_millis(time.tv_sec * 1000 + time.tv_nsec / 1_000_000)
}
