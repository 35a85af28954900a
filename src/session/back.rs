//! Whoever is known to be gone and is opened on Today all the same: she is back, or the number is wrong, or it was given to another.
//! Nothing is written before that is answered.

use super::act::{Act, Ask, Choice};
use super::decide::{Decision, Next};
use super::mode::Mode;
use super::visit;
use super::{HerdLine, Session};
use crate::domain::history::TurnState;
use crate::domain::ids::AnimalId;

/// That she is back, and that her number is another's now: on keys that lift no foot and trim none, since a hand may go on without
/// looking. That the number is wrong writes nothing.
const KEYS: [u8; 3] = [0, 6, 1];

/// The choices of the question.
pub fn choices(her: AnimalId) -> Vec<Choice> {
    let acts = [Act::BackIn(her), Act::AnotherOf(her), Act::WrongNumber];
    KEYS.into_iter().zip(acts).map(|(key, act)| Choice { key, act }).collect()
}

/// Whether opening her is asked about. Of a turn of the day that is under way or signed nobody doubts whose it is.
pub fn asks(session: &Session, line: &HerdLine) -> bool {
    let was_here = line.turn.is_some_and(|turn| turn.state != TurnState::Paused);
    line.left.is_some() && (session.is_moving() || !was_here)
}

/// The question over Today, with the number still typed; before it, which visit she would come to.
pub fn ask(session: &Session, line: &HerdLine) -> Decision {
    let under = session.mode.base();
    let begins = !session.is_moving() && line.turn.is_none_or(|turn| turn.state != TurnState::Paused);
    if begins && session.visits.asks(session.today) {
        return visit::ask(visit::Ask::Which, under);
    }
    Decision::Go(Next::Mode(Mode::Pad { ask: Ask::Gone(line.id), under: Box::new(under.clone()) }))
}
