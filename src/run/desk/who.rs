//! Who records: asked before the first record where nobody is known to, handed over with one key, and found again after a dead
//! battery.

use super::{Desk, Flow};
use crate::domain::ids::PersonId;
use crate::domain::record::{Moment, Record};
use crate::keys::intent::Intent;
use crate::session::mode::Mode;
use crate::session::touch::{Tapped, Target, tapped};
use crate::session::who;
use crate::store::error::StoreError;
use std::cmp::Reverse;

/// Animals of the day that are read to find who recorded: with two people at one crush both are soon among them.
const READ: usize = 4;

/// What was wished: with a key or a word, or with a tap.
#[derive(Debug, Clone, Copy)]
pub(super) enum Wish {
    Key(Intent),
    Tap(Target),
}

impl Wish {
    /// The wish that it stands for; a tap on a line or a place goes on with it.
    pub(super) fn intent(self) -> Intent {
        match self {
            Wish::Key(intent) | Wish::Tap(Target::Wish(intent)) => intent,
            Wish::Tap(Target::Begin(_) | Target::Line(_) | Target::Place(_)) => Intent::GoOn,
        }
    }
}

/// What was wished while nobody was known to record, and where the hands were: done once it is said who does.
#[derive(Debug)]
pub(super) struct Owed {
    mode: Mode,
    wish: Wish,
}

impl Desk {
    /// Asks who records before that is done. What was typed there is in the draft already, and stays in it.
    pub(super) fn ask_who(&mut self, wish: Wish) {
        let mode = self.session.mode.clone();
        self.session.mode = who::ask(&self.session, &mode);
        self.owed = Some(Owed { mode, wish });
    }

    /// Does what was wished before somebody was named. Whoever went elsewhere meanwhile does not wish it any more.
    pub(super) fn do_owed(&mut self, now: Moment) -> Flow {
        let Some(Owed { mode, wish }) = self.owed.take() else { return Flow::On };
        if self.session.by.is_none() {
            self.owed = self.session.asks_who().then_some(Owed { mode, wish });
            return Flow::On;
        }
        self.session.mode = mode;
        match wish {
            Wish::Key(intent) => self.wish(intent, now),
            Wish::Tap(target) => {
                self.session.selected = Some(target);
                match tapped(&self.session, target, &self.stamp(now)) {
                    Tapped::Does(decision) => self.act(wish, decision, now),
                    Tapped::Selects | Tapped::Begins(_) | Tapped::Nothing => Flow::On,
                }
            }
        }
    }

    /// Somebody known records from now on: with one key, wherever the hands are; or by a name that was typed.
    pub(super) fn hand_over(&mut self, person: PersonId) {
        self.session.records_now(person);
        self.session.has_said_who();
        let name = self.session.people.iter().find(|(id, _)| *id == person).map(|(_, name)| name.clone());
        self.say(format!("{} records", name.unwrap_or_default()));
    }

    /// Who recorded today, out of the animals whose turns are the newest; while paper is typed up, out of those of its day and of the
    /// day it really is.
    pub(super) fn who_recorded(&mut self) -> Result<(), StoreError> {
        if self.session.people.is_empty() {
            return Ok(());
        }
        let mut turns: Vec<_> = self.session.herd.iter().filter_map(|line| Some((line.turn?.id, line.id))).collect();
        if let (Some(really), Some(farm)) = (self.session.paper, &self.session.farm) {
            let (rows, problems) = self.store.day(farm.id, really)?;
            turns.extend(rows.iter().map(|row| (row.turn, row.animal)));
            self.note(problems);
        }
        turns.sort_by_key(|turn| Reverse(*turn));
        let days = [self.session.today, self.session.really()];
        let mut records: Vec<Record> = Vec::new();
        for (_, animal) in turns.into_iter().take(READ) {
            records.extend(self.store.records(animal.0)?.0);
        }
        records.retain(|record| days.contains(&record.on));
        self.recorded(records);
        Ok(())
    }

    /// Whoever wrote the newest of these records goes on, and whoever wrote another can be handed over to.
    pub(super) fn recorded(&mut self, mut records: Vec<Record>) {
        records.sort_by_key(|record| (record.tick, record.id));
        for person in records.iter().filter_map(|record| record.by) {
            self.session.records_now(person);
        }
        self.session.by = records.last().and_then(|record| record.by);
        self.session.suppose_recorder();
    }
}
