//! What a farm called about itself, and whether it was heard. A visit that begins after it hears it: Today says it until then. What is
//! called while a visit goes on is said where that is added up and closed, so its closing hears it, if both were written on one
//! tablet. From another one it may have come later; then it is said again at the next visit. Better twice than never.

use super::event::Event;
use super::herd::VisitWord;
use super::history::standing::Standing;
use super::ids::{FarmId, VisitId};
use super::record::Record;
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// What a farm called about itself, and about no animal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarmCall {
    /// The day.
    pub on: NaiveDate,
    /// What was said.
    pub words: String,
    /// Said to be urgent.
    pub urgent: bool,
}

/// What a farm called about itself and nobody has heard since, out of its own records: since its last visit before that day began.
/// `visits` are the days before it on which anybody was in the crush.
pub fn unheard(records: Vec<Record>, farm: FarmId, visits: &BTreeSet<NaiveDate>, today: NaiveDate) -> Vec<FarmCall> {
    let last = visits.range(..today).next_back().copied();
    let standing = Standing::of(records);
    let its: Vec<&Record> = standing.about(farm.0).filter(|record| record.on <= today).collect();
    let begun = its.iter().rposition(|record| Some(record.on) == last && begins(record).is_some());
    // Where nobody knows when that visit began, nobody knows what was said before.
    let since = |at: usize, on: NaiveDate| {
        last.is_none_or(|last| on > last || on == last && begun.is_none_or(|begun| at > begun))
    };
    let calls = its.iter().enumerate().filter(|(at, record)| since(*at, record.on) && !heard(&its, *at));
    calls.filter_map(|(_, record)| call(record)).collect()
}

/// What a farm called about itself while that visit went on.
pub fn during(records: Vec<Record>, farm: FarmId, visit: VisitId, until: NaiveDate) -> Vec<FarmCall> {
    let standing = Standing::of(records);
    let its: Vec<&Record> = standing.about(farm.0).filter(|record| record.on <= until).collect();
    let during = |at: &usize| going_on(&its, *at).contains(&visit);
    (0..its.len()).filter(during).filter_map(|at| call(its[at])).collect()
}

fn call(record: &Record) -> Option<FarmCall> {
    if let Some(Event::FarmCalled { words, urgent, .. }) = record.event() {
        Some(FarmCall { on: record.on, words: words.clone(), urgent: *urgent })
    } else {
        None
    }
}

/// The visit that begins, or goes on, with a record.
fn begins(record: &Record) -> Option<VisitId> {
    if let Some(Event::VisitDescribed { visit, word: VisitWord::GoneOn }) = record.event() {
        return Some(*visit);
    }
    matches!(record.event(), Some(Event::VisitBegun { .. })).then_some(VisitId(record.id))
}

/// The visit that ends with a record, or is set aside.
fn ends(record: &Record) -> Option<VisitId> {
    if let Some(Event::VisitClosed { visit } | Event::VisitPaused { visit }) = record.event() {
        Some(*visit)
    } else {
        None
    }
}

/// Visits that were under way when that was written, on that day: two, where two tablets began one each.
fn going_on(its: &[&Record], at: usize) -> BTreeSet<VisitId> {
    let of_day = its[..at].iter().filter(|record| record.on == its[at].on);
    of_day.fold(BTreeSet::new(), |mut going, record| {
        going.extend(begins(record));
        if let Some(over) = ends(record) {
            going.remove(&over);
        }
        going
    })
}

/// Whether a visit that went on meanwhile was closed afterwards, on the tablet that had the call.
fn heard(its: &[&Record], at: usize) -> bool {
    let going = going_on(its, at);
    its[at + 1..].iter().any(|record| {
        let closed = matches!(record.event(), Some(Event::VisitClosed { visit }) if going.contains(visit));
        closed && record.id.series == its[at].id.series
    })
}
