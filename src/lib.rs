//! crushbook, room by room, in reading order.

pub mod domain;
pub mod keys;
pub mod session;
pub mod store;
pub mod terminal;
pub mod wire;
