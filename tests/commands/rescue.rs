//! The rescue as it is typed: what it writes, what it tells, and what it never touches.

use super::home::{Home, TODAY};
use std::fs;

/// Records of the sample herd, as the check counts them.
fn counted(home: &Home, book: &str) -> String {
    let said = home.run(&["check", "--book", book]).well();
    said.split(" about ").next().expect("a count").to_owned()
}

#[test]
fn a_sound_book_gives_a_book_that_says_the_same() {
    let home = Home::with_herd();
    let before = fs::read(home.path("herd.book")).expect("there");
    let said = home.run(&["rescue", "herd.book"]).well();
    assert!(said.contains("They are in herd-rescued.book, and it is checked"), "{said}");
    assert_eq!(fs::read(home.path("herd.book")).expect("there"), before, "it is read and nothing else");
    assert_eq!(counted(&home, "herd.book"), counted(&home, "herd-rescued.book"));
    for form in ["text", "json"] {
        let due = |book: &str| home.run(&["due", "--book", book, "--today", TODAY, "--as", form]).well();
        assert_eq!(due("herd.book"), due("herd-rescued.book"));
    }
    let left: Vec<_> =
        fs::read_dir(home.0.path()).expect("listed").map(|file| file.expect("a file").file_name()).collect();
    assert!(!left.iter().any(|name| name.to_string_lossy().contains("crushbook-rescue")), "{left:?}");
}

#[test]
fn a_book_whose_beginning_is_gone_is_rescued_whole_or_with_what_is_missing_told() {
    let home = Home::with_herd();
    let mut bytes = fs::read(home.path("herd.book")).expect("there");
    bytes[..4096].fill(0xee);
    fs::write(home.path("hurt.book"), &bytes).expect("written");
    let said = home.run(&["due", "--book", "hurt.book"]).complained(1);
    assert!(said.contains("crushbook rescue"), "the way on is named: {said}");
    home.run(&["rescue", "hurt.book", "--to", "whole.book"]).well();
    assert_eq!(counted(&home, "herd.book"), counted(&home, "whole.book"));
    // Cut in the middle: what is gone is told by number, and what is there is a book.
    fs::write(home.path("cut.book"), &bytes[..bytes.len() / 2]).expect("written");
    let said = home.run(&["rescue", "cut.book"]).complained(1);
    assert!(said.contains("records") || said.contains("nothing in it tells how many"), "{said}");
    home.run(&["check", "--book", "cut-rescued.book"]).well();
}

#[test]
fn keys_beside_a_damaged_book_are_rescued_with_it_and_alone() {
    let home = Home::with_herd();
    // What lies in the book is found in its bytes wherever they are: here they stand for a hand left by a dead battery.
    let bytes = fs::read(home.path("herd.book")).expect("there");
    fs::write(home.path("bare.book"), b"nothing here").expect("written");
    fs::write(home.path("bare.book-hand"), bytes).expect("written");
    let said = home.run(&["rescue", "bare.book"]).well();
    assert!(said.contains("bare.book and bare.book-hand"), "{said}");
    assert_eq!(counted(&home, "herd.book"), counted(&home, "bare-rescued.book"));
    home.run(&["rescue", "bare.book-hand", "--to", "alone.book"]).well();
    assert_eq!(counted(&home, "herd.book"), counted(&home, "alone.book"));
}

#[test]
fn nothing_is_written_over_a_book() {
    let home = Home::with_herd();
    home.write("other.book", "not to be lost");
    home.write("third.book-hand", "not to be lost either");
    for (to, named) in [("other.book", "other.book"), ("third.book", "third.book-hand"), ("herd.book", "herd.book")] {
        let said = home.run(&["rescue", "herd.book", "--to", to]).complained(1);
        assert!(said.contains(&format!("{named} is there already")) && said.contains("--to"), "{said}");
    }
    assert_eq!(fs::read(home.path("other.book")).expect("there"), b"not to be lost");
}

#[test]
fn where_nothing_is_found_nothing_is_made() {
    let home = Home::new();
    home.write("letter.txt", "Dear farmer, claw and pag are words, and so is \u{1ec}law.\n");
    let said = home.run(&["rescue", "letter.txt"]).complained(1);
    assert!(said.contains("no record was found in letter.txt") && said.contains("earlier copy"), "{said}");
    assert!(!home.path("letter-rescued.txt").exists());
    let said = home.run(&["rescue", "nowhere.book"]).complained(1);
    assert!(said.contains("there is no file at nowhere.book"), "{said}");
}

#[test]
fn a_book_of_a_newer_program_is_refused_in_words_and_its_records_are_rescued() {
    let home = Home::with_herd();
    fs::copy(home.path("herd.book"), home.path("newer.book")).expect("copied");
    {
        let db = redb::Database::create(home.path("newer.book")).expect("opens");
        let transaction = db.begin_write().expect("writes");
        let meta = redb::TableDefinition::<u16, &[u8]>::new("meta");
        transaction.open_table(meta).expect("a table").insert(1, 2_u32.to_le_bytes().as_slice()).expect("written");
        transaction.commit().expect("commits");
    }
    let said = home.run(&["due", "--book", "newer.book"]).complained(1);
    assert!(said.contains("newer crushbook") && said.contains("crushbook rescue"), "{said}");
    home.run(&["rescue", "newer.book"]).well();
    assert_eq!(counted(&home, "herd.book"), counted(&home, "newer-rescued.book"));
}

#[test]
fn a_disk_image_with_a_book_in_it_is_a_file_like_any_other() {
    let home = Home::with_herd();
    let book = fs::read(home.path("herd.book")).expect("there");
    let noise: Vec<u8> = (0..1_500_001_u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    fs::write(home.path("disk.img"), [&noise, &book, &noise].map(Vec::as_slice).concat()).expect("written");
    home.run(&["rescue", "disk.img", "--to", "found.book"]).well();
    assert_eq!(counted(&home, "herd.book"), counted(&home, "found.book"));
}
