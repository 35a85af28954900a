//! `crushbook visits`: where and when, the newest first, of one farm or of all.

use super::cli::Cli;
use super::day_list::called_in;
use super::farm::{Farms, people};
use super::fault::Fault;
use super::form::TableForm;
use super::json::{table, written};
use super::{World, note, place, today};
use crate::domain::herd::FarmFact;
use crate::domain::history::TurnState;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, PersonId, VisitId};
use crate::domain::known::as_of;
use crate::domain::recorders::Recorders;
use crate::domain::visit_log::{Cleaned, State, Visit, visits as of_farm};
use crate::domain::visit_sum::VisitSum;
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
            TableForm::Csv => write!(world.out, "{}", table(&FIELDS, &cells(&lines))?)?,
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
        let records = as_of(&records, until);
        let mut recorders = Recorders::default();
        recorders.hear(&Standing::of(records.clone()));
        for animal in rows.iter().map(|row| row.animal).collect::<BTreeSet<_>>() {
            let (hers, problems) = store.records(animal.0)?;
            note(world, &problems)?;
            recorders.hear(&Standing::of(as_of(&hers, until)));
        }
        let recorded = recorders.by_visit();
        for row in rows.iter().filter(|row| row.on <= until) {
            let (all, signed) = seen.entry(row.visit).or_default();
            all.insert(row.animal);
            if row.state == TurnState::Signed {
                signed.insert(row.animal);
            }
        }
        let address = farm.facts.iter().find(|(fact, _)| *fact == FarmFact::Address);
        for visit in of_farm(records, farm.farm).into_iter().filter(|visit| visit.on <= until) {
            let (all, signed) = seen.get(&visit.id).cloned().unwrap_or_default();
            lines.push(Line {
                farm: farm.name.clone(),
                address: address.map_or(String::new(), |(_, words)| words.clone()),
                by: named(recorded.get(&visit.id).map_or(&[], Vec::as_slice), &names),
                visit,
                animals: all.len(),
                signed: signed.len(),
            });
        }
    }
    lines.sort_by_cached_key(|line| (Reverse(line.visit.on), line.farm.clone(), Reverse(line.visit.id)));
    Ok(lines)
}

/// The names of these people; whoever was named twice, and joined, is one.
fn named(people: &[PersonId], names: &BTreeMap<PersonId, String>) -> Vec<String> {
    let mut named: Vec<String> = Vec::new();
    for name in people.iter().filter_map(|person| names.get(person)) {
        if !named.contains(name) {
            named.push(name.clone());
        }
    }
    named
}

/// Fields of a visit, in the order of a table.
const FIELDS: [&str; 15] = [
    "farm",
    "address",
    "date",
    "why",
    "from",
    "to",
    "by",
    "animals",
    "done",
    "last_date",
    "herd",
    "cleaned_before",
    "cleaned_after",
    "state",
    "recorded_by",
];

fn rows(lines: &[Line]) -> Vec<Value> {
    lines.iter().map(row).collect()
}

/// The same for a table, in which all names are one cell.
fn cells(lines: &[Line]) -> Vec<Value> {
    let mut rows = rows(lines);
    for (row, line) in rows.iter_mut().zip(lines) {
        row["recorded_by"] = json!(line.by.join("; "));
    }
    rows
}

/// `farm, address, date, why, from, to, by, animals, done`, `last_date` of its days, `herd` (whole or selected), `cleaned_before`
/// and `cleaned_after` as day and time, `state` (open, paused, closed), `recorded_by` with everybody who recorded, of whom `by` is the
/// first; what is not known is null.
fn row(line: &Line) -> Value {
    let Visit { on, why, from, to, .. } = line.visit;
    let visit = &line.visit;
    let told = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    json!({
        "farm": line.farm,
        "address": told(&line.address),
        "date": on.to_string(),
        "why": why.word(),
        "from": from.map(|time| time.format("%H:%M").to_string()),
        "to": to.map(|time| time.format("%H:%M").to_string()),
        "by": line.by.first(),
        "animals": line.animals,
        "done": line.signed,
        "last_date": visit.last().to_string(),
        "herd": herd(visit),
        "cleaned_before": visit.cleaned_before.map(moment),
        "cleaned_after": visit.cleaned_after.map(moment),
        "state": state(visit.state),
        "recorded_by": line.by,
    })
}

/// A visit added up: `why, herd, dates[], cleaned_before, cleaned_after, state, waits[]`, `calls[]` with `date, words, urgent`, and
/// `in_milk` with `of, came, percent, not_told`.
pub fn sum(sum: &VisitSum) -> Value {
    let VisitSum { visit, in_milk, waits, calls, .. } = sum;
    json!({
        "why": visit.why.word(),
        "herd": herd(visit),
        "dates": visit.days.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "cleaned_before": visit.cleaned_before.map(moment),
        "cleaned_after": visit.cleaned_after.map(moment),
        "state": state(visit.state),
        "waits": waits,
        "calls": calls.iter().map(called_in).collect::<Vec<_>>(),
        "in_milk": {
            "of": in_milk.of, "came": in_milk.came, "percent": in_milk.percent(), "not_told": in_milk.untold,
        },
    })
}

fn herd(visit: &Visit) -> Option<&'static str> {
    visit.whole_herd.map(|whole| if whole { "whole" } else { "selected" })
}

fn state(state: State) -> &'static str {
    match state {
        State::Open => "open",
        State::Paused(_) => "paused",
        State::Closed(_) => "closed",
    }
}

/// Day, and time where a clock told it.
fn moment(cleaned: Cleaned) -> String {
    let at = cleaned.at.map_or(String::new(), |at| at.format("T%H:%M").to_string());
    format!("{}{at}", cleaned.on)
}
