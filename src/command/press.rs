//! One press of a command: all that it writes is one commit, and one undo takes it back.

use super::cli::Cli;
use super::fault::Fault;
use super::recorder::said_who;
use super::{World, today};
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::record::Stamp;
use crate::store::Store;
use chrono::{NaiveDate, SubsecRound};

/// The stamp of what a command is about to write of a day; its moment is cut to whole seconds, which is what a record keeps.
///
/// # Errors
/// It is not said who records.
pub fn stamp(store: &Store, world: &World, on: NaiveDate) -> Result<Stamp, Fault> {
    let by = said_who(world)?;
    Ok(Stamp { next: store.next_id(), tick: store.tick(), by, now: world.now.trunc_subsecs(0), on })
}

/// Writes facts, each about somebody; nothing where there are none.
///
/// # Errors
/// It is not said who records; what the store says.
pub fn press(store: &mut Store, cli: &Cli, world: &World, facts: Vec<(RecordId, Event)>) -> Result<(), Fault> {
    press_on(store, world, today(cli, world), facts)
}

/// The same of a day that is not today.
///
/// # Errors
/// As above.
pub fn press_on(store: &mut Store, world: &World, on: NaiveDate, facts: Vec<(RecordId, Event)>) -> Result<(), Fault> {
    if facts.is_empty() {
        return Ok(());
    }
    let stamp = stamp(store, world, on)?;
    Ok(store.append(&stamp.press(facts))?)
}
