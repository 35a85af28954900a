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
    let farms: [(&str, &[&str]); 3] = [
        (
            "Quillbarrow",
            &["1376", "1379", "1381", "1382", "1386", "1390", "1391", "1394", "1375", "2397", "1384", "1398", "1400"],
        ),
        ("Threlmarsh", &["214", "219", "225", "239", "255", "261", "322"]),
        ("Oddenfold", &["3", "4", "6", "7", "9", "16", "17", "19", "55"]),
    ];
    for (farm, numbers) in farms {
        for number in numbers {
            let sheets = home.run(&["animal", number, "--farm", farm, "--book", "herd.book", "--as", "sheet"]).well();
            let enter = ["enter", "-", "--new-farm", "--book", "other.book", "--today", TODAY];
            home.run_with(&enter, &sheets).well();
            let [mut one, mut other] =
                ["herd.book", "other.book"].map(|book| home.json(&["animal", number, "--farm", farm, "--book", book]));
            // A sheet calls her by the number she has now, and tells of no other; these four got theirs from a sheet.
            let [before, after] = [&mut one, &mut other].map(|animal| animal["earlier"].take());
            let renumbered = usize::from(["2397", "322", "55", "9"].contains(number));
            assert_eq!(before.as_array().map(Vec::len), Some(renumbered), "{number} {before}");
            assert_eq!(after, serde_json::json!([]));
            assert_eq!(one, other, "{farm} {number}\n{sheets}");
            let again = home.run_with(&enter, &sheets).well();
            assert!(again.lines().all(|line| line.ends_with(": already entered")), "{farm} {number}\n{again}");
        }
    }
}

#[test]
fn an_old_number_still_finds_her_and_an_unknown_one_is_answered_with_the_nearest() {
    let home = Home::with_herd();
    let json = |number: &str, farm: &str| home.json(&["animal", number, "--farm", farm, "--book", "herd.book"]);
    assert_eq!(json("1397", "Quillbarrow")["animal"], "2397");
    assert_eq!(json("5", "Oddenfold")["animal"], "55");
    let said = home.run(&["animal", "13822", "--farm", "Quillbarrow", "--book", "herd.book"]).complained(1);
    assert!(said.contains("no animal of Quillbarrow is called 13822") && said.contains("Did you mean 1382?"), "{said}");
    let said = home.run(&["animal", "1382", "--farm", "Quilbarow", "--book", "herd.book"]).complained(1);
    assert!(said.contains("Did you mean Quillbarrow?"), "{said}");
}

#[test]
fn a_number_given_again_is_hers_who_has_not_left() {
    let home = Home::with_herd();
    let last = |called: &str| {
        let json = home.json(&["animal", called, "--farm", "Oddenfold", "--book", "herd.book"]);
        json["turns"][0]["date"].as_str().map(str::to_owned)
    };
    assert_eq!(last("9").as_deref(), Some("2025-12-04"), "Drizzle carries it now");
    assert_eq!(last("Feather").as_deref(), Some("2024-11-14"), "who died with it is found by name");
}
