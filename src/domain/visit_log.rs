//! Where and when: the visits of a farm, as its own records tell them. Some countries ask a trimmer to keep such a log, because
//! disease travels on boots and blades.

use super::event::Event;
use super::herd::{VisitWhy, VisitWord};
use super::history::standing::Standing;
use super::ids::{FarmId, PersonId, VisitId};
use super::record::Record;
use chrono::{NaiveDate, NaiveTime};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Where a visit stands, by the newest word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Under way, or left without a word.
    Open,
    /// Set aside on that day, to go on later.
    Paused(NaiveDate),
    /// Closed on that day.
    Closed(NaiveDate),
}

/// That knives and crush were washed and disinfected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cleaned {
    /// The day.
    pub on: NaiveDate,
    /// When, by the tablet's clock; none where it was typed up on another day.
    pub at: Option<NaiveTime>,
}

/// One visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// Its name.
    pub id: VisitId,
    /// The day it began, said by a person.
    pub on: NaiveDate,
    /// Why it was made.
    pub why: VisitWhy,
    /// Whether the whole herd is to come through, or animals were selected; none where nobody said.
    pub whole_herd: Option<bool>,
    /// Cleaned before the first animal; none where it was not told.
    pub cleaned_before: Option<Cleaned>,
    /// Cleaned after the last one; none where it was not told.
    pub cleaned_after: Option<Cleaned>,
    /// Who began it; none where nobody was named.
    pub by: Option<PersonId>,
    /// When it began, by the tablet's clock; none where it was typed up on another day.
    pub from: Option<NaiveTime>,
    /// When it was closed, on the last of its days; none where it was not, or on another day.
    pub to: Option<NaiveTime>,
    /// Days on which it began or went on.
    pub days: BTreeSet<NaiveDate>,
    /// Days at whose end it was set aside.
    pub asides: BTreeSet<NaiveDate>,
    /// Where it stands.
    pub state: State,
}

impl Visit {
    /// The last of its days.
    pub fn last(&self) -> NaiveDate {
        self.days.last().copied().unwrap_or(self.on)
    }

    /// The day it was set aside, where it is.
    pub fn set_aside(&self) -> Option<NaiveDate> {
        match self.state {
            State::Paused(day) => Some(day),
            State::Open | State::Closed(_) => None,
        }
    }

    /// Whether that word would tell nothing new.
    pub fn says(&self, word: VisitWord) -> bool {
        match word {
            VisitWord::Routine => self.why == VisitWhy::Routine,
            VisitWord::CallOut => self.why == VisitWhy::CallOut,
            VisitWord::WholeHerd => self.whole_herd == Some(true),
            VisitWord::Selected => self.whole_herd == Some(false),
            VisitWord::CleanedBefore => self.holds(self.cleaned_before),
            VisitWord::CleanedAfter => self.holds(self.cleaned_after),
            VisitWord::GoneOn => self.state == State::Open,
        }
    }

    /// Whether that was told since the visit last went on: what was clean in April is washed again in May.
    pub fn holds(&self, cleaned: Option<Cleaned>) -> bool {
        cleaned.is_some_and(|cleaned| cleaned.on >= self.last())
    }

    fn hear(&mut self, word: VisitWord, record: &Record) {
        let cleaned = Cleaned { on: record.on, at: clock(record) };
        match word {
            VisitWord::Routine => self.why = VisitWhy::Routine,
            VisitWord::CallOut => self.why = VisitWhy::CallOut,
            VisitWord::WholeHerd => self.whole_herd = Some(true),
            VisitWord::Selected => self.whole_herd = Some(false),
            VisitWord::CleanedBefore => self.cleaned_before = Some(cleaned),
            VisitWord::CleanedAfter => self.cleaned_after = Some(cleaned),
            VisitWord::GoneOn => {
                self.state = State::Open;
                self.to = None;
                self.asides.remove(&record.on);
                self.days.insert(record.on);
            }
        }
    }
}

/// Visits of a farm out of its records, the newest first.
pub fn visits(records: Vec<Record>, farm: FarmId) -> Vec<Visit> {
    standing(&Standing::of(records), farm)
}

/// The same out of what stands of the farm.
pub fn standing(standing: &Standing, farm: FarmId) -> Vec<Visit> {
    let mut visits: BTreeMap<VisitId, Visit> = BTreeMap::new();
    for record in standing.about(farm.0) {
        match record.event() {
            Some(Event::VisitBegun { why, .. }) => {
                visits.insert(VisitId(record.id), begun(record, *why));
            }
            Some(Event::VisitDescribed { visit, word }) => {
                if let Some(visit) = visits.get_mut(visit) {
                    visit.hear(*word, record);
                }
            }
            Some(Event::VisitPaused { visit }) => {
                if let Some(visit) = visits.get_mut(visit) {
                    visit.state = State::Paused(record.on);
                    visit.asides.insert(record.on);
                }
            }
            Some(Event::VisitClosed { visit }) => {
                if let Some(visit) = visits.get_mut(visit) {
                    visit.state = State::Closed(record.on);
                    visit.asides.remove(&record.on);
                    visit.to = clock(record).filter(|_| visit.last() == record.on);
                }
            }
            Some(_) | None => {}
        }
    }
    let mut visits: Vec<Visit> = visits.into_values().collect();
    visits.sort_by_key(|visit| Reverse((visit.on, visit.id)));
    visits
}

fn begun(record: &Record, why: VisitWhy) -> Visit {
    Visit {
        id: VisitId(record.id),
        on: record.on,
        why,
        whole_herd: None,
        cleaned_before: None,
        cleaned_after: None,
        by: record.by,
        from: clock(record),
        to: None,
        days: BTreeSet::from([record.on]),
        asides: BTreeSet::new(),
        state: State::Open,
    }
}

/// What the clock said, where it was that day.
fn clock(record: &Record) -> Option<NaiveTime> {
    (record.written.date_naive() == record.on).then(|| record.written.time())
}
