//! The foot and the book disagree: is it the right animal? And her turn goes to the one it belongs to.

use super::rig::Rig;
use crushbook::domain::event::Item;
use crushbook::domain::history::TurnState;
use crushbook::domain::treatment::Off;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;

/// 12 has a wrap round her right hind foot since yesterday, off in three days; 34 stands beside her.
fn wrapped_yesterday() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 3 w 3 0 H e l e n Enter 1 Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    rig.pass(1);
    rig
}

fn asks_doubt(rig: &Rig) -> bool {
    matches!(rig.mode(), Mode::Pad { ask: Ask::Doubt(_), .. })
}

#[test]
fn a_bare_foot_that_should_be_wrapped_asks_before_anything_is_written() {
    let mut rig = wrapped_yesterday();
    rig.press("1 2 Enter 3");
    let records = rig.records();
    rig.press("3");
    assert!(asks_doubt(&rig), "{:?}", rig.mode());
    assert_eq!(rig.records(), records);
    rig.press("1");
    let turn = rig.history().turns.last().expect("her turn");
    assert!(matches!(turn.offs.as_slice(), [off] if off.outcome == Off::AlreadyOff), "{:?}", turn.offs);
}

#[test]
fn nothing_is_asked_where_the_day_has_come_or_the_foot_is_as_the_book_says() {
    let mut rig = wrapped_yesterday();
    rig.press("1 2 Enter 3 1");
    assert!(!asks_doubt(&rig) && rig.records() > 0, "it was there and came off");
    let mut rig = wrapped_yesterday();
    rig.pass(2);
    // The foot's own key once more may be a wet key: it asks, and 0 says yes.
    rig.press("1 2 Enter 3 3 0");
    assert!(!asks_doubt(&rig), "by now it should be off");
    assert_eq!(rig.history().turns.last().map(|turn| turn.offs.len()), Some(1));
}

#[test]
fn something_that_the_book_does_not_know_asks_once() {
    let mut rig = wrapped_yesterday();
    // 34: a wrap that nobody here knew of, told through "take off".
    rig.press("3 4 Enter 1 o 1");
    assert!(asks_doubt(&rig), "{:?}", rig.mode());
    rig.press("1");
    let offs: Vec<Item> = rig.history().turns.last().expect("her turn").offs.iter().map(|off| off.item).collect();
    assert!(matches!(offs.as_slice(), [Item::Met(_)]), "{offs:?}");
    rig.press("1 Enter 3 o 1");
    assert!(!asks_doubt(&rig), "it is her, and that was said");
}

#[test]
fn a_wrong_number_takes_the_turn_and_all_that_was_written_to_the_right_animal() {
    let mut rig = wrapped_yesterday();
    let (wrong, right) = (rig.animal("12"), rig.animal("34"));
    // A finding first, then the foot that should be wrapped is bare: it is 34.
    rig.press("1 2 Enter 1 4 1 2 Enter 3 3 2");
    assert!(rig.session().is_moving(), "{:?}", rig.mode());
    rig.press("3 4 Enter");
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(right));
    assert_eq!(rig.history().courses.len(), 1, "the finding came along");
    assert_eq!(rig.history().turns.last().map(|turn| turn.state), Some(TurnState::Open));
    rig.press("Enter");
    assert_eq!(rig.on("12").len(), 1, "her wrap is still on the list");
    rig.press("1 2 Enter");
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(wrong));
    assert!(rig.history().courses.is_empty(), "and nothing of the other's stands with her");
}

#[test]
fn undo_brings_a_moved_turn_back_and_redo_moves_it_again() {
    let mut rig = wrapped_yesterday();
    let (wrong, right) = (rig.animal("12"), rig.animal("34"));
    let here = |rig: &Rig| rig.session().crush.as_ref().map(|crush| crush.animal);
    rig.press("1 2 Enter 1 4 1 2 Enter 6 .");
    assert!(rig.session().is_moving(), "{:?}", rig.mode());
    rig.press("3 4 Enter");
    assert_eq!(here(&rig), Some(right));
    rig.press("u");
    assert_eq!(here(&rig), Some(wrong));
    assert_eq!(rig.history().courses.len(), 1);
    rig.press("r");
    assert_eq!(here(&rig), Some(right));
    assert_eq!(rig.history().courses.len(), 1);
}

#[test]
fn going_back_keeps_the_number_and_the_battery_may_go_meanwhile() {
    let mut rig = wrapped_yesterday();
    rig.press("1 2 Enter 1 4 1 2 Enter 3 3 2 Backspace");
    assert!(matches!(rig.mode(), Mode::Crush(_)));
    assert_eq!(rig.history().courses.len(), 1);
    rig.press("6 . 3 4");
    rig.pull_battery();
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(rig.animal("12")), "nothing was moved");
    assert_eq!(rig.history().courses.len(), 1);
}

#[test]
fn a_turn_can_be_moved_to_a_number_nobody_listed() {
    let mut rig = wrapped_yesterday();
    rig.press("1 2 Enter 1 4 1 2 Enter 6 . 5 6 a");
    assert_eq!(rig.history().labels.number, "56");
    assert_eq!(rig.history().courses.len(), 1);
}
