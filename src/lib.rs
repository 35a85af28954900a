//! crushbook, room by room, in reading order.

pub mod claw_map;
pub mod command;
pub mod domain;
pub mod keys;
pub mod plain;
pub mod report;
pub mod run;
pub mod screen;
pub mod session;
pub mod store;
pub mod terminal;
pub mod wire;
