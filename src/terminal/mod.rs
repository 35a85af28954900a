//! The one room that touches the terminal and the clock.
//!
//! It sets the terminal up and puts it back, reads keys on a thread of their own, hears
//! signals, and says what time it is. What a key means is not known here: everything is
//! turned into [`crate::keys::key::Key`] once, in `normal`, and handed on with its time.

pub mod clock;
pub mod event;
pub mod guard;
pub mod input;
pub mod lines;
pub mod normal;
pub mod signal;
