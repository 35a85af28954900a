//! Ghosts: last time's marks that wait for an answer. One key goes to the next of them, wherever the hands are.

use super::act::Ask;
use super::decide::{Decision, Next};
use super::mode::{Hand, Mode};
use super::{Refusal, Session, crush};
use crate::domain::case::Case;
use crate::domain::history::course::Course;
use crate::domain::ids::CaseId;
use crate::domain::sign_off::unanswered;

/// Ghosts of the turn under way, those of the foot in hand first, then in the order of the feet.
pub fn waiting(session: &Session) -> Vec<&Course> {
    let Some((crush, turn)) = session.turn() else { return Vec::new() };
    let here = session.mode.hand().and_then(|hand| hand.foot);
    let mut ghosts = unanswered(&crush.history, turn);
    ghosts.sort_by_key(|ghost| here.is_some() && ghost.place.foot() != here);
    ghosts
}

/// The case that an answer to this course is about: its newest.
pub fn case(session: &Session, id: CaseId) -> Option<Case> {
    session.crush.as_ref()?.history.case_now(id, session.rule_set().case.window)
}

/// Asks about the next ghost; pressed at one that is asked about already, about the one after it.
pub fn next(session: &Session) -> Decision {
    let ghosts = waiting(session);
    let asked = match &session.mode {
        Mode::Pad { ask: Ask::Answer(id), .. } => ghosts.iter().position(|ghost| ghost.id == *id),
        _ => None,
    };
    let after = asked.map_or(0, |at| (at + 1) % ghosts.len());
    match ghosts.get(after) {
        Some(ghost) => go(session, ghost),
        None => Decision::Refuse(Refusal::NoGhost),
    }
}

/// At the sign-off the answer leads back to it. Else the foot is lifted, and what is on it comes before its marks.
fn go(session: &Session, ghost: &Course) -> Decision {
    let base = session.mode.base();
    let under = match (base, ghost.place.foot()) {
        (Mode::SignOff { .. }, _) | (_, None) => base.clone(),
        (_, Some(foot)) => {
            let side = ghost.place.side().unwrap_or(foot.likely_claw());
            let hand = Hand { foot: Some(foot), side, zone: ghost.place.zone() };
            if !crush::unseen(session, foot).is_empty() {
                return Decision::Go(Next::Foot(hand));
            }
            Mode::Crush(hand)
        }
    };
    Decision::Go(Next::Mode(Mode::Pad { ask: Ask::Answer(ghost.id), under: Box::new(under) }))
}
