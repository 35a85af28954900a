//! A new tag or electronic number on the screens: what is doubtful about it is said with what was saved, and nothing is refused.

use crate::screens::world::{screen, six_days_later};
use crushbook::keys::keymap::BuiltIn;

const MAP: BuiltIn = BuiltIn::TwoHands;

#[test]
fn a_doubtful_label_is_said_with_what_was_saved_on_the_smallest_screen_too() {
    // The check digit of a GB tag, and what ISO 11784 says of electronic numbers (trade.md, section 9); of 000000 and 01382 the
    // check is 4.
    let rows = [
        ("2", "U K 0 0 0 0 0 0 1 0 1 3 8 2", "DOUBTFUL: tag's check should be 4; "),
        ("2", "U K 0 0 0 0 0 0 4 0 1 3 8 2", ""),
        ("2", "U K 0 0 4 0 1 3 8 2", "DOUBTFUL: GB tag of 8 digits, not 12"),
        ("3", "9 9 9 0 0 0 0 0 0 0 0 1 3 8 9", "DOUBTFUL: 999 is for tests"),
        ("3", "8 2 6 0 0 0 0 0 0 0 0 1 3 8 9", ""),
    ];
    for (which, typed, wanted) in rows {
        let mut rig = six_days_later(MAP);
        rig.press("1 3 8 2");
        rig.press(&format!("c {which} {typed} Enter"));
        for size in [(60, 20), (120, 40)] {
            let shown = screen(&rig, MAP, size);
            let last = shown.lines().last().unwrap_or_default().to_owned();
            assert!(last.contains("saved"), "{typed}: {shown}");
            assert_eq!(last.contains("DOUBTFUL"), !wanted.is_empty(), "{typed}: {last}");
            assert!(last.contains(wanted), "{typed}: {last}");
        }
    }
}
