//! Standing instructions given, looked at again and ended: what is asked, one thing after the other, and the one press that
//! writes it.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::of_farm;
use super::{Refusal, Session, contact};
use crate::domain::contact::is_called;
use crate::domain::day::to_come;
use crate::domain::event::Event;
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::herd::Scope;
use crate::domain::ids::{FarmId, RecordId};
use crate::domain::instruction::{Instruction, NoReview, last_day, review_on};
use crate::domain::record::Stamp;
use crate::domain::vocabulary::Vocabulary;
use crate::domain::which::alike;
use chrono::{Days, NaiveDate};

/// An instruction that is being told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// The farm.
    pub farm: FarmId,
    /// The one it stands in the place of.
    pub instead_of: Option<RecordId>,
    /// Whom it is for.
    pub scope: Scope,
    /// What is to be done.
    pub text: String,
    /// Who asked for it.
    pub asked_by: String,
    /// Why.
    pub why: String,
    /// The vet, for one that takes horn away.
    pub vet: String,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// For which feet?
    Scope,
    /// Who asks for it?
    By(Box<Draft>),
    /// Does it take horn away?
    Horn(Box<Draft>),
    /// When is it looked at again?
    Day(Box<Draft>),
    /// What becomes of this one of a farm?
    Review(FarmId, RecordId),
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Asks further.
    Ask(Ask),
    /// It is for these feet.
    For(Scope),
    /// They ask for it.
    By(Box<Draft>),
    /// Who asks for it is typed.
    OtherBy(Box<Draft>),
    /// It takes horn away, or does not.
    Horn(Box<Draft>, bool),
    /// It is given, and looked at again on that day.
    Give(Box<Draft>, NaiveDate),
    /// The day is typed.
    OtherDay(Box<Draft>),
    /// It goes on, and is looked at again on that day.
    GoesOn(FarmId, RecordId, NaiveDate),
    /// It goes on until a day that is typed.
    GoesOnUntil(FarmId, RecordId),
    /// It is changed.
    Change(FarmId, RecordId),
    /// It is ended.
    End(FarmId, RecordId),
}

/// What a text is typed for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// What is to be done.
    What(Box<Draft>),
    /// Who asked for it.
    By(Box<Draft>),
    /// Why.
    Why(Box<Draft>),
    /// The vet.
    Vet(Box<Draft>),
    /// When it is looked at again.
    Day(Box<Draft>),
    /// Until when one goes on.
    Until(FarmId, RecordId),
    /// Why one is ended.
    End(FarmId, RecordId),
}

/// Why nothing is kept of what was told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refused {
    /// Nothing was typed, and there is no instruction without it.
    Unsaid(Unsaid),
    /// It holds already for these feet, since that day.
    HoldsAlready(Scope, NaiveDate),
}

/// What every instruction needs, or its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsaid {
    /// What is to be done.
    What,
    /// Who asked for it.
    By,
    /// Why.
    Why,
    /// The vet.
    Vet,
    /// The day to look at it again.
    Day,
    /// Why one is ended.
    End,
}

impl Text {
    /// What is missing where nothing was typed.
    pub fn unsaid(&self) -> Unsaid {
        match self {
            Text::What(_) => Unsaid::What,
            Text::By(_) => Unsaid::By,
            Text::Why(_) => Unsaid::Why,
            Text::Vet(_) => Unsaid::Vet,
            Text::Day(_) | Text::Until(_, _) => Unsaid::Day,
            Text::End(_, _) => Unsaid::End,
        }
    }

    /// Whether it is a number, so that a key that is a digit on Today is one here too.
    pub fn is_number(&self) -> bool {
        match self {
            Text::Day(_) | Text::Until(_, _) => true,
            Text::What(_) | Text::By(_) | Text::Why(_) | Text::Vet(_) | Text::End(_, _) => false,
        }
    }
}

/// Days that are offered to look again, besides the last that the rule allows.
const SOONER: [u64; 2] = [56, 28];

/// The choices of a question.
pub fn choices(session: &Session, asked: &Ask) -> Vec<Choice> {
    let acts: Vec<Act> = match asked {
        Ask::Scope => Scope::ALL.iter().map(|scope| Act::For(*scope)).collect(),
        Ask::By(draft) => {
            let of = |act| act::Act::Farm(of_farm::Act::Instruct(act));
            let by = |name: &str| of(Act::By(Box::new(Draft { asked_by: name.to_owned(), ..(**draft).clone() })));
            return contact::offered(askers(session, draft.farm).into_iter().map(by), of(Act::OtherBy(draft.clone())));
        }
        Ask::Horn(draft) => [false, true].map(|horn| Act::Horn(draft.clone(), horn)).into(),
        Ask::Day(draft) => {
            let last = last_day(session.today, rules(session, draft.farm));
            let sooner = SOONER.iter().filter_map(|days| session.today.checked_add_days(Days::new(*days)));
            let days = std::iter::once(last).chain(sooner.filter(|day| *day < last));
            days.map(|day| Act::Give(draft.clone(), day)).chain([Act::OtherDay(draft.clone())]).collect()
        }
        Ask::Review(farm, id) => {
            let last = last_day(session.today, rules(session, *farm));
            vec![
                Act::GoesOn(*farm, *id, last),
                Act::GoesOnUntil(*farm, *id),
                Act::Change(*farm, *id),
                Act::End(*farm, *id),
            ]
        }
    };
    in_order(acts.into_iter().map(|act| act::Act::Farm(of_farm::Act::Instruct(act))))
}

/// Who may have asked: the farm's people on the keys that they have everywhere, then whom it says to ask for, where that is none of them.
pub fn askers(session: &Session, farm: FarmId) -> Vec<&str> {
    let mut names: Vec<&str> = contact::of_a_farm(session, farm).iter().map(|one| one.name.as_str()).collect();
    let ask_for = session.farms.iter().find(|line| line.id == farm).map_or("", |line| line.ask_for.as_str());
    if !ask_for.is_empty() && !names.iter().any(|name| is_called(name, ask_for)) {
        names.push(ask_for);
    }
    names
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::Ask(asked) => ask(asked, under),
        Act::For(scope) => match &session.farm {
            Some(farm) => {
                let draft = Draft {
                    farm: farm.id,
                    instead_of: None,
                    scope,
                    text: String::new(),
                    asked_by: String::new(),
                    why: String::new(),
                    vet: String::new(),
                };
                type_for(Text::What(Box::new(draft)), String::new(), under)
            }
            None => Decision::Refuse(Refusal::NoFarm),
        },
        Act::By(draft) => why(*draft, under),
        Act::OtherBy(draft) => type_by(*draft, under),
        Act::Horn(draft, true) => {
            let vet = draft.vet.clone();
            type_for(Text::Vet(draft), vet, under)
        }
        Act::Horn(draft, false) => ask(Ask::Day(Box::new(Draft { vet: String::new(), ..*draft })), under),
        Act::Give(draft, day) => give(session, *draft, day, under, stamp),
        Act::OtherDay(draft) => type_for(Text::Day(draft), String::new(), under),
        Act::GoesOn(farm, id, day) => goes_on(session, (farm, id), day, under, stamp),
        Act::GoesOnUntil(farm, id) => type_for(Text::Until(farm, id), String::new(), under),
        Act::Change(farm, id) => change(session, farm, id, under),
        Act::End(farm, id) => type_for(Text::End(farm, id), String::new(), under),
    }
}

/// Back from a question: to what was asked before it, with all that was said. What is told in several steps is not lost by one key.
pub fn back(asked: &Ask, under: &Mode) -> Option<Decision> {
    match asked {
        Ask::By(draft) => Some(type_for(Text::What(draft.clone()), draft.text.clone(), under)),
        Ask::Horn(draft) => Some(type_for(Text::Why(draft.clone()), draft.why.clone(), under)),
        Ask::Day(draft) => Some(ask(Ask::Horn(draft.clone()), under)),
        Ask::Scope | Ask::Review(_, _) => None,
    }
}

/// The same from a text with nothing in it.
pub fn back_from(what: &Text, under: &Mode) -> Option<Decision> {
    match what {
        Text::By(draft) => Some(type_for(Text::What(draft.clone()), draft.text.clone(), under)),
        Text::Why(draft) => Some(type_for(Text::By(draft.clone()), draft.asked_by.clone(), under)),
        Text::Vet(draft) => Some(ask(Ask::Horn(draft.clone()), under)),
        Text::Day(draft) => Some(ask(Ask::Day(draft.clone()), under)),
        Text::What(_) | Text::Until(_, _) | Text::End(_, _) => None,
    }
}

/// Keeps a text: what is told of an instruction goes on to the next thing that is asked.
pub fn keep(session: &Session, what: &Text, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let said = text.to_owned();
    match what {
        Text::What(draft) => {
            let held =
                session.farms.iter().find(|line| line.id == draft.farm).map_or(&[][..], |line| &line.instructions);
            if let Some(one) = alike(held, draft.scope, text, draft.instead_of) {
                return refuse(Refused::HoldsAlready(one.scope, one.since));
            }
            let draft = Draft { text: said, ..(**draft).clone() };
            // Of one that is changed it is known already, and stands there.
            let asks = draft.asked_by.is_empty() && !askers(session, draft.farm).is_empty();
            if asks { ask(Ask::By(Box::new(draft)), under) } else { type_by(draft, under) }
        }
        Text::By(draft) => why(Draft { asked_by: said, ..(**draft).clone() }, under),
        Text::Why(draft) => ask(Ask::Horn(Box::new(Draft { why: said, ..(**draft).clone() })), under),
        Text::Vet(draft) => ask(Ask::Day(Box::new(Draft { vet: said, ..(**draft).clone() })), under),
        Text::Day(draft) => match to_come(text, session.today) {
            Ok(day) => give(session, (**draft).clone(), day, under, stamp),
            Err(why) => Decision::Refuse(Refusal::NoDay(said, why)),
        },
        Text::Until(farm, id) => match to_come(text, session.today) {
            Ok(day) => goes_on(session, (*farm, *id), day, under, stamp),
            Err(why) => Decision::Refuse(Refusal::NoDay(said, why)),
        },
        Text::End(farm, id) => {
            let ended = Event::InstructionEnded { instruction: *id, why: said };
            record(vec![(farm.0, ended)], under, stamp)
        }
    }
}

fn type_by(draft: Draft, under: &Mode) -> Decision {
    let by = draft.asked_by.clone();
    type_for(Text::By(Box::new(draft)), by, under)
}

fn why(draft: Draft, under: &Mode) -> Decision {
    let why = draft.why.clone();
    type_for(Text::Why(Box::new(draft)), why, under)
}

/// The instruction of that name that holds on a farm.
pub fn held(session: &Session, farm: FarmId, id: RecordId) -> Option<&Instruction> {
    session.farms.iter().find(|line| line.id == farm)?.instructions.iter().find(|one| one.id == id)
}

/// Asks what becomes of one.
pub fn review(farm: FarmId, id: RecordId, under: &Mode) -> Decision {
    ask(Ask::Review(farm, id), under)
}

fn rules(session: &Session, farm: FarmId) -> &RuleSet {
    session.rules.of(farm)
}

/// The words of one that holds, to be written anew; it is for the same feet.
fn change(session: &Session, farm: FarmId, id: RecordId, under: &Mode) -> Decision {
    let Some(one) = held(session, farm, id) else { return Decision::Refuse(Refusal::NotHere) };
    let draft = Draft {
        farm,
        instead_of: Some(id),
        scope: one.scope,
        text: one.text.clone(),
        asked_by: one.asked_by.clone(),
        why: one.why.clone(),
        vet: one.vet.clone(),
    };
    type_for(Text::What(Box::new(draft)), one.text.clone(), under)
}

/// One press: the one before it ends, where there is one, and this holds.
fn give(session: &Session, draft: Draft, day: NaiveDate, under: &Mode, stamp: &Stamp) -> Decision {
    if let Err(why) = review_on(day, session.today, rules(session, draft.farm)) {
        return refused(session, draft.farm, why);
    }
    let farm = draft.farm;
    let ended = draft.instead_of.map(|instruction| Event::InstructionEnded { instruction, why: String::new() });
    let given = Event::Instructed {
        farm,
        scope: draft.scope,
        text: draft.text,
        asked_by: draft.asked_by,
        why: draft.why,
        review_on: Some(day),
        vet: draft.vet,
    };
    record(ended.into_iter().chain([given]).map(|event| (farm.0, event)).collect(), under, stamp)
}

fn goes_on(
    session: &Session,
    (farm, instruction): (FarmId, RecordId),
    day: NaiveDate,
    under: &Mode,
    stamp: &Stamp,
) -> Decision {
    if let Err(why) = review_on(day, session.today, rules(session, farm)) {
        return refused(session, farm, why);
    }
    let reviewed = Event::InstructionReviewed { instruction, review_on: Some(day), words: String::new() };
    record(vec![(farm.0, reviewed)], under, stamp)
}

fn refused(session: &Session, farm: FarmId, why: NoReview) -> Decision {
    let within = rules(session, farm).instruction.review;
    Decision::Refuse(Refusal::Farm(of_farm::Refused::NoReview(why, within)))
}

/// Says why nothing is kept; what was typed stands there still.
pub fn refuse(why: Refused) -> Decision {
    Decision::Refuse(Refusal::Farm(of_farm::Refused::Instruct(why)))
}

fn record(facts: Vec<(RecordId, Event)>, under: &Mode, stamp: &Stamp) -> Decision {
    Decision::Record(stamp.press(facts), Next::Do(Effect::Refresh(Box::new(under.clone()))))
}

fn ask(asked: Ask, under: &Mode) -> Decision {
    of_farm::ask(of_farm::Ask::Instruct(asked), under)
}

fn type_for(what: Text, text: String, under: &Mode) -> Decision {
    let what = TextFor::Farm(of_farm::Text::Instruct(what));
    Decision::Go(Next::Mode(Mode::Text { what, text, under: Box::new(under.clone()) }))
}
