//! Another number, ear tag, electronic number or name. The old one still finds her.

use super::{Act, Ask, Text, ask, choice, refresh, refuse};
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::history::Join;
use crate::domain::ids::AnimalId;
use crate::domain::label::{Label, bears};
use crate::domain::record::Stamp;
use crate::domain::vocabulary::Vocabulary;
use crate::session::act::Choice;
use crate::session::decide::Decision;
use crate::session::mode::Mode;
use crate::session::{Refusal, Session};

/// An animal and what she wears.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wears {
    /// The animal.
    pub animal: AnimalId,
    /// Her labels.
    pub labels: Labels,
}

/// The same without that label; none where she has none.
pub fn without(label: Label, wears: &Wears) -> Option<Wears> {
    let mut without = wears.clone();
    label.set(&mut without.labels, "");
    (!label.of(&wears.labels).is_empty()).then_some(without)
}

/// First key of the labels that can be lost.
const LOST: u8 = 5;

/// A new one on 1 to 4, lost on 5 to 7, whom she was joined with on 8 and 9.
pub(super) fn choices(wears: &Wears, joins: &[Join]) -> Vec<Choice> {
    let new = Label::ALL.iter().copied().map(|field| Act::Type(Text::Label(wears.clone(), field)));
    let mut list: Vec<Choice> = new.zip(1..).map(|(act, key)| choice(key, act)).collect();
    for (field, key) in [Label::Number, Label::Tag, Label::Electronic].into_iter().zip(LOST..) {
        list.extend(without(field, wears).map(|lost| choice(key, Act::Relabel(lost))));
    }
    let newest = joins.iter().rev().zip([8, 9]);
    list.extend(newest.map(|(join, key)| choice(key, Act::PartHer(wears.animal, join.id))));
    list
}

/// What was typed. A number that another animal of the farm wears is asked about first: it may be her, entered twice.
pub fn keep(session: &Session, wears: &Wears, field: Label, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    if field.of(&wears.labels) == text {
        return refuse(Refusal::AlreadySo);
    }
    let mut new = wears.clone();
    field.set(&mut new.labels, text);
    let here = session.herd.iter().filter(|line| line.id != wears.animal && line.left.is_none());
    let taken = here.into_iter().find(|line| field.is_one_animals() && bears(&line.labels, text));
    match taken {
        Some(line) => ask(Ask::Taken(new, line.id), under),
        None => record(new, under, stamp),
    }
}

/// Writes what she is called now.
pub fn record(wears: Wears, under: &Mode, stamp: &Stamp) -> Decision {
    let Wears { animal, labels } = wears;
    Decision::Record(stamp.press([(animal.0, Event::Renumbered { animal, labels })]), refresh(under))
}
