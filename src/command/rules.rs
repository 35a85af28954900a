//! `crushbook rules`: prints the rules in force as a file, or adopts such a file for the practice or one farm. What was
//! adopted is a record, so two tablets that joined their books go by the same rules.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::press::press;
use super::{World, place};
use crate::domain::event::Event;
use crate::domain::follow_up::rules::{RuleSet, Rules};
use crate::domain::history::standing::Standing;
use crate::domain::ids::{FarmId, RecordId};
use crate::domain::known::as_of;
use crate::domain::record::Record;
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use crate::store::error::StoreError;
use crate::store::lists::first_of;
use crate::wire::rules::{print, read};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::path::Path;

/// Prints the rules in force, or adopts a file.
///
/// # Errors
/// A file that cannot be read, or every problem of it; then nothing is adopted.
pub fn rules(cli: &Cli, world: &mut World, file: Option<&Path>, farm: Option<&str>) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let farms = Farms::of(store)?.0;
        let farm = farm.map(|name| farms.meant(Some(name))).transpose()?;
        let (rules, problems) = in_force(store)?;
        match file {
            Some(file) => adopt(store, cli, world, &rules, file, farm),
            None => {
                say(world, &problems)?;
                let set = farm.map_or(&rules.practice, |farm| rules.of(farm));
                write!(world.out, "{}", print(set))?;
                Ok(())
            }
        }
    })
}

fn adopt(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    rules: &Rules,
    file: &Path,
    farm: Option<FarmId>,
) -> Result<(), Fault> {
    let (name, bytes) = place::named_file(file, "a file of rules")?;
    let over = if farm.is_some() { rules.practice.clone() } else { RuleSet::default() };
    let (_, problems) = read(&name, &bytes, &over);
    if !problems.is_empty() {
        let causes = problems.iter().map(ToString::to_string).collect();
        let what = format!("{name} was not adopted: the rules stay as they are");
        return Err(Fault::failed(what, "crushbook rules prints those in force.").because(causes));
    }
    let text = String::from_utf8_lossy(&bytes).into_owned();
    press(store, cli, world, vec![(RecordId::PRACTICE, Event::RulesAdopted { farm, text })])?;
    writeln!(world.out, "adopted; the due list goes by it from now on")?;
    Ok(())
}

/// The rules in force: what was adopted last, for the practice and for farms, over the defaults. With every problem of an
/// adopted text, in whose place the defaults hold.
///
/// # Errors
/// What the store says.
pub fn in_force(store: &Store) -> Result<(Rules, Vec<String>), StoreError> {
    adopted(store, store.records(RecordId::PRACTICE)?.0)
}

/// The rules that were in force on a day: what was adopted later is left out. For paper of that day.
///
/// # Errors
/// What the store says.
pub fn in_force_on(store: &Store, day: NaiveDate) -> Result<(Rules, Vec<String>), StoreError> {
    adopted(store, as_of(&store.records(RecordId::PRACTICE)?.0, day))
}

fn adopted(store: &Store, records: Vec<Record>) -> Result<(Rules, Vec<String>), StoreError> {
    let (rows, _) = store.farms()?;
    let (mut practice, mut farms) = (None, BTreeMap::new());
    for record in Standing::of(records).records() {
        if let Some(Event::RulesAdopted { farm, text }) = record.event() {
            let adopted = (format!("rules adopted on {}", words::day(record.on)), text.clone());
            match farm {
                None => practice = Some(adopted),
                Some(farm) => drop(farms.insert(first_of(&rows, *farm), adopted)),
            }
        }
    }
    let mut problems = Vec::new();
    let mut set = |adopted: &(String, String), over: &RuleSet| {
        let (set, found) = read(&adopted.0, adopted.1.as_bytes(), over);
        problems.extend(found.iter().map(ToString::to_string));
        set
    };
    let practice = practice.map_or_else(RuleSet::default, |adopted| set(&adopted, &RuleSet::default()));
    let sets: BTreeMap<FarmId, RuleSet> =
        farms.iter().map(|(farm, adopted)| (*farm, set(adopted, &practice))).collect();
    // Joined farms are one: what was adopted last for any of them holds for all.
    let all = rows.iter().map(|row| row.farm).chain(farms.keys().copied());
    let farms = all.filter_map(|farm| Some((farm, sets.get(&first_of(&rows, farm))?.clone()))).collect();
    Ok((Rules { practice, farms }, problems))
}

/// The rules in force for a command, which says what is wrong with them and goes on.
///
/// # Errors
/// What the store or the output says.
pub fn for_list(store: &Store, world: &mut World) -> Result<Rules, Fault> {
    let (rules, problems) = in_force(store)?;
    say(world, &problems)?;
    Ok(rules)
}

fn say(world: &mut World, problems: &[String]) -> Result<(), Fault> {
    for problem in problems {
        writeln!(world.err, "crushbook: {}", safe(problem))?;
    }
    Ok(())
}
