//! A turn that was written under the wrong animal goes to the right one, long after its sign-off too; and back again.

use super::{Ask, Read, Text, Then, ask, read, refresh, refuse, type_for};
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::ids::{AnimalId, RecordId, TurnId};
use crate::domain::record::Stamp;
use crate::session::decide::{Decision, Effect, Next};
use crate::session::mode::Mode;
use crate::session::{Refusal, Session, lists, today, undo};

/// A turn, and whom it was written under.
pub(super) type Whose = (AnimalId, TurnId);

/// The key on an earlier turn of the animal in the crush.
pub fn earlier(session: &Session) -> Decision {
    let (Some(turn), Some(crush)) = (lists::earlier(session), &session.crush) else { return refuse(Refusal::NotHere) };
    type_for(Text::Whose(crush.animal, turn.id), &session.mode)
}

/// The number of the right animal was typed.
pub(super) fn keep(session: &Session, whose: Whose, number: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let called: Vec<AnimalId> = today::called(session, number).map(|line| line.id).collect();
    match called.as_slice() {
        [] => ask(Ask::Unlisted(whose.0, whose.1, number.to_owned()), under),
        [to] => take(session, whose, *to, under, stamp),
        several => read(Read::Which(several.to_vec(), Then::Take(whose.0, whose.1))),
    }
}

pub(super) fn take(session: &Session, (from, turn): Whose, to: AnimalId, under: &Mode, stamp: &Stamp) -> Decision {
    if from == to {
        return refuse(Refusal::AlreadySo);
    }
    Decision::Record(stamp.press([(from.0, Event::TurnMoved { turn, to })]), after(session, under))
}

/// The turn goes to an animal that is begun with it.
pub(super) fn take_new(
    session: &Session,
    (from, turn): Whose,
    number: String,
    under: &Mode,
    stamp: &Stamp,
) -> Decision {
    let Some(farm) = &session.farm else { return refuse(Refusal::NoFarm) };
    let to = AnimalId(stamp.next);
    let labels = Labels { number, ..Labels::default() };
    let facts = [(to.0, Event::AnimalBegun { farm: farm.id, labels }), (from.0, Event::TurnMoved { turn, to })];
    Decision::Record(stamp.press(facts), after(session, under))
}

/// Whoever is in the crush stays there, read again.
fn after(session: &Session, under: &Mode) -> Next {
    match &session.crush {
        Some(crush) => Next::Do(Effect::OpenAnimal(crush.animal, crush.turn)),
        None => refresh(under),
    }
}

/// Takes a press back whose turn is over. If it ended the turn, she is in the crush again; if it moved the turn, the lists are
/// read again.
pub(super) fn take_back(session: &Session, press: RecordId, stamp: &Stamp) -> Decision {
    let Some(press) = session.trail.iter().find(|known| known.id == press) else {
        return refuse(Refusal::NothingToUndo);
    };
    let ended = press.records.iter().find_map(|record| match record.event() {
        Some(Event::TurnSigned { turn, .. } | Event::TurnPaused { turn, .. }) => Some((AnimalId(record.about), *turn)),
        Some(_) | None => None,
    });
    let next = match ended {
        Some((animal, turn)) => Next::Do(Effect::OpenAnimal(animal, turn)),
        None => refresh(&session.mode),
    };
    Decision::Record(undo::take_back(press, stamp), next)
}
