//! One press of a command: all that it writes is one commit, and one undo takes it back.

use super::cli::Cli;
use super::{World, today};
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::record::Stamp;
use crate::store::Store;
use crate::store::error::StoreError;

/// Writes facts, each about somebody; nothing where there are none.
///
/// # Errors
/// What the store says.
pub fn press(store: &mut Store, cli: &Cli, world: &World, facts: Vec<(RecordId, Event)>) -> Result<(), StoreError> {
    let (next, tick) = (store.next_id(), store.tick());
    let stamp = Stamp { next, tick, by: None, now: world.now, on: today(cli, world) };
    store.append(&stamp.press(facts))
}
