//! Turns what a terminal sends into our own keys, once.
//!
//! Terminals disagree: Enter of the keypad may come as Ctrl+J, Backspace as Ctrl+H, a
//! letter typed with CapsLock with Shift set, and some also report releases. Here that
//! ends. What no two terminals agree on (Alt, and with it everything typed right after
//! Esc in some of them) is let go.

use ratatui::crossterm::event::{
    Event as Raw, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEventKind,
};

use crate::keys::key::Key;
use crate::terminal::event::Event;

/// What a raw event is to us; `None` for what is not for us.
pub fn event(raw: Raw) -> Option<Event> {
    match raw {
        Raw::Key(press) => key(press).map(Event::Key),
        Raw::Paste(text) => Some(Event::Paste(text)),
        Raw::Resize(width, height) => Some(Event::Resize { width, height }),
        // The press, not the release: some terminals send both in one go.
        Raw::Mouse(mouse) => match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Event::Tap { column: mouse.column, row: mouse.row }),
            _ => None,
        },
        Raw::FocusGained | Raw::FocusLost => None,
    }
}

/// The key that was pressed; `None` for a release, a bare modifier and the like.
pub fn key(press: KeyEvent) -> Option<Key> {
    if press.kind == KeyEventKind::Release {
        return None;
    }
    let ctrl = press.modifiers.contains(KeyModifiers::CONTROL);
    let alt = press.modifiers.contains(KeyModifiers::ALT);
    match press.code {
        // Both together are AltGr on some systems, and the character is what was meant.
        KeyCode::Char(c) if ctrl == alt => Some(Key::Char(c)),
        KeyCode::Char(c) if ctrl => Some(control(c)),
        _ if alt => None,
        code => named(code),
    }
}

/// A letter with Ctrl; four of them are old spellings of other keys.
fn control(c: char) -> Key {
    match c.to_ascii_lowercase() {
        'j' | 'm' => Key::Enter,
        'i' => Key::Tab,
        'h' => Key::Backspace,
        other => Key::Ctrl(other),
    }
}

fn named(code: KeyCode) -> Option<Key> {
    let key = match code {
        KeyCode::Enter => Key::Enter,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Tab => Key::Tab,
        KeyCode::BackTab => Key::BackTab,
        KeyCode::Esc => Key::Esc,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Home => Key::Home,
        KeyCode::End => Key::End,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::Insert => Key::Insert,
        KeyCode::Delete => Key::Delete,
        KeyCode::KeypadBegin => Key::Clear,
        KeyCode::F(number) => Key::F(number),
        _ => return None,
    };
    Some(key)
}
