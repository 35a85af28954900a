//! Bytes that are given as a text: whether they are one, and in which letters it is written.

use std::borrow::Cow;

/// The letters of Windows-1252 from 0x80 to 0x9F; all others are those of Latin-1. WHATWG Encoding Standard, index windows-1252:
/// the five bytes that have no letter there are control characters here, and so in no cell of a list.
const HIGH: [char; 32] = [
    '\u{20ac}', '\u{81}', '\u{201a}', '\u{192}', '\u{201e}', '\u{2026}', '\u{2020}', '\u{2021}', '\u{2c6}', '\u{2030}',
    '\u{160}', '\u{2039}', '\u{152}', '\u{8d}', '\u{17d}', '\u{8f}', '\u{90}', '\u{2018}', '\u{2019}', '\u{201c}',
    '\u{201d}', '\u{2022}', '\u{2013}', '\u{2014}', '\u{2dc}', '\u{2122}', '\u{161}', '\u{203a}', '\u{153}', '\u{9d}',
    '\u{17e}', '\u{178}',
];
/// Control characters that a text may have without any doubt.
const FEW: usize = 8;
/// Of so many bytes of a text fewer than one is such a character.
const SHARE: usize = 50;

/// What is said of bytes that are none.
pub const NO_TEXT: &str =
    "this is no text: it may be a picture, a page or a spreadsheet's own file; save it there as plain text or CSV";

/// Whether bytes are plainly no text: so many of them are characters that stand in none.
pub fn is_no_text(bytes: &[u8]) -> bool {
    let odd = |byte: &&u8| byte.is_ascii_control() && !matches!(byte, b'\t' | b'\n' | b'\r' | 0x0c);
    let count = bytes.iter().filter(odd).count();
    count > FEW && count * SHARE > bytes.len()
}

/// The text, without marks before it: UTF-8, or else Windows-1252. Whether it is the latter.
pub fn decode(bytes: &[u8]) -> (Cow<'_, str>, bool) {
    match std::str::from_utf8(bytes) {
        Ok(text) => (Cow::Borrowed(text.trim_start_matches('\u{feff}')), false),
        Err(_) => (Cow::Owned(bytes.iter().map(|byte| letter(*byte)).collect()), true),
    }
}

fn letter(byte: u8) -> char {
    let high = byte.checked_sub(0x80).and_then(|at| HIGH.get(usize::from(at)));
    high.copied().unwrap_or(char::from(byte))
}
