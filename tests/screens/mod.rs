//! How it looks.

mod pictures;
mod theme;
mod world;
