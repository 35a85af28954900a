//! Finding the farm that is meant by a name, and what stands around it: names, people.

use super::fault::Fault;
use crate::domain::event::Event;
use crate::domain::farm::is_called;
use crate::domain::follow_up::review::{self, Review};
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{FarmId, PersonId, RecordId};
use crate::domain::instruction::Instruction;
use crate::keys::near::nearest;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::wire::error::plain;
use crate::wire::rows::FarmRow;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// The farms of a book by name.
pub struct Farms {
    names: Vec<(FarmId, FarmId, String)>,
    given: Vec<(FarmId, Instruction)>,
    given_up: BTreeSet<FarmId>,
}

impl Farms {
    /// Reads them.
    pub fn of(store: &Store) -> Result<(Farms, Vec<Problem>), StoreError> {
        let (rows, problems) = store.farms()?;
        let given_up = rows.iter().filter(|row| row.given_up.is_some()).map(|row| row.farm).collect();
        let of = |row: &FarmRow| row.instructions.iter().map(|one| (row.farm, one.clone())).collect::<Vec<_>>();
        let given = rows.iter().filter(|row| row.given_up.is_none()).flat_map(of).collect();
        let names = rows.into_iter().map(|row| (row.farm, row.joined_into.unwrap_or(row.farm), row.name)).collect();
        Ok((Farms { names, given, given_up }, problems))
    }

    /// Standing instructions of a farm, or of all, whose review day has come; none of a farm given up.
    pub fn reviews(&self, farm: Option<FarmId>, rules: &Rules, today: NaiveDate) -> Vec<Review<'_>> {
        let here = self.given.iter().filter(|(of, _)| farm.is_none_or(|farm| farm == *of));
        review::list(here.map(|(of, one)| (*of, one)), rules, today)
    }

    /// Farms that were given up.
    pub fn given_up(&self) -> &BTreeSet<FarmId> {
        &self.given_up
    }

    /// Whether there is none yet.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// The farm of that name, case and blanks around it aside.
    pub fn named(&self, name: &str) -> Option<FarmId> {
        self.names.iter().find(|(_, _, known)| is_called(known, name)).map(|(_, of, _)| *of)
    }

    /// The name of a farm, of the one it was joined into where it was.
    pub fn name(&self, farm: FarmId) -> String {
        let farm = self.first(farm);
        self.names.iter().find(|(of, _, _)| *of == farm).map(|(_, _, name)| name.clone()).unwrap_or_default()
    }

    /// The farm that a farm was joined into; itself where it was not.
    pub fn first(&self, farm: FarmId) -> FarmId {
        self.names.iter().find(|(known, _, _)| *known == farm).map_or(farm, |(_, of, _)| *of)
    }

    /// Every farm that was not joined into another, by name.
    pub fn firsts(&self) -> Vec<FarmId> {
        let mut firsts: Vec<_> = self.names.iter().filter(|(farm, of, _)| farm == of).collect();
        firsts.sort_by_key(|(_, _, name)| name.to_lowercase());
        firsts.into_iter().map(|(_, of, _)| *of).collect()
    }

    /// The known name nearest to a mistyped one.
    pub fn nearest(&self, name: &str) -> Option<&str> {
        nearest(name, self.names.iter().map(|(_, _, name)| name.as_str()))
    }

    /// Takes in a farm that is begun now.
    pub fn add(&mut self, farm: FarmId, name: &str) {
        self.names.push((farm, farm, name.to_owned()));
    }

    /// Takes in what a farm is called from now on.
    pub fn call(&mut self, farm: FarmId, name: &str) {
        self.names.iter_mut().filter(|(of, _, _)| *of == farm).for_each(|(_, _, known)| name.clone_into(known));
    }

    /// The farm that is meant; where none is named, the only one of the book.
    pub fn meant(&self, name: Option<&str>) -> Result<FarmId, Fault> {
        let is_first = |(farm, of, _): &&(FarmId, FarmId, String)| farm == of;
        let all: Vec<(FarmId, &str)> =
            self.names.iter().filter(is_first).map(|(_, of, name)| (*of, name.as_str())).collect();
        let Some(name) = name else {
            return match all.as_slice() {
                [(only, _)] => Ok(*only),
                [] => Err(Fault::failed("this book holds no farm yet", "Enter a sheet first, or open the screens.")),
                several => {
                    let names: Vec<&str> = several.iter().map(|(_, name)| *name).collect();
                    Err(Fault::usage(
                        "this book holds several farms, and none was named",
                        format!("Add --farm with one of: {}.", names.join(", ")),
                    ))
                }
            };
        };
        self.named(name).ok_or_else(|| {
            let names: Vec<&str> = all.iter().map(|(_, name)| *name).collect();
            let hint = match (self.nearest(name), names.is_empty()) {
                (Some(near), _) => format!("Did you mean {near}?"),
                (None, false) => format!("The book knows: {}.", names.join(", ")),
                (None, true) => "This book holds no farm yet. Enter a sheet first, or open the screens.".to_owned(),
            };
            Fault::failed(format!("no farm is called {}", plain(name)), hint)
        })
    }
}

/// Everybody who records, by id. Whoever was named twice, and joined, is called by the first of the names.
pub fn people(store: &Store) -> Result<BTreeMap<PersonId, String>, StoreError> {
    let (records, _) = store.records(RecordId::PRACTICE)?;
    Ok(of_records(&Standing::of(records)))
}

/// The same out of what stands of the practice.
pub fn of_records(standing: &Standing) -> BTreeMap<PersonId, String> {
    let named = standing.records().iter().filter_map(|record| match record.event() {
        Some(Event::PersonBegun { name }) => Some((record.id, name)),
        Some(_) | None => None,
    });
    let names: BTreeMap<RecordId, &String> = named.collect();
    let first = |id: &RecordId| standing.one_with(*id).into_iter().find_map(|one| names.get(&one)).copied();
    names.keys().filter_map(|id| Some((PersonId(*id), first(id)?.clone()))).collect()
}
