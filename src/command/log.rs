//! The log: what happened to the program, in lines that hold no names, for whoever looks for the cause of trouble.
//!
//! A line is made of a fixed sentence, numbers, and what the system said; no animal, farm, person or path can get in, since
//! [`Line`] has no place for one. Three files of 64 KiB at most. Writing it asks for no flush, and whatever goes wrong with
//! it is passed over: the work comes first.

use super::place::state_folder;
use crate::domain::record::Moment;
use crate::store::error::{Problem, StoreError};
use std::fs::{self, DirBuilder, OpenOptions};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::Write;
use std::path::{Path, PathBuf};

/// A file this long is put aside, bytes.
const LONGEST: u64 = 64 << 10;
/// The log, and what was put aside, newest first.
const FILES: [&str; 3] = ["log.txt", "log-1.txt", "log-2.txt"];

/// A line of the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// The program began, with this command.
    Began(&'static str),
    /// A book was opened for the screens: which, as a number made of its path, and how many records are in it.
    Opened(u64, u64),
    /// Something was wrong with the book on the way.
    Wrong(&'static str),
    /// The disk did not take a press, or the book could not be read: what kind of refusal, and what the system said.
    Refused(&'static str, String),
    /// What was refused before is saved.
    SavedAgain,
    /// The disk took so long that "saving" was shown.
    Slow,
    /// The end, with its exit code.
    Ended(u8),
}

impl Line {
    /// Something that was wrong with the book.
    pub fn of(problem: &Problem) -> Line {
        Line::Wrong(problem.kind())
    }

    /// What a store refused.
    pub fn refused(error: &StoreError) -> Line {
        let (kind, why) = error.kind();
        Line::Refused(kind, why.to_owned())
    }

    fn words(&self) -> String {
        match self {
            Line::Began(command) => format!("began {command}, crushbook {}", env!("CARGO_PKG_VERSION")),
            Line::Opened(book, records) => format!("opened book {book:016x}, {records} records"),
            Line::Wrong(kind) => format!("book: {kind}"),
            Line::Refused(kind, why) => format!("refused: {kind} {why}").trim_end().to_owned(),
            Line::SavedAgain => "saved again".to_owned(),
            Line::Slow => "slow disk".to_owned(),
            Line::Ended(code) => format!("ended {code}"),
        }
    }
}

/// A number that tells books apart and does not tell where they lie.
pub fn number_of(book: &Path) -> u64 {
    let mut hasher = DefaultHasher::new();
    book.hash(&mut hasher);
    hasher.finish()
}

/// The log of a user.
#[derive(Debug, Clone, Default)]
pub struct Log {
    folder: Option<PathBuf>,
}

impl Log {
    /// The log in the user's state folder; where there is no such folder, one that keeps nothing.
    pub fn own() -> Log {
        Log { folder: state_folder() }
    }

    /// The log in that folder.
    pub fn at(folder: &Path) -> Log {
        Log { folder: Some(folder.to_owned()) }
    }

    /// Writes a line.
    pub fn say(&self, now: Moment, line: &Line) {
        if let Some(folder) = &self.folder {
            // Trouble with the log is nobody's trouble.
            let _ = write(folder, &format!("{} {}\n", now.format("%Y-%m-%d %H:%M:%S %z"), line.words()));
        }
    }
}

fn write(folder: &Path, line: &str) -> std::io::Result<()> {
    let file = folder.join(FILES[0]);
    match fs::symlink_metadata(&file) {
        Ok(found) if !found.is_file() => return Ok(()),
        Ok(found) if found.len() + line.len() as u64 > LONGEST => put_aside(folder)?,
        Ok(_) => {}
        Err(_) => make(folder)?,
    }
    let mut options = OpenOptions::new();
    options.append(true).create(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(file)?.write_all(line.as_bytes())
}

fn put_aside(folder: &Path) -> std::io::Result<()> {
    for pair in FILES.windows(2).rev() {
        match fs::rename(folder.join(pair[0]), folder.join(pair[1])) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    Ok(())
}

/// Makes the folder where it is missing, open to its owner only.
pub fn make(folder: &Path) -> std::io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}
