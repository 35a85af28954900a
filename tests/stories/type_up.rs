//! Paper typed up on the screens: the same keys and checks, for a day gone by, and nobody takes it for today.

use super::player::Player;
use super::rig::Rig;
use crate::screens::world::{screen, six_days_later};
use crate::support::sample;
use crate::support::tablet::{day, moment};
use chrono::NaiveDate;
use crushbook::command::desk::Desk;
use crushbook::command::enter::{enter_sheet, sheets_in};
use crushbook::command::sheets::{Around, sheets};
use crushbook::domain::day::NoDay;
use crushbook::domain::event::Event;
use crushbook::domain::history::History;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::domain::treatment::Put;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};
use crushbook::store::Store;
use crushbook::store::medium::Medium;
use crushbook::wire::envelope::encode;
use crushbook::wire::sheet::print;
use redb::backends::InMemoryBackend;
use std::collections::BTreeSet;

const MAP: BuiltIn = BuiltIn::TwoHands;

fn refused(rig: &Rig) -> Option<&Refusal> {
    if let Some(Notice::Refused(why)) = rig.notice() { Some(why) } else { None }
}

fn said(rig: &Rig) -> &str {
    if let Some(Notice::Words(words)) = rig.notice() { words } else { panic!("{:?}", rig.notice()) }
}

#[test]
fn one_row_begins_it_in_every_keymap_and_one_ends_it() {
    for map in BuiltIn::ALL {
        let mut rig = Rig::with(map, &["12", "34"]);
        let (begin, end) = match map {
            BuiltIn::TwoHands => ("f 5 Enter", "f 5"),
            BuiltIn::Keypad => ("* * 1 5 Enter", "* * 1 5"),
            BuiltIn::LeftHand => ("Tab Tab c f Enter", "Tab Tab c f"),
            BuiltIn::RightHand => ("n n j i Enter", "n n j i"),
        };
        rig.press(begin);
        // Both got away on the first of May: that is the last day with something unfinished.
        assert_eq!((rig.session().today, rig.session().paper), (day(1), Some(day(2))), "{map:?} {:?}", rig.notice());
        assert_eq!(said(&rig), "paper of FRI 1 May: all that is typed is of that day");
        rig.press(end);
        assert_eq!((rig.session().today, rig.session().paper), (day(2), None), "{map:?}");
        assert_eq!(said(&rig), "paper of FRI 1 May put away: it is SAT 2 May again");
    }
}

#[test]
fn the_day_is_typed_as_people_write_it_and_is_one_gone_by() {
    let mut rig = six_days_later(MAP);
    for (typed, why) in [
        ("9 . 5 . 2 0 2 6", Refusal::NoDay("9.5.2026".to_owned(), NoDay::ToCome)),
        ("8 . 5", Refusal::IsToday),
        ("s o o n", Refusal::NoDay("soon".to_owned(), NoDay::Unread)),
        ("3 1 . 4", Refusal::NoDay("31.4".to_owned(), NoDay::NotThere)),
    ] {
        rig.press(&format!("f 5 {typed} Enter"));
        assert_eq!((refused(&rig), rig.session().paper), (Some(&why), None), "{typed}");
        while matches!(rig.mode(), Mode::Text { .. }) {
            rig.press("Backspace");
        }
    }
    rig.press("f 5 5 . 5 . Enter");
    assert_eq!((rig.session().today, rig.session().paper), (day(5), Some(day(8))));
}

#[test]
fn every_screen_says_of_which_day_the_paper_is() {
    let mut rig = six_days_later(MAP);
    rig.press("f 5 5 Enter");
    for keys in [
        "",
        "d",
        "Backspace h",
        "h v",
        "Backspace s",
        "Backspace f",
        "Backspace f 4",
        "Backspace 7 Enter",
        "7",
        "4",
        "1",
        "Enter Enter n",
    ] {
        rig.press(keys);
        for size in [(60, 20), (80, 24), (120, 40)] {
            let picture = screen(&rig, MAP, size);
            let head = picture.lines().next().unwrap_or_default();
            assert!(head.trim_end().ends_with("PAPER of TUE 5 May"), "{keys}: {head}");
        }
    }
}

#[test]
fn what_is_on_her_is_as_it_was_known_that_day_and_later_turns_are_told() {
    let mut rig = six_days_later(MAP);
    // On the eighth the wrap at the right hind is off and bare, and the block is left on.
    rig.press("1 3 8 2 Enter 3 1 1 Enter 1 4 Enter 8 Enter Enter");
    let now = rig.on("1382");
    assert!(now.iter().all(|put| !matches!(put, Put::Wrap { .. })), "{now:?}, {:?}", rig.notice());
    rig.press("f 5 5 Enter");
    // Paper of the fifth: it was still on.
    assert!(rig.on("1382").iter().any(|put| matches!(put, Put::Wrap { .. })), "{:?}", rig.on("1382"));
    rig.press("1 3 8 2 Enter");
    assert_eq!(rig.session().later, [day(8)]);
    assert_eq!(rig.history().turns.iter().map(|turn| turn.on).collect::<Vec<_>>(), [day(1), day(2), day(5)]);
    let picture = screen(&rig, MAP, (60, 20));
    assert!(picture.contains("later: 8 May 2026"), "{picture}");
}

#[test]
fn what_is_typed_late_is_of_its_day_and_undoes_nothing_that_came_later() {
    let mut rig = six_days_later(MAP);
    // The eighth: the wrap is off and bare, a new one goes on.
    rig.press("1 3 8 2 Enter 3 1 1 + 2 3 0 T o m Enter 2 Enter 1 4 Enter 8 Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    let wraps = |rig: &Rig| rig.on("1382").iter().filter(|put| matches!(put, Put::Wrap { .. })).count();
    assert_eq!(wraps(&rig), 1, "{:?} {:?}", rig.mode(), rig.notice());
    let before: BTreeSet<RecordId> = rig.every().iter().map(|record| record.id).collect();
    // Paper of the fifth: it was found to be off then already.
    rig.press("f 5 5 Enter 1 3 8 2 Enter 3 1 1 Enter 1 4 Enter 8 Enter Enter");
    rig.press("f 5");
    let mut written: Vec<Record> = rig.every();
    written.retain(|record| !before.contains(&record.id));
    assert!(written.len() > 3, "{written:?}");
    assert!(written.iter().all(|record| record.on == day(5)), "{written:?}");
    assert!(written.iter().any(|record| matches!(record.event(), Some(Event::VisitBegun { .. }))), "its own visit");
    assert_eq!(wraps(&rig), 1, "the wrap of the eighth is still on");
}

#[test]
fn undo_takes_back_what_was_typed_and_nothing_of_today() {
    let mut rig = six_days_later(MAP);
    rig.press("7 Enter 5 Enter f 5 5 Enter");
    rig.press("u");
    assert_eq!(refused(&rig), Some(&Refusal::NothingToUndo));
    rig.press("4 4 Enter 7 Enter");
    assert_eq!(
        rig.history().turns.last().map(|turn| (turn.on, turn.looks.iter().flatten().count())),
        Some((day(5), 1))
    );
    rig.press("u");
    assert_eq!(rig.history().turns.last().map(|turn| turn.looks.iter().flatten().count()), Some(0));
    let every = rig.every();
    assert!(every.iter().rev().take(2).all(|record| record.on == day(5)), "the undo is of that day too");
}

#[test]
fn a_dead_battery_and_a_new_start_go_on_in_the_middle_of_the_paper() {
    let mut rig = six_days_later(MAP);
    rig.press("f 5 5 Enter 1 3");
    rig.pull_battery();
    assert_eq!((rig.session().today, rig.session().paper), (day(5), Some(day(8))));
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "13"), "{:?}", rig.mode());
    assert_eq!(said(&rig), "in the middle of paper of TUE 5 May");
    // With an animal in the crush.
    rig.press("8 2 Enter 7");
    rig.pull_battery();
    assert_eq!((rig.session().today, rig.session().paper), (day(5), Some(day(8))));
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    // Left and begun again, a day later.
    rig.pass(1);
    assert_eq!((rig.session().today, rig.session().paper), (day(5), Some(day(9))));
    rig.press("a f 5");
    rig.pass(0);
    assert_eq!((rig.session().today, rig.session().paper), (day(9), None), "once it is put away it stays away");
}

#[test]
fn what_is_of_today_waits_until_the_paper_is_away() {
    let mut rig = six_days_later(MAP);
    rig.press("f 5 5 Enter p");
    assert_eq!(refused(&rig), Some(&Refusal::OnPaper));
    rig.press("t");
    assert_eq!(refused(&rig), Some(&Refusal::OnPaper));
    // Another farm is opened on the same day.
    rig.press("v Down Enter B e c k Enter");
    assert_eq!((rig.session().today, rig.session().paper), (day(5), Some(day(8))));
    rig.pull_battery();
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.name.as_str()), Some("Beck"));
}

#[test]
fn whoever_left_since_then_was_there_on_that_day() {
    let mut rig = six_days_later(MAP);
    rig.press("4 4 x 3");
    assert!(rig.session().herd.iter().any(|line| line.labels.number == "44" && line.left.is_some()));
    rig.press("f 5 5 Enter 4 4 Enter");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.notice());
    assert_eq!(rig.history().left, None);
}

#[test]
fn a_walk_of_that_day_is_typed_up_too() {
    let mut rig = six_days_later(MAP);
    rig.press("f 4 4 4 0 Enter Backspace f 5 5 Enter f 4 4 4 2 Enter");
    assert_eq!(rig.session().walk.scored().count(), 1);
    let Some(Notice::Saved { press, .. }) = rig.notice() else { panic!("{:?}", rig.notice()) };
    assert!(matches!(press[0].event(), Some(Event::Walked { turn: None, gait }) if gait.score == 2), "{press:?}");
    assert_eq!(press[0].on, day(5));
    // The battery: paper, and the walk on it.
    rig.press("7");
    rig.pull_battery();
    assert_eq!(rig.session().paper, Some(day(8)));
    assert!(matches!(rig.mode(), Mode::Walk(walking) if walking.typed == "7"), "{:?}", rig.mode());
}

#[test]
fn in_lines_the_paper_is_told_wherever_an_animal_is() {
    let mut rig = six_days_later(MAP);
    let told = rig.line("farm 5");
    assert!(told.contains("paper of: day month"), "{told}");
    let told = rig.line("5");
    assert!(told.contains("paper of TUE 5 May"), "{told}");
    let told = rig.line("1382 Enter");
    assert!(told.contains("paper: PAPER of TUE 5 May"), "{told}");
}

/// Paper of the seventh of May, a week before the last sheet of the sample herd; A, B and C are animals on whom nothing was ever found.
const PAPER: &str = "\
farm Quillbarrow
day 7 May 2026
by Ann

animal A
  gait 1 of 0-3
  all four trimmed nothing found
  signed

animal B
  LH lifted trimmed all seen
  LH outer 4 SU severe
  LH inner block wood
  LF trimmed nothing found
  RF trimmed nothing found
  RH trimmed nothing found
  signed

animal C
  RH lifted trimmed all seen
  RH heel DD M2
  RH heel wrap yellow off by 10 May evening by \"Tom\"
  LF trimmed nothing found
  RF trimmed nothing found
  LH trimmed nothing found
  signed
";

/// The same in wishes.
const WISHES: [&str; 3] = [
    "A go-on gait pick-1 all-sound go-on",
    "B go-on lift-lh zone-4 pick-1 pick-3 put-block|put-on+pick-1 pick-1 go-on rest-sound go-on",
    "C go-on lift-rh zone-10 pick-1 pick-2 put-wrap|put-on+pick-2 pick-3 pick-0 \"Tom\" go-on pick-4 go-on rest-sound go-on",
];

/// The text with three of the herd for A, B and C.
fn of_the_herd(text: &str) -> String {
    let sound = sample::farm("Quillbarrow").histories().filter(|her| {
        her.left.is_none()
            && her.courses.is_empty()
            && her.open.is_empty()
            && her.turns.iter().all(|turn| turn.puts.is_empty())
    });
    let numbers: Vec<&str> = sound.map(|her| her.labels.number.as_str()).take(3).collect();
    let mut text = text.to_owned();
    for (letter, number) in ["A", "B", "C"].into_iter().zip(numbers) {
        text = text.replace(&format!("animal {letter}\n"), &format!("animal {number}\n"));
        text = text.replace(&format!("{letter} go-on"), &format!("{number} go-on"));
    }
    text
}

fn in_memory(records: &[Record]) -> Store {
    let medium = || Medium::Backend(Box::new(|| Ok(Box::new(InMemoryBackend::new()))));
    let (mut store, _) = Store::open(medium(), medium(), &mut || Ok(7)).expect("a store");
    store.take(&mut records.iter().map(|record| Ok(encode(record).expect("kept")))).expect("taken");
    store
}

/// The sheets of a day, as they are printed.
fn printed(store: &Store, on: NaiveDate) -> Vec<String> {
    let farms = store.farms().expect("farms").0;
    let farm = farms.iter().find(|farm| farm.name == "Quillbarrow").expect("there");
    let mut all = Vec::new();
    for row in store.animals(farm.farm).expect("animals").0 {
        let records = store.records(row.of.0).expect("records").0;
        let history = History::of(records.clone(), row.of);
        let around = Around::of(store, &history).expect("read");
        let of_day = sheets(&records, &history, &farm.name, &around).into_iter().filter(|sheet| sheet.on == on);
        all.extend(of_day.map(|sheet| print(&sheet)));
    }
    all.sort();
    all
}

#[test]
fn a_sheet_typed_by_keys_is_what_enter_takes_in_every_keymap() {
    let on: NaiveDate = "2026-05-07".parse().expect("a day");
    let begun = Rig::at(MAP, "Quillbarrow").every();
    let mut store = in_memory(&begun);
    let given = sheets_in(&of_the_herd(PAPER), "paper.txt").remove(0).expect("it can be read");
    let mut mistakes = Vec::new();
    let mut desk = Desk::new(&store, moment(sample::today())).expect("a desk");
    enter_sheet(&mut desk, &given, false, &mut mistakes).expect("entered");
    assert!(mistakes.is_empty(), "{mistakes:?}");
    let records = desk.done().0;
    store.take(&mut records.iter().map(|record| Ok(encode(record).expect("kept")))).expect("taken");
    let entered = printed(&store, on);
    assert_eq!(entered.len(), 3, "{entered:?}");
    for map in BuiltIn::ALL {
        let mut player = Player::new(map, Rig::at(map, "Quillbarrow"));
        player.play("farm pick-5 \"7\" go-on");
        assert_eq!(player.rig.session().today, on, "{map:?}: {:?}", player.rig.notice());
        for wishes in WISHES {
            player.play(&of_the_herd(wishes));
            assert!(
                matches!(player.rig.mode(), Mode::Today { .. }),
                "{map:?}, {wishes}: {:?}\n{}",
                player.rig.mode(),
                screen(&player.rig, map, (80, 24))
            );
        }
        player.play("farm pick-5");
        assert_eq!((player.rig.session().today, &player.stuck), (sample::today(), &Vec::new()));
        let typed = printed(&in_memory(&player.rig.every()), on);
        assert_eq!(typed, entered, "{map:?}");
    }
}
