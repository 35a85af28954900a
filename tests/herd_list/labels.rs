//! A label that changed beside the number: the number is as it was, and the old label is told and still finds her.

use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::Labels;
use crushbook::domain::practice::Region;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::animal::text;
use crushbook::report::words::Words;

#[test]
fn a_new_tag_leaves_the_number_as_it_was() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let labels = |number: &str, tag: &str| Labels { number: number.into(), tag: tag.into(), ..Labels::default() };
    let animal = tablet.animal(day(1), farm, "7");
    for (on, labels) in [(2, labels("7", "UK A")), (3, labels("7", "UK B"))] {
        tablet.write(day(on), animal.0, Event::Renumbered { animal, labels });
    }
    let history = tablet.history(animal);
    let said = text(&history, "Thistle Bank", &[], (&Rules::default(), day(9)), Words(Region::Plain));
    for line in ["\ntag UK B, was UK A, since 3 May 2026\n", "\ntag UK A, was nothing, since 2 May 2026\n"] {
        assert!(said.contains(line), "{line}\n{said}");
    }
    assert!(!said.contains("Called 7 until"), "{said}");
    let mut rig = Rig::over(BuiltIn::TwoHands, &tablet.seen, "Thistle Bank");
    rig.press("7");
    let drawn = screen(&rig, BuiltIn::TwoHands, (80, 24));
    assert!(!drawn.contains("is now"), "{drawn}");

    tablet.write(day(4), animal.0, Event::Renumbered { animal, labels: labels("8", "UK B") });
    let said = text(&tablet.history(animal), "Thistle Bank", &[], (&Rules::default(), day(9)), Words(Region::Plain));
    assert!(said.contains("\nCalled 7 until 4 May 2026\n"), "{said}");
    let mut rig = Rig::over(BuiltIn::TwoHands, &tablet.seen, "Thistle Bank");
    rig.press("7");
    assert!(screen(&rig, BuiltIn::TwoHands, (80, 24)).contains("7 is now 8"));
}
