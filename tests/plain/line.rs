//! A typed line: keys, names, numbers, tags, and what is said of a word that nothing answers to.

use crushbook::domain::practice::Region;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::table::TABLE;
use crushbook::plain::line::{OWN, Word, called, meant, read, tag};
use crushbook::report::words::Words;
use std::collections::BTreeMap;

const PLAIN: Words = Words(Region::Plain);

fn name(text: &str) -> Word {
    Word::Name(text.to_owned())
}

#[test]
fn a_line_holds_keys_names_and_numbers() {
    let read = |line| read(line, PLAIN).expect("it can be read");
    let key = |letter| Word::Key(Key::Char(letter));
    assert_eq!(read("  LH 4\t1 3 "), [name("lh"), key('4'), key('1'), key('3')]);
    assert_eq!(read("lift-lh + - . * /"), [name("lift-lh"), key('+'), key('-'), key('.'), key('*'), key('/')]);
    assert_eq!(read("1382 Enter"), [Word::Number("1382".to_owned()), Word::Key(Key::Enter)]);
    assert_eq!(read("#3 ? say more"), [Word::Line(3), Word::Help, Word::Say, Word::More]);
    assert_eq!(read("z 1 Ctrl+c"), [key('z'), key('1'), Word::Key(Key::Ctrl('c'))]);
    // A key as help writes it is the key; in small letters it may be a wish.
    assert_eq!(read("Left left up enter"), [Word::Key(Key::Left), name("left"), name("up"), Word::Key(Key::Enter)]);
    assert_eq!(read(""), []);
}

#[test]
fn a_mistyped_word_is_named_with_the_nearest_and_nothing_is_done() {
    let said = |line| read(line, PLAIN).expect_err("nothing answers to it").to_string();
    assert_eq!(said("4 udno 1"), "\"udno\" is no key and no word: did you mean undo?; nothing of that line was done");
    assert_eq!(
        said("lift-lg"),
        "\"lift-lg\" is no key and no word: did you mean lift-lf?; nothing of that line was done"
    );
    assert_eq!(said("xylophonic"), "\"xylophonic\" is no key and no word; nothing of that line was done");
    // Letters together are a word, never keys one after the other.
    assert!(read("lu", PLAIN).is_err() && read("4a", PLAIN).is_err() && read("++", PLAIN).is_err());
    assert!(read("#", PLAIN).is_err() || read("#", PLAIN) == Ok(vec![Word::Key(Key::Char('#'))]));
    assert!(read("#-1", PLAIN).is_err() && read("#99999999999999999999", PLAIN).is_err());
}

#[test]
fn every_wish_has_a_name_and_no_name_means_two_things_in_one_place() {
    for region in Region::ALL {
        let words = Words(*region);
        for context in Context::ALL {
            let mut seen: BTreeMap<String, Intent> = BTreeMap::new();
            for row in TABLE.iter().filter(|row| row.meant.contains(&context)) {
                assert_eq!(meant(context, row.name, words), Some(row.intent), "{} in {context:?}", row.name);
                for name in called(row, words) {
                    let other = seen.insert(name.clone(), row.intent);
                    assert!(other.is_none_or(|other| other == row.intent), "{name} in {context:?}, {region:?}");
                    assert!(OWN.iter().all(|(own, _)| *own != name), "{name} is a word of lines");
                    assert_eq!(read(&name, words), Ok(vec![Word::Name(name.clone())]), "{name} can be typed");
                }
            }
        }
    }
    assert_eq!(meant(Context::Animal, "lr", Words(Region::NorthAmerica)), Some(Intent::LiftLh));
    assert_eq!(meant(Context::Foot, "bandage", Words(Region::Uk)), Some(Intent::PutWrap));
    assert_eq!(meant(Context::Today, "lift-lh", PLAIN), None);
}

#[test]
fn a_tag_is_told_from_keys_by_what_it_holds() {
    // ISO 11784: three digits of country or maker, twelve of the animal.
    assert_eq!(tag("276000000000123").as_deref(), Some("276000000000123"));
    assert_eq!(tag("276 000 000 000 123").as_deref(), Some("276000000000123"));
    assert_eq!(tag("LA 276000000000123"), None, "two letters alone are no group of digits");
    assert_eq!(tag("A276000000000123\r").as_deref(), Some("276000000000123"));
    assert_eq!(tag("1234567"), None, "seven may still be typed");
    assert_eq!(tag("12345678").as_deref(), Some("12345678"), "eight are a reader, as for keys");
    assert_eq!(tag("1 4 1 3 1 1 3 4 2"), None, "keys stand alone");
    assert_eq!(tag("lift-lh"), None);
    assert_eq!(tag(""), None);
}
