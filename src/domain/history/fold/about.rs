//! What records about records say of her, so that it stays readable: whom she is one with, turns that came and went, what was
//! said before a correction.

use super::super::standing::Standing;
use super::super::{History, MovedAway, Was};
use super::animal::called;
use crate::domain::event::Event;
use crate::domain::ids::{AnimalId, RecordId, TurnId};
use std::collections::BTreeSet;

/// What says that she is one with another.
pub(super) fn joins(history: &mut History, standing: &Standing, class: &BTreeSet<RecordId>) {
    history.joins.extend(standing.joins().iter().filter(|join| class.contains(&join.one)));
}

/// Turns that came to her and turns that were written under her, seen from where they are now.
pub(super) fn moves(history: &mut History, standing: &Standing, class: &BTreeSet<RecordId>) {
    let is_hers = |animal: AnimalId| class.contains(&animal.0);
    let mut seen: BTreeSet<TurnId> = BTreeSet::new();
    for moved in &standing.moves {
        // The first move of a turn says whom it was written under.
        if !seen.insert(moved.turn) {
            continue;
        }
        let now = standing.owner.get(&moved.turn).copied().unwrap_or(moved.to);
        match (is_hers(moved.from), is_hers(now)) {
            (true, false) => {
                let on = begun_on(standing, moved.turn);
                let labels = called(standing, now);
                history.moved_away.extend(on.map(|on| MovedAway { turn: moved.turn, on, to: now, labels }));
            }
            (false, true) => {
                let turn = history.turns.iter_mut().find(|turn| turn.id == moved.turn);
                if let Some(turn) = turn {
                    turn.came_from = Some(called(standing, moved.from));
                }
            }
            (true, true) | (false, false) => {}
        }
    }
}

/// The day of a turn: that of its beginning, else of the first fact that names it.
fn begun_on(standing: &Standing, turn: TurnId) -> Option<chrono::NaiveDate> {
    let records = standing.records();
    let begun = records.iter().find(|record| record.id == turn.0);
    let named = || records.iter().find(|record| record.event().and_then(Event::turn) == Some(turn));
    begun.or_else(named).map(|record| record.on)
}

/// What was corrected of hers, and beside each finding and each thing put on what it said before.
pub(super) fn corrections(history: &mut History, standing: &Standing, hers: &BTreeSet<RecordId>) {
    for correction in standing.corrections.iter().filter(|correction| hers.contains(&correction.of)) {
        let of = told_about(&correction.now).unwrap_or(correction.of);
        let was = Was { event: correction.was.clone(), why: correction.why.clone() };
        for turn in &mut history.turns {
            let found = turn.found.iter_mut().filter(|found| found.id == of).map(|found| &mut found.was);
            let puts = turn.puts.iter_mut().filter(|view| view.id.0 == of).map(|view| &mut view.was);
            found.chain(puts).for_each(|before| before.push(was.clone()));
        }
        history.corrections.push(correction.clone());
    }
}

/// The finding, or the thing put on, that an event says more about.
fn told_about(event: &Event) -> Option<RecordId> {
    if let Event::Detailed { of, .. } = event {
        return Some(of.0);
    }
    if let Event::PutDetailed { put, .. } = event { Some(put.0) } else { None }
}
