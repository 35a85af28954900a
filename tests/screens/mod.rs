//! How it looks.

mod pictures;
mod regions;
mod sizes;
mod theme;
mod trial;
pub mod world;
