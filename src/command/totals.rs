//! `crushbook totals`: what the day at a farm adds up to.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::form::ListForm;
use super::visits::sum;
use super::{World, json, note, place, practice, today};
use crate::domain::farm_call::during;
use crate::domain::history::{History, Turn, TurnState};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::known::as_of;
use crate::domain::totals::Totals;
use crate::domain::visit::Visits;
use crate::domain::visit_log::{Visit, visits as log};
use crate::domain::visit_sum::{InMilk, VisitSum};
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::totals::lines;
use crate::report::visit::lines as said_of;
use crate::report::words;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Prints the totals of a farm's day.
///
/// # Errors
/// An unknown farm, and what the store says.
pub fn totals(cli: &Cli, world: &mut World, farm: Option<&str>, form: ListForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        let on = today(cli, world);
        let (totals, problems) = of_day(store, farm, on)?;
        note(world, &problems)?;
        let (visits, problems) = on_day(store, farm, on)?;
        note(world, &problems)?;
        let mut sums = Vec::new();
        for visit in visits.of_day(on) {
            let (sum, problems) = of_visit(store, farm, visit.clone(), on)?;
            note(world, &problems)?;
            sums.push(sum);
        }
        // Of one visit all its days are counted; of several, the day.
        let totals = if let [sum] = sums.as_slice() { sum.totals } else { totals };
        write(cli, world, (&farms.name(farm), on), &totals, (&sums, form))
    })
}

/// Writes counts and what is said of the visits that they are of.
///
/// # Errors
/// Where it cannot be written.
pub fn write(
    cli: &Cli,
    world: &mut World,
    (farm, on): (&str, NaiveDate),
    totals: &Totals,
    (sums, form): (&[VisitSum], ListForm),
) -> Result<(), Fault> {
    match form {
        ListForm::Text => {
            let words = practice::words(cli, world)?;
            writeln!(world.out, "{}, {} {}", safe(farm), words::weekday(on), on.format("%Y"))?;
            for line in lines(totals, words).into_iter().chain(sums.iter().flat_map(said_of)) {
                writeln!(world.out, "  {line}")?;
            }
        }
        ListForm::Json => {
            let mut value = json::totals(totals, farm, on);
            value["visits"] = sums.iter().map(sum).collect();
            writeln!(world.out, "{}", json::written(&value))?;
        }
    }
    Ok(())
}

/// The visits of a farm as they were known on a day.
///
/// # Errors
/// What the store says.
pub fn on_day(store: &Store, farm: FarmId, on: NaiveDate) -> Result<(Visits, Vec<Problem>), StoreError> {
    let (records, mut problems) = store.records(farm.0)?;
    let (rows, more) = store.day(farm, on)?;
    problems.extend(more);
    let turns = rows.iter().map(|row| row.visit).filter(|visit| visit.0 != RecordId::PRACTICE).collect();
    Ok((Visits::of(log(as_of(&records, on), farm), &turns, on), problems))
}

/// Adds up a visit, the turns of all its days up to one; its own days and any other that has turns of it.
///
/// # Errors
/// What the store says.
pub fn of_visit(
    store: &Store,
    farm: FarmId,
    visit: Visit,
    until: NaiveDate,
) -> Result<(VisitSum, Vec<Problem>), StoreError> {
    let (mut rows, mut problems) = (Vec::new(), Vec::new());
    for day in visit.days.iter().filter(|day| **day <= until).chain([&until]).collect::<BTreeSet<_>>() {
        let (more, problem) = store.day(farm, *day)?;
        rows.extend(more.into_iter().filter(|row| row.visit == visit.id));
        problems.extend(problem);
    }
    let came: BTreeSet<AnimalId> = rows.iter().map(|row| row.animal).collect();
    let (histories, more) = histories(store, &came, until)?;
    problems.extend(more);
    let is_of = |turn: &&Turn| turn.visit == visit.id && turn.on <= until;
    let turns =
        histories.iter().flat_map(|(animal, history)| history.turns.iter().filter(is_of).map(|turn| (*animal, turn)));
    let waits = histories
        .iter()
        .filter(|(_, history)| history.turns.iter().rfind(is_of).is_some_and(|turn| turn.state != TurnState::Signed));
    // Whoever got away before a foot was up did not come.
    let looked_at = |history: &History| history.turns.iter().filter(is_of).any(Turn::is_look);
    let looked_at = histories.iter().filter(|(_, history)| looked_at(history)).map(|(animal, _)| *animal).collect();
    // Who was in milk on that day, whatever was told since.
    let on = visit.last().min(until);
    let (herd, more) = herd_on(store, farm, on)?;
    problems.extend(more);
    let here =
        herd.iter().filter(|(_, then)| then.left.is_none()).map(|(animal, then)| (*animal, then.herd.is_what(on)));
    let (records, more) = store.records(farm.0)?;
    problems.extend(more);
    let calls = during(records, farm, visit.id, until);
    let sum = VisitSum {
        totals: Totals::of(turns),
        waits: waits.map(|(_, history)| called(&history.labels)).collect(),
        in_milk: InMilk::of(here, &looked_at),
        calls,
        visit,
    };
    Ok((sum, problems))
}

type Histories = Vec<(AnimalId, History)>;

/// These animals as they were known at the end of a day: what was done in a turn that went on later is counted then.
fn histories(
    store: &Store,
    animals: &BTreeSet<AnimalId>,
    until: NaiveDate,
) -> Result<(Histories, Vec<Problem>), StoreError> {
    let (mut histories, mut problems) = (Vec::new(), Vec::new());
    for animal in animals {
        let (records, more) = store.records(animal.0)?;
        problems.extend(more);
        histories.push((*animal, History::of(as_of(&records, until), *animal)));
    }
    Ok((histories, problems))
}

/// Every animal of a farm as she was known on a day.
fn herd_on(store: &Store, farm: FarmId, day: NaiveDate) -> Result<(Histories, Vec<Problem>), StoreError> {
    let (rows, mut problems) = store.animals(farm)?;
    let mut herd = Vec::new();
    for animal in rows.iter().map(|row| row.of).collect::<BTreeSet<_>>() {
        let (records, more) = store.records(animal.0)?;
        problems.extend(more);
        let known = as_of(&records, day);
        if known.iter().any(|record| record.on <= day) {
            herd.push((animal, History::of(known, animal)));
        }
    }
    Ok((herd, problems))
}

/// Counts the turns of a day on a farm, the ones set aside too.
///
/// # Errors
/// What the store says.
pub fn of_day(store: &Store, farm: FarmId, on: NaiveDate) -> Result<(Totals, Vec<Problem>), StoreError> {
    let (rows, mut problems) = store.day(farm, on)?;
    let animals: BTreeSet<AnimalId> = rows.iter().map(|row| row.animal).collect();
    let (histories, more) = histories(store, &animals, on)?;
    problems.extend(more);
    let turns = histories
        .iter()
        .flat_map(|(animal, history)| history.turns.iter().filter(|turn| turn.on == on).map(|turn| (*animal, turn)));
    Ok((Totals::of(turns), problems))
}
