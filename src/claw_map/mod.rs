//! The map of eight claws: who owns which cell, where labels stand, and what each state looks like, without colour.
//!
//! One drawing a size is data (`masks/`). The same table draws, labels and answers a tap, so they cannot disagree:
//! [`mask`] reads it, [`picture`] turns it the way a foot is seen, [`layout`] stands feet on a screen, [`marks`] is what
//! the caller wants shown, [`label`] fits a code into its zone, and [`sketch`] puts it together into plain cells that a
//! screen colours and a report prints. Knows the domain's anatomy and nothing else: no colours, keys or records.

pub mod area;
pub mod label;
pub mod layout;
pub mod marks;
pub mod mask;
pub mod outline;
pub mod picture;
pub mod sketch;
pub mod words;
