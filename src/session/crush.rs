//! An animal in the crush: feet, zones, pads, sign-off.

use super::act::{Act, Ask};
use super::amend;
use super::choices::{self, picked};
use super::decide::{Decision, Effect, Next, below, pick, place_of};
use super::mode::{Hand, Mode, TextFor};
use super::{Refusal, Session, of_farm, ring, sign_off, withdrawal};
use crate::domain::anatomy::{Foot, Place, Zone};
use crate::domain::doubt;
use crate::domain::event::{Detail, Event, Item, PauseWhy, PutDetail};
use crate::domain::finding::{Degree, Finding};
use crate::domain::history::{History, Look, Turn};
use crate::domain::ids::{CaseId, PutId, RecordId, TurnId};
use crate::domain::record::Stamp;
use crate::domain::sign_off::unanswered;
use crate::domain::treatment::{BlockKind, Off, Put, SkinState};
use crate::domain::vocabulary::Vocabulary;
use crate::keys::intent::Intent;

const SOUND: Look = Look { lifted: true, trimmed: true, all_seen: true };

/// One press about the animal in the crush.
pub(super) fn record(session: &Session, stamp: &Stamp, events: Vec<Event>, next: Next) -> Decision {
    let Some(crush) = &session.crush else { return Decision::Refuse(Refusal::NotHere) };
    Decision::Record(stamp.press(events.into_iter().map(|event| (crush.animal.0, event))), next)
}

pub(super) fn go(mode: Mode) -> Decision {
    Decision::Go(Next::Mode(mode))
}

pub(super) fn ask(ask: Ask, under: Mode) -> Decision {
    go(Mode::Pad { ask, under: Box::new(under) })
}

/// A key with no foot up, or a foot in the hand.
pub fn decide(session: &Session, hand: Hand, intent: Intent, stamp: &Stamp) -> Decision {
    let Some((crush, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    let here = Mode::Crush(hand);
    match (intent, hand.foot) {
        (Intent::LiftLf, _) => Decision::Go(Next::Foot(Hand::lift(Foot::LeftFront))),
        (Intent::LiftRf, _) => Decision::Go(Next::Foot(Hand::lift(Foot::RightFront))),
        (Intent::LiftLh, _) => Decision::Go(Next::Foot(Hand::lift(Foot::LeftHind))),
        (Intent::LiftRh, _) => Decision::Go(Next::Foot(Hand::lift(Foot::RightHind))),
        (Intent::AllSound, _) => sound(session, turn, |_| true, stamp),
        (Intent::HindsSound, _) => sound(session, turn, Foot::is_hind, stamp),
        (Intent::RestSound, _) => {
            let rest =
                |foot| look(turn, foot).is_none() && turn.found.iter().all(|found| found.place.foot() != Some(foot));
            sound(session, turn, rest, stamp)
        }
        (Intent::GotAway, _) => {
            let paused = Event::TurnPaused { turn: crush.turn, why: PauseWhy::GotAway };
            record(session, stamp, vec![paused], Next::Do(Effect::LetGo))
        }
        (Intent::Gait, _) => ask(Ask::Gait, here),
        (Intent::Whole, _) => ask(Ask::Whole(hand), here),
        (Intent::Vet, _) => ask(Ask::Vet(place_of(hand), 0), here),
        (Intent::Measure, _) => {
            let claw = hand.foot.map(|foot| Place::Claw(foot, hand.side));
            claw.map_or(Decision::Refuse(Refusal::NoFoot), |claw| ask(Ask::Measure(claw), here))
        }
        (Intent::Note, _) => text_for(TextFor::Note(place_of(hand)), here),
        (Intent::Back, _) => go(below(&session.mode)),
        (Intent::GoOn, None) => sign_off::begin(session, stamp),
        (Intent::GoOn, Some(foot)) => foot_done(session, turn, foot, hand, stamp),
        (Intent::Zone(number), Some(foot)) => zone(session, turn, foot, hand, number),
        (Intent::ClawLeft, Some(foot)) => go(Mode::Crush(Hand { side: foot.claw_at_left(), ..hand })),
        (Intent::ClawRight, Some(foot)) => go(Mode::Crush(Hand { side: foot.claw_at_left().partner(), ..hand })),
        (Intent::WholeFoot, Some(foot)) => ask(Ask::WholeFoot(foot, hand.side), here),
        (Intent::FindSu, Some(_)) => by_name(session, hand, 4, Finding::SU, stamp),
        (Intent::FindBu, Some(_)) => by_name(session, hand, 6, Finding::BU, stamp),
        (Intent::FindHhe, Some(_)) => by_name(session, hand, 6, Finding::HHE, stamp),
        (Intent::FindIh, Some(_)) => by_name(session, hand, 0, Finding::IH, stamp),
        (Intent::SameOtherClaw, Some(foot)) => same(session, turn, foot, Place::at_partner, stamp),
        (Intent::SameOtherHind, Some(foot)) => same(session, turn, foot, |p| Some(p.at_foot(foot.across())), stamp),
        (Intent::Trim, Some(foot)) => ask(Ask::Trim(foot, hand.side), here),
        (Intent::PutOn, Some(_)) => ask(Ask::PutOn(hand), here),
        (Intent::PutBlock, Some(_)) => put_choice(session, hand, 1, stamp),
        (Intent::PutWrap, Some(_)) => put_choice(session, hand, 2, stamp),
        (Intent::PutDressing, Some(_)) => put_choice(session, hand, 3, stamp),
        (Intent::TakeOff, Some(foot)) => ask(Ask::TakeOff(foot), here),
        (Intent::PutOn | Intent::TakeOff, None) => Decision::Refuse(Refusal::NoFoot),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

pub(super) fn text_for(what: TextFor, under: Mode) -> Decision {
    go(Mode::Text { what, text: String::new(), under: Box::new(under) })
}

/// The look at a foot in this turn.
fn look(turn: &Turn, foot: Foot) -> Option<Look> {
    turn.looks[Foot::ALL.iter().position(|candidate| *candidate == foot)?]
}

fn looked(turn: TurnId, foot: Foot, look: Look) -> Event {
    Event::Looked { turn, foot, lifted: look.lifted, trimmed: look.trimmed, all_seen: look.all_seen }
}

/// Feet trimmed, nothing found: never a foot with something on it, and nothing new where it is so already.
fn sound(session: &Session, turn: &Turn, of: impl Fn(Foot) -> bool, stamp: &Stamp) -> Decision {
    let mut left_out = false;
    let mut events = Vec::new();
    for foot in Foot::ALL.iter().copied().filter(|foot| of(*foot)) {
        if !unseen(session, foot).is_empty() {
            left_out = true;
        } else if look(turn, foot) != Some(SOUND) {
            events.push(looked(turn.id, foot, SOUND));
        }
    }
    match (events.is_empty(), left_out) {
        (false, _) => record(session, stamp, events, Next::Stay),
        (true, true) => Decision::Refuse(Refusal::AllHaveSomething),
        (true, false) => Decision::Refuse(Refusal::AlreadySo),
    }
}

/// Things on a foot that this turn has neither put on nor looked under.
pub fn unseen(session: &Session, foot: Foot) -> Vec<PutId> {
    let Some((_, turn)) = session.turn() else { return Vec::new() };
    choices::items_on(session, foot)
        .into_iter()
        .filter(|put| !turn.puts.iter().any(|view| view.id == *put))
        .filter(|put| !turn.offs.iter().any(|off| off.item == Item::Known(*put) || off.id == put.0))
        .collect()
}

/// The foot is done: trimmed, all of it looked at. Refused while something on it has no answer.
fn foot_done(session: &Session, turn: &Turn, foot: Foot, hand: Hand, stamp: &Stamp) -> Decision {
    if !unseen(session, foot).is_empty() {
        return Decision::Go(Next::Foot(hand));
    }
    let down = Next::Mode(Mode::Crush(Hand { foot: None, zone: None, ..hand }));
    if look(turn, foot) == Some(SOUND) {
        return Decision::Go(down);
    }
    record(session, stamp, vec![looked(turn.id, foot, SOUND)], down)
}

/// Asks about a zone of the foot in hand, as its digit does.
pub fn ask_zone(session: &Session, hand: Hand, number: u8) -> Decision {
    match (session.turn(), hand.foot) {
        (Some((_, turn)), Some(foot)) => zone(session, turn, foot, hand, number),
        (Some(_) | None, _) => Decision::Refuse(Refusal::NoFoot),
    }
}

/// A zone: an earlier mark there is answered first, else what is found. Skin belongs to the foot, and the claw stays.
fn zone(session: &Session, turn: &Turn, foot: Foot, hand: Hand, number: u8) -> Decision {
    let Some(zone) = Zone::from_number(number) else { return Decision::Refuse(Refusal::NoSuchChoice) };
    let place = zone.on(foot, hand.side);
    let under = Mode::Crush(Hand { zone: Some(zone), ..hand });
    let Some(crush) = &session.crush else { return Decision::Refuse(Refusal::NotHere) };
    let ghost = unanswered(&crush.history, turn).into_iter().find(|course| course.place == place);
    match ghost {
        Some(course) => ask(Ask::Answer(course.id), under),
        None => ask(Ask::Finding(place), under),
    }
}

fn by_name(session: &Session, hand: Hand, number: u8, what: Finding, stamp: &Stamp) -> Decision {
    let (Some(zone), Some(foot)) = (Zone::from_number(number), hand.foot) else {
        return Decision::Refuse(Refusal::NotHere);
    };
    let under = Mode::Crush(Hand { zone: Some(zone), ..hand });
    find(session, zone.on(foot, hand.side), what, "", &under, stamp)
}

/// Records a finding, or selects it where this turn has it already: a held or repeated key writes nothing new.
fn find(session: &Session, place: Place, what: Finding, words: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let Some((crush, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    if is_gone(&crush.history, place) {
        return Decision::Refuse(Refusal::ClawGone);
    }
    let what = place.zone().map_or(what, |zone| what.told_by(zone));
    let same = |found: &&crate::domain::history::Found| {
        found.place == place && found.what.group() == what.group() && found.words == words
    };
    let asks = |id| Mode::Pad { ask: Ask::About(id), under: Box::new(under.clone()) };
    if let Some(found) = turn.found.iter().find(same) {
        return go(asks(found.id));
    }
    let found = Event::Found { turn: crush.turn, place, what, degree: Degree::NotGiven, words: words.to_owned() };
    let next = if what == Finding::OwnWords { under.clone() } else { asks(stamp.next) };
    record(session, stamp, vec![found], Next::Mode(next))
}

/// Whether a place is on a claw that she has lost.
fn is_gone(history: &History, place: Place) -> bool {
    place.foot().zip(place.side()).is_some_and(|claw| history.claws_gone.contains(&claw))
}

/// The last finding of this foot once more at another place.
fn same(session: &Session, turn: &Turn, foot: Foot, there: impl Fn(Place) -> Option<Place>, stamp: &Stamp) -> Decision {
    let Some(last) = turn.found.iter().rev().find(|found| found.place.foot() == Some(foot)) else {
        return Decision::Refuse(Refusal::NothingToRepeat);
    };
    let Some(place) = there(last.place) else { return Decision::Refuse(Refusal::NoPartner) };
    if session.crush.as_ref().is_some_and(|crush| is_gone(&crush.history, place)) {
        return Decision::Refuse(Refusal::ClawGone);
    }
    if turn.found.iter().any(|found| found.place == place && found.what == last.what) {
        return Decision::Refuse(Refusal::AlreadySo);
    }
    let found = Event::Found { turn: turn.id, place, what: last.what, degree: last.degree, words: last.words.clone() };
    record(session, stamp, vec![found], Next::Stay)
}

fn put_choice(session: &Session, hand: Hand, key: u8, stamp: &Stamp) -> Decision {
    match picked(session, &Ask::PutOn(hand), key) {
        Some(act) => do_act(session, act, &Mode::Crush(hand), stamp),
        None => Decision::Refuse(Refusal::NotHere),
    }
}

/// A key while a list of choices is open.
pub fn pad(session: &Session, asked: &Ask, under: &Mode, intent: Intent, stamp: &Stamp) -> Decision {
    if let Some(key) = pick(intent) {
        return match picked(session, asked, key) {
            Some(act) => do_act(session, act, under, stamp),
            None => Decision::Refuse(Refusal::NoSuchChoice),
        };
    }
    let hand = session.mode.hand().unwrap_or(Hand::DOWN);
    match (intent, asked) {
        (Intent::GoOn | Intent::Back, Ask::Amend(asked))
            if let Some(number) = amend::wearer::left_by_going_back(asked) =>
        {
            amend::wearer::put_off(number)
        }
        (Intent::GoOn | Intent::Back, Ask::Farm(asked)) => {
            of_farm::back(asked, under).unwrap_or_else(|| go(under.clone()))
        }
        // A day and a person are asked once more at sign-off, so going on loses nothing.
        (Intent::GoOn | Intent::Back, _) => go(under.clone()),
        (Intent::TakeOff, Ask::About(found)) => take_finding_off(session, *found, under, stamp),
        (Intent::TakeOff, _) => match hand.foot {
            Some(foot) => ask(Ask::TakeOff(foot), Mode::Crush(hand)),
            None => Decision::Refuse(Refusal::NotHere),
        },
        (Intent::PutOn, _) => match hand.foot {
            Some(_) => ask(Ask::PutOn(hand), Mode::Crush(hand)),
            None => Decision::Refuse(Refusal::NotHere),
        },
        (Intent::GotAway, _) if session.crush.is_some() => decide(session, hand, intent, stamp),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

/// A finding selected again comes off with another key than the one that wrote it.
fn take_finding_off(session: &Session, found: RecordId, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(crush) = &session.crush else { return Decision::Refuse(Refusal::NotHere) };
    let stands = crush.now().is_some_and(|turn| turn.found.iter().any(|known| known.id == found));
    let Some(record_of) = crush.records.iter().find(|record| record.id == found && stands) else {
        return Decision::Refuse(Refusal::NothingOn);
    };
    record(session, stamp, vec![Event::Undone { press: record_of.press_id() }], Next::Mode(under.clone()))
}

/// Does what a choice says, unless it makes the number doubtful: then that is asked before anything is written.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    if is_doubtful(session, &act) {
        return ask(Ask::Doubt(Box::new(act)), under.clone());
    }
    do_sure(session, act, under, stamp)
}

/// The question that a key asks which was pressed twice: once to open what is asked, and again on an answer that takes something
/// off the list. A second press by a wet key must not close a wrap.
pub fn asked_twice(session: &Session, intent: Intent) -> Option<Decision> {
    let Mode::Pad { ask: asked, under } = &session.mode else { return None };
    let act = picked(session, asked, pick(intent)?)?;
    // A doubtful number is asked about anyway, and by another key.
    let harms = closes(session, &act) && !is_doubtful(session, &act);
    harms.then(|| ask(Ask::Twice(Box::new(act)), (**under).clone()))
}

/// Whether an answer takes something off the list that is on it.
fn closes(session: &Session, act: &Act) -> bool {
    if let Act::Sure(act) = act {
        return closes(session, act);
    }
    let Act::Seen(Item::Known(put), outcome) = act else { return false };
    let off = match outcome {
        Off::Bare | Off::Ring | Off::AlreadyOff | Off::TakenOff | Off::FellOff => true,
        Off::Replaced | Off::LeftSound | Off::LeftWorn | Off::LeftOn | Off::NotFound => false,
    };
    off && choices::on(session, *put).is_some()
}

fn is_doubtful(session: &Session, act: &Act) -> bool {
    let Some((crush, turn)) = session.turn() else { return false };
    let seen = match act {
        Act::Seen(item, outcome) => (*item, *outcome),
        Act::PutByOthers(put) => (Item::Met(put.place()), Off::LeftOn),
        _ => return false,
    };
    doubt::of_seen(&crush.history, turn, seen, &session.rules, session.today).is_some()
}

fn do_sure(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    let under_next = || Next::Mode(under.clone());
    if let Act::Word(call, word) = act {
        return ring::word(session, &call, word, under, stamp);
    }
    if let Act::Left(animal, _) | Act::Stands(animal, _) | Act::Back(animal) = act {
        return super::today::became(animal, &act, under, stamp);
    }
    if let Act::BackIn(_) | Act::AnotherOf(_) = act {
        return super::today::do_act(session, act, under, stamp);
    }
    if let Act::Amend(act) = act {
        return amend::do_act(session, act, under, stamp);
    }
    if let Act::Farm(act) = act {
        return of_farm::do_act(session, act, under, stamp);
    }
    let Some((crush, _)) = session.turn() else {
        return super::today::do_act(session, act, under, stamp);
    };
    let turn_id = crush.turn;
    let one = |event, next| record(session, stamp, vec![event], next);
    match act {
        Act::Find(place, what) => find(session, place, what, "", under, stamp),
        Act::Tell(found, detail) => tell(session, found, detail, under, stamp),
        Act::Answer(case, outcome) => one(Event::Answered { turn: turn_id, case, outcome }, under_next()),
        Act::Stage(case, stage) => one(Event::Staged { turn: turn_id, case, stage }, under_next()),
        Act::Seen(item, outcome) => {
            let seen = Event::SeenOff { turn: Some(turn_id), item, outcome, skin: SkinState::NotTold };
            let next = match outcome {
                // What was under it is asked while the foot is up.
                Off::Bare | Off::Ring | Off::AlreadyOff => {
                    Next::Mode(Mode::Pad { ask: Ask::Skin(item, outcome), under: Box::new(under.clone()) })
                }
                Off::TakenOff
                | Off::FellOff
                | Off::Replaced
                | Off::LeftSound
                | Off::LeftWorn
                | Off::LeftOn
                | Off::NotFound => next_of_foot(under),
            };
            one(seen, next)
        }
        Act::Skin(item, outcome, skin) => {
            one(Event::SeenOff { turn: Some(turn_id), item, outcome, skin }, next_of_foot(under))
        }
        Act::Replace(put) => replace(session, turn_id, put, under, stamp),
        Act::Put(put) => put_on(session, put, String::new(), under, stamp),
        Act::WrapOver(dressing, wrap) => wrap_over(session, turn_id, [dressing, wrap], under, stamp),
        Act::PutByOthers(put) => put_on(session, put, "others".to_owned(), under, stamp),
        Act::TellPut(put, detail) => {
            let next = Next::Put(put, Box::new(under.clone()));
            one(Event::PutDetailed { put, detail }, next)
        }
        Act::Stated(stated) => withdrawal::used(session, stated, under, stamp),
        Act::Trim(place, how) => one(Event::Trimmed { turn: turn_id, place, how }, under_next()),
        Act::Gait(gait) => one(Event::Walked { turn: Some(turn_id), gait }, under_next()),
        Act::Vet(place, sign) => {
            one(Event::VetAdvised { turn: Some(turn_id), place, sign, words: String::new() }, under_next())
        }
        Act::Kicker(kicks) => one(Event::Kicker { animal: crush.animal, kicks }, under_next()),
        Act::Cull => one(Event::CullSaid { animal: crush.animal }, under_next()),
        Act::Sore(place) => one(Event::Sore { turn: turn_id, place }, under_next()),
        Act::ClawGone(foot, side) => one(Event::ClawGone { animal: crush.animal, foot, side }, under_next()),
        Act::Relief(relief) => one(Event::PainRelief { turn: turn_id, relief }, under_next()),
        Act::Recheck(place, on) => {
            one(Event::RecheckSet { turn: Some(turn_id), place, on, words: String::new() }, under_next())
        }
        Act::Ask(asked) => ask(asked, under.clone()),
        Act::Text(what) => text_for(what, under.clone()),
        Act::Lift(foot) => Decision::Go(Next::Foot(Hand::lift(foot))),
        Act::Pass(line) => sign_off::pass(line, under),
        Act::Sure(act) => do_sure(session, *act, under, stamp),
        Act::Meant(act) => do_act(session, *act, under, stamp),
        Act::WrongNumber => go(Mode::today()),
        Act::Left(_, _)
        | Act::Back(_)
        | Act::BackIn(_)
        | Act::AnotherOf(_)
        | Act::Stands(_, _)
        | Act::Word(_, _)
        | Act::AnotherTurn(_)
        | Act::Reopen(_, _)
        | Act::Amend(_)
        | Act::Farm(_) => Decision::Refuse(Refusal::NotHere),
    }
}

fn next_of_foot(under: &Mode) -> Next {
    match under {
        Mode::Crush(hand) => Next::Foot(*hand),
        Mode::Today { .. }
        | Mode::Walk(_)
        | Mode::Farms { .. }
        | Mode::Pad { .. }
        | Mode::SignOff { .. }
        | Mode::Card { .. }
        | Mode::Herd { .. }
        | Mode::Due { .. }
        | Mode::Ring { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Text { .. }
        | Mode::Help { .. } => Next::Mode(under.clone()),
    }
}

/// Tells more about a finding; what is so already is not written again. A grade ends the question, the rest leaves it open.
fn tell(session: &Session, id: RecordId, detail: Detail, under: &Mode, stamp: &Stamp) -> Decision {
    let Some((_, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    let Some(found) = turn.found.iter().find(|found| found.id == id) else {
        return Decision::Refuse(Refusal::NotHere);
    };
    let (already, next) = match detail {
        Detail::Degree(degree) => (found.degree == degree, Next::Mode(under.clone())),
        Detail::Subtype(what) => (found.what == what, Next::Stay),
        Detail::Infected(yes) => (found.infected == yes, Next::Stay),
        Detail::Deep(yes) => (found.deep == yes, Next::Stay),
        Detail::Side(side) => (found.side == Some(side), Next::Stay),
    };
    if already {
        return Decision::Go(next);
    }
    record(session, stamp, vec![Event::Detailed { of: CaseId(id), detail }], next)
}

fn put_on(session: &Session, put: Put, by_others: String, under: &Mode, stamp: &Stamp) -> Decision {
    let Some((crush, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    // The same thing at the same place in this turn: selected, not put on twice.
    let same = |view: &&crate::domain::history::PutView| {
        std::mem::discriminant(&view.put) == std::mem::discriminant(&put) && view.put.place() == put.place()
    };
    let under_box = Box::new(under.clone());
    if let Some(view) = turn.puts.iter().find(same) {
        return Decision::Go(Next::Put(view.id, under_box));
    }
    let event = Event::PutOn { turn: Some(crush.turn), put, off_by: None, remover: String::new(), by_others };
    record(session, stamp, vec![event], Next::Put(PutId(stamp.next), under_box))
}

/// A dressing and the wrap over it in one press; then what the wrap asks.
fn wrap_over(session: &Session, turn: TurnId, both: [Put; 2], under: &Mode, stamp: &Stamp) -> Decision {
    let on = both.map(|put| Event::PutOn {
        turn: Some(turn),
        put,
        off_by: None,
        remover: String::new(),
        by_others: String::new(),
    });
    let wrap = PutId(RecordId { series: stamp.next.series, seq: stamp.next.seq + 1 });
    record(session, stamp, on.into(), Next::Put(wrap, Box::new(under.clone())))
}

/// Off and on in one press, with a new date.
fn replace(session: &Session, turn: TurnId, old: PutId, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(put) = choices::on(session, old) else { return Decision::Refuse(Refusal::NothingOn) };
    let off =
        Event::SeenOff { turn: Some(turn), item: Item::Known(old), outcome: Off::Replaced, skin: SkinState::NotTold };
    let on = Event::PutOn { turn: Some(turn), put, off_by: None, remover: String::new(), by_others: String::new() };
    let new = PutId(RecordId { series: stamp.next.series, seq: stamp.next.seq + 1 });
    record(session, stamp, vec![off, on], Next::Put(new, Box::new(under.clone())))
}

/// What is still to be asked about something put on in this turn.
pub fn put_question(session: &Session, id: PutId) -> Option<Ask> {
    let (_, turn) = session.turn()?;
    let view = turn.puts.iter().find(|view| view.id == id)?;
    match &view.put {
        Put::Block { kind: BlockKind::NotTold, .. } => Some(Ask::BlockKind(id)),
        Put::Block { .. } => None,
        Put::Wrap { .. } if view.off_by.is_none() => Some(Ask::WrapDay(id)),
        Put::Wrap { .. } if view.remover.is_empty() => Some(Ask::WrapWho(id)),
        Put::Wrap { colour: None, .. } => Some(Ask::WrapColour(id)),
        Put::Wrap { .. } => None,
        Put::Dressing { product, .. } if product.is_empty() => Some(Ask::Product(id)),
        Put::Dressing { .. } => withdrawal::asks(session, id).then_some(Ask::Stated(id)),
    }
}

/// A key while a text is typed.
pub fn text(session: &Session, what: &TextFor, text: &str, under: &Mode, intent: Intent, stamp: &Stamp) -> Decision {
    match intent {
        Intent::Back if text.is_empty() => of_farm::back_from(what, under).unwrap_or_else(|| go(under.clone())),
        Intent::Back => {
            let mut text = text.to_owned();
            text.pop();
            go(Mode::Text { what: what.clone(), text, under: Box::new(under.clone()) })
        }
        Intent::GoOn if text.trim().is_empty() && !what.may_be_empty() => {
            of_farm::unsaid(what).or_else(|| of_farm::back_from(what, under)).unwrap_or_else(|| go(under.clone()))
        }
        Intent::GoOn => keep(session, what, text.trim(), under, stamp),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

fn keep(session: &Session, what: &TextFor, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let under_next = Next::Mode(under.clone());
    let turn = session.crush.as_ref().map(|crush| crush.turn);
    let one = |event, next| record(session, stamp, vec![event], next);
    match what {
        TextFor::Note(place) => one(Event::Noted { turn, place: *place, text: text.to_owned() }, under_next),
        TextFor::OwnWords(place) => find(session, *place, Finding::OwnWords, text, under, stamp),
        TextFor::ForeignBody(place) => find(session, *place, Finding::ForeignBody, text, under, stamp),
        TextFor::Product(put) => {
            let detail = PutDetail::Product(text.to_owned());
            one(Event::PutDetailed { put: *put, detail }, Next::Put(*put, Box::new(under.clone())))
        }
        TextFor::Stated(put) => withdrawal::typed(session, *put, text, under, stamp),
        TextFor::Remover(put) => {
            let detail = PutDetail::Remover(text.to_owned());
            one(Event::PutDetailed { put: *put, detail }, Next::Put(*put, Box::new(under.clone())))
        }
        TextFor::Measure(place, what) => match (text.parse::<u16>(), turn) {
            (Ok(mm), Some(turn)) if (1..=200).contains(&mm) => {
                one(Event::Measured { turn, place: *place, what: *what, mm }, under_next)
            }
            _ => Decision::Refuse(Refusal::NotANumber(text.to_owned())),
        },
        TextFor::Amend(what) => amend::keep(session, what, text, under, stamp),
        TextFor::Farm(what) => of_farm::keep(session, what, text, under, stamp),
        TextFor::Who
        | TextFor::FarmName
        | TextFor::FarmNote
        | TextFor::Group
        | TextFor::Answers(_)
        | TextFor::HandedTo(_)
        | TextFor::VetSaid(_, _) => super::today::keep(session, what, text, under, stamp),
    }
}
