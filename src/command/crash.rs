//! Reports of the program's own faults: written when it breaks off, told at the next start until they were read.
//!
//! A report holds no animal, farm, person or path of the user's: version, place in the code, where the hands were, the last
//! wishes by their kind, and the calls that led there. A message is in it only where it is the same for everybody.

use super::log::make;
use crate::domain::record::Moment;
use std::fs;
use std::io;
use std::panic::PanicHookInfo;
use std::path::{Path, PathBuf};

/// Reports that are kept.
const KEPT: usize = 5;
/// Lines of the calls that led to a fault.
const CALLS: usize = 80;
/// Names the newest report as long as nobody has read of it.
const UNREAD: &str = "crash-unread.txt";

/// What the program was doing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Doing {
    /// Columns and rows of the screen.
    pub size: Option<(u16, u16)>,
    /// Where the hands were.
    pub context: &'static str,
    /// The last wishes by their kind, newest last.
    pub wishes: Vec<String>,
}

/// A report nobody has read of yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The report.
    pub file: PathBuf,
    /// When it was.
    pub when: String,
    /// Where in the code.
    pub place: String,
}

/// The report of a panic as text.
pub fn report(panic: &PanicHookInfo<'_>, now: Moment, doing: &Doing, calls: &str) -> String {
    let place = panic.location().map_or_else(
        || "not known".to_owned(),
        |at| format!("{}:{}:{}", in_the_code(at.file()), at.line(), at.column()),
    );
    // A message that was put together may hold what was typed; one written into the program cannot.
    let message = panic.payload().downcast_ref::<&'static str>().map_or("left out", |words| words);
    let size = doing.size.map_or_else(|| "none".to_owned(), |(columns, rows)| format!("{columns}x{rows}"));
    format!(
        "crushbook {}\nwhen {}\nplace {place}\nmessage {message}\nsystem {} {}\nscreen {size}\nhands {}\nwishes {}\ncalls\n{}",
        env!("CARGO_PKG_VERSION"),
        now.format("%Y-%m-%d %H:%M"),
        std::env::consts::OS,
        std::env::consts::ARCH,
        doing.context,
        doing.wishes.join(" "),
        calls.lines().map(call).take(CALLS).collect::<String>(),
    )
}

/// A line of the calls, with paths as they stand in the code.
fn call(line: &str) -> String {
    match line.trim_start().strip_prefix("at ") {
        Some(path) => format!("    at {}\n", in_the_code(path)),
        None => format!("{line}\n"),
    }
}

/// A place in a source file, without where that lay when the program was built: `redb-4.6.0/src/db.rs`, `src/run/mod.rs`.
pub fn in_the_code(path: &str) -> String {
    let path = path.trim_start_matches("./").replace('\\', "/");
    let Some((before, after)) = path.rsplit_once("/src/") else {
        let name = path.rsplit('/').next().unwrap_or(&path);
        return if path.starts_with("src/") || path.starts_with("tests/") { path } else { name.to_owned() };
    };
    format!("{}/src/{after}", before.rsplit('/').next().unwrap_or(before))
}

/// Keeps a report, and lets go of the oldest.
pub fn keep(folder: &Path, now: Moment, report: &str) -> io::Result<PathBuf> {
    make(folder)?;
    let file = folder.join(now.format("crash-%Y%m%d-%H%M%S.txt").to_string());
    fs::write(&file, report)?;
    fs::write(folder.join(UNREAD), file.file_name().unwrap_or_default().as_encoded_bytes())?;
    let mut kept: Vec<PathBuf> =
        fs::read_dir(folder)?.filter_map(|entry| Some(entry.ok()?.path())).filter(|path| is_report(path)).collect();
    kept.sort();
    for old in kept.iter().rev().skip(KEPT) {
        fs::remove_file(old)?;
    }
    Ok(file)
}

fn is_report(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.starts_with("crash-") && name.ends_with(".txt") && name != UNREAD
}

/// The newest report, where nobody has read of it.
pub fn unread(folder: &Path) -> Option<Unread> {
    let name = fs::read_to_string(folder.join(UNREAD)).ok()?;
    let file = folder.join(name.trim());
    // Nothing but a report's own name leads to a report.
    let text = Some(&file).filter(|file| is_report(file) && file.parent() == Some(folder));
    let text = fs::read_to_string(text?).ok()?;
    let line = |word: &str| text.lines().find_map(|line| line.strip_prefix(word)).unwrap_or_default().trim().to_owned();
    Some(Unread { file, when: line("when "), place: line("place ") })
}

/// Somebody has read of it.
pub fn was_read(folder: &Path) {
    // If it stays it is told once more.
    let _ = fs::remove_file(folder.join(UNREAD));
}

/// What is said at the next start. `sound`: the book opened, and nothing was wrong with it.
pub fn told(unread: &Unread, sound: bool) -> String {
    let book = match sound {
        true => "Nothing that was shown as saved is lost: the book opened, and the last keys are in it",
        false => "The book opened, but see what is said about it here",
    };
    format!(
        "crushbook broke off on {} by a fault of its own. {book}. A report without names is in {}",
        unread.when,
        unread.file.display()
    )
}
