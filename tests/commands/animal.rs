//! One animal going out, and in again into another book.

use super::home::{Home, TODAY};

#[test]
fn as_text_she_has_her_map_and_her_turns_newest_first() {
    let home = Home::with_herd();
    let out = home.run(&["animal", "1382", "--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY]).well();
    assert!(out.starts_with("1382 Clover, Quillbarrow, in milk\n\nNothing is open.\n"), "{out}");
    assert!(out.contains("outer\\/  9  \\/inner"), "the map: {out}");
    let days: Vec<&str> = out.lines().filter(|line| line.starts_with("THU ")).collect();
    assert!(days.len() > 3, "{out}");
    assert_eq!(days.last(), Some(&"THU 13 Nov 2025"), "she came in on the first day: {out}");
    assert!(out.lines().all(|line| line.chars().count() <= 120 && line.trim_end() == line), "{out}");
}

#[test]
fn as_sheets_she_goes_into_another_book_the_same() {
    let home = Home::with_herd();
    for number in ["1376", "1379", "1381", "1382", "1390", "1391", "1394", "1375", "2397", "1384", "1398", "1400"] {
        let sheets = home.run(&["animal", number, "--book", "herd.book", "--as", "sheet"]).well();
        home.run_with(&["enter", "-", "--book", "other.book", "--today", TODAY], &sheets).well();
        let [one, other] = ["herd.book", "other.book"].map(|book| home.json(&["animal", number, "--book", book]));
        assert_eq!(one, other, "{number}\n{sheets}");
        let again = home.run_with(&["enter", "-", "--book", "other.book", "--today", TODAY], &sheets).well();
        assert!(again.lines().all(|line| line.ends_with(": already entered")), "{number}\n{again}");
    }
}

#[test]
fn an_old_number_still_finds_her_and_an_unknown_one_is_answered_with_the_nearest() {
    let home = Home::with_herd();
    assert_eq!(home.json(&["animal", "1397", "--book", "herd.book"])["animal"], "2397");
    let said = home.run(&["animal", "13822", "--book", "herd.book"]).complained(1);
    assert!(said.contains("no animal of Quillbarrow is called 13822") && said.contains("Did you mean 1382?"), "{said}");
    let said = home.run(&["animal", "1382", "--farm", "Quilbarow", "--book", "herd.book"]).complained(1);
    assert!(said.contains("Did you mean Quillbarrow?"), "{said}");
}
