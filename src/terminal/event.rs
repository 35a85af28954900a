//! What can come in from outside, in our own words, and what can go wrong.

use std::time::Duration;

use thiserror::Error;

use crate::keys::key::Key;

/// Something that came in, with its time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamped {
    /// Time since the start of the program, taken where it arrived.
    pub at: Duration,
    /// What came.
    pub event: Event,
}

/// What came in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// A key press or its repeat.
    Key(Key),
    /// Text pasted in one piece.
    Paste(String),
    /// A tap or click, in cells from the top left corner.
    Tap {
        /// Column, from 0.
        column: u16,
        /// Row, from 0.
        row: u16,
    },
    /// The window has another size, in cells.
    Resize {
        /// Columns.
        width: u16,
        /// Rows.
        height: u16,
    },
    /// A line that was typed.
    Line(Line),
    /// The system asks the program to stop or to end.
    Signal(Signal),
    /// The terminal can no longer be read.
    Gone(String),
}

/// A line, where the terminal keeps its own lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Line {
    /// Its text.
    Text(String),
    /// It is not UTF-8.
    NotText,
    /// It is longer than any that can be meant.
    TooLong,
    /// The input ended in the middle of it.
    Unfinished,
}

/// A signal that is answered in an orderly way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// Asked to end.
    Terminate,
    /// The terminal was closed.
    HangUp,
    /// Interrupted from outside (Ctrl+C itself arrives as a key).
    Interrupt,
    /// Asked to stop for a while.
    Stop,
}

impl Signal {
    /// The exit code that tells the caller which signal ended the program: 128 and its number.
    ///
    /// `None` for a stop, which does not end it. Numbers: POSIX, `kill -l`.
    pub fn exit_code(self) -> Option<u8> {
        match self {
            Signal::HangUp => Some(128 + 1),
            Signal::Interrupt => Some(128 + 2),
            Signal::Terminate => Some(128 + 15),
            Signal::Stop => None,
        }
    }
}

/// What the terminal refused.
#[derive(Debug, Error)]
pub enum TerminalError {
    /// Raw mode, the other screen or one of the switches.
    #[error("the terminal cannot be set up: {0}; try another terminal; `crushbook due` needs none")]
    SetUp(std::io::Error),
    /// A thread could not be started.
    #[error("the thread for {what} cannot be started: {cause}; close other programs and try again")]
    Thread {
        /// What it was for.
        what: &'static str,
        /// What the system said.
        cause: std::io::Error,
    },
    /// The handlers for signals.
    #[error("signals cannot be watched: {0}; start the program again")]
    Signals(std::io::Error),
    /// Stopping for a while.
    #[error("the program cannot be suspended: {0}; it goes on")]
    Suspend(std::io::Error),
}
