//! `crushbook take-off-list`: what one farm is to take off, as text, page, calendar or JSON.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::form::TakeOffForm;
use super::{World, json, note, place, practice, rules, today};
use crate::domain::event::Event;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::FarmFact;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::Record;
use crate::report::take_off::calendar::entries;
use crate::report::take_off::html::html;
use crate::report::take_off::ics::ics;
use crate::report::take_off::text::{pages, text};
use crate::report::take_off::{Animal, Farm, TakeOff};
use crate::report::words::Words;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Prints the list of a farm.
pub fn take_off(cli: &Cli, world: &mut World, farm: Option<&str>, form: TakeOffForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| write(store, cli, world, farm, form))
}

fn write(store: &Store, cli: &Cli, world: &mut World, farm: Option<&str>, form: TakeOffForm) -> Result<(), Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let farm = farms.meant(farm)?;
    let words = practice::words(cli, world)?;
    let (rules, today) = (rules::for_list(store, world)?, today(cli, world));
    let (animals, problems) = animals(store, farm, form)?;
    note(world, &problems)?;
    let list = TakeOff::of(named(store, farm)?, &animals, &rules, today, words);
    match form {
        TakeOffForm::Text => write!(world.out, "{}", text(&list, words))?,
        TakeOffForm::Html => writeln!(world.out, "{}", html(&list, words))?,
        TakeOffForm::Ics => {
            let around = around(store, world, farm)?;
            write!(world.out, "{}", ics(&entries(&list, &animals, &around, &rules, words)))?;
        }
        TakeOffForm::Json => writeln!(world.out, "{}", json::written(&json::take_off(&list)))?,
    }
    Ok(())
}

/// The list of a farm as text, in pages of so many rows to be photographed from the screen.
///
/// # Errors
/// What the store says.
pub fn screen_pages(
    store: &Store,
    farm: FarmId,
    (rules, today): (&Rules, NaiveDate),
    words: Words,
    rows: usize,
) -> Result<(Vec<Vec<String>>, Vec<Problem>), StoreError> {
    let (animals, problems) = animals(store, farm, TakeOffForm::Text)?;
    let list = TakeOff::of(named(store, farm)?, &animals, rules, today, words);
    Ok((pages(&list, words, rows), problems))
}

/// Whoever has something open; for the calendar all animals of the farm, since it also tells what has come off.
fn animals(store: &Store, farm: FarmId, form: TakeOffForm) -> Result<(Vec<Animal>, Vec<Problem>), StoreError> {
    let (open, mut problems) = store.open_items(Some(farm))?;
    let mut ids: BTreeSet<AnimalId> = open.iter().map(|open| open.animal).collect();
    if form == TakeOffForm::Ics {
        let (rows, more) = store.animals(farm)?;
        problems.extend(more);
        ids.extend(rows.iter().map(|row| row.of));
    }
    let mut animals = Vec::with_capacity(ids.len());
    for id in ids {
        let (records, more) = store.records(id.0)?;
        problems.extend(more);
        animals.push(Animal::of(records, id));
    }
    Ok((animals, problems))
}

/// Records that may change a word of every entry: the farm's own, and those of the practice but for other farms' rules.
fn around(store: &Store, world: &mut World, farm: FarmId) -> Result<Vec<Record>, Fault> {
    let (mut records, problems) = store.records(farm.0)?;
    note(world, &problems)?;
    let (practice, problems) = store.records(RecordId::PRACTICE)?;
    note(world, &problems)?;
    let (farms, _) = Farms::of(store)?;
    let of_another = |record: &Record| match record.event() {
        Some(Event::RulesAdopted { farm: Some(of), .. }) => farms.first(*of) != farm,
        Some(_) | None => false,
    };
    records.extend(practice.into_iter().filter(|record| !of_another(record)));
    Ok(records)
}

/// The farm with its vet and its people.
fn named(store: &Store, farm: FarmId) -> Result<Farm, StoreError> {
    let (rows, _) = store.farms()?;
    let row = rows.into_iter().find(|row| row.farm == farm);
    let fact = |fact: FarmFact| {
        let facts = row.iter().flat_map(|row| &row.facts);
        facts.filter(|(known, _)| *known == fact).map(|(_, words)| words.clone()).next().unwrap_or_default()
    };
    let name = row.as_ref().map(|row| row.name.clone()).unwrap_or_default();
    let (vet, vet_phone) = (fact(FarmFact::Vet), fact(FarmFact::VetPhone));
    Ok(Farm { name, vet, vet_phone, contacts: row.map(|row| row.contacts).unwrap_or_default() })
}
