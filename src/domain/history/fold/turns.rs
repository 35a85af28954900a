//! Her turns in the crush.

use super::super::{History, Turn, TurnState};
use crate::domain::anatomy::Foot;
use crate::domain::ids::{RecordId, TurnId, VisitId};
use crate::domain::record::Record;
use crate::domain::vocabulary::Vocabulary;

/// Place of a foot in the array of looks.
pub(super) fn index(foot: Foot) -> usize {
    Foot::ALL.iter().position(|candidate| *candidate == foot).expect("ALL holds every foot")
}

/// She came into the crush: seen alive and here, whatever was said before that day.
pub(super) fn begin(history: &mut History, record: &Record, visit: VisitId) {
    if history.left.is_some_and(|(_, day)| day < record.on) {
        history.left = None;
    }
    match history.turns.iter_mut().find(|turn| turn.id.0 == record.id) {
        // A fact of the turn stood before its beginning; the beginning says the rest.
        Some(turn) => {
            turn.visit = visit;
            turn.on = record.on;
            turn.by = record.by;
        }
        None => history.turns.push(blank(TurnId(record.id), record, visit)),
    }
}

/// A turn whose beginning this book does not hold: its facts are shown all the same.
pub(super) fn missing(history: &mut History, turn: TurnId, record: &Record) -> usize {
    history.turns.push(blank(turn, record, VisitId(RecordId::PRACTICE)));
    history.turns.len() - 1
}

fn blank(id: TurnId, record: &Record, visit: VisitId) -> Turn {
    Turn {
        id,
        visit,
        on: record.on,
        by: record.by,
        came_from: None,
        state: TurnState::Open,
        gaps: Vec::new(),
        looks: [None; 4],
        found: Vec::new(),
        answers: Vec::new(),
        trims: Vec::new(),
        puts: Vec::new(),
        offs: Vec::new(),
        gaits: Vec::new(),
        measures: Vec::new(),
        sore: Vec::new(),
        notes: Vec::new(),
        medicines: Vec::new(),
        relief: None,
        vet: Vec::new(),
        rechecks: Vec::new(),
    }
}
