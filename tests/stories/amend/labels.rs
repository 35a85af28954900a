//! Another number, a lost tag: the old one still finds her and says so.

use super::{called, twice_twelve};
use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crushbook::domain::event::Event;
use crushbook::domain::herd::Labels;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::amend::Ask as Amend;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

fn labels(rig: &Rig, number: &str) -> Labels {
    rig.session().herd.iter().find(|line| line.labels.number == number).expect("known").labels.clone()
}

#[test]
fn a_new_number_is_two_keys_and_the_number_and_the_old_one_says_who_she_is_now() {
    for (map, keys) in [(BuiltIn::TwoHands, "1 2 c 1 2 0 4 4 Enter"), (BuiltIn::Keypad, "1 2 * 8 1 2 0 4 4 Enter")] {
        let mut rig = Rig::with(map, &["12", "34"]);
        let cow = rig.animal("12");
        rig.press(keys);
        assert_eq!(rig.animal("2044"), cow);
        let saved = matches!(rig.notice(), Some(Notice::Saved { press, .. }) if
            matches!(press[0].event(), Some(Event::Renumbered { .. })));
        assert!(saved, "{:?}", rig.notice());
        rig.press("1 2");
        let shown = screen(&rig, map, (60, 20));
        assert!(shown.contains(" 12 is now 2044\n"), "{shown}");
        rig.press("Enter");
        assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), Some(cow));
        assert_eq!(rig.history().labels.number, "2044");
    }
}

#[test]
fn undo_gives_the_old_number_back() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 c 1 2 0 4 4 Enter u");
    assert_eq!((called(&rig, "12").len(), called(&rig, "2044").len()), (1, 0));
    assert!(rig.session().herd[0].earlier.is_empty());
    rig.press("r");
    assert_eq!(called(&rig, "2044").len(), 1);
}

#[test]
fn a_tag_is_told_and_lost_and_her_number_stays() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 c 2 X X 7 Enter");
    assert_eq!(labels(&rig, "12").tag, "XX7");
    rig.press("1 2 c 6");
    assert_eq!(labels(&rig, "12"), Labels { number: "12".into(), ..Labels::default() });
    // Without a number she is still listed.
    rig.press("1 2 c 5");
    assert_eq!(rig.session().herd.len(), 1);
    assert_eq!(labels(&rig, "").number, "");
}

#[test]
fn a_number_that_another_wears_is_asked_about_first() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 c 1 3 4 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Amend(Amend::Taken(_, _)), .. }), "{:?}", rig.mode());
    assert!(screen(&rig, BuiltIn::TwoHands, (60, 20)).contains("34 bears it already: 12 too?"));
    assert_eq!(called(&rig, "34").len(), 1, "nothing is written yet");
    let mut shared = rig.copy();
    shared.open();
    // The tag was lost and she was begun anew: one animal.
    rig.press("1");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Amend(Amend::Twice(_)), .. }), "{:?}", rig.mode());
    rig.press("1");
    assert_eq!(rig.session().herd.len(), 1);
    assert_eq!(rig.session().herd[0].labels.number, "34", "the later number is the one she wears");
    assert_eq!(rig.session().herd[0].earlier, ["12"]);
    // Or both wear it.
    shared.press("1 2 c 1 3 4 Enter 2");
    assert_eq!(called(&shared, "34").len(), 2);
    assert!(shared.session().pairs.is_empty(), "one tablet knew both");
}

#[test]
fn the_number_is_changed_from_the_crush_too_and_nothing_new_is_refused() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 Enter 6 9 1 2 0 4 4 Enter");
    assert_eq!(rig.history().labels.number, "2044");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    rig.press("6 9 1 2 0 4 4 Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::AlreadySo)));
    rig.press("Backspace Backspace Backspace Backspace Backspace Backspace u");
    assert_eq!(rig.history().labels.number, "12");
}

#[test]
fn joined_animals_keep_the_labels_that_either_had() {
    let mut rig = twice_twelve();
    let (first, second) = (called(&rig, "12")[0], called(&rig, "12")[1]);
    rig.press("1 2 c");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::Shared("12".into()))));
    rig.press("Down c 2 X X 7 Enter");
    let tagged =
        |rig: &Rig, id| rig.session().herd.iter().find(|line| line.id == id).map(|line| line.labels.tag.clone());
    assert_eq!(tagged(&rig, second).as_deref(), Some("XX7"));
    rig.press("w 1");
    let one = rig.session().herd.iter().find(|line| line.labels.number == "12").expect("one");
    assert_eq!((one.id, one.labels.tag.as_str()), (first.min(second), "XX7"));
}

#[test]
fn in_the_crush_she_turns_out_to_be_one_that_is_known_and_undo_takes_that_back() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 1 4 1 2 Enter Enter");
    rig.pass(7);
    // 34 is begun anew under another number; she is 12, whose old ulcer is then there to be answered.
    rig.press("3 4 Enter");
    let own = rig.session().crush.as_ref().map(|crush| crush.animal);
    rig.press("6 9 1 1 2 Enter 1 1");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    assert_eq!((rig.history().courses.len(), rig.history().animals.len()), (1, 2));
    assert!(rig.session().turn().is_some(), "she is still in the crush");
    rig.press("u");
    assert_eq!(rig.session().crush.as_ref().map(|crush| crush.animal), own);
    assert!(rig.session().turn().is_some() && rig.history().courses.is_empty());
    rig.press("r 1 4 1");
    assert!(rig.session().turn().is_some() && rig.history().courses[0].end().is_some(), "the ulcer has healed");
    rig.press("Enter Enter");
    assert_eq!(rig.session().herd.len(), 1, "{:?}", rig.session().herd);
}
