//! Plays wishes through a keymap: the shortest keys that the free hand has for each, on a real desk.

use super::rig::Rig;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap};
use crushbook::keys::table::named;
use crushbook::session::mode::Mode;

/// The keys of each half of an English keyboard, without Shift.
const LEFT: &str = "12345qwertasdfgzxcvb";
const RIGHT: &str = "67890-yuiophjklnm,.";

/// Whether the hand that this map is for has this key.
pub fn reaches(map: BuiltIn, key: Key) -> bool {
    match (map, key) {
        (BuiltIn::TwoHands, _) => true,
        (BuiltIn::Keypad, Key::Char(c)) => "0123456789.+-*/".contains(c),
        (BuiltIn::Keypad, key) => key == Key::Enter,
        (BuiltIn::LeftHand, Key::Char(c)) => c == ' ' || LEFT.contains(c),
        (BuiltIn::LeftHand, key) => key == Key::Tab,
        (BuiltIn::RightHand, Key::Char(c)) => RIGHT.contains(c),
        (BuiltIn::RightHand, key) => matches!(key, Key::Enter | Key::Backspace),
    }
}

pub struct Player {
    pub rig: Rig,
    map: BuiltIn,
    keymap: Keymap,
    /// Keys pressed since counting began.
    pub count: u32,
    /// Wishes that no key had where they came.
    pub stuck: Vec<String>,
}

impl Player {
    pub fn new(map: BuiltIn, rig: Rig) -> Player {
        Player { rig, map, keymap: map.keymap(), count: 0, stuck: Vec::new() }
    }

    /// The shortest keys for a wish in a context; of several as short, the first of the file.
    pub fn keys(&self, context: Context, intent: Intent) -> Option<Vec<String>> {
        let ways = self.keymap.keys_for(context, intent);
        let split = ways.iter().map(|way| way.split(' ').map(str::to_owned).collect::<Vec<_>>());
        let in_reach = split.filter(|keys| keys.iter().all(|key| reaches(self.map, key.parse().expect("a key"))));
        in_reach.min_by_key(Vec::len)
    }

    /// Plays a line of wishes.
    pub fn play(&mut self, wishes: &str) {
        let mut rest = wishes.trim();
        while !rest.is_empty() {
            if let Some((text, after)) = rest.strip_prefix('"').and_then(|rest| rest.split_once('"')) {
                self.write(text);
                rest = after.trim_start();
                continue;
            }
            let (word, after) = rest.split_once(' ').unwrap_or((rest, ""));
            match word {
                "(" => self.count = 0,
                number if number.bytes().all(|byte| byte.is_ascii_digit()) => self.number(number),
                ways => self.wish(ways),
            }
            rest = after.trim_start();
        }
    }

    fn wish(&mut self, ways: &str) {
        let here = self.rig.mode().context();
        // Whatever follows a first key is a choice of the list that it opens.
        let keys = |way: &str| -> Option<Vec<String>> {
            let contexts = std::iter::once(here).chain(std::iter::repeat(Context::Pad));
            let each = contexts.zip(way.split('+')).map(|(context, name)| {
                self.keys(context, named(name).unwrap_or_else(|| panic!("{name} is an intent")))
            });
            each.collect::<Option<Vec<_>>>().map(|keys| keys.concat())
        };
        let all = ways.split('|').filter_map(keys);
        match all.min_by_key(Vec::len) {
            Some(keys) => self.press(&keys),
            None => self.stuck.push(format!("no keys for {ways} in {here:?}")),
        }
    }

    fn number(&mut self, number: &str) {
        for digit in number.bytes() {
            self.press(&self.keys(Context::Today, Intent::Digit(digit - b'0')).expect("a digit has keys"));
        }
    }

    /// Letters are typed with whatever hand there is; where a number is asked for, its digits with the hand that is free.
    fn write(&mut self, text: &str) {
        let asks_number = matches!(self.rig.mode(), Mode::Text { what, .. } if what.is_number());
        if asks_number {
            return self.number(text);
        }
        for letter in text.chars() {
            self.press(&[if letter == ' ' { "Space".to_owned() } else { letter.to_string() }]);
        }
    }

    fn press(&mut self, keys: &[String]) {
        self.rig.press(&keys.join(" "));
        self.count += u32::try_from(keys.len()).expect("few keys");
    }
}
