//! Standing instructions of a farm: what is done there at every foot of a kind, until it is ended.

use super::anatomy::{Foot, Side};
use super::event::Event;
use super::follow_up::rules::RuleSet;
use super::herd::Scope;
use super::history::standing::Standing;
use super::ids::{FarmId, RecordId};
use super::record::Record;
use chrono::{Days, NaiveDate};
use std::collections::BTreeMap;
use std::fmt;

/// A standing instruction that holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instruction {
    /// Its name.
    pub id: RecordId,
    /// Since when.
    pub since: NaiveDate,
    /// Whom it is for.
    pub scope: Scope,
    /// What is to be done.
    pub text: String,
    /// Who asked for it.
    pub asked_by: String,
    /// Why.
    pub why: String,
    /// The day it is to be looked at again, as it was said last.
    pub review_on: Option<NaiveDate>,
    /// The vet, for one that takes horn away.
    pub vet: String,
    /// The day it was looked at last and went on.
    pub reviewed: Option<NaiveDate>,
}

impl Instruction {
    /// The day it is to be looked at again: the one that was said, else so many days after it was given or looked at last.
    pub fn review_day(&self, rules: &RuleSet) -> NaiveDate {
        self.review_on.unwrap_or_else(|| last_day(self.reviewed.unwrap_or(self.since), rules))
    }

    /// Whether it applies to what is in the hand: that claw of that foot.
    pub fn applies(&self, foot: Foot, side: Side) -> bool {
        self.scope.covers(foot) && self.scope.side().is_none_or(|only| only == side)
    }

    /// Whether it takes horn away: then it is the vet's, and stands with the least sole.
    pub fn takes_horn(&self) -> bool {
        !self.vet.is_empty()
    }
}

/// One that was ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ended {
    /// As it was.
    pub was: Instruction,
    /// The day.
    pub on: NaiveDate,
    /// Why, in words.
    pub why: String,
    /// The one that was given in its place.
    pub into: Option<RecordId>,
}

/// All that was ever given and not taken back.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Given {
    /// Those that hold, oldest first.
    pub standing: Vec<Instruction>,
    /// Those that were ended, the last end last.
    pub ended: Vec<Ended>,
    /// Looks after which one went on: which, the day, and the words, oldest first.
    pub looks: Vec<(RecordId, NaiveDate, String)>,
}

/// Why a day is none to look at an instruction again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoReview {
    /// It is today or before.
    Gone(NaiveDate),
    /// It is later than the rule allows: the day, and the last one.
    TooLate(NaiveDate, NaiveDate),
}

impl fmt::Display for NoReview {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let day = |day: &NaiveDate| day.format("%-d %b %Y").to_string();
        match self {
            NoReview::Gone(on) => write!(f, "{} is not after today", day(on)),
            NoReview::TooLate(on, last) => write!(f, "{} is too late: {} at the latest", day(on), day(last)),
        }
    }
}

/// The last day on which an instruction given or looked at on that day is to be looked at again.
pub fn last_day(from: NaiveDate, rules: &RuleSet) -> NaiveDate {
    from.checked_add_days(Days::new(rules.instruction.review.into())).unwrap_or(from)
}

/// The day as one to look at an instruction again, said today.
///
/// # Errors
/// A day that has gone by, or one later than the rule allows.
pub fn review_on(day: NaiveDate, today: NaiveDate, rules: &RuleSet) -> Result<NaiveDate, NoReview> {
    let last = last_day(today, rules);
    match day {
        day if day <= today => Err(NoReview::Gone(day)),
        day if day > last => Err(NoReview::TooLate(day, last)),
        day => Ok(day),
    }
}

impl Scope {
    /// Whether it is meant for a foot, and on which claw only.
    pub fn covers(self, foot: Foot) -> bool {
        match self {
            Scope::All => true,
            Scope::Fronts | Scope::OuterFront | Scope::InnerFront => !foot.is_hind(),
            Scope::Hinds | Scope::OuterHind | Scope::InnerHind => foot.is_hind(),
        }
    }

    /// The claw it is meant for; none for both.
    pub fn side(self) -> Option<Side> {
        match self {
            Scope::All | Scope::Fronts | Scope::Hinds => None,
            Scope::OuterFront | Scope::OuterHind => Some(Side::Outer),
            Scope::InnerFront | Scope::InnerHind => Some(Side::Inner),
        }
    }
}

/// The instructions that hold, out of a farm's records in any order; oldest first.
pub fn standing(records: Vec<Record>, farm: FarmId) -> Vec<Instruction> {
    given(&Standing::of(records), farm).standing
}

/// Everything given, out of what stands of a farm's records.
pub fn given(records: &Standing, farm: FarmId) -> Given {
    let mut given = Given::default();
    // One given in the press that ended another stands in its place.
    let (mut began, mut ends) = (BTreeMap::new(), Vec::new());
    for record in records.about(farm.0) {
        match record.event() {
            Some(Event::Instructed { scope, text, asked_by, why, review_on, vet, .. }) => {
                began.insert(record.press_id(), record.id);
                given.standing.push(Instruction {
                    id: record.id,
                    since: record.on,
                    scope: *scope,
                    text: text.clone(),
                    asked_by: asked_by.clone(),
                    why: why.clone(),
                    review_on: *review_on,
                    vet: vet.clone(),
                    reviewed: None,
                });
            }
            Some(Event::InstructionReviewed { instruction, review_on, words }) => {
                let Some(one) = given.standing.iter_mut().find(|one| one.id == *instruction) else { continue };
                (one.reviewed, one.review_on) = (Some(record.on), *review_on);
                given.looks.push((one.id, record.on, words.clone()));
            }
            Some(Event::InstructionEnded { instruction, why }) => {
                let Some(at) = given.standing.iter().position(|one| one.id == *instruction) else { continue };
                let was = given.standing.remove(at);
                ends.push(record.press_id());
                given.ended.push(Ended { was, on: record.on, why: why.clone(), into: None });
            }
            Some(_) | None => {}
        }
    }
    for (ended, press) in given.ended.iter_mut().zip(ends) {
        ended.into = began.get(&press).copied();
    }
    given
}
