//! How it looks.

pub mod pads;
mod pictures;
mod regions;
mod sizes;
mod theme;
pub mod world;
