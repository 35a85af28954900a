//! Hears the signals that ask the program to end or to stop, and passes them to the loop,
//! which saves, restores the terminal and answers with the proper exit code. A command without a screen asks whether one came.

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

/// Stops the program until it is brought to the front again. Where the system cannot stop a program this does nothing.
///
/// # Errors
/// What the system says.
pub fn stop() -> std::io::Result<()> {
    #[cfg(unix)]
    signal_hook::low_level::raise(signal_hook::consts::SIGSTOP)?;
    Ok(())
}

/// Whether a signal asked the program to end. Signals do what they always do until this is asked for the first time; from
/// then on the first one is only noted, and a second one ends the program at once.
#[derive(Debug, Default)]
pub struct Asked(std::sync::OnceLock<std::sync::Arc<std::sync::atomic::AtomicUsize>>);

impl Asked {
    /// The number of the signal that came.
    pub fn number(&self) -> Option<u8> {
        let number = self.0.get_or_init(note).load(std::sync::atomic::Ordering::Relaxed);
        u8::try_from(number).ok().filter(|number| *number > 0)
    }
}

#[cfg(unix)]
fn note() -> std::sync::Arc<std::sync::atomic::AtomicUsize> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::flag;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicBool, AtomicUsize};

    let number = Arc::new(AtomicUsize::new(0));
    let twice = Arc::new(AtomicBool::new(false));
    for signal in [SIGINT, SIGTERM, SIGHUP] {
        // Where the system refuses, the signal ends the program as it always did.
        let noted = flag::register_conditional_default(signal, Arc::clone(&twice))
            .and_then(|_| flag::register(signal, Arc::clone(&twice)))
            .and_then(|_| flag::register_usize(signal, Arc::clone(&number), usize::try_from(signal).unwrap_or(0)));
        if noted.is_err() {
            break;
        }
    }
    number
}

#[cfg(not(unix))]
fn note() -> std::sync::Arc<std::sync::atomic::AtomicUsize> {
    std::sync::Arc::default()
}
