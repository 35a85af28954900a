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
    run(&enter("anns.txt"), &[]).done();
    // The only one: of a sheet without a name too.
    run(&enter("nobodys.txt"), &[]).done();
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
    home.run(&["enter", "anns.txt", "--book", "b.book", "--today", TODAY]).done();
    let before = home.run(&["export", "--book", "b.book"]).well();
    for name in ["Anne", "", "\u{1b}[2J"] {
        let said = home.run(&["visit", "--begin", "--book", "b.book", "--today", TODAY, "--recorded-by", name]);
        assert_eq!(said.code, Some(2), "{said:?}");
        assert!(said.err.contains("nobody who records is called") && said.err.contains("knows: Ann"), "{said:?}");
        assert!(!said.err.contains('\u{1b}'), "{said:?}");
    }
    assert_eq!(home.run(&["export", "--book", "b.book"]).well(), before, "nothing was written");
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
    home.run_with(&["enter", "-", "--new-farm", "--book", "b.book", "--today", TODAY], &back).done();
    let printed =
        home.run(&["animal", "7", "--farm", "Lintel", "--book", "b.book", "--today", TODAY, "--as", "sheet"]).well();
    assert_eq!(printed, back);
}

/// A book that knows Ann and Jory, with a list, a walk and rules to be taken.
fn two_known() -> Home {
    let home = Home::new();
    home.write("anns.txt", ANNS);
    home.write("jorys.txt", JORYS);
    home.write("list.csv", "number,group\n7,high\n8,high\n");
    home.write("walk.txt", "7 2\n");
    home.write("rules.toml", "[wrap]\noff = 2\n");
    home.write("nobodys.txt", NOBODYS);
    home.run(&["enter", "anns.txt", "jorys.txt", "--book", "b.book", "--today", "2026-05-15"]).done();
    home
}

const BOOK: [&str; 4] = ["--book", "b.book", "--today", "2026-05-15"];

/// Every way in which a command writes, in an order in which each can.
const WRITES: &[&[&str]] = &[
    &["enter", "nobodys.txt"],
    &["farm", "Hollow", "--note", "gate at the back"],
    &["farm", "Hollow", "--contact-named", "Tom", "--contact-phone", "0700 1"],
    &["instruct", "hinds", "long toes", "--by", "Hester", "--why", "stones", "--takes-no-horn"],
    &["instruct", "hinds", "--goes-on"],
    &["instruct", "hinds", "--end", "sound"],
    &["called", "7 is lame", "--about", "7", "--farm", "Hollow"],
    &["changed", "mats", "sand"],
    &["herd", "list.csv", "--take", "all", "--farm", "Hollow"],
    &["herd", "list.csv", "--take", "good", "--new-farm", "--farm", "Lintel"],
    &["walk", "Hollow", "walk.txt"],
    &["renumber", "7", "--number", "70", "--farm", "Hollow"],
    &["gone", "8", "--farm", "Hollow"],
    &["gone", "8", "--back", "--farm", "Hollow"],
    &["undo", "--yes", "--farm", "Hollow"],
    &["visit", "Hollow", "--begin"],
    &["visit", "Hollow", "--close-all-the-same"],
    &["rules", "rules.toml"],
    &["twice", "join", "70", "8", "--farm", "Hollow"],
    &["twice", "part", "8", "--farm", "Hollow"],
];

/// Records, each as the exchange file has it.
fn records(home: &Home) -> Vec<serde_json::Value> {
    let all = home.run(&["export", "--book", "b.book"]).out;
    let lines = all.lines().map(|line| serde_json::from_str(line).expect("JSON"));
    lines.filter(|line: &serde_json::Value| line["kind"].is_string()).collect()
}

#[test]
fn whatever_a_command_writes_is_by_somebody_where_several_are_known() {
    let home = two_known();
    let is_jory = |record: &&serde_json::Value| record["fact"]["name"] == "Jory";
    let jory = records(&home).iter().find(is_jory).expect("he is known")["id"].clone();
    for words in WRITES {
        let before = records(&home);
        let said = home.run(&[words, &BOOK[..]].concat());
        assert!(said.err.contains("who records is not said"), "{words:?} {said:?}");
        assert!(said.err.contains("Ann, Jory") && said.err.contains("--recorded-by"), "{words:?} {said:?}");
        // A sheet is a file with a mistake in it; a command is typed wrongly.
        assert_eq!(said.code, Some(if words[0] == "enter" { 1 } else { 2 }), "{words:?} {said:?}");
        assert_eq!(records(&home), before, "{words:?} wrote");
        let said = home.run(&[words, &BOOK[..], &["--recorded-by", "jory"]].concat());
        assert_eq!(said.code, Some(0), "{words:?} {said:?}");
        let mut written = records(&home);
        written.retain(|record| !before.contains(record));
        assert!(!written.is_empty(), "{words:?} wrote nothing");
        assert!(written.iter().all(|record| record["by"] == jory), "{words:?} {written:#?}");
    }
}

/// What only reads, and what would write nothing new.
const READS: &[&[&str]] = &[
    &["enter", "anns.txt"],
    &["due"],
    &["animal", "7"],
    &["visits"],
    &["visit", "Hollow"],
    &["farm"],
    &["farm", "Hollow", "--name", "Hollow"],
    &["herd", "--farm", "Hollow"],
    &["herd", "list.csv", "--farm", "Hollow"],
    &["walk", "Hollow"],
    &["rules"],
    &["twice"],
    &["totals"],
    &["day-list"],
    &["take-off-list"],
];

#[test]
fn whoever_only_reads_is_not_asked_nor_is_a_sheet_that_is_in_the_book() {
    let home = two_known();
    let before = records(&home);
    for words in READS {
        home.run(&[words, &BOOK[..]].concat()).well();
    }
    assert_eq!(records(&home), before);
    // What would be taken back is shown to anybody, and what is in the book already is taken by nobody.
    for (words, then) in [
        (&["herd", "list.csv", "--take", "all", "--farm", "Hollow"][..], &["undo", "--farm", "Hollow"][..]),
        (&["enter", "nobodys.txt"], &["enter", "nobodys.txt"]),
        (&["herd", "list.csv", "--farm", "Hollow"], &["herd", "list.csv", "--take", "all", "--farm", "Hollow"]),
    ] {
        home.run(&[words, &BOOK[..], &["--recorded-by", "Ann"]].concat()).well();
        let before = records(&home);
        home.run(&[then, &BOOK[..]].concat()).well();
        assert_eq!(records(&home), before);
    }
}

#[test]
fn sheets_that_are_entered_together_are_asked_as_if_one_came_after_the_other() {
    let home = two_known();
    let sheets = ["anns.txt", "jorys.txt", "nobodys.txt"];
    let enter = |sheets: &[&str], book: &str, more: &[&str]| {
        home.run(&[&["enter"], sheets, &["--book", book, "--today", "2026-05-15"], more].concat())
    };
    // Hers and his make two of them before the day on which nobody wrote a name.
    let said = enter(&sheets, "new.book", &[]).complained(1);
    assert!(said.contains("nobodys.txt:2:1: who records is not said, and several do: Ann, Jory"), "{said}");
    let visits = |book: &str| home.json(&["visits", "--book", book])["visits"].as_array().expect("a list").len();
    assert_eq!(visits("new.book"), 0, "nothing was entered");
    // With hers alone it is hers.
    enter(&["anns.txt", "nobodys.txt"], "one.book", &[]).done();
    let began = home.json(&["visits", "--book", "one.book"]);
    assert_eq!((&began["visits"][0]["by"], &began["visits"][1]["by"]), (&"Ann".into(), &"Ann".into()), "{began}");
    // His day makes two of them, in a book that knew her alone.
    enter(&["anns.txt"], "two.book", &[]).done();
    let said = enter(&["jorys.txt", "nobodys.txt"], "two.book", &[]).complained(1);
    assert!(said.contains("several do: Ann, Jory"), "{said}");
    // A sheet that says whose it is is not given to another.
    enter(&["jorys.txt"], "one.book", &["--recorded-by", "Ann"]).done();
    let began = home.json(&["visits", "--book", "one.book"]);
    assert_eq!(began["visits"][1]["by"], "Jory", "{began}");
}

#[test]
fn one_person_who_is_in_the_book_twice_and_joined_need_not_be_named() {
    let home = Home::new();
    home.write("anns.txt", ANNS);
    home.write("ann.txt", &JORYS.replace("Jory", "ann"));
    home.run(&["enter", "anns.txt", "ann.txt", "--book", "b.book", "--today", "2026-05-15"]).done();
    let note = |words: &str| home.run(&[&["farm", "Hollow", "--note", words], &BOOK[..]].concat());
    assert!(note("a gate").complained(2).contains("--recorded-by: Ann, ann"));
    home.run(&[&["twice", "join", "1", "--recorded-by", "Ann"], &BOOK[..]].concat()).well();
    note("a gate").well();
    // Her sheets without a name, too.
    home.write("nobodys.txt", NOBODYS);
    home.run(&[&["enter", "nobodys.txt"], &BOOK[..]].concat()).done();
    assert_eq!(began(&home), ["Ann", "Ann", "Ann"]);
}
