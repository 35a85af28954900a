//! A medicated dressing: what was stated is taken on by a key, and the vet is asked where it does not count.

use super::rig::Rig;
use crushbook::domain::follow_up::What;
use crushbook::domain::practice::Practice;
use crushbook::domain::withdrawal::{Stated, Unstated};
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::lists::due;
use crushbook::session::mode::{Mode, Only};
use crushbook::session::{Notice, Refusal};

fn label() -> Stated {
    Stated { product: "gel".into(), milk_days: Some(2), meat_days: Some(10), by: "label".into() }
}

/// The practice's file knows what the label of the gel says.
fn knowing() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.practice = Practice { medicines: vec![label()], ..Practice::default() };
    rig.pass(0);
    rig
}

fn whats(rig: &Rig) -> Vec<What> {
    due(rig.session(), Only::All).items.iter().map(|item| item.due.what).collect()
}

fn medicines(rig: &Rig) -> Vec<Stated> {
    let turn = rig.history().turns.last().expect("her turn");
    turn.medicines.iter().filter_map(|(_, medicine)| Stated::of(medicine)).collect()
}

#[test]
fn a_known_product_asks_and_only_a_key_takes_its_days_on() {
    let mut rig = knowing();
    rig.press("1 2 Enter 3 + 3 0 g e l Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Stated(_), .. }), "{:?}", rig.mode());
    rig.press("Enter");
    assert_eq!(medicines(&rig), [], "going on takes nothing on");
    // It is asked for again beside what can be put on.
    rig.press("+ 7 1");
    assert_eq!(medicines(&rig), [label()]);
    rig.press("Enter Enter");
    assert_eq!(whats(&rig), [What::Withheld]);
    // Opened again; opening, sign-off, the foot and then the key that took them on are taken back.
    rig.press("u 1 u u u u");
    assert_eq!(medicines(&rig), []);
}

#[test]
fn a_product_that_nobody_calls_a_medicine_asks_nothing_and_can_be_told() {
    let mut rig = knowing();
    rig.press("1 2 Enter 3 + 3 0 t a r Enter");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    rig.press("+ 7 0 m i l k Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::Unstated(Unstated::NotDays))));
    assert!(matches!(rig.mode(), Mode::Text { .. }), "what was typed is still there: {:?}", rig.mode());
    rig.press("Space 1 Space L a s k Enter");
    assert_eq!(medicines(&rig).len(), 1);
    // From now on it is known, and asked.
    rig.press("Enter 1 + 3");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "told in this turn already: {:?}", rig.mode());
    rig.press("Enter Enter 3 4 Enter 3 + 3");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Stated(_), .. }), "{:?}", rig.mode());
}

#[test]
fn under_a_wrap_a_label_is_not_offered_and_one_taken_on_before_asks_the_vet() {
    let mut rig = knowing();
    rig.press("1 2 Enter 3 + 3 0 g e l Enter 1 w 3 0 H e l e n Enter 1 Enter Enter");
    assert_eq!(whats(&rig), [What::VetsDays, What::WrapOff]);
    rig.press("d o m i l k Space 3 Space L a s k Enter");
    assert_eq!(whats(&rig), [What::WrapOff, What::Withheld]);
    // The other way round: wrapped first, the label stands on no key.
    rig.press("Backspace 3 4 Enter 3 w 3 1 1 + 3");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Stated(_), .. }), "{:?}", rig.mode());
    rig.press("1");
    assert_eq!(medicines(&rig), []);
}
