//! Where and when: every visit with its day, who recorded and how many came, the newest first.

use super::home::{Home, TODAY};

const SHEETS: [&str; 3] = [
    "farm Hollow\nday 30 Apr 2026\nby Ann\ntold address \"Mill Lane\"\nanimal 1\n  all four trimmed nothing found\n  signed\n\
     animal 2\n  all four trimmed nothing found\n  got away\n",
    "farm Steep\nday 2 May 2026\nby Ben\nanimal 1\n  hinds trimmed nothing found\n  signed\n",
    "farm Hollow\nday 14 May 2026\nby Ben\nanimal 1\n  hinds trimmed nothing found\n  signed\n",
];

#[test]
fn every_visit_is_listed_with_its_place_and_day() {
    let home = Home::new();
    for sheet in SHEETS {
        home.write("day.txt", sheet);
        home.run(&["enter", "day.txt", "--new-farm", "--book", "b.book", "--today", TODAY]).done();
    }
    let list = home.json(&["visits", "--book", "b.book"]);
    let rows = list["visits"].as_array().expect("a list");
    let told: Vec<_> = rows.iter().map(|row| [&row["date"], &row["farm"], &row["address"], &row["by"]]).collect();
    let wanted = [
        ["2026-05-14", "Hollow", "Mill Lane", "Ben"],
        ["2026-05-02", "Steep", "", "Ben"],
        ["2026-04-30", "Hollow", "Mill Lane", "Ann"],
    ];
    for (told, wanted) in told.iter().zip(wanted) {
        assert_eq!(told.map(|word| word.as_str().unwrap_or_default()), wanted, "{list:#}");
    }
    assert_eq!((rows.len(), &rows[2]["animals"], &rows[2]["done"]), (3, &2.into(), &1.into()), "{list:#}");
    // Typed up on another day, so no clock tells when it was.
    assert!(rows.iter().all(|row| row["from"].is_null() && row["to"].is_null()), "{list:#}");
    let csv = home.run(&["visits", "--book", "b.book", "--today", TODAY, "--as", "csv"]).well();
    let first = "farm,address,date,why,from,to,by,animals,done,last_date,herd,cleaned_before,cleaned_after,state,recorded_by\r\n\
                 Hollow,Mill Lane,2026-05-14,routine,,,Ben,1,1,2026-05-14,,,,open,Ben\r\n";
    assert!(csv.starts_with(first), "{csv}");
    let text = home.run(&["visits", "--book", "b.book", "--farm", "Steep", "--today", TODAY]).well();
    assert!(text.contains("SAT 2 May 2026") && !text.contains("Hollow"), "{text}");
    let before = home.run(&["visits", "--book", "b.book", "--today", "2026-04-29"]).well();
    assert_eq!(before, "No visit is in this book up to that day.\n");
}

/// A day on which Ann began, Jory took over in a turn, and Cyril told of washing; and the day on which it went on, at Dina's hand.
const SHARED: [&str; 3] = [
    "farm Hollow\nday 12 May 2026\nby Ann\n\nanimal 1\n  LH lifted trimmed nothing found\n  handed over to \"Jory\"\n  \
     RH lifted trimmed nothing found\n  signed\n",
    "farm Hollow\nday 12 May 2026\nby Cyril\nvisit whole herd, set aside\n",
    "farm Hollow\nday 13 May 2026\nby Dina\nvisit gone on\n\nanimal 2\n  all four trimmed nothing found\n  signed\n",
];

#[test]
fn everybody_who_recorded_in_a_visit_is_named_in_the_order_in_which_they_first_did() {
    let home = Home::new();
    for sheet in SHARED {
        home.write("day.txt", sheet);
        home.run(&["enter", "day.txt", "--new-farm", "--book", "b.book", "--today", TODAY]).done();
    }
    let visits = |words: &[&str]| home.run(&[&["visits", "--book", "b.book"], words].concat()).well();
    let json: serde_json::Value = serde_json::from_str(&visits(&["--as", "json", "--today", TODAY])).expect("JSON");
    let rows = json["visits"].as_array().expect("a list");
    assert_eq!(rows.len(), 1, "{json:#}");
    assert_eq!(rows[0]["recorded_by"], serde_json::json!(["Ann", "Jory", "Cyril", "Dina"]), "{json:#}");
    assert_eq!(rows[0]["by"], "Ann");
    let csv = visits(&["--as", "csv", "--today", TODAY]);
    assert!(csv.ends_with(",Ann; Jory; Cyril; Dina\r\n"), "{csv}");
    let text = visits(&["--today", TODAY]);
    assert!(text.contains("  Ann, Jory, Cyril, Dina  2 "), "{text}");
    // Looked at as of the first day, who came the day after had recorded nothing, and it waits to go on.
    let text = visits(&["--today", "2026-05-12"]);
    assert!(text.contains("\nTUE 12 May 2026  Hollow  routine, whole herd, set aside  "), "{text}");
    assert!(text.contains("  Ann, Jory, Cyril  1 "), "{text}");
    // Whoever is in the book twice, and joined, is one.
    home.write(
        "more.txt",
        "farm Hollow\nday 14 May 2026\nby ann\nvisit gone on\n\nanimal 3\n  hinds trimmed nothing found\n  signed\n",
    );
    home.run(&["enter", "more.txt", "--book", "b.book", "--today", TODAY]).done();
    assert!(visits(&["--today", TODAY]).contains("  Ann, Jory, Cyril, Dina, ann  3 "));
    home.run(&["twice", "join", "1", "--recorded-by", "Ann", "--book", "b.book", "--today", TODAY]).well();
    assert!(visits(&["--today", TODAY]).contains("  Ann, Jory, Cyril, Dina  3 "));
}
