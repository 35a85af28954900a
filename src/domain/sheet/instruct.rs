//! Which standing instruction a sheet means, and until when one that was looked at again goes on: what the command and the screens
//! check of today is checked here of the sheet's day.

use super::super::event::Event;
use super::super::follow_up::rules::RuleSet;
use super::super::herd::Scope;
use super::super::history::standing::Standing;
use super::super::ids::{FarmId, RecordId};
use super::super::instruction::{Given, Instruction, given, last_day, review_on};
use super::super::known::as_of;
use super::super::record::Record;
use super::super::which::{NotOne, Which, alike, meant};
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

/// The instruction for those claws that a sheet of that day ends. What was told so already is told as it was, so that a sheet entered
/// twice says the same; of one that two people ended the end of each stands.
pub(super) fn ended(
    farm: FarmId,
    (scope, which): (Scope, &Which),
    why: String,
    records: &[Record],
    on: NaiveDate,
) -> Result<Event, Snag> {
    let standing = Standing::of(as_of(records, on));
    let all = given(&standing, farm);
    let told = |event: &&Event| {
        matches!(event, Event::InstructionEnded { instruction, why: said }
            if *said == why && fits(&all, *instruction, scope, which))
    };
    if let Some(event) = told_on(&standing, farm, on).find(told) {
        return Ok(event.clone());
    }
    let instruction = match meant(&all.standing, scope, which) {
        Ok(one) => one.id,
        Err(not_one) => ended_before(&all, scope, which).ok_or_else(|| snag(not_one, scope, &all))?,
    };
    Ok(Event::InstructionEnded { instruction, why })
}

/// The instruction for those claws that held on that day goes on until the day said, else until the last that the rule
/// allows. What was told so already is told as it was, so that a sheet entered twice says the same.
pub(super) fn goes_on(
    farm: FarmId,
    (scope, which): (Scope, &Which),
    words: String,
    until: Option<NaiveDate>,
    records: &[Record],
    Then { on, rules }: Then<'_>,
) -> Result<Event, Snag> {
    let standing = Standing::of(as_of(records, on));
    let all = given(&standing, farm);
    let told = |event: &&Event| {
        matches!(event, Event::InstructionReviewed { instruction, review_on, words: said }
            if *said == words && (until.is_none() || *review_on == until) && fits(&all, *instruction, scope, which))
    };
    if let Some(event) = told_on(&standing, farm, on).find(told) {
        return Ok(event.clone());
    }
    let one = meant(&all.standing, scope, which).map_err(|not_one| match not_one {
        NotOne::NoneHolds => Snag { fact: 0, why: SnagWhy::NotHeld { scope } },
        NotOne::Which(_) => snag(not_one, scope, &all),
    })?;
    let until = review(until, Then { on, rules })?.unwrap_or_else(|| last_day(on, rules));
    Ok(Event::InstructionReviewed { instruction: one.id, review_on: Some(until), words })
}

/// Whether none for those claws held on that day in the same words.
pub(super) fn not_twice(
    farm: FarmId,
    (scope, text): (Scope, &str),
    records: &[Record],
    on: NaiveDate,
) -> Result<(), Snag> {
    let held = given(&Standing::of(as_of(records, on)), farm).standing;
    let one = alike(&held, scope, text, None).map(|one| (one.text.clone(), one.since));
    one.map_or(Ok(()), |one| Err(Snag { fact: 0, why: SnagWhy::HoldsAlready { scope, one } }))
}

/// How a sheet of that day says which one is meant: nothing where no other for the same claws held on that day, at its end or before.
pub(super) fn named(given: &Given, id: RecordId, on: NaiveDate) -> Option<(Scope, Which)> {
    let one = every(given).find(|one| one.id == id)?;
    let ended = |other: &Instruction| given.ended.iter().any(|end| end.was.id == other.id && end.on < on);
    let others: Vec<&Instruction> = every(given)
        .filter(|other| other.id != id && other.scope == one.scope && other.since <= on && !ended(other))
        .collect();
    Some((one.scope, Which::of(one, &others)))
}

/// Whether one given that day is one of several of the same words for those claws that held at its end.
pub(super) fn held_already(given: &Given, (scope, text): (Scope, &str), on: NaiveDate) -> bool {
    let ended = |one: &Instruction| given.ended.iter().any(|end| end.was.id == one.id && end.on <= on);
    let held = every(given).filter(|one| one.since <= on && !ended(one));
    held.filter(|one| alike(std::slice::from_ref(*one), scope, text, None).is_some()).count() > 1
}

/// What was told of a farm on that day, the newest first.
fn told_on(standing: &Standing, farm: FarmId, on: NaiveDate) -> impl Iterator<Item = &Event> {
    standing.about(farm.0).rev().filter(move |record| record.on == on).filter_map(Record::event)
}

/// All that were given, those that hold and those that were ended.
fn every(given: &Given) -> impl Iterator<Item = &Instruction> {
    given.standing.iter().chain(given.ended.iter().map(|end| &end.was))
}

/// Whether that one may be meant.
fn fits(given: &Given, id: RecordId, scope: Scope, which: &Which) -> bool {
    let of_scope: Vec<&Instruction> = every(given).filter(|one| one.scope == scope).collect();
    which.among(&of_scope).iter().any(|one| one.id == id)
}

/// The one that was ended last, where none holds that may be meant.
fn ended_before(given: &Given, scope: Scope, which: &Which) -> Option<RecordId> {
    let held: Vec<&Instruction> = given.standing.iter().filter(|one| one.scope == scope).collect();
    let ended: Vec<&Instruction> = given.ended.iter().map(|end| &end.was).filter(|was| was.scope == scope).collect();
    which.among(&ended).last().filter(|_| which.among(&held).is_empty()).map(|one| one.id)
}

fn snag(not_one: NotOne, scope: Scope, given: &Given) -> Snag {
    let why = match not_one {
        NotOne::Which(hold) => SnagWhy::WhichInstruction { scope, hold },
        NotOne::NoneHolds if every(given).any(|one| one.scope == scope) => SnagWhy::NotHeld { scope },
        NotOne::NoneHolds => SnagWhy::NoInstruction { scope },
    };
    Snag { fact: 0, why }
}

/// The day that was said to look at one again, where the rule allows it.
pub(super) fn review(said: Option<NaiveDate>, Then { on, rules }: Then<'_>) -> Result<Option<NaiveDate>, Snag> {
    let within = rules.instruction.review;
    let refused = |why| Snag { fact: 0, why: SnagWhy::NoReview { why, within } };
    said.map(|day| review_on(day, on, rules)).transpose().map_err(refused)
}
