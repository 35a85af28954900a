//! What things are and what follows from them. Pure: no files, no clock, no bytes, no keys, no colours.

pub mod anatomy;
pub mod backup;
pub mod came_off;
pub mod case;
pub mod disagreement;
pub mod doubt;
pub mod event;
pub mod finding;
pub mod flag;
pub mod follow_up;
pub mod herd;
pub mod history;
pub mod ids;
pub mod instruction;
pub mod likely;
pub mod practice;
pub mod record;
pub mod sheet;
pub mod sign_off;
pub mod strip;
pub mod totals;
pub mod travel;
pub mod treatment;
pub mod twice;
pub mod vocabulary;
pub mod withdrawal;
