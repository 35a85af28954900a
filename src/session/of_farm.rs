//! What the farm says and does beside the map: one menu, reached from Today, each row a matter of the farm.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::lists::reviews;
use super::mode::{Mode, Only, TextFor};
use super::{Refusal, Session, contact, farm_card, herd, herd_list, instruct, type_up, visit, walk};
use crate::domain::day::gone_by;
use crate::domain::event::Event;
use crate::domain::herd::{Change, FarmFact};
use crate::domain::ids::{AnimalId, RecordId};
use crate::domain::instruction::NoReview;
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
    /// On the walk: which number and score are these digits?
    Walked(String),
    /// About a standing instruction.
    Instruct(instruct::Ask),
    /// About one of its people.
    Contact(contact::Ask),
    /// The visit.
    Visit(visit::Ask),
    /// About its herd.
    Herd(herd::Ask),
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
    /// The scoring walk.
    Walk(walk::Act),
    /// Paper is typed up, or no more.
    Paper(type_up::Act),
    /// Opens its card.
    Card,
    /// About a standing instruction.
    Instruct(instruct::Act),
    /// About one of its people.
    Contact(contact::Act),
    /// Opens its herd.
    Herd,
    /// About a herd list.
    List(herd_list::Act),
}

/// Why a matter of the farm was not done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refused {
    /// A fact cannot have that word, and how it is to be written.
    Fact(FarmFact, String, &'static str),
    /// Another farm is called so.
    Named(String),
    /// It was told on a later day.
    ToldLater(FarmFact, NaiveDate),
    /// No day to look at an instruction again, which is within so many days.
    NoReview(NoReview, u16),
    /// About a standing instruction.
    Instruct(instruct::Refused),
    /// About one of its people.
    Contact(contact::Refused),
    /// That line of the card says what follows from others.
    NotTyped,
    /// About its herd.
    Herd(herd::No),
}

/// Back from a question to the one before it, where there is one whose answer would be lost.
pub fn back(asked: &Ask, under: &Mode) -> Option<Decision> {
    if let Ask::Instruct(asked) = asked {
        return instruct::back(asked, under);
    }
    if let Ask::Contact(asked) = asked { contact::back(asked, under) } else { None }
}

/// The same from a text with nothing in it.
pub fn back_from(what: &TextFor, under: &Mode) -> Option<Decision> {
    if let TextFor::Farm(Text::Instruct(text)) = what {
        return instruct::back_from(text, under);
    }
    if let TextFor::Farm(Text::Contact(text)) = what { contact::back_from(text, under) } else { None }
}

/// What is missing where nothing was typed for something that is told in several steps.
pub fn unsaid(what: &TextFor) -> Option<Decision> {
    let TextFor::Farm(Text::Instruct(text)) = what else { return None };
    Some(instruct::refuse(instruct::Refused::Unsaid(text.unsaid())))
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
    /// The day of the paper; this one is offered.
    Paper(NaiveDate),
    /// A new word on a fact.
    Fact(FarmFact),
    /// About a standing instruction.
    Instruct(instruct::Text),
    /// About one of its people.
    Contact(contact::Text),
    /// About its herd.
    Herd(herd::Text),
}

impl Text {
    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        match self {
            Text::Since(_) | Text::Paper(_) | Text::Fact(FarmFact::HerdSize) => true,
            Text::Instruct(text) => text.is_number(),
            Text::Herd(text) => text.is_number(),
            Text::Called { .. } | Text::Changed(_, _) | Text::Fact(_) | Text::Contact(_) => false,
        }
    }

    /// Whether nothing typed is an answer too: what changed may need no words.
    pub fn may_be_empty(&self) -> bool {
        match self {
            Text::Changed(change, _) => *change != Change::Other,
            // Emptied, it holds no longer.
            Text::Paper(_) | Text::Fact(_) => true,
            Text::Herd(text) => text.may_be_empty(),
            Text::Contact(text) => *text != contact::Text::Name,
            Text::Since(_) | Text::Called { .. } | Text::Instruct(_) => false,
        }
    }
}

/// What says that something holds no longer, where an empty line means something else.
pub const NOTHING: &str = "-";

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
        Ask::Walked(typed) => return walk::choices(session, typed),
        Ask::Visit(asked) => return visit::choices(session, asked),
        Ask::Herd(asked) => return herd::choices(session, asked),
        Ask::Menu(about) => return menu(session, *about),
        Ask::Urgent(about) => [true, false].map(|urgent| Act::Call { about: *about, urgent }).into(),
        Ask::Change => Change::ALL.iter().map(|change| Act::Ask(Ask::Since(*change))).collect(),
        Ask::Since(change) => {
            let days = (0..DAYS).filter_map(|back| session.today.checked_sub_days(Days::new(back)));
            days.map(|day| Act::Since(*change, day)).chain([Act::OtherDay(*change)]).collect()
        }
        Ask::Instruct(asked) => return instruct::choices(session, asked),
        Ask::Contact(asked) => return contact::choices(session, asked),
    };
    in_order(acts.into_iter().map(act::Act::Farm))
}

/// The key of the herd, whether or not an instruction is to be looked at again.
const HERD: u8 = 9;

/// The matters of the farm, each on its own key; the eighth only where an instruction is to be looked at again.
fn menu(session: &Session, about: Option<AnimalId>) -> Vec<Choice> {
    let review = reviews(session, Only::Farm).first().map(|due| instruct::Ask::Review(due.farm, due.of.id));
    let give = [instruct::Ask::Scope].into_iter().chain(review).map(|asked| Act::Instruct(instruct::Act::Ask(asked)));
    let rows = [
        Act::Ask(Ask::Urgent(about)),
        Act::Ask(Ask::Change),
        Act::Ask(Ask::Visit(visit::Ask::Menu)),
        Act::Walk(walk::Act::Open),
        Act::Paper(type_up::row(session)),
        Act::Card,
    ];
    let herd = Choice { key: HERD, act: act::Act::Farm(Act::Herd) };
    in_order(rows.into_iter().chain(give).map(act::Act::Farm)).into_iter().chain([herd]).collect()
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::Ask(asked) => ask(asked, under),
        Act::Visit(act) => visit::do_act(session, act, under, stamp),
        Act::Call { about, urgent } => type_for(Text::Called { about, urgent }, under),
        Act::Since(change, day) => type_for(Text::Changed(change, day), under),
        Act::OtherDay(change) => type_for(Text::Since(change), under),
        Act::Walk(act) => walk::do_act(session, act, stamp),
        Act::Paper(act) => type_up::do_act(act),
        Act::Card => Decision::Go(Next::Do(Effect::Card(Box::new(under.clone())))),
        Act::Instruct(act) => instruct::do_act(session, act, under, stamp),
        Act::Contact(act) => contact::do_act(session, act, under, stamp),
        Act::List(act) => herd_list::do_act(session, act, under, stamp),
        Act::Herd => Decision::Go(Next::Do(Effect::Herd(Box::new(under.clone())))),
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
        Text::Paper(offered) => type_up::keep(session, *offered, text),
        Text::Since(change) => match gone_by(text, session.today) {
            Ok(day) => type_for(Text::Changed(*change, day), under),
            Err(why) => Decision::Refuse(Refusal::NoDay(text.to_owned(), why)),
        },
        Text::Fact(fact) => farm_card::keep(session, *fact, text, under, stamp),
        Text::Instruct(what) => instruct::keep(session, what, text, under, stamp),
        Text::Contact(what) => contact::keep(session, what, text, under, stamp),
        Text::Herd(what) => herd::keep(session, what, text, under, stamp),
    }
}

/// Asks something over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    Decision::Go(Next::Mode(Mode::Pad { ask: act::Ask::Farm(asked), under: Box::new(under.clone()) }))
}

fn type_for(what: Text, under: &Mode) -> Decision {
    let (what, under) = (TextFor::Farm(what), Box::new(under.clone()));
    Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under }))
}
