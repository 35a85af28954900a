//! Reads the terminal on a thread of its own and stamps what comes where it comes.
//!
//! A busy loop would otherwise see keys that were pressed far apart as one burst, and
//! would do so exactly when the disk is slow.

use std::sync::mpsc::Sender;
use std::thread;

use ratatui::crossterm::event::read;

use crate::terminal::clock::Watch;
use crate::terminal::event::{Event, Stamped, TerminalError};
use crate::terminal::normal;

/// Starts the input thread. It ends when nobody listens any more, or with
/// [`Event::Gone`] when the terminal can no longer be read.
///
/// # Errors
/// [`TerminalError::Thread`].
pub fn listen(watch: Watch, to: Sender<Stamped>) -> Result<(), TerminalError> {
    thread::Builder::new()
        .name("input".to_string())
        .spawn(move || while forward(watch, &to) {})
        .map(drop)
        .map_err(|cause| TerminalError::Thread { what: "keys", cause })
}

/// Waits for one event and hands it on; false when there is no point in another.
fn forward(watch: Watch, to: &Sender<Stamped>) -> bool {
    let (event, more) = match read() {
        Ok(raw) => (normal::event(raw), true),
        Err(error) => (Some(Event::Gone(error.to_string())), false),
    };
    let at = watch.shows();
    let heard = event.is_none_or(|event| to.send(Stamped { at, event }).is_ok());
    heard && more
}
