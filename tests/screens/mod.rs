//! How it looks.

mod pictures;
mod regions;
mod sizes;
mod theme;
pub mod world;
