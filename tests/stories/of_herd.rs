//! The herd on the screens: its list group by group, her herd data changed, and a farm's list looked at and taken.

use super::rig::Rig;
use crate::screens::world::{screen, six_days_later};
use chrono::NaiveDate;
use crushbook::domain::day::NoDay;
use crushbook::domain::event::Event;
use crushbook::domain::her_days;
use crushbook::domain::herd::{FarmFact, Herd, Labels, Leaving, Status};
use crushbook::domain::herd_list::column::Column;
use crushbook::domain::record::Record;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::herd::{self, No, Page, Whom, gone, shown};
use crushbook::session::herd_list::missing;
use crushbook::session::mode::Mode;
use crushbook::session::of_farm::{self, Refused};
use crushbook::session::{Notice, Refusal, amend};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const MAP: BuiltIn = BuiltIn::TwoHands;

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    rig.press(keys);
    if let Some(Notice::Saved { press, .. }) = rig.notice() { press.clone() } else { Vec::new() }
}

fn typed(text: &str) -> String {
    let key = |letter: char| if letter == ' ' { "Space".to_owned() } else { letter.to_string() };
    text.chars().map(key).collect::<Vec<_>>().join(" ")
}

/// Keys that lead from the head of her data to the line of a column.
fn to(column: Column) -> String {
    let at = Column::ALL.iter().position(|one| *one == column).expect("a column");
    vec!["Down"; at].join(" ")
}

/// On the data of the first animal of the herd: what is typed on a line, in the place of what stands there; they are left again.
fn tell(rig: &mut Rig, column: Column, text: &str) -> Result<Vec<Record>, Refusal> {
    rig.press("f 9 Enter");
    assert!(matches!(rig.mode(), Mode::Herd { page: Page::Her(_), cursor: 0, .. }), "{:?}", rig.mode());
    rig.press(&format!("{} Enter", to(column)));
    while matches!(rig.mode(), Mode::Text { text, .. } if !text.is_empty()) {
        rig.press("Backspace");
    }
    let records = wrote(rig, &format!("{} Enter", typed(text)));
    let refused = if let Some(Notice::Refused(why)) = rig.notice() { Some(why.clone()) } else { None };
    while !matches!(rig.mode(), Mode::Today { .. }) {
        rig.press("Backspace");
    }
    refused.map_or(Ok(records), Err)
}

fn no(why: No) -> Refusal {
    Refusal::Farm(Refused::Herd(why))
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

fn numbers(rig: &Rig, whom: &Whom) -> Vec<String> {
    shown(rig.session(), whom).iter().map(|her| her.known.labels.number.clone()).collect()
}

#[test]
fn the_herd_stands_in_order_of_number_in_every_keymap_and_goes_from_group_to_group() {
    for map in BuiltIn::ALL {
        let (farm, only, down, enter) = match map {
            BuiltIn::TwoHands => ("f 9", "f", "Down", "Enter"),
            BuiltIn::Keypad => ("* * 1 9", "7", "2", "Enter"),
            BuiltIn::LeftHand => ("Tab Tab c t", "e", "v", "Space"),
            BuiltIn::RightHand => ("n n j 9", "7", "k", "Enter"),
        };
        let mut rig = six_days_later(map);
        rig.press(farm);
        assert!(matches!(rig.mode(), Mode::Herd { page: Page::Animals(Whom::All), .. }), "{map:?}: {:?}", rig.mode());
        assert_eq!(numbers(&rig, &Whom::All), ["7", "44", "138", "1382"]);
        // Nobody is in a group, so the next are those of none, then all again.
        rig.press(only);
        assert!(
            matches!(rig.mode(), Mode::Herd { page: Page::Animals(Whom::NoGroup), .. }),
            "{map:?}: {:?}",
            rig.mode()
        );
        rig.press(only);
        assert!(matches!(rig.mode(), Mode::Herd { page: Page::Animals(Whom::All), .. }), "{map:?}: {:?}", rig.mode());
        rig.press(&format!("{down} {enter}"));
        let her = rig.animal("44");
        assert!(
            matches!(rig.mode(), Mode::Herd { page: Page::Her(one), .. } if *one == her),
            "{map:?}: {:?}",
            rig.mode()
        );
    }
}

#[test]
fn groups_come_one_after_the_other_whatever_their_capitals() {
    let mut rig = six_days_later(MAP);
    tell(&mut rig, Column::Group, "Milkers").expect("told");
    rig.press("f 9 Down Enter");
    rig.press(&format!("{} Enter {} Enter", to(Column::Group), typed("milkers")));
    rig.press("Backspace Down Enter");
    rig.press(&format!("{} Enter {} Enter", to(Column::Group), typed("far field")));
    rig.press("Backspace");
    let mut seen = Vec::new();
    for _ in 0..4 {
        let Mode::Herd { page: Page::Animals(whom), .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
        seen.push(numbers(&rig, &whom.clone()));
        rig.press("f");
    }
    assert_eq!(seen, [vec!["7", "44", "138", "1382"], vec!["138"], vec!["7", "44"], vec!["1382"]]);
}

#[test]
fn whoever_left_is_counted_and_not_shown_and_one_is_sent_away_from_the_list() {
    let mut rig = six_days_later(MAP);
    rig.press("f 9");
    let records = wrote(&mut rig, "Down x 2");
    assert!(matches!(records[0].event(), Some(Event::Left { why: Leaving::Sold, .. })), "{records:?}");
    assert!(matches!(rig.mode(), Mode::Herd { page: Page::Animals(_), .. }), "{:?}", rig.mode());
    assert_eq!((numbers(&rig, &Whom::All), gone(rig.session())), (vec!["7".into(), "138".into(), "1382".into()], 1));
    assert!(screen(&rig, MAP, (60, 20)).contains("1 has left and is not shown"));
    rig.press("u");
    assert_eq!((numbers(&rig, &Whom::All).len(), gone(rig.session())), (4, 0));
}

/// What a sheet's word about her writes, a word typed on her data writes too (`domain/sheet/tell.rs`).
#[test]
fn a_word_on_her_data_writes_what_a_sheet_writes_and_is_taken_back() {
    let mut rig = six_days_later(MAP);
    let (today, animal) = (rig.session().today, rig.animal("7"));
    let untold = Herd::default();
    let rows = [
        (Column::Breed, "Jersey", Herd { breed: "Jersey".to_owned(), ..untold.clone() }),
        (Column::Born, "1 2 2022", Herd { born: Some(day("2022-02-01")), ..untold.clone() }),
        (Column::Lactation, "2", Herd { lactation: Some(2), ..untold.clone() }),
        (
            Column::Calved,
            "1 3 2026",
            Herd { calved: Some(day("2026-03-01")), status: Some(Status::InMilk), ..untold.clone() },
        ),
        (
            Column::DryFrom,
            "2 5 2026",
            Herd { dry_from: Some(day("2026-05-02")), status: Some(Status::Dry), ..untold.clone() },
        ),
        // An older calving told afterwards leaves her dry.
        (Column::Calved, "2 3 2026", Herd { calved: Some(day("2026-03-02")), ..untold.clone() }),
        (Column::DueToCalve, "1 7 2026", Herd { due_to_calve: Some(day("2026-07-01")), ..untold.clone() }),
        (Column::Group, "dry cows", Herd { group: "dry cows".to_owned(), ..untold.clone() }),
    ];
    for (column, text, wanted) in rows {
        let records = tell(&mut rig, column, text).unwrap_or_else(|why| panic!("{column:?} {text}: {why:?}"));
        let [record] = records.as_slice() else { panic!("one record of {column:?}: {records:?}") };
        assert_eq!((record.about, record.on), (animal.0, today));
        assert_eq!(record.event(), Some(&Event::Described { animal, herd: wanted }));
    }
    rig.press("f 9 Enter");
    let her = &rig.session().animals[0];
    assert_eq!(her.known.herd.status, Some(Status::Dry));
    // 2 to 15 May would be 13; day(1) and seven days is 8 May.
    assert_eq!(her.known.herd.days_dry(today), Some((today - day("2026-05-02")).num_days()));
    let undone = wrote(&mut rig, "u");
    assert!(matches!(undone[0].event(), Some(Event::Undone { .. })), "{undone:?}");
    assert!(matches!(rig.mode(), Mode::Herd { page: Page::Her(_), .. }), "{:?}", rig.mode());
    assert_eq!(rig.session().animals[0].known.herd.group, "");
}

#[test]
fn the_same_word_again_writes_nothing() {
    let mut rig = six_days_later(MAP);
    assert_eq!(tell(&mut rig, Column::Group, "milkers").expect("told").len(), 1);
    let held = rig.held();
    assert_eq!(tell(&mut rig, Column::Group, "milkers"), Ok(Vec::new()));
    assert_eq!(tell(&mut rig, Column::Group, ""), Ok(Vec::new()), "nothing typed leaves it as it is");
    assert_eq!(tell(&mut rig, Column::Number, "7"), Ok(Vec::new()));
    assert_eq!(tell(&mut rig, Column::Tag, ""), Ok(Vec::new()), "she has none already");
    assert_eq!(rig.held(), held);
}

#[test]
fn what_cannot_be_is_refused_with_its_reason() {
    let mut rig = six_days_later(MAP);
    tell(&mut rig, Column::Born, "1 2 2022").expect("told");
    tell(&mut rig, Column::Calved, "1 3 2026").expect("told");
    let held = rig.held();
    let tomorrow = (rig.session().today + chrono::Days::new(1)).format("%-d %-m %Y").to_string();
    let too_late = (rig.session().today + chrono::Days::new(305)).format("%-d %-m %Y").to_string();
    let rows = [
        (Column::Lactation, "two", no(No::Cell(Column::Lactation, "two".to_owned()))),
        (Column::Lactation, "31", no(No::Cell(Column::Lactation, "31".to_owned()))),
        // Fifteen digits (ISO 11784).
        (Column::Electronic, "12345", no(No::Cell(Column::Electronic, "12345".to_owned()))),
        (Column::Born, &tomorrow, Refusal::NoDay(tomorrow.clone(), NoDay::ToCome)),
        (Column::Calved, &tomorrow, Refusal::NoDay(tomorrow.clone(), NoDay::ToCome)),
        (Column::DryFrom, &tomorrow, Refusal::NoDay(tomorrow.clone(), NoDay::ToCome)),
        (Column::Calved, "31 2", Refusal::NoDay("31 2".to_owned(), NoDay::NotThere)),
        (Column::Born, "1 5 1826", Refusal::NoDay("1 5 1826".to_owned(), NoDay::NotThere)),
        (Column::Calved, "31 1 2022", no(No::Day(her_days::NoDay::BeforeBirth(day("2022-02-01"))))),
        (Column::DryFrom, "31 1 2022", no(No::Day(her_days::NoDay::BeforeBirth(day("2022-02-01"))))),
        (Column::Born, "2 3 2026", no(No::Day(her_days::NoDay::After(Column::Calved, day("2026-03-01"))))),
        // A cow carries for 304 days at the longest: see `her_days`.
        (Column::DueToCalve, &too_late, no(No::Day(her_days::NoDay::TooLong(305)))),
        // A record of herd data has no word for "no longer known".
        (Column::Breed, "-", no(No::Stays(Column::Breed))),
        (Column::Group, "-", no(No::Stays(Column::Group))),
    ];
    for (column, text, wanted) in rows {
        assert_eq!(tell(&mut rig, column, text), Err(wanted), "{column:?} {text}");
    }
    assert_eq!(rig.held(), held);
}

#[test]
fn a_label_of_another_animal_is_asked_about_and_one_she_lost_is_erased() {
    let mut rig = six_days_later(MAP);
    let records = tell(&mut rig, Column::Tag, "UK 123456 712345").expect("told");
    let labels = Labels { number: "7".to_owned(), tag: "UK 123456 712345".to_owned(), ..Labels::default() };
    assert!(
        matches!(records[0].event(), Some(Event::Renumbered { labels: told, .. }) if *told == labels),
        "{records:?}"
    );
    // The check digit of a GB tag is herd and animal as one number, modulo 7, plus 1: 12345612345 % 7 + 1 = 4.
    assert_eq!(12_345_612_345_u64 % 7 + 1, 4);
    rig.press("f 9 Enter");
    assert!(screen(&rig, MAP, (120, 40)).contains("the check digit of this GB tag should be 4"));
    rig.press("Backspace Backspace");
    let lost = tell(&mut rig, Column::Tag, "").expect("told");
    assert!(matches!(lost[0].event(), Some(Event::Renumbered { labels, .. }) if labels.tag.is_empty()), "{lost:?}");
    // 44 is another animal's: nothing is written before it is said that both bear it.
    rig.press("f 9 Enter Enter Backspace 4 4 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Amend(amend::Ask::Taken(_, _)), .. }), "{:?}", rig.mode());
    let records = wrote(&mut rig, "2");
    assert!(
        matches!(records[0].event(), Some(Event::Renumbered { labels, .. }) if labels.number == "44"),
        "{records:?}"
    );
    assert!(matches!(rig.mode(), Mode::Herd { page: Page::Her(_), .. }), "one stays with her: {:?}", rig.mode());
}

#[test]
fn her_state_is_chosen_among_those_she_is_not_in() {
    let mut rig = six_days_later(MAP);
    let ask = format!("f 9 Enter {} Enter", to(Column::Status));
    let records = wrote(&mut rig, &format!("{ask} 3"));
    assert!(
        matches!(records[0].event(), Some(Event::Described { herd: Herd { status: Some(Status::Heifer), .. }, .. })),
        "{records:?}"
    );
    let Mode::Herd { page: Page::Her(animal), .. } = rig.mode().clone() else { panic!("{:?}", rig.mode()) };
    let offered = herd::choices(rig.session(), &herd::Ask::Status(animal));
    assert_eq!(offered.len(), Status::ALL.len() - 1);
}

#[test]
fn while_paper_is_typed_up_no_later_word_is_shown_and_no_list_is_taken() {
    let mut rig = six_days_later(MAP);
    tell(&mut rig, Column::Group, "milkers").expect("told");
    // Yesterday's paper.
    rig.press("f 5 Enter f 9");
    assert!(matches!(rig.mode(), Mode::Herd { .. }), "{:?}", rig.mode());
    assert!(rig.session().animals.iter().all(|her| her.known.herd.group.is_empty()));
    rig.press("a");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::OnPaper)));
}

/// A machine whose folder of lists is this one.
fn with(lists: &[(&str, &[u8])]) -> (Rig, TempDir) {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in lists {
        std::fs::write(folder.path().join(name), text).expect("written");
    }
    let mut rig = six_days_later(MAP);
    rig.lists = Some(folder.path().to_owned());
    rig.pass(0);
    (rig, folder)
}

const GOOD: &[u8] = b"number,name,lactation,group\n7,Fern,2,milkers\n138,,,far field\n99,Bracken,0,heifers\n";
const BAD: &[u8] = b"number,name,lactation\n7,Fern,two\n138,Sorrel,3\n1382,Clover,4\n44,Sedge,1\n";

fn the_list(rig: &Rig) -> String {
    rig.session().offered.as_ref().expect("a list is looked at").lines.join("\n")
}

#[test]
fn a_good_list_is_shown_then_taken_in_one_press_and_taken_back() {
    let (mut rig, folder) = with(&[("good.csv", GOOD), ("notes.txt", b"no list")]);
    rig.press("f 9 a");
    assert_eq!(rig.session().lists.names, ["good.csv"]);
    let held = rig.held();
    rig.press("Enter");
    let told = the_list(&rig);
    for part in
        ["1 new, 2 changed, 2 missing from it", "line 4: 99 Bracken", "name: nothing -> Fern", "HAS SOMETHING ON"]
    {
        assert!(told.contains(part), "{part}: {told}");
    }
    // Going on takes nothing, however often.
    rig.press("Enter Enter Enter Enter");
    assert_eq!(rig.held(), held);
    // The file goes; what is taken is what was shown.
    std::fs::remove_file(folder.path().join("good.csv")).expect("gone");
    let records = wrote(&mut rig, "Enter 1");
    let press: std::collections::BTreeSet<u64> = records.iter().map(|record| record.press).collect();
    // Two of her who is new, two of her who is named and in a group, one of her whose group is new, and the list.
    assert_eq!((records.len(), press.len()), (6, 1), "one press: {records:?}");
    assert!(matches!(
        records.last().and_then(Record::event),
        Some(Event::FarmDescribed { fact: FarmFact::HerdList, words, .. }) if words == "good.csv: 1 new, 2 changed"
    ));
    // Whoever is missing is asked about; going on leaves them.
    assert!(
        matches!(rig.mode(), Mode::Pad { ask: Ask::Farm(of_farm::Ask::Herd(herd::Ask::List(_))), .. }),
        "{:?}",
        rig.mode()
    );
    rig.press("Enter");
    assert_eq!(numbers(&rig, &Whom::All), ["7", "44", "99", "138", "1382"]);
    rig.press("u");
    assert_eq!(numbers(&rig, &Whom::All), ["7", "44", "138", "1382"]);
    assert!(rig.session().animals.iter().all(|her| her.known.labels.name.is_empty()));
}

#[test]
fn the_same_list_again_changes_nothing_and_says_so() {
    let (mut rig, _folder) = with(&[("good.csv", GOOD)]);
    rig.press("f 9 a Enter Enter 1 Enter");
    let held = rig.held();
    rig.press("a Enter");
    assert!(the_list(&rig).contains("3 as the list says"), "{}", the_list(&rig));
    rig.press("Enter");
    assert!(screen(&rig, MAP, (80, 24)).contains("it says nothing new"));
    rig.press("1");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoSuchChoice)));
    assert_eq!(rig.held(), held);
}

#[test]
fn of_a_list_with_a_bad_cell_only_the_good_rows_can_be_taken() {
    let (mut rig, _folder) = with(&[("bad.csv", BAD)]);
    rig.press("f 9 a Enter");
    let told = the_list(&rig);
    assert!(
        told.contains("bad.csv:2: column lactation, \"two\": a lactation is a whole number from 0 to 30"),
        "{told}"
    );
    rig.press("Enter 1");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoSuchChoice)), "all of it cannot be taken");
    let records = wrote(&mut rig, "2");
    assert_eq!(records.len(), 3 + 3 + 1, "a label and herd data of three, and the list: {records:?}");
    rig.press("f 9");
    let name = |number: &str| {
        let her = rig.session().animals.iter().find(|her| her.known.labels.number == number);
        her.map(|her| her.known.labels.name.clone())
    };
    assert_eq!((name("138"), name("7")), (Some("Sorrel".to_owned()), Some(String::new())));
}

#[test]
fn nothing_is_taken_where_nothing_is_said() {
    let (mut rig, _folder) = with(&[("good.csv", GOOD)]);
    let held = rig.held();
    rig.press("f 9 a Enter Enter 3");
    assert!(matches!(rig.mode(), Mode::Herd { page: Page::Animals(_), .. }), "{:?}", rig.mode());
    assert_eq!(rig.held(), held);
}

#[test]
fn whoever_is_missing_is_gone_by_a_key_of_its_own_and_whoever_wears_something_stays() {
    let (mut rig, _folder) = with(&[("good.csv", GOOD)]);
    rig.press("f 9 a Enter Enter 4");
    let (bare, on) = missing(rig.session());
    let called = |those: &[&crushbook::domain::herd_list::her::Her]| {
        those.iter().map(|her| her.known.labels.number.clone()).collect::<Vec<_>>()
    };
    assert_eq!((called(&bare), called(&on)), (vec!["44".to_owned()], vec!["1382".to_owned()]));
    assert!(screen(&rig, MAP, (60, 20)).contains("44; kept, since something is on: 1382"));
    // None of the keys that led here says so.
    rig.press("4 1");
    assert_eq!(rig.session().animals.iter().filter(|her| her.known.left.is_some()).count(), 0);
    let records = wrote(&mut rig, "0");
    let [record] = records.as_slice() else { panic!("{records:?}") };
    assert!(matches!(record.event(), Some(Event::Left { why: Leaving::Gone, .. })), "{record:?}");
    assert_eq!((numbers(&rig, &Whom::All), gone(rig.session())), (vec!["7".into(), "138".into(), "1382".into()], 1));
    rig.press("u");
    assert_eq!(gone(rig.session()), 0);
}

#[test]
fn days_in_figures_are_read_once_it_is_said_which_comes_first() {
    let (mut rig, _folder) = with(&[("days.csv", b"number,calved\n7,01/02/2026\n")]);
    rig.press("f 9 a Enter");
    assert!(the_list(&rig).contains("BAD"), "{}", the_list(&rig));
    rig.press("Enter 5");
    assert!(the_list(&rig).contains("calved: nothing -> 2026-02-01"), "{}", the_list(&rig));
    rig.press("Backspace a Enter Enter 6");
    assert!(the_list(&rig).contains("calved: nothing -> 2026-01-02"), "{}", the_list(&rig));
}

/// What stands in the place of a list, and what is said of it.
#[test]
fn what_is_no_list_is_told_and_nothing_of_it_is_taken() {
    let rows: [(&str, &[u8], &str); 5] = [
        ("empty.csv", b"", "the list is empty"),
        ("wide.csv", b"\xff\xfen\0u\0", "UTF-16"),
        ("other.csv", b"price,weight\n1,2\n", "no column is known"),
        ("blind.csv", b"name,breed\n,Jersey\n", "neither number, tag, electronic number nor name"),
        ("latin.csv", b"number,name\n7,Z\xf3e\n", "is not UTF-8"),
    ];
    for (name, bytes, wanted) in rows {
        let (mut rig, _folder) = with(&[(name, bytes)]);
        let held = rig.held();
        rig.press("f 9 a Enter");
        assert!(the_list(&rig).contains(wanted), "{name}: {}", the_list(&rig));
        rig.press("Enter Enter");
        assert_eq!(rig.held(), held, "{name}");
    }
}

fn type_path(rig: &mut Rig, path: &Path) {
    rig.press("f 9 a PageDown Enter");
    let path = path.display().to_string();
    rig.press(&format!("{} Enter", typed(&path)));
}

#[test]
fn a_file_that_cannot_be_read_says_why_and_the_files_stay() {
    let (mut rig, folder) = with(&[("good.csv", GOOD)]);
    let large = folder.path().join("large.bin");
    std::fs::File::create(&large).and_then(|file| file.set_len(50_000_000)).expect("made");
    let rows: [(PathBuf, &str); 3] = [
        (folder.path().join("nowhere.csv"), "cannot be read"),
        (folder.path().to_owned(), "is a folder: type a list in it"),
        (large, "has 50 MB, and a herd list at most 8"),
    ];
    for (path, wanted) in rows {
        type_path(&mut rig, &path);
        let trouble = rig.session().lists.trouble.clone().unwrap_or_default();
        assert!(trouble.contains(wanted), "{trouble}");
        assert!(matches!(rig.mode(), Mode::Herd { page: Page::Files, .. }), "{:?}", rig.mode());
        rig.press("Backspace Backspace");
    }
    // One that lay there when the files were listed and is gone now.
    rig.press("f 9 a");
    std::fs::remove_file(folder.path().join("good.csv")).expect("gone");
    rig.press("Enter");
    assert!(rig.session().lists.trouble.as_deref().is_some_and(|why| why.contains("cannot be read")));
}

#[test]
fn a_list_that_lies_elsewhere_is_typed() {
    let (mut rig, _folder) = with(&[]);
    let stick = tempfile::tempdir().expect("a stick");
    std::fs::write(stick.path().join("list.csv"), GOOD).expect("written");
    type_path(&mut rig, &stick.path().join("list.csv"));
    assert!(the_list(&rig).contains("list.csv against"), "{}", the_list(&rig));
}

#[test]
fn a_battery_pulled_after_a_list_was_taken_leaves_all_of_it() {
    let (mut rig, _folder) = with(&[("good.csv", GOOD)]);
    rig.press("f 9 a Enter Enter 1");
    rig.pull_battery();
    rig.press("f 9");
    assert_eq!(numbers(&rig, &Whom::All), ["7", "44", "99", "138", "1382"]);
}

/// Lines do what keys do: the same records, and every line says what it is about.
#[test]
fn in_lines_the_herd_is_told_and_the_same_is_written() {
    let (mut keys, folder) = with(&[("good.csv", GOOD)]);
    let mut lines = keys.copy();
    lines.lists = Some(folder.path().to_owned());
    lines.open();
    let herd = lines.line("farm 9");
    for part in ["herd: HERD OF Thistle: 4 animals", "#1: 7", "#4: 1382"] {
        assert!(herd.contains(part), "{part}: {herd}");
    }
    let data = lines.line("#1 go-on");
    assert!(data.contains("data: DATA OF 7") && data.contains("#7: lactation: not told"), "{data}");
    lines.line("#7 go-on");
    let told = lines.line("3");
    assert!(told.contains("7 lactation 3"), "{told}");
    // A dash alone says in a line what erasing says on the screens; what is not a label stays.
    lines.line("#4 go-on");
    assert!(lines.line("Fern").contains("name Fern"));
    lines.line("#4 go-on");
    assert!(!lines.line("-").contains("name Fern"));
    lines.line("back");
    let files = lines.line("add");
    assert!(files.contains("#1: good.csv") && files.contains("#2: another file"), "{files}");
    let list = lines.line("#1 go-on");
    assert!(list.contains("1 new, 2 changed"), "{list}");
    // What becomes of it is to be heard before it is answered.
    let asked = lines.line("go-on 1");
    assert!(asked.contains("take all of it") && !asked.contains("saved"), "{asked}");
    assert!(lines.line("1").contains("herd-list good.csv: 1 new, 2 changed"));
    lines.line("0");
    keys.press(&format!("f 9 Enter {} Enter 3 Enter", to(Column::Lactation)));
    keys.press("PageUp Down Down Down Enter F e r n Enter Enter Backspace Backspace Backspace Backspace Enter");
    keys.press("Backspace a Enter Enter 1 0");
    assert_eq!(keys.kept(), lines.kept());
}
