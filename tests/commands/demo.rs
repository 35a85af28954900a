//! The sample herd as text and as JSON, against its story (`sample-herd/README.md`).

use super::home::{Home, TODAY};
use serde_json::{Value, json};

#[test]
fn in_a_pipe_it_prints_the_due_list_and_a_map() {
    let home = Home::new();
    let out = home.run(&["demo", "--today", TODAY]).well();
    assert!(out.starts_with("Due on THU 14 May 2026: "), "{out}");
    assert!(out.contains("URGENT !!  1394 Hyssop     BACK RIGHT 10"), "{out}");
    assert!(out.contains("yellow wrap on for 28 days"), "four weeks, says the story: {out}");
    assert!(out.contains("1394 Hyssop, Quillbarrow, dry\n"), "{out}");
    assert!(out.contains("LH \\_") && out.contains("outer\\/  9  \\/inner"), "the map: {out}");
    assert!(out.contains("WRAP 28 DAYS!!"), "{out}");
    assert!(out.ends_with("Run crushbook demo in a terminal to open the screens.\n"), "{out}");
    assert!(out.is_ascii() && !out.contains('\u{1b}'));
    assert!(!home.path(".local").exists(), "nothing is kept");
}

#[test]
fn its_days_move_with_today() {
    let out = Home::new().run(&["demo", "--today", "2031-01-02"]).well();
    assert!(out.starts_with("Due on THU 2 Jan 2031: "), "{out}");
    assert!(out.contains("yellow wrap on for 28 days"), "{out}");
}

#[test]
fn a_demo_book_goes_on_and_never_mixes_with_other_farms() {
    let home = Home::with_herd();
    let before = home.json(&["due", "--book", "herd.book"]);
    home.run(&["demo", "--book", "herd.book", "--today", TODAY]).well();
    assert_eq!(home.json(&["due", "--book", "herd.book"]), before);
    home.run_with(&["enter", "-", "--book", "own.book"], "farm Lintel\nday 14 May 2026\ntold phone \"01632 960118\"\n");
    let said = home.run(&["demo", "--book", "own.book"]).complained(1);
    assert!(said.contains("own.book holds farms of its own") && said.contains("Name a new file"), "{said}");
}

fn item<'a>(due: &'a Value, animal: &str, what: &str) -> &'a Value {
    let items = due["items"].as_array().expect("items");
    let found = items.iter().find(|item| item["animal"] == animal && item["what"] == what);
    found.unwrap_or_else(|| panic!("{animal} {what}: {due:#}"))
}

#[test]
fn the_due_list_tells_the_story() {
    let due = Home::with_herd().json(&["due", "--farm", "quillbarrow", "--book", "herd.book"]);
    assert_eq!(due["today"], TODAY);
    // Put on 16 Apr, promised off 19 Apr; a wrap is urgent after 7 days (trade table, section 5).
    let mut wrap = item(&due, "1394", "wrap-off").clone();
    let reason = wrap["reason"].take();
    assert!(reason.as_str().is_some_and(|reason| reason.contains("28 days") && reason.contains("dry")), "{reason}");
    assert_eq!(
        wrap,
        json!({
            "farm": "Quillbarrow", "animal": "1394", "foot": "RH", "claw": null, "what": "wrap-off",
            "since": "2026-04-16", "due": "2026-04-19", "milking": "evening", "state": "urgent", "reason": null,
        })
    );
    // Eight weeks old: 42 days is off, urgent only after 56 (trade table, section 5).
    let block = item(&due, "1379", "block-off");
    assert_eq!(
        (&block["state"], &block["since"], &block["due"]),
        (&json!("late"), &json!("2026-03-19"), &json!("2026-04-30"))
    );
    assert_eq!(block["claw"], "inner");
    // Nobody answers the telephone.
    assert_eq!(item(&due, "1391", "wrap-off")["state"], "urgent");
    // Told bare and felt: asked for at the next lifting.
    assert_eq!(item(&due, "1381", "ring-look")["foot"], "RF");
    // "hers is four weeks old today": a block is looked at again at 28 days.
    assert_eq!(item(&due, "1387", "block-look")["due"], TODAY);
    let animals: Vec<&Value> = due["items"].as_array().expect("items").iter().map(|item| &item["animal"]).collect();
    assert!(!animals.contains(&&json!("1382")), "her horn has closed");
    assert!(!animals.contains(&&json!("1375")), "she died");
}

#[test]
fn the_other_farms_have_lists_of_their_own() {
    let home = Home::with_herd();
    let due = home.json(&["due", "--book", "herd.book"]);
    let items = due["items"].as_array().expect("items");
    let of = |farm: &str| items.iter().filter(|item| item["farm"] == farm).count();
    assert!(["Quillbarrow", "Threlmarsh", "Oddenfold"].iter().all(|farm| of(farm) >= 10), "{due:#}");
    // Threlmarsh: the block of 17 March was never seen again. 58 days; urgent after 56 (trade table, section 5).
    assert_eq!(item(&due, "262", "block-off")["state"], "urgent");
    // Oddenfold: told off by telephone on a dry cow, so it is looked for, and loudly.
    assert_eq!(item(&due, "4", "ring-look")["state"], "urgent");
    assert_eq!(item(&due, "21", "vet")["state"], "urgent");
    // Put on by the vet on 12 May, promised off by 15 May.
    assert_eq!(item(&due, "3", "wrap-off")["due"], "2026-05-15");
}
