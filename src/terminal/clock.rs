//! The real clock: the only place in the program that asks what time it is.

use chrono::{DateTime, FixedOffset, Local, Timelike};

/// Now to the second, by the tablet's clock, with the offset of the place it is set to. The record keeps no less.
pub fn now() -> DateTime<FixedOffset> {
    let now = Local::now().fixed_offset();
    now.with_nanosecond(0).unwrap_or(now)
}
