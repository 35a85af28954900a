//! Text for people: reports, lists, the map as characters. Pure.

pub mod call_out;
pub mod map_text;
pub mod marks;
pub mod safe;
pub mod words;
