//! Outside text on its way to a terminal, a page or a file: no control characters, no direction marks, padded by the width
//! it takes.

use crate::domain::letters::is_unseen;
use unicode_width::UnicodeWidthStr;

/// The text without anything that moves a cursor, changes a colour or turns the direction of writing.
pub fn safe(text: &str) -> String {
    text.chars().filter(|letter| !is_unseen(*letter)).collect()
}

/// The text in exactly so many columns: cut where it is wider, filled with blanks where it is narrower.
pub fn column(text: &str, columns: usize) -> String {
    let cut = cut(text, columns);
    let blanks = columns.saturating_sub(cut.width());
    format!("{cut}{}", " ".repeat(blanks))
}

/// The text in at most so many columns.
pub fn cut(text: &str, columns: usize) -> String {
    let text = safe(text);
    text[..fitting(&text, columns)].to_owned()
}

/// Rows of cells in columns, each as wide as its widest cell, two blanks apart.
pub fn in_columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |at: usize| rows.iter().filter_map(|row| row.get(at)).map(|cell| safe(cell).width()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells: Vec<String> = row.iter().zip(&widths).map(|(cell, width)| column(cell, *width)).collect();
        format!("{}\n", cells.join("  ").trim_end())
    };
    rows.iter().map(line).collect()
}

/// The text in lines of at most so many columns, broken between words, and inside a word only where it is longer than a
/// line. Nothing of it is left out; an empty text is no line.
pub fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in safe(text).split_whitespace() {
        if let Some(line) = lines.last_mut()
            && line.width() + 1 + word.width() <= columns
        {
            line.push(' ');
            line.push_str(word);
            continue;
        }
        let mut rest = word;
        while !rest.is_empty() {
            // A line too narrow for a single letter takes one all the same, so that an end comes.
            let first = rest.chars().next().map_or(rest.len(), char::len_utf8);
            let (piece, after) = rest.split_at(fitting(rest, columns).max(first));
            lines.push(piece.to_owned());
            rest = after;
        }
    }
    lines
}

/// How many bytes of the text fit. Letters are measured together, since some change their width beside others.
fn fitting(text: &str, columns: usize) -> usize {
    let ends = text.char_indices().map(|(at, letter)| at + letter.len_utf8());
    ends.take_while(|end| text[..*end].width() <= columns).last().unwrap_or(0)
}

/// As many whole words as have room, with the blanks between them.
pub fn whole(text: &str, columns: usize) -> String {
    let fits = |end: &usize| text[..*end].width() <= columns;
    let ends = text.match_indices(' ').map(|(at, _)| at).chain([text.len()]);
    let end = ends.take_while(fits).last().unwrap_or(0);
    text[..end].trim_end().to_owned()
}
