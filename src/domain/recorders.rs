//! Who recorded what in a turn: two people may stand at one crush.

use super::event::Event;
use super::history::standing::Standing;
use super::ids::{PersonId, TurnId};

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
