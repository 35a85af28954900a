//! The one place that turns any error into what went wrong, why, and what to do next.

use crate::domain::flood;
use crate::domain::letters::has_unseen;
use crate::report::safe::safe;
use crate::store::error::StoreError;
use crate::wire::error::plain;
use std::io::{self, Write};

/// What kind of end it is: it decides the exit code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Asked for something that cannot be: exit code 2.
    Usage,
    /// Could not be done: exit code 1.
    Failed,
    /// Whoever read the output has gone: nothing is said, exit code 0.
    ReaderGone,
    /// A signal of that number asked for the end: exit code 128 and the number.
    Stopped(u8),
}

/// Why a command ended before its time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Kind.
    pub kind: Kind,
    /// What went wrong, with the value and the place.
    pub what: String,
    /// Causes, one a line.
    pub causes: Vec<String>,
    /// What to do next; empty where the sentence says it already.
    pub hint: String,
}

impl Fault {
    /// Something could not be done.
    pub fn failed(what: impl Into<String>, hint: impl Into<String>) -> Fault {
        Fault { kind: Kind::Failed, what: what.into(), causes: Vec::new(), hint: hint.into() }
    }

    /// Something was asked for that cannot be.
    pub fn usage(what: impl Into<String>, hint: impl Into<String>) -> Fault {
        Fault { kind: Kind::Usage, ..Fault::failed(what, hint) }
    }

    /// The same with its causes.
    pub fn because(self, causes: Vec<String>) -> Fault {
        Fault { causes, ..self }
    }

    /// The same, at the wish of whoever sent a signal; as it is, where none did.
    pub fn stopped_by(self, signal: Option<u8>) -> Fault {
        Fault { kind: signal.map_or(self.kind, Kind::Stopped), ..self }
    }

    /// Exit code: 0, 1, 2, or 128 and the number of a signal.
    pub fn code(&self) -> u8 {
        match self.kind {
            Kind::ReaderGone => 0,
            Kind::Failed => 1,
            Kind::Usage => 2,
            Kind::Stopped(signal) => 128_u8.saturating_add(signal),
        }
    }

    /// Writes it for a person, of many causes the first. Errors: those of the writer.
    pub fn write(&self, to: &mut dyn Write) -> io::Result<()> {
        if self.kind == Kind::ReaderGone {
            return Ok(());
        }
        writeln!(to, "crushbook: {}", safe(&self.what))?;
        for cause in flood::told(&self.causes) {
            writeln!(to, "  {}", safe(&cause))?;
        }
        if !self.hint.is_empty() {
            writeln!(to, "{}", safe(&self.hint))?;
        }
        Ok(())
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Fault {
        Fault::failed(error.to_string(), "")
    }
}

impl From<io::Error> for Fault {
    /// An error of the output: the only thing that commands write to without naming a file.
    fn from(error: io::Error) -> Fault {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Fault { kind: Kind::ReaderGone, ..Fault::failed("", "") },
            _ => Fault::failed(format!("the output cannot be written: {error}"), "Look whether the disk is full."),
        }
    }
}

/// A name that was given, as it is kept.
///
/// # Errors
/// Letters that nobody sees.
pub fn name(who: &str, given: &str) -> Result<String, Fault> {
    if has_unseen(given) {
        let what = format!("letters stand in {who}, \"{}\", that nobody sees", plain(given));
        return Err(Fault::usage(what, "Type the name anew, letter by letter; nothing was written."));
    }
    Ok(given.trim().to_owned())
}
