//! Another tablet's book, read as it lies there: at rest, with a hand beside it, left by a dead battery, in use, damaged or
//! something else. Not a byte of it ever changes.

use super::disk::Dice;
use super::{Bench, every, farm_of, raws, take};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::error::StoreError;
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::store::other::Other;
use crushbook::wire::envelope::Raw;
use std::fs;
use std::path::{Path, PathBuf};

fn open(book: &Path) -> Store {
    Store::open(Medium::File(hand_beside(book)), Medium::File(book.to_owned()), &mut || Ok(7)).expect("opens").0
}

/// A book in a folder, with its records.
fn at_rest() -> (tempfile::TempDir, PathBuf, Vec<Record>) {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("their.book");
    let records = farm_of(5).known.records;
    let mut store = open(&book);
    store.append(&records).expect("saved");
    store.close().expect("closed");
    (home, book, records)
}

/// Every file of a folder with its bytes and the moment it was last changed.
fn files(folder: &Path) -> Vec<(PathBuf, Vec<u8>, std::time::SystemTime)> {
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("read")
        .map(|entry| entry.expect("there").path())
        .map(|path| {
            let changed = fs::metadata(&path).and_then(|there| there.modified()).expect("a moment");
            (path.clone(), fs::read(&path).expect("read"), changed)
        })
        .collect();
    files.sort();
    files
}

fn read(other: &Other) -> Vec<Raw> {
    other.every().expect("reads").map(|raw| raw.expect("every record")).collect()
}

#[test]
fn a_book_at_rest_is_read_and_nothing_in_its_folder_changes() {
    let (home, book, records) = at_rest();
    let before = files(home.path());
    let other = Other::open(&book).expect("opens");
    assert_eq!((read(&other), other.waiting(), other.problems.len()), (raws(&records), 0, 0));
    assert_eq!(other.count(), records.len() as u64);
    drop(other);
    assert_eq!(files(home.path()), before);
}

#[cfg(unix)]
#[test]
fn a_book_on_a_medium_that_cannot_be_written_is_read() {
    use std::os::unix::fs::PermissionsExt;
    let (home, book, records) = at_rest();
    let mode = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("set");
    mode(&book, 0o400);
    mode(home.path(), 0o500);
    let read = read(&Other::open(&book).expect("opens"));
    mode(home.path(), 0o700);
    assert_eq!(read, raws(&records));
}

#[test]
fn keys_that_wait_beside_a_book_are_read_too() {
    let bench = Bench::new();
    let mut store = bench.opened(7);
    let records = farm_of(4).known.records;
    let (packed, waiting) = records.split_at(4);
    take(&mut store, packed);
    store.append(waiting).expect("saved");
    // As they lie there when the battery goes.
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("their.book");
    fs::write(&book, bench.book.image()).expect("written");
    fs::write(hand_beside(&book), bench.hand.image()).expect("written");
    let before = files(home.path());
    let other = Other::open(&book).expect("a book left by a dead battery opens");
    assert_eq!((read(&other), other.waiting()), (raws(&records), waiting.len()));
    drop(other);
    assert_eq!(files(home.path()), before);
    // Without the file that holds them it is said how to bring them.
    fs::remove_file(hand_beside(&book)).expect("taken away");
    let other = Other::open(&book).expect("opens");
    assert_eq!(read(&other), raws(packed));
    let said: Vec<String> = other.problems.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 1);
    assert!(said[0].contains("their.book-hand: an animal was still in the crush there"), "{said:?}");
    assert!(said[0].contains("bring this file too"), "{said:?}");
    // A hand that is none costs nothing of the book.
    fs::write(hand_beside(&book), "half a hand").expect("written");
    let other = Other::open(&book).expect("opens");
    assert_eq!((read(&other), other.problems.len()), (raws(packed), 1));
}

#[test]
fn a_book_that_is_in_use_is_told_and_two_may_read_one() {
    let (_home, book, records) = at_rest();
    let store = open(&book);
    assert!(matches!(Other::open(&book), Err(StoreError::InUse(_))));
    store.close().expect("closed");
    let (one, two) = (Other::open(&book).expect("opens"), Other::open(&book).expect("opens"));
    assert_eq!(read(&one), read(&two));
    // Whoever reads it holds it against writers.
    let again = Store::open(Medium::File(hand_beside(&book)), Medium::File(book.clone()), &mut || Ok(7));
    assert!(matches!(again, Err(StoreError::InUse(_))));
    drop((one, two));
    assert_eq!(every(&open(&book)).len(), records.len());
}

#[test]
fn what_is_no_book_is_left_as_it_is() {
    let home = tempfile::tempdir().expect("a folder");
    let file = home.path().join("something");
    for bytes in [&b""[..], b"number,tag\n", &[0; 5000]] {
        fs::write(&file, bytes).expect("written");
        let said = match Other::open(&file) {
            Ok(_) => panic!("{bytes:?} was opened"),
            Err(why) => why.to_string(),
        };
        assert!(said.contains("is not a book of this program"), "{said}");
        assert_eq!(fs::read(&file).expect("there"), bytes);
    }
    // A file of the same database that is no book.
    let (_keep, book, _) = at_rest();
    let mut store = open(&book);
    store
        .append(&[Record { id: RecordId { series: 7, ..store.next_id() }, ..farm_of(0).known.records[0].clone() }])
        .expect("saved");
    drop(store);
    assert!(matches!(Other::open(&hand_beside(&book)), Err(StoreError::NotABook(_))));
}

/// Whatever is damaged in the other, it ends in an error or with problems, and what does come is what was recorded.
#[test]
fn a_damaged_book_gives_no_wrong_record() {
    let (_home, book, records) = at_rest();
    let (bytes, expected) = (fs::read(&book).expect("there"), raws(&records));
    let mut dice = Dice::new(5);
    let mut told = 0;
    for _ in 0..150 {
        let mut hurt = bytes.clone();
        for _ in 0..=dice.roll(3) {
            let at = dice.roll(hurt.len());
            hurt[at] ^= 1 << dice.roll(8);
        }
        fs::write(&book, &hurt).expect("written");
        let Ok(other) = Other::open(&book) else {
            told += 1;
            continue;
        };
        let Ok(all) = other.every() else { continue };
        for raw in all {
            match raw {
                Ok(raw) => assert!(expected.contains(&raw)),
                Err(_) => told += 1,
            }
        }
        drop(other);
        assert_eq!(fs::read(&book).expect("there"), hurt);
    }
    assert!(told > 0, "some of it hit");
}
