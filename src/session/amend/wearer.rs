//! An electronic number was read that nobody wears: who does? Asked once a visit; another key than the one that named her
//! says yes.

use super::labels::Wears;
use super::{Act, Ask, Text, ask, choice, refuse};
use crate::domain::electronic::same;
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::record::Stamp;
use crate::session::act::Choice;
use crate::session::decide::{Decision, Effect, Next};
use crate::session::mode::Mode;
use crate::session::{HerdLine, Refusal, Session, today};

/// The key that says yes. No question here is opened by it.
const YES: u8 = 1;
/// The key that types her number.
const TYPED: u8 = 2;
/// The key of whoever is picked on Today.
const PICKED: u8 = 3;
/// The key of a new animal.
const NEW: u8 = 4;
/// The key that puts it off.
const LATER: u8 = 9;

/// An animal with the electronic number that she is to wear, and the one that she wears now where that is another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worn {
    /// She, with the new one.
    pub wears: Wears,
    /// The other; empty where she wears none.
    pub other: String,
}

impl Worn {
    /// An animal of the farm in hand with this number.
    pub fn by(line: &HerdLine, electronic: &str) -> Worn {
        let now = &line.labels.electronic;
        let other = if same(now, electronic) { String::new() } else { now.clone() };
        let labels = Labels { electronic: electronic.to_owned(), ..line.labels.clone() };
        Worn { wears: Wears { animal: line.id, labels }, other }
    }
}

/// Type her number, whoever is picked, a new one, or not now.
pub(super) fn who(electronic: &str, picked: Option<&Worn>) -> Vec<Choice> {
    let new = Labels { electronic: electronic.to_owned(), ..Labels::default() };
    let mut list = vec![choice(TYPED, Act::Type(Text::Wearer(electronic.to_owned())))];
    list.extend(picked.map(|worn| choice(PICKED, Act::Ask(Box::new(Ask::Wears(worn.clone()))))));
    list.push(choice(NEW, Act::Ask(Box::new(Ask::NewWearer(new)))));
    list.push(choice(LATER, Act::PutOff(electronic.to_owned())));
    list
}

/// Yes, or not now.
pub(super) fn sure(worn: &Worn) -> Vec<Choice> {
    let later = Act::PutOff(worn.wears.labels.electronic.clone());
    vec![choice(YES, Act::Wear(worn.wears.clone())), choice(LATER, later)]
}

/// Yes, another number, or not now.
pub(super) fn new(labels: &Labels) -> Vec<Choice> {
    let electronic = || labels.electronic.clone();
    vec![
        choice(YES, Act::Begin(labels.clone())),
        choice(TYPED, Act::Type(Text::Wearer(electronic()))),
        choice(LATER, Act::PutOff(electronic())),
    ]
}

/// Her number was typed.
pub(super) fn keep(session: &Session, electronic: &str, number: &str, under: &Mode) -> Decision {
    let called: Vec<&HerdLine> = today::called(session, number).collect();
    match called.as_slice() {
        [] => {
            let labels = Labels { number: number.to_owned(), electronic: electronic.to_owned(), ..Labels::default() };
            ask(Ask::NewWearer(labels), under)
        }
        [line] => ask(Ask::Wears(Worn::by(line, electronic)), under),
        _ => refuse(Refusal::Shared(number.to_owned())),
    }
}

/// Written as any new label is: the one before still finds her. She is then the one who is picked.
pub(super) fn record(wears: Wears, under: &Mode, stamp: &Stamp) -> Decision {
    let Wears { animal, labels } = wears;
    let typed = if labels.number.is_empty() { labels.electronic.clone() } else { labels.number.clone() };
    let next =
        if matches!(under.base(), Mode::Today { .. }) { Mode::Today { typed, cursor: 0 } } else { under.clone() };
    let press = stamp.press([(animal.0, Event::Renumbered { animal, labels })]);
    Decision::Record(press, Next::Do(Effect::Refresh(Box::new(next))))
}

/// Not now, and not again in this visit.
pub fn put_off(electronic: String) -> Decision {
    Decision::Go(Next::Do(Effect::PutOff(electronic)))
}

/// The number that going back from a question puts off.
pub fn left_by_going_back(asked: &Ask) -> Option<String> {
    match asked {
        Ask::Wearer(electronic, _) => Some(electronic.clone()),
        Ask::Which(_, _)
        | Ask::Twice(_)
        | Ask::Labels(_, _)
        | Ask::Taken(_, _)
        | Ask::Unlisted(_, _, _)
        | Ask::Facts(_)
        | Ask::Right(_)
        | Ask::RightPut(_)
        | Ask::Finding(_)
        | Ask::Wears(_)
        | Ask::NewWearer(_) => None,
    }
}
