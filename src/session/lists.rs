//! Lists to walk through: farms, due, earlier turns, help.

use super::decide::{Decision, Effect, Next, below};
use super::mode::{Mode, TextFor};
use super::{Refusal, Session};
use crate::domain::follow_up::list::list;
use crate::domain::record::Stamp;
use crate::keys::intent::Intent;

/// Lines of a page.
const PAGE: usize = 10;

/// A key on a list.
pub fn decide(session: &Session, intent: Intent, _stamp: &Stamp) -> Decision {
    match intent {
        Intent::Up => moved(session, |at| at.saturating_sub(1)),
        Intent::Down => moved(session, |at| at + 1),
        Intent::PageUp => moved(session, |at| at.saturating_sub(PAGE)),
        Intent::PageDown => moved(session, |at| at + PAGE),
        Intent::Older => turned(session, |back| back + 1),
        Intent::Newer => turned(session, |back| back.saturating_sub(1)),
        Intent::Back => match session.mode {
            Mode::Farms { .. } if session.farm.is_some() => Decision::Go(Next::Mode(Mode::today())),
            Mode::Farms { .. } => Decision::Refuse(Refusal::NoFarm),
            _ => Decision::Go(Next::Mode(below(&session.mode))),
        },
        Intent::GoOn => open(session),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

fn moved(session: &Session, by: impl Fn(usize) -> usize) -> Decision {
    let mut mode = session.mode.clone();
    let (at, count) = match &mut mode {
        Mode::Farms { cursor } => (cursor, session.farms.len() + 1),
        Mode::Due { cursor, .. } => (cursor, list(&session.open, &session.rules, session.today).items.len()),
        Mode::Help { top, .. } => (top, usize::MAX),
        Mode::Today { .. }
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Last { .. }
        | Mode::Text { .. } => return Decision::Refuse(Refusal::NotHere),
    };
    *at = by(*at).min(count.saturating_sub(1));
    Decision::Go(Next::Mode(mode))
}

fn turned(session: &Session, by: impl Fn(usize) -> usize) -> Decision {
    let Mode::Last { back, under } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    let earlier = session.crush.as_ref().map_or(0, |crush| crush.history.turns.len().saturating_sub(1));
    let back = by(*back).min(earlier.saturating_sub(1));
    Decision::Go(Next::Mode(Mode::Last { back, under: under.clone() }))
}

/// Opens the line: a farm with its visit; a new one after the last.
fn open(session: &Session) -> Decision {
    match &session.mode {
        Mode::Farms { cursor } => match session.farms.get(*cursor) {
            Some(farm) => Decision::Go(Next::Do(Effect::OpenFarm(farm.id))),
            None => Decision::Go(Next::Mode(Mode::Text {
                what: TextFor::FarmName,
                text: String::new(),
                under: Box::new(session.mode.clone()),
            })),
        },
        Mode::Due { under, .. } | Mode::Last { under, .. } | Mode::Help { under, .. } => {
            Decision::Go(Next::Mode((**under).clone()))
        }
        Mode::Today { .. } | Mode::Crush(_) | Mode::Pad { .. } | Mode::SignOff { .. } | Mode::Text { .. } => {
            Decision::Refuse(Refusal::NotHere)
        }
    }
}
