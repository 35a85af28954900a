//! The visit: why it is made, the whole herd or a part, washed before and after, set aside, gone on with, closed. Its rows stand
//! in the menu of the farm; which visit it is to be is asked when a farm with one set aside is opened on another day.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::Mode;
use super::{FarmLine, Refusal, Session};
use super::{amend, of_farm, who};
use crate::domain::event::Event;
use crate::domain::herd::VisitWord;
use crate::domain::ids::{FarmId, PersonId, RecordId, VisitId};
use crate::domain::record::Stamp;
use crate::domain::visit::No;
use crate::domain::visit_sum::VisitSum;
use chrono::NaiveDate;

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// What is to be said of it?
    Menu,
    /// One was set aside: does it go on, or is this another?
    Which,
    /// This is what it adds up to: is it closed?
    Close(Box<VisitSum>),
    /// Somebody waits, or nothing was told of washing: is it closed all the same?
    Sure(Box<VisitSum>),
    /// Who records?
    Who,
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Asks further.
    Ask(Ask),
    /// That is said of it.
    Say(VisitWord),
    /// It is set aside.
    Pause,
    /// That one goes on.
    GoOn(VisitId),
    /// Another one begins; those set aside stay so.
    New,
    /// Adds that one up, and asks whether it is closed.
    AskClose(VisitId),
    /// It is closed.
    Close(VisitId),
    /// Asks who records.
    Who,
    /// That one records.
    Records(PersonId),
    /// Somebody is named who records.
    Name,
}

/// What can be said of a visit, in the order of the keys.
const WORDS: [VisitWord; 6] = [
    VisitWord::Routine,
    VisitWord::CallOut,
    VisitWord::WholeHerd,
    VisitWord::Selected,
    VisitWord::CleanedBefore,
    VisitWord::CleanedAfter,
];

/// Visits set aside that are offered: the newest. Each takes a key, and so does closing the first, and a new one.
const OFFERED: usize = 6;

/// The key that closes a visit all the same: none that a hand has just pressed.
const MEANT: u8 = 0;

/// The choices of a question.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    match asked {
        Ask::Menu => menu(session),
        Ask::Which => {
            let waiting: Vec<VisitId> = session.visits.waiting(session.today).map(|visit| visit.id).collect();
            let go_on = waiting.iter().take(OFFERED).map(|id| Act::GoOn(*id));
            in_order(go_on.chain([Act::New]).chain(waiting.first().map(|id| Act::AskClose(*id))).map(of))
        }
        Ask::Close(sum) if sum.asks() => in_order([of(Act::Ask(Ask::Sure(sum.clone())))]),
        Ask::Close(sum) => in_order([of(Act::Close(sum.visit.id))]),
        Ask::Who => who::choices(session),
        Ask::Sure(sum) => vec![Choice { key: MEANT, act: of(Act::Close(sum.visit.id)) }],
    }
}

fn of(act: Act) -> act::Act {
    act::Act::Farm(of_farm::Act::Visit(act))
}

/// Each row on its own key, whether or not there is a visit to set aside or to close.
fn menu(session: &Session) -> Vec<Choice> {
    let visits = &session.visits;
    let waits = visits.aside(session.today).is_some() || visits.waiting(session.today).next().is_some();
    let rest = match (visits.now, visits.aside(session.today)) {
        (Some(_), _) => Some(Act::Pause),
        (None, Some(aside)) => Some(Act::GoOn(aside.id)),
        (None, None) => waits.then_some(Act::Ask(Ask::Which)),
    };
    let close = visits.to_close().ok().map(Act::AskClose);
    let last = [(7, rest), (8, close), (9, Some(Act::Who))];
    let last = last.into_iter().filter_map(|(key, act)| Some(Choice { key, act: of(act?) }));
    in_order(WORDS.map(|word| of(Act::Say(word)))).into_iter().chain(last).collect()
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::Who => Decision::Go(Next::Mode(who::ask(session, under))),
        Act::Name => Decision::Go(Next::Mode(who::name(under))),
        Act::Records(person) => Decision::Go(Next::Do(Effect::Amend(amend::Read::By(person)))),
        act => of_visit(session, act, under, stamp),
    }
}

fn of_visit(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let visits = &session.visits;
    let back = || Effect::Refresh(Box::new(under.clone()));
    match act {
        Act::Ask(asked) => ask(asked, under),
        Act::Say(_) if visits.asks(session.today) => ask(Ask::Which, under),
        Act::Say(word) => write(visits.say(word, farm, session.today, stamp.next), stamp, back()),
        Act::Pause => write(visits.pause(farm), stamp, back()),
        Act::GoOn(visit) => write(visits.go_on(farm, visit), stamp, back()),
        Act::New => write(visits.begin(farm), stamp, back()),
        Act::AskClose(visit) => Decision::Go(Next::Do(Effect::AskClose(visit))),
        Act::Close(visit) => write(visits.close(farm, visit), stamp, Effect::Ended),
        Act::Who | Act::Name | Act::Records(_) => Decision::Refuse(Refusal::NotHere),
    }
}

fn write(facts: Result<Vec<(RecordId, Event)>, No>, stamp: &Stamp, then: Effect) -> Decision {
    match facts {
        Ok(facts) => Decision::Record(stamp.press(facts), Next::Do(then)),
        Err(No::AlreadySo) => Decision::Refuse(Refusal::AlreadySo),
        Err(No::NoVisit) => Decision::Refuse(Refusal::NoVisit),
    }
}

/// Asks over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    Decision::Go(Next::Mode(over(asked, under)))
}

/// A question over a mode.
pub fn over(asked: Ask, under: &Mode) -> Mode {
    Mode::Pad { ask: act::Ask::Farm(of_farm::Ask::Visit(asked)), under: Box::new(under.clone()) }
}

/// What of a farm's visits there is to go on with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Waits {
    /// One began or went on today.
    UnderWay,
    /// One was set aside on that day.
    Aside(NaiveDate),
}

impl FarmLine {
    /// What there is to go on with on a day.
    pub fn waits(&self, today: NaiveDate) -> Option<Waits> {
        let going = self.going.filter(|on| *on == today).map(|_| Waits::UnderWay);
        going.or(self.aside.filter(|on| *on <= today).map(Waits::Aside))
    }
}

/// The farm that the day goes on at: the only one with a visit under way today, else the only one that has one set aside. Where there
/// are several the trimmer says which.
pub fn waits(session: &Session) -> Option<FarmId> {
    let of = |wanted: fn(Waits) -> bool| {
        let waits = move |farm: &&FarmLine| farm.waits(session.today).is_some_and(wanted);
        let mut farms = session.farms.iter().filter(waits);
        (farms.next(), farms.next())
    };
    match (of(|waits| waits == Waits::UnderWay), of(|_| true)) {
        ((Some(farm), None), _) | ((None, _), (Some(farm), None)) => Some(farm.id),
        _ => None,
    }
}

impl Session {
    /// The question that a farm opens with, where one of its visits was set aside on a day before; else Today.
    pub fn opened(&self) -> Mode {
        let today = Mode::today();
        if self.visits.asks(self.today) { over(Ask::Which, &today) } else { today }
    }

    /// The visit that its totals are of: the one under way, else the newest that ended or was set aside today.
    pub fn shown_visit(&self) -> Option<VisitId> {
        let today = || self.visits.all.iter().find(|visit| visit.last() == self.today).map(|visit| visit.id);
        self.farm.as_ref()?;
        self.visits.now.or_else(today)
    }
}
