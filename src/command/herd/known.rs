//! The animals of a farm as a list can speak of them.

use crate::domain::event::Event;
use crate::domain::herd_list::Known;
use crate::domain::herd_list::column::Column;
use crate::domain::history::History;
use crate::domain::history::open::OpenItem;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::record::Record;
use crate::report::words::Words;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use std::collections::BTreeSet;

/// An animal with all that is known of her.
pub struct Her {
    /// As a list can speak of her.
    pub known: Known,
    /// Her history.
    pub history: History,
    /// Her records.
    pub records: Vec<Record>,
}

/// Everybody of a farm, gone or not, by number.
///
/// # Errors
/// What the store says.
pub fn herd(store: &Store, farm: FarmId) -> Result<(Vec<Her>, Vec<Problem>), StoreError> {
    let (rows, mut problems) = store.animals(farm)?;
    let ids: BTreeSet<AnimalId> = rows.iter().map(|row| row.of).collect();
    let mut herd = Vec::with_capacity(ids.len());
    for id in ids {
        let (records, more) = store.records(id.0)?;
        problems.extend(more);
        herd.push(her(records, id));
    }
    herd.sort_by_cached_key(|her| {
        let number = Column::Number.cell(&her.known.labels, &her.known.herd);
        (number.is_empty(), number.len(), number, her.known.animal)
    });
    Ok((herd, problems))
}

fn her(records: Vec<Record>, animal: AnimalId) -> Her {
    let history = History::of(records.clone(), animal);
    let is_told = |record: &&Record| {
        matches!(record.event(), Some(Event::AnimalBegun { .. } | Event::Renumbered { .. } | Event::Described { .. }))
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

/// What was left on her and is not seen bare, in words.
pub fn on(history: &History, words: Words) -> Vec<String> {
    let on = history.open.iter().filter_map(|item| match item {
        OpenItem::On { what, .. } => Some(format!("{} {}", words.place(what.place()), words.put(what))),
        OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    });
    on.collect()
}
