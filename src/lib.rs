//! crushbook, room by room, in reading order.
