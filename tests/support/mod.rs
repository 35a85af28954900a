//! What several topics need: a small world to write records in. Sealed: no clock, no randomness, no real home.

pub mod cow;
pub mod meter;
pub mod sample;
pub mod tablet;
pub mod turns;
pub mod years;
