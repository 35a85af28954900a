//! A turn that was another animal's, moved long afterwards: three keys and her number, seen from both, and taken back.

use super::on_all;
use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crushbook::domain::history::TurnState;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::amend::Ask as Amend;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

/// 12 was in today, wrapped at the left hind foot, and signed off; it was 34 that stood there.
fn done() -> Rig {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12", "34"]);
    rig.press("1 2 Enter 1 4 1 2 w 3 0 H e l e n Enter 1 Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    assert_eq!(rig.on("12").len(), 1);
    rig
}

#[test]
fn a_turn_that_is_done_goes_to_the_right_animal_with_its_wrap() {
    let mut rig = done();
    rig.press("1 2 Enter 4 3 4 Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    assert_eq!((rig.on("12").len(), rig.on("34").len(), on_all(&rig)), (0, 1, 1), "neither lost nor doubled");
    let state = |number: &str| {
        let line = rig.session().herd.iter().find(|line| line.labels.number == number).expect("known");
        line.turn.map(|turn| turn.state)
    };
    assert_eq!((state("12"), state("34")), (None, Some(TurnState::Signed)));
    // Both histories say it.
    rig.pass(1);
    rig.press("1 2 Enter");
    let away: Vec<&str> = rig.history().moved_away.iter().map(|moved| moved.labels.number.as_str()).collect();
    assert_eq!(away, ["34"]);
    let shown = screen(&rig, BuiltIn::TwoHands, (120, 40));
    assert!(shown.contains("moved to 34"), "{shown}");
    rig.press("a 3 4 Enter l");
    let from = rig.history().turns.iter().find_map(|turn| turn.came_from.clone()).expect("it came from somewhere");
    assert_eq!(from.number, "12");
    let shown = screen(&rig, BuiltIn::TwoHands, (80, 24));
    assert!(shown.contains("came from 12"), "{shown}");
}

#[test]
fn undo_of_it_asks_with_another_key_and_redo_moves_it_again() {
    let mut rig = done();
    rig.press("1 2 Enter 4 3 4 Enter u");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Reopen(_, _), .. }), "{:?}", rig.mode());
    let shown = screen(&rig, BuiltIn::TwoHands, (80, 24));
    assert!(shown.contains("34: go back to her to take back \"12 turn moved\"?"), "{shown}");
    rig.press("u Enter");
    assert_eq!(rig.on("34").len(), 1, "neither undo nor go-on answers it");
    rig.press("u 1");
    assert_eq!((rig.on("12").len(), rig.on("34").len()), (1, 0));
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    rig.press("r");
    assert_eq!((rig.on("12").len(), rig.on("34").len()), (0, 1));
    // Behind it lies the sign-off, which takes a second key too and puts her in the crush.
    rig.press("u 1 u 1");
    assert_eq!(rig.history().labels.number, "12");
    assert_eq!(rig.history().turns.last().map(|turn| turn.state), Some(TurnState::Open));
    // And then the fact before it: the foot that was done.
    rig.press("u");
    let looks = rig.history().turns.last().map(|turn| turn.looks);
    assert!(looks.is_some_and(|looks| looks.iter().all(Option::is_none)), "{looks:?}");
}

#[test]
fn a_turn_of_last_time_is_moved_from_its_map_and_who_is_in_the_crush_stays() {
    let mut rig = done();
    rig.pass(7);
    rig.press("1 2 Enter l m 3 4 Enter");
    assert_eq!(rig.history().labels.number, "12");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    assert!(rig.history().courses.is_empty() && rig.history().open.is_empty());
    rig.press("u");
    assert_eq!((rig.history().labels.number.as_str(), rig.history().courses.len()), ("12", 1));
    let turn = rig.session().turn().map(|(_, turn)| turn.state);
    assert_eq!(turn, Some(TurnState::Open), "it is still her turn of today");
    rig.press("r");
    assert_eq!((rig.history().labels.number.as_str(), rig.history().courses.len()), ("12", 0));
}

/// What `crushbook enter` says to do about a number that was a slip of the pen.
#[test]
fn with_paper_of_that_day_it_goes_the_same_way_days_later_and_nobody_is_put_into_the_crush() {
    let mut rig = done();
    let on = rig.session().today;
    rig.pass(3);
    let before = rig.held();
    rig.press(&format!("f 5 {} Enter", on.format("%-d")));
    assert_eq!((rig.session().today, rig.session().paper.is_some()), (on, true), "{:?}", rig.notice());
    rig.press("1 2 Enter");
    let shown = screen(&rig, BuiltIn::TwoHands, (80, 24));
    assert!(shown.contains("turn of another"), "{:?}\n{shown}", rig.mode());
    assert_eq!(rig.held(), before, "nothing is written by opening her");
    rig.press("4 3 4 Enter");
    assert_eq!(rig.held(), before + 1, "{:?}", rig.notice());
    assert_eq!((rig.on("12").len(), rig.on("34").len(), on_all(&rig)), (0, 1, 1), "as it was then");
    rig.press("f 5");
    assert_eq!((rig.session().paper, rig.session().today > on), (None, true), "{:?}", rig.mode());
    assert_eq!((rig.on("12").len(), rig.on("34").len(), on_all(&rig)), (0, 1, 1), "neither lost nor doubled");
}

#[test]
fn a_number_nobody_listed_is_asked_about_and_her_own_is_refused() {
    let mut rig = done();
    rig.press("1 2 Enter 4 5 6 Enter");
    assert!(matches!(rig.mode(), Mode::Pad { ask: Ask::Amend(Amend::Unlisted(_, _, _)), .. }), "{:?}", rig.mode());
    rig.press("1");
    assert_eq!((rig.on("12").len(), rig.on("56").len()), (0, 1));
    rig.press("u 1");
    assert_eq!((rig.on("12").len(), rig.session().herd.len()), (1, 2), "she and the move are one press");
    rig.press("1 2 Enter 4 1 2 Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::AlreadySo)));
}
