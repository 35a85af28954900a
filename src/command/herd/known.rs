//! The animals of a farm as a list can speak of them.

use crate::domain::herd_list::her::{Her, by_number};
use crate::domain::history::History;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::record::Record;
use crate::report::words::Words;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use std::collections::BTreeSet;

/// Everybody of a farm, gone or not, by number.
///
/// # Errors
/// What the store says.
pub fn herd(store: &Store, farm: FarmId) -> Result<(Vec<Her>, Vec<Problem>), StoreError> {
    herd_of(store, farm, |records| records)
}

/// The same by those of their records that count.
///
/// # Errors
/// What the store says.
pub fn herd_of(
    store: &Store,
    farm: FarmId,
    counting: impl Fn(Vec<Record>) -> Vec<Record>,
) -> Result<(Vec<Her>, Vec<Problem>), StoreError> {
    let (rows, mut problems) = store.animals(farm)?;
    let ids: BTreeSet<AnimalId> = rows.iter().map(|row| row.of).collect();
    let mut herd = Vec::with_capacity(ids.len());
    for id in ids {
        let (records, more) = store.records(id.0)?;
        problems.extend(more);
        herd.push(Her::of(counting(records), id));
    }
    by_number(&mut herd);
    Ok((herd, problems))
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
