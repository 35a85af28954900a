//! Sheets of what a farm told and of its visits: printed back they make the same records, and each line is checked as the command
//! of its day is.

use super::home::{Home, Said, TODAY};
use serde_json::Value;
use std::collections::BTreeMap;

fn enter(home: &Home, book: &str, text: &str) -> Said {
    home.run_with(&["enter", "-", "--book", book, "--today", TODAY], text)
}

fn on(home: &Home, day: &str, arguments: &[&str]) -> String {
    home.run(&[arguments, &["--book", "a.book", "--today", day]].concat()).well()
}

/// What was recorded: kind, day and fact, with the kind of what is named in the place of each name.
fn facts(home: &Home, book: &str) -> Vec<String> {
    let exported = home.run(&["export", "--book", book]).well();
    let records: Vec<Value> = exported.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let word = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let kinds: BTreeMap<String, String> =
        records.iter().map(|record| (word(&record["id"]), word(&record["kind"]))).collect();
    let mut facts: Vec<String> = records
        .iter()
        .filter(|record| record["kind"].is_string())
        .map(|record| {
            let mut fact = record["fact"].to_string();
            for (id, kind) in kinds.iter().filter(|(id, _)| !id.is_empty()) {
                fact = fact.replace(&format!("\"{id}\""), kind);
            }
            format!("{} {} {fact}", record["on"], record["kind"])
        })
        .collect();
    facts.sort();
    facts
}

const DAY: &str = "farm Lintel\nday 1 May 2026\n\nanimal 12\n  all four trimmed nothing found\n  signed\n";
const LATER: &str =
    "farm Lintel\nday 5 May 2026\nvisit gone on\n\nanimal 13\n  all four trimmed nothing found\n  signed\n";

#[test]
fn what_commands_told_of_a_farm_prints_as_sheets_that_make_the_same_records() {
    let home = Home::new();
    enter(&home, "a.book", DAY).well();
    let (first, second) = ("2026-05-01", "2026-05-05");
    on(&home, first, &["farm", "Lintel", "--phone", "01632 960114", "--gait-scale", "0-3"]);
    on(&home, first, &["visit", "Lintel", "--whole-herd"]);
    on(
        &home,
        first,
        &[
            "instruct",
            "inner-front",
            "leave the wall",
            "--by",
            "Hester",
            "--why",
            "thin walls",
            "--vet",
            "Ada Fenn",
            "--review",
            "2026-06-01",
        ],
    );
    on(&home, first, &["instruct", "hinds", "trim long", "--by", "Hester", "--why", "stones", "--takes-no-horn"]);
    on(&home, first, &["visit", "Lintel", "--pause"]);
    on(&home, second, &["visit", "Lintel", "--resume"]);
    enter(&home, "a.book", LATER).well();
    on(&home, second, &["instruct", "inner-front", "--goes-on", "--why", "nobody limps", "--review", "2026-07-01"]);
    on(&home, second, &["instruct", "hinds", "--end", "looked at together"]);
    on(&home, second, &["visit", "Lintel", "--cleaned", "after"]);
    let printed = on(&home, TODAY, &["farm", "Lintel", "--as", "sheet"]);
    assert_eq!(
        printed,
        "farm Lintel\nday 1 May 2026\nvisit whole herd set aside\n\ntold phone \"01632 960114\"\ntold gait scale \"0-3\"\n\
         told instruction inner front \"leave the wall\" by \"Hester\" why \"thin walls\" review 1 Jun vet \"Ada Fenn\"\n\
         told instruction hinds \"trim long\" by \"Hester\" why \"stones\" no vet named\n\n\
         farm Lintel\nday 5 May 2026\nvisit cleaned after gone on\n\n\
         told instruction inner front goes on \"nobody limps\" review 1 Jul\n\
         told instruction hinds ended \"looked at together\"\n"
    );
    let animals = ["12", "13"].map(|number| on(&home, TODAY, &["animal", number, "--as", "sheet"]));
    assert!(animals[0].contains("\nvisit whole herd set aside\n"), "{}", animals[0]);
    let all = format!("{printed}\n{}\n{DAY}\n{LATER}", animals[0]);
    enter(&home, "b.book", &all).well();
    assert_eq!(facts(&home, "b.book"), facts(&home, "a.book"));
    // Once more they write nothing, into either book.
    for book in ["a.book", "b.book"] {
        let said = enter(&home, book, &all).well();
        assert!(said.lines().all(|line| line.ends_with("already entered")), "{said}");
    }
    assert_eq!(facts(&home, "b.book"), facts(&home, "a.book"));
}

/// Ninety days without another rule: common practice (`crushbook rules`). 5 May and 90 days are 3 August, counted on a calendar.
#[test]
fn an_instruction_goes_on_where_one_held_and_within_the_days_of_the_rule() {
    let home = Home::new();
    let given = "farm Lintel\nday 5 May 2026\ntold instruction all \"trim long\" by \"Hester\" why \"long track\" takes no horn\n\
         told instruction fronts \"leave the wall\" by \"Hester\" why \"long track\" takes no horn\n";
    enter(&home, "b.book", given).well();
    enter(&home, "b.book", "farm Lintel\nday 10 May 2026\ntold instruction fronts ended\n").well();
    let before = facts(&home, "b.book");
    for (day, line, said) in [
        ("4 May 2026", "all goes on", "input:3:1: no instruction for all held on 4 May 2026"),
        ("5 May 2026", "hinds goes on", "input:3:1: no instruction for hinds held on 5 May 2026"),
        ("10 May 2026", "fronts goes on", "input:3:1: no instruction for fronts held on 10 May 2026"),
        ("5 May 2026", "all goes on review 4 Aug", "the review: 4 Aug 2026 is too late, 3 Aug 2026 at the latest"),
        ("5 May 2026", "all goes on review 4 Aug", "an instruction is looked at again within 90 days"),
        ("5 May 2026", "all goes on review 5 May", "the review: 5 May 2026 is not after the sheet's day"),
        (
            "5 May 2026",
            "hinds \"heel\" by \"Hester\" why \"long track\" review 4 Aug takes no horn",
            "the review: 4 Aug 2026 is too late, 3 Aug 2026 at the latest",
        ),
        (
            "5 May 2026",
            "hinds \"heel\" by \"Hester\" why \"long track\" review 5 May takes no horn",
            "the review: 5 May 2026 is not after the sheet's day",
        ),
    ] {
        let told = enter(&home, "b.book", &format!("farm Lintel\nday {day}\ntold instruction {line}\n")).complained(1);
        assert!(told.contains(said), "{line} on {day}: {told}");
    }
    assert_eq!(facts(&home, "b.book"), before, "nothing was written");
    // Looked at and ended on one sheet: entered twice it says the same.
    let both = "farm Lintel\nday 12 May 2026\ntold instruction fronts \"trim\" by \"Hester\" why \"long track\" takes no horn\n\
                told instruction fronts goes on \"a\"\ntold instruction fronts ended\n";
    enter(&home, "b.book", both).well();
    let again = enter(&home, "b.book", both).well();
    assert_eq!(again, "Lintel, TUE 12 May 2026: already entered\n");
    // Two days before it was ended it held, and without a day it is looked at on the last that the rule allows.
    enter(&home, "b.book", "farm Lintel\nday 8 May 2026\ntold instruction fronts goes on\n").well();
    enter(&home, "b.book", "farm Lintel\nday 5 May 2026\ntold instruction all goes on \"as it is\" review 3 Aug\n")
        .well();
    let told = home.run(&["farm", "Lintel", "--book", "b.book", "--as", "sheet"]).well();
    assert!(told.contains("told instruction fronts goes on review 6 Aug\n"), "{told}");
    assert!(told.contains("told instruction all goes on \"as it is\" review 3 Aug\n"), "{told}");
}

#[test]
fn the_days_of_the_rule_are_those_of_the_sheet_s_day() {
    let home = Home::new();
    enter(&home, "a.book", "farm Lintel\nday 1 May 2026\ntold instruction all \"trim long\" by \"Hester\" why \"long track\" takes no horn\n").well();
    home.write("rules.toml", "[instruction]\nreview = 30\n");
    on(&home, "2026-05-10", &["rules", "rules.toml"]);
    let early = "farm Lintel\nday 9 May 2026\ntold instruction all goes on\n";
    enter(&home, "a.book", early).well();
    enter(&home, "a.book", "farm Lintel\nday 10 May 2026\ntold instruction all goes on\n").well();
    let told = on(&home, TODAY, &["farm", "Lintel", "--as", "sheet"]);
    // 90 days after the ninth, 30 after the tenth.
    assert!(told.contains("goes on review 7 Aug\n") && told.contains("goes on review 9 Jun\n"), "{told}");
    let late = "farm Lintel\nday 11 May 2026\ntold instruction all goes on review 7 Aug\n";
    let said = enter(&home, "a.book", late).complained(1);
    assert!(said.contains("7 Aug 2026 is too late, 10 Jun 2026 at the latest"), "{said}");
}

#[test]
fn a_visit_is_set_aside_in_one_sheet_and_goes_on_in_another() {
    let home = Home::new();
    let aside = DAY.replace("2026\n\n", "2026\nvisit set aside\n\n");
    // The second day is typed up first, and in one go: sheets are entered in the order of their days.
    enter(&home, "a.book", &format!("{LATER}\n{aside}")).well();
    let visits = || home.json(&["visits", "--book", "a.book"])["visits"].as_array().expect("a list").clone();
    let [visit] = visits().try_into().expect("one visit");
    assert_eq!(
        (&visit["date"], &visit["last_date"], &visit["done"]),
        (&"2026-05-01".into(), &"2026-05-05".into(), &2.into())
    );
    assert_eq!(visit["state"], "open", "{visit:#}");
    // It is set aside once more, and another that nobody set aside is left without a word: the one set aside goes on.
    enter(&home, "a.book", &LATER.replace("gone on", "gone on set aside")).well();
    enter(&home, "a.book", "farm Lintel\nday 7 May 2026\n\nanimal 14\n  got away\n").well();
    enter(&home, "a.book", "farm Lintel\nday 9 May 2026\nvisit gone on\n\nanimal 15\n  got away\n").well();
    let last: Vec<Value> = visits().iter().map(|visit| visit["last_date"].clone()).collect();
    assert_eq!(last, ["2026-05-07", "2026-05-09"]);
    // One that is closed is not set aside.
    on(&home, "2026-05-09", &["visit", "Lintel", "--close-all-the-same"]);
    let before = facts(&home, "a.book");
    let said = enter(&home, "a.book", "farm Lintel\nday 9 May 2026\nvisit set aside\n").complained(1);
    assert!(said.contains("was closed before it could be set aside; leave out set aside"), "{said}");
    assert_eq!(facts(&home, "a.book"), before, "nothing was written");
    // Paper of the sixth, when it was still set aside, is typed up last.
    enter(&home, "a.book", "farm Lintel\nday 6 May 2026\nvisit gone on\n\nanimal 16\n  got away\n").well();
    let visits = visits();
    assert_eq!(
        (visits.len(), &visits[1]["animals"], &visits[1]["state"]),
        (2, &4.into(), &"closed".into()),
        "{visits:#?}"
    );
}

/// The lines of two sheets that give the same feet two instructions, one of them of the vet.
const TWO: &str = "told instruction hinds \"trim long\" by \"Hester\" why \"long track\" takes no horn\ntold instruction hinds \"lower the heel\" by \"Hester\" why \"long track\" vet \"Ada Fenn\"\n";

#[test]
fn of_two_instructions_for_the_same_feet_a_sheet_says_which_is_meant() {
    let home = Home::new();
    let sheet = |day: &str, lines: &str| format!("farm Lintel\nday {day}\n{lines}\n");
    let line = |day: &str, line: &str| enter(&home, "a.book", &sheet(day, &format!("told instruction hinds {line}")));
    enter(&home, "a.book", DAY).well();
    std::fs::copy(home.path("a.book"), home.path("c.book")).expect("the book is at rest");
    enter(&home, "a.book", &sheet("5 May 2026", TWO)).well();
    let before = facts(&home, "a.book");
    for unclear in ["goes on", "ended", "\"l\" ended", "since 5 May goes on", "since 4 May ended", "\"raise\" goes on"]
    {
        let said = line("5 May 2026", unclear).complained(1);
        let hold = "input:3:1: which instruction for hinds is meant? those that hold: \"trim long\" since 5 May 2026, \
                    \"lower the heel\" since 5 May 2026; write its words";
        assert!(said.contains(hold) && said.contains("hinds since 5 May 2026 goes on"), "{unclear}: {said}");
    }
    assert_eq!(facts(&home, "a.book"), before, "nothing was written");
    line("7 May 2026", "\"LONG\" goes on review 1 Jul").well();
    line("9 May 2026", "\"lower the heel\" ended \"sound\"").well();
    // Now it is the only one; and another tablet gives one of the same words.
    line("10 May 2026", "goes on \"as it is\"").well();
    let same = "told instruction hinds \"Trim  long\" by \"Hester\" why \"stones\" takes no horn";
    let before = facts(&home, "a.book");
    let said = enter(&home, "a.book", &sheet("11 May 2026", same)).complained(1);
    let holds = "input:3:1: an instruction of these words for hinds holds already: \"trim long\" since 5 May 2026; take the line out";
    assert!(said.contains(holds), "{said}");
    assert_eq!(facts(&home, "a.book"), before, "nothing was written");
    enter(&home, "c.book", &sheet("11 May 2026", same)).well();
    home.run(&["join", "c.book", "--book", "a.book", "--today", TODAY]).well();
    line("12 May 2026", "\"trim long\" goes on").complained(1);
    line("12 May 2026", "since 5 May ended").well();
    let printed = home.run(&["farm", "Lintel", "--book", "a.book", "--as", "sheet"]).well();
    for (day, said) in [
        ("7 May 2026", "told instruction hinds \"trim long\" goes on review 1 Jul\n"),
        ("9 May 2026", "told instruction hinds \"lower the heel\" ended \"sound\"\n"),
        ("10 May 2026", "told instruction hinds goes on \"as it is\" review 8 Aug\n"),
        ("11 May 2026", "told instruction hinds \"Trim  long\" again by \"Hester\" why \"stones\" no vet named\n"),
        ("12 May 2026", "told instruction hinds \"trim long\" since 5 May 2026 ended\n"),
    ] {
        assert!(printed.contains(&format!("day {day}\n\n{said}")), "{day}: {printed}");
    }
    let printed = format!("{DAY}\n{printed}");
    enter(&home, "b.book", &printed).well();
    assert_eq!(facts(&home, "b.book"), facts(&home, "a.book"));
    for book in ["a.book", "b.book"] {
        let said = enter(&home, book, &printed).well();
        assert!(said.lines().all(|line| line.ends_with("already entered")), "{said}");
    }
}

#[test]
fn a_sheet_that_says_nothing_of_who_why_or_horn_is_refused_with_what_to_write() {
    let home = Home::new();
    for (behind, said) in [
        ("", "input:3:34: who asked for it?; write by \"NAME\""),
        (" by \"Hester\"", "input:3:46: why is it done?; write why \"REASON\""),
        (
            " by \"Hester\" why \"stones\"",
            "input:3:59: does it take horn away?; write takes no horn, or vet \"NAME\" where it does",
        ),
    ] {
        let given = format!("farm Lintel\nday 5 May 2026\ntold instruction all \"trim long\"{behind}\n");
        let told = enter(&home, "a.book", &given).complained(1);
        assert!(told.contains(said), "{told}");
    }
    let given =
        "farm Lintel\nday 5 May 2026\ntold instruction all \"trim long\" by \"Hester\" why \"stones\" vet Ada\n";
    assert!(enter(&home, "a.book", given).code == Some(0));
}

/// Records of before the questions were asked (made as the book keeps them: revision 1 of `instructed` with empty fields).
#[test]
fn a_record_of_before_that_knows_nobody_no_reason_and_no_vet_prints_as_a_sheet_that_is_read_again() {
    let home = Home::new();
    let old =
        "farm Lintel\nday 5 May 2026\n\ntold instruction all \"trim long\" by nobody named why not told no vet named\n";
    enter(&home, "a.book", old).well();
    let kept = facts(&home, "a.book");
    assert!(
        kept.iter().any(|fact| fact.contains("\"asked_by\":\"\"") && fact.contains("\"vet\":\"\"")),
        "nothing is made up: {kept:?}"
    );
    let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", "a.book"]).well();
    assert_eq!(printed, old);
    enter(&home, "b.book", &printed).well();
    assert_eq!(facts(&home, "b.book"), kept);
    for book in ["a.book", "b.book"] {
        assert_eq!(enter(&home, book, old).well(), "Lintel, TUE 5 May 2026: already entered\n");
    }
    // Of one that takes none away the book keeps no more, and its sheet claims no more.
    enter(&home, "c.book", &old.replace("no vet named", "takes no horn")).well();
    assert_eq!(home.run(&["farm", "Lintel", "--as", "sheet", "--book", "c.book"]).well(), old);
    assert!(!home.run(&["farm", "Lintel", "--book", "a.book"]).well().contains("horn"));
}

fn states(home: &Home, book: &str) -> Vec<String> {
    let visits = home.json(&["visits", "--book", book])["visits"].as_array().expect("a list").clone();
    visits.iter().map(|visit| format!("{} {}", visit["date"], visit["state"]).replace('"', "")).collect()
}

#[test]
fn a_visit_is_closed_in_a_sheet_as_by_the_command_of_its_day() {
    let home = Home::new();
    let closed = DAY.replace("2026\n\n", "2026\nvisit closed\n\n");
    enter(&home, "a.book", &closed).well();
    assert_eq!(states(&home, "a.book"), ["2026-05-01 closed"]);
    assert_eq!(enter(&home, "a.book", &closed).well(), "Lintel, FRI 1 May 2026: already entered\n");
    // What the command writes is the same, and both print so.
    enter(&home, "b.book", DAY).well();
    home.run(&["visit", "Lintel", "--close-all-the-same", "--book", "b.book", "--today", "2026-05-01"]).well();
    assert_eq!(facts(&home, "a.book"), facts(&home, "b.book"));
    assert!(facts(&home, "a.book").iter().any(|fact| fact.contains("visit-closed")));
    for book in ["a.book", "b.book"] {
        let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", book]).well();
        assert_eq!(printed, "farm Lintel\nday 1 May 2026\nvisit routine closed\n");
        let hers = home.run(&["animal", "12", "--as", "sheet", "--book", book]).well();
        assert!(hers.contains("day 1 May 2026\nvisit closed\n\nanimal 12\n"), "{hers}");
    }
    // Alone it makes the same visit, into which her sheet then comes.
    let of_farm = "farm Lintel\nday 1 May 2026\nvisit routine closed\n";
    assert!(!enter(&home, "c.book", of_farm).well().contains("already"));
    assert_eq!(enter(&home, "c.book", of_farm).well(), "Lintel, FRI 1 May 2026: already entered\n");
    assert_eq!(home.run(&["farm", "Lintel", "--as", "sheet", "--book", "c.book"]).well(), of_farm);
    enter(&home, "c.book", &closed).well();
    assert_eq!(facts(&home, "c.book"), facts(&home, "a.book"));
    // There is none to close any more, and none began where it was refused.
    for day in ["30 Apr 2026", "3 May 2026"] {
        let said = enter(&home, "a.book", &format!("farm Lintel\nday {day}\nvisit closed\n")).complained(1);
        assert!(said.contains("input:3:1: no visit to this farm was made that day, and none before"), "{day}: {said}");
        assert!(said.contains("leave out closed"), "{day}: {said}");
    }
    assert_eq!(facts(&home, "a.book"), facts(&home, "b.book"));
}

#[test]
fn the_farms_own_sheets_make_a_routine_visit_that_somebody_else_closed_or_that_was_closed_on_a_later_day() {
    let home = Home::new();
    let anns = DAY.replace("2026\n\n", "2026\nby Ann\n\n");
    // Whoever stands later among the sheets of a day closes it, or begins it.
    for (begins, closes, pages) in [
        ("Ann", "Zoe", ["by Ann\nvisit routine", "by Zoe\nvisit closed"].as_slice()),
        ("Zoe", "Ann", &["by Ann\nvisit routine closed"]),
    ] {
        let (book, other) = (format!("{begins}.book"), format!("{begins}-other.book"));
        enter(&home, &book, &anns.replace("Ann", begins)).done();
        enter(&home, &book, &format!("farm Lintel\nday 1 May 2026\nby {closes}\nvisit closed\n")).done();
        let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", &book]).well();
        let wanted: Vec<String> = pages.iter().map(|page| format!("farm Lintel\nday 1 May 2026\n{page}\n")).collect();
        assert_eq!(printed, wanted.join("\n"));
        enter(&home, &other, &printed).done();
        assert_eq!(states(&home, &other), ["2026-05-01 closed"]);
        let again = home.run(&["farm", "Lintel", "--as", "sheet", "--book", &other]).well();
        assert_eq!(again, printed);
    }
    // Left without a word, and closed on the day after; nothing is told of the first day.
    enter(&home, "late.book", DAY).done();
    enter(&home, "late.book", "farm Lintel\nday 2 May 2026\nvisit closed\n").done();
    let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", "late.book"]).well();
    assert_eq!(printed, "farm Lintel\nday 1 May 2026\nvisit routine\n\nfarm Lintel\nday 2 May 2026\nvisit closed\n");
    enter(&home, "late-other.book", &format!("{printed}\n{DAY}")).done();
    assert_eq!(facts(&home, "late-other.book"), facts(&home, "late.book"));
    // Told of a call-out that it was routine after all: one word more, as the command writes it.
    enter(&home, "call.book", "farm Lintel\nday 3 May 2026\nvisit call out\n").done();
    enter(&home, "call.book", "farm Lintel\nday 3 May 2026\nvisit routine\n").done();
    let visits = home.json(&["visits", "--book", "call.book"]);
    assert_eq!((visits["visits"].as_array().map(Vec::len), &visits["visits"][0]["why"]), (Some(1), &"routine".into()));
}

#[test]
fn a_visit_of_before_is_closed_on_its_last_day_or_on_a_day_of_its_own() {
    let home = Home::new();
    let aside = DAY.replace("2026\n\n", "2026\nvisit set aside\n\n");
    let last = LATER.replace("gone on", "cleaned after, gone on, closed");
    enter(&home, "a.book", &format!("{aside}\n{last}")).done();
    assert_eq!(states(&home, "a.book"), ["2026-05-01 closed"]);
    let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", "a.book"]).well();
    let both = "farm Lintel\nday 1 May 2026\nvisit set aside\n\nfarm Lintel\nday 5 May 2026\nvisit cleaned after gone on closed\n";
    assert_eq!(printed, both);
    // Set aside on the first, and on the sixth it is said that nothing more comes of it. Nobody came on that day.
    enter(&home, "b.book", &aside).well();
    let over = "farm Lintel\nday 6 May 2026\nvisit closed\n";
    enter(&home, "b.book", over).well();
    assert_eq!(enter(&home, "b.book", over).well(), "Lintel, WED 6 May 2026: already entered\n");
    assert_eq!(states(&home, "b.book"), ["2026-05-01 closed"]);
    let printed = home.run(&["farm", "Lintel", "--as", "sheet", "--book", "b.book"]).well();
    assert_eq!(printed, format!("farm Lintel\nday 1 May 2026\nvisit set aside\n\n{over}"));
    enter(&home, "c.book", &format!("{printed}\n{aside}")).well();
    assert_eq!(facts(&home, "c.book"), facts(&home, "b.book"));
    // One that was left without a word, too; a call-out of which nothing else is told begins and ends.
    enter(&home, "d.book", DAY).well();
    let said = enter(&home, "d.book", "farm Lintel\nday 2 May 2026\nvisit closed\n").well();
    assert_eq!(said, "Lintel, SAT 2 May 2026: 1 told; the visit of FRI 1 May 2026 is closed\n");
    enter(&home, "d.book", "farm Lintel\nday 7 May 2026\nvisit call out closed\n").well();
    assert_eq!(states(&home, "d.book"), ["2026-05-07 closed", "2026-05-01 closed"]);
}

#[test]
fn what_the_farms_of_the_sample_herd_told_prints_the_same_out_of_a_book_into_which_it_was_entered() {
    let home = Home::with_herd();
    for farm in ["Quillbarrow", "Threlmarsh", "Oddenfold"] {
        let printed = |book: &str| home.run(&["farm", farm, "--as", "sheet", "--book", book]).well();
        let sheets = printed("herd.book");
        assert!(sheets.matches("\nday ").count() >= 5, "{sheets}");
        let new = ["enter", "-", "--new-farm", "--book", "other.book", "--today", TODAY];
        home.run_with(&new, &sheets).well();
        assert_eq!(printed("other.book"), sheets);
        let said = enter(&home, "other.book", &sheets).well();
        assert!(said.lines().all(|line| line.ends_with("already entered")), "{said}");
    }
}

#[test]
fn a_fact_that_the_command_refuses_is_refused_on_a_sheet_too() {
    let home = Home::new();
    enter(&home, "a.book", DAY).well();
    let before = facts(&home, "a.book");
    let refused = [
        ("name \"\"", "the name cannot be so; a farm has a name"),
        ("gait scale \"0-9\"", "the scales are 0-3 and 1-5"),
        ("herd size \"many\"", "write a whole number of animals"),
        ("called \"\" urgent", "a call without words; write what was said in quotes"),
        ("12 called \" \"", "a call without words"),
    ];
    for (told, why) in refused {
        let said = enter(&home, "a.book", &format!("farm Lintel\nday 2 May 2026\n\ntold {told}\n")).complained(1);
        assert!(said.contains("input:4:") && said.contains(why), "{told}: {said}");
    }
    assert_eq!(facts(&home, "a.book"), before);
}
