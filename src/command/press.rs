//! One press of a command: all that it writes is one commit, and one undo takes it back.

use super::cli::Cli;
use super::{World, today};
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::record::Stamp;
use crate::store::Store;
use crate::store::error::StoreError;
use chrono::NaiveDate;

/// Writes facts, each about somebody; nothing where there are none.
///
/// # Errors
/// What the store says.
pub fn press(store: &mut Store, cli: &Cli, world: &World, facts: Vec<(RecordId, Event)>) -> Result<(), StoreError> {
    press_on(store, world, today(cli, world), facts)
}

/// The same of a day that is not today.
///
/// # Errors
/// What the store says.
pub fn press_on(
    store: &mut Store,
    world: &World,
    on: NaiveDate,
    facts: Vec<(RecordId, Event)>,
) -> Result<(), StoreError> {
    let (next, tick) = (store.next_id(), store.tick());
    let stamp = Stamp { next, tick, by: world.by, now: world.now, on };
    store.append(&stamp.press(facts))
}
