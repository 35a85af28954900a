//! `crushbook instruct`: a standing instruction of a farm is given, or ended.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::herd::option;
use super::press::press;
use super::{World, note, place, rules, today};
use crate::domain::event::Event;
use crate::domain::herd::Scope;
use crate::domain::ids::FarmId;
use crate::domain::instruction::{last_day, review_on, standing};
use crate::domain::vocabulary::Vocabulary;
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
    /// It holds no longer, and why.
    pub end: Option<&'a str>,
}

/// Gives an instruction, or ends the newest one for these feet.
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
    let (today, rules) = (today(cli, world), rules::for_list(store, world)?);
    let rules = rules.of(farm);
    if let Some(day) = asked.review {
        review_on(day, today, rules).map_err(|why| {
            let within = rules.instruction.review;
            let next = format!("An instruction is looked at again within {within} days; nothing was written.");
            Fault::usage(format!("the review: {why}"), next)
        })?;
    }
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
    let review = asked.review.unwrap_or_else(|| last_day(today, rules));
    writeln!(world.out, "It is looked at again on {}.", words::day(review))?;
    Ok(())
}

fn end(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    farm: FarmId,
    (scope, why): (Scope, &str),
) -> Result<(), Fault> {
    let given = standing(store.records(farm.0)?.0);
    let Some(newest) = given.iter().rev().find(|one| one.scope == scope) else {
        let what = format!("no instruction for {} holds there", scope.word().replace('-', " "));
        return Err(Fault::failed(what, "crushbook farm NAME shows those that hold."));
    };
    let ended = Event::InstructionEnded { instruction: newest.id, why: why.trim().to_owned() };
    press(store, cli, world, vec![(farm.0, ended)])?;
    writeln!(world.out, "Ended: {}", crate::report::safe::safe(&newest.text))?;
    Ok(())
}
