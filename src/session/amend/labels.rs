//! Another number, ear tag, electronic number or name. The old one still finds her.

use super::{Act, Ask, Text, ask, choice, refresh, refuse};
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::history::Join;
use crate::domain::ids::AnimalId;
use crate::domain::record::Stamp;
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

/// One of her labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// Working number.
    Number,
    /// Ear tag.
    Tag,
    /// Electronic number.
    Electronic,
    /// Name.
    Name,
}

impl Field {
    /// Whether it is a number: tags and names are letters too.
    pub fn is_number(self) -> bool {
        match self {
            Field::Number | Field::Electronic => true,
            Field::Tag | Field::Name => false,
        }
    }

    /// All, in the order of their keys.
    pub const ALL: [Field; 4] = [Field::Number, Field::Tag, Field::Electronic, Field::Name];

    /// What she wears of it.
    pub fn of(self, labels: &Labels) -> &str {
        match self {
            Field::Number => &labels.number,
            Field::Tag => &labels.tag,
            Field::Electronic => &labels.electronic,
            Field::Name => &labels.name,
        }
    }

    fn set(self, labels: &mut Labels, text: &str) {
        let field = match self {
            Field::Number => &mut labels.number,
            Field::Tag => &mut labels.tag,
            Field::Electronic => &mut labels.electronic,
            Field::Name => &mut labels.name,
        };
        text.clone_into(field);
    }

    /// The same without it; none where she has none.
    pub fn without(self, wears: &Wears) -> Option<Wears> {
        let mut without = wears.clone();
        self.set(&mut without.labels, "");
        (!self.of(&wears.labels).is_empty()).then_some(without)
    }
}

/// First key of the labels that can be lost.
const LOST: u8 = 5;

/// A new one on 1 to 4, lost on 5 to 7, whom she was joined with on 8 and 9.
pub(super) fn choices(wears: &Wears, joins: &[Join]) -> Vec<Choice> {
    let new = Field::ALL.into_iter().map(|field| Act::Type(Text::Label(wears.clone(), field)));
    let mut list: Vec<Choice> = new.zip(1..).map(|(act, key)| choice(key, act)).collect();
    for (field, key) in [Field::Number, Field::Tag, Field::Electronic].into_iter().zip(LOST..) {
        list.extend(field.without(wears).map(|without| choice(key, Act::Relabel(without))));
    }
    let newest = joins.iter().rev().zip([8, 9]);
    list.extend(newest.map(|(join, key)| choice(key, Act::PartHer(wears.animal, join.id))));
    list
}

/// What was typed. A number that another animal of the farm wears is asked about first: it may be her, entered twice.
pub fn keep(session: &Session, wears: &Wears, field: Field, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    if field.of(&wears.labels) == text {
        return refuse(Refusal::AlreadySo);
    }
    let mut new = wears.clone();
    field.set(&mut new.labels, text);
    let here = session.herd.iter().filter(|line| line.id != wears.animal && line.left.is_none());
    let taken = here.into_iter().find(|line| field != Field::Name && field.of(&line.labels) == text);
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
