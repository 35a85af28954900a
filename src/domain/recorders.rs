//! Who recorded what in a turn, and who recorded in a visit: two people may stand at one crush.

use super::event::Event;
use super::history::standing::Standing;
use super::ids::{PersonId, RecordId, TurnId, VisitId};
use super::record::Record;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What one person recorded in a turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Who; none where nobody was named.
    pub by: Option<PersonId>,
    /// What, in the order of facts.
    pub events: Vec<Event>,
}

/// The parts of a turn, in the order in which the people first recorded in it. Its beginning is nobody's work and says nothing.
pub fn parts(standing: &Standing, turn: TurnId) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    for record in standing.records() {
        let Some(event) = record.event().filter(|event| event.turn() == Some(turn)) else { continue };
        match parts.iter_mut().find(|part| part.by == record.by) {
            Some(part) => part.events.push(event.clone()),
            None => parts.push(Part { by: record.by, events: vec![event.clone()] }),
        }
    }
    parts
}

/// What a record is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Of {
    Visit(VisitId),
    Turn(TurnId),
}

/// Where a record stands in the order of facts.
type Place = (NaiveDate, u64, RecordId);

/// Who recorded in each visit: what was told of the visit itself, and in the turns of its animals.
#[derive(Debug, Default)]
pub struct Recorders {
    first: BTreeMap<(Of, PersonId), Place>,
    turns: BTreeMap<TurnId, VisitId>,
}

impl Recorders {
    /// Takes in what stands of a farm or an animal.
    pub fn hear(&mut self, standing: &Standing) {
        for record in standing.records() {
            if let Some(Event::TurnBegun { visit, .. }) = record.event() {
                self.turns.insert(TurnId(record.id), *visit);
            }
            if let (Some(of), Some(by)) = (of(record), record.by) {
                let place = (record.on, record.tick, record.id);
                let first = self.first.entry((of, by)).or_insert(place);
                *first = place.min(*first);
            }
        }
    }

    /// Each visit with those who recorded in it, in the order of their first records.
    pub fn by_visit(&self) -> BTreeMap<VisitId, Vec<PersonId>> {
        let mut visits: BTreeMap<VisitId, Vec<PersonId>> = BTreeMap::new();
        let mut all: Vec<_> = self.first.iter().collect();
        all.sort_by_key(|(_, place)| **place);
        for ((of, by), _) in all {
            let visit = match of {
                Of::Visit(visit) => Some(visit),
                Of::Turn(turn) => self.turns.get(turn),
            };
            if let Some(people) = visit.map(|visit| visits.entry(*visit).or_default())
                && !people.contains(by)
            {
                people.push(*by);
            }
        }
        visits
    }
}

/// What a record is of; none where it is of no visit.
fn of(record: &Record) -> Option<Of> {
    match record.event()? {
        Event::VisitBegun { .. } => Some(Of::Visit(VisitId(record.id))),
        Event::VisitDescribed { visit, .. } | Event::VisitPaused { visit } | Event::VisitClosed { visit } => {
            Some(Of::Visit(*visit))
        }
        Event::TurnBegun { .. } => Some(Of::Turn(TurnId(record.id))),
        event => event.turn().map(Of::Turn),
    }
}
