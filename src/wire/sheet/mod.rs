//! Sheets as text: the notation for a day that was written on paper, one fact a line in words a trimmer would write.
//!
//! `parse` and `print` are inverses: what is printed is read back the same, and a sheet in the printed form prints
//! unchanged. Every mistake is listed with line, column and what to write instead; a sheet with a mistake yields nothing.
//!
//! How the text is read: `tokens` cuts a line into words and quoted words, `reader` walks along one line, `day`, `place`,
//! `finding`, `thing` and `medicine` read the parts, `fact` one line of a turn, `told` one line outside a turn, `document` the whole.

mod day;
mod document;
mod fact;
mod finding;
mod medicine;
mod mistake;
mod place;
mod print;
mod reader;
mod thing;
mod tokens;
mod told;
mod words;

use crate::domain::sheet::Sheet;
use crate::domain::sheet::transcribe::Snag;

/// One mistake.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}:{column}: {what}; {suggestion}")]
pub struct Mistake {
    /// File the sheet came from, safe to show.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// What to do about it.
    pub suggestion: String,
}

/// A sheet and the line on which each of its facts stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The sheet.
    pub sheet: Sheet,
    /// Line numbers, from 1: for each entry of the sheet, first its own and then that of each of its facts.
    pub lines: Vec<Vec<usize>>,
    /// The line of its day.
    pub day: usize,
    /// The line that says who recorded, where there is one.
    pub by: Option<usize>,
    /// The line of its visit, where there is one.
    pub visit: Option<usize>,
}

/// Reads a sheet; `file` is the name that mistakes carry. Never stops at the first mistake.
pub fn parse(text: &str, file: &str) -> Result<Sheet, Vec<Mistake>> {
    read(text, file).map(|reading| reading.sheet)
}

/// Reads a sheet and keeps the lines, so that what cannot be entered later can be shown where it stands.
pub fn read(text: &str, file: &str) -> Result<Reading, Vec<Mistake>> {
    document::read(text, file)
}

/// Writes a sheet in its one printed form, lines ending in LF.
pub fn print(sheet: &Sheet) -> String {
    print::sheet(sheet)
}

/// Says where in the file a fact stands that could not be entered, and what to do. `entry` is its number in `sheet.lines`.
pub fn explain(reading: &Reading, file: &str, entry: usize, snag: &Snag) -> Mistake {
    mistake::explain(reading, file, entry, snag)
}

/// The body of the fuzz target: reads any bytes as a sheet, and what is read must print and read back the same.
///
/// # Panics
/// Where a sheet that was read does not read back the same: a fault of this room, which is what fuzzing looks for.
pub fn fuzz(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let Ok(sheet) = parse(&text, "fuzz") else { return };
    let printed = print(&sheet);
    let again = parse(&printed, "fuzz");
    assert_eq!(again.as_ref(), Ok(&sheet), "print and parse are inverses:\n{printed}");
    assert_eq!(print(&sheet), printed, "printing is steady");
}
