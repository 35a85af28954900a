//! Keys: names, the keymaps, keyboard layouts, keymap files, the filter, and the terminal beneath.

mod everywhere;
mod filter;
mod keymaps;
mod layouts;
mod names;
mod problems;
mod reading;
#[cfg(unix)]
mod restored;
mod terminal;
mod trial;
