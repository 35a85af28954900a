//! `crushbook keys --try` in a terminal: no book, no session; the guard, the input thread and the filter as in the screens.

use super::RunError;
use crate::command::fault::Fault;
use crate::keys::trial::Trial;
use crate::report::words::Words;
use crate::screen::trial::draw;
use crate::terminal::clock::Watch;
use crate::terminal::event::{Event, Signal, Stamped};
use crate::terminal::guard::{self, Guard, Screen};
use crate::terminal::{input, signal};
use std::mem::ManuallyDrop;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};

/// Has keys tried until it is left; gives the exit code.
///
/// # Errors
/// A [`Fault`], to be written to the person who asked.
pub fn open_trial(mut trial: Trial, words: Words) -> Result<u8, Fault> {
    attempt(&mut trial, words).map_err(|why| Fault::failed(why.to_string(), ""))
}

fn attempt(trial: &mut Trial, words: Words) -> Result<u8, RunError> {
    let watch = Watch::start();
    // With taps: this is where to see whether they arrive.
    let guard = Guard::enter(true)?;
    // Never dropped, as in the screens: the guard shows the cursor again.
    let mut screen = ManuallyDrop::new(guard.screen()?);
    let (to, from) = channel();
    signal::listen(watch, to.clone())?;
    input::listen(watch, to)?;
    let code = turn_over(&mut screen, trial, words, &from, watch);
    drop(guard);
    code
}

fn turn_over(
    screen: &mut Screen,
    trial: &mut Trial,
    words: Words,
    from: &Receiver<Stamped>,
    watch: Watch,
) -> Result<u8, RunError> {
    let colour = super::colour();
    while !trial.is_done() {
        screen.draw(|frame| draw(frame, trial, words, colour)).map_err(RunError::Draw)?;
        let received = match trial.wakes_at() {
            Some(at) => from.recv_timeout(at.saturating_sub(watch.shows())),
            None => from.recv().map_err(|_| RecvTimeoutError::Disconnected),
        };
        let stamped = match received {
            Ok(stamped) => stamped,
            Err(RecvTimeoutError::Timeout) => {
                trial.tick(watch.shows());
                continue;
            }
            Err(RecvTimeoutError::Disconnected) => return Ok(0),
        };
        match stamped.event {
            Event::Key(key) => trial.take(stamped.at, key),
            Event::Paste(text) => trial.paste(stamped.at, &text),
            Event::Tap { column, row } => trial.tap(column, row),
            Event::Resize { .. } => guard::afresh(screen)?,
            Event::Signal(Signal::Stop) => {
                guard::suspend()?;
                guard::afresh(screen)?;
            }
            Event::Signal(signal) => return Ok(signal.exit_code().unwrap_or(0)),
            Event::Gone(_) | Event::Line(_) => return Ok(0),
        }
    }
    Ok(0)
}
