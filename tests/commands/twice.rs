//! What is in the book twice, and animals with another number: listed, joined, kept apart, parted.

use super::home::{Home, TODAY};

/// One farm written in two ways, each with a wrap on, by one trimmer written in two ways.
fn twice_entered() -> Home {
    let home = Home::new();
    let sheet = |farm: &str, by: &str, number: &str| {
        format!(
            "farm {farm}\nday 12 May 2026\nby {by}\n\nanimal {number}\n  LH lifted\n  LH wrap blue off by 15 May evening by \"Tom\"\n  signed\n"
        )
    };
    home.write("one.txt", &sheet("Brackenhope", "Ann", "1382"));
    home.write("two.txt", &sheet("Bracken-Hope", "ann", "77"));
    let enter = ["enter", "one.txt", "two.txt", "--new-farm", "--book", "b", "--today", TODAY];
    home.run(&enter).done();
    home
}

fn run(home: &Home, arguments: &[&str]) -> String {
    let mut all = arguments.to_vec();
    all.extend(["--book", "b", "--today", TODAY]);
    home.run(&all).well()
}

/// The same, where Ann writes.
fn write(home: &Home, arguments: &[&str]) -> String {
    run(home, &[arguments, &["--recorded-by", "Ann"]].concat())
}

#[test]
fn farms_and_people_written_in_two_ways_are_listed_and_joined_and_every_list_shows_one() {
    let home = twice_entered();
    let list = run(&home, &["twice"]);
    assert!(list.starts_with("1  2 farms may be one: Bracken-Hope, the same name\n     Brackenhope; no telephone number; 1 animal; last visit 12 May 2026\n"), "{list}");
    assert!(list.contains("\n2  2 people may be one: ann, the same name\n"), "{list}");
    let due = run(&home, &["due"]);
    assert_eq!((due.matches("\nBrackenhope\n").count(), due.matches("\nBracken-Hope\n").count()), (1, 1), "{due}");

    assert_eq!(write(&home, &["twice", "join", "1"]), "joined: Bracken-Hope\n");
    let due = run(&home, &["due"]);
    assert_eq!((due.matches("\nBrackenhope\n").count(), due.matches("\nBracken-Hope\n").count()), (1, 0), "{due}");
    assert_eq!(due.matches("blue wrap").count(), 2, "neither wrap is lost nor doubled: {due}");
    // One farm: it need not be named, and either name means it.
    for farm in [&[][..], &["--farm", "bracken-hope"][..]] {
        let paper = run(&home, &[&["take-off-list"][..], farm].concat());
        assert!(paper.contains("1382") && paper.contains("77") && paper.contains("Brackenhope"), "{paper}");
    }
    assert!(run(&home, &["totals"]).contains("Brackenhope"));
    // A rule adopted for either holds for both.
    home.write("rules.toml", "[wrap]\noff = 2\n");
    write(&home, &["rules", "rules.toml", "--farm", "Bracken-Hope"]);
    assert!(run(&home, &["rules", "--farm", "Brackenhope"]).contains("off = 2"));

    // A sheet under the second name finds the animal of the first.
    home.write(
        "late.txt",
        "farm Bracken-Hope\nday 13 May 2026\n\nanimal 1382\n  LH lifted\n  LH wrap off bare skin sound\n  signed\n",
    );
    assert!(write(&home, &["enter", "late.txt"]).contains("1 in the crush"));
    assert_eq!(run(&home, &["due"]).matches("blue wrap").count(), 1);

    let list = run(&home, &["twice"]);
    assert!(list.starts_with("1  2 people may be one"), "{list}");
    assert!(list.contains("\n2  2 farms were joined: Brackenhope\n"), "{list}");
    assert_eq!(write(&home, &["twice", "part", "2"]), "taken apart: Brackenhope\n");
    assert!(run(&home, &["twice"]).starts_with("1  2 farms may be one"));
    home.run(&["check", "--book", "b"]).well();
}

#[test]
fn kept_apart_is_a_fact_and_a_wrong_number_says_what_to_do() {
    let home = twice_entered();
    write(&home, &["twice", "keep-apart", "1"]);
    let list = run(&home, &["twice"]);
    assert!(list.starts_with("1  2 people may be one"), "{list}");
    write(&home, &["twice", "join", "1"]);
    // By whom the first sheet says it was, both are called now.
    let sheet = run(&home, &["animal", "77", "--farm", "Bracken-Hope", "--as", "sheet"]);
    assert!(sheet.contains("\nby Ann\n"), "{sheet}");
    let said = home.run(&["twice", "join", "9", "--book", "b"]).complained(1);
    assert!(said.contains("no pair has the number 9") && said.contains("crushbook twice lists them"), "{said}");
    let said = home.run(&["twice", "keep-apart", "1", "--book", "b"]).complained(1);
    assert!(said.contains("are joined already") && said.contains("twice part"), "{said}");
    let json = home.json(&["twice", "--book", "b"]);
    assert_eq!((&json["pairs"][0]["kind"], &json["pairs"][0]["joined"]), (&"people".into(), &true.into()), "{json}");
}

#[test]
fn two_animals_are_joined_by_name_and_parted_and_are_as_before() {
    let home = twice_entered();
    write(&home, &["twice", "join", "1"]);
    let both = |home: &Home| {
        [["animal", "1382"], ["animal", "77"]]
            .map(|name| home.json(&[&name[..], &["--farm", "Brackenhope", "--book", "b"]].concat()))
    };
    let before = both(&home);
    assert_eq!(write(&home, &["twice", "join", "1382", "77", "--farm", "Brackenhope"]), "joined: 1382 and 77\n");
    let [one, other] = both(&home);
    assert_eq!(one, other);
    assert_eq!(
        (one["turns"].as_array().map(Vec::len), one["open"].as_array().map(Vec::len)),
        (Some(2), Some(2)),
        "{one}"
    );
    let text = run(&home, &["animal", "1382", "--farm", "Brackenhope"]);
    assert!(text.contains("Joined with another entry of hers on 14 May 2026"), "{text}");
    let said = home.run(&["twice", "join", "1382", "77", "--book", "b", "--farm", "Brackenhope"]).complained(1);
    assert!(said.contains("are one already"), "{said}");
    assert_eq!(write(&home, &["twice", "part", "77", "--farm", "Brackenhope"]), "taken apart: 77\n");
    assert_eq!(before, both(&home));
    let said = home.run(&["twice", "part", "77", "--book", "b", "--farm", "Brackenhope"]).complained(1);
    assert!(said.contains("77 was not joined"), "{said}");
    home.run(&["check", "--book", "b"]).well();
}

#[test]
fn renumbered_the_old_number_finds_her_and_a_sheet_typed_late_under_it_too() {
    let home = Home::new();
    home.write("a.txt", "farm Brackenhope\nday 12 May 2026\n\nanimal 1382\n  LH wrap blue off by 15 May by \"Tom\"\n  signed\n\nanimal 77\n  all four trimmed nothing found\n  signed\n");
    home.run(&["enter", "a.txt", "--book", "b", "--today", TODAY]).well();
    let said = home.run(&["renumber", "1382", "--number", "77", "--book", "b"]).complained(1);
    assert!(said.contains("another animal of Brackenhope is called 77") && said.contains("twice join"), "{said}");
    assert_eq!(
        run(&home, &["renumber", "1382", "--number", "2044", "--tag", "XX 9"]),
        "1382 is now 2044, tag now XX 9\n"
    );
    let text = run(&home, &["animal", "1382"]);
    assert!(
        text.starts_with("1382 is now 2044.\n2044, Brackenhope\n") && text.contains("Called 1382 until 14 May 2026"),
        "{text}"
    );
    let json = home.json(&["animal", "1382", "--book", "b"]);
    assert_eq!((&json["animal"], &json["earlier"][0]["animal"]), (&"2044".into(), &"1382".into()));
    // Typed up later, written under the old number on the day before.
    home.write(
        "late.txt",
        "farm Brackenhope\nday 13 May 2026\n\nanimal 1382\n  LH lifted\n  LH wrap off bare skin sound\n  signed\n",
    );
    assert!(!run(&home, &["enter", "late.txt"]).contains("new animal"));
    assert_eq!(home.json(&["animal", "2044", "--book", "b"])["open"], serde_json::json!([]));
    assert_eq!(run(&home, &["renumber", "77", "--number", "2044", "--shared"]), "77 is now 2044\n");
    let said = home.run(&["animal", "2044", "--book", "b"]).complained(1);
    assert!(said.contains("2 animals of Brackenhope are called 2044"), "{said}");
    let said = run(&home, &["renumber", "XX 9", "--number", ""]);
    assert_eq!(said, "2044 is now XX 9, no number any more: she is called by her tag\n");
    let said = home.run(&["renumber", "XX 9", "--book", "b"]).complained(2);
    assert!(said.contains("Say what is new"), "{said}");
}

#[test]
fn of_several_joined_the_one_that_is_named_is_parted() {
    let home = Home::new();
    let animal = |number: &str| format!("\nanimal {number}\n  all four trimmed nothing found\n  signed\n");
    let sheet = format!("farm Brackenhope\nday 12 May 2026\n{}{}{}", animal("11"), animal("12"), animal("13"));
    home.write("a.txt", &sheet);
    home.run(&["enter", "a.txt", "--new-farm", "--book", "b", "--today", TODAY]);
    run(&home, &["twice", "join", "11", "12", "--farm", "Brackenhope"]);
    run(&home, &["twice", "join", "12", "13", "--farm", "Brackenhope"]);
    run(&home, &["twice", "part", "11", "--farm", "Brackenhope"]);
    let turns = |number: &str| home.json(&["animal", number, "--book", "b"])["turns"].as_array().expect("turns").len();
    assert_eq!((turns("11"), turns("12"), turns("13")), (1, 2, 2));
}

#[test]
fn a_join_offers_what_two_tablets_began_twice() {
    let home = Home::new();
    home.write("a.txt", "farm Brackenhope\nday 12 May 2026\n\nanimal 11\n  all four trimmed nothing found\n  signed\n");
    for book in ["b", "other"] {
        home.run(&["enter", "a.txt", "--new-farm", "--book", book, "--today", TODAY]).well();
    }
    let said = home.run(&["join", "other", "--book", "b", "--today", TODAY]).well();
    assert!(said.contains("One pair may be in the book twice now: crushbook twice shows it."), "{said}");
    assert!(run(&home, &["twice"]).contains("Brackenhope"));
}
