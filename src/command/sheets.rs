//! From the records of an animal or a farm back to sheets, one a day, ready to be entered into another book.

use super::farm::people;
use crate::domain::event::Event;
use crate::domain::herd::{VisitWhy, VisitWord};
use crate::domain::history::standing::Standing;
use crate::domain::history::{History, Turn};
use crate::domain::ids::{AnimalId, FarmId, PersonId, TurnId, VisitId};
use crate::domain::instruction::given;
use crate::domain::record::Record;
use crate::domain::sheet::of::{Source, called};
use crate::domain::sheet::of_farm::farm_told_of;
use crate::domain::sheet::of_told::told_of;
use crate::domain::sheet::{Line, Sheet, SheetTurn, VisitEnd};
use crate::domain::visit_log::{Cleaned, State, Visit, visits};
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
        let visits = match history.farm {
            Some(farm) => visits(store.records(farm.0)?.0, farm),
            None => Vec::new(),
        };
        let visits = visits.into_iter().map(|visit| (visit.id, visit)).collect();
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
    let standing = Standing::of(records.to_vec());
    for record in standing.records() {
        let Some(event) = record.event() else { continue };
        let turn = history.turn(TurnId(record.id));
        let lines: Vec<Line> = match turn {
            Some(turn) => vec![Line::Turn(SheetTurn::shared(turn, history, &|of| {
                around.name(recorder(&standing, turn.id, of)).to_owned()
            }))],
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
    days.into_iter().map(|((on, by), told)| page(farm, on, by, told)).collect()
}

/// Who recorded something of a turn.
fn recorder(standing: &Standing, turn: TurnId, of: Source) -> Option<PersonId> {
    let is_it = |record: &Record| match (of, record.event()) {
        (Source::Record(id), _) => record.id == id,
        (Source::Look(foot), Some(Event::Looked { turn: of, foot: looked, .. })) => (*of, *looked) == (turn, foot),
        (Source::End, Some(Event::TurnSigned { turn: of, .. } | Event::TurnPaused { turn: of, .. })) => *of == turn,
        (Source::Look(_) | Source::End, _) => false,
    };
    standing.records().iter().rev().find(|record| is_it(record))?.by
}

/// A farm's own sheets, oldest first: what was told of it and of its visits, one for each day and person. What was told of its animals
/// stands on theirs.
pub fn of_farm(records: Vec<Record>, (id, farm): (FarmId, &str), people: &BTreeMap<PersonId, String>) -> Vec<Sheet> {
    let standing = Standing::of(records.clone());
    let given = given(&standing, id);
    let log: BTreeMap<VisitId, Visit> = visits(records, id).into_iter().map(|visit| (visit.id, visit)).collect();
    let (mut days, mut begun) = (BTreeMap::new(), BTreeMap::new());
    for record in standing.about(id.0) {
        let Some(event) = record.event() else { continue };
        let by = record.by.and_then(|by| people.get(&by)).cloned().unwrap_or_default();
        let day = (record.on, by.clone());
        note_visit(&mut begun, record, &day);
        let sheet = days.entry(day).or_insert_with(|| page(farm, record.on, by, (None, Vec::new())));
        sheet.lines.extend(farm_told_of(event, record.on, &given).map(Line::Farm));
        hear(sheet, event, &log);
    }
    for (page, _) in begun.values().filter(|(_, told)| *told) {
        say_routine(&mut days, page);
    }
    // A routine visit of which nothing was told begins with its first animal.
    let says = |sheet: &Sheet| {
        !sheet.lines.is_empty() || !sheet.visit.is_empty() || sheet.ended.is_some() || sheet.why != VisitWhy::Routine
    };
    days.into_values().filter(says).collect()
}

/// A day, and who recorded on it: a page of its own.
type Day = (NaiveDate, String);

/// Notes on which page a visit began, and whether anything more was told of it.
fn note_visit(begun: &mut BTreeMap<VisitId, (Day, bool)>, record: &Record, page: &Day) {
    match record.event() {
        Some(Event::VisitBegun { .. }) => {
            begun.insert(VisitId(record.id), (page.clone(), false));
        }
        Some(Event::VisitDescribed { visit, .. } | Event::VisitPaused { visit } | Event::VisitClosed { visit }) => {
            begun.entry(*visit).and_modify(|(_, told)| *told = true);
        }
        Some(_) | None => {}
    }
}

/// Says of a visit that it is routine, where no other word of its first day makes one before its end is told: so the farm's own
/// sheets make it anew.
fn say_routine(days: &mut BTreeMap<Day, Sheet>, begun: &Day) {
    let tells = |sheet: &Sheet| sheet.why != VisitWhy::Routine || !sheet.visit.is_empty() || sheet.ended.is_some();
    let first = days.iter().find(|(page, sheet)| page.0 == begun.0 && tells(sheet));
    let makes = first.is_some_and(|(_, sheet)| sheet.ended != Some(VisitEnd::Closed) || !sheet.visit.is_empty());
    let page = first.map_or(begun, |(page, _)| page.min(begun)).clone();
    if let Some(sheet) = days.get_mut(&page).filter(|_| !makes) {
        sheet.visit.insert(0, VisitWord::Routine);
    }
}

/// Takes in what an event of that day tells of a visit, as far as a sheet has words for it.
fn hear(sheet: &mut Sheet, event: &Event, log: &BTreeMap<VisitId, Visit>) {
    if let Event::VisitBegun { why, .. } = event {
        sheet.why = *why;
    }
    if let Event::VisitPaused { visit } | Event::VisitClosed { visit } = event {
        sheet.ended = log.get(visit).and_then(|visit| ended(visit, sheet.on)).or(sheet.ended);
    }
    let Event::VisitDescribed { visit, word } = event else { return };
    match word {
        VisitWord::Routine => sheet.why = VisitWhy::Routine,
        VisitWord::CallOut => sheet.why = VisitWhy::CallOut,
        // On the day it began it has no day before on which to go on with.
        VisitWord::GoneOn if log.get(visit).is_none_or(|visit| visit.on == sheet.on) => {}
        VisitWord::WholeHerd
        | VisitWord::Selected
        | VisitWord::CleanedBefore
        | VisitWord::CleanedAfter
        | VisitWord::GoneOn => {
            sheet.visit.retain(|other| other != word && !other.excludes(*word));
            sheet.visit.push(*word);
            sheet.visit.sort();
        }
    }
}

fn page(farm: &str, on: NaiveDate, by: String, (of, lines): (Option<Of>, Vec<Line>)) -> Sheet {
    Sheet {
        farm: farm.to_owned(),
        on,
        by,
        why: of.map_or(VisitWhy::Routine, |of| of.visit.why),
        visit: of.map_or(Vec::new(), |of| of.told_on(on)),
        ended: of.and_then(|of| ended(of.visit, on)),
        lines,
    }
}

/// What became of a visit at the end of that day.
fn ended(visit: &Visit, on: NaiveDate) -> Option<VisitEnd> {
    let aside = || visit.asides.contains(&on).then_some(VisitEnd::SetAside);
    if visit.state == State::Closed(on) { Some(VisitEnd::Closed) } else { aside() }
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
