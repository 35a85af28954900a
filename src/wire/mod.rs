//! What bytes and text look like outside memory.

pub mod herd_csv;
pub mod sheet;
