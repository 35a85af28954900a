//! A farm's people on the screens: told of step by step on its card, and offered by name wherever somebody is named.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::of_farm;
use super::{Refusal, Session};
use crate::domain::contact::{Contact, No, checked};
use crate::domain::event::Event;
use crate::domain::farm_card::{Card, Line};
use crate::domain::ids::FarmId;
use crate::domain::record::Stamp;
use chrono::NaiveDate;

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// What is new about them?
    About(Contact),
    /// Are they really there no longer?
    Gone(Contact),
    /// Who answers the telephone at a farm?
    Answers(FarmId),
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Asks further.
    Ask(Ask),
    /// What they do or their number is told anew.
    Change(Contact),
    /// They are there no longer.
    Gone(Contact),
    /// They answer the telephone.
    Answers(FarmId, String),
    /// Who answers the telephone is typed.
    OtherAnswers(FarmId),
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// Who it is.
    Name,
    /// What they do.
    Does(Contact),
    /// Their number.
    Phone(Contact),
}

/// Why nothing was told of somebody.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refused {
    /// They cannot be kept so.
    No(No),
    /// More was told of them on a later day.
    ToldLater(String, NaiveDate),
}

/// The key that says that somebody is really there no longer: none that a hand has just pressed.
const MEANT: u8 = 0;
/// The key of a name that is typed.
pub const OTHER: u8 = 0;
/// Names that are offered: a key each beside the one for another.
pub const OFFERED: usize = 9;

/// The choices of a question.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    match asked {
        Ask::About(one) => in_order([Act::Change(one.clone()), Act::Ask(Ask::Gone(one.clone()))].map(of)),
        Ask::Gone(one) => vec![Choice { key: MEANT, act: of(Act::Gone(one.clone())) }],
        Ask::Answers(farm) => {
            let names = of_a_farm(session, *farm).iter().map(|one| of(Act::Answers(*farm, one.name.clone())));
            offered(names, of(Act::OtherAnswers(*farm)))
        }
    }
}

fn of(act: Act) -> act::Act {
    act::Act::Farm(of_farm::Act::Contact(act))
}

/// Names to pick from, each on its key, and the key of one that is typed.
pub fn offered(names: impl Iterator<Item = act::Act>, other: act::Act) -> Vec<Choice> {
    let other = Choice { key: OTHER, act: other };
    in_order(names.take(OFFERED)).into_iter().chain([other]).collect()
}

/// Those who are there on a farm.
pub fn of_a_farm(session: &Session, farm: FarmId) -> &[Contact] {
    session.farms.iter().find(|line| line.id == farm).map_or(&[], |line| &line.contacts)
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::Ask(asked) => ask(asked, under),
        Act::Change(one) => does(one, under),
        Act::Gone(one) => {
            tell(session, &Contact { does: String::new(), phone: String::new(), ..one }, true, under, stamp)
        }
        Act::Answers(farm, name) => Decision::Go(Next::Do(Effect::Answers(farm, name))),
        Act::OtherAnswers(farm) => {
            let (what, under) = (TextFor::Answers(farm), Box::new(under.clone()));
            Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under }))
        }
    }
}

/// Opens a line of the card: whoever is there is asked about, whoever is not is told of anew.
pub fn open(card: &Card, line: Line, under: &Mode) -> Decision {
    if line == Line::TellContact {
        return type_for(Text::Name, String::new(), under);
    }
    let at = if let Line::Contact(at) | Line::ContactWas(at, _) = line { Some(at) } else { None };
    match at.and_then(|at| card.contacts.get(at)).map(|known| &known.now) {
        Some(word) if word.gone => does(word.contact.clone(), under),
        Some(word) => ask(Ask::About(word.contact.clone()), under),
        None => Decision::Refuse(Refusal::NotHere),
    }
}

/// Back from a question to the one before it.
pub fn back(asked: &Ask, under: &Mode) -> Option<Decision> {
    match asked {
        Ask::Gone(one) => Some(ask(Ask::About(one.clone()), under)),
        Ask::About(_) | Ask::Answers(_) => None,
    }
}

/// The same from a text with nothing in it.
pub fn back_from(what: &Text, under: &Mode) -> Option<Decision> {
    match what {
        Text::Does(one) => Some(type_for(Text::Name, one.name.clone(), under)),
        Text::Phone(one) => Some(does(one.clone(), under)),
        Text::Name => None,
    }
}

/// Keeps a text: the name and what they do go on to what is asked next, and the number writes.
pub fn keep(session: &Session, what: &Text, typed: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let typed = if typed == of_farm::NOTHING { "" } else { typed };
    let told = match what {
        // Somebody known already is told of anew: what is known stands there.
        Text::Name => known(session, typed).unwrap_or_else(|| named(typed)),
        Text::Does(one) => Contact { does: typed.to_owned(), ..one.clone() },
        Text::Phone(one) => Contact { phone: typed.to_owned(), ..one.clone() },
    };
    if let Err(why) = checked(&told.name, &told.does, &told.phone) {
        return refused(Refused::No(why));
    }
    match what {
        Text::Name => does(told, under),
        Text::Does(_) => {
            let phone = told.phone.clone();
            type_for(Text::Phone(told), phone, under)
        }
        Text::Phone(_) => tell(session, &told, false, under, stamp),
    }
}

fn named(name: &str) -> Contact {
    Contact { name: name.to_owned(), does: String::new(), phone: String::new() }
}

fn known(session: &Session, name: &str) -> Option<Contact> {
    let word = session.card.as_ref()?.contact(name)?;
    Some(Contact { name: name.to_owned(), ..word.contact.clone() })
}

/// Writes what is new; the same word is not written again.
fn tell(session: &Session, told: &Contact, gone: bool, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let Contact { name, does, phone } = match checked(&told.name, &told.does, &told.phone) {
        Ok(contact) => contact,
        Err(why) => return refused(Refused::No(why)),
    };
    let word = session.card.as_ref().and_then(|card| card.contact(&name));
    if let Some(word) = word.filter(|word| word.on > session.today) {
        return refused(Refused::ToldLater(name, word.on));
    }
    let same = |one: &Contact| (&one.name, &one.does, &one.phone) == (&name, &does, &phone);
    if word.is_some_and(|word| word.gone == gone && same(&word.contact)) {
        return Decision::Go(Next::Mode(under.clone()));
    }
    let told = Event::ContactTold { farm, name, does, phone, gone };
    Decision::Record(stamp.press([(farm.0, told)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
}

fn refused(why: Refused) -> Decision {
    Decision::Refuse(Refusal::Farm(of_farm::Refused::Contact(why)))
}

fn does(one: Contact, under: &Mode) -> Decision {
    let does = one.does.clone();
    type_for(Text::Does(one), does, under)
}

/// Asks something over where the hands were.
pub fn ask(asked: Ask, under: &Mode) -> Decision {
    of_farm::ask(of_farm::Ask::Contact(asked), under)
}

fn type_for(what: Text, text: String, under: &Mode) -> Decision {
    let what = TextFor::Farm(of_farm::Text::Contact(what));
    Decision::Go(Next::Mode(Mode::Text { what, text, under: Box::new(under.clone()) }))
}
