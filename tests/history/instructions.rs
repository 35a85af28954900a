//! Standing instructions: what holds on a farm, for which feet.

use crate::support::tablet::{Tablet, day};
use chrono::Days;
use crushbook::domain::anatomy::{Foot, Side};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::rules::RuleSet;
use crushbook::domain::herd::Scope;
use crushbook::domain::history::standing::Standing;
use crushbook::domain::instruction::{NoReview, given, last_day, review_on, standing};
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
    let names = |tablet: &Tablet| standing(tablet.seen.clone(), farm).into_iter().map(|one| one.id).collect::<Vec<_>>();
    assert_eq!(names(&tablet), [first, second]);
    let end = Event::InstructionEnded { instruction: first, why: "soles are right again".to_owned() };
    let ended = tablet.write(day(9), farm.0, end);
    assert_eq!(names(&tablet), [second]);
    tablet.write(day(9), farm.0, Event::Undone { press: ended });
    let held = standing(tablet.seen.iter().rev().cloned().collect(), farm);
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

#[test]
fn it_applies_to_the_claws_it_is_for_and_to_no_other() {
    // Left and right are alike; then (front outer, front inner, hind outer, hind inner), as the words say it.
    let table = [
        (Scope::All, [true, true, true, true]),
        (Scope::Fronts, [true, true, false, false]),
        (Scope::Hinds, [false, false, true, true]),
        (Scope::OuterHind, [false, false, true, false]),
        (Scope::InnerHind, [false, false, false, true]),
        (Scope::OuterFront, [true, false, false, false]),
        (Scope::InnerFront, [false, true, false, false]),
    ];
    assert_eq!(table.len(), Scope::ALL.len());
    for (scope, applies) in table {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        tablet.write(day(2), farm.0, instructed(farm, scope, "as the vet says"));
        let one = standing(tablet.seen.clone(), farm).remove(0);
        for (feet, at) in [([Foot::LeftFront, Foot::RightFront], 0), ([Foot::LeftHind, Foot::RightHind], 2)] {
            for foot in feet {
                let both = [Side::Outer, Side::Inner].map(|side| one.applies(foot, side));
                assert_eq!(both, [applies[at], applies[at + 1]], "{} {foot:?}", scope.word());
            }
        }
    }
}

#[test]
fn a_look_moves_its_review_day_and_its_end_says_what_came_after() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let first = tablet.write(day(2), farm.0, instructed(farm, Scope::Hinds, "no sole off"));
    let look = |on| Event::InstructionReviewed { instruction: first, review_on: on, words: String::new() };
    let looked = tablet.write(day(5), farm.0, look(Some(day(28))));
    let one = |tablet: &Tablet| standing(tablet.seen.clone(), farm).remove(0);
    assert_eq!(
        (one(&tablet).since, one(&tablet).reviewed, one(&tablet).review_on),
        (day(2), Some(day(5)), Some(day(28)))
    );
    // With no day said it is 90 days from the look (trade.md, section 8).
    tablet.write(day(6), farm.0, look(None));
    assert_eq!(one(&tablet).review_day(&RuleSet::default()), day(6) + Days::new(90));
    tablet.write(day(7), farm.0, Event::Undone { press: looked });
    let ended = Event::InstructionEnded { instruction: first, why: String::new() };
    tablet.press(day(8), vec![(farm.0, ended), (farm.0, instructed(farm, Scope::Hinds, "a little sole off"))]);
    let given = given(&Standing::of(tablet.seen.iter().rev().cloned().collect()), farm);
    let [stands] = given.standing.as_slice() else { panic!("{given:?}") };
    let [gone] = given.ended.as_slice() else { panic!("{given:?}") };
    assert_eq!((gone.was.id, gone.on, gone.into), (first, day(8), Some(stands.id)));
    assert_eq!(given.looks, [(first, day(6), String::new())], "the look that was taken back is none");
}

#[test]
fn a_review_day_is_after_today_and_within_the_rule() {
    // trade.md, section 8: review within 90 days.
    let rules = RuleSet::default();
    let today = day(10);
    let at = |days: u64| today + Days::new(days);
    assert_eq!(last_day(today, &rules), at(90));
    for (on, wanted) in [
        (today - Days::new(1), Err(NoReview::Gone(today - Days::new(1)))),
        (today, Err(NoReview::Gone(today))),
        (at(1), Ok(at(1))),
        (at(90), Ok(at(90))),
        (at(91), Err(NoReview::TooLate(at(91), at(90)))),
    ] {
        assert_eq!(review_on(on, today, &rules), wanted, "{on}");
    }
    let mut shorter = rules.clone();
    shorter.instruction.review = 28;
    assert_eq!(review_on(at(29), today, &shorter), Err(NoReview::TooLate(at(29), at(28))), "a farm may have its own");
}

#[test]
fn farms_that_were_one_and_are_parted_have_each_their_own() {
    let mut tablet = Tablet::new(1);
    let (one, other) = (tablet.farm(day(1)), tablet.farm(day(1)));
    let mine = tablet.write(day(2), one.0, instructed(one, Scope::Hinds, "no sole off"));
    let theirs = tablet.write(day(2), other.0, instructed(other, Scope::All, "trim long"));
    let joined = tablet.write(day(3), one.0, Event::Joined { one: one.0, other: other.0 });
    let names = |tablet: &Tablet, farm| -> Vec<_> {
        standing(tablet.seen.clone(), farm).into_iter().map(|one| one.id).collect()
    };
    assert_eq!((names(&tablet, one), names(&tablet, other)), (vec![mine, theirs], vec![mine, theirs]));
    tablet.write(day(4), one.0, Event::Parted { joined });
    assert_eq!((names(&tablet, one), names(&tablet, other)), (vec![mine], vec![theirs]));
}
