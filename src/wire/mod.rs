//! What bytes and text look like outside memory: the envelope of a record, its payload, pages, derived rows, JSON
//! lines.
//!
//! Knows the domain and nothing else of the house; keeps nothing and reads no file. Everything that reads is total: any
//! bytes give a value or an error, never a panic.

pub mod backup;
mod bytes;
pub mod codec;
mod days;
pub mod envelope;
pub mod error;
pub mod exchange;
mod fields;
pub mod find;
mod format;
pub mod fuzz;
pub mod herd_csv;
pub mod herd_fuzz;
mod herd_text;
pub mod jsonl;
mod nested;
pub mod page;
pub mod plain_text;
pub mod practice;
pub mod revisions;
pub mod rows;
pub mod rules;
pub mod settings;
pub mod sheet;
mod stored;
pub mod table;
pub mod tally;
pub mod walk_list;
