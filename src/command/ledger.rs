//! Records that are to be written in bulk, over a book that stays as it is until all of them are known to be sound.

use crate::domain::event::Event;
use crate::domain::herd::{Herd, Labels, VisitWhy};
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, FarmId, PersonId, RecordId, VisitId};
use crate::domain::record::{Moment, Record, Stamp};
use crate::store::Store;
use crate::store::error::StoreError;
use crate::store::take::Taken;
use crate::wire::envelope::encode;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// New records over a store.
pub struct Ledger<'s> {
    store: &'s mut Store,
    next: RecordId,
    tick: u64,
    now: Moment,
    by: Option<PersonId>,
    records: Vec<Record>,
    animals: BTreeMap<(FarmId, String), AnimalId>,
    visits: BTreeMap<(FarmId, NaiveDate), VisitId>,
}

impl<'s> Ledger<'s> {
    /// An empty ledger.
    pub fn new(store: &'s mut Store, now: Moment) -> Ledger<'s> {
        let (next, tick) = (store.next_id(), store.tick());
        Ledger {
            store,
            next,
            tick,
            now,
            by: None,
            records: Vec::new(),
            animals: BTreeMap::new(),
            visits: BTreeMap::new(),
        }
    }

    /// How many records wait.
    pub fn len(&self) -> usize {
        self.records.len()
    }

    /// Whether none waits.
    pub fn is_empty(&self) -> bool {
        self.records.is_empty()
    }

    /// The stamp of the next press on a day.
    pub fn stamp(&self, on: NaiveDate) -> Stamp {
        Stamp { next: self.next, tick: self.tick, by: self.by, now: self.now, on }
    }

    /// Keeps a press.
    pub fn keep(&mut self, press: Vec<Record>) {
        if press.is_empty() {
            return;
        }
        self.next.seq += press.len() as u64;
        self.tick += 1;
        self.records.extend(press);
    }

    /// Writes one fact.
    pub fn write(&mut self, on: NaiveDate, about: RecordId, event: Event) -> RecordId {
        let stamp = self.stamp(on);
        self.keep(stamp.press([(about, event)]));
        stamp.next
    }

    /// Everything about a subject: the book's and what waits here.
    pub fn about(&self, subject: RecordId) -> Result<Vec<Record>, StoreError> {
        let mut records = self.store.records(subject)?.0;
        records.extend(self.records.iter().filter(|record| record.about == subject).cloned());
        Ok(records)
    }

    /// The farm of this name.
    pub fn farm(&self, name: &str) -> Result<Option<FarmId>, StoreError> {
        let (farms, _) = self.store.farms()?;
        let held = farms
            .iter()
            .find(|row| row.joined_into.is_none() && row.name.eq_ignore_ascii_case(name))
            .map(|row| row.farm);
        let waiting = || {
            self.records.iter().find_map(|record| match record.event() {
                Some(Event::FarmBegun { name: known }) if known.eq_ignore_ascii_case(name) => Some(FarmId(record.id)),
                Some(_) | None => None,
            })
        };
        Ok(held.or_else(waiting))
    }

    /// Names of the farms that are known.
    pub fn farm_names(&self) -> Result<Vec<String>, StoreError> {
        Ok(self.store.farms()?.0.into_iter().map(|row| row.name).collect())
    }

    /// Begins a farm.
    pub fn begin_farm(&mut self, on: NaiveDate, name: &str) -> FarmId {
        let id = self.next;
        FarmId(self.write(on, id, Event::FarmBegun { name: name.to_owned() }))
    }

    /// From now on this person records; begun where unknown.
    pub fn record_as(&mut self, on: NaiveDate, name: &str) -> Result<(), StoreError> {
        if name.is_empty() {
            return Ok(());
        }
        let known = self.about(RecordId::PRACTICE)?.iter().find_map(|record| match record.event() {
            Some(Event::PersonBegun { name: known }) if known == name => Some(PersonId(record.id)),
            Some(_) | None => None,
        });
        self.by = Some(match known {
            Some(person) => person,
            None => PersonId(self.write(on, RecordId::PRACTICE, Event::PersonBegun { name: name.to_owned() })),
        });
        Ok(())
    }

    /// The animal with this number, now or earlier.
    pub fn animal(&self, farm: FarmId, number: &str) -> Result<Option<AnimalId>, StoreError> {
        if let Some(animal) = self.animals.get(&(farm, number.to_owned())) {
            return Ok(Some(*animal));
        }
        let (mut rows, _) = self.store.find(farm, number)?;
        // Who has the number now comes before who had it once.
        rows.sort_by_key(|row| !row.current);
        Ok(rows.first().map(|row| row.of))
    }

    /// Begins an animal.
    pub fn begin_animal(&mut self, on: NaiveDate, farm: FarmId, labels: Labels, herd: Option<Herd>) -> AnimalId {
        let animal = AnimalId(self.next);
        self.animals.insert((farm, labels.number.clone()), animal);
        let described = herd.map(|herd| (animal.0, Event::Described { animal, herd }));
        let stamp = self.stamp(on);
        self.keep(stamp.press([(animal.0, Event::AnimalBegun { farm, labels })].into_iter().chain(described)));
        animal
    }

    /// An animal carries another number from here on.
    pub fn renumber(&mut self, farm: FarmId, number: &str, animal: AnimalId) {
        self.animals.insert((farm, number.to_owned()), animal);
    }

    /// The visit of a farm on a day; begun where there is none.
    pub fn visit(&mut self, farm: FarmId, on: NaiveDate, why: VisitWhy) -> Result<VisitId, StoreError> {
        if let Some(visit) = self.visits.get(&(farm, on)) {
            return Ok(*visit);
        }
        let held = self.store.day(farm, on)?.0.first().map(|row| row.visit);
        let visit = match held {
            Some(visit) => visit,
            None => VisitId(self.write(on, farm.0, Event::VisitBegun { farm, why })),
        };
        self.visits.insert((farm, on), visit);
        Ok(visit)
    }

    /// Her history as at the end of a day.
    pub fn history(&self, animal: AnimalId, on: NaiveDate) -> Result<History, StoreError> {
        let records = self.about(animal.0)?.into_iter().filter(|record| record.on <= on).collect();
        Ok(History::of(records, animal))
    }

    /// Takes everything into the book in one go.
    pub fn commit(self) -> Result<Taken, StoreError> {
        let mut raws = self
            .records
            .iter()
            .map(|record| encode(record).map_err(|why| StoreError::Unwritable { id: record.id, why: why.to_string() }));
        let raws = raws.by_ref().collect::<Result<Vec<_>, StoreError>>()?;
        self.store.take(&mut raws.into_iter().map(Ok))
    }
}
