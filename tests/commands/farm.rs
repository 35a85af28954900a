//! What is known of a farm: shown, told with its history, taken back; and standing instructions.

use super::home::{Home, TODAY};

const BOOK: [&str; 6] = ["--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];

fn run(home: &Home, arguments: &[&str]) -> super::home::Said {
    home.run(&[arguments, &BOOK].concat())
}

/// Who asked for an instruction, and why.
const ASKED: [&str; 4] = ["--by", "Dunstan", "--why", "long track"];

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
        csv.starts_with(
            "farm,phone,contact,vet,vet phone,herd size,gait scale,address,note,new animals,animals,contacts\r\n"
        ),
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
    assert!(card.contains("  herd size     180, since 14 May 2026\n   was          46, since 13 Nov 2025\n"), "{card}");
    assert!(
        card.contains("  vet           Ada Fenn, since 14 May 2026\n   was          Orla Venn, since 13 Nov 2025\n"),
        "{card}"
    );
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
        card.starts_with("Quill Barrow\n")
            && card.contains("  herd size     nothing, since 14 May 2026\n   was          46, since 13 Nov 2025\n"),
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
    // The sole that stays stands with the vet, before what is to be done (trade.md, sections 4 and 8: 5 mm is critical).
    let line = "inner front, sole at least 5 mm, vet Isolde Marr: lower a little, since 14 May 2026, asked by Dunstan, because long track, \
                review 1 Aug 2026";
    assert!(run(&home, &["farm", "Oddenfold"]).well().contains(line));
    let said =
        run(&home, &[&["instruct", "hinds", "look at the heels", "--takes-no-horn"][..], &ASKED, &farm].concat());
    // trade.md, section 8: review within 90 days. With no day said it is that day.
    assert!(said.out.contains("It is looked at again on 12 Aug 2026.") && said.code == Some(0), "{said:?}");
    let line_of_hinds =
        "look at the heels, since 14 May 2026, asked by Dunstan, because long track, review 12 Aug 2026";
    assert!(run(&home, &["farm", "Oddenfold"]).well().contains(line_of_hinds));
    let count = records(&home);
    for (day, why) in
        [("2026-08-13", "13 Aug 2026 is too late: 12 Aug 2026 at the latest"), ("2026-05-14", "is not after today")]
    {
        let said = run(
            &home,
            &[&["instruct", "hinds", "look", "--takes-no-horn", "--review", day][..], &ASKED, &farm].concat(),
        )
        .complained(2);
        assert!(said.contains(why) && said.contains("within 90 days; nothing was written"), "{said}");
    }
    assert_eq!(records(&home), count);
    assert!(
        run(&home, &[&["instruct", "fronts", "--end", "better"][..], &farm].concat())
            .complained(1)
            .contains("no instruction for fronts holds there")
    );
    let said = run(&home, &[&["instruct", "inner-front", "--end", " "][..], &farm].concat()).complained(2);
    assert!(said.contains("why is it ended?"), "{said}");
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

/// trade.md, section 8: one that takes horn away names the vet and stands with the sole minimum beside it.
#[test]
fn whether_it_takes_horn_away_is_said_once_or_nothing_is_written() {
    let home = Home::with_herd();
    let (farm, count) = (["--farm", "Oddenfold"], records(&home));
    let of = |words: &str, more: &[&str]| run(&home, &[&["instruct", "fronts", words][..], more, &farm].concat());
    let give = |more: &[&str]| of("lower a little", &[&ASKED[..], more].concat());
    let said = give(&[]).complained(2);
    for words in ["does it take horn away?", "--takes-no-horn", "--vet NAME", "least sole", "Nothing was written"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let said = give(&["--vet", " "]).complained(2);
    assert!(said.contains("the vet has no name") && said.contains("--takes-no-horn"), "{said}");
    let said = give(&["--vet", "Ada Fenn", "--takes-no-horn"]).complained(2);
    assert!(said.contains("--vet") && said.contains("--takes-no-horn"), "{said}");
    // Of one that was given it was said then.
    of("lower a little", &["--vet", "Ada Fenn", "--end", "sound"]).complained(2);
    run(&home, &[&["instruct", "all", "--goes-on", "--takes-no-horn"][..], &farm].concat()).complained(2);
    assert_eq!(records(&home), count);
    give(&["--takes-no-horn"]).well();
    of("shorten the toe", &[&ASKED[..], &["--vet", "Ada Fenn"]].concat()).well();
    assert_eq!(records(&home), count + 2);
    let card = run(&home, &["farm", "Oddenfold"]).well();
    assert!(card.contains("  fronts: lower a little, since 14 May 2026"), "{card}");
    assert!(card.contains("  fronts, sole at least 5 mm, vet Ada Fenn: shorten the toe, since 14 May 2026"), "{card}");
    // What is taken back is called with its vet too.
    let said = run(&home, &[&["undo"][..], &farm].concat()).well();
    assert!(said.contains("standing instruction, vet Ada Fenn: shorten the toe"), "{said}");
}

#[test]
fn of_two_for_the_same_feet_it_is_said_which_one_is_meant() {
    let home = Home::with_herd();
    std::fs::copy(home.path("herd.book"), home.path("other.book")).expect("the book is at rest");
    let farm = ["--farm", "Oddenfold"];
    let instruct = |arguments: &[&str]| run(&home, &[&["instruct"][..], arguments, &farm].concat());
    instruct(&[&["hinds", "trim long", "--takes-no-horn"][..], &ASKED].concat()).well();
    instruct(&[&["hinds", "Trim long at the toe", "--vet", "Ada Fenn"][..], &ASKED].concat()).well();
    let count = records(&home);
    for more in [
        &["--end", "sound"][..],
        &["--goes-on"],
        &["trim", "--end", "sound"],
        &["--since", "2026-05-14", "--goes-on"],
        &["--since", "2026-05-13", "--goes-on"],
        &["lower", "--goes-on"],
    ] {
        let said = instruct(&[&["hinds"][..], more].concat()).complained(2);
        assert!(said.contains("which instruction for hinds is meant?") && said.contains("--since"), "{more:?}: {said}");
        let hold = ["since 14 May 2026: trim long\n", "since 14 May 2026: Trim long at the toe\n"];
        assert!(hold.iter().all(|one| said.contains(one)), "{more:?}: {said}");
    }
    let said = instruct(&[&["hinds", "x", "--takes-no-horn", "--since", "2026-05-14"][..], &ASKED].concat());
    assert!(said.complained(2).contains("--goes-on"));
    assert_eq!(records(&home), count, "nothing was written");
    // The whole words of one are some of the words of the other.
    assert!(instruct(&["hinds", "TRIM LONG ", "--end", "sound"]).well().contains("Ended: trim long\n"));
    assert!(instruct(&["hinds", "--goes-on"]).well().contains("Goes on: Trim long at the toe\n"));
    // Two tablets gave the same words; in one book they are told by their days.
    let later = |book: &str, arguments: &[&str]| {
        let book = ["--farm", "Oddenfold", "--book", book, "--today", "2026-05-16", "--recorded-by", "Ann"];
        home.run(&[&["instruct", "hinds"][..], arguments, &book].concat())
    };
    later("other.book", &[&["trim long at the toe", "--takes-no-horn"][..], &ASKED].concat()).well();
    home.run(&["join", "other.book", "--book", "herd.book", "--today", "2026-05-16"]).well();
    later("herd.book", &["trim long at the toe", "--end", "sound"]).complained(2);
    later("herd.book", &["--since", "2026-05-14", "--end", "sound"]).well();
    let card = run(&home, &["farm", "Oddenfold"]).well();
    assert!(card.contains("  hinds: trim long at the toe, since 16 May 2026"), "the newer one holds: {card}");
}

/// trade.md, section 8: a standing instruction says who asked for it and why.
#[test]
fn who_asked_and_why_are_said_or_nothing_is_written_and_all_that_is_missing_is_told_at_once() {
    let home = Home::with_herd();
    let (farm, count) = (["--farm", "Oddenfold"], records(&home));
    let give = |more: &[&str]| run(&home, &[&["instruct", "fronts", "lower a little"][..], more, &farm].concat());
    for (more, asks, next) in [
        (&[][..], "who asked for it? why? does it take horn away?", "Add --by NAME; --why REASON; --takes-no-horn, or"),
        (&["--takes-no-horn"], "who asked for it? why?\n", "Add --by NAME; --why REASON. Nothing was written."),
        (&["--takes-no-horn", "--by", "Bo", "--why", " "], "why?\n", "Add --why REASON. Nothing"),
        (&["--vet", "Ada Fenn", "--why", "stones", "--by", ""], "who asked for it?\n", "Add --by NAME. Nothing"),
    ] {
        let said = give(more).complained(2);
        assert!(said.contains(&format!("crushbook: {asks}")) && said.contains(next), "{more:?}: {said}");
    }
    assert_eq!(records(&home), count);
}

#[test]
fn the_same_for_the_same_feet_is_not_given_twice() {
    let home = Home::with_herd();
    let farm = ["--farm", "Oddenfold"];
    let give = |feet: &str, words: &str, horn: &[&str]| {
        run(&home, &[&["instruct", feet, words][..], horn, &ASKED, &farm].concat())
    };
    let none = ["--takes-no-horn"];
    give("hinds", "trim long", &none).well();
    let count = records(&home);
    for (words, horn) in [("trim long", &none[..]), (" Trim  LONG ", &none), ("trim long", &["--vet", "Ada Fenn"])] {
        let said = give("hinds", words, horn).complained(2);
        assert!(said.contains("it holds there already for hinds, since 14 May 2026: trim long"), "{words}: {said}");
        assert!(said.contains("instruct hinds --goes-on") && said.contains("Nothing was written"), "{said}");
    }
    assert_eq!(records(&home), count);
    // Other words for the same feet, and the same words for other feet, are another one.
    give("hinds", "trim longer", &none).well();
    give("outer-hind", "trim long", &none).well();
    // Ended, it may be given anew.
    run(&home, &[&["instruct", "hinds", "trim long", "--end", "sound"][..], &farm].concat()).well();
    give("hinds", "trim long", &none).well();
}

fn on_day(home: &Home, day: &str) -> serde_json::Value {
    let said = home.run(&["due", "--as", "json", "--book", "herd.book", "--today", day]).well();
    serde_json::from_str(&said).expect("JSON")
}

#[test]
fn an_instruction_whose_day_has_come_is_on_the_due_list_and_on_the_list_of_the_day() {
    let home = Home::with_herd();
    // To be reviewed by 4 May (sample-herd/threlmarsh/2026-02-03.txt), and nobody has.
    let due = home.json(&["due", "--book", "herd.book"]);
    let [review] = due["reviews"].as_array().expect("reviews").as_slice() else { panic!("{due}") };
    assert_eq!(
        (&review["farm"], &review["for"], &review["vet"]),
        (&"Threlmarsh".into(), &"inner-front".into(), &"Ivo Lask".into())
    );
    assert_eq!(
        (&review["due"], &review["state"], &review["what"]),
        (&"2026-05-04".into(), &"due".into(), &"review".into())
    );
    assert_eq!(review["least_sole_mm"].as_u64(), Some(5));
    let of = |farm: &str| home.json(&["due", "--farm", farm, "--book", "herd.book"]);
    assert_eq!(of("Threlmarsh")["reviews"].as_array().map(Vec::len), Some(1));
    assert_eq!(of("Oddenfold")["reviews"].as_array().map(Vec::len), Some(0));
    // A day before it is not; a fortnight after it is due, and late from the next day on.
    for (on, state) in [("2026-05-03", None), ("2026-05-18", Some("due")), ("2026-05-19", Some("late"))] {
        let due = on_day(&home, on);
        assert_eq!(due["reviews"][0]["state"].as_str(), state, "{on}");
    }
    let text = run(&home, &["due"]).well();
    assert!(
        text.lines()
            .any(|line| line.contains("the farm") && line.contains("review") && line.contains("leave the wall")),
        "{text}"
    );
    assert!(text.lines().next().is_some_and(|line| line.ends_with("1 instruction to review")), "{text}");
    let page = run(&home, &["day-list", "--farm", "Threlmarsh"]).well();
    assert!(page.contains("to be reviewed with the farm since MON 4 May: inner front: sole at least"), "{page}");
    let page = home.json(&["day-list", "--farm", "Threlmarsh", "--book", "herd.book"]);
    assert_eq!(page["reviews"].as_array().map(Vec::len), Some(1));
    // Ended, it is on neither.
    run(&home, &["instruct", "inner-front", "--end", "sound", "--farm", "Threlmarsh"]).well();
    let due = home.json(&["due", "--book", "herd.book"]);
    assert_eq!(due["reviews"].as_array().map(Vec::len), Some(0));
}

#[test]
fn what_another_tablet_wrote_is_not_taken_back_here() {
    let home = Home::with_herd();
    home.run(&["join", "herd.book", "--book", "other.book", "--today", TODAY]).well();
    let said = home.run(&["undo", "--farm", "Quillbarrow", "--yes", "--book", "other.book"]).complained(1);
    assert!(said.contains("nothing was written about Quillbarrow from here"), "{said}");
}
