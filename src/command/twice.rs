//! `crushbook twice`: what may be in the book twice, and joining, keeping apart and parting it. Also what the screens are told of it.

use super::cli::{Cli, TwiceWhat};
use super::farm::{Farms, of_records};
use super::fault::Fault;
use super::form::ListForm;
use super::press::press;
use super::{World, json, note, place, practice, rules, today};
use crate::domain::event::Event;
use crate::domain::history::standing::Standing;
use crate::domain::history::{History, Join};
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::Record;
use crate::domain::twice::{self, Apart, Called, Kind, Pair, Sketch};
use crate::report;
use crate::report::safe::safe;
use crate::store::Store;
use crate::store::error::StoreError;
use crate::wire::rows::FarmRow;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Lists pairs, or decides about one.
///
/// # Errors
/// A pair or animal that is not there; what the store says.
pub fn twice(
    cli: &Cli,
    world: &mut World,
    what: Option<&TwiceWhat>,
    farm: Option<&str>,
    form: ListForm,
) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| match what {
        None => list(store, cli, world, farm, form),
        Some(TwiceWhat::Join { which }) => match which.as_slice() {
            [one, other] => join_named(store, cli, world, (one, other), farm),
            _ => decide(store, cli, world, (which.first(), farm), true),
        },
        Some(TwiceWhat::KeepApart { number }) => decide(store, cli, world, (Some(number), farm), false),
        Some(TwiceWhat::Part { which }) => part(store, cli, world, which, farm),
    })
}

/// Every pair of a book, with the farm each is asked about on; of one farm where one is named.
struct Listed {
    farms: Farms,
    pairs: Vec<(Option<FarmId>, Pair)>,
}

fn listed(store: &Store, world: &mut World, farm: Option<&str>) -> Result<Listed, Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let only = farm.map(|name| farms.meant(Some(name))).transpose()?;
    let mut pairs = Vec::new();
    for farm in store.farms()?.0.iter().filter(|row| row.joined_into.is_none()).map(|row| row.farm) {
        if only.is_none_or(|only| only == farm) {
            pairs.extend(of_farm(store, farm)?.into_iter().map(|pair| (Some(farm), pair)));
        }
    }
    if only.is_none() {
        pairs.extend(of_practice(store)?.into_iter().map(|pair| (None, pair)));
    }
    Ok(Listed { farms, pairs })
}

/// How many pairs may be one and are offered for joining.
///
/// # Errors
/// What the store says.
pub fn offered(store: &Store, world: &mut World) -> Result<usize, Fault> {
    let pairs = listed(store, world, None)?.pairs;
    Ok(pairs.iter().filter(|(_, pair)| pair.joined.is_none()).count())
}

fn list(store: &Store, cli: &Cli, world: &mut World, farm: Option<&str>, form: ListForm) -> Result<(), Fault> {
    let Listed { farms, pairs } = listed(store, world, farm)?;
    let (rules, today) = (rules::for_list(store, world)?, today(cli, world));
    let words = practice::words(cli, world)?;
    let mut rows = Vec::new();
    for (number, (farm, pair)) in (1..).zip(&pairs) {
        let farm = farm.map(|farm| farms.name(farm));
        let both = [pair.one, pair.other].map(|id| sketch(store, pair.kind, id));
        let [one, other] = both;
        let both = [one?, other?].map(|sketch| report::twice::lines(&sketch, (&rules, today), words));
        match form {
            ListForm::Text => {
                let farm = farm.map_or(String::new(), |farm| format!("{}: ", safe(&farm)));
                writeln!(world.out, "{number}  {farm}{}", report::twice::title(pair))?;
                for lines in both {
                    writeln!(world.out, "     {}", lines.join("; "))?;
                }
            }
            ListForm::Json => rows.push(json::pair(pair, number, farm.as_deref(), &both)),
        }
    }
    match form {
        ListForm::Text if pairs.is_empty() => writeln!(world.out, "Nothing seems to be in the book twice.")?,
        ListForm::Text => writeln!(
            world.out,
            "\ncrushbook twice join 1 joins the first pair, keep-apart 1 says that they are two, part 1 takes apart what was joined."
        )?,
        ListForm::Json => writeln!(world.out, "{}", json::written(&serde_json::json!({ "pairs": rows })))?,
    }
    Ok(())
}

/// The pair with this number in the list.
fn numbered<'l>(pairs: &'l [(Option<FarmId>, Pair)], number: &str) -> Result<&'l (Option<FarmId>, Pair), Fault> {
    let at = number.trim().parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    at.and_then(|at| pairs.get(at)).ok_or_else(|| {
        let what = format!("no pair has the number {}", safe(number));
        Fault::failed(what, "crushbook twice lists them with their numbers; name two animals to join any others.")
    })
}

fn decide(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    (number, farm): (Option<&String>, Option<&str>),
    join: bool,
) -> Result<(), Fault> {
    let Listed { pairs, .. } = listed(store, world, farm)?;
    let (farm, pair) = numbered(&pairs, number.map_or("", String::as_str))?;
    if pair.joined.is_some() {
        let hint = "crushbook twice part takes them apart again.";
        return Err(Fault::failed(format!("{} are joined already", safe(&pair.called)), hint));
    }
    let (one, other) = (pair.one, pair.other);
    let (about, event, said) = match (join, pair.kind) {
        (true, Kind::People) => (RecordId::PRACTICE, Event::Joined { one, other }, "joined"),
        (true, Kind::Animals | Kind::Farms) => (one, Event::Joined { one, other }, "joined"),
        (false, _) => {
            let about = farm.map_or(RecordId::PRACTICE, |farm| farm.0);
            (about, Event::KeptApart { one, other }, "kept apart")
        }
    };
    press(store, cli, world, vec![(about, event)])?;
    writeln!(world.out, "{said}: {}", safe(&pair.called))?;
    Ok(())
}

/// Joins two animals that were named, alike or not.
fn join_named(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    (one, other): (&str, &str),
    farm: Option<&str>,
) -> Result<(), Fault> {
    let (farms, _) = Farms::of(store)?;
    let farm = farms.meant(farm)?;
    let name = farms.name(farm);
    let [first, second] = [one, other].map(|number| super::animal::meant(store, farm, &name, number));
    let (first, second) = (first?, second?);
    if first == second {
        let what = format!("{} and {} are one already", safe(one), safe(other));
        return Err(Fault::failed(what, "Name two animals."));
    }
    // The very entries that bear these labels are joined, so that each can be parted again.
    let (first, second) = twice::in_order(entry(store, one, first)?, entry(store, other, second)?);
    press(store, cli, world, vec![(first, Event::Joined { one: first, other: second })])?;
    writeln!(world.out, "joined: {} and {}", safe(one), safe(other))?;
    Ok(())
}

/// The entry of an animal that was begun under this label; where none was, the one that stands for all of hers.
fn entry(store: &Store, label: &str, animal: AnimalId) -> Result<RecordId, StoreError> {
    let is = |text: &String| text.trim().eq_ignore_ascii_case(label.trim());
    let begun = |record: &&Record| {
        let Some(Event::AnimalBegun { labels, .. }) = record.event() else { return false };
        [&labels.number, &labels.tag, &labels.electronic, &labels.name].into_iter().any(is)
    };
    Ok(store.records(animal.0)?.0.iter().find(begun).map_or(animal.0, |record| record.id))
}

/// Takes apart a numbered pair, or an animal that was joined.
fn part(store: &mut Store, cli: &Cli, world: &mut World, which: &str, farm: Option<&str>) -> Result<(), Fault> {
    let Listed { farms, pairs } = listed(store, world, farm)?;
    if farm.is_none()
        && let Ok((_, Pair { joined: Some(joined), kind, one, called, .. })) = numbered(&pairs, which)
    {
        let about = if *kind == Kind::People { RecordId::PRACTICE } else { *one };
        press(store, cli, world, vec![(about, Event::Parted { joined: *joined })])?;
        writeln!(world.out, "taken apart: {}", safe(called))?;
        return Ok(());
    }
    let farm = farms.meant(farm)?;
    let animal = super::animal::meant(store, farm, &farms.name(farm), which)?;
    let history = History::of(store.records(animal.0)?.0, animal);
    // The newest joining of the very entry that bears this label.
    let hers = entry(store, which, animal)?;
    let is_hers = |join: &&Join| join.one == hers || join.other == hers;
    let Some(Join { id, .. }) = history.joins.iter().rev().find(is_hers).or(history.joins.last()) else {
        let hint = "crushbook animal shows what she was joined with.";
        return Err(Fault::failed(format!("{} was not joined with another", safe(which)), hint));
    };
    press(store, cli, world, vec![(animal.0, Event::Parted { joined: *id })])?;
    writeln!(world.out, "taken apart: {}", safe(which))?;
    Ok(())
}

/// Animals of a farm that may be one.
///
/// # Errors
/// What the store says.
pub fn of_farm(store: &Store, farm: FarmId) -> Result<Vec<Pair>, StoreError> {
    let rows = store.animals(farm)?.0;
    let herd: Vec<Called> =
        rows.iter().map(|row| Called { id: row.of.0, labels: &row.labels, left: row.left.is_some() }).collect();
    Ok(twice::animals(&herd, &Apart::of(&Standing::of(store.records(farm.0)?.0))))
}

/// Farms and people that may be one, then farms and people that were joined.
///
/// # Errors
/// What the store says.
pub fn of_practice(store: &Store) -> Result<Vec<Pair>, StoreError> {
    let (rows, _) = store.farms()?;
    let standing = Standing::of(store.records(RecordId::PRACTICE)?.0);
    let apart = Apart::of(&standing);
    let farms: Vec<(RecordId, String)> =
        rows.iter().filter(|row| row.joined_into.is_none()).map(|row| (row.farm.0, row.name.clone())).collect();
    let names: BTreeMap<RecordId, String> =
        of_records(&standing).into_iter().map(|(person, name)| (person.0, name)).collect();
    let first = |id: &RecordId| standing.one_with(*id).into_iter().find(|one| names.contains_key(one)) == Some(*id);
    let people: Vec<(RecordId, String)> =
        names.iter().filter(|(id, _)| first(id)).map(|(id, name)| (*id, name.clone())).collect();
    let mut pairs = twice::named(Kind::Farms, &farms, &apart);
    pairs.extend(twice::named(Kind::People, &people, &apart));
    pairs.extend(joined_farms(store, &rows)?);
    let of_people = standing.joins().iter().filter_map(|join| Some((join, names.get(&join.one)?)));
    pairs.extend(of_people.map(|(join, name)| twice::joined(Kind::People, join, name)));
    Ok(pairs)
}

fn joined_farms(store: &Store, rows: &[FarmRow]) -> Result<Vec<Pair>, StoreError> {
    let mut pairs = Vec::new();
    let joined = |row: &&FarmRow| rows.iter().any(|other| other.joined_into == Some(row.farm));
    for row in rows.iter().filter(joined) {
        let standing = Standing::of(store.records(row.farm.0)?.0);
        let is_farm = |id| rows.iter().any(|row| row.farm.0 == id);
        let joins = standing.joins().iter().filter(|join| is_farm(join.one) && is_farm(join.other));
        pairs.extend(joins.map(|join| twice::joined(Kind::Farms, join, &row.name)));
    }
    Ok(pairs)
}

/// What tells one from another.
///
/// # Errors
/// What the store says.
pub fn sketch(store: &Store, kind: Kind, id: RecordId) -> Result<Sketch, StoreError> {
    Ok(match kind {
        Kind::Animals => {
            let (records, _) = store.records(id)?;
            Sketch::Animal(Box::new(History::of(records, AnimalId(id))))
        }
        Kind::Farms => {
            let rows = store.farms()?.0;
            let row = rows.into_iter().find(|row| row.farm.0 == id);
            let phone = |row: &FarmRow| {
                let facts = row.facts.iter().find(|(fact, _)| *fact == crate::domain::herd::FarmFact::Phone);
                facts.map(|(_, words)| words.clone()).unwrap_or_default()
            };
            let last = |day: Option<NaiveDate>, record: &crate::domain::record::Record| match record.event() {
                Some(Event::VisitBegun { .. }) => day.max(Some(record.on)),
                Some(_) | None => day,
            };
            Sketch::Farm {
                phone: row.as_ref().map(phone).unwrap_or_default(),
                name: row.map(|row| row.name).unwrap_or_default(),
                animals: store.animals(FarmId(id))?.0.len(),
                last: Standing::of(store.records(id)?.0).records().iter().fold(None, last),
            }
        }
        Kind::People => {
            let standing = Standing::of(store.records(RecordId::PRACTICE)?.0);
            let record = standing.records().iter().find(|record| record.id == id);
            let name = match record.and_then(|record| record.event()) {
                Some(Event::PersonBegun { name }) => name.clone(),
                Some(_) | None => String::new(),
            };
            Sketch::Person { name, since: record.map(|record| record.on) }
        }
    })
}
