//! The list of the day as Today is ranked by it: who is expected, who came unasked, who is left for now, who may have left
//! without a word.

use super::{HerdLine, LineTurn, Session};
use crate::domain::day_list::{Came, DayList, Line, Spared, StillHere};
use crate::domain::farm_call::FarmCall;
use crate::domain::history::TurnState;
use crate::domain::ids::AnimalId;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Where an animal stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spot {
    Expected(usize),
    Unasked(usize),
    Spared(usize),
    StillHere(usize),
}

/// A list of the day, and where each animal stands on it.
#[derive(Debug, Clone, Default)]
pub struct Listed {
    list: DayList,
    spots: BTreeMap<AnimalId, Spot>,
    calls: Vec<FarmCall>,
}

impl Listed {
    /// A list with what the farm called.
    pub fn new(list: DayList, calls: Vec<FarmCall>) -> Listed {
        let expected = list.expected.iter().enumerate().map(|(at, line)| (line.animal, Spot::Expected(at)));
        let unasked = list.unasked.iter().enumerate().map(|(at, line)| (line.animal, Spot::Unasked(at)));
        let spared = list.spared.iter().enumerate().map(|(at, spared)| (spared.animal, Spot::Spared(at)));
        let asked = list.still_here.iter().enumerate().map(|(at, unseen)| (unseen.animal, Spot::StillHere(at)));
        // Who came all the same is no longer left for now.
        let spots = asked.chain(spared).chain(expected).chain(unasked).collect();
        Listed { list, spots, calls }
    }

    /// The list.
    pub fn list(&self) -> &DayList {
        &self.list
    }

    /// Her line, and her place among those who were expected and then those who came unasked.
    pub fn line(&self, animal: AnimalId) -> Option<(usize, &Line)> {
        match self.spots.get(&animal)? {
            Spot::Expected(at) => Some((*at, self.list.expected.get(*at)?)),
            Spot::Unasked(at) => Some((self.list.expected.len() + at, self.list.unasked.get(*at)?)),
            Spot::Spared(_) | Spot::StillHere(_) => None,
        }
    }

    /// Whether she is left for now.
    pub fn spared(&self, animal: AnimalId) -> Option<(usize, &Spared)> {
        match self.spots.get(&animal)? {
            Spot::Spared(at) => Some((*at, self.list.spared.get(*at)?)),
            Spot::Expected(_) | Spot::Unasked(_) | Spot::StillHere(_) => None,
        }
    }

    /// Whether she may have left without a word.
    pub fn still_here(&self, animal: AnimalId) -> Option<(usize, &StillHere)> {
        match self.spots.get(&animal)? {
            Spot::StillHere(at) => Some((*at, self.list.still_here.get(*at)?)),
            Spot::Expected(_) | Spot::Unasked(_) | Spot::Spared(_) => None,
        }
    }
}

/// Where an animal stands in the visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// She came on the day.
    Came(Came),
    /// Done on an earlier day of the visit.
    DoneOn(NaiveDate),
    /// Not here yet; if an earlier day left her half done, the list asks for her.
    Away,
}

impl Stands {
    /// Whether she is done.
    pub fn is_done(self) -> bool {
        match self {
            Stands::Came(Came::Done) | Stands::DoneOn(_) => true,
            Stands::Came(Came::InTheCrush | Came::SetAside | Came::NoFootUp) | Stands::Away => false,
        }
    }
}

impl Session {
    /// Where she stands.
    pub fn stands(&self, line: &HerdLine) -> Stands {
        let came = self.day.line(line.id).and_then(|(_, listed)| listed.came);
        match (came, line.turn) {
            (Some(came), _) => Stands::Came(came),
            (None, Some(turn)) if turn.on == self.today => Stands::Came(match turn.state {
                TurnState::Open => Came::InTheCrush,
                TurnState::Paused => Came::SetAside,
                TurnState::Signed => Came::Done,
            }),
            (None, Some(LineTurn { state: TurnState::Signed, on, .. })) => Stands::DoneOn(on),
            (None, Some(_) | None) => Stands::Away,
        }
    }

    /// Her place among those who should come and are neither here nor done, and her line.
    pub fn asked_for(&self, animal: AnimalId) -> Option<(usize, &Line)> {
        let wanted = |line: &Line| !line.why.is_empty() && matches!(line.came, None | Some(Came::NoFootUp));
        self.day.line(animal).filter(|(_, line)| wanted(line))
    }

    /// What the farm in hand called about itself since the last visit, the newest first; nothing once this one is begun.
    pub fn calls(&self) -> impl Iterator<Item = &FarmCall> {
        self.day.calls.iter().rev().filter(|_| self.visits.now.is_none())
    }
}
