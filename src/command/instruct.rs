//! `crushbook instruct`: a standing instruction of a farm is given, looked at again, or ended.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::herd::option;
use super::press::press;
use super::{World, note, place, rules, today};
use crate::domain::event::Event;
use crate::domain::herd::Scope;
use crate::domain::ids::FarmId;
use crate::domain::instruction::{Instruction, last_day, review_on, standing};
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use chrono::NaiveDate;

/// What was asked for.
pub struct Asked<'a> {
    /// Whom it is for.
    pub scope: Scope,
    /// What is to be done.
    pub text: Option<&'a str>,
    /// Who asked for it.
    pub by: &'a str,
    /// Why.
    pub why: &'a str,
    /// The day to look at it again.
    pub review: Option<NaiveDate>,
    /// The vet.
    pub vet: &'a str,
    /// It was looked at again and goes on.
    pub goes_on: bool,
    /// It holds no longer, and why.
    pub end: Option<&'a str>,
}

/// Gives an instruction, or reviews or ends the newest one for these feet.
///
/// # Errors
/// A farm that is not there, nothing to end, no words.
pub fn instruct(cli: &Cli, world: &mut World, farm: Option<&str>, asked: &Asked<'_>) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        match asked.end {
            Some(why) => end(store, cli, world, farm, (asked.scope, why))?,
            None if asked.goes_on => go_on(store, cli, world, farm, asked)?,
            None => give(store, cli, world, farm, asked)?,
        }
        writeln!(world.out, "crushbook undo{} takes it back.", option(&farms.name(farm)))?;
        Ok(())
    })
}

fn give(store: &mut Store, cli: &Cli, world: &mut World, farm: FarmId, asked: &Asked<'_>) -> Result<(), Fault> {
    let text = asked.text.unwrap_or_default().trim();
    if text.is_empty() {
        return Err(Fault::usage("the instruction has no words", "Say what is to be done at each of these feet."));
    }
    let review = review(store, cli, world, farm, asked.review)?;
    let event = Event::Instructed {
        farm,
        scope: asked.scope,
        text: text.to_owned(),
        asked_by: asked.by.trim().to_owned(),
        why: asked.why.trim().to_owned(),
        review_on: asked.review,
        vet: asked.vet.trim().to_owned(),
    };
    press(store, cli, world, vec![(farm.0, event)])?;
    writeln!(world.out, "It stands beside the map of {} from now on.", asked.scope.word().replace('-', " "))?;
    writeln!(world.out, "It is looked at again on {}.", words::day(review))?;
    Ok(())
}

/// The day to look at it again: the one asked for where the rule allows it, else the last that it allows.
fn review(
    store: &Store,
    cli: &Cli,
    world: &mut World,
    farm: FarmId,
    asked: Option<NaiveDate>,
) -> Result<NaiveDate, Fault> {
    let (today, rules) = (today(cli, world), rules::for_list(store, world)?);
    let rules = rules.of(farm);
    let Some(day) = asked else { return Ok(last_day(today, rules)) };
    review_on(day, today, rules).map_err(|why| {
        let within = rules.instruction.review;
        let next = format!("An instruction is looked at again within {within} days; nothing was written.");
        Fault::usage(format!("the review: {why}"), next)
    })
}

fn go_on(store: &mut Store, cli: &Cli, world: &mut World, farm: FarmId, asked: &Asked<'_>) -> Result<(), Fault> {
    let newest = newest(store, farm, asked.scope)?;
    let day = review(store, cli, world, farm, asked.review)?;
    let event =
        Event::InstructionReviewed { instruction: newest.id, review_on: Some(day), words: asked.why.trim().to_owned() };
    press(store, cli, world, vec![(farm.0, event)])?;
    writeln!(world.out, "Goes on: {}", safe(&newest.text))?;
    writeln!(world.out, "It is looked at again on {}.", words::day(day))?;
    Ok(())
}

/// The newest instruction that holds for these feet.
fn newest(store: &Store, farm: FarmId, scope: Scope) -> Result<Instruction, Fault> {
    let given = standing(store.records(farm.0)?.0, farm);
    given.into_iter().rev().find(|one| one.scope == scope).ok_or_else(|| {
        let what = format!("no instruction for {} holds there", scope.word().replace('-', " "));
        Fault::failed(what, "crushbook farm NAME shows those that hold.")
    })
}

fn end(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    farm: FarmId,
    (scope, why): (Scope, &str),
) -> Result<(), Fault> {
    let newest = newest(store, farm, scope)?;
    let ended = Event::InstructionEnded { instruction: newest.id, why: why.trim().to_owned() };
    press(store, cli, world, vec![(farm.0, ended)])?;
    writeln!(world.out, "Ended: {}", safe(&newest.text))?;
    Ok(())
}
