//! crushbook, room by room, in reading order.

pub mod keys;
pub mod terminal;
