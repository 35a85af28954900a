//! What readers type, in every form, and from a reader set to English on other keyboards.

use crushbook::domain::electronic::{Doubt, doubt, same, spaced};
use crushbook::keys::fuzz_reading;
use crushbook::keys::reading::tag_digits;
use proptest::collection::vec;
use proptest::prelude::{any, proptest};
use std::path::Path;

/// What a reader set to an English keyboard types on a French one: the unshifted row, and A where Q is.
fn on_french_keys(text: &str) -> String {
    let row = [
        ('1', '&'),
        ('2', 'é'),
        ('3', '"'),
        ('4', '\''),
        ('5', '('),
        ('6', '-'),
        ('7', 'è'),
        ('8', '_'),
        ('9', 'ç'),
        ('0', 'à'),
        ('A', 'Q'),
    ];
    let key = |c| row.iter().find(|(english, _)| *english == c).map_or(c, |(_, french)| *french);
    text.chars().map(key).collect()
}

/// A Belgian row differs at 6 and 8.
fn on_belgian_keys(text: &str) -> String {
    on_french_keys(text).replace('-', "§").replace('_', "!")
}

/// Forms and their numbers: what stick readers type, common practice of the trade.
const FORMS: [(&str, &str); 5] = [
    ("964000000123456", "964000000123456"),
    ("964 000000123456", "964000000123456"),
    ("A0000000964000000123456", "964000000123456"),
    ("LA 982 000001088420", "982000001088420"),
    ("LA982000001088420", "982000001088420"),
];

#[test]
fn every_form_gives_the_number_on_every_keyboard() {
    for (typed, number) in FORMS {
        // A German keyboard has Z where an English one has Y, and its digits and A where that has them.
        for typed in [typed.to_owned(), on_french_keys(typed), on_belgian_keys(typed)] {
            assert_eq!(tag_digits(&typed).as_deref(), Some(number), "{typed}");
        }
    }
}

#[test]
fn a_reading_gives_its_digits() {
    let table = [
        ("276 0099 9000-1234", Some("276009990001234")),
        ("27600999000123x", None),
        ("", None),
        ("ABC", None),
        ("1382", Some("1382")),
        // Two numbers in one: nothing is guessed.
        ("964000000123456964000000123457", Some("964000000123456964000000123457")),
        // Twenty-two digits without a letter before them are no reader's form.
        ("0000000964000000123456", Some("0000000964000000123456")),
    ];
    for (text, digits) in table {
        assert_eq!(tag_digits(text).as_deref(), digits, "{text}");
    }
}

#[test]
fn what_cannot_be_a_tag_is_doubted() {
    // Fifteen digits are three and twelve, the twelve 38 bits, 999 is for tests: ISO 11784, from memory.
    assert_eq!((1_u64 << 38) - 1, 274_877_906_943);
    let table = [
        ("964000000123456", None),
        ("982274877906943", None),
        ("982274877906944", Some(Doubt::TooHigh)),
        ("999000000000001", Some(Doubt::Test)),
        ("96400000012345", Some(Doubt::Length(14))),
        ("9640000001234567", Some(Doubt::Length(16))),
    ];
    for (digits, why) in table {
        assert_eq!(doubt(digits), why, "{digits}");
    }
}

#[test]
fn a_number_in_groups_is_the_same_number() {
    assert!(same("964 000000123456", "964000000123456"));
    assert!(!same("", "") && !same("964000000123456", "964000000123457"));
    assert_eq!((spaced("964000000123456"), spaced("12")), ("964 000000123456".to_owned(), "12".to_owned()));
}

#[test]
fn kept_seeds_hold() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/keys/reading_seeds");
    let mut seeds = 0;
    for entry in std::fs::read_dir(folder).expect("a folder of seeds") {
        fuzz_reading(&std::fs::read(entry.expect("a seed").path()).expect("a seed can be read"));
        seeds += 1;
    }
    assert!(seeds >= 4, "{seeds} seeds");
}

proptest! {
    #[test]
    fn any_bytes_are_digits_or_nothing(bytes in vec(any::<u8>(), 0..60)) {
        fuzz_reading(&bytes);
    }
}
