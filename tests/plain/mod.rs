//! Lines instead of a picture: how a typed line is read, and how an answer is written.

pub mod form;
mod line;
mod page;
mod read;
