//! Lame by her score: since when, and whether anybody looked.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::follow_up::{Due, Urgency, What, due};
use crushbook::domain::history::open::{Open, OpenItem};
use crushbook::domain::ids::{AnimalId, CaseId, TurnId, VisitId};
use crushbook::domain::treatment::{Gait, GaitScale, Outcome};
use crushbook::domain::vocabulary::Vocabulary;

struct Cow {
    tablet: Tablet,
    cow: AnimalId,
    visit: VisitId,
}

fn cow() -> Cow {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "7");
    let visit = tablet.visit(day(1), farm);
    Cow { tablet, cow, visit }
}

impl Cow {
    fn walks(&mut self, on: u32, score: u8) {
        let gait = Gait { scale: GaitScale::ZeroToThree, score };
        self.tablet.write(day(on), self.cow.0, Event::Walked { turn: None, gait });
    }

    /// A turn in which all four feet are looked at.
    fn turn(&mut self, on: u32) -> TurnId {
        self.lifts(on, Foot::ALL)
    }

    fn lifts(&mut self, on: u32, feet: &[Foot]) -> TurnId {
        let turn = self.tablet.turn(day(on), self.visit, self.cow);
        for foot in feet.iter().copied() {
            let looked = Event::Looked { turn, foot, lifted: true, trimmed: true, all_seen: true };
            self.tablet.write(day(on), self.cow.0, looked);
        }
        turn
    }

    fn finds(&mut self, on: u32, turn: TurnId) {
        let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
        let found = Event::Found { turn, place, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
        self.tablet.write(day(on), self.cow.0, found);
    }

    fn due(&self, on: u32) -> Option<Due> {
        let open = Open::of(&self.tablet.history(self.cow));
        let lame = open.items.iter().find(|item| matches!(item, OpenItem::Lame { .. }))?;
        due(&open, lame, &Rules::default(), day(on))
    }
}

fn at(what: What, on: u32, urgency: Urgency) -> Option<Due> {
    Some(Due { what, day: day(on), urgency })
}

#[test]
fn lame_is_to_be_looked_at_within_48_hours_and_very_lame_within_24() {
    // DairyNZ 2023, scale 0 to 3: score 2 within 48 h, score 3 within 24 h.
    let mut lame = cow();
    lame.walks(2, 2);
    assert_eq!(lame.due(3), at(What::LookAgain, 4, Urgency::Coming));
    assert_eq!(lame.due(4), at(What::LookAgain, 4, Urgency::Due));
    assert_eq!(lame.due(5), at(What::LookAgain, 4, Urgency::Late));
    let mut very = cow();
    very.walks(2, 3);
    assert_eq!(very.due(3), at(What::LookAgain, 3, Urgency::Due));
    assert_eq!(very.due(4), at(What::LookAgain, 3, Urgency::Urgent));
    let mut sound = cow();
    sound.walks(2, 1);
    assert_eq!(sound.due(9), None, "1 is not lame");
}

#[test]
fn a_lifted_foot_answers_it_and_a_sound_score_ends_it() {
    let mut treated = cow();
    treated.walks(2, 2);
    let turn = treated.turn(3);
    treated.finds(3, turn);
    assert_eq!(treated.due(9), None);
    // Lame again after she was sound: a new run, and nobody has looked since.
    treated.walks(10, 0);
    treated.walks(12, 2);
    assert_eq!(treated.due(15), at(What::LookAgain, 14, Urgency::Late));
}

#[test]
fn with_one_foot_up_and_nothing_in_it_the_others_are_still_to_be_looked_at() {
    let mut lame = cow();
    lame.walks(2, 2);
    let before = lame.due(3);
    lame.lifts(3, &[Foot::LeftFront]);
    assert_eq!(lame.due(3), before);
    // The rest on a later day: then nothing is in any of them.
    lame.lifts(4, &[Foot::RightFront, Foot::LeftHind, Foot::RightHind]);
    assert_eq!(lame.due(4), at(What::Vet, 2, Urgency::Due));
    // Whoever found something in the one foot need not look for more.
    let mut found = cow();
    found.walks(2, 2);
    let turn = found.lifts(3, &[Foot::LeftHind]);
    found.finds(3, turn);
    assert_ne!(found.due(3), before);
}

/// What was found before she was lame explains it only where somebody has looked at it since.
#[test]
fn an_old_finding_that_nobody_looked_at_does_not_answer_for_it() {
    let answered = |feet: &[Foot], answer: bool| {
        let mut cow = cow();
        let turn = cow.turn(1);
        cow.finds(1, turn);
        let case = CaseId(cow.tablet.seen.last().expect("a record").id);
        cow.walks(2, 2);
        let before = cow.due(3);
        let turn = cow.lifts(3, feet);
        if answer {
            cow.tablet.write(day(3), cow.cow.0, Event::Answered { turn, case, outcome: Outcome::Same });
        }
        (before, cow.due(3))
    };
    let (before, after) = answered(&[Foot::RightFront], false);
    assert_eq!(after, before);
    let (before, after) = answered(&[Foot::LeftHind], false);
    assert_eq!(after, before, "the foot was up, and nobody said that it is still there");
    assert_eq!(answered(Foot::ALL, false).1, at(What::Vet, 2, Urgency::Due));
    assert_eq!(answered(&[Foot::LeftHind], true).1, None);
}

#[test]
fn a_score_after_she_was_looked_at_asks_for_another_look_on_the_same_day_too() {
    let mut lame = cow();
    lame.turn(2);
    lame.walks(2, 2);
    assert_eq!(lame.due(2).map(|due| due.what), Some(What::LookAgain));
}

#[test]
fn lame_with_nothing_found_in_the_foot_is_for_the_vet() {
    // Trimmers' code: nothing found in the foot, look higher.
    let mut lame = cow();
    lame.walks(2, 2);
    lame.turn(3);
    assert_eq!(lame.due(3), at(What::Vet, 2, Urgency::Due));
}

#[test]
fn very_lame_for_over_14_days_is_the_vets_whatever_was_done() {
    // Stop signs (Streeter 2019; Greenough): severe lameness lasting over 14 days.
    let mut lame = cow();
    lame.walks(2, 3);
    let turn = lame.turn(3);
    lame.finds(3, turn);
    lame.walks(9, 3);
    assert_eq!(lame.due(16), None);
    assert_eq!(lame.due(17), at(What::Vet, 16, Urgency::Urgent));
    lame.walks(18, 2);
    assert_eq!(lame.due(18), None, "better, and looked at");
}
