//! The real clock: the only place in the program that asks what time it is.

use chrono::{DateTime, FixedOffset, Local};

/// Now, by the tablet's clock, with the offset of the place it is set to.
pub fn now() -> DateTime<FixedOffset> {
    Local::now().fixed_offset()
}
