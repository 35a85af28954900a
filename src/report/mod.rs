//! Text for people: reports, lists, the map as characters. Pure.

pub mod animal;
pub mod call_out;
pub mod disagreement;
pub mod due;
pub mod map_text;
pub mod marks;
pub mod safe;
pub mod take_off;
pub mod totals;
pub mod turn;
pub mod withheld;
pub mod words;
