//! First pass: which records stand, what they say after correction, whose turn is whose, and who is one animal.
//!
//! A record about a record always has a higher tick than what it names, because its writer had seen that. So going from
//! the newest to the oldest, whatever may void a record has been decided before the record is met.

use super::names::Names;
use super::{Correction, Doubt, DoubtWhat, Join};
use crate::domain::event::Event;
use crate::domain::ids::{AnimalId, RecordId, TurnId};
use crate::domain::record::{Body, Record};
use std::collections::{BTreeMap, BTreeSet};

/// Records that stand, and what the records about records say of them.
#[derive(Debug, Clone)]
pub struct Standing {
    /// Standing records in the order of facts, corrected.
    pub(super) records: Vec<Record>,
    /// Every record handed in, taken back or not.
    pub(super) count: u64,
    /// Records of a newer program.
    pub(super) newer: usize,
    /// Whose turn it is, after moves.
    pub(super) owner: BTreeMap<TurnId, AnimalId>,
    /// Turns that went from one animal to another, oldest move first.
    pub(super) moves: Vec<Moved>,
    /// What was corrected, with what it said before, oldest correction first.
    pub(super) corrections: Vec<Correction>,
    /// What does not fit.
    pub(super) doubts: Vec<Doubt>,
    /// Who wrote here and when.
    pub(super) names: Names,
    joins: Vec<Join>,
}

/// A turn that went from one animal to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Moved {
    /// The turn.
    pub turn: TurnId,
    /// Whose it was.
    pub from: AnimalId,
    /// Whose it is said to be.
    pub to: AnimalId,
}

impl Standing {
    /// Sorts out records given in any order. The same record given twice counts once.
    pub fn of(records: Vec<Record>) -> Standing {
        let mut all: BTreeMap<RecordId, Record> = BTreeMap::new();
        for record in records {
            all.entry(record.id).or_insert(record);
        }
        let names = Names::sort_out(&mut all);
        let count = all.len() as u64;
        let newer = all.values().filter(|record| record.event().is_none()).count();
        let mut records: Vec<Record> = all.into_values().collect();
        records.sort_by_key(age);

        let mut doubts = names.doubts(&records);
        let undone = Undone::of(&records, &names);
        let revived = turns_still_named(&records, &undone);
        doubts.extend(revived.iter().map(|turn| Doubt { id: turn.0, what: DoubtWhat::TurnTakenBack }));
        records.retain(|record| !undone.takes_back(record) || revived.contains(&TurnId(record.id)));
        let corrections = correct(&mut records, &mut doubts);

        let (owner, moves) = owners(&records, &names);
        let joins = joins(&records, &names);
        records.sort_by_key(Record::order);
        Standing { records, count, newer, owner, moves, corrections, doubts, names, joins }
    }

    /// Every id that stands for the same animal or farm as this one, itself included.
    pub fn one_with(&self, id: RecordId) -> BTreeSet<RecordId> {
        let mut class = BTreeSet::from([id]);
        loop {
            let before = class.len();
            for Join { one, other, .. } in &self.joins {
                if class.contains(one) || class.contains(other) {
                    class.extend([*one, *other]);
                }
            }
            if class.len() == before {
                return class;
            }
        }
    }

    /// Standing records in the order of facts.
    pub fn records(&self) -> &[Record] {
        &self.records
    }

    /// Those about this animal or farm and whatever is one with it. Records of what was one with it once, and was parted since, are read
    /// with them and told apart here.
    pub fn about(&self, id: RecordId) -> impl DoubleEndedIterator<Item = &Record> {
        let class = self.one_with(id);
        self.records.iter().filter(move |record| class.contains(&record.about))
    }

    /// Joinings that nobody has taken apart, oldest first.
    pub fn joins(&self) -> &[Join] {
        &self.joins
    }
}

/// Order of writing: what a writer had seen is always older than what it wrote.
fn age(record: &Record) -> (u64, u64, u64) {
    (record.tick, record.id.series, record.id.seq)
}

/// Presses that an undo took back, unless the undo was itself taken back.
#[derive(Default)]
struct Undone {
    /// Taken back.
    surely: BTreeSet<RecordId>,
    /// Named by an undo that may mean another press of the same name: what hides something is taken back, and all else stands.
    perhaps: BTreeSet<RecordId>,
}

impl Undone {
    /// `records` oldest first.
    fn of(records: &[Record], names: &Names) -> Undone {
        let mut undone = Undone::default();
        let mut redone = BTreeSet::new();
        for record in records.iter().rev() {
            if undone.takes_back(record) {
                continue;
            }
            if let Some(Event::Redone { undo }) = record.event() {
                redone.insert(*undo);
            }
            if let Some(Event::Undone { press }) = record.event()
                && !redone.contains(&record.id)
                // A redo of a shared name puts back whatever bears it: that hides nothing.
                && !record.id.written_as().is_some_and(|name| redone.contains(&name))
            {
                if names.are_two(*press) { &mut undone.perhaps } else { &mut undone.surely }.insert(*press);
            }
        }
        undone
    }

    fn takes_back(&self, record: &Record) -> bool {
        let hides = record.event().is_some_and(may_hide);
        self.surely.contains(&record.press_id()) || hides && self.perhaps.contains(&record.press_id())
    }
}

/// Whether something left on an animal may show less, or no more, because of this event.
fn may_hide(event: &Event) -> bool {
    match event {
        Event::SeenOff { outcome, .. } => outcome.closes(),
        other => matches!(other, Event::ToldOff { .. } | Event::VetAnswered { .. } | Event::Undone { .. }),
    }
}

/// Turns whose beginning was taken back on one tablet while facts of another still name them: they stand, with a doubt,
/// because a wrap must not vanish with the turn it was put on in.
fn turns_still_named(records: &[Record], undone: &Undone) -> BTreeSet<TurnId> {
    let begun: BTreeSet<TurnId> = records
        .iter()
        .filter(|record| undone.takes_back(record))
        .filter(|record| matches!(record.event(), Some(Event::TurnBegun { .. })))
        .map(|record| TurnId(record.id))
        .collect();
    records
        .iter()
        .filter(|record| !undone.takes_back(record))
        .filter_map(|record| match record.event()? {
            // What a correction says names a turn as much as a fact does.
            Event::Corrected { to, .. } => to.turn(),
            event => event.turn(),
        })
        .filter(|turn| begun.contains(turn))
        .collect()
}

/// Puts the newest standing correction in the place of what it corrects, and gives every correction that counts with what was
/// said before it. `records` oldest first.
fn correct(records: &mut [Record], doubts: &mut Vec<Doubt>) -> Vec<Correction> {
    let corrections: BTreeMap<RecordId, (RecordId, Event)> = records
        .iter()
        .filter_map(|record| match record.event() {
            Some(Event::Corrected { of, to, .. }) => Some((record.id, (*of, (**to).clone()))),
            Some(_) | None => None,
        })
        .collect();
    let newest: Vec<(RecordId, RecordId)> = records
        .iter()
        .filter(|record| corrections.contains_key(&record.id))
        .map(|record| (corrected_record(record.id, &corrections), record.id))
        .collect();
    // Later entries replace earlier ones of the same target, and `records` is oldest first.
    let by_target: BTreeMap<RecordId, RecordId> = newest.iter().copied().collect();
    let held: BTreeSet<RecordId> = records.iter().map(|record| record.id).collect();
    for (target, correction) in &by_target {
        if !held.contains(target) {
            doubts.push(Doubt { id: *correction, what: DoubtWhat::Missing });
        }
    }
    let mut before: BTreeMap<RecordId, Event> = BTreeMap::new();
    for record in records.iter_mut() {
        let Some(correction) = by_target.get(&record.id) else { continue };
        let (_, to) = &corrections[correction];
        if let Some(event) = record.event().filter(|event| fits(event, to)) {
            before.insert(record.id, event.clone());
            record.body = Body::Known(to.clone());
        } else {
            doubts.push(Doubt { id: *correction, what: DoubtWhat::OtherKind });
        }
    }
    told(records, &newest, before)
}

/// Whether an event can stand in the place of another.
fn fits(event: &Event, to: &Event) -> bool {
    std::mem::discriminant(event) == std::mem::discriminant(to) && !to.is_about_records()
}

/// Every correction in words of what was said before and after it. `newest` names targets and corrections, oldest first;
/// `before` is what each target said at first.
fn told(records: &[Record], newest: &[(RecordId, RecordId)], mut before: BTreeMap<RecordId, Event>) -> Vec<Correction> {
    let mut told = Vec::new();
    for (of, id) in newest {
        let Some(record) = records.iter().find(|record| record.id == *id) else { continue };
        let (Some(Event::Corrected { to, why, .. }), Some(was)) = (record.event(), before.get_mut(of)) else {
            continue;
        };
        if fits(was, to) {
            let was = std::mem::replace(was, (**to).clone());
            let (why, now) = (why.clone(), (**to).clone());
            told.push(Correction { id: *id, of: *of, on: record.on, by: record.by, was, now, why });
        }
    }
    told
}

/// Follows corrections of corrections to the record that is meant.
fn corrected_record(correction: RecordId, corrections: &BTreeMap<RecordId, (RecordId, Event)>) -> RecordId {
    let mut target = correction;
    // A chain is no longer than the corrections there are; a hostile circle ends here.
    for _ in 0..=corrections.len() {
        match corrections.get(&target) {
            Some((of, _)) => target = *of,
            None => return target,
        }
    }
    target
}

/// Whose turn each is; the newest move decides. `records` oldest first.
fn owners(records: &[Record], names: &Names) -> (BTreeMap<TurnId, AnimalId>, Vec<Moved>) {
    let (mut owner, mut moves) = (BTreeMap::new(), Vec::new());
    for record in records {
        if let Some(Event::TurnBegun { animal, .. }) = record.event() {
            owner.insert(TurnId(record.id), *animal);
        }
    }
    for record in records {
        if let Some(Event::TurnMoved { turn, to }) = record.event()
            && !names.are_two(turn.0)
        {
            // Of a turn whose beginning is not here, the record is about whose it was.
            let from = owner.insert(*turn, *to).unwrap_or(AnimalId(record.about));
            if from != *to {
                moves.push(Moved { turn: *turn, from, to: *to });
            }
        }
    }
    (owner, moves)
}

/// Joinings that nobody has taken apart.
fn joins(records: &[Record], names: &Names) -> Vec<Join> {
    let parted: BTreeSet<RecordId> = records
        .iter()
        .filter_map(|record| match record.event() {
            Some(Event::Parted { joined }) => Some(*joined),
            Some(_) | None => None,
        })
        .collect();
    records
        .iter()
        .filter(|record| !parted.contains(&record.id))
        .filter_map(|record| match record.event() {
            Some(Event::Joined { one, other }) if !names.are_two(*one) && !names.are_two(*other) => {
                Some(Join { id: record.id, on: record.on, one: *one, other: *other })
            }
            Some(_) | None => None,
        })
        .collect()
}
