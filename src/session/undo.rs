//! What undo can take back: the presses of this tablet, one by one, newest first.

use crate::domain::event::Event;
use crate::domain::ids::{AnimalId, RecordId, TurnId};
use crate::domain::record::{Record, Stamp};
use std::collections::BTreeSet;

/// One key press that wrote something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Press {
    /// Its name: the id of its first record.
    pub id: RecordId,
    /// Everything it was about: an undo is written about each, so that each history knows.
    pub about: BTreeSet<RecordId>,
    /// The turn it began, signed or paused, or wrote in.
    pub turn: Option<TurnId>,
    /// Its records.
    pub records: Vec<Record>,
    /// The undo that took it back, if one did.
    pub undone_by: Option<RecordId>,
}

/// Adds a press to the trail, or marks the presses that it takes back or puts back.
pub fn remember(trail: &mut Vec<Press>, press: &[Record]) {
    let Some(first) = press.first() else { return };
    let mut about_presses = false;
    for record in press {
        match record.event() {
            Some(Event::Undone { press: target }) => {
                about_presses = true;
                // One undo is written about each subject; the first of them stands for all.
                let undone = trail.iter_mut().find(|known| known.id == *target && known.undone_by.is_none());
                if let Some(undone) = undone {
                    undone.undone_by = Some(record.id);
                }
            }
            Some(Event::Redone { undo }) => {
                about_presses = true;
                if let Some(redone) = trail.iter_mut().find(|known| known.undone_by == Some(*undo)) {
                    redone.undone_by = None;
                }
            }
            Some(_) | None => {}
        }
    }
    if about_presses {
        return;
    }
    // A new press ends what could be put back.
    trail.retain(|known| known.undone_by.is_none());
    trail.push(Press {
        id: first.press_id(),
        about: press.iter().flat_map(subjects).collect(),
        turn: press.iter().find_map(turn_of),
        records: press.to_vec(),
        undone_by: None,
    });
}

/// The trail out of records read again after a start: presses of one series, in the order they were written.
pub fn trail(records: &[Record], series: u64) -> Vec<Press> {
    let mut own: Vec<&Record> = records.iter().filter(|record| record.id.series == series).collect();
    own.sort_by_key(|record| record.id.seq);
    own.dedup_by_key(|record| record.id);
    let mut trail = Vec::new();
    for press in own.chunk_by(|one, next| one.press == next.press) {
        let press: Vec<Record> = press.iter().map(|record| (*record).clone()).collect();
        remember(&mut trail, &press);
    }
    trail
}

fn subjects(record: &Record) -> impl Iterator<Item = RecordId> {
    std::iter::once(record.about).chain(record.event().and_then(Event::also_about))
}

fn turn_of(record: &Record) -> Option<TurnId> {
    let event = record.event()?;
    if matches!(event, Event::TurnBegun { .. }) { Some(TurnId(record.id)) } else { event.turn() }
}

/// The newest press that still stands.
pub fn newest(trail: &[Press]) -> Option<&Press> {
    trail.iter().rev().find(|press| press.undone_by.is_none())
}

/// Whether the newest press that stands says the very same: pressed once more, a key writes nothing new.
pub fn is_newest(trail: &[Press], press: &[Record]) -> bool {
    let same = |one: &Record, other: &Record| (one.about, one.event()) == (other.about, other.event());
    newest(trail).is_some_and(|newest| {
        newest.records.len() == press.len() && newest.records.iter().zip(press).all(|(one, other)| same(one, other))
    })
}

/// The press that redo would put back: the oldest of the undone at the end of the trail.
pub fn newest_undone(trail: &[Press]) -> Option<&Press> {
    trail.iter().rev().take_while(|press| press.undone_by.is_some()).last()
}

/// Takes a press back, about each of its subjects.
pub fn take_back(press: &Press, stamp: &Stamp) -> Vec<Record> {
    stamp.press(undone(press))
}

/// Takes several presses back with one key.
pub fn take_all_back(presses: &[&Press], stamp: &Stamp) -> Vec<Record> {
    stamp.press(presses.iter().flat_map(|press| undone(press)))
}

fn undone(press: &Press) -> impl Iterator<Item = (RecordId, Event)> {
    press.about.iter().map(|about| (*about, Event::Undone { press: press.id }))
}

/// Puts a press back: every undo that took it back, one for each subject, is itself taken back.
pub fn put_back(press: &Press, stamp: &Stamp) -> Vec<Record> {
    let Some(first) = press.undone_by else { return Vec::new() };
    let undo = |index: u64| RecordId { series: first.series, seq: first.seq + index };
    stamp.press(press.about.iter().zip(0..).map(|(about, index)| (*about, Event::Redone { undo: undo(index) })))
}

/// The turn that a press moved: from whom, to whom.
pub fn moved(press: &Press) -> Option<(TurnId, AnimalId, AnimalId)> {
    press.records.iter().find_map(|record| match record.event() {
        Some(Event::TurnMoved { turn, to }) => Some((*turn, AnimalId(record.about), *to)),
        Some(_) | None => None,
    })
}

/// The first of two that a press joined.
pub fn joined(press: &Press) -> Option<AnimalId> {
    press.records.iter().find_map(|record| match record.event() {
        Some(Event::Joined { one, other }) => Some(AnimalId(*one.min(other))),
        Some(_) | None => None,
    })
}

/// The turn that a press signed off or broke off.
pub fn ended(press: &Press) -> Option<TurnId> {
    press.records.iter().find_map(|record| match record.event() {
        Some(Event::TurnSigned { turn, .. } | Event::TurnPaused { turn, .. }) => Some(*turn),
        Some(_) | None => None,
    })
}

/// Whether a press began this animal's turn: taking it back lets her go.
pub fn began(press: &Press, animal: AnimalId) -> bool {
    press.records.iter().any(|record| match record.event() {
        Some(Event::TurnBegun { animal: of, .. }) => *of == animal,
        Some(_) | None => false,
    })
}

/// Whether it told something of a farm that stands beside the map of its animals.
pub fn is_of_farm(press: &Press) -> bool {
    press.records.iter().filter_map(Record::event).any(|event| {
        matches!(
            event,
            Event::FarmDescribed { .. }
                | Event::ContactTold { .. }
                | Event::Instructed { .. }
                | Event::InstructionEnded { .. }
                | Event::InstructionReviewed { .. }
        )
    })
}
