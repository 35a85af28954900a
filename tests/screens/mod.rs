//! How it looks.

mod pictures;
mod sizes;
mod theme;
mod world;
