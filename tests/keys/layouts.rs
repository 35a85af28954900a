//! The built-in keymaps on English, German and French keyboards.
//!
//! Rows of keys as in xkeyboard-config, symbols `us`, `de` and `fr`, groups "basic", without and with Shift; what no
//! character stands for here is a dead key. Which hand reaches which key is that of touch typing (common practice).

use std::collections::BTreeMap;

use crushbook::keys::context::Context;
use crushbook::keys::intent::{Intent, Role};
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap, Resolution};
use crushbook::keys::table::TABLE;

/// Four rows from the digits down, each plain and with Shift. A row begins at the key marked 1, Q, A or Z on the English one.
const LAYOUTS: [(&str, [[&str; 2]; 4]); 3] = [
    (
        "qwerty",
        [
            ["1234567890-=", "!@#$%^&*()_+"],
            ["qwertyuiop[]", "QWERTYUIOP{}"],
            ["asdfghjkl;'", "ASDFGHJKL:\""],
            ["zxcvbnm,./", "ZXCVBNM<>?"],
        ],
    ),
    (
        "qwertz",
        [
            ["1234567890ß", "!\"§$%&/()=?"],
            ["qwertzuiopü+", "QWERTZUIOPÜ*"],
            ["asdfghjklöä", "ASDFGHJKLÖÄ"],
            ["yxcvbnm,.-", "YXCVBNM;:_"],
        ],
    ),
    (
        "azerty",
        [
            ["&é\"'(-è_çà)=", "1234567890°+"],
            ["azertyuiop\0$", "AZERTYUIOP\0£"],
            ["qsdfghjklmù*", "QSDFGHJKLM%µ"],
            ["wxcvbn,;:!", "WXCVBN?./§"],
        ],
    ),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Hand {
    Left,
    Right,
    Either,
}

/// A key by its place, and whether Shift is held.
type Stroke = (usize, usize, bool);

fn hand((row, column, _): Stroke) -> Hand {
    match (row, column) {
        // The key marked 6 lies between the hands.
        (0, 5) => Hand::Either,
        (_, ..5) => Hand::Left,
        _ => Hand::Right,
    }
}

/// Every way to type a key, without Shift first; none has AltGr.
fn strokes(rows: &[[&str; 2]; 4], key: Key) -> Vec<Stroke> {
    let mut ways = Vec::new();
    for shift in [false, true] {
        for (row, keys) in rows.iter().enumerate() {
            for (column, sent) in keys[usize::from(shift)].chars().enumerate() {
                let sent = Key::Char(sent);
                // What a key is to a keymap: itself, or the digit printed on it.
                if sent.readings().any(|reading| reading == key) {
                    ways.push((row, column, shift));
                }
            }
        }
    }
    ways
}

fn sent(rows: &[[&str; 2]; 4], (row, column, shift): Stroke) -> Key {
    Key::Char(rows[row][usize::from(shift)].chars().nth(column).expect("a key at this place"))
}

/// Whether a key that has a name lies under this hand; names are the same on every layout.
fn named(key: Key, free: Hand) -> Option<bool> {
    match key {
        Key::Char(' ') => Some(true),
        Key::Char(_) => None,
        Key::Tab => Some(free != Hand::Right),
        Key::Enter | Key::Backspace => Some(free != Hand::Left),
        _ => Some(free == Hand::Either),
    }
}

/// The keys that a layout sends where somebody types this sequence with that hand; none where it cannot be typed.
fn typed(rows: &[[&str; 2]; 4], keys: &[Key], free: Hand) -> Option<Vec<Key>> {
    let reaches = |stroke: &Stroke| match free {
        Hand::Either => true,
        // One hand holds no Shift.
        one => !stroke.2 && hand(*stroke) == one,
    };
    keys.iter()
        .map(|key| match named(*key, free) {
            Some(under) => under.then_some(*key),
            None => strokes(rows, *key).into_iter().find(reaches).map(|stroke| sent(rows, stroke)),
        })
        .collect()
}

fn resolved(map: &Keymap, context: Context, keys: &[Key]) -> Resolution {
    let (last, before) = keys.split_last().expect("some keys");
    map.resolve(context, before, *last)
}

fn free(map: BuiltIn) -> Hand {
    match map {
        BuiltIn::TwoHands | BuiltIn::Keypad => Hand::Either,
        BuiltIn::LeftHand => Hand::Left,
        BuiltIn::RightHand => Hand::Right,
    }
}

#[test]
fn every_intent_can_be_typed_on_every_layout_by_the_hand_that_is_free() {
    for built_in in BuiltIn::ALL {
        let map = built_in.keymap();
        for (layout, rows) in &LAYOUTS {
            for row in TABLE.iter().filter(|row| row.role != Role::Shortcut) {
                for context in row.meant {
                    let ways = map.bindings(*context).filter(|(_, intent)| *intent == row.intent);
                    let mut sent = ways.filter_map(|(keys, _)| typed(rows, keys, free(built_in)));
                    let reached = sent.any(|keys| resolved(&map, *context, &keys) == Resolution::Found(row.intent));
                    assert!(reached, "{} in {context:?}, {} on {layout}", row.name, map.name());
                }
            }
        }
    }
}

#[test]
fn every_key_of_every_keymap_exists_on_every_layout_without_altgr() {
    for map in BuiltIn::ALL.map(BuiltIn::keymap) {
        for (layout, rows) in &LAYOUTS {
            for context in Context::ALL {
                for (keys, intent) in map.bindings(context) {
                    let sent = typed(rows, keys, Hand::Either);
                    let sent = sent.unwrap_or_else(|| panic!("{keys:?} of {} on {layout}", map.name()));
                    let found = resolved(&map, context, &sent);
                    assert_eq!(found, Resolution::Found(intent), "{keys:?} in {context:?}, {} on {layout}", map.name());
                }
            }
        }
    }
}

#[test]
fn no_two_intents_fall_on_the_same_keys_of_a_layout() {
    for map in BuiltIn::ALL.map(BuiltIn::keymap) {
        for (layout, rows) in &LAYOUTS {
            for context in Context::ALL {
                let mut taken: BTreeMap<Vec<String>, Intent> = BTreeMap::new();
                for (keys, intent) in map.bindings(context) {
                    // All that could be pressed for it, key by key.
                    let places = keys.iter().map(|key| match strokes(rows, *key).first() {
                        Some(stroke) => format!("{stroke:?}"),
                        None => key.to_string(),
                    });
                    let before = taken.insert(places.collect(), intent);
                    let same = before.is_none_or(|before| before == intent);
                    assert!(same, "{before:?} and {intent:?} in {context:?}, {} on {layout}", map.name());
                }
            }
        }
    }
}

#[test]
fn the_plain_row_of_digits_is_digits_on_every_layout() {
    let digits = |map: &Keymap, context, rows: &[[&str; 2]; 4]| -> String {
        let keys = rows[0][0].chars().take(10).map(|c| map.resolve(context, &[], Key::Char(c)));
        keys.map(|found| match found {
            Resolution::Found(Intent::Digit(digit) | Intent::Zone(digit) | Intent::Pick(digit)) => {
                char::from_digit(digit.into(), 10).unwrap_or('?')
            }
            Resolution::Found(Intent::TakeOff) => '-',
            Resolution::Found(Intent::Up) => '^',
            _ => '.',
        })
        .collect()
    };
    for (layout, rows) in &LAYOUTS {
        let french = *layout == "azerty";
        for built_in in BuiltIn::ALL {
            let map = built_in.keymap();
            // The unshifted 6 of a French keyboard is a minus: with an animal in the crush it never is a zone. Where nothing
            // but digits is meant and the minus has no work, it is the digit that stands on it.
            let (today, crush) = match (french, built_in) {
                (false, _) => ("1234567890", "1234567890"),
                (true, BuiltIn::Keypad) => ("12345^7890", "12345-7890"),
                (true, BuiltIn::TwoHands) => ("1234567890", "12345-7890"),
                (true, BuiltIn::LeftHand | BuiltIn::RightHand) => ("1234567890", "12345.7890"),
            };
            assert_eq!(digits(&map, Context::Today, rows), today, "{} on {layout}", map.name());
            assert_eq!(digits(&map, Context::Foot, rows), crush, "{} on {layout}", map.name());
            assert_eq!(digits(&map, Context::Pad, rows), crush, "{} on {layout}", map.name());
        }
    }
}

#[test]
fn the_nine_keys_of_one_hand_lie_as_on_a_keypad() {
    // 7 8 9 over 4 5 6 over 1 2 3, on every layout: a hand finds them by their place.
    let blocks = [(BuiltIn::LeftHand, 1, 2), (BuiltIn::RightHand, 0, 6)];
    for (built_in, top, left) in blocks {
        let map = built_in.keymap();
        for (layout, rows) in &LAYOUTS {
            for (row, digits) in [[7, 8, 9], [4, 5, 6], [1, 2, 3]].into_iter().enumerate() {
                for (column, digit) in digits.into_iter().enumerate() {
                    let key = sent(rows, (top + row, left + column, false));
                    let found = map.resolve(Context::Foot, &[], key);
                    assert_eq!(found, Resolution::Found(Intent::Zone(digit)), "{key} of {} on {layout}", map.name());
                }
            }
        }
    }
}
