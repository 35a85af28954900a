//! Paper at the desk: its day is taken for today, and what is read is what was known on it: animals, facts of the farm, rules.

use super::super::herd;
use super::super::then::Then;
use super::Desk;
use crate::command::rules::{in_force, in_force_on};
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::History;
use crate::domain::history::TurnState;
use crate::domain::ids::{AnimalId, FarmId};
use crate::domain::known::as_of;
use crate::domain::record::Record;
use crate::report::words::{weekday, weekday_by};
use crate::session::mode::{Mode, TextFor};
use crate::session::of_farm::Text;
use crate::session::type_up::read_draft;
use crate::session::{HerdLine, type_up};
use crate::store::Store;
use crate::store::error::StoreError;
use chrono::NaiveDate;
use std::collections::BTreeMap;

impl Desk {
    /// Asks for the day of the paper. Offered is the last day of the farm on which somebody was not signed off, else the day before today.
    pub(super) fn ask_paper(&mut self) -> Result<(), StoreError> {
        let today = self.session.today;
        let Some(farm) = self.session.farm.as_ref().map(|farm| farm.id) else { return Ok(()) };
        let (rows, problems) = self.store.days(farm)?;
        self.note(problems);
        let unfinished =
            rows.iter().filter(|row| row.state != TurnState::Signed && row.on < today).map(|row| row.on).max();
        let Some(offered) = unfinished.or(today.pred_opt()) else { return Ok(()) };
        let what = TextFor::Farm(Text::Paper(offered));
        self.session.mode = Mode::Text { what, text: String::new(), under: Box::new(Mode::today()) };
        Ok(())
    }

    /// From now on all that is typed is of that day.
    pub(super) fn type_up(&mut self, day: NaiveDate) -> Result<(), StoreError> {
        self.pack_up()?;
        self.session.paper = Some(self.session.really());
        self.session.today = day;
        let said = weekday_by(day, self.session.really());
        self.go_on_with(format!("paper of {said}: all that is typed is of that day"))
    }

    /// Back at today.
    pub(super) fn end_paper(&mut self) -> Result<(), StoreError> {
        self.pack_up()?;
        let Some(really) = self.session.paper.take() else { return Ok(()) };
        let paper = std::mem::replace(&mut self.session.today, really);
        self.go_on_with(format!("paper of {} put away: it is {} again", weekday_by(paper, really), weekday(really)))
    }

    fn pack_up(&mut self) -> Result<(), StoreError> {
        let taken = self.wait(Store::pack)?;
        self.note(taken.problems);
        Ok(())
    }

    fn go_on_with(&mut self, words: String) -> Result<(), StoreError> {
        // Undo is for the press just made, and not for one of another day.
        self.session.trail.clear();
        self.session.mode = Mode::today();
        let (rules, problems) = self.rules()?;
        self.session.rules = rules;
        for problem in problems {
            if !self.session.faults.contains(&problem) {
                self.session.faults.push(problem);
            }
        }
        self.refresh()?;
        self.keep_typed();
        self.say(words);
        Ok(())
    }

    /// Goes on with the paper that was typed up when the program ended; its farm.
    pub(super) fn resume_paper(&mut self) -> Option<FarmId> {
        let (day, farm, _) = read_draft(self.store.draft())?;
        let known = self.session.farms.iter().any(|line| line.id == farm);
        if !known || day >= self.session.today {
            return None;
        }
        self.session.paper = Some(self.session.today);
        self.session.today = day;
        Some(farm)
    }

    /// Says that paper is gone on with.
    pub(super) fn say_paper(&mut self) {
        if self.session.paper.is_some() {
            let said = weekday_by(self.session.today, self.session.really());
            self.say(format!("in the middle of paper of {said}"));
        }
    }

    /// Of an animal's records those that were known on the day.
    pub(super) fn known(&self, records: Vec<Record>) -> Vec<Record> {
        if self.session.paper.is_some() { as_of(&records, self.session.today) } else { records }
    }

    /// The rules in force; while paper is typed up those of its day. With every problem of an adopted text.
    pub(super) fn rules(&self) -> Result<(Rules, Vec<String>), StoreError> {
        match self.session.paper {
            Some(_) => in_force_on(&self.store, self.session.today),
            None => in_force(&self.store),
        }
    }

    /// What was told of the farm in hand by the day of the paper, in the place of what is known now; `records` are the farm's by then.
    pub(super) fn told_by_then(&mut self, records: &[Record]) {
        let region = self.session.practice.region;
        let Some(farm) = self.session.farm.as_mut().filter(|_| self.session.paper.is_some()) else { return };
        *farm = herd::line_of(farm, records, region);
        if let Some(line) = self.session.farms.iter_mut().find(|line| line.id == farm.id) {
            line.clone_from(farm);
        }
    }

    /// Days on which she was in the crush after the day of the paper.
    pub(super) fn later(&self, animal: AnimalId, records: &[Record]) -> Vec<NaiveDate> {
        if self.session.paper.is_none() {
            return Vec::new();
        }
        let turns = History::of(records.to_vec(), animal).turns;
        let mut days: Vec<NaiveDate> = turns.iter().map(|turn| turn.on).filter(|on| *on > self.session.today).collect();
        days.dedup();
        days
    }

    /// The herd of the farm in hand as it was known on the day of the paper: who had left, and what was open on whom.
    pub(super) fn as_it_was(
        &mut self,
        farm: FarmId,
        mut lines: Vec<HerdLine>,
        counts: &BTreeMap<AnimalId, u64>,
    ) -> Result<Vec<HerdLine>, StoreError> {
        if self.session.paper.is_none() {
            self.then = Then::default();
            return Ok(lines);
        }
        let of = (farm, self.session.today);
        let (open, problems) = self.then.read(&self.store, of, (&mut lines, counts), &mut |_| {})?;
        self.note(problems);
        self.session.open = open;
        Ok(lines)
    }

    /// What is typed on Today, as it was when the program ended.
    pub(super) fn typed_number(&self) -> String {
        type_up::typed(self.store.draft()).strip_prefix("number ").unwrap_or_default().to_owned()
    }
}
