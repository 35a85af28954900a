//! The visit of a day: which of a farm's visits is under way, which waits to go on, and what a word about one writes. The
//! screens, the commands and sheets all ask here, so that each checks the same.

use super::event::Event;
use super::herd::{VisitWhy, VisitWord};
use super::ids::{FarmId, RecordId, VisitId};
use super::visit_log::{State, Visit};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// A fact, and whom it is about.
type Fact = (RecordId, Event);

/// Why nothing is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum No {
    /// It is already so.
    AlreadySo,
    /// No visit is under way, and none waits.
    NoVisit,
}

/// What a farm's visits are on a day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Visits {
    /// All of the farm, the newest first.
    pub all: Vec<Visit>,
    /// The one under way that day.
    pub now: Option<VisitId>,
}

impl Visits {
    /// Out of the farm's log and the visits of that day's turns: a turn belongs to one that another day began. A visit whose
    /// beginning nobody here knows is under way as long as it has turns that day.
    pub fn of(all: Vec<Visit>, turns: &BTreeSet<VisitId>, day: NaiveDate) -> Visits {
        let known = |id: VisitId| all.iter().find(|visit| visit.id == id);
        let of_day = all.iter().filter(|visit| visit.days.contains(&day)).map(|visit| visit.id);
        let ids: BTreeSet<VisitId> = of_day.chain(turns.iter().copied()).collect();
        let now = ids.into_iter().filter(|id| known(*id).is_none_or(|visit| visit.state == State::Open)).max();
        Visits { now, all }
    }

    /// A visit by its name.
    pub fn get(&self, id: VisitId) -> Option<&Visit> {
        self.all.iter().find(|visit| visit.id == id)
    }

    /// Those of a day, the newest first.
    pub fn of_day(&self, day: NaiveDate) -> impl Iterator<Item = &Visit> {
        self.all.iter().filter(move |visit| visit.days.contains(&day) || Some(visit.id) == self.now)
    }

    /// The one under way.
    pub fn under_way(&self) -> Option<&Visit> {
        self.now.and_then(|id| self.get(id))
    }

    /// The one that was set aside that very day: the next animal goes on with it.
    pub fn aside(&self, day: NaiveDate) -> Option<&Visit> {
        self.all.iter().find(|visit| visit.set_aside() == Some(day))
    }

    /// Those set aside on a day before: whether one goes on is asked. The newest first.
    pub fn waiting(&self, day: NaiveDate) -> impl Iterator<Item = &Visit> {
        self.all.iter().filter(move |visit| visit.set_aside().is_some_and(|aside| aside < day))
    }

    /// Whether it must be said which visit it is before anything is written.
    pub fn asks(&self, day: NaiveDate) -> bool {
        self.now.is_none() && self.aside(day).is_none() && self.waiting(day).next().is_some()
    }

    /// The visit to write in, and what has to be written first: nothing where one is under way; that it goes on where it was set
    /// aside that day; else its beginning, under the name of the next record.
    pub fn in_hand(&self, farm: FarmId, day: NaiveDate, next: RecordId, why: VisitWhy) -> (VisitId, Option<Fact>) {
        if let Some(id) = self.now {
            return (id, None);
        }
        match self.aside(day) {
            Some(visit) => (visit.id, Some(told(farm, visit.id, VisitWord::GoneOn))),
            None => (VisitId(next), Some((farm.0, Event::VisitBegun { farm, why }))),
        }
    }

    /// The newest visit that ended that day: what is told after it was closed is told of it, until another begins.
    fn ended(&self, day: NaiveDate) -> Option<&Visit> {
        self.all.iter().find(|visit| visit.state == State::Closed(day))
    }

    /// Tells something about the visit of the day, which begins with that where there is none yet.
    ///
    /// # Errors
    /// What is so already.
    pub fn say(&self, word: VisitWord, farm: FarmId, day: NaiveDate, next: RecordId) -> Result<Vec<Fact>, No> {
        let over = self.ended(day).filter(|_| self.now.is_none() && self.aside(day).is_none());
        if let Some(over) = over {
            return if over.says(word) { Err(No::AlreadySo) } else { Ok(vec![told(farm, over.id, word)]) };
        }
        let why = if word == VisitWord::CallOut { VisitWhy::CallOut } else { VisitWhy::Routine };
        let (visit, first) = self.in_hand(farm, day, next, why);
        let begins = matches!(first, Some((_, Event::VisitBegun { .. })));
        let said_by_beginning = begins && matches!(word, VisitWord::Routine | VisitWord::CallOut);
        let more = !said_by_beginning && self.get(visit).is_none_or(|visit| !visit.says(word));
        let facts: Vec<Fact> = first.into_iter().chain(more.then(|| told(farm, visit, word))).collect();
        if facts.is_empty() { Err(No::AlreadySo) } else { Ok(facts) }
    }

    /// Begins a visit, where none is under way.
    ///
    /// # Errors
    /// One that is.
    pub fn begin(&self, farm: FarmId) -> Result<Vec<Fact>, No> {
        match self.now {
            Some(_) => Err(No::AlreadySo),
            None => Ok(vec![(farm.0, Event::VisitBegun { farm, why: VisitWhy::Routine })]),
        }
    }

    /// Sets the visit under way aside.
    ///
    /// # Errors
    /// None under way.
    pub fn pause(&self, farm: FarmId) -> Result<Vec<Fact>, No> {
        let visit = self.now.ok_or(No::NoVisit)?;
        Ok(vec![(farm.0, Event::VisitPaused { visit })])
    }

    /// Goes on with one that was set aside.
    ///
    /// # Errors
    /// One that was not.
    pub fn go_on(&self, farm: FarmId, id: VisitId) -> Result<Vec<Fact>, No> {
        match self.get(id).and_then(Visit::set_aside) {
            Some(_) => Ok(vec![told(farm, id, VisitWord::GoneOn)]),
            None => Err(No::AlreadySo),
        }
    }

    /// The visit that is to be closed: the one under way, else the newest that was set aside.
    ///
    /// # Errors
    /// Neither is there.
    pub fn to_close(&self) -> Result<VisitId, No> {
        let aside = || self.all.iter().find(|visit| visit.set_aside().is_some()).map(|visit| visit.id);
        self.now.or_else(aside).ok_or(No::NoVisit)
    }

    /// Closes a visit.
    ///
    /// # Errors
    /// One that is closed.
    pub fn close(&self, farm: FarmId, visit: VisitId) -> Result<Vec<Fact>, No> {
        match self.get(visit).map(|visit| visit.state) {
            Some(State::Closed(_)) => Err(No::AlreadySo),
            Some(State::Open | State::Paused(_)) | None => Ok(vec![(farm.0, Event::VisitClosed { visit })]),
        }
    }
}

fn told(farm: FarmId, visit: VisitId, word: VisitWord) -> Fact {
    (farm.0, Event::VisitDescribed { visit, word })
}
