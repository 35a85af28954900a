//! The words of the farm's matters: choices, headings, what a text is typed for.

use crate::domain::contact::Contact;
use crate::domain::herd::Change;
use crate::domain::ids::AnimalId;
use crate::report::due::called;
use crate::report::farm::on_card;
use crate::report::safe::safe;
use crate::report::words::{change, day, weekday_by};
use crate::screen::{contact, herd, herd_list, instruct, visit};
use crate::session::Session;
use crate::session::of_farm::{Act, Ask, Refused, Text};
use crate::session::{contact as contacts, type_up, walk};

/// What a choice says.
pub fn act(session: &Session, act: &Act) -> String {
    match act {
        Act::Ask(Ask::Urgent(None)) => "they called".to_owned(),
        Act::Ask(Ask::Urgent(Some(animal))) => format!("they called about {}", number(session, *animal)),
        Act::Ask(Ask::Change) => "something changed".to_owned(),
        Act::Ask(Ask::Since(what)) => change(*what).to_owned(),
        Act::Ask(Ask::Menu(_)) => "the farm".to_owned(),
        Act::Ask(Ask::Visit(_)) => "the visit".to_owned(),
        Act::Visit(act) => visit::act(session, act),
        Act::Call { urgent: true, .. } => "urgent".to_owned(),
        Act::Call { urgent: false, .. } => "it can wait".to_owned(),
        Act::Since(_, day) if *day == session.today => "today".to_owned(),
        Act::Since(_, day) => weekday_by(*day, session.today),
        Act::OtherDay(_) => "another day".to_owned(),
        Act::Walk(act) => walked(session, act),
        Act::Paper(type_up::Act::Begin) => "type up paper".to_owned(),
        Act::Paper(type_up::Act::End) => "put the paper away".to_owned(),
        Act::Ask(Ask::Walked(typed)) => safe(typed),
        Act::Card => "its card".to_owned(),
        Act::Ask(Ask::Instruct(_)) => "a standing instruction".to_owned(),
        Act::Instruct(act) => instruct::act(session, act),
        Act::Ask(Ask::Contact(asked)) => contact::title(asked),
        Act::Contact(act) => contact::act(act),
        Act::Ask(Ask::Herd(asked)) => herd::asked(session, asked),
        Act::Herd => "its herd".to_owned(),
        Act::List(act) => herd_list::act(session, *act),
    }
}

/// The same in fewer letters.
pub fn brief(session: &Session, act: &Act) -> Vec<String> {
    let forms: &[&str] = match act {
        Act::Ask(Ask::Urgent(_)) => &["a call", "call"],
        Act::Ask(Ask::Change) => &["a change", "change"],
        Act::Ask(Ask::Visit(_)) => &["visit"],
        Act::Visit(act) => return visit::brief(session, act),
        Act::Ask(Ask::Since(Change::TurnedOut)) => &["out"],
        Act::Ask(Ask::Since(Change::Footbath)) => &["bath"],
        Act::Call { urgent: false, .. } => &["can wait", "wait"],
        Act::Since(_, day) if *day != session.today => return vec![day.format("%a %-d").to_string().to_uppercase()],
        Act::OtherDay(_) => &["other"],
        Act::Walk(walk::Act::Open) => &["walk"],
        Act::Paper(type_up::Act::Begin) => &["paper"],
        Act::Paper(type_up::Act::End) => &["end paper", "away"],
        Act::Walk(walk::Act::Score(animal, score)) => {
            let number = number_only(session, *animal);
            return vec![format!("{number}: {score}"), format!("score {score}")];
        }
        Act::Walk(walk::Act::New(number, score)) => {
            return vec![format!("new {}: {score}", safe(number)), "new".to_owned()];
        }
        Act::Walk(walk::Act::Pick(animal)) => return vec![number_only(session, *animal), "number".to_owned()],
        Act::Card => &["card"],
        Act::Instruct(act) => return instruct::brief(session, act),
        Act::Contact(act) => return contact::brief(act, answering(session, act)),
        Act::Herd => &["herd"],
        Act::List(act) => return herd_list::brief(*act),
        Act::Ask(Ask::Since(_) | Ask::Menu(_) | Ask::Instruct(_) | Ask::Contact(_) | Ask::Walked(_) | Ask::Herd(_))
        | Act::Since(_, _)
        | Act::Call { urgent: true, .. } => &[],
    };
    forms.iter().map(|form| (*form).to_owned()).collect()
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    match ask {
        Ask::Menu(_) => "the farm".to_owned(),
        Ask::Urgent(Some(animal)) => format!("{}: swollen, smells, lamer?", number(session, *animal)),
        Ask::Urgent(None) => "can it wait?".to_owned(),
        Ask::Change => "what changed?".to_owned(),
        Ask::Visit(asked) => visit::title(session, asked),
        Ask::Since(what) => format!("{}: since when?", change(*what)),
        Ask::Walked(typed) => format!("{}: which?", safe(typed)),
        Ask::Instruct(asked) => instruct::title(session, asked),
        Ask::Contact(asked) => contact::title(asked),
        Ask::Herd(asked) => herd::asked(session, asked),
    }
}

/// What a text is typed for.
pub fn prompt(session: &Session, text: &Text) -> String {
    match text {
        Text::Called { about: Some(animal), .. } => format!("what do they say of {}", number(session, *animal)),
        Text::Called { about: None, .. } => "what do they say".to_owned(),
        Text::Changed(what, day) => format!("{}, {}: how", change(*what), weekday_by(*day, session.today)),
        Text::Since(what) => format!("{}, since: day month", change(*what)),
        Text::Paper(offered) => {
            format!("paper of: day month; nothing typed: {}", weekday_by(*offered, session.really()))
        }
        Text::Fact(fact) => format!("{}: what is so now; emptied, nothing is", on_card(*fact)),
        Text::Instruct(text) => instruct::prompt(session, text),
        Text::Contact(text) => contact::prompt(text),
        Text::Herd(text) => herd::prompt(session, text),
    }
}

/// Why a matter of the farm was not done, and what to do next.
pub fn refused(session: &Session, why: &Refused) -> String {
    match why {
        Refused::Fact(fact, typed, how) => format!("{} cannot be \"{}\": {how}", on_card(*fact), safe(typed)),
        Refused::Named(name) => format!("another farm is called {}: are the two one?", safe(name)),
        Refused::ToldLater(fact, on) => {
            format!("{} was told on {}, which is after today", on_card(*fact), day(*on))
        }
        Refused::NoReview(why, within) => instruct::no_review(session, *why, *within),
        Refused::Instruct(why) => instruct::refused(session, why),
        Refused::Herd(why) => herd::refused(why),
        Refused::Contact(why) => contact::refused(why),
        Refused::NotTyped => "that follows from what was recorded: nothing is typed there".to_owned(),
    }
}

/// Who else is offered beside somebody who answers.
fn answering<'s>(session: &'s Session, act: &contacts::Act) -> &'s [Contact] {
    if let contacts::Act::Answers(farm, _) = act { contacts::of_a_farm(session, *farm) } else { &[] }
}

/// What a choice of the walk says.
fn walked(session: &Session, act: &walk::Act) -> String {
    match act {
        walk::Act::Open => "scoring walk".to_owned(),
        walk::Act::Score(animal, score) => format!("{}, score {score}", told_apart(session, *animal)),
        walk::Act::New(number, score) => format!("new {}, score {score}", safe(number)),
        walk::Act::Pick(animal) => format!("{}, no score yet", told_apart(session, *animal)),
    }
}

/// What she is called, and her tag, so that two of one number are told apart.
fn told_apart(session: &Session, animal: AnimalId) -> String {
    let tag = walk::line(session, animal).map_or("", |line| line.labels.tag.as_str());
    let tag = if tag.is_empty() { String::new() } else { format!(", tag {}", safe(tag)) };
    format!("{}{tag}", number(session, animal))
}

fn number_only(session: &Session, animal: AnimalId) -> String {
    walk::line(session, animal).map_or(String::new(), |line| safe(&line.labels.number))
}

fn number(session: &Session, animal: AnimalId) -> String {
    let line = session.herd.iter().find(|line| line.id == animal);
    line.map_or(String::new(), |line| called(&line.labels))
}
