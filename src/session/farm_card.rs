//! The card of the farm in hand: a list of what is known of it. Going on at a fact types a new word for it, at an instruction
//! asks what becomes of it.

use super::decide::{Decision, Effect, Next};
use super::mode::{Mode, TextFor};
use super::of_farm::{self, Refused, Text};
use super::{Refusal, Session, contact, instruct};
use crate::domain::event::Event;
use crate::domain::farm::{checked, is_called};
use crate::domain::farm_card::Line;
use crate::domain::herd::FarmFact;
use crate::domain::record::Stamp;

/// The lines of the card.
pub fn lines(session: &Session) -> Vec<Line> {
    session.card.as_ref().map_or(Vec::new(), |card| card.lines(true))
}

/// Opens the line.
pub fn open(session: &Session, cursor: usize) -> Decision {
    let Some(card) = &session.card else { return Decision::Refuse(Refusal::NotHere) };
    match lines(session).get(cursor) {
        Some(Line::Fact(fact) | Line::Was(fact, _)) if *fact != FarmFact::HerdList => {
            let now = if *fact == FarmFact::Name { &card.name } else { card.now(*fact) };
            let (what, under) = (TextFor::Farm(Text::Fact(*fact)), Box::new(session.mode.clone()));
            Decision::Go(Next::Mode(Mode::Text { what, text: now.to_owned(), under }))
        }
        Some(Line::Standing(at)) => match card.given.standing.get(*at) {
            Some(one) => instruct::review(card.farm, one.id, &session.mode),
            None => Decision::Refuse(Refusal::NotHere),
        },
        Some(line @ (Line::Contact(_) | Line::ContactWas(_, _) | Line::TellContact)) => {
            contact::open(card, *line, &session.mode)
        }
        Some(Line::Give) => of_farm::ask(of_farm::Ask::Instruct(instruct::Ask::Scope), &session.mode),
        Some(
            Line::Fact(_)
            | Line::Was(_, _)
            | Line::GivenUp
            | Line::Animals
            | Line::Rules
            | Line::Differs(_)
            | Line::Looked(_)
            | Line::Ended(_)
            | Line::Heard(_),
        )
        | None => Decision::Refuse(Refusal::Farm(Refused::NotTyped)),
    }
}

/// Keeps a new word on a fact: the same word is not written again, and what cannot be is refused as the command refuses it.
pub fn keep(session: &Session, fact: FarmFact, typed: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(farm) = &session.farm else { return Decision::Refuse(Refusal::NoFarm) };
    let refuse = |why| Decision::Refuse(Refusal::Farm(why));
    let words = match checked(fact, if typed == of_farm::NOTHING { "" } else { typed }) {
        Ok(words) => words,
        Err(why) => return refuse(Refused::Fact(fact, typed.to_owned(), why)),
    };
    let taken = session.farms.iter().any(|line| line.id != farm.id && is_called(&line.name, &words));
    if fact == FarmFact::Name && taken {
        return refuse(Refused::Named(words));
    }
    let known = session.card.as_ref().and_then(|card| card.known(fact));
    if let Some(known) = known.filter(|known| known.now.on > session.today) {
        return refuse(Refused::ToldLater(fact, known.now.on));
    }
    let said = known.map_or("", |known| known.now.words.as_str());
    let was = if fact == FarmFact::Name { farm.name.as_str() } else { said };
    if was == words {
        return Decision::Go(Next::Mode(under.clone()));
    }
    let told = Event::FarmDescribed { farm: farm.id, fact, words };
    Decision::Record(stamp.press([(farm.id.0, told)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
}
