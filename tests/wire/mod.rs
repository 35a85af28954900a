//! What bytes and text look like outside memory.

pub mod arbitrary;
mod envelope;
pub mod examples;
mod exchange;
mod golden;
mod json;
mod newer;
mod page;
mod rows;
mod seeds;
