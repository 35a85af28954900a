//! What things are and what follows from them. Pure: no files, no clock, no bytes, no keys, no colours.

pub mod anatomy;
pub mod vocabulary;
