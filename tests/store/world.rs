//! A machine that is worked on, a witness of what was pressed on it and what was acknowledged, and the one judgement that
//! every story of power cuts and failing disks ends with.

use super::disk::Power;
use super::tablet::{day, wrap};
use super::{Bench, farm_of, raws};
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::ids::{AnimalId, RecordId, TurnId, VisitId};
use crushbook::domain::record::{Record, Stamp};
use crushbook::store::Store;
use crushbook::store::error::{Problem, StoreError};
use crushbook::store::rescue::Seen;
use crushbook::wire::envelope::Raw;
use std::collections::{BTreeMap, BTreeSet};

/// What is done at the machine, one after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// The program starts.
    Open,
    /// One key that writes one record, or two.
    Press,
    /// The hand is taken into the book, as at sign-off.
    Pack,
    /// Another tablet's records come in at once: so many animals, each in the crush.
    Take(u32),
    /// A sheet is typed up: records of the own series, taken in at once.
    Enter,
    /// Half-typed text.
    Draft(&'static str),
    /// Every list is made again.
    Rebuild,
    /// A new series is begun.
    Series,
    /// The program ends in good order.
    Close,
    /// The program ends and nothing else does.
    Kill,
}

/// What was done, and what was said to be done.
#[derive(Debug, Clone, Default)]
struct Witness {
    /// Everything that was given to the store, in units that come whole or not at all.
    given: Vec<Vec<Record>>,
    /// Units that were acknowledged.
    sure: BTreeSet<usize>,
    /// Half-typed text that may be there.
    drafts: Vec<String>,
    /// Whether the book was ever opened.
    made: bool,
}

/// A machine, who works at it, and the witness.
pub struct World {
    pub bench: Bench,
    store: Option<Store>,
    witness: Witness,
    series: u64,
    strangers: u64,
    presses: usize,
    turn: Option<TurnId>,
    /// The witness as it was at each operation of the disks.
    seen: Vec<(usize, Witness)>,
}

impl World {
    pub fn new() -> World {
        World {
            bench: Bench::new(),
            store: None,
            witness: Witness { drafts: vec![String::new()], ..Witness::default() },
            series: 100,
            strangers: 1000,
            presses: 0,
            turn: None,
            seen: Vec::new(),
        }
    }

    /// The same world with the program not running.
    pub fn copy(&self) -> World {
        World {
            bench: self.bench.copy(),
            store: None,
            witness: self.witness.clone(),
            series: self.series,
            strangers: self.strangers,
            presses: self.presses,
            turn: self.turn,
            seen: Vec::new(),
        }
    }

    /// This world as it is when the power goes at one operation, and these images are what is left on the platters.
    pub fn cut(&self, operation: usize, [hand, book]: [Vec<u8>; 2]) -> World {
        let mut world = self.copy();
        world.bench.hand.put(hand);
        world.bench.book.put(book);
        let seen = self.seen.iter().rev().find(|(at, _)| *at <= operation).expect("the story has a beginning");
        world.witness = seen.1.clone();
        world
    }

    /// Does one step after the other until one fails.
    pub fn play(&mut self, steps: &[Step]) -> Result<(), StoreError> {
        self.look();
        steps.iter().try_for_each(|step| {
            self.step(*step)?;
            self.look();
            Ok(())
        })
    }

    /// Remembers what the witness knows now. Asked whenever that changes.
    fn look(&mut self) {
        self.seen.push((self.bench.power.operations(), self.witness.clone()));
    }

    fn step(&mut self, step: Step) -> Result<(), StoreError> {
        match step {
            Step::Open => self.open(),
            Step::Press => {
                let press = self.next_press();
                self.press(press)
            }
            Step::Take(animals) => self.take(animals),
            Step::Enter => {
                let sheet = self.next_press();
                self.take_in(sheet)
            }
            Step::Draft(text) => {
                self.witness.drafts.push(text.to_owned());
                self.look();
                self.store().set_draft(text)?;
                self.witness.drafts.drain(..self.witness.drafts.len() - 1);
                Ok(())
            }
            Step::Pack => self.store().pack().map(drop),
            Step::Rebuild => self.store().rebuild(),
            Step::Series => {
                self.series += 1;
                let series = self.series;
                self.store().begin_series(&mut || Ok(series)).map(drop)
            }
            Step::Close => {
                // Half-typed text goes with the file that holds it.
                self.witness.drafts.push(String::new());
                self.look();
                self.store.take().expect("open").close().map(drop)
            }
            Step::Kill => {
                self.store = None;
                Ok(())
            }
        }
    }

    fn open(&mut self) -> Result<(), StoreError> {
        self.series += 1;
        self.store = Some(self.bench.open(self.series)?.0);
        self.witness.made = true;
        Ok(())
    }

    /// Does one step after the other as the desk does: what fails is kept, both files are opened again, and it is tried again.
    /// `mend` is called after each failure. Hands back what was said.
    pub fn insist(&mut self, steps: &[Step], mend: impl Fn(&Power)) -> Vec<String> {
        let mut said = Vec::new();
        for step in steps {
            let mut kept = (*step == Step::Press).then(|| self.next_press());
            for attempt in 0.. {
                assert!(attempt < 9, "{step:?} never succeeds: {said:?}");
                let begun = self.store.is_some() || *step == Step::Open;
                if !begun && let Err(error) = self.open() {
                    said.push(error.to_string());
                    mend(&self.bench.power);
                    continue;
                }
                let tried = match &mut kept {
                    Some(press) => self.press(press.clone()),
                    None => self.step(*step),
                };
                let Err(error) = tried else { break };
                said.push(error.to_string());
                mend(&self.bench.power);
                if let Some(store) = &mut self.store {
                    said.extend(store.reopen().err().map(|error| error.to_string()));
                }
            }
        }
        said
    }

    pub fn store(&mut self) -> &mut Store {
        self.store.as_mut().expect("the story opens the store before it works with it")
    }

    /// The presses of a day's work: a turn begins, a finding and a wrap with one key, a kick, she goes.
    fn next_press(&mut self) -> Vec<Record> {
        let (animal, visit) = (AnimalId(RecordId { series: 7, seq: 3 }), VisitId(RecordId { series: 7, seq: 2 }));
        let (next, tick) = (self.store().next_id(), self.store().tick());
        let number = self.presses;
        self.presses += 1;
        let turn = self.turn.unwrap_or(TurnId(next));
        let facts = match number % 4 {
            0 => {
                self.turn = Some(TurnId(next));
                vec![Event::TurnBegun { visit, animal }]
            }
            1 => {
                let place = Place::Skin(Foot::LeftHind, Skin::Cleft);
                let (what, degree) = (Finding::DD, Degree::NotGiven);
                let found = Event::Found { turn, place, what, degree, words: String::new() };
                let (remover, by_others) = ("farm".to_owned(), String::new());
                vec![found, Event::PutOn { turn: Some(turn), put: wrap(), off_by: None, remover, by_others }]
            }
            2 => vec![Event::Kicker { animal, kicks: true }],
            _ => vec![Event::TurnSigned { turn, open: Vec::new() }],
        };
        let now = "2026-05-14T09:30:00+02:00".parse().expect("a moment");
        let stamp = Stamp { next, tick, by: None, now, on: day(1) };
        stamp.press(facts.into_iter().map(|event| (animal.0, event)))
    }

    /// Gives one press to the store; again if it was given before.
    fn press(&mut self, press: Vec<Record>) -> Result<(), StoreError> {
        let unit = self.witness.give(press.clone());
        self.look();
        self.store().append(&press)?;
        self.witness.sure.insert(unit);
        Ok(())
    }

    fn take(&mut self, animals: u32) -> Result<(), StoreError> {
        self.strangers += 1;
        let mut stranger = farm_of(0).other(self.strangers);
        let (farm, visit) = (stranger.known.farms[0], stranger.known.visits[0]);
        stranger.known.records.clear();
        for number in 0..animals {
            let animal = stranger.animal(day(1), farm, &(4000 + number).to_string());
            let turn = stranger.turn(day(1), visit, animal);
            stranger.wrap(day(1), turn, animal);
        }
        self.take_in(stranger.known.records)
    }

    /// Takes records in with one commit.
    pub fn take_in(&mut self, records: Vec<Record>) -> Result<(), StoreError> {
        let given = raws(&records);
        let unit = self.witness.give(records);
        self.look();
        self.store().take(&mut given.into_iter().map(Ok))?;
        self.witness.sure.insert(unit);
        Ok(())
    }

    /// As it was left: pulls the battery out of both disks and puts it back.
    pub fn lose_power(&mut self) {
        self.store = None;
        self.bench.hand.lose_power();
        self.bench.book.lose_power();
        self.bench.power.restore();
    }

    /// Opens the book again and says all that is wrong with it; nothing, as it must be.
    pub fn judge(&mut self) -> Vec<String> {
        self.store = None;
        let mut wrong = Vec::new();
        // The book is opened for certain before anything is written that a repair could be about.
        if self.witness.made && super::power::repairs(&self.bench.book) > 0 {
            wrong.push("the book had to be repaired".to_owned());
        }
        let (lying, seen) = super::flips::rescued(self.bench.book.image());
        match self.bench.open(self.series + 1) {
            Err(error) => wrong.push(format!("does not open: {error}")),
            Ok((mut store, problems)) => {
                // Only what was never acknowledged may have broken off.
                let fits = |problem: &Problem| *problem == Problem::BrokeOff && !self.witness.is_sure_of_all();
                wrong.extend(problems.iter().filter(|problem| !fits(problem)).map(ToString::to_string));
                wrong.extend(never_saved_and_given_again(&store, &lying));
                self.witness.compare(&store, &mut wrong);
                if let Err(error) = sound(&mut store, &seen, &mut wrong) {
                    wrong.push(format!("cannot be checked: {error}"));
                }
                self.store = Some(store);
            }
        }
        wrong
    }

    /// Presses one key more, and judges again: what follows is numbered on, and is there too.
    pub fn goes_on(&mut self) -> Vec<String> {
        let press = self.next_press();
        match self.press(press) {
            Ok(()) => self.judge(),
            Err(error) => vec![format!("does not go on: {error}")],
        }
    }
}

/// Names that lie in the bytes of the book, are no part of it, and would be given to another record next.
fn never_saved_and_given_again(store: &Store, lying: &[Raw]) -> Vec<String> {
    let held: BTreeSet<RecordId> = store
        .every()
        .map(Iterator::collect::<Vec<_>>)
        .unwrap_or_default()
        .into_iter()
        .flatten()
        .map(|raw| raw.id)
        .collect();
    let next = store.next_id();
    let again = lying.iter().filter(|raw| raw.id.series == next.series && raw.id >= next && !held.contains(&raw.id));
    again.map(|raw| format!("{} lies in the book and would be given again", raw.id)).collect()
}

impl Witness {
    /// Whether everything that was given was acknowledged too.
    fn is_sure_of_all(&self) -> bool {
        self.sure.len() == self.given.len()
    }

    fn give(&mut self, records: Vec<Record>) -> usize {
        match self.given.iter().position(|unit| *unit == records) {
            Some(unit) => unit,
            None => {
                self.given.push(records);
                self.given.len() - 1
            }
        }
    }

    fn compare(&self, store: &Store, wrong: &mut Vec<String>) {
        let mut held: BTreeMap<RecordId, Record> = BTreeMap::new();
        let every = match store.every() {
            Ok(every) => every,
            Err(error) => return wrong.push(format!("cannot be read: {error}")),
        };
        for raw in every {
            match raw.map(|raw| (raw.id, raw.decode())) {
                Ok((id, Ok(record))) => {
                    if held.insert(id, record).is_some() {
                        wrong.push(format!("{id} is there twice"));
                    }
                }
                Ok((id, Err(error))) => wrong.push(format!("{id} cannot be read: {error}")),
                Err(problem) => wrong.push(problem.to_string()),
            }
        }
        for (unit, records) in self.given.iter().enumerate() {
            let there = records.iter().filter(|record| held.get(&record.id) == Some(record)).count();
            let first = records[0].id;
            if self.sure.contains(&unit) && there < records.len() {
                wrong.push(format!("{first} was acknowledged and is lost"));
            } else if there > 0 && there < records.len() {
                wrong.push(format!("only {there} of the {} records of {first} are there", records.len()));
            }
        }
        let known: BTreeMap<RecordId, Vec<&Record>> =
            self.given.iter().flatten().fold(BTreeMap::new(), |mut all, record| {
                all.entry(record.id).or_insert_with(Vec::new).push(record);
                all
            });
        for (id, record) in &held {
            if !known.get(id).is_some_and(|given| given.contains(&record)) {
                wrong.push(format!("{id} was never pressed"));
            }
        }
        if !self.drafts.iter().any(|draft| draft == store.draft()) {
            wrong.push(format!("half-typed text is {:?} and not one of {:?}", store.draft(), self.drafts));
        }
    }
}

/// Checksums, numbers and lists: the lists must be what a replay of all records gives.
fn sound(store: &mut Store, lying: &Seen, wrong: &mut Vec<String>) -> Result<(), StoreError> {
    let verdict = store.verify_against(lying, &Seen::default())?;
    wrong.extend(verdict.problems.iter().map(ToString::to_string));
    wrong.extend(verdict.gaps.iter().map(|gap| format!("numbers are missing: {gap:?}")));
    Ok(())
}
