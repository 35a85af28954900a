//! From what was told about a farm back to the words of a sheet.

use super::super::event::Event;
use super::super::herd::FarmFact;
use super::super::instruction::Given;
use super::FarmTold;
use super::instruct::{held_already, named};
use chrono::NaiveDate;

/// The words of a sheet of that day for an event about a farm; none for what is no such or has none: its name stands in the head, and of
/// a herd list that was taken the list itself tells. `given` is every instruction of the farm.
pub fn farm_told_of(event: &Event, on: NaiveDate, given: &Given) -> Option<FarmTold> {
    if let Event::InstructionReviewed { instruction, review_on, words } = event {
        let (scope, which) = named(given, *instruction, on)?;
        return Some(FarmTold::InstructionReviewed { scope, which, words: words.clone(), review_on: *review_on });
    }
    if let Event::InstructionEnded { instruction, why } = event {
        let (scope, which) = named(given, *instruction, on)?;
        return Some(FarmTold::InstructionEnded { scope, which, why: why.clone() });
    }
    let mut told = of_itself(event.clone())?;
    if let FarmTold::Instructed { scope, text, again, .. } = &mut told {
        *again = held_already(given, (*scope, text), on);
    }
    Some(told)
}

/// What needs no other record to be said.
fn of_itself(event: Event) -> Option<FarmTold> {
    if let Event::FarmDescribed { fact, words, .. } = event {
        let told = !matches!(fact, FarmFact::Name | FarmFact::HerdList);
        return told.then_some(FarmTold::Fact(fact, words));
    }
    if let Event::ContactTold { name, does, phone, gone, .. } = event {
        return Some(FarmTold::Contact { name, does, phone, gone });
    }
    if let Event::FarmChanged { change, words, .. } = event {
        return Some(FarmTold::Changed(change, words));
    }
    if let Event::FarmCalled { words, urgent, caller, .. } = event {
        return Some(FarmTold::Called { words, urgent, caller });
    }
    if let Event::FarmRung { answered, who, words, .. } = event {
        return Some(FarmTold::Rung { answered, who, words });
    }
    if let Event::Instructed { scope, text, asked_by, why, review_on, vet, .. } = event {
        // A record without a vet does not tell whether it was asked if horn is taken away.
        let vet = Some(vet).filter(|vet| !vet.is_empty());
        return Some(FarmTold::Instructed { scope, text, again: false, asked_by, why, review_on, vet });
    }
    None
}
