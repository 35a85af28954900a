//! An animal of a farm with all that is known of her: what a list is compared with, and what the herd on the screens shows.

use super::Known;
use super::column::Column;
use crate::domain::event::Event;
use crate::domain::history::History;
use crate::domain::history::standing::Standing;
use crate::domain::ids::AnimalId;
use crate::domain::record::Record;

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
}

/// Puts a herd in the order of its numbers; whoever has none stands last.
pub fn by_number(herd: &mut [Her]) {
    herd.sort_by_cached_key(|her| {
        let number = Column::Number.cell(&her.known.labels, &her.known.herd);
        (number.is_empty(), number.len(), number, her.known.animal)
    });
}
