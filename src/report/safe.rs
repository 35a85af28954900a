//! Outside text on its way to a terminal, a page or a file: no control characters, no direction marks, padded by the width
//! it takes.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// The text without anything that moves a cursor, changes a colour or turns the direction of writing.
pub fn safe(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_control() && !turns(*letter)).collect()
}

/// Marks that turn or isolate the direction of writing, line and paragraph separators, and the invisible joiners.
fn turns(letter: char) -> bool {
    matches!(letter,
        '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{061C}' | '\u{FEFF}')
}

/// The text in exactly so many columns: cut where it is wider, filled with blanks where it is narrower.
pub fn column(text: &str, columns: usize) -> String {
    let cut = cut(text, columns);
    let blanks = columns.saturating_sub(cut.width());
    format!("{cut}{}", " ".repeat(blanks))
}

/// The text in at most so many columns.
pub fn cut(text: &str, columns: usize) -> String {
    let mut width = 0;
    safe(text)
        .chars()
        .take_while(|letter| {
            width += letter.width().unwrap_or(0);
            width <= columns
        })
        .collect()
}
