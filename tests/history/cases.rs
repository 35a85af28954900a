//! A finding and its answers over visits.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding, Stage};
use crushbook::domain::ids::CaseId;
use crushbook::domain::treatment::Outcome;

const SOLE: Place = Place::Horn(Foot::RightHind, Side::Outer, Horn::SoleBulb);

#[test]
fn healed_ends_a_case_and_the_next_finding_there_is_a_new_one() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "3");
    let visit = tablet.visit(day(1), farm);
    let first = tablet.turn(day(1), visit, cow);
    let su =
        |turn| Event::Found { turn, place: SOLE, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
    let case = CaseId(tablet.write(day(1), cow.0, su(first)));
    let second = tablet.turn(day(15), visit, cow);
    tablet.write(day(15), cow.0, Event::Answered { turn: second, case, outcome: Outcome::Better });
    assert_eq!(tablet.history(cow).courses[0].end(), None);
    let third = tablet.turn(day(29), visit, cow);
    let healed = tablet.write(day(29), cow.0, Event::Answered { turn: third, case, outcome: Outcome::Healed });
    assert_eq!(tablet.history(cow).courses[0].end().map(|step| step.id), Some(healed));
    let fourth = tablet.turn(day(30), visit, cow);
    tablet.write(day(30), cow.0, su(fourth));
    let history = tablet.history(cow);
    assert_eq!(history.courses.len(), 2);
    assert_eq!(history.open_courses().count(), 1);
}

#[test]
fn not_looked_at_leaves_the_case_as_old_as_it_was() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "3");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let found = Event::Found { turn, place: SOLE, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
    let case = CaseId(tablet.write(day(1), cow.0, found));
    let later = tablet.turn(day(15), visit, cow);
    tablet.write(day(15), cow.0, Event::Answered { turn: later, case, outcome: Outcome::NotLooked });
    assert_eq!(tablet.history(cow).courses[0].last(), day(1));
}

#[test]
fn digital_dermatitis_is_answered_by_todays_stage() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "3");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let place = Place::Skin(Foot::RightHind, Skin::Heel);
    let degree = Degree::Stage(Stage::M2);
    let found = Event::Found { turn, place, what: Finding::DD, degree, words: String::new() };
    let case = CaseId(tablet.write(day(1), cow.0, found));
    let later = tablet.turn(day(15), visit, cow);
    tablet.write(day(15), cow.0, Event::Staged { turn: later, case, stage: Stage::M41 });
    let history = tablet.history(cow);
    assert_eq!(history.courses[0].carried().degree.word, Degree::Stage(Stage::M41));
    assert_eq!(history.courses[0].end(), None);
    tablet.write(day(15), cow.0, Event::Staged { turn: later, case, stage: Stage::M0 });
    assert!(tablet.history(cow).courses[0].end().is_some());
}

#[test]
fn an_answer_to_another_animals_finding_lands_nowhere() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "3");
    let other = tablet.animal(day(1), farm, "4");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let found = Event::Found { turn, place: SOLE, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
    let case = CaseId(tablet.write(day(1), cow.0, found));
    let wrong = tablet.turn(day(1), visit, other);
    tablet.write(day(1), other.0, Event::Answered { turn: wrong, case, outcome: Outcome::Healed });
    assert_eq!(tablet.history(cow).courses[0].end(), None);
    let history = tablet.history(other);
    assert!(history.courses.is_empty() && history.turns[0].answers.is_empty());
    assert_eq!(history.doubts.len(), 1, "kept and shown as doubtful");
}
