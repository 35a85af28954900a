//! Undo, redo, and the battery pulled at any time.

use super::rig::Rig;
use crushbook::domain::history::TurnState;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

#[test]
fn every_key_that_was_shown_is_there_after_the_battery_was_pulled() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    let keys = "1 3 8 2 Enter 1 4 1 3 + 1 1 . 1 2 + 2 3 0 T o m Enter 2 * 4 6 1 1";
    for key in keys.split(' ') {
        rig.press(key);
        let Some(crush) = &rig.session().crush else { continue };
        let before = (crush.history.clone(), crush.records.len());
        rig.pull_battery();
        let crush = rig.session().crush.as_ref().expect("the animal is still in the crush");
        assert_eq!(before, (crush.history.clone(), crush.records.len()), "after {key}");
        // What was asked is asked again from the hand: go back to where the story was.
        if !matches!(rig.mode(), Mode::Crush(hand) if hand.foot.is_some()) {
            break;
        }
    }
}

#[test]
fn the_battery_may_go_after_each_press_of_a_whole_turn() {
    let keys: Vec<&str> = "1 3 8 2 Enter 1 4 1 3 + 1 1 . 1 2 + 2 3 0 T o m Enter 2 Enter Enter".split(' ').collect();
    for pulled_after in 0..keys.len() {
        let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
        rig.press(&keys[..=pulled_after].join(" "));
        let before = rig.session().crush.as_ref().map(|crush| crush.history.clone());
        let on = rig.on("1382");
        rig.pull_battery();
        assert_eq!(rig.session().crush.as_ref().map(|crush| crush.history.clone()), before, "{pulled_after}");
        if before.is_none() {
            assert_eq!(rig.on("1382"), on);
        }
    }
}

#[test]
fn undo_is_one_key_and_survives_a_restart() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["1382"]);
    rig.press("1 3 8 2 Enter 1 4 1 3");
    rig.pull_battery();
    rig.press("u");
    let case = &rig.history().cases[0];
    assert_eq!(case.degree, crushbook::domain::finding::Degree::NotGiven, "the grade is taken back first");
    rig.press("u");
    assert!(rig.history().cases.is_empty());
    rig.press("r r");
    assert_eq!(rig.history().cases.len(), 1);
    assert_ne!(rig.history().cases[0].degree, crushbook::domain::finding::Degree::NotGiven);
    rig.press("r");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NothingToRedo))));
}

#[test]
fn undoing_the_first_press_lets_her_go() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter /");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
    assert_eq!(rig.session().herd[0].turn, None);
}

#[test]
fn past_a_sign_off_undo_first_opens_her_again_with_another_key() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter 5 Enter /");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Reopen(_, _), .. }));
    rig.press("/ Enter");
    assert!(rig.session().crush.is_none(), "neither undo nor go-on answers it");
    rig.press("/ 1");
    assert_eq!(rig.history().turns.last().expect("a turn").state, TurnState::Open);
}

#[test]
fn a_full_disk_shows_not_saved_and_keeps_the_press() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8 2 Enter 1");
    let before = rig.records();
    rig.power.fill(true);
    rig.press("4 1");
    assert!(matches!(rig.notice(), Some(Notice::NotSaved(_))), "{:?}", rig.notice());
    assert_eq!(rig.records(), before, "nothing is shown that is not on disk");
    rig.power.fill(false);
    rig.press("Enter");
    assert_eq!(rig.records(), before + 1);
    assert_eq!(rig.history().cases.len(), 1, "nothing twice");
}
