//! Hears the signals that ask the program to end or to stop, and passes them to the loop,
//! which saves, restores the terminal and answers with the proper exit code.

use std::sync::mpsc::Sender;

use crate::terminal::clock::Watch;
use crate::terminal::event::{Stamped, TerminalError};

/// Starts the signal thread. Where the system has no signals this does nothing.
///
/// # Errors
/// [`TerminalError::Signals`] or [`TerminalError::Thread`].
#[cfg(unix)]
pub fn listen(watch: Watch, to: Sender<Stamped>) -> Result<(), TerminalError> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGTSTP};
    use signal_hook::iterator::Signals;

    use crate::terminal::event::{Event, Signal};

    let known =
        [(SIGTERM, Signal::Terminate), (SIGHUP, Signal::HangUp), (SIGINT, Signal::Interrupt), (SIGTSTP, Signal::Stop)];
    let mut signals = Signals::new(known.map(|(number, _)| number)).map_err(TerminalError::Signals)?;
    let pass_on = move || {
        let heard = signals
            .forever()
            .filter_map(|number| known.iter().find(|(ours, _)| *ours == number).map(|(_, signal)| *signal));
        for signal in heard {
            let stamped = Stamped { at: watch.shows(), event: Event::Signal(signal) };
            if to.send(stamped).is_err() {
                return;
            }
        }
    };
    std::thread::Builder::new()
        .name("signals".to_string())
        .spawn(pass_on)
        .map(drop)
        .map_err(|cause| TerminalError::Thread { what: "signals", cause })
}

/// Starts nothing: this system has no such signals.
///
/// # Errors
/// None.
#[cfg(not(unix))]
pub fn listen(_watch: Watch, _to: Sender<Stamped>) -> Result<(), TerminalError> {
    Ok(())
}
