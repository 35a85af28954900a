//! How it looks.

mod footers;
mod grey;
mod instructed;
mod lists;
mod number;
pub mod pads;
mod pictures;
mod ranked;
mod regions;
mod sixteen;
mod sizes;
mod theme;
mod trial;
mod vision;
mod whole;
pub mod world;
