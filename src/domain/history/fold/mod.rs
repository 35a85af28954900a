//! Second pass: the standing records of one animal, oldest to newest.
//!
//! One match decides for every kind of event which of four hands it goes to: the animal herself, her turns, her courses, or
//! what is open. Each hand is a file.

mod about;
mod animal;
mod clock;
mod courses;
mod items;
mod lame;
mod turns;
mod withheld;

use super::standing::Standing;
use super::{Doubt, DoubtWhat, History, Outside, Verdict};
use crate::domain::event::Event;
use crate::domain::ids::{AnimalId, CaseId, PutId, RecordId, TurnId};
use crate::domain::record::Record;
use crate::domain::withdrawal::uses;
use std::collections::{BTreeMap, BTreeSet};

/// Folds what stands into the history of the animal `of` belongs to.
pub(super) fn fold(standing: &Standing, of: AnimalId) -> History {
    let class = standing.one_with(of.0);
    let mut fold = Fold::new(standing, &class);
    for record in &standing.records {
        if fold.is_hers(record) {
            fold.take(record);
        }
    }
    fold.finish(standing)
}

struct Fold<'s> {
    standing: &'s Standing,
    class: &'s BTreeSet<RecordId>,
    /// Whom each finding, put and advice belongs to, by the record others name.
    named: BTreeMap<RecordId, bool>,
    /// What each of those that stand for her is called by its own records.
    own: animal::Own,
    /// Her records that were corrected.
    corrected: BTreeSet<RecordId>,
    history: History,
    items: items::Items<'s>,
}

impl<'s> Fold<'s> {
    fn new(standing: &'s Standing, class: &'s BTreeSet<RecordId>) -> Fold<'s> {
        Fold {
            standing,
            class,
            named: BTreeMap::new(),
            own: BTreeMap::new(),
            corrected: BTreeSet::new(),
            history: animal::blank(class),
            items: items::Items::new(&standing.names),
        }
    }

    /// Whether a record belongs to this animal: by its turn's owner, by what it names, else by whom it is about. Records
    /// are asked in order of facts, but what a record names may stand later (a sheet typed late), hence the look-up over all.
    fn is_hers(&mut self, record: &Record) -> bool {
        let Some(event) = record.event() else { return self.class.contains(&record.about) };
        if matches!(event, Event::TurnBegun { .. }) {
            return self.owns(TurnId(record.id), record);
        }
        if let Some(turn) = event.turn() {
            return self.owns(turn, record);
        }
        match names(event) {
            Some(target) => self.target_is_hers(target, record),
            None => self.class.contains(&record.about),
        }
    }

    fn owns(&self, turn: TurnId, record: &Record) -> bool {
        match self.standing.owner.get(&turn) {
            Some(animal) => self.class.contains(&animal.0),
            None => self.class.contains(&record.about),
        }
    }

    fn target_is_hers(&mut self, target: RecordId, record: &Record) -> bool {
        if let Some(known) = self.named.get(&target) {
            return *known;
        }
        let standing = self.standing;
        let found = standing.records.iter().find(|candidate| candidate.id == target);
        let hers = match found.and_then(|found| found.event().and_then(Event::turn).map(|turn| (turn, found))) {
            Some((turn, found)) => self.owns(turn, found),
            None => self.class.contains(&record.about),
        };
        self.named.insert(target, hers);
        hers
    }

    fn take(&mut self, record: &Record) {
        let Some(event) = record.event() else { return };
        let (id, on) = (record.id, record.on);
        if self.standing.corrections.iter().any(|correction| correction.of == id) {
            self.corrected.insert(id);
        }
        match event {
            Event::AnimalBegun { farm, labels } => {
                animal::begin(&mut self.history, &mut self.own, record, *farm, labels);
            }
            Event::Renumbered { labels, .. } => animal::relabel(&mut self.history, &mut self.own, record, labels),
            Event::Described { herd, .. } => animal::describe(&mut self.history, on, herd),
            Event::Left { why, .. } => animal::leave(&mut self.history, *why, on),
            Event::CameBack { .. } => (self.history.left, self.history.back) = (None, Some(on)),
            Event::CullSaid { .. } => self.history.cull = Some(on),
            Event::Kicker { kicks, .. } => self.history.kicker = *kicks,
            Event::ClawGone { foot, side, .. } => animal::claw_gone(&mut self.history, *foot, *side),

            Event::TurnBegun { visit, .. } => turns::begin(&mut self.history, record, *visit),
            Event::TurnPaused { turn, .. } => self.state(*turn, record, super::TurnState::Paused),
            Event::TurnResumed { turn } | Event::TurnReopened { turn } => {
                self.state(*turn, record, super::TurnState::Open);
            }
            Event::TurnSigned { turn, open } => {
                self.state(*turn, record, super::TurnState::Signed);
                self.turn(*turn, record).gaps = open.clone();
                self.items.turn_signed(*turn);
            }
            Event::Looked { turn, foot, lifted, trimmed, all_seen } => {
                let look = super::Look { lifted: *lifted, trimmed: *trimmed, all_seen: *all_seen };
                self.turn(*turn, record).looks[turns::index(*foot)] = Some(look);
                if *lifted {
                    self.items.foot_lifted(*turn, *foot);
                }
            }
            Event::Found { turn, place, what, degree, words } => {
                let found = courses::find(&mut self.history.courses, *turn, on, id, (*place, *what, *degree, words));
                self.turn(*turn, record).found.push(found);
            }
            Event::Detailed { of, detail } => {
                if !courses::detail(&mut self.history, *of, detail) {
                    self.doubt(id, DoubtWhat::Missing);
                }
            }
            Event::Answered { turn, case, outcome } => self.answer(*turn, record, *case, Verdict::Outcome(*outcome)),
            Event::Staged { turn, case, stage } => self.answer(*turn, record, *case, Verdict::Stage(*stage)),
            Event::Trimmed { turn, place, how } => self.turn(*turn, record).trims.push((id, *place, *how)),
            Event::PutOn { turn, put, off_by, remover, by_others } => {
                let view = super::PutView {
                    id: PutId(id),
                    on,
                    written: record.written,
                    put: put.clone(),
                    off_by: *off_by,
                    remover: remover.clone(),
                    by_others: by_others.clone(),
                    was: Vec::new(),
                };
                self.items.put_on(record, &view);
                match turn {
                    Some(turn) => self.turn(*turn, record).puts.push(view),
                    None => self.outside(record, event),
                }
            }
            Event::PutDetailed { put, detail } => {
                let known = items::detail(&mut self.history, &mut self.items, *put, detail);
                if !known {
                    self.doubt(id, DoubtWhat::Missing);
                }
            }
            Event::SeenOff { turn, item, outcome, skin } => {
                let view = items::off_view(&self.history, id, *item, *outcome, *skin);
                let fits = self.items.seen_off(record, &view, *turn, &self.history.courses);
                if !fits {
                    self.doubt(id, DoubtWhat::Missing);
                }
                match turn {
                    Some(turn) => items::show_off(&mut self.turn(*turn, record).offs, view),
                    None => self.outside(record, event),
                }
            }
            Event::ToldOff { item, by, word, .. } => {
                if !self.items.told(*item, by, *word, on) {
                    self.doubt(id, DoubtWhat::Missing);
                }
                self.outside(record, event);
            }
            Event::MedicineGiven { turn, medicine } => match turn {
                Some(turn) => self.turn(*turn, record).medicines.push((id, (**medicine).clone())),
                None => self.outside(record, event),
            },
            Event::PainRelief { turn, relief } => self.turn(*turn, record).relief = Some((id, *relief)),
            Event::Measured { turn, place, what, mm } => {
                self.turn(*turn, record).measures.push((id, *place, *what, *mm));
            }
            Event::Walked { turn, gait } => match turn {
                Some(turn) => self.turn(*turn, record).gaits.push((id, *gait)),
                None => self.outside(record, event),
            },
            Event::Sore { turn, place } => self.turn(*turn, record).sore.push((id, *place)),
            Event::Noted { turn, place, text } => match turn {
                Some(turn) => self.turn(*turn, record).notes.push((id, *place, text.clone())),
                None => self.outside(record, event),
            },
            Event::VetAdvised { turn, place, sign, words } => {
                self.items.vet(record, *place, *sign, words);
                match turn {
                    Some(turn) => self.turn(*turn, record).vet.push((id, *place, *sign, words.clone())),
                    None => self.outside(record, event),
                }
            }
            Event::VetAnswered { of, .. } => {
                if !self.items.vet_answered(*of) && !uses(&self.history).any(|one| one.of == *of) {
                    self.doubt(id, DoubtWhat::Missing);
                }
                self.outside(record, event);
            }
            Event::RecheckSet { turn, place, on: day, words } => {
                self.items.set_by_hand(record, *turn, *place, *day, words);
                match turn {
                    Some(turn) => self.turn(*turn, record).rechecks.push((id, *place, *day, words.clone())),
                    None => self.outside(record, event),
                }
            }
            // Told about her outside any turn.
            Event::FarmCalled { urgent, .. } => {
                if *urgent {
                    self.items.trouble(record.on);
                }
                self.outside(record, event);
            }
            // Sorted out in the first pass.
            Event::TurnMoved { .. }
            | Event::Joined { .. }
            | Event::Parted { .. }
            | Event::Undone { .. }
            | Event::Redone { .. }
            | Event::Corrected { .. } => {}
            // About farms, visits and the practice: not hers.
            Event::PersonBegun { .. }
            | Event::ProductNamed { .. }
            | Event::PriceSet { .. }
            | Event::RulesAdopted { .. }
            | Event::FarmBegun { .. }
            | Event::FarmDescribed { .. }
            | Event::ContactTold { .. }
            | Event::FarmGivenUp { .. }
            | Event::FarmChanged { .. }
            | Event::FarmRung { .. }
            | Event::Instructed { .. }
            | Event::InstructionEnded { .. }
            | Event::InstructionReviewed { .. }
            | Event::VisitBegun { .. }
            | Event::VisitPaused { .. }
            | Event::VisitClosed { .. }
            | Event::VisitDescribed { .. }
            | Event::Counted { .. }
            | Event::KeptApart { .. } => {}
        }
    }

    fn turn(&mut self, turn: TurnId, record: &Record) -> &mut super::Turn {
        let position = match self.history.turns.iter().position(|candidate| candidate.id == turn) {
            Some(position) => position,
            None => {
                self.doubt(record.id, DoubtWhat::Missing);
                turns::missing(&mut self.history, turn, record)
            }
        };
        &mut self.history.turns[position]
    }

    fn state(&mut self, turn: TurnId, record: &Record, state: super::TurnState) {
        self.turn(turn, record).state = state;
    }

    fn answer(&mut self, turn: TurnId, record: &Record, case: CaseId, verdict: Verdict) {
        match courses::answer(&mut self.history.courses, turn, record, case, verdict) {
            Some(answer) => self.turn(turn, record).answers.push(answer),
            None => self.doubt(record.id, DoubtWhat::Missing),
        }
    }

    fn outside(&mut self, record: &Record, event: &Event) {
        let turns = self.history.turns.len();
        self.history.outside.push(Outside { id: record.id, on: record.on, turns, event: event.clone() });
    }

    fn doubt(&mut self, id: RecordId, what: DoubtWhat) {
        self.history.doubts.push(Doubt { id, what });
    }

    fn finish(mut self, standing: &Standing) -> History {
        self.history.open = self.items.open(&self.history.courses);
        self.history.open.extend(lame::item(&self.history));
        let withheld = withheld::items(&self.history);
        self.history.open.extend(withheld);
        if self.class.iter().any(|id| standing.names.are_two(*id)) {
            animal::either(&mut self.history);
        }
        about::joins(&mut self.history, standing, self.class);
        about::moves(&mut self.history, standing, self.class);
        about::corrections(&mut self.history, standing, &self.corrected);
        self.history.doubts.extend(standing.doubts.iter().copied());
        self.history.doubts.extend(clock::doubts(standing.records()));
        self.history.newer = standing.newer;
        self.history.count = standing.count;
        self.history
    }
}

/// The record that this event says more about, where it says so instead of naming a turn.
fn names(event: &Event) -> Option<RecordId> {
    if let Event::Detailed { of, .. } = event {
        return Some(of.0);
    }
    if let Event::PutDetailed { put, .. } | Event::ToldOff { item: put, .. } = event {
        return Some(put.0);
    }
    if let Event::VetAnswered { of, .. } = event {
        return Some(*of);
    }
    None
}
