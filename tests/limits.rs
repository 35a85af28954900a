//! What the program holds: each limit of the README's table, shown.

use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::herd::Labels;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal};

/// What the README says of a limit.
fn says(limit: &str) {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("there");
    assert!(readme.contains(limit), "README.md says: {limit}");
}

#[test]
fn a_farm_of_ten_thousand_animals_opens_finds_and_writes() {
    says("| animals of one farm | 10,000 |");
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    for number in 0..10_000 {
        let labels = Labels { number: format!("{number:05}"), ..Labels::default() };
        tablet.begin(day(1), Event::AnimalBegun { farm, labels });
    }
    let mut rig = Rig::over(BuiltIn::TwoHands, &tablet.seen, "Thistle Bank");
    assert_eq!(rig.session().herd.len(), 10_000);
    rig.press("0 9 9 9 9 Enter 7 5");
    assert_eq!(rig.history().labels.number, "09999");
    assert!(screen(&rig, BuiltIn::TwoHands, (80, 24)).contains("09999"), "she is shown");
    rig.press("Enter Enter Enter");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "signed off: {:?}", rig.mode());
}

#[test]
fn a_note_holds_five_hundred_letters_and_says_so() {
    says("| letters of a note typed on the screens | 500 |");
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    rig.press("1 2 Enter n");
    rig.press(&"x y ".repeat(250));
    let full = rig.mode().clone();
    assert!(matches!(&full, Mode::Text { text, .. } if text.len() == 500));
    rig.press("z");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoMoreLetters)));
    assert_eq!(*rig.mode(), full);
    rig.press("Enter");
    assert_eq!(rig.history().turns.last().expect("her turn").notes[0].2.len(), 500);
}
