//! The text of a herd list before it is a table: which sign stands between its cells, where its lines are, and which quotes
//! are never closed. Lines keep their numbers.

use super::plain_text::decode;

/// Signs that a list may have between its cells without saying so.
const SEPARATORS: [u8; 3] = [b',', b';', b'\t'];
/// What a first line begins with that names the sign, as spreadsheets are told it.
const NAMES_IT: &str = "sep=";
/// Most letters that are shown of a line.
const SHOWN: usize = 60;

/// A list's text.
pub(super) struct Text {
    /// Lines that end in LF alone: the csv reader counts no other. What cannot be read as a table is blank in it.
    pub text: String,
    /// The sign between cells.
    pub separator: u8,
    /// Lines on which a quote is opened and never closed, each with how it begins.
    pub open: Vec<(u64, String)>,
    /// Whether it was no UTF-8 and was read as Windows-1252.
    pub windows: bool,
}

/// Takes the bytes apart. Errors: the first line names a sign that cannot stand between cells; its line.
pub(super) fn text(bytes: &[u8]) -> Result<Text, (u64, String)> {
    let (text, windows) = decode(bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes));
    let mut text = text.replace("\r\n", "\n").replace('\r', "\n");
    let at = text.len() - text.trim_start_matches(is_blank).len();
    let first = text[at..].split('\n').next().unwrap_or_default();
    let named = named(first).map_err(|()| (line_at(&text, at), shown(first)))?;
    let separator = named.unwrap_or_else(|| usual(first));
    if named.is_some() {
        text.replace_range(at..at + first.len(), "");
    }
    let open = blank_open(&mut text, separator);
    Ok(Text { text, separator, open, windows })
}

/// The line on which the row is that the csv reader began to look for at this byte and line: it counts none of the blank
/// lines that it skips.
pub(super) fn line_of(text: &str, position: Option<&csv::Position>) -> u64 {
    let Some(position) = position else { return 1 };
    let from = usize::try_from(position.byte()).unwrap_or(usize::MAX);
    let rest = text.as_bytes().get(from..).unwrap_or_default();
    position.line() + rest.iter().take_while(|byte| **byte == b'\n').count() as u64
}

fn is_blank(letter: char) -> bool {
    letter == '\n' || letter == ' ' || letter == '\u{feff}'
}

/// The sign that a line names, if it is such a line. Errors: it names none that can stand between cells.
fn named(line: &str) -> Result<Option<u8>, ()> {
    let line = line.trim_matches('"');
    let Some(begin) = line.get(..NAMES_IT.len()).filter(|begin| begin.eq_ignore_ascii_case(NAMES_IT)) else {
        return Ok(None);
    };
    let sign = &line[begin.len()..];
    let one = sign.bytes().next().filter(|one| *one == b'\t' || one.is_ascii_punctuation() && *one != b'"');
    // Saved once more, such a line has its empty cells behind it.
    match one.filter(|one| sign.bytes().all(|other| other == *one)) {
        Some(one) => Ok(Some(one)),
        None => Err(()),
    }
}

/// The sign that stands most often in the head, where it names none.
fn usual(head: &str) -> u8 {
    let count = |sign: &u8| head.bytes().filter(|byte| byte == sign).count();
    // Of several that stand as often the first counts.
    SEPARATORS.into_iter().rev().max_by_key(count).unwrap_or(b',')
}

/// Where a quote that was opened ends.
enum Quote {
    Closed(usize),
    /// It never does; or a later quote, which was to open another cell, would close it in the midst of a line.
    Open,
}

/// Blanks out every row in which a quote is never closed, so that the rows behind it are rows; the lines, and how they begin.
fn blank_open(text: &mut String, separator: u8) -> Vec<(u64, String)> {
    let (mut open, mut at, mut row) = (Vec::new(), 0, 0);
    let mut gaps: Vec<(usize, usize)> = Vec::new();
    let bytes = text.as_bytes();
    while at < bytes.len() {
        if bytes[at] == b'"' {
            match quote(bytes, at, separator) {
                Quote::Closed(end) => at = end,
                Quote::Open => {
                    let end = end_of_line(bytes, at);
                    open.push(at);
                    gaps.push((row, end));
                    at = end;
                }
            }
        }
        while at < bytes.len() && bytes[at] != separator && bytes[at] != b'\n' {
            at += 1;
        }
        let ends_row = bytes.get(at) == Some(&b'\n');
        at += 1;
        if ends_row {
            row = at;
        }
    }
    let begin = |at: &usize| text[..*at].rfind('\n').map_or(0, |end| end + 1);
    let (mut lines, mut from, mut line) = (Vec::new(), 0, 1);
    for at in &open {
        line += newlines(&text[from..*at]);
        from = *at;
        lines.push((line, shown(text[begin(at)..].split('\n').next().unwrap_or_default())));
    }
    let mut rest = String::with_capacity(text.len());
    let mut from = 0;
    for (gap, end) in gaps {
        rest.push_str(&text[from..gap]);
        (0..newlines(&text[gap..end])).for_each(|_| rest.push('\n'));
        from = end;
    }
    rest.push_str(&text[from..]);
    *text = rest;
    lines
}

/// Follows a quote that is opened there.
fn quote(bytes: &[u8], open: usize, separator: u8) -> Quote {
    let mut at = open + 1;
    while at < bytes.len() {
        if bytes[at] != b'"' {
            at += 1;
            continue;
        }
        match bytes.get(at + 1) {
            Some(b'"') => at += 2,
            None | Some(b'\n') => return Quote::Closed(at + 1),
            Some(next) if *next == separator => return Quote::Closed(at + 1),
            // In one line it is read as it is meant: `"Bess" the red`.
            Some(_) if !bytes[open..at].contains(&b'\n') => return Quote::Closed(at + 1),
            Some(_) => return Quote::Open,
        }
    }
    Quote::Open
}

fn end_of_line(bytes: &[u8], from: usize) -> usize {
    bytes[from..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |length| from + length)
}

fn newlines(text: &str) -> u64 {
    text.bytes().filter(|byte| *byte == b'\n').count() as u64
}

fn line_at(text: &str, at: usize) -> u64 {
    1 + newlines(&text[..at])
}

fn shown(line: &str) -> String {
    line.chars().take(SHOWN).collect()
}
