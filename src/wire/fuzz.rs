//! Bodies of fuzz targets, kept here so that ordinary tests run them over kept seeds. Each panics where a promise of
//! this room does not hold for the bytes given.

use super::envelope::{Raw, encode};
use super::find::{Found, next};
use super::jsonl::{from_json, to_json};
use super::page::{page, read_page, scan};
use super::tally::tally;
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::withdrawal::{MOST_DAYS, Stated};

/// Any bytes as an envelope: what parses decodes, and encodes to the same bytes.
pub fn fuzz_envelope(bytes: &[u8]) {
    let Ok((raw, length)) = Raw::first(bytes) else { return };
    assert_eq!(&raw.bytes[..], &bytes[..length], "an envelope is the bytes it was read from");
    let record = raw.decode().expect("what parses decodes");
    assert_eq!(encode(&record).as_ref(), Ok(&raw), "a decoded record encodes to the same bytes");
}

/// Any bytes as a page: what is read from it makes a page that reads the same.
pub fn fuzz_page(bytes: &[u8]) {
    let (raws, _) = read_page(bytes);
    scan(bytes).0.iter().chain(&raws).for_each(|raw| fuzz_envelope(&raw.bytes));
    assert_eq!(read_page(&page(&raws)), (raws, Vec::new()), "a page of what was read reads the same");
}

/// Any bytes as a file to be rescued: each thing found lies behind the one before, inside the bytes, and reads again.
pub fn fuzz_find(bytes: &[u8]) {
    let mut from = 0;
    while let Some((at, found, on)) = next(bytes, from) {
        assert!(from <= at && at < on && on <= bytes.len(), "it lies in the bytes, and there is an end");
        match found {
            Found::Record(raw) => assert_eq!(&raw.bytes[..], &bytes[at..on], "a record is the bytes it was read from"),
            Found::Damaged(..) => {}
            Found::Tally(runs) => assert_eq!(tally(runs.into_iter()), &bytes[at..on], "a tally is, too"),
        }
        from = on;
    }
}

/// Any bytes as a practice's file: nothing that cannot be seen comes through in what is said of it.
pub fn fuzz_practice(bytes: &[u8]) {
    for problem in super::practice::read("practice.toml", bytes).1 {
        assert!(!problem.to_string().contains(char::is_control), "{problem:?}");
    }
}

/// Any bytes as what was stated about a medicine: what is read is within bounds and names somebody.
pub fn fuzz_stated(bytes: &[u8]) {
    let Ok(stated) = Stated::read("", &String::from_utf8_lossy(bytes)) else { return };
    assert!(stated.milk_days.max(stated.meat_days).is_some_and(|days| days <= MOST_DAYS), "{stated:?}");
    assert!(!stated.by.trim().is_empty(), "{stated:?}");
}

/// Any bytes as the name of a file: what is read as a backup prints the same name.
pub fn fuzz_backup(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Some((made, series)) = super::backup::read_name(text) {
        assert_eq!(super::backup::name(made, series), text, "a name that is read is printed the same");
    }
}

/// Any bytes as a file of rules: a set that was read prints a file that reads the same, and nothing that cannot be seen
/// comes through in what is said of it.
pub fn fuzz_rules(bytes: &[u8]) {
    let (set, problems) = super::rules::read("rules.toml", bytes, &RuleSet::default());
    for problem in &problems {
        assert!(!problem.to_string().contains(char::is_control), "{problem:?}");
    }
    let printed = super::rules::print(&set);
    assert_eq!(super::rules::read("again.toml", printed.as_bytes(), &RuleSet::default()), (set, Vec::new()));
}

/// Any bytes as a line of JSON: what is read is a whole envelope, and writes a line that reads the same.
pub fn fuzz_json(bytes: &[u8]) {
    let Ok(raw) = from_json(&String::from_utf8_lossy(bytes)) else { return };
    fuzz_envelope(&raw.bytes);
    let line = to_json(&raw).expect("what was read can be written");
    assert_eq!(from_json(&line).as_ref(), Ok(&raw), "a written line reads the same");
}
