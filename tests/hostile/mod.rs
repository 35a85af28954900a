//! Hostile text in every field that holds any: control characters, escape sequences, direction marks, very long and very wide
//! text. None of it reaches a terminal, a page or a file raw, and nothing breaks.

mod commands;
mod herd;
mod screens;
