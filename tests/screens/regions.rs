//! Every screen in the words of every region: none of another region's terms is left anywhere.

use super::world::{screen, six_days_later};
use crate::stories::rig::Rig;
use crushbook::domain::practice::{Practice, Region};
use crushbook::keys::keymap::BuiltIn;

/// Ways to every screen that holds words, with 1382 and her past before them.
const WAYS: [&str; 15] = [
    "",
    "d",
    "h",
    "1 3 8 2 Enter",
    "1 3 8 2 Enter h",
    "1 3 8 2 Enter 1",
    "1 3 8 2 Enter 1 h",
    "1 3 8 2 Enter 3",
    "1 3 8 2 Enter 7 b w",
    "1 3 8 2 Enter 7 w",
    "1 3 8 2 Enter g",
    "1 3 8 2 Enter l",
    "1 3 8 2 c",
    "1 3 8 2 Enter l c",
    "1 3 8 2 Enter l c 1",
];

fn looks(region: Region) -> Vec<String> {
    let map = BuiltIn::TwoHands;
    let look = |way: &&str| {
        let mut rig: Rig = six_days_later(map);
        rig.practice = Practice { region, ..Practice::default() };
        rig.pass(0);
        rig.press(way);
        screen(&rig, map, (120, 40))
    };
    WAYS.iter().map(look).collect()
}

/// Whether a text holds a word, alone or with more behind it.
fn says(text: &str, word: &str) -> bool {
    let text = text.to_lowercase();
    let mut words = text.split(|letter: char| !letter.is_alphanumeric());
    words.any(|known| known == word || known.strip_prefix(word).is_some_and(|rest| rest == "s"))
}

#[test]
fn a_region_is_spoken_to_in_its_own_words_only() {
    // Terms by region: common practice of the trade.
    for (region, own, others) in [
        (Region::Plain, &["wrap", "hind", "lh", "rh", "gait"][..], &["bandage", "rear", "lr", "rr", "chute"][..]),
        (Region::Uk, &["bandage", "hind", "lh", "rh", "mobility"], &["wrap", "rear", "lr", "rr", "chute", "gait"]),
        (Region::NorthAmerica, &["wrap", "rear", "lr", "rr", "locomotion"], &["bandage", "hind", "lh", "rh", "crush"]),
        (Region::NzAustralia, &["bandage", "hind", "lh", "rh", "lameness"], &["wrap", "rear", "lr", "chute", "gait"]),
    ] {
        let looks = looks(region);
        let all = looks.concat();
        for word in own {
            assert!(says(&all, word), "{region:?} says {word}");
        }
        for word in others {
            let at = looks.iter().find(|look| says(look, word));
            assert!(at.is_none(), "{region:?} does not say {word}:\n{}", at.map_or("", String::as_str));
        }
        assert!(!all.contains(['{', '}']), "every term is filled in");
    }
}
