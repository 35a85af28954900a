//! Text for people: reports, lists, the map as characters. Pure.

pub mod animal;
pub mod call_out;
pub mod case;
pub mod day_list;
pub mod disagreement;
pub mod due;
pub mod farm;
pub mod flag;
pub mod herd;
pub mod herd_list;
pub mod last;
pub mod map_text;
pub mod marks;
pub mod safe;
pub mod strip;
pub mod take_off;
pub mod totals;
pub mod turn;
pub mod twice;
pub mod visit;
pub mod visits;
pub mod was;
pub mod withheld;
pub mod words;
