//! One cow of one farm, told turn by turn: what was found and answered on which day.

use super::tablet::{Tablet, day};
use chrono::{Days, NaiveDate};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::case::Case;
use crushbook::domain::event::{Detail, Event};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, CaseId, RecordId, TurnId, VisitId};
use crushbook::domain::treatment::Outcome;

/// Left hind, outer claw, where ulcers sit.
pub const SOLE: Place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
/// Right hind, back of the cleft, where dermatitis sits.
pub const HEEL: Place = Place::Skin(Foot::RightHind, Skin::Heel);

pub struct Cow {
    pub tablet: Tablet,
    pub animal: AnimalId,
    visit: VisitId,
    pub turn: TurnId,
    pub on: NaiveDate,
}

/// So many days after the first of May.
pub fn after(days: u64) -> NaiveDate {
    day(1) + Days::new(days)
}

impl Cow {
    /// In the crush on the first of May.
    pub fn new() -> Cow {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        let animal = tablet.animal(day(1), farm, "3");
        let visit = tablet.visit(day(1), farm);
        let turn = tablet.turn(day(1), visit, animal);
        Cow { tablet, animal, visit, turn, on: day(1) }
    }

    /// In the crush again, so many days after the first of May.
    pub fn again(&mut self, days: u64) -> TurnId {
        self.on = after(days);
        self.turn = self.tablet.turn(self.on, self.visit, self.animal);
        self.turn
    }

    pub fn write(&mut self, event: Event) -> RecordId {
        self.tablet.write(self.on, self.animal.0, event)
    }

    pub fn find(&mut self, place: Place, what: Finding, degree: Degree) -> CaseId {
        let turn = self.turn;
        CaseId(self.write(Event::Found { turn, place, what, degree, words: String::new() }))
    }

    /// A sole ulcer, its grade not given.
    pub fn ulcer(&mut self) -> CaseId {
        self.find(SOLE, Finding::SU, Degree::NotGiven)
    }

    pub fn tell(&mut self, of: CaseId, detail: Detail) {
        self.write(Event::Detailed { of, detail });
    }

    pub fn answer(&mut self, case: CaseId, outcome: Outcome) -> RecordId {
        let turn = self.turn;
        self.write(Event::Answered { turn, case, outcome })
    }

    pub fn stage(&mut self, case: CaseId, stage: Stage) -> RecordId {
        let turn = self.turn;
        self.write(Event::Staged { turn, case, stage })
    }

    pub fn history(&self) -> History {
        self.tablet.history(self.animal)
    }

    pub fn cases(&self, window: u16) -> Vec<Case> {
        self.history().cases(window)
    }
}

pub fn grade(grade: Grade) -> Degree {
    Degree::Grade(grade)
}

pub fn stage(stage: Stage) -> Degree {
    Degree::Stage(stage)
}
