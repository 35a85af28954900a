//! One animal going out, and in again into another book.

use super::home::{Home, TODAY};

#[test]
fn as_text_she_has_her_map_and_her_turns_newest_first() {
    let home = Home::with_herd();
    let out = home.run(&["animal", "1382", "--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY]).well();
    // herd.csv: calved on 9 October; 22 days of it are left, then 30, 31, 31, 28, 31, 30 and 14 make 217.
    let head = "1382 Clover, Quillbarrow, in milk\n  lactation 5, 217 days in milk\n  electronic number 999000000001382, Holstein, \
                born 12 Dec 2019, calved 9 Oct\n  2025, group milkers\n\nNothing is open.\n";
    assert!(out.starts_with(head), "{out}");
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
            home.run_with(&enter, &sheets).done();
            let [mut one, mut other] =
                ["herd.book", "other.book"].map(|book| home.json(&["animal", number, "--farm", farm, "--book", book]));
            // A sheet calls her by the number she has now, and tells of no other; these four got theirs from a sheet.
            let [before, after] = [&mut one, &mut other].map(|animal| animal["earlier"].take());
            let renumbered = usize::from(["2397", "322", "55", "9"].contains(number));
            assert_eq!(before.as_array().map(Vec::len), Some(renumbered), "{number} {before}");
            assert_eq!(after, serde_json::json!([]));
            // Of herd data a sheet tells these; it has no words for the others, nor for when each was told.
            for field in ["calved", "dry_from", "due_to_calve", "group", "days_in_milk", "days_to_calving"] {
                assert_eq!(one["herd"][field], other["herd"][field], "{farm} {number} {field}\n{sheets}");
            }
            for field in ["herd", "told", "labels"] {
                for animal in [&mut one, &mut other] {
                    animal[field].take();
                }
            }
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

/// 214 of Threlmarsh, whose sheets say "back after six weeks, both sides now" and "third time on the left".
const AGAIN: [&str; 6] = ["animal", "214", "--farm", "Threlmarsh", "--book", "herd.book"];

#[test]
fn her_cases_flags_and_strip_are_told_from_her_sheets() {
    let home = Home::with_herd();
    let out = home.run(&[&AGAIN[..], &["--today", TODAY]].concat()).well();
    // Days counted from the sheets of 9 September to 28 April: found, first answer, M0.
    for line in [
        "Cases (found anew after more than 35 days unseen is another case):",
        "    since 9 Sep 2025, first answer M3 after 21 days, healed after 42 days",
        "    since 2 Dec 2025, first answer M0 after 21 days, healed after 21 days",
        "    since 2 Dec 2025, first answer M3 after 21 days, healed after 42 days",
        "    since 3 Feb 2026, first answer M4 after 21 days, open, 100 days so far",
        "  LH heel 10: 3 cases since 9 Sep 2025, the last digital dermatitis",
        "  LH heel 10 digital dermatitis: back 42 days after healed",
        "  the newest 10 of 11 turns, 1 earlier left out",
        "  LH   .      M2/    M3     healed M1     healed .      M2/    M4     M4.1",
        "  RH   .      .      -      .      M2/    M3     healed .      .      .",
    ] {
        assert!(out.lines().any(|shown| shown == line), "{line}\n{out}");
    }
    assert!(out.lines().all(|line| line.chars().count() <= 120 && line.trim_end() == line), "{out}");
}

#[test]
fn as_json_her_cases_have_stable_fields() {
    let home = Home::with_herd();
    let json = home.json(&AGAIN);
    let first = &json["cases"][0];
    let names =
        |value: &serde_json::Value| -> Vec<String> { value.as_object().expect("an object").keys().cloned().collect() };
    assert_eq!(
        names(first),
        [
            "claw",
            "code",
            "days",
            "deep",
            "first_answer",
            "foot",
            "grade",
            "healed",
            "infected",
            "last",
            "map",
            "since",
            "stage",
            "state",
            "steps",
            "window",
            "words",
            "zone"
        ]
    );
    assert_eq!(
        (&first["state"], &first["since"], &first["last"], &first["stage"], &first["window"]),
        (&"open".into(), &"2026-02-03".into(), &"2026-04-28".into(), &"M4.1".into(), &35.into())
    );
    assert_eq!(first["first_answer"], serde_json::json!({ "days": 21, "said": "M4" }));
    let said: Vec<&str> =
        first["steps"].as_array().expect("steps").iter().filter_map(|one| one["said"].as_str()).collect();
    assert_eq!(said, ["M2", "M4", "M4.1"]);
    let flags: Vec<&str> =
        json["flags"].as_array().expect("flags").iter().filter_map(|one| one["kind"].as_str()).collect();
    assert_eq!(flags, ["third-case", "dermatitis-back"]);
    assert_eq!(
        names(&json["flags"][0]),
        ["claw", "code", "count", "foot", "kind", "limit", "since", "source", "words", "zone"]
    );
    let strip = json["strip"].as_array().expect("a strip");
    assert_eq!((strip.len(), &strip[0]["date"]), (11, &"2025-02-11".into()));
    assert_eq!(names(&strip[0]["feet"][2]), ["block", "code", "degree", "foot", "healed", "looked", "more", "wrap"]);
    assert_eq!(strip[10]["feet"][2]["degree"], "M4.1");
}
