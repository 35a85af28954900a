//! What a decision asks of the loop: reading the book, packing the hand, and what is said of it.

use super::super::herd;
use super::{Desk, Flow};
use crate::command::farm_card::card;
use crate::command::take_off::screen_pages;
use crate::command::totals::{of_day, of_visit};
use crate::command::twice::of_practice;
use crate::domain::history::{History, TurnState};
use crate::domain::ids::{AnimalId, FarmId, TurnId, VisitId};
use crate::domain::likely::Counts;
use crate::domain::record::{Moment, Record};
use crate::domain::travel::cautions;
use crate::domain::visit_sum::VisitSum;
use crate::report::words::Words;
use crate::session::act::Ask;
use crate::session::day_list::Listed;
use crate::session::decide::{self, Effect};
use crate::session::mode::{Hand, Mode};
use crate::session::{Crush, Notice, undo, visit};
use crate::store::Store;
use crate::store::error::StoreError;
use crate::store::lists::first_of;
use chrono::NaiveDate;
use std::collections::BTreeMap;

impl Desk {
    pub(super) fn effect(&mut self, effect: Effect, now: Moment) -> Result<Flow, StoreError> {
        match effect {
            Effect::OpenAnimal(animal, turn) => {
                self.open_animal(animal, turn)?;
                self.session.mode = Mode::Crush(Hand::DOWN);
                self.keep_typed();
            }
            Effect::LetGo => self.let_go()?,
            Effect::OpenFarm(farm) => {
                if self.session.paper.is_none() {
                    self.session.today = self.said_today.unwrap_or(self.session.today);
                }
                self.open_farm(farm)?;
                self.session.mode = self.session.opened();
                self.keep_typed();
                self.tell_backups();
            }
            Effect::Refresh(mode) => {
                self.refresh()?;
                if matches!(mode.base(), Mode::Walk(_)) {
                    self.read_walk()?;
                }
                self.session.mode = *mode;
                if self.session.mode.has_card() {
                    self.read_card()?;
                }
                if self.session.mode.has_herd() {
                    self.read_herd(now)?;
                }
                self.keep_typed();
            }
            Effect::Card(under) => {
                self.read_card()?;
                self.session.mode = Mode::Card { cursor: 0, under };
            }
            Effect::Herd(under) => self.open_herd(under, now)?,
            Effect::Lists(under) => self.look_for_lists(under),
            Effect::ReadList(which, files) => self.read_list(which, files, now)?,
            Effect::ListTaken => self.list_taken(now)?,
            Effect::AskPaper => self.ask_paper()?,
            Effect::TypeUp(day) => self.type_up(day)?,
            Effect::EndPaper => self.end_paper()?,
            Effect::Walk(walking) => drop(self.walk(walking)?),
            Effect::Walked(animal, walking) => self.walked(animal, walking)?,
            Effect::WalkOver => self.walk_over()?,
            Effect::Paper => self.paper()?,
            Effect::AskLeft(animal) => {
                let (records, problems) = herd::animal(&self.store, animal)?;
                self.note(problems);
                let cautions = cautions(&History::of(self.known(records), animal), self.session.today);
                let under = Box::new(self.session.mode.clone());
                self.session.mode = Mode::Pad { ask: Ask::Left(animal, cautions), under };
            }
            Effect::Totals => {
                if let Some(farm) = &self.session.farm {
                    let (totals, problems) = of_day(&self.store, farm.id, self.session.today)?;
                    self.note(problems);
                    let sum = self.session.shown_visit().map(|visit| self.visit_sum(visit)).transpose()?.flatten();
                    let totals = sum.as_ref().map_or(totals, |sum| sum.totals);
                    let (visit, under) = (sum.map(Box::new), Box::new(self.session.mode.clone()));
                    self.session.mode = Mode::Totals { totals, visit, under };
                }
            }
            Effect::AskClose(visit) => {
                let under = decide::below(&self.session.mode);
                self.session.mode = match self.visit_sum(visit)? {
                    Some(sum) => visit::over(visit::Ask::Close(Box::new(sum)), &under),
                    None => under,
                };
            }
            Effect::Ended => {
                let taken = self.wait(Store::pack)?;
                self.note(taken.problems);
                self.refresh()?;
                self.session.mode = Mode::Farms { cursor: 0 };
            }
            Effect::Answers(farm, name) => {
                self.session.answering.insert(farm, name);
                self.session.mode = decide::below(&self.session.mode);
            }
            Effect::Find(farm, number) => {
                self.open_farm(farm)?;
                self.session.mode = Mode::Today { typed: number, cursor: 0 };
                self.keep_typed();
            }
            Effect::Amend(read) => self.amend(read)?,
            Effect::PutOff(number) => {
                self.session.put_off.insert(number);
                self.session.mode = decide::below(&self.session.mode);
            }
            Effect::Light(light) => self.session.light = light,
            Effect::Taps(on) => {
                self.session.taps = on;
                return Ok(Flow::Taps(on));
            }
            Effect::Backup => self.asked_for_backup()?,
            Effect::Leave => return self.leave(),
        }
        Ok(Flow::On)
    }

    /// All that is known of the farm in hand.
    fn read_card(&mut self) -> Result<(), StoreError> {
        let farm = self.session.farm.as_ref().map(|farm| farm.id);
        let until = self.session.paper.map(|_| self.session.today);
        self.session.card = farm.map(|farm| card(&self.store, &self.session.rules, farm, until)).transpose()?;
        Ok(())
    }

    /// A visit of the farm in hand, added up; none where nobody here knows of its beginning.
    fn visit_sum(&mut self, visit: VisitId) -> Result<Option<VisitSum>, StoreError> {
        let farm = self.session.farm.as_ref().map(|farm| farm.id);
        let Some((farm, visit)) = farm.zip(self.session.visits.get(visit).cloned()) else { return Ok(None) };
        let (sum, problems) = of_visit(&self.store, farm, visit, self.session.today)?;
        self.note(problems);
        Ok(Some(sum))
    }

    /// The take-off list, in pages as large as the screen.
    pub(super) fn paper(&mut self) -> Result<(), StoreError> {
        /// First and last row of the screen, and the line that tells of the next page.
        const AROUND: u16 = 3;
        let Some(farm) = &self.session.farm else { return Ok(()) };
        let by = (&self.session.rules, self.session.today);
        let words = Words(self.session.practice.region);
        let rows = usize::from(self.size.1.saturating_sub(AROUND)).max(1);
        let (pages, problems) = screen_pages(&self.store, farm.id, by, words, rows)?;
        self.note(problems);
        let under = Box::new(self.session.mode.clone());
        self.session.mode = Mode::Paper { pages, page: 0, under };
        Ok(())
    }

    pub(super) fn open_animal(&mut self, animal: AnimalId, turn: TurnId) -> Result<(), StoreError> {
        let (records, problems) = herd::animal(&self.store, animal)?;
        self.note(problems);
        self.session.later = self.later(animal, &records);
        let records = self.known(records);
        // What undo can reach survives a restart: her presses, where none of this run is newer.
        if self.session.trail.is_empty() {
            self.session.trail = undo::trail(&records, self.store.series());
        }
        self.session.crush = Some(Crush::of(animal, turn, records));
        Ok(())
    }

    /// She goes: what was left on her is called out, the hand is taken into the book, Today is read again.
    pub(super) fn let_go(&mut self) -> Result<(), StoreError> {
        let left = self.session.turn().filter(|(_, turn)| turn.state == TurnState::Signed).map(|(crush, turn)| {
            let lines = herd::left_on(crush, turn.id, &self.session);
            if lines.is_empty() { format!("{} done", self.session.her_labels().number) } else { lines.join("  +  ") }
        });
        let saved = if let Some(Notice::Saved { at, .. }) = &self.session.notice { Some(*at) } else { None };
        self.session.crush = None;
        self.session.mode = Mode::today();
        let taken = self.wait(Store::pack)?;
        self.note(taken.problems);
        self.refresh()?;
        if let Some(words) = left {
            // What is called out comes first: it is what a narrow screen still shows.
            let at = saved.map_or(String::new(), |at| format!("  saved {}", at.format("%H:%M:%S")));
            self.session.notice = Some(Notice::Words(words + &at));
        }
        self.keep_typed();
        Ok(())
    }

    pub(super) fn refresh(&mut self) -> Result<(), StoreError> {
        self.session.farms = herd::farms(&self.store, self.session.practice.region)?.0;
        self.session.people = herd::people(&self.store)?;
        self.session.open = herd::open_items(&self.store, &self.session.farms)?.0;
        self.of_practice = of_practice(&self.store)?;
        match &self.session.farm {
            Some(farm) => self.open_farm(farm.id)?,
            None => self.session.pairs.clone_from(&self.of_practice),
        }
        Ok(())
    }

    pub(super) fn open_farm(&mut self, farm: FarmId) -> Result<(), StoreError> {
        if !self.session.farms.iter().any(|line| line.id == farm) {
            self.session.farms = herd::farms(&self.store, self.session.practice.region)?.0;
        }
        // A farm that was joined into another is that other one from then on.
        let farm = first_of(&self.store.farms()?.0, farm);
        if self.session.farm.as_ref().is_none_or(|before| before.id != farm) {
            self.session.put_off.clear();
        }
        let records = self.known(self.store.records(farm.0)?.0);
        let read = herd::herd(&self.store, farm, self.session.today, records.clone())?;
        self.note(read.problems);
        self.session.farm = self.session.farms.iter().find(|line| line.id == farm).cloned();
        self.told_by_then(&records);
        self.session.herd = self.as_it_was(farm, read.lines, &read.counts)?;
        let own = herd::of_farm(farm, &records, &self.session.herd);
        self.session.instructions = own.instructions;
        self.session.pairs = own.pairs;
        self.session.pairs.extend(self.of_practice.iter().cloned());
        self.session.visits = read.visits;
        self.list_of_the_day((farm, self.session.today), &read.counts, records)
    }

    /// The list of the day, and once a farm and day the findings counted for the pads: no key moves while it is worked on. Both
    /// are read from the same records.
    fn list_of_the_day(
        &mut self,
        of: (FarmId, NaiveDate),
        herd: &BTreeMap<AnimalId, u64>,
        own: Vec<Record>,
    ) -> Result<(), StoreError> {
        let (spread, mut counts) = (herd::counted(herd), Counts::default());
        let mut count = |animal: AnimalId, records: &[Record]| {
            if spread.contains(&animal) {
                counts.add(records.to_vec(), of.1);
            }
        };
        let problems = self.parts.read(&self.store, of, herd, &self.session.rules, &mut count)?;
        if self.counted != Some(of) {
            self.session.likely = counts;
            self.counted = Some(of);
        }
        self.session.day = Listed::new(self.parts.list(), self.parts.calls(own));
        // What cannot be read of one page may be said of many animals, and again after each.
        for problem in problems {
            if !self.session.faults.contains(&problem.to_string()) {
                self.note(vec![problem]);
            }
        }
        Ok(())
    }
}
