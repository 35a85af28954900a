//! Lines and keys are one thing: the same wishes, as keys on the screens and as typed lines, write the same records, byte for
//! byte, and lead to the same place.

use super::rig::Rig;
use crate::plain::form::check;
use crate::screens::world::six_days_later;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::table::{Row, TABLE};
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, any, proptest};

/// What is typed where a text is asked for: what fits and what does not.
const TEXTS: [&str; 6] = ["Tom", "12", "milk 2 meat 10 label", "1382", "wet foot, look soon", "7"];
/// Open her; then one wish in each step.
const BEGINNING: [&str; 2] = ["1 3 8 2", "Enter"];

/// Wishes that are done in both: help is told and not opened, light and taps are of the picture, and both go on.
fn is_done(row: &Row) -> bool {
    !matches!(row.intent, Intent::Help | Intent::Light | Intent::Touch | Intent::Leave)
}

/// One step in both: a text, or a wish by its key on the one side, by name or key on the other. Which is told.
fn step(keys: &mut Rig, lines: &mut Rig, byte: u8, named: &mut bool) -> String {
    let context = keys.mode().context();
    if context == Context::Text {
        let text = TEXTS[usize::from(byte) % TEXTS.len()];
        for letter in text.chars() {
            keys.press(&if letter == ' ' { "Space".to_owned() } else { letter.to_string() });
        }
        keys.press("Enter");
        // What does not fit is erased; in lines it never stays.
        while matches!(keys.mode(), Mode::Text { text, .. } if !text.is_empty()) {
            keys.press("Backspace");
        }
        return lines.line(text);
    }
    let map = BuiltIn::TwoHands.keymap();
    let here: Vec<(&Row, String)> = TABLE
        .iter()
        .filter(|row| row.meant.contains(&context) && is_done(row))
        .filter_map(|row| Some((row, map.keys_for(context, row.intent).into_iter().next()?)))
        .collect();
    let (row, key) = &here[usize::from(byte) % here.len()];
    keys.press(key);
    // A digit that begins a line on Today begins a new number, so there it is said by its name.
    let by_name = (usize::from(byte) / here.len()).is_multiple_of(2) || matches!(row.intent, Intent::Digit(_));
    let told = lines.line(if by_name { row.name } else { key });
    // A key pressed twice is asked about. A name is said once and meant, and a key after a name is no second press of it.
    let asked = matches!(keys.mode(), Mode::Pad { ask: Ask::Twice(_), .. });
    if (by_name || *named) && asked && lines.mode() != keys.mode() {
        keys.press("0");
    }
    *named = by_name;
    told
}

/// Both sides from the same beginning.
fn play(bytes: &[u8]) {
    let mut keys = six_days_later(BuiltIn::TwoHands);
    let mut lines = six_days_later(BuiltIn::TwoHands);
    for press in BEGINNING {
        keys.press(press);
    }
    lines.line("1382");
    let mut number = last_number(&lines.line(""));
    let mut named = false;
    for byte in bytes {
        let told = step(&mut keys, &mut lines, *byte, &mut named);
        number = check(&told, number);
        assert_eq!(keys.mode(), lines.mode(), "after {byte}: {told}");
    }
    assert_eq!(keys.kept(), lines.kept());
}

fn last_number(text: &str) -> usize {
    let last = text.lines().last().and_then(|line| line.split(' ').next());
    last.and_then(|number| number.parse().ok()).expect("a number")
}

/// Few cases, since each is two whole programs; `PROPTEST_CASES` asks for more.
fn config() -> ProptestConfig {
    let given = ProptestConfig::default();
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { given.cases } else { 12 };
    ProptestConfig { cases, failure_persistence: None, ..given }
}

proptest! {
    #![proptest_config(config())]
    #[test]
    fn lines_write_what_keys_write(bytes in vec(any::<u8>(), 1..60)) {
        play(&bytes);
    }
}

/// A foot lifted by its name and the same key then pressed as an answer: by keys that was one key twice, in lines it was not.
#[test]
fn a_key_after_a_name_is_no_second_press_of_it() {
    play(&[252, 163, 241, 16, 110, 55, 109, 110, 49, 112, 79, 84, 16, 119]);
}

#[test]
fn each_wish_alone_does_the_same() {
    for byte in 0..60 {
        play(&[byte, byte, 3]);
    }
}
