//! A bar for whoever waits, on a terminal only: one line that grows, and is gone when the work is done. It is moved by counts
//! and asks no clock.

use std::io::Write;

/// Columns of the bar.
const BAR: u64 = 20;
/// Columns of its line, which fits the smallest screen.
const LINE: usize = 58;

/// A bar that is drawn again when it has grown by a hundredth.
#[derive(Debug)]
pub struct Progress {
    shown: bool,
    drawn: Option<(&'static str, u64)>,
}

impl Progress {
    /// No bar yet; none ever where nobody watches.
    pub fn new(watched: bool) -> Progress {
        Progress { shown: watched, drawn: None }
    }

    /// So much of so much is done. What the terminal says to that is its own matter: the work goes on.
    pub fn show(&mut self, err: &mut dyn Write, what: &'static str, done: u64, of: u64) {
        let percent = done.min(of).saturating_mul(100).checked_div(of).unwrap_or(100);
        if !self.shown || self.drawn == Some((what, percent)) {
            return;
        }
        self.drawn = Some((what, percent));
        let full = usize::try_from(percent * BAR / 100).unwrap_or(0);
        let empty = BAR as usize - full;
        let line = format!("{what} [{}{}] {percent:3} %", "#".repeat(full), ".".repeat(empty));
        let _ = write!(err, "\r{line:LINE$}").and_then(|()| err.flush());
    }

    /// Takes the bar away.
    pub fn clear(&mut self, err: &mut dyn Write) {
        if self.drawn.take().is_some() {
            let _ = write!(err, "\r{:LINE$}\r", "").and_then(|()| err.flush());
        }
    }
}
