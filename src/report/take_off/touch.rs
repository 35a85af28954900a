//! Which records changed what the calendar says about something on a foot: their number is its sequence, the newest of them
//! its stamp. Read off the records, never off a clock, so that the same book gives the same bytes.

use crate::domain::event::{Event, Item};
use crate::domain::herd::FarmFact;
use crate::domain::ids::RecordId;
use crate::domain::record::Record;
use std::collections::BTreeSet;

/// Order of writing.
fn age(record: &Record) -> (u64, RecordId) {
    (record.tick, record.id)
}

/// The records that touched the thing, oldest first, its own first record among them.
///
/// Counted generously: whatever may change a word of the entry counts, also where it changed none, and what was taken back
/// still counts. So the number never goes down, which is all that a calendar asks of it.
pub(super) fn touching<'r>(thing: RecordId, animal: &'r [Record], around: &'r [Record]) -> Vec<&'r Record> {
    let mut all: Vec<&Record> = animal.iter().chain(around).collect();
    all.sort_by_key(|record| age(record));
    all.dedup_by_key(|record| record.id);
    let mut known = BTreeSet::from([thing]);
    let mut presses: BTreeSet<RecordId> =
        all.iter().filter(|record| record.id == thing).map(|record| record.press_id()).collect();
    all.retain(|record| {
        let touches = record.id == thing || record.event().is_some_and(|event| names(event, &known, &presses));
        if touches {
            known.insert(record.id);
            presses.insert(record.press_id());
        }
        touches
    });
    all
}

fn names(event: &Event, known: &BTreeSet<RecordId>, presses: &BTreeSet<RecordId>) -> bool {
    if let Event::PutDetailed { put, .. } | Event::ToldOff { item: put, .. } = event {
        return known.contains(&put.0);
    }
    if let Event::SeenOff { item, .. } = event {
        return match item {
            Item::Known(put) => known.contains(&put.0),
            Item::Met(_) => true,
        };
    }
    if let Event::Corrected { of, .. } | Event::Redone { undo: of } = event {
        return known.contains(of);
    }
    if let Event::Undone { press } = event {
        return presses.contains(press);
    }
    let whose = matches!(
        event,
        Event::Left { .. }
            | Event::CameBack { .. }
            | Event::Joined { .. }
            | Event::Parted { .. }
            | Event::TurnMoved { .. }
    );
    whose || only_words(event)
}

/// What she is called, where she is to be looked for, whom to ring, by which day a rule wants it off: it may change the words of an entry, but never whether it
/// stands.
pub(super) fn only_words(event: &Event) -> bool {
    if let Event::FarmDescribed { fact, .. } = event {
        return matches!(fact, FarmFact::Vet | FarmFact::VetPhone);
    }
    matches!(
        event,
        Event::AnimalBegun { .. } | Event::Renumbered { .. } | Event::Described { .. } | Event::RulesAdopted { .. }
    )
}
