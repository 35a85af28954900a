//! Nothing lives only on keys that some keyboard lacks, some terminal eats, or that come only with a dead key: over every keymap that
//! is built in.

use crushbook::keys::context::Context;
use crushbook::keys::intent::Role;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, written};
use crushbook::keys::table::TABLE;

/// Characters that need AltGr or a dead key on a German or French keyboard (measured: dead keys deliver the composed letter).
const LACKED: [char; 15] = ['[', ']', '^', '~', '{', '}', '\\', '|', '@', '#', '`', '´', '¨', '$', '€'];

/// Whether a key is there, and arrives, on every layout and in every terminal tried. Alt has no name among the keys at all.
fn is_everywhere(key: Key) -> bool {
    match key {
        Key::Char(c) => !LACKED.contains(&c),
        // Esc merges with the key after it; F-keys are eaten; the middle of the keypad is lost with NumLock off.
        Key::Esc | Key::F(_) | Key::Clear | Key::Insert => false,
        // Ctrl+I, Ctrl+M, Ctrl+H and Ctrl+J are other keys, Ctrl+Z stops the program.
        Key::Ctrl(c) => !matches!(c, 'i' | 'm' | 'h' | 'j' | 'z'),
        Key::Enter
        | Key::Backspace
        | Key::Tab
        | Key::BackTab
        | Key::Up
        | Key::Down
        | Key::Left
        | Key::Right
        | Key::Home
        | Key::End
        | Key::PageUp
        | Key::PageDown
        | Key::Delete => true,
    }
}

#[test]
fn every_wish_can_be_said_with_keys_that_are_everywhere() {
    for built_in in BuiltIn::ALL {
        let map = built_in.keymap();
        for context in Context::ALL {
            for row in TABLE.iter().filter(|row| row.role != Role::Shortcut && row.meant.contains(&context)) {
                let ways: Vec<&[Key]> =
                    map.bindings(context).filter(|(_, intent)| *intent == row.intent).map(|(keys, _)| keys).collect();
                let said = ways.iter().any(|keys| keys.iter().all(|key| is_everywhere(*key)));
                let ways: Vec<String> = ways.into_iter().map(written).collect();
                assert!(said, "{}, {}: {} only on {ways:?}", map.name(), context.name(), row.name);
            }
        }
    }
}

#[test]
fn no_keymap_waits_for_a_key_that_may_never_come() {
    for built_in in BuiltIn::ALL {
        let map = built_in.keymap();
        for (keys, intent) in Context::ALL.into_iter().flat_map(|context| map.bindings(context).collect::<Vec<_>>()) {
            let never =
                |key: &Key| matches!(key, Key::F(_) | Key::Clear) || matches!(key, Key::Char(c) if LACKED.contains(c));
            assert!(!keys.iter().any(never), "{}: {} on {}", map.name(), written(keys), format_args!("{intent:?}"));
        }
    }
}
