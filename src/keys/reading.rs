//! What a tag reader typed: its digits, whatever stands before and between them.
//!
//! | typed | from |
//! | --- | --- |
//! | `964000000123456` | most readers |
//! | `964 000000123456`, `964-000000123456` | some |
//! | `LA 982 000001088420` | with the kind of transponder before it |
//! | `A0000000964000000123456` | with seven digits about the transponder before it (ISO 11784: retagging, user's field, reserved) |
//!
//! A reader set to an English keyboard on a French or Belgian computer types the unshifted number row; its signs are turned
//! back into digits, and the sign on the 6 of that row is one. A German computer has its digits where an English one has them.

use crate::keys::key::french_digit;

/// Shorter digits are no tag: a number of the herd that was pasted, say. As long as what counts as typed by a machine.
pub const LEAST: usize = 8;
/// Digits about the transponder, after a letter and before the number.
const ABOUT: usize = 7;
/// Digits of a number.
const NUMBER: usize = 15;

/// The digits of a reading; `None` when anything else is in it, and the raw text is then offered as it is.
pub fn tag_digits(text: &str) -> Option<String> {
    let french = text.chars().any(|c| row_digit(c).is_some());
    let typed = text.trim();
    let rest = typed.trim_start_matches(|c: char| c.is_ascii_alphabetic());
    let digits: Option<String> = rest
        .chars()
        .filter(|c| !c.is_whitespace() && (french || *c != '-'))
        .map(|c| match c {
            '-' => Some('6'),
            c if c.is_ascii_digit() => Some(c),
            c => row_digit(c),
        })
        .collect();
    let digits = digits.filter(|digits| !digits.is_empty())?;
    let lettered = rest.len() < typed.len();
    match digits.split_at_checked(ABOUT) {
        Some((_, number)) if lettered && number.len() == NUMBER => Some(number.to_owned()),
        Some(_) | None => Some(digits),
    }
}

/// The digit on the key of a French number row, or of a Belgian one where that differs.
fn row_digit(c: char) -> Option<char> {
    match c {
        '§' => Some('6'),
        '!' => Some('8'),
        c => french_digit(c),
    }
}
