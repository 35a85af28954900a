//! Undo, redo, and the battery pulled at any time.

use super::rig::Rig;
use crushbook::domain::history::TurnState;
use crushbook::domain::ids::RecordId;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};
use std::collections::BTreeSet;

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
    let case = &rig.history().courses[0];
    assert_eq!(
        case.carried().degree.word,
        crushbook::domain::finding::Degree::NotGiven,
        "the grade is taken back first"
    );
    rig.press("u");
    assert!(rig.history().courses.is_empty());
    rig.press("r r");
    assert_eq!(rig.history().courses.len(), 1);
    assert_ne!(rig.history().courses[0].carried().degree.word, crushbook::domain::finding::Degree::NotGiven);
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
    assert_eq!(rig.history().courses.len(), 1, "nothing twice");
}

/// A turn from number to sign-off.
const TURN: &str = "1 3 8 2 Enter 1 4 1 3 * 5 Enter";

/// Presses the turn's keys; whenever one is not saved, `mend` is called and it is tried again. Hands back how often that was said,
/// and every record that was shown.
fn turn_in_trouble(rig: &mut Rig, mend: impl Fn(&Rig)) -> (usize, BTreeSet<RecordId>) {
    let shown = |rig: &Rig| -> BTreeSet<RecordId> {
        rig.session().crush.iter().flat_map(|crush| &crush.records).map(|record| record.id).collect()
    };
    let (mut said, mut seen) = (0, BTreeSet::new());
    for key in TURN.split(' ') {
        let before = shown(rig);
        rig.press(key);
        for _ in 0..5 {
            if matches!(rig.notice(), Some(Notice::NotSaved(_))) {
                said += 1;
                assert_eq!(shown(rig), before, "{key}: nothing is shown that is not on disk");
                mend(rig);
                rig.press("Enter");
            }
        }
        assert!(!matches!(rig.notice(), Some(Notice::NotSaved(_))), "{key} is saved at last");
        seen.extend(shown(rig));
    }
    (said, seen)
}

/// Goes through the turn with trouble at each call of the disks in turn.
fn trouble_at_every_call(trouble: impl Fn(&Rig, usize), mend: impl Fn(&Rig) + Copy) -> usize {
    let mut before = Rig::with(BuiltIn::Keypad, &["1382"]);
    before.left();
    let mut easy = before.copy();
    easy.open();
    let begin = easy.power.calls();
    let (_, whole) = turn_in_trouble(&mut easy, |_| {});
    let calls = easy.power.calls() - begin;
    assert!(calls > 0 && !whole.is_empty());
    let mut said = 0;
    for call in 0..calls {
        let mut rig = before.copy();
        rig.open();
        trouble(&rig, rig.power.calls() + call);
        let (times, seen) = turn_in_trouble(&mut rig, mend);
        said += times;
        mend(&rig);
        let left = rig.left();
        let names: BTreeSet<RecordId> = left.iter().copied().collect();
        assert_eq!(names.len(), left.len(), "trouble at call {call}: nothing twice");
        assert!(seen.is_subset(&names), "trouble at call {call} of {calls}: {seen:?} was shown, {names:?} is left");
    }
    said
}

#[test]
fn a_disk_full_at_any_moment_of_a_turn_says_not_saved_and_goes_on_when_there_is_room() {
    let said = trouble_at_every_call(|rig, call| rig.power.fill_at(Some(call)), |rig| rig.power.fill_at(None));
    assert!(said > 0);
}

#[test]
fn an_error_of_the_disk_at_any_moment_of_a_turn_loses_nothing_that_was_shown() {
    trouble_at_every_call(|rig, call| rig.power.fail(call, 1), |_| {});
}
