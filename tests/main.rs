//! One test binary.

mod sheet;
