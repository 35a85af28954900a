//! The session said line by line, for ears, for braille and for terminals that can do no more: a typed line is read, and what
//! is so afterwards is told in numbered lines that are never changed again.
//!
//! Pure. What is typed are the same keys and the same wishes as on the screens; only the picture differs.

pub mod help;
pub mod her;
pub mod line;
pub mod lists;
pub mod page;
pub mod question;
pub mod say;
mod walk;
