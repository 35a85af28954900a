//! Keys: names, the two keymaps, keymap files, the filter, readings, and the terminal beneath.

mod filter;
mod keymaps;
mod layouts;
mod names;
mod problems;
mod reading;
#[cfg(unix)]
mod restored;
mod terminal;
