//! A book of every layout that was ever released, with a hand beside it, kept in `golden/`: each is opened by this program
//! and every record in it is read. `UPDATE_GOLDEN=1` adds those of the present layout where they are missing, and changes
//! none that is there. Run it twice: the second run reads what the first wrote.

use crate::wire::examples::examples;
use crushbook::store::Store;
use crushbook::store::error::Problem;
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::wire::jsonl::{from_json, to_json};
use std::fs;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/store/golden")
}

/// Everything in a store, by name.
fn lines(store: &Store) -> Vec<String> {
    let raws = store.every().expect("read").map(|raw| raw.expect("every record can be read"));
    raws.map(|raw| to_json(&raw).expect("a record is JSON")).collect()
}

fn open(book: &Path) -> (Store, Vec<Problem>) {
    let mut series = 0x00c0_ffee;
    let mut source = || {
        series += 1;
        Ok(series)
    };
    Store::open(Medium::File(hand_beside(book)), Medium::File(book.to_owned()), &mut source).expect("opens")
}

/// A book with all example records but those in its hand, its program killed: both files lie there as they would.
fn make(name: &str) {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join(name);
    let mut all = examples();
    // The store's own series writes on from the last example, into the hand.
    let series = all[0].id.series;
    let (mut store, _) =
        Store::open(Medium::File(hand_beside(&book)), Medium::File(book.clone()), &mut || Ok(series)).expect("opens");
    all.sort_by_key(|record| record.id);
    store.take(&mut super::raws(&all).into_iter().map(Ok)).expect("taken");
    drop(store);
    // Its hand was made before those numbers were: a new one is due now.
    if hand_beside(&book).exists() {
        fs::remove_file(hand_beside(&book)).expect("removed");
    }
    let (mut store, _) = open(&book);
    let next = store.next_id();
    let mut last = all.last().expect("examples").clone();
    (last.id, last.press, last.tick) = (next, next.seq, store.tick());
    store.append(&[last]).expect("saved");
    let lines = lines(&store);
    drop(store);
    fs::create_dir_all(folder()).expect("a folder");
    for (from, to) in [(book.clone(), format!("{name}.book")), (hand_beside(&book), format!("{name}.book-hand"))] {
        fs::copy(from, folder().join(to)).expect("kept");
    }
    fs::write(folder().join(format!("{name}.jsonl")), lines.join("\n") + "\n").expect("kept");
}

/// Names of the layouts that are kept.
fn kept() -> Vec<String> {
    let entries = fs::read_dir(folder()).map(|entries| entries.map(|entry| entry.expect("an entry").file_name()));
    let names = entries.into_iter().flatten().filter_map(|name| name.into_string().ok());
    let mut names: Vec<String> = names.filter_map(|name| name.strip_suffix(".book").map(str::to_owned)).collect();
    names.sort();
    names
}

#[test]
fn golden_books_of_every_layout_are_opened_and_all_their_records_are_read() {
    let present = Store::layout();
    if std::env::var_os("UPDATE_GOLDEN").is_some() && !kept().contains(&present) {
        make(&present);
    }
    assert!(kept().contains(&present), "no book of layout {present} is kept: UPDATE_GOLDEN=1 cargo test golden");
    for name in kept() {
        let home = tempfile::tempdir().expect("a folder");
        let book = home.path().join("my.book");
        for (end, to) in [("book", book.clone()), ("book-hand", hand_beside(&book))] {
            fs::copy(folder().join(format!("{name}.{end}")), to).expect("copied");
        }
        let (mut store, problems) = open(&book);
        let anew = problems.iter().any(|problem| matches!(problem, Problem::LaidOutAnew(_)));
        assert_eq!(anew, name != present, "{name}: {problems:?}");
        let expected = fs::read_to_string(folder().join(format!("{name}.jsonl"))).expect("kept");
        assert_eq!(lines(&store).join("\n") + "\n", expected, "{name}: every record is as it was");
        assert!(
            expected
                .lines()
                .all(|line| from_json(line).is_ok_and(|raw| raw.decode().is_ok_and(|record| record.event().is_some()))),
            "{name}"
        );
        let verdict = store.verify().expect("read");
        assert!(verdict.is_sound(), "{name}: {verdict:?}");
    }
}

/// Layout of the lists in META.
const LISTS: u16 = 5;

/// A book as another program left it: its lists bear another number.
fn other_lists(book: &Path) {
    let db = redb::Database::create(book).expect("opens");
    let transaction = db.begin_write().expect("writes");
    let meta = redb::TableDefinition::<u16, &[u8]>::new("meta");
    transaction.open_table(meta).expect("a table").insert(LISTS, [0, 0, 0, 0, 0].as_slice()).expect("written");
    transaction.commit().expect("commits");
}

#[test]
fn before_a_book_is_laid_out_anew_it_is_copied_and_that_is_said_once() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let (mut store, _) = open(&book);
    let records = super::farm_of(3).known.records;
    super::take(&mut store, &records);
    let before = lines(&store);
    store.close().expect("closed");
    other_lists(&book);
    let (mut store, problems) = open(&book);
    let copy = home.path().join(format!("my.book-before-upgrade-{}", records.len()));
    assert_eq!(problems, [Problem::LaidOutAnew(copy.clone())]);
    assert!(problems[0].to_string().contains("As it was before, it lies in "), "{}", problems[0]);
    assert_eq!(lines(&store), before);
    assert!(store.verify().expect("read").is_sound());
    store.close().expect("closed");
    assert_eq!(open(&book).1, [], "said once");
    // The copy is the book as it was, lists and all: it can be gone on with.
    let (mut store, problems) = open(&copy);
    assert!(matches!(problems.as_slice(), [Problem::LaidOutAnew(_)]), "{problems:?}");
    assert_eq!(lines(&store), before);
    assert!(store.verify().expect("read").is_sound());
}

#[cfg(unix)]
#[test]
fn a_book_that_cannot_be_copied_first_is_opened_all_the_same() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let (mut store, _) = open(&book);
    super::take(&mut store, &super::farm_of(3).known.records);
    let before = lines(&store);
    store.close().expect("closed");
    other_lists(&book);
    // A folder stands where the copy would be written.
    fs::create_dir(home.path().join("my.book-before-upgrade.unfinished")).expect("made");
    let (store, problems) = open(&book);
    assert!(matches!(problems.as_slice(), [Problem::NotCopied(_)]), "{problems:?}");
    assert_eq!(lines(&store), before);
}
