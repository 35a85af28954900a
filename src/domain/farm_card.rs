//! The card of a farm: all that is known of it, and the lines in which it is read.

use super::contact::{self, Contact, Word};
use super::event::Event;
use super::farm::{Known, facts};
use super::follow_up::rules::Differs;
use super::herd::{Change, FarmFact};
use super::history::standing::Standing;
use super::ids::{FarmId, RecordId};
use super::instruction::{Given, given};
use super::record::Record;
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// What the farm said or changed, with its day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// It called about itself.
    Called {
        /// The day.
        on: NaiveDate,
        /// What it said.
        words: String,
        /// It could not wait.
        urgent: bool,
        /// Who called.
        caller: String,
    },
    /// Something changed.
    Changed {
        /// Since which day.
        on: NaiveDate,
        /// What.
        change: Change,
        /// In words.
        words: String,
    },
}

/// A farm with all that a card of it shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// The farm.
    pub farm: FarmId,
    /// Its name.
    pub name: String,
    /// Facts of which anything was told.
    pub facts: Vec<Known>,
    /// Its people, those who are there no longer last.
    pub contacts: Vec<contact::Known>,
    /// Standing instructions.
    pub given: Given,
    /// Calls about the farm and changes on it, newest first.
    pub heard: Vec<Heard>,
    /// Animals that are here.
    pub animals: usize,
    /// Since when it goes by rules of its own.
    pub rules: Option<NaiveDate>,
    /// Rules that differ from the practice's.
    pub differs: Vec<Differs>,
    /// To whom its list was handed, if it was given up.
    pub given_up: Option<String>,
}

/// A line of a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// To whom its list was handed.
    GivenUp,
    /// What holds of a fact.
    Fact(FarmFact),
    /// An earlier word on it, the newest 0.
    Was(FarmFact, usize),
    /// One of its people, there or there no longer.
    Contact(usize),
    /// An earlier word on one, the newest 0.
    ContactWas(usize, usize),
    /// Another is told of.
    TellContact,
    /// Animals that are here.
    Animals,
    /// Whose rules it goes by.
    Rules,
    /// A rule that differs.
    Differs(usize),
    /// An instruction that holds.
    Standing(usize),
    /// A look after which it went on, the newest first.
    Looked(usize),
    /// An instruction is given.
    Give,
    /// One that was ended, the last end first.
    Ended(usize),
    /// A call or a change.
    Heard(usize),
}

impl Card {
    /// What the records of a farm say; what other tables say is for the caller to fill in.
    pub fn of(records: Vec<Record>, farm: FarmId, name: String) -> Card {
        let standing = Standing::of(records.clone());
        Card {
            farm,
            name,
            facts: facts(records, farm),
            contacts: contact::known(&standing, farm),
            given: given(&standing, farm),
            heard: heard(&standing, farm),
            animals: 0,
            rules: None,
            differs: Vec::new(),
            given_up: None,
        }
    }

    /// What was told of a fact.
    pub fn known(&self, fact: FarmFact) -> Option<&Known> {
        self.facts.iter().find(|known| known.fact == fact)
    }

    /// What holds of a fact; empty where nothing is known.
    pub fn now(&self, fact: FarmFact) -> &str {
        self.known(fact).map_or("", |known| known.now.words.as_str())
    }

    /// The facts in a row of a list, in the order of the vocabulary; the name stands before them.
    pub fn listed() -> impl Iterator<Item = FarmFact> {
        FarmFact::ALL.iter().copied().filter(|fact| !matches!(fact, FarmFact::Name | FarmFact::HerdList))
    }

    /// Every line, in order; with `all`, of facts of which nothing was told too.
    pub fn lines(&self, all: bool) -> Vec<Line> {
        let mut lines: Vec<Line> = self.given_up.iter().map(|_| Line::GivenUp).collect();
        for fact in FarmFact::ALL.iter().copied() {
            let known = self.known(fact);
            let shown = match fact {
                FarmFact::Name => all || known.is_some_and(|known| !known.before.is_empty()),
                // Nobody types of when a list is.
                FarmFact::HerdList => known.is_some(),
                FarmFact::Phone
                | FarmFact::Contact
                | FarmFact::Vet
                | FarmFact::VetPhone
                | FarmFact::HerdSize
                | FarmFact::GaitScale
                | FarmFact::Address
                | FarmFact::Note
                | FarmFact::NewAnimals => all || known.is_some(),
            };
            if shown {
                lines.push(Line::Fact(fact));
                let before = known.map_or(0, |known| known.before.len());
                lines.extend((0..before).map(|at| Line::Was(fact, at)));
            }
            if fact == FarmFact::Contact {
                lines.extend(self.of_contacts(all));
            }
            lines.extend((fact == FarmFact::HerdSize).then_some(Line::Animals));
        }
        lines.push(Line::Rules);
        lines.extend((0..self.differs.len()).map(Line::Differs));
        for (at, one) in self.given.standing.iter().enumerate() {
            lines.push(Line::Standing(at));
            let looks = self.given.looks.iter().enumerate().rev();
            lines.extend(looks.filter(|(_, (of, _, _))| *of == one.id).map(|(at, _)| Line::Looked(at)));
        }
        lines.extend(all.then_some(Line::Give));
        lines.extend((0..self.given.ended.len()).rev().map(Line::Ended));
        lines.extend((0..self.heard.len()).map(Line::Heard));
        lines
    }

    /// The lines of its people, each with what was said before.
    fn of_contacts(&self, all: bool) -> Vec<Line> {
        let mut lines = Vec::new();
        for (at, known) in self.contacts.iter().enumerate() {
            lines.push(Line::Contact(at));
            lines.extend((0..known.before.len()).map(|before| Line::ContactWas(at, before)));
        }
        lines.extend(all.then_some(Line::TellContact));
        lines
    }

    /// What holds of somebody of that name, there or there no longer.
    pub fn contact(&self, name: &str) -> Option<&Word> {
        let mut words = self.contacts.iter().map(|known| &known.now);
        words.find(|word| contact::is_called(&word.contact.name, name))
    }

    /// Those who are there.
    pub fn contacts_here(&self) -> impl Iterator<Item = &Contact> {
        self.contacts.iter().filter(|known| !known.now.gone).map(|known| &known.now.contact)
    }

    /// The instruction of that name, whether it holds or not.
    pub fn text_of(&self, id: RecordId) -> Option<&str> {
        let ended = self.given.ended.iter().map(|ended| &ended.was);
        self.given.standing.iter().chain(ended).find(|one| one.id == id).map(|one| one.text.as_str())
    }
}

/// Calls about the farm itself and changes on it, newest first.
fn heard(standing: &Standing, farm: FarmId) -> Vec<Heard> {
    let joined = standing.one_with(farm.0);
    let here = standing.records().iter().rev().filter(|record| joined.contains(&record.about));
    let mut heard: Vec<Heard> = here
        .filter_map(|record| match record.event() {
            Some(Event::FarmCalled { words, urgent, caller, .. }) => {
                Some(Heard::Called { on: record.on, words: words.clone(), urgent: *urgent, caller: caller.clone() })
            }
            Some(Event::FarmChanged { change, words, .. }) => {
                Some(Heard::Changed { on: record.on, change: *change, words: words.clone() })
            }
            Some(_) | None => None,
        })
        .collect();
    heard.sort_by_key(|one| std::cmp::Reverse(one.on()));
    heard
}

impl Heard {
    /// The day.
    pub fn on(&self) -> NaiveDate {
        match self {
            Heard::Called { on, .. } | Heard::Changed { on, .. } => *on,
        }
    }
}
