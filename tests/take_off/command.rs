//! `crushbook take-off-list` with the real program, against the story of the sample herd.

use crate::commands::home::{Home, TODAY};
use serde_json::{Value, json};

fn list(home: &Home, form: &str) -> String {
    home.run(&["take-off-list", "--book", "herd.book", "--farm", "quillbarrow", "--today", TODAY, "--as", form]).well()
}

#[test]
fn as_text_it_tells_the_story_of_the_sample_herd() {
    let home = Home::with_herd();
    let text = list(&home, "text");
    assert!(text.starts_with("TAKE-OFF LIST                    THU 14 May 2026\nQuillbarrow\n"), "{text}");
    // "dried off two days after her yellow wrap went on and has gone to the far field with it: four weeks".
    let hyssop = "[ ] 1394 Hyssop, dry, far field        URGENT !!\n    BACK RIGHT: YELLOW WRAP\n    \
                  off by SUN 19 Apr evening milking, by Tom\n    who";
    // "still stands on a block that is eight weeks old", "wears a green wrap and nobody answers the telephone".
    let parts = [
        "TAKE OFF\n",
        hyssop,
        "1391 ",
        "BACK LEFT: GREEN WRAP",
        "1379 ",
        "BLOCKS: LEAVE THEM ON",
        "1387 ",
        "FELT",
        "1381 ",
    ];
    let at: Vec<Option<usize>> = parts.iter().map(|part| text.find(part)).collect();
    assert!(at.is_sorted() && at[0].is_some(), "{at:?}\n{text}");
    // "1375 died", "1382 is followed until the block is off", and "1390 has dermatitis under a red wrap that Tom takes off".
    for gone in ["1375", "1382", "1390"] {
        assert!(!text.contains(gone), "{gone}: {text}");
    }
    let said = home.run(&["take-off-list", "--book", "herd.book"]).complained(2);
    assert!(said.contains("several farms") && said.contains("Quillbarrow"), "{said}");
}

#[test]
fn the_readme_shows_it_as_it_is() {
    let text = list(&Home::with_herd(), "text");
    let readme = include_str!("../../README.md");
    let (_, rest) = readme.split_once("<!-- list:start -->\n```text\n").expect("a mark before the list");
    let (shown, _) = rest.split_once("```\n<!-- list:end -->").expect("a mark after it");
    let parts: Vec<&str> = shown.split("...\n").collect();
    assert!(parts.len() > 1 && parts.iter().all(|part| text.contains(part)), "{text}");
}

#[test]
fn as_json_its_fields_have_their_names() {
    let home = Home::with_herd();
    let list: Value = serde_json::from_str(&list(&home, "json")).expect("JSON");
    let names = |value: &Value| -> Vec<String> {
        let mut names: Vec<String> = value.as_object().expect("an object").keys().cloned().collect();
        names.sort();
        names
    };
    assert_eq!(names(&list), ["farm", "for_vet", "on", "today", "vet", "withheld"]);
    assert_eq!(names(&list["for_vet"][0]), ["animal", "claw", "foot", "since", "where", "why", "words"]);
    assert_eq!((&list["farm"], &list["today"]), (&json!("Quillbarrow"), &json!(TODAY)));
    assert!(list["vet"]["name"].is_string() && list["vet"]["phone"].is_string(), "{list:#}");
    let mut hyssop = list["on"][0].clone();
    assert!(hyssop["id"].take().as_str().is_some_and(|id| id.contains('-')), "{list:#}");
    assert_eq!(
        hyssop,
        json!({
            "id": null, "animal": "1394", "where": "dry, far field", "foot": "RH", "claw": null, "what": "wrap",
            "kind": null, "colour": "yellow", "do": "take-off", "since": "2026-04-16", "due": "2026-04-19",
            "off_by": "2026-04-19", "milking": "evening", "state": "urgent", "by": "Tom", "by_phone": "01632 960116", "relief": null,
        })
    );
    let find = |number: &str, what: &str| {
        let on = list["on"].as_array().expect("a list").iter();
        let hers = |on: &&Value| on["animal"] == number && on["what"] == what;
        on.filter(hers).map(|on| on["do"].as_str().unwrap_or_default().to_owned()).next().unwrap_or_default()
    };
    assert_eq!(find("1379", "block"), "take-off");
    assert_eq!(find("1387", "block"), "leave-on");
    assert_eq!(find("1381", "wrap"), "felt");
}

#[test]
fn the_same_book_gives_the_same_calendar() {
    let home = Home::with_herd();
    let first = list(&home, "ics");
    assert!(first.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n") && first.ends_with("END:VCALENDAR\r\n"), "{first}");
    assert!(first.contains("SUMMARY:1394 Hyssop BACK RIGHT: YELLOW WRAP off\r\n"), "{first}");
    assert!(first.contains("STATUS:CANCELLED\r\n"), "1376's ring was found a few weeks ago: {first}");
    assert_eq!(list(&home, "ics"), first);
    // Another farm's rules touch nothing here; its own move every day that nobody promised.
    home.write("rules.toml", "[block]\noff = 35\n");
    home.run(&[
        "rules",
        "rules.toml",
        "--farm",
        "Threlmarsh",
        "--book",
        "herd.book",
        "--today",
        TODAY,
        "--recorded-by",
        "Ann",
    ])
    .well();
    assert_eq!(list(&home, "ics"), first);
    home.run(&[
        "rules",
        "rules.toml",
        "--farm",
        "Quillbarrow",
        "--book",
        "herd.book",
        "--today",
        TODAY,
        "--recorded-by",
        "Ann",
    ])
    .well();
    let first = list(&home, "ics");
    // 1379's block of 19 March: 42 days by default, 35 by the farm's own rule.
    let of_1379 = first.split("BEGIN:VEVENT").find(|event| event.contains("SUMMARY:1379 ")).expect("her block");
    assert!(of_1379.contains("DTSTART;VALUE=DATE:20260423\r\n"), "{of_1379}");
    // Word from the farm cancels one and touches no other.
    let told = "farm Quillbarrow\nday 14 May 2026\ntold 1391 LH wrap felt by \"Quentin\" telephone\n";
    home.run_with(&["enter", "-", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"], told).well();
    let second = list(&home, "ics");
    let events = |file: &str| -> Vec<String> { file.split("BEGIN:VEVENT").map(str::to_owned).collect() };
    let [before, after] = [events(&first), events(&second)];
    let changed: Vec<&String> = after.iter().filter(|event| !before.contains(event)).collect();
    assert_eq!((before.len(), changed.len()), (after.len(), 1), "{second}");
    assert!(changed[0].contains("1391 Eyebright") && changed[0].contains("STATUS:CANCELLED"), "{second}");
    for form in ["text", "html", "ics", "json"] {
        assert!(!list(&home, form).contains("Quentin"), "{form}");
    }
}

#[test]
fn as_a_page_it_is_one_file() {
    let home = Home::with_herd();
    let page = list(&home, "html");
    assert!(page.starts_with("<!DOCTYPE html><html lang=\"en\">") && page.ends_with("</html>\n"), "{page}");
    assert!(page.contains("<b>1394 Hyssop</b>") && page.contains("<svg"), "{page}");
}

#[test]
fn a_farm_that_is_not_there_is_answered_with_the_nearest() {
    let home = Home::with_herd();
    let said = home.run(&["take-off-list", "--book", "herd.book", "--farm", "Quilbarow"]).complained(1);
    assert!(said.contains("no farm is called Quilbarow") && said.contains("Did you mean Quillbarrow?"), "{said}");
    let said = home.run(&["take-off-list", "--book", "new.book"]).complained(1);
    assert!(said.contains("this book holds no farm yet"), "{said}");
    let said = home.run(&["take-off-list", "--book", "herd.book", "--as", "pdf"]).complained(2);
    assert!(said.contains("ics"), "{said}");
}
