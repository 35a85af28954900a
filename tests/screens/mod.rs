//! How it looks.

mod theme;
