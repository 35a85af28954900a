//! Two people with two tablets record the same animal on one day, and their books meet in the evening.

use super::rig::Rig;
use crate::screens::world::screen;
use crushbook::domain::history::open::OpenItem;
use crushbook::keys::keymap::BuiltIn;

const MAP: BuiltIn = BuiltIn::TwoHands;

/// One says severe and puts a wrap on, the other says light; then they meet.
fn met() -> (Rig, Rig) {
    let mut one = Rig::with(MAP, &["12", "34"]);
    let mut other = one.other();
    one.press("1 2 Enter 1 4 1 3 w 3 0 H e l e n Enter 1 a");
    other.press("1 2 Enter 1 4 1 1 a");
    one.join(&mut other);
    other.join(&mut one);
    (one, other)
}

#[test]
fn what_they_disagree_about_is_said_while_she_is_in_the_crush() {
    let (one, other) = met();
    for (mut rig, who) in [(one, "one"), (other, "the other")] {
        rig.pass(6);
        rig.press("1 2 Enter");
        let history = rig.history();
        assert_eq!(history.turns.iter().map(|turn| turn.found.len()).sum::<usize>(), 2, "both facts, on {who}");
        for size in [(120, 40), (80, 24)] {
            let screen = screen(&rig, MAP, size);
            assert!(screen.contains("two tablets differ, "), "{who} at {size:?}:\n{screen}");
            assert!(screen.contains("SU light") && screen.contains("SU severe"), "{screen}");
        }
        // Also on the map of last time.
        rig.press("l");
        let screen = screen(&rig, MAP, (80, 24));
        assert!(screen.contains("two tablets differ, "), "{screen}");
    }
}

#[test]
fn the_wrap_of_the_one_stays_due_whatever_the_other_said() {
    let (one, other) = met();
    for rig in [one, other] {
        let wraps = rig.session().open.iter().flat_map(|open| &open.items);
        assert_eq!(wraps.filter(|item| matches!(item, OpenItem::On { .. })).count(), 1);
    }
}

#[test]
fn once_the_foot_has_been_up_again_it_is_settled() {
    let (mut one, _) = met();
    one.pass(6);
    one.press("1 2 Enter 1");
    assert!(screen(&one, MAP, (120, 40)).contains("two tablets differ, "));
    // The wrap is all off, its skin sound.
    one.press("1 0 1 a");
    one.pass(1);
    one.press("1 2 Enter");
    assert!(!screen(&one, MAP, (120, 40)).contains("two tablets differ, "), "{}", screen(&one, MAP, (120, 40)));
}
