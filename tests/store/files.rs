//! Files: made for their owner only, locked, and every wrong file answered with a sentence that says what to do.

use super::{every, farm_of, take};
use crushbook::store::Store;
use crushbook::store::error::{Problem, StoreError};
use crushbook::store::medium::{Medium, hand_beside};
use std::fs;
use std::path::Path;

fn open(book: &Path) -> Result<(Store, Vec<Problem>), StoreError> {
    Store::open(Medium::File(hand_beside(book)), Medium::File(book.to_owned()), &mut || Ok(7))
}

fn refusal(book: &Path) -> String {
    match open(book) {
        Ok(_) => panic!("{} was opened", book.display()),
        Err(error) => error.to_string(),
    }
}

#[test]
fn a_new_book_is_made_with_its_folder_and_at_rest_is_one_file() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("data/books/my.book");
    let (mut store, problems) = open(&book).expect("made");
    assert_eq!(problems, []);
    let records = farm_of(3).known.records;
    store.append(&records).expect("saved");
    assert!(hand_beside(&book).exists());
    store.close().expect("closed");
    assert!(!hand_beside(&book).exists(), "the hand is gone");
    let (store, _) = open(&book).expect("opened again");
    assert_eq!(every(&store).len(), records.len());
    assert_eq!(store.series(), 7);
}

#[cfg(unix)]
#[test]
fn files_and_folders_are_their_owners_only() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("data/my.book");
    let _store = open(&book).expect("made");
    let mode = |path: &Path| fs::metadata(path).expect("there").permissions().mode() & 0o777;
    assert_eq!(mode(&book), 0o600);
    assert_eq!(mode(&hand_beside(&book)), 0o600);
    assert_eq!(mode(&home.path().join("data")), 0o700);
}

#[test]
fn a_second_program_gets_a_plain_sentence() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let _first = open(&book).expect("made");
    let said = refusal(&book);
    assert!(said.starts_with("This book is already open in another crushbook window"), "{said}");
    assert!(said.contains("close it and try again"), "{said}");
}

#[test]
fn a_folder_is_not_a_book() {
    let home = tempfile::tempdir().expect("a folder");
    assert!(refusal(home.path()).contains("is a folder, not a book"));
}

#[test]
fn a_foreign_file_is_refused_and_left_as_it_is() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("letter.txt");
    fs::write(&book, "Dear farmer,\n").expect("written");
    let said = refusal(&book);
    assert!(said.contains("letter.txt is not a book of this program"), "{said}");
    assert_eq!(fs::read_to_string(&book).expect("there"), "Dear farmer,\n");
    assert!(!hand_beside(&book).exists(), "nothing is made beside it");
}

#[test]
fn a_database_of_another_program_and_a_hand_given_as_book_are_refused() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("other.db");
    {
        let db = redb::Database::create(&book).expect("made");
        let transaction = db.begin_write().expect("writes");
        let table = redb::TableDefinition::<u64, u64>::new("birds");
        transaction.open_table(table).expect("a table").insert(1, 2).expect("written");
        transaction.commit().expect("commits");
    }
    assert!(refusal(&book).contains("is not a book of this program"));
    let real = home.path().join("my.book");
    let _store = open(&real).expect("made");
    drop(_store);
    assert!(refusal(&hand_beside(&real)).contains("is not a book of this program"));
}

#[test]
fn a_book_of_a_newer_program_is_refused_with_both_numbers() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    open(&book).expect("made").0.close().expect("closed");
    {
        let db = redb::Database::create(&book).expect("opens");
        let transaction = db.begin_write().expect("writes");
        let meta = redb::TableDefinition::<u16, &[u8]>::new("meta");
        transaction.open_table(meta).expect("a table").insert(1, 2_u32.to_le_bytes().as_slice()).expect("written");
        transaction.commit().expect("commits");
    }
    let said = refusal(&book);
    assert!(said.contains("layout 2; this one knows up to 1"), "{said}");
}

#[test]
fn a_book_cut_short_is_refused_at_any_length_and_never_emptied() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let (mut store, _) = open(&book).expect("made");
    take(&mut store, &farm_of(300).known.records);
    store.close().expect("closed");
    let whole = fs::read(&book).expect("there");
    for length in [5, 100, 511, 4096, 4200, whole.len() / 2, whole.len() - 4096] {
        fs::write(&book, &whole[..length]).expect("written");
        let said = refusal(&book);
        assert!(said.contains("damaged or cut short") || said.contains("is not a book"), "{length}: {said}");
        assert_eq!(fs::metadata(&book).expect("there").len(), length as u64, "left as it was");
    }
}

#[test]
fn an_empty_file_and_one_whose_making_broke_off_are_begun_anew() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    fs::write(&book, b"").expect("written");
    open(&book).expect("made").0.close().expect("closed");
    fs::write(&book, vec![0; 70_000]).expect("written");
    open(&book).expect("made").0.close().expect("closed");
}
