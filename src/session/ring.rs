//! Farms to ring: the evening's work. What is still on, farm by farm, and one key for each answer.

use super::decide::{Decision, Effect, Next, pick};
use super::mode::{Mode, TextFor};
use super::{Refusal, Session, contact};
use crate::domain::event::Event;
use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::list;
use crate::domain::history::open::{Knowing, OpenItem};
use crate::domain::ids::{AnimalId, FarmId, PutId, RecordId};
use crate::domain::record::Stamp;
use crate::domain::treatment::{Means, Word};
use crate::keys::intent::Intent;

/// One thing to ask about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Call {
    /// The farm that is rung.
    pub farm: FarmId,
    /// The animal.
    pub animal: AnimalId,
    /// What is on her.
    pub put: PutId,
}

/// What the farm can answer about one thing, on its key.
pub const WORDS: [(u8, Word); 7] = [
    (1, Word::Felt),
    (2, Word::Off),
    (3, Word::StillOn),
    (4, Word::Tonight),
    (5, Word::NoAnswer),
    (6, Word::KeeperTold),
    (7, Word::Trouble),
];
/// Nobody answers at this farm.
pub const NOBODY: u8 = 0;
/// The farm is given up.
pub const GIVEN_UP: u8 = 8;
/// Everything of this farm that was not asked about yet: all off, bare and felt.
pub const REST: u8 = 9;

/// Everything to ask about, farm by farm, the farm with the most urgent first. What was told bare and felt is looked for at
/// the next lifting, and not asked again.
pub fn calls(session: &Session) -> Vec<Call> {
    let list = list(&session.open, &session.rules, session.today);
    let mut calls: Vec<Call> = Vec::new();
    for item in list.items.iter().filter(|item| item.due.urgency > Urgency::Coming) {
        if let OpenItem::On { put, knowing, .. } = item.item
            && *knowing != Knowing::ToldBare
        {
            calls.push(Call { farm: item.open.farm, animal: item.open.animal, put: *put });
        }
    }
    let mut farms: Vec<FarmId> = Vec::new();
    for call in &calls {
        if !farms.contains(&call.farm) {
            farms.push(call.farm);
        }
    }
    calls.sort_by_key(|call| farms.iter().position(|farm| *farm == call.farm));
    calls
}

/// A key among the farms to ring.
pub fn decide(
    session: &Session,
    lines: &[Call],
    cursor: usize,
    under: &Mode,
    intent: Intent,
    stamp: &Stamp,
) -> Decision {
    let to = |cursor: usize| Mode::Ring { lines: lines.to_vec(), cursor, under: Box::new(under.clone()) };
    let go = |mode| Decision::Go(Next::Mode(mode));
    let last = lines.len().saturating_sub(1);
    match (intent, lines.get(cursor)) {
        (Intent::Up, _) => go(to(cursor.saturating_sub(1))),
        (Intent::Down, _) => go(to((cursor + 1).min(last))),
        (Intent::Back, _) => go(under.clone()),
        (Intent::GoOn, Some(call)) if contact::of_a_farm(session, call.farm).is_empty() => {
            text(TextFor::Answers(call.farm), to(cursor))
        }
        (Intent::GoOn, Some(call)) => contact::ask(contact::Ask::Answers(call.farm), &to(cursor)),
        (_, Some(call)) => match pick(intent) {
            Some(GIVEN_UP) => text(TextFor::HandedTo(call.farm), to(cursor)),
            Some(NOBODY) => answered(session, lines, rest(session, lines, call.farm), Word::NoAnswer, to, stamp),
            Some(REST) => answered(session, lines, rest(session, lines, call.farm), Word::Felt, to, stamp),
            Some(key) => match WORDS.iter().find(|(known, _)| *known == key) {
                Some((_, word)) => answered(session, lines, vec![cursor], *word, to, stamp),
                None => Decision::Refuse(Refusal::NoSuchChoice),
            },
            None => Decision::Refuse(Refusal::NotHere),
        },
        (_, None) => Decision::Refuse(Refusal::NotHere),
    }
}

fn text(what: TextFor, under: Mode) -> Decision {
    Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under: Box::new(under) }))
}

/// Lines of a farm that nobody was asked about today.
fn rest(session: &Session, lines: &[Call], farm: FarmId) -> Vec<usize> {
    let here = lines.iter().enumerate().filter(|(_, call)| call.farm == farm && !is_answered(session, call));
    here.map(|(index, _)| index).collect()
}

/// Whether it was asked about today, whatever the answer.
pub fn is_answered(session: &Session, call: &Call) -> bool {
    match told(session, call) {
        Some(OpenItem::On { told: Some((_, on)), .. }) => *on == session.today,
        Some(_) => false,
        // On no list any more.
        None => true,
    }
}

/// What is known of it now.
pub fn told<'s>(session: &'s Session, call: &Call) -> Option<&'s OpenItem> {
    let open = session.open.iter().find(|open| open.animal == call.animal)?;
    open.items.iter().find(|item| matches!(item, OpenItem::On { put, .. } if *put == call.put))
}

/// One press with the answer about each of these lines; the cursor goes on to the next that was not asked about.
fn answered(
    session: &Session,
    lines: &[Call],
    about: Vec<usize>,
    word: Word,
    to: impl Fn(usize) -> Mode,
    stamp: &Stamp,
) -> Decision {
    let Some((first, call)) = about.first().and_then(|index| Some((*index, lines.get(*index)?))) else {
        return Decision::Refuse(Refusal::AlreadySo);
    };
    let mut facts = rung(session, call.farm, word);
    facts.extend(about.iter().filter_map(|index| lines.get(*index)).map(|call| fact(session, call, word)));
    let open =
        |index: &usize| !about.contains(index) && lines.get(*index).is_some_and(|call| !is_answered(session, call));
    let next = (first + 1..lines.len()).chain(0..first).find(open).unwrap_or(first);
    Decision::Record(stamp.press(facts), Next::Do(Effect::Refresh(Box::new(to(next)))))
}

/// That the farm was rung, once for each answer that differs: somebody spoke, or nobody did.
fn rung(session: &Session, farm: FarmId, word: Word) -> Vec<(RecordId, Event)> {
    let answered = word != Word::NoAnswer;
    let who = who(session, farm);
    if session.rung.contains(&(farm, answered)) {
        return Vec::new();
    }
    vec![(farm.0, Event::FarmRung { farm, answered, who, words: String::new() })]
}

fn fact(session: &Session, call: &Call, word: Word) -> (RecordId, Event) {
    let by = if word == Word::NoAnswer { String::new() } else { who(session, call.farm) };
    (call.animal.0, Event::ToldOff { item: call.put, by, means: Means::Telephone, word })
}

/// Who answers at a farm; empty where nobody was named.
pub fn who(session: &Session, farm: FarmId) -> String {
    session.answering.get(&farm).cloned().unwrap_or_default()
}

/// The farm's word about one thing, told from the due list.
pub fn word(session: &Session, call: &Call, word: Word, under: &Mode, stamp: &Stamp) -> Decision {
    let (about, event) = fact(session, call, word);
    Decision::Record(stamp.press([(about, event)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
}
