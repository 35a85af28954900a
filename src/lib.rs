//! crushbook, room by room, in reading order.

pub mod domain;
pub mod store;
pub mod wire;
