//! `crushbook totals`: what the day at a farm adds up to.

use super::cli::{Cli, ListForm};
use super::farm::Farms;
use super::fault::Fault;
use super::{World, json, note, place, practice, today};
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::totals::Totals;
use crate::report::safe::safe;
use crate::report::totals::lines;
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
        match form {
            ListForm::Text => {
                let words = practice::words(cli, world)?;
                writeln!(world.out, "{}, {} {}", safe(&farms.name(farm)), words::weekday(on), on.format("%Y"))?;
                for line in lines(&totals, words) {
                    writeln!(world.out, "  {line}")?;
                }
            }
            ListForm::Json => {
                writeln!(world.out, "{}", json::written(&json::totals(&totals, &farms.name(farm), on)))?;
            }
        }
        Ok(())
    })
}

/// Counts the turns of a day on a farm, the ones set aside too.
///
/// # Errors
/// What the store says.
pub fn of_day(store: &Store, farm: FarmId, on: NaiveDate) -> Result<(Totals, Vec<Problem>), StoreError> {
    let (rows, mut problems) = store.day(farm, on)?;
    let animals: BTreeSet<AnimalId> = rows.iter().map(|row| row.animal).collect();
    let mut histories = Vec::new();
    for animal in animals {
        let (records, more) = store.records(animal.0)?;
        problems.extend(more);
        histories.push((animal, History::of(records, animal)));
    }
    let turns = histories
        .iter()
        .flat_map(|(animal, history)| history.turns.iter().filter(|turn| turn.on == on).map(|turn| (*animal, turn)));
    Ok((Totals::of(turns), problems))
}
