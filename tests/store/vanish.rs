//! A book that goes while it is open: deleted, moved, or its stick pulled out. A system keeps a deleted file for whoever has
//! it open, and takes what is written into it with it in the end; so that is not called saved.

use super::every;
use super::hand::press;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::StoreError;
use crushbook::store::medium::{Medium, hand_beside};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

struct Stick {
    _home: TempDir,
    folder: PathBuf,
    book: PathBuf,
}

impl Stick {
    fn new() -> Stick {
        let home = tempfile::tempdir().expect("a folder");
        let folder = home.path().join("stick");
        fs::create_dir(&folder).expect("made");
        Stick { book: folder.join("my.book"), folder, _home: home }
    }

    fn open(&self) -> Store {
        let opened = Store::open(Medium::File(hand_beside(&self.book)), Medium::File(self.book.clone()), &mut || Ok(7));
        opened.expect("opens").0
    }
}

/// Presses a key that must be refused because that file is gone.
fn refused(store: &mut Store, gone: &Path) -> Vec<Record> {
    let record = press(store, &["refused at first"]);
    match store.append(&record) {
        Err(StoreError::Gone(path)) => assert_eq!(path, gone),
        other => panic!("{other:?}"),
    }
    record
}

fn save(store: &mut Store, words: &str) -> Vec<Record> {
    let record = press(store, &[words]);
    store.append(&record).expect("saved");
    record
}

fn count(store: &Store) -> usize {
    every(store).len()
}

#[test]
fn a_hand_that_is_deleted_costs_nothing() {
    let stick = Stick::new();
    let mut store = stick.open();
    save(&mut store, "one");
    save(&mut store, "two");
    fs::remove_file(hand_beside(&stick.book)).expect("removed");
    let record = refused(&mut store, &hand_beside(&stick.book));
    store.reopen().expect("what it held is in memory still, and goes into the book");
    store.append(&record).expect("saved");
    save(&mut store, "four");
    assert!(hand_beside(&stick.book).exists());
    // The battery goes.
    drop(store);
    let mut store = stick.open();
    assert_eq!((count(&store), store.series()), (4, 7));
    assert!(store.verify().expect("checked").is_sound());
}

#[test]
fn a_book_that_is_moved_away_is_waited_for_and_none_is_made_in_its_place() {
    let stick = Stick::new();
    let mut store = stick.open();
    save(&mut store, "one");
    store.pack().expect("packed");
    save(&mut store, "two");
    let away = stick.folder.join("moved.book");
    fs::rename(&stick.book, &away).expect("moved");
    let record = refused(&mut store, &stick.book);
    assert!(matches!(store.reopen(), Err(StoreError::Gone(_))));
    assert!(matches!(store.pack(), Err(StoreError::Gone(_))));
    assert!(!stick.book.exists(), "no new book is begun where it was");
    fs::rename(&away, &stick.book).expect("put back");
    store.reopen().expect("opens again");
    store.append(&record).expect("saved");
    store.close().expect("closed");
    assert_eq!(count(&stick.open()), 3);
}

#[test]
fn a_stick_that_is_pulled_out_and_put_back() {
    let stick = Stick::new();
    let mut store = stick.open();
    save(&mut store, "one");
    let away = stick.folder.with_file_name("pulled");
    fs::rename(&stick.folder, &away).expect("pulled");
    let record = refused(&mut store, &stick.book);
    let said = store.reopen().expect_err("gone").to_string();
    assert!(said.contains("my.book is gone") && said.contains("Put it back"), "{said}");
    fs::rename(&away, &stick.folder).expect("put back");
    store.reopen().expect("opens again");
    store.append(&record).expect("saved");
    store.close().expect("closed");
    assert_eq!(count(&stick.open()), 2);
}

#[test]
fn another_file_in_the_place_of_the_book_is_left_alone() {
    let stick = Stick::new();
    let mut store = stick.open();
    save(&mut store, "one");
    let away = stick.folder.join("moved.book");
    fs::rename(&stick.book, &away).expect("moved");
    fs::write(&stick.book, "another").expect("written");
    refused(&mut store, &stick.book);
    assert!(store.reopen().is_err() && store.pack().is_err());
    assert_eq!(fs::read(&stick.book).expect("there"), b"another");
}
