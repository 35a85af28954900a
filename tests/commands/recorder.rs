//! Who records what a command writes.

use super::home::{Home, TODAY};

/// A visit of Ann's.
const ANNS: &str = "farm Hollow\nday 12 May 2026\nby Ann\n\nanimal 7\n  all four trimmed nothing found\n  signed\n";
/// One of Jory's, the day after.
const JORYS: &str = "farm Hollow\nday 13 May 2026\nby Jory\n\nanimal 8\n  all four trimmed nothing found\n  signed\n";
/// One on which nobody wrote his name.
const NOBODYS: &str = "farm Hollow\nday 14 May 2026\n\nanimal 7\n  hinds trimmed nothing found\n  signed\n";

/// Who began each visit, the newest first.
fn began(home: &Home) -> Vec<String> {
    let visits = home.run(&["visits", "--book", "b.book", "--today", "2026-05-15", "--as", "json"]).well();
    let visits: serde_json::Value = serde_json::from_str(&visits).expect("JSON");
    let visits = visits["visits"].as_array().expect("a list");
    visits.iter().map(|visit| visit["by"].as_str().unwrap_or_default().to_owned()).collect()
}

#[test]
fn it_is_the_one_whom_the_book_knows_or_whoever_is_named() {
    let home = Home::new();
    home.write("anns.txt", ANNS);
    home.write("jorys.txt", JORYS);
    home.write("nobodys.txt", NOBODYS);
    let enter = |sheet: &str| ["enter".to_owned(), sheet.to_owned()];
    let run = |words: &[String], more: &[&str]| {
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        home.run(&[&words[..], &["--book", "b.book", "--today", "2026-05-15"], more].concat())
    };
    run(&enter("anns.txt"), &[]).well();
    // The only one: of a sheet without a name too.
    run(&enter("nobodys.txt"), &[]).well();
    assert_eq!(began(&home), ["Ann", "Ann"]);
    // Two are known: nobody is guessed, and whoever is named is found as it is said.
    let said = run(&enter("jorys.txt"), &[]);
    assert_eq!(
        (said.code, said.err.as_str()),
        (Some(0), "crushbook: jorys.txt:3: begins the person Jory; known: Ann\n")
    );
    let begin = ["visit".to_owned(), "--begin".to_owned()];
    let said = run(&begin, &[]).complained(2);
    assert!(said.contains("who records is not said") && said.contains("--recorded-by: Ann, Jory"), "{said}");
    run(&begin, &["--recorded-by", "jory"]).well();
    assert_eq!(began(&home)[0], "Jory");
}

#[test]
fn a_name_that_nobody_bears_begins_nobody() {
    let home = Home::new();
    home.write("anns.txt", ANNS);
    home.run(&["enter", "anns.txt", "--book", "b.book", "--today", TODAY]).well();
    let before = home.run(&["export", "--book", "b.book", "--to", "-"]).well();
    for name in ["Anne", "", "\u{1b}[2J"] {
        let said = home.run(&["visit", "--begin", "--book", "b.book", "--today", TODAY, "--recorded-by", name]);
        assert_eq!(said.code, Some(2), "{said:?}");
        assert!(said.err.contains("nobody who records is called") && said.err.contains("knows: Ann"), "{said:?}");
        assert!(!said.err.contains('\u{1b}'), "{said:?}");
    }
    assert_eq!(home.run(&["export", "--book", "b.book", "--to", "-"]).well(), before, "nothing was written");
    // In an empty book nobody is known yet.
    let said = home.run(&["visits", "--book", "new.book", "--recorded-by", "Ann"]);
    assert!(said.code == Some(2) && said.err.contains("named on the screens, or on a sheet"), "{said:?}");
}

/// One turn that two people recorded, on paper.
const BOTH: &str = "farm Hollow
day 14 May 2026
by Ann

animal 7
  LH lifted trimmed all seen
  LH outer 4 SU severe
  handed over to \"Jory\"
  LH inner block wood
  signed
";

#[test]
fn a_turn_on_paper_may_be_handed_over_and_is_the_same_turn_when_it_is_entered_again() {
    let home = Home::new();
    home.write("both.txt", BOTH);
    let enter = || home.run(&["enter", "both.txt", "--book", "b.book", "--today", TODAY]).done();
    enter();
    let animal = home.json(&["animal", "7", "--book", "b.book"]);
    let parts = animal["turns"][0]["recorded"].as_array().expect("a list").clone();
    let names: Vec<_> = parts.iter().map(|part| part["by"].as_str().unwrap_or_default()).collect();
    assert_eq!(names, ["Ann", "Jory"], "{animal:#}");
    assert!(parts[0]["said"].to_string().contains("sole ulcer"), "{parts:#?}");
    assert!(parts[1]["said"].to_string().contains("block"), "{parts:#?}");
    assert!(enter().contains("already entered"));
    assert_eq!(home.run(&["animal", "7", "--book", "b.book", "--today", TODAY, "--as", "sheet"]).well(), BOTH);
    // And whoever signs is told too, where it went back.
    let back = BOTH.replace("farm Hollow", "farm Lintel").replace("  signed", "  handed over to \"Ann\"\n  signed");
    home.run_with(&["enter", "-", "--new-farm", "--book", "b.book", "--today", TODAY], &back).well();
    let printed =
        home.run(&["animal", "7", "--farm", "Lintel", "--book", "b.book", "--today", TODAY, "--as", "sheet"]).well();
    assert_eq!(printed, back);
}
