//! What terminals send, as our own keys.

use crushbook::keys::key::Key;
use crushbook::terminal::event::{Event, Signal};
use crushbook::terminal::normal;
use ratatui::crossterm::event::{
    Event as Raw, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEvent, MouseEventKind,
};

fn press(code: KeyCode, modifiers: KeyModifiers) -> Option<Key> {
    normal::key(KeyEvent::new(code, modifiers))
}

#[test]
fn what_terminals_send_becomes_one_key() {
    // As measured on ten terminals; AltGr as Ctrl and Alt together from memory.
    let (none, ctrl, alt) = (KeyModifiers::NONE, KeyModifiers::CONTROL, KeyModifiers::ALT);
    let table = [
        (KeyCode::Char('j'), ctrl, Some(Key::Enter)),
        (KeyCode::Char('m'), ctrl, Some(Key::Enter)),
        (KeyCode::Char('h'), ctrl, Some(Key::Backspace)),
        (KeyCode::Char('i'), ctrl, Some(Key::Tab)),
        (KeyCode::Char('c'), ctrl, Some(Key::Ctrl('c'))),
        (KeyCode::Char('z'), ctrl, Some(Key::Ctrl('z'))),
        (KeyCode::Char('A'), KeyModifiers::SHIFT, Some(Key::Char('A'))),
        (KeyCode::Char('a'), alt, None),
        (KeyCode::Enter, alt, None),
        (KeyCode::Char('@'), ctrl | alt, Some(Key::Char('@'))),
        (KeyCode::KeypadBegin, none, Some(Key::Clear)),
        (KeyCode::F(2), none, Some(Key::F(2))),
        (KeyCode::CapsLock, none, None),
        (KeyCode::Enter, none, Some(Key::Enter)),
    ];
    for (code, modifiers, key) in table {
        assert_eq!(press(code, modifiers), key, "{code:?} {modifiers:?}");
    }
}

#[test]
fn a_release_is_nothing_and_a_repeat_is_a_press() {
    let of = |kind| normal::key(KeyEvent::new_with_kind(KeyCode::Char('4'), KeyModifiers::NONE, kind));
    assert_eq!(of(KeyEventKind::Press), Some(Key::Char('4')));
    assert_eq!(of(KeyEventKind::Repeat), Some(Key::Char('4')));
    assert_eq!(of(KeyEventKind::Release), None);
}

#[test]
fn a_tap_acts_when_it_goes_down() {
    let at = |kind| {
        let mouse = MouseEvent { kind, column: 3, row: 4, modifiers: KeyModifiers::NONE };
        normal::event(Raw::Mouse(mouse))
    };
    let tap = Some(Event::Tap { column: 3, row: 4 });
    assert_eq!(at(MouseEventKind::Down(MouseButton::Left)), tap);
    assert_eq!(at(MouseEventKind::Up(MouseButton::Left)), None);
    assert_eq!(at(MouseEventKind::Moved), None);
}

#[test]
fn exit_codes_are_128_and_the_signal() {
    // POSIX: SIGHUP 1, SIGINT 2, SIGTERM 15.
    assert_eq!(Signal::HangUp.exit_code(), Some(129));
    assert_eq!(Signal::Interrupt.exit_code(), Some(130));
    assert_eq!(Signal::Terminate.exit_code(), Some(143));
    assert_eq!(Signal::Stop.exit_code(), None);
}
