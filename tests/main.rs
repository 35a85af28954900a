//! One test binary: one file or folder a topic. A file that nobody names here fails `tidy`.
#![allow(missing_docs)]

mod claw_map;
mod commands;
mod costs;
mod flags;
mod follow_up;
mod held_to;
mod herd_list;
mod history;
mod hostile;
mod in_out;
mod keys;
mod likely;
mod limits;
mod plain;
mod readme;
mod screens;
mod sheet;
mod slip;
mod store;
mod stories;
mod strip;
mod support;
mod take_off;
mod tidy;
mod trade;
mod wire;
