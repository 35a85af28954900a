//! What is known of a farm: shown, told with its history, taken back; and standing instructions.

use super::home::{Home, TODAY};

const BOOK: [&str; 4] = ["--book", "herd.book", "--today", TODAY];

fn run(home: &Home, arguments: &[&str]) -> super::home::Said {
    home.run(&[arguments, &BOOK].concat())
}

fn records(home: &Home) -> usize {
    run(home, &["export"]).well().lines().count()
}

#[test]
fn all_farms_are_shown_as_text_csv_and_json() {
    let home = Home::with_herd();
    // The sheets of the first visits say it (sample-herd/*/).
    let text = run(&home, &["farm"]).well();
    let heads = "farm         phone         contact       vet          vet phone     herd size  gait scale  note";
    assert!(text.starts_with(heads), "{text}");
    assert!(
        text.contains("\nQuillbarrow  01632 960114  Hester Quill  Orla Venn    01632 960187  46         0-3  "),
        "{text}"
    );
    let csv = run(&home, &["farm", "--as", "csv"]).well();
    assert!(
        csv.starts_with("farm,phone,contact,vet,vet phone,herd size,gait scale,address,note,new animals,animals\r\n"),
        "{csv}"
    );
    assert!(csv.contains("\r\nThrelmarsh,01632 960145,Marla Tove,Ivo Lask,01632 960271,92,1-5,,"), "{csv}");
    let json = home.json(&["farm", "--book", "herd.book"]);
    assert_eq!(json["farms"].as_array().map(Vec::len), Some(3));
    let farm = &home.json(&["farm", "threlmarsh", "--book", "herd.book"])["farms"][0];
    assert_eq!(
        (&farm["farm"], &farm["vet"], &farm["vet_phone"]),
        (&"Threlmarsh".into(), &"Ivo Lask".into(), &"01632 960271".into())
    );
    assert_eq!((&farm["gait_scale"], &farm["address"], &farm["herd_list"]), (&"1-5".into(), &().into(), &().into()));
    // The second instruction of its story was to be reviewed by 4 May, and nobody has.
    let instruction = &farm["instructions"][0];
    assert_eq!((&instruction["review"], &instruction["overdue"]), (&"2026-05-04".into(), &true.into()));
    let card = run(&home, &["farm", "Threlmarsh"]).well();
    assert!(card.contains("REVIEW WAS DUE 4 May 2026"), "{card}");
}

#[test]
fn what_is_told_is_dated_keeps_what_was_said_before_and_is_taken_back_whole() {
    let home = Home::with_herd();
    let before = run(&home, &["farm", "Quillbarrow"]).well();
    let told = [
        "farm",
        "Quillbarrow",
        "--herd-size",
        " 180",
        "--gait-scale",
        "1-5",
        "--vet",
        "Ada Fenn",
        "--vet-phone",
        "01632 960999",
        "--contact",
        "Hester Quill",
    ];
    let said = run(&home, &told).well();
    assert_eq!(
        said,
        "vet: Ada Fenn, was Orla Venn\nvet phone: 01632 960999, was 01632 960187\nherd size: 180, was 46\ngait scale: 1-5, was 0-3\n\
         crushbook undo --farm Quillbarrow takes it back.\n",
        "whom to ask for is as it was, and is not written again"
    );
    let card = run(&home, &["farm", "Quillbarrow"]).well();
    assert!(card.contains("  herd size     180, since 14 May 2026; was 46 since 13 Nov 2025\n"), "{card}");
    assert!(card.contains("  vet           Ada Fenn, since 14 May 2026; was Orla Venn since 13 Nov 2025\n"), "{card}");
    assert!(
        run(&home, &["take-off-list", "--farm", "Quillbarrow"]).well().contains("01632 960999"),
        "what asks goes by it"
    );
    let json = &home.json(&["farm", "Quillbarrow", "--book", "herd.book"])["farms"][0];
    assert_eq!((&json["herd_size"], &json["since"]["herd_size"]), (&180.into(), &"2026-05-14".into()));
    assert!(
        json["history"]
            .as_array()
            .expect("history")
            .contains(&serde_json::json!({ "fact": "herd_size", "was": "46", "since": "2025-11-13" }))
    );
    let count = records(&home);
    assert!(run(&home, &told).well().contains("nothing was written"));
    assert_eq!(records(&home), count);
    run(&home, &["undo", "--farm", "Quillbarrow", "--yes"]).well();
    assert_eq!(run(&home, &["farm", "Quillbarrow"]).well(), before);
}

#[test]
fn a_word_that_a_fact_cannot_have_is_refused_and_nothing_is_written() {
    let home = Home::with_herd();
    let count = records(&home);
    for (option, word, why) in [
        ("--herd-size", "many", "write a whole number of animals, 0 to 100000"),
        ("--herd-size", "-4", "write a whole number of animals, 0 to 100000"),
        ("--herd-size", "100001", "write a whole number of animals, 0 to 100000"),
        ("--gait-scale", "0-5", "the scales are 0-3 and 1-5"),
        ("--name", " ", "a farm has a name"),
    ] {
        let word = format!("{option}={word}");
        let said = run(&home, &["farm", "Quillbarrow", "--vet", "Nobody", &word]).complained(2);
        assert!(said.contains(why) && said.contains("nothing was written"), "{said}");
    }
    let said = run(&home, &["farm", "Quillbarrow", "--name", "threlmarsh"]).complained(1);
    assert!(said.contains("another farm is called threlmarsh") && said.contains("crushbook twice"), "{said}");
    assert!(run(&home, &["farm", "--vet", "Nobody"]).complained(2).contains("several farms, and none was named"));
    assert!(run(&home, &["farm", "Quilbarrow"]).complained(1).contains("Did you mean Quillbarrow?"));
    let early = ["farm", "Quillbarrow", "--vet", "Nobody", "--book", "herd.book", "--today", "2025-11-12"];
    let said = home.run(&early).complained(2);
    assert!(said.contains("vet was told on 13 Nov 2025, which is after 12 Nov 2025"), "{said}");
    assert_eq!(records(&home), count);
    run(&home, &["farm", "Quillbarrow", "--herd-size", "", "--name", "Quill Barrow"]).well();
    let card = run(&home, &["farm", "Quill Barrow"]).well();
    assert!(
        card.starts_with("Quill Barrow\n") && card.contains("  herd size     nothing, since 14 May 2026; was 46"),
        "{card}"
    );
}

#[test]
fn an_instruction_is_given_shown_ended_and_taken_back() {
    let home = Home::with_herd();
    let farm = ["--farm", "Oddenfold"];
    let give = [
        "instruct",
        "inner-front",
        "lower a little",
        "--by",
        "Dunstan",
        "--why",
        "long track",
        "--review",
        "2026-08-01",
        "--vet",
        "Isolde Marr",
    ];
    run(&home, &[&give[..], &farm].concat()).well();
    let line = "inner front: lower a little, since 14 May 2026, asked by Dunstan, because long track, vet Isolde Marr, review 1 Aug 2026";
    assert!(run(&home, &["farm", "Oddenfold"]).well().contains(line));
    let said = run(&home, &[&["instruct", "hinds", "look at the heels"][..], &farm].concat());
    // trade.md, section 8: review within 90 days.
    assert!(said.err.contains("within 90 days") && said.code == Some(0), "{said:?}");
    assert!(
        run(&home, &[&["instruct", "fronts", "--end", "better"][..], &farm].concat())
            .complained(1)
            .contains("no instruction for fronts holds there")
    );
    assert!(
        run(&home, &[&["instruct", "inner-front", "--end", "better"][..], &farm].concat())
            .well()
            .contains("Ended: lower a little")
    );
    assert!(!run(&home, &["farm", "Oddenfold"]).well().contains(line));
    run(&home, &[&["undo", "--yes"][..], &farm].concat()).well();
    assert!(run(&home, &["farm", "Oddenfold"]).well().contains(line), "the end was taken back");
    assert!(run(&home, &[&["instruct", "toes", "x"][..], &farm].concat()).complained(2).contains("outer-hind"));
    assert!(run(&home, &[&["instruct", "hinds", " "][..], &farm].concat()).complained(2).contains("has no words"));
}

#[test]
fn what_another_tablet_wrote_is_not_taken_back_here() {
    let home = Home::with_herd();
    home.run(&["join", "herd.book", "--book", "other.book", "--today", TODAY]).well();
    let said = home.run(&["undo", "--farm", "Quillbarrow", "--yes", "--book", "other.book"]).complained(1);
    assert!(said.contains("nothing was written about Quillbarrow from here"), "{said}");
}
