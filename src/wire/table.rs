//! Tables as other programs read them: commas, CR LF, quotes where needed (RFC 4180).
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-`, `@`, a tab or a line end for a formula and runs it, whoever
//! wrote it. So such a cell gets a `'` before it, which a spreadsheet shows as text; read here it is taken away again. A
//! cell that has such marks of its own before one of those gets one more, so that nothing is lost either way.

use super::error::WireError;

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

/// A cell as it was before [`neutral`].
pub fn restored(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if runs(rest) => rest,
        Some(_) | None => cell,
    }
}

fn runs(cell: &str) -> bool {
    cell.trim_start_matches('\'').starts_with(['=', '+', '-', '@', '\t', '\r'])
}
