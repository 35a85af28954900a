//! Keys: names, the two keymaps, keymap files, the filter, and the terminal beneath.

mod filter;
mod keymaps;
mod names;
mod problems;
#[cfg(unix)]
mod restored;
mod terminal;
