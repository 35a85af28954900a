//! Whoever is known to be gone is opened by her number: she is asked about, and nothing is written before.

use super::rig::Rig;
use crate::screens::world::screen;
use crushbook::domain::herd::Leaving;
use crushbook::domain::history::TurnState;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;

/// 34 was sold yesterday; 12 is there.
fn sold() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("3 4 x 2");
    rig.pass(1);
    rig
}

fn asks(rig: &Rig) -> bool {
    matches!(rig.mode(), Mode::Pad { ask: Ask::Gone(_), .. })
}

/// How each of that number left, as the desk knows it after a start.
fn left(rig: &mut Rig, number: &str) -> Vec<Option<Leaving>> {
    rig.pull_battery();
    rig.session().herd.iter().filter(|line| line.labels.number == number).map(|line| line.left).collect()
}

#[test]
fn go_on_writes_nothing_about_whoever_is_gone_and_says_so_at_every_size() {
    let mut rig = sold();
    let held = rig.held();
    rig.press("3 4 Enter");
    assert!(asks(&rig), "{:?}", rig.mode());
    for size in [(60, 20), (80, 24), (120, 40)] {
        let seen = screen(&rig, BuiltIn::TwoHands, size);
        for words in ["34 was sold: is she back?", "she is back", "another"] {
            assert!(seen.contains(words), "{size:?}: no {words:?} in\n{seen}");
        }
    }
    rig.press("Enter");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "34"), "{:?}", rig.mode());
    // The number is wrong: it stands there to be mended.
    rig.press("Enter 1");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "34"), "{:?}", rig.mode());
    // Keys that a hand presses without looking lift no foot and write nothing.
    rig.press("Enter 7 9 3 5");
    assert!(asks(&rig), "{:?}", rig.mode());
    assert_eq!(rig.held(), held);
    assert_eq!(left(&mut rig, "34"), [Some(Leaving::Sold)]);
}

#[test]
fn one_key_says_that_she_is_back_and_opens_her_and_undo_takes_both_back() {
    let mut rig = sold();
    rig.press("3 4 Enter 0");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    assert_eq!(rig.history().left, None);
    rig.press("u");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    assert_eq!(left(&mut rig, "34"), [Some(Leaving::Sold)]);
    rig.press("3 4 Enter 0 5 Enter");
    assert_eq!(left(&mut rig, "34"), [None]);
}

/// On the very day that she was said to be gone a turn alone would not say that she is back.
#[test]
fn sold_while_she_waited_she_is_asked_about_before_she_goes_on() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("3 4 Enter a 3 4 x 2 3 4 Enter");
    assert!(asks(&rig), "{:?}", rig.mode());
    rig.press("0");
    assert_eq!(rig.history().left, None);
    assert_eq!(rig.history().turns.last().map(|turn| turn.state), Some(TurnState::Open));
    // Signed off, sold, and in once more.
    rig.press("5 Enter 3 4 x 2 3 4 Enter 2");
    assert!(asks(&rig), "{:?}", rig.mode());
    rig.press("0");
    assert_eq!((rig.history().left, rig.history().turns.len()), (None, 3));
}

#[test]
fn her_number_may_be_anothers_now() {
    let mut rig = sold();
    rig.press("3 4 Enter 6");
    assert_eq!(rig.history().turns.len(), 1, "she was never here");
    rig.press("5 Enter");
    assert_eq!(left(&mut rig, "34"), [None, Some(Leaving::Sold)], "who is there is the first to answer to it");
    rig.press("1 2 x 3");
    // Adding her asks too.
    rig.press("1 2 a");
    assert!(asks(&rig), "{:?}", rig.mode());
}

#[test]
fn a_turn_is_not_moved_to_whoever_is_gone_before_that_is_answered() {
    let mut rig = sold();
    rig.press("1 2 Enter 7 4 1 2 Backspace e .");
    rig.press("3 4 Enter");
    assert!(asks(&rig), "{:?}", rig.mode());
    rig.press("0");
    assert_eq!((rig.history().labels.number.as_str(), rig.history().left), ("34", None));
    assert_eq!(rig.history().courses.len(), 1, "what was found goes with her");
    rig.press("u");
    assert_eq!(rig.history().labels.number, "12");
}

/// A visit was set aside: which one she comes to is asked first, and then whether she is back.
#[test]
fn which_visit_she_comes_to_is_asked_before() {
    let mut rig = sold();
    rig.press("f 3 2 f 3 7");
    rig.pass(1);
    rig.press("Backspace 3 4 Enter");
    assert!(!asks(&rig) && matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
    rig.press("1 Enter");
    assert!(asks(&rig), "{:?}", rig.mode());
    rig.press("0");
    assert_eq!(rig.history().labels.number, "34");
}

#[test]
fn typed_lines_say_it_too_and_answer_it_on_a_line_of_its_own() {
    let mut rig = sold();
    let held = rig.held();
    let told = rig.line("34 enter 0 5");
    assert!(told.contains("34 was sold: is she back?") && told.contains("left out"), "{told}");
    assert_eq!(rig.held(), held);
    let told = rig.line("0");
    assert!(told.contains("34 back in the herd\n"), "{told}");
    assert_eq!(rig.history().left, None);
}
