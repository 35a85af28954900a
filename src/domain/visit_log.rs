//! Where and when: the visits of a farm, as its own records tell them. Some countries ask a trimmer to keep such a log, because
//! disease travels on boots and blades.

use super::event::Event;
use super::herd::VisitWhy;
use super::history::standing::Standing;
use super::ids::{PersonId, VisitId};
use super::record::{Moment, Record};
use chrono::{NaiveDate, NaiveTime};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// One visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// Its name.
    pub id: VisitId,
    /// The day, said by a person.
    pub on: NaiveDate,
    /// Why it was made.
    pub why: VisitWhy,
    /// Who began it; none where nobody was named.
    pub by: Option<PersonId>,
    /// When it began, by the tablet's clock; none where it was typed up on another day.
    pub from: Option<NaiveTime>,
    /// When it was closed; none where it was not, or on another day.
    pub to: Option<NaiveTime>,
}

/// Visits of a farm out of its records, the newest first.
pub fn visits(records: Vec<Record>) -> Vec<Visit> {
    let standing = Standing::of(records);
    let mut visits: BTreeMap<VisitId, Visit> = BTreeMap::new();
    for record in standing.records() {
        match record.event() {
            Some(Event::VisitBegun { why, .. }) => {
                let id = VisitId(record.id);
                let from = clock(record.written, record.on);
                visits.insert(id, Visit { id, on: record.on, why: *why, by: record.by, from, to: None });
            }
            Some(Event::VisitClosed { visit }) => {
                if let Some(visit) = visits.get_mut(visit) {
                    visit.to = clock(record.written, visit.on);
                }
            }
            Some(_) | None => {}
        }
    }
    let mut visits: Vec<Visit> = visits.into_values().collect();
    visits.sort_by_key(|visit| Reverse((visit.on, visit.id)));
    visits
}

/// What the clock said, where it was that day.
fn clock(written: Moment, on: NaiveDate) -> Option<NaiveTime> {
    (written.date_naive() == on).then(|| written.time())
}
