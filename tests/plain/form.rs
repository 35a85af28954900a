//! The form that every answer has, whoever gave it.

use unicode_width::UnicodeWidthStr;

/// Every line bears the next number and says what it is about; none is wider than 80 columns; nothing but line ends steers a
/// terminal. Gives back the number of the last line.
pub fn check(text: &str, mut number: usize) -> usize {
    assert!(text.is_empty() || text.ends_with('\n'), "whole lines: {text:?}");
    for line in text.lines() {
        number += 1;
        let rest = line.strip_prefix(&format!("{number} ")).unwrap_or_else(|| panic!("{number} is missing: {line:?}"));
        let (about, words) = rest.split_once(": ").unwrap_or_else(|| panic!("about what? {line:?}"));
        assert!(!about.is_empty() && !words.is_empty(), "{line:?}");
        assert!(line.width() <= 80, "{} columns: {line:?}", line.width());
        assert!(!line.chars().any(|letter| letter.is_control()), "{line:?}");
        assert!(!line.contains(['\u{202e}', '\u{2066}', '\u{200f}', '\u{2028}']), "{line:?}");
    }
    number
}
