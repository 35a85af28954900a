//! What may stand in a cell, the same whether a list says it or a person types it.

use crate::domain::electronic::DIGITS;
use crate::domain::letters::{is_unseen, seen};

/// Longest text, in bytes.
const LONGEST: usize = 200;
/// The highest lactation.
const LACTATIONS: u8 = 30;

/// Why a text cannot be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoText {
    /// A control character stands in it.
    Control,
    /// It is longer than any label.
    Long,
}

/// A label, breed or group, without marks that nobody sees: a label that is found by its letters must not differ by one.
///
/// # Errors
/// Control characters; too many letters.
pub fn text(cell: &str) -> Result<String, NoText> {
    if cell.chars().any(char::is_control) {
        return Err(NoText::Control);
    }
    if cell.len() > LONGEST {
        return Err(NoText::Long);
    }
    Ok(seen(cell))
}

/// An electronic number as it is printed or as readers type it: with blanks, behind `LA`, or behind `A` and seven zeros. None
/// for what has not 15 digits.
pub fn electronic(cell: &str) -> Option<String> {
    let plain: String =
        cell.chars().filter(|next| !next.is_whitespace() && !is_unseen(*next)).collect::<String>().to_uppercase();
    let digits = plain.strip_prefix("LA").or_else(|| plain.strip_prefix("A0000000")).unwrap_or(&plain);
    (digits.len() == DIGITS && digits.bytes().all(|byte| byte.is_ascii_digit())).then(|| digits.to_owned())
}

/// A lactation, a whole number from 0 to 30.
pub fn lactation(cell: &str) -> Option<u8> {
    cell.parse::<u8>().ok().filter(|number| *number <= LACTATIONS)
}
