//! A farm's people told of with `crushbook farm`, shown with it, and printed as sheets.

use super::home::{Home, Said, TODAY};
use serde_json::json;

fn run(home: &Home, day: &str, arguments: &[&str]) -> Said {
    home.run(&[arguments, &["--book", "a.book", "--today", day]].concat())
}

fn farm() -> Home {
    let home = Home::new();
    let sheet = "farm Lintel\nday 1 May 2026\n\nanimal 12\n  LH wrap blue off by 4 May by \"tom\"\n  signed\n";
    home.run_with(&["enter", "-", "--book", "a.book", "--today", TODAY], sheet).well();
    home
}

fn records(home: &Home) -> usize {
    run(home, TODAY, &["export"]).well().lines().count()
}

const TOM: [&str; 8] = [
    "farm",
    "Lintel",
    "--contact-named",
    "Tom",
    "--contact-does",
    "takes wraps off",
    "--contact-phone",
    "01632 960123",
];

#[test]
fn one_is_told_of_changed_gone_and_taken_back() {
    let home = farm();
    let said = run(&home, "2026-05-02", &TOM).well();
    let undo = "crushbook undo --farm Lintel takes it back.\n";
    assert_eq!(said, format!("contact Tom: takes wraps off, 01632 960123, since 2 May 2026\n{undo}"));
    // What is not said of one who is known stays as it was.
    let said =
        run(&home, "2026-05-03", &["farm", "Lintel", "--contact-named", "Tom", "--contact-phone", "01632 960124"])
            .well();
    let was = "was takes wraps off, 01632 960123, since 2 May 2026";
    assert_eq!(said, format!("contact Tom: takes wraps off, 01632 960124, since 3 May 2026; {was}\n{undo}"));
    let card = run(&home, TODAY, &["farm", "Lintel"]).well();
    let wanted = "  contact       Tom: takes wraps off, 01632 960124, since 3 May 2026\n   was          takes wraps off, 01632 960123, \
                  since 2 May 2026\n";
    assert!(card.contains(wanted), "{card}");
    let before = card;
    let count = records(&home);
    let again = ["farm", "Lintel", "--contact-named", "Tom", "--contact-does", "takes wraps off"];
    assert!(run(&home, TODAY, &again).well().contains("nothing was written"));
    assert_eq!(records(&home), count);
    // Gone, as they are written there, together with a fact in one press.
    let said = run(&home, TODAY, &["farm", "Lintel", "--contact-gone", "TOM", "--contact", "Ada Fenn"]).well();
    assert!(
        said.contains("contact Tom: there no longer, since 14 May 2026; was takes wraps off, 01632 960124"),
        "{said}"
    );
    let card = run(&home, TODAY, &["farm", "Lintel"]).well();
    assert!(
        card.contains("  ask for       Ada Fenn, since 14 May 2026\n  contact       Tom: there no longer, since"),
        "{card}"
    );
    let shown = run(&home, TODAY, &["undo", "--farm", "Lintel"]).well();
    assert!(shown.contains("contact Ada Fenn") && shown.contains("Tom is there no longer"), "{shown}");
    run(&home, TODAY, &["undo", "--farm", "Lintel", "--yes"]).well();
    assert_eq!(run(&home, TODAY, &["farm", "Lintel"]).well(), before);
}

#[test]
fn text_csv_and_json_say_who_is_there() {
    let home = farm();
    run(&home, "2026-05-02", &TOM).well();
    run(&home, "2026-05-02", &["farm", "Lintel", "--contact-named", "Ada"]).well();
    run(&home, "2026-05-02", &["farm", "Lintel", "--contact-named", "Bo", "--contact-does", "milks"]).well();
    run(&home, "2026-05-03", &["farm", "Lintel", "--contact-gone", "Bo"]).well();
    let csv = run(&home, TODAY, &["farm", "--as", "csv"]).well();
    assert!(csv.lines().next().is_some_and(|head| head.ends_with(",animals,contacts")), "{csv}");
    assert!(csv.contains(",\"Tom: takes wraps off, 01632 960123; Ada\""), "{csv}");
    assert!(run(&home, TODAY, &["farm"]).well().contains("Tom: takes wraps off, 01632 960123; Ada"));
    let farm = &home.json(&["farm", "Lintel", "--book", "a.book"])["farms"][0];
    let word =
        |name: &str, does: Option<&str>, phone: Option<&str>, gone: bool, since: &str, before: serde_json::Value| {
            let mut value = json!({ "name": name, "does": does, "phone": phone, "gone": gone, "since": since });
            if !before.is_null() {
                value["before"] = before;
            }
            value
        };
    let milked = word("Bo", Some("milks"), None, false, "2026-05-02", serde_json::Value::Null);
    let wanted = json!([
        word("Tom", Some("takes wraps off"), Some("01632 960123"), false, "2026-05-02", json!([])),
        word("Ada", None, None, false, "2026-05-02", json!([])),
        word("Bo", None, None, true, "2026-05-03", json!([milked])),
    ]);
    assert_eq!(farm["contacts"], wanted);
    // Whoever is to take a wrap off stands on the list with the number, however the name is written.
    let list = run(&home, TODAY, &["take-off-list"]).well();
    assert!(list.contains("\nTakes off: Tom 01632 960123\n"), "{list}");
    let list = home.json(&["take-off-list", "--book", "a.book"]);
    assert_eq!((&list["on"][0]["by"], &list["on"][0]["by_phone"]), (&"tom".into(), &"01632 960123".into()));
}

#[test]
fn what_cannot_be_kept_is_refused_and_nothing_is_written() {
    let home = farm();
    run(&home, "2026-05-02", &TOM).well();
    let count = records(&home);
    let long = "x".repeat(61);
    for (arguments, code, why) in [
        (&["--contact-named", " "][..], 2, "a contact cannot be called \" \""),
        (&["--contact-named", &long], 2, "a name has at most 60 letters; nothing was written"),
        (&["--contact-named", "Tom", "--contact-phone", "ask Ada"], 2, "\"ask Ada\" is no telephone number"),
        (&["--contact-named", "Tom", "--contact-phone", "ask Ada"], 2, "digits, like 01632 960123 or +44 1632 960123"),
        (&["--contact-phone", "01632 960123"], 2, "--contact-named"),
        (&["--contact-named", "Tom", "--contact-gone", "Tom"], 2, "--contact-gone"),
        (&["--contact-gone", "Tim"], 1, "no contact there is called \"Tim\""),
        (&["--contact-gone", "Tim"], 1, "Those there are: Tom. Nothing was written."),
    ] {
        let told = [&["farm", "Lintel", "--vet", "Nobody"], arguments].concat();
        let said = run(&home, TODAY, &told).complained(code);
        assert!(said.contains(why), "{arguments:?}: {said}");
    }
    let said = run(&home, "2026-05-01", &["farm", "Lintel", "--contact-gone", "Tom"]).complained(2);
    assert!(said.contains("Tom was told of on 2 May 2026, which is after 1 May 2026"), "{said}");
    assert_eq!(records(&home), count);
    run(&home, TODAY, &["farm", "Lintel", "--contact-gone", "Tom"]).well();
    let said = run(&home, TODAY, &["farm", "Lintel", "--contact-gone", "Tom"]).complained(1);
    assert!(said.contains("No contact of this farm is known"), "gone twice: {said}");
}

#[test]
fn a_sheet_tells_of_them_and_is_printed_back() {
    let home = farm();
    run(&home, "2026-05-02", &TOM).well();
    run(&home, "2026-05-02", &["farm", "Lintel", "--contact", "Ada Fenn"]).well();
    run(&home, "2026-05-02", &["farm", "Lintel", "--contact-named", "Ada Fenn", "--contact-phone", "+44 1632 960125"])
        .well();
    run(&home, "2026-05-03", &["farm", "Lintel", "--contact-gone", "tom"]).well();
    let printed = run(&home, TODAY, &["farm", "Lintel", "--as", "sheet"]).well();
    let wanted = "farm Lintel\nday 2 May 2026\n\ntold contact \"Tom\" \"takes wraps off\" \"01632 960123\"\n\
                  told contact \"Ada Fenn\"\ntold contact \"Ada Fenn\" \"\" \"+44 1632 960125\"\n\n\
                  farm Lintel\nday 3 May 2026\n\ntold contact \"Tom\" gone\n";
    assert!(printed.ends_with(wanted), "{printed}");
    let enter = |text: &str| home.run_with(&["enter", "-", "--book", "b.book", "--today", TODAY], text);
    enter(&printed).well();
    let facts = |book: &str| {
        let json = home.json(&["farm", "Lintel", "--book", book]);
        (json["farms"][0]["contacts"].clone(), json["farms"][0]["contact"].clone())
    };
    assert_eq!(facts("b.book"), facts("a.book"));
    assert_eq!(facts("b.book").1, json!("Ada Fenn"));
    let again = enter(&printed).well();
    assert!(again.lines().all(|line| line.ends_with("already entered")), "{again}");
    for (line, why) in [
        ("\"Tom\" \"milks\" \"ask Ada\"", "a telephone number is digits"),
        ("\"\" \"milks\"", "a contact has a name"),
        ("\"Tom\" milks", "milks"),
        ("\"Tom\" \"milks\" goen", "did you mean gone?"),
    ] {
        let said = enter(&format!("farm Lintel\nday 4 May 2026\ntold contact {line}\n")).complained(1);
        assert!(said.contains("input:3:") && said.contains(why), "{line}: {said}");
    }
}

#[test]
fn joined_farms_have_each_others_people_on_every_list_and_parted_their_own() {
    let home = farm();
    let other = "farm Lin-tel\nday 1 May 2026\n\nanimal 7\n  all four trimmed nothing found\n  signed\n";
    home.run_with(&["enter", "-", "--book", "a.book", "--new-farm", "--today", TODAY], other).done();
    run(&home, "2026-05-02", &["farm", "Lin-tel", "--contact-named", "Tom", "--contact-phone", "01632 960123"]).well();
    let names = |farm: &str| {
        let json = home.json(&["farm", farm, "--book", "a.book"]);
        json["farms"][0]["contacts"].as_array().map_or(0, Vec::len)
    };
    let on_list =
        || run(&home, TODAY, &["take-off-list", "--farm", "Lintel"]).well().contains("Takes off: Tom 01632 960123");
    assert_eq!((names("Lintel"), names("Lin-tel"), on_list()), (0, 1, false));
    run(&home, TODAY, &["twice", "join", "1"]).well();
    assert_eq!((names("Lintel"), on_list()), (1, true));
    run(&home, TODAY, &["twice", "part", "1"]).well();
    assert_eq!((names("Lintel"), names("Lin-tel"), on_list()), (0, 1, false));
}
