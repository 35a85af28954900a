//! The scoring walk at the desk: the herd's scores are read once when it is opened, then of each animal that was scored.

use super::super::herd;
use super::Desk;
use crate::domain::ids::AnimalId;
use crate::domain::record::Record;
use crate::domain::walk::{Walk, walker};
use crate::report::walk::head;
use crate::session::mode::Mode;
use crate::session::type_up::typed;
use crate::session::undo;
use crate::session::walk::{Walking, of_walks, read_draft};
use crate::store::Store;
use crate::store::error::StoreError;

/// So many records in the hand are taken into the book between two animals: whoever reads a list folds all that are in the hand.
const PACK_AT: u64 = 64;

impl Desk {
    /// Goes on with a walk that a dead battery broke off. False where there was none.
    pub(super) fn resume_walk(&mut self) -> Result<bool, StoreError> {
        let Some((farm, digits)) = read_draft(typed(self.store.draft())) else { return Ok(false) };
        if !self.session.farms.iter().any(|line| line.id == farm) {
            return Ok(false);
        }
        self.open_farm(farm)?;
        let written = self.walk(Walking { typed: digits, ..Walking::default() })?;
        self.recorded(written);
        Ok(true)
    }

    /// Begins or goes on with the walk of the day; what was written on it.
    pub(super) fn walk(&mut self, walking: Walking) -> Result<Vec<Record>, StoreError> {
        let written = self.read_walk()?;
        self.session.mode = Mode::Walk(walking);
        self.keep_typed();
        Ok(written)
    }

    /// Reads the scores of the whole herd; what was written on the walk of the day.
    pub(super) fn read_walk(&mut self) -> Result<Vec<Record>, StoreError> {
        let mut walk = Walk::default();
        let mut written: Vec<Record> = Vec::new();
        let animals: Vec<AnimalId> = self.session.herd.iter().map(|line| line.id).collect();
        for animal in animals {
            let records = self.records(animal)?;
            walk.walkers.extend(walker(animal, &records, &self.session.rules, self.session.today));
            written.extend(of_walks(&records).into_iter().filter(|record| record.on == self.session.today));
        }
        self.session.walk = walk;
        // What undo can reach survives a restart.
        if self.session.trail.is_empty() {
            self.session.trail = undo::trail(&written, self.store.series());
        }
        Ok(written)
    }

    /// She was scored.
    pub(super) fn walked(&mut self, animal: AnimalId, walking: Walking) -> Result<(), StoreError> {
        if self.store.how_many() - self.store.count() >= PACK_AT {
            let taken = self.wait(Store::pack)?;
            self.note(taken.problems);
        }
        if !self.session.herd.iter().any(|line| line.id == animal)
            && let Some(farm) = self.session.farm.as_ref().map(|farm| farm.id)
        {
            self.open_farm(farm)?;
        }
        let records = self.records(animal)?;
        let now = walker(animal, &records, &self.session.rules, self.session.today);
        self.session.walk.take(animal, now);
        self.session.mode = Mode::Walk(walking);
        self.keep_typed();
        Ok(())
    }

    /// The hand is taken into the book, and Today is read again with whoever is lame now.
    pub(super) fn walk_over(&mut self) -> Result<(), StoreError> {
        let lame = self.session.walk.lame().len();
        let words = format!("{}, {lame} lame", head(&self.session.walk));
        self.session.mode = Mode::today();
        let taken = self.wait(Store::pack)?;
        self.note(taken.problems);
        self.refresh()?;
        self.say(words);
        self.keep_typed();
        Ok(())
    }

    fn records(&mut self, animal: AnimalId) -> Result<Vec<Record>, StoreError> {
        let (records, problems) = herd::animal(&self.store, animal)?;
        self.note(problems);
        Ok(records)
    }
}
