//! How it looks.

mod grey;
mod pictures;
mod regions;
mod sixteen;
mod sizes;
mod theme;
mod trial;
mod vision;
pub mod world;
