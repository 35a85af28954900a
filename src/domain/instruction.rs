//! Standing instructions of a farm: what is done there at every foot of a kind, until it is ended.

use super::anatomy::{Foot, Side};
use super::event::Event;
use super::herd::Scope;
use super::history::standing::Standing;
use super::ids::RecordId;
use super::record::Record;
use chrono::NaiveDate;

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
    /// The day it is to be looked at again.
    pub review_on: Option<NaiveDate>,
    /// The vet, for one that takes horn away.
    pub vet: String,
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
pub fn standing(records: Vec<Record>) -> Vec<Instruction> {
    let mut instructions: Vec<Instruction> = Vec::new();
    for record in Standing::of(records).records() {
        match record.event() {
            Some(Event::Instructed { scope, text, asked_by, why, review_on, vet, .. }) => {
                instructions.push(Instruction {
                    id: record.id,
                    since: record.on,
                    scope: *scope,
                    text: text.clone(),
                    asked_by: asked_by.clone(),
                    why: why.clone(),
                    review_on: *review_on,
                    vet: vet.clone(),
                });
            }
            Some(Event::InstructionEnded { instruction, .. }) => instructions.retain(|one| one.id != *instruction),
            Some(_) | None => {}
        }
    }
    instructions
}
