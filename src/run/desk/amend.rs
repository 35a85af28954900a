//! What is read before something is set right: who bears a number, what she wears, two beside each other.

use super::super::herd;
use super::Desk;
use crate::command::twice::sketch;
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, RecordId};
use crate::domain::twice::{Alike, Kind, Pair, Sketch, in_order};
use crate::session::Refusal;
use crate::session::act;
use crate::session::amend::labels::Wears;
use crate::session::amend::{Ask, Read, Then, Twins};
use crate::session::decide;
use crate::session::mode::Mode;
use crate::session::{Notice, Session};
use crate::store::error::StoreError;

impl Desk {
    pub(super) fn amend(&mut self, read: Read) -> Result<(), StoreError> {
        match read {
            Read::Which(animals, then) => self.which(&animals, then)?,
            Read::Labels(animal) => {
                let history = self.history(animal)?;
                let wears = Wears { animal, labels: history.labels };
                self.ask(Ask::Labels(wears, history.joins));
            }
            Read::Pair(at) => match self.session.pairs.get(at).cloned() {
                Some(pair) => self.twins(pair, Some(at))?,
                None => self.session.notice = Some(Notice::Refused(Refusal::NoneTwice)),
            },
            Read::Compare(one, other) => {
                let (one, other) = in_order(one.0, other.0);
                let called = self.history(AnimalId(one))?.labels.number;
                let (kind, alike) = (Kind::Animals, Some(Alike::Number));
                self.twins(Pair { kind, one, other, alike, called, joined: None }, None)?;
            }
            Read::By(person) => self.hand_over(person),
        }
        Ok(())
    }

    fn which(&mut self, animals: &[AnimalId], then: Then) -> Result<(), StoreError> {
        let mut those = Vec::with_capacity(animals.len());
        for animal in animals {
            those.push(sketch(&self.store, Kind::Animals, animal.0)?);
        }
        // The number that was typed stays where it can be mended.
        if matches!(self.session.mode, Mode::Text { .. }) {
            self.session.mode = decide::below(&self.session.mode);
        }
        self.ask(Ask::Which(those, then));
        Ok(())
    }

    fn twins(&mut self, pair: Pair, at: Option<usize>) -> Result<(), StoreError> {
        let read = |id: RecordId| -> Result<Sketch, StoreError> { sketch(&self.store, pair.kind, id) };
        let both = [read(pair.one)?, read(pair.other)?];
        self.ask(Ask::Twice(Box::new(Twins { pair, at, both })));
        Ok(())
    }

    fn history(&mut self, animal: AnimalId) -> Result<History, StoreError> {
        let (records, problems) = herd::animal(&self.store, animal)?;
        self.note(problems);
        Ok(History::of(self.known(records), animal))
    }

    /// Asks over the screen that lies below whatever was asked before.
    fn ask(&mut self, asked: Ask) {
        let under = Box::new(under(&self.session));
        self.session.mode = Mode::Pad { ask: act::Ask::Amend(asked), under };
    }
}

fn under(session: &Session) -> Mode {
    match &session.mode {
        Mode::Pad { under, .. } | Mode::Text { under, .. } => (**under).clone(),
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Farms { .. }
        | Mode::Crush(_)
        | Mode::SignOff { .. }
        | Mode::Card { .. }
        | Mode::Herd { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => session.mode.clone(),
    }
}
