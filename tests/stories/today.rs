//! Today: numbers, and only here.

use super::amend::twice_twelve;
use super::rig::Rig;
use crate::screens::world::screen;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

#[test]
fn an_unknown_number_is_refused_until_she_is_added() {
    let mut rig = Rig::new(BuiltIn::TwoHands);
    rig.press("4 4 Enter");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::Unknown(number))) if number == "44"));
    rig.press("a");
    assert_eq!(rig.history().labels.number, "44");
}

#[test]
fn a_longer_number_never_opens_a_shorter_one() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["138", "1382"]);
    rig.press("1 3 8 Enter");
    assert_eq!(rig.history().labels.number, "138");
    rig.press("a 1 3 8 2 Enter");
    assert_eq!(rig.history().labels.number, "1382");
}

#[test]
fn an_animal_done_already_is_asked_about() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["12"]);
    rig.press("1 2 Enter 5 Enter 1 2 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Again(_, _), .. }));
    rig.press("3");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
    rig.press("1 2 Enter 2");
    assert_eq!(rig.history().turns.len(), 3, "added, done, and once more today");
}

#[test]
fn half_a_number_outlives_the_battery() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 8");
    rig.pull_battery();
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "138"), "{:?}", rig.mode());
}

#[test]
fn undo_erases_a_digit_first() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["1382"]);
    rig.press("1 3 /");
    assert!(matches!(rig.mode(), Mode::Today { typed, .. } if typed == "1"));
}

#[test]
fn a_number_typed_into_the_crush_is_noticed_and_one_key_takes_it_all_back() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["7", "1413"]);
    rig.hurry();
    // Go-on forgotten: left hind, zone 4, sole ulcer, severe.
    rig.press("7 Enter 1 4 1 3");
    assert_eq!(rig.history().courses.len(), 1);
    assert!(matches!(rig.notice(), Some(Notice::Spelled(spelled)) if spelled.number == "1413"), "{:?}", rig.notice());
    rig.press("-");
    assert!(rig.history().courses.is_empty());
    assert!(matches!(rig.mode(), Mode::Crush(hand) if hand.foot.is_none()));
}

#[test]
fn any_other_key_keeps_what_was_spelled() {
    let mut rig = Rig::with(BuiltIn::Keypad, &["7", "1413"]);
    rig.hurry();
    rig.press("7 Enter 1 4 1 3 Enter -");
    assert_eq!(rig.history().courses.len(), 1);
}

#[test]
fn go_on_with_nothing_typed_opens_nobody() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7", "8"]);
    rig.press("Enter");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NothingTyped))), "{:?}", rig.notice());
    rig.press("Down Enter");
    assert_eq!(rig.history().labels.number, "7", "picked with the cursor");
}

#[test]
fn a_switch_makes_unknown_numbers_new_animals_of_a_group() {
    for (map, switch) in [(BuiltIn::TwoHands, "g"), (BuiltIn::Keypad, "* 3")] {
        let mut rig = Rig::with(map, &["12"]);
        rig.press(&format!("{switch} h e i f e r s Enter 4 5 Enter"));
        assert_eq!((rig.history().labels.number.as_str(), rig.history().herd.group.as_str()), ("45", "heifers"));
        rig.press("5 Enter 1 2 Enter");
        assert_eq!(rig.history().herd.group, "", "one that is known stays as she was");
        rig.press(&format!("5 Enter {switch} 4 6 Enter"));
        assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::Unknown(number))) if number == "46"));
    }
}

#[test]
fn what_is_told_about_the_farm_outlives_the_battery() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("g h e i f e r s Enter n g a t e Space l o c k e d Enter");
    rig.pull_battery();
    assert_eq!(rig.session().newcomers(), Some("heifers"));
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.note.as_str()), Some("gate locked"));
    rig.press("g");
    assert_eq!(rig.session().newcomers(), None);
}

#[test]
fn a_key_that_wants_a_foot_says_so() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 Enter");
    for key in ["+", "-", "m"] {
        rig.press(key);
        assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NoFoot))), "{key}: {:?}", rig.notice());
    }
}

#[test]
fn a_number_spelled_by_the_letters_of_one_hand_is_noticed_too() {
    for (map, spelled) in [(BuiltIn::LeftHand, "c d c b"), (BuiltIn::RightHand, "j u j l")] {
        let mut rig = Rig::with(map, &["7", "1413"]);
        rig.hurry();
        rig.press("7 Enter");
        rig.press(spelled);
        let noticed = matches!(rig.notice(), Some(Notice::Spelled(spelled)) if spelled.number == "1413");
        assert!(noticed, "{map:?}: {:?}", rig.notice());
    }
}

#[test]
fn two_of_one_number_are_told_apart_on_today() {
    let mut rig = twice_twelve();
    let lines = |rig: &Rig, size| -> Vec<String> {
        let shown = screen(rig, BuiltIn::TwoHands, size);
        shown.lines().filter(|line| line.split_whitespace().any(|word| word == "12")).map(str::to_owned).collect()
    };
    for size in [(60, 20), (80, 24), (120, 40)] {
        // Nothing is known of either but who was begun first.
        let all = lines(&rig, size).join("\n");
        assert!(all.contains("1 of 2") && all.contains("2 of 2"), "{size:?}\n{all}");
    }
    // One has a name now.
    rig.press("Down c 4 B e l l a Enter");
    let all = lines(&rig, (80, 24)).join("\n");
    assert!(all.contains("Bella") && all.contains(" of 2"), "{all}");
    // 34 is the only one of her number, and says nothing of it.
    assert!(!screen(&rig, BuiltIn::TwoHands, (80, 24)).contains("1 of 1"));
}

#[test]
fn a_digit_says_whom_it_leads_to() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["7", "44", "138", "1382"]);
    let pad = |rig: &Rig| screen(rig, BuiltIn::TwoHands, (120, 40)).lines().take(7).collect::<Vec<_>>().join("\n");
    let shown = pad(&rig);
    assert!(shown.contains("4 44") && shown.contains("1 2 begin so") && shown.contains("7 7"), "{shown}");
    rig.press("1 3 8");
    let shown = pad(&rig);
    assert!(shown.contains("2 1382") && !shown.contains("begin so"), "{shown}");
}
