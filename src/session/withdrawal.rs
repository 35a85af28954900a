//! Days stated for a medicated dressing: asked right after it, taken on by a key, never by default.

use super::act::{Act, Choice};
use super::choices::in_order;
use super::crush::record;
use super::decide::{Decision, Next};
use super::mode::{Mode, TextFor};
use super::{Refusal, Session};
use crate::domain::anatomy::Foot;
use crate::domain::event::Event;
use crate::domain::history::{PutView, Turn};
use crate::domain::ids::PutId;
use crate::domain::record::Stamp;
use crate::domain::treatment::Put;
use crate::domain::withdrawal::{Stated, uses, wrapped};

/// Most statements that are offered.
const OFFERED: usize = 8;

/// Whether the product is known as a medicine and nothing was stated for it in this turn.
pub(super) fn asks(session: &Session, put: PutId) -> bool {
    session.turn().is_some_and(|(_, turn)| {
        product(turn, put).is_some_and(|(_, product)| !is_told(turn, product) && !known(session, product).is_empty())
    })
}

/// Whether days were ever stated for this product.
pub(super) fn is_medicine(session: &Session, product: &str) -> bool {
    !known(session, product).is_empty()
}

/// The last dressing on a foot in this turn that nothing was stated for.
pub(super) fn to_tell(session: &Session, foot: Foot) -> Option<PutId> {
    let (_, turn) = session.turn()?;
    let untold = |view: &&PutView| match &view.put {
        Put::Dressing { product, .. } => {
            view.put.foot() == Some(foot) && !product.is_empty() && !is_told(turn, product)
        }
        Put::Wrap { .. } | Put::Block { .. } => false,
    };
    turn.puts.iter().rev().find(untold).map(|view| view.id)
}

/// What was stated about the product before, newest first; under a wrap only by a vet. Or it is typed.
pub(super) fn choices(session: &Session, put: PutId) -> Vec<Choice> {
    let Some((foot, stated)) = session.turn().and_then(|(_, turn)| {
        let (foot, product) = product(turn, put)?;
        Some((foot.is_some_and(|foot| wrapped(turn, foot)), known(session, product)))
    }) else {
        return Vec::new();
    };
    let counts = stated.into_iter().filter(|stated| !foot || stated.is_vets());
    let mut list = in_order(counts.take(OFFERED).map(Act::Stated));
    list.push(Choice { key: 0, act: Act::Text(TextFor::Stated(put)) });
    list
}

/// What was typed.
pub(super) fn typed(session: &Session, put: PutId, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let told = session.turn().and_then(|(_, turn)| product(turn, put)).map(|(_, product)| Stated::read(product, text));
    match told {
        Some(Ok(stated)) => used(session, stated, under, stamp),
        Some(Err(why)) => Decision::Refuse(Refusal::Unstated(why)),
        None => Decision::Refuse(Refusal::NothingOn),
    }
}

/// Puts the use on record, once a turn.
pub(super) fn used(session: &Session, stated: Stated, under: &Mode, stamp: &Stamp) -> Decision {
    let Some((crush, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    if is_told(turn, &stated.product) {
        return Decision::Refuse(Refusal::AlreadySo);
    }
    let medicine = Box::new(stated.used(session.today));
    let given = Event::MedicineGiven { turn: Some(crush.turn), medicine };
    record(session, stamp, vec![given], Next::Mode(under.clone()))
}

/// Foot and product of a dressing of this turn.
fn product(turn: &Turn, put: PutId) -> Option<(Option<Foot>, &str)> {
    let view = turn.puts.iter().find(|view| view.id == put)?;
    let Put::Dressing { product, .. } = &view.put else { return None };
    Some((view.put.foot(), product))
}

fn is_told(turn: &Turn, product: &str) -> bool {
    turn.medicines.iter().any(|(_, medicine)| medicine.product == product)
}

/// What was stated about a product: today, on this animal before, in the practice's file.
fn known(session: &Session, product: &str) -> Vec<Stated> {
    let hers = session.crush.iter().flat_map(|crush| uses(&crush.history)).filter_map(|one| Stated::of(one.medicine));
    let all = session.used.stated.iter().cloned().chain(hers).chain(session.practice.medicines.iter().cloned());
    let mut list: Vec<Stated> = Vec::new();
    for stated in all.filter(|stated| stated.product == product) {
        if !list.contains(&stated) {
            list.push(stated);
        }
    }
    list
}
