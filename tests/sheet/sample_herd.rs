//! The sample herd, read whole: no mistake in any sheet, all in the printed form, all entered in order, and its story told.

use super::entered::Book;
use crushbook::domain::finding::Finding;
use crushbook::domain::herd::Leaving;
use crushbook::domain::history::open::{Knowing, OpenItem};
use crushbook::domain::sheet::{FarmTold, Line};
use crushbook::domain::treatment::Put;
use crushbook::wire::{herd_csv, sheet};
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-herd")
}

/// Sheets with their names, oldest first.
fn sheets() -> Vec<(String, String)> {
    let entries = std::fs::read_dir(folder()).expect("the sample herd");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| name.ends_with(".txt"))
        .collect();
    names.sort();
    names
        .into_iter()
        .map(|name| (name.clone(), std::fs::read_to_string(folder().join(name)).expect("a sheet")))
        .collect()
}

/// The whole herd entered, list first.
fn herd() -> Book {
    let mut book = Book::default();
    let list = herd_csv::read(&std::fs::read(folder().join("herd.csv")).expect("the list"), "herd.csv");
    assert!(list.problems.is_empty() && list.notices.is_empty(), "{list:?}");
    let first = chrono::NaiveDate::from_ymd_opt(2025, 11, 13).expect("a day");
    for row in list.rows {
        book.begin(first, row.labels, row.herd);
    }
    let before = book.numbers().count();
    for (name, text) in sheets() {
        let reading = sheet::read(&text, &name).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"));
        if let Err((entry, snags)) = book.enter(&reading.sheet) {
            let told: Vec<String> =
                snags.iter().map(|snag| sheet::explain(&reading, &name, entry, snag).to_string()).collect();
            panic!("{told:#?}");
        }
    }
    assert_eq!(book.numbers().count(), before, "every animal of a sheet is in the list");
    book
}

#[test]
fn every_sheet_is_named_after_its_day_and_stands_in_the_printed_form() {
    let sheets = sheets();
    for (name, text) in &sheets {
        let read = sheet::parse(text, name).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"));
        assert_eq!(format!("{}.txt", read.on), *name);
        assert_eq!(read.farm, "Quillbarrow");
        assert_eq!(sheet::print(&read), *text, "{name}");
    }
    assert_eq!(sheets.last().map(|(name, _)| name.as_str()), Some("2026-05-14.txt"));
    assert!(sheets.len() >= 13);
}

#[test]
fn the_farm_can_be_rung() {
    let (name, text) = &sheets()[0];
    let first = sheet::parse(text, name).expect("a sheet");
    let facts = first.lines.iter().filter(|line| matches!(line, Line::Farm(FarmTold::Fact(_, _))));
    assert!(facts.count() >= 4, "telephone, contact, vet and the vet's telephone");
}

/// What is open on an animal, in a word each.
fn open(book: &Book, number: &str) -> Vec<String> {
    let history = book.history(number);
    let word = |item: &OpenItem| match item {
        OpenItem::On { what: Put::Wrap { .. }, knowing, .. } => format!("wrap {knowing:?}"),
        OpenItem::On { knowing, .. } => format!("block {knowing:?}"),
        OpenItem::LookSoon { .. } => "look soon".to_string(),
        OpenItem::Recheck { what, .. } => format!("recheck {what:?}"),
        OpenItem::SetByHand { .. } => "by hand".to_string(),
        OpenItem::Vet { .. } => "vet".to_string(),
    };
    history.open.iter().map(word).collect()
}

#[test]
fn the_story_is_there_once_all_sheets_are_entered() {
    let book = herd();
    assert!(open(&book, "1382").is_empty(), "the ulcer has healed: {:?}", open(&book, "1382"));
    assert_eq!(book.history("1382").cases.len(), 1);
    assert!(open(&book, "1394").contains(&format!("wrap {:?}", Knowing::NotHeard)), "{:?}", open(&book, "1394"));
    assert!(open(&book, "1379").iter().any(|item| item.starts_with("block")), "{:?}", open(&book, "1379"));
    assert!(open(&book, "1391").contains(&format!("wrap {:?}", Knowing::Asked)), "{:?}", open(&book, "1391"));
    assert!(open(&book, "1381").contains(&format!("wrap {:?}", Knowing::ToldBare)), "{:?}", open(&book, "1381"));
    assert!(open(&book, "1376").iter().all(|item| !item.starts_with("wrap")), "{:?}", open(&book, "1376"));
    assert!(open(&book, "1387").contains(&format!("recheck {:?}", Finding::SU)), "{:?}", open(&book, "1387"));
    assert_eq!(book.history("1392").left.map(|(why, _)| why), Some(Leaving::Sold));
    assert_eq!(book.history("1375").left.map(|(why, _)| why), Some(Leaving::Died));
    assert_eq!(book.history("2397").earlier.last().map(|(_, labels)| labels.number.clone()), Some("1397".to_string()));
    assert!(book.history("1384").kicker);
    assert_eq!(book.history("1378").claws_gone.len(), 1);
    for number in book.numbers() {
        assert!(book.history(number).doubts.is_empty(), "{number}: {:?}", book.history(number).doubts);
    }
}

#[test]
fn every_recorded_turn_prints_as_a_sheet_that_says_it_is_already_entered() {
    let book = herd();
    let mut turns = 0;
    for (name, text) in sheets() {
        let sheet = sheet::parse(&text, &name).expect("a sheet");
        for turn in sheet.turns() {
            let number = if turn.animal == "1397" { "2397" } else { &turn.animal };
            assert!(turn.is_in(&book.history(number), sheet.on), "{name} {}", turn.animal);
            turns += 1;
        }
    }
    assert!(turns > 80, "{turns} turns");
}
