//! Books and hands that were copied, restored, lost or mixed up: each goes on under names that nobody else gives, so that
//! whatever comes together again later comes together without two records under one name.

use super::tablet::day;
use super::{every, raws};
use crushbook::domain::event::Event;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Stamp;
use crushbook::store::Store;
use crushbook::store::error::Problem;
use crushbook::store::medium::{Medium, hand_beside};
use std::cell::Cell;
use std::fs;
use std::path::{Path, PathBuf};

/// A folder with books in it, and the series that are begun there, one after the other.
struct Shelf {
    home: tempfile::TempDir,
    series: Cell<u64>,
}

impl Shelf {
    fn new() -> Shelf {
        Shelf { home: tempfile::tempdir().expect("a folder"), series: Cell::new(100) }
    }

    fn book(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }

    fn open(&self, name: &str) -> (Store, Vec<Problem>) {
        let book = self.book(name);
        let mut source = || {
            self.series.set(self.series.get() + 1);
            Ok(self.series.get())
        };
        Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut source).expect("opens")
    }

    /// Opens a book that nothing is wrong with.
    fn opened(&self, name: &str) -> Store {
        let (store, problems) = self.open(name);
        assert_eq!(problems, [], "{name}");
        store
    }

    /// A book with these words packed and these in the hand, and its program killed.
    fn killed(&self, name: &str, packed: &[&str], in_hand: &[&str]) {
        let mut store = self.opened(name);
        packed.iter().for_each(|word| press(&mut store, word));
        store.pack().expect("packed");
        in_hand.iter().for_each(|word| press(&mut store, word));
    }

    fn copy(&self, from: &Path, to: &Path) {
        fs::copy(from, to).expect("copied");
    }
}

fn press(store: &mut Store, name: &str) {
    let now = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
    let stamp = Stamp { next: store.next_id(), tick: store.tick(), by: None, now, on: day(0) };
    let press = stamp.press([(RecordId::PRACTICE, Event::PersonBegun { name: name.to_owned() })]);
    store.append(&press).expect("saved");
}

/// Every word pressed, sorted.
fn words(store: &Store) -> Vec<String> {
    let mut words: Vec<String> = every(store)
        .iter()
        .filter_map(|(_, record)| match record.event() {
            Some(Event::PersonBegun { name }) => Some(name.clone()),
            _ => None,
        })
        .collect();
    words.sort();
    words
}

/// Takes all of another book in, and says which names two records bear.
fn join(store: &mut Store, other: &Store) -> Vec<RecordId> {
    let records: Vec<_> = every(other).into_iter().map(|(_, record)| record).collect();
    store.take(&mut raws(&records).into_iter().map(Ok)).expect("joined").forks
}

#[test]
fn a_hand_copied_beside_another_book_is_taken_in_and_its_names_are_not_gone_on_with() {
    let shelf = Shelf::new();
    shelf.killed("one.book", &["Ada"], &["Ben"]);
    shelf.killed("two.book", &["Cil"], &[]);
    shelf.copy(&hand_beside(&shelf.book("one.book")), &hand_beside(&shelf.book("two.book")));
    let (mut two, problems) = shelf.open("two.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "{problems:?}");
    press(&mut two, "Dot");
    let mut one = shelf.opened("one.book");
    press(&mut one, "Eva");
    assert_ne!(one.series(), two.series());
    assert_eq!(join(&mut one, &two), []);
    assert_eq!(words(&one), ["Ada", "Ben", "Cil", "Dot", "Eva"]);
    drop(two);
    let (two, problems) = shelf.open("two.book");
    assert_eq!((problems, words(&two)), (vec![], ["Ben", "Cil", "Dot"].map(String::from).to_vec()), "said once");
}

#[test]
fn an_empty_hand_of_another_book_says_so_too() {
    // Two's own hand went with it, so nobody knows what two gave names to last.
    let shelf = Shelf::new();
    shelf.killed("one.book", &["Ada", "Ben", "Cil"], &[]);
    shelf.killed("two.book", &["Dot"], &[]);
    shelf.copy(&hand_beside(&shelf.book("one.book")), &hand_beside(&shelf.book("two.book")));
    let before = shelf.series.get();
    let (two, problems) = shelf.open("two.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "{problems:?}");
    assert_eq!(two.series(), before + 1);
}

#[test]
fn an_older_copy_of_the_book_under_a_newer_hand_begins_anew_and_joins_without_two_under_one_name() {
    let shelf = Shelf::new();
    shelf.killed("my.book", &["Ada"], &[]);
    let (book, old) = (shelf.book("my.book"), shelf.book("old.book"));
    shelf.copy(&book, &old);
    shelf.killed("my.book", &["Ben", "Cil"], &["Dot"]);
    let lost = shelf.book("lost.book");
    shelf.copy(&book, &lost);
    // Written over in place: the file is the same to the file system.
    fs::write(&book, fs::read(&old).expect("read")).expect("restored");
    let (mut store, problems) = shelf.open("my.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "{problems:?}");
    press(&mut store, "Eva");
    assert_eq!(words(&store), ["Ada", "Dot", "Eva"]);
    let (mut lost, problems) = shelf.open("lost.book");
    assert!(matches!(problems.as_slice(), [Problem::Copied(_)]), "{problems:?}");
    press(&mut lost, "Fay");
    assert_eq!(join(&mut store, &lost), []);
    assert_eq!(words(&store), ["Ada", "Ben", "Cil", "Dot", "Eva", "Fay"]);
}

#[test]
fn a_hand_older_than_the_book_begins_anew() {
    let shelf = Shelf::new();
    shelf.killed("my.book", &["Ada"], &["Ben"]);
    let (hand, old) = (hand_beside(&shelf.book("my.book")), shelf.book("old-hand"));
    shelf.copy(&hand, &old);
    shelf.killed("my.book", &["Cil"], &["Dot"]);
    let newer = shelf.book("newer-hand");
    shelf.copy(&hand, &newer);
    shelf.copy(&old, &hand);
    let (mut store, problems) = shelf.open("my.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "{problems:?}");
    press(&mut store, "Eva");
    assert_eq!(words(&store), ["Ada", "Ben", "Cil", "Eva"]);
    store.close().expect("closed");
    // The newer one is found after all.
    shelf.copy(&newer, &hand);
    let (store, problems) = shelf.open("my.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "no two under one name: {problems:?}");
    assert_eq!(words(&store), ["Ada", "Ben", "Cil", "Dot", "Eva"]);
}

#[test]
fn a_lost_hand_is_said_and_taken_in_when_it_is_found() {
    let shelf = Shelf::new();
    shelf.killed("my.book", &["Ada"], &["Ben"]);
    let (hand, aside) = (hand_beside(&shelf.book("my.book")), shelf.book("aside"));
    fs::rename(&hand, &aside).expect("lost");
    let (mut store, problems) = shelf.open("my.book");
    let said = problems[0].to_string();
    assert!(said.contains("my.book-hand is gone") && said.contains("put it back beside the book"), "{said}");
    press(&mut store, "Cil");
    store.close().expect("closed");
    shelf.opened("my.book").close().expect("said once");
    fs::rename(&aside, &hand).expect("found");
    let (store, problems) = shelf.open("my.book");
    assert!(matches!(problems.as_slice(), [Problem::Apart { .. }]), "no two under one name: {problems:?}");
    assert_eq!(words(&store), ["Ada", "Ben", "Cil"]);
}

#[test]
fn a_book_at_rest_needs_no_hand_and_may_change_its_name() {
    let shelf = Shelf::new();
    let mut store = shelf.opened("my.book");
    let series = store.series();
    press(&mut store, "Ada");
    store.close().expect("closed");
    fs::rename(shelf.book("my.book"), shelf.book("other.book")).expect("renamed");
    let store = shelf.opened("other.book");
    assert_eq!(store.series(), series);
}

#[test]
fn a_copy_of_a_book_at_rest_begins_anew_and_says_nothing() {
    let shelf = Shelf::new();
    let mut store = shelf.opened("my.book");
    press(&mut store, "Ada");
    store.close().expect("closed");
    shelf.copy(&shelf.book("my.book"), &shelf.book("copy.book"));
    let (mut one, mut other) = (shelf.opened("my.book"), shelf.opened("copy.book"));
    press(&mut one, "Ben");
    press(&mut other, "Cil");
    assert_eq!(join(&mut one, &other), []);
    assert_eq!(words(&one), ["Ada", "Ben", "Cil"]);
}

#[test]
fn a_copy_used_on_beside_its_original_never_gives_the_same_names() {
    let shelf = Shelf::new();
    shelf.killed("my.book", &["Ada"], &["Ben"]);
    let (book, copy) = (shelf.book("my.book"), shelf.book("copy.book"));
    shelf.copy(&book, &copy);
    shelf.copy(&hand_beside(&book), &hand_beside(&copy));
    let mut one = shelf.opened("my.book");
    press(&mut one, "Cil");
    let (mut other, problems) = shelf.open("copy.book");
    assert!(problems[0].to_string().contains("was copied or moved to"), "{problems:?}");
    press(&mut other, "Dot");
    assert_eq!(words(&other), ["Ada", "Ben", "Dot"]);
    assert_eq!(join(&mut one, &other), []);
    assert_eq!(words(&one), ["Ada", "Ben", "Cil", "Dot"]);
    other.close().expect("closed");
    let other = shelf.opened("copy.book");
    assert_eq!(words(&other), ["Ada", "Ben", "Dot"], "said once");
}
