//! Keys: names, the keymaps, keyboard layouts, keymap files, the filter, and the terminal beneath.

mod filter;
mod keymaps;
mod layouts;
mod names;
mod problems;
#[cfg(unix)]
mod restored;
mod terminal;
mod trial;
