//! Letters that nobody sees: they move a cursor, change a colour, or turn the direction of writing.

/// Whether a letter is a control character, a mark that turns or isolates the direction of writing, a line or paragraph
/// separator, or an invisible joiner.
pub fn is_unseen(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{061C}' | '\u{FEFF}')
}

/// The text as it is seen: without such letters, and without blanks around it.
pub fn seen(text: &str) -> String {
    let text: String = text.chars().filter(|letter| !is_unseen(*letter)).collect();
    text.trim().to_owned()
}

/// Whether it holds such a letter: of two names that look alike one would then be another's.
pub fn has_unseen(text: &str) -> bool {
    text.chars().any(is_unseen)
}
