//! Names that two tablets wrote under, after a book was copied behind the program's back.
//!
//! The store hands in such records told apart: each under a name of its own. Where only one of them is among the records at
//! hand it is the one that is meant, and gets its written name back. Where several are, every one of them stands as a
//! fact, and what speaks of the written name is about nobody knows which: it may do nothing that could hide a fact.

use super::{Doubt, DoubtWhat};
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::record::Record;
use std::collections::{BTreeMap, BTreeSet};

/// What is known of names written under twice.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    /// Written names that several of the records at hand bear.
    two: BTreeSet<RecordId>,
    /// Records, as they are named here, of stretches that two tablets wrote.
    apart: BTreeSet<RecordId>,
}

impl Names {
    /// Gives back its written name to every record that is the only one of it here.
    pub(super) fn sort_out(all: &mut BTreeMap<RecordId, Record>) -> Names {
        let mut names = Names::default();
        let mut written: BTreeMap<RecordId, Vec<RecordId>> = BTreeMap::new();
        for id in all.keys() {
            if let Some(name) = id.written_as() {
                written.entry(name).or_default().push(*id);
            }
        }
        for (name, ids) in written {
            if let [only] = ids.as_slice()
                && !all.contains_key(&name)
                && let Some(record) = all.remove(only)
            {
                all.insert(name, Record { id: name, ..record });
                names.apart.insert(name);
            } else {
                names.two.insert(name);
                names.apart.extend(ids);
            }
        }
        names
    }

    /// Whether this is the written name of several records.
    pub(super) fn are_two(&self, name: RecordId) -> bool {
        self.two.contains(&name)
    }

    /// Whether numbers of the record's series tell nothing of who wrote first.
    pub(super) fn is_apart(&self, id: RecordId) -> bool {
        self.apart.contains(&id)
    }

    /// A doubt for every record that shares its written name, and for every one that speaks of such a name.
    pub(super) fn doubts(&self, records: &[Record]) -> Vec<Doubt> {
        let shares = |record: &Record| record.id.written_as().is_some_and(|name| self.are_two(name));
        let speaks = |record: &Record| record.event().is_some_and(|event| self.is_meant(event));
        let doubtful = records.iter().filter(|record| !self.two.is_empty() && (shares(record) || speaks(record)));
        doubtful.map(|record| Doubt { id: record.id, what: DoubtWhat::TwoUnderOneName }).collect()
    }

    /// Whether an event that would take back, correct, move or join speaks of such a name. What else names a record finds none
    /// of that name, and is doubted for that.
    fn is_meant(&self, event: &Event) -> bool {
        if let Event::Undone { press: name }
        | Event::Redone { undo: name }
        | Event::Corrected { of: name, .. }
        | Event::Parted { joined: name } = event
        {
            return self.are_two(*name);
        }
        if let Event::Joined { one, other } = event {
            return self.are_two(*one) || self.are_two(*other);
        }
        matches!(event, Event::TurnMoved { turn, .. } if self.are_two(turn.0))
    }
}
