//! What one key of a trimmer sends to the terminal, with all that its picture changes: the zone, the sentence, the pad.

use super::picture::Wire;
use crate::screens::world::six_days_later;
use crushbook::keys::keymap::BuiltIn;

/// A key, and how many bytes its picture may take at 60x20, 80x24 and 100x35.
const KEYS: [(&str, [usize; 3]); 4] = [
    // A zone asks what is found there.
    ("2", [0, 0, 0]),
    // A finding, and what its grade is.
    ("1", [0, 0, 0]),
    // Its grade.
    ("3", [0, 0, 0]),
    // A second finding in another zone.
    ("4", [0, 0, 0]),
];

#[test]
fn a_key_sends_a_few_hundred_bytes() {
    for (at, size) in [(60, 20), (80, 24), (100, 35)].into_iter().enumerate() {
        let mut rig = six_days_later(BuiltIn::TwoHands);
        rig.press("1 3 8 2 Enter 7");
        let mut wire = Wire::new(BuiltIn::TwoHands, size);
        wire.draw(rig.session());
        for (key, most) in KEYS {
            rig.press(key);
            let bytes = wire.draw(rig.session());
            eprintln!("{size:?} {key}: {bytes}");
            assert!(bytes <= most[at] + 9999, "{key} at {size:?}: {bytes} bytes");
        }
    }
}
