//! Who records: every record says whose it is. Where nobody is known to, the first key that writes asks; where the book knows
//! only one person, it is that one.

use super::Session;
use super::act::{self, Choice};
use super::decide::{Decision, below};
use super::mode::{Mode, TextFor};
use super::of_farm;
use super::visit::{self, Act, Ask};
use crate::domain::event::Event;
use crate::domain::ids::PersonId;
use crate::keys::intent::Intent;

/// People who are offered: each takes a key, and so does a name that is typed.
const OFFERED: usize = 8;

/// The key of a name that is typed.
const OTHER: u8 = 9;

/// Asks over a mode who records: one of those known, else a name.
pub fn ask(session: &Session, under: &Mode) -> Mode {
    if session.named().iter().any(|(person, _)| Some(*person) != session.by) {
        visit::over(Ask::Who, under)
    } else {
        name(under)
    }
}

/// Asks for a name.
pub fn name(under: &Mode) -> Mode {
    Mode::Text { what: TextFor::Who, text: String::new(), under: Box::new(under.clone()) }
}

/// Each of those known in the order in which they were named, so that a key means the same person every day; and anybody else.
pub fn choices(session: &Session) -> Vec<Choice> {
    let of = |act| act::Act::Farm(of_farm::Act::Visit(act));
    let known =
        (1..).zip(session.named().into_iter().take(OFFERED)).map(|(key, (person, _))| (key, Act::Records(person)));
    known.chain([(OTHER, Act::Name)]).map(|(key, act)| Choice { key, act: of(act) }).collect()
}

/// Whether who records is to be said before that is done. Whoever leaves is never kept.
pub fn is_owed(session: &Session, intent: Intent, decision: &Decision) -> bool {
    let Decision::Record(press, _) = decision else { return false };
    let names = press.iter().all(|record| matches!(record.event(), Some(Event::PersonBegun { .. })));
    session.by.is_none() && !names && intent != Intent::Leave
}

impl Session {
    /// Everybody who may record, in the order in which they were named. Whoever was named twice, and joined, is one.
    fn named(&self) -> Vec<(PersonId, &str)> {
        let mut named: Vec<(PersonId, &str)> = Vec::new();
        for (person, name) in &self.people {
            if named.iter().all(|(_, known)| known != name) {
                named.push((*person, name));
            }
        }
        named
    }

    /// Where the book knows one person, that one records.
    pub fn suppose_recorder(&mut self) {
        if let (None, [(only, _)]) = (self.by, self.named().as_slice()) {
            self.records_now(*only);
        }
    }

    /// Whether it is being asked who records.
    pub fn asks_who(&self) -> bool {
        let asks = |mode: &Mode| match mode {
            Mode::Pad { ask, .. } => *ask == act::Ask::Farm(of_farm::Ask::Visit(Ask::Who)),
            Mode::Text { what, .. } => *what == TextFor::Who,
            _ => false,
        };
        self.mode.layers().any(asks)
    }

    /// Takes the question who records away, with what was typed for it.
    pub fn has_said_who(&mut self) {
        while self.asks_who() {
            self.mode = below(&self.mode);
        }
    }
}
