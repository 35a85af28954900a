//! Standing instructions: what holds on a farm, for which feet.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Side};
use crushbook::domain::event::Event;
use crushbook::domain::herd::Scope;
use crushbook::domain::instruction::standing;
use crushbook::domain::vocabulary::Vocabulary;

fn instructed(farm: crushbook::domain::ids::FarmId, scope: Scope, text: &str) -> Event {
    let said = |text: &str| text.to_owned();
    Event::Instructed {
        farm,
        scope,
        text: said(text),
        asked_by: said("Orla"),
        why: said("many white lines"),
        review_on: Some(day(30)),
        vet: said(""),
    }
}

#[test]
fn an_instruction_holds_until_it_is_ended_or_taken_back() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let first = tablet.write(day(2), farm.0, instructed(farm, Scope::InnerFront, "leave the toe long"));
    let second = tablet.write(day(3), farm.0, instructed(farm, Scope::Hinds, "no sole off"));
    let third = tablet.write(day(4), farm.0, instructed(farm, Scope::All, "a slip"));
    tablet.write(day(4), farm.0, Event::Undone { press: third });
    let names = |tablet: &Tablet| standing(tablet.seen.clone()).into_iter().map(|one| one.id).collect::<Vec<_>>();
    assert_eq!(names(&tablet), [first, second]);
    let end = Event::InstructionEnded { instruction: first, why: "soles are right again".to_owned() };
    let ended = tablet.write(day(9), farm.0, end);
    assert_eq!(names(&tablet), [second]);
    tablet.write(day(9), farm.0, Event::Undone { press: ended });
    let held = standing(tablet.seen.iter().rev().cloned().collect());
    assert_eq!(held.iter().map(|one| one.id).collect::<Vec<_>>(), [first, second], "in any order of arrival");
    assert_eq!(
        (held[0].since, held[0].text.as_str(), held[0].review_on),
        (day(2), "leave the toe long", Some(day(30)))
    );
}

#[test]
fn it_stands_beside_the_feet_it_is_meant_for() {
    for (scope, front, hind, side) in [
        (Scope::All, true, true, None),
        (Scope::Fronts, true, false, None),
        (Scope::Hinds, false, true, None),
        (Scope::OuterHind, false, true, Some(Side::Outer)),
        (Scope::InnerHind, false, true, Some(Side::Inner)),
        (Scope::OuterFront, true, false, Some(Side::Outer)),
        (Scope::InnerFront, true, false, Some(Side::Inner)),
    ] {
        assert_eq!((scope.covers(Foot::LeftFront), scope.covers(Foot::RightHind)), (front, hind), "{}", scope.word());
        assert_eq!(scope.side(), side);
    }
}
