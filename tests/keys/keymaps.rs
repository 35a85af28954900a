//! The built-in keymaps against the one table of intents.

use std::collections::BTreeSet;

use crushbook::domain::practice::Region;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::context::Context;
use crushbook::keys::help;
use crushbook::keys::intent::{Intent, Role};
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap, Resolution};
use crushbook::keys::load::load;
use crushbook::keys::table::{TABLE, name_of, named, row_in};
use crushbook::report::words::Words;

fn maps() -> [Keymap; 4] {
    BuiltIn::ALL.map(BuiltIn::keymap)
}

/// Types keys one by one, as the session does, and says what came out at the end.
fn typed(map: &Keymap, context: Context, keys: &str) -> Resolution {
    let mut pending = Vec::new();
    let mut last = Resolution::Unbound;
    for key in keys.split(' ').map(|name| name.parse::<Key>().expect("a key name")) {
        last = map.resolve(context, &pending, key);
        pending.push(key);
    }
    last
}

fn on_pad(key: &Key) -> bool {
    matches!(key, Key::Char('0'..='9' | '.' | '+' | '-' | '*' | '/') | Key::Enter)
}

#[test]
fn every_file_is_without_a_fault() {
    for map in BuiltIn::ALL {
        let (_, problems) = load(map.name(), map.text().as_bytes());
        assert_eq!(problems, [], "{}", map.name());
    }
}

#[test]
fn every_intent_is_reached_wherever_it_is_meant() {
    for map in maps() {
        for row in TABLE.iter().filter(|row| row.role != Role::Shortcut) {
            for context in row.meant {
                let keys = map.keys_for(*context, row.intent);
                let first = keys.first();
                let first = first.unwrap_or_else(|| panic!("{} {} {context:?}", map.name(), row.name));
                assert_eq!(typed(&map, *context, first), Resolution::Found(row.intent));
            }
        }
    }
}

#[test]
fn the_keypad_map_needs_nothing_but_a_keypad() {
    let map = BuiltIn::Keypad.keymap();
    for row in TABLE.iter().filter(|row| row.role != Role::Shortcut) {
        for context in row.meant {
            let reached = map.bindings(*context).any(|(keys, intent)| intent == row.intent && keys.iter().all(on_pad));
            assert!(reached, "{} in {context:?}", row.name);
        }
    }
}

#[test]
fn no_key_means_two_things_in_one_context() {
    for map in maps() {
        for context in Context::ALL {
            let all: Vec<_> = map.bindings(context).collect();
            for (place, (keys, intent)) in all.iter().enumerate() {
                for (other, meaning) in &all[place + 1..] {
                    let clash = other.starts_with(keys) || keys.starts_with(other);
                    assert!(!clash, "{context:?}: {keys:?} {intent:?}, {other:?} {meaning:?}");
                }
            }
        }
    }
}

#[test]
fn nothing_is_only_on_keys_that_keyboards_or_terminals_lack() {
    // As measured on ten terminals: Esc merges with the next key, F keys are eaten by
    // menus, and `[ ] ^ ~` do not exist unshifted on German and French keyboards.
    // Ctrl+c arrives everywhere; while letters are text it is the one way straight out.
    let safe = |key: &Key| match key {
        Key::Ctrl('c') => true,
        Key::Esc | Key::F(_) | Key::Clear | Key::Ctrl(_) => false,
        Key::Char(c) => !"[]{}^~\\|@`´".contains(*c),
        _ => true,
    };
    for map in maps() {
        for context in Context::ALL {
            let all: BTreeSet<_> = map.bindings(context).map(|(_, intent)| intent).collect();
            for intent in all {
                let reached = map.bindings(context).any(|(keys, bound)| bound == intent && keys.iter().all(safe));
                assert!(reached, "{} {intent:?} in {context:?}", map.name());
            }
        }
    }
}

#[test]
fn back_and_undo_share_no_key_with_a_zone_or_a_choice() {
    for map in maps() {
        let of = |wanted: fn(Intent) -> bool| -> BTreeSet<Vec<Key>> {
            Context::ALL
                .iter()
                .flat_map(|context| map.bindings(*context))
                .filter(|(_, intent)| wanted(*intent))
                .map(|(keys, _)| keys.to_vec())
                .collect()
        };
        let away = of(|intent| matches!(intent, Intent::Back | Intent::Undo));
        let facts = of(|intent| matches!(intent, Intent::Zone(_) | Intent::Pick(_) | Intent::PickDot));
        assert!(away.is_disjoint(&facts), "{}", map.name());
    }
}

#[test]
fn the_keypad_grammar_is_the_decided_one() {
    // The grammar of the keypad: corners are feet, digits are zones, `*` is more.
    let map = BuiltIn::Keypad.keymap();
    let table = [
        (Context::Animal, "7", Intent::LiftLf),
        (Context::Animal, "9", Intent::LiftRf),
        (Context::Animal, "1", Intent::LiftLh),
        (Context::Animal, "3", Intent::LiftRh),
        (Context::Animal, "5", Intent::AllSound),
        (Context::Animal, "2", Intent::HindsSound),
        (Context::Animal, "8", Intent::RestSound),
        (Context::Animal, "4", Intent::Gait),
        (Context::Animal, "6", Intent::Whole),
        (Context::Animal, "0", Intent::Last),
        (Context::Animal, ".", Intent::Due),
        (Context::Foot, "0", Intent::Zone(0)),
        (Context::Foot, "4", Intent::Zone(4)),
        (Context::Foot, ".", Intent::Zone(10)),
        (Context::Foot, ",", Intent::Zone(10)),
        (Context::Foot, "* 7", Intent::Zone(11)),
        (Context::Foot, "* 8", Intent::Zone(12)),
        (Context::Foot, "* 4", Intent::ClawLeft),
        (Context::Foot, "* 6", Intent::ClawRight),
        (Context::Foot, "* 5", Intent::WholeFoot),
        (Context::Foot, "* 1", Intent::SameOtherClaw),
        (Context::Foot, "* 3", Intent::SameOtherHind),
        (Context::Foot, "* 2", Intent::Trim),
        (Context::Foot, "* 9", Intent::GotAway),
        (Context::Foot, "* 0", Intent::Back),
        (Context::Foot, "* .", Intent::Note),
        (Context::Foot, "* * 7", Intent::LiftLf),
        (Context::Foot, "+", Intent::PutOn),
        (Context::Foot, "-", Intent::TakeOff),
        (Context::Foot, "/", Intent::Undo),
        (Context::Foot, "* /", Intent::Redo),
        (Context::Foot, "* -", Intent::Leave),
        (Context::Foot, "* +", Intent::Help),
        (Context::Foot, "Enter", Intent::GoOn),
        (Context::Pad, "3", Intent::Pick(3)),
        (Context::Pad, ".", Intent::PickDot),
        (Context::SignOff, "1", Intent::Pick(1)),
        (Context::Today, "7", Intent::Digit(7)),
        (Context::Text, "* 0", Intent::Back),
    ];
    for (context, keys, intent) in table {
        assert_eq!(typed(&map, context, keys), Resolution::Found(intent), "{context:?} {keys}");
    }
}

#[test]
fn sequences_wait_go_on_and_are_cancelled() {
    let map = BuiltIn::TwoHands.keymap();
    assert_eq!(typed(&map, Context::Foot, "f"), Resolution::Pending);
    assert_eq!(typed(&map, Context::Foot, "F S"), Resolution::Found(Intent::FindSu));
    assert_eq!(typed(&map, Context::Foot, "f 4"), Resolution::Cancelled);
    assert_eq!(typed(&map, Context::Foot, "f Backspace"), Resolution::Cancelled);
    assert_eq!(typed(&map, Context::Foot, "Home"), Resolution::Unbound);
}

#[test]
fn the_french_row_counts_as_digits_where_nothing_else_is_bound() {
    for map in maps() {
        for (sent, digit) in "&é\"'(è_çà".chars().zip([1, 2, 3, 4, 5, 7, 8, 9, 0]) {
            let found = |context| map.resolve(context, &[], Key::Char(sent));
            assert_eq!(found(Context::Today), Resolution::Found(Intent::Digit(digit)));
            assert_eq!(found(Context::Foot), Resolution::Found(Intent::Zone(digit)));
            assert_eq!(found(Context::Pad), Resolution::Found(Intent::Pick(digit)));
        }
        let minus = map.resolve(Context::Foot, &[], Key::Char('-'));
        assert!([Resolution::Found(Intent::TakeOff), Resolution::Unbound].contains(&minus), "never a zone");
    }
    let keypad = BuiltIn::Keypad.keymap();
    assert_eq!(
        keypad.resolve(Context::Foot, &[Key::Char('*')], Key::Char('è')),
        Resolution::Found(Intent::Zone(11)),
        "also inside a sequence"
    );
}

#[test]
fn letters_are_text_while_something_is_written() {
    let map = BuiltIn::TwoHands.keymap();
    for c in ('!'..='~').chain("éàç ".chars()) {
        assert_eq!(map.resolve(Context::Text, &[], Key::Char(c)), Resolution::Unbound, "{c}");
    }
    let keypad = BuiltIn::Keypad.keymap();
    for c in ('!'..='~').filter(|c| *c != '*') {
        assert_eq!(keypad.resolve(Context::Text, &[], Key::Char(c)), Resolution::Unbound, "{c}");
    }
    assert_eq!(typed(&map, Context::Text, "Enter"), Resolution::Found(Intent::GoOn));
    assert_eq!(typed(&map, Context::Text, "Ctrl+c"), Resolution::Found(Intent::Leave));
}

#[test]
fn the_table_of_intents_holds_together() {
    for (place, row) in TABLE.iter().enumerate() {
        assert!(!row.meant.is_empty(), "{} is meant nowhere", row.name);
        for region in Region::ALL {
            let short = Words(*region).fill(row.short);
            assert!(short.chars().count() <= 10, "{short} is too long for the pad");
        }
        assert_eq!(named(row.name), Some(row.intent), "one name, one intent");
        assert_eq!(name_of(row.intent), row.name);
        for other in &TABLE[place + 1..] {
            let same = row.intent == other.intent;
            assert_eq!(same, row.name == other.name, "{} and {}", row.name, other.name);
            let shared = row.meant.iter().any(|context| other.meant.contains(context));
            assert!(!(same && shared), "{} stands twice in one context", row.name);
        }
    }
    for (count, family) in [(13, "zone-"), (10, "digit-"), (11, "pick-")] {
        let names: BTreeSet<_> = TABLE.iter().map(|row| row.name).filter(|name| name.starts_with(family)).collect();
        assert_eq!(names.len(), count, "{family}");
    }
}

/// The enum and the table are two lists; this reads the one and looks in the other.
#[test]
fn every_intent_stands_in_the_table() {
    let source = include_str!("../../src/keys/intent.rs");
    let file = syn::parse_file(source).expect("the source parses");
    let variants = file
        .items
        .iter()
        .find_map(|item| match item {
            syn::Item::Enum(item) if item.ident == "Intent" => Some(&item.variants),
            _ => None,
        })
        .expect("the enum of intents");
    let known: BTreeSet<String> = TABLE
        .iter()
        .map(|row| format!("{:?}", row.intent))
        .map(|name| name.split('(').next().unwrap_or_default().to_string())
        .collect();
    for variant in variants {
        assert!(known.contains(&variant.ident.to_string()), "{} has no row", variant.ident);
    }
}

#[test]
fn help_shows_only_what_a_key_reaches_and_the_readme_shows_all() {
    let maps = maps();
    for map in &maps {
        for context in Context::ALL {
            for row in help::rows(map, context) {
                assert!(!row.keys.is_empty());
                assert!(row_in(context, row.intent).is_some());
            }
        }
    }
    let back = maps[1].keys_for(Context::Foot, Intent::Back);
    assert_eq!(back, ["* 0", "Backspace"], "in the order of the file");
    let zones = help::rows(&maps[1], Context::Foot)
        .into_iter()
        .find(|row| row.intent == Intent::Zone(0))
        .expect("a line for the zones");
    let expected = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "* 7", "* 8"];
    assert_eq!(zones.keys, expected);

    let table = help::markdown(&maps, &str::to_owned);
    assert!(table.contains("| A foot is up | two-hands | keypad | left-hand | right-hand |"));
    assert!(table.contains("| undo the last press | `u` or `/` | `/` | `a` | `m` |"), "{table}");
    assert!(table.contains("| the animal's number | `0` to `9` | `0` to `9` | `x`, `c`, `v`,"), "{table}");
    for line in table.lines().filter(|line| !line.is_empty()) {
        assert_eq!(line.replace("\\|", "").matches('|').count(), 2 + maps.len(), "{line}");
    }
}
