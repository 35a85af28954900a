//! Who records: asked before the first record where nobody is known to, handed over with one key, and on every record of a visit.

use super::rig::Rig;
use super::touch::tap;
use crate::screens::world::screen;
use crate::support::tablet::moment;
use crushbook::domain::anatomy::Foot;
use crushbook::domain::event::Event;
use crushbook::domain::ids::{PersonId, RecordId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::desk::Flow;
use crushbook::session::mode::Mode;
use crushbook::session::touch::Target;

const MAP: BuiltIn = BuiltIn::TwoHands;

/// A farm with one animal, recorded by Ann, and Ben known too; it is the day after.
fn two_known() -> Rig {
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("y B e n Enter 7 Enter 5 Enter");
    rig.pass(1);
    rig
}

/// The name of whoever records.
fn by(rig: &Rig) -> Option<&str> {
    named(rig, rig.session().by)
}

fn named(rig: &Rig, by: Option<PersonId>) -> Option<&str> {
    rig.session().people.iter().find(|(id, _)| Some(*id) == by).map(|(_, name)| name.as_str())
}

/// Whose the records of today are that say something of an animal or a visit.
fn whose(rig: &mut Rig) -> Vec<Option<String>> {
    let today = rig.today;
    let told: Vec<Record> = rig.every().into_iter().filter(|record| record.on == today).collect();
    let told = told.iter().filter(|record| !matches!(record.event(), Some(Event::PersonBegun { .. })));
    told.map(|record| named(rig, record.by).map(str::to_owned)).collect()
}

#[test]
fn on_a_new_day_with_two_known_the_first_key_that_writes_asks_and_is_then_done() {
    let mut rig = two_known();
    assert_eq!(by(&rig), None);
    let held = rig.held();
    rig.press("7 Enter");
    assert!(rig.session().asks_who() && rig.held() == held, "{:?}", rig.mode());
    for size in [(60, 20), (80, 24)] {
        let shown = screen(&rig, MAP, size);
        assert!(["who records?", "Ann", "Ben", "somebody else"].iter().all(|word| shown.contains(word)), "{shown}");
    }
    // The number is still there when the battery goes.
    rig.pull_battery();
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "7"), "{:?}", rig.mode());
    rig.press("Enter 2");
    assert!(rig.session().crush.is_some(), "she is in the crush, with no further key: {:?}", rig.mode());
    rig.press("5 Enter");
    assert!(!rig.session().asks_who(), "once a day is enough");
    let told = whose(&mut rig);
    assert!(told.len() > 5 && told.iter().all(|name| name.as_deref() == Some("Ben")), "{told:?}");
}

#[test]
fn whoever_goes_back_writes_nothing_and_loses_no_digit() {
    let mut rig = two_known();
    let held = rig.held();
    rig.press("7 Enter Backspace");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "7"), "{:?}", rig.mode());
    assert_eq!((by(&rig), rig.held()), (None, held));
    // And what was wished then is not done later, when somebody is named for another reason.
    rig.press("Backspace y 1");
    assert_eq!((by(&rig), rig.held(), rig.session().crush.is_none()), (Some("Ann"), held, true));
    assert!(!rig.session().asks_who() && matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
}

#[test]
fn somebody_new_is_named_and_what_was_wished_is_done() {
    let mut rig = two_known();
    rig.press("7 Enter 9 C y r i l");
    assert!(rig.session().asks_who());
    rig.press("Enter");
    assert_eq!(by(&rig), Some("Cyril"));
    assert!(rig.session().crush.is_some(), "{:?}", rig.mode());
    let told = whose(&mut rig);
    assert!(!told.is_empty() && told.iter().all(|name| name.as_deref() == Some("Cyril")), "{told:?}");
}

#[test]
fn a_book_that_knows_one_asks_nobody_and_a_new_one_asks_once() {
    let mut rig = Rig::with(MAP, &["7"]);
    assert_eq!((rig.session().people.len(), by(&rig)), (1, Some("Ann")));
    rig.press("7 Enter");
    assert!(rig.session().crush.is_some(), "nothing is asked: {:?}", rig.mode());
    let told = whose(&mut rig);
    assert!(!told.is_empty() && told.iter().all(|name| name.as_deref() == Some("Ann")), "{told:?}");
    // The very first record of a book.
    let mut rig = Rig::empty(MAP);
    rig.open();
    rig.press("Enter T h i s t l e Enter");
    assert!(rig.session().asks_who() && rig.held() == 0 && rig.session().people.is_empty(), "{:?}", rig.mode());
    rig.press("J o Enter");
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.name.as_str()), Some("Thistle"));
    assert_eq!(whose(&mut rig), [Some("Jo".to_owned())]);
}

#[test]
fn nobody_who_leaves_is_kept_and_help_is_read_over_the_question() {
    let mut rig = two_known();
    rig.press("7 Enter h Backspace 1");
    assert!(rig.session().crush.is_some(), "{:?}", rig.mode());
    let mut rig = two_known();
    rig.press("7 Enter");
    assert_eq!(rig.press("q"), Flow::Leave);
}

#[test]
fn a_tap_that_writes_asks_too_and_is_done_then() {
    let mut rig = two_known();
    rig.press("k");
    tap(&mut rig, Target::Line(0));
    assert!(!rig.session().asks_who(), "a first tap only picks her");
    tap(&mut rig, Target::Line(0));
    assert!(rig.session().asks_who(), "{:?}", rig.mode());
    rig.press("1");
    assert!(rig.session().crush.is_some() && by(&rig) == Some("Ann"), "{:?}", rig.mode());
}

#[test]
fn one_key_hands_over_between_two_people_and_each_record_says_whose_it_is() {
    let mut rig = Rig::with(MAP, &["7"]);
    assert!(!screen(&rig, MAP, (60, 20)).contains("by Ann"), "with one there is nothing to tell apart");
    rig.press("y B e n Enter");
    assert!(screen(&rig, MAP, (60, 20)).lines().next().expect("a row").contains("by Ben"));
    let people: Vec<_> = rig.session().people.iter().map(|(id, _)| *id).collect();
    let [ann, ben] = people[..] else { panic!("two: {people:?}") };
    rig.press("7 Enter 1 4 1 3");
    // The foot stays in the hand.
    let mode = rig.mode().clone();
    rig.press("y");
    let hand = rig.mode().hand();
    assert_eq!((rig.session().by, hand.and_then(|hand| hand.foot)), (Some(ann), Some(Foot::LeftHind)), "{mode:?}");
    for size in [(60, 20), (80, 24)] {
        let shown = screen(&rig, MAP, size);
        assert!(shown.lines().next().expect("a row").contains("by Ann"), "{shown}");
    }
    rig.press("3 6 1 1");
    let found = |records: &[Record]| -> Vec<_> {
        let found = records.iter().filter(|record| matches!(record.event(), Some(Event::Found { .. })));
        found.map(|record| record.by).collect()
    };
    assert_eq!(found(&rig.every()), [Some(ben), Some(ann)]);
    // After a dead battery whoever recorded last does, and one key hands over.
    rig.pull_battery();
    assert_eq!(rig.session().by, Some(ann));
    rig.press("y");
    assert_eq!(rig.session().by, Some(ben));
}

#[test]
fn a_third_is_named_in_the_menu_of_the_visit() {
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("y B e n Enter f 3 9 9 C y r i l Enter");
    assert_eq!(rig.session().people.len(), 3);
    rig.press("y");
    assert_eq!(by(&rig), Some("Ben"), "the last two hand over to each other");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
}

/// Brings an animal in and lets her get away at once.
fn came(rig: &mut Rig, number: &str) {
    let away = MAP.keymap().keys_for(Context::Animal, Intent::GotAway).remove(0);
    rig.press(&format!("{number} Enter {away}"));
    assert!(rig.session().crush.is_none(), "{number}: {:?}", rig.mode());
}

#[test]
fn after_a_dead_battery_it_is_who_recorded_last_that_day_however_many_came_before() {
    let mut rig = Rig::with(MAP, &["1", "2", "3", "4", "5", "6", "7"]);
    for number in ["1", "2", "3", "4", "5"] {
        came(&mut rig, number);
    }
    rig.press("y B e n Enter");
    came(&mut rig, "6");
    rig.pull_battery();
    assert_eq!(by(&rig), Some("Ben"), "the newest of them counts");
    rig.press("y");
    assert_eq!(by(&rig), Some("Ann"), "and one key hands over");
    came(&mut rig, "7");
    rig.pull_battery();
    assert_eq!(by(&rig), Some("Ann"), "whoever wrote last, not whoever wrote of another");
}

#[test]
fn who_recorded_on_another_day_is_not_handed_over_to() {
    let mut rig = two_known();
    rig.press("7 Enter 1");
    assert_eq!(by(&rig), Some("Ann"));
    rig.pull_battery();
    assert_eq!((by(&rig), rig.session().other_recorder()), (Some("Ann"), None));
}

#[test]
fn while_paper_is_typed_up_who_records_today_goes_on_after_a_dead_battery() {
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("y B e n Enter");
    // Nobody of today was in the crush on the day of the paper, whose animals are read first.
    rig.press("9 a 5 Enter");
    rig.press("f 5 Enter");
    assert!(rig.session().paper.is_some(), "{:?} {:?}", rig.mode(), rig.notice());
    rig.pull_battery();
    assert!(rig.session().paper.is_some());
    assert_eq!(by(&rig), Some("Ben"), "not whoever recorded on the day of the paper");
}

#[test]
fn one_person_whom_two_tablets_named_is_one_and_nobody_is_asked() {
    let mut rig = Rig::with(MAP, &["7"]);
    let next = RecordId { series: 700, seq: 1 };
    let stamp = Stamp { next, tick: 900_000, by: None, now: moment(rig.today), on: rig.today };
    rig.take(&stamp.press([(RecordId::PRACTICE, Event::PersonBegun { name: "Ann".to_owned() })]));
    rig.pass(1);
    assert_eq!(rig.session().people.len(), 2);
    rig.press("7 Enter");
    assert!(rig.session().crush.is_some() && by(&rig) == Some("Ann"), "{:?}", rig.mode());
}
