//! Reads typed lines on a thread of its own: the terminal edits each line itself, or there is no terminal and a pipe brings them.

use std::io::{self, BufRead, Read, stdin};
use std::sync::mpsc::Sender;
use std::thread;

use crate::terminal::clock::Watch;
use crate::terminal::event::{Event, Line, Stamped, TerminalError};

/// Bytes of the longest line that can be meant: the longest note in letters of four bytes is half of it.
const MOST: u64 = 4096;

/// Starts the thread. It ends when nobody listens any more, or with [`Event::Gone`] when the input ends.
///
/// # Errors
/// [`TerminalError::Thread`].
pub fn listen(watch: Watch, to: Sender<Stamped>) -> Result<(), TerminalError> {
    let pass_on = move || {
        let mut input = stdin().lock();
        loop {
            let (event, more) = match next(&mut input) {
                Ok(Some(line)) => (Event::Line(line), true),
                Ok(None) => (Event::Gone("the input ended".to_owned()), false),
                Err(why) => (Event::Gone(why.to_string()), false),
            };
            if to.send(Stamped { at: watch.shows(), event }).is_err() || !more {
                return;
            }
        }
    };
    let thread = thread::Builder::new().name("input".to_owned()).spawn(pass_on);
    thread.map(drop).map_err(|cause| TerminalError::Thread { what: "lines", cause })
}

/// The next line; none at the end of the input. Of one that is too long the rest is read and let go.
///
/// # Errors
/// Those of the input.
pub fn next(input: &mut dyn BufRead) -> io::Result<Option<Line>> {
    let mut bytes = Vec::new();
    input.take(MOST + 1).read_until(b'\n', &mut bytes)?;
    let ended = bytes.last() == Some(&b'\n');
    if bytes.is_empty() {
        return Ok(None);
    }
    if !ended && bytes.len() as u64 > MOST {
        input.skip_until(b'\n')?;
        return Ok(Some(Line::TooLong));
    }
    if !ended {
        return Ok(Some(Line::Unfinished));
    }
    bytes.pop();
    // Where a reader or a file ends its lines with both.
    let text = bytes.strip_suffix(b"\r").unwrap_or(&bytes).to_vec();
    Ok(Some(String::from_utf8(text).map_or(Line::NotText, Line::Text)))
}
