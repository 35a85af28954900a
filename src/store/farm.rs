//! What the records of one farm add up to: a full fold over what stands, of the few events that a list of
//! farms shows.

use crate::domain::contact::here;
use crate::domain::event::Event;
use crate::domain::herd::FarmFact;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{FarmId, RecordId};
use crate::domain::instruction::given;
use crate::domain::record::Record;
use crate::domain::visit_log::{self, State, Visit};
use crate::wire::rows::FarmRow;
use std::collections::BTreeMap;

/// Whether this subject was begun as a farm, taken back or not.
pub fn is_farm(subject: RecordId, records: &[Record]) -> bool {
    records.iter().any(|record| record.about == subject && matches!(record.event(), Some(Event::FarmBegun { .. })))
}

/// The row of one farm out of its group's records; none when its beginning was taken back. A farm that was joined into another
/// keeps the name it has, since sheets may still come under it.
pub fn fold(records: &[Record], standing: &Standing, farm: FarmId) -> Option<FarmRow> {
    let joined = standing.one_with(farm.0);
    let first = FarmId(joined.first().copied().unwrap_or(farm.0));
    let visits = if first == farm { visit_log::standing(standing, farm) } else { Vec::new() };
    let mut row = FarmRow {
        farm,
        name: String::new(),
        facts: Vec::new(),
        given_up: None,
        joined_into: (first != farm).then_some(first),
        instructions: if first == farm { given(standing, farm).standing } else { Vec::new() },
        contacts: if first == farm { here(standing, farm) } else { Vec::new() },
        going: visits.iter().filter(|visit| visit.state == State::Open).map(Visit::last).max(),
        aside: visits.iter().filter_map(Visit::set_aside).max(),
        count: records.iter().filter(|record| about(record, farm.0)).count() as u64,
    };
    let mut told = BTreeMap::new();
    let mut begun = false;
    for record in standing.records() {
        if let Some(Event::FarmBegun { name }) = record.event() {
            begun |= record.about == farm.0;
            // Two names, where two tablets began a farm under one.
            if record.about == farm.0 && row.name.is_empty() {
                row.name.clone_from(name);
            } else if record.about == farm.0 && row.name != *name {
                row.name = format!("{} or {name}", row.name);
            }
        }
        if let Some(Event::FarmDescribed { farm: of, fact, words }) = record.event()
            && if *fact == FarmFact::Name { *of == farm } else { joined.contains(&of.0) }
        {
            told.insert(*fact, words.clone());
        }
        if let Some(Event::FarmGivenUp { farm, handed_to }) = record.event()
            && joined.contains(&farm.0)
        {
            row.given_up = Some(handed_to.clone());
        }
        // Whoever trims there again has not given it up.
        if let Some(Event::VisitBegun { farm, .. }) = record.event()
            && joined.contains(&farm.0)
        {
            row.given_up = None;
        }
    }
    if let Some(name) = told.remove(&FarmFact::Name) {
        row.name = name;
    }
    row.facts = told.into_iter().filter(|(_, words)| !words.is_empty()).collect();
    begun.then_some(row)
}

fn about(record: &Record, subject: RecordId) -> bool {
    record.about == subject || record.event().and_then(Event::also_about) == Some(subject)
}
