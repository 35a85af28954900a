//! `crushbook instruct`: a standing instruction of a farm is given, looked at again, or ended.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::{Fault, name};
use super::herd::option;
use super::press::press;
use super::{World, note, place, rules, today};
use crate::domain::event::Event;
use crate::domain::herd::Scope;
use crate::domain::ids::FarmId;
use crate::domain::instruction::{Instruction, last_day, review_on, standing};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::which::{NotOne, Which, alike, meant};
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use chrono::NaiveDate;

/// What was asked for.
pub struct Asked<'a> {
    /// Whom it is for.
    pub scope: Scope,
    /// What is to be done; of one that was given some of its words.
    pub text: Option<&'a str>,
    /// Who asked for it.
    pub by: &'a str,
    /// Why.
    pub why: &'a str,
    /// The day to look at it again.
    pub review: Option<NaiveDate>,
    /// The vet, of one that takes horn away.
    pub vet: Option<&'a str>,
    /// It takes no horn away.
    pub takes_no_horn: bool,
    /// It was looked at again and goes on.
    pub goes_on: bool,
    /// It holds no longer, and why.
    pub end: Option<&'a str>,
    /// The day on which the one that is meant was given.
    pub since: Option<NaiveDate>,
}

/// Gives an instruction, or reviews or ends the one that is meant for these feet.
///
/// # Errors
/// A farm that is not there, nothing to end or several, no words, no word about horn.
pub fn instruct(cli: &Cli, world: &mut World, farm: Option<&str>, asked: &Asked<'_>) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        match asked.end {
            Some(why) => end(store, cli, world, farm, (asked, why))?,
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
    if asked.since.is_some() {
        return Err(Fault::usage(
            "--since tells which of those that were given is meant",
            "Add --goes-on, or --end WHY.",
        ));
    }
    let vet = vet(asked)?;
    new(store, farm, asked.scope, text)?;
    let review = review(store, cli, world, farm, asked.review)?;
    let event = Event::Instructed {
        farm,
        scope: asked.scope,
        text: text.to_owned(),
        asked_by: name("who asked for it", asked.by)?,
        why: asked.why.trim().to_owned(),
        review_on: asked.review,
        vet,
    };
    press(store, cli, world, vec![(farm.0, event)])?;
    writeln!(world.out, "It stands beside the map of {} from now on.", asked.scope.word().replace('-', " "))?;
    writeln!(world.out, "It is looked at again on {}.", words::day(review))?;
    Ok(())
}

/// The vet of one that takes horn away, empty for one that takes none; one of both is said, and who asked and why, as the screens
/// ask it. What is missing is told all at once.
fn vet(asked: &Asked<'_>) -> Result<String, Fault> {
    let horn = "--takes-no-horn, or --vet NAME where it does: then it is the vet's, and stands with the name and the least sole";
    let vet = match asked.vet.map(str::trim) {
        Some("") => Err(("the vet has no name", horn)),
        Some(vet) => Ok(vet.to_owned()),
        None if asked.takes_no_horn => Ok(String::new()),
        None => Err(("does it take horn away?", horn)),
    };
    let unsaid = |text: &str, what, how| text.trim().is_empty().then_some((what, how));
    let mut missing: Vec<(&str, &str)> = Vec::new();
    missing.extend(unsaid(asked.by, "who asked for it?", "--by NAME"));
    missing.extend(unsaid(asked.why, "why?", "--why REASON"));
    missing.extend(vet.as_ref().err());
    let told = |part: fn(&(&'static str, &'static str)) -> &'static str| missing.iter().map(part).collect::<Vec<_>>();
    let (what, how) = (told(|(what, _)| what).join(" "), told(|(_, how)| how).join("; "));
    match vet {
        Ok(vet) if missing.is_empty() && vet.is_empty() => Ok(vet),
        Ok(vet) if missing.is_empty() => name("the vet's name", &vet),
        Ok(_) | Err(_) => Err(Fault::usage(what, format!("Add {how}. Nothing was written."))),
    }
}

/// Whether none holds there for these feet in the same words.
fn new(store: &Store, farm: FarmId, scope: Scope, text: &str) -> Result<(), Fault> {
    let held = standing(store.records(farm.0)?.0, farm);
    let Some(one) = alike(&held, scope, text, None) else { return Ok(()) };
    let feet = scope.word();
    let what =
        format!("it holds there already for {}, since {}: {}", feet.replace('-', " "), words::day(one.since), one.text);
    let next = format!(
        "crushbook instruct {feet} --goes-on says that it was looked at again, --end WHY ends it; what is done otherwise is said in \
         other words. Nothing was written."
    );
    Err(Fault::usage(what, next))
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
    let one = one(store, farm, asked)?;
    let day = review(store, cli, world, farm, asked.review)?;
    let event =
        Event::InstructionReviewed { instruction: one.id, review_on: Some(day), words: asked.why.trim().to_owned() };
    press(store, cli, world, vec![(farm.0, event)])?;
    writeln!(world.out, "Goes on: {}", safe(&one.text))?;
    writeln!(world.out, "It is looked at again on {}.", words::day(day))?;
    Ok(())
}

/// The instruction for these feet that is meant: the only one that holds, or the one that was named.
fn one(store: &Store, farm: FarmId, asked: &Asked<'_>) -> Result<Instruction, Fault> {
    let held = standing(store.records(farm.0)?.0, farm);
    let which = Which { words: asked.text.unwrap_or_default().to_owned(), since: asked.since };
    let feet = asked.scope.word().replace('-', " ");
    meant(&held, asked.scope, &which).cloned().map_err(|not_one| match not_one {
        NotOne::NoneHolds => Fault::failed(
            format!("no instruction for {feet} holds there"),
            "crushbook farm NAME shows those that hold.",
        ),
        NotOne::Which(hold) => {
            let hold = hold.iter().map(|(text, since)| format!("since {}: {text}", words::day(*since))).collect();
            let next = "Add some of its words behind the feet, or --since with its day. Nothing was written.";
            Fault::usage(format!("which instruction for {feet} is meant?"), next).because(hold)
        }
    })
}

fn end(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    farm: FarmId,
    (asked, why): (&Asked<'_>, &str),
) -> Result<(), Fault> {
    let one = one(store, farm, asked)?;
    if why.trim().is_empty() {
        return Err(Fault::usage("why is it ended?", "Say it behind --end. Nothing was written."));
    }
    let ended = Event::InstructionEnded { instruction: one.id, why: why.trim().to_owned() };
    press(store, cli, world, vec![(farm.0, ended)])?;
    writeln!(world.out, "Ended: {}", safe(&one.text))?;
    Ok(())
}
