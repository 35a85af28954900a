//! Notices a keypad with NumLock off.
//!
//! End, PageDown, Home and the like then arrive where digits are expected, the middle
//! key often not at all. They are never taken for digits, since a whole keyboard has
//! those keys too; after three of them the trimmer is told.

use crate::keys::context::Context;
use crate::keys::key::Key;

/// How many such keys, with no digit between them, before it is said.
const SEVERAL: u8 = 3;

/// Something worth saying about the keyboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hint {
    /// NumLock looks off.
    NumLockOff,
}

/// Counts the keys that speak for NumLock being off.
#[derive(Clone, Copy, Debug, Default)]
pub struct NumLock {
    seen: u8,
}

impl NumLock {
    /// Looks at one key; says so once when NumLock looks off, then counts afresh.
    pub fn notice(&mut self, context: Context, key: Key) -> Option<Hint> {
        if !context.takes_digits() {
            return None;
        }
        match key {
            Key::End | Key::PageDown | Key::Clear | Key::Home | Key::PageUp | Key::Insert | Key::Delete => {
                self.seen += 1
            }
            Key::Char(c) if c.is_ascii_digit() => self.seen = 0,
            // Arrows have work of their own, and say nothing either way.
            _ => {}
        }
        if self.seen < SEVERAL {
            return None;
        }
        self.seen = 0;
        Some(Hint::NumLockOff)
    }
}
