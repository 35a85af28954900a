//! Tables as other programs read them: commas, CR LF, quotes where needed (RFC 4180).
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-`, `@`, a tab or a line end for a formula and runs it, whoever
//! wrote it. So such a cell gets a `'` before it, which a spreadsheet shows as text; read here it is taken away again. A
//! cell that has such marks of its own before one of those gets one more, so that nothing is lost either way.
//!
//! Where a spreadsheet is to keep a number as text, people have it write `="1376"`: that is 1376.

use super::error::WireError;
use std::borrow::Cow;

/// Writes rows, the head first. Errors: none that a table of text can have; the csv writer's own words otherwise.
pub fn write(rows: &[Vec<String>]) -> Result<String, WireError> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(Vec::new());
    for row in rows {
        let cells = row.iter().map(|cell| neutral(cell));
        writer.write_record(cells).map_err(|why| WireError::Codec(why.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|why| WireError::Codec(why.to_string()))?;
    String::from_utf8(bytes).map_err(|why| WireError::Codec(why.to_string()))
}

/// A cell that no spreadsheet runs.
pub fn neutral(cell: &str) -> String {
    if runs(cell) { format!("'{cell}") } else { cell.to_owned() }
}

/// A cell as it was before [`neutral`], or before a spreadsheet was told that it is text.
pub fn restored(cell: &str) -> Cow<'_, str> {
    let as_text = cell.strip_prefix("=\"").and_then(|rest| rest.strip_suffix('"'));
    if let Some(text) = as_text {
        return Cow::Owned(text.replace("\"\"", "\""));
    }
    match cell.strip_prefix('\'') {
        Some(rest) if runs(rest) => Cow::Borrowed(rest),
        Some(_) | None => Cow::Borrowed(cell),
    }
}

fn runs(cell: &str) -> bool {
    cell.trim_start_matches('\'').starts_with(['=', '+', '-', '@', '\t', '\r'])
}
