//! The list of a farm's day as it is read from a book: whole the first time, and then only of whom more was written.
//!
//! How many records an animal has stands in her row, and grows with each. So rows alone say whom to read again.

use crate::domain::day_list::{DayList, Part, VisitDays};
use crate::domain::farm_call::{FarmCall, unheard};
use crate::domain::follow_up::rules::Rules;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::Record;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// What was read of a farm for its list of a day.
#[derive(Default)]
pub struct Parts {
    /// Farm and day; none before anything was read.
    of: Option<(FarmId, NaiveDate)>,
    /// Each animal with the number of her records.
    parts: BTreeMap<AnimalId, (u64, Part)>,
    /// Those before this day.
    visits: VisitDays,
}

impl Parts {
    /// Reads what is not known yet. `herd` is every animal with the number of her records; `also` is shown the records of whoever
    /// is read.
    ///
    /// # Errors
    /// What the store says of the farm's turns; the next time all of it is read.
    pub fn read(
        &mut self,
        store: &Store,
        (farm, today): (FarmId, NaiveDate),
        herd: &BTreeMap<AnimalId, u64>,
        rules: &Rules,
        also: &mut dyn FnMut(AnimalId, &[Record]),
    ) -> Result<Vec<Problem>, StoreError> {
        let mut known = std::mem::take(self);
        let mut problems = Vec::new();
        if known.of != Some((farm, today)) {
            let (days, more) = store.days(farm)?;
            problems.extend(more);
            let mut visits = VisitDays::new();
            for row in days.iter().filter(|row| row.on < today) {
                visits.entry(row.on).or_default().extend(Some(row.visit).filter(|visit| visit.0 != RecordId::PRACTICE));
            }
            known = Parts { of: None, parts: BTreeMap::new(), visits };
        }
        let seen = known.seen();
        known.parts.retain(|animal, (count, _)| herd.get(animal) == Some(&*count));
        for (animal, count) in herd {
            if known.parts.contains_key(animal) {
                continue;
            }
            // What cannot be read of one keeps nobody from the others: it is said, and tried again the next time.
            let (records, more) = match store.records(animal.0) {
                Ok(read) => read,
                Err(error) => {
                    let place = "what is recorded of an animal".to_owned();
                    problems.push(Problem::Unreadable { place, why: error.to_string() });
                    continue;
                }
            };
            problems.extend(more);
            also(*animal, &records);
            let part = Part::of(*animal, &records, &known.visits, rules, today);
            known.parts.insert(*animal, (*count, part));
        }
        // A visit that came or went (a turn of another day was moved) may say of anybody that she stayed away.
        let moved = known.of.is_some() && known.seen() != seen;
        known.of = (!moved).then_some((farm, today));
        *self = known;
        if moved {
            problems.extend(self.read(store, (farm, today), herd, rules, also)?);
        }
        Ok(problems)
    }

    fn seen(&self) -> BTreeSet<NaiveDate> {
        self.parts.values().flat_map(|(_, part)| part.seen()).collect()
    }

    /// The list.
    pub fn list(&self) -> DayList {
        DayList::of(self.parts.values().map(|(_, part)| part))
    }

    /// What the farm called about itself and nobody has heard, out of its own records.
    pub fn calls(&self, records: Vec<Record>) -> Vec<FarmCall> {
        self.of
            .map_or(Vec::new(), |(farm, today)| unheard(records, farm, &self.visits.keys().copied().collect(), today))
    }
}
