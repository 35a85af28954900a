//! A tablet that writes records by the rules of the record, without a store: own series, dense numbers, ticks above all
//! it has seen.

use chrono::{DateTime, FixedOffset, NaiveDate};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{Labels, VisitWhy};
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, FarmId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::{Moment, Record, Stamp};

/// A day of an invented May.
pub fn day(of_may: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, of_may).expect("a day of May")
}

/// Half past nine of a day.
pub fn moment(on: NaiveDate) -> Moment {
    let offset = FixedOffset::east_opt(3600).expect("one hour");
    let naive = on.and_hms_opt(9, 30, 0).expect("a time");
    DateTime::from_naive_utc_and_offset(naive - offset, offset)
}

/// A tablet and all records it has seen.
#[derive(Clone)]
pub struct Tablet {
    pub series: u64,
    pub seq: u64,
    pub tick: u64,
    pub seen: Vec<Record>,
}

impl Tablet {
    pub fn new(series: u64) -> Tablet {
        Tablet { series, seq: 1, tick: 1, seen: Vec::new() }
    }

    pub fn stamp(&self, on: NaiveDate) -> Stamp {
        Stamp { next: RecordId { series: self.series, seq: self.seq }, tick: self.tick, by: None, now: moment(on), on }
    }

    /// Writes one press and returns the id of its first record.
    pub fn press(&mut self, on: NaiveDate, facts: Vec<(RecordId, Event)>) -> RecordId {
        let stamp = self.stamp(on);
        let records = stamp.press(facts);
        self.keep(records);
        stamp.next
    }

    /// Writes one fact.
    pub fn write(&mut self, on: NaiveDate, about: RecordId, event: Event) -> RecordId {
        self.press(on, vec![(about, event)])
    }

    /// Writes one fact about what it begins.
    pub fn begin(&mut self, on: NaiveDate, event: Event) -> RecordId {
        let id = self.stamp(on).next;
        self.write(on, id, event)
    }

    pub fn keep(&mut self, records: Vec<Record>) {
        self.seq += records.len() as u64;
        self.tick += 1;
        self.seen.extend(records);
    }

    /// Takes in all that the other has seen.
    pub fn meet(&mut self, other: &Tablet) {
        for record in &other.seen {
            if !self.seen.iter().any(|known| known.id == record.id) {
                self.seen.push(record.clone());
            }
        }
        self.tick = self.tick.max(other.tick);
    }

    pub fn farm(&mut self, on: NaiveDate) -> FarmId {
        FarmId(self.begin(on, Event::FarmBegun { name: "Thistle Bank".into() }))
    }

    pub fn animal(&mut self, on: NaiveDate, farm: FarmId, number: &str) -> AnimalId {
        let labels = Labels { number: number.into(), ..Labels::default() };
        AnimalId(self.begin(on, Event::AnimalBegun { farm, labels }))
    }

    pub fn visit(&mut self, on: NaiveDate, farm: FarmId) -> VisitId {
        VisitId(self.write(on, farm.0, Event::VisitBegun { farm, why: VisitWhy::Routine }))
    }

    pub fn turn(&mut self, on: NaiveDate, visit: VisitId, animal: AnimalId) -> TurnId {
        TurnId(self.write(on, animal.0, Event::TurnBegun { visit, animal }))
    }

    pub fn put(
        &mut self,
        on: NaiveDate,
        animal: AnimalId,
        turn: TurnId,
        put: crushbook::domain::treatment::Put,
    ) -> PutId {
        let event =
            Event::PutOn { turn: Some(turn), put, off_by: None, remover: String::new(), by_others: String::new() };
        PutId(self.write(on, animal.0, event))
    }

    pub fn history(&self, animal: AnimalId) -> History {
        History::of(self.seen.clone(), animal)
    }
}
