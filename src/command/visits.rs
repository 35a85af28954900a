//! `crushbook visits`: where and when, the newest first, of one farm or of all.

use super::cli::{Cli, TableForm};
use super::farm::{Farms, people};
use super::fault::Fault;
use super::json::{table, written};
use super::{World, note, place, today};
use crate::domain::herd::FarmFact;
use crate::domain::history::TurnState;
use crate::domain::ids::{AnimalId, FarmId, VisitId};
use crate::domain::visit_log::{Visit, visits as of_farm};
use crate::domain::vocabulary::Vocabulary;
use crate::report::visits::{Line, text};
use crate::store::Store;
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Prints the visits up to a day.
///
/// # Errors
/// An unknown farm, and what the store says.
pub fn visits(cli: &Cli, world: &mut World, farm: Option<&str>, form: TableForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let only = farm.map(|name| farms.meant(Some(name))).transpose()?;
        let lines = lines(store, world, only, today(cli, world))?;
        match form {
            TableForm::Text => write!(world.out, "{}", text(&lines))?,
            TableForm::Csv => write!(world.out, "{}", table(&FIELDS, &rows(&lines))?)?,
            TableForm::Json => writeln!(world.out, "{}", written(&json!({ "visits": rows(&lines) })))?,
        }
        Ok(())
    })
}

fn lines(store: &Store, world: &mut World, only: Option<FarmId>, until: NaiveDate) -> Result<Vec<Line>, Fault> {
    let names = people(store)?;
    let (farms, problems) = store.farms()?;
    note(world, &problems)?;
    let mut lines = Vec::new();
    let wanted = |farm: FarmId| only.is_none_or(|only| only == farm);
    for farm in farms.iter().filter(|farm| farm.joined_into.is_none() && wanted(farm.farm)) {
        let (records, problems) = store.records(farm.farm.0)?;
        note(world, &problems)?;
        let (rows, problems) = store.days(farm.farm)?;
        note(world, &problems)?;
        let mut seen: BTreeMap<VisitId, (BTreeSet<AnimalId>, BTreeSet<AnimalId>)> = BTreeMap::new();
        for row in rows {
            let (all, signed) = seen.entry(row.visit).or_default();
            all.insert(row.animal);
            if row.state == TurnState::Signed {
                signed.insert(row.animal);
            }
        }
        let address = farm.facts.iter().find(|(fact, _)| *fact == FarmFact::Address);
        for visit in of_farm(records).into_iter().filter(|visit| visit.on <= until) {
            let (all, signed) = seen.get(&visit.id).cloned().unwrap_or_default();
            lines.push(Line {
                farm: farm.name.clone(),
                address: address.map_or(String::new(), |(_, words)| words.clone()),
                by: visit.by.and_then(|by| names.get(&by).cloned()).unwrap_or_default(),
                visit,
                animals: all.len(),
                signed: signed.len(),
            });
        }
    }
    lines.sort_by_cached_key(|line| (Reverse(line.visit.on), line.farm.clone(), Reverse(line.visit.id)));
    Ok(lines)
}

/// Fields of a visit, in the order of a table.
const FIELDS: [&str; 9] = ["farm", "address", "date", "why", "from", "to", "by", "animals", "done"];

fn rows(lines: &[Line]) -> Vec<Value> {
    lines.iter().map(row).collect()
}

/// `farm, address, date, why, from, to, by, animals, done`; what is not known is null.
fn row(line: &Line) -> Value {
    let Visit { on, why, from, to, .. } = line.visit;
    let told = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    json!({
        "farm": line.farm,
        "address": told(&line.address),
        "date": on.to_string(),
        "why": why.word(),
        "from": from.map(|time| time.format("%H:%M").to_string()),
        "to": to.map(|time| time.format("%H:%M").to_string()),
        "by": told(&line.by),
        "animals": line.animals,
        "done": line.signed,
    })
}
