//! She left, or is dry: said on Today or on the due list, with what must be said aloud first.

use super::rig::Rig;
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::What;
use crushbook::domain::herd::{Leaving, MedicineUse, Status};
use crushbook::domain::history::History;
use crushbook::domain::travel::{Caution, cautions};
use crushbook::domain::treatment::{Gait, GaitScale};
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::lists::due;
use crushbook::session::mode::{Mode, Only};

/// 12 has a wrap round her right hind foot since a day ago.
fn wrapped() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 3 w 3 0 H e l e n Enter 1 Enter Enter");
    rig.pass(1);
    rig
}

fn left(rig: &Rig, number: &str) -> Option<Leaving> {
    rig.session().herd.iter().find(|line| line.labels.number == number).expect("known").left
}

#[test]
fn sold_with_a_wrap_on_becomes_the_new_keepers_to_know() {
    let mut rig = wrapped();
    rig.press("1 2 x 2");
    assert_eq!(left(&rig, "12"), Some(Leaving::Sold));
    let whats: Vec<What> = due(rig.session(), Only::All).items.iter().map(|item| item.due.what).collect();
    assert_eq!(whats, [What::TellKeeper]);
    // Told, on the due list, it is off it; taken back, it is on it again.
    rig.press("d o 6");
    assert!(due(rig.session(), Only::All).items.is_empty());
    rig.press("u");
    assert_eq!(due(rig.session(), Only::All).items.len(), 1);
}

#[test]
fn dried_off_is_louder_and_in_milk_again_is_not() {
    let mut rig = wrapped();
    rig.pass(2);
    let urgency = |rig: &Rig| due(rig.session(), Only::All).items[0].due.urgency;
    let before = urgency(&rig);
    rig.press("d x 5");
    assert!(matches!(rig.mode(), Mode::Due { .. }), "{:?}", rig.mode());
    assert!(urgency(&rig) > before);
    assert_eq!(rig.session().open[0].status, Some(Status::Dry));
    rig.press("x 6");
    assert_eq!(urgency(&rig), before);
}

#[test]
fn what_she_became_is_undone_like_any_press_and_a_back_step_writes_nothing() {
    let mut rig = wrapped();
    rig.press("3 4 x");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Left(_, shout), .. } if shout.is_empty()), "{:?}", rig.mode());
    rig.press("Backspace");
    assert_eq!(left(&rig, "34"), None);
    rig.press("x 3");
    assert_eq!(left(&rig, "34"), Some(Leaving::Died));
    rig.press("u");
    assert_eq!(left(&rig, "34"), None);
}

#[test]
fn very_lame_or_with_days_for_meat_running_is_said_aloud() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "7");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(2), visit, cow);
    let gait = Gait { scale: GaitScale::ZeroToThree, score: 3 };
    tablet.write(day(2), cow.0, Event::Walked { turn: Some(turn), gait });
    let medicine = |last, meat_days| {
        Box::new(MedicineUse { product: "as labelled".into(), last, meat_days, ..MedicineUse::default() })
    };
    tablet.write(day(2), cow.0, Event::MedicineGiven { turn: Some(turn), medicine: medicine(Some(day(4)), Some(5)) });
    tablet.write(day(2), cow.0, Event::MedicineGiven { turn: Some(turn), medicine: medicine(None, None) });
    let on = |of_may| cautions(&History::of(tablet.seen.clone(), cow), day(of_may));
    // Counted from the last use: the 4th and five days more.
    assert_eq!(on(9), [Caution::VeryLame(gait), Caution::Meat(day(9))]);
    assert_eq!(on(10), [Caution::VeryLame(gait)], "over; and for what nobody stated nothing is invented");
}

/// "Gone" is no last word: whoever was sold and bought back, or never went, is said to be back.
#[test]
fn whoever_left_is_said_to_be_back_and_stands_in_the_herd_again() {
    for (map, keys) in [(BuiltIn::TwoHands, ["x", "u"]), (BuiltIn::Keypad, ["* 7", "/"])] {
        let [became, undo] = keys;
        let mut rig = Rig::with(map, &["12", "34"]);
        let choices = |rig: &Rig| {
            let Mode::Pad { ask, .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
            crushbook::session::choices::choices(rig.session(), ask).len()
        };
        rig.press(&format!("3 4 {became}"));
        assert_eq!(choices(&rig), 6, "nobody is back who has not left");
        rig.press("2");
        assert_eq!(left(&rig, "34"), Some(Leaving::Sold));
        rig.press(&format!("3 4 {became}"));
        assert_eq!(choices(&rig), 7);
        rig.press("7");
        assert_eq!(left(&rig, "34"), None);
        let shown = crushbook::session::today::shown(rig.session(), "");
        assert!(shown.iter().any(|line| line.labels.number == "34"));
        rig.pull_battery();
        assert_eq!(left(&rig, "34"), None);
        rig.press(undo);
        assert_eq!(left(&rig, "34"), None, "the trail of an animal that is not in the crush ends with the program");
    }
}

/// Sold with a wrap on, told to the new keeper, and back: the wrap is this farm's to take off again, as late as it is.
#[test]
fn whoever_is_back_with_something_on_is_due_again() {
    let mut rig = wrapped();
    rig.press("1 2 x 2 d o 6");
    assert!(due(rig.session(), Only::All).items.is_empty());
    rig.press("Backspace 1 2 x 7 d");
    let whats: Vec<What> = due(rig.session(), Only::All).items.iter().map(|item| item.due.what).collect();
    assert_eq!(whats, [What::WrapOff]);
}
