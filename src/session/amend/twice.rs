//! Two that may be one, beside each other: joined with one key, kept apart with another, or taken apart again. And several
//! that bear one number: which is meant.

use super::{Act, Then, Twins, choice, in_order, read, refresh, refuse};
use crate::domain::event::Event;
use crate::domain::ids::{AnimalId, RecordId};
use crate::domain::record::Stamp;
use crate::domain::twice::{Kind, Pair, Sketch};
use crate::session::act::Choice;
use crate::session::decide::{Decision, Effect, Next};
use crate::session::mode::Mode;
use crate::session::{Refusal, Session};

/// The key that shows the first pair. With an animal in the crush it waits: her turn comes first.
pub fn show(session: &Session) -> Decision {
    if session.crush.is_some() {
        return refuse(Refusal::NotHere);
    }
    if session.pairs.is_empty() { refuse(Refusal::NoneTwice) } else { read(super::Read::Pair(0)) }
}

/// Pairs that nobody has decided about.
pub fn offered(session: &Session) -> impl Iterator<Item = &Pair> {
    session.pairs.iter().filter(|pair| pair.joined.is_none())
}

/// One key for each that is meant.
pub(super) fn which(those: &[Sketch], then: Then) -> Vec<Choice> {
    let animals = those.iter().filter_map(|sketch| match sketch {
        Sketch::Animal(history) => history.animals.first().copied(),
        Sketch::Farm { .. } | Sketch::Person { .. } => None,
    });
    in_order(animals.map(|animal| Act::This(animal, then)))
}

/// One: joined. Two: kept apart. Three: the next pair.
pub(super) fn choices(session: &Session, twins: &Twins) -> Vec<Choice> {
    let pair = || Box::new(twins.pair.clone());
    let mut list = match twins.pair.joined {
        Some(_) => vec![choice(1, Act::Part(pair()))],
        None => vec![choice(1, Act::Join(pair())), choice(2, Act::KeepApart(pair()))],
    };
    let next = twins.at.map(|at| (at + 1) % session.pairs.len().max(1)).filter(|next| Some(*next) != twins.at);
    list.extend(next.map(|next| choice(3, Act::Pair(next))));
    list
}

/// Whom a record about both is about.
fn about(pair: &Pair) -> RecordId {
    match pair.kind {
        Kind::Animals | Kind::Farms => pair.one,
        Kind::People => RecordId::PRACTICE,
    }
}

pub(super) fn join(session: &Session, pair: &Pair, under: &Mode, stamp: &Stamp) -> Decision {
    let joined = Event::Joined { one: pair.one, other: pair.other };
    let next = match &session.crush {
        // She is in the crush under the first of her names, with all that either had.
        Some(crush) => Next::Do(Effect::OpenAnimal(AnimalId(pair.one), crush.turn)),
        None => refresh(under),
    };
    Decision::Record(stamp.press([(about(pair), joined)]), next)
}

pub(super) fn keep_apart(session: &Session, pair: &Pair, under: &Mode, stamp: &Stamp) -> Decision {
    let farm = session.farm.as_ref().map(|farm| farm.id.0);
    let about = match pair.kind {
        Kind::Animals => farm.unwrap_or(pair.one),
        Kind::Farms | Kind::People => RecordId::PRACTICE,
    };
    let apart = Event::KeptApart { one: pair.one, other: pair.other };
    Decision::Record(stamp.press([(about, apart)]), refresh(under))
}

pub(super) fn part(pair: &Pair, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(joined) = pair.joined else { return refuse(Refusal::NotHere) };
    Decision::Record(stamp.press([(about(pair), Event::Parted { joined })]), refresh(under))
}

pub(super) fn part_her(animal: AnimalId, joined: RecordId, under: &Mode, stamp: &Stamp) -> Decision {
    Decision::Record(stamp.press([(animal.0, Event::Parted { joined })]), refresh(under))
}
