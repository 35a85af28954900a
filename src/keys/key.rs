//! One key press, as the rest of the program sees it, and its written name.
//!
//! Parse and print are inverses, so that a keymap file, the help and the README can
//! only ever speak of keys in one way. No key has two codes for the two digit blocks:
//! most terminals cannot tell them apart, so they must mean the same.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// One key press.
///
/// A character is kept as it was typed, because a note needs its capitals; commands
/// look at [`Key::readings`], which fold case and the French number row away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Key {
    /// A character, the two digit blocks alike.
    Char(char),
    /// A character with Ctrl held, in lower case.
    Ctrl(char),
    /// A function key, 1 to 24.
    F(u8),
    /// Enter, either one.
    Enter,
    /// Backspace.
    Backspace,
    /// Tab.
    Tab,
    /// Shift and Tab.
    BackTab,
    /// Escape.
    Esc,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Home.
    Home,
    /// End.
    End,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// Insert.
    Insert,
    /// Delete.
    Delete,
    /// The middle of the keypad with NumLock off.
    Clear,
}

/// Every key that has a name of its own.
const NAMED: [(Key, &str); 16] = [
    (Key::Enter, "Enter"),
    (Key::Backspace, "Backspace"),
    (Key::Tab, "Tab"),
    (Key::BackTab, "BackTab"),
    (Key::Esc, "Esc"),
    (Key::Up, "Up"),
    (Key::Down, "Down"),
    (Key::Left, "Left"),
    (Key::Right, "Right"),
    (Key::Home, "Home"),
    (Key::End, "End"),
    (Key::PageUp, "PageUp"),
    (Key::PageDown, "PageDown"),
    (Key::Insert, "Insert"),
    (Key::Delete, "Delete"),
    (Key::Clear, "Clear"),
];

/// The unshifted number row of a French keyboard, from the key marked 1 to the key marked 0.
///
/// The key marked 6 sends `-`, which stays a minus: taking something off must never
/// become zone 6. On that keyboard 6 is Shift, or the keypad.
const FRENCH_ROW: [(char, char); 9] =
    [('&', '1'), ('é', '2'), ('"', '3'), ('\'', '4'), ('(', '5'), ('è', '7'), ('_', '8'), ('ç', '9'), ('à', '0')];

const SPACE: &str = "Space";
const CTRL: &str = "Ctrl+";

/// A key name that nothing answers to.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("no key is called \"{}\"", .0.escape_debug())]
pub struct UnknownKey(pub String);

impl Key {
    /// The names of all named keys, for suggestions.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMED.iter().map(|(_, name)| *name).chain([SPACE])
    }

    /// This key as commands see it: lower case, and a comma is a point.
    ///
    /// CapsLock or a resting Shift must not change what a key does, and half of Europe
    /// has a comma on the keypad.
    pub fn folded(self) -> Key {
        match self {
            Key::Char(',') => Key::Char('.'),
            Key::Char(c) => Key::Char(lower(c)),
            other => other,
        }
    }

    /// What this key may mean to a keymap, the likeliest first: itself folded, then the
    /// digit printed on that key of a French number row.
    pub fn readings(self) -> impl Iterator<Item = Key> {
        let folded = self.folded();
        let digit = match folded {
            Key::Char(c) => french_digit(c).map(Key::Char),
            _ => None,
        };
        std::iter::once(folded).chain(digit)
    }

    /// The character this key puts into a text field, if it puts any.
    pub fn text(self) -> Option<char> {
        match self {
            Key::Char(c) if !c.is_control() => Some(c),
            _ => None,
        }
    }
}

/// The digit printed on the key of a French number row that sends this character.
pub fn french_digit(c: char) -> Option<char> {
    FRENCH_ROW.iter().find(|(sent, _)| *sent == c).map(|(_, digit)| *digit)
}

/// Lower case where that is one character; anything else stays as it is.
fn lower(c: char) -> char {
    let mut small = c.to_lowercase();
    match (small.next(), small.next()) {
        (Some(one), None) => one,
        _ => c,
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((_, name)) = NAMED.iter().find(|(key, _)| key == self) {
            return f.write_str(name);
        }
        match self {
            Key::Char(' ') => f.write_str(SPACE),
            Key::Char(c) => write!(f, "{c}"),
            Key::Ctrl(c) => write!(f, "{CTRL}{}", Key::Char(*c)),
            Key::F(number) => write!(f, "F{number}"),
            named => unreachable!("{named:?} stands in the table of names"),
        }
    }
}

impl FromStr for Key {
    type Err = UnknownKey;

    fn from_str(text: &str) -> Result<Key, UnknownKey> {
        let unknown = || UnknownKey(text.to_string());
        if let Some(c) = only_char(text) {
            return usable(c).then_some(Key::Char(c)).ok_or_else(unknown);
        }
        if let Some((key, _)) = NAMED.iter().find(|(_, n)| n.eq_ignore_ascii_case(text)) {
            return Ok(*key);
        }
        if text.eq_ignore_ascii_case(SPACE) {
            return Ok(Key::Char(' '));
        }
        if let Some(rest) = strip_ignoring_case(text, CTRL) {
            return match rest.parse() {
                Ok(Key::Char(c)) => Ok(Key::Ctrl(lower(c))),
                _ => Err(unknown()),
            };
        }
        strip_ignoring_case(text, "F")
            .and_then(|digits| digits.parse().ok())
            .filter(|number| (1..=24).contains(number))
            .map(Key::F)
            .ok_or_else(unknown)
    }
}

/// Characters that may be written as themselves: a space has a name, the unseen have none,
/// so that no keymap brings a direction mark to the screen.
fn usable(c: char) -> bool {
    matches!(c, '"' | '\'' | '\\') || (!c.is_whitespace() && c.escape_debug().count() == 1)
}

fn only_char(text: &str) -> Option<char> {
    let mut chars = text.chars();
    chars.next().filter(|_| chars.next().is_none())
}

fn strip_ignoring_case<'t>(text: &'t str, prefix: &str) -> Option<&'t str> {
    let head = text.get(..prefix.len())?;
    head.eq_ignore_ascii_case(prefix).then(|| &text[prefix.len()..])
}
