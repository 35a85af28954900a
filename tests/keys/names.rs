//! Key names: parse and print are inverses, and what is folded away.

use crushbook::keys::key::Key;
use proptest::prelude::*;

fn any_key() -> impl Strategy<Value = Key> {
    let seen = any::<char>()
        .prop_filter("can be written", |c| *c == ' ' || (!c.is_whitespace() && c.escape_debug().count() == 1));
    let named = prop::sample::select(vec![
        Key::Enter,
        Key::Backspace,
        Key::Tab,
        Key::BackTab,
        Key::Esc,
        Key::Up,
        Key::Down,
        Key::Left,
        Key::Right,
        Key::Home,
        Key::End,
        Key::PageUp,
        Key::PageDown,
        Key::Insert,
        Key::Delete,
        Key::Clear,
    ]);
    prop_oneof![
        seen.prop_map(Key::Char),
        prop::char::range('a', 'z').prop_map(Key::Ctrl),
        (1u8..=24).prop_map(Key::F),
        named,
    ]
}

proptest! {
    #[test]
    fn a_printed_key_reads_back_as_itself(key in any_key()) {
        prop_assert_eq!(key.to_string().parse::<Key>(), Ok(key));
    }

    #[test]
    fn any_text_is_a_key_or_a_refusal_and_never_a_panic(text in ".{0,12}") {
        if let Ok(key) = text.parse::<Key>() {
            prop_assert_eq!(key.to_string().parse::<Key>(), Ok(key));
        }
    }
}

#[test]
fn names_read_as_written() {
    let table = [
        ("a", Key::Char('a')),
        ("A", Key::Char('A')),
        ("+", Key::Char('+')),
        ("-", Key::Char('-')),
        ("\"", Key::Char('"')),
        ("Space", Key::Char(' ')),
        ("enter", Key::Enter),
        ("F", Key::Char('F')),
        ("F2", Key::F(2)),
        ("Ctrl+c", Key::Ctrl('c')),
        ("ctrl+C", Key::Ctrl('c')),
        ("Ctrl++", Key::Ctrl('+')),
        ("Ctrl+Space", Key::Ctrl(' ')),
    ];
    for (text, key) in table {
        assert_eq!(text.parse::<Key>(), Ok(key), "{text}");
    }
    for text in ["", " ", "Enterr", "F0", "F25", "Ctrl+", "Ctrl+Enter", "\u{202e}", "\u{7}", "ab"] {
        assert!(text.parse::<Key>().is_err(), "{text:?}");
    }
}

#[test]
fn case_comma_and_the_french_row_are_folded_for_commands() {
    let readings = |c| Key::Char(c).readings().collect::<Vec<_>>();
    assert_eq!(readings('U'), [Key::Char('u')]);
    assert_eq!(readings(','), [Key::Char('.')]);
    // The unshifted number row of a French keyboard, 1 to 0, as measured on ten terminals.
    for (sent, digit) in "&é\"'(è_çà".chars().zip("123457890".chars()) {
        assert_eq!(readings(sent)[1], Key::Char(digit), "{sent}");
    }
    // CapsLock turns that row's letters into capitals.
    assert_eq!(readings('É')[1], Key::Char('2'));
    assert_eq!(readings('-'), [Key::Char('-')], "taking off is never zone 6");
}
