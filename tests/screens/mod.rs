//! How it looks.

mod footers;
mod instructed;
mod number;
pub mod pads;
mod pictures;
mod regions;
mod sizes;
mod theme;
mod whole;
pub mod world;
