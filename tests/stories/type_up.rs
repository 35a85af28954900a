//! Paper typed up on the screens: the same keys and checks, for a day gone by, and nobody takes it for today.

use super::player::Player;
use super::rig::Rig;
use crate::screens::world::{screen, six_days_later};
use crate::support::sample;
use crate::support::tablet::{day, moment};
use chrono::NaiveDate;
use crushbook::command::desk::Desk;
use crushbook::command::enter::{enter_sheet, sheets_in};
use crushbook::command::farm::people;
use crushbook::command::sheets::{Around, of_farm, sheets};
use crushbook::domain::day::NoDay;
use crushbook::domain::event::Event;
use crushbook::domain::herd::{FarmFact, Labels, Scope};
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, FarmId, RecordId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::domain::treatment::{GaitScale, Put};
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

/// Typed on 8 May 2026, 9.5 is a day of the year before: that is said at once, and on every screen.
#[test]
fn the_year_is_said_where_it_is_not_this_one() {
    let mut rig = six_days_later(MAP);
    rig.press("f 5 9 . 5 Enter");
    assert_eq!(rig.session().today.to_string(), "2025-05-09");
    assert_eq!(said(&rig), "paper of FRI 9 May 2025: all that is typed is of that day");
    for size in [(60, 20), (80, 24), (120, 40)] {
        let picture = screen(&rig, MAP, size);
        let head = picture.lines().next().unwrap_or_default();
        assert!(head.trim_end().ends_with("PAPER of FRI 9 May 2025"), "{head}");
    }
    rig.press("f 5");
    assert_eq!(said(&rig), "paper of FRI 9 May 2025 put away: it is FRI 8 May again");
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

/// A book of these records into which that sheet was entered.
fn entered(records: &[Record], text: &str) -> Store {
    let mut store = in_memory(records);
    let given = sheets_in(text, "paper.txt").remove(0).expect("it can be read");
    let mut mistakes = Vec::new();
    let mut desk = Desk::new(&store, moment(sample::today())).expect("a desk");
    enter_sheet(&mut desk, &given, false, &mut mistakes).expect("entered");
    assert!(mistakes.is_empty(), "{mistakes:?}");
    let records = desk.done().0;
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
    let records = store.records(farm.farm.0).expect("records").0;
    let own = of_farm(records, (farm.farm, &farm.name), &people(store).expect("people"));
    all.extend(own.iter().filter(|sheet| sheet.on == on).map(print));
    all.sort();
    all
}

#[test]
fn a_sheet_typed_by_keys_is_what_enter_takes_in_every_keymap() {
    let on: NaiveDate = "2026-05-07".parse().expect("a day");
    let begun = Rig::at(MAP, "Quillbarrow").every();
    let entered = printed(&entered(&begun, &of_the_herd(PAPER)), on);
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

/// What was told of Quillbarrow before paper of 7 May and after it: an instruction of April, to be looked at again on 1 May; since 10 May
/// another scale of gait, a note, an instruction, and rules by which instructions are looked at again within 30 days.
fn told(farm: FarmId) -> Vec<Record> {
    let fact = |fact, words: &str| Event::FarmDescribed { farm, fact, words: words.to_owned() };
    let instructed = |scope, review_on: &str| Event::Instructed {
        farm,
        scope,
        text: "leave the soles thicker".to_owned(),
        asked_by: String::new(),
        why: String::new(),
        review_on: Some(review_on.parse().expect("a day")),
        vet: String::new(),
    };
    let rules = Event::RulesAdopted { farm: Some(farm), text: "[instruction]\nreview = 30\n".to_owned() };
    let all = [
        ("2026-04-20", farm.0, instructed(Scope::Hinds, "2026-05-01")),
        ("2026-05-10", farm.0, fact(FarmFact::GaitScale, "1-5")),
        ("2026-05-10", farm.0, fact(FarmFact::Note, "a new gate")),
        ("2026-05-10", farm.0, instructed(Scope::Fronts, "2026-06-01")),
        ("2026-05-10", RecordId::PRACTICE, rules),
    ];
    let press = |(at, (on, about, event)): (u64, (&str, RecordId, Event))| {
        let on: NaiveDate = on.parse().expect("a day");
        let next = RecordId { series: 700, seq: at + 1 };
        Stamp { next, tick: 900_000 + at, by: None, now: moment(on), on }.press([(about, event)])
    };
    (0..).zip(all).flat_map(press).collect()
}

fn changed_since() -> Rig {
    let mut rig = Rig::at(MAP, "Quillbarrow");
    let farm = rig.session().farm.as_ref().expect("open").id;
    rig.take(&told(farm));
    rig
}

/// The scale, the note, for which feet instructions hold, and within how many days they are looked at again.
fn farm_now(rig: &Rig) -> (GaitScale, String, Vec<Scope>, u16) {
    let session = rig.session();
    let farm = session.farm.clone().expect("open");
    assert_eq!(session.farms.iter().find(|line| line.id == farm.id), Some(&farm));
    let scopes: Vec<Scope> = session.instructions.iter().map(|one| one.scope).collect();
    assert_eq!(farm.instructions.iter().map(|one| one.scope).collect::<Vec<_>>(), scopes);
    (farm.scale, farm.note, scopes, session.rules.of(farm.id).instruction.review)
}

#[test]
fn rules_and_what_is_known_of_the_farm_are_those_of_the_day_until_the_paper_is_away() {
    let mut rig = changed_since();
    let now = (GaitScale::OneToFive, "a new gate".to_owned(), vec![Scope::Hinds, Scope::Fronts], 30);
    let then = (GaitScale::ZeroToThree, String::new(), vec![Scope::Hinds], 90);
    assert_eq!(farm_now(&rig), now);
    rig.press("f 5 7 Enter");
    assert_eq!((rig.session().today, farm_now(&rig)), ("2026-05-07".parse().expect("a day"), then.clone()));
    // The card too, and a word on a fact is of that day and changes nothing of now.
    rig.press("f 6");
    let card = rig.session().card.clone().expect("a card");
    assert_eq!((card.now(FarmFact::GaitScale), card.now(FarmFact::Note), card.rules), ("0-3", "", None));
    rig.press("Backspace");
    // In the crush, after a dead battery, and in the next run.
    rig.press("1 3 8 2 Enter");
    rig.pull_battery();
    assert_eq!(farm_now(&rig), then);
    rig.press("g");
    let picture = screen(&rig, MAP, (80, 24));
    // 0 to 3 has a 0 and no 4.
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
    assert!(picture.contains("score 0") && !picture.contains("score 4"), "{picture}");
    rig.press("Backspace a");
    rig.pass(0);
    assert_eq!((rig.session().paper, farm_now(&rig)), (Some(sample::today()), then));
    rig.press("f 5");
    assert_eq!((rig.session().paper, farm_now(&rig)), (None, now));
}

#[test]
fn paper_of_a_day_before_a_rule_changed_is_typed_as_enter_takes_it() {
    let on: NaiveDate = "2026-05-07".parse().expect("a day");
    let begun = changed_since().every();
    // What the farm told stands above, and at the end of the day the visit is set aside.
    let paper = PAPER.replace("by Ann\n", "by Ann\nvisit set aside\n");
    let text = of_the_herd(&paper.replace("animal A\n", "told instruction hinds goes on\n\nanimal A\n"));
    let entered = printed(&entered(&begun, &text), on);
    // 90 days by the rule of that day, and not the 30 of now: 7 May and 90 days are 5 August.
    assert!(entered.iter().any(|sheet| sheet.contains("told instruction hinds goes on review 5 Aug\n")), "{entered:?}");
    assert!(entered.iter().any(|sheet| sheet.contains("gait 1 of 0-3\n")), "{entered:?}");
    assert!(entered.iter().all(|sheet| sheet.contains("\nvisit set aside\n")), "{entered:?}");
    let mut player = Player::new(MAP, changed_since());
    player.play("farm pick-5 \"7\" go-on farm pick-8 pick-1");
    for wishes in WISHES {
        player.play(&of_the_herd(wishes));
    }
    player.play("farm pick-3 pick-7 farm pick-5");
    assert_eq!((player.rig.session().today, &player.stuck), (sample::today(), &Vec::new()));
    assert_eq!(printed(&in_memory(&player.rig.every()), on), entered);
}

/// Begun on 3 May by her tag; only on 10 May her number and her name are told.
fn numbered_later(farm: FarmId) -> Vec<Record> {
    let id = RecordId { series: 700, seq: 1 };
    let animal = AnimalId(id);
    let tagged = Labels { tag: "XX 12 7".to_owned(), ..Labels::default() };
    let numbered = Labels { number: "7712".to_owned(), name: "Moss".to_owned(), ..tagged.clone() };
    let all = [
        ("2026-05-03", Event::AnimalBegun { farm, labels: tagged }),
        ("2026-05-10", Event::Renumbered { animal, labels: numbered }),
    ];
    let press = |(at, (on, event)): (u64, (&str, Event))| {
        let on: NaiveDate = on.parse().expect("a day");
        let next = RecordId { series: 700, seq: at + 1 };
        Stamp { next, tick: 900_000 + at, by: None, now: moment(on), on }.press([(id, event)])
    };
    (0..).zip(all).flat_map(press).collect()
}

#[test]
fn who_had_no_number_that_day_is_called_by_her_number_of_now_in_brackets() {
    let mut rig = Rig::at(MAP, "Quillbarrow");
    let farm = rig.session().farm.as_ref().expect("open").id;
    rig.take(&numbered_later(farm));
    // Today, and on paper of a day before she bore it and of one after.
    for (keys, name) in [("", " 7712 Moss "), ("f 5 7 Enter ", " (7712) (Moss) "), ("f 5 1 1 Enter ", " 7712 Moss ")] {
        let mut rig = rig.copy();
        rig.open();
        rig.press(&format!("{keys}7 7 1 2 Enter"));
        assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?} {:?}", rig.mode(), rig.notice());
        for size in [(60, 20), (80, 24), (120, 40)] {
            let picture = screen(&rig, MAP, size);
            assert!(picture.starts_with(name), "{picture}");
            assert!(!picture.contains("no number"), "{picture}");
        }
        let told = rig.line("1");
        assert!(told.contains(&format!("{}, LH up", name.trim())), "{told}");
    }
}
