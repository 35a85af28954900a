//! crushbook, room by room, in reading order.

pub mod domain;
pub mod wire;
