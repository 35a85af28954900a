//! A small farm with a trimmer, and what its list looks like on a day.

use crate::support::tablet::{Tablet, day};
use chrono::NaiveDate;
use crushbook::command::json;
use crushbook::domain::anatomy::{Foot, Place, Side, Skin};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::{FarmFact, Herd, Status};
use crushbook::domain::ids::{AnimalId, FarmId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::practice::Region;
use crushbook::domain::record::Record;
use crushbook::domain::treatment::{BlockKind, Colour, Means, Milking, Off, OffBy, Put, SkinState, Word};
use crushbook::report::take_off::calendar::{Entry, entries};
use crushbook::report::take_off::html::html;
use crushbook::report::take_off::ics::ics;
use crushbook::report::take_off::text::text;
use crushbook::report::take_off::{Animal, Farm, TakeOff, Task};
use crushbook::report::words::Words;
use std::collections::BTreeSet;

pub const PLAIN: Words = Words(Region::Plain);

/// The practice's farm, on the first of May.
#[derive(Clone)]
pub struct World {
    pub tablet: Tablet,
    pub farm: FarmId,
    pub visit: VisitId,
    pub named: Farm,
    pub animals: Vec<AnimalId>,
}

impl World {
    pub fn new() -> World {
        let mut tablet = Tablet::new(7);
        let farm = tablet.farm(day(1));
        let visit = tablet.visit(day(1), farm);
        let named = Farm {
            name: "Thistle Bank".into(),
            vet: "Orla Venn".into(),
            vet_phone: "01632 960187".into(),
            contacts: Vec::new(),
        };
        World { tablet, farm, visit, named, animals: Vec::new() }
    }

    /// An animal in the crush on a day.
    pub fn cow(&mut self, on: NaiveDate, number: &str) -> (AnimalId, TurnId) {
        let animal = self.tablet.animal(on, self.farm, number);
        self.animals.push(animal);
        (animal, self.tablet.turn(on, self.visit, animal))
    }

    /// A cow with a blue wrap on her left hind foot, to be off by the evening milking three days on.
    pub fn wrapped(&mut self, on: NaiveDate, number: &str) -> (AnimalId, TurnId, PutId) {
        let (animal, turn) = self.cow(on, number);
        let off_by = Some(OffBy { day: on + chrono::Days::new(3), milking: Milking::Evening });
        let event = Event::PutOn { turn: Some(turn), put: wrap(), off_by, remover: "Tom".into(), by_others: "".into() };
        (animal, turn, PutId(self.tablet.write(on, animal.0, event)))
    }

    /// A cow with a wood block under her right hind inner claw.
    pub fn blocked(&mut self, on: NaiveDate, number: &str) -> (AnimalId, TurnId, PutId) {
        let (animal, turn) = self.cow(on, number);
        let put = self.tablet.put(on, animal, turn, block());
        (animal, turn, put)
    }

    pub fn told(&mut self, on: NaiveDate, animal: AnimalId, item: PutId, word: Word, by: &str) -> RecordId {
        let event = Event::ToldOff { item, by: by.into(), means: Means::Telephone, word };
        self.tablet.write(on, animal.0, event)
    }

    /// The foot was lifted on a later visit and this was seen of the item.
    pub fn seen(&mut self, on: NaiveDate, animal: AnimalId, item: PutId, outcome: Off) -> RecordId {
        let turn = self.tablet.turn(on, self.visit, animal);
        let event = Event::SeenOff { turn: Some(turn), item: Item::Known(item), outcome, skin: SkinState::Sound };
        self.tablet.write(on, animal.0, event)
    }

    pub fn status(&mut self, on: NaiveDate, animal: AnimalId, status: Status, group: &str) {
        let herd = Herd { status: Some(status), group: group.into(), ..Herd::default() };
        self.tablet.write(on, animal.0, Event::Described { animal, herd });
    }

    pub fn vet_phone(&mut self, on: NaiveDate, words: &str) {
        let farm = self.farm;
        let event = Event::FarmDescribed { farm, fact: FarmFact::VetPhone, words: words.into() };
        self.tablet.write(on, farm.0, event);
    }

    pub fn folded(&self) -> Vec<Animal> {
        self.animals.iter().map(|animal| Animal::of(self.group(animal.0), *animal)).collect()
    }

    /// The records that a store reads with a subject: its own, and those of whoever it was joined with or gave a turn to.
    fn group(&self, of: RecordId) -> Vec<Record> {
        let mut subjects = BTreeSet::from([of]);
        loop {
            let with = |record: &&Record| record_subjects(record).iter().any(|subject| subjects.contains(subject));
            let group: Vec<Record> = self.tablet.seen.iter().filter(with).cloned().collect();
            let before = subjects.len();
            subjects.extend(group.iter().flat_map(record_subjects));
            if subjects.len() == before {
                return group;
            }
        }
    }

    pub fn list(&self, today: NaiveDate) -> TakeOff {
        self.list_in(today, PLAIN)
    }

    pub fn list_in(&self, today: NaiveDate, words: Words) -> TakeOff {
        TakeOff::of(self.named.clone(), &self.folded(), &Rules::default(), today, words)
    }

    pub fn text(&self, today: NaiveDate) -> String {
        text(&self.list(today), PLAIN)
    }

    pub fn page(&self, today: NaiveDate) -> String {
        html(&self.list(today), PLAIN)
    }

    pub fn entries(&self, today: NaiveDate) -> Vec<Entry> {
        let around = [self.group(self.farm.0), self.group(RecordId::PRACTICE)].concat();
        entries(&self.list(today), &self.folded(), &around, &Rules::default(), PLAIN)
    }

    pub fn ics(&self, today: NaiveDate) -> String {
        ics(&self.entries(today))
    }

    /// Every form of the list.
    pub fn forms(&self, today: NaiveDate) -> [String; 4] {
        let json = json::written(&json::take_off(&self.list(today)));
        [self.text(today), self.page(today), self.ics(today), json]
    }

    /// What is to be done about each thing, in the order of the list.
    pub fn tasks(&self, today: NaiveDate) -> Vec<(String, Task)> {
        self.list(today).on.into_iter().map(|on| (on.animal, on.task)).collect()
    }
}

fn record_subjects(record: &Record) -> Vec<RecordId> {
    let also = record.event().and_then(Event::also_about);
    [Some(record.about), also].into_iter().flatten().collect()
}

pub fn wrap() -> Put {
    Put::Wrap { over: Place::Skin(Foot::LeftHind, Skin::Heel), colour: Some(Colour::Blue) }
}

pub fn block() -> Put {
    Put::Block { foot: Foot::RightHind, side: Side::Inner, kind: BlockKind::Wood }
}
