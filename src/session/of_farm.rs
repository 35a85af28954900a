//! What the farm says and does beside the map: one menu, reached from Today, each row a matter of the farm.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::{Refusal, Session, visit};
use crate::domain::day::gone_by;
use crate::domain::event::Event;
use crate::domain::herd::Change;
use crate::domain::ids::{AnimalId, RecordId};
use crate::domain::record::Stamp;
use crate::domain::vocabulary::Vocabulary;
use chrono::{Days, NaiveDate};

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// Which matter? The animal is the one picked on Today.
    Menu(Option<AnimalId>),
    /// The farm called, about her or about itself: can it wait?
    Urgent(Option<AnimalId>),
    /// What changed there?
    Change,
    /// Since which day?
    Since(Change),
    /// The visit.
    Visit(visit::Ask),
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Asks further.
    Ask(Ask),
    /// Asks for the words of a call.
    Call {
        /// Whom it is about; none: the farm.
        about: Option<AnimalId>,
        /// It cannot wait.
        urgent: bool,
    },
    /// It changed on that day.
    Since(Change, NaiveDate),
    /// It changed on a day that is typed.
    OtherDay(Change),
    /// The visit.
    Visit(visit::Act),
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// What was said in a call.
    Called {
        /// Whom it is about; none: the farm.
        about: Option<AnimalId>,
        /// It cannot wait.
        urgent: bool,
    },
    /// What changed, in words, since that day.
    Changed(Change, NaiveDate),
    /// Since which day it has.
    Since(Change),
}

impl Text {
    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        match self {
            Text::Since(_) => true,
            Text::Called { .. } | Text::Changed(_, _) => false,
        }
    }

    /// Whether nothing typed is an answer too: what changed may need no words.
    pub fn may_be_empty(&self) -> bool {
        match self {
            Text::Changed(change, _) => *change != Change::Other,
            Text::Since(_) | Text::Called { .. } => false,
        }
    }
}

/// Days offered for a change, today the first.
const DAYS: u64 = 7;

/// The menu of the farm in hand.
pub fn open(session: &Session, about: Option<AnimalId>) -> Decision {
    if session.farm.is_none() {
        return Decision::Refuse(Refusal::NoFarm);
    }
    ask(Ask::Menu(about), &session.mode)
}

/// The choices of a question.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    let acts: Vec<Act> = match asked {
        Ask::Menu(about) => {
            vec![Act::Ask(Ask::Urgent(*about)), Act::Ask(Ask::Change), Act::Ask(Ask::Visit(visit::Ask::Menu))]
        }
        Ask::Visit(asked) => return visit::choices(session, asked),
        Ask::Urgent(about) => [true, false].map(|urgent| Act::Call { about: *about, urgent }).into(),
        Ask::Change => Change::ALL.iter().map(|change| Act::Ask(Ask::Since(*change))).collect(),
        Ask::Since(change) => {
            let days = (0..DAYS).filter_map(|back| session.today.checked_sub_days(Days::new(back)));
            days.map(|day| Act::Since(*change, day)).chain([Act::OtherDay(*change)]).collect()
        }
    };
    in_order(acts.into_iter().map(act::Act::Farm))
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::Ask(asked) => ask(asked, under),
        Act::Visit(act) => visit::do_act(session, act, under, stamp),
        Act::Call { about, urgent } => type_for(Text::Called { about, urgent }, under),
        Act::Since(change, day) => type_for(Text::Changed(change, day), under),
        Act::OtherDay(change) => type_for(Text::Since(change), under),
    }
}

/// Keeps a text.
pub fn keep(session: &Session, what: &Text, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let record = |about: RecordId, event, on| {
        let press = Stamp { on, ..*stamp }.press([(about, event)]);
        Decision::Record(press, Next::Do(Effect::Refresh(Box::new(under.clone()))))
    };
    match what {
        Text::Called { about, urgent } => {
            let caller = session.answering.get(&farm).cloned().unwrap_or_default();
            let called = Event::FarmCalled { farm, words: text.to_owned(), urgent: *urgent, caller };
            record(about.map_or(farm.0, |animal| animal.0), called, stamp.on)
        }
        Text::Changed(change, day) => {
            record(farm.0, Event::FarmChanged { farm, change: *change, words: text.to_owned() }, *day)
        }
        Text::Since(change) => match gone_by(text, session.today) {
            Ok(day) => type_for(Text::Changed(*change, day), under),
            Err(why) => Decision::Refuse(Refusal::NoDay(text.to_owned(), why)),
        },
    }
}

/// Asks something over where the hands were.
fn ask(asked: Ask, under: &Mode) -> Decision {
    Decision::Go(Next::Mode(Mode::Pad { ask: act::Ask::Farm(asked), under: Box::new(under.clone()) }))
}

fn type_for(what: Text, under: &Mode) -> Decision {
    let (what, under) = (TextFor::Farm(what), Box::new(under.clone()));
    Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under }))
}
