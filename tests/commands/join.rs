//! `join`: two people with two tablets. By book, by a folder that some service carries, in any order and any number of times;
//! the other is never written to.

use super::home::{Home, TODAY};
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::wire::envelope::encode;
use crushbook::wire::exchange::Writing;
use std::fs;
use std::path::Path;

const FARM: &str = "farm Lintel\nday 7 May 2026\nanimal 12\n  LH lifted\n  LH outer 4 SU moderate\n  signed\n\
                    animal 13\n  all four trimmed nothing found\n  signed\n";
const ANN: &str = "farm Lintel\nday 14 May 2026\nby Ann\nanimal 12\n  LH lifted\n  LH outer 4 SU healed\n  signed\n";
const TOM: &str = "farm Lintel\nday 14 May 2026\nby Tom\nanimal 12\n  LH lifted\n  LH outer 4 SU worse\n  signed\n\
                   animal 13\n  RH lifted\n  RH heel DD M2\n  RH heel wrap blue off by 17 May\n  signed\n";

fn enter(home: &Home, book: &str, text: &str) {
    home.run_with(&["enter", "-", "--new-farm", "--today", TODAY, "--book", book], text).well();
}

/// Two tablets that began alike and then recorded the same visit.
fn two() -> Home {
    let home = Home::new();
    enter(&home, "ann.book", FARM);
    home.run(&["join", "ann.book", "--book", "tom.book", "--today", TODAY]).well();
    enter(&home, "ann.book", ANN);
    enter(&home, "tom.book", TOM);
    home
}

fn bytes(home: &Home, name: &str) -> Vec<u8> {
    fs::read(home.path(name)).expect("there")
}

/// Everything of a book as it is exported.
fn all(home: &Home, book: &str) -> String {
    home.run(&["export", "--book", book]).well()
}

fn join(home: &Home, other: &str, book: &str) -> String {
    home.run(&["join", other, "--book", book, "--today", TODAY]).well()
}

#[test]
fn both_end_with_the_same_whoever_joins_first_and_the_other_is_not_touched() {
    let home = two();
    let before = bytes(&home, "tom.book");
    join(&home, "tom.book", "ann.book");
    assert_eq!(bytes(&home, "tom.book"), before, "not a byte of it");
    assert!(!home.path("tom.book-hand").exists());
    join(&home, "ann.book", "tom.book");
    assert_eq!(all(&home, "ann.book"), all(&home, "tom.book"));
    let said = join(&home, "tom.book", "ann.book");
    assert!(said.starts_with("Nothing is new: "), "{said}");
}

#[test]
fn it_says_what_is_new_what_is_due_now_and_where_they_disagree() {
    let home = two();
    let said = join(&home, "tom.book", "ann.book");
    assert!(said.contains(" new; ") && said.contains("  Lintel: 2 animals\n"), "{said}");
    assert!(said.contains("Not known here until now.") && said.contains("blue wrap"), "{said}");
    assert!(said.contains("Two tablets disagree; both facts are kept."), "{said}");
    let differ = said.lines().find(|line| line.contains("LH outer 4")).expect("a line about it");
    assert!(differ.contains("  Lintel 12: two tablets differ, 14 May: LH outer 4 SU "), "{said}");
    assert!(differ.contains("SU healed") && differ.contains("SU worse"), "{said}");
    assert!(said.contains("Lintel 12: 14 May: in the crush on two tablets"), "{said}");
    // Both stand where she is shown, in words and for programs.
    let shown = home.run(&["animal", "12", "--book", "ann.book", "--today", TODAY]).well();
    assert!(shown.contains("Look again: two tablets differ, 14 May: LH outer 4 SU "), "{shown}");
    let animal = home.json(&["animal", "12", "--book", "ann.book"]);
    let differ = animal["disagreements"].as_array().expect("a list");
    let foot = differ.iter().find(|differ| differ["foot"] == "LH").expect("of that foot");
    let mut said: Vec<&str> = foot["said"].as_array().expect("two").iter().filter_map(|said| said.as_str()).collect();
    said.sort_unstable();
    assert_eq!(said, ["SU healed", "SU worse"]);
    assert_eq!(
        (&foot["claw"], &foot["zone"], &foot["settled"], &foot["date"]),
        (&"outer".into(), &4.into(), &false.into(), &TODAY.into(),)
    );
    assert_eq!(animal["turns"].as_array().map(Vec::len), Some(3), "both turns of that day");
}

#[test]
fn a_shared_folder_carries_everything_and_what_else_lies_in_it_is_told() {
    let home = two();
    let share = home.path("share");
    fs::create_dir(&share).expect("made");
    for book in ["ann.book", "tom.book"] {
        home.run(&["export", "--book", book, "--to", "share"]).well();
    }
    let names = |folder: &Path| -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("read")
            .map(|e| e.expect("there").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    };
    let own = names(&share);
    assert_eq!(own.len(), 2, "each its own: {own:?}");
    assert!(own.iter().all(|name| name.starts_with("crushbook-") && name.ends_with(".jsonl")), "{own:?}");
    // What services and people leave in a folder: an older copy beside, half of a file, hidden files, a picture, a folder.
    let whole = fs::read_to_string(share.join(&own[0])).expect("there");
    fs::write(share.join(format!("{} (older copy 2026-05-14).jsonl", &own[0][..26])), &whole).expect("written");
    fs::write(share.join("on-its-way.jsonl"), &whole[..whole.len() / 2]).expect("written");
    fs::write(share.join("nothing-yet.jsonl"), "").expect("written");
    fs::write(share.join(".service"), "state").expect("written");
    fs::write(share.join("photo.png"), b"\x89PNG\r\n\x1a\n\0\0").expect("written");
    fs::create_dir(share.join("more")).expect("made");
    let before = names(&share);
    for book in ["ann.book", "tom.book", "new.book"] {
        let said = home.run(&["join", "share", "--book", book, "--today", TODAY]);
        assert_eq!(said.code, Some(0), "{}", said.err);
        for wanted in [
            "on-its-way.jsonl: it ends in the middle of line",
            "nothing-yet.jsonl: it is empty",
            "photo.png: it is no exchange file",
        ] {
            assert!(said.err.contains(wanted), "{}\nshould contain {wanted}", said.err);
        }
        assert_eq!(said.err.lines().count(), 3, "{}", said.err);
    }
    assert_eq!(names(&share), before);
    assert_eq!(all(&home, "ann.book"), all(&home, "tom.book"));
    assert_eq!(all(&home, "ann.book"), all(&home, "new.book"));
    // A damaged line is another matter.
    fs::write(share.join("on-its-way.jsonl"), whole.replacen("2026-05-07", "2026-05-08", 1)).expect("written");
    let said = home.run(&["join", "share", "--book", "ann.book", "--today", TODAY]).complained(1);
    assert!(said.contains("was changed after it was written"), "{said}");
}

#[test]
fn what_cannot_be_joined_ends_in_a_sentence() {
    let home = two();
    home.write("letter.txt", "Dear Hester\n");
    fs::create_dir(home.path("empty")).expect("made");
    for (other, code, wanted) in [
        ("ann.book", 2, "ann.book is the very book it would be joined into"),
        ("nowhere", 1, "nowhere cannot be read"),
        ("letter.txt", 1, "it is no exchange file: it begins with \"Dear Hester\""),
        ("empty", 1, "empty holds no exchange file"),
    ] {
        let said = home.run(&["join", other, "--book", "ann.book"]).complained(code);
        assert!(said.contains(wanted), "{said}\nshould contain {wanted}");
    }
    let bytes = bytes(&home, "tom.book");
    fs::write(home.path("cut.book"), &bytes[..bytes.len() / 2]).expect("written");
    let said = home.run(&["join", "cut.book", "--book", "ann.book"]).complained(1);
    assert!(said.contains("cut.book is damaged or cut short"), "{said}");
    // An exchange file may be named too.
    home.run(&["export", "--book", "tom.book", "--to", "tom.jsonl"]).well();
    assert!(join(&home, "tom.jsonl", "ann.book").contains("blue wrap"));
}

#[test]
fn two_tablets_that_wrote_under_one_name_are_told_and_both_are_kept() {
    let mut one = Tablet::new(7);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "12");
    // Their whole disk was copied, so both go on with the same number.
    let mut copy = one.clone();
    one.write(day(2), cow.0, Event::CullSaid { animal: cow });
    copy.write(day(2), cow.0, Event::Kicker { animal: cow, kicks: true });
    let home = Home::new();
    for (name, tablet) in [("one.jsonl", &one), ("copy.jsonl", &copy)] {
        let mut file = fs::File::create(home.path(name)).expect("made");
        let mut writing = Writing::begin(&mut file).expect("written");
        for record in &tablet.seen {
            writing.record(&encode(record).expect("encodes")).expect("written").expect("a record can be written");
        }
        writing.end().expect("written");
    }
    join(&home, "one.jsonl", "third.book");
    let said = home.run(&["join", "copy.jsonl", "--book", "third.book", "--today", TODAY]);
    assert_eq!(said.code, Some(0), "nothing was lost: {}", said.err);
    assert!(said.out.starts_with("1 record is new; 2 records were here already."), "{}", said.out);
    assert!(said.err.contains("two tablets wrote under one name, 0000000000000007-3"), "{}", said.err);
    let kept = all(&home, "third.book");
    assert!(kept.contains("cull-said") && kept.contains("kicker"), "{kept}");
    // And they travel on, both of them.
    home.write("third.jsonl", &kept);
    home.run(&["import", "third.jsonl", "--book", "fourth.book", "--today", TODAY]);
    assert_eq!(all(&home, "fourth.book"), kept);
}
