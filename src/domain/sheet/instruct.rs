//! Which standing instruction a sheet means, and until when one that was looked at again goes on: what the command and the screens
//! check of today is checked here of the sheet's day.

use super::super::event::Event;
use super::super::follow_up::rules::RuleSet;
use super::super::herd::Scope;
use super::super::history::standing::Standing;
use super::super::ids::{FarmId, RecordId};
use super::super::instruction::{given, last_day, review_on};
use super::super::known::as_of;
use super::super::record::Record;
use super::transcribe::{Snag, SnagWhy};
use chrono::NaiveDate;

/// The day of a sheet, and the rules by which the farm went then.
#[derive(Debug, Clone, Copy)]
pub struct Then<'a> {
    /// The day.
    pub on: NaiveDate,
    /// The rules.
    pub rules: &'a RuleSet,
}

/// The newest instruction for those claws on that day, ended or not: a sheet entered twice means the same one.
pub(super) fn given_for(records: &[Record], farm: FarmId, scope: Scope, on: NaiveDate) -> Option<RecordId> {
    let standing = Standing::of(records.to_vec());
    let is_meant = |record: &&Record| {
        record.on <= on
            && matches!(record.event(), Some(Event::Instructed { scope: for_these, .. }) if *for_these == scope)
    };
    standing.about(farm.0).rev().find(is_meant).map(|record| record.id)
}

/// The newest instruction for those claws that held on that day goes on until the day said, else until the last that the rule
/// allows. What was told so already is told as it was, so that a sheet entered twice says the same.
pub(super) fn goes_on(
    farm: FarmId,
    scope: Scope,
    words: String,
    until: Option<NaiveDate>,
    records: &[Record],
    Then { on, rules }: Then<'_>,
) -> Result<Event, Snag> {
    let standing = Standing::of(as_of(records, on));
    let told = standing.about(farm.0).rev().filter(|record| record.on == on).filter_map(Record::event);
    for event in told {
        if let Event::InstructionReviewed { instruction, review_on, words: said } = event
            && *said == words
            && (until.is_none() || *review_on == until)
            && scope_of(&standing, *instruction) == Some(scope)
        {
            return Ok(event.clone());
        }
    }
    let held = given(&standing, farm).standing;
    let not_held = Snag { fact: 0, why: SnagWhy::NotHeld { scope } };
    let one = held.iter().rev().find(|one| one.scope == scope).ok_or(not_held)?;
    let until = review(until, Then { on, rules })?.unwrap_or_else(|| last_day(on, rules));
    Ok(Event::InstructionReviewed { instruction: one.id, review_on: Some(until), words })
}

/// The day that was said to look at one again, where the rule allows it.
pub(super) fn review(said: Option<NaiveDate>, Then { on, rules }: Then<'_>) -> Result<Option<NaiveDate>, Snag> {
    let within = rules.instruction.review;
    let refused = |why| Snag { fact: 0, why: SnagWhy::NoReview { why, within } };
    said.map(|day| review_on(day, on, rules)).transpose().map_err(refused)
}

/// For which claws an instruction was given.
pub(super) fn scope_of(standing: &Standing, id: RecordId) -> Option<Scope> {
    let given = standing.records().iter().find(|record| record.id == id)?;
    if let Some(Event::Instructed { scope, .. }) = given.event() { Some(*scope) } else { None }
}
