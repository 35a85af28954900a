//! Two that may be one: offered, joined, kept apart, parted; and several of one number.

use super::{called, on_all, twice_twelve};
use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::What;
use crushbook::domain::herd::{Labels, Leaving};
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::lists::due;
use crushbook::session::mode::{Mode, Only};
use crushbook::session::{Notice, Refusal};

fn asks(rig: &Rig, wanted: fn(&crushbook::session::amend::Ask) -> bool) -> bool {
    matches!(rig.mode(), Mode::Pad { ask: Ask::Amend(asked), .. } if wanted(asked))
}

fn asks_twice(rig: &Rig) -> bool {
    asks(rig, |asked| matches!(asked, crushbook::session::amend::Ask::Twice(_)))
}

fn asks_which(rig: &Rig) -> bool {
    asks(rig, |asked| matches!(asked, crushbook::session::amend::Ask::Which(_, _)))
}

#[test]
fn two_of_one_number_from_two_tablets_are_offered_and_another_key_joins_them() {
    let mut rig = twice_twelve();
    assert_eq!((called(&rig, "12").len(), on_all(&rig)), (2, 2));
    let shown = screen(&rig, BuiltIn::TwoHands, (60, 20));
    assert!(shown.contains("2 animals may be one: 12: w shows them"), "{shown}");
    rig.press("w");
    assert!(asks_twice(&rig), "{:?}", rig.mode());
    let shown = screen(&rig, BuiltIn::TwoHands, (60, 20));
    assert!(shown.contains("2 animals may be one: 12, the same number"), "{shown}");
    assert!(shown.contains("LH: wrap off") && shown.contains("RH: wrap off"), "each with what is on her: {shown}");
    // The key that showed them joins nothing, nor does going on.
    rig.press("w Enter");
    assert_eq!(called(&rig, "12").len(), 2);
    rig.press("w 1");
    assert_eq!(called(&rig, "12").len(), 1);
    assert_eq!(on_all(&rig), 2, "both wraps stand with her, neither lost nor doubled");
    assert_eq!(rig.on("12").len(), 2);
    assert!(rig.session().pairs.is_empty());
    rig.press("1 2 Enter");
    assert_eq!(rig.history().turns.len(), 4, "added, wrapped, the other tablet's, and now");
}

#[test]
fn undo_parts_them_and_redo_joins_them_again() {
    let mut rig = twice_twelve();
    let before = (rig.session().herd.clone(), rig.session().open.clone());
    rig.press("w 1");
    rig.press("u");
    assert_eq!((rig.session().herd.clone(), rig.session().open.clone()), before, "joined then undone is as before");
    assert_eq!(rig.session().pairs.len(), 1, "and they are offered again");
    rig.press("r");
    assert_eq!(called(&rig, "12").len(), 1);
    rig.pull_battery();
    assert_eq!(called(&rig, "12").len(), 1);
}

#[test]
fn joined_she_can_be_parted_from_her_own_list_of_labels() {
    let mut rig = twice_twelve();
    let before = (rig.session().herd.clone(), rig.session().open.clone());
    rig.press("w 1");
    rig.press("1 2 c 8");
    assert_eq!((rig.session().herd.clone(), rig.session().open.clone()), before);
    rig.press("u");
    assert_eq!(called(&rig, "12").len(), 1, "undoing the parting joins them");
}

#[test]
fn kept_apart_they_are_not_offered_again_and_typing_the_number_asks_which() {
    let mut rig = twice_twelve();
    rig.press("w 2");
    assert!(rig.session().pairs.is_empty());
    rig.press("w");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoneTwice)));
    rig.pass(1);
    assert!(rig.session().pairs.is_empty(), "it is a fact, and outlives the program");
    rig.press("1 2 Enter");
    assert!(asks_which(&rig), "{:?}", rig.mode());
    let shown = screen(&rig, BuiltIn::TwoHands, (60, 20));
    assert!(shown.contains("2 bear that number: which is it?") && shown.contains("RH: wrap off"), "{shown}");
    let second = called(&rig, "12")[1];
    rig.press("2");
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(second));
    rig.press("a u u");
    let mut rig = twice_twelve();
    rig.press("w 2 u");
    assert_eq!(rig.session().pairs.len(), 1, "undone it is asked again");
}

#[test]
fn a_line_that_was_picked_is_meant_and_who_died_is_not_asked_about() {
    let mut rig = twice_twelve();
    let second = called(&rig, "12")[1];
    rig.press("1 2 Down Enter");
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(second));
    let mut rig = twice_twelve();
    // Left: the number alone is refused, the line is not.
    rig.press("1 2 x");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::Shared("12".into()))));
    rig.press("Down x 3");
    let left: Vec<_> = rig.session().herd.iter().map(|line| line.left).collect();
    assert!(left.contains(&Some(Leaving::Died)), "{left:?}");
    assert!(rig.session().pairs.is_empty(), "the number is given again once she is gone");
    rig.press("1 2 Enter");
    assert!(rig.session().crush.is_some() && !asks_which(&rig), "{:?}", rig.mode());
}

#[test]
fn sold_and_back_again_is_asked_about() {
    let mut rig = twice_twelve();
    rig.press("1 2 Down x 2 1 2 Enter");
    assert!(asks_which(&rig), "{:?}", rig.mode());
}

#[test]
fn other_tags_say_that_they_are_two_and_one_tag_that_they_are_one() {
    let tagged = |tags: [&str; 2], numbers: [&str; 2], series: [u64; 2]| {
        let mut rig = Rig::new(BuiltIn::TwoHands);
        let farm = rig.session().farm.as_ref().expect("a farm").id;
        let mut all = Vec::new();
        for ((tag, number), series) in tags.into_iter().zip(numbers).zip(series) {
            let mut tablet = Tablet { tick: 100, seq: all.len() as u64 + 1, ..Tablet::new(series) };
            let labels = Labels { number: number.into(), tag: tag.into(), ..Labels::default() };
            tablet.begin(day(1), Event::AnimalBegun { farm, labels });
            all.extend(tablet.seen);
        }
        rig.take(&all);
        rig.session().pairs.len()
    };
    assert_eq!(tagged(["", ""], ["7", "7"], [5, 6]), 1);
    assert_eq!(tagged(["XX 1", "XX 2"], ["7", "7"], [5, 6]), 0, "two tags, two animals");
    assert_eq!(tagged(["XX 1", ""], ["7", "7"], [5, 6]), 1, "a tag that is not known says nothing");
    assert_eq!(tagged(["xx-0001", "XX 0001"], ["7", "8"], [5, 6]), 1, "a tag is given once, however it is written");
    assert_eq!(tagged(["", ""], ["7", "7"], [5, 5]), 0, "one tablet knew both");
}

#[test]
fn farms_entered_twice_become_one_on_every_list() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 Enter 1 w 3 0 H e l e n Enter 1 Enter Enter");
    let mut other = Tablet { tick: 500, ..Tablet::new(5) };
    let farm = crushbook::domain::ids::FarmId(other.begin(day(3), Event::FarmBegun { name: "THISTLE ".into() }));
    let cow = other.animal(day(3), farm, "99");
    let visit = other.visit(day(3), farm);
    let turn = other.turn(day(3), visit, cow);
    let over = crushbook::domain::anatomy::Place::Foot(crushbook::domain::anatomy::Foot::RightHind);
    other.put(day(3), cow, turn, crushbook::domain::treatment::Put::Wrap { over, colour: None });
    rig.pass(9);
    rig.take(&other.seen);
    assert_eq!(rig.session().farms.len(), 2);
    rig.press("v");
    let before = (rig.session().farms.clone(), rig.session().open.clone());
    rig.press("w");
    assert!(asks_twice(&rig), "{:?} {:?}", rig.mode(), rig.notice());
    rig.press("1");
    assert_eq!(rig.session().farms.len(), 1);
    let first = rig.session().farms[0].id;
    assert!(rig.session().open.iter().all(|open| open.farm == first), "{:?}", rig.session().open);
    rig.press("Enter");
    assert_eq!(rig.session().herd.len(), 2, "one herd");
    rig.press("d f");
    assert!(matches!(rig.mode(), Mode::Due { only: Only::Farm, .. }));
    let wraps = due(rig.session(), Only::Farm).items.iter().filter(|item| item.due.what == What::WrapOff).count();
    assert_eq!(wraps, 2, "one farm to ring, with both");
    rig.press("Backspace t");
    let Mode::Ring { lines, .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
    assert!(lines.len() == 2 && lines.iter().all(|call| call.farm == first), "{lines:?}");
    // What was joined stays in the list of pairs, and comes apart there.
    rig.press("Backspace w");
    assert!(asks_twice(&rig), "{:?} {:?}", rig.mode(), rig.notice());
    rig.press("1 v");
    assert_eq!((rig.session().farms.clone(), rig.session().open.clone()), before, "parted is as before");
}

#[test]
fn one_person_named_twice_is_one_after_joining_and_a_known_name_begins_nobody() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("y A n n Enter");
    assert_eq!(rig.session().people.len(), 1);
    let by = rig.session().by;
    rig.press("y a n n Enter");
    assert_eq!((rig.session().people.len(), rig.session().by), (1, by), "she is known");
    let mut other = Tablet { tick: 500, ..Tablet::new(5) };
    let practice = crushbook::domain::ids::RecordId::PRACTICE;
    other.write(day(1), practice, Event::PersonBegun { name: "ann".into() });
    rig.take(&other.seen);
    assert_eq!(rig.session().people.len(), 2);
    rig.press("y 1 w");
    assert!(asks_twice(&rig), "{:?} {:?}", rig.mode(), rig.notice());
    rig.press("1");
    let names: std::collections::BTreeSet<&str> = rig.session().people.iter().map(|(_, name)| name.as_str()).collect();
    assert_eq!(names.len(), 1, "both are called by one name: {names:?}");
    rig.press("u");
    assert_eq!(rig.session().pairs.len(), 1);
}
