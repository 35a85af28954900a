//! Who records: handed over with one key, and found again after a dead battery.

use super::Desk;
use crate::domain::ids::PersonId;
use crate::domain::record::Record;
use crate::session::decide;
use crate::session::mode::Mode;
use crate::store::error::StoreError;
use std::cmp::Reverse;

/// Animals of the day that are read to find who recorded: with two people at one crush both are soon among them.
const READ: usize = 4;

impl Desk {
    /// Somebody known records from now on: with one key, wherever the hands are; or by a name that was typed.
    pub(super) fn hand_over(&mut self, person: PersonId) {
        self.session.records_now(person);
        if matches!(self.session.mode, Mode::Text { .. }) {
            self.session.mode = decide::below(&self.session.mode);
        }
        let name = self.session.people.iter().find(|(id, _)| *id == person).map(|(_, name)| name.clone());
        self.say(format!("{} records", name.unwrap_or_default()));
    }

    /// Who recorded today, out of the animals whose turns are the newest; while paper is typed up, out of those of its day and of the
    /// day it really is.
    pub(super) fn who_recorded(&mut self) -> Result<(), StoreError> {
        if self.session.people.is_empty() {
            return Ok(());
        }
        let mut turns: Vec<_> = self.session.herd.iter().filter_map(|line| Some((line.turn?.0, line.id))).collect();
        if let (Some(really), Some(farm)) = (self.session.paper, &self.session.farm) {
            let (rows, problems) = self.store.day(farm.id, really)?;
            turns.extend(rows.iter().map(|row| (row.turn, row.animal)));
            self.note(problems);
        }
        turns.sort_by_key(|turn| Reverse(*turn));
        let days = [self.session.today, self.session.really()];
        let mut records: Vec<Record> = Vec::new();
        for (_, animal) in turns.into_iter().take(READ) {
            records.extend(self.store.records(animal.0)?.0);
        }
        records.retain(|record| days.contains(&record.on));
        self.recorded(records);
        Ok(())
    }

    /// Whoever wrote the newest of these records goes on, and whoever wrote another can be handed over to.
    pub(super) fn recorded(&mut self, mut records: Vec<Record>) {
        records.sort_by_key(|record| (record.tick, record.id));
        for person in records.iter().filter_map(|record| record.by) {
            self.session.records_now(person);
        }
        self.session.by = records.last().and_then(|record| record.by);
    }
}
