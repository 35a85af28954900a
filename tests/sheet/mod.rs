//! Sheets: the text and its inverse, every mistake in its place, records made of it, the sample herd read whole.

mod arbitrary;
mod entered;
mod herd_list;
mod mistakes;
mod notation;
mod sample_herd;
mod transcribed;
