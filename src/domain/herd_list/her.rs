//! An animal of a farm with all that is known of her: what a list is compared with, and what the herd on the screens shows.

use super::Known;
use super::column::Column;
use crate::domain::event::Event;
use crate::domain::herd::{Herd, Labels};
use crate::domain::history::History;
use crate::domain::history::standing::Standing;
use crate::domain::ids::AnimalId;
use crate::domain::record::Record;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// An animal with all that is known of her.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Her {
    /// As a list can speak of her.
    pub known: Known,
    /// Her history.
    pub history: History,
    /// Her records.
    pub records: Vec<Record>,
}

impl Her {
    /// Folds her records.
    pub fn of(records: Vec<Record>, animal: AnimalId) -> Her {
        let history = History::of(records.clone(), animal);
        let is_told = |record: &&Record| {
            matches!(
                record.event(),
                Some(Event::AnimalBegun { .. } | Event::Renumbered { .. } | Event::Described { .. })
            )
        };
        let told = Standing::of(records.clone()).records().iter().filter(is_told).map(|record| record.on).max();
        let known = Known {
            animal,
            labels: history.labels.clone(),
            earlier: history.earlier.iter().map(|(_, labels)| labels.clone()).collect(),
            herd: history.herd.clone(),
            left: history.left,
            told,
        };
        Her { known, history, records }
    }

    /// The day on which what stands in this column was told; none where nothing does, or nobody here knows.
    pub fn since(&self, column: Column) -> Option<NaiveDate> {
        let now = column.cell(&self.known.labels, &self.known.herd);
        if now.is_empty() {
            return None;
        }
        if column.is_label() {
            let before = self.history.earlier.iter().rev();
            let given_up = before.map(|(on, labels)| (*on, column.cell(labels, &Herd::default())));
            let changed = given_up.into_iter().find(|(_, was)| *was != now).map(|(on, _)| on);
            return changed.or_else(|| self.begun());
        }
        let (none, mut known, mut since) = (Labels::default(), Herd::default(), None);
        for (on, told) in &self.history.told {
            let was = column.cell(&none, &known);
            known.hear(told);
            if column.cell(&none, &known) != was {
                since = Some(*on);
            }
        }
        since
    }

    /// The day on which she was begun.
    fn begun(&self) -> Option<NaiveDate> {
        let begun = self.records.iter().filter(|record| matches!(record.event(), Some(Event::AnimalBegun { .. })));
        begun.map(|record| record.on).min()
    }
}

/// Whether she is in that group, capitals and blanks round it aside; empty: in none.
pub fn is_of(her: &Her, group: &str) -> bool {
    folded(&her.known.herd.group) == folded(group)
}

/// The groups of those who are here, by name, each as one of them writes it.
pub fn groups(herd: &[Her]) -> Vec<String> {
    let here = herd.iter().filter(|her| her.known.left.is_none()).map(|her| her.known.herd.group.trim());
    let named: BTreeMap<String, &str> = here.map(|group| (folded(group), group)).collect();
    named.into_iter().filter(|(folded, _)| !folded.is_empty()).map(|(_, group)| group.to_owned()).collect()
}

fn folded(group: &str) -> String {
    group.trim().to_lowercase()
}

/// Puts a herd in the order of its numbers; whoever has none stands last.
pub fn by_number(herd: &mut [Her]) {
    herd.sort_by_cached_key(|her| {
        let number = Column::Number.cell(&her.known.labels, &her.known.herd);
        (number.is_empty(), number.len(), number, her.known.animal)
    });
}
