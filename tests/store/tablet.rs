//! Tablets that write records of an invented farm: each has its own series, and knows what it wrote and what it was given.

use chrono::{DateTime, FixedOffset, NaiveDate};
use crushbook::domain::anatomy::{Foot, Place, Side, Skin};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::herd::{FarmFact, Labels, Leaving, VisitWhy};
use crushbook::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::{Body, Record, Stamp};
use crushbook::domain::treatment::{Colour, Means, Milking, Off, OffBy, Put, SkinState, Word};

/// A day of the story.
pub fn day(number: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 1).expect("a day") + chrono::Days::new(number)
}

pub fn labels(number: &str) -> Labels {
    Labels { number: number.to_owned(), ..Labels::default() }
}

pub fn wrap() -> Put {
    Put::Wrap { over: Place::Skin(Foot::LeftHind, Skin::Cleft), colour: Some(Colour::Blue) }
}

/// What a tablet has seen.
#[derive(Debug, Clone, Default)]
pub struct Known {
    pub records: Vec<Record>,
    pub farms: Vec<FarmId>,
    pub visits: Vec<VisitId>,
    pub animals: Vec<AnimalId>,
    pub turns: Vec<(TurnId, AnimalId)>,
    pub found: Vec<(CaseId, TurnId)>,
    pub puts: Vec<(PutId, AnimalId)>,
    pub presses: Vec<RecordId>,
    pub undos: Vec<RecordId>,
    pub joins: Vec<RecordId>,
}

/// One tablet.
#[derive(Debug, Clone)]
pub struct Tablet {
    series: u64,
    seq: u64,
    tick: u64,
    /// Who takes off what this tablet's wraps are.
    pub remover: String,
    pub known: Known,
}

fn pick<T: Copy>(from: &[T], which: u8) -> Option<T> {
    from.get(usize::from(which) % from.len().max(1)).copied()
}

impl Tablet {
    /// How many kinds of step there are.
    pub const STEPS: u8 = 14;
    /// The step that sees a foot bare without naming what was on it.
    pub const MEETS: u8 = 3;
    /// The step that moves a turn to another animal.
    pub const MOVES: u8 = 7;
    /// The step that joins two animals.
    pub const JOINS: u8 = 8;

    pub fn new(series: u64) -> Tablet {
        Tablet { series, seq: 1, tick: 1, remover: "farm".to_owned(), known: Known::default() }
    }

    /// Another tablet that was given everything this one knows.
    pub fn other(&self, series: u64) -> Tablet {
        Tablet { series, seq: 1, ..self.clone() }
    }

    /// Writes one press and remembers it.
    pub fn press(&mut self, on: NaiveDate, facts: Vec<(RecordId, Event)>) -> Vec<Record> {
        let now: DateTime<FixedOffset> = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
        let next = RecordId { series: self.series, seq: self.seq };
        let records = Stamp { next, tick: self.tick, by: None, now, on }.press(facts);
        self.seq += records.len() as u64;
        self.tick += 1;
        self.known.presses.push(next);
        self.known.records.extend(records.iter().cloned());
        records
    }

    pub fn next(&self) -> RecordId {
        RecordId { series: self.series, seq: self.seq }
    }

    pub fn farm(&mut self, on: NaiveDate, name: &str) -> FarmId {
        let farm = FarmId(self.next());
        self.press(on, vec![(farm.0, Event::FarmBegun { name: name.to_owned() })]);
        self.known.farms.push(farm);
        farm
    }

    pub fn visit(&mut self, on: NaiveDate, farm: FarmId) -> VisitId {
        let visit = VisitId(self.next());
        self.press(on, vec![(farm.0, Event::VisitBegun { farm, why: VisitWhy::Routine })]);
        self.known.visits.push(visit);
        visit
    }

    pub fn animal(&mut self, on: NaiveDate, farm: FarmId, number: &str) -> AnimalId {
        let animal = AnimalId(self.next());
        self.press(on, vec![(animal.0, Event::AnimalBegun { farm, labels: labels(number) })]);
        self.known.animals.push(animal);
        animal
    }

    pub fn turn(&mut self, on: NaiveDate, visit: VisitId, animal: AnimalId) -> TurnId {
        let turn = TurnId(self.next());
        self.press(on, vec![(animal.0, Event::TurnBegun { visit, animal })]);
        self.known.turns.push((turn, animal));
        turn
    }

    pub fn wrap(&mut self, on: NaiveDate, turn: TurnId, animal: AnimalId) -> PutId {
        let put = PutId(self.next());
        let off_by = Some(OffBy { day: on + chrono::Days::new(3), milking: Milking::Any });
        let event = Event::PutOn {
            turn: Some(turn),
            put: wrap(),
            off_by,
            remover: self.remover.clone(),
            by_others: String::new(),
        };
        self.press(on, vec![(animal.0, event)]);
        self.known.puts.push((put, animal));
        put
    }

    pub fn seen_bare(&mut self, on: NaiveDate, item: Item, animal: AnimalId) {
        let event = Event::SeenOff { turn: None, item, outcome: Off::Bare, skin: SkinState::NotTold };
        self.press(on, vec![(animal.0, event)]);
    }

    /// One of everything that records about records do, chosen by numbers. Writes nothing where there is nothing to name.
    pub fn step(&mut self, what: u8, which: u8, other: u8, on: NaiveDate) {
        let known = &self.known;
        let animal = pick(&known.animals, which);
        match (what % Tablet::STEPS, animal) {
            (0 | 1, Some(animal)) => {
                let Some(visit) = pick(&known.visits, other) else { return };
                let turn = self.turn(on, visit, animal);
                let case = CaseId(self.next());
                let place = Place::Skin(Foot::LeftHind, Skin::Cleft);
                let event =
                    Event::Found { turn, place, what: Finding::DD, degree: Degree::NotGiven, words: String::new() };
                self.press(on, vec![(animal.0, event)]);
                self.known.found.push((case, turn));
                self.wrap(on, turn, animal);
            }
            (2, _) => {
                let Some((put, animal)) = pick(&known.puts, which) else { return };
                self.seen_bare(on, Item::Known(put), animal);
            }
            (Tablet::MEETS, Some(animal)) => {
                self.seen_bare(on, Item::Met(Place::Skin(Foot::LeftHind, Skin::Cleft)), animal)
            }
            (4, _) => {
                let Some(press) = pick(&known.presses, other) else { return };
                let about = self.about(press, true);
                let undo = self.next();
                self.press(on, about.into_iter().map(|about| (about, Event::Undone { press })).collect());
                self.known.undos.push(undo);
            }
            (5, _) => {
                let Some(undo) = pick(&known.undos, other) else { return };
                let about = self.about(undo, true);
                self.press(on, about.into_iter().map(|about| (about, Event::Redone { undo })).collect());
            }
            (6, _) => {
                let Some((case, turn)) = pick(&known.found, which) else { return };
                let place = Place::Claw(Foot::RightHind, Side::Outer);
                let to =
                    Event::Found { turn, place, what: Finding::IP, degree: Degree::NotGiven, words: String::new() };
                let event = Event::Corrected { of: case.0, to: Box::new(to), why: "slip".to_owned() };
                let about = self.about(case.0, false);
                self.press(on, about.into_iter().map(|about| (about, event.clone())).collect());
            }
            (Tablet::MOVES, Some(to)) => {
                let Some((turn, from)) = pick(&known.turns, other) else { return };
                self.press(on, vec![(from.0, Event::TurnMoved { turn, to })]);
            }
            (Tablet::JOINS, Some(one)) => {
                let Some(other) = pick(&known.animals, other) else { return };
                self.join(on, one.0, other.0);
            }
            (9, _) => {
                let Some(joined) = pick(&known.joins, which) else { return };
                let about = self.about(joined, false);
                self.press(on, about.into_iter().map(|about| (about, Event::Parted { joined })).collect());
            }
            (10, Some(animal)) => {
                let number = format!("{}", 2000 + u32::from(other));
                self.press(on, vec![(animal.0, Event::Renumbered { animal, labels: labels(&number) })]);
            }
            (11, Some(animal)) => {
                let event = Event::Left { animal, why: Leaving::Sold, words: String::new() };
                self.press(on, vec![(animal.0, event)]);
            }
            (12, _) => {
                let Some((item, animal)) = pick(&known.puts, which) else { return };
                let told =
                    Event::ToldOff { item, by: "herdsman".to_owned(), means: Means::InPerson, word: Word::NoAnswer };
                self.press(on, vec![(animal.0, told)]);
            }
            (13, _) => {
                let (Some(farm), Some(into)) = (pick(&known.farms, which), pick(&known.farms, other)) else { return };
                if other.is_multiple_of(2) {
                    self.join(on, farm.0, into.0);
                } else {
                    let words = format!("0{other}");
                    self.press(on, vec![(farm.0, Event::FarmDescribed { farm, fact: FarmFact::Phone, words })]);
                }
            }
            _ => {}
        }
    }

    fn join(&mut self, on: NaiveDate, one: RecordId, other: RecordId) {
        if one != other {
            let join = self.next();
            self.press(on, vec![(one, Event::Joined { one, other })]);
            self.known.joins.push(join);
        }
    }

    /// Whom a record, or every record of its press, is about.
    fn about(&self, id: RecordId, press: bool) -> Vec<RecordId> {
        let mut about: Vec<RecordId> = self
            .known
            .records
            .iter()
            .filter(|record| record.id == id || press && record.press_id() == id)
            .map(|record| record.about)
            .collect();
        about.sort();
        about.dedup();
        about
    }
}

/// A record of a newer program about an animal.
pub fn newer(mut record: Record) -> Record {
    // "Also about" stands before the payload: 17 bytes, none here.
    record.body = Body::Newer {
        kind: 60_000,
        revision: 9,
        bytes: [[0; 17].as_slice(), b"words nobody here knows"].concat().into(),
    };
    record
}
