//! From an animal's history back to sheets, one a day, ready to be entered into another book.

use super::farm::people;
use crate::domain::herd::{VisitWhy, VisitWord};
use crate::domain::history::standing::Standing;
use crate::domain::history::{History, Turn};
use crate::domain::ids::{AnimalId, PersonId, TurnId, VisitId};
use crate::domain::record::Record;
use crate::domain::sheet::of::called;
use crate::domain::sheet::of_told::told_of;
use crate::domain::sheet::{Line, Sheet, SheetTurn};
use crate::domain::visit_log::{Cleaned, Visit, visits};
use crate::domain::vocabulary::Vocabulary;
use crate::store::Store;
use crate::store::error::StoreError;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What stands around an animal's turns: who recorded them, and why the visit was made.
pub struct Around {
    people: BTreeMap<PersonId, String>,
    visits: BTreeMap<VisitId, Visit>,
}

impl Around {
    /// Reads it for an animal's farm.
    pub fn of(store: &Store, history: &History) -> Result<Around, StoreError> {
        let records = match history.farm {
            Some(farm) => store.records(farm.0)?.0,
            None => Vec::new(),
        };
        let visits = visits(records).into_iter().map(|visit| (visit.id, visit)).collect();
        Ok(Around { people: people(store)?, visits })
    }

    /// The name of a person; empty where nobody was named.
    pub fn name(&self, by: Option<PersonId>) -> &str {
        by.and_then(|person| self.people.get(&person)).map_or("", String::as_str)
    }
}

/// Her sheets, oldest first: one for each day and person. Of what was told outside the crush, a sheet carries what it has
/// words for.
pub fn sheets(records: &[Record], history: &History, farm: &str, around: &Around) -> Vec<Sheet> {
    let animal = called(&history.labels);
    let mut days: BTreeMap<(NaiveDate, String), (Option<Of>, Vec<Line>)> = BTreeMap::new();
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
        let by = around.name(record.by).to_owned();
        let (visit, written) = days.entry((record.on, by)).or_default();
        *visit = turn.and_then(|turn| Of::turn(turn, history, around)).or(*visit);
        written.extend(lines);
    }
    days.into_iter()
        .map(|((on, by), (visit, lines))| Sheet {
            farm: farm.to_owned(),
            on,
            by,
            why: visit.map_or(VisitWhy::Routine, |of| of.visit.why),
            visit: visit.map_or(Vec::new(), |of| of.told_on(on)),
            lines,
        })
        .collect()
}

/// The visit of a sheet.
#[derive(Clone, Copy)]
struct Of<'a> {
    visit: &'a Visit,
    /// Whether an earlier sheet of hers is of that visit too: without that one, nothing is there to go on with.
    goes_on: bool,
}

impl<'a> Of<'a> {
    fn turn(turn: &Turn, history: &History, around: &'a Around) -> Option<Of<'a>> {
        let visit = around.visits.get(&turn.visit)?;
        let goes_on = history.turns.iter().any(|other| other.visit == turn.visit && other.on < turn.on);
        Some(Of { visit, goes_on })
    }

    /// What was told of it besides why it was made, as a sheet of that day says it.
    fn told_on(&self, on: NaiveDate) -> Vec<VisitWord> {
        let visit = self.visit;
        let that_day = |cleaned: Option<Cleaned>| cleaned.is_some_and(|cleaned| cleaned.on == on);
        let told = |word: &VisitWord| match word {
            VisitWord::Routine | VisitWord::CallOut => false,
            VisitWord::WholeHerd => visit.whole_herd == Some(true),
            VisitWord::Selected => visit.whole_herd == Some(false),
            VisitWord::CleanedBefore => that_day(visit.cleaned_before),
            VisitWord::CleanedAfter => that_day(visit.cleaned_after),
            VisitWord::GoneOn => self.goes_on,
        };
        VisitWord::ALL.iter().copied().filter(told).collect()
    }
}
