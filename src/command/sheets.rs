//! From an animal's history back to sheets, one a day, ready to be entered into another book.

use super::farm::people;
use crate::domain::event::Event;
use crate::domain::herd::VisitWhy;
use crate::domain::history::History;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, PersonId, TurnId, VisitId};
use crate::domain::record::Record;
use crate::domain::sheet::of::called;
use crate::domain::sheet::of_told::told_of;
use crate::domain::sheet::{Line, Sheet, SheetTurn};
use crate::store::Store;
use crate::store::error::StoreError;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What stands around an animal's turns: who recorded them, and why the visit was made.
pub struct Around {
    people: BTreeMap<PersonId, String>,
    visits: BTreeMap<VisitId, VisitWhy>,
}

impl Around {
    /// Reads it for an animal's farm.
    pub fn of(store: &Store, history: &History) -> Result<Around, StoreError> {
        let records = match history.farm {
            Some(farm) => store.records(farm.0)?.0,
            None => Vec::new(),
        };
        let visits = Standing::of(records)
            .records()
            .iter()
            .filter_map(|record| match record.event() {
                Some(Event::VisitBegun { why, .. }) => Some((VisitId(record.id), *why)),
                Some(_) | None => None,
            })
            .collect();
        Ok(Around { people: people(store)?, visits })
    }
}

/// Her sheets, oldest first: one for each day and person. Of what was told outside the crush, a sheet carries what it has
/// words for.
pub fn sheets(records: &[Record], history: &History, farm: &str, around: &Around) -> Vec<Sheet> {
    let animal = called(&history.labels);
    let mut days: BTreeMap<(NaiveDate, String), (Option<VisitWhy>, Vec<Line>)> = BTreeMap::new();
    for record in Standing::of(records.to_vec()).records() {
        let Some(event) = record.event() else { continue };
        let turn = history.turn(TurnId(record.id));
        let lines: Vec<Line> = match turn {
            Some(turn) => vec![Line::Turn(SheetTurn::of(turn, history))],
            None if event.turn().is_none() && history.animals.contains(&AnimalId(record.about)) => {
                let told = told_of(event, history).into_iter();
                told.map(|told| Line::Animal { animal: animal.clone(), told }).collect()
            }
            None => continue,
        };
        if lines.is_empty() {
            continue;
        }
        let by = record.by.and_then(|person| around.people.get(&person)).cloned().unwrap_or_default();
        let (why, written) = days.entry((record.on, by)).or_default();
        *why = turn.and_then(|turn| around.visits.get(&turn.visit)).copied().or(*why);
        written.extend(lines);
    }
    days.into_iter()
        .map(|((on, by), (why, lines))| Sheet {
            farm: farm.to_owned(),
            on,
            by,
            why: why.unwrap_or(VisitWhy::Routine),
            lines,
        })
        .collect()
}
