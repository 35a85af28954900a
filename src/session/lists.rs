//! Lists to walk through: farms, due, earlier turns, help.

use super::act::Ask;
use super::amend;
use super::decide::{Decision, Effect, Next, below};
use super::mode::{Mode, Only, TextFor};
use super::ring::Call;
use super::{Refusal, Session, farm_card, herd, herd_list, instruct};
use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::{DueList, list};
use crate::domain::follow_up::review::{self, Review};
use crate::domain::history::Turn;
use crate::domain::history::open::OpenItem;
use crate::keys::intent::Intent;

/// Lines of a page.
const PAGE: usize = 10;

/// How far a page key goes: a page of lines, or one page of the list on paper.
fn page(session: &Session) -> usize {
    match session.mode {
        Mode::Paper { .. } => 1,
        // As many lines as the smallest screen shows at once.
        Mode::Last { .. } => 4,
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Farms { .. }
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Card { .. }
        | Mode::Herd { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Totals { .. }
        | Mode::Text { .. }
        | Mode::Always { .. }
        | Mode::Help { .. } => PAGE,
    }
}

/// A key on a list.
pub fn decide(session: &Session, intent: Intent) -> Decision {
    match intent {
        Intent::Up => moved(session, |at| at.saturating_sub(1)),
        Intent::Down => moved(session, |at| at + 1),
        Intent::PageUp => moved(session, |at| at.saturating_sub(page(session))),
        Intent::PageDown => moved(session, |at| at + page(session)),
        Intent::Older => turned(session, |back| back + 1),
        Intent::Newer => turned(session, |back| back.saturating_sub(1)),
        Intent::Back => match session.mode {
            Mode::Farms { .. } if session.farm.is_some() => Decision::Go(Next::Mode(Mode::today())),
            Mode::Farms { .. } => Decision::Refuse(Refusal::NoFarm),
            _ => Decision::Go(Next::Mode(below(&session.mode))),
        },
        Intent::GoOn => open(session),
        Intent::Add => herd_list::look(session),
        Intent::Only if matches!(session.mode, Mode::Herd { .. }) => herd::next_group(session),
        Intent::Only => only(session),
        Intent::TakeOff => told(session),
        Intent::Left => left(session),
        Intent::Twice => amend::twice::show(session),
        Intent::Correct => amend::correct::earlier(session),
        Intent::Whose => amend::whose::earlier(session),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

fn moved(session: &Session, by: impl Fn(usize) -> usize) -> Decision {
    let mut mode = session.mode.clone();
    let (at, count) = match &mut mode {
        Mode::Farms { cursor } => (cursor, session.farms.len() + 1),
        Mode::Card { cursor, .. } => (cursor, farm_card::lines(session).len()),
        Mode::Herd { page, cursor, .. } => (cursor, herd::count(session, page)),
        Mode::Due { cursor, only, .. } => (cursor, due(session, *only).items.len() + reviews(session, *only).len()),
        Mode::Help { top, .. } | Mode::Last { top, .. } | Mode::Always { top, .. } => (top, usize::MAX),
        Mode::Paper { pages, page, .. } => (page, pages.len()),
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Ring { .. }
        | Mode::Totals { .. }
        | Mode::Text { .. } => return Decision::Refuse(Refusal::NotHere),
    };
    *at = by(*at).min(count.saturating_sub(1));
    Decision::Go(Next::Mode(mode))
}

fn turned(session: &Session, by: impl Fn(usize) -> usize) -> Decision {
    let Mode::Last { back, under, .. } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    let earlier = session.crush.as_ref().map_or(0, |crush| crush.earlier().count());
    let back = by(*back).min(earlier.saturating_sub(1));
    Decision::Go(Next::Mode(Mode::Last { back, top: 0, under: under.clone() }))
}

/// The earlier turn that is looked at.
pub fn earlier(session: &Session) -> Option<&Turn> {
    let Mode::Last { back, .. } = &session.mode else { return None };
    let crush = session.crush.as_ref()?;
    let before: Vec<&Turn> = crush.history.turns.iter().take_while(|turn| turn.id != crush.turn).collect();
    before.into_iter().rev().nth(*back)
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
        Mode::Due { cursor, only, under } => found(session, *cursor, *only, under),
        Mode::Card { cursor, .. } => farm_card::open(session, *cursor),
        Mode::Herd { page, cursor, .. } => herd::open(session, page, *cursor),
        Mode::Last { under, .. }
        | Mode::Always { under, .. }
        | Mode::Paper { under, .. }
        | Mode::Totals { under, .. }
        | Mode::Help { under, .. } => Decision::Go(Next::Mode((**under).clone())),
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Crush(_)
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Ring { .. }
        | Mode::Text { .. } => Decision::Refuse(Refusal::NotHere),
    }
}

/// The lines of the due list that are shown.
pub fn due(session: &Session, only: Only) -> DueList<'_> {
    let mut list = list(&session.open, &session.rules, session.today);
    let here = session.farm.as_ref().map(|farm| farm.id);
    list.items.retain(|item| match only {
        Only::All => true,
        Only::Farm => Some(item.open.farm) == here,
        Only::LeftOn => matches!(item.item, OpenItem::On { .. }),
        Only::Late => item.due.urgency >= Urgency::Late,
    });
    match only {
        Only::All => {}
        Only::Farm => list.unseen.retain(|farm, _| Some(*farm) == here),
        Only::LeftOn | Only::Late => list.unseen.clear(),
    }
    list
}

/// Standing instructions of the farms shown whose review day has come; they stand below the animals. While paper is typed up those of
/// its farm alone, since of the others nothing is read as it was.
pub fn reviews(session: &Session, only: Only) -> Vec<Review<'_>> {
    let here = session.farm.as_ref().map(|farm| farm.id);
    let all = only != Only::Farm && session.paper.is_none();
    let farms = session.farms.iter().filter(|farm| !farm.given_up && (all || Some(farm.id) == here));
    let given = farms.flat_map(|farm| farm.instructions.iter().map(|one| (farm.id, one)));
    let mut reviews = review::list(given, &session.rules, session.today);
    reviews.retain(|review| match only {
        Only::All | Only::Farm => true,
        Only::LeftOn => false,
        Only::Late => review.due.urgency >= Urgency::Late,
    });
    reviews
}

/// The review on that line of the due list.
fn reviewed(session: &Session, cursor: usize, only: Only) -> Option<Decision> {
    let at = cursor.checked_sub(due(session, only).items.len())?;
    let reviews = reviews(session, only);
    let review = reviews.get(at)?;
    Some(instruct::review(review.farm, review.of.id, &session.mode))
}

fn only(session: &Session) -> Decision {
    let Mode::Due { only, under, .. } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    Decision::Go(Next::Mode(Mode::Due { cursor: 0, only: only.next(), under: under.clone() }))
}

/// Her number typed on Today, so that one more key opens her. With an animal in the crush the list is only left.
fn found(session: &Session, cursor: usize, only: Only, under: &Mode) -> Decision {
    if let Some(asked) = reviewed(session, cursor, only) {
        return asked;
    }
    match due(session, only).items.get(cursor) {
        Some(item) if session.crush.is_none() => {
            Decision::Go(Next::Do(Effect::Find(item.open.farm, item.open.labels.number.clone())))
        }
        Some(_) | None => Decision::Go(Next::Mode(under.clone())),
    }
}

/// Asks what became of the animal of the line.
fn left(session: &Session) -> Decision {
    if let Mode::Herd { page, cursor, .. } = &session.mode {
        let animal = herd::picked(session, page, *cursor);
        return animal.map_or(Decision::Refuse(Refusal::NotHere), |one| Decision::Go(Next::Do(Effect::AskLeft(one))));
    }
    let Mode::Due { cursor, only, .. } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    let animal = due(session, *only).items.get(*cursor).map(|item| item.open.animal);
    animal.map_or(Decision::Refuse(Refusal::NothingTyped), |animal| Decision::Go(Next::Do(Effect::AskLeft(animal))))
}

/// Asks what the farm says about the line, or what came of the vet.
fn told(session: &Session) -> Decision {
    let Mode::Due { cursor, only, .. } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    if let Some(asked) = reviewed(session, *cursor, *only) {
        return asked;
    }
    let list = due(session, *only);
    let Some(line) = list.items.get(*cursor) else { return Decision::Refuse(Refusal::NothingOn) };
    let under = Box::new(session.mode.clone());
    let mode = match line.item {
        OpenItem::On { put, .. } => {
            let call = Call { farm: line.open.farm, animal: line.open.animal, put: *put };
            Mode::Pad { ask: Ask::Told(call), under }
        }
        OpenItem::Vet { of, .. } | OpenItem::Withheld { of, counts: false, .. } => {
            Mode::Text { what: TextFor::VetSaid(line.open.animal, *of), text: String::new(), under }
        }
        OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. } => return Decision::Refuse(Refusal::NothingOn),
    };
    Decision::Go(Next::Mode(mode))
}
