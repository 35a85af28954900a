//! What one key of a trimmer sends to the terminal, with all that its picture changes: the zone, the sentence, the last row,
//! and a pad on which every key now does something else.

use super::picture::Wire;
use crate::screens::world::six_days_later;
use crushbook::keys::keymap::BuiltIn;

/// A key, and how many bytes its picture may take at 60x20, 80x24 and 100x35: measured, and a tenth more.
const KEYS: [(&str, [usize; 3]); 4] = [
    // A zone asks what is found there.
    ("2", [850, 770, 1170]),
    // A finding, and what its grade is.
    ("1", [820, 960, 1230]),
    // Its grade.
    ("3", [1160, 1340, 2220]),
    // A second zone.
    ("4", [890, 970, 1520]),
];

#[test]
fn a_key_sends_a_part_of_the_picture_only() {
    for (at, size) in [(60, 20), (80, 24), (100, 35)].into_iter().enumerate() {
        let mut rig = six_days_later(BuiltIn::TwoHands);
        rig.press("1 3 8 2 Enter 7");
        let mut wire = Wire::new(BuiltIn::TwoHands, size);
        let whole = wire.draw(rig.session());
        for (key, most) in KEYS {
            rig.press(key);
            let bytes = wire.draw(rig.session());
            assert!(bytes > 150, "{key} at {size:?} changes the pad: {bytes} bytes");
            assert!(bytes <= most[at] && bytes * 2 <= whole, "{key} at {size:?}: {bytes} bytes of {whole}");
        }
    }
}
