//! What goes into the calendar: an entry for everything that is to come off, and a cancelled one for what no longer is.

use super::touch::{only_words, touching};
use super::{Animal, Farm, On, TakeOff, Task, words};
use crate::domain::event::{Event, Item};
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::History;
use crate::domain::history::open::OpenItem;
use crate::domain::ids::RecordId;
use crate::domain::record::{Moment, Record};
use crate::domain::treatment::{OffBy, Put};
use crate::report::words::Words;
use chrono::{NaiveDate, TimeDelta};
use std::collections::BTreeMap;

/// So many days after the last word on it a cancelled entry still goes out: longer than the longest rhythm of visits to a
/// farm that gets lists (common practice: every fortnight to every month), so that no telephone misses it.
pub const CANCELLED_FOR: TimeDelta = TimeDelta::days(60);

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The record that put the thing on: the entry's name for good.
    pub id: RecordId,
    /// How many records have touched it.
    pub sequence: usize,
    /// When the newest of them was written.
    pub stamp: Moment,
    /// The day and milking.
    pub off_by: OffBy,
    /// One line.
    pub summary: String,
    /// More lines.
    pub description: Vec<String>,
    /// No longer to be done.
    pub cancelled: bool,
}

/// The entries of a farm, in the order of their days. `animals` are all of the farm's, since something may have come off an
/// animal with nothing left on; `around` are the records of the
/// farm, which name the vet, and of the practice, which adopted rules for it.
pub fn entries(list: &TakeOff, animals: &[Animal], around: &[Record], rules: &Rules, words: Words) -> Vec<Entry> {
    let mut entries: BTreeMap<RecordId, Entry> = BTreeMap::new();
    let standing: BTreeMap<RecordId, &On> =
        list.on.iter().filter(|on| on.task != Task::Felt).map(|on| (on.put.0, on)).collect();
    for animal in animals {
        for id in animal.records.iter().filter(|record| puts_on(record)).map(|record| record.id) {
            let touches = touching(id, &animal.records, around);
            let entry = match standing.get(&id) {
                Some(on) if is_hers(&animal.history, id) => entry(on, &list.farm, &touches, words),
                // Her turn was moved: whoever has it now tells.
                Some(_) => None,
                None if is_recent(&touches, list.today) => {
                    last_on(animal, id, &touches, (list, rules), words).and_then(|on| cancelled(&on, &touches, words))
                }
                None => None,
            };
            entries.extend(entry.map(|entry| (id, entry)));
        }
    }
    let mut entries: Vec<Entry> = entries.into_values().collect();
    entries.sort_by_key(|entry| (entry.off_by, entry.id));
    entries
}

/// Records that may have begun an entry.
fn puts_on(record: &Record) -> bool {
    let Some(event) = record.event() else { return false };
    if let Event::PutOn { put, .. } = event {
        return put.must_come_off();
    }
    matches!(event, Event::SeenOff { item: Item::Met(_), outcome, .. } if outcome.seen_on())
}

fn is_hers(history: &History, id: RecordId) -> bool {
    history.open.iter().any(|item| matches!(item, OpenItem::On { put, .. } if put.0 == id))
}

fn is_recent(touches: &[&Record], today: NaiveDate) -> bool {
    let about_it = touches.iter().filter(|record| !record.event().is_some_and(only_words));
    about_it.map(|record| record.on).max().is_some_and(|day| today - day <= CANCELLED_FOR)
}

/// The thing as it last stood on a list: the book is read back, record by record that touched it, to where it still did.
fn last_on(
    animal: &Animal,
    id: RecordId,
    touches: &[&Record],
    (list, rules): (&TakeOff, &Rules),
    words: Words,
) -> Option<On> {
    touches.iter().rev().find_map(|record| {
        let until: Vec<Record> = animal.records.iter().filter(|known| known.tick <= record.tick).cloned().collect();
        // Under every id that stands for her: before two were joined they were two.
        let then: Vec<Animal> = animal.history.animals.iter().map(|of| Animal::of(until.clone(), *of)).collect();
        let then = TakeOff::of(list.farm.clone(), &then, rules, list.today, words);
        then.on.into_iter().find(|on| on.put.0 == id && on.task != Task::Felt)
    })
}

fn entry(on: &On, farm: &Farm, touches: &[&Record], words: Words) -> Option<Entry> {
    let to_do = match on.task {
        Task::Feel => "said to be off, feel for a ring",
        Task::TellKeeper => "on when sold, tell the new keeper",
        Task::TakeOff | Task::LeaveOn | Task::Felt => "off",
    };
    Some(Entry {
        id: on.put.0,
        sequence: touches.len(),
        stamp: touches.last()?.written,
        off_by: on.off_by,
        summary: format!("{} {to_do}", subject(on, words)),
        description: description(on, farm, words),
        cancelled: false,
    })
}

/// The same taken back. Its words say so too, for telephones that know no state.
fn cancelled(on: &On, touches: &[&Record], words: Words) -> Option<Entry> {
    Some(Entry {
        id: on.put.0,
        sequence: touches.len(),
        stamp: touches.last()?.written,
        off_by: on.off_by,
        summary: format!("Not needed: {}", subject(on, words)),
        description: Vec::new(),
        cancelled: true,
    })
}

fn subject(on: &On, words: Words) -> String {
    format!("{} {}: {}", on.animal, words::spot_of(on), words::thing(on, words))
}

/// What is to be known with the animal in front of one. Nothing in it hangs on the day it is written.
fn description(on: &On, farm: &Farm, words: Words) -> Vec<String> {
    let by = format!("By {}", crate::report::words::off_by(on.off_by));
    let by = if on.remover.is_empty() { by } else { format!("{by}, by {}", on.remover) };
    let mut lines = vec![by, on.where_is.clone()];
    match on.what {
        Put::Wrap { .. } | Put::Dressing { .. } => lines.extend(words::how(words)),
        Put::Block { .. } => lines.push("Whoever trims takes the block off.".to_owned()),
    }
    lines.push(words::vet(farm));
    lines.retain(|line| !line.is_empty());
    lines
}
