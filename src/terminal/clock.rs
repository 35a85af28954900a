//! The real clock: the only place in the program that asks what time it is, or how long something took.

use chrono::{DateTime, FixedOffset, Local, Timelike};
use std::time::{Duration, Instant};

/// Now to the second, by the tablet's clock, with the offset of the place it is set to. The record keeps no less.
pub fn now() -> DateTime<FixedOffset> {
    let now = Local::now().fixed_offset();
    now.with_nanosecond(0).unwrap_or(now)
}

/// A watch set going once, by which keys are stamped: a clock may be put right between two presses, a watch is not.
#[derive(Clone, Copy, Debug)]
pub struct Watch(Instant);

impl Watch {
    /// Sets it going.
    pub fn start() -> Watch {
        Watch(Instant::now())
    }

    /// How long it has run.
    pub fn shows(self) -> Duration {
        self.0.elapsed()
    }
}
