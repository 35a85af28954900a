//! A small book in memory into which sheets are entered, one press an entry, as `enter` does with the real one.

use chrono::{NaiveTime, TimeZone, Utc};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{Herd, Labels};
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, FarmId, RecordId, VisitId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::domain::sheet::tell::tell;
use crushbook::domain::sheet::transcribe::{Snag, transcribe};
use crushbook::domain::sheet::{Line, Sheet, SheetTurn};
use crushbook::wire::sheet;
use std::collections::BTreeMap;

/// Records by animal.
#[derive(Default)]
pub struct Book {
    seq: u64,
    tick: u64,
    farm: Option<FarmId>,
    animals: BTreeMap<String, AnimalId>,
    records: BTreeMap<RecordId, Vec<Record>>,
}

impl Book {
    fn stamp(&self, on: chrono::NaiveDate) -> Stamp {
        let noon = Utc.from_utc_datetime(&on.and_time(NaiveTime::MIN)).fixed_offset();
        Stamp { next: RecordId { series: 1, seq: self.seq + 1 }, tick: self.tick + 1, by: None, now: noon, on }
    }

    fn keep(&mut self, records: Vec<Record>) {
        self.tick += 1;
        self.seq += records.len() as u64;
        for record in records {
            self.records.entry(record.about).or_default().push(record);
        }
    }

    /// Begins an animal.
    pub fn begin(&mut self, on: chrono::NaiveDate, labels: Labels, herd: Herd) -> AnimalId {
        let farm = *self.farm.get_or_insert(FarmId(RecordId { series: 2, seq: 1 }));
        let stamp = self.stamp(on);
        let animal = AnimalId(stamp.next);
        self.animals.insert(labels.number.clone(), animal);
        self.keep(
            stamp.press([
                (animal.0, Event::AnimalBegun { farm, labels }),
                (animal.0, Event::Described { animal, herd }),
            ]),
        );
        animal
    }

    /// Records of the animal with this number.
    pub fn records(&self, number: &str) -> Vec<Record> {
        self.records[&self.animals[number].0].clone()
    }

    /// What they add up to.
    pub fn history(&self, number: &str) -> History {
        History::of(self.records(number), self.animals[number])
    }

    /// Enters a sheet entry by entry; the number of the entry that could not be entered, and why.
    pub fn enter(&mut self, sheet: &Sheet) -> Result<(), (usize, Vec<Snag>)> {
        for (entry, line) in sheet.lines.iter().enumerate() {
            match line {
                Line::Turn(turn) => self.turn(turn, sheet).map_err(|snags| (entry, snags))?,
                Line::Animal { animal, told } => {
                    let id = self.animal(animal, sheet.on);
                    let farm = self.farm.expect("a farm was begun with the animal");
                    let history = self.history(animal);
                    let event = tell(told, id, farm, Some(&history), sheet.on).map_err(|snag| (entry, vec![snag]))?;
                    if let Event::Renumbered { labels, .. } = &event {
                        self.animals.remove(animal);
                        self.animals.insert(labels.number.clone(), id);
                    }
                    let records = self.stamp(sheet.on).press([(id.0, event)]);
                    self.keep(records);
                }
                Line::Farm(_) => {}
            }
        }
        Ok(())
    }

    fn animal(&mut self, number: &str, on: chrono::NaiveDate) -> AnimalId {
        match self.animals.get(number) {
            Some(animal) => *animal,
            None => self.begin(on, Labels { number: number.to_string(), ..Labels::default() }, Herd::default()),
        }
    }

    fn turn(&mut self, turn: &SheetTurn, sheet: &Sheet) -> Result<(), Vec<Snag>> {
        let animal = self.animal(&turn.animal, sheet.on);
        let history = self.history(&turn.animal);
        let visit = VisitId(RecordId { series: 3, seq: 1 });
        let records = transcribe(turn, visit, animal, Some(&history), &self.stamp(sheet.on), &[])?;
        self.keep(records);
        Ok(())
    }
}

/// A book with these sheets entered, each of which must be free of mistakes.
pub fn entered(sheets: &[&str]) -> Book {
    let mut book = Book::default();
    for text in sheets {
        let sheet = sheet::parse(text, "test").unwrap_or_else(|mistakes| panic!("{mistakes:#?}\n{text}"));
        book.enter(&sheet).unwrap_or_else(|snags| panic!("{snags:?}\n{text}"));
    }
    book
}
